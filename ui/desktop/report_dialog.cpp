#include "ui/desktop/report_dialog.h"

#include <QDialogButtonBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QVBoxLayout>
#include <algorithm>

#include "ui/desktop/look.h"

namespace becalm::desktop {

ReportDialog::ReportDialog(const QString& file, const QString& letterhead, const QString& language, QWidget* parent)
    : QDialog(parent)
{
    setWindowTitle(tr("Report"));
    setAttribute(Qt::WA_DeleteOnClose);
    auto* column = new QVBoxLayout(this);
    auto* about = new QLabel(tr("The judgement as a document with figures, causes and cures, uncertainty, and an "
                                "appendix from which every value can be computed again. The survey is judged anew "
                                "from its recordings."));
    about->setWordWrap(true);
    column->addWidget(about);
    auto* form = new QFormLayout;
    form->setRowWrapPolicy(QFormLayout::WrapLongRows);
    column->addLayout(form);

    // A field with a way to the file chooser of the system.
    const auto field = [&](const QString& words, const QString& name, const QString& text, const QString& button,
                           const QString& button_name, auto choose) {
        auto* line = new QLineEdit(text);
        line->setAccessibleName(name);
        line->setMinimumWidth(line->fontMetrics().averageCharWidth() * 44);
        auto* row = new QHBoxLayout;
        row->addWidget(line, 1);
        if (!button.isEmpty()) {
            auto* chooser = new QPushButton(button);
            chooser->setAccessibleName(button_name);
            chooser->setAutoDefault(false);
            connect(chooser, &QPushButton::clicked, this, [line, choose] {
                if (const QString chosen = choose(line->text()); !chosen.isEmpty()) line->setText(chosen);
            });
            row->addWidget(chooser);
        }
        auto* label = new QLabel(words);
        label->setBuddy(line);
        form->addRow(label, row);
        return line;
    };
    file_ = field(tr("&File"), tr("File of the report"), file, tr("Choose…"), tr("Choose the file of the report"),
                  [this](const QString& now) {
                      return QFileDialog::getSaveFileName(this, tr("Write the report to"), now,
                                                          tr("Page for a browser (*.html)") + QStringLiteral(";;") +
                                                              tr("Pages to print (*.pdf)"),
                                                          nullptr, QFileDialog::DontConfirmOverwrite);
                  });
    file_->setToolTip(tr("A name that ends with .pdf makes a PDF, any other one HTML file that stands by itself"));
    language_ = new QComboBox;
    language_->setAccessibleName(tr("Language of the report"));
    for (const Language& one : languages()) language_->addItem(one.name, one.code);
    language_->setCurrentIndex(std::max(0, language_->findData(language)));
    auto* language_words = new QLabel(tr("La&nguage"));
    language_words->setBuddy(language_);
    form->addRow(language_words, language_);
    letterhead_ = field(tr("&Letterhead"), tr("Folder of the letterhead"), letterhead, tr("Choose…"),
                        tr("Choose the folder of the letterhead"), [this](const QString& now) {
                            return QFileDialog::getExistingDirectory(this, tr("Folder of the letterhead"), now);
                        });
    letterhead_->setToolTip(tr("A folder with logo.svg or logo.png, header.txt and closing.txt; may be empty"));
    letterhead_->setPlaceholderText(tr("none"));
    date_ = field(tr("&Date"), tr("Date of the report"), {}, {}, {}, [](const QString&) { return QString(); });
    date_->setToolTip(tr("As 2026-03-14; empty: the day of the latest recording"));
    date_->setPlaceholderText(tr("that of the latest recording"));

    auto* buttons = new QDialogButtonBox;
    write_ = buttons->addButton(tr("&Write"), QDialogButtonBox::AcceptRole);
    write_->setDefault(true);
    buttons->addButton(tr("&Cancel"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    const auto follow = [this] { write_->setEnabled(!file_->text().trimmed().isEmpty()); };
    connect(file_, &QLineEdit::textChanged, this, follow);
    follow();
    connect(buttons, &QDialogButtonBox::accepted, this, [this] {
        emit wanted();
        accept();
    });
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    file_->setFocus();
    file_->selectAll();
}

} // namespace becalm::desktop
