// Vessels, rail vehicles and lifts: the procedures on constructed arguments, the bands of their documents. Each row
// names where its value comes from.
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <rapidcheck/gtest.h>

#include "evaluators/classify.h"
#include "evaluators/combine.h"
#include "evaluators/curve.h"
#include "evaluators/en12299.h"
#include "evaluators/en12299_curve_transition.h"
#include "evaluators/en12299_discrete_event.h"
#include "evaluators/iso18738.h"
#include "evaluators/iso6954_1984.h"
#include "evaluators/quantity.h"
#include "evaluators/recorded_spectrum.h"
#include "evaluators/ride_index.h"
#include "filters/weighting.h"
#include "filters/welch.h"

#include "tests/evaluators/case.h"

namespace becalm::evaluators {
namespace {

using testing::Contains;
using testing::HasSubstr;
using namespace tests;

constexpr double pi = std::numbers::pi;

std::string band_of(const std::string& criterion, double value, const std::string& use = "any")
{
    const Scale* scale = scale_for(shipped(criterion), use);
    if (scale == nullptr) return "none";
    return scale->bands.at(classify(value, scale->bands).band).name;
}

// What the criterion hands to its quantity.
QuantityArguments arguments_of(const std::string& criterion, Axis axis)
{
    const Criterion& known = shipped(criterion);
    QuantityArguments arguments{.axis = axis, .parameters = known.parameters};
    if (const auto curve = known.curves.find(axis); curve != known.curves.end()) arguments.curve = curve->second;
    return arguments;
}

QuantityResult evaluated(const std::string& criterion, const QuantityArguments& arguments)
{
    return quantity_named(shipped(criterion).quantity)->evaluate(arguments);
}

// --- spectra of a signal, one row for all of it ---

ChannelSpectra spectra_of(const Signal& signal, double rate_hz, double resolution_hz = 0.25)
{
    filters::Welch welch(rate_hz, static_cast<std::size_t>(std::llround(rate_hz / resolution_hz)));
    welch.add(signal);
    const std::vector<double> density = welch.density();
    SpectralRow row{.to_s = static_cast<double>(signal.size()) / rate_hz,
                    .segments = static_cast<std::uint32_t>(welch.segments())};
    for (const double value : density) row.density.push_back(static_cast<float>(value));
    return {.resolution_hz = resolution_hz, .rate_hz = rate_hz, .rows = {row}};
}

Signal sum(Signal a, const Signal& b)
{
    for (std::size_t i = 0; i < a.size(); ++i) a[i] += b[i];
    return a;
}

constexpr double rate = 256.0;
constexpr double minutes = 120.0; // s

// Noise of that greatest value.
Signal broad_noise(double amplitude, std::uint64_t seed)
{
    Signal signal = noise(static_cast<std::size_t>(minutes * rate), seed);
    for (double& value : signal) value *= amplitude;
    return signal;
}

// A faint floor, as every sensor has one: a line stands out of something.
Signal tones(const std::vector<std::pair<double, double>>& amplitude_and_hz, double floor = 1e-6)
{
    Signal signal = broad_noise(floor, 7);
    for (const auto& [amplitude, hz] : amplitude_and_hz) signal = sum(signal, sine(amplitude, hz, rate, minutes));
    return signal;
}

QuantityResult judged(const std::string& criterion, Axis axis, const std::vector<ChannelSpectra>& spectra,
                      Motion motion = Motion::acceleration)
{
    QuantityArguments arguments = arguments_of(criterion, axis);
    arguments.motion = motion;
    for (const ChannelSpectra& one : spectra) arguments.spectra.push_back({&one, {TimeSpan{}}});
    return evaluated(criterion, arguments);
}

// A series of 0.05 s means of a function of time.
template <class Function>
MotionSeries motion_of(double duration_s, Function function)
{
    MotionSeries series;
    const auto bins = std::llround(duration_s / series.bin_s);
    for (long long k = 0; k < bins; ++k) {
        const auto value = static_cast<float>(function((static_cast<double>(k) + 0.5) * series.bin_s));
        series.bins.push_back({value, value, value});
    }
    return series;
}

// --- components ---

TEST(Components, OfALineInTheClear)
{
    // r.m.s. amplitude / sqrt(2), wherever between two bins it lies (computed from the definition).
    for (const double hz : {7.0, 7.031, 7.1, 7.125, 40.2}) {
        const ChannelSpectra spectra = spectra_of(tones({{0.2, hz}}), rate);
        const RecordedSpectrum spectrum{mean_density(spectra, std::vector<TimeSpan>{{}}), 0.25, rate};
        const auto found = components_as(Motion::acceleration, spectrum, Motion::acceleration, 1.0, 100.0);
        ASSERT_FALSE(found.empty());
        EXPECT_NEAR(found[0].hz, hz, 0.005);
        EXPECT_NEAR(found[0].rms, 0.2 / std::numbers::sqrt2, 2e-3 * 0.2) << hz;
        EXPECT_TRUE(found.size() == 1 || found[1].rms < 1e-4);
    }
}

TEST(Components, OfAMachineWhoseSpeedWandersKeepTheirEnergy)
{
    // A 40 Hz tone whose frequency wanders by 0.2 Hz within 30 s: over bins of 1/16 Hz its greatest bin holds a part
    // only, the component all of it (computed from the definition).
    Signal signal = broad_noise(1e-4, 3);
    double phase = 0.0;
    for (std::size_t i = 0; i < signal.size(); ++i) {
        phase += 2.0 * pi * (40.0 + 0.2 * std::sin(2.0 * pi * static_cast<double>(i) / rate / 30.0)) / rate;
        signal[i] += 0.1 * std::sin(phase);
    }
    const ChannelSpectra spectra = spectra_of(signal, rate, 0.0625);
    const RecordedSpectrum spectrum{mean_density(spectra, std::vector<TimeSpan>{{}}), 0.0625, rate};
    const auto found = components_as(Motion::acceleration, spectrum, Motion::acceleration, 1.0, 100.0);
    ASSERT_FALSE(found.empty());
    EXPECT_NEAR(found[0].rms, 0.1 / std::numbers::sqrt2, 0.02 * 0.1);
    EXPECT_LT(filters::spectral_lines(spectrum.density, 0.0625)[0].rms, 0.9 * found[0].rms);
    EXPECT_TRUE(found.size() == 1 || found[1].rms < 0.05 * found[0].rms) << found[1].hz;
}

// --- ISO 6954:1984 ---

TEST(Curves, AreStraightOnLogarithmicAxes)
{
    // From 1 Hz, 5 to 5 Hz, 1 a constant acceleration is told as a velocity: 1/f, so 2.5 at 2 Hz (computed from the
    // definition).
    const std::vector<CurvePoint> curve{{1.0, 5.0}, {5.0, 1.0}, {100.0, 1.0}};
    EXPECT_NEAR(curve_at(curve, 1.0), 5.0, 1e-12);
    EXPECT_NEAR(curve_at(curve, 2.0), 2.5, 1e-12);
    EXPECT_NEAR(curve_at(curve, 5.0), 1.0, 1e-12);
    EXPECT_NEAR(curve_at(curve, 30.0), 1.0, 1e-12);
    EXPECT_NEAR(curve_at(curve, 0.5), 5.0, 1e-12);
    EXPECT_NEAR(curve_at(curve, 200.0), 1.0, 1e-12);
}

TEST(Iso6954Of1984, ALineAboveFiveHertzHasItsPeakVelocity)
{
    // 7 Hz, 3 mm/s amplitude: r.m.s. 2.1213 mm/s, times 1.8 is 3.818 mm/s (computed from the definition).
    const auto value = judged("iso6954-1984", Axis::z, {spectra_of(tones({{3e-3, 7.0}}), rate)}, Motion::velocity);
    ASSERT_TRUE(value) << to_text(value.error());
    EXPECT_NEAR(value->value, 3.818e-3, 0.005e-3);
    EXPECT_THAT(value->notes, Contains(HasSubstr("axis z: component of 7.00 Hz, r.m.s. 2.121 mm/s, peak 3.818 mm/s")));
    EXPECT_EQ(band_of("iso6954-1984", value->value), "adverse comments not probable");
}

TEST(Iso6954Of1984, AccelerationVelocityAndDisplacementOfOneMotionAgree)
{
    const double w = 2.0 * pi * 11.0, v = 5e-3; // m/s
    const auto from = [&](double amplitude, Motion motion) {
        return judged("iso6954-1984", Axis::z, {spectra_of(tones({{amplitude, 11.0}}, amplitude * 1e-4), rate)}, motion)
            ->value;
    };
    const double expected = 1.8 * v / std::numbers::sqrt2; // computed from the definition
    EXPECT_NEAR(from(v * w, Motion::acceleration), expected, 2e-3 * expected);
    EXPECT_NEAR(from(v, Motion::velocity), expected, 2e-3 * expected);
    EXPECT_NEAR(from(v / w, Motion::displacement), expected, 2e-3 * expected);
}

TEST(Iso6954Of1984, BelowFiveHertzTheLinesAreOfConstantAcceleration)
{
    // 283 and 126 mm/s2 peak meet 9 and 4 mm/s at 5 Hz (from memory; computed: 2 pi 5 9 = 282.7 and 2 pi 5 4 = 125.7).
    for (const double hz : {1.5, 2.0, 3.0, 4.0}) {
        const double on_the_line = 2.0 * pi * 5.0 * 9e-3 / (1.8 / std::numbers::sqrt2); // amplitude, m/s2
        const auto value = judged("iso6954-1984", Axis::z, {spectra_of(tones({{on_the_line, hz}}), rate)});
        ASSERT_TRUE(value) << to_text(value.error());
        EXPECT_NEAR(value->value, 9e-3, 0.01 * 9e-3) << hz;
    }
}

TEST(Iso6954Of1984, TheGreatestOfSeveralComponentsAndRecordingsCounts)
{
    const ChannelSpectra quiet = spectra_of(tones({{1e-3, 7.0}, {2e-3, 14.0}}), rate);
    const ChannelSpectra loud = spectra_of(tones({{1e-3, 7.0}, {2.5e-3, 21.0}}), rate);
    const auto value = judged("iso6954-1984", Axis::x, {quiet, loud}, Motion::velocity);
    EXPECT_NEAR(value->value, 1.8 * 2.5e-3 / std::numbers::sqrt2, 0.01e-3); // computed from the definition
    EXPECT_THAT(value->notes, Contains(HasSubstr("axis x: component of 21.00 Hz")));
}

TEST(Iso6954Of1984, TheConversionFactorIsStated)
{
    QuantityArguments arguments = arguments_of("iso6954-1984", Axis::z);
    const ChannelSpectra spectra = spectra_of(tones({{1e-3, 7.0}}), rate);
    arguments.spectra = {{&spectra, {TimeSpan{}}}};
    arguments.motion = Motion::velocity;
    arguments.parameters["conversion_factor"] = 1.8;
    const auto strict = evaluated("iso6954-1984", arguments);
    EXPECT_NEAR(strict->value, 1.8e-3, 0.005e-3); // an amplitude of 1 mm/s times 1.8 (computed from the definition)
    EXPECT_THAT(strict->notes,
                Contains(HasSubstr(
                    "peak = 2.55 times the r.m.s. value of a component: sqrt 2 times the conversion factor 1.8")));
    arguments.parameters.clear();
    EXPECT_NEAR(evaluated("iso6954-1984", arguments)->value, 1.8e-3 / std::numbers::sqrt2, 0.005e-3);
}

TEST(Iso6954Of1984, WhatHasNoComponentsOrIsSampledTooSlowlyCannotBeJudged)
{
    const auto broad = judged("iso6954-1984", Axis::z, {spectra_of(broad_noise(0.1, 3), rate)});
    ASSERT_FALSE(broad);
    EXPECT_THAT(broad.error().what, HasSubstr("no component between 1 Hz and 100 Hz stands out"));
    const auto slow = judged("iso6954-1984", Axis::z, {spectra_of(sine(0.1, 7.0, 128.0, minutes), 128.0)});
    ASSERT_FALSE(slow);
    EXPECT_THAT(slow.error().what, HasSubstr("a rate of 128 Hz reaches to 64 Hz"));
    EXPECT_FALSE(judged("iso6954-1984", Axis::z, {}));
    const ChannelSpectra empty{.resolution_hz = 0.25, .rate_hz = rate};
    EXPECT_FALSE(judged("iso6954-1984", Axis::z, {empty}));
}

TEST(Iso6954Of1984, SaysWhereMostOfTheMotionIsNoComponent)
{
    const auto value = judged("iso6954-1984", Axis::z, {spectra_of(tones({{0.05, 20.0}}, 0.2), rate)});
    ASSERT_TRUE(value) << to_text(value.error());
    EXPECT_THAT(value->notes, Contains(HasSubstr("the rest is broad")));
}

TEST(Iso6954Of1984, BandsOfTheTwoLines)
{
    // 4 and 9 mm/s peak, from memory.
    EXPECT_EQ(band_of("iso6954-1984", 0.0039), "adverse comments not probable");
    EXPECT_EQ(band_of("iso6954-1984", 0.0041), "between the two lines");
    EXPECT_EQ(band_of("iso6954-1984", 0.0091), "adverse comments probable");
    EXPECT_TRUE(shipped("iso6954-1984").check_first);
}

// --- in a seaway ---

TEST(InASeaway, GuideValuesAreThoseOfTheProjectInMetresPerSecondSquared)
{
    // Vertical 0.05, 0.10, 0.15, 0.20 g and lateral 0.03, 0.05, 0.07, 0.10 g (from memory), g = 9.80665 m/s2.
    struct Row {
        const char* use;
        double vertical_g, lateral_g;
    };
    for (const Row& row : {Row{"passenger-cabin", 0.05, 0.03}, Row{"intellectual-work", 0.10, 0.05},
                           Row{"heavy-manual-work", 0.15, 0.07}, Row{"light-manual-work", 0.20, 0.10}}) {
        for (const auto& [criterion, in_g] :
             {std::pair("nordforsk-1987-vertical", row.vertical_g), {"nordforsk-1987-lateral", row.lateral_g}}) {
            EXPECT_EQ(band_of(criterion, 0.9999 * in_g * standard_gravity, row.use), "within the guide value");
            EXPECT_EQ(band_of(criterion, 1.0001 * in_g * standard_gravity, row.use), "above the guide value");
            EXPECT_TRUE(shipped(criterion).check_first);
        }
    }
}

TEST(InASeaway, TheValueIsAboutTheMeanOfEachRecording)
{
    // 0.125 Hz, 1 m/s2 amplitude on offsets that differ: 1/sqrt(2). (computed from the definition)
    const auto wave = [](double offset) {
        return motion_of(80.0, [offset](double t) { return offset + std::sin(2.0 * pi * 0.125 * t); });
    };
    const MotionSeries first = wave(0.3), second = wave(-0.1);
    QuantityArguments arguments = arguments_of("nordforsk-1987-vertical", Axis::z);
    arguments.motions = {{&first, {{0.0, 80.0}}}, {&second, {{0.0, 40.0}}}};
    const auto value = evaluated("nordforsk-1987-vertical", arguments);
    ASSERT_TRUE(value) << to_text(value.error());
    EXPECT_NEAR(value->value, 1.0 / std::numbers::sqrt2, 1e-4);
    arguments.motions = {{&first, {{100.0, 200.0}}}};
    EXPECT_FALSE(evaluated("nordforsk-1987-vertical", arguments)) << "nothing left";
}

TEST(InASeaway, AVelocityIsNotTakenForAnAcceleration)
{
    const MotionSeries motion = motion_of(10.0, [](double t) { return t; });
    QuantityArguments velocity = arguments_of("nordforsk-1987-vertical", Axis::z);
    velocity.motions = {{&motion, {{0.0, 10.0}}}};
    velocity.motion = Motion::velocity;
    const auto refused = evaluated("nordforsk-1987-vertical", velocity);
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().what, HasSubstr("was recorded as a velocity"));
    // Nor is it where a criterion asks for the unweighted r.m.s. value.
    const Tally tally{.samples = 1, .duration_s = 1.0, .sum_squares = 1.0};
    EXPECT_FALSE(quantity_named("weighted_rms")->evaluate({.tally = tally, .motion = Motion::velocity}));
    EXPECT_TRUE(quantity_named("weighted_rms")->evaluate({.tally = tally, .motion = Motion::acceleration}));
}

// --- EN 12299: percentiles and continuous comfort ---

TEST(ContinuousComfort, TheGreatestBlockCountsAndThePercentilesAreTold)
{
    // 60 s: blocks of 0.1, then one of 0.25 m/s2 (computed from the definition).
    Ledger ledger{.lane = {}, .rate_hz = 100.0};
    for (int second = 0; second < 60; ++second) {
        const double rms = second >= 20 && second < 25 ? 0.25 : 0.1;
        ledger.rows.push_back({.samples = 100, .sum_squares = 100.0 * rms * rms});
    }
    QuantityArguments arguments = arguments_of("en12299-2009-c-cyz", Axis::y);
    arguments.rows = {{&ledger, {{0.0, 60.0}}}};
    const auto value = evaluated("en12299-2009-c-cyz", arguments);
    ASSERT_TRUE(value) << to_text(value.error());
    EXPECT_NEAR(value->value, 0.25, 1e-12);
    EXPECT_EQ(band_of("en12299-2009-c-cyz", value->value), "comfortable");
    // 12 values: the 95th percentile lies 0.45 of the way from the 11th to the 12th: 0.1675 (told in three figures).
    EXPECT_THAT(value->notes, Contains(HasSubstr("half of the blocks are up to 0.1 m/s2, 95 % up to 0.167 m/s2")));
}

TEST(ContinuousComfort, BandsOfTheLateralAndVerticalValues)
{
    // < 0.20, 0.20 to 0.30, 0.30 to 0.40, >= 0.40 m/s2 (from memory); the longitudinal value has none.
    EXPECT_EQ(band_of("en12299-2009-c-cyz", 0.199), "very comfortable");
    EXPECT_EQ(band_of("en12299-2009-c-cyz", 0.2), "comfortable");
    EXPECT_EQ(band_of("en12299-2009-c-cyz", 0.3), "medium");
    EXPECT_EQ(band_of("en12299-2009-c-cyz", 0.4), "less comfortable");
    EXPECT_TRUE(shipped("en12299-2009-c-cx").scales.empty());
}

TEST(Percentiles, FromClassesInterpolateInsideAClass)
{
    // Ten values, two in [0.10, 0.20), six in [0.20, 0.30), two in [0.30, 0.40): half of all are reached 3/6 into the
    // second class, 90 % 1/2 into the third (computed from the definition).
    const std::vector<double> values{0.11, 0.19, 0.21, 0.22, 0.23, 0.27, 0.28, 0.29, 0.31, 0.38};
    EXPECT_NEAR(en12299::class_percentile(values, 50.0, 0.1), 0.25, 1e-12);
    EXPECT_NEAR(en12299::class_percentile(values, 90.0, 0.1), 0.35, 1e-12);
    EXPECT_NEAR(en12299::class_percentile(values, 100.0, 0.1), 0.40, 1e-12);
}

TEST(Percentiles, TheRuleThatWasUsedIsNamed)
{
    Ledger ledger{.lane = {}, .rate_hz = 100.0};
    for (int second = 0; second < 50; ++second)
        ledger.rows.push_back({.samples = 100, .sum_squares = 100.0 * std::pow(0.1 + 0.001 * second, 2.0)});
    QuantityArguments arguments{.rows = {{&ledger, {{0.0, 50.0}}}}};
    const auto linear = en12299::block_rms(arguments);
    EXPECT_THAT(linear->notes, Contains(HasSubstr("linear between order statistics")));
    arguments.parameters = {{"percentile_rule", 1.0}, {"class_width", 0.005}};
    const auto classes = en12299::block_rms(arguments);
    EXPECT_THAT(classes->notes, Contains(HasSubstr("classes 0.005 m/s2 wide")));
    EXPECT_NEAR(classes->value, linear->value, 0.005);
    arguments.parameters["class_width"] = 0.0;
    EXPECT_FALSE(en12299::block_rms(arguments));
}

RC_GTEST_PROP(Percentiles, FromClassesLieInTheClassOfTheOrderStatistic, (std::vector<unsigned> raw, unsigned percent))
{
    RC_PRE(!raw.empty());
    std::vector<double> values;
    for (const unsigned value : raw) values.push_back(1e-3 * (value % 1000));
    const double p = percent % 101, width = 0.01;
    const double by_classes = en12299::class_percentile(values, p, width);
    std::ranges::sort(values);
    // The classes' value lies in the class of the order statistic that the cumulative frequency reaches.
    const double rank = std::max(1.0, std::ceil(p / 100.0 * static_cast<double>(values.size()) - 1e-9));
    const double reached = values[static_cast<std::size_t>(rank) - 1];
    RC_ASSERT(by_classes >= std::floor(reached / width + 1e-9) * width - 1e-9);
    RC_ASSERT(by_classes <= (std::floor(reached / width + 1e-9) + 1.0) * width + 1e-9);
}

TEST(MeanComfort, TheLeafletHasItsOwnBands)
{
    // N < 1 best, 1-2 good, 2-4 acceptable, 4-5 poor, > 5 very poor (leaflet, from memory); N_MV 1.5, 2.5, 3.5, 4.5.
    EXPECT_EQ(band_of("uic513-1994", 0.99), "best comfort");
    EXPECT_EQ(band_of("uic513-1994", 1.8), "good comfort");
    EXPECT_EQ(band_of("uic513-1994", 3.9), "acceptable comfort");
    EXPECT_EQ(band_of("uic513-1994", 4.9), "poor comfort");
    EXPECT_EQ(band_of("uic513-1994", 5.1), "very poor comfort");
    EXPECT_EQ(band_of("en12299-2009-n-mv", 1.8), "comfortable");
    EXPECT_EQ(band_of("en12299-2009-n-mv", 3.9), "uncomfortable");
    EXPECT_EQ(shipped("uic513-1994").terms.size(), 3U);
}

// --- EN 12299: curve transitions and local events ---

QuantityArguments event_arguments(const std::string& criterion, const MotionSeries& lateral,
                                  const std::vector<TimeSpan>& events)
{
    QuantityArguments arguments = arguments_of(criterion, Axis::y);
    arguments.events_listed = true;
    for (const TimeSpan& event : events) arguments.motions.push_back({&lateral, {event}});
    return arguments;
}

void add_roll(QuantityArguments& arguments, const MotionSeries& roll, Motion kind = Motion::velocity)
{
    for (const SelectedMotion& motion : arguments.motions)
        arguments.beside[Axis::rx].push_back({&roll, motion.selected, kind});
}

// Rises by 0.6 m/s3 from -0.2 to 1.0 m/s2 between 10 s and 12 s, then falls gently; the means over a second reach 1.0.
double ramp(double t)
{
    if (t < 10.0) return -0.2;
    return t < 12.0 ? -0.2 + 0.6 * (t - 10.0) : 1.0;
}

TEST(CurveTransitions, TheFormulaOfVectorR3)
{
    // P_CT of 1.0 m/s2, 0.6 m/s3, 2.0 deg/s: standing 30.75 %, seated 9.25 % (computed from the definition).
    const auto percent = [](const std::string& criterion) {
        const auto& p = shipped(criterion).parameters;
        return en12299::curve_transition_percent({p.at("A"), p.at("B"), p.at("C"), p.at("D"), p.at("E")},
                                                 {1.0, 0.6, 2.0});
    };
    EXPECT_NEAR(percent("en12299-2009-p-ct-standing"), 30.75, 0.005);
    EXPECT_NEAR(percent("en12299-2009-p-ct-seated"), 9.25, 0.005);
}

TEST(CurveTransitions, AreMeasuredFromTheMotion)
{
    // The ramp has |1 s mean| 1.0 m/s2 at most within 1.6 s past its end, 0.6 m/s3 over the second in its middle; the
    // roll rate is 2 deg/s throughout: vector R3 (computed from the definition).
    const MotionSeries lateral = motion_of(30.0, ramp);
    const MotionSeries roll = motion_of(30.0, [](double) { return 2.0 * pi / 180.0; });
    for (const auto& [criterion, expected] :
         {std::pair("en12299-2009-p-ct-standing", 30.75), {"en12299-2009-p-ct-seated", 9.25}}) {
        QuantityArguments arguments = event_arguments(criterion, lateral, {{10.0, 12.0}});
        add_roll(arguments, roll);
        const auto value = evaluated(criterion, arguments);
        ASSERT_TRUE(value) << to_text(value.error());
        EXPECT_NEAR(value->value, expected, 0.006) << criterion;
        EXPECT_THAT(value->notes, Contains(HasSubstr("acceleration 1 m/s2, jerk 0.6 m/s3, roll rate 2 deg/s")));
    }
}

TEST(CurveTransitions, TheAccelerationIsLookedAtUntilAShortWhilePastTheEnd)
{
    // A step to 3 m/s2 behind the transition from 8 s to 10 s: means centred up to 11.6 s are looked at, so that a step
    // at 12.05 s adds one bin of twenty (3 / 20 = 0.15), and one at 12.2 s none (computed from the definition).
    const auto acceleration = [](double step_at_s) {
        const MotionSeries lateral = motion_of(30.0, [&](double t) { return t < step_at_s ? 0.0 : 3.0; });
        const MotionSeries still = motion_of(30.0, [](double) { return 0.0; });
        QuantityArguments arguments = event_arguments("en12299-2009-p-ct-standing", lateral, {{8.0, 10.0}});
        arguments.parameters = {{"A", 1.0}, {"B", 0.0}, {"C", 0.0}, {"D", 1.0}, {"E", 1.0}};
        add_roll(arguments, still);
        return evaluated("en12299-2009-p-ct-standing", arguments)->value;
    };
    EXPECT_NEAR(acceleration(12.05), 0.15, 1e-6);
    EXPECT_NEAR(acceleration(12.2), 0.0, 1e-6);
    EXPECT_NEAR(acceleration(11.1), 3.0, 1e-6);
}

TEST(CurveTransitions, TheRollRateIsThatOfTheTransitionItself)
{
    const MotionSeries still = motion_of(30.0, [](double) { return 0.0; });
    const auto percent = [&](double from_s, double to_s) {
        const MotionSeries roll =
            motion_of(30.0, [&](double t) { return t >= from_s && t < to_s ? -3.0 * pi / 180.0 : 0.0; });
        QuantityArguments arguments = event_arguments("en12299-2009-p-ct-standing", still, {{10.0, 14.0}});
        arguments.parameters = {{"A", 0.0}, {"B", 0.0}, {"C", 0.0}, {"D", 1.0}, {"E", 1.0}};
        add_roll(arguments, roll);
        return evaluated("en12299-2009-p-ct-standing", arguments)->value;
    };
    EXPECT_NEAR(percent(11.0, 13.0), 3.0, 1e-5) << "in deg/s, whatever its sign";
    EXPECT_NEAR(percent(15.0, 17.0), 0.0, 1e-9) << "behind the transition";
}

TEST(CurveTransitions, TheGreatestOfSeveralIsComparedAndTheMeanIsTold)
{
    const MotionSeries lateral = motion_of(60.0, [](double t) { return t < 40.0 ? ramp(t) : 1.0; });
    const MotionSeries roll = motion_of(60.0, [](double t) { return (t < 30.0 ? 2.0 : 1.0) * pi / 180.0; });
    QuantityArguments arguments = event_arguments("en12299-2009-p-ct-standing", lateral, {{10.0, 12.0}, {40.0, 45.0}});
    add_roll(arguments, roll);
    const auto value = evaluated("en12299-2009-p-ct-standing", arguments);
    ASSERT_TRUE(value) << to_text(value.error());
    // The second: 28.54 - 11.1 + 0.185 = 17.625 %; mean with 30.754: 24.19 % (computed from the definition).
    EXPECT_NEAR(value->value, 30.754, 0.005);
    EXPECT_THAT(value->notes, Contains(HasSubstr("2 transitions: 30.8, 17.6 %, mean 24.2 %")));
}

TEST(CurveTransitions, WhatIsMissingIsSaid)
{
    const MotionSeries lateral = motion_of(30.0, ramp);
    const MotionSeries roll = motion_of(30.0, [](double) { return 0.01; });
    const auto why = [&](QuantityArguments arguments) {
        const auto result = evaluated("en12299-2009-p-ct-standing", arguments);
        return result ? std::string("it was judged") : result.error().what + "; " + result.error().remedy;
    };
    QuantityArguments good = event_arguments("en12299-2009-p-ct-standing", lateral, {{10.0, 12.0}});
    EXPECT_THAT(why(good), HasSubstr("the roll rate is missing or unfit"));
    QuantityArguments angular = good;
    add_roll(angular, roll, Motion::acceleration);
    EXPECT_THAT(why(angular), HasSubstr("the roll is told as an acceleration"));
    add_roll(good, roll);
    EXPECT_EQ(why(good), "it was judged");

    QuantityArguments unlisted = good;
    unlisted.events_listed = false;
    EXPECT_THAT(why(unlisted), HasSubstr("do not say where the transitions are"));
    QuantityArguments cut = good;
    cut.motions[0].selected = {{10.0, 10.5}, {11.0, 12.0}};
    EXPECT_THAT(why(cut), HasSubstr("left out in part"));
    QuantityArguments velocity = good;
    velocity.motion = Motion::velocity;
    EXPECT_THAT(why(velocity), HasSubstr("was recorded as a velocity"));
    const MotionSeries none;
    QuantityArguments slow = event_arguments("en12299-2009-p-ct-standing", none, {{10.0, 12.0}});
    EXPECT_THAT(why(slow), HasSubstr("sample at 20 Hz or faster"));
    QuantityArguments slow_roll = event_arguments("en12299-2009-p-ct-standing", lateral, {{10.0, 12.0}});
    add_roll(slow_roll, none);
    EXPECT_THAT(why(slow_roll), HasSubstr("the rate of the roll is too low"));
    for (const TimeSpan& near_an_end : {TimeSpan{1.0, 5.0}, TimeSpan{20.0, 28.5}}) {
        QuantityArguments outside = event_arguments("en12299-2009-p-ct-standing", lateral, {near_an_end});
        add_roll(outside, roll);
        EXPECT_THAT(why(outside), HasSubstr("too near an end of its recording"));
    }
}

TEST(DiscreteEvents, TheFormulaOfVectorR4)
{
    // P_DE of y_pp 2 m/s2 and |y_2s| 1 m/s2: standing 23.25 %, seated 8.27 % (computed from the definition).
    const auto percent = [](const std::string& criterion, double mean) {
        const auto& p = shipped(criterion).parameters;
        return en12299::discrete_event_percent({p.at("a"), p.at("b"), p.at("c")}, 2.0, mean);
    };
    EXPECT_NEAR(percent("en12299-2009-p-de-standing", 1.0), 23.25, 0.005);
    EXPECT_NEAR(percent("en12299-2009-p-de-seated", 1.0), 8.27, 0.005);
    EXPECT_NEAR(percent("en12299-2009-p-de-seated", -1.0), 8.27, 0.005);
    EXPECT_EQ(percent("en12299-2009-p-de-standing", 0.0), 0.0) << "not below 0";
}

TEST(DiscreteEvents, AreMeasuredInWindowsInsideTheEvent)
{
    // Between 10 s and 12 s the motion is 0 for a second and 2 m/s2 for the next: peak to peak 2, mean 1 in that window
    // (vector R4). Behind the event a far greater motion must not count (computed from the definition).
    const MotionSeries lateral = motion_of(30.0, [](double t) {
        return t < 11.0 ? 0.0 : t < 12.0 ? 2.0 : t < 14.0 ? 0.0 : 9.0;
    });
    const auto value =
        evaluated("en12299-2009-p-de-standing", event_arguments("en12299-2009-p-de-standing", lateral, {{9.0, 14.0}}));
    ASSERT_TRUE(value) << to_text(value.error());
    EXPECT_NEAR(value->value, 23.25, 0.005);
    EXPECT_THAT(value->notes, Contains(HasSubstr("2 m/s2 from peak to peak, mean 1 m/s2")));
}

TEST(DiscreteEvents, WhatIsShortOrNotListedCannotBeJudged)
{
    const MotionSeries lateral = motion_of(30.0, ramp);
    QuantityArguments brief = event_arguments("en12299-2009-p-de-seated", lateral, {{10.0, 11.5}});
    EXPECT_THAT(evaluated("en12299-2009-p-de-seated", brief).error().what, HasSubstr("shorter than the window of 2 s"));
    QuantityArguments unlisted = event_arguments("en12299-2009-p-de-seated", lateral, {{10.0, 20.0}});
    unlisted.events_listed = false;
    EXPECT_THAT(evaluated("en12299-2009-p-de-seated", unlisted).error().remedy, HasSubstr("events = ["));
}

TEST(RailDocuments, OfMediumConfidenceAreSwitchedOff)
{
    for (const char* id :
         {"en12299-2009-p-ct-standing", "en12299-2009-p-ct-seated", "en12299-2009-p-de-standing",
          "en12299-2009-p-de-seated", "ride-index-weighted-vertical", "ride-index-weighted-horizontal"})
        EXPECT_TRUE(shipped(id).check_first) << id;
    for (const char* id : {"en12299-2009-c-cyz", "en12299-2009-c-cx", "uic513-1994", "ride-index-components-vertical",
                           "ride-index-components-horizontal"})
        EXPECT_FALSE(shipped(id).check_first) << id;
}

// --- ride index ---

TEST(RideIndex, OfOneComponent)
{
    // 0.5 m/s2 peak at 1 Hz: vertical 2.589, horizontal 2.833 (component form, computed from the definition).
    using namespace ride_index;
    const std::vector<Component> one{{.hz = 1.0, .peak_cm_s2 = 50.0}};
    EXPECT_NEAR(of_components(Direction::vertical, one), 2.589, 5e-4);
    EXPECT_NEAR(of_components(Direction::horizontal, one), 2.833, 5e-4);
    const Signal signal = tones({{0.5, 1.0}});
    EXPECT_NEAR(judged("ride-index-components-vertical", Axis::z, {spectra_of(signal, rate)})->value, 2.589, 1e-3);
    EXPECT_NEAR(judged("ride-index-components-horizontal", Axis::y, {spectra_of(signal, rate)})->value, 2.833, 1e-3);
}

TEST(RideIndex, ComponentsAddByTheirTenthPowers)
{
    // Two alike raise the index by 2^0.1 (computed from the definition).
    using namespace ride_index;
    const std::vector<Component> one{{10.0, 30.0}}, two{{10.0, 30.0}, {10.0, 30.0}};
    EXPECT_NEAR(of_components(Direction::vertical, two), std::pow(2.0, 0.1) * of_components(Direction::vertical, one),
                1e-12);
    // 0.5 m/s2 at 1.5 Hz and 0.8 m/s2 at 9 Hz, vertical: 0.896^10 (50^3 0.325 1.5 + 80^3 400 / 9^3) = ... (computed).
    const double expected =
        0.896 * std::pow(50.0 * 50.0 * 50.0 * 0.325 * 1.5 + 80.0 * 80.0 * 80.0 * 400.0 / (9.0 * 9.0 * 9.0), 0.1);
    const auto value =
        judged("ride-index-components-vertical", Axis::z, {spectra_of(tones({{0.5, 1.5}, {0.8, 9.0}}), rate)});
    EXPECT_NEAR(value->value, expected, 1e-3);
}

TEST(RideIndex, TheWeightingOfTheComponentFormHasItsCorners)
{
    // From memory: 0.325 f^2, 400/f^2, 1 vertical; 0.8 f^2, 650/f^2, 1 horizontal. The pieces nearly meet.
    using namespace ride_index;
    EXPECT_NEAR(component_weighting(Direction::vertical, 2.0), 1.3, 1e-12);
    EXPECT_NEAR(component_weighting(Direction::vertical, 10.0), 4.0, 1e-12);
    EXPECT_NEAR(component_weighting(Direction::vertical, 40.0), 1.0, 1e-12);
    EXPECT_NEAR(component_weighting(Direction::horizontal, 2.0), 3.2, 1e-12);
    EXPECT_NEAR(component_weighting(Direction::horizontal, 10.0), 6.5, 1e-12);
    EXPECT_NEAR(component_weighting(Direction::horizontal, 30.0), 1.0, 1e-12);
    EXPECT_EQ(component_weighting(Direction::vertical, 0.4), 0.0);
    for (const auto& [direction, hz] : {std::pair(Direction::vertical, 5.9), {Direction::horizontal, 5.4}})
        EXPECT_NEAR(component_weighting(direction, hz - 1e-6) / component_weighting(direction, hz), 1.0, 0.06) << hz;
}

TEST(RideIndex, OfTheWeightedFormDiffersFromTheComponentForm)
{
    // 0.5 m/s2 peak at 1 Hz: B = 0.588 sqrt(1.9735 / 2.8521) = 0.48912, a = 0.17293 m/s2, W = 4.42 a^0.3 = 2.6107
    // vertical (computed from the definition); horizontal B = 0.61306, W = 2.794.
    using namespace ride_index;
    EXPECT_NEAR(acceleration_weighting(Direction::vertical, 1.0), 0.48912, 5e-5);
    const Signal signal = tones({{0.5, 1.0}});
    const auto vertical = judged("ride-index-weighted-vertical", Axis::z, {spectra_of(signal, rate)});
    const auto horizontal = judged("ride-index-weighted-horizontal", Axis::x, {spectra_of(signal, rate)});
    ASSERT_TRUE(vertical) << to_text(vertical.error());
    EXPECT_NEAR(vertical->value, 2.611, 5e-3);
    EXPECT_NEAR(horizontal->value, 2.794, 5e-3);
    EXPECT_THAT(vertical->notes, Contains(HasSubstr("weighted form")));
}

TEST(RideIndex, TheWeightedFormTakesAnyMotion)
{
    const double w = 2.0 * pi * 4.0;
    const auto from = [&](double amplitude, Motion motion) {
        return judged("ride-index-weighted-vertical", Axis::z,
                      {spectra_of(tones({{amplitude, 4.0}}, 1e-6 * amplitude), rate)}, motion)
            ->value;
    };
    EXPECT_NEAR(from(0.3 / w, Motion::velocity), from(0.3, Motion::acceleration), 2e-3);
    EXPECT_NEAR(from(0.3 / w / w, Motion::displacement), from(0.3, Motion::acceleration), 5e-3);
}

TEST(RideIndex, WithoutComponentsTheComponentFormCannotJudge)
{
    const ChannelSpectra broad = spectra_of(broad_noise(0.3, 5), rate);
    const auto refused = judged("ride-index-components-vertical", Axis::z, {broad});
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().remedy, HasSubstr("weighted form"));
    EXPECT_TRUE(judged("ride-index-weighted-vertical", Axis::z, {broad}));
    EXPECT_FALSE(judged("ride-index-components-vertical", Axis::rz, {broad})) << "a rotation";
}

