// The survey's sources with their speeds, to be tried and written to the survey.
#pragma once

#include <QLabel>
#include <QPushButton>
#include <QTableWidget>
#include <QWidget>

#include "ui/desktop/source_trial.h"

namespace becalm::desktop {

class SourcesPanel final : public QWidget {
    Q_OBJECT

public:
    explicit SourcesPanel(QWidget* parent = nullptr);

    void show_trial(const SourceTrial& trial);
    void show_source(const std::string& source); // its row

signals:
    void speed_given(const QString& source, double value);
    void not_understood(const QString& why);
    void put_back();
    void write();

private:
    void edited(QTableWidgetItem* item);

    QTableWidget* table_ = nullptr;
    QLabel* words_ = nullptr;
    QPushButton *write_ = nullptr, *put_back_ = nullptr;
    bool filling_ = false;
};

} // namespace becalm::desktop
