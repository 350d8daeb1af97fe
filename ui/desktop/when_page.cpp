#include "ui/desktop/when_page.h"

namespace becalm::desktop {

WhenPage::WhenPage(Session& session, QWidget* parent) : Page(session, parent) {}

void WhenPage::refresh() {}

} // namespace becalm::desktop
