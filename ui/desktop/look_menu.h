// The menu of how the program looks and speaks: each choice is remembered and taken at once.
#pragma once

#include <QMenu>
#include <QMenuBar>
#include <QSettings>

namespace becalm::desktop {

// `settings` outlives the menu bar.
QMenu* add_look_menu(QMenuBar& bar, QSettings& settings);

} // namespace becalm::desktop
