#include "ui/figures/spectrum_units.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include <fmt/format.h>

#include "filters/welch.h"

namespace becalm::figures {
namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double hann_bins = 3.0 / 2.0;  // that a tone is spread over
constexpr double shown_decibels = 80.0;  // not a limit: below the highest level
constexpr double least_integrated = 0.5; // not a limit: Hz

// Of the SI value of one derivative: what the number shown is times.
double per_si(const SpectrumUnits& units)
{
    switch (units.scale) {
    case SpectrumScale::si:
    case SpectrumScale::levels: return 1.0;
    case SpectrumScale::gravity:
        if (units.motion == Motion::acceleration) return 1e3 / standard_gravity;
        [[fallthrough]];
    case SpectrumScale::thousandths: return 1e3;
    case SpectrumScale::millionths: return 1e6;
    }
    return 1.0;
}

std::string unit_of_values(const SpectrumUnits& units)
{
    const std::string si = pretty_unit(si_unit_of(units.motion));
    switch (units.scale) {
    case SpectrumScale::si: return si;
    case SpectrumScale::levels: return "dB";
    case SpectrumScale::gravity:
        if (units.motion == Motion::acceleration) return "mg";
        [[fallthrough]];
    case SpectrumScale::thousandths: return "m" + si;
    case SpectrumScale::millionths: return "µ" + si;
    }
    return si;
}

// SI, and its words.
std::pair<double, std::string> reference(Motion motion)
{
    switch (motion) {
    case Motion::acceleration: return {1e-6, "1 µm/s²"};
    case Motion::velocity: return {1e-9, "1 nm/s"};
    case Motion::displacement: return {1e-12, "1 pm"};
    }
    return {1.0, ""};
}

Numbers numbers(const SpectrumUnits& units)
{
    const std::string unit = unit_of_values(units);
    if (units.scale == SpectrumScale::levels) return {.unit = unit};
    if (units.value == SpectrumValue::amplitude) return {.unit = unit, .shown_per_unit = per_si(units)};
    const bool simple = unit.find('/') == std::string::npos;
    return {.unit = simple ? unit + "²/Hz" : "(" + unit + ")²/Hz", .shown_per_unit = per_si(units) * per_si(units)};
}

std::string quantity(const SpectrumUnits& units, const std::string& of_value)
{
    std::string words = "weighted " + std::string(name_of(units.motion)) + of_value;
    if (units.scale == SpectrumScale::levels) {
        const std::string re = reference(units.motion).second;
        words += units.value == SpectrumValue::density ? ", re (" + re + ")²/Hz" : ", re " + re;
    }
    return words;
}

// From a density of the weighted motion at a frequency to what is shown, still in SI or as a level.
class Conversion {
public:
    Conversion(const ExplainedSpectrum& spectrum, const SpectrumUnits& units)
        : units_(units), power_(derivative_order(motion_of(spectrum)) - derivative_order(units.motion)),
          resolution_hz_(spectrum.resolution_hz), least_hz_(lower_limit_hz(spectrum, units))
    {
    }

    // Of an r.m.s. value. 0 Hz is left out with what is under the limit.
    double rms(double value, double hz) const
    {
        if (power_ != 0 && !(hz > 0.0 && hz >= least_hz_)) return not_a_number;
        return as_shown(value * std::pow(2.0 * std::numbers::pi * hz, power_));
    }

    double density(double value, double hz) const
    {
        if (units_.value == SpectrumValue::amplitude) return rms(std::sqrt(hann_bins * value * resolution_hz_), hz);
        if (power_ != 0 && !(hz > 0.0 && hz >= least_hz_)) return not_a_number;
        const double root = std::sqrt(value) * std::pow(2.0 * std::numbers::pi * hz, power_);
        return units_.scale == SpectrumScale::levels ? as_shown(root) : root * root;
    }

    // A band from the bins in it.
    double band(const ExplainedSpectrum& spectrum, double from_hz, double to_hz) const
    {
        if (power_ != 0 && from_hz < least_hz_) return not_a_number;
        std::vector<double> densities(spectrum.density.size(), 0.0);
        for (std::size_t k = 1; k < densities.size(); ++k)
            densities[k] =
                spectrum.density[k] *
                std::pow(2.0 * std::numbers::pi * static_cast<double>(k) * spectrum.resolution_hz, 2 * power_);
        return as_shown(filters::band_rms(densities, spectrum.resolution_hz, from_hz, to_hz));
    }

    bool changes_motion() const { return power_ != 0; }

    void tell(std::vector<std::string>& notes) const
    {
        if (power_ < 0)
            notes.push_back(fmt::format("{} from its derivative, bin by bin over {}; below {:.3g} Hz left out, where "
                                        "it would be the sensor's noise",
                                        name_of(units_.motion), power_ == -1 ? "2πf" : "(2πf)²", least_hz_));
        if (power_ > 0)
            notes.push_back(fmt::format("{} from what was recorded, bin by bin times {}", name_of(units_.motion),
                                        power_ == 1 ? "2πf" : "(2πf)²"));
    }

private:
    double as_shown(double rms) const
    {
        if (units_.scale != SpectrumScale::levels) return rms;
        return rms > 0.0 ? 20.0 * std::log10(rms / reference(units_.motion).first) : not_a_number;
    }