TEST(RideIndex, MarksOfTheScale)
{
    // 1 just noticeable; 2 clearly; 2.5 more pronounced; 3 strong, tolerable; 3.25 very irregular; 3.5 extremely
    // irregular; 4 extremely unpleasant (from memory); a value between counts to the lower mark (our choice).
    for (const char* id : {"ride-index-components-vertical", "ride-index-components-horizontal",
                           "ride-index-weighted-vertical", "ride-index-weighted-horizontal"}) {
        EXPECT_EQ(band_of(id, 0.99), "less than just noticeable");
        EXPECT_EQ(band_of(id, 1.0), "just noticeable");
        EXPECT_EQ(band_of(id, 2.4), "clearly noticeable");
        EXPECT_EQ(band_of(id, 2.589), "more pronounced, but not unpleasant");
        EXPECT_EQ(band_of(id, 3.2), "strong, irregular, but still tolerable");
        EXPECT_EQ(band_of(id, 3.3), "very irregular");
        EXPECT_EQ(band_of(id, 3.7), "extremely irregular, long exposure harmful");
        EXPECT_EQ(band_of(id, 4.0), "extremely unpleasant");
    }
}

// --- lifts ---

TEST(Lifts, A95IsTheValueThatNinetyFivePercentDoNotExceed)
{
    // Of 1 ... 20 it is 19, of 1 ... 21 it is 20 (computed from the definition).
    std::vector<double> values;
    for (int i = 1; i <= 20; ++i) values.push_back(i);
    EXPECT_EQ(iso18738::not_exceeded_by(values, 95.0), 19.0);
    values.push_back(21.0);
    EXPECT_EQ(iso18738::not_exceeded_by(values, 95.0), 20.0);
    EXPECT_EQ(iso18738::not_exceeded_by(values, 100.0), 21.0);
    EXPECT_EQ(iso18738::not_exceeded_by({3.0}, 95.0), 3.0);
}

