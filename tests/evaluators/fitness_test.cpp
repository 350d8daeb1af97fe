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
#include "evaluators/noise_floor.h"

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
    const auto line = line_of(signal, rate, 159.2);
    ASSERT_TRUE(line);
    EXPECT_NEAR(line->rms, 10.0, 0.002);
    EXPECT_NEAR(line->hz, 159.2 * 1.003, 0.001);
    EXPECT_FALSE(line_of(signal, 300.0, 159.2)) << "below twice the frequency";
    EXPECT_FALSE(line_of(Signal(100, 0.1), rate, 159.2)) << "16 periods";
    // Recorded at 1024 Hz and said to be 1000 Hz, or half the rate: the line is looked for where that puts it.
    for (const double factor : {1000.0 / 1024.0, 0.55, 1.9}) {
        const auto elsewhere = line_of(sine(10.0 * std::sqrt(2.0), 159.2 * factor, rate, 12.0), rate, 159.2);
        ASSERT_TRUE(elsewhere);
        EXPECT_NEAR(elsewhere->hz, 159.2 * factor, 0.001);
        EXPECT_NEAR(elsewhere->rms, 10.0, 0.002);
    }
    const auto none = line_of(noise(12'000, 5), rate, 159.2);
    ASSERT_TRUE(none);
    EXPECT_LT(none->rms, 0.1) << "noise has no line";
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
    const CalibratorChecks checked = calibration_checks(survey);
    const auto& found = checked.findings;
    ASSERT_THAT(found, SizeIs(5));
    ASSERT_EQ(checked.drift_percent.size(), 1U) << "of b there is one alone";
    EXPECT_NEAR(checked.drift_percent.at("a"), 100.0 * (1.05 / 1.01 - 1.0), 0.01);
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

TEST(Instruments, ACalibratorTellsAWrongRate)
{
    // Sampled at 1024 Hz, told as 1000 Hz: 159.2 Hz appears at 155.47 Hz. Computed from the definition.
    const ScratchFolder folder;
    wav(folder, "before.wav", 1000, {sine(10.0 * std::sqrt(2.0), 159.2, 1024.0, 12.0)});
    Survey survey;
    survey.path = folder.path("survey.toml");
    survey.calibration_checks = {{.file = "before.wav", .sensor = "a", .when = "before"}};
    const auto found = calibration_checks(survey).findings;
    ASSERT_THAT(found, SizeIs(2));
    EXPECT_EQ(found[0].code, "rate-off");
    EXPECT_THAT(found[0].message, HasSubstr("the rate of the recorder is 1024 Hz and not the 1000 Hz of the file"));
    EXPECT_EQ(found[1].code, "calibration-check") << "its amplitude stands";
}

TEST(Instruments, TimesOfAFileAreHeldAgainstItsRate)
{
    io::RecordingInfo info{.rate_hz = 1000.0, .frames = 60'000};
    const auto found = [&](io::TimedRate timed) {
        info.timed_rate = std::move(timed);
        return timings("a.txt", info);
    };
    EXPECT_THAT(found({}), IsEmpty()) << "no times";
    EXPECT_THAT(found({1000.05, 1e-6, "its time column"}), IsEmpty()) << "0.005 %: a clock";
    EXPECT_THAT(found({1001.0, 1e-3, "its time column"}), IsEmpty()) << "0.1 %, known to 0.1 %";
    const Finding finding = only(found({1001.0, 1e-5, "its time column"}));
    EXPECT_EQ(finding.code, "rate-off");
    EXPECT_EQ(finding.severity, Severity::caution);
    EXPECT_THAT(finding.message, HasSubstr("by its time column it runs at 1001 Hz, where the file states 1000 Hz"));
    EXPECT_THAT(finding.message, HasSubstr("-0.1 %"));
    info.gaps = {{-2.5, 2.5}, {60.0, 12.25}};
    const auto gaps = found({});
    ASSERT_THAT(gaps, SizeIs(2));
    EXPECT_EQ(gaps[0].code, "time-gap");
    EXPECT_THAT(gaps[0].message, HasSubstr("before its start 2.5 s are missing"));
    EXPECT_THAT(gaps[1].message, HasSubstr("behind its end 12.25 s are missing"));
    EXPECT_EQ(gaps[1].from_s, 60.0);
}

// 17 + 288 2^14 + 2 2^29 + 1 2^34 + 12345 2^40, the least byte first; the layout is from memory of IEEE 1451.4.
constexpr auto sheet_of_12345 = "11 00 48 40 04 39 30 00";

TEST(Instruments, DataSheetsAreHeldAgainstTheRegister)
{
    const ScratchFolder folder;
    folder.file("c.ted", std::string("\x11\x00\x48\x40\x04\x39\x30\x00", 8)); // the same as bytes
    folder.file("d.ted", std::string(sheet_of_12345) + "\n");
    folder.file("e.ted", "nothing of the kind");
    Survey survey;
    survey.path = folder.path("survey.toml");
    survey.sensors = {{.id = "a", .serial = "0012345", .teds = sheet_of_12345},
                      {.id = "b", .serial = "77", .teds = sheet_of_12345},
                      {.id = "c", .teds = "c.ted"},
                      {.id = "d", .serial = "78", .teds = "d.ted"},
                      {.id = "e", .teds = "none.ted"},
                      {.id = "f", .teds = "11 00"}};
    const auto found = sensor_sheets(survey);
    ASSERT_THAT(found, SizeIs(4));
    EXPECT_EQ(found[0].code, "sensor-mix-up");
    EXPECT_THAT(found[0].message, HasSubstr("sensor b has the serial number 77 in the survey and 12345"));
    EXPECT_THAT(found[1].message, HasSubstr("sensor d has the serial number 78"));
    EXPECT_EQ(found[2].code, "data-sheet");
    EXPECT_THAT(found[2].message, HasSubstr("sensor e cannot be used: there is no such file"));
    EXPECT_THAT(found[3].message, HasSubstr("has 2 bytes where 8 are needed"));
    // A sensor without a serial number in the survey is known by its sheet.
    const auto mixed =
        sensor_mix_ups(survey, {.file = "r.wav", .sensor = "c", .channels = {{1, Axis::z}, {2, Axis::x}}},
                       {.facts = {{.serial = "12345"}, {.serial = "77"}}});
    ASSERT_THAT(mixed, SizeIs(1));
    EXPECT_THAT(mixed[0].message, HasSubstr("channel 2 is of serial number 77, which is sensor b"));
}

TEST(Instruments, SensitivitiesAreHeldAgainstTheRegister)
{
    Survey survey;
    survey.sensors = {{.id = "a", .sensitivity = 100.0, .sensitivity_unit = "mV/g", .uncertainty_percent = 2.0}};
    const auto found = [&](const std::string& stated) {
        return sensor_mix_ups(survey, {.file = "r.wav", .sensor = "a", .channels = {{1, Axis::z}}},
                              {.facts = {{.sensitivity = stated}}});
    };
    // 100 mV/g = 10.197 mV/(m/s2), g = 9.80665 m/s2.
    EXPECT_THAT(found("10,2 mV/(m/s²)"), IsEmpty());
    EXPECT_THAT(found("28.8 V/(m/s)"), IsEmpty()) << "another kind of sensor cannot be compared";
    EXPECT_THAT(found("some"), IsEmpty());
    EXPECT_EQ(only(found("0.0105 V/(m/s2)")).code, "sensitivity-differs");
    EXPECT_THAT(only(found("0.0105 V/(m/s2)")).message, HasSubstr("+3 %"));
}

TEST(Fitness, HumOfTheMainsTellsAWrongRate)
{
    // Lines of 50 Hz and its harmonics, as they lie where 1024 samples a second are taken for 1000: 48.83 Hz.
    const auto found = [](double hz) {
        PassResult pass = pass_of(live());
        pass.info.rate_hz = 1000.0;
        ChannelSpectra spectra{.resolution_hz = 0.0625, .rate_hz = rate};
        SpectralRow row{.from_s = 0.0, .to_s = 16.0, .segments = 1};
        for (int k = 0; k <= 4000; ++k) {
            double density = 1e-6;
            for (int order = 1; order <= 5; ++order)
                density += 1e-3 * std::exp(-std::pow((0.0625 * k - order * hz) / 0.08, 2.0));
            row.density.push_back(static_cast<float>(density));
        }
        spectra.rows = {row};
        pass.channels[0].spectra = std::move(spectra);
        return fitness("a.wav", pass, Motion::acceleration, all);
    };
    EXPECT_EQ(only(found(50.0)).code, "mains-hum");
    const Finding finding = only(found(50.0 * 1000.0 / 1024.0));
    EXPECT_EQ(finding.code, "rate-off");
    EXPECT_EQ(finding.severity, Severity::note);
    EXPECT_THAT(finding.message, HasSubstr("lines at 48.83 Hz and its harmonics: those of the mains of 50 Hz if the "
                                           "recorder ran at 1024 Hz and not at the 1000 Hz of the file"));
    EXPECT_THAT(found(47.0), IsEmpty()) << "a machine";
}

// --- noise of the instruments ---

TEST(NoiseFloor, WhiteNoiseComesThroughAWeightingAsThePassHasIt)
{
    // The test's noise lies evenly between -1 and 1: variance 1/3, density 2/3 / rate one-sided. Without a weighting q
    // / sqrt(12) of q^2 / 12: from the definition.
    EXPECT_NEAR(weighted_white_noise(2.0 / 12.0 / 500.0, 500.0, WeightingId::none, Motion::acceleration),
                1.0 / std::sqrt(12.0), 1e-12);
    const ScratchFolder folder;
    const std::string path = wav(folder, "a.wav", 500, {noise(500 * 400, 7)});
    const std::vector<Lane> lanes{
        {1, Axis::z, WeightingId::Wk}, {1, Axis::z, WeightingId::Wm}, {1, Axis::z, WeightingId::KB}};
    const std::vector<PassRequest> requests{{.path = path, .lanes = lanes, .scale_given = true, .hash = false}};
    const auto passes = run_passes(requests);
    ASSERT_TRUE(passes[0]);
    for (const LaneResult& lane : passes[0]->lanes)
        EXPECT_NEAR(weighted_white_noise(2.0 / 3.0 / 500.0, 500.0, lane.lane.weighting, Motion::acceleration) /
                        std::sqrt(lane.tally.sum_squares / lane.tally.duration_s),
                    1.0, 0.02)
            << name_of(lane.lane.weighting);
}

Measured measured_of(const Recording& recording, PassResult pass)
{
    return {.recording = &recording, .pass = std::move(pass)};
}

Verdict judged_as(double value, double bound)
{
    Verdict verdict{.space = "s",
                    .criterion = "c",
                    .quantity = "weighted_rms",
                    .axis = "z",
                    .value = value,
                    .unit = "m/s2",
                    .judged = true,
                    .bands = {{.name = "low", .limit = bound}, {.name = "high"}}};
    verdict.terms = {{.axis = "z", .weighting = "none", .recordings = {"r.wav"}}};
    return verdict;
}

// A recording of r.m.s. `rms` in steps of `step`, unweighted.
PassResult stepped(double rms, double step)
{
    Signal signal = noise(60'000, 11);
    double squares = 0.0;
    for (double& x : signal) {
        x = step * std::round(std::sqrt(3.0) * rms * x / step); // it lies evenly between -1 and 1
        squares += x * x;
    }
    PassResult pass = pass_of(signal);
    pass.lanes.push_back({.lane = {3, Axis::z, WeightingId::none}});
    pass.lanes.back().tally = {.samples = signal.size(), .duration_s = 60.0, .sum_squares = squares / rate};
    return pass;
}

TEST(NoiseFloor, IsToldWhereItIsNearValueAndBound)
{
    Survey survey;
    survey.sensors = {{.id = "quiet", .noise_m_s2 = 0.001}, {.id = "noisy", .noise_m_s2 = 0.01}};
    const auto found = [&](const std::string& sensor, double rms, double step, double bound) {
        const Recording recording{.file = "r.wav", .space = "s", .sensor = sensor, .channels = {{3, Axis::z}}};
        const std::vector<Measured> measured{measured_of(recording, stepped(rms, step))};
        return noise_floors(survey, measured, std::vector{judged_as(rms, bound)});
    };
    EXPECT_THAT(found("", 0.02, 1e-5, 0.02), IsEmpty());
    EXPECT_THAT(found("quiet", 0.02, 1e-5, 0.02), IsEmpty());
    const Finding finding = only(found("noisy", 0.02, 1e-5, 0.02));
    EXPECT_EQ(finding.code, "noise-floor");
    EXPECT_EQ(finding.severity, Severity::caution);
    EXPECT_EQ(finding.channel, 3);
    EXPECT_THAT(finding.message, HasSubstr("the noise stated of sensor noisy comes to 0.01 m/s2 r.m.s."));
    EXPECT_THAT(finding.message, HasSubstr("50 % of the lowest bound of c (0.02 m/s2)"));
    EXPECT_THAT(found("noisy", 0.2, 1e-5, 0.02), IsEmpty()) << "a value far above it is none of it";
    EXPECT_THAT(found("noisy", 0.02, 1e-5, 0.2), IsEmpty()) << "a bound far above it is not reached by it";
    // Steps of 0.03: 0.03 / sqrt(12) = 0.00866 (of the definition).
    const Finding coarse = only(found("", 0.02, 0.03, 0.02));
    EXPECT_THAT(coarse.message, HasSubstr("the quantisation (steps of 0.03 m/s2) comes to 0.0087 m/s2"));
    EXPECT_EQ(coarse.severity, Severity::caution);
}

TEST(NoiseFloor, AnEvenSteadyFloorIsANote)
{
    // White noise of density 1e-6 up to 500 Hz: 0.0224 m/s2 r.m.s.; a line of 0.02 m/s2 r.m.s. lies upon it.
    Survey survey;
    survey.sensors = {{.id = "quiet", .noise_m_s2 = 0.001}, {.id = "noisy", .noise_m_s2 = 0.015}};
    const auto found = [&](double tilt, double loudest, const std::string& sensor = "") {
        const Recording recording{.file = "r.wav", .space = "s", .sensor = sensor, .channels = {{3, Axis::z}}};
        PassResult pass = stepped(0.03, 1e-7);
        ChannelSpectra spectra{.resolution_hz = 0.0625, .rate_hz = rate};
        for (int row = 0; row < 16; ++row) {
            SpectralRow& added = spectra.rows.emplace_back();
            for (int k = 0; k <= 4000; ++k)
                added.density.push_back(
                    static_cast<float>(1e-6 * std::exp(tilt * k / 4000.0) * (row == 5 || row > 12 ? loudest : 1.0)));
        }
        pass.channels[0].spectra = std::move(spectra);
        const std::vector<Measured> measured{measured_of(recording, std::move(pass))};
        return noise_floors(survey, measured, std::vector{judged_as(0.03, 0.03)});
    };
    const Finding finding = only(found(0.0, 1.0));
    EXPECT_EQ(finding.severity, Severity::note);
    EXPECT_THAT(finding.message, HasSubstr("the even, steady floor of its spectrum comes to 0.022 m/s2"));
    EXPECT_THAT(found(0.0, 2.0), IsEmpty()) << "it swells, so it is of the motion";
    EXPECT_THAT(found(1.0, 1.0), SizeIs(1)) << "from 0.4 to 0.75 of the range it rises by 1.5 dB";
    EXPECT_THAT(found(-3.0, 1.0), IsEmpty()) << "it falls by 4.6 dB";
    EXPECT_THAT(found(0.0, 1.0, "quiet"), IsEmpty()) << "known not to be noise";
    EXPECT_EQ(only(found(0.0, 1.0, "noisy")).severity, Severity::caution) << "and the floor does not hide it";
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
