// What a report is to be: its file (the ending says HTML or PDF), its language, a folder with a letterhead, a
// date. It stands beside
// the window and stops nothing.
#pragma once

#include <QComboBox>
#include <QDialog>
#include <QLineEdit>
#include <QPushButton>

namespace becalm::desktop {

class ReportDialog final : public QDialog {
    Q_OBJECT

public:
    ReportDialog(const QString& file, const QString& letterhead, const QString& language, QWidget* parent);

    QString file() const { return file_->text(); }
    QString letterhead() const { return letterhead_->text(); }
    QString language() const { return language_->currentData().toString(); } // its code
    QString date() const { return date_->text().trimmed(); }

signals:
    void wanted(); // then it closes

private:
    QLineEdit *file_, *letterhead_, *date_;
    QComboBox* language_;
    QPushButton* write_;
};

} // namespace becalm::desktop
