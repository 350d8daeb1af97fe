#include "evaluators/instruments.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <filesystem>
#include <map>
#include <numbers>
#include <tuple>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "src/base/units.h"
#include "src/io/recording_reader.h"
#include "src/io/sensitivity.h"
#include "src/io/teds.h"

namespace becalm::evaluators {
namespace {

Finding caution(std::string code, std::string message, std::string recording = {}, std::optional<int> channel = {})
{
    return {.severity = Severity::caution,
            .code = std::move(code),
            .message = std::move(message),
            .recording = std::move(recording),
            .channel = channel};
}

// The date so many months later, ISO 8601. The day stays, whether or not that month has it: dates are compared as text.
std::string months_later(const std::string& date, double months)
{
    const int count = std::stoi(date.substr(0, 4)) * 12 + std::stoi(date.substr(5, 2)) - 1 + static_cast<int>(months);
    return fmt::format("{:04}-{:02}{}", count / 12, count % 12 + 1, date.substr(7, 3));
}

// --- directions ---

constexpr double gravity_tolerance = 0.03; // not a limit: as fitness.cpp has it: tilt of a sensor and its tolerance

bool carries_gravity(double mean) { return std::abs(std::abs(mean) / standard_gravity - 1.0) < gravity_tolerance; }

bool is_horizontal(Axis axis) { return axis == Axis::x || axis == Axis::y; }

bool may_lie(Position position) { return position == Position::bed || position == Position::head; }

class Directions {
public:
    explicit Directions(std::span<const Measured> measured) : measured_(measured) {}

    std::vector<Finding> findings()
    {
        look_at_gravity();
        look_at_exchanges();
        return std::move(findings_);
    }

private:
    void look_at_gravity()
    {
        std::vector<std::tuple<const Measured*, int, bool>> vertical; // recording, channel, upwards
        for (const Measured& one : measured_) {
            if (!one.pass || one.motion != Motion::acceleration || one.rotates) continue;
            bool on_z = false;
            for (const ChannelMapping& mapping : one.recording->channels) {
                const ChannelResult* channel = one.channel(mapping.channel);
                if (mapping.axis != Axis::z || channel == nullptr || !carries_gravity(channel->scan.mean())) continue;
                on_z = true;
                vertical.emplace_back(&one, mapping.channel, channel->scan.mean() > 0.0);
            }
            if (on_z || may_lie(one.recording->position)) continue;
            for (const ChannelMapping& mapping : one.recording->channels) {
                const ChannelResult* channel = one.channel(mapping.channel);
                if (channel == nullptr || !is_horizontal(mapping.axis) || !carries_gravity(channel->scan.mean()))
                    continue;
                findings_.push_back(caution(
                    "wrong-axis",
                    fmt::format(
                        "channel {} is said to be {}, yet it carries gravity ({:.3f} m/s2) and z does not: is it "
                        "the vertical one? correct `channels`",
                        mapping.channel, name_of(mapping.axis), channel->scan.mean()),
                    one.recording->file, mapping.channel));
            }
        }
        const auto up = std::ranges::count_if(vertical, [](const auto& entry) { return std::get<2>(entry); });
        const auto down = std::ssize(vertical) - up;
        if (up == down || up == 0 || down == 0) return;
        for (const auto& [one, channel, is_up] : vertical)
            if (is_up == (up < down))
                findings_.push_back(caution(
                    "polarity",
                    fmt::format("gravity on channel {} has another sign than on most recordings of the survey: was the "
                                "sensor upside down? values of r.m.s. stand, those of one direction do not",
                                channel),
                    one->recording->file, channel));
    }

    // dB of x, y, z about their mean.
    static std::optional<std::array<double, 3>> pattern(const Measured& one)
    {
        std::array<double, 3> level{};
        for (const Axis axis : {Axis::x, Axis::y, Axis::z}) {
            const ChannelMapping* mapping = one.mapping(axis);
            const ChannelResult* channel = mapping != nullptr ? one.channel(mapping->channel) : nullptr;
            if (channel == nullptr || one.refused.contains(mapping->channel) || channel->scan.deviation() <= 0.0)
                return std::nullopt;
            level[static_cast<std::size_t>(axis)] = 20.0 * std::log10(channel->scan.deviation());
        }
        const double mean = (level[0] + level[1] + level[2]) / 3.0;
        for (double& value : level) value -= mean;
        return level;
    }

