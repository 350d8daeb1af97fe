#include "ui/figures/builders.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include <fmt/format.h>

#include "filters/welch.h"
#include "ui/figures/figure_words.h"

namespace becalm::figures {
namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr std::size_t most_dashed = 1000; // points of a time history; dashes of a denser one are no dashes

Figure begun(const Heading& heading)
{
    return {.width_px = heading.width_px,
            .height_px = heading.height_px,
            .title = heading.title,
            .subtitle = heading.subtitle,
            .notes = heading.notes,
            .language = heading.language};
}

// The number stays with its unit where the words are wrapped.
std::string hertz(double hz, Language language)
{
    return in_digits_of(language, fmt::format("{:.4g}", hz)) + "\xC2\xA0Hz";
}

// A name and its frequency.
std::string flag_words(const SourceLine& source, Language language)
{
    return isolated(source.words) + " " + hertz(source.hz, language);
}

std::vector<Marker> markers_of(const std::vector<SourceLine>& sources, Language language)
{
    std::vector<Marker> markers;
    markers.reserve(sources.size());
    for (const SourceLine& source : sources) markers.push_back({source.hz, flag_words(source, language)});
    return markers;
}

// Solid first, then dashed, so that lines can be told apart without colour.
void dress(Series& series, std::size_t i)
{
    static constexpr std::array dashes{Dash::solid, Dash::dashed, Dash::dotted, Dash::dash_dot};
    series.ink = series_inks[i % series_inks.size()];
    series.dash = dashes[i % dashes.size()];
}

Series curve_series(const FrequencyCurve& curve, std::size_t i)
{
    return {.words = curve.words,
            .x = {.listed = curve.hz},
            .values = curve.values,
            .ink = Ink::text,
            .dash = i % 2 == 0 ? Dash::dash_dot : Dash::dotted,
            .width_px = base_px};
}

// Consecutive one-third octaves from the least to the greatest that are named.
struct Bands {
    int first = 0;
    std::vector<double> values = {};
};

int band_number(double hz) { return static_cast<int>(std::lround(10.0 * std::log10(hz))); }

Bands bands_of(const BandTrace& trace)
{
    std::map<int, double> named;
    for (std::size_t i = 0; i < std::min(trace.hz.size(), trace.values.size()); ++i)
        if (std::isfinite(trace.hz[i]) && trace.hz[i] > 1e-12 && trace.hz[i] < 1e12)
            named[band_number(trace.hz[i])] = trace.values[i];
    if (named.empty()) return {};
    Bands bands{.first = named.begin()->first};
    bands.values.assign(static_cast<std::size_t>(named.rbegin()->first - bands.first) + 1, not_a_number);
    for (const auto& [n, value] : named) bands.values[static_cast<std::size_t>(n - bands.first)] = value;
    return bands;
}

Places band_edges(const Bands& bands)
{
    Places places;
    for (std::size_t i = 0; i < bands.values.size(); ++i)
        places.listed.push_back(filters::third_octave(bands.first + static_cast<int>(i)).from_hz);
    if (!bands.values.empty())
        places.listed.push_back(filters::third_octave(bands.first + static_cast<int>(bands.values.size()) - 1).to_hz);
    return places;
}

// The curve where the bands are: a limit known further than the recording would make the axis longer.
std::optional<std::pair<double, double>> range_of(const std::vector<Bands>& all)
{
    std::optional<std::pair<double, double>> range;
    for (const Bands& bands : all) {
        if (bands.values.empty()) continue;
        const double from = filters::third_octave(bands.first).from_hz;
        const double to = filters::third_octave(bands.first + static_cast<int>(bands.values.size()) - 1).to_hz;
        range = range ? std::pair{std::min(range->first, from), std::max(range->second, to)} : std::pair{from, to};
    }
    return range;
}

PlotAxis band_axis(const std::vector<Bands>& all, const FigureWords& words)
{
    PlotAxis axis{.kind = AxisKind::third_octaves, .words = words.one_third_octave.text()};
    if (const auto range = range_of(all)) {
        axis.from = range->first;
        axis.to = range->second;
    }
    return axis;
}

PlotAxis time_axis(std::optional<std::chrono::local_seconds> start, Language language)
{
    const FigureWords& words = words_of(language);
    return {.kind = AxisKind::time, .words = (start ? words.clock_time : words.time).text(), .start = start};
}

// Both with the decimals that give the uncertainty two digits.
std::string value_words(const RulerInput& ruler, Language language)
{
    const auto digits = [language](std::string number) { return in_digits_of(language, std::move(number)); };
    const double value = *ruler.value * ruler.shown.shown_per_unit;
    const std::string unit = ruler.shown.unit.empty() ? "" : " " + ruler.shown.unit;
    const double uncertainty = ruler.expanded_uncertainty.value_or(0.0) * ruler.shown.shown_per_unit;
    if (!(std::isfinite(uncertainty) && uncertainty > 0.0))
        return digits(number_text(value)) + unit + ", " + words_of(language).uncertainty_not_stated.text();
    const int decimals = 1 - static_cast<int>(std::floor(std::log10(uncertainty)));
    if (std::abs(value) >= 1e6 || decimals > 8)
        return digits(number_text(value, 4) + " ± " + number_text(uncertainty, 2)) + unit + " (k = 2)";
    return digits(decimal_text(value, decimals) + " ± " + decimal_text(uncertainty, decimals)) + unit + " (k = 2)";
}

struct Distance {
    std::optional<double> limit = {};
    std::string words = {};
};

Distance distance_of(const RulerInput& ruler, Language language)
{
    const FigureWords& words = words_of(language);
    if (!ruler.value || !std::isfinite(*ruler.value) || !ruler.band || *ruler.band >= ruler.bands.size()) return {};
    const RulerScaleBand& band = ruler.bands[*ruler.band];
    const double uncertainty = ruler.expanded_uncertainty.value_or(0.0);
    const auto told = [&](double limit, std::string_view where) {
        const double away = std::abs(limit - *ruler.value);
        const auto digits = [&](double value) { return in_digits_of(language, number_text(value, 2)); };
        std::string text = filled(where, digits(away * ruler.shown.shown_per_unit) +
                                             (ruler.shown.unit.empty() ? "" : " " + ruler.shown.unit));
        if (limit > 0.0) text += filled(words.percent_of_limit, digits(100.0 * away / limit));
        if (uncertainty > away) text += words.within_uncertainty.text();
        return Distance{limit, text};
    };
    // Where a second quantity decides, the value need not lie in the band: then no distance tells anything.
    if (band.limit) return *ruler.value <= *band.limit ? told(*band.limit, words.below_next_limit) : Distance{};
    std::optional<double> last = band.from;
    if (!last && *ruler.band > 0) last = ruler.bands[*ruler.band - 1].limit;
    return last && *ruler.value >= *last ? told(*last, words.above_last_limit) : Distance{};
}

Ruler ruler_of(const RulerInput& input, Language language)
{
    const FigureWords& words = words_of(language);
    Ruler ruler{.numbers = input.shown, .value = input.value, .expanded_uncertainty = input.expanded_uncertainty};
    double least = std::numeric_limits<double>::infinity(), greatest = 0.0;
    for (std::size_t i = 0; i < input.bands.size(); ++i) {
        const RulerScaleBand& band = input.bands[i];
        ruler.bands.push_back({band.name, band.from, band.limit, band.exceeds, input.band == i});
        for (const auto& end : {band.from, band.limit})
            if (end && *end > 0.0) {
                least = std::min(least, *end);
                greatest = std::max(greatest, *end);
            }
    }
    // Limits over more than a decade would crowd at the foot of a linear scale.
    ruler.logarithmic = greatest > 12.0 * least;
    ruler.value_words = input.value && std::isfinite(*input.value) ? value_words(input, language)
                        : input.why_not.empty()                    ? words.not_judged.text()
                                                                   : filled(words.not_judged_because, input.why_not);
    const Distance distance = distance_of(input, language);
    ruler.next_limit = distance.limit;
    ruler.distance_words = distance.words;
    return ruler;
}

} // namespace

