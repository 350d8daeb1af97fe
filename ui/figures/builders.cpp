#include "ui/figures/builders.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include <fmt/format.h>

#include "filters/welch.h"

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
            .notes = heading.notes};
}

// The number stays with its unit where the words are wrapped.
std::string hertz(double hz) { return fmt::format("{:.4g}", hz) + "\xC2\xA0Hz"; }

// A name and its frequency.
std::string line_words(const SourceLine& source) { return isolated(source.words) + " " + hertz(source.hz); }

std::vector<Marker> markers_of(const std::vector<SourceLine>& sources)
{
    std::vector<Marker> markers;
    markers.reserve(sources.size());
    for (const SourceLine& source : sources) markers.push_back({source.hz, line_words(source)});
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

PlotAxis band_axis(const std::vector<Bands>& all)
{
    PlotAxis axis{.kind = AxisKind::third_octaves, .words = "one-third octave"};
    if (const auto range = range_of(all)) {
        axis.from = range->first;
        axis.to = range->second;
    }
    return axis;
}

PlotAxis time_axis(std::optional<std::chrono::local_seconds> start)
{
    return {.kind = AxisKind::time, .words = start ? "clock time" : "time", .start = start};
}

// Both with the decimals that give the uncertainty two digits.
std::string value_words(const RulerInput& ruler)
{
    const double value = *ruler.value * ruler.shown.shown_per_unit;
    const std::string unit = ruler.shown.unit.empty() ? "" : " " + ruler.shown.unit;
    const double uncertainty = ruler.expanded_uncertainty.value_or(0.0) * ruler.shown.shown_per_unit;
    if (!(std::isfinite(uncertainty) && uncertainty > 0.0))
        return number_text(value) + unit + ", uncertainty not stated";
    const int decimals = 1 - static_cast<int>(std::floor(std::log10(uncertainty)));
    if (std::abs(value) >= 1e6 || decimals > 8)
        return number_text(value, 4) + " ± " + number_text(uncertainty, 2) + unit + " (k = 2)";
    return decimal_text(value, decimals) + " ± " + decimal_text(uncertainty, decimals) + unit + " (k = 2)";
}

struct Distance {
    std::optional<double> limit = {};
    std::string words = {};
};

Distance distance_of(const RulerInput& ruler)
{
    if (!ruler.value || !std::isfinite(*ruler.value) || !ruler.band || *ruler.band >= ruler.bands.size()) return {};
    const RulerScaleBand& band = ruler.bands[*ruler.band];
    const double uncertainty = ruler.expanded_uncertainty.value_or(0.0);
    const auto told = [&](double limit, const std::string& words) {
        const double away = std::abs(limit - *ruler.value);
        std::string text = number_text(away * ruler.shown.shown_per_unit, 2) +
                           (ruler.shown.unit.empty() ? "" : " " + ruler.shown.unit);
        text += " " + words;
        if (limit > 0.0) text += fmt::format(" ({} % of it)", number_text(100.0 * away / limit, 2));
        if (uncertainty > away) text += ", within the uncertainty";
        return Distance{limit, text};
    };
    // Where a second quantity decides, the value need not lie in the band: then no distance tells anything.
    if (band.limit) return *ruler.value <= *band.limit ? told(*band.limit, "below the next limit") : Distance{};
    std::optional<double> last = band.from;
    if (!last && *ruler.band > 0) last = ruler.bands[*ruler.band - 1].limit;
    return last && *ruler.value >= *last ? told(*last, "above the last limit") : Distance{};
}

Ruler ruler_of(const RulerInput& input)
{
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
    ruler.value_words = input.value && std::isfinite(*input.value) ? value_words(input)
                        : input.why_not.empty()                    ? "not judged"
                                                                   : "not judged: " + input.why_not;
    const Distance distance = distance_of(input);
    ruler.next_limit = distance.limit;
    ruler.distance_words = distance.words;
    return ruler;
}

} // namespace

