#include "ui/desktop/space_list.h"

#include <QAction>
#include <QApplication>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QKeyEvent>
#include <QMenu>
#include <QPainter>
#include <QScrollBar>
#include <QStyledItemDelegate>
#include <QVBoxLayout>
#include <set>

#include "ui/desktop/band_glyph.h"
#include "ui/desktop/copied_table.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

// The band's place on its tone, then its words.
class BandDelegate final : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

    void paint(QPainter* painter, const QStyleOptionViewItem& given, const QModelIndex& index) const override
    {
        QStyleOptionViewItem option = given;
        initStyleOption(&option, index);
        const auto place = index.data(SpaceTreeModel::place_role).value<BandPlace>();
        const QWidget* widget = given.widget;
        const QStyle& style = widget != nullptr ? *widget->style() : *QApplication::style();
        const QString words = std::exchange(option.text, QString());
        style.drawControl(QStyle::CE_ItemViewItem, &option, painter, widget);
        const double height = chip_height(option);
        const double across = glyph_width(place, height);
        QRectF rest(option.rect);
        if (across > 0.0) {
            const QRectF chip(rest.left() + 3.0, rest.center().y() - height / 2.0 - 2.0, across + 6.0, height + 4.0);
            const QColor tone = tone_of(place, ground_of(option.palette));
            const QColor fill = tone.isValid() ? tone : option.palette.color(QPalette::Base);
            painter->fillRect(chip, fill);
            paint_glyph(*painter, chip.topLeft() + QPointF(3.0, 2.0), height, place, ink_on(fill));
            rest.setLeft(chip.right() + 5.0);
        } else {
            rest.setLeft(rest.left() + 3.0);
        }
        const bool selected = option.state & QStyle::State_Selected;
        painter->setFont(option.font);
        painter->setPen(option.palette.color(selected ? QPalette::HighlightedText : QPalette::Text));
        painter->drawText(rest, Qt::AlignVCenter | Qt::AlignLeft,
                          option.fontMetrics.elidedText(words, Qt::ElideRight, static_cast<int>(rest.width())));
    }

    QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override
    {
        QSize size = QStyledItemDelegate::sizeHint(option, index);
        const auto place = index.data(SpaceTreeModel::place_role).value<BandPlace>();
        size.rwidth() += static_cast<int>(glyph_width(place, chip_height(option))) + 14;
        size.setHeight(std::max(size.height(), static_cast<int>(chip_height(option)) + 8));
        return size;
    }

private:
    static double chip_height(const QStyleOptionViewItem& option) { return option.fontMetrics.ascent(); }
};

} // namespace

