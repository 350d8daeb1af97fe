// Daily exposures of persons: tasks, durations, A(8), VDV, points.
#pragma once

#include "ui/desktop/page.h"

namespace becalm::desktop {

class PeoplePage final : public Page {
    Q_OBJECT

public:
    explicit PeoplePage(Session& session, QWidget* parent = nullptr);

protected:
    void refresh() override;
};

} // namespace becalm::desktop
