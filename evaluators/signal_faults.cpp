#include "evaluators/signal_faults.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <complex>

#include <fmt/format.h>

#include "filters/weighting.h"

namespace becalm::evaluators {
namespace {

constexpr std::size_t parts = 8;          // of the duration, for what moves slowly
constexpr double steps_of_a_fault = 20.0; // of the resolution: less may be its noise

class Look {
public:
    explicit Look(const ExaminedChannel& examined)
        : examined_(examined), pass_(examined.pass), channel_(examined.channel), faults_(examined.channel.faults)
    {
        for (const LaneResult& lane : pass_.lanes) {
            if (lane.lane.channel != channel_.channel || lane.refused) continue;
            if (lane.lane.weighting == WeightingId::none)
                plain_ = &lane;
            else if (weighted_ == nullptr)
                weighted_ = &lane;
        }
    }

    std::vector<Finding> findings()
    {
        look_at_extremes();
        // Beside a flat stretch everything is fast.
        if (!examined_.is_clipped && findings_.empty()) look_at_fast_events();
        look_at_bits();
        look_at_steps();
        look_at_the_mean();
        look_at_hum();
        look_at_levels();
        return std::move(findings_);
    }

private:
    double second_of(std::int64_t sample) const
    {
        return static_cast<double>(sample) / pass_.info.rate_hz - pass_.from_s;
    }

    bool is_judged(double from_s, double to_s) const
    {
        return std::ranges::any_of(examined_.selected, [&](const TimeSpan& span) {
            return std::floor(from_s) < span.to_s && to_s > span.from_s;
        });
    }

    Finding& add(Severity severity, const char* code, std::string message)
    {
        return findings_.emplace_back(Finding{.severity = severity,
                                              .code = code,
                                              .message = std::move(message),
                                              .recording = examined_.file,
                                              .channel = channel_.channel});
    }

    static void set_spans(Finding& finding, std::vector<TimeSpan> spans, double offset_s)
    {
        finding.from_s = spans.front().from_s + offset_s;
        finding.to_s = spans.back().to_s + offset_s;
        finding.spans = std::move(spans);
    }

    std::string_view unit() const { return si_unit_of(examined_.motion, examined_.rotates); }

    void look_at_fast_events()
    {
        std::vector<TimeSpan> spikes, bursts;
        double highest = 0.0, loudest = 0.0;
        for (const filters::FastEvent& event : faults_.events()) {
            if (event.height < 0.5 * steps_of_a_fault * channel_.scan.least_step()) continue;
            const double at = second_of(event.at);
            const double width = event.is_spike == 1 ? 1.0 / pass_.info.rate_hz : 0.04;
            if (!is_judged(at, at + width)) continue;
            (event.is_spike == 1 ? spikes : bursts).push_back({std::max(0.0, at - 0.5 * width), at + width});
            double& size = event.is_spike == 1 ? highest : loudest;
            size = std::max(size, event.height / event.background);
            if (event.is_spike == 1) height_ = std::max(height_, event.height);
        }
        if (!spikes.empty()) {
            const auto count = std::ssize(spikes) + faults_.uncounted();
            Finding& finding =
                add(Severity::caution, "spike",
                    fmt::format(
                        "channel {} has {} at {:.3f} s{}, up to {:.3g} {} high: single samples that no motion "
                        "makes; exclude {} and check cable and connectors",
                        channel_.channel, count == 1 ? "a spike" : fmt::format("{} spikes, the first", count),
                        spikes.front().from_s + pass_.from_s,
                        count == 1 ? "" : fmt::format(" and the last at {:.3f} s", spikes.back().from_s + pass_.from_s),
                        height_, unit(), count == 1 ? "its second" : "their seconds"));
            set_spans(finding, std::move(spikes), pass_.from_s);
        }
        constexpr std::size_t few = 5;
        if (bursts.size() >= few) {
            const auto count = std::ssize(bursts) + faults_.uncounted();
            Finding& finding = add(
                Severity::caution, "rattle",
                fmt::format("channel {} has {} short bursts of high frequency from {:.3f} s to {:.3f} s, up to {:.3g} "
                            "times as fast as what lies about them: does something loose hit the sensor, or is it "
                            "loose itself?",
                            channel_.channel, count, bursts.front().from_s + pass_.from_s,
                            bursts.back().to_s + pass_.from_s, loudest));
            finding.from_s = bursts.front().from_s + pass_.from_s;
            finding.to_s = bursts.back().to_s + pass_.from_s;
        }
    }

