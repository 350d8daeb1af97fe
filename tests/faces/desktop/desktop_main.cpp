// The application that the tests of a program share, without a screen and with nothing of whoever runs them.
#include <QApplication>
#include <cstdlib>

#include <gmock/gmock.h>

#include "ui/desktop/look.h"

#include "tests/src/scratch_folder.h"

// What fontconfig and the platform keep until the end is no leak of ours; LeakSanitizer asks here.
extern "C" const char* __lsan_default_suppressions(); // NOLINT(bugprone-reserved-identifier)
extern "C" const char* __lsan_default_suppressions()  // NOLINT(bugprone-reserved-identifier)
{
    return "leak:libfontconfig\nleak:libQt6Gui\nleak:libqoffscreen\n";
}

int main(int argc, char** argv)
{
    const becalm::tests::ScratchFolder home;
    ::setenv("HOME", home.path().c_str(), 1);
    ::setenv("XDG_CONFIG_HOME", home.path("config").c_str(), 1);
    ::setenv("XDG_DATA_HOME", home.path("share").c_str(), 1);
    ::setenv("XDG_CACHE_HOME", home.path("cache").c_str(), 1);
    ::setenv("QT_QPA_PLATFORM", "offscreen", 0);
    ::setenv("LC_ALL", "C.UTF-8", 1);
    ::testing::InitGoogleMock(&argc, argv);
    QApplication application(argc, argv);
    QSettings settings(QString::fromStdString(home.path("settings.ini")), QSettings::IniFormat);
    becalm::desktop::put_on(settings);
    return RUN_ALL_TESTS();
}