TEST(Lifts, SwingsCountWhereTheyEndInsideTheRide)
{
    std::vector<Swing> swings;
    for (int i = 0; i < 40; ++i)
        swings.push_back({.at_s = static_cast<float>(i), .size = 0.01F * static_cast<float>(i)});
    const std::vector<TimeSpan> ride{{10.0, 30.0}}; // 0.10 ... 0.29
    QuantityArguments arguments = arguments_of("iso18738-1-2012-a95-vertical", Axis::z);
    arguments.swings = {{&swings, ride}};
    const auto a95 = evaluated("iso18738-1-2012-a95-vertical", arguments);
    EXPECT_NEAR(a95->value, 0.28, 1e-6); // the 19th of 20 (computed from the definition)
    EXPECT_NEAR(evaluated("iso18738-1-2012-greatest", arguments)->value, 0.29, 1e-6);
    arguments.swings = {{&swings, {{100.0, 200.0}}}};
    EXPECT_FALSE(evaluated("iso18738-1-2012-a95-vertical", arguments));
    EXPECT_FALSE(evaluated("iso18738-1-2012-greatest", arguments));
}

TEST(Lifts, GuideValuesAreCommonPracticeInMilliG)
{
    // Vertical A95 15 milli-g good, 25 acceptable; horizontal 10 and 15 (common practice, no source).
    const auto milli_g = [](double value) { return value * 1e-3 * standard_gravity; };
    EXPECT_EQ(band_of("iso18738-1-2012-a95-vertical", milli_g(14.99)), "good");
    EXPECT_EQ(band_of("iso18738-1-2012-a95-vertical", milli_g(15.01)), "acceptable");
    EXPECT_EQ(band_of("iso18738-1-2012-a95-vertical", milli_g(25.01)), "above the guide values");
    EXPECT_EQ(band_of("iso18738-1-2012-a95-horizontal", milli_g(9.99)), "good");
    EXPECT_EQ(band_of("iso18738-1-2012-a95-horizontal", milli_g(14.99)), "acceptable");
    EXPECT_EQ(band_of("iso18738-1-2012-a95-horizontal", milli_g(15.01)), "above the guide values");
    for (const char* id : {"iso18738-1-2012-a95-vertical", "iso18738-1-2012-a95-horizontal", "iso18738-1-2012-greatest",
                           "iso18738-1-2012-jerk", "iso18738-1-2012-acceleration-a95"})
        EXPECT_TRUE(shipped(id).check_first) << id;
}

