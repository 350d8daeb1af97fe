#include "ui/desktop/why_page.h"

namespace becalm::desktop {

WhyPage::WhyPage(Session& session, QWidget* parent) : Page(session, parent) {}

void WhyPage::refresh() {}

} // namespace becalm::desktop
