#include "filters/components.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include <Eigen/Dense>

#include "src/base/problem.h"

namespace becalm::filters {
namespace {

using std::numbers::pi;
using Complex = std::complex<double>;

constexpr double least_steadiness = 0.8;
constexpr double least_pairs = 6.0;
constexpr double near_bins = 4.0;
constexpr double off_one_lobe = 0.15;  // not a limit: share of the energy in another place than one tone has it
constexpr double off_two_lobes = 0.3;  // not a limit: the same of two, whose product does not quite cancel
constexpr double most_left = 0.02;     // not a limit: share of the density that two clean tones do not foretell
constexpr double left_by_floor = 10.0; // not a limit: of the floor, which is foretold by nothing and misleads twice
constexpr double off_unit = 0.15;      // not a limit: by which a tone's level may seem to grow from turn to turn

} // namespace

// ---- sums ----

LaggedSpectra::LaggedSpectra(double rate_hz, std::size_t length)
    : rate_hz_(rate_hz), density_(rate_hz, length), hop_(length / 2), pending_(length), power_(length / 2 + 1, 0.0),
      pair_power_(power_), last_power_(power_), before_last_power_(power_), first_power_(power_), second_power_(power_),
      last_(power_.size()), before_last_(power_.size()), lag_1_(power_.size()), lag_2_(power_.size()),
      first_pair_(power_.size())
{
    BECALM_ASSERT(length >= 8 && length % 2 == 0);
}

void LaggedSpectra::add(std::span<const double> samples)
{
    while (!samples.empty()) {
        const std::size_t taken = std::min(samples.size(), pending_.size() - filled_);
        std::copy_n(samples.begin(), taken, pending_.begin() + static_cast<std::ptrdiff_t>(filled_));
        samples = samples.subspan(taken);
        filled_ += taken;
        if (filled_ < pending_.size()) return;
        close_segment();
        std::copy(pending_.begin() + static_cast<std::ptrdiff_t>(hop_), pending_.end(), pending_.begin());
        filled_ = pending_.size() - hop_;
    }
}

void LaggedSpectra::close_segment()
{
    const auto now = density_.transform(pending_);
    for (std::size_t k = 0; k < now.size(); ++k) {
        const double power = std::norm(now[k]);
        power_[k] += power;
        if (segments_ >= 1) {
            pair_power_[k] += 0.5 * (power + last_power_[k]);
            lag_1_[k] += now[k] * std::conj(last_[k]);
        }
        if (segments_ >= 2) lag_2_[k] += now[k] * std::conj(before_last_[k]);
        if (segments_ == 0) first_power_[k] = power;
        if (segments_ == 1) {
            second_power_[k] = power;
            first_pair_[k] = now[k] * std::conj(last_[k]);
        }
        before_last_power_[k] = last_power_[k];
        last_power_[k] = power;
    }
    last_.swap(before_last_);
    std::ranges::copy(now, last_.begin());
    ++segments_;
}

LaggedSums LaggedSpectra::sums() const
{
    LaggedSums sums{.rate_hz = rate_hz_,
                    .length = pending_.size(),
                    .hop = hop_,
                    .segments = segments_,
                    .density = power_,
                    .pair_density = pair_power_,
                    .lag_1 = lag_1_,
                    .lag_2 = lag_2_,
                    .ends = {.first_power = first_power_,
                             .second_power = second_power_,
                             .last_but_one_power = before_last_power_,
                             .last_power = last_power_,
                             .first_pair = first_pair_,
                             .last_pair = std::vector<Complex>(power_.size())}};
    const auto mean_of = [](std::size_t segments, std::size_t lag) {
        return segments > lag ? 1.0 / static_cast<double>(segments - lag) : 0.0;
    };
    for (std::size_t k = 0; k < power_.size(); ++k) {
        const double factor = density_.factor(k);
        sums.density[k] *= factor * mean_of(segments_, 0);
        sums.pair_density[k] *= factor * mean_of(segments_, 1);
        sums.lag_1[k] *= factor * mean_of(segments_, 1);
        sums.lag_2[k] *= factor * mean_of(segments_, 2);
        for (auto* power :
             {&sums.ends.first_power, &sums.ends.second_power, &sums.ends.last_but_one_power, &sums.ends.last_power})
            (*power)[k] *= factor;
        sums.ends.first_pair[k] *= factor;
        sums.ends.last_pair[k] = factor * last_[k] * std::conj(before_last_[k]);
    }
    // Hann: sum w[n] w[n + L/2] = L/16, sum w^2 = 3 L/8, exactly for even lengths.
    sums.overlap = 1.0 / 6.0; // not a limit: of the Hann window
    return sums;
}

// ---- components ----

namespace {

// Into -half ... half.
double wrapped(double x, double half) { return x - 2.0 * half * std::round(x / (2.0 * half)); }

// The median of a mean over n draws of |X|^2 lies below their mean by this factor (Wilson and Hilferty's cube root of
// chi squared with 2 n degrees of freedom: from memory).
double median_over_mean(double averages) { return std::pow(1.0 - 1.0 / (9.0 * averages), 3); }

// Probability that a mean over n draws of |X|^2 of noise is more than `ratio` times what is expected: upper gamma
// function of whole n.
double exceeded_by_chance(double averages, double ratio)
{
    const auto n = static_cast<int>(std::max(1.0, std::round(averages)));
    const double x = n * ratio;
    double sum = 0.0;
    for (int i = 0; i < n; ++i) sum += std::exp(i * std::log(x) - x - std::lgamma(i + 1.0));
    return std::min(1.0, sum);
}

class Finder {
public:
    explicit Finder(const LaggedSums& sums)
        : sums_(sums), resolution_hz_(sums.resolution_hz()), averages_(effective_averages(sums.length, sums.segments)),
          pairs_(static_cast<double>(sums.segments) - 1.0)
    {
    }