Figure spectrum_figure(const SpectrumInput& input)
{
    Figure figure = begun(input.heading);
    const FigureWords& words = words_of(input.heading.language);
    Plot plot;
    plot.x = {.kind = input.logarithmic_frequency ? AxisKind::logarithmic : AxisKind::linear,
              .words = words.frequency.text(),
              .numbers = {.unit = "Hz"},
              .from = input.from_hz,
              .to = input.to_hz};
    plot.y = {.kind = input.logarithmic ? AxisKind::logarithmic : AxisKind::linear,
              .words = input.quantity,
              .numbers = input.shown,
              .from = input.from_value};
    const auto without_first = [](const std::vector<double>& values) {
        return values.empty() ? values : std::vector<double>(values.begin() + 1, values.end());
    };
    const Places bins{.first = input.resolution_hz, .step = input.resolution_hz};
    for (std::size_t i = 0; i < input.traces.size(); ++i) {
        const SpectrumTrace& trace = input.traces[i];
        Series series{.words = trace.words, .x = bins, .values = without_first(trace.values)};
        dress(series, i);
        series.shaded = input.traces.size() == 1 && trace.greatest.empty();
        if (!trace.greatest.empty() && !trace.least.empty()) {
            Series band{.words = trace.words.empty() ? words.least_to_greatest.text()
                                                     : filled(words.named_least_to_greatest, trace.words),
                        .form = SeriesForm::band,
                        .x = bins,
                        .values = without_first(trace.greatest),
                        .lower = without_first(trace.least),
                        .ink = series.ink};
            plot.series.push_back(std::move(band));
        }
        plot.series.push_back(std::move(series));
    }
    for (std::size_t i = 0; i < input.shapes.size(); ++i) plot.series.push_back(curve_series(input.shapes[i], i));
    plot.markers = markers_of(input.sources, input.heading.language);
    figure.panels.push_back({.content = std::move(plot)});
    return figure;
}