SpaceList::SpaceList(Session& session, QWidget* parent) : QWidget(parent), session_(session)
{
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    auto* line = new QHBoxLayout;
    search_ = new QLineEdit;
    search_->setPlaceholderText(tr("Search"));
    search_->setAccessibleName(tr("Search the spaces"));
    search_->setClearButtonEnabled(true);
    search_->setMinimumWidth(90);
    use_ = new QComboBox;
    use_->setAccessibleName(tr("Use of the spaces shown"));
    use_->setToolTip(use_->accessibleName());
    use_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    use_->setMinimumContentsLength(9);
    verdicts_ = new QComboBox;
    verdicts_->setAccessibleName(tr("Verdicts shown"));
    verdicts_->setToolTip(verdicts_->accessibleName());
    verdicts_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    verdicts_->setMinimumContentsLength(9);
    using Verdicts = SpaceFilter::Verdicts;
    const auto add = [&](const QString& words, Verdicts which) { verdicts_->addItem(words, static_cast<int>(which)); };
    add(tr("every verdict"), Verdicts::all);
    add(tr("exceeded"), Verdicts::exceeded);
    add(tr("cannot be judged"), Verdicts::not_judged);
    add(tr("near a limit (within the uncertainty)"), Verdicts::near_limit);
    verdicts_->view()->setMinimumWidth(verdicts_->view()->sizeHintForColumn(0) + 12);
    line->addWidget(search_, 1);
    line->addWidget(use_);
    line->addWidget(verdicts_);
    column->addLayout(line);

    model_ = new SpaceTreeModel(this);
    order_ = new QSortFilterProxyModel(this);
    order_->setSourceModel(model_);
    order_->setSortRole(SpaceTreeModel::sort_role);
    tree_ = new QTreeView;
    tree_->setModel(order_);
    tree_->setAccessibleName(tr("Spaces, the worst first"));
    tree_->setItemDelegateForColumn(SpaceTreeModel::band, new BandDelegate(tree_));
    tree_->setSortingEnabled(true);
    tree_->sortByColumn(-1, Qt::AscendingOrder); // as the model has it: worst first
    tree_->setUniformRowHeights(true);
    tree_->setAlternatingRowColors(true);
    tree_->setDragEnabled(true);
    tree_->setDragDropMode(QAbstractItemView::DragOnly);
    tree_->setSelectionMode(QAbstractItemView::SingleSelection);
    tree_->setContextMenuPolicy(Qt::CustomContextMenu);
    tree_->setExpandsOnDoubleClick(false);
    tree_->setMouseTracking(true);
    tree_->installEventFilter(this);
    tree_->header()->setStretchLastSection(true);
    column->addWidget(tree_, 1);
    count_ = new QLabel;
    count_->setAccessibleName(tr("How many spaces"));
    column->addWidget(count_);
    why_not_ = new QLabel;
    why_not_->setAccessibleName(tr("Why it cannot be judged"));
    why_not_->setWordWrap(true);
    why_not_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    column->addWidget(why_not_);

    connect(search_, &QLineEdit::textChanged, this, [this] { refresh(); });
    connect(use_, &QComboBox::activated, this, [this] { refresh(); });
    connect(verdicts_, &QComboBox::activated, this, [this] { refresh(); });
    connect(tree_->selectionModel(), &QItemSelectionModel::currentChanged, this,
            [this](const QModelIndex& current) { choose(current); });
    connect(tree_, &QTreeView::doubleClicked, this, [this](const QModelIndex& index) {
        if (index.data(SpaceTreeModel::space_id_role).isValid())
            emit amount_wanted();
        else
            tree_->setExpanded(index, !tree_->isExpanded(index));
    });
    connect(tree_, &QTreeView::entered, this,
            [this](const QModelIndex& index) { emit hovered(index.data(Qt::ToolTipRole).toString()); });
    connect(tree_, &QTreeView::customContextMenuRequested, this, &SpaceList::open_menu);
}

SpaceFilter SpaceList::filter() const
{
    return {.use = plain(use_->currentData().toString()),
            .verdicts = static_cast<SpaceFilter::Verdicts>(verdicts_->currentData().toInt()),
            .text = search_->text()};
}

void SpaceList::refresh()
{
    // That of the survey before is of no use while this one is judged for the first time.
    auto judgement = session_.judgement();
    if (judgement && judgement->survey->path != plain(session_.document().path())) judgement.reset();
    const auto survey = judgement ? judgement->survey : session_.document().survey();
    if (survey != survey_) {
        survey_ = survey;
        fill_uses();
    }
    const bool other = judgement != judgement_ || survey.get() != model_->survey() || filter() != shown_filter_;
    judgement_ = judgement;
    if (other) show_rows();
    show_choice();
    show_words();
}

void SpaceList::fill_uses()
{
    const QString before = use_->currentData().toString();
    use_->clear();
    use_->addItem(tr("any use"), QString());
    if (survey_)
        for (const std::string& use : uses_of(*survey_)) use_->addItem(shown(use), shown(use));
    use_->setCurrentIndex(std::max(0, use_->findData(before)));
}

void SpaceList::show_rows()
{
    // What was opened stays open.
    std::set<QString> opened;
    for (int group = 0; group < order_->rowCount(); ++group) {
        const QModelIndex parent = order_->index(group, 0);
        for (int row = 0; row < order_->rowCount(parent); ++row) {
            const QModelIndex space = order_->index(row, 0, parent);
            if (tree_->isExpanded(space)) opened.insert(space.data(SpaceTreeModel::space_id_role).toString());
        }
    }
    const bool had_verdicts = std::ranges::any_of(model_->groups(), &SpaceGroup::worst);
    const int scrolled = tree_->verticalScrollBar()->value();
    filling_ = true;
    shown_filter_ = filter();
    model_->show(survey_, judgement_, shown_filter_);
    tree_->expandToDepth(0);
    for (int group = 0; group < order_->rowCount(); ++group) {
        const QModelIndex parent = order_->index(group, 0);
        tree_->setFirstColumnSpanned(group, {}, true);
        for (int row = 0; row < order_->rowCount(parent); ++row) {
            const QModelIndex space = order_->index(row, 0, parent);
            if (opened.contains(space.data(SpaceTreeModel::space_id_role).toString())) tree_->setExpanded(space, true);
        }
    }
    if (!had_verdicts && std::ranges::any_of(model_->groups(), &SpaceGroup::worst))
        for (int column = 0; column < SpaceTreeModel::columns; ++column) {
            tree_->resizeColumnToContents(column);
            constexpr int widest_px = 210;
            tree_->setColumnWidth(column, std::min(tree_->columnWidth(column) + 6, widest_px));
        }
    tree_->verticalScrollBar()->setValue(scrolled);
    filling_ = false;
}