    std::vector<Component> found(double least_ratio)
    {
        const auto& density = sums_.density;
        for (std::size_t k = 3; k + 3 < density.size(); ++k) {
            if (!(density[k] > density[k - 1] && density[k] >= density[k + 1])) continue;
            const double floor = floor_around(density, k) / median_over_mean(averages_);
            if (!(density[k] > least_ratio * floor)) continue;
            if (!add_pair(k, floor)) add_one(k, floor);
        }
        std::ranges::sort(found_, std::ranges::greater{}, &Component::rms);
        leave_out_side_lobes();
        find_beats();
        return std::move(found_);
    }

private:
    double turn_of_bin() const { return 2.0 * pi * static_cast<double>(sums_.hop) / static_cast<double>(sums_.length); }
    // lag_1 without what the floor puts there.
    Complex net_lag(std::size_t k, double floor) const
    {
        return sums_.lag_1[k] - std::polar(sums_.overlap * floor, turn_of_bin() * static_cast<double>(k));
    }
    double square_scale() const { return 1.5 * resolution_hz_; } // not a limit: noise bandwidth of the Hann window

    Component begun(std::size_t k, double floor) const
    {
        const double ratio = floor > 0.0 ? sums_.density[k] / floor : std::numeric_limits<double>::infinity();
        Component c{.above_floor = ratio};
        if (sums_.pair_density[k] > 0.0) c.steadiness = std::abs(sums_.lag_1[k]) / sums_.pair_density[k];
        c.confidence = floor > 0.0 ? std::pow(1.0 - exceeded_by_chance(averages_, ratio),
                                              static_cast<double>(sums_.density.size()))
                                   : 1.0;
        if (floor > 0.0 && pairs_ >= 1.0) {
            // Phases are off by 1 / (2 snr) each; in the sum of their steps all but the ends cancel. What noise does
            // to noise does not cancel.
            const double snr = std::max(ratio - 1.0, 1e-3);
            c.hz_uncertainty =
                std::sqrt(1.0 / (snr * pairs_ * pairs_) + 0.5 / (snr * snr * pairs_)) / turn_of_bin() * resolution_hz_;
        }
        return c;
    }

