// What a report is to be: its file (the ending says HTML or PDF), a folder with a letterhead, a date. It stands beside
// the window and stops nothing.
#pragma once

#include <QDialog>
#include <QLineEdit>
#include <QPushButton>

namespace becalm::desktop {

class ReportDialog final : public QDialog {
    Q_OBJECT

public:
    ReportDialog(const QString& file, const QString& letterhead, QWidget* parent);

    QString file() const { return file_->text(); }
    QString letterhead() const { return letterhead_->text(); }
    QString date() const { return date_->text().trimmed(); }

signals:
    void wanted(); // then it closes

private:
    QLineEdit *file_, *letterhead_, *date_;
    QPushButton* write_;
};

} // namespace becalm::desktop
