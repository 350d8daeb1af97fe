// The numbers of a figure as a table [RFC 4180]: read back here by the rules of that document, compared with what the
// figure holds.
#include <charconv>
#include <cmath>
#include <limits>

#include <gmock/gmock.h>

#include "ui/figures/figure_csv.h"

#include "tests/faces/figure_examples.h"

namespace becalm::figures {
namespace {

using testing::Each;
using testing::ElementsAre;
using testing::SizeIs;

// RFC 4180, 2: records end with CRLF; quoted fields may hold commas, line ends and doubled quotes.
std::vector<std::vector<std::string>> records_of(const std::string& text)
{
    std::vector<std::vector<std::string>> records{{""}};
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        std::string& field = records.back().back();
        if (quoted) {
            if (text[i] != '"')
                field += text[i];
            else if (i + 1 < text.size() && text[i + 1] == '"')
                field += text[++i];
            else
                quoted = false;
        } else if (text[i] == '"') {
            quoted = true;
        } else if (text[i] == ',') {
            records.back().emplace_back();
        } else if (text[i] == '\r' && i + 1 < text.size() && text[i + 1] == '\n') {
            ++i;
            records.push_back({""});
        } else {
            field += text[i];
        }
    }
    records.pop_back(); // behind the last line end
    return records;
}

double number_in(const std::string& text)
{
    if (text.empty()) return std::numeric_limits<double>::quiet_NaN();
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size()) ADD_FAILURE() << text << " is no number";
    return value;
}

bool same(double a, double b) { return a == b || (!std::isfinite(a) && !std::isfinite(b)); }

double factor(const PlotAxis& axis) { return axis.kind == AxisKind::time ? 1.0 : axis.numbers.shown_per_unit; }

// Every row of `what` in the panel, in its order.
std::vector<std::vector<std::string>> rows_of(const std::vector<std::vector<std::string>>& table,
                                              const std::string& panel, const std::string& what)
{
    std::vector<std::vector<std::string>> rows;
    for (const auto& row : table)
        if (row.at(0) == panel && row.at(1) == what) rows.push_back(row);
    return rows;
}

TEST(FigureCsv, HoldsEveryNumberOfEverySeriesOfEveryKindOfFigure)
{
    for (const auto& [name, figure] : tests::example_figures(800.0, 500.0)) {
        SCOPED_TRACE(name);
        const auto table = records_of(csv_of(figure));
        ASSERT_THAT(table, Each(SizeIs(9)));
        for (std::size_t i = 0; i < figure.panels.size(); ++i) {
            const std::string panel = figure.panels[i].words.empty() ? std::to_string(i + 1) : figure.panels[i].words;
            if (const auto* ladder = std::get_if<Ladder>(&figure.panels[i].content)) {
                const auto rungs = rows_of(table, panel, "rung"), rest = rows_of(table, panel, "rest");
                ASSERT_EQ(rungs.size() + rest.size(), ladder->rungs.size());
                for (std::size_t k = 0; k < rungs.size(); ++k)
                    EXPECT_EQ(number_in(rungs[k][7]), ladder->rungs[k].share);
                continue;
            }
            if (const auto* ruler = std::get_if<Ruler>(&figure.panels[i].content)) {
                const auto value = rows_of(table, panel, "value");
                ASSERT_THAT(value, SizeIs(1));
                EXPECT_EQ(value[0][2], ruler->value_words);
                if (ruler->value) {
                    EXPECT_EQ(number_in(value[0][7]), *ruler->value * ruler->numbers.shown_per_unit);
                } else {
                    EXPECT_EQ(value[0][7], "");
                }
                EXPECT_EQ(rows_of(table, panel, "band").size() + rows_of(table, panel, "band with the value").size(),
                          ruler->bands.size());
                continue;
            }
            const auto& plot = std::get<Plot>(figure.panels[i].content);
            const auto rows = rows_of(table, panel, "series");
            std::size_t at = 0;
            for (const Series& series : plot.series) {
                const bool edges = series.form == SeriesForm::steps || series.form == SeriesForm::bars;
                for (std::size_t k = 0; k < series.values.size(); ++k, ++at) {
                    ASSERT_LT(at, rows.size());
                    const auto& row = rows[at];
                    const double value = number_in(row[series.lower.empty() ? 7 : 8]);
                    if (row[2] != series.words || !same(value, series.values[k] * factor(plot.y)) ||
                        !same(number_in(row[4]), series.x.at(k) * factor(plot.x)) ||
                        (edges && !same(number_in(row[5]), series.x.at(k + 1) * factor(plot.x))) ||
                        (!series.lower.empty() && !same(number_in(row[7]), series.lower[k] * factor(plot.y)))) {
                        FAIL() << "row " << at << " of the series: " << testing::PrintToString(row) << ", wanted "
                               << series.words << " " << series.x.at(k) * factor(plot.x) << " "
                               << series.values[k] * factor(plot.y);
                    }
                }
            }
            EXPECT_EQ(at, rows.size());
            if (plot.heat) {
                const auto cells = rows_of(table, panel, "cell");
                ASSERT_EQ(cells.size(), plot.heat->values.size());
                for (std::size_t k = 0; k < cells.size(); ++k)
                    ASSERT_TRUE(same(number_in(cells[k][5]), static_cast<double>(plot.heat->values[k]) *
                                                                 plot.heat->colour.numbers.shown_per_unit))
                        << k;
            }
            EXPECT_EQ(rows_of(table, panel, "source").size() + rows_of(table, panel, "finding").size() +
                          rows_of(table, panel, "limit").size(),
                      plot.markers.size() + plot.levels.size());
            EXPECT_EQ(rows_of(table, panel, "left out").size(), plot.left_out.size());
        }
    }
}

TEST(FigureCsv, QuotesWordsThatHoldSeparators)
{
    Plot plot{.x = {.words = "time"}, .y = {.words = "level, \"fast\"", .numbers = {.unit = "dB"}}};
    plot.series.push_back({.words = "a,b\r\n\"c\"",
                           .x = {.listed = {1.0, 2.0}},
                           .values = {0.1, std::numeric_limits<double>::quiet_NaN()}});
    const auto table = records_of(csv_of({.panels = {{.words = "cabin, aft", .content = plot}}}));
    ASSERT_THAT(table, SizeIs(3));
    EXPECT_THAT(table[1], ElementsAre("cabin, aft", "series", "a,b\r\n\"c\"", "time", "1", "", "level, \"fast\" [dB]",
                                      "0.1", ""));
    EXPECT_EQ(table[2][7], ""); // a gap
}

} // namespace
} // namespace becalm::figures