    void add_one(std::size_t k, double floor)
    {
        const auto& density = sums_.density;
        Component c = begun(k, floor);
        const SpectralLine coarse = line_at(density, resolution_hz_, k, floor);
        const auto centre = static_cast<double>(k);
        double offset = coarse.hz / resolution_hz_ - centre;
        const double net_pair = sums_.pair_density[k] - floor;
        const double steady = net_pair > 0.0 ? std::abs(net_lag(k, floor)) / net_pair : 0.0;
        if (pairs_ >= least_pairs)
            c.character = steady >= std::max(least_steadiness, std::sqrt(5.0 / pairs_)) ? Character::tone
                                                                                        : Character::narrow_band;
        if (pairs_ >= 1.0 && c.character != Character::narrow_band) {
            // The greater neighbour has its share in the tone too, and the floor's share turns the other way there.
            const std::size_t beside = density[k + 1] >= density[k - 1] ? k + 1 : k - 1;
            const double turn = std::arg(net_lag(k, floor) + net_lag(beside, floor));
            const double by_phase = turn / turn_of_bin() - centre;
            offset += wrapped(by_phase - offset, pi / turn_of_bin());
        }
        offset = std::clamp(offset, -1.0, 1.0);
        c.hz = (centre + offset) * resolution_hz_;

        // Least squares of the lobe through the bins that it fills most.
        double fitted = 0.0, lobes = 0.0;
        for (int j = -1; j <= 1; ++j) {
            const double lobe = std::pow(hann_lobe(j - offset), 2);
            fitted += (density[k + static_cast<std::size_t>(j + 1) - 1] - floor) * lobe;
            lobes += lobe * lobe;
        }
        const double peak = std::max(0.0, fitted / lobes);
        c.rms = std::sqrt(peak * square_scale());

        if (c.character == Character::tone) {
            c.wander_hz = std::sqrt(2.0 * std::max(0.0, 1.0 - steady)) / turn_of_bin() * resolution_hz_;
            double off = 0.0, all = 0.0;
            for (int j = -2; j <= 2; ++j) {
                const double here = density[k + static_cast<std::size_t>(j + 2) - 2] - floor;
                off += std::abs(here - peak * std::pow(hann_lobe(j - offset), 2));
                all += std::abs(here);
            }
            // A lobe of another shape, more than the scatter of the floor makes it, is that of two.
            c.close_pair = off > (off_one_lobe + 4.0 * floor / density[k]) * all;
        }
        found_.push_back(c);
    }

    // Two tones as one bin sees them: how they turn and what each has there of its density.
    struct TwoTurns {
        std::size_t bin = 0;
        std::array<double, 2> offset = {}; // bins from it, up to 2 bins that the turn cannot tell
        std::array<double, 2> power = {};
        double balance = 0.0; // 0: one of them alone
        double left = 0.0;    // share of the density that two steady tones do not foretell
    };

