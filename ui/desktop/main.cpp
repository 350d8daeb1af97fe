// becalm-desktop [SURVEY | FOLDER | RECORDING...]
#include <QApplication>
#include <QCommandLineParser>
#include <QDir>
#include <QSettings>
#include <QStandardPaths>

#include "ui/desktop/app_icon.h"
#include "ui/desktop/look.h"
#include "ui/desktop/main_window.h"
#include "ui/desktop/session.h"

int main(int argc, char** argv)
{
    QApplication application(argc, argv);
    QApplication::setApplicationName(QStringLiteral("becalm"));
    QApplication::setApplicationDisplayName(QStringLiteral("Becalm"));
    QApplication::setApplicationVersion(QStringLiteral(BECALM_VERSION));
    QApplication::setDesktopFileName(QStringLiteral("becalm"));
    QApplication::setWindowIcon(becalm::desktop::app_icon());
    QCommandLineParser parser;
    parser.setApplicationDescription(QApplication::translate("main", "Judges vibration comfort from recordings"));
    parser.addHelpOption();
    parser.addVersionOption();
    parser.addPositionalArgument(QStringLiteral("PATH"),
                                 QApplication::translate("main", "a survey, a folder of recordings, or recordings"),
                                 QStringLiteral("[PATH...]"));
    parser.process(application);

    QSettings settings(QSettings::IniFormat, QSettings::UserScope, QStringLiteral("becalm"), QStringLiteral("desktop"));
    becalm::desktop::put_on(settings);
    using Paths = QStandardPaths;
    becalm::desktop::Session session(
        {.kept = QDir(Paths::writableLocation(Paths::AppLocalDataLocation)).filePath(QStringLiteral("unsaved")),
         .cache = QDir(Paths::writableLocation(Paths::CacheLocation)).filePath(QStringLiteral("passes"))});
    becalm::desktop::MainWindow window(session, settings);
    window.show();
    window.open(parser.positionalArguments());
    return QApplication::exec();
}
