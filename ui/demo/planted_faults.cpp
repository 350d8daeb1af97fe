#include "ui/demo/planted_faults.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <memory>
#include <optional>
#include <random>
#include <span>
#include <string_view>
#include <unistd.h>
#include <vector>

#include <fmt/format.h>

#include "evaluators/fitness.h"
#include "evaluators/pass.h"
#include "src/io/audio_writer.h"
#include "ui/demo/synthesis.h"

namespace becalm::demo {
namespace {

namespace fs = std::filesystem;

constexpr int seconds = 24;
constexpr std::size_t axes = 3;
constexpr std::size_t recordings_at_once = 25;

// Numbers of a recording, the same on every platform (std::uniform_real_distribution is not).
class Dice {
public:
    explicit Dice(std::uint64_t seed) : generator_(seed) {}
    double fraction() { return static_cast<double>(generator_() >> 11) * 0x1p-53; }
    double between(double low, double high) { return low + (high - low) * fraction(); }
    // Of equal chance a factor, not a difference.
    double about(double low, double high)
    {
        // 2^t by squaring: pow() differs between libraries in its last digit.
        double value = low;
        const double ratio = high / low;
        double root = ratio;
        double t = fraction();
        for (int bit = 0; bit < 24; ++bit) {
            root = std::sqrt(root);
            t *= 2.0;
            if (t >= 1.0) {
                value *= root;
                t -= 1.0;
            }
        }
        return value;
    }
    std::size_t one_of(std::size_t count) { return static_cast<std::size_t>(generator_() % count); }
    std::uint64_t seed() { return generator_(); }

private:
    std::mt19937_64 generator_;
};

using Channel = std::vector<double>;

struct Recorded {
    int rate_hz = 1000;
    std::vector<Channel> channels = {};
    bool integers = false;   // of 24 bits
    double full_scale = 1.0; // where integers
};

// --- what is measured ---

struct Scenery {
    std::string_view name;
    Scene (*scene)(Dice& dice, int rate_hz);
};

void add_sensor_noise(Scene& scene, Dice& dice, int rate_hz)
{
    const double rms = dice.about(0.05, 0.3);
    scene.bands.push_back({.hz = 0.25 * rate_hz, .width_hz = 0.2 * rate_hz, .rms = {rms, rms, rms}});
}

Scene hull(Dice& dice, int rate_hz)
{
    Scene scene;
    const double shaft = dice.between(1.3, 2.6), engine = dice.between(6.0, 10.5);
    scene.clocks = {{shaft, 0.003}, {engine, 0.002}};
    const double size = dice.about(2.0, 20.0);
    scene.tones = {{0, 4.0, {0.4 * size, 0.5 * size, size}},
                   {0, 8.0, {0.1 * size, 0.2 * size, 0.3 * size}},
                   {1, 1.0, {0.2 * size, 0.2 * size, 0.4 * size}},
                   {1, 2.5, {0.1 * size, 0.1 * size, 0.2 * size}}};
    scene.bands = {{dice.between(12.0, 30.0), 15.0, {0.3 * size, 0.3 * size, 0.4 * size}},
                   {dice.between(0.1, 0.15), 0.04, {2.0 * size, 2.0 * size, 4.0 * size}}};
    add_sensor_noise(scene, dice, rate_hz);
    return scene;
}

Scene footfall(Dice& dice, int rate_hz)
{
    Scene scene;
    const double pace = dice.between(1.6, 2.2), hz = dice.between(5.0, 14.0), size = dice.about(10.0, 80.0);
    for (double at = dice.between(0.5, 3.0); at < seconds - 2.0; at += dice.between(0.95, 1.05) / pace)
        scene.bangs.push_back({at, hz, dice.between(0.15, 0.5), {0.2 * size, 0.2 * size, size}});
    scene.bands = {{hz, 3.0, {1.0, 1.0, 3.0}}, {dice.between(20.0, 45.0), 25.0, {0.8, 0.8, 1.2}}};
    add_sensor_noise(scene, dice, rate_hz);
    return scene;
}

Scene passage(Dice& dice, int rate_hz)
{
    Scene scene;
    const double size = dice.about(15.0, 80.0), from = dice.between(2.0, 6.0), to = dice.between(14.0, 20.0);
    scene.bands = {{dice.between(15.0, 30.0), 20.0, {0.6 * size, 0.6 * size, size}, from, to},
                   {dice.between(6.0, 15.0), 8.0, {0.4 * size, 0.5 * size, 0.5 * size}, from, to},
                   {dice.between(8.0, 20.0), 20.0, {1.0, 1.0, 1.5}}};
    add_sensor_noise(scene, dice, rate_hz);
    return scene;
}

Scene bangs(Dice& dice, int rate_hz)
{
    Scene scene;
    const std::size_t count = 3 + dice.one_of(6);
    for (std::size_t i = 0; i < count; ++i) {
        const double size = dice.about(30.0, 400.0);
        scene.bangs.push_back({dice.between(1.0, seconds - 2.0),
                               dice.between(8.0, 40.0),
                               dice.between(0.1, 0.6),
                               {0.5 * size, 0.4 * size, size}});
    }
    scene.bands = {{dice.between(10.0, 25.0), 20.0, {2.0, 2.0, 3.0}}};
    add_sensor_noise(scene, dice, rate_hz);
    return scene;
}

constexpr std::array<Scenery, 4> sceneries{
    {{"hull", hull}, {"footfall", footfall}, {"passage", passage}, {"bangs", bangs}}};

// --- faults ---

struct Planted {
    std::size_t channel = 0;
    std::optional<double> at_s = {}; // where it has a place
};

double rms_of(const Channel& x)
{
    double sum = 0.0;
    for (const double value : x) sum += value * value;
    return std::sqrt(sum / static_cast<double>(x.size()));
}

std::size_t place_of_peak(const Channel& x)
{
    return static_cast<std::size_t>(std::ranges::max_element(x, {}, [](double value) { return std::abs(value); }) -
                                    x.begin());
}

double sine_at(double hz, double t) { return sine_of_turns(hz * t); }

using Fault = std::optional<double> (*)(Recorded&, Channel&, Dice&);

std::optional<double> clip(Recorded& recorded, Channel& x, Dice& dice)
{
    const std::size_t peak = place_of_peak(x);
    const double level = dice.between(0.25, 0.7) * std::abs(x[peak]);
    std::optional<double> first;
    for (std::size_t i = 0; i < x.size(); ++i) {
        if (std::abs(x[i]) <= level) continue;
        x[i] = std::clamp(x[i], -level, level);
        if (!first) first = static_cast<double>(i) / recorded.rate_hz;
    }
    return first;
}

// An overload before the recorder: softly by itself, or hard and then filtered.
std::optional<double> flatten(Recorded&, Channel& x, Dice& dice)
{
    const double peak = std::abs(x[place_of_peak(x)]);
    if (dice.fraction() < 0.5) {
        const double level = peak / dice.between(6.0, 12.0);
        for (double& value : x) {
            // v / (1 + v^8)^(1/8): straight up to half the level, flat from twice the level on.
            const double v = value / level, square = v * v, fourth = square * square;
            value = level * v / std::sqrt(std::sqrt(std::sqrt(1.0 + fourth * fourth)));
        }
        return {};
    }
    const double level = dice.between(0.1, 0.25) * peak;
    Channel clipped(x.size());
    for (std::size_t i = 0; i < x.size(); ++i) clipped[i] = std::clamp(x[i], -level, level);
    for (std::size_t i = 1; i + 1 < x.size(); ++i)
        x[i] = 0.25 * clipped[i - 1] + 0.5 * clipped[i] + 0.25 * clipped[i + 1] + 1e-5 * x[i];
    return {};
}

std::optional<double> drop_out(Recorded& recorded, Channel& x, Dice& dice)
{
    const auto length = static_cast<std::size_t>(dice.between(0.12, 2.0) * recorded.rate_hz);
    const auto from = static_cast<std::size_t>(dice.between(0.1, 0.85) * static_cast<double>(x.size()));
    const double held = dice.fraction() < 0.5 ? 0.0 : x[from];
    for (std::size_t i = from; i < from + length; ++i) x[i] = held;
    return static_cast<double>(from) / recorded.rate_hz;
}

std::optional<double> spike(Recorded& recorded, Channel& x, Dice& dice)
{
    const double peak = std::abs(x[place_of_peak(x)]);
    const std::size_t count = 1 + dice.one_of(3);
    std::optional<double> first;
    for (std::size_t k = 0; k < count; ++k) {
        const auto at = static_cast<std::size_t>((static_cast<double>(k) + dice.between(0.1, 0.8)) /
                                                 static_cast<double>(count) * static_cast<double>(x.size()));
        const double height = (dice.fraction() < 0.5 ? -1.0 : 1.0) * dice.about(2.5, 25.0) * peak;
        const bool two = dice.fraction() < 0.3;
        x[at] += height;
        if (two) x[at + 1] += height;
        if (!first) first = static_cast<double>(at) / recorded.rate_hz;
    }
    return first;
}

std::optional<double> stick(Recorded& recorded, Channel& x, Dice& dice)
{
    recorded.integers = true;
    recorded.full_scale = 0.0;
    for (const Channel& channel : recorded.channels)
        recorded.full_scale = std::max(recorded.full_scale, 1.25 * std::abs(channel[place_of_peak(channel)]));
    const double steps = 0x1p23 / recorded.full_scale;
    const auto bit = static_cast<std::int64_t>(1) << (1 + dice.one_of(12));
    const bool set = dice.fraction() < 0.5;
    for (double& value : x) {
        auto stored = static_cast<std::int64_t>(std::floor(value * steps));
        stored = set ? stored | bit : stored & ~bit;
        value = static_cast<double>(stored) / steps;
    }
    return {};
}

std::optional<double> hum(Recorded& recorded, Channel& x, Dice& dice)
{
    const double mains = (dice.fraction() < 0.5 ? 50.0 : 60.0) + dice.between(-0.04, 0.04);
    const double amplitude = dice.about(0.3, 2.0) * rms_of(x) * std::sqrt(2.0);
    const double second = dice.between(0.3, 0.6), third = dice.between(0.3, 0.6), turn = dice.fraction();
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double t = static_cast<double>(i) / recorded.rate_hz + turn / mains;
        x[i] += amplitude * (sine_at(mains, t) + second * sine_at(2.0 * mains, t) + third * sine_at(3.0 * mains, t));
    }
    return {};
}

std::optional<double> drift(Recorded& recorded, Channel& x, Dice& dice)
{
    const double size = dice.about(4.0, 12.0) * rms_of(x) * (dice.fraction() < 0.5 ? -1.0 : 1.0);
    const bool settles = dice.fraction() < 0.5;
    const double memory = dice.between(0.1, 0.3) * seconds * recorded.rate_hz;
    double left = 1.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        x[i] += size * (settles ? 1.0 - left : static_cast<double>(i) / static_cast<double>(x.size()));
        left *= 1.0 - 1.0 / memory;
    }
    return {};
}