Figure third_octave_figure(const ThirdOctaveInput& input)
{
    Figure figure = begun(input.heading);
    Plot plot;
    std::vector<Bands> all;
    for (std::size_t i = 0; i < input.traces.size(); ++i) {
        all.push_back(bands_of(input.traces[i]));
        Series series{.words = input.traces[i].words,
                      .form = i == 0 ? SeriesForm::bars : SeriesForm::steps,
                      .x = band_edges(all.back()),
                      .values = all.back().values};
        dress(series, i);
        plot.series.push_back(std::move(series));
    }
    plot.x = band_axis(all, words_of(input.heading.language));
    plot.y = {.kind = input.logarithmic ? AxisKind::logarithmic : AxisKind::linear,
              .words = input.quantity,
              .numbers = input.shown,
              .from = input.from_value,
              .most_decades = 4.0};
    for (std::size_t i = 0; i < input.limits.size(); ++i) plot.series.push_back(curve_series(input.limits[i], i));
    plot.markers = markers_of(input.sources, input.heading.language);
    figure.panels.push_back({.content = std::move(plot)});
    return figure;
}

Figure spectrogram_figure(const SpectrogramInput& input)
{
    Figure figure = begun(input.heading);
    Plot plot;
    plot.x = time_axis(input.start, input.heading.language);
    plot.y = {.kind = input.logarithmic_frequency ? AxisKind::logarithmic : AxisKind::linear,
              .words = words_of(input.heading.language).frequency.text(),
              .numbers = {.unit = "Hz"},
              .from = input.from_hz,
              .to = input.to_hz};
    HeatMap heat;
    heat.colour.words = input.quantity;
    heat.colour.numbers = input.shown;
    if (!input.logarithmic) heat.colour.kind = AxisKind::linear;
    heat.colour.from = input.from_value;

    // Only bins that the axis shows, edges half a bin beside their frequency; bin 0 has no lower edge above zero.
    std::size_t bins = 0;
    for (const SpectrogramRow& row : input.rows) bins = std::max(bins, row.values.size());
    std::size_t first = 1, last = 0;
    if (input.resolution_hz > 0.0 && input.to_hz > input.from_hz) {
        first = static_cast<std::size_t>(std::clamp(std::floor(input.from_hz / input.resolution_hz + 0.5), 1.0, 1e9));
        last = static_cast<std::size_t>(std::clamp(std::ceil(input.to_hz / input.resolution_hz + 0.5), 0.0, 1e9));
        last = std::min(last, bins);
    }
    if (first < last)
        for (std::size_t bin = first; bin <= last; ++bin)
            heat.y_edges.push_back((static_cast<double>(bin) - 0.5) * input.resolution_hz);

    std::vector<const SpectrogramRow*> columns; // nullptr: a gap
    for (std::size_t i = 0; i < input.rows.size(); ++i) {
        const SpectrogramRow& row = input.rows[i];
        double to = row.to_s;
        if (i + 1 < input.rows.size()) to = std::min(to, input.rows[i + 1].from_s);
        if (!(row.from_s < to)) continue;
        if (!heat.x_edges.empty() && row.from_s > heat.x_edges.back()) {
            columns.push_back(nullptr);
            heat.x_edges.push_back(row.from_s);
        }
        if (heat.x_edges.empty()) heat.x_edges.push_back(row.from_s);
        columns.push_back(&row);
        heat.x_edges.push_back(to);
    }
    for (std::size_t bin = first; bin < last; ++bin)
        for (const SpectrogramRow* row : columns)
            heat.values.push_back(row != nullptr && bin < row->values.size() ? row->values[bin]
                                                                             : std::numeric_limits<float>::quiet_NaN());
    for (const SourceLine& source : input.sources)
        plot.levels.push_back({source.hz, flag_words(source, input.heading.language), Level::Kind::source});
    plot.heat = std::move(heat);
    figure.panels.push_back({.content = std::move(plot)});
    return figure;
}

