// The first page: open what was measured, go on with what was open, or look at the demo.
#pragma once

#include <QListWidget>
#include <QWidget>

namespace becalm::desktop {

class StartPage final : public QWidget {
    Q_OBJECT

public:
    explicit StartPage(QWidget* parent = nullptr);

    void show_recent(const QStringList& surveys);

signals:
    void folder_wanted();
    void survey_wanted();
    void demo_wanted();
    void open(const QString& survey);

private:
    QListWidget* recent_;
};

} // namespace becalm::desktop
