#include "ui/figures/explanation_figures.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include <fmt/format.h>

#include "filters/weighting.h"
#include "filters/welch.h"
#include "ui/figures/figure_words.h"
#include "ui/figures/text.h"

namespace becalm::figures {
namespace {

Heading heading(const Explanation& explanation, const Phrase& title, const std::string& axis, Language language)
{
    return {.title = axis.empty() ? title.text() : filled(words_of(language).of_axis, title, axis),
            .subtitle = subject_of(explanation.verdict, language),
            .language = language};
}

} // namespace

Numbers thousandths(const std::string& unit)
{
    return {.unit = unit == "m/s2" ? "mm/s²" : unit == "m/s" ? "mm/s" : "10⁻³ " + unit, .shown_per_unit = 1e3};
}

Numbers thousandths_density(const std::string& unit)
{
    return {.unit = unit == "m/s2"  ? "(mm/s²)²/Hz"
                    : unit == "m/s" ? "(mm/s)²/Hz"
                                    : "10⁻⁶ (" + unit + ")²/Hz",
            .shown_per_unit = 1e6};
}

Numbers shown_in(std::string_view unit)
{
    // Comfort is told in thousandths of the SI unit.
    if (unit == "m/s2" || unit == "m/s") return {pretty_unit("m" + std::string(unit)), 1e3};
    return {unit == "1" ? std::string() : pretty_unit(unit), 1.0};
}

RulerInput ruler_of(const Verdict& verdict, std::string words)
{
    RulerInput ruler{.words = std::move(words), .shown = shown_in(verdict.unit)};
    for (const Band& band : verdict.bands) ruler.bands.push_back({band.name, band.from, band.limit, band.exceeds});
    ruler.value = verdict.value;
    ruler.expanded_uncertainty = verdict.expanded_uncertainty;
    if (verdict.judged && verdict.band_index) ruler.band = static_cast<std::size_t>(*verdict.band_index);
    ruler.why_not = verdict.why_not;
    return ruler;
}

std::vector<NamedLine> lines_shown(const ExplainedSpectrum& spectrum, const Explanation& explanation)
{
    std::vector<NamedLine> lines;
    for (const NamedLine& line : spectrum.lines) {
        const bool found = std::ranges::any_of(explanation.components, [&](const ExplainedComponent& component) {
            return component.axis == spectrum.axis && !component.matches.empty() &&
                   component.matches.front().source == line.source && component.matches.front().line == line.name;
        });
        if (found || line.rank == 1) lines.push_back(line);
    }
    return lines;
}

std::vector<SourceLine> source_lines(const ExplainedSpectrum& spectrum, const Explanation& explanation,
                                     Language language)
{
    std::vector<SourceLine> lines;
    for (const NamedLine& line : lines_shown(spectrum, explanation))
        lines.push_back({line.source + ", " + line_words(line.name, language), line.hz});
    return lines;
}

std::string subject_of(const Verdict& verdict, Language language)
{
    return fmt::format("{} {}{}{}; {}", verdict.person.empty() ? verdict.space : verdict.person,
                       position_words(verdict.position, language), verdict.condition.empty() ? "" : ", ",
                       verdict.condition, verdict.edition);
}

double shown_to_hz(const ExplainedSpectrum& spectrum)
{
    return std::min(most_shown_hz, static_cast<double>(spectrum.density.size()) * spectrum.resolution_hz);
}

double shown_from_hz(const std::string& name)
{
    constexpr double usual_hz = 0.5; // not a limit
    const auto weighting = weighting_named(name);
    if (!weighting || *weighting == WeightingId::none) return usual_hz;
    return std::min(usual_hz, filters::parameters_of(*weighting).nominal_low_hz / 2.0);
}

std::string how_made(const ExplainedSpectrum& spectrum, Language language)
{
    return filled(words_of(language).how_made, spectrum.weighting,
                  in_digits_of(language, fmt::format("{:.4g}", spectrum.resolution_hz)));
}

SpectrumInput weighted_spectrum(const Explanation& explanation, const ExplainedSpectrum& spectrum, Language language)
{
    const FigureWords& words = words_of(language);
    SpectrumInput input{.heading = heading(explanation, words.weighted_spectrum, spectrum.axis, language),
                        .quantity = words.weighted_density.text(),
                        .shown = thousandths_density(spectrum.unit),
                        .resolution_hz = spectrum.resolution_hz,
                        .traces = {{.values = spectrum.density}},
                        .sources = source_lines(spectrum, explanation, language),
                        .to_hz = shown_to_hz(spectrum)};
    input.heading.notes.push_back(how_made(spectrum, language));
    return input;
}

ThirdOctaveInput weighted_bands(const Explanation& explanation, const ExplainedSpectrum& spectrum, Language language)
{
    const FigureWords& words = words_of(language);
    BandTrace bands;
    for (const BandShare& band : explanation.bands) {
        if (band.axis != spectrum.axis) continue;
        bands.hz.push_back(band.nominal_hz);
        bands.values.push_back(band.weighted_rms);
    }
    return {.heading = heading(explanation, words.weighted_bands, spectrum.axis, language),
            .quantity = words.weighted_rms.text(),
            .shown = thousandths(spectrum.unit),
            .traces = {std::move(bands)},
            .sources = source_lines(spectrum, explanation, language)};
}

ThirdOctaveInput all_weighted_bands(const Explanation& explanation, const ExplainedSpectrum& spectrum,
                                    Language language)
{
    ThirdOctaveInput input = weighted_bands(explanation, spectrum, language);
    BandTrace all;
    const double rate_hz =
        2.0 * spectrum.resolution_hz * static_cast<double>(std::max<std::size_t>(spectrum.density.size(), 1) - 1);
    for (const filters::ThirdOctave& band : filters::third_octaves_within(spectrum.resolution_hz, rate_hz)) {
        if (band.nominal_hz < shown_from_hz(spectrum) || band.nominal_hz > shown_to_hz(spectrum)) continue;
        all.hz.push_back(band.nominal_hz);
        all.values.push_back(filters::band_rms(spectrum.density, spectrum.resolution_hz, band.from_hz, band.to_hz));
    }
    input.traces = {std::move(all)};
    return input;
}

SpectrogramInput weighted_spectrogram(const Explanation& explanation, const ExplainedSpectrum& spectrum,
                                      Language language)
{
    const FigureWords& words = words_of(language);
    SpectrogramInput gram{.heading = heading(explanation, words.spectrum_over_time, spectrum.axis, language),
                          .quantity = words.weighted_density.text(),
                          .shown = thousandths_density(spectrum.unit),
                          .resolution_hz = spectrum.resolution_hz,
                          .sources = source_lines(spectrum, explanation, language),
                          .to_hz = shown_to_hz(spectrum)};
    for (const SpectralRow& row : spectrum.rows) gram.rows.push_back({row.from_s, row.to_s, row.density});
    return gram;
}

std::optional<FrequencyCurve> weighting_shape(const ExplainedSpectrum& spectrum, Language language)
{
    const auto weighting = weighting_named(spectrum.weighting);
    if (!weighting || *weighting == WeightingId::none) return {};
    // Whatever was recorded: to what it is weighted is the spectrum's unit, so its shape is that of such a channel.
    const auto unit = unit_named(spectrum.unit);
    if (!unit) return {};
    FrequencyCurve shape{.words = filled(words_of(language).weighting_shape, spectrum.weighting)};
    double top = 0.0, greatest = 0.0;
    const double to_hz = shown_to_hz(spectrum);
    for (std::size_t k = 1; k < spectrum.density.size(); ++k) {
        const double hz = static_cast<double>(k) * spectrum.resolution_hz;
        if (hz > to_hz) break;
        top = std::max(top, spectrum.density[k]);
        const double gain = std::abs(filters::analytic_response(*weighting, unit->motion, hz));
        shape.hz.push_back(hz);
        shape.values.push_back(gain * gain);
        greatest = std::max(greatest, gain * gain);
    }
    if (!(greatest > 0.0 && top > 0.0)) return {};
    for (double& value : shape.values) value *= top / greatest;
    return shape;
}

std::optional<FrequencyCurve> curve_at_limit(const Criterion& criterion, const Explanation& explanation,
                                             const ExplainedSpectrum& spectrum, Language language)
{
    const Verdict& verdict = explanation.verdict;
    const auto axis = axis_named(spectrum.axis);
    const auto unit = unit_named(spectrum.unit);
    if (!axis || !unit || criterion.quantity != "curve_ratio") return {};
    const auto curve = criterion.curves.find(*axis);
    if (curve == criterion.curves.end()) return {};
    const auto derivative = criterion.parameters.find("derivative");
    const double order = derivative == criterion.parameters.end() ? 0.0 : derivative->second;
    if (std::lround(order) != derivative_order(unit->motion)) return {};
    std::optional<double> limit;
    if (verdict.band_index) {
        const auto at = static_cast<std::size_t>(*verdict.band_index);
        limit = verdict.bands[at].limit;
        if (!limit && at > 0) limit = verdict.bands[at - 1].limit;
    }
    const FigureWords& words = words_of(language);
    FrequencyCurve shape{.words = limit ? filled(words.curve_times, in_digits_of(language, number_text(*limit)))
                                        : words.curve_of_criterion.text()};
    for (const CurvePoint& point : curve->second) {
        shape.hz.push_back(point.hz);
        shape.values.push_back(point.value * limit.value_or(1.0));
    }
    return shape;
}

LadderInput what_carries(const Explanation& explanation, Language language)
{
    const FigureWords& words = words_of(language);
    const auto hertz = [&](double hz) { return in_digits_of(language, fmt::format("{:.2f}", hz)); };
    std::map<std::string, std::pair<double, std::string>> sources; // share, lines
    std::vector<Contribution> rungs;
    for (const ExplainedComponent& component : explanation.components) {
        if (component.matches.empty()) {
            if (component.share >= 0.01)
                rungs.push_back({filled(words.unexplained, hertz(component.hz)), filled(words.axis, component.axis),
                                 component.share});
            continue;
        }
        auto& [share, lines] = sources[component.matches.front().source];
        share += component.share;
        if (!lines.empty()) lines += words.list_separator.text();
        lines += hertz(component.hz) + " Hz";
    }
    for (const auto& [source, what] : sources) rungs.push_back({source, what.second, what.first});
    std::ranges::stable_sort(rungs, std::ranges::greater{}, &Contribution::share);
    return {.heading = heading(explanation, words.what_carries, "", language),
            .share_of = words.share_of_energy.text(),
            .contributions = std::move(rungs),
            .rest = words.rest.text()};
}

} // namespace becalm::figures
