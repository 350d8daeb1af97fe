#include "ui/desktop/people_page.h"

namespace becalm::desktop {

PeoplePage::PeoplePage(Session& session, QWidget* parent) : Page(session, parent) {}

void PeoplePage::refresh() {}

} // namespace becalm::desktop
