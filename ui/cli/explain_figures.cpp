#include "ui/cli/explain_figures.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <system_error>

#include <fmt/format.h>

#include "src/io/atomic_file.h"
#include "ui/figures/builders.h"
#include "ui/figures/svg.h"

namespace becalm::cli {
namespace {

// What a file may be called everywhere.
std::string plain(const std::string& text)
{
    std::string name;
    for (const char c : text) {
        const bool keeps =
            (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' || c == '_';
        if (keeps)
            name += c;
        else if (!name.empty() && name.back() != '-')
            name += '-';
    }
    while (!name.empty() && name.back() == '-') name.pop_back();
    return name;
}

// m/s2 as mm/s², m/s as mm/s: what comfort is told in.
figures::Numbers thousandths(const std::string& unit)
{
    return {.unit = unit == "m/s2" ? "mm/s²" : unit == "m/s" ? "mm/s" : "10⁻³ " + unit, .shown_per_unit = 1e3};
}

figures::Numbers density(const std::string& unit)
{
    return {.unit = unit == "m/s2"  ? "(mm/s²)²/Hz"
                    : unit == "m/s" ? "(mm/s)²/Hz"
                                    : "10⁻⁶ (" + unit + ")²/Hz",
            .shown_per_unit = 1e6};
}

// Lines that the sources are known for, and those further ones at which something was found.
std::vector<figures::SourceLine> source_lines(const ExplainedSpectrum& spectrum, const Explanation& explanation)
{
    std::vector<figures::SourceLine> lines;
    for (const NamedLine& line : spectrum.lines) {
        const bool found = std::ranges::any_of(explanation.components, [&](const ExplainedComponent& component) {
            return component.axis == spectrum.axis && !component.matches.empty() &&
                   component.matches.front().source == line.source && component.matches.front().line == line.name;
        });
        if (found || line.rank == 1) lines.push_back({line.source + ", " + line.name, line.hz});
    }
    return lines;
}

class FigureWriter {
public:
    explicit FigureWriter(std::string folder) : folder_(std::move(folder)) {}

    Result<std::vector<std::string>> write(const ExplanationReport& report)
    {
        std::error_code error;
        std::filesystem::create_directories(folder_, error); // what went wrong shows when writing
        for (const Explanation& explanation : report.explanations)
            if (explanation.why_not.empty())
                if (auto written = write(explanation); !written) return tl::unexpected(written.error());
        return std::move(names_);
    }

private:
    Result<void> write(const Explanation& explanation)
    {
        const Verdict& verdict = explanation.verdict;
        const std::string who = verdict.person.empty() ? verdict.space : verdict.person;
        const std::string place =
            fmt::format("{} {}{}{}", who, verdict.position, verdict.condition.empty() ? "" : ", ", verdict.condition);
        const std::string stem =
            plain(fmt::format("{}-{}-{}-{}", who, verdict.position, verdict.condition, verdict.criterion));
        const auto heading = [&](const std::string& title, const std::string& axis) {
            return figures::Heading{.title = title + (axis.empty() ? "" : ", axis " + axis),
                                    .subtitle = place + "; " + verdict.edition};
        };
        for (const ExplainedSpectrum& spectrum : explanation.spectra) {
            const auto lines = source_lines(spectrum, explanation);
            const double to_hz = std::min(100.0, static_cast<double>(spectrum.density.size()) * spectrum.resolution_hz);
            const auto shown = [&](figures::Heading words) {
                words.notes.push_back(fmt::format("{}, {:.4g} Hz between the bins, Hann window, half overlapping",
                                                  spectrum.weighting, spectrum.resolution_hz));
                return words;
            };
            if (auto written =
                    keep(stem + "-spectrum-" + spectrum.axis,
                         figures::spectrum_figure({.heading = shown(heading("Weighted spectrum", spectrum.axis)),
                                                   .quantity = "weighted density",
                                                   .shown = density(spectrum.unit),
                                                   .resolution_hz = spectrum.resolution_hz,
                                                   .traces = {{.values = spectrum.density}},
                                                   .sources = lines,
                                                   .to_hz = to_hz}));
                !written)
                return written;
            figures::BandTrace bands;
            for (const BandShare& band : explanation.bands) {
                if (band.axis != spectrum.axis) continue;
                bands.hz.push_back(band.nominal_hz);
                bands.values.push_back(band.weighted_rms);
            }
            if (auto written =
                    keep(stem + "-bands-" + spectrum.axis,
                         figures::third_octave_figure({.heading = heading("Weighted one-third octaves", spectrum.axis),
                                                       .quantity = "weighted r.m.s.",
                                                       .shown = thousandths(spectrum.unit),
                                                       .traces = {std::move(bands)},
                                                       .sources = lines}));
                !written)
                return written;
            if (spectrum.rows.size() < 2) continue;
            figures::SpectrogramInput gram{.heading = heading("Weighted spectrum over time", spectrum.axis),
                                           .quantity = "weighted density",
                                           .shown = density(spectrum.unit),
                                           .resolution_hz = spectrum.resolution_hz,
                                           .sources = lines,
                                           .to_hz = to_hz};
            for (const SpectralRow& row : spectrum.rows) gram.rows.push_back({row.from_s, row.to_s, row.density});
            if (auto written = keep(stem + "-spectrogram-" + spectrum.axis, figures::spectrogram_figure(gram));
                !written)
                return written;
        }
        return keep(stem + "-ladder",
                    figures::ladder_figure(ladder(explanation, heading("What carries the value", ""))));
    }

    // A rung for each source, one for the greatest unexplained components, and what is broad.
    static figures::LadderInput ladder(const Explanation& explanation, figures::Heading heading)
    {
        std::map<std::string, std::pair<double, std::string>> sources; // share, lines
        std::vector<figures::Contribution> rungs;
        for (const ExplainedComponent& component : explanation.components) {
            if (component.matches.empty()) {
                if (component.share >= 0.01)
                    rungs.push_back({fmt::format("unexplained, {:.2f} Hz", component.hz), "axis " + component.axis,
                                     component.share});
                continue;
            }
            auto& [share, lines] = sources[component.matches.front().source];
            share += component.share;
            lines += fmt::format("{}{:.2f} Hz", lines.empty() ? "" : ", ", component.hz);
        }
        for (const auto& [source, what] : sources) rungs.push_back({source, what.second, what.first});
        std::ranges::stable_sort(rungs, std::ranges::greater{}, &figures::Contribution::share);
        return {
            .heading = std::move(heading), .contributions = std::move(rungs), .rest = "broad, and fainter components"};
    }

    Result<void> keep(const std::string& name, const figures::Figure& figure)
    {
        std::string file = name + ".svg";
        // Two places whose names differ in signs alone still get a file each.
        for (int k = 2; std::ranges::find(names_, file) != names_.end(); ++k) file = fmt::format("{}-{}.svg", name, k);
        const auto written =
            io::write_file_atomically((std::filesystem::path(folder_) / file).string(), figures::svg_of(figure));
        if (!written) return written;
        names_.push_back(file);
        return {};
    }

    std::string folder_;
    std::vector<std::string> names_;
};

} // namespace

Result<std::vector<std::string>> write_figures(const ExplanationReport& report, const std::string& folder)
{
    return FigureWriter(folder).write(report);
}

} // namespace becalm::cli
