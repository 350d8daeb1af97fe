// What the pass tells about a recording, as findings. Expected values are computed from the definition: faults put into
// signals, and the thresholds of fitness.h, which are common practice without a source.
#include <array>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include <gmock/gmock.h>

#include "evaluators/fitness.h"
#include "evaluators/instruments.h"

#include "tests/evaluators/recordings.h"

namespace becalm::evaluators {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;
using namespace tests;

constexpr double rate = 1000.0;
const std::vector<TimeSpan> all{{0.0, 1e9}};

PassResult pass_of(Signal signal)
{
    PassResult pass;
    pass.info.rate_hz = rate;
    pass.duration_s = static_cast<double>(signal.size()) / rate;
    pass.channels.push_back({.channel = 3, .offset = 0.0, .scan = filters::ChannelScan(rate)});
    pass.channels[0].scan.add(signal.data(), signal.size(), 0, 0.0);
    return pass;
}

std::vector<Finding> findings(const Signal& signal, Motion motion = Motion::acceleration,
                              const std::vector<TimeSpan>& selected = all)
{
    return fitness("a.wav", pass_of(signal), motion, selected);
}

Signal live(double offset = 0.0, double size = 0.3)
{
    Signal signal = noise(20000, 4);
    for (double& x : signal) x = offset + size * x;
    return signal;
}

// The finding that is expected to be the only one.
Finding only(const std::vector<Finding>& found)
{
    EXPECT_THAT(found, SizeIs(1));
    return found.empty() ? Finding{} : found[0];
}

TEST(Fitness, FindsNothingInASoundRecording)
{
    EXPECT_THAT(findings(live()), IsEmpty());
    EXPECT_THAT(findings(live(0.0, 1e-4), Motion::velocity), IsEmpty());
}

TEST(Fitness, RefusesClippingUnlessItIsExcluded)
{
    Signal signal = live();
    for (std::size_t i = 4200; i < 4210; ++i) signal[i] = 2.0;
    const Finding refused = only(findings(signal));
    EXPECT_EQ(refused.severity, Severity::refusal);
    EXPECT_EQ(refused.code, "clipped");
    EXPECT_EQ(refused.channel, 3);
    EXPECT_EQ(refused.recording, "a.wav");
    EXPECT_DOUBLE_EQ(refused.from_s.value_or(-1.0), 4.2);
    EXPECT_DOUBLE_EQ(refused.to_s.value_or(-1.0), 4.21);
    EXPECT_THAT(refused.message, HasSubstr("4.200 s"));

    const Finding noted = only(findings(signal, Motion::acceleration, {{0.0, 4.0}, {5.0, 20.0}}));
    EXPECT_EQ(noted.severity, Severity::note);
    EXPECT_EQ(noted.code, "clipped");
    // The row that a fault touches is judged as a whole, so an exclusion beside it does not do.
    EXPECT_EQ(only(findings(signal, Motion::acceleration, {{0.0, 5.0}})).severity, Severity::refusal);
}

TEST(Fitness, RefusesDropOutsAndWhatIsNoNumber)
{
    Signal held = live();
    std::fill_n(held.begin() + 7000, 200, 0.0);
    EXPECT_EQ(only(findings(held)).code, "drop-out");
    EXPECT_EQ(only(findings(held)).severity, Severity::refusal);
    Signal missing = live();
    missing[9000] = std::numeric_limits<double>::quiet_NaN();
    EXPECT_EQ(only(findings(missing)).code, "not-a-number");
    EXPECT_THAT(only(findings(missing)).message, HasSubstr("9.000 s"));
    EXPECT_EQ(only(findings(missing, Motion::acceleration, {{0.0, 9.0}, {10.0, 20.0}})).severity, Severity::note);
}

TEST(Fitness, RefusesAConstantChannel)
{
    const Finding finding = only(findings(Signal(5000, 1.25)));
    EXPECT_EQ(finding.code, "constant-channel");
    EXPECT_EQ(finding.severity, Severity::refusal);
    EXPECT_THAT(finding.message, HasSubstr("1.25"));
}

TEST(Fitness, RefusesWhatCannotBeThatUnit)
{
    EXPECT_EQ(only(findings(live(0.0, 1e-8))).code, "unit");
    EXPECT_EQ(only(findings(live(0.0, 500.0))).code, "unit");
    EXPECT_THAT(fitness("a.wav", pass_of(live(0.0, 500.0)), Motion::acceleration, all, true), IsEmpty())
        << "a percussive tool at the hand";
    EXPECT_EQ(only(fitness("a.wav", pass_of(live(0.0, 20'000.0)), Motion::acceleration, all, true)).code, "unit");
    EXPECT_EQ(only(findings(live(98.0, 0.3))).code, "unit") << "ten times gravity";
    EXPECT_EQ(only(findings(live(0.0, 50.0), Motion::velocity)).code, "unit");
    for (const auto& signal : {live(0.0, 1e-8), live(98.0, 0.3)})
        EXPECT_EQ(only(findings(signal)).severity, Severity::refusal);
}

TEST(Fitness, TellsGravityFromAnOffset)
{
    EXPECT_EQ(only(findings(live(9.81))).code, "gravity");
    EXPECT_EQ(only(findings(live(-9.70))).severity, Severity::note);
    EXPECT_EQ(only(findings(live(1.0, 0.03))).code, "gravity-in-g");
    EXPECT_EQ(only(findings(live(1.0, 0.03))).severity, Severity::caution);
    EXPECT_EQ(only(findings(live(4.0, 0.3))).code, "offset");
    EXPECT_THAT(findings(live(0.05, 0.003)), IsEmpty()) << "below 0.1 m/s2 nobody minds";
    EXPECT_THAT(findings(live(9.81), Motion::velocity), IsEmpty()) << "a velocity has no gravity";
}

TEST(Fitness, NamesTheLaneWhoseRateIsTooLow)
{
    PassResult pass = pass_of(live());
    pass.lanes.push_back(
        {.lane = {3, Axis::z, WeightingId::Wk}, .refused = Problem{.what = "too slow", .remedy = "sample faster"}});
    const Finding finding = only(fitness("a.wav", pass, Motion::acceleration, all));
    EXPECT_EQ(finding.code, "rate-too-low");
    EXPECT_EQ(finding.severity, Severity::refusal);
    EXPECT_THAT(finding.message, HasSubstr("too slow; sample faster"));
}

// --- instruments ---

TEST(Instruments, MeasureACalibratorsLine)
{
    // Computed from the definition: 10 m/s2 r.m.s. beside noise and a hum elsewhere; 0.3 % off its frequency.
    Signal signal = sine(10.0 * std::sqrt(2.0), 159.2 * 1.003, rate, 12.0);
    const Signal hum = sine(1.0, 50.0, rate, 12.0), floor = noise(signal.size(), 3);
    for (std::size_t i = 0; i < signal.size(); ++i) signal[i] += hum[i] + 0.01 * floor[i];
    const auto rms = line_rms(signal, rate, 159.2);
    ASSERT_TRUE(rms);
    EXPECT_NEAR(*rms, 10.0, 0.002);
    EXPECT_FALSE(line_rms(signal, 300.0, 159.2)) << "below twice the frequency";
    EXPECT_FALSE(line_rms(Signal(100, 0.1), rate, 159.2)) << "16 periods";
}

TEST(Instruments, HoldSerialNumbersAgainstTheSurvey)
{
    Survey survey;
    survey.sensors = {{.id = "a", .serial = "17"}, {.id = "b", .serial = "18"}};
    const Recording recording{.file = "r.wav", .sensor = "a", .channels = {{1, Axis::x}, {2, Axis::y}, {3, Axis::z}}};
    const auto found =
        sensor_mix_ups(survey, recording, {.facts = {{.serial = "17"}, {.serial = "18"}, {.serial = "99"}}});
    ASSERT_THAT(found, SizeIs(2));
    EXPECT_EQ(found[0].channel, 2);
    EXPECT_THAT(found[0].message, HasSubstr("sensor b"));
    EXPECT_EQ(found[1].channel, 3);
    EXPECT_THAT(found[1].message, HasSubstr("no sensor of the survey"));
}

TEST(Instruments, TheCalibrationOfTheDayHolds)
{
    Survey survey;
    Sensor sensor{.id = "a", .calibration_valid_months = 12.0};
    sensor.calibrations = {{.date = "2024-03-01", .sensitivity = 10.0, .uncertainty_percent = 1.0},
                           {.date = "2025-03-01", .sensitivity = 10.3, .uncertainty_percent = 1.5}};
    EXPECT_EQ(calibration_on(sensor, "2025-02-28T10:00:00Z").uncertainty_percent, 1.0);
    EXPECT_EQ(calibration_on(sensor, "2025-03-01T10:00:00Z").uncertainty_percent, 1.5);
    EXPECT_EQ(calibration_on(sensor, "").date, "2025-03-01");
    survey.sensors = {sensor};
    survey.recordings = {{.file = "r.wav", .sensor = "a", .start = "2026-03-02T08:00:00Z"}};
    auto found = sensor_histories(survey); // 3 % against hypot(1, 1.5) = 1.8 %
    ASSERT_THAT(found, SizeIs(2));
    EXPECT_EQ(found[0].code, "calibration-expired");
    EXPECT_EQ(found[1].code, "sensitivity-drift");
    survey.recordings[0].start = "2026-03-01T08:00:00Z"; // a year to the day
    survey.sensors[0].calibrations[1].sensitivity = 10.1;
    EXPECT_THAT(sensor_histories(survey), IsEmpty());
}

// x, y, z on channels 1, 2, 3: their means and their deviations.
struct Triaxial {
    std::array<double, 3> mean{}, deviation{0.1, 0.1, 0.1};
};

std::vector<Finding> directions_of(const std::vector<Triaxial>& triaxials, Position position = Position::floor)
{
    std::vector<Recording> recordings(triaxials.size());
    std::vector<Measured> measured(triaxials.size());
    for (std::size_t i = 0; i < triaxials.size(); ++i) {
        recordings[i] = {.file = fmt::format("{}.wav", i), .space = "s", .position = position};
        recordings[i].channels = {{1, Axis::x}, {2, Axis::y}, {3, Axis::z}};
        measured[i].recording = &recordings[i];
        measured[i].pass = PassResult{};
        for (std::size_t c = 0; c < 3; ++c) {
            const double mean = triaxials[i].mean[c], deviation = triaxials[i].deviation[c];
            ChannelResult channel{.channel = static_cast<int>(c) + 1, .scan = filters::ChannelScan(rate)};
            Signal signal{mean + deviation, mean - deviation, mean + deviation, mean - deviation};
            channel.scan.add(signal.data(), signal.size(), 0, 0.0);
            measured[i].pass->channels.push_back(std::move(channel));
        }
    }
    return directions(measured);
}

TEST(Instruments, GravityTellsTheWrongAxis)
{
    const double g = 9.80665; // standard gravity [BIPM, SI brochure]
    const auto found = directions_of({{.mean = {0.0, g, 0.1}}});
    ASSERT_THAT(found, SizeIs(1));
    EXPECT_EQ(found[0].code, "wrong-axis");
    EXPECT_EQ(found[0].channel, 2);
    EXPECT_THAT(directions_of({{.mean = {0.0, 0.0, g}}}), IsEmpty());
    EXPECT_THAT(directions_of({{.mean = {0.0, 0.9 * g, 0.1}}}), IsEmpty()) << "too far from it";
    EXPECT_THAT(directions_of({{.mean = {g, 0.0, 0.0}}}, Position::bed), IsEmpty()) << "x is vertical there";
}

TEST(Instruments, GravityTellsAnotherPolarity)
{
    const double g = 9.80665; // standard gravity [BIPM, SI brochure]
    const Triaxial up{.mean = {0.0, 0.0, g}}, down{.mean = {0.0, 0.0, -g}};
    const auto found = directions_of({up, up, down});
    ASSERT_THAT(found, SizeIs(1));
    EXPECT_EQ(found[0].code, "polarity");
    EXPECT_EQ(found[0].recording, "2.wav");
    EXPECT_EQ(found[0].channel, 3);
    EXPECT_THAT(directions_of({down, down, down}), IsEmpty()) << "a convention, not a fault";
    EXPECT_THAT(directions_of({up, down}), IsEmpty()) << "nobody knows which";
}

TEST(Instruments, LevelsTellExchangedChannels)
{
    const Triaxial usual{.deviation = {0.1, 0.2, 0.8}}, exchanged{.deviation = {0.1, 0.8, 0.2}};
    const auto found = directions_of({usual, usual, usual, exchanged});
    ASSERT_THAT(found, SizeIs(1));
    EXPECT_EQ(found[0].code, "swapped-channels");
    EXPECT_EQ(found[0].recording, "3.wav");
    EXPECT_THAT(found[0].message, HasSubstr("levels of y and z"));
    EXPECT_THAT(directions_of({usual, exchanged}), IsEmpty()) << "two tell nothing";
    const Triaxial louder{.deviation = {0.3, 0.7, 2.4}};
    EXPECT_THAT(directions_of({usual, usual, usual, louder}), IsEmpty()) << "the same pattern, louder";
}

TEST(Instruments, CalibratorsAreReadFromASurvey)
{
    // 10 m/s2 r.m.s. at 159.2 Hz is what the calibrator gives; the sensor gives 1 % more before and 5 % more after.
    const ScratchFolder folder;
    const auto shaken = [](double factor) { return sine(factor * 10.0 * std::sqrt(2.0), 159.2, rate, 12.0); };
    wav(folder, "before.wav", 1000, {shaken(1.01)});
    wav(folder, "after.wav", 1000, {shaken(1.05)});
    Survey survey;
    survey.path = folder.path("survey.toml");
    survey.calibration_checks = {{.file = "before.wav", .sensor = "a", .when = "before"},
                                 {.file = "after.wav", .sensor = "a", .when = "after", .scale = 2.0, .amplitude = 20.0},
                                 {.file = "none.wav", .sensor = "a", .when = "after"},
                                 {.file = "after.wav", .sensor = "b", .channel = 2, .when = "after"}};
    const auto found = calibration_checks(survey);
    ASSERT_THAT(found, SizeIs(5));
    EXPECT_EQ(found[0].code, "calibration-check");
    EXPECT_EQ(found[0].severity, Severity::note);
    EXPECT_THAT(found[0].message, HasSubstr("(+1.00 %)"));
    EXPECT_THAT(found[0].message, HasSubstr("scale = 0.990")) << "1 / 1.01";
    EXPECT_EQ(found[1].code, "calibration-off");
    EXPECT_THAT(found[1].message, HasSubstr("(+5.00 %, more than the 3 % allowed)"));
    EXPECT_EQ(found[2].code, "calibration-drift");
    EXPECT_THAT(found[2].message, HasSubstr("+3.96 %")) << "1.05 / 1.01";
    EXPECT_EQ(found[3].code, "calibration-off");
    EXPECT_EQ(found[3].recording, "none.wav");
    EXPECT_THAT(found[3].message, HasSubstr("there is no such file"));
    EXPECT_THAT(found[4].message, HasSubstr("channel 2 is asked for, but the recording has 1"));
}

TEST(Fitness, LeavesTheRunInOutOnlyWhereThereIsEnoughLeft)
{
    // 2 / f1, whole seconds up (common practice, no source): Wk 2 / 0.4, Wf 2 / 0.08, Wm 2 / 0.794.
    EXPECT_EQ(run_in_for(WeightingId::Wk, 60.0), 5.0);
    EXPECT_EQ(run_in_for(WeightingId::Wf, 600.0), 25.0);
    EXPECT_EQ(run_in_for(WeightingId::Wm, 60.0), 3.0);
    EXPECT_EQ(run_in_for(WeightingId::none, 60.0), 0.0);
    EXPECT_EQ(run_in_for(WeightingId::Wk, 20.0), 5.0);
    EXPECT_EQ(run_in_for(WeightingId::Wk, 19.9), 0.0);
}

} // namespace
} // namespace becalm::evaluators
