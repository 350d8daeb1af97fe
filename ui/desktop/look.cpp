#include "ui/desktop/look.h"

#include <QApplication>
#include <QFont>
#include <QLibraryInfo>
#include <QLocale>
#include <QTranslator>
#include <algorithm>
#include <array>
#include <memory>
#include <utility>

#include "ui/desktop/look_style.h"
#include "ui/desktop/scene_painter.h"

static void load_words() { Q_INIT_RESOURCE(desktop); } // must stand outside of every namespace

namespace becalm::desktop {
namespace {

using figures::colour_of;
using figures::Ink;

const std::array<std::pair<Look::Colours, QString>, 4> colour_words{
    {{Look::Colours::system, QStringLiteral("system")},
     {Look::Colours::light, QStringLiteral("light")},
     {Look::Colours::dark, QStringLiteral("dark")},
     {Look::Colours::contrast, QStringLiteral("contrast")}}};
const QString colours_key = QStringLiteral("look/palette"), percent_key = QStringLiteral("look/scale"),
              language_key = QStringLiteral("look/language");

QPalette light_or_dark(Ground ground)
{
    const auto ink = [&](Ink which) { return colour_on(colour_of(which), ground); };
    const auto water = [&](int percent) {
        return colour_on(figures::tint(colour_of(Ink::first), percent / 100.0), ground);
    };
    QPalette palette;
    palette.setColor(QPalette::Window, water(5));
    palette.setColor(QPalette::Base, ink(Ink::paper));
    palette.setColor(QPalette::AlternateBase, water(3));
    palette.setColor(QPalette::Button, water(9));
    palette.setColor(QPalette::ToolTipBase, ink(Ink::paper));
    for (const auto role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText, QPalette::ToolTipText})
        palette.setColor(role, ink(Ink::text));
    palette.setColor(QPalette::PlaceholderText, ink(Ink::quiet));
    palette.setColor(QPalette::BrightText, ink(Ink::paper));
    palette.setColor(QPalette::Highlight, ink(Ink::first));
    palette.setColor(QPalette::HighlightedText, ink(Ink::paper));
    palette.setColor(QPalette::Link, ink(Ink::first));
    palette.setColor(QPalette::LinkVisited, ink(Ink::fourth));
    palette.setColor(QPalette::Light, water(0));
    palette.setColor(QPalette::Midlight, water(12));
    palette.setColor(QPalette::Mid, water(30));
    palette.setColor(QPalette::Dark, water(50));
    palette.setColor(QPalette::Shadow, water(80));
    for (const auto role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText, QPalette::HighlightedText})
        palette.setColor(QPalette::Disabled, role, ink(Ink::quiet));
    palette.setColor(QPalette::Disabled, QPalette::Highlight, water(12));
    return palette;
}

QPalette high_contrast()
{
    QPalette palette = light_or_dark(Ground::light);
    const auto ink = [](Ink which) { return colour_on(colour_of(which), Ground::light); };
    for (const auto role : {QPalette::Window, QPalette::Base, QPalette::AlternateBase, QPalette::Button,
                            QPalette::ToolTipBase, QPalette::Light, QPalette::Midlight})
        palette.setColor(role, ink(Ink::paper));
    for (const auto role : {QPalette::PlaceholderText, QPalette::Mid, QPalette::Dark, QPalette::Shadow})
        palette.setColor(role, ink(Ink::text));
    return palette;
}

// What was there before anything was put on: sizes are of this.
const QFont& system_font()
{
    static const QFont font = QApplication::font();
    return font;
}

double& scale()
{
    static double now = 1.0;
    return now;
}

QFont scaled(QFont font, double by)
{
    if (font.pointSizeF() > 0.0)
        font.setPointSizeF(font.pointSizeF() * by);
    else
        font.setPixelSize(static_cast<int>(font.pixelSize() * by + 0.5));
    return font;
}

// Ours, and those of the libraries' own words (file boxes, editing menus) where they are installed.
void speak(const QString& language)
{
    static std::vector<std::unique_ptr<QTranslator>> spoken;
    static QString spoken_language = QStringLiteral("none yet");
    const QLocale locale = language.isEmpty() ? QLocale::system() : QLocale(language);
    QLocale::setDefault(locale);
    if (std::exchange(spoken_language, locale.name()) == locale.name()) return;
    for (const auto& translator : spoken) QApplication::removeTranslator(translator.get());
    spoken.clear();
    if (locale.language() == QLocale::English || locale.language() == QLocale::C) return;
    const auto add = [&](const QString& name, const QString& folder) {
        auto translator = std::make_unique<QTranslator>();
        if (!translator->load(locale, name, QStringLiteral("_"), folder)) return;
        QApplication::installTranslator(translator.get());
        spoken.push_back(std::move(translator));
    };
    add(QStringLiteral("qtbase"), QLibraryInfo::path(QLibraryInfo::TranslationsPath));
    load_words();
    add(QStringLiteral("becalm"), QStringLiteral(":/words"));
}

} // namespace

const std::vector<Language>& languages()
{
    static const std::vector<Language> all{{QStringLiteral("en"), QStringLiteral("English")},
                                           {QStringLiteral("de"), QStringLiteral("Deutsch")},
                                           {QStringLiteral("fr"), QStringLiteral("Français")}};
    return all;
}

Look look_in(const QSettings& settings)
{
    Look look;
    const QString colours = settings.value(colours_key).toString();
    for (const auto& [value, word] : colour_words)
        if (word == colours) look.colours = value;
    bool ok = false;
    const int percent = settings.value(percent_key).toInt(&ok);
    if (ok) look.percent = std::clamp(percent, least_percent, greatest_percent);
    look.language = settings.value(language_key).toString();
    return look;
}

void remember(const Look& look, QSettings& settings)
{
    for (const auto& [value, word] : colour_words)
        if (value == look.colours) settings.setValue(colours_key, word);
    settings.setValue(percent_key, look.percent);
    settings.setValue(language_key, look.language);
}

void put_on(const Look& look)
{
    const QFont& font = system_font();
    scale() = look.percent / 100.0;
    if (dynamic_cast<LookStyle*>(QApplication::style()) == nullptr) QApplication::setStyle(new LookStyle);
    if (look.colours == Look::Colours::system)
        QApplication::setPalette(QPalette());
    else
        QApplication::setPalette(colours_of(look.colours));
    QApplication::setFont(scaled(font, scale()));
    speak(look.language);
    emit LookChanges::of_the_program().changed();
}

LookChanges& LookChanges::of_the_program()
{
    static LookChanges changes;
    return changes;
}

double text_scale() { return scale(); }

QPalette colours_of(Look::Colours colours)
{
    switch (colours) {
    case Look::Colours::dark: return light_or_dark(Ground::dark);
    case Look::Colours::contrast: return high_contrast();
    case Look::Colours::system:
    case Look::Colours::light: break;
    }
    return light_or_dark(Ground::light);
}

bool is_high_contrast(const QPalette& palette)
{
    return palette.color(QPalette::Window) == palette.color(QPalette::Base) &&
           palette.color(QPalette::Button) == palette.color(QPalette::Base);
}

} // namespace becalm::desktop
