#include "evaluators/noise_floor.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <limits>
#include <map>
#include <mutex>
#include <numbers>
#include <set>
#include <string_view>
#include <tuple>

#include <fmt/format.h>

#include "evaluators/quantity.h"
#include "filters/weighting.h"

namespace becalm::evaluators {
namespace {

constexpr double share_that_matters = 1.0 / 3.0;

// One-sided density of the floor, channel's unit squared per Hz; empty where the spectra show none.
std::optional<double> floor_density(const ChannelSpectra& spectra)
{
    constexpr double from = 0.4, to = 0.75; // not a limit: shares of the range
    constexpr std::size_t parts = 8, least_rows = 4;
    constexpr double even = 2.0, alike = 1.26; // 3 dB, 1 dB
    if (spectra.rows.size() < least_rows) return std::nullopt;
    const std::size_t bins = spectra.rows.front().density.size();
    const auto first = static_cast<std::size_t>(from * static_cast<double>(bins));
    const auto last = static_cast<std::size_t>(to * static_cast<double>(bins));
    if (last < first + 4 * parts) return std::nullopt;
    std::vector<double> mean(last - first, 0.0), levels;
    for (const SpectralRow& row : spectra.rows) {
        if (row.density.size() != bins) return std::nullopt;
        double level = 0.0;
        for (std::size_t k = first; k < last; ++k) {
            mean[k - first] += static_cast<double>(row.density[k]) / static_cast<double>(spectra.rows.size());
            level += static_cast<double>(row.density[k]);
        }
        levels.push_back(level);
    }
    std::ranges::sort(levels);
    const std::size_t quarter = levels.size() / 4;
    double quiet = 0.0, loud = 0.0;
    for (std::size_t i = 0; i < quarter; ++i) {
        quiet += levels[i];
        loud += levels[levels.size() - 1 - i];
    }
    if (!(quiet > 0.0) || loud > alike * quiet) return std::nullopt;
    double least = std::numeric_limits<double>::infinity(), greatest = 0.0;
    for (std::size_t p = 0; p < parts; ++p) {
        const auto begin = mean.begin() + static_cast<std::ptrdiff_t>(p * mean.size() / parts);
        const auto end = mean.begin() + static_cast<std::ptrdiff_t>((p + 1) * mean.size() / parts);
        double sum = 0.0;
        for (auto at = begin; at != end; ++at) sum += *at;
        const double level = sum / static_cast<double>(end - begin);
        least = std::min(least, level);
        greatest = std::max(greatest, level);
    }
    if (!(least > 0.0) || greatest > even * least) return std::nullopt;
    return least;
}

// Of the bands, the least one that is no zero.
std::optional<double> lowest_bound(const Verdict& verdict)
{
    std::optional<double> lowest;
    for (const Band& band : verdict.bands)
        for (const std::optional<double>& bound : {band.from, band.limit})
            if (bound && *bound != 0.0 && (!lowest || *bound < *lowest)) lowest = bound;
    return lowest;
}

struct NoisyLane {
    const Measured* measured = nullptr;
    Lane lane = {};
    Noise noise = {};
    double rms = 0.0; // of the lane
};

class Look {
public:
    Look(const Survey& survey, std::span<const Measured> measured) : survey_(survey)
    {
        for (const Measured& one : measured)
            if (one.pass) of_file_[one.recording->file].push_back(&one);
    }

    std::vector<Finding> findings(std::span<const Verdict> verdicts)
    {
        for (const Verdict& verdict : verdicts) look_at(verdict);
        std::vector<Finding> findings;
        for (auto& [place, worst] : worst_) findings.push_back(std::move(worst.finding));
        return findings;
    }

private:
    struct Worst {
        double share = 0.0; // of the bound
        Finding finding = {};
    };

    static double rms_of(const LaneResult& lane)
    {
        return lane.tally.duration_s > 0.0 ? std::sqrt(lane.tally.sum_squares / lane.tally.duration_s) : 0.0;
    }

