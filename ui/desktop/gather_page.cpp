#include "ui/desktop/gather_page.h"

namespace becalm::desktop {

GatherPage::GatherPage(Session& session, QWidget* parent) : Page(session, parent) {}

void GatherPage::refresh() {}

} // namespace becalm::desktop