    SpectrumUnits units_;
    int power_;
    double resolution_hz_, least_hz_;
};

void take_levels(std::optional<double>& from_value, bool& logarithmic, const SpectrumUnits& units, double highest)
{
    if (units.scale != SpectrumScale::levels) return;
    logarithmic = false;
    if (std::isfinite(highest)) from_value = 10.0 * std::floor((highest - shown_decibels) / 10.0);
}

} // namespace

Motion motion_of(const ExplainedSpectrum& spectrum)
{
    const auto unit = unit_named(spectrum.unit);
    return unit ? unit->motion : Motion::acceleration;
}

double lower_limit_hz(const ExplainedSpectrum& spectrum, const SpectrumUnits& units)
{
    if (derivative_order(units.motion) <= derivative_order(motion_of(spectrum))) return 0.0;
    return std::max(least_integrated, 4.0 * spectrum.resolution_hz);
}

std::string unit_words(const SpectrumUnits& units)
{
    return units.scale == SpectrumScale::levels ? "dB re " + reference(units.motion).second : numbers(units).unit;
}

SpectrumInput in_units(SpectrumInput input, const ExplainedSpectrum& spectrum, const SpectrumUnits& units)
{
    const Conversion conversion(spectrum, units);
    double highest = -std::numeric_limits<double>::infinity();
    for (SpectrumTrace& trace : input.traces)
        for (auto* values : {&trace.values, &trace.least, &trace.greatest})
            for (std::size_t k = 0; k < values->size(); ++k) {
                const double hz = static_cast<double>(k) * input.resolution_hz;
                (*values)[k] = conversion.density((*values)[k], hz);
                if (hz >= input.from_hz && hz <= input.to_hz && (*values)[k] > highest) highest = (*values)[k];
            }
    for (FrequencyCurve& shape : input.shapes)
        for (std::size_t i = 0; i < std::min(shape.hz.size(), shape.values.size()); ++i)
            shape.values[i] = conversion.density(shape.values[i], shape.hz[i]);
    input.shown = numbers(units);
    input.quantity = quantity(units, units.value == SpectrumValue::density ? " density" : ", r.m.s. of a tone");
    take_levels(input.from_value, input.logarithmic, units, highest);
    conversion.tell(input.heading.notes);
    return input;
}

ThirdOctaveInput in_units(ThirdOctaveInput input, const ExplainedSpectrum& spectrum, SpectrumUnits units)
{
    units.value = SpectrumValue::amplitude;
    const Conversion conversion(spectrum, units);
    double highest = -std::numeric_limits<double>::infinity();
    for (BandTrace& trace : input.traces)
        for (std::size_t i = 0; i < std::min(trace.hz.size(), trace.values.size()); ++i) {
            const auto edges = filters::third_octave(static_cast<int>(std::lround(10.0 * std::log10(trace.hz[i]))));
            trace.values[i] = conversion.changes_motion() ? conversion.band(spectrum, edges.from_hz, edges.to_hz)
                                                          : conversion.rms(trace.values[i], trace.hz[i]);
            if (trace.values[i] > highest) highest = trace.values[i];
        }
    for (FrequencyCurve& limit : input.limits)
        for (std::size_t i = 0; i < std::min(limit.hz.size(), limit.values.size()); ++i)
            limit.values[i] = conversion.rms(limit.values[i], limit.hz[i]);
    input.shown = numbers(units);
    input.quantity = quantity(units, ", r.m.s.");
    take_levels(input.from_value, input.logarithmic, units, highest);
    conversion.tell(input.heading.notes);
    return input;
}

SpectrogramInput in_units(SpectrogramInput input, const ExplainedSpectrum& spectrum, const SpectrumUnits& units)
{
    const Conversion conversion(spectrum, units);
    double highest = -std::numeric_limits<double>::infinity();
    for (SpectrogramRow& row : input.rows)
        for (std::size_t k = 0; k < row.values.size(); ++k) {
            const double hz = static_cast<double>(k) * input.resolution_hz;
            const double value = conversion.density(static_cast<double>(row.values[k]), hz);
            row.values[k] = static_cast<float>(value);
            if (hz >= input.from_hz && hz <= input.to_hz && value > highest) highest = value;
        }
    input.shown = numbers(units);
    input.quantity = quantity(units, units.value == SpectrumValue::density ? " density" : ", r.m.s. of a tone");
    take_levels(input.from_value, input.logarithmic, units, highest);
    conversion.tell(input.heading.notes);
    return input;
}

} // namespace becalm::figures
