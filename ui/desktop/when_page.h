// A recording over time, from the whole to single samples; spans to leave out, events, findings.
#pragma once

#include "ui/desktop/page.h"

namespace becalm::desktop {

class WhenPage final : public Page {
    Q_OBJECT

public:
    explicit WhenPage(Session& session, QWidget* parent = nullptr);

protected:
    void refresh() override;
};

} // namespace becalm::desktop
