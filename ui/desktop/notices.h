// Sentences for the person at the window: what went wrong and what to do, what happened meanwhile. They stay until put
// away, with buttons where there is something to decide; nothing is told in a box that stops the work.
#pragma once

#include <QEvent>
#include <QVBoxLayout>
#include <QWidget>
#include <functional>
#include <utility>
#include <vector>

namespace becalm::desktop {

class Notices final : public QWidget {
    Q_OBJECT

public:
    explicit Notices(QWidget* parent = nullptr);

    using Answers = std::vector<std::pair<QString, std::function<void()>>>;
    // The same sentence twice stands there once. `key`: a later notice with it replaces this one.
    void say(const QString& sentence, const QString& key = {}, Answers answers = {});
    void put_away(const QString& key);
    QStringList sentences() const;

protected:
    void changeEvent(QEvent* event) override;

private:
    void name_parts();

    QVBoxLayout* column_;
};

} // namespace becalm::desktop
