#include "ui/desktop/look_menu.h"

#include <QActionGroup>
#include <QCoreApplication>
#include <algorithm>
#include <functional>
#include <utility>
#include <vector>

#include "ui/desktop/look.h"

namespace becalm::desktop {
namespace {

class LookMenu {
    Q_DECLARE_TR_FUNCTIONS(becalm::desktop::LookMenu)

public:
    LookMenu(QMenuBar& bar, QSettings& settings)
        : settings_(settings), now_(look_in(settings)), menu_(bar.addMenu(tr("&View")))
    {
        add_colours();
        add_sizes();
        add_languages();
    }
    QMenu* menu() const { return menu_; }

private:
    using Change = std::function<void(Look&)>;

    static void take(QSettings& settings, const Change& change)
    {
        Look look = look_in(settings);
        change(look);
        remember(look, settings);
        put_on(look);
    }

    void connect_to(QAction* action, Change change)
    {
        QObject::connect(action, &QAction::triggered, menu_,
                         [&settings = settings_, change = std::move(change)] { take(settings, change); });
    }

    void add_choice(QMenu* menu, QActionGroup* group, const QString& name, bool chosen, Change change)
    {
        QAction* action = menu->addAction(name);
        action->setCheckable(true);
        action->setChecked(chosen);
        group->addAction(action);
        connect_to(action, std::move(change));
    }

    void add_colours()
    {
        QMenu* menu = menu_->addMenu(tr("&Colours"));
        auto* group = new QActionGroup(menu);
        using enum Look::Colours;
        for (const auto& [colours, name] :
             std::vector<std::pair<Look::Colours, QString>>{{system, tr("As the &system")},
                                                            {light, tr("&Light")},
                                                            {dark, tr("&Dark")},
                                                            {contrast, tr("&High contrast")}})
            add_choice(menu, group, name, now_.colours == colours,
                       [colours = colours](Look& look) { look.colours = colours; });
    }

    void add_sizes()
    {
        QMenu* menu = menu_->addMenu(tr("&Text size"));
        auto* group = new QActionGroup(menu);
        for (int percent = least_percent; percent <= greatest_percent; percent += step_percent)
            add_choice(menu, group, tr("%1 %").arg(percent), now_.percent == percent,
                       [percent](Look& look) { look.percent = percent; });
        menu->addSeparator();
        const auto add = [&](const QString& name, const QList<QKeySequence>& keys, Change change) {
            QAction* action = menu->addAction(name);
            action->setShortcuts(keys);
            connect_to(action, std::move(change));
        };
        add(tr("&Larger"), QKeySequence::keyBindings(QKeySequence::ZoomIn),
            [](Look& look) { look.percent = std::min(look.percent + step_percent, greatest_percent); });
        add(tr("&Smaller"), QKeySequence::keyBindings(QKeySequence::ZoomOut),
            [](Look& look) { look.percent = std::max(look.percent - step_percent, least_percent); });
        add(tr("&As the system"), {QKeySequence(Qt::CTRL | Qt::Key_0)},
            [](Look& look) { look.percent = least_percent; });
    }

    void add_languages()
    {
        QMenu* menu = menu_->addMenu(tr("&Language"));
        auto* group = new QActionGroup(menu);
        add_choice(menu, group, tr("As the &system"), now_.language.isEmpty(),
                   [](Look& look) { look.language.clear(); });
        for (const Language& language : languages())
            add_choice(menu, group, language.name, now_.language == language.code,
                       [code = language.code](Look& look) { look.language = code; });
    }

    QSettings& settings_;
    Look now_;
    QMenu* menu_;
};

} // namespace

QMenu* add_look_menu(QMenuBar& bar, QSettings& settings) { return LookMenu(bar, settings).menu(); }

} // namespace becalm::desktop
