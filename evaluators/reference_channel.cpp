#include "evaluators/reference_channel.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace becalm::evaluators {
namespace {

constexpr double moves_with_from = 0.8;    // not a limit: of coherence
constexpr double does_not_below = 0.3;     // not a limit: of coherence
constexpr double least_own_share = 0.7;    // not a limit: of the channel's density
constexpr double one_sided_95 = 1.6449;    // not a limit: of the normal distribution
constexpr double hann_noise_bins = 1.5;    // not a limit: equivalent noise bandwidth of the Hann window
constexpr double reference_off_bins = 1.0; // by which the reference's own line may lie off

// Upper end of the one-sided 95 % interval of gamma^2.
double at_most(double coherence, double averages)
{
    const double scatter = 1.0 / (2.0 * (averages - 1.0));
    const double z = std::atanh(std::sqrt(coherence)) - scatter + one_sided_95 * std::sqrt(scatter);
    return std::pow(std::tanh(std::max(0.0, z)), 2);
}

// Share of channel 0's density at line k that is the component's own.
double own_share(const filters::CrossDensities& densities, std::span<const filters::SpectralLine> lines,
                 std::size_t which, std::size_t k)
{
    const double here = densities.density(0, k), resolution_hz = densities.resolution_hz();
    double others = filters::floor_around(densities.density(0), k);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (i == which) continue;
        const double lobe = filters::hann_lobe((densities.hz(k) - lines[i].hz) / resolution_hz);
        others += lines[i].rms * lines[i].rms / (hann_noise_bins * resolution_hz) * lobe * lobe;
    }
    return here > 0.0 ? 1.0 - others / here : 0.0;
}

bool has_line_of_its_own(const filters::CrossDensities& densities, double hz, std::size_t k)
{
    const std::vector<double> density = densities.density(1);
    for (std::size_t at = k - 1; at <= k + 1 && at + 1 < density.size(); ++at) {
        if (!(density[at] > density[at - 1] && density[at] >= density[at + 1])) continue;
        const auto line = filters::line_at(density, densities.resolution_hz(), at, filters::floor_around(density, at));
        if (std::abs(line.hz - hz) <= reference_off_bins * densities.resolution_hz()) return true;
    }
    return false;
}

} // namespace

std::string why_no_coherence(const filters::CrossDensities& densities)
{
    bool moves = false;
    for (std::size_t k = 1; k < densities.lines(); ++k) moves = moves || filters::has_energy(densities, 1, k);
    if (!moves) return "it does not move; see to its transducer";
    if (densities.averages() < least_averages_of_coherence) {
        const double segment_s = 1.0 / densities.resolution_hz();
        // Half overlapping; 18/19 of the segments count as averages.
        const double segments = std::ceil(least_averages_of_coherence * 19.0 / 18.0); // not a limit: Hann window
        return fmt::format("{} segments of {:.4g} s are too few; {:.4g} s without a gap are needed", densities.segments,
                           segment_s, segment_s * (segments + 1.0) / 2.0);
    }
    return {};
}

std::optional<ReferenceSays> reference_says(const filters::CrossDensities& densities,
                                            std::span<const filters::SpectralLine> lines, std::size_t which)
{
    const double hz = lines[which].hz;
    const auto k = static_cast<std::size_t>(std::llround(hz / densities.resolution_hz()));
    if (k < 2 || k + 1 >= densities.lines()) return {};
    ReferenceSays says{.coherence = filters::coherence(densities, 0, 1, k)};
    if (own_share(densities, lines, which, k) < least_own_share) return says;
    if (says.coherence >= moves_with_from && has_line_of_its_own(densities, hz, k))
        says.word = ReferenceWord::moves_with;
    if (at_most(says.coherence, densities.averages()) < does_not_below) says.word = ReferenceWord::does_not;
    return says;
}

} // namespace becalm::evaluators
