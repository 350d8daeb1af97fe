// One line in which a chosen span gets its reason: what is left out of a judgement says why.
#pragma once

#include <QComboBox>
#include <QLineEdit>
#include <QPushButton>
#include <QWidget>
#include <optional>

#include "src/model/span.h"

namespace becalm::desktop {

class SpanEditor final : public QWidget {
    Q_OBJECT

public:
    explicit SpanEditor(QWidget* parent = nullptr);

    void show_span(const TimeSpan& span);
    std::optional<TimeSpan> span() const; // as typed; empty where it is none
    QString reason() const { return reason_->currentText().trimmed(); }
    void ask_for_reason(); // puts the cursor there

signals:
    void leave_out_wanted();
    void event_wanted();
    void span_typed();
    void put_away();

protected:
    void keyPressEvent(QKeyEvent* event) override;

private:
    QLineEdit *from_, *to_;
    QComboBox* reason_;
};

} // namespace becalm::desktop
