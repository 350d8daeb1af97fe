// Sheets of the Help menu, shown in the window's own place for pages: the keys, and what this program is.
#pragma once

#include <QTextBrowser>
#include <QWidget>
#include <utility>
#include <vector>

namespace becalm::desktop {

// What stands on the first page as well: what a judgement is not, and what goes before it.
QString chief_caution();

class HelpSheet final : public QWidget {
    Q_OBJECT

public:
    explicit HelpSheet(QWidget* parent = nullptr);

    // Keys with what they do, by menu or place. The window knows its own; those of figures and lists are added here.
    using Keys = std::vector<std::pair<QString, std::vector<std::pair<QString, QString>>>>;
    void show_keys(const Keys& keys);
    void show_about();

signals:
    void done();

private:
    void show_text(const QString& title, const QString& html);

    QTextBrowser* text_;
};

} // namespace becalm::desktop
