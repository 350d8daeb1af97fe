// The ranges of a plot's axes, and what of its data cannot stand on them.
#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

#include <fmt/format.h>

#include "ui/figures/figure_words.h"
#include "ui/figures/panel_layout.h"

namespace becalm::figures {
namespace {

bool is_logarithmic(const PlotAxis& axis)
{
    return axis.kind == AxisKind::logarithmic || axis.kind == AxisKind::third_octaves;
}

struct Extremes {
    bool logarithmic = false; // takes what is above zero only
    double least = std::numeric_limits<double>::infinity();
    double greatest = -std::numeric_limits<double>::infinity();
    std::size_t left_out = 0, infinite = 0;

    void take(double value)
    {
        if (std::isnan(value)) return;
        if (std::isinf(value)) {
            ++infinite;
        } else if (logarithmic && value < 1e-300) {
            ++left_out;
        } else {
            least = std::min(least, std::max(value, -1e300));
            greatest = std::max(greatest, std::min(value, 1e300));
        }
    }
    bool any() const { return least <= greatest; }
};

std::optional<double> usable(std::optional<double> end, bool logarithmic)
{
    return end && std::isfinite(*end) && std::abs(*end) <= 1e300 && (!logarithmic || *end > 1e-300) ? end
                                                                                                    : std::nullopt;
}

void widen(double& low, double& high, bool logarithmic, bool low_is_given)
{
    const double least_span = std::max(1e-9 * std::max(std::abs(low), std::abs(high)), 1e-290);
    if (logarithmic) {
        if (high > low * (1.0 + 1e-6)) return;
        if (low_is_given)
            high = 10.0 * low;
        else
            low = high / 10.0;
    } else if (high - low <= least_span) {
        const double wide = std::abs(high) < 1e-280 ? 1.0 : std::abs(high) / 2.0;
        high = low_is_given ? low + wide : high + wide;
        if (!low_is_given) low = high - 2.0 * wide;
    }
}

void round_outwards(double& low, double& high, bool low_is_given, bool high_is_given, double shown_per_unit)
{
    const double headroom = percent(3) * (high - low);
    const double step = nice_from_below((high - low) * shown_per_unit / 5.0) / shown_per_unit;
    if (!high_is_given && high != 0.0) high = std::ceil((high + headroom) / step - 1e-9) * step;
    if (!low_is_given && low != 0.0) low = std::floor((low - headroom) / step + 1e-9) * step;
}

AxisScale scale_of(const PlotAxis& axis, const Extremes& data, bool rounded)
{
    const bool logarithmic = is_logarithmic(axis);
    std::optional<double> from = usable(axis.from, logarithmic), to = usable(axis.to, logarithmic);
    if (from && to && !(*from < *to)) from = to = std::nullopt;
    double low = data.any() ? data.least : logarithmic ? 1.0 : 0.0;
    double high = data.any() ? data.greatest : logarithmic ? 10.0 : 1.0;
    const double shown = axis.numbers.shown_per_unit > 0.0 ? axis.numbers.shown_per_unit : 1.0;
    if (to) high = *to;
    if (logarithmic) {
        if (!to && rounded) high = nice_from_below(high * shown) / shown;
        low = std::max({low, high / std::pow(10.0, axis.most_decades), 1e-300});
        if (rounded) low = nice_from_above(low * shown) / shown;
    } else if (rounded && low > 0.0) {
        low = 0.0;
    }
    if (from) low = *from;
    if (!(low < high) && from && !to) high = low; // all data lie below the axis
    if (!(low < high) && to && !from) low = high;
    widen(low, high, logarithmic, from.has_value());
    if (!logarithmic && rounded) round_outwards(low, high, from.has_value(), to.has_value(), shown);
    return {.from = low, .to = high, .logarithmic = logarithmic};
}

bool has_edges(const Series& series) { return series.form == SeriesForm::steps || series.form == SeriesForm::bars; }

std::size_t places_in(const Series& series)
{
    if (!series.x.listed.empty()) return series.x.listed.size();
    return series.values.size() + (has_edges(series) && !series.values.empty() ? 1 : 0);
}

void take_places(Extremes& extremes, const Series& series)
{
    const std::size_t n = places_in(series);
    if (n == 0) return;
    if (!series.x.listed.empty()) {
        for (const double x : series.x.listed) extremes.take(x);
        return;
    }
    Extremes ends{.logarithmic = extremes.logarithmic};
    ends.take(series.x.at(0));
    ends.take(series.x.at(n - 1));
    if (extremes.logarithmic && series.x.first <= 0.0 && series.x.step > 0.0)
        for (const double ahead : {0.0, 1.0}) {
            const double i = std::ceil(-series.x.first / series.x.step) + ahead;
            if (i < static_cast<double>(n)) ends.take(series.x.at(static_cast<std::size_t>(i)));
        }
    ends.left_out = ends.infinite = 0; // counted with the values
    if (ends.any()) {
        extremes.take(ends.least);
        extremes.take(ends.greatest);
    }
}

// Values that lie over the x axis.
void take_values(Extremes& extremes, Extremes& of_x, const Series& series, std::span<const double> values,
                 const AxisScale& x)
{
    const bool edges = has_edges(series);
    const std::size_t places = places_in(series);
    for (std::size_t i = 0; i < values.size() && i + (edges ? 1 : 0) < places; ++i) {
        if (std::isnan(values[i])) continue;
        const double at = edges ? std::max(series.x.at(i), series.x.at(i + 1)) : series.x.at(i);
        if (x.logarithmic && at <= 0.0)
            of_x.take(at);
        else if (edges ? at >= x.from && std::min(series.x.at(i), series.x.at(i + 1)) <= x.to : x.holds(at))
            extremes.take(values[i]);
    }
}

// A plot's ranges, and what is said of them.
class Telling {
public:
    explicit Telling(Language language) : language_(language), words_(words_of(language)) {}

