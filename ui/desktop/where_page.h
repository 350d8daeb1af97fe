// The spaces by group, worst first, and the plan picture with each space's band.
#pragma once

#include "ui/desktop/page.h"

namespace becalm::desktop {

class PlanPanel;
class SpaceList;

class WherePage final : public Page {
    Q_OBJECT

public:
    explicit WherePage(Session& session, QWidget* parent = nullptr);

    SpaceList& list() { return *list_; }
    PlanPanel& plans() { return *plans_; }

protected:
    void refresh() override;

private:
    SpaceList* list_;
    PlanPanel* plans_;
};

} // namespace becalm::desktop