Figure ladder_figure(const LadderInput& input)
{
    Figure figure = begun(input.heading);
    Ladder ladder{.words = input.share_of};
    double told = 0.0;
    for (const Contribution& part : input.contributions) {
        ladder.rungs.push_back({part.words, part.detail, part.share});
        if (std::isfinite(part.share)) told += std::max(part.share, 0.0);
    }
    if (!input.rest.empty() && told < 1.0 - 1e-9) ladder.rungs.push_back({input.rest, "", 1.0 - told, true});
    figure.panels.push_back({.content = std::move(ladder)});
    return figure;
}

Figure ruler_figure(const Heading& heading, const std::vector<RulerInput>& rulers)
{
    Figure figure = begun(heading);
    bool exceeds = false;
    for (const RulerInput& input : rulers) {
        Ruler ruler = ruler_of(input, heading.language);
        const double bands = static_cast<double>(std::max<std::size_t>(ruler.bands.size(), 1));
        exceeds =
            exceeds || std::any_of(ruler.bands.begin(), ruler.bands.end(), [](const auto& b) { return b.exceeds; });
        figure.panels.push_back({.words = input.words, .share = bands, .content = std::move(ruler)});
    }
    if (exceeds) figure.notes.push_back(words_of(heading.language).hatched_exceeds.text());
    return figure;
}

Figure time_strip_figure(const TimeStripInput& input)
{
    Figure figure = begun(input.heading);
    Plot plot;
    plot.x = time_axis(input.start, input.heading.language);
    plot.x.from = input.from_s;
    plot.x.to = input.from_s + input.step_s * static_cast<double>(std::max(input.rms.size(), input.peak.size()));
    plot.y = {.kind = input.logarithmic ? AxisKind::logarithmic : AxisKind::linear,
              .words = input.quantity,
              .numbers = input.shown,
              .most_decades = 4.0};
    const Places rows{.first = input.from_s, .step = input.step_s};
    const FigureWords& words = words_of(input.heading.language);
    const std::string each =
        input.step_s == 1.0
            ? words.second.text()
            : filled(words.seconds, in_digits_of(input.heading.language, fmt::format("{:.3g}", input.step_s)));
    plot.series.push_back({.words = filled(words.peak_of_each, each),
                           .form = SeriesForm::steps,
                           .x = rows,
                           .values = input.peak,
                           .ink = Ink::third,
                           .width_px = 1.0});
    plot.series.push_back({.words = filled(words.rms_of_each, each),
                           .form = SeriesForm::steps,
                           .x = rows,
                           .values = input.rms,
                           .ink = Ink::first,
                           .shaded = input.bands.empty()});
    plot.left_out = input.left_out;
    for (const StripFinding& finding : input.findings)
        plot.markers.push_back({finding.at_s, finding.words, Marker::Kind::finding});
    for (const StripLimit& limit : input.limits) plot.levels.push_back({limit.value, limit.words});
    std::optional<double> end_before;
    for (const RulerScaleBand& band : input.bands) {
        plot.bands.push_back({band.from ? band.from : end_before, band.limit, band.name});
        end_before = band.limit;
    }
    figure.panels.push_back({.content = std::move(plot)});
    return figure;
}