    const FigureWords& words() const { return words_; }

    std::string range(double least, double greatest, const PlotAxis& axis) const
    {
        const auto shown = [&](double value) {
            return in_digits_of(language_, axis.numbers.form == NumberForm::prefixed
                                               ? with_si_prefix(value * axis.numbers.shown_per_unit, axis.numbers.unit)
                                               : number_text(value * axis.numbers.shown_per_unit));
        };
        return filled(words_.range, shown(least), shown(greatest));
    }

    std::string axis_words(const PlotAxis& axis) const
    {
        std::string unit = axis.numbers.form == NumberForm::prefixed ? "" : axis.numbers.unit;
        if (axis.kind == AxisKind::third_octaves) unit = "Hz";
        if (axis.kind == AxisKind::time) unit = "s";
        return words_with_unit(axis.words.empty() ? words_.value.text() : axis.words, unit);
    }

    void say_left_out(std::vector<std::string>& notes, const std::string& name, const Extremes& values) const
    {
        const std::string of = name.empty() ? "" : filled(words_.of_series, isolated(name));
        const auto say = [&](std::size_t count, std::string_view one, std::string_view several) {
            if (count > 0) notes.push_back(filled(count == 1 ? one : several, std::to_string(count), of));
        };
        say(values.left_out, words_.value_not_on_axis, words_.values_not_on_axis);
        say(values.infinite, words_.value_infinite, words_.values_infinite);
    }