std::optional<double> rattle(Recorded& recorded, Channel& x, Dice& dice)
{
    const double height = dice.about(1.0, 4.0) * std::abs(x[place_of_peak(x)]);
    const double hz = dice.between(0.15, 0.35) * recorded.rate_hz, memory = dice.between(0.004, 0.01);
    std::optional<double> first;
    const std::size_t from_sample = static_cast<std::size_t>(recorded.rate_hz);
    double at = static_cast<double>(from_sample) / recorded.rate_hz * dice.between(1.0, 4.0);
    for (; at < seconds - 1.0; at += dice.between(0.4, 1.6)) {
        double left = height * dice.between(0.6, 1.0);
        auto i = static_cast<std::size_t>(at * recorded.rate_hz);
        if (!first) first = at;
        for (int k = 0; k < 0.1 * recorded.rate_hz; ++k, ++i) {
            x[i] += left * sine_of_turns(hz * static_cast<double>(k) / recorded.rate_hz);
            left *= 1.0 / (1.0 + 1.0 / (memory * recorded.rate_hz));
        }
    }
    return first;
}

std::optional<double> coarsen(Recorded&, Channel& x, Dice& dice)
{
    const double step = dice.about(0.4, 1.5) * rms_of(x);
    for (double& value : x) value = step * std::round(value / step);
    return {};
}

