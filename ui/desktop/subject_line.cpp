#include "ui/desktop/subject_line.h"

#include <algorithm>
#include <set>

#include "ui/desktop/flow_layout.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

// The entries of a box; the first stands for no choice.
void fill(QComboBox& box, const QString& any, const std::vector<std::pair<std::string, QString>>& entries,
          const std::string& current)
{
    box.clear();
    box.addItem(any, QString());
    for (const auto& [id, words] : entries) box.addItem(words, shown(id));
    const int at = box.findData(shown(current));
    box.setCurrentIndex(std::max(at, 0));
    box.setEnabled(!entries.empty());
}

} // namespace

SubjectLine::SubjectLine(Session& session, QWidget* parent) : QWidget(parent), session_(session)
{
    auto* line = new FlowLayout(this);
    line->setContentsMargins(0, 0, 0, 0);
    line->setSpacing(6);
    const auto add = [&](const QString& before, const QString& name) {
        auto* label = new QLabel(before);
        auto* box = new QComboBox;
        box->setAccessibleName(name);
        box->setToolTip(name);
        box->setSizeAdjustPolicy(QComboBox::AdjustToContents);
        box->setMaximumWidth(box->fontMetrics().averageCharWidth() * 40);
        label->setBuddy(box);
        line->addWidget(label);
        line->add_beside(box);
        connect(box, qOverload<int>(&QComboBox::activated), this, &SubjectLine::chosen);
        return box;
    };
    space_ = add(tr("&In"), tr("Space or person that is looked at"));
    position_ = add(tr("on the"), tr("Position that is looked at"));
    condition_ = add(tr("during"), tr("Condition that is looked at"));
    criterion_ = add(tr("judged by"), tr("Criterion that is looked at"));
    verdict_ = new QLabel;
    verdict_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    verdict_->setAccessibleName(tr("Verdict of what is looked at"));
    QFont bold = verdict_->font();
    bold.setBold(true);
    verdict_->setFont(bold);
    line->addWidget(verdict_);
    connect(&session_, &Session::judgement_changed, this, &SubjectLine::refresh);
    connect(&session_, &Session::choice_changed, this, &SubjectLine::refresh);
    refresh();
}

void SubjectLine::refresh()
{
    filling_ = true;
    const Choice& choice = session_.choice();
    std::vector<std::pair<std::string, QString>> spaces, positions, conditions, criteria;
    const auto add = [](auto& list, const std::string& id, const QString& words) {
        if (id.empty() || std::ranges::find(list, id, &std::pair<std::string, QString>::first) != list.end()) return;
        list.emplace_back(id, words);
    };
    const auto judgement = session_.judgement();
    if (judgement) {
        const Survey& survey = *judgement->survey;
        for (const Verdict& verdict : judgement->assessment().verdicts) {
            const Space* space = survey.space(verdict.space);
            add(spaces, verdict.space, shown(space != nullptr && !space->label.empty() ? space->label : verdict.space));
            if (!choice.space.empty() && verdict.space != choice.space) continue;
            add(positions, verdict.position, shown(verdict.position));
            const Condition* condition = survey.condition(verdict.condition);
            add(conditions, verdict.condition,
                shown(condition != nullptr && !condition->title.empty() ? condition->title : verdict.condition));
            add(criteria, verdict.criterion, shown(verdict.title.empty() ? verdict.criterion : verdict.title));
        }
    }
    fill(*space_, tr("the worst space"), spaces, choice.space);
    fill(*position_, tr("worst position"), positions, choice.position);
    fill(*condition_, tr("the worst condition"), conditions, choice.condition);
    fill(*criterion_, tr("every criterion"), criteria, choice.criterion);
    filling_ = false;
    const Verdict* verdict = session_.chosen_verdict();
    const QString words = verdict == nullptr ? QString()
                          : verdict->judged  ? value_words(*verdict) + QStringLiteral(", ") + band_words(*verdict)
                                             : value_words(*verdict);
    verdict_->setText(words);
    verdict_->setToolTip(words);
}

void SubjectLine::chosen()
{
    if (filling_) return;
    Choice choice = session_.choice();
    const auto id = [](const QComboBox& box) { return plain(box.currentData().toString()); };
    choice.space = id(*space_);
    choice.position = id(*position_);
    choice.condition = id(*condition_);
    choice.criterion = id(*criterion_);
    choice.person.clear();
    choice.recording.clear();
    choice.channel = 0;
    session_.choose(choice);
    if (const Verdict* verdict = session_.chosen_verdict(); verdict != nullptr && !verdict->recordings.empty()) {
        choice.recording = verdict->recordings.front();
        session_.choose(std::move(choice));
    }
}

} // namespace becalm::desktop
