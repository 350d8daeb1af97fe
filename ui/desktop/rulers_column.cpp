#include "ui/desktop/rulers_column.h"

#include <QEvent>
#include <algorithm>

#include "ui/desktop/verdict_rulers.h"
#include "ui/desktop/words.h"
#include "ui/figures/builders.h"

namespace becalm::desktop {

RulersColumn::RulersColumn(QWidget* parent) : QScrollArea(parent)
{
    setWidgetResizable(true);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setFrameShape(QFrame::NoFrame);
    setFocusPolicy(Qt::NoFocus);
}

void RulersColumn::show_verdicts(std::shared_ptr<const Judgement> judgement, std::vector<const Verdict*> verdicts,
                                 bool of_one_space)
{
    if (judgement == judgement_ && verdicts == verdicts_ && of_one_space == of_one_space_ && content_ != nullptr)
        return;
    of_one_space_ = of_one_space;
    judgement_ = std::move(judgement);
    verdicts_ = std::move(verdicts);
    rulers_.clear();
    frames_.clear();
    content_ = new QWidget;
    auto* column = new QVBoxLayout(content_);
    column->setContentsMargins(2, 2, 6, 2);
    column->setSpacing(4);
    for (std::size_t i = 0; i < std::min(verdicts_.size(), most); ++i) {
        auto* frame = new QFrame;
        frame->setFrameShape(QFrame::StyledPanel);
        auto* inside = new QVBoxLayout(frame);
        inside->setContentsMargins(6, 4, 6, 4);
        auto* ruler = new FigureView;
        ruler->set_natural_height(true);
        ruler->installEventFilter(this);
        const Verdict* verdict = verdicts_[i];
        const QString words = ruler_words(*judgement_->survey, *verdict);
        ruler->show_figure(
            [input = ruler_input(*verdict, ruler_words(*judgement_->survey, *verdict, !of_one_space))](double width,
                                                                                                       double height) {
                return figures::ruler_figure({.width_px = width, .height_px = height}, {input});
            },
            QStringLiteral("ruler"));
        ruler->setAccessibleName(words);
        connect(ruler, &FigureView::hovered, this, &RulersColumn::hovered);
        connect(ruler, &FigureView::could_not_export, this, &RulersColumn::could_not_export);
        inside->addWidget(ruler);
        column->addWidget(frame);
        rulers_.push_back(ruler);
        frames_.push_back(frame);
    }
    if (verdicts_.size() > most) {
        auto* rest =
            new QLabel(tr("The %1 worst of %2 are shown; the table has them all.").arg(most).arg(verdicts_.size()));
        rest->setWordWrap(true);
        column->addWidget(rest);
    }
    column->addStretch(1);
    setWidget(content_);
}

void RulersColumn::show_chosen(const Verdict* verdict)
{
    for (std::size_t i = 0; i < frames_.size(); ++i) {
        const bool is_chosen = verdicts_[i] == verdict;
        QPalette palette = frames_[i]->parentWidget()->palette();
        frames_[i]->setLineWidth(is_chosen ? 2 : 1);
        frames_[i]->setFrameShape(is_chosen ? QFrame::Box : QFrame::StyledPanel);
        if (is_chosen) palette.setColor(QPalette::WindowText, palette.color(QPalette::Highlight));
        frames_[i]->setPalette(palette);
        rulers_[i]->setPalette(frames_[i]->parentWidget()->palette());
    }
}

bool RulersColumn::eventFilter(QObject* watched, QEvent* event)
{
    if (event->type() == QEvent::MouseButtonPress || event->type() == QEvent::FocusIn) {
        const auto found = std::ranges::find(rulers_, watched);
        if (found != rulers_.end()) {
            const auto number = static_cast<std::size_t>(found - rulers_.begin());
            if (event->type() == QEvent::FocusIn) ensureWidgetVisible(frames_[number], 0, 20);
            emit verdict_chosen(*verdicts_[number]);
        }
    }
    return QScrollArea::eventFilter(watched, event);
}

} // namespace becalm::desktop
