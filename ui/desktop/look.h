// How the program looks and speaks: palette, size, language.
#pragma once

#include <QSettings>

namespace becalm::desktop {

// As the settings say: "look/palette" (system, light, dark, contrast), "look/scale" (per cent of the text size),
// "look/language" (a locale; empty: the system's).
void put_on(const QSettings& settings);

} // namespace becalm::desktop
