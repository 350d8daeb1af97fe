// Spectra in other units, and what lies under a cursor. Expected values are computed from the definitions.
#include <cmath>
#include <numbers>

#include <gmock/gmock.h>

#include "filters/welch.h"
#include "ui/figures/reading.h"
#include "ui/figures/spectrum_units.h"

namespace becalm::figures {
namespace {

using testing::Contains;
using testing::HasSubstr;

// A tone of 20 mm/s² r.m.s. at 10 Hz, as Welch's method shows it: 2/3 of its mean square in its bin, 1/6 in each
// neighbour (periodic Hann window).
struct Tone {
    ExplainedSpectrum spectrum = {.axis = "z", .weighting = "Wm", .unit = "m/s2", .resolution_hz = 0.25};
    Explanation explanation = {};
    Tone()
    {
        spectrum.density.assign(400, 1e-12);
        const double mean_square = 0.02 * 0.02;
        spectrum.density[40] = mean_square * 2.0 / 3.0 / 0.25;
        spectrum.density[39] = spectrum.density[41] = mean_square / 6.0 / 0.25;
        explanation.bands.push_back({"z", 10.0, 0.02, 1.0});
        spectrum.rows = {{0.0, 8.0, 1, std::vector<float>(spectrum.density.begin(), spectrum.density.end())},
                         {8.0, 16.0, 1, std::vector<float>(spectrum.density.begin(), spectrum.density.end())}};
    }
    double at_ten(const SpectrumUnits& units) const
    {
        const auto input = in_units(weighted_spectrum(explanation, spectrum), spectrum, units);
        return input.traces[0].values[40] * input.shown.shown_per_unit;
    }
};

TEST(SpectrumUnits, TheWindowOfWelchSpreadsAToneAsTheAmplitudeTakesIt)
{
    filters::Welch welch(100.0, 400);
    std::vector<double> signal;
    for (int i = 0; i < 4000; ++i)
        signal.push_back(0.02 * std::numbers::sqrt2 * std::sin(2.0 * std::numbers::pi * 10.0 * i / 100.0));
    welch.add(signal);
    EXPECT_NEAR(std::sqrt(1.5 * welch.density()[40] * welch.resolution_hz()), 0.02, 1e-9);
}

TEST(SpectrumUnits, ShowAToneAsItsRmsValueInEveryMotionAndUnit)
{
    const Tone tone;
    const double w = 2.0 * std::numbers::pi * 10.0;
    using enum SpectrumScale;
    const auto amplitude = [&](Motion motion, SpectrumScale scale) {
        return tone.at_ten({motion, SpectrumValue::amplitude, scale});
    };
    EXPECT_NEAR(amplitude(Motion::acceleration, si), 0.02, 1e-12);
    EXPECT_NEAR(amplitude(Motion::acceleration, thousandths), 20.0, 1e-9);
    EXPECT_NEAR(amplitude(Motion::acceleration, gravity), 20.0 / 9.80665, 1e-9);
    EXPECT_NEAR(amplitude(Motion::acceleration, levels), 20.0 * std::log10(0.02 / 1e-6), 1e-9);
    EXPECT_NEAR(amplitude(Motion::velocity, thousandths), 20.0 / w, 1e-9);
    EXPECT_NEAR(amplitude(Motion::velocity, levels), 20.0 * std::log10(0.02 / w / 1e-9), 1e-9);
    EXPECT_NEAR(amplitude(Motion::displacement, millionths), 2e4 / (w * w), 1e-9);
    EXPECT_NEAR(tone.at_ten({Motion::velocity, SpectrumValue::density, thousandths}),
                400.0 * 2.0 / 3.0 / 0.25 / (w * w), 1e-9);
    EXPECT_NEAR(tone.at_ten({Motion::acceleration, SpectrumValue::density, levels}),
                10.0 * std::log10(4e-4 * 2.0 / 3.0 / 0.25 / 1e-12), 1e-9);
    EXPECT_EQ(unit_words({Motion::acceleration, SpectrumValue::density, gravity}), "mg²/Hz");
    EXPECT_EQ(unit_words({Motion::velocity, SpectrumValue::density, thousandths}), "(mm/s)²/Hz");
    EXPECT_EQ(unit_words({Motion::displacement, SpectrumValue::amplitude, levels}), "dB re 1 pm");
}

TEST(SpectrumUnits, LeaveOutWhatIntegrationWouldMakeOfNoiseAndSayFromWhereOn)
{
    const Tone tone;
    const SpectrumUnits velocity{.motion = Motion::velocity};
    EXPECT_EQ(lower_limit_hz(tone.spectrum, {}), 0.0);
    EXPECT_EQ(lower_limit_hz(tone.spectrum, velocity), 1.0); // four bins
    const auto input = in_units(weighted_spectrum(tone.explanation, tone.spectrum), tone.spectrum, velocity);
    EXPECT_TRUE(std::isnan(input.traces[0].values[3]));
    EXPECT_FALSE(std::isnan(input.traces[0].values[4]));
    EXPECT_THAT(input.heading.notes, Contains(HasSubstr("below 1 Hz left out")));
}

TEST(SpectrumUnits, ABandOfAToneIsTheToneInAnyMotion)
{
    Tone tone;
    const auto bands = [&](Motion motion) {
        const auto input = in_units(weighted_bands(tone.explanation, tone.spectrum), tone.spectrum,
                                    {.motion = motion, .scale = SpectrumScale::si});
        return input.traces[0].values[0];
    };
    EXPECT_EQ(bands(Motion::acceleration), 0.02);                                 // the core's own number
    EXPECT_NEAR(bands(Motion::velocity), 0.02 / (20.0 * std::numbers::pi), 2e-6); // bins beside 10 Hz count a little
    tone.spectrum.unit = "m/s";
    EXPECT_NEAR(bands(Motion::acceleration), 0.02 * 20.0 * std::numbers::pi, 2e-3);
}

TEST(SpectrumUnits, ReachTheColoursOfASpectrogram)
{
    const Tone tone;
    const auto input = in_units(weighted_spectrogram(tone.explanation, tone.spectrum), tone.spectrum,
                                {Motion::acceleration, SpectrumValue::amplitude, SpectrumScale::levels});
    EXPECT_NEAR(input.rows[1].values[40], 20.0 * std::log10(0.02 / 1e-6), 1e-4);
    EXPECT_FALSE(input.logarithmic);
}

TEST(Reading, TellsTheCurveAtTheFrequencyUnderTheCursor)
{
    Plot plot;
    plot.series.push_back({.x = {.first = 0.5, .step = 0.5}, .values = {1.0, 2.0, 3.0}});
    EXPECT_EQ(curve_value(plot, 0.9), 2.0);
    EXPECT_EQ(curve_value(plot, 0.7), 1.0);
    EXPECT_EQ(curve_value(plot, 1.9), 3.0);
    EXPECT_FALSE(curve_value(plot, 2.6));
    EXPECT_FALSE(curve_value(plot, -0.1));
    plot.series = {{.form = SeriesForm::bars, .x = {.listed = {1.0, 2.0, 4.0}}, .values = {5.0, 6.0}}};
    EXPECT_EQ(curve_value(plot, 1.0), 5.0);
    EXPECT_EQ(curve_value(plot, 1.99), 5.0);
    EXPECT_EQ(curve_value(plot, 2.0), 6.0);
    EXPECT_EQ(curve_value(plot, 4.0), 6.0);
    EXPECT_FALSE(curve_value(plot, 4.1));
    plot.series = {};
    EXPECT_FALSE(curve_value(plot, 1.0));
}

TEST(Reading, TellsTheCellUnderTheCursor)
{
    Plot plot;
    plot.heat = HeatMap{.x_edges = {0.0, 1.0, 3.0}, .y_edges = {10.0, 20.0, 30.0}, .values = {1, 2, 3, 4}};
    EXPECT_EQ(cell_value(plot, 0.5, 25.0), 3.0);
    EXPECT_EQ(cell_value(plot, 3.0, 30.0), 4.0);
    EXPECT_FALSE(cell_value(plot, 3.5, 25.0));
    EXPECT_FALSE(cell_value(plot, 0.5, 5.0));
}

} // namespace
} // namespace becalm::figures