    void look_at_exchanges()
    {
        using Place = std::tuple<std::string, Position, Motion>;
        std::map<Place, std::vector<std::pair<const Measured*, std::array<double, 3>>>> places;
        for (const Measured& one : measured_)
            if (one.pass && !one.rotates)
                if (const auto levels = pattern(one))
                    places[{one.recording->space, one.recording->position, one.motion}].emplace_back(&one, *levels);
        for (const auto& [place, entries] : places) {
            if (entries.size() < 3) continue;
            for (const auto& [one, levels] : entries) look_at_exchange(*one, levels, entries);
        }
    }

    template <class Entries>
    void look_at_exchange(const Measured& one, const std::array<double, 3>& levels, const Entries& entries)
    {
        std::array<double, 3> usual{};
        double scatter = 0.0;
        const auto others = static_cast<double>(entries.size() - 1);
        for (const auto& [other, theirs] : entries)
            for (std::size_t a = 0; a < 3; ++a)
                if (other != &one) usual[a] += theirs[a] / others;
        for (const auto& [other, theirs] : entries)
            for (std::size_t a = 0; a < 3; ++a)
                if (other != &one) scatter += (theirs[a] - usual[a]) * (theirs[a] - usual[a]) / others;
        const auto misfit = [&](std::array<double, 3> candidate) {
            double sum = 0.0;
            for (std::size_t a = 0; a < 3; ++a) sum += (candidate[a] - usual[a]) * (candidate[a] - usual[a]);
            return sum;
        };
        const double as_it_is = misfit(levels);
        constexpr double least = 36.0, times = 4.0; // dB^2
        for (const auto& [first, second] : {std::pair<std::size_t, std::size_t>{0, 1}, {0, 2}, {1, 2}}) {
            std::array<double, 3> exchanged = levels;
            std::swap(exchanged[first], exchanged[second]);
            if (as_it_is < least || as_it_is < times * misfit(exchanged) || as_it_is < times * scatter) continue;
            const Axis a = first == 0 ? Axis::x : Axis::y, b = second == 1 ? Axis::y : Axis::z;
            findings_.push_back(
                caution("swapped-channels",
                        fmt::format("the levels of {} and {} are the other way round than in the other recordings of "
                                    "space {}: were the two channels exchanged?",
                                    name_of(a), name_of(b), one.recording->space),
                        one.recording->file, one.mapping(a)->channel));
            return;
        }
    }

    std::span<const Measured> measured_;
    std::vector<Finding> findings_;
};

// --- calibrators ---

Result<std::vector<double>> samples_of(const std::string& path, const CalibrationCheck& check, double& rate_hz)
{
    auto reader = io::open_recording(path);
    if (!reader) return tl::unexpected(reader.error());
    const io::RecordingInfo& info = (*reader)->info();
    rate_hz = info.rate_hz;
    if (check.channel > info.channels)
        return fail(
            {.file = path,
             .what = fmt::format("channel {} is asked for, but the recording has {}", check.channel, info.channels),
             .remedy = "correct `channel`"});
    if (info.integer_pcm && !check.scale)
        return fail({.file = path,
                     .what = "its samples are integers, not a physical quantity",
                     .remedy = "add `scale` to its [[calibration_check]], the one that the recordings use"});
    const auto width = static_cast<std::size_t>(info.channels);
    const auto wanted = std::min<std::int64_t>(info.frames, std::llround(10.0 * info.rate_hz));
    if (const auto sought = (*reader)->seek((info.frames - wanted) / 2); !sought) return tl::unexpected(sought.error());
    std::vector<double> values(4096 * width), samples;
    const double to_si = unit_named(check.unit)->to_si * check.scale.value_or(1.0);
    while (static_cast<std::int64_t>(samples.size()) < wanted) {
        const Result<std::size_t> got = (*reader)->read(values);
        if (!got) return tl::unexpected(got.error());
        if (*got == 0) break;
        for (std::size_t i = 0; i < *got && static_cast<std::int64_t>(samples.size()) < wanted; ++i)
            samples.push_back(values[i * width + static_cast<std::size_t>(check.channel - 1)] * to_si);
    }
    return samples;
}

// Fourier sums of samples under a Hann window, their mean taken away.
class HannSum {
public:
    HannSum(std::span<const double> samples, double rate_hz)
        : rate_hz_(rate_hz), n_(static_cast<double>(samples.size())), windowed_(samples.size())
    {
        double mean = 0.0, squares = 0.0;
        for (const double value : samples) mean += value / n_;
        for (std::size_t i = 0; i < samples.size(); ++i) {
            const double value = samples[i] - mean;
            squares += value * value;
            windowed_[i] =
                value * (1.0 - std::cos(2.0 * std::numbers::pi * (static_cast<double>(i) + 0.5) / n_)); // sums to n
        }
        deviation_ = std::sqrt(squares / n_);
    }

