#include "ui/desktop/criteria_panel.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QVBoxLayout>
#include <algorithm>

#include "ui/desktop/verdict_facts.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

constexpr int id_role = Qt::UserRole, search_role = Qt::UserRole + 1;

Qt::CheckState state_of(const CriterionChoice& choice)
{
    switch (choice.chosen) {
    case CriterionChoice::Chosen::yes: return Qt::Checked;
    case CriterionChoice::Chosen::for_some_uses: return Qt::PartiallyChecked;
    case CriterionChoice::Chosen::no: break;
    }
    return Qt::Unchecked;
}

} // namespace

CriteriaPanel::CriteriaPanel(Session& session, QWidget* parent) : QWidget(parent), session_(session)
{
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    search_ = new QLineEdit;
    search_->setPlaceholderText(tr("Search the criteria"));
    search_->setAccessibleName(tr("Search the criteria"));
    search_->setClearButtonEnabled(true);
    column->addWidget(search_);
    model_ = new QStandardItemModel(this);
    found_ = new QSortFilterProxyModel(this);
    found_->setSourceModel(model_);
    found_->setFilterRole(search_role);
    found_->setFilterCaseSensitivity(Qt::CaseInsensitive);
    list_ = new QTreeView;
    list_->setModel(found_);
    list_->setAccessibleName(tr("Criteria that judge this survey"));
    list_->setRootIsDecorated(false);
    list_->setHeaderHidden(true);
    list_->setUniformRowHeights(true);
    list_->setMinimumHeight(60);
    column->addWidget(list_, 1);
    count_ = new QLabel;
    count_->setAccessibleName(tr("How many criteria"));
    count_->setWordWrap(true);
    column->addWidget(count_);

    asking_ = new QFrame;
    asking_->setFrameShape(QFrame::StyledPanel);
    auto* asking = new QVBoxLayout(asking_);
    question_ = new QLabel;
    question_->setWordWrap(true);
    who_ = new QLineEdit;
    who_->setAccessibleName(tr("Who compared the numbers with the publication, and when"));
    who_->setPlaceholderText(tr("name, date, copy of the publication"));
    question_->setBuddy(who_);
    judge_ = new QPushButton(tr("&Judge by it"));
    auto* not_now = new QPushButton(tr("&Not now"));
    auto* answers = new QHBoxLayout;
    answers->addStretch(1);
    answers->addWidget(judge_);
    answers->addWidget(not_now);
    asking->addWidget(question_);
    asking->addWidget(who_);
    asking->addLayout(answers);
    asking_->hide();
    column->addWidget(asking_);

    connect(search_, &QLineEdit::textChanged, this, [this](const QString& text) {
        found_->setFilterFixedString(text.trimmed());
        show_current();
    });
    connect(model_, &QStandardItemModel::itemChanged, this, [this](QStandardItem* item) { ticked(*item); });
    connect(list_->selectionModel(), &QItemSelectionModel::currentChanged, this, [this] { show_current(); });
    connect(who_, &QLineEdit::textChanged, this,
            [this](const QString& text) { judge_->setEnabled(!text.trimmed().isEmpty()); });
    connect(who_, &QLineEdit::returnPressed, this, &CriteriaPanel::confirm);
    connect(judge_, &QPushButton::clicked, this, &CriteriaPanel::confirm);
    connect(not_now, &QPushButton::clicked, this, [this] {
        asking_->hide();
        list_->setFocus();
    });
    judge_->setEnabled(false);
}

void CriteriaPanel::refresh()
{
    const auto survey = session_.document().survey();
    if (!survey) {
        setEnabled(session_.document().is_open() && !choices_.empty());
        return;
    }
    setEnabled(true);
    if (survey == survey_ && library_ == &session_.library()) return;
    const bool is_other = !survey_ || survey_->path != survey->path || library_ != &session_.library();
    survey_ = survey;
    library_ = &session_.library();
    std::vector<CriterionChoice> before = std::exchange(choices_, criteria_for(*survey, *library_));
    const auto rank_before = [&](const CriterionChoice& choice) {
        return std::ranges::find(before, choice.criterion, &CriterionChoice::criterion) - before.begin();
    };
    // Those that judge come first; afterwards the rows keep their places, so that a tick moves nothing under the
    // cursor.
    if (is_other)
        std::ranges::stable_partition(
            choices_, [](const CriterionChoice& choice) { return choice.chosen != CriterionChoice::Chosen::no; });
    else
        std::ranges::stable_sort(choices_, {}, rank_before);
    filling_ = true;
    if (model_->rowCount() != static_cast<int>(choices_.size())) {
        model_->clear();
        for (std::size_t i = 0; i < choices_.size(); ++i) model_->appendRow(new QStandardItem);
    }
    int chosen = 0;
    for (std::size_t i = 0; i < choices_.size(); ++i) {
        show_item(*model_->item(static_cast<int>(i)), choices_[i]);
        chosen += choices_[i].chosen != CriterionChoice::Chosen::no ? 1 : 0;
    }
    filling_ = false;
    count_->setText(tr("%1 of %2 criteria for this setting judge the survey.").arg(chosen).arg(choices_.size()));
    show_current();
}

