// What is shown of a spectrum, and in which units: axis, motion, density or amplitude, unit, frequency axis.
#pragma once

#include <QComboBox>
#include <QWidget>
#include <string>
#include <vector>

#include "ui/figures/spectrum_units.h"

namespace becalm::desktop {

class SpectrumControls final : public QWidget {
    Q_OBJECT

public:
    explicit SpectrumControls(QWidget* parent = nullptr);

    // Of a new explanation. The chosen axis and motion stay where they are still there; else the first axis, and the
    // motion that the spectrum is of.
    void offer(const std::vector<std::string>& axes, Motion motion);
    void choose_axis(const std::string& axis);

    std::string axis() const;
    figures::SpectrumUnits units() const;
    bool logarithmic_frequency() const;

signals:
    void changed();

private:
    void fill_units();

    QComboBox *axis_ = nullptr, *motion_ = nullptr, *value_ = nullptr, *unit_ = nullptr, *frequency_ = nullptr;
    bool motion_chosen_ = false; // by the person
};

} // namespace becalm::desktop
