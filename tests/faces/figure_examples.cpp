#include "tests/faces/figure_examples.h"

#include <array>
#include <cmath>
#include <cstdint>
#include <limits>

#include "ui/figures/builders.h"

namespace becalm::tests {
namespace {

using namespace figures;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

// The same on every machine: no distribution of the library's.
class Dice {
public:
    explicit Dice(std::uint64_t seed) : state_(seed) {}
    double part() // 0 to 1
    {
        state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
        return static_cast<double>(state_ >> 11) / 9007199254740992.0;
    }
    double bell() // about normal
    {
        double sum = -6.0;
        for (int i = 0; i < 12; ++i) sum += part();
        return sum;
    }

private:
    std::uint64_t state_;
};

// Named: GCC 12 takes the unit of one written in place for uninitialised.
const Numbers m_s2{.unit = "m/s²"}, density_unit{.unit = "(mm/s²)²/Hz", .shown_per_unit = 1e6};
const Numbers mm_s2{.unit = "mm/s²", .shown_per_unit = 1e3};

double resonance(double hz, double at_hz, double damping)
{
    const double r = hz / at_hz;
    return 1.0 / std::hypot(1.0 - r * r, 2.0 * damping * r);
}

// 0, step, 2 step ... up to `to`.
std::vector<double> steps(double step, double to)
{
    std::vector<double> all;
    for (int i = 0; i * step <= to + 1e-9; ++i) all.push_back(i * step);
    return all;
}

struct Tone {
    double hz, rms;
};

// (m/s²)²/Hz at multiples of `resolution`, tones one to two bins wide.
std::vector<double> density(double resolution, double to_hz, double floor, const std::vector<Tone>& tones,
                            std::uint64_t seed)
{
    Dice dice(seed);
    std::vector<double> values;
    for (const double hz : steps(resolution, to_hz)) {
        double value = floor * floor * std::pow(resonance(hz, 11.0, 0.12), 2.0) * (1.0 + 4.0 / (1.0 + hz * hz));
        for (const Tone& tone : tones) {
            const double away = (hz - tone.hz) / resolution;
            value += tone.rms * tone.rms / resolution * std::exp(-away * away);
        }
        values.push_back(value * std::exp(0.35 * dice.bell()));
    }
    return values;
}

const std::vector<Tone> ferry_tones{{2.05, 0.0035}, {8.2, 0.021},   {16.4, 0.0065},
                                    {12.5, 0.004},  {25.0, 0.0085}, {50.0, 0.0032}};
const std::vector<SourceLine> ferry_sources{{"shaft", 2.05},     {"blades", 8.2},        {"blades 2×", 16.4},
                                            {"engine ½", 6.25},  {"engine 1×", 12.5},    {"engine 2×", 25.0},
                                            {"generator", 50.0}, {"ventilation", 23.75}, {"hull girder", 1.9}};

Heading heading(double width, double height, std::string title, std::string subtitle)
{
    return {.title = std::move(title), .subtitle = std::move(subtitle), .width_px = width, .height_px = height};
}

Figure spectrum(double width, double height)
{
    SpectrumInput input{.heading = heading(width, height, "What drives cabin 12",
                                           "Vertical, floor, weighting Wm; 14 kn, service speed; 240 s"),
                        .quantity = "weighted acceleration density",
                        .shown = density_unit,
                        .resolution_hz = 0.25,
                        .sources = ferry_sources,
                        .from_hz = 1.0,
                        .to_hz = 80.0};
    input.traces.push_back({.words = "measured", .values = density(0.25, 200.0, 0.0009, ferry_tones, 3)});
    FrequencyCurve shape{.words = "shape of the criterion, at its limit"};
    for (int i = 0; i <= 95; ++i) {
        const double hz = std::pow(10.0, 0.02 * i);
        shape.hz.push_back(hz);
        shape.values.push_back(3e-5 / (1.0 + std::pow(5.7 / hz, 2.0)) * std::pow(std::max(hz / 20.0, 1.0), 0.5));
    }
    input.shapes.push_back(shape);
    return spectrum_figure(input);
}

Figure spread_of_repeats(double width, double height)
{
    SpectrumInput input{
        .heading = heading(width, height, "Three walkers, one span",
                           "Mid-span of the terminal's gallery, vertical, amplitude spectra of repeats"),
        .quantity = "acceleration amplitude",
        .shown = mm_s2,
        .resolution_hz = 0.125,
        .sources = {{"walking", 2.0}, {"2nd harmonic", 4.0}, {"3rd harmonic", 6.0}, {"floor mode", 5.75}},
        .from_hz = 1.0,
        .to_hz = 12.0,
        .logarithmic_frequency = false};
    SpectrumTrace x{.words = "90 kg"}, y{.words = "70 kg"};
    Dice dice(11);
    for (const double hz : steps(0.125, 20.0)) {
        double value = 0.0008 * resonance(hz, 5.75, 0.03) + 0.0002;
        for (const double harmonic : {2.0, 4.0, 6.0})
            value += 0.004 / harmonic * std::exp(-std::pow((hz - harmonic) / 0.15, 2.0)) * resonance(hz, 5.75, 0.05);
        const double noisy = value * std::exp(0.2 * dice.bell());
        x.values.push_back(noisy);
        x.least.push_back(noisy * 0.6);
        x.greatest.push_back(noisy * 1.7);
        y.values.push_back(0.5 * value * std::exp(0.2 * dice.bell()));
    }
    input.traces = {x, y};
    return spectrum_figure(input);
}

BandTrace bands(std::string words, int from, int to, const std::vector<Tone>& tones, double floor, std::uint64_t seed)
{
    Dice dice(seed);
    BandTrace trace{.words = std::move(words)};
    for (int n = from; n <= to; ++n) {
        const double hz = std::pow(10.0, n / 10.0);
        double energy = std::pow(floor * std::sqrt(hz) * resonance(hz, 11.0, 0.25), 2.0);
        for (const Tone& tone : tones)
            if (std::lround(10.0 * std::log10(tone.hz)) == n) energy += tone.rms * tone.rms;
        trace.hz.push_back(hz);
        trace.values.push_back(std::sqrt(energy) * std::exp(0.15 * dice.bell()));
    }
    return trace;
}

FrequencyCurve floor_curve()
{
    return {.words = "curve of the contract", .hz = {1.0, 4.0, 8.0, 80.0}, .values = {0.014, 0.007, 0.007, 0.07}};
}

Figure third_octaves(double width, double height)
{
    ThirdOctaveInput input{.heading = heading(width, height, "Meeting room, third floor",
                                              "Vertical, 1 s running r.m.s. held at its greatest, 2 h of office use"),
                           .quantity = "acceleration, r.m.s.",
                           .shown = mm_s2,
                           .limits = {floor_curve()},
                           .sources = {{"air handler", 16.2}, {"walking", 2.0}}};
    const std::vector<Tone> tones{{2.0, 0.003}, {6.3, 0.0052}, {16.2, 0.0031}};
    input.traces.push_back(bands("greatest", 0, 19, tones, 0.00035, 5));
    input.traces.push_back(bands("mean", 0, 19, {{6.3, 0.0011}, {16.2, 0.0022}}, 0.0001, 6));
    return third_octave_figure(input);
}

Figure spectrogram(double width, double height)
{
    SpectrogramInput input{.heading = heading(width, height, "Leaving the quay",
                                              "Wheelhouse floor, vertical, weighting Wm, spectra of 4 s"),
                           .quantity = "weighted acceleration density",
                           .shown = density_unit,
                           .resolution_hz = 0.25,
                           .sources = {{"blades, service", 8.2}, {"generator", 50.0}, {"engine 2×", 25.0}},
                           .from_hz = 1.0,
                           .to_hz = 80.0,
                           .start = std::chrono::local_days{std::chrono::year{2026} / 5 / 12} + std::chrono::hours{9} +
                                    std::chrono::minutes{41}};
    Dice dice(17);
    for (const double at : steps(4.0, 896.0)) {
        if (at >= 520.0 && at < 560.0) continue; // left out
        const double speed = at < 120.0 ? 0.12 : std::min(1.0, 0.12 + (at - 120.0) / 400.0);
        SpectrogramRow row{.from_s = at, .to_s = at + 6.0};
        for (const double hz : steps(0.25, 100.0)) {
            double value = 2e-7 * (1.0 + 3.0 * speed * speed * resonance(hz, 11.0, 0.15)) * std::exp(0.7 * dice.bell());
            const auto line = [&](double line_hz, double strength) {
                value += strength * std::exp(-std::pow((hz - line_hz) / 0.3, 2.0));
            };
            line(8.2 * speed, 1.2e-3 * std::pow(speed, 4.0));
            line(16.4 * speed, 2e-4 * std::pow(speed, 4.0));
            line(25.0 * speed, 1e-4 * speed);
            line(50.0, 6e-5);
            row.values.push_back(static_cast<float>(value));
        }
        input.rows.push_back(std::move(row));
    }
    return spectrogram_figure(input);
}

Figure ladder(double width, double height)
{
    return ladder_figure(
        {.heading =
             heading(width, height, "Where the weighted energy of cabin 12 comes from",
                     "Vertical, floor, weighting Wm: 24.6 mm/s² in all; without the blades it would be 12.8 mm/s²"),
         .contributions = {{"propeller blades", "8.2 Hz, 21.0 mm/s²", 0.73},
                           {"engine, second order", "25.0 Hz, 8.5 mm/s²", 0.119},
                           {"propeller blades, second order", "16.4 Hz, 6.5 mm/s²", 0.07},
                           {"engine, first order", "12.5 Hz, 4.0 mm/s²", 0.026},
                           {"shaft", "2.05 Hz, 0.9 mm/s²", 0.0013}}});
}

Figure rulers(double width)
{
    RulerInput rail{.words = "Comfort of the seat, second coach",
                    .shown = m_s2,
                    .bands = {{"very comfortable", {}, 0.23},
                              {"comfortable", {}, 0.46},
                              {"less comfortable", {}, 0.92},
                              {"uncomfortable", {}, {}, true}},
                    .value = 0.412,
                    .expanded_uncertainty = 0.033,
                    .band = 1};
    return ruler_figure(heading(width, 0.0, "How much, and how far from the next limit",
                                "An invented scale; position seat pan, whole run"),
                        {rail});
}

Figure overlapping_rulers(double width, double height)
{
    RulerInput overlapping{.words = "Cabin 12, vertical",
                           .shown = mm_s2,
                           .bands = {{"not uncomfortable", {}, 0.03},
                                     {"a little uncomfortable", 0.03, 0.06},
                                     {"fairly uncomfortable", 0.05, 0.1},
                                     {"uncomfortable", 0.08, 0.16},
                                     {"very uncomfortable", 0.125, 0.25, true},
                                     {"extremely uncomfortable", 0.2, {}, true}},
                           .value = 0.0583,
                           .expanded_uncertainty = 0.0047,
                           .band = 2};
    RulerInput refused{.words = "Cabin 14, vertical",
                       .shown = mm_s2,
                       .bands = {{"adverse comments not probable", {}, 0.0715},
                                 {"between", {}, 0.1072},
                                 {"adverse comments probable", {}, {}, true}},
                       .why_not = "channel 3 is clipped at 212.4 s"};
    return ruler_figure(
        heading(width, height, "Two cabins on one deck", "Invented scales; overall frequency-weighted r.m.s."),
        {overlapping, refused});
}

Figure time_strip(double width, double height)
{
    TimeStripInput input{.heading = heading(width, height, "Gallery over the hall, Tuesday morning",
                                            "Vertical, weighting Wm, rows of the ledger"),
                         .quantity = "weighted acceleration",
                         .shown = mm_s2,
                         .left_out = {{1500.0, 1740.0, "chairs moved"}, {3350.0, 3420.0, "sensor touched"}},
                         .findings = {{612.0, "shock"}, {2404.0, "clipped"}, {2460.0, "drop-out"}},
                         .limits = {{0.02, "criterion, greatest second"}},
                         .start = std::chrono::local_days{std::chrono::year{2026} / 5 / 12} + std::chrono::hours{9} +
                                  std::chrono::minutes{2}};
    Dice dice(23);
    for (int second = 0; second < 3600; ++second) {
        const double walkers = std::max(0.0, std::sin(second / 140.0) + 0.4 * std::sin(second / 31.0));
        double rms = 0.0012 + 0.0042 * walkers * std::exp(0.3 * dice.bell());
        if (second == 612) rms = 0.019;
        if (second >= 1500 && second < 1740) rms *= 3.0 + dice.part();
        const bool lost = second >= 2460 && second < 2490;
        input.rms.push_back(lost ? nan : rms);
        input.peak.push_back(lost ? nan : rms * (2.2 + 1.4 * dice.part()) * (second == 612 ? 1.6 : 1.0));
    }
    return time_strip_figure(input);
}

Figure day_strip(double width, double height)
{
    TimeStripInput input{.heading =
                             heading(width, height, "A day beside the tram line",
                                     "First floor, vertical, velocity in the rows of the ledger; invented scale"),
                         .quantity = "velocity",
                         .left_out = {{29'000.0, 31'500.0, "builders"}},
                         .bands = {{"not felt", {}, 1.1e-4}, {"barely felt", {}, 3.3e-4}, {"felt", {}, {}}},
                         .logarithmic = true,
                         .start = std::chrono::local_days{std::chrono::year{2026} / 3 / 30} + std::chrono::hours{18}};
    input.shown.unit = "m/s";
    input.shown.form = NumberForm::prefixed;
    Dice dice(41);
    double tram = 0.0;
    for (int second = 0; second < 86'400; ++second) {
        const double hour = std::fmod(18.0 + second / 3600.0, 24.0);
        const double traffic = hour < 5.0 ? 0.05 : 1.0;
        if (dice.part() < 0.003 * traffic) tram = 1.0 + dice.part();
        tram *= 0.9;
        const double rms = 2e-5 * (1.0 + traffic) * std::exp(0.3 * dice.bell()) + 1.4e-4 * tram;
        input.rms.push_back(rms);
        input.peak.push_back(rms * (2.2 + 1.4 * dice.part()));
    }
    return time_strip_figure(input);
}

// A heel drop, as two sensors saw it.
Figure time_history(double width, double height)
{
    TimeHistoryInput input{.heading = heading(width, height, "A heel drop at mid-span",
                                              "Office floor, vertical; two places; high-pass 1 Hz, without phase"),
                           .to_s = 12.0,
                           .left_out = {{0.0, 1.0, "not settled"}}};
    const struct {
        const char* quantity;
        const char* unit;
        double shown, by;
    } panels[] = {
        {"acceleration", "mm/s²", 1e3, 1.0}, {"velocity", "mm/s", 1e3, 0.0252}, {"displacement", "µm", 1e6, 0.000637}};
    for (const auto& of : panels) {
        HistoryPanel panel{.quantity = of.quantity};
        panel.shown.unit = of.unit;
        panel.shown.shown_per_unit = of.shown;
        for (const double gain : {1.0, 0.4}) {
            HistoryTrace trace{.words = gain == 1.0 ? "channel 1 desk" : "channel 2 aisle",
                               .x = {.first = 0.0, .step = 0.005}};
            Dice dice(7);
            for (const double t : steps(0.005, 12.0))
                trace.values.push_back(
                    gain * of.by *
                    (0.004 * dice.bell() + (t < 2.0 ? 0.0 : 0.31 * std::exp(-0.7 * (t - 2.0)) * std::sin(39.6 * t))));
            panel.traces.push_back(std::move(trace));
        }
        input.panels.push_back(std::move(panel));
    }
    return time_history_figure(input);
}

// Six weeks of nights, with a week without the recorder and a night that was measured in part.
Figure nights(double width, double height)
{
    PeriodsInput input{.heading = heading(width, height, "Six weeks beside the tram line",
                                          "Bedroom, nights 22:00-06:00; invented scale"),
                       .quantity = "acceleration, r.m.s.",
                       .shown = mm_s2,
                       .bands = {{"not felt", {}, 0.004}, {"barely felt", {}, 0.008}, {"felt", {}, {}, true}},
                       .start = std::chrono::local_days{std::chrono::year{2026} / 3 / 2}};
    Dice dice(41);
    for (int night = 0; night < 42; ++night) {
        const double value =
            0.0035 + 0.0008 * dice.bell() + (night % 7 == 4 ? 0.003 : 0.0) + (night > 33 ? 0.0025 : 0.0);
        PeriodValue period{.from_s = 86'400.0 * night, .to_s = 86'400.0 * (night + 1), .covered = 1.0};
        if (night >= 14 && night < 21)
            period.covered = 0.0;
        else
            period.value = value;
        if (night == 27) period.covered = percent(30);
        period.exceeds = period.value && value > 0.008;
        input.periods.push_back(period);
    }
    return periods_figure(input);
}

Figure comparison(double width, double height)
{
    ComparisonInput input{
        .heading = heading(width, height, "Before and after the resilient mounts", "Cabin 12, floor, vertical, 14 kn"),
        .quantity = "acceleration, r.m.s.",
        .shown = mm_s2,
        .first = bands("before", 0, 19, {{8.2, 0.021}, {25.0, 0.0085}, {16.4, 0.0065}, {12.5, 0.004}}, 0.00035, 31),
        .second = bands("after", 0, 19, {{8.2, 0.018}, {25.0, 0.0018}, {16.4, 0.0025}, {12.5, 0.002}}, 0.00033, 32),
        .limits = {floor_curve()},
        .sources = {{"blades", 8.2}, {"engine 1×", 12.5}, {"engine 2×", 25.0}}};
    return comparison_figure(input);
}

Figure trend(double width, double height)
{
    TrendInput input;
    input.heading = heading(width, height, "Cabin 12 over speed", "Floor, vertical; the trials of a day");
    input.over_shown.unit = "kn";
    input.quantity = "weighted r.m.s.";
    input.shown = mm_s2;
    const double off[] = {1.06, 0.97, 1.0, 0.93, 1.05};
    for (int i = 0; i < 5; ++i) {
        const double at = 8.0 + 2.0 * i, value = 1.4e-4 * at * at * off[i];
        input.points.push_back({"run " + std::to_string(i + 1), at, value,
                                i == 2 ? std::nullopt : std::optional<double>(value * (i == 0 ? 0.3 : 0.08))});
    }
    for (double at = 8.0; at < 18.5; at += 0.5) {
        input.at.push_back(at);
        input.line.push_back(1.4e-4 * at * at);
        input.low.push_back(1.1e-4 * at * at);
        input.high.push_back(1.8e-4 * at * at);
    }
    input.line_words = "exponent 2.00 (1.62 to 2.38)";
    return trend_figure(input);
}

} // namespace

std::vector<NamedFigure> example_figures(double width, double height)
{
    return {{"spectrum", spectrum(width, height)},
            {"spread", spread_of_repeats(width, height)},
            {"third-octaves", third_octaves(width, height)},
            {"spectrogram", spectrogram(width, height)},
            {"ladder", ladder(width, height)},
            {"ruler", rulers(width)},
            {"rulers", overlapping_rulers(width, height)},
            {"time-strip", time_strip(width, height)},
            {"day-strip", day_strip(width, height)},
            {"nights", nights(width, height)},
            {"time-history", time_history(width, height)},
            {"trend", trend(width, height)},
            {"comparison", comparison(width, height)}};
}

} // namespace becalm::tests