std::optional<double> die(Recorded&, Channel& x, Dice& dice)
{
    std::ranges::fill(x, dice.fraction() < 0.5 ? 0.0 : dice.between(-1.0, 1.0));
    return {};
}

std::optional<double> mistake_the_unit(Recorded&, Channel& x, Dice& dice)
{
    const double factor = 200.0 / rms_of(x) * dice.about(1.0, 100.0);
    for (double& value : x) value *= factor;
    return {};
}

struct Kind {
    const char* code;
    const char* severity;
    Fault plant;                // nullptr: nothing
    const char* also = nullptr; // what follows from it and is no false alarm
};

constexpr std::array<Kind, 12> kinds{
    {{"", "nothing planted", nullptr},
     {"clipped", "at 25 % to 70 % of the peak", clip},
     {"flattened", "overloaded 6 to 12 times softly, or cut at 10 % to 25 % of the peak and filtered", flatten,
      "clipped"},
     {"drop-out", "0.12 s to 2 s of zero or of the last value", drop_out},
     {"spike", "1 to 3 of one or two samples, 2.5 to 25 times the peak", spike},
     {"stuck-bit", "one of the bits 1 to 12 of 24, set or not", stick},
     {"mains-hum", "0.3 to 2 times the r.m.s., two harmonics of 0.3 to 0.6 of it", hum},
     {"drift", "4 to 12 times the r.m.s., straight or settling", drift},
     {"rattle", "bursts that die away over 4 ms to 10 ms, at 0.15 to 0.35 of the rate, 1 to 4 times the peak", rattle},
     {"coarse-steps", "0.4 to 1.5 times the r.m.s.", coarsen, "drop-out"},
     {"constant-channel", "the same value throughout", die},
     {"unit", "200 to 20,000 m/s2 r.m.s.", mistake_the_unit}}};

