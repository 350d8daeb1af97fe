#include "ui/desktop/spectrum_controls.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QSignalBlocker>
#include <algorithm>

#include "ui/desktop/words.h"

namespace becalm::desktop {

using figures::SpectrumScale;
using figures::SpectrumValue;

SpectrumControls::SpectrumControls(QWidget* parent) : QWidget(parent)
{
    auto* line = new QHBoxLayout(this);
    line->setContentsMargins(0, 0, 0, 0);
    const auto add = [&](const QString& before, const QString& name) {
        auto* box = new QComboBox;
        box->setAccessibleName(name);
        box->setToolTip(name);
        box->setSizeAdjustPolicy(QComboBox::AdjustToContents);
        if (!before.isEmpty()) {
            auto* label = new QLabel(before);
            label->setBuddy(box);
            line->addWidget(label);
        }
        line->addWidget(box);
        connect(box, qOverload<int>(&QComboBox::currentIndexChanged), this, [this, box] {
            if (box == motion_ || box == value_) fill_units();
            emit changed();
        });
        return box;
    };
    axis_ = add(tr("A&xis"), tr("Axis of the spectrum"));
    motion_ = add(QString(), tr("Motion shown"));
    value_ = add(QString(), tr("Density or amplitude"));
    unit_ = add(tr("in"), tr("Unit"));
    frequency_ = add(tr("over"), tr("Frequency axis"));
    line->addStretch(1);
    const QSignalBlocker quiet(this);
    motion_->addItem(tr("acceleration"), static_cast<int>(Motion::acceleration));
    motion_->addItem(tr("velocity"), static_cast<int>(Motion::velocity));
    motion_->addItem(tr("displacement"), static_cast<int>(Motion::displacement));
    value_->addItem(tr("density"), static_cast<int>(SpectrumValue::density));
    value_->addItem(tr("amplitude, r.m.s."), static_cast<int>(SpectrumValue::amplitude));
    frequency_->addItem(tr("logarithmic Hz"));
    frequency_->addItem(tr("linear Hz"));
    fill_units();
    connect(motion_, qOverload<int>(&QComboBox::activated), this, [this] { motion_chosen_ = true; });
}

void SpectrumControls::fill_units()
{
    const QSignalBlocker quiet(unit_);
    const QVariant before = unit_->currentData();
    figures::SpectrumUnits units = this->units();
    unit_->clear();
    for (const SpectrumScale scale : {SpectrumScale::si, SpectrumScale::thousandths, SpectrumScale::millionths,
                                      SpectrumScale::gravity, SpectrumScale::levels}) {
        if (scale == SpectrumScale::gravity && units.motion != Motion::acceleration) continue;
        units.scale = scale;
        unit_->addItem(shown(figures::unit_words(units)), static_cast<int>(scale));
    }
    const int kept =
        unit_->findData(before.isValid() ? before : QVariant(static_cast<int>(SpectrumScale::thousandths)));
    unit_->setCurrentIndex(std::max(kept, 1));
}

void SpectrumControls::offer(const std::vector<std::string>& axes, Motion motion)
{
    const QSignalBlocker quiet(this);
    const std::string before = axis();
    {
        const QSignalBlocker still(axis_);
        axis_->clear();
        for (const std::string& each : axes) axis_->addItem(shown(each));
        choose_axis(before);
    }
    axis_->setEnabled(axes.size() > 1);
    if (!motion_chosen_) motion_->setCurrentIndex(motion_->findData(static_cast<int>(motion)));
}

void SpectrumControls::choose_axis(const std::string& axis)
{
    const int at = axis_->findText(shown(axis));
    if (at >= 0) axis_->setCurrentIndex(at);
}

std::string SpectrumControls::axis() const { return plain(axis_->currentText()); }

figures::SpectrumUnits SpectrumControls::units() const
{
    const auto scale = unit_->currentData();
    return {.motion = static_cast<Motion>(motion_->currentData().toInt()),
            .value = static_cast<SpectrumValue>(value_->currentData().toInt()),
            .scale = scale.isValid() ? static_cast<SpectrumScale>(scale.toInt()) : SpectrumScale::thousandths};
}

bool SpectrumControls::logarithmic_frequency() const { return frequency_->currentIndex() == 0; }

} // namespace becalm::desktop
