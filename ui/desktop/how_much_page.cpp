#include "ui/desktop/how_much_page.h"

namespace becalm::desktop {

HowMuchPage::HowMuchPage(Session& session, QWidget* parent) : Page(session, parent) {}

void HowMuchPage::refresh() {}

} // namespace becalm::desktop