// A ride up: 1 m/s2 for 1.5 s with ramps of 1 s (jerk 1 m/s3) on both sides, 10 s at 2.5 m/s, and the same to rest. 4 s
// of rest before and after.
double lift_ride(double t)
{
    const auto hump = [](double u) { return std::clamp(std::min(u, 3.5 - u), 0.0, 1.0); };
    return hump(t - 4.0) - hump(t - 17.5);
}
constexpr double ride_s = 25.0;

TEST(Lifts, JerkIsTheSlopeOverHalfASecond)
{
    // The ramps of a second have 1 m/s3 (computed from the definition).
    const MotionSeries motion = motion_of(ride_s, lift_ride);
    QuantityArguments arguments = arguments_of("iso18738-1-2012-jerk", Axis::z);
    arguments.motions = {{&motion, {{0.0, ride_s}}}};
    EXPECT_NEAR(evaluated("iso18738-1-2012-jerk", arguments)->value, 1.0, 1e-5);
    arguments.motions = {{&motion, {{9.0, 16.0}}}};
    EXPECT_NEAR(evaluated("iso18738-1-2012-jerk", arguments)->value, 0.0, 1e-6) << "at constant speed";
    arguments.motions = {{&motion, {{4.0, 4.3}}}};
    EXPECT_FALSE(evaluated("iso18738-1-2012-jerk", arguments)) << "shorter than half a second";
    arguments.motion = Motion::velocity;
    EXPECT_FALSE(evaluated("iso18738-1-2012-jerk", arguments));
}

