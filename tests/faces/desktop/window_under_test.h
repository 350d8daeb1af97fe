// A small survey of a vessel in a folder of the test's own, and the whole window over it.
#pragma once

#include <QApplication>
#include <QDir>
#include <QElapsedTimer>
#include <QSettings>
#include <QTest>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "ui/desktop/main_window.h"
#include "ui/desktop/session.h"

#include "tests/evaluators/recordings.h"

namespace becalm::desktop::tests {

using becalm::tests::content_of;
using becalm::tests::ScratchFolder;

inline QString qt(const std::string& text) { return QString::fromStdString(text); }

// Runs the event loop until `is_so`; false when it takes longer than `within_ms` (generous: the sanitizers are slow).
inline bool wait_until(const std::function<bool()>& is_so, int within_ms = 60000)
{
    QElapsedTimer timer;
    timer.start();
    while (!is_so()) {
        if (timer.elapsed() > within_ms) return false;
        QTest::qWait(5);
    }
    return true;
}

// Two cabins (quiet, loud) and a mess on two decks, 65 s of three axes each at 400 Hz; a shaft line of 12.5 Hz in the
// loud one, a pump of 25 Hz in the mess.
inline std::string write_small_survey(const ScratchFolder& folder)
{
    using namespace becalm::evaluators::tests;
    const auto motion = [](double noise_level, double hz, double amplitude, unsigned seed) {
        std::vector<Signal> axes;
        for (unsigned axis = 0; axis < 3; ++axis) {
            Signal signal = noise(26000, seed + axis);
            const Signal line = sine(axis == 2 ? amplitude : amplitude / 4.0, hz, 400.0, 65.0);
            for (std::size_t i = 0; i < signal.size(); ++i) signal[i] = noise_level * signal[i] + line[i];
            axes.push_back(std::move(signal));
        }
        return axes;
    };
    wav(folder, "quiet.wav", 400, motion(0.01, 12.5, 0.02, 1));
    wav(folder, "loud.wav", 400, motion(0.02, 12.5, 0.45, 11));
    wav(folder, "mess.wav", 400, motion(0.02, 25.0, 0.15, 21));
    return folder.file("survey.toml", R"(# A comment that must survive.
title = "Small vessel"
setting = "vessel"

[[sensor]]
id = "s1"
title = "Triaxial accelerometer"
serial = "A-1"
calibrated = 2026-03-01
uncertainty_percent = 3.0

[[condition]]
id = "service"
title = "Service speed"
shaft_rpm = 750.0

[[source]]
id = "shaft"   # turns at 12.5 Hz
kind = "shaft"
rpm = 750.0

[[space]]
id = "c101"
label = "Cabin 101"
use = "passenger-cabin"
group = "Deck 1"

[[space]]
id = "c102"
label = "Cabin 102"
use = "passenger-cabin"
group = "Deck 1"

[[space]]
id = "mess"
label = "Crew mess"
use = "crew-accommodation"
group = "Deck 2"

[[recording]]
file = "quiet.wav"
space = "c101"
position = "floor"
condition = "service"
sensor = "s1"
channels = { 1 = "x", 2 = "y", 3 = "z" }
unit = "m/s2"

[[recording]]
file = "loud.wav"    # beside the shaft
space = "c102"
position = "floor"
condition = "service"
sensor = "s1"
channels = { 1 = "x", 2 = "y", 3 = "z" }
unit = "m/s2"

[[recording]]
file = "mess.wav"
space = "mess"
position = "floor"
condition = "service"
sensor = "s1"
channels = { 1 = "x", 2 = "y", 3 = "z" }
unit = "m/s2"

[[judge]]
criteria = ["iso6954-2000"]
)");
}

class WindowUnderTest {
public:
    WindowUnderTest()
        : settings(qt(folder.path("settings.ini")), QSettings::IniFormat),
          session({.kept = qt(folder.path("kept")), .cache = qt(folder.path("passes"))}), window(session, settings)
    {
        window.resize(1180, 760);
        window.show();
        window.activateWindow();
        (void)QTest::qWaitForWindowActive(&window);
    }

    // Opens the small survey and waits for its verdicts.
    void open_small_survey()
    {
        survey = write_small_survey(folder);
        window.open({qt(survey)});
        for (const Problem& problem : session.document().problems()) FAIL() << to_text(problem);
        wait_for_verdicts();
    }
    void wait_for_verdicts()
    {
        ASSERT_TRUE(wait_until([&] {
            return !session.is_judging() && session.judgement() &&
                   session.judgement()->survey == session.document().survey();
        })) << "no judgement came";
    }

    // As the platform would hand it over: shortcuts of the window see it, then the widget with the focus.
    void press(Qt::Key key, Qt::KeyboardModifiers modifiers = Qt::NoModifier)
    {
        QTest::keyClick(window.windowHandle(), key, modifiers);
    }

    // The one widget of this kind with this accessible name.
    template <class Widget>
    Widget* named(const QString& accessible_name) const
    {
        Widget* found = nullptr;
        for (Widget* widget : window.findChildren<Widget*>())
            if (widget->accessibleName() == accessible_name) {
                if (found != nullptr) ADD_FAILURE() << "two are called " << accessible_name.toStdString();
                found = widget;
            }
        if (found == nullptr) ADD_FAILURE() << "nothing is called " << accessible_name.toStdString();
        return found;
    }

    // A picture under the build folder, to look at.
    void picture(const QString& name)
    {
        QDir().mkpath(QStringLiteral(BECALM_SCREENSHOTS));
        QApplication::processEvents();
        window.grab().save(QDir(QStringLiteral(BECALM_SCREENSHOTS)).filePath(name + QStringLiteral(".png")));
    }

    ScratchFolder folder;
    std::string survey;
    QSettings settings;
    Session session;
    MainWindow window;
};

} // namespace becalm::desktop::tests
