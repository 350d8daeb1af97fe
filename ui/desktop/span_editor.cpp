#include "ui/desktop/span_editor.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>

#include "ui/desktop/span_model.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {

SpanEditor::SpanEditor(QWidget* parent) : QWidget(parent)
{
    from_ = new QLineEdit;
    from_->setAccessibleName(tr("Span from, seconds"));
    to_ = new QLineEdit;
    to_->setAccessibleName(tr("Span to, seconds"));
    for (QLineEdit* edit : {from_, to_}) {
        edit->setMaximumWidth(86);
        edit->setAlignment(Qt::AlignRight);
        edit->setToolTip(tr("Seconds from the first sample"));
        connect(edit, &QLineEdit::editingFinished, this, &SpanEditor::span_typed);
    }
    reason_ = new QComboBox;
    reason_->setEditable(true);
    reason_->setAccessibleName(tr("Reason, or name of the event"));
    reason_->addItems({tr("door slam"), tr("footsteps beside the sensor"), tr("sensor knocked"), tr("cable moved"),
                       tr("sensor not yet in place"), tr("machine not in service"), tr("work nearby")});
    reason_->setCurrentIndex(-1);
    reason_->lineEdit()->setPlaceholderText(tr("Why is it left out?"));
    reason_->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    reason_->setMinimumContentsLength(12);
    auto* leave_out = new QPushButton(tr("Leave out"));
    leave_out->setToolTip(tr("Every second that the span touches is left out of the judgement"));
    auto* event = new QPushButton(tr("Is an event"));
    event->setToolTip(tr("Where a recording lists events, they alone are judged, one by one"));
    auto* away = new QPushButton(tr("Never mind"));
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->addWidget(from_);
    row->addWidget(new QLabel(tr("s to")));
    row->addWidget(to_);
    row->addWidget(new QLabel(tr("s")));
    row->addWidget(reason_, 1);
    row->addWidget(leave_out);
    row->addWidget(event);
    row->addWidget(away);
    connect(leave_out, &QPushButton::clicked, this, &SpanEditor::leave_out_wanted);
    connect(event, &QPushButton::clicked, this, &SpanEditor::event_wanted);
    connect(away, &QPushButton::clicked, this, &SpanEditor::put_away);
    connect(reason_->lineEdit(), &QLineEdit::returnPressed, this, &SpanEditor::leave_out_wanted);
}

void SpanEditor::show_span(const TimeSpan& span)
{
    from_->setText(seconds_words(span.from_s));
    to_->setText(seconds_words(span.to_s));
    if (!isVisibleTo(parentWidget())) {
        reason_->setCurrentIndex(-1);
        reason_->clearEditText();
    }
}

std::optional<TimeSpan> SpanEditor::span() const
{
    const auto from = number_in(from_->text()), to = number_in(to_->text());
    if (!from || !to) return std::nullopt;
    return TimeSpan{*from, *to};
}

void SpanEditor::ask_for_reason()
{
    reason_->setFocus();
    reason_->lineEdit()->selectAll();
}

void SpanEditor::keyPressEvent(QKeyEvent* event)
{
    if (event->key() == Qt::Key_Escape)
        emit put_away();
    else
        QWidget::keyPressEvent(event);
}

} // namespace becalm::desktop