Figure spectrum_figure(const SpectrumInput& input)
{
    Figure figure = begun(input.heading);
    Plot plot;
    plot.x = {.kind = input.logarithmic_frequency ? AxisKind::logarithmic : AxisKind::linear,
              .words = "frequency",
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
            Series band{.words = trace.words.empty() ? "least to greatest" : trace.words + ", least to greatest",
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
    plot.markers = markers_of(input.sources);
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
    plot.x = band_axis(all);
    plot.y = {.kind = input.logarithmic ? AxisKind::logarithmic : AxisKind::linear,
              .words = input.quantity,
              .numbers = input.shown,
              .from = input.from_value,
              .most_decades = 4.0};
    for (std::size_t i = 0; i < input.limits.size(); ++i) plot.series.push_back(curve_series(input.limits[i], i));
    plot.markers = markers_of(input.sources);
    figure.panels.push_back({.content = std::move(plot)});
    return figure;
}

Figure spectrogram_figure(const SpectrogramInput& input)
{
    Figure figure = begun(input.heading);
    Plot plot;
    plot.x = time_axis(input.start);
    plot.y = {.kind = input.logarithmic_frequency ? AxisKind::logarithmic : AxisKind::linear,
              .words = "frequency",
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
        plot.levels.push_back({source.hz, line_words(source), Level::Kind::source});
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
        Ruler ruler = ruler_of(input);
        const double bands = static_cast<double>(std::max<std::size_t>(ruler.bands.size(), 1));
        exceeds =
            exceeds || std::any_of(ruler.bands.begin(), ruler.bands.end(), [](const auto& b) { return b.exceeds; });
        figure.panels.push_back({.words = input.words, .share = bands, .content = std::move(ruler)});
    }
    if (exceeds) figure.notes.emplace_back("hatched: exceeds the criterion");
    return figure;
}

Figure time_strip_figure(const TimeStripInput& input)
{
    Figure figure = begun(input.heading);
    Plot plot;
    plot.x = time_axis(input.start);
    plot.x.from = input.from_s;
    plot.x.to = input.from_s + input.step_s * static_cast<double>(std::max(input.rms.size(), input.peak.size()));
    plot.y = {.kind = input.logarithmic ? AxisKind::logarithmic : AxisKind::linear,
              .words = input.quantity,
              .numbers = input.shown,
              .most_decades = 4.0};
    const Places rows{.first = input.from_s, .step = input.step_s};
    const std::string of = input.step_s == 1.0 ? "each second" : fmt::format("each {:.3g} s", input.step_s);
    plot.series.push_back({.words = "peak of " + of,
                           .form = SeriesForm::steps,
                           .x = rows,
                           .values = input.peak,
                           .ink = Ink::third,
                           .width_px = 1.0});
    plot.series.push_back({.words = "r.m.s. of " + of,
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

Figure time_history_figure(const TimeHistoryInput& input)
{
    Figure figure = begun(input.heading);
    for (const HistoryPanel& panel : input.panels) {
        Plot plot;
        plot.x = time_axis(input.start);
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
    levels.x = band_axis({first, second});
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
    levels.markers = markers_of(input.sources);

    Plot change;
    change.x = levels.x;
    change.y.words = "change";
    if (!input.first.words.empty() && !input.second.words.empty())
        change.y.words = isolated(input.second.words) + " against " + isolated(input.first.words);
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
    Figure figure = begun(input.heading);
    const AxisKind kind = input.logarithmic ? AxisKind::logarithmic : AxisKind::linear;
    Plot plot;
    plot.x = {.kind = kind, .words = input.over, .numbers = input.over_shown};
    plot.y = {.kind = kind, .words = input.quantity, .numbers = input.shown, .most_decades = 4.0};
    if (!input.at.empty()) {
        Series& interval = plot.series.emplace_back();
        interval.words = input.interval_words;
        interval.form = SeriesForm::band;
        interval.x.listed = input.at;
        interval.values = input.high;
        interval.lower = input.low;
        interval.ink = Ink::second;
        Series& line = plot.series.emplace_back();
        line.words = input.line_words;
        line.x.listed = input.at;
        line.values = input.line;
        line.ink = Ink::second;
        line.dash = Dash::dashed;
        line.width_px = strong_px;
    }
    Series points{.words = "measured", .form = SeriesForm::points, .ink = Ink::first, .width_px = strong_px};
    bool with_bars = false;
    for (const TrendPlace& place : input.points) {
        points.x.listed.push_back(place.at);
        points.values.push_back(place.value);
        points.reach.push_back(place.expanded_uncertainty.value_or(not_a_number));
        with_bars = with_bars || place.expanded_uncertainty.has_value();
    }
    if (with_bars) points.words += ", with its expanded uncertainty (k = 2)";
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
