#include "ui/desktop/start_page.h"

#include <QFileInfo>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "ui/desktop/help_sheet.h"

namespace becalm::desktop {

StartPage::StartPage(QWidget* parent) : QWidget(parent)
{
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(28, 24, 28, 24);
    column->setSpacing(12);
    auto* title = new QLabel(tr("What did you measure?"));
    QFont large = title->font();
    large.setPointSizeF(large.pointSizeF() * 1.8);
    title->setFont(large);
    title->setWordWrap(true);
    column->addWidget(title);
    auto* words = new QLabel(tr("Drop a folder of recordings, recordings or a survey on this window, or begin here. "
                                "A folder without a survey gets one, with guesses that say they are guesses."));
    words->setWordWrap(true);
    column->addWidget(words);
    const auto add = [&](const QString& name, const QString& tip, auto signal) {
        auto* button = new QPushButton(name);
        button->setToolTip(tip);
        button->setMinimumHeight(button->fontMetrics().height() * 2);
        button->setMinimumWidth(std::max(button->fontMetrics().averageCharWidth() * 34,
                                         button->sizeHint().width() + button->fontMetrics().height() / 2));
        button->setSizePolicy(QSizePolicy::Maximum, QSizePolicy::Fixed);
        connect(button, &QPushButton::clicked, this, signal);
        column->addWidget(button);
        return button;
    };
    add(tr("Open a &folder of recordings…"), tr("Uses the survey in it, or begins one"), &StartPage::folder_wanted);
    add(tr("Open a &survey…"), tr("A survey.toml that you have"), &StartPage::survey_wanted);
    add(tr("Look at the &demo"), tr("Writes an invented ferry and its terminal into a folder that you choose"),
        &StartPage::demo_wanted);
    auto* recent_words = new QLabel(tr("&Go on with"));
    column->addWidget(recent_words);
    recent_ = new QListWidget;
    recent_->setAccessibleName(tr("Surveys that were open"));
    recent_->setMaximumWidth(recent_->fontMetrics().averageCharWidth() * 110);
    recent_->setMinimumHeight(recent_->fontMetrics().height() * 4);
    recent_words->setBuddy(recent_);
    connect(recent_, &QListWidget::itemActivated, this,
            [this](const QListWidgetItem* item) { emit open(item->data(Qt::UserRole).toString()); });
    column->addWidget(recent_, 1);
    auto* caution = new QLabel(chief_caution());
    caution->setWordWrap(true);
    column->addWidget(caution);
}

void StartPage::show_recent(const QStringList& surveys)
{
    recent_->clear();
    for (const QString& survey : surveys) {
        auto* item = new QListWidgetItem(survey);
        item->setData(Qt::UserRole, survey);
        if (!QFileInfo::exists(survey)) item->setText(tr("%1 (not there now)").arg(survey));
        recent_->addItem(item);
    }
    if (recent_->count() > 0) recent_->setCurrentRow(0);
    recent_->setEnabled(recent_->count() > 0);
}

} // namespace becalm::desktop