    void look_at_extremes()
    {
        if (examined_.is_clipped) return;
        constexpr double least_growth = 1.36, few_steps = 5.0; // of a parabola: 1.41
        constexpr double least_bend = 0.2;                     // not a limit: of a parabola it is more than 1
        for (const bool high : {true, false}) {
            const filters::Flatness& flat = high ? faults_.high() : faults_.low();
            if (flat.samples == 0 || flat.growth >= least_growth || flat.bend >= least_bend) continue;
            const double extreme = high ? channel_.scan.max() : channel_.scan.min();
            const double margin = flat.h * std::abs(extreme - channel_.scan.mean());
            // A few steps of the resolution hold a whole crest.
            if (margin < few_steps * channel_.scan.least_step()) continue;
            std::vector<TimeSpan> seconds;
            if (plain_ != nullptr)
                for (std::size_t i = 0; i < plain_->ledger.rows.size(); ++i) {
                    const LedgerRow& row = plain_->ledger.rows[i];
                    if (high ? row.raw_max < extreme - margin : row.raw_min > extreme + margin) continue;
                    const auto second = static_cast<double>(plain_->ledger.first_second) + static_cast<double>(i);
                    if (!is_judged(second, second + 1.0)) continue;
                    if (!seconds.empty() && seconds.back().to_s == second)
                        seconds.back().to_s += 1.0;
                    else
                        seconds.push_back({second, second + 1.0});
                }
            if (plain_ != nullptr && !plain_->ledger.rows.empty() && seconds.empty()) continue; // all of it excluded
            Finding& finding = add(
                Severity::caution, "flattened",
                fmt::format(
                    "the {} extremes of channel {} are flat near {:.4g} {} ({} samples within {:.2g} % of it, "
                    "{:.3g} times as many within twice that, where a crest has 1.41 times as many){}: overloaded "
                    "before a filter or another rate; measure again with a wider range",
                    high ? "upper" : "lower", channel_.channel, extreme, unit(), flat.samples, 100.0 * flat.h,
                    flat.growth,
                    seconds.empty() ? ""
                                    : fmt::format(", first in second {:.0f}", seconds.front().from_s + pass_.from_s)));
            if (!seconds.empty()) set_spans(finding, std::move(seconds), pass_.from_s);
            return; // one side is enough
        }
    }

    void look_at_bits()
    {
        const std::uint32_t changing = faults_.changing_bits();
        if (changing == 0) return;
        constexpr std::int64_t enough = 1000; // samples
        if (channel_.scan.samples() < enough) return;
        const int highest = static_cast<int>(std::bit_width(changing)) - 1;
        const int lowest = std::countr_zero(changing);
        std::vector<int> stuck;
        for (int bit = 0; bit < highest; ++bit) {
            if (changing >> bit & 1U) continue;
            // Lowest bits that are never set are those of a shorter word in a longer one.
            if (bit > lowest || (faults_.set_bits() >> bit & 1U) != 0) stuck.push_back(bit);
        }
        if (stuck.empty()) return;
        std::string bits;
        for (const int bit : stuck) bits += fmt::format("{}{}", bits.empty() ? "" : ", ", bit);
        add(Severity::caution, "stuck-bit",
            fmt::format(
                "channel {}: bit {} of the stored integers never changes while others do (bit 0 is one step): a "
                "converter that lacks values; have the recorder checked",
                channel_.channel, bits));
    }