TEST(Lifts, AccelerationIsThatOfTheChangingSpeedAndASensorsOffsetDoesNotMatter)
{
    // Greatest speed 2.5 m/s; 1 m/s2 lasts 1.5 s of each ramp between 5 % and 95 % of it, more than a twentieth, so A95
    // is 1 m/s2 (computed from the definition).
    for (const double offset : {0.0, 0.05}) {
        const MotionSeries motion = motion_of(ride_s, [&](double t) { return lift_ride(t) + offset; });
        QuantityArguments arguments = arguments_of("iso18738-1-2012-acceleration-a95", Axis::z);
        arguments.motions = {{&motion, {{2.0, 23.0}}}};
        const auto value = evaluated("iso18738-1-2012-acceleration-a95", arguments);
        ASSERT_TRUE(value) << to_text(value.error());
        EXPECT_NEAR(value->value, 1.0, 1e-4) << offset;
        EXPECT_THAT(value->notes, Contains(HasSubstr("greatest 2.5 m/s")));
    }
}

TEST(Lifts, WithoutMotionThereIsNoValue)
{
    for (const char* id : {"iso18738-1-2012-jerk", "iso18738-1-2012-acceleration-a95", "iso18738-1-2012-greatest",
                           "iso18738-1-2012-a95-vertical"})
        EXPECT_FALSE(evaluated(id, arguments_of(id, Axis::z))) << id;
}

