#include "ui/desktop/sources_panel.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QVBoxLayout>

#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

enum Column { source_column, kind_column, tried_column, stated_column, lines_column, column_count };

QString unit_of(const std::string& key)
{
    if (key == "hz") return QStringLiteral("Hz");
    if (key == "speed_km_h") return QStringLiteral("km/h");
    return SourcesPanel::tr("r/min");
}

QString speed_words(const evaluators::SourceSpeed& speed)
{
    return number_words(speed.value, 6) + QChar(0x00A0) + unit_of(speed.key);
}

} // namespace

SourcesPanel::SourcesPanel(QWidget* parent) : QWidget(parent)
{
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 4, 0, 0);
    table_ = new QTableWidget(0, column_count);
    table_->setAccessibleName(tr("Sources and their speeds"));
    table_->setHorizontalHeaderLabels({tr("Source"), tr("Kind"), tr("Speed tried"), tr("In the survey"), tr("Lines")});
    table_->verticalHeader()->hide();
    table_->horizontalHeader()->setStretchLastSection(true);
    table_->setSelectionBehavior(QAbstractItemView::SelectRows);
    table_->setSelectionMode(QAbstractItemView::SingleSelection);
    table_->setTabKeyNavigation(false);
    table_->setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::EditKeyPressed |
                            QAbstractItemView::AnyKeyPressed);
    column->addWidget(table_, 1);
    auto* line = new QHBoxLayout;
    words_ = new QLabel;
    words_->setWordWrap(true);
    words_->setAccessibleName(tr("What trying a speed does"));
    put_back_ = new QPushButton(tr("Put &back"));
    put_back_->setToolTip(tr("Show the speeds as the survey has them"));
    write_ = new QPushButton(tr("&Write to the survey"));
    write_->setToolTip(tr("Make the speeds that are tried those of the survey; Undo takes it back"));
    line->addWidget(words_, 1);
    line->addWidget(put_back_);
    line->addWidget(write_);
    column->addLayout(line);
    connect(table_, &QTableWidget::itemChanged, this, &SourcesPanel::edited);
    connect(put_back_, &QPushButton::clicked, this, &SourcesPanel::put_back);
    connect(write_, &QPushButton::clicked, this, &SourcesPanel::write);
}

void SourcesPanel::show_trial(const SourceTrial& trial)
{
    filling_ = true;
    const auto& sources = trial.sources();
    table_->setRowCount(static_cast<int>(sources.size()));
    const auto lines = trial.lines(100.0); // not a limit: Hz, as far as spectra are shown
    for (std::size_t i = 0; i < sources.size(); ++i) {
        const Source& of = sources[i];
        const int row = static_cast<int>(i);
        const auto put = [&](int at, const QString& text, bool editable = false) {
            QTableWidgetItem* item = table_->item(row, at);
            if (item == nullptr) table_->setItem(row, at, item = new QTableWidgetItem);
            item->setText(text);
            item->setToolTip(text);
            item->setFlags(Qt::ItemIsEnabled | Qt::ItemIsSelectable |
                           (editable ? Qt::ItemIsEditable : Qt::NoItemFlags));
            return item;
        };
        put(source_column, of.title.empty() ? shown(of.id) : tr("%1: %2").arg(shown(of.id), shown(of.title)))
            ->setData(Qt::UserRole, shown(of.id));
        put(kind_column, shown(of.kind));
        const auto tried = trial.speed(of.id), stated = trial.stated(of.id);
        QTableWidgetItem* cell = put(tried_column, tried ? speed_words(*tried) : QString(), tried.has_value());
        QFont font = table_->font();
        font.setBold(tried && stated && tried->value != stated->value);
        cell->setFont(font);
        put(stated_column, !stated ? QString()
                           : stated->of_condition
                               ? tr("%1, of the condition %2").arg(speed_words(*stated), shown(trial.condition()))
                               : speed_words(*stated));
        QString words;
        for (const NamedLine& line : lines)
            if (line.source == of.id)
                words += (words.isEmpty() ? QString() : QStringLiteral(", ")) + shown(line.name) + QChar(0x00A0) +
                         number_words(line.hz, 4);
        if (const auto problem = trial.missing(of.id)) words = problem_words(*problem);
        put(lines_column, words.isEmpty() || trial.missing(of.id) ? words : tr("%1 Hz").arg(words));
    }
    table_->resizeColumnsToContents();
    table_->setColumnWidth(source_column, std::min(table_->columnWidth(source_column), 260));
    const bool changed = trial.is_changed();
    write_->setEnabled(changed);
    put_back_->setEnabled(changed);
    words_->setText(sources.empty() ? tr("The survey names no sources; add them on the page What, and every component "
                                         "that fits is named.")
                    : changed       ? tr("Lines lie where the speeds tried would put them. Nothing is judged by them: "
                                               "write them to the survey to have the components named anew.")
                                    : tr("Type a speed, or draw a line of the spectrum to where it belongs: all lines "
                                               "of the source follow."));
    filling_ = false;
}

void SourcesPanel::show_source(const std::string& id)
{
    for (int row = 0; row < table_->rowCount(); ++row)
        if (table_->item(row, source_column)->data(Qt::UserRole).toString() == shown(id))
            table_->setCurrentCell(row, tried_column);
}

void SourcesPanel::edited(QTableWidgetItem* item)
{
    if (filling_ || item->column() != tried_column) return;
    QString text = item->text();
    for (const QString& unit : {QStringLiteral("Hz"), QStringLiteral("km/h"), tr("r/min"), QStringLiteral("rpm")})
        if (text.trimmed().endsWith(unit)) text = text.trimmed().chopped(unit.size());
    const auto value = number_in(text.remove(QChar(0x00A0)));
    const QString id = table_->item(item->row(), source_column)->data(Qt::UserRole).toString();
    if (!value || *value <= 0.0)
        emit not_understood(tr("“%1” is no speed of %2; give a number above 0, such as 166,5").arg(item->text(), id));
    emit speed_given(id, value.value_or(0.0));
}

} // namespace becalm::desktop
