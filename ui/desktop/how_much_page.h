// Each criterion as a ruler with the value, its uncertainty and the bands; two conditions side by side; what a verdict
// rests on; and by which criteria the survey is judged.
#pragma once

#include <QComboBox>
#include <QLabel>
#include <QTabWidget>
#include <QTextBrowser>

#include "ui/desktop/page.h"

namespace becalm::desktop {

class ComparisonPanel;
class CriteriaPanel;
class RulersColumn;

class HowMuchPage final : public Page {
    Q_OBJECT

public:
    explicit HowMuchPage(Session& session, QWidget* parent = nullptr);

    RulersColumn& rulers() { return *rulers_; }

protected:
    void refresh() override;

private:
    enum class Scope { space, criterion, survey };
    QWidget* make_rulers();
    QWidget* make_side();
    Scope scope() const;
    // Of the scope, worst first.
    std::vector<const Verdict*> verdicts(const Judgement& judgement, const Verdict* chosen) const;
    void copy_table() const;

    QComboBox* scope_;
    QLabel* words_;
    QTabWidget* views_;
    RulersColumn* rulers_;
    ComparisonPanel* comparison_;
    CriteriaPanel* criteria_;
    QTextBrowser* details_;
};

} // namespace becalm::desktop