// --- the whole way ---

double gain(WeightingId id, double hz) { return std::abs(filters::analytic_response(id, Motion::acceleration, hz)); }

TEST(TheWholeWay, ContinuousComfortOfTwoDirections)
{
    // Steady sines: every block has the weighted r.m.s. value (computed from the definition; filters follow it to
    // 1e-4).
    const Assessment assessment =
        Case("rail")
            .space("coach", "saloon")
            .table("[[condition]]\nid = \"straight\"\nspeed_km_h = 160")
            .recording("a.wav", "coach", "1 = \"y\", 2 = \"z\"",
                       {sine(0.4, 1.0, 256.0, 330.0), sine(0.5, 6.0, 256.0, 330.0)}, "condition = \"straight\"", 256)
            .judge("\"en12299-2009-c-cyz\"")
            .assessment();
    ASSERT_EQ(assessment.verdicts.size(), 2U);
    const Verdict &lateral = assessment.verdicts[0], &vertical = assessment.verdicts[1];
    ASSERT_TRUE(lateral.judged && vertical.judged) << lateral.why_not << vertical.why_not;
    EXPECT_NEAR(*lateral.value, 0.4 / std::numbers::sqrt2 * gain(WeightingId::Wd, 1.0), 1e-4);
    EXPECT_NEAR(*vertical.value, 0.5 / std::numbers::sqrt2 * gain(WeightingId::Wb, 6.0), 1e-4);
    EXPECT_EQ(lateral.bands.at(static_cast<std::size_t>(*lateral.band_index)).name, "comfortable");
    EXPECT_EQ(vertical.bands.at(static_cast<std::size_t>(*vertical.band_index)).name, "medium");
}