    // The noisiest recording of a term, by its share.
    std::optional<NoisyLane> noisiest(const Verdict& verdict, const VerdictTerm& term, bool with_floor) const
    {
        std::optional<NoisyLane> worst;
        std::set<const Measured*> of_term; // each once, in the survey's order: they lie in one array
        for (const std::string& file : term.recordings)
            if (const auto found = of_file_.find(file); found != of_file_.end())
                of_term.insert(found->second.begin(), found->second.end());
        for (const Measured* one : of_term) {
            const Recording& recording = *one->recording;
            if (verdict.person.empty() && recording.space != verdict.space) continue;
            for (const LaneResult& lane : one->pass->lanes) {
                if (lane.refused || name_of(lane.lane.axis) != term.axis ||
                    name_of(lane.lane.weighting) != term.weighting)
                    continue;
                const double rms = rms_of(lane);
                const auto noise = noise_of(*one, survey_.sensor(recording.sensor), lane.lane, with_floor);
                if (!noise || !(rms > 0.0)) continue;
                if (!worst || noise->rms / rms > worst->noise.rms / worst->rms) worst = {one, lane.lane, *noise, rms};
            }
        }
        return worst;
    }

    // What is certain comes first: a floor that is greater still must not hide it.
    void look_at(const Verdict& verdict)
    {
        if (!look_at(verdict, false)) look_at(verdict, true);
    }

    bool look_at(const Verdict& verdict, bool with_floor)
    {
        const Quantity* quantity = quantity_named(verdict.quantity);
        const auto bound = lowest_bound(verdict);
        if (!verdict.judged || !verdict.value || !bound || quantity == nullptr || !quantity->power) return true;
        double of_noise = 0.0, of_all = 0.0;
        std::optional<NoisyLane> worst;
        for (const VerdictTerm& term : verdict.terms) {
            if (verdict.axis != "total" && term.axis != verdict.axis) continue;
            const auto lane = noisiest(verdict, term, with_floor);
            if (!lane) continue;
            of_noise += term.factor * term.factor * lane->noise.rms * lane->noise.rms;
            of_all += term.factor * term.factor * lane->rms * lane->rms;
            if (!worst || lane->noise.rms / lane->rms > worst->noise.rms / worst->rms) worst = lane;
        }
        if (!worst || !(of_all > 0.0)) return false;
        // A noise that comes to more than the record holds is none of this record's.
        const double share = std::min(1.0, std::sqrt(of_noise / of_all));
        const bool is_level = quantity->unit == "dB";
        const double value =
            is_level ? *verdict.value + 20.0 * std::log10(share) : *verdict.value * std::pow(share, *quantity->power);
        const double of_bound = is_level ? std::pow(10.0, (value - *bound) / 20.0)
                                         : std::pow(std::abs(value / *bound), 1.0 / *quantity->power);
        if (share < share_that_matters || of_bound < share_that_matters) return false;
        Worst& held = worst_[{worst->measured->recording->file, worst->lane.channel,
                              std::string(name_of(worst->lane.weighting)), worst->noise.is_certain}];
        if (held.share >= of_bound) return true;
        held.share = of_bound;
        held.finding = {
            .severity = worst->noise.is_certain ? Severity::caution : Severity::note,
            .code = "noise-floor",
            .message = fmt::format(
                "of channel {}, {} comes to {:.2g} {} r.m.s. behind {}, {:.0f} % of what was recorded there and {:.0f} "
                "% "
                "of the lowest bound of {} ({:.4g} {}); {}",
                worst->lane.channel, worst->noise.how, worst->noise.rms,
                unit_behind(worst->lane, worst->measured->motion),
                worst->lane.weighting == WeightingId::none ? "no weighting"
                                                           : std::string(name_of(worst->lane.weighting)),
                100.0 * std::min(1.0, worst->noise.rms / worst->rms), 100.0 * of_bound, verdict.criterion, *bound,
                verdict.unit,
                worst->noise.is_certain
                    ? "the verdict may be one of noise: use a more sensitive sensor or a narrower range"
                    : "a motion so broad and steady looks the same: measure with the sensor at rest, and state "
                      "noise_m_s2 in its [[sensor]]"),
            .recording = worst->measured->recording->file,
            .channel = worst->lane.channel};
        return true;
    }