void SpaceList::show_choice()
{
    filling_ = true;
    const Verdict* verdict = session_.chosen_verdict();
    const QModelIndex space = model_->index_of(session_.choice().space);
    QModelIndex wanted =
        verdict != nullptr && verdict->space == session_.choice().space ? model_->index_of(*verdict) : space;
    // The worst of a closed space is shown by the space itself; any other opens it.
    if (wanted.isValid() && wanted.parent() == space && space.isValid()) {
        if (model_->verdict(space) != verdict)
            tree_->setExpanded(order_->mapFromSource(space), true);
        else if (!tree_->isExpanded(order_->mapFromSource(space)))
            wanted = space;
    }
    if (!wanted.isValid()) wanted = space;
    const QModelIndex at = order_->mapFromSource(wanted);
    if (session_.choice().space.empty() || !at.isValid())
        tree_->setCurrentIndex({});
    else if (tree_->currentIndex().siblingAtColumn(0) != at) {
        tree_->setCurrentIndex(at);
        tree_->scrollTo(at);
    }
    filling_ = false;
}

void SpaceList::show_words()
{
    int spaces = 0, exceeded = 0, not_judged = 0;
    for (const SpaceGroup& group : model_->groups())
        for (const SpaceRow& row : group.rows) {
            ++spaces;
            exceeded += std::ranges::any_of(row.verdicts, &Verdict::exceeded) ? 1 : 0;
            not_judged += std::ranges::any_of(row.verdicts, [](const Verdict* v) { return !v->judged; }) ? 1 : 0;
        }
    const bool all = shown_filter_ == SpaceFilter{};
    count_->setText(spaces == 0 && !all ? tr("No space passes the filters.")
                                        : tr("Spaces: %1; exceeded: %2; with a verdict that cannot be reached: %3")
                                              .arg(spaces)
                                              .arg(exceeded)
                                              .arg(not_judged));
    const Verdict* verdict = model_->verdict(order_->mapToSource(tree_->currentIndex()));
    const bool tells =
        verdict != nullptr && !verdict->judged && tree_->currentIndex().data(SpaceTreeModel::space_id_role).isValid();
    why_not_->setVisible(tells);
    why_not_->setText(tells ? shown(verdict->why_not) + QChar(u'.') : QString());
}

void SpaceList::choose(const QModelIndex& current)
{
    if (filling_ || !current.isValid()) return;
    const QVariant id = current.data(SpaceTreeModel::space_id_role);
    if (!id.isValid()) return;
    if (const Verdict* verdict = model_->verdict(order_->mapToSource(current))) {
        session_.choose_verdict(*verdict);
    } else {
        Choice choice;
        choice.space = plain(id.toString());
        session_.choose(choice);
    }
    show_words();
}

void SpaceList::copy_table() const
{
    if (const Survey* survey = model_->survey()) copy_to_clipboard(table_of(*survey, model_->groups()));
}

void SpaceList::open_menu(const QPoint& at)
{
    QMenu menu(this);
    const QAction* copy = menu.addAction(tr("Copy the table"));
    const QAction* amount = menu.addAction(tr("How much is it?"));
    const QAction* order = menu.addAction(tr("Worst first"));
    const QAction* chosen = menu.exec(tree_->viewport()->mapToGlobal(at));
    if (chosen == nullptr) return;
    if (chosen == copy) copy_table();
    if (chosen == amount) emit amount_wanted();
    if (chosen == order) tree_->sortByColumn(-1, Qt::AscendingOrder);
}

bool SpaceList::eventFilter(QObject* watched, QEvent* event)
{
    if (watched == tree_ && event->type() == QEvent::KeyPress) {
        const auto* key = static_cast<QKeyEvent*>(event);
        if (key->matches(QKeySequence::Copy)) {
            copy_table();
            return true;
        }
        if ((key->key() == Qt::Key_Return || key->key() == Qt::Key_Enter) &&
            tree_->currentIndex().data(SpaceTreeModel::space_id_role).isValid()) {
            emit amount_wanted();
            return true;
        }
    }
    return QWidget::eventFilter(watched, event);
}

} // namespace becalm::desktop