TEST(TheWholeWay, TheLeafletJudgesSectionsListedAsEvents)
{
    // Four sections of 301 s in one recording of 1,300 s (values as above).
    std::string events = "events = [";
    for (int i = 0; i < 4; ++i)
        events += fmt::format("{{ from_s = {}, to_s = {} }}, ", 20 + 310 * i, 20 + 310 * i + 301);
    const auto verdict = [&](const std::string& more) {
        return Case("rail")
            .space("coach", "saloon")
            .table("[[condition]]\nid = \"straight\"\nspeed_km_h = 160")
            .recording("a.wav", "coach", "1 = \"x\", 2 = \"y\", 3 = \"z\"",
                       {sine(0.1, 1.0, 256.0, 1300.0), sine(0.2, 1.0, 256.0, 1300.0), sine(0.3, 6.0, 256.0, 1300.0)},
                       "condition = \"straight\"\n" + more, 256)
            .judge("\"uic513-1994\"")
            .verdict();
    };
    const Verdict four = verdict(events + "]");
    ASSERT_TRUE(four.judged) << four.why_not;
    const double wd = gain(WeightingId::Wd, 1.0), wb = gain(WeightingId::Wb, 6.0);
    EXPECT_NEAR(*four.value, 6.0 / std::numbers::sqrt2 * std::hypot(0.1 * wd, 0.2 * wd, 0.3 * wb), 1e-3);
    EXPECT_EQ(four.bands.at(static_cast<std::size_t>(*four.band_index)).name, "good comfort");
    EXPECT_THAT(four.notes, Contains(HasSubstr("240 blocks of 5 s")));
    const Verdict one = verdict("events = [ { from_s = 20, to_s = 321 } ]");
    EXPECT_FALSE(one.judged);
    EXPECT_THAT(one.why_not, HasSubstr("asks for at least 1200 s"));
}

constexpr const char* looked = "confirmed-by = \"A. Nonymous, 2026-11-20, own copy\"";

std::string judge(const std::string& criteria)
{
    return fmt::format("[[judge]]\ncriteria = [{}]\n{}", criteria, looked);
}

TEST(TheWholeWay, ASeawayIsJudgedOnceSomebodyLooked)
{
    // 0.8 m/s2 r.m.s. is 0.0816 g: above the guide value of a passenger liner (0.05 g), within that of intellectual
    // work. The pass takes the mean of the first 10 s away, a period and a quarter, which must not matter.
    const auto verdict = [](const std::string& use, const std::string& more) {
        return Case("vessel")
            .space("place", use)
            .table("[[condition]]\nid = \"waves\"\nshaft_rpm = 100\nsea_state = 3")
            .recording("a.wav", "place", "1 = \"x\", 2 = \"y\", 3 = \"z\"",
                       std::vector(3, sine(0.8 * std::numbers::sqrt2, 0.125, 64.0, 1280.0)), "condition = \"waves\"",
                       64)
            .table(more)
            .verdict();
    };
    EXPECT_FALSE(verdict("passenger-cabin", "[[judge]]\ncriteria = [\"nordforsk-1987-vertical\"]").judged);
    const Verdict liner = verdict("passenger-cabin", judge("\"nordforsk-1987-vertical\""));
    ASSERT_TRUE(liner.judged) << liner.why_not;
    EXPECT_NEAR(*liner.value, 0.8, 1e-3);
    EXPECT_TRUE(liner.exceeded);
    EXPECT_FALSE(verdict("intellectual-work", judge("\"nordforsk-1987-vertical\"")).exceeded);
}

TEST(TheWholeWay, TheGreatestComponentOfACabin)
{
    // Blade rate 7 Hz of 3 mm/s and 14 Hz of 6 mm/s amplitude: 6 x 1.8 / sqrt 2 = 7.637 mm/s (computed from the
    // definition).
    const Signal cabin = sum(sum(sine(3.0, 7.0, 256.0, 120.0), sine(6.0, 14.0, 256.0, 120.0)), broad_noise(0.01, 1));
    const Verdict verdict =
        Case("vessel")
            .space("cabin", "passenger-cabin")
            .table("[[condition]]\nid = \"service\"\nshaft_rpm = 105")
            .recording("a.wav", "cabin", "1 = \"z\"", {cabin}, "condition = \"service\"\nunit = \"mm/s\"", 256)
            .table(judge("\"iso6954-1984\""))
            .verdict();
    ASSERT_TRUE(verdict.judged) << verdict.why_not;
    EXPECT_NEAR(*verdict.value, 7.637e-3, 0.01e-3);
    EXPECT_EQ(verdict.bands.at(static_cast<std::size_t>(*verdict.band_index)).name, "between the two lines");
    EXPECT_THAT(verdict.notes, Contains(HasSubstr("axis z: component of 14.00 Hz")));
}