    std::optional<TwoTurns> two_turns(std::size_t k, double floor) const
    {
        const double r0 = sums_.density[k] - floor;
        const Complex r1 = net_lag(k, floor);
        // Each segment from the third on, x, from the two before it, p and q: means over these alone.
        const auto& ends = sums_.ends;
        const double all = static_cast<double>(sums_.segments), threes = all - 2.0;
        const double power = all * sums_.density[k];
        const Complex pairs = pairs_ * sums_.lag_1[k], ground = sums_.lag_1[k] - r1;
        const double xx = (power - ends.first_power[k] - ends.second_power[k]) / threes - floor;
        const double pp = (power - ends.first_power[k] - ends.last_power[k]) / threes - floor;
        const double qq = (power - ends.last_but_one_power[k] - ends.last_power[k]) / threes - floor;
        const Complex xp = (pairs - ends.first_pair[k]) / threes - ground;
        const Complex pq = (pairs - ends.last_pair[k]) / threes - ground;
        const Complex xq = sums_.lag_2[k];
        const double d = pp * qq - std::norm(pq);
        // One tone: nothing to tell apart, and the equations say nothing.
        if (!(r0 > floor && xx > 0.0 && pp > 0.0 && qq > 0.0 && d > 0.1 * pp * qq)) return {};
        const Complex a = (xp * qq - xq * std::conj(pq)) / d, b = (xq * pp - xp * pq) / d;
        const double left = (xx - (std::conj(a) * xp + std::conj(b) * xq).real()) / xx;
        // Noise is not foretold, and of a tone that wanders only a part: both ends of its way are near to two tones.
        if (std::abs(left) > std::min(0.2, most_left + left_by_floor * floor / r0)) return {};
        const Complex root = std::sqrt(a * a + 4.0 * b);
        const std::array<Complex, 2> z{0.5 * (a + root), 0.5 * (a - root)};
        TwoTurns result{.bin = k, .balance = d / (pp * qq), .left = std::max(0.0, left)};
        result.power = powers(z, r0, r1, xq);
        for (std::size_t i = 0; i < 2; ++i) {
            if (std::abs(std::abs(z[i]) - 1.0) > off_unit || result.power[i] < std::max(0.05 * r0, 3.0 * floor))
                return {};
            result.offset[i] = wrapped(std::arg(z[i]) / turn_of_bin() - static_cast<double>(k), pi / turn_of_bin());
        }
        const double beats =
            std::abs(wrapped(result.offset[0] - result.offset[1], pi / turn_of_bin())) * turn_of_bin() * pairs_;
        if (beats < 2.0 * 2.0 * pi) return {};
        return result;
    }

    // Of two tones that turn by z, from the means of what they show together: |A|^2, |B|^2 and A conj(B), whose beats
    // are not whole over the segments, by least squares.
    std::array<double, 2> powers(std::array<Complex, 2> z, double r0, Complex r1, Complex r2) const
    {
        for (Complex& turn : z) turn /= std::abs(turn);
        Eigen::Matrix<double, 5, 4> equations;
        Eigen::Matrix<double, 5, 1> shown;
        shown << r0, r1.real(), r1.imag(), r2.real(), r2.imag();
        for (std::size_t lag = 0; lag <= 2; ++lag) {
            Complex beats; // mean of (z0 conj z1)^s over the pairs of this lag
            const std::size_t count = sums_.segments - lag;
            for (std::size_t s = 0; s < count; ++s)
                beats += std::polar(1.0 / static_cast<double>(count),
                                    static_cast<double>(s) * std::arg(z[0] * std::conj(z[1])));
            const Complex one = std::pow(z[0], static_cast<double>(lag)),
                          other = std::pow(z[1], static_cast<double>(lag));
            const Complex there = one * beats, back = other * std::conj(beats);
            const std::array<Complex, 4> by{one, other, there + back, Complex(0.0, 1.0) * (there - back)};
            for (int column = 0; column < 4; ++column) {
                const Complex value = by[static_cast<std::size_t>(column)];
                const int row = lag == 0 ? 0 : static_cast<int>(2 * lag) - 1;
                equations(row, column) = value.real();
                if (lag > 0) equations(row + 1, column) = value.imag();
            }
        }
        const Eigen::Matrix<double, 4, 1> solved = equations.completeOrthogonalDecomposition().solve(shown);
        return {solved[0], solved[1]};
    }

    double peak_of(const TwoTurns& two, std::size_t i) const
    {
        return two.power[i] / std::pow(hann_lobe(two.offset[i]), 2);
    }