    const Survey& survey_;
    std::map<std::string_view, std::vector<const Measured*>> of_file_;
    std::map<std::tuple<std::string, int, std::string, bool>, Worst> worst_;
};

// Two thousand values of the response, which every lane of every recording asks for and few surveys need of more than
// a handful of rates and weightings: without keeping them a judgement from the cache takes four times as long.
using Bandwidth = std::tuple<double, WeightingId, Motion>; // rate, Hz

double noise_bandwidth(const Bandwidth& of)
{
    const auto& [rate_hz, weighting, input] = of;
    const double top = 0.5 * rate_hz;
    if (weighting == WeightingId::none) return top;
    static std::mutex guard;
    static std::map<Bandwidth, double> known;
    {
        const std::lock_guard lock(guard);
        if (const auto found = known.find(of); found != known.end()) return found->second;
    }
    // In equal steps of the logarithm, over five decades below the top.
    constexpr int steps = 2000;
    constexpr double decades = 5.0;
    const double width = decades * std::numbers::ln10 / steps;
    double integral = 0.0;
    for (int i = 0; i < steps; ++i) {
        const double hz = top * std::pow(10.0, -decades * (i + 0.5) / steps);
        integral += std::norm(filters::analytic_response(weighting, input, hz)) * hz * width;
    }
    constexpr std::size_t most_kept = 1000;
    const std::lock_guard lock(guard);
    if (known.size() >= most_kept) known.clear();
    known.emplace(of, integral);
    return integral;
}

} // namespace

double weighted_white_noise(double density, double rate_hz, WeightingId weighting, Motion input)
{
    return std::sqrt(density * noise_bandwidth({rate_hz, weighting, input}));
}

std::optional<Noise> noise_of(const Measured& measured, const Sensor* sensor, const Lane& lane, bool with_floor)
{
    const ChannelResult* channel = measured.channel(lane.channel);
    if (channel == nullptr) return std::nullopt;
    const io::RecordingInfo& info = measured.pass->info;
    std::optional<Noise> greatest;
    const auto consider = [&](double rms, std::string how, bool is_certain) {
        if (rms > 0.0 && (!greatest || rms > greatest->rms)) greatest = {rms, std::move(how), is_certain};
    };
    const double step =
        std::max(info.integer_pcm ? info.step * std::abs(measured.to_si) : 0.0, channel->scan.least_step());
    constexpr double steps_squared_of_variance = 12.0;
    consider(weighted_white_noise(2.0 * step * step / steps_squared_of_variance / info.rate_hz, info.rate_hz,
                                  lane.weighting, measured.motion),
             fmt::format("the quantisation (steps of {:.2g} {})", step, si_unit_of(measured.motion, measured.rotates)),
             true);
    if (sensor != nullptr && sensor->noise_m_s2 && measured.motion == Motion::acceleration && !measured.rotates &&
        output_of(lane.weighting, measured.motion) == Motion::acceleration)
        consider(*sensor->noise_m_s2, fmt::format("the noise stated of sensor {}", sensor->id), true);
    if (with_floor && channel->spectra && (sensor == nullptr || !sensor->noise_m_s2))
        if (const auto density = floor_density(*channel->spectra))
            consider(weighted_white_noise(*density, info.rate_hz, lane.weighting, measured.motion),
                     "the even, steady floor of its spectrum", false);
    return greatest;
}

std::vector<Finding> noise_floors(const Survey& survey, std::span<const Measured> measured,
                                  std::span<const Verdict> verdicts)
{
    return Look(survey, measured).findings(verdicts);
}

} // namespace becalm::evaluators