    void look_at_steps()
    {
        const double step = channel_.scan.least_step();
        constexpr double steps = 3.0;
        const double deviation = channel_.scan.deviation();
        if (step <= 0.0 || deviation >= steps * step) return;
        // Single precision has steps too, on a great offset.
        add(Severity::caution, "coarse-steps",
            fmt::format("channel {} varies by {:.3g} {} r.m.s., which is {:.2g} steps of its resolution of {:.3g} {}; "
                        "measure again with a narrower range",
                        channel_.channel, deviation, unit(), deviation / step, step, unit()));
    }

    struct Settling {
        double memory = 0.0;                                  // of the duration; 0: a straight line
        double change = 0.0, residual = 0.0, explained = 0.0; // from first to last; r.m.s. beside it; variance it makes
    };

    // The straight line or the exponential approach that leaves least of the means beside it.
    static Settling settling_of(const std::vector<filters::WanderingMean>& means)
    {
        double count = 0.0, sum = 0.0;
        for (const filters::WanderingMean& mean : means) {
            count += mean.count;
            sum += mean.sum;
        }
        const auto n = static_cast<double>(means.size());
        Settling best;
        // A memory of less than a tenth has no shape in the means that a single swell would not have too.
        for (const double memory : {0.0, 0.1, 0.15, 0.2, 0.3}) { // not a limit: shares of the duration
            const auto shape = [&](double t) { return memory > 0.0 ? -std::exp(-t / memory) : t; };
            double shapes = 0.0;
            for (std::size_t i = 0; i < means.size(); ++i)
                shapes += means[i].count * shape((static_cast<double>(i) + 0.5) / n);
            double squares = 0.0, products = 0.0, all = 0.0;
            for (std::size_t i = 0; i < means.size(); ++i) {
                if (means[i].count == 0.0) continue;
                const double s = shape((static_cast<double>(i) + 0.5) / n) - shapes / count;
                const double m = means[i].sum / means[i].count - sum / count;
                squares += means[i].count * s * s;
                products += means[i].count * s * m;
                all += means[i].count * m * m;
            }
            if (squares == 0.0) continue;
            const double factor = products / squares, explained = factor * products / count;
            if (best.explained > explained) continue;
            best = {.memory = memory,
                    .change = factor * (shape(1.0) - shape(0.0)),
                    .residual = std::sqrt(std::max(0.0, all / count - explained)),
                    .explained = explained};
        }
        return best;
    }

    void look_at_the_mean()
    {
        const auto& means = faults_.means();
        if (means.size() < 2 * parts) return;
        std::array<double, parts> mean{};
        for (std::size_t p = 0; p < parts; ++p) {
            double sum = 0.0, count = 0.0;
            for (std::size_t i = p * means.size() / parts; i < (p + 1) * means.size() / parts; ++i) {
                sum += means[i].sum;
                count += means[i].count;
            }
            if (count == 0.0) return;
            mean[p] = sum / count;
        }
        const auto [low, high] = std::ranges::minmax(mean);
        const double moved = mean.back() - mean.front();
        if (moved == 0.0) return;
        int forwards = 0;
        for (std::size_t p = 1; p < parts; ++p) forwards += (mean[p] - mean[p - 1]) * moved > 0.0 ? 1 : 0;
        const bool goes_on = std::abs(moved) >= 0.8 * (high - low) && // not a limit: a share of the range
                             forwards >= static_cast<int>(parts) - 2;
        // What the channel varies by without that.
        double average = 0.0, spread = 0.0;
        for (const double m : mean) average += m / static_cast<double>(parts);
        for (const double m : mean) spread += (m - average) * (m - average) / static_cast<double>(parts);
        const auto beside = [&](double variance) {
            return std::sqrt(std::max(0.0, channel_.scan.deviation() * channel_.scan.deviation() - variance));
        };
        const Settling settling = settling_of(means);
        constexpr double share = 0.3, settling_share = 1.5; // not a limit: shares of the vibration
        constexpr double outstanding = 3.0;
        const bool settles = std::abs(settling.change) >= outstanding * settling.residual &&
                             std::abs(settling.change) >= settling_share * beside(settling.explained);
        if (!settles && !(goes_on && std::abs(moved) >= share * beside(spread))) return;
        const double vibration = beside(settles ? settling.explained : spread);
        const double drift = settles ? settling.change : moved;
        if (std::abs(drift) < 3.0 * channel_.scan.least_step()) return;
        add(Severity::caution, "drift",
            fmt::format(
                "the mean of channel {} drifts by {:.3g} {} from its beginning to its end, {:.2g} times the r.m.s. of "
                "its vibration{}; let the sensor warm up, and check what it hangs on",
                channel_.channel, drift, unit(), vibration > 0.0 ? std::abs(drift) / vibration : 0.0,
                settles && settling.memory > 0.0 ? ", most of it at the start" : ""));
    }

