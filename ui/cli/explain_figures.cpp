#include "ui/cli/explain_figures.h"

#include <fmt/format.h>

#include "ui/cli/figure_folder.h"
#include "ui/figures/explanation_figures.h"

namespace becalm::cli {
namespace {

Result<void> write(FigureFolder& folder, const Explanation& explanation)
{
    const Verdict& verdict = explanation.verdict;
    const std::string stem = fmt::format("{}-{}-{}-{}", verdict.person.empty() ? verdict.space : verdict.person,
                                         verdict.position, verdict.condition, verdict.criterion);
    for (const ExplainedSpectrum& spectrum : explanation.spectra) {
        figures::SpectrumInput input = figures::weighted_spectrum(explanation, spectrum);
        if (auto shape = figures::weighting_shape(spectrum)) input.shapes.push_back(*std::move(shape));
        if (auto written = folder.keep(stem + "-spectrum-" + spectrum.axis, figures::spectrum_figure(input)); !written)
            return written;
        if (auto written = folder.keep(stem + "-bands-" + spectrum.axis,
                                       figures::third_octave_figure(figures::weighted_bands(explanation, spectrum)));
            !written)
            return written;
        if (spectrum.rows.size() < 2) continue;
        if (auto written =
                folder.keep(stem + "-spectrogram-" + spectrum.axis,
                            figures::spectrogram_figure(figures::weighted_spectrogram(explanation, spectrum)));
            !written)
            return written;
    }
    return folder.keep(stem + "-ladder", figures::ladder_figure(figures::what_carries(explanation)));
}

} // namespace

Result<std::vector<std::string>> write_figures(const ExplanationReport& report, const std::string& folder_name)
{
    FigureFolder folder(folder_name);
    for (const Explanation& explanation : report.explanations)
        if (explanation.why_not.empty())
            if (auto written = write(folder, explanation); !written) return tl::unexpected(written.error());
    return folder.names();
}

} // namespace becalm::cli
