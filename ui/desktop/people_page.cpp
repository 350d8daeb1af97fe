#include "ui/desktop/people_page.h"

#include <QGridLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QVBoxLayout>
#include <algorithm>
#include <set>

#include "src/io/survey_file.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

QLabel* wrapped(const QString& words)
{
    auto* label = new QLabel(words);
    label->setWordWrap(true);
    label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    return label;
}

// Only where there is something new, so that a box that is open stays so; the same choice again.
void fill(QComboBox& box, const std::vector<Option>& options)
{
    bool is_new = box.count() != static_cast<int>(options.size());
    for (int i = 0; !is_new && i < box.count(); ++i) {
        const Option& option = options[static_cast<std::size_t>(i)];
        is_new = box.itemText(i) != option.words || box.itemData(i).toString() != option.value;
    }
    if (!is_new) return;
    const QVariant before = box.currentData();
    box.clear();
    for (const Option& option : options) box.addItem(option.words, option.value);
    box.setCurrentIndex(std::max(box.findData(before), 0));
}

} // namespace

PeoplePage::PeoplePage(Session& session, QWidget* parent)
    : Page(session, parent), tasks_(new TaskModel(session, this)),
      grid_(new SurveyGrid(*tasks_, tr("Tasks of persons")))
{
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(make_entry());
    column->addWidget(grid_, 2);
    auto* below = new QHBoxLayout;
    auto* remove = new QPushButton(tr("Ta&ke out the chosen tasks"));
    connect(remove, &QPushButton::clicked, this, [this] { (void)tasks_->remove(grid_->chosen_rows()); });
    below->addWidget(remove);
    below->addStretch(1);
    column->addLayout(below);
    column->addWidget(make_offer());
    state_ = wrapped({});
    state_->setAccessibleName(tr("State of the results"));
    column->addWidget(state_);
    results_ = new QTableWidget(0, 6);
    results_->setAccessibleName(tr("Judged days"));
    results_->setHorizontalHeaderLabels(
        {tr("Person"), tr("Day"), tr("Quantity"), tr("Value"), tr("Verdict"), tr("How long this work may last")});
    results_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    results_->setSelectionBehavior(QAbstractItemView::SelectRows);
    results_->setTabKeyNavigation(false);
    results_->verticalHeader()->hide();
    results_->horizontalHeader()->setDefaultAlignment(Qt::AlignLeft | Qt::AlignVCenter);
    results_->horizontalHeader()->setStretchLastSection(true);
    results_->horizontalHeader()->setHighlightSections(false);
    column->addWidget(results_, 3);
    duty_ = wrapped({});
    duty_->setAccessibleName(tr("Duty to act"));
    QFont bold = duty_->font();
    bold.setBold(true);
    duty_->setFont(bold);
    column->addWidget(duty_);
    auto* caution =
        wrapped(tr("A comfort evaluation is not a health assessment. These are the exposures of what was measured, by "
                   "the editions cited; national law and the judgement of occupational health practice prevail."));
    caution->setAccessibleName(tr("Caution about health"));
    column->addWidget(caution);
}

QWidget* PeoplePage::make_entry()
{
    auto* whole = new QWidget;
    auto* grid = new QGridLayout(whole);
    grid->setContentsMargins(0, 0, 0, 0);
    int at = 0;
    const auto add = [&](const QString& words, QWidget* field, const QString& name, int stretch) {
        auto* label = new QLabel(words);
        label->setBuddy(field);
        field->setAccessibleName(name);
        grid->addWidget(label, 0, at);
        grid->addWidget(field, 1, at);
        grid->setColumnStretch(at, stretch);
        ++at;
    };
    const auto box = [] {
        auto* made = new QComboBox;
        made->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
        made->setMinimumContentsLength(8);
        return made;
    };
    add(tr("&Person or job"), person_ = new QLineEdit, tr("Person of the new task"), 3);
    add(tr("&Day"), day_ = new QLineEdit, tr("Day of the new task"), 2);
    day_->setPlaceholderText(tr("every day"));
    add(tr("&Where"), space_ = box(), tr("Space of the new task"), 4);
    add(tr("Posi&tion"), position_ = box(), tr("Position of the new task"), 2);
    add(tr("&Condition"), condition_ = box(), tr("Condition of the new task"), 3);
    add(tr("&Hours"), hours_ = new QLineEdit, tr("Hours of the new task"), 1);
    auto* button = new QPushButton(tr("&Add task"));
    grid->addWidget(button, 1, at);
    connect(button, &QPushButton::clicked, this, &PeoplePage::add_task);
    connect(hours_, &QLineEdit::returnPressed, this, &PeoplePage::add_task);
    return whole;
}

