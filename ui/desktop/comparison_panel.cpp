#include "ui/desktop/comparison_panel.h"

#include <QAction>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QKeyEvent>
#include <QMenu>
#include <QVBoxLayout>
#include <algorithm>

#include "ui/desktop/copied_table.h"
#include "ui/desktop/verdict_facts.h"
#include "ui/desktop/verdict_rulers.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

QString with_sign(const std::optional<double>& value, const QString& unit)
{
    if (!value) return QStringLiteral("–");
    return (*value > 0.0 ? QStringLiteral("+") : QString()) + number_words(*value, 2) + QChar(0x00A0) + unit;
}

void show_ruler(FigureView& view, const Survey& survey, const Verdict* verdict)
{
    if (verdict == nullptr) {
        view.clear();
        return;
    }
    const QString words = condition_words(survey, verdict->condition);
    view.show_figure(
        [input = ruler_input(*verdict, words)](double width, double height) {
            return figures::ruler_figure({.width_px = width, .height_px = height}, {input});
        },
        QStringLiteral("ruler"));
    view.setAccessibleName(ruler_words(survey, *verdict));
}

} // namespace

ComparisonPanel::ComparisonPanel(Session& session, QWidget* parent) : QWidget(parent), session_(session)
{
    auto* column = new QVBoxLayout(this);
    auto* line = new QHBoxLayout;
    const auto box = [&](const QString& before, const QString& name) {
        auto* label = new QLabel(before);
        auto* combo = new QComboBox;
        combo->setAccessibleName(name);
        combo->setToolTip(name);
        combo->setMinimumContentsLength(10);
        label->setBuddy(combo);
        line->addWidget(label);
        line->addWidget(combo, 1);
        connect(combo, &QComboBox::activated, this, [this] { show_rows(); });
        return combo;
    };
    first_ = box(tr("&From"), tr("First condition"));
    second_ = box(tr("&to"), tr("Second condition"));
    column->addLayout(line);
    model_ = new QStandardItemModel(this);
    table_ = new QTreeView;
    table_->setModel(model_);
    table_->setAccessibleName(tr("Changes from the first condition to the second"));
    table_->setRootIsDecorated(false);
    table_->setAlternatingRowColors(true);
    table_->setUniformRowHeights(true);
    table_->setContextMenuPolicy(Qt::ActionsContextMenu);
    auto* copy = new QAction(tr("Copy the table"), table_);
    connect(copy, &QAction::triggered, this, &ComparisonPanel::copy_table);
    table_->addAction(copy);
    table_->installEventFilter(this);
    column->addWidget(table_, 1);
    words_ = new QLabel;
    words_->setWordWrap(true);
    words_->setAccessibleName(tr("About the two conditions"));
    column->addWidget(words_);
    auto* pair = new QHBoxLayout;
    for (FigureView** view : {&first_ruler_, &second_ruler_}) {
        *view = new FigureView;
        (*view)->set_natural_height(true);
        connect(*view, &FigureView::could_not_export, this, &ComparisonPanel::could_not_export);
        pair->addWidget(*view, 1, Qt::AlignTop);
    }
    column->addLayout(pair);
    connect(table_->selectionModel(), &QItemSelectionModel::currentChanged, this, [this] {
        show_rulers();
        const auto row = static_cast<std::size_t>(table_->currentIndex().row());
        if (table_->currentIndex().isValid() && row < changes_.size() && table_->hasFocus())
            emit verdict_chosen(changes_[row].any());
    });
}

void ComparisonPanel::show_space(std::shared_ptr<const Judgement> judgement, const std::string& space)
{
    if (judgement == judgement_ && space == space_) return;
    judgement_ = std::move(judgement);
    space_ = space;
    fill();
    show_rows();
}

void ComparisonPanel::fill()
{
    const std::vector<std::string> conditions =
        judgement_ ? conditions_of(judgement_->assessment(), space_) : std::vector<std::string>();
    int other = 0;
    for (QComboBox* box : {first_, second_}) {
        const QString before = box->currentData().toString();
        box->clear();
        for (const std::string& id : conditions) box->addItem(condition_words(*judgement_->survey, id), shown(id));
        const int at = box->findData(before);
        box->setCurrentIndex(at >= 0 ? at : std::min(other, box->count() - 1));
        box->setEnabled(conditions.size() > 1);
        ++other;
    }
    if (first_->currentIndex() == second_->currentIndex() && conditions.size() > 1)
        second_->setCurrentIndex(first_->currentIndex() == 0 ? 1 : 0);
}

std::string ComparisonPanel::condition(const QComboBox& box) const { return plain(box.currentData().toString()); }

void ComparisonPanel::show_rows()
{
    changes_.clear();
    if (judgement_ && first_->count() > 1)
        changes_ = changes_between(judgement_->assessment(), condition(*first_), condition(*second_), space_);
    model_->clear();
    model_->setHorizontalHeaderLabels({tr("Space"), first_->currentText(), second_->currentText(), tr("Change"),
                                       tr("Change in dB"), tr("Band"), tr("Criterion")});
    for (const ConditionChange& change : changes_) {
        const Verdict& any = change.any();
        const Survey& survey = *judgement_->survey;
        const auto value = [](const Verdict* verdict) {
            return verdict == nullptr ? tr("not measured")
                   : verdict->value   ? value_words(*verdict)
                                      : band_words(*verdict);
        };
        QList<QStandardItem*> row;
        for (const QString& words :
             {space_words(survey, any.space) + QStringLiteral(", ") + shown(any.position), value(change.first),
              value(change.second), with_sign(change.percent, QStringLiteral("%")),
              with_sign(change.db, QStringLiteral("dB")), band_change_words(change), criterion_words(any)}) {
            auto* item = new QStandardItem(words);
            item->setEditable(false);
            item->setToolTip(words);
            row << item;
        }
        model_->appendRow(row);
    }
    constexpr int widest_px = 200;
    for (int column = 0; column < model_->columnCount(); ++column) {
        table_->resizeColumnToContents(column);
        table_->setColumnWidth(column, std::min(widest_px, table_->columnWidth(column) + 8));
    }
    words_->setText(first_->count() < 2
                        ? tr("Only one condition was measured here; there is nothing to compare it with.")
                    : changes_.empty() ? tr("Nothing was measured in these two conditions.")
                                       : QString());
    words_->setVisible(!words_->text().isEmpty());
    table_->setCurrentIndex(model_->index(0, 0));
    show_rulers();
}

void ComparisonPanel::show_rulers()
{
    const auto row = static_cast<std::size_t>(std::max(0, table_->currentIndex().row()));
    if (row >= changes_.size()) {
        first_ruler_->clear();
        second_ruler_->clear();
        return;
    }
    show_ruler(*first_ruler_, *judgement_->survey, changes_[row].first);
    show_ruler(*second_ruler_, *judgement_->survey, changes_[row].second);
}

void ComparisonPanel::copy_table() const
{
    if (judgement_) copy_to_clipboard(table_of(*judgement_->survey, changes_, condition(*first_), condition(*second_)));
}

bool ComparisonPanel::eventFilter(QObject* watched, QEvent* event)
{
    if (watched == table_ && event->type() == QEvent::KeyPress &&
        static_cast<QKeyEvent*>(event)->matches(QKeySequence::Copy)) {
        copy_table();
        return true;
    }
    return QWidget::eventFilter(watched, event);
}

} // namespace becalm::desktop
