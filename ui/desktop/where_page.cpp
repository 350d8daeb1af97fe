#include "ui/desktop/where_page.h"

#include <QHBoxLayout>
#include <QSplitter>

#include "ui/desktop/plan_panel.h"
#include "ui/desktop/space_list.h"

namespace becalm::desktop {

WherePage::WherePage(Session& session, QWidget* parent)
    : Page(session, parent), list_(new SpaceList(session)), plans_(new PlanPanel(session))
{
    auto* halves = new QSplitter(Qt::Horizontal);
    halves->addWidget(list_);
    halves->addWidget(plans_);
    halves->setChildrenCollapsible(false);
    halves->setStretchFactor(0, 3);
    halves->setStretchFactor(1, 2);
    halves->setSizes({600, 400});
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->addWidget(halves);
    connect(list_, &SpaceList::hovered, this, &Page::hovered);
    connect(plans_, &PlanPanel::hovered, this, &Page::hovered);
    connect(list_, &SpaceList::amount_wanted, this, &Page::amount_wanted);
    connect(plans_, &PlanPanel::amount_wanted, this, &Page::amount_wanted);
}

void WherePage::refresh()
{
    list_->refresh();
    plans_->refresh();
}

} // namespace becalm::desktop
