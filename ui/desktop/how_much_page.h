// Each criterion as a ruler with the value, its uncertainty and the bands; two conditions side by side.
#pragma once

#include "ui/desktop/page.h"

namespace becalm::desktop {

class HowMuchPage final : public Page {
    Q_OBJECT

public:
    explicit HowMuchPage(Session& session, QWidget* parent = nullptr);

protected:
    void refresh() override;
};

} // namespace becalm::desktop