Figure periods_figure(const PeriodsInput& input)
{
    const FigureWords& words = words_of(input.heading.language);
    Figure figure = begun(input.heading);
    // Edges of steps, with an empty step where two periods do not touch.
    Places edges;
    std::vector<double> values, exceeding, covered;
    bool any_exceeds = false, any_covered = false;
    for (const PeriodValue& period : input.periods) {
        if (!edges.listed.empty() && period.from_s > edges.listed.back()) {
            edges.listed.push_back(period.from_s);
            for (auto* list : {&values, &exceeding, &covered}) list->push_back(not_a_number);
        }
        if (edges.listed.empty()) edges.listed.push_back(period.from_s);
        edges.listed.push_back(period.to_s);
        const double value = period.value.value_or(not_a_number);
        values.push_back(period.exceeds ? not_a_number : value);
        exceeding.push_back(period.exceeds ? value : not_a_number);
        covered.push_back(period.covered.value_or(not_a_number));
        any_exceeds = any_exceeds || (period.exceeds && period.value);
        any_covered = any_covered || period.covered;
    }
    Plot plot;
    plot.x = time_axis(input.start, input.heading.language);
    if (input.start) plot.x.words = words.date.text();
    if (!edges.listed.empty()) {
        plot.x.from = edges.listed.front();
        plot.x.to = edges.listed.back();
    }
    plot.y = {.words = input.quantity, .numbers = input.shown};
    if (!input.is_level) plot.y.from = 0.0;
    plot.series.push_back({.words = any_exceeds ? words.within_allowed.text() : std::string(),
                           .form = SeriesForm::bars,
                           .x = edges,
                           .values = std::move(values),
                           .ink = Ink::first});
    if (any_exceeds)
        plot.series.push_back({.words = words.exceeding.text(),
                               .form = SeriesForm::bars,
                               .x = edges,
                               .values = std::move(exceeding),
                               .ink = Ink::second});
    std::optional<double> end_before;
    for (const RulerScaleBand& band : input.bands) {
        plot.bands.push_back({band.from ? band.from : end_before, band.limit, band.name});
        end_before = band.limit;
    }
    PlotAxis x = plot.x;
    figure.panels.push_back({.share = percent(75), .content = std::move(plot)});
    if (!any_covered) return figure;
    Plot below;
    below.x = std::move(x);
    below.y = {
        .words = words.measured.text(), .numbers = {.unit = "%", .shown_per_unit = 100.0}, .from = 0.0, .to = 1.0};
    below.series.push_back({.form = SeriesForm::bars, .x = edges, .values = std::move(covered), .ink = Ink::third});
    figure.panels.push_back({.share = percent(25), .content = std::move(below)});
    return figure;
}

Figure time_history_figure(const TimeHistoryInput& input)
{
    Figure figure = begun(input.heading);
    for (const HistoryPanel& panel : input.panels) {
        Plot plot;
        plot.x = time_axis(input.start, input.heading.language);
        plot.x.from = input.from_s;
        plot.x.to = input.to_s;
        plot.y = {.words = panel.quantity, .numbers = panel.shown};
        for (std::size_t i = 0; i < panel.traces.size(); ++i) {
            const HistoryTrace& trace = panel.traces[i];
            Series series{.words = trace.words, .x = trace.x, .values = trace.values};
            dress(series, i);
            series.width_px = 1.0;
            if (trace.values.size() > most_dashed) series.dash = Dash::solid;
            plot.series.push_back(std::move(series));
        }
        // Said once.
        plot.left_out = input.left_out;
        if (!figure.panels.empty()) {
            for (Series& series : plot.series) series.words.clear();
            for (LeftOut& span : plot.left_out) span.words.clear();
        }
        figure.panels.push_back({.content = std::move(plot)});
    }
    return figure;
}