    // How far the bins around k are from what the two would show.
    double misfit(const TwoTurns& two, std::size_t k, double floor) const
    {
        double off = 0.0;
        for (std::size_t j = k - 3; j <= k + 3; ++j) {
            double shown = floor;
            for (std::size_t i = 0; i < 2; ++i) {
                const double at = static_cast<double>(two.bin) + two.offset[i];
                shown += peak_of(two, i) * std::pow(hann_lobe(static_cast<double>(j) - at), 2);
            }
            off += std::abs(sums_.density[j] - shown);
        }
        return off;
    }

    // Two tones in the lobe of bin k; of its bins the one where they are nearest to equal tells most.
    bool add_pair(std::size_t k, double floor)
    {
        constexpr std::size_t least_segments = 12;
        if (sums_.segments < least_segments) return false;
        std::optional<TwoTurns> two;
        for (std::size_t j = k - 1; j <= k + 1; ++j) {
            const auto here = two_turns(j, floor);
            if (here && (!two || here->balance > two->balance)) two = here;
        }
        if (!two) return false;
        const double turn = 2.0 * pi / turn_of_bin(); // bins
        TwoTurns best = *two;
        double least = std::numeric_limits<double>::infinity();
        for (const double first : {-turn, 0.0, turn})
            for (const double second : {-turn, 0.0, turn}) {
                TwoTurns moved = *two;
                moved.offset = {two->offset[0] + first, two->offset[1] + second};
                constexpr double farthest = 1.7; // bins; beyond, the lobe is too low to tell a level from
                if (std::abs(moved.offset[0]) > farthest || std::abs(moved.offset[1]) > farthest) continue;
                const double off = misfit(moved, k, floor);
                if (off < least) {
                    least = off;
                    best = moved;
                }
            }
        double around = 0.0;
        for (std::size_t j = k - 3; j <= k + 3; ++j) around += sums_.density[j];
        if (!(least < off_two_lobes * around)) return false;
        const std::size_t before = found_.size();
        for (std::size_t i = 0; i < 2; ++i) {
            Component c = begun(k, floor);
            // Of the weaker one, and the more the nearer they are to one tone (first order; measured in the tests).
            c.hz_uncertainty *= std::sqrt((best.power[0] + best.power[1]) / (best.power[i] * best.balance));
            c.hz = (static_cast<double>(best.bin) + best.offset[i]) * resolution_hz_;
            c.rms = std::sqrt(peak_of(best, i) * square_scale());
            c.wander_hz = std::sqrt(best.left) / turn_of_bin() * resolution_hz_;
            c.character = Character::tone;
            c.close_pair = true;
            // The other maximum of the same two has told it already.
            if (std::ranges::none_of(std::span(found_).first(before), [&](const Component& other) {
                    return std::abs(other.hz - c.hz) < 0.5 * resolution_hz_;
                }))
                found_.push_back(c);
        }
        return true;
    }

    void leave_out_side_lobes()
    {
        std::vector<Component> kept;
        for (const Component& c : found_) {
            double lobes = 0.0;
            for (const Component& greater : kept)
                if (!(c.close_pair && greater.close_pair))
                    lobes += std::pow(greater.rms * hann_lobe((c.hz - greater.hz) / resolution_hz_), 2);
            if (c.rms * c.rms > 3.0 * lobes) kept.push_back(c);
        }
        found_ = std::move(kept);
    }

    void find_beats()
    {
        constexpr double beyond_one_lobe = 1.6; // bins; two tones nearer to each other are told apart by how they turn
        for (Component& c : found_) {
            double skirts = 0.0;                    // of other tones, as a share of this one: they turn its phase aside
            for (const Component& other : found_) { // the strongest first
                const double apart = std::abs(other.hz - c.hz);
                if (&other == &c || apart >= near_bins * resolution_hz_ || c.character != Character::tone ||
                    other.character != Character::tone)
                    continue;
                c.close_pair = true;
                if (!c.beat_hz) c.beat_hz = apart;
                if (apart > beyond_one_lobe * resolution_hz_)
                    skirts += std::pow(other.rms / c.rms * hann_lobe(apart / resolution_hz_), 2);
            }
            // The bin beside the greatest joins in the phase and has more of the others: twice as much (measured in the
            // tests).
            c.hz_uncertainty = std::hypot(c.hz_uncertainty, 2.0 * std::sqrt(skirts) * resolution_hz_);
        }
    }

