#include "ui/figures/figure_csv.h"

#include <cmath>

#include <fmt/format.h>

#include "src/io/csv_field.h"

namespace becalm::figures {
namespace {

std::string quoted(std::string_view text) { return io::csv_field(std::string(text)); }

std::string number(double value) { return std::isfinite(value) ? fmt::format("{}", value) : std::string(); }

std::string axis_words(const PlotAxis& axis)
{
    const std::string unit = axis.kind == AxisKind::time ? "s" : axis.numbers.unit;
    return unit.empty() ? axis.words : fmt::format("{} [{}]", axis.words, unit);
}

double on_axis(const PlotAxis& axis, double value)
{
    return axis.kind == AxisKind::time ? value : value * axis.numbers.shown_per_unit;
}

class Table {
public:
    void row(std::string_view panel, std::string_view what, std::string_view name, std::string_view x_words,
             const std::string& x, const std::string& x_to, std::string_view y_words, const std::string& y,
             const std::string& y_to)
    {
        text_ += fmt::format("{},{},{},{},{},{},{},{},{}\r\n", quoted(panel), what, quoted(name), quoted(x_words), x,
                             x_to, quoted(y_words), y, y_to);
    }

    void add(const std::string& panel, const Plot& plot)
    {
        const std::string x_words = axis_words(plot.x), y_words = axis_words(plot.y);
        const auto x = [&](double value) { return number(on_axis(plot.x, value)); };
        const auto y = [&](double value) { return number(on_axis(plot.y, value)); };
        for (const Series& series : plot.series) {
            const bool edges = series.form == SeriesForm::steps || series.form == SeriesForm::bars;
            for (std::size_t i = 0; i < series.values.size() && i < series.reach.size(); ++i)
                if (std::isfinite(series.reach[i]))
                    row(panel, "uncertainty", series.words, x_words, x(series.x.at(i)), "", y_words,
                        y(series.values[i] - series.reach[i]), y(series.values[i] + series.reach[i]));
            for (std::size_t i = 0; i < series.values.size(); ++i)
                row(panel, "series", series.words, x_words, x(series.x.at(i)), edges ? x(series.x.at(i + 1)) : "",
                    y_words, i < series.lower.size() ? y(series.lower[i]) : y(series.values[i]),
                    i < series.lower.size() ? y(series.values[i]) : "");
        }
        if (plot.heat) {
            const std::string words = axis_words(plot.heat->colour);
            const std::size_t columns = plot.heat->x_edges.empty() ? 0 : plot.heat->x_edges.size() - 1;
            for (std::size_t k = 0; columns > 0 && k < plot.heat->values.size(); ++k)
                row(panel, "cell", words, x_words, x(plot.heat->x_edges[k % columns]),
                    number(plot.heat->values[k] * plot.heat->colour.numbers.shown_per_unit), y_words,
                    y(plot.heat->y_edges[k / columns]), y(plot.heat->y_edges[k / columns + 1]));
        }
        for (const Marker& marker : plot.markers)
            row(panel, marker.kind == Marker::Kind::source ? "source" : "finding", marker.words, x_words, x(marker.x),
                "", "", "", "");
        for (const Level& level : plot.levels)
            row(panel, level.kind == Level::Kind::limit ? "limit" : "source", level.words, "", "", "", y_words,
                y(level.y), "");
        for (const LevelBand& band : plot.bands)
            row(panel, "band", band.words, "", "", "", y_words, band.from ? y(*band.from) : "",
                band.to ? y(*band.to) : "");
        for (const LeftOut& span : plot.left_out)
            row(panel, "left out", span.words, x_words, x(span.from), x(span.to), "", "", "");
    }

    void add(const std::string& panel, const Ladder& ladder)
    {
        for (const Rung& rung : ladder.rungs)
            row(panel, rung.rest ? "rest" : "rung", rung.detail.empty() ? rung.words : rung.words + ", " + rung.detail,
                "", "", "", ladder.words, number(rung.share), "");
    }

    void add(const std::string& panel, const Ruler& ruler)
    {
        const auto shown = [&](const std::optional<double>& value) {
            return value ? number(*value * ruler.numbers.shown_per_unit) : std::string();
        };
        const std::string words = ruler.numbers.unit.empty() ? "value" : fmt::format("value [{}]", ruler.numbers.unit);
        row(panel, "value", ruler.value_words, "", "", "", words, shown(ruler.value), "");
        if (ruler.expanded_uncertainty)
            row(panel, "uncertainty", "expanded, k = 2", "", "", "", words, shown(ruler.expanded_uncertainty), "");
        for (const RulerBand& band : ruler.bands)
            row(panel, band.holds_value ? "band with the value" : "band", band.words, "", "", "", words,
                shown(band.from), shown(band.to));
    }

    std::string text() { return std::move(text_); }

private:
    std::string text_ = "panel,what,name,x is,x,x to or value,y is,y,y to\r\n";
};

} // namespace

std::string csv_of(const Figure& figure)
{
    Table table;
    for (std::size_t i = 0; i < figure.panels.size(); ++i) {
        const Panel& panel = figure.panels[i];
        const std::string name = panel.words.empty() ? fmt::format("{}", i + 1) : panel.words;
        std::visit([&](const auto& content) { table.add(name, content); }, panel.content);
    }
    return table.text();
}

} // namespace becalm::figures
