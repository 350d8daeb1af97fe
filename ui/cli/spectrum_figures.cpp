#include "ui/cli/spectrum_figures.h"

#include <algorithm>
#include <filesystem>
#include <limits>

#include <fmt/format.h>

#include "ui/cli/figure_folder.h"
#include "ui/figures/explanation_figures.h"

namespace becalm::cli {
namespace {

figures::Heading heading_of(const SpectrumReport& report, const SpectrumLane& lane, const std::string& title)
{
    figures::Heading heading{.title = title,
                             .subtitle = fmt::format("{}, channel {}, axis {}, weighting {}",
                                                     std::filesystem::path(report.file).filename().string(),
                                                     lane.channel, lane.axis, lane.weighting)};
    heading.notes.push_back(fmt::format("{:.4g} Hz between the bins, {} segments, Hann window, half overlapping",
                                        lane.resolution_hz, lane.segments));
    if (report.converted_to)
        heading.notes.push_back(fmt::format("converted to {} in the frequency domain; nothing below {:.4g} Hz is shown",
                                            *report.converted_to, report.from_hz));
    return heading;
}

// Bins that are not reported are gaps.
std::vector<double> from_bin(std::vector<double> values, int first)
{
    std::fill_n(values.begin(), std::min(values.size(), static_cast<std::size_t>(std::max(first, 0))),
                std::numeric_limits<double>::quiet_NaN());
    return values;
}

Result<void> write(FigureFolder& folder, const SpectrumReport& report, const SpectrumLane& lane, bool linear_frequency)
{
    const std::string stem = fmt::format("{}-{}-{}-{}", std::filesystem::path(report.file).stem().string(),
                                         lane.channel, lane.axis, lane.weighting);
    const double to_hz = static_cast<double>(lane.density.size()) * lane.resolution_hz;
    figures::SpectrumInput spectrum{.heading = heading_of(report, lane, "Spectrum"),
                                    .quantity = "density",
                                    .shown = figures::thousandths_density(lane.unit),
                                    .resolution_hz = lane.resolution_hz,
                                    .traces = {{.words = "mean",
                                                .values = from_bin(lane.density, lane.first_bin),
                                                .least = from_bin(lane.least, lane.first_bin),
                                                .greatest = from_bin(lane.greatest, lane.first_bin)}},
                                    .from_hz = std::max(report.from_hz, linear_frequency ? 0.0 : lane.resolution_hz),
                                    .to_hz = to_hz,
                                    .logarithmic_frequency = !linear_frequency};
    if (auto written = folder.keep(stem + "-spectrum", figures::spectrum_figure(spectrum)); !written) return written;
    figures::BandTrace bands;
    for (const BandLevel& band : lane.third_octaves) {
        bands.hz.push_back(band.nominal_hz);
        bands.values.push_back(band.rms);
    }
    return folder.keep(stem + "-bands",
                       figures::third_octave_figure({.heading = heading_of(report, lane, "One-third octaves"),
                                                     .quantity = "r.m.s.",
                                                     .shown = figures::thousandths(lane.unit),
                                                     .traces = {std::move(bands)}}));
}

} // namespace

Result<std::vector<std::string>> write_figures(const SpectrumReport& report, const std::string& folder_name,
                                               bool linear_frequency)
{
    FigureFolder folder(folder_name);
    for (const SpectrumLane& lane : report.lanes)
        if (auto written = write(folder, report, lane, linear_frequency); !written)
            return tl::unexpected(written.error());
    return folder.names();
}

} // namespace becalm::cli