void CriteriaPanel::show_item(QStandardItem& item, const CriterionChoice& choice) const
{
    const Criterion& criterion = *choice.criterion;
    QString words = criterion_words(criterion.edition, criterion.title, criterion.id);
    QStringList uses;
    for (const std::string& use : choice.uses) uses << shown(use);
    if (choice.chosen == CriterionChoice::Chosen::for_some_uses)
        words += tr(" – for %1").arg(uses.join(QStringLiteral(", ")));
    if (choice.waits_for_confirmation()) words += tr(" – its numbers must be compared first");
    if (criterion.limits_missing) words += tr(" – its limits must be typed in");
    item.setText(words);
    item.setData(shown(criterion.id), id_role);
    item.setData(words + QChar(u' ') + shown(criterion.id) + QChar(u' ') + shown(criterion.edition) + QChar(u' ') +
                     shown(criterion.quantity),
                 search_role);
    item.setEditable(false);
    item.setCheckable(true);
    item.setCheckState(state_of(choice));
    QString tip = words;
    if (!criterion.clause.empty()) tip += QChar(u'\n') + shown(criterion.clause);
    if (!criterion.note.empty()) tip += QChar(u'\n') + shown(criterion.note);
    item.setToolTip(tip);
}

const CriterionChoice* CriteriaPanel::choice_of(const QString& id) const
{
    const auto found = std::ranges::find_if(
        choices_, [&](const CriterionChoice& choice) { return shown(choice.criterion->id) == id; });
    return found == choices_.end() ? nullptr : &*found;
}

QString CriteriaPanel::current_id() const { return list_->currentIndex().data(id_role).toString(); }

void CriteriaPanel::ticked(const QStandardItem& item)
{
    if (filling_ || !survey_) return;
    const QString id = item.data(id_role).toString();
    const CriterionChoice* choice = choice_of(id);
    if (choice == nullptr || item.checkState() == state_of(*choice)) return;
    const bool wanted = item.checkState() == Qt::Checked;
    if (wanted && choice->waits_for_confirmation()) {
        filling_ = true;
        model_->item(item.row())->setCheckState(state_of(*choice)); // until somebody answers
        filling_ = false;
        ask_who(id);
        return;
    }
    const std::string& text = session_.document().text();
    if (!session_.change(wanted ? tr("judge by a criterion") : tr("leave out a criterion"),
                         wanted ? with_criterion(text, *survey_, plain(id))
                                : without_criterion(text, *survey_, plain(id)))) {
        filling_ = true;
        model_->item(item.row())->setCheckState(state_of(*choice));
        filling_ = false;
    }
}

void CriteriaPanel::ask_who(const QString& id)
{
    const CriterionChoice* choice = choice_of(id);
    if (choice == nullptr) return;
    asked_id_ = id;
    question_->setText(
        tr("The numbers of %1 are from memory and not certain. Who compared them with the publication, "
           "and when? The answer stands in the survey.")
            .arg(criterion_words(choice->criterion->edition, choice->criterion->title, choice->criterion->id)));
    who_->clear();
    asking_->show();
    who_->setFocus();
}

// A criterion that the survey names and that waits asks as soon as somebody looks at it.
void CriteriaPanel::show_current()
{
    const QString id = current_id();
    const CriterionChoice* choice = choice_of(id);
    const bool waits = choice != nullptr && choice->waits_for_confirmation();
    if (asking_->isVisible() && (!waits || id != asked_id_)) asking_->hide();
    if (waits && choice->chosen != CriterionChoice::Chosen::no && asked_id_ != id) {
        QWidget* const focus = focusWidget();
        ask_who(id);
        if (focus != nullptr) focus->setFocus();
    }
    if (choice == nullptr || !waits) asked_id_.clear();
}

void CriteriaPanel::confirm()
{
    const std::string who = plain(who_->text().trimmed());
    if (who.empty() || !survey_) return;
    const CriterionChoice* choice = choice_of(asked_id_);
    if (choice == nullptr) return;
    const std::string& text = session_.document().text();
    const std::string id = plain(asked_id_);
    asking_->hide();
    list_->setFocus();
    session_.change(tr("judge by a criterion"), choice->chosen == CriterionChoice::Chosen::no
                                                    ? with_criterion(text, *survey_, id, who)
                                                    : with_confirmation(text, *survey_, id, who));
}

} // namespace becalm::desktop
