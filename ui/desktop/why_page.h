// Spectra, bands, source lines, energy shares and what if.
#pragma once

#include "ui/desktop/page.h"

namespace becalm::desktop {

class WhyPage final : public Page {
    Q_OBJECT

public:
    explicit WhyPage(Session& session, QWidget* parent = nullptr);

protected:
    void refresh() override;
};

} // namespace becalm::desktop