    const LaggedSums& sums_;
    double resolution_hz_, averages_, pairs_;
    std::vector<Component> found_;
};

} // namespace

std::vector<Component> components(const LaggedSums& sums, double least_ratio)
{
    if (sums.segments == 0) return {};
    return Finder(sums).found(least_ratio);
}

// ---- sidebands ----

namespace {

constexpr int most_sidebands = 3;
constexpr double most_by_chance = 0.005;

std::optional<std::size_t> nearest(std::span<const SpectralLine> lines, double hz, double within)
{
    std::optional<std::size_t> found;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const double off = std::abs(lines[i].hz - hz);
        if (off <= within && (!found || off < std::abs(lines[*found].hz - hz))) found = i;
    }
    return found;
}

bool are_harmonics(std::span<const SpectralLine> lines, double carrier_hz, double spacing_hz, double sideband_rms,
                   double tolerance_hz)
{
    const double multiple = carrier_hz / spacing_hz;
    constexpr double most_multiple = 12.5;
    if (multiple > most_multiple || std::abs(multiple - std::round(multiple)) * spacing_hz > 2.0 * tolerance_hz)
        return false;
    const auto fundamental = nearest(lines, spacing_hz, tolerance_hz);
    return fundamental && lines[*fundamental].rms >= sideband_rms;
}

} // namespace

std::vector<SidebandFamily> sideband_families(std::span<const SpectralLine> lines, double tolerance_hz)
{
    std::vector<std::size_t> by_strength(lines.size());
    for (std::size_t i = 0; i < by_strength.size(); ++i) by_strength[i] = i;
    std::ranges::stable_sort(by_strength, std::ranges::greater{}, [&](std::size_t i) { return lines[i].rms; });
    std::vector<SidebandFamily> families;
    std::vector<char> taken(lines.size(), 0);
    for (const std::size_t carrier : by_strength) {
        if (taken[carrier]) continue;
        const double hz = lines[carrier].hz, rms = lines[carrier].rms;
        const auto is_member = [&](std::optional<std::size_t> i) {
            return i && *i != carrier && !taken[*i] && lines[*i].rms < rms && lines[*i].rms > 0.01 * rms;
        };
        SidebandFamily best;
        for (std::size_t upper = 0; upper < lines.size(); ++upper) {
            const double spacing = lines[upper].hz - hz;
            if (spacing <= 2.0 * tolerance_hz || spacing > 0.5 * hz || !is_member(upper)) continue;
            SidebandFamily family{.carrier = carrier};
            double sum = 0.0, weakest = rms;
            for (int k = -most_sidebands; k <= most_sidebands; ++k) {
                const auto i = k == 0 ? std::nullopt : nearest(lines, hz + k * spacing, std::abs(k) * tolerance_hz);
                if (!is_member(i)) continue;
                family.members.push_back({*i, k});
                sum += (lines[*i].hz - hz) / k;
                weakest = std::min(weakest, lines[*i].rms);
            }
            const auto has = [&](int k) {
                return std::ranges::find(family.members, k, &Sideband::k) != family.members.end();
            };
            if (!has(-1) || !has(1) || family.members.size() <= best.members.size()) continue;
            family.spacing_hz = sum / static_cast<double>(family.members.size());
            if (are_harmonics(lines, hz, family.spacing_hz, weakest, tolerance_hz)) continue;
            // How often would lines spread evenly over this neighbourhood do the same: each line above the carrier
            // offers a spacing, and each further member is met with the probability that one of the other lines (one at
            // least) lies at its place.
            const double reach = most_sidebands * spacing;
            double around = 1.0 - static_cast<double>(family.members.size() + 1), offers = 0.0;
            for (const SpectralLine& line : lines) {
                around += std::abs(line.hz - hz) <= reach;
                offers += line.hz > hz && line.hz <= hz + spacing;
            }
            const double met = std::min(1.0, around / (2.0 * reach) * 2.0 * tolerance_hz);
            if (offers * std::pow(met, static_cast<double>(family.members.size() - 1)) > most_by_chance) continue;
            best = std::move(family);
        }
        if (best.members.empty()) continue;
        taken[carrier] = 1;
        for (const Sideband& member : best.members) taken[member.component] = 1;
        families.push_back(std::move(best));
    }
    return families;
}

