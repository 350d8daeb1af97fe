#include "ui/desktop/what_if_panel.h"

#include <QFormLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QScrollArea>
#include <QVBoxLayout>
#include <algorithm>

#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

using evaluators::Change;

enum Column { change, value, band, notes, column_count };

struct FieldWords {
    QString words;
    bool may_be_negative = false, may_be_zero = false;
};

std::vector<FieldWords> fields_of(Change::Kind kind)
{
    switch (kind) {
    case Change::Kind::reduce: return {{WhatIfPanel::tr("by, dB"), true, true}};
    case Change::Kind::move: return {{WhatIfPanel::tr("by, Hz (+ up, − down)"), true, true}};
    case Change::Kind::isolate:
        return {{WhatIfPanel::tr("natural frequency of the mount, Hz")},
                {WhatIfPanel::tr("damping ratio of the mount"), false, true}};
    case Change::Kind::damp:
        return {{WhatIfPanel::tr("frequency of the resonance, Hz")},
                {WhatIfPanel::tr("mass of the damper over that of the mode")},
                {WhatIfPanel::tr("damping ratio of the resonance")}};
    case Change::Kind::stiffen:
        return {{WhatIfPanel::tr("frequency of the resonance, Hz")},
                {WhatIfPanel::tr("times as stiff")},
                {WhatIfPanel::tr("damping ratio of the resonance")}};
    }
    return {};
}

bool is_of_source(Change::Kind kind) { return kind != Change::Kind::damp && kind != Change::Kind::stiffen; }

// The verdict as it would be.
Verdict predicted(const Verdict& now, const Prediction& prediction)
{
    Verdict then = now;
    then.value = prediction.value;
    then.expanded_uncertainty = prediction.expanded_uncertainty;
    then.band_index = prediction.band_index;
    then.also_bands.clear();
    then.exceeded = prediction.exceeded;
    return then;
}

} // namespace

QString cure_words(const Cure& cure, const Explanation& explanation)
{
    Verdict without = explanation.verdict;
    without.value = cure.value_without;
    without.expanded_uncertainty.reset();
    const QString source = shown(cure.source);
    if (cure.reduction_db)
        return WhatIfPanel::tr("needs %1 dB less from %2 to reach “%3”")
            .arg(number_words(*cure.reduction_db, 2), source, shown(explanation.next_band));
    if (explanation.next_limit)
        return WhatIfPanel::tr("“%1” is not reachable by %2 alone: without it the value is %3")
            .arg(shown(explanation.next_band), source, value_words(without));
    return WhatIfPanel::tr("without %1 the value is %2").arg(source, value_words(without));
}

WhatIfPanel::WhatIfPanel(QWidget* parent) : QWidget(parent)
{
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 4, 0, 0);

    auto* form_side = new QWidget;
    auto* form = new QFormLayout(form_side);
    form->setContentsMargins(0, 0, 6, 0);
    form->setVerticalSpacing(4);
    kind_ = new QComboBox;
    kind_->setAccessibleName(tr("Kind of change"));
    for (const auto& [kind, words] : {std::pair{Change::Kind::reduce, tr("a source is brought down")},
                                      std::pair{Change::Kind::move, tr("a source moves in frequency")},
                                      std::pair{Change::Kind::isolate, tr("a source stands on a mount")},
                                      std::pair{Change::Kind::damp, tr("a tuned damper on a resonance")},
                                      std::pair{Change::Kind::stiffen, tr("a resonance is made stiffer")}})
        kind_->addItem(words, static_cast<int>(kind));
    form->addRow(tr("What &if"), kind_);
    source_ = new QComboBox;
    source_->setAccessibleName(tr("Source that is changed"));
    source_words_ = new QLabel(tr("source"));
    source_words_->setBuddy(source_);
    form->addRow(source_words_, source_);
    for (Field& field : fields_) {
        field.words = new QLabel;
        field.words->setWordWrap(true);
        field.edit = new QLineEdit;
        field.edit->setMaximumWidth(90);
        field.words->setBuddy(field.edit);
        form->addRow(field.words, field.edit);
        connect(field.edit, &QLineEdit::returnPressed, this, &WhatIfPanel::try_it);
    }
    auto* buttons = new QHBoxLayout;
    try_ = new QPushButton(tr("&Try it"));
    forget_ = new QPushButton(tr("&Forget the chosen"));
    forget_->setToolTip(tr("Take the change of the chosen row away"));
    buttons->addWidget(try_);
    buttons->addWidget(forget_);
    buttons->addStretch(1);
    form->addRow(buttons);
    auto* scroll = new QScrollArea;
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setWidget(form_side);
    scroll->setMinimumWidth(250);
    scroll->setFocusPolicy(Qt::NoFocus);
    row->addWidget(scroll, 3);

    auto* answers = new QVBoxLayout;
    answers_ = new QTableWidget(0, column_count);
    answers_->setAccessibleName(tr("Now, and what each change is predicted to do"));
    answers_->setHorizontalHeaderLabels({tr("Change"), tr("Value"), tr("Band"), tr("Mind")});
    answers_->verticalHeader()->hide();
    answers_->horizontalHeader()->setStretchLastSection(true);
    answers_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    answers_->setSelectionBehavior(QAbstractItemView::SelectRows);
    answers_->setSelectionMode(QAbstractItemView::SingleSelection);
    answers_->setTabKeyNavigation(false);
    answers_->setWordWrap(true);
    answers->addWidget(answers_, 1);
    cures_ = new QLabel;
    cures_->setAccessibleName(tr("What would cure it"));
    cures_->setWordWrap(true);
    cures_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    answers->addWidget(cures_);
    row->addLayout(answers, 7);

    connect(kind_, qOverload<int>(&QComboBox::currentIndexChanged), this, &WhatIfPanel::show_form);
    connect(try_, &QPushButton::clicked, this, &WhatIfPanel::try_it);
    connect(forget_, &QPushButton::clicked, this, &WhatIfPanel::forget_chosen);
    connect(answers_, &QTableWidget::itemSelectionChanged, this,
            [this] { forget_->setEnabled(answers_->currentRow() > 0); });
    show_form();
    clear();
}