struct Case {
    const Kind* kind = nullptr;
    const Scenery* scenery = nullptr;
    std::string path = {};
    std::optional<Planted> planted = {};
    Recorded recorded = {};
};

Case made(int index, std::uint64_t seed)
{
    // Neighbouring seeds must not give neighbouring recordings.
    Dice dice(seed_for(fmt::format("planted {} {}", seed, index)));
    Case made;
    made.kind = &kinds[static_cast<std::size_t>(index) % kinds.size()];
    made.scenery = &sceneries[static_cast<std::size_t>(index) / kinds.size() % sceneries.size()];
    constexpr std::array<int, 3> rates{500, 800, 1000};
    made.recorded.rate_hz = rates[dice.one_of(rates.size())];
    const Scene scene = made.scenery->scene(dice, made.recorded.rate_hz);
    const auto samples = synthesise(scene, made.recorded.rate_hz, seconds, Sensed::acceleration, dice.seed());
    made.recorded.channels.assign(axes, Channel(samples.size() / axes));
    for (std::size_t i = 0; i < samples.size(); ++i) made.recorded.channels[i % axes][i / axes] = samples[i];
    if (made.kind->plant == nullptr) return made;
    const std::size_t channel = dice.one_of(axes);
    made.planted = Planted{.channel = channel};
    made.planted->at_s = made.kind->plant(made.recorded, made.recorded.channels[channel], dice);
    return made;
}

// What a stored 1.0 is. A power of 2 times the full scale that the fault was made for keeps its steps.
double scale_of(const Recorded& recorded)
{
    double scale = recorded.full_scale;
    if (recorded.integers)
        for (const Channel& channel : recorded.channels)
            while (1.0001 * std::abs(channel[place_of_peak(channel)]) > scale) scale *= 2.0;
    return scale;
}

Result<void> write(const Case& made)
{
    const Recorded& recorded = made.recorded;
    std::vector<double> values(recorded.channels.front().size() * axes);
    for (std::size_t i = 0; i < values.size(); ++i) values[i] = recorded.channels[i % axes][i / axes];
    return io::write_audio(made.path,
                           {.rate_hz = recorded.rate_hz,
                            .channels = static_cast<int>(axes),
                            .coding = recorded.integers ? io::AudioCoding::integer24 : io::AudioCoding::float32,
                            .full_scale = scale_of(recorded)},
                           values);
}