// ---- tracks ----

namespace {

std::optional<SpectralLine> line_near(const SpectralRow& row, double resolution_hz, double hz, double reach_bins,
                                      double least_ratio)
{
    // The neighbourhood alone, as far as floor_around() looks.
    constexpr double margin = 27.0;
    const auto end = static_cast<double>(row.density.size());
    const double place = hz / resolution_hz;
    const double first = std::clamp(std::floor(place - reach_bins - margin), 0.0, end);
    const double beyond = std::clamp(std::ceil(place + reach_bins + margin), first, end);
    const std::vector<double> density(row.density.begin() + static_cast<std::ptrdiff_t>(first),
                                      row.density.begin() + static_cast<std::ptrdiff_t>(beyond));
    if (density.size() < 5) return {};
    const double centre = place - first;
    const auto last = static_cast<double>(density.size() - 2);
    const auto from = static_cast<std::size_t>(std::clamp(std::ceil(centre - reach_bins), 1.0, last));
    const auto to = static_cast<std::size_t>(std::clamp(std::floor(centre + reach_bins), 1.0, last));
    std::optional<std::size_t> top;
    for (std::size_t k = from; k <= to; ++k)
        if (density[k] > density[k - 1] && density[k] >= density[k + 1] && (!top || density[k] > density[*top]))
            top = k;
    if (!top) return {};
    const double floor = floor_around(density, *top);
    if (!(density[*top] > least_ratio * floor)) return {};
    SpectralLine line = line_at(density, resolution_hz, *top, floor);
    line.hz += first * resolution_hz;
    return line;
}

double median_of_three(double a, double b, double c) { return std::max(std::min(a, b), std::min(std::max(a, b), c)); }

double interpolated(std::span<const SpeedPoint> speed, double time_s)
{
    const auto after = std::ranges::lower_bound(speed, time_s, {}, &SpeedPoint::time_s);
    if (after == speed.begin()) return after->speed;
    const auto before = after - 1;
    const double share = (time_s - before->time_s) / (after->time_s - before->time_s);
    return before->speed + share * (after->speed - before->speed);
}

} // namespace

bool Track::drifts(double resolution_hz) const
{
    if (points.size() < 5 || 5 * points.size() < 3 * rows) return false;
    const double range = highest_hz - lowest_hz;
    return range > 0.5 * resolution_hz && range > 4.0 * jitter_hz;
}