TEST(TheWholeWay, TheRideIndexInBothForms)
{
    const Signal floor = sum(sine(0.5, 1.0, 256.0, 120.0), broad_noise(1e-4, 2));
    const Assessment assessment =
        Case("rail")
            .space("coach", "saloon")
            .table("[[condition]]\nid = \"straight\"\nspeed_km_h = 120")
            .recording("a.wav", "coach", "1 = \"y\", 2 = \"z\"", {floor, floor}, "condition = \"straight\"", 256)
            .table(judge("\"ride-index-components-vertical\", \"ride-index-components-horizontal\", "
                         "\"ride-index-weighted-vertical\", \"ride-index-weighted-horizontal\""))
            .assessment();
    ASSERT_EQ(assessment.verdicts.size(), 4U);
    // Vector of one component: 2.589 and 2.833; weighted form 2.611 and 2.794 (computed from the definition).
    const std::vector<double> expected{2.589, 2.833, 2.611, 2.794};
    for (std::size_t i = 0; i < 4; ++i) {
        ASSERT_TRUE(assessment.verdicts[i].judged) << assessment.verdicts[i].why_not;
        EXPECT_NEAR(*assessment.verdicts[i].value, expected[i], 2e-3) << assessment.verdicts[i].criterion;
    }
}

// A function of time, sampled by a sensor that is never quite still.
template <class Function>
Signal sampled(double rate_hz, double duration_s, Function function)
{
    Signal signal = noise(static_cast<std::size_t>(std::llround(rate_hz * duration_s)), 11);
    for (std::size_t i = 0; i < signal.size(); ++i)
        signal[i] = 1e-4 * signal[i] + function(static_cast<double>(i) / rate_hz);
    return signal;
}

TEST(TheWholeWay, ACurveTransitionWithItsRollRate)
{
    // Vector R3 in a recording: straight track for 20 s, then the ramp of the tests above between 30 s and 32 s, the
    // roll rate 2 deg/s for 4 s about it, in a [[recording]] of its own.
    const Signal lateral = sampled(200.0, 60.0, [](double t) { return t < 20.0 ? 0.0 : ramp(t - 20.0); });
    const Signal roll = sampled(200.0, 60.0, [](double t) { return t >= 29.0 && t < 33.0 ? 2.0 : 0.0; });
    const std::string common = "condition = \"curve\"\n";
    const std::string events = common + "events = [ { from_s = 30.0, to_s = 32.0, title = \"entry\" } ]\n";
    const auto survey = [&](const std::string& lateral_keys, const std::string& roll_unit) {
        Case made("rail");
        made.space("coach", "saloon")
            .table("[[condition]]\nid = \"curve\"\nspeed_km_h = 120")
            .recording("a.wav", "coach", "1 = \"y\"", {lateral, roll}, lateral_keys, 200);
        if (!roll_unit.empty())
            made.table(fmt::format("[[recording]]\nfile = \"a.wav\"\nspace = \"coach\"\nchannels = {{ 2 = \"rx\" "
                                   "}}\nunit = \"{}\"\n{}",
                                   roll_unit, common));
        made.table(judge("\"en12299-2009-p-ct-standing\""));
        return made.verdict();
    };
    const Verdict judged = survey(events, "deg/s");
    ASSERT_TRUE(judged.judged) << judged.why_not;
    EXPECT_NEAR(*judged.value, 30.75, 0.03);
    EXPECT_THAT(judged.notes, Contains(HasSubstr("1 transition: 30.8 %")));
    EXPECT_THAT(survey(events, "").why_not, HasSubstr("the roll rate is missing or unfit"));
    EXPECT_THAT(survey(events, "deg/s2").why_not, HasSubstr("the roll is told as an acceleration"));
    EXPECT_THAT(survey(common, "deg/s").why_not, HasSubstr("do not say where the transitions are"));
}

TEST(TheWholeWay, LocalEvents)
{
    // Vector R4: 0 for a second, 2 m/s2 for the next, from 20 s on.
    const Signal lateral = sampled(200.0, 40.0, [](double t) { return t >= 21.0 && t < 22.0 ? 2.0 : 0.0; });
    const Assessment assessment =
        Case("rail")
            .space("coach", "saloon")
            .table("[[condition]]\nid = \"points\"\nspeed_km_h = 80")
            .recording(
                "a.wav", "coach", "1 = \"y\"", {lateral},
                "condition = \"points\"\nevents = [ { from_s = 18.5, to_s = 24.5 }, { from_s = 30.0, to_s = 33.0 } ]",
                200)
            .table(judge("\"en12299-2009-p-de-standing\", \"en12299-2009-p-de-seated\""))
            .assessment();
    ASSERT_EQ(assessment.verdicts.size(), 2U);
    ASSERT_TRUE(assessment.verdicts[0].judged) << assessment.verdicts[0].why_not;
    EXPECT_NEAR(*assessment.verdicts[0].value, 23.25, 0.01);
    EXPECT_NEAR(*assessment.verdicts[1].value, 8.27, 0.01);
    EXPECT_THAT(assessment.verdicts[0].notes, Contains(HasSubstr("0.0 %, mean 11.6 %; the greatest is compared")));
}

TEST(TheWholeWay, ARideOfALift)
{
    // The ride of the tests above with a shake of 8 Hz on it, 0.1 m/s2 amplitude: from peak to peak twice that,
    // weighted by Wk at constant speed (computed from the definition).
    const Signal ride = sampled(256.0, 60.0, [](double t) { return lift_ride(t - 20.0); });
    const Signal shake =
        sampled(256.0, 60.0, [](double t) { return t >= 10.0 && t < 55.0 ? 0.1 * std::sin(2.0 * pi * 8.0 * t) : 0.0; });
    const auto verdict = [&](const std::string& criterion, const Signal& signal, const std::string& events) {
        return Case("lift")
            .space("car", "lift-car")
            .recording("a.wav", "car", "1 = \"z\"", {signal}, "events = [ " + events + " ]", 256)
            .table(judge("\"" + criterion + "\""))
            .verdict();
    };
    const std::string whole = "{ from_s = 22.0, to_s = 43.0 }", steady = "{ from_s = 30.0, to_s = 37.0 }";
    const Verdict a95 = verdict("iso18738-1-2012-a95-vertical", sum(ride, shake), steady);
    ASSERT_TRUE(a95.judged) << a95.why_not;
    EXPECT_NEAR(*a95.value, 0.2 * gain(WeightingId::Wk, 8.0), 0.01);
    EXPECT_EQ(a95.bands.at(static_cast<std::size_t>(*a95.band_index)).name, "acceptable");
    const Verdict jerk = verdict("iso18738-1-2012-jerk", ride, whole);
    ASSERT_TRUE(jerk.judged) << jerk.why_not;
    EXPECT_NEAR(*jerk.value, 1.0, 5e-3); // with the noise of the sensor
    EXPECT_EQ(jerk.unit, "m/s^3");
    const Verdict acceleration = verdict("iso18738-1-2012-acceleration-a95", ride, whole);
    ASSERT_TRUE(acceleration.judged) << acceleration.why_not;
    EXPECT_NEAR(*acceleration.value, 1.0, 1e-3);
}

} // namespace
} // namespace becalm::evaluators