class Folder {
public:
    static Result<std::unique_ptr<Folder>> create()
    {
        std::error_code error;
        const fs::path parent = fs::temp_directory_path(error);
        std::string name = (parent / "becalm-prove-XXXXXX").string();
        if (error || mkdtemp(name.data()) == nullptr)
            return fail({.kind = ProblemKind::outside_world,
                         .file = parent.string(),
                         .what = "no temporary folder can be made",
                         .remedy = "name another by TMPDIR"});
        return std::make_unique<Folder>(std::move(name));
    }
    explicit Folder(std::string path) : path_(std::move(path)) {}
    ~Folder()
    {
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    const std::string& path() const { return path_; }

private:
    std::string path_;
};

class Table {
public:
    explicit Table(const PlantedOptions& options)
    {
        report_.recordings = options.count;
        report_.seed = options.seed;
        for (const Kind& kind : kinds) report_.kinds.push_back({.code = kind.code, .severity = kind.severity});
    }

    void count(int index, const Case& made, const std::vector<Finding>& findings)
    {
        PlantedKind& row = report_.kinds[static_cast<std::size_t>(made.kind - kinds.data())];
        ++row.planted;
        bool found = false, at_the_place = false, accused = false;
        for (const Finding& finding : findings) {
            if (made.planted && finding.channel == static_cast<int>(made.planted->channel) + 1 &&
                finding.code == made.kind->code) {
                found = true;
                if (!made.planted->at_s) continue;
                row.has_place = true;
                at_the_place = finding.from_s && std::abs(*finding.from_s - *made.planted->at_s) <= 1.0;
                continue;
            }
            if (finding.severity == Severity::note) continue;
            // A channel in coarse steps stands still where it is quiet; what is flat enough is equal.
            if (made.kind->also != nullptr && finding.code == made.kind->also && made.planted &&
                finding.channel == static_cast<int>(made.planted->channel) + 1)
                continue;
            accused = true;
            report_.false_alarms.push_back(
                {index + 1, made.kind->code, std::string(made.scenery->name),
                 fmt::format("{} on channel {}", finding.code, finding.channel.value_or(0))});
        }
        row.found += found ? 1 : 0;
        row.at_the_place += at_the_place ? 1 : 0;
        row.false_alarms += accused ? 1 : 0;
        if (made.planted && !found)
            report_.missed.push_back({index + 1, made.kind->code, std::string(made.scenery->name),
                                      fmt::format("missed on channel {}", made.planted->channel + 1)});
    }

    PlantedReport report() { return std::move(report_); }

private:
    PlantedReport report_;
};

} // namespace

Result<PlantedReport> hold_against_planted_faults(const PlantedOptions& options)
{
    auto folder = Folder::create();
    if (!folder) return tl::unexpected(folder.error());
    Table table(options);
    const auto stopped = [&] { return options.stop.stop_requested(); };
    for (int first = 0; first < options.count && !stopped(); first += static_cast<int>(recordings_at_once)) {
        const int end = std::min(options.count, first + static_cast<int>(recordings_at_once));
        std::vector<Case> cases;
        std::vector<evaluators::PassRequest> requests;
        for (int index = first; index < end; ++index) {
            cases.push_back(made(index, options.seed));
            Case& planted = cases.back();
            planted.path = fmt::format("{}/{}.wav", (*folder)->path(), index + 1);
            if (const auto written = write(planted); !written) return tl::unexpected(written.error());
            evaluators::PassRequest request{.path = planted.path, .keep_rows = true, .hash = false};
            if (planted.recorded.integers) {
                request.to_si = scale_of(planted.recorded);
                request.scale_given = true;
            }
            for (int channel = 1; channel <= static_cast<int>(axes); ++channel) {
                request.lanes.push_back({channel, Axis::z, WeightingId::none});
                request.spectra_channels.push_back(channel);
            }
            requests.push_back(std::move(request));
            planted.recorded = {};
        }
        const auto passes = evaluators::run_passes(requests, {.jobs = options.jobs, .stop = options.stop});
        for (std::size_t i = 0; i < cases.size(); ++i) {
            if (!passes[i]) return tl::unexpected(passes[i].error());
            const TimeSpan everything{0.0, passes[i]->duration_s};
            table.count(
                first + static_cast<int>(i), cases[i],
                evaluators::fitness(cases[i].path, *passes[i], Motion::acceleration, std::span(&everything, 1)));
            std::error_code ignored;
            fs::remove(cases[i].path, ignored);
        }
        if (options.progress) options.progress(static_cast<double>(end) / options.count);
    }
    if (stopped())
        return fail({.kind = ProblemKind::outside_world, .file = "", .what = "stopped before the end", .remedy = ""});
    return table.report();
}

} // namespace becalm::demo
