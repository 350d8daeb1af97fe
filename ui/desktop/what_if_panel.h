// What if: changes to be tried, what each is predicted to do, and what would bring the value to the next band.
#pragma once

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTableWidget>
#include <QWidget>
#include <array>
#include <vector>

#include "evaluators/explain.h"

namespace becalm::desktop {

class WhatIfPanel final : public QWidget {
    Q_OBJECT

public:
    explicit WhatIfPanel(QWidget* parent = nullptr);

    void offer(const std::vector<Source>& sources);
    void show_explanation(const Explanation& explanation);
    void clear();

    const std::vector<evaluators::Change>& changes() const { return changes_; }

signals:
    void changes_changed();
    void not_understood(const QString& why);

private:
    struct Field {
        QLabel* words = nullptr;
        QLineEdit* edit = nullptr;
    };
    evaluators::Change::Kind kind() const;
    void show_form();
    void try_it();
    void forget_chosen();

    QComboBox *kind_ = nullptr, *source_ = nullptr;
    QLabel *source_words_ = nullptr, *cures_ = nullptr;
    std::array<Field, 3> fields_;
    QPushButton *try_ = nullptr, *forget_ = nullptr;
    QTableWidget* answers_ = nullptr;
    std::vector<evaluators::Change> changes_;
};

// "Shaft: needs 6.2 dB less": the words of a cure.
QString cure_words(const Cure& cure, const Explanation& explanation);

} // namespace becalm::desktop