    double deviation() const { return deviation_; }

    CalibratorLine line_near(double hz, double within) const
    {
        const double grid = 0.5 * rate_hz_ / n_; // half a bin
        double best_hz = hz, best = amplitude(hz);
        for (double at = hz - within; at <= hz + within; at += grid)
            if (const double here = amplitude(at); here > best) {
                best = here;
                best_hz = at;
            }
        // The top of the lobe, by halving the step towards the greater neighbour.
        for (double step = 0.5 * grid; step > 1e-4 * grid; step *= 0.5)
            for (const double at : {best_hz - step, best_hz + step})
                if (const double here = amplitude(at); here > best) {
                    best = here;
                    best_hz = at;
                }
        return {.rms = best / std::numbers::sqrt2, .hz = best_hz};
    }

private:
    double amplitude(double hz) const
    {
        const std::complex<double> step = std::polar(1.0, -2.0 * std::numbers::pi * hz / rate_hz_);
        std::complex<double> turn = 1.0, sum = 0.0;
        for (const double value : windowed_) {
            sum += value * turn;
            turn *= step;
        }
        return 2.0 * std::abs(sum) / n_;
    }

    double rate_hz_, n_, deviation_ = 0.0;
    std::vector<double> windowed_;
};

std::string in_folder_of(const Survey& survey, const std::string& file)
{
    const std::filesystem::path path(file);
    return path.is_absolute() ? file : (std::filesystem::path(survey.path).parent_path() / path).string();
}

// --- data sheets ---

// Of a text that is no hexadecimal digits throughout: the file of that name in the survey's folder, as hexadecimal text
// or as bytes.
Result<io::BasicTeds> sheet_of(const Survey& survey, const Sensor& sensor)
{
    const bool is_hex = sensor.teds.find_first_not_of("0123456789abcdefABCDEFxX :-\t") == std::string::npos;
    if (is_hex) return io::basic_teds(sensor.teds);
    return io::teds_in_file(in_folder_of(survey, sensor.teds));
}

// As it is matched: the survey's, else that of the data sheet; empty where there is none.
std::string serial_of(const Survey& survey, const Sensor& sensor)
{
    if (!sensor.serial.empty() || sensor.teds.empty()) return sensor.serial;
    const auto sheet = sheet_of(survey, sensor);
    return sheet ? fmt::format("{}", sheet->serial) : std::string();
}

// A data sheet holds a number, which people write with leading zeros.
bool is_same_serial(std::string_view a, std::string_view b)
{
    const auto without_zeros = [](std::string_view text) {
        if (text.empty() || text.find_first_not_of("0123456789") != std::string_view::npos) return text;
        return text.substr(std::min(text.find_first_not_of('0'), text.size() - 1));
    };
    return without_zeros(a) == without_zeros(b);
}

// Where file and survey state a voltage over the same kind of motion and they differ by more than the calibration's
// uncertainty, or 1 % (common practice, no source).
std::optional<Finding> differing_sensitivity(const Sensor& sensor, const Recording& recording, int channel,
                                             const io::ChannelFacts& facts)
{
    const Calibration held = calibration_on(sensor, recording.start);
    if (facts.sensitivity.empty() || !held.sensitivity || sensor.sensitivity_unit.empty()) return std::nullopt;
    const auto stated = io::sensitivity_in(facts.sensitivity);
    const auto known = io::sensitivity_in(fmt::format("{} {}", *held.sensitivity, sensor.sensitivity_unit));
    if (!stated || !known) return std::nullopt;
    const auto stated_of = unit_named(stated->unit), known_of = unit_named(known->unit);
    if (stated_of->motion != known_of->motion || stated_of->rotates != known_of->rotates) return std::nullopt;
    const double off = 100.0 * (stated->volts / stated_of->to_si / (known->volts / known_of->to_si) - 1.0);
    if (std::abs(off) <= std::max(1.0, held.uncertainty_percent.value_or(0.0))) return std::nullopt;
    return caution("sensitivity-differs",
                   fmt::format("the file says that channel {} has a sensitivity of {}, {:+.2g} % from the {:.6g} {} of "
                               "sensor {} in the survey; find out which one made the values",
                               channel, facts.sensitivity, off, *held.sensitivity, sensor.sensitivity_unit, sensor.id),
                   recording.file, channel);
}

} // namespace

std::vector<Finding> sensor_histories(const Survey& survey)
{
    std::vector<Finding> findings;
    for (const Sensor& sensor : survey.sensors) {
        if (sensor.calibration_valid_months) {
            std::string worst, last;
            for (const Recording& recording : survey.recordings) {
                if (recording.sensor != sensor.id || recording.start.size() < 10) continue;
                const Calibration held = calibration_on(sensor, recording.start);
                if (held.date.size() < 10) continue;
                const std::string until = months_later(held.date, *sensor.calibration_valid_months);
                if (recording.start.substr(0, 10) <= until) continue;
                worst = std::max(worst, recording.start.substr(0, 10));
                last = held.date.substr(0, 10);
            }
            if (!worst.empty())
                findings.push_back(caution(
                    "calibration-expired",
                    fmt::format(
                        "sensor {} was out of calibration on {}: calibrated {}, valid for {:.4g} months; have it "
                        "calibrated and see whether its sensitivity has changed",
                        sensor.id, worst, last, *sensor.calibration_valid_months)));
        }
        for (std::size_t i = 1; i < sensor.calibrations.size(); ++i) {
            const Calibration &before = sensor.calibrations[i - 1], &after = sensor.calibrations[i];
            if (!before.sensitivity || !after.sensitivity) continue;
            const auto uncertainty = [&](const Calibration& one) {
                return one.uncertainty_percent.value_or(sensor.uncertainty_percent.value_or(0.0));
            };
            const double change = 100.0 * (*after.sensitivity / *before.sensitivity - 1.0);
            const double both = std::hypot(uncertainty(before), uncertainty(after));
            if (both == 0.0 || std::abs(change) <= both) continue;
            findings.push_back(caution(
                "sensitivity-drift",
                fmt::format("the sensitivity of sensor {} changed by {:+.2g} % from {} to {}, more than the "
                            "uncertainty of both calibrations ({:.2g} %); what was measured between them may be "
                            "off by as much",
                            sensor.id, change, before.date, after.date, both)));
        }
    }
    return findings;
}

std::vector<Finding> sensor_sheets(const Survey& survey)
{
    std::vector<Finding> findings;
    for (const Sensor& sensor : survey.sensors) {
        if (sensor.teds.empty()) continue;
        const auto sheet = sheet_of(survey, sensor);
        if (!sheet)
            findings.push_back(caution("data-sheet", fmt::format("the data sheet of sensor {} cannot be used: {}; {}",
                                                                 sensor.id, sheet.error().what, sheet.error().remedy)));
        else if (const std::string serial = fmt::format("{}", sheet->serial);
                 !sensor.serial.empty() && !is_same_serial(sensor.serial, serial))
            findings.push_back(
                caution("sensor-mix-up", fmt::format("sensor {} has the serial number {} in the survey and {} in its "
                                                     "data sheet; correct one of them",
                                                     sensor.id, sensor.serial, serial)));
    }
    return findings;
}

std::vector<Finding> sensor_mix_ups(const Survey& survey, const Recording& recording, const io::RecordingInfo& info)
{
    std::vector<Finding> findings;
    const Sensor* named = survey.sensor(recording.sensor);
    if (named == nullptr) return findings;
    const std::string known = serial_of(survey, *named);
    for (const ChannelMapping& mapping : recording.channels) {
        const auto at = static_cast<std::size_t>(mapping.channel - 1);
        if (at >= info.facts.size()) continue;
        const io::ChannelFacts& facts = info.facts[at];
        if (auto finding = differing_sensitivity(*named, recording, mapping.channel, facts))
            findings.push_back(std::move(*finding));
        const std::string& serial = facts.serial;
        if (known.empty() || serial.empty() || is_same_serial(serial, known)) continue;
        const auto owner = std::ranges::find_if(survey.sensors, [&](const Sensor& sensor) {
            const std::string theirs = serial_of(survey, sensor);
            return !theirs.empty() && is_same_serial(theirs, serial);
        });
        findings.push_back(caution(
            "sensor-mix-up",
            owner != survey.sensors.end()
                ? fmt::format("the file says that channel {} is of serial number {}, which is sensor {}, where the "
                              "survey names {} ({}): were they mixed up?",
                              mapping.channel, serial, owner->id, named->id, known)
                : fmt::format("the file says that channel {} is of serial number {}, which no sensor of the survey has "
                              "({} has {}); correct the serial number or the sensor",
                              mapping.channel, serial, named->id, known),
            recording.file, mapping.channel));
    }
    return findings;
}

std::vector<std::string> statements_of(const io::RecordingInfo& info)
{
    std::vector<std::string> told;
    for (std::size_t c = 0; c < info.facts.size(); ++c) {
        const io::ChannelFacts& facts = info.facts[c];
        std::vector<std::string> said;
        const auto add = [&](std::string_view what, const std::string& text) {
            if (!text.empty()) said.push_back(fmt::format("{} {}", what, text));
        };
        add("sensor", facts.sensor);
        add("serial number", facts.serial);
        add("sensitivity", facts.sensitivity);
        add("calibrated", facts.calibrated);
        add("direction", facts.direction);
        if (!said.empty()) told.push_back(fmt::format("the file says of channel {}: {}", c + 1, fmt::join(said, ", ")));
    }
    for (const std::string& remark : info.remarks) told.push_back("the file says: " + remark);
    return told;
}

std::vector<Finding> timings(const std::string& recording, const io::RecordingInfo& info)
{
    std::vector<Finding> findings;
    constexpr double of_clocks = 1e-4; // clocks of recorders are better (common practice, no source)
    const io::TimedRate& timed = info.timed_rate;
    if (timed.hz > 0.0) {
        const double off = info.rate_hz / timed.hz - 1.0;
        if (std::abs(off) > std::max(of_clocks, 2.0 * timed.relative))
            findings.push_back(
                caution("rate-off",
                        fmt::format("by {} it runs at {:.9g} Hz, where the file states {:.9g} Hz, which is taken: "
                                    "frequencies are wrong by {:+.2g} % if the times are right; look at the clock and "
                                    "the settings of the recorder",
                                    timed.by, timed.hz, info.rate_hz, 100.0 * off),
                        recording));
    }
    const double lasts_s = static_cast<double>(info.frames) / info.rate_hz;
    for (const io::TimeGap& gap : info.gaps) {
        Finding& finding = findings.emplace_back(Finding{
            .severity = Severity::note,
            .code = "time-gap",
            .message =
                fmt::format("{} {:.6g} s are missing, {}; the file's other stretches are recordings of their own",
                            gap.at_s < 0.0 ? "before its start" : "behind its end", gap.lasts_s,
                            gap.at_s < 0.0 ? "behind which it begins" : "before the file goes on"),
            .recording = recording});
        finding.from_s = gap.at_s < 0.0 ? 0.0 : std::min(gap.at_s, lasts_s);
    }
    return findings;
}

std::vector<Finding> directions(std::span<const Measured> measured) { return Directions(measured).findings(); }

Result<CalibratorLine> line_of(std::span<const double> samples, double rate_hz, double hz)
{
    constexpr double least_rate = 2.5, search = 0.02; // not a limit: shares of the frequency
    constexpr double least_periods = 20.0;
    if (rate_hz < least_rate * hz)
        return fail({.what = fmt::format("a rate of {:.6g} Hz is too low for a calibrator of {:.6g} Hz", rate_hz, hz),
                     .remedy = fmt::format("record it at {:.0f} Hz at least", std::ceil(least_rate * hz))});
    const auto n = static_cast<double>(samples.size());
    if (n * hz < least_periods * rate_hz)
        return fail({.what = fmt::format("{:.3g} s are too short for a calibrator of {:.6g} Hz", n / rate_hz, hz),
                     .remedy = "record it longer"});
    const HannSum whole(samples, rate_hz);
    CalibratorLine line = whole.line_near(hz, search * hz);
    // A line that holds less than half of what is there (in r.m.s.) is not that of a calibrator: a wrong rate puts it
    // elsewhere. One second tells where.
    constexpr double half = 0.5, most = 0.7; // not a limit: shares of the r.m.s.
    if (line.rms >= half * whole.deviation()) return line;
    const auto second = std::min(samples.size(), static_cast<std::size_t>(std::max(rate_hz, 40.0 * rate_hz / hz)));
    const HannSum part(samples.first(second), rate_hz);
    const double lowest = 0.5 * hz, highest = std::min(2.0 * hz, 0.5 * rate_hz); // above, it would be seen twice
    const CalibratorLine coarse = part.line_near(0.5 * (lowest + highest), 0.5 * (highest - lowest));
    const CalibratorLine elsewhere = whole.line_near(coarse.hz, rate_hz / static_cast<double>(second));
    return elsewhere.rms >= most * whole.deviation() ? elsewhere : line;
}

CalibratorChecks calibration_checks(const Survey& survey)
{
    CalibratorChecks checked;
    std::map<std::pair<std::string, int>, std::map<std::string, double>> ratios; // sensor, channel → when → ratio
    for (const CalibrationCheck& check : survey.calibration_checks) {
        double rate_hz = 0.0;
        const auto samples = samples_of(in_folder_of(survey, check.file), check, rate_hz);
        const Result<CalibratorLine> line =
            samples ? line_of(*samples, rate_hz, check.hz) : Result<CalibratorLine>(tl::unexpected(samples.error()));
        if (!line || !(line->rms > 0.0)) {
            checked.findings.push_back(
                caution("calibration-off",
                        line ? fmt::format("the calibrator's line at {:.6g} Hz is not there", check.hz)
                             : fmt::format("the calibrator's recording cannot be evaluated: {}; {}", line.error().what,
                                           line.error().remedy),
                        check.file, check.channel));
            continue;
        }
        constexpr double holds_its_frequency = 0.01; // not a limit: of calibrators, common practice, no source
        if (std::abs(line->hz / check.hz - 1.0) > holds_its_frequency)
            checked.findings.push_back(caution(
                "rate-off",
                fmt::format("the calibrator's line lies at {:.5g} Hz where it gives {:.5g} Hz: with that the rate of "
                            "the recorder is {:.5g} Hz and not the {:.6g} Hz of the file, and every frequency of its "
                            "recordings is wrong by {:+.2g} %; look at its settings and `hz` of the check",
                            line->hz, check.hz, rate_hz * check.hz / line->hz, rate_hz,
                            100.0 * (line->hz / check.hz - 1.0)),
                check.file, check.channel));
        const double ratio = line->rms / check.amplitude;
        ratios[{check.sensor, check.channel}][check.when] = ratio;
        const double deviation = 100.0 * (ratio - 1.0);
        const bool off = std::abs(deviation) > check.tolerance_percent;
        checked.findings.push_back(
            {.severity = off ? Severity::caution : Severity::note,
             .code = off ? "calibration-off" : "calibration-check",
             .message =
                 fmt::format("sensor {} {} the measurement: {:.4g} m/s2 r.m.s. at {:.6g} Hz where the calibrator "
                             "gives {:.4g} ({:+.2f} %{}); scale = {:.6g} would bring it there",
                             check.sensor, check.when, line->rms, check.hz, check.amplitude, deviation,
                             off ? fmt::format(", more than the {:.4g} % allowed", check.tolerance_percent) : "",
                             check.scale.value_or(1.0) / ratio),
             .recording = check.file,
             .channel = check.channel});
        const auto& both = ratios[{check.sensor, check.channel}];
        if (!both.contains("before") || !both.contains("after")) continue;
        const double drift = 100.0 * (both.at("after") / both.at("before") - 1.0);
        double& greatest = checked.drift_percent[check.sensor];
        if (std::abs(drift) > std::abs(greatest)) greatest = drift;
        if (std::abs(drift) > check.tolerance_percent)
            checked.findings.push_back(caution(
                "calibration-drift",
                fmt::format("sensor {} changed by {:+.2f} % from before to after the measurement, more than the "
                            "{:.4g} % allowed; every value it gave is uncertain by as much",
                            check.sensor, drift, check.tolerance_percent),
                check.file, check.channel));
    }
    return checked;
}

} // namespace becalm::evaluators
