// Rulers below each other, one for each verdict. A click, or the focus, chooses the verdict.
#pragma once

#include <QFrame>
#include <QLabel>
#include <QScrollArea>
#include <QVBoxLayout>
#include <memory>
#include <vector>

#include "ui/desktop/figure_view.h"
#include "ui/desktop/session.h"

namespace becalm::desktop {

class RulersColumn final : public QScrollArea {
    Q_OBJECT

public:
    static constexpr std::size_t most = 60; // more are not read one by one; the rest is said

    explicit RulersColumn(QWidget* parent = nullptr);

    // `verdicts` point into `judgement`. Of one space, its name does not stand above each.
    void show_verdicts(std::shared_ptr<const Judgement> judgement, std::vector<const Verdict*> verdicts,
                       bool of_one_space);
    void show_chosen(const Verdict* verdict);
    const std::vector<const Verdict*>& verdicts() const { return verdicts_; }
    FigureView* ruler(std::size_t number) const { return number < rulers_.size() ? rulers_[number] : nullptr; }

signals:
    void verdict_chosen(const Verdict& verdict);
    void hovered(const QString& words);
    void could_not_export(const QString& why);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    std::shared_ptr<const Judgement> judgement_;
    std::vector<const Verdict*> verdicts_;
    std::vector<FigureView*> rulers_;
    std::vector<QFrame*> frames_;
    QWidget* content_ = nullptr;
    bool of_one_space_ = false;
};

} // namespace becalm::desktop