Track track(const ChannelSpectra& spectra, double hz, double reach_bins, double least_ratio)
{
    Track result{.rows = spectra.rows.size()};
    const double resolution_hz = spectra.resolution_hz;
    std::vector<std::optional<SpectralLine>> lines(spectra.rows.size());
    std::optional<std::size_t> start;
    for (std::size_t r = 0; r < lines.size(); ++r) {
        lines[r] = line_near(spectra.rows[r], resolution_hz, hz, reach_bins, least_ratio);
        if (lines[r] && (!start || lines[r]->rms > lines[*start]->rms)) start = r;
    }
    if (!start) return result;
    const double begun_at = lines[*start]->hz;
    double last = begun_at;
    const auto follow = [&](std::size_t r) {
        lines[r] = line_near(spectra.rows[r], resolution_hz, last, reach_bins, least_ratio);
        if (lines[r]) last = lines[r]->hz;
    };
    for (std::size_t r = *start + 1; r < lines.size(); ++r) follow(r);
    last = begun_at;
    for (std::size_t r = *start; r-- > 0;) follow(r);
    for (std::size_t r = 0; r < lines.size(); ++r)
        if (lines[r])
            result.points.push_back(
                {0.5 * (spectra.rows[r].from_s + spectra.rows[r].to_s), lines[r]->hz, lines[r]->rms});

    const auto n = static_cast<double>(result.points.size());
    double mean_t = 0.0, mean_hz = 0.0, tt = 0.0, th = 0.0;
    result.lowest_hz = std::numeric_limits<double>::infinity();
    result.highest_hz = 0.0;
    std::vector<double> steps;
    for (std::size_t i = 0; i < result.points.size(); ++i) {
        const TrackPoint& point = result.points[i];
        mean_t += point.time_s / n;
        mean_hz += point.hz / n;
        const double before = result.points[i == 0 ? i : i - 1].hz;
        const double after = result.points[std::min(i + 1, result.points.size() - 1)].hz;
        const double calm = median_of_three(before, point.hz, after); // one row that erred makes no drift
        result.lowest_hz = std::min(result.lowest_hz, calm);
        result.highest_hz = std::max(result.highest_hz, calm);
        if (i > 0) steps.push_back(std::abs(point.hz - result.points[i - 1].hz));
    }
    for (const TrackPoint& point : result.points) {
        tt += std::pow(point.time_s - mean_t, 2);
        th += (point.time_s - mean_t) * (point.hz - mean_hz);
    }
    if (tt > 0.0) result.slope_hz_per_s = th / tt;
    if (!steps.empty()) {
        const auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
        std::ranges::nth_element(steps, middle);
        result.jitter_hz = *middle;
    }
    return result;
}

FollowedSpeed followed(const Track& track, std::span<const SpeedPoint> speed, double resolution_hz)
{
    FollowedSpeed result;
    if (speed.size() < 2) return result;
    std::vector<std::pair<double, double>> points; // speed, Hz
    for (const TrackPoint& point : track.points)
        if (point.time_s >= speed.front().time_s && point.time_s <= speed.back().time_s)
            points.emplace_back(interpolated(speed, point.time_s), point.hz);
    constexpr std::size_t least_points = 4;
    if (points.size() < least_points) return result;
    const auto n = static_cast<double>(points.size());
    double vv = 0.0, vf = 0.0, mean = 0.0;
    auto [slowest, fastest] = std::pair(points.front().first, points.front().first);
    for (const auto& [v, f] : points) {
        vv += v * v;
        vf += v * f;
        mean += f / n;
        slowest = std::min(slowest, v);
        fastest = std::max(fastest, v);
    }
    if (!(vv > 0.0)) return result;
    const double order = result.order_hz_per_speed = vf / vv;
    double along = 0.0, still = 0.0;
    for (const auto& [v, f] : points) {
        along += std::pow(f - order * v, 2) / n;
        still += std::pow(f - mean, 2) / n;
    }
    result.off_along_hz = std::sqrt(along);
    result.off_still_hz = std::sqrt(still);
    const double range = std::abs(order) * (fastest - slowest);
    if (range < resolution_hz) return result;
    const double near = std::max(0.5 * resolution_hz, 0.1 * range);
    result.following = Following::neither;
    if (result.off_along_hz <= near && 2.0 * result.off_along_hz < result.off_still_hz)
        result.following = Following::moves_along;
    if (result.off_still_hz <= near && 2.0 * result.off_still_hz < result.off_along_hz)
        result.following = Following::stands_still;
    return result;
}

} // namespace becalm::filters
