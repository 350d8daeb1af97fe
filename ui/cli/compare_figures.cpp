#include "ui/cli/compare_figures.h"

#include <fmt/format.h>

#include "ui/cli/figure_folder.h"
#include "ui/figures/explanation_figures.h"

namespace becalm::cli {
namespace {

// Words for the two traces: what tells them apart.
std::string words_of(const ComparedSide& side, const Verdict& verdict, std::string_view otherwise)
{
    if (!side.condition.empty()) return side.condition;
    if (!side.title.empty()) return verdict.condition.empty() ? side.title : side.title + ", " + verdict.condition;
    return std::string(otherwise);
}

} // namespace

Result<std::vector<std::string>> write_figures(const ComparisonReport& report, const std::string& folder_name)
{
    FigureFolder folder(folder_name);
    for (const ComparedPair& pair : report.pairs)
        for (const ComparedSpectrum& spectrum : pair.spectra) {
            const Verdict& of = pair.first;
            std::string first = words_of(report.first, of, "first");
            std::string second = words_of(report.second, pair.second, "second");
            if (first == second) {
                first = "first: " + first;
                second = "second: " + second;
            }
            figures::ComparisonInput input{
                .heading = {.title = "Weighted one-third octaves, axis " + spectrum.axis,
                            .subtitle = fmt::format("{} {}; {}", of.person.empty() ? of.space : of.person, of.position,
                                                    of.edition)},
                .quantity = "weighted r.m.s.",
                .shown = figures::thousandths(spectrum.unit),
                .first = {.words = std::move(first)},
                .second = {.words = std::move(second)}};
            for (const ComparedBand& band : spectrum.bands) {
                if (band.nominal_hz < figures::shown_from_hz(spectrum.weighting) ||
                    band.nominal_hz > figures::most_shown_hz)
                    continue;
                input.first.hz.push_back(band.nominal_hz);
                input.first.values.push_back(band.first);
                input.second.hz.push_back(band.nominal_hz);
                input.second.values.push_back(band.second);
            }
            const std::string name = fmt::format("{}-{}-{}-change-{}", of.person.empty() ? of.space : of.person,
                                                 of.position, of.criterion, spectrum.axis);
            if (auto written = folder.keep(name, figures::comparison_figure(input)); !written)
                return tl::unexpected(written.error());
        }
    return folder.names();
}

} // namespace becalm::cli
