#include "ui/desktop/notices.h"

#include <QFrame>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QToolButton>

namespace becalm::desktop {
namespace {

constexpr int most = 4; // older ones go

} // namespace

Notices::Notices(QWidget* parent) : QWidget(parent), column_(new QVBoxLayout(this))
{
    column_->setContentsMargins(0, 0, 0, 0);
    column_->setSpacing(2);
    name_parts();
}

// Sentences stay in the language they were said in.
void Notices::changeEvent(QEvent* event)
{
    QWidget::changeEvent(event);
    if (event->type() == QEvent::LanguageChange) name_parts();
}

void Notices::name_parts()
{
    setAccessibleName(tr("Notices"));
    for (QToolButton* close : findChildren<QToolButton*>()) {
        close->setAccessibleName(tr("Put this notice away"));
        close->setToolTip(tr("Put this notice away"));
    }
}

void Notices::say(const QString& sentence, const QString& key, Answers answers)
{
    put_away(key.isEmpty() ? sentence : key);
    while (column_->count() >= most) delete column_->takeAt(0)->widget();
    auto* notice = new QFrame;
    notice->setFrameShape(QFrame::StyledPanel);
    notice->setObjectName(key.isEmpty() ? sentence : key);
    auto* line = new QHBoxLayout(notice);
    line->setContentsMargins(8, 4, 4, 4);
    auto* words = new QLabel(sentence);
    words->setWordWrap(true);
    words->setTextFormat(Qt::PlainText);
    words->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    words->setAccessibleName(sentence);
    line->addWidget(words, 1);
    for (auto& [name, act] : answers) {
        auto* button = new QPushButton(name);
        connect(button, &QPushButton::clicked, this, [notice, act = std::move(act)] {
            notice->hide();
            notice->deleteLater();
            act();
        });
        line->addWidget(button);
    }
    auto* close = new QToolButton;
    close->setText(QStringLiteral("×"));
    close->setAutoRaise(true);
    connect(close, &QToolButton::clicked, notice, &QObject::deleteLater);
    line->addWidget(close);
    column_->addWidget(notice);
    name_parts();
}

void Notices::put_away(const QString& key)
{
    for (int i = column_->count() - 1; i >= 0; --i)
        if (QWidget* notice = column_->itemAt(i)->widget(); notice != nullptr && notice->objectName() == key) {
            column_->removeWidget(notice);
            notice->hide();
            notice->deleteLater();
        }
}

QStringList Notices::sentences() const
{
    QStringList all;
    for (int i = 0; i < column_->count(); ++i)
        if (const QWidget* notice = column_->itemAt(i)->widget())
            if (const auto* words = notice->findChild<QLabel*>()) all << words->text();
    return all;
}

} // namespace becalm::desktop