    // --- mains ---

    void look_at_hum()
    {
        if (!channel_.spectra || channel_.spectra->rows.empty()) return;
        std::vector<double> density = mean_density(*channel_.spectra, examined_.selected);
        if (density.empty()) return;
        const double resolution = channel_.spectra->resolution_hz;
        if (weighted_ != nullptr)
            for (std::size_t k = 0; k < density.size(); ++k)
                density[k] *= std::norm(filters::analytic_response(weighted_->lane.weighting, examined_.motion,
                                                                   static_cast<double>(k) * resolution));
        double energy = 0.0;
        for (const double value : density) energy += value;
        if (!(energy > 0.0)) return;
        for (const double mains : {50.0, 60.0}) {
            double share = 0.0;
            int harmonics = 0;
            for (int order = 1; order <= 5; ++order) {
                const double line = line_at(density, resolution, mains * order);
                if (line <= 0.0) {
                    if (order == 1) break;
                    continue;
                }
                share += line / energy;
                harmonics += order > 1 ? 1 : 0;
            }
            if (harmonics < 2) continue;
            add(Severity::caution, "mains-hum",
                fmt::format(
                    "channel {} has lines at {:.0f} Hz and {} of its harmonics, {:.2g} % of the energy{}: hum of "
                    "the mains in the cable, or a machine that runs on it; measure with the sensor at rest to "
                    "tell them apart",
                    channel_.channel, mains, harmonics, 100.0 * share,
                    weighted_ == nullptr ? std::string()
                                         : fmt::format(" weighted by {}", name_of(weighted_->lane.weighting))));
            return;
        }
        look_at_displaced_hum(density, resolution);
    }

    // A comb of lines that would be the mains if the recorder had run at another usual rate than the file states.
    void look_at_displaced_hum(const std::vector<double>& density, double resolution)
    {
        constexpr std::array<std::pair<double, double>, 4> taken_for_each_other{
            {{1000.0, 1024.0}, {1024.0, 1000.0}, {44100.0, 48000.0}, {48000.0, 44100.0}}}; // stated, true
        constexpr int orders = 4;
        for (const double mains : {50.0, 60.0})
            for (const auto& [stated, real] : taken_for_each_other) {
                const double hz = mains * stated / real, rate = pass_.info.rate_hz * real / stated;
                if (std::abs(rate - std::round(rate)) > 1e-6 * rate) continue; // no rate that anybody sets
                bool all = true;
                for (int order = 1; order <= orders && all; ++order)
                    all = line_at(density, resolution, hz * order) > 0.0;
                if (!all) continue;
                add(Severity::note, "rate-off",
                    fmt::format("channel {} has lines at {:.2f} Hz and its harmonics: those of the mains of {:.0f} Hz "
                                "if the recorder ran at {:.6g} Hz and not at the {:.6g} Hz of the file; look at its "
                                "settings, unless a machine turns at that speed",
                                channel_.channel, hz, mains, rate, pass_.info.rate_hz));
                return;
            }
    }

