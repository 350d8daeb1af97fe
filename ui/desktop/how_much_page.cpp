#include "ui/desktop/how_much_page.h"

#include <QHBoxLayout>
#include <QPushButton>
#include <QShortcut>
#include <QSplitter>
#include <QVBoxLayout>
#include <algorithm>

#include "ui/desktop/comparison_panel.h"
#include "ui/desktop/copied_table.h"
#include "ui/desktop/criteria_panel.h"
#include "ui/desktop/rulers_column.h"
#include "ui/desktop/spaces_by_group.h"
#include "ui/desktop/verdict_details.h"
#include "ui/desktop/verdict_facts.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {

HowMuchPage::HowMuchPage(Session& session, QWidget* parent) : Page(session, parent)
{
    views_ = new QTabWidget;
    views_->setAccessibleName(tr("Rulers or two conditions"));
    views_->addTab(make_rulers(), tr("&Values"));
    comparison_ = new ComparisonPanel(session);
    connect(comparison_, &ComparisonPanel::verdict_chosen, this,
            [this](const Verdict& verdict) { session_.choose_verdict(verdict); });
    connect(comparison_, &ComparisonPanel::could_not_export, &session, &Session::say);
    views_->addTab(comparison_, tr("Two &conditions"));
    auto* halves = new QSplitter(Qt::Horizontal);
    halves->addWidget(views_);
    halves->addWidget(make_side());
    halves->setChildrenCollapsible(false);
    halves->setStretchFactor(0, 3);
    halves->setStretchFactor(1, 2);
    halves->setSizes({600, 380});
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->addWidget(halves);
}

QWidget* HowMuchPage::make_rulers()
{
    auto* whole = new QWidget;
    auto* column = new QVBoxLayout(whole);
    auto* line = new QHBoxLayout;
    scope_ = new QComboBox;
    scope_->setAccessibleName(tr("Which verdicts are shown"));
    scope_->setToolTip(scope_->accessibleName());
    scope_->addItem(tr("every verdict of this space"));
    scope_->addItem(tr("every space by this criterion"));
    scope_->addItem(tr("every verdict of the survey"));
    auto* copy = new QPushButton(tr("Copy the &table"));
    copy->setAccessibleName(tr("Copy the table of verdicts"));
    copy->setToolTip(tr("For a spreadsheet: every verdict shown here (Ctrl+Shift+C)"));
    copy->setShortcut(QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_C));
    line->addWidget(scope_, 1);
    line->addWidget(copy);
    column->addLayout(line);
    words_ = new QLabel;
    words_->setAccessibleName(tr("About the verdicts"));
    words_->setWordWrap(true);
    column->addWidget(words_);
    rulers_ = new RulersColumn;
    column->addWidget(rulers_, 1);
    connect(scope_, &QComboBox::activated, this, [this] { refresh(); });
    connect(copy, &QPushButton::clicked, this, &HowMuchPage::copy_table);
    connect(rulers_, &RulersColumn::verdict_chosen, this,
            [this](const Verdict& verdict) { session_.choose_verdict(verdict); });
    connect(rulers_, &RulersColumn::hovered, this, &Page::hovered);
    connect(rulers_, &RulersColumn::could_not_export, &session_, &Session::say);
    return whole;
}

QWidget* HowMuchPage::make_side()
{
    auto* side = new QSplitter(Qt::Vertical);
    details_ = new QTextBrowser;
    details_->setAccessibleName(tr("What the verdict rests on"));
    details_->setOpenLinks(false);
    details_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    criteria_ = new CriteriaPanel(session_);
    side->addWidget(details_);
    side->addWidget(criteria_);
    side->setChildrenCollapsible(false);
    side->setStretchFactor(0, 3);
    side->setStretchFactor(1, 2);
    side->setMinimumWidth(250);
    return side;
}

HowMuchPage::Scope HowMuchPage::scope() const { return static_cast<Scope>(scope_->currentIndex()); }

std::vector<const Verdict*> HowMuchPage::verdicts(const Judgement& judgement, const Verdict* chosen) const
{
    std::vector<const Verdict*> all;
    for (const Verdict& verdict : judgement.assessment().verdicts) {
        if (scope() != Scope::survey && chosen == nullptr) continue;
        if (scope() == Scope::space && (verdict.space != chosen->space || verdict.person != chosen->person)) continue;
        if (scope() == Scope::criterion && verdict.criterion != chosen->criterion) continue;
        all.push_back(&verdict);
    }
    std::ranges::stable_sort(all, [](const Verdict* a, const Verdict* b) { return is_worse(*a, *b); });
    return all;
}

void HowMuchPage::refresh()
{
    criteria_->refresh();
    auto judgement = session_.judgement();
    if (judgement && judgement->survey->path != plain(session_.document().path())) judgement.reset();
    if (!judgement) {
        words_->setText(session_.is_judging() ? tr("The survey is being judged…") : QString());
        words_->show();
        rulers_->show_verdicts(nullptr, {}, true);
        comparison_->show_space(nullptr, {});
        details_->clear();
        return;
    }
    const Verdict* chosen = session_.chosen_verdict();
    const std::vector<const Verdict*> all = verdicts(*judgement, chosen);
    rulers_->show_verdicts(judgement, all, scope() == Scope::space);
    rulers_->show_chosen(chosen);
    words_->setVisible(all.empty());
    if (all.empty())
        words_->setText(session_.choice().space.empty()
                            ? tr("There is no verdict yet. Tick a criterion at the right.")
                            : tr("There is no verdict of this space: nothing was recorded there, or no criterion "
                                 "that is ticked looks at it."));
    comparison_->show_space(judgement, scope() == Scope::space && chosen != nullptr ? chosen->space : std::string());
    const QString html = chosen == nullptr ? QString() : details_of(*judgement->survey, *chosen);
    if (html != details_->property("shown").toString()) {
        details_->setProperty("shown", html);
        details_->setHtml(html);
    }
}

void HowMuchPage::copy_table() const
{
    const auto judgement = session_.judgement();
    if (judgement) copy_to_clipboard(table_of(*judgement->survey, rulers_->verdicts()));
}

} // namespace becalm::desktop
