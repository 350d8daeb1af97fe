#include "evaluators/component_details.h"

#include <cmath>

#include <fmt/format.h>

#include "filters/components.h"

namespace becalm::evaluators {
namespace {

constexpr double same_place_bins = 0.1; // of strong lines; a family of three has to fit this well
constexpr double near_bins = 4.0;
constexpr double steady_bins = 0.25;
constexpr std::size_t least_rows = 5;

bool is_tone(const filters::Track& track, double resolution_hz)
{
    return track.points.size() >= least_rows && 2 * track.points.size() > track.rows &&
           track.jitter_hz < steady_bins * resolution_hz;
}

// A side lobe of a stronger one, or a line of its own.
bool is_side_lobe(const filters::SpectralLine& line, const filters::SpectralLine& stronger, double resolution_hz)
{
    const double lobe = stronger.rms * filters::hann_lobe((line.hz - stronger.hz) / resolution_hz);
    constexpr double above = 3.0; // as mean squares
    return line.rms * line.rms < above * lobe * lobe;
}

} // namespace

std::vector<ComponentDetails> component_details(std::span<const filters::SpectralLine> lines, double resolution_hz,
                                                const ChannelSpectra* spectra)
{
    std::vector<ComponentDetails> details(lines.size());
    for (const filters::SidebandFamily& family : filters::sideband_families(lines, same_place_bins * resolution_hz))
        for (const filters::Sideband& member : family.members)
            details[member.component].sideband = fmt::format("{:+d} x {:.2f} Hz beside {:.2f} Hz", member.k,
                                                             family.spacing_hz, lines[family.carrier].hz);
    if (spectra == nullptr || spectra->rows.size() < least_rows) return details;

    constexpr double reach_bins = 1.5; // not a limit: from one row to the next
    std::vector<filters::Track> tracks;
    for (const filters::SpectralLine& line : lines) tracks.push_back(filters::track(*spectra, line.hz, reach_bins));
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (tracks[i].drifts(resolution_hz)) details[i].drift_hz = {tracks[i].lowest_hz, tracks[i].highest_hz};
        if (details[i].drift_hz || !is_tone(tracks[i], resolution_hz)) continue;
        double greatest = 0.0;
        for (std::size_t j = 0; j < lines.size(); ++j) {
            const double apart = std::abs(lines[j].hz - lines[i].hz);
            const bool i_is_weaker = lines[i].rms < lines[j].rms;
            if (j == i || apart >= near_bins * resolution_hz || !is_tone(tracks[j], resolution_hz) ||
                tracks[j].drifts(resolution_hz) || lines[j].rms <= greatest ||
                is_side_lobe(lines[i_is_weaker ? i : j], lines[i_is_weaker ? j : i], resolution_hz))
                continue;
            greatest = lines[j].rms;
            details[i].beat_hz = apart;
        }
    }
    return details;
}

} // namespace becalm::evaluators