    // Energy, in bins, of a line that stands out by 10 dB within 0.25 Hz of `hz`; 0 where there is none.
    static double line_at(const std::vector<double>& density, double resolution, double hz)
    {
        constexpr double grid_hz = 0.25;
        const auto bin = [&](double at) { return static_cast<std::ptrdiff_t>(std::llround(at / resolution)); };
        const std::ptrdiff_t from = bin(hz - grid_hz), to = bin(hz + grid_hz);
        const std::ptrdiff_t wide = std::max<std::ptrdiff_t>(bin(3.0), 6);
        if (from - wide < 1 || to + wide >= std::ssize(density)) return 0.0;
        const auto at = [&](std::ptrdiff_t k) { return density[static_cast<std::size_t>(k)]; };
        std::ptrdiff_t peak = from;
        for (std::ptrdiff_t k = from; k <= to; ++k)
            if (at(k) > at(peak)) peak = k;
        if (at(peak) < at(peak - 1) || at(peak) < at(peak + 1)) return 0.0; // a slope
        std::vector<double> about;
        for (std::ptrdiff_t k = 3; k <= wide; ++k) {
            about.push_back(at(peak - k));
            about.push_back(at(peak + k));
        }
        std::ranges::sort(about);
        const double floor = about[about.size() / 2];
        const double strongest = about[about.size() - 2];
        if (at(peak) < 10.0 * floor || at(peak) < 2.0 * strongest) return 0.0;
        double line = 0.0;
        for (std::ptrdiff_t k = peak - 2; k <= peak + 2; ++k) line += std::max(0.0, at(k) - floor);
        return line;
    }

    // --- levels ---

    void look_at_levels()
    {
        if (plain_ == nullptr) return;
        std::vector<double> levels;
        std::vector<std::size_t> rows;
        for (std::size_t i = 0; i < plain_->ledger.rows.size(); ++i) {
            const LedgerRow& row = plain_->ledger.rows[i];
            const auto second = static_cast<double>(plain_->ledger.first_second) + static_cast<double>(i);
            if (row.samples == 0 || row.sum_squares <= 0.0 || !is_judged(second, second + 1.0)) continue;
            levels.push_back(10.0 * std::log10(row.sum_squares / row.samples));
            rows.push_back(i);
        }
        constexpr std::size_t least_levels = 24;
        if (levels.size() < least_levels) return;
        const std::size_t least_side = levels.size() / 4; // what is shorter is an event
        // The step that explains most of the variance.
        const auto n = static_cast<double>(levels.size());
        double all = 0.0, all_squares = 0.0;
        for (const double level : levels) {
            all += level;
            all_squares += level * level;
        }
        double before = 0.0, best = 0.0, step = 0.0, sum_of_squares = 0.0;
        std::size_t place = 0;
        for (std::size_t i = 0; i + least_side < levels.size(); ++i) {
            before += levels[i];
            if (i + 1 < least_side) continue;
            const auto left = static_cast<double>(i + 1), right = n - left;
            const double difference = (all - before) / right - before / left;
            const double explained = difference * difference * left * right / n;
            if (explained <= best) continue;
            best = explained;
            step = difference;
            place = i + 1;
        }
        sum_of_squares = std::max(0.0, all_squares - all * all / n - best);
        const double varies = std::sqrt(sum_of_squares / (n - 2.0));
        constexpr double least_step_db = 6.0, times = 3.0;
        if (std::abs(step) < least_step_db || std::abs(step) < times * varies) return;
        Finding& finding = add(
            Severity::note, "unsteady",
            fmt::format("the level of channel {} {} by {:.2g} dB near {:.0f} s, where it varies by {:.2g} dB (standard "
                        "deviation over seconds) on either side; judge the stretches apart if they are different "
                        "conditions",
                        channel_.channel, step > 0.0 ? "rises" : "falls", std::abs(step),
                        static_cast<double>(rows[place]) + pass_.from_s, varies));
        finding.from_s = static_cast<double>(rows[place]) + pass_.from_s;
    }

    const ExaminedChannel& examined_;
    const PassResult& pass_;
    const ChannelResult& channel_;
    const filters::FaultScan& faults_;
    const LaneResult* plain_ = nullptr;
    const LaneResult* weighted_ = nullptr;
    double height_ = 0.0;
    std::vector<Finding> findings_;
};

} // namespace

std::vector<Finding> signal_faults(const ExaminedChannel& examined) { return Look(examined).findings(); }

} // namespace becalm::evaluators