Figure comparison_figure(const ComparisonInput& input)
{
    Figure figure = begun(input.heading);
    const Bands first = bands_of(input.first), second = bands_of(input.second);
    Plot levels;
    const FigureWords& words = words_of(input.heading.language);
    levels.x = band_axis({first, second}, words);
    levels.y = {.kind = AxisKind::logarithmic, .words = input.quantity, .numbers = input.shown, .most_decades = 4.0};
    levels.series.push_back({.words = input.first.words,
                             .form = SeriesForm::steps,
                             .x = band_edges(first),
                             .values = first.values,
                             .ink = Ink::second,
                             .dash = Dash::dashed,
                             .width_px = strong_px});
    levels.series.push_back({.words = input.second.words,
                             .form = SeriesForm::steps,
                             .x = band_edges(second),
                             .values = second.values,
                             .ink = Ink::first,
                             .width_px = strong_px,
                             .shaded = true});
    for (std::size_t i = 0; i < input.limits.size(); ++i) levels.series.push_back(curve_series(input.limits[i], i));
    levels.markers = markers_of(input.sources, input.heading.language);

    Plot change;
    change.x = levels.x;
    change.y.words = words.change.text();
    if (!input.first.words.empty() && !input.second.words.empty())
        change.y.words = filled(words.against, isolated(input.second.words), isolated(input.first.words));
    change.y.numbers.unit = "dB";
    Bands ratio;
    if (!first.values.empty() && !second.values.empty()) {
        ratio.first = std::max(first.first, second.first);
        const int end = std::min(first.first + static_cast<int>(first.values.size()),
                                 second.first + static_cast<int>(second.values.size()));
        for (int n = ratio.first; n < end; ++n) {
            const double from = first.values[static_cast<std::size_t>(n - first.first)];
            const double to = second.values[static_cast<std::size_t>(n - second.first)];
            ratio.values.push_back(from > 0.0 && to > 0.0 ? 20.0 * std::log10(to / from) : not_a_number);
        }
    }
    change.series.push_back(
        {.form = SeriesForm::bars, .x = band_edges(ratio), .values = ratio.values, .ink = Ink::first});
    figure.panels.push_back({.share = 2.0, .content = std::move(levels)});
    figure.panels.push_back({.share = 1.0, .content = std::move(change)});
    return figure;
}

Figure trend_figure(const TrendInput& input)
{
    const FigureWords& words = words_of(input.heading.language);
    Figure figure = begun(input.heading);
    const AxisKind kind = input.logarithmic ? AxisKind::logarithmic : AxisKind::linear;
    Plot plot;
    plot.x = {.kind = kind, .words = input.over, .numbers = input.over_shown};
    plot.y = {.kind = kind, .words = input.quantity, .numbers = input.shown, .most_decades = 4.0};
    if (!input.at.empty()) {
        Series& interval = plot.series.emplace_back();
        interval.words = input.interval_words.empty() ? words.further_values.text() : input.interval_words;
        interval.form = SeriesForm::band;
        interval.x.listed = input.at;
        interval.values = input.high;
        interval.lower = input.low;
        interval.ink = Ink::second;
        Series& line = plot.series.emplace_back();
        line.words = input.line_words.empty() ? words.fitted_line.text() : input.line_words;
        line.x.listed = input.at;
        line.values = input.line;
        line.ink = Ink::second;
        line.dash = Dash::dashed;
        line.width_px = strong_px;
    }
    Series points{.words = words.measured.text(), .form = SeriesForm::points, .ink = Ink::first, .width_px = strong_px};
    bool with_bars = false;
    for (const TrendPlace& place : input.points) {
        points.x.listed.push_back(place.at);
        points.values.push_back(place.value);
        points.reach.push_back(place.expanded_uncertainty.value_or(not_a_number));
        with_bars = with_bars || place.expanded_uncertainty.has_value();
    }
    if (with_bars) points.words = words.measured_uncertain.text();
    // Room beside the first and the last, so that no mark lies on the frame.
    std::vector<double> places = points.x.listed;
    places.insert(places.end(), input.at.begin(), input.at.end());
    const double from = places.empty() ? 1.0 : *std::ranges::min_element(places);
    const double to = places.empty() ? 1.0 : *std::ranges::max_element(places);
    if (input.logarithmic && from > 0.0) {
        const double room = std::pow(std::max(to / from, percent(120)), percent(6));
        plot.x.from = from / room;
        plot.x.to = to * room;
    } else {
        const double room = percent(6) * std::max(to - from, percent(10) * std::max(std::abs(to), 1.0));
        plot.x.from = from - room;
        plot.x.to = to + room;
    }
    plot.series.push_back(std::move(points));
    figure.panels.push_back({.content = std::move(plot)});
    return figure;
}

} // namespace becalm::figures