QWidget* PeoplePage::make_offer()
{
    offer_ = new QWidget;
    auto* line = new QHBoxLayout(offer_);
    line->setContentsMargins(0, 0, 0, 0);
    offer_words_ = wrapped({});
    offered_ = new QComboBox;
    offered_->setAccessibleName(tr("Publications for daily exposures"));
    offered_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    offered_->setMaximumWidth(300);
    connect(offered_, &QComboBox::currentIndexChanged, this,
            [this] { offered_->setToolTip(offered_->currentData().toString()); });
    auto* take = new QPushButton(tr("&Judge days by it"));
    line->addWidget(offer_words_, 1);
    line->addWidget(offered_);
    line->addWidget(take);
    connect(take, &QPushButton::clicked, this, [this] {
        const int at = offered_->currentIndex();
        if (at < 0 || at >= static_cast<int>(offers_.size())) return;
        std::set<std::string> uses;
        for (const evaluators::UnjudgedTask& task : unjudged_) uses.insert(task.use);
        const Judge judge{.criteria = offers_[static_cast<std::size_t>(at)].criteria,
                          .uses = {uses.begin(), uses.end()}};
        const SurveyDocument& document = session_.document();
        (void)session_.change(tr("criterion of daily exposure"), io::with_entry(document.text(), plain(document.path()),
                                                                                "judge", io::entry_as_toml(judge)));
    });
    return offer_;
}

void PeoplePage::fill_choices()
{
    const auto options = [&](std::string_view key) { return tasks_->options(0, tasks_->column_of(key)); };
    fill(*space_, options("space"));
    fill(*position_, options("position"));
    fill(*condition_, options("condition"));
}

void PeoplePage::add_task()
{
    const auto hours = number_in(hours_->text());
    if (person_->text().trimmed().isEmpty()) {
        session_.say(tr("A task needs a person: type a name or a job."));
        person_->setFocus();
        return;
    }
    if (!hours) {
        session_.say(tr("A task needs its hours: type a number, such as 4,5."));
        hours_->setFocus();
        return;
    }
    const Task task{.space = plain(space_->currentData().toString()),
                    .position = position_named(plain(position_->currentData().toString())),
                    .condition = plain(condition_->currentData().toString()),
                    .hours = *hours};
    if (!tasks_->add(plain(person_->text().trimmed()), plain(day_->text().trimmed()), task)) return;
    hours_->clear();
    space_->setFocus(); // person and day stay for the next task
}

void PeoplePage::show_offer()
{
    const auto survey = session_.document().survey();
    unjudged_.clear();
    offers_.clear();
    if (survey) unjudged_ = evaluators::unjudged_tasks(*survey, session_.library());
    if (!unjudged_.empty()) offers_ = evaluators::daily_criteria_for(*survey, session_.library(), unjudged_);
    offer_->setVisible(!offers_.empty());
    if (offers_.empty()) return;
    QStringList tasks;
    for (const evaluators::UnjudgedTask& task : unjudged_)
        tasks << QStringLiteral("%1 (%2)").arg(shown(task.use), shown(name_of(task.position)));
    offer_words_->setText(tr("No criterion of the survey judges a day at: %1.").arg(tasks.join(QStringLiteral(", "))));
    std::vector<Option> options;
    for (const evaluators::DailyCriteria& offer : offers_) {
        QStringList ids;
        for (const std::string& id : offer.criteria) ids << shown(id);
        options.push_back({ids.join(QStringLiteral(", ")), shown(offer.edition)});
    }
    fill(*offered_, options);
    offered_->setToolTip(offered_->currentData().toString());
}

void PeoplePage::show_results()
{
    const auto judgement = session_.judgement();
    const auto survey = session_.document().survey();
    const bool is_current = judgement && judgement->survey == survey;
    std::vector<DayResult> results;
    if (judgement && judgement->problems.empty()) results = day_results(*judgement, session_.library());
    state_->setText(!survey || survey->exposures.empty()
                        ? tr("Nobody's day is told yet: say above who is where for how many hours.")
                    : !is_current     ? tr("Being judged; what stands below is of before.")
                    : results.empty() ? tr("No day is judged.")
                                      : QString());
    state_->setVisible(!state_->text().isEmpty());
    results_->setRowCount(static_cast<int>(results.size()));
    for (int row = 0; row < static_cast<int>(results.size()); ++row) {
        const DayResult& result = results[static_cast<std::size_t>(row)];
        const QStringList cells{result.person, result.day,     result.criterion,
                                result.value,  result.verdict, result.times};
        for (int column = 0; column < cells.size(); ++column) {
            auto* item = new QTableWidgetItem(cells[column]);
            item->setToolTip(result.notes);
            item->setTextAlignment(Qt::AlignLeft | Qt::AlignTop);
            results_->setItem(row, column, item);
        }
    }
    results_->resizeColumnsToContents();
    const int widest = std::max(results_->viewport()->width() / 5, 90);
    for (int column = 0; column + 1 < results_->columnCount(); ++column)
        results_->setColumnWidth(column, std::min(results_->columnWidth(column), widest));
    results_->resizeRowsToContents();
    const QStringList paragraphs = results.empty() ? QStringList() : duties(*judgement, session_.library());
    duty_->setText(paragraphs.join(QChar(u'\n')));
    duty_->setVisible(!paragraphs.isEmpty());
}

void PeoplePage::resizeEvent(QResizeEvent* event)
{
    Page::resizeEvent(event);
    if (isVisible()) show_results();
}

void PeoplePage::refresh()
{
    tasks_->load();
    fill_choices();
    show_offer();
    show_results();
}

} // namespace becalm::desktop