    std::string marked_things(const Plot& plot, const AxisScale& x, const AxisScale& y) const
    {
        std::string text;
        const auto shown = [this](double value, const PlotAxis& axis) {
            return in_digits_of(language_,
                                number_text(value * (axis.kind == AxisKind::time ? 1.0 : axis.numbers.shown_per_unit)));
        };
        for (const Marker& marker : plot.markers)
            if (x.holds(marker.x)) text += filled(words_.marked_at, shown(marker.x, plot.x), isolated(marker.words));
        for (const Level& level : plot.levels)
            if (y.holds(level.y)) text += filled(words_.line_at, shown(level.y, plot.y), isolated(level.words));
        for (const LevelBand& band : plot.bands) {
            text += filled(words_.band, isolated(band.words));
            if (band.from) text += filled(words_.from, shown(*band.from, plot.y));
            if (band.to) text += filled(words_.to, shown(*band.to, plot.y));
            text += ".";
        }
        for (const LeftOut& span : plot.left_out)
            text +=
                filled(words_.left_out_span, shown(span.from, plot.x), shown(span.to, plot.x), isolated(span.words));
        return text;
    }

private:
    Language language_;
    const FigureWords& words_;
};

} // namespace

std::string words_with_unit(const std::string& words, const std::string& unit)
{
    if (unit.empty()) return words;
    return words.empty() ? unit : words + ", " + unit;
}

RangedPlot ranged(const Plot& plot, Language language)
{
    const Telling telling(language);
    const FigureWords& words = telling.words();
    RangedPlot result{.plot = &plot};
    Extremes along{.logarithmic = is_logarithmic(plot.x)};
    for (const Series& series : plot.series) take_places(along, series);
    if (plot.heat)
        for (const double edge : plot.heat->x_edges) along.take(edge);
    result.x = scale_of(plot.x, along, false);

    Extremes all{.logarithmic = is_logarithmic(plot.y)};
    std::string contents;
    for (const Series& series : plot.series) {
        Extremes own{.logarithmic = all.logarithmic}, places{.logarithmic = along.logarithmic};
        take_values(own, places, series, series.values, result.x);
        if (series.form == SeriesForm::band) take_values(own, places, series, series.lower, result.x);
        if (series.form == SeriesForm::points) {
            std::vector<double> upper, lower; // ends of the error bars
            for (std::size_t i = 0; i < series.values.size() && i < series.reach.size(); ++i) {
                upper.push_back(series.values[i] + series.reach[i]);
                const double low = series.values[i] - series.reach[i];
                lower.push_back(own.logarithmic && low <= 0.0 ? std::numeric_limits<double>::quiet_NaN() : low);
            }
            Extremes ends{.logarithmic = all.logarithmic}, again{.logarithmic = along.logarithmic};
            take_values(ends, again, series, upper, result.x);
            take_values(ends, again, series, lower, result.x);
            if (ends.any()) {
                all.take(ends.least);
                all.take(ends.greatest);
            }
        }
        telling.say_left_out(result.notes, series.words, own);
        if (places.left_out > 0)
            result.notes.push_back(filled(places.left_out == 1 ? words.place_not_on_axis : words.places_not_on_axis,
                                          std::to_string(places.left_out)));
        if (own.any()) {
            all.take(own.least);
            all.take(own.greatest);
        }
        contents += " " + (series.words.empty() ? words.values.text() : isolated(series.words)) + ": " +
                    (own.any() ? telling.range(own.least, own.greatest, plot.y) : words.nothing_to_show.text()) + ".";
        result.has_data = result.has_data || own.any();
    }
    Extremes edges{.logarithmic = all.logarithmic};
    for (const Level& level : plot.levels)
        if (level.kind == Level::Kind::limit) edges.take(level.y);
    for (const LevelBand& band : plot.bands) {
        if (band.from) edges.take(*band.from);
        if (band.to) edges.take(*band.to);
    }
    if (edges.any()) {
        all.take(edges.least);
        all.take(edges.greatest);
    }
    if (plot.heat) {
        Extremes rows{.logarithmic = all.logarithmic};
        for (const double edge : plot.heat->y_edges) rows.take(edge);
        if (rows.any()) {
            all.take(rows.least);
            all.take(rows.greatest);
        }
        Extremes colours{.logarithmic = is_logarithmic(plot.heat->colour)};
        const std::vector<float>& values = plot.heat->values;
        for (const float value : values) colours.take(value);
        result.has_gaps = colours.left_out + colours.infinite > 0 ||
                          std::any_of(values.begin(), values.end(), [](float value) { return std::isnan(value); });
        telling.say_left_out(result.notes, plot.heat->colour.words, colours);
        result.colour = scale_of(plot.heat->colour, colours, true);
        result.has_data = result.has_data || colours.any();
        contents += filled(words.colours, telling.axis_words(plot.heat->colour),
                           colours.any() ? telling.range(colours.least, colours.greatest, plot.heat->colour)
                                         : words.nothing_to_show.text());
    }
    result.y = scale_of(plot.y, all, !plot.heat);
    for (const Level& level : plot.levels)
        if (level.kind == Level::Kind::limit && !result.y.holds(level.y))
            result.notes.push_back(filled(words.beyond_axis, isolated(level.words)));

    result.description =
        filled(words.plot_of, telling.axis_words(plot.y), telling.range(result.y.from, result.y.to, plot.y),
               telling.axis_words(plot.x), telling.range(result.x.from, result.x.to, plot.x)) +
        contents + telling.marked_things(plot, result.x, result.y);
    return result;
}

} // namespace becalm::figures
