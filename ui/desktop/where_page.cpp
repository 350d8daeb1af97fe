#include "ui/desktop/where_page.h"

namespace becalm::desktop {

WherePage::WherePage(Session& session, QWidget* parent) : Page(session, parent) {}

void WherePage::refresh() {}

} // namespace becalm::desktop
