// edit_and_wait SURVEY KEPT TITLE: the whole window over a survey, whose title it changes; says "changed" and goes on
// as a program does, until somebody ends it. For tests of what is left when that happens without warning. With no
// TITLE it says "shown" and how many milliseconds the process needed until its first window was painted, and ends.
#include <QApplication>
#include <QElapsedTimer>
#include <QSettings>
#include <QTimer>
#include <cstdio>
#include <fstream>
#include <string>
#include <unistd.h>

#include "src/io/survey_file.h"
#include "ui/desktop/look.h"
#include "ui/desktop/main_window.h"
#include "ui/desktop/session.h"
#include "ui/desktop/words.h"

namespace {

using namespace becalm;
using namespace becalm::desktop;

// Since the process began, by the clock of the machine (proc(5): field 22 of stat, in ticks since it was started).
double age_ms()
{
    std::string stat, uptime;
    std::getline(std::ifstream("/proc/self/stat"), stat);
    std::getline(std::ifstream("/proc/uptime"), uptime);
    const QStringList fields = shown(stat.substr(stat.rfind(')') + 2)).split(QChar(u' '));
    const double started_s = fields.value(19).toDouble() / static_cast<double>(::sysconf(_SC_CLK_TCK));
    return (std::stod(uptime) - started_s) * 1e3;
}

class FirstPaint final : public QObject {
public:
    bool eventFilter(QObject* watched, QEvent* event) override
    {
        const bool is_paint = event->type() == QEvent::Paint;
        const bool handled = QObject::eventFilter(watched, event);
        if (is_paint && !said_) {
            said_ = true;
            QTimer::singleShot(0, [] {
                std::printf("shown after %.0f ms\n", age_ms());
                std::fflush(stdout);
                QApplication::quit();
            });
        }
        return handled;
    }

private:
    bool said_ = false;
};

} // namespace

int main(int argc, char** argv)
{
    QApplication application(argc, argv);
    const QStringList arguments = QApplication::arguments();
    QSettings settings(arguments.value(2) + QStringLiteral("/settings.ini"), QSettings::IniFormat);
    put_on(settings);
    Session session({.kept = arguments.value(2), .cache = arguments.value(2) + QStringLiteral("/passes")});
    MainWindow window(session, settings);
    FirstPaint first_paint;
    if (arguments.size() < 4) window.installEventFilter(&first_paint);
    window.show();
    window.open({arguments.value(1)});
    if (arguments.size() >= 4)
        QTimer::singleShot(0, [&] {
            const SurveyDocument& document = session.document();
            const std::string title = '"' + plain(arguments.value(3)) + '"';
            const bool changed = session.change(
                QStringLiteral("title"), io::with_top_value(document.text(), plain(document.path()), "title", title));
            std::puts(changed ? "changed" : "not changed");
            std::fflush(stdout);
        });
    return QApplication::exec();
}
