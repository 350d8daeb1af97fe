// The program's sign, drawn from the very file that is installed for the desktop (data/icons/becalm.svg), without a
// library for SVG: of it this reads filled rects and stroked paths of M, L and C with absolute numbers.
#pragma once

#include <QIcon>

namespace becalm::desktop {

QIcon app_icon();

} // namespace becalm::desktop
