// What is being looked at, as a sentence whose words can be changed: "In cabin 201, on the floor, in service, judged by
// ISO 6954:2000". The same on every page.
#pragma once

#include <QComboBox>
#include <QLabel>
#include <QWidget>

#include "ui/desktop/session.h"

namespace becalm::desktop {

class SubjectLine final : public QWidget {
    Q_OBJECT

public:
    explicit SubjectLine(Session& session, QWidget* parent = nullptr);

private:
    void refresh();
    void chosen();

    Session& session_;
    QComboBox *space_, *position_, *condition_, *criterion_;
    QLabel* verdict_;
    bool filling_ = false;
};

} // namespace becalm::desktop
