// The spaces by group, worst first, and the plan picture with each space's band.
#pragma once

#include "ui/desktop/page.h"

namespace becalm::desktop {

class WherePage final : public Page {
    Q_OBJECT

public:
    explicit WherePage(Session& session, QWidget* parent = nullptr);

protected:
    void refresh() override;
};

} // namespace becalm::desktop