Change::Kind WhatIfPanel::kind() const { return static_cast<Change::Kind>(kind_->currentData().toInt()); }

void WhatIfPanel::show_form()
{
    const auto wanted = fields_of(kind());
    source_->setVisible(is_of_source(kind()));
    source_words_->setVisible(is_of_source(kind()));
    for (std::size_t i = 0; i < fields_.size(); ++i) {
        const bool is_wanted = i < wanted.size();
        fields_[i].words->setVisible(is_wanted);
        fields_[i].edit->setVisible(is_wanted);
        fields_[i].edit->clear();
        const QString words = is_wanted ? wanted[i].words : QString();
        fields_[i].words->setText(words);
        fields_[i].edit->setAccessibleName(words);
    }
    try_->setEnabled(!is_of_source(kind()) || source_->count() > 0);
}

void WhatIfPanel::offer(const std::vector<Source>& sources)
{
    const QVariant before = source_->currentData();
    source_->clear();
    for (const Source& source : sources)
        source_->addItem(source.title.empty() ? shown(source.id)
                                              : tr("%1: %2").arg(shown(source.id), shown(source.title)),
                         shown(source.id));
    source_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    source_->setMinimumContentsLength(14);
    source_->setCurrentIndex(std::max(source_->findData(before), 0));
    // A change of a source that is gone cannot be tried any more.
    std::erase_if(changes_, [&](const Change& change) {
        return is_of_source(change.kind) && std::ranges::find(sources, change.source, &Source::id) == sources.end();
    });
    try_->setEnabled(!is_of_source(kind()) || source_->count() > 0);
}

void WhatIfPanel::try_it()
{
    if (!try_->isEnabled()) return;
    Change change{.kind = kind()};
    if (is_of_source(change.kind)) change.source = plain(source_->currentData().toString());
    const auto wanted = fields_of(change.kind);
    const std::array<double*, 3> places{&change.amount, &change.second, &change.third};
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        const auto number = number_in(fields_[i].edit->text());
        const bool fits =
            number && (wanted[i].may_be_negative || *number > 0.0 || (wanted[i].may_be_zero && *number == 0.0));
        if (!fits) {
            fields_[i].edit->setFocus();
            emit not_understood(fields_[i].edit->text().trimmed().isEmpty()
                                    ? tr("%1: give a number, such as 6,5").arg(wanted[i].words)
                                : number ? tr("%1: %2 is not above 0").arg(wanted[i].words, fields_[i].edit->text())
                                         : tr("%1: “%2” is no number; write it like 6,5 or 6.5")
                                               .arg(wanted[i].words, fields_[i].edit->text()));
            return;
        }
        *places[i] = *number;
    }
    changes_.push_back(std::move(change));
    emit changes_changed();
}

void WhatIfPanel::forget_chosen()
{
    const int row = answers_->currentRow() - 1; // the first is the present
    if (row < 0 || row >= static_cast<int>(changes_.size())) return;
    changes_.erase(changes_.begin() + row);
    emit changes_changed();
}

void WhatIfPanel::clear()
{
    answers_->setRowCount(0);
    forget_->setEnabled(false);
    cures_->clear();
}

void WhatIfPanel::show_explanation(const Explanation& explanation)
{
    clear();
    const auto put = [&](int row, int at, const QString& text) {
        auto* item = new QTableWidgetItem(text);
        item->setToolTip(text);
        answers_->setItem(row, at, item);
    };
    answers_->setRowCount(1 + static_cast<int>(explanation.predictions.size()));
    put(0, change, tr("as it is now"));
    put(0, value, value_words(explanation.verdict));
    put(0, band, band_words(explanation.verdict));
    put(0, notes, QString());
    int row = 1;
    for (const Prediction& prediction : explanation.predictions) {
        const Verdict then = predicted(explanation.verdict, prediction);
        QStringList mind;
        for (const std::string& note : prediction.notes) mind << shown(note);
        put(row, change, shown(prediction.change));
        put(row, value, value_words(then));
        put(row, band, band_words(then) + (then.exceeded ? tr(", exceeded") : QString()));
        put(row, notes, mind.join(QStringLiteral("; ")));
        ++row;
    }
    answers_->resizeColumnsToContents();
    answers_->setColumnWidth(change, std::min(answers_->columnWidth(change), 240));
    answers_->setColumnWidth(band, std::min(answers_->columnWidth(band), 220));
    answers_->resizeRowsToContents();
    QStringList cures;
    if (explanation.next_limit)
        cures << tr("The next band, “%1”, begins %2 % lower.")
                     .arg(shown(explanation.next_band), number_words(*explanation.needed_percent, 3));
    for (const Cure& cure : explanation.cures) cures << QStringLiteral("• ") + cure_words(cure, explanation);
    cures_->setText(cures.join(QChar(u'\n')));
}

} // namespace becalm::desktop
