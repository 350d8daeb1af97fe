// What was measured where, with what and under which condition; everything of the survey that a person fills in.
#pragma once

#include "ui/desktop/page.h"

namespace becalm::desktop {

class GatherPage final : public Page {
    Q_OBJECT

public:
    explicit GatherPage(Session& session, QWidget* parent = nullptr);

protected:
    void refresh() override;
};

} // namespace becalm::desktop
