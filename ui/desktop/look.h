// How the program looks and speaks: colours, size of the text, language.
//
// The colours are those of the figures (ui/figures/palette.h), so that window and figures are of one piece. Contrast of
// words with what they stand on, by WCAG 2.2: at least 4.5:1 (1.4.3), in high contrast at least 7:1 (1.4.6); of the
// frame around what has the focus at least 3:1 (1.4.11). Tests compute this from the definitions.
#pragma once

#include <QObject>
#include <QPalette>
#include <QSettings>
#include <QString>
#include <vector>

namespace becalm::desktop {

struct Look {
    enum class Colours { system, light, dark, contrast };
    Colours colours = Colours::system;
    int percent = 100;     // of the system's text size: 100 to 200
    QString language = {}; // of languages(); empty: the system's

    friend bool operator==(const Look&, const Look&) = default;
};

inline constexpr int least_percent = 100, greatest_percent = 200, step_percent = 25;

// What the settings say, under "look/"; what they cannot mean is as if it were not there.
Look look_in(const QSettings& settings);
void remember(const Look& look, QSettings& settings);

// At once, for the whole program: colours, fonts, words, and how numbers are written. Windows hear of it by
// LookChanges.
void put_on(const Look& look);
inline void put_on(const QSettings& settings) { put_on(look_in(settings)); }

class LookChanges final : public QObject {
    Q_OBJECT

public:
    static LookChanges& of_the_program();

signals:
    void changed(); // everything is put on
};

// Of the text now, in parts of the system's size.
double text_scale();

// Not for Colours::system, whose colours are the platform's.
QPalette colours_of(Look::Colours colours);

// No shade lies between paper and ink: what a shade would tell has to be told by edges.
bool is_high_contrast(const QPalette& palette);

struct Language {
    QString code = {}; // "de"
    QString name = {}; // as its speakers call it
};
const std::vector<Language>& languages();

} // namespace becalm::desktop
