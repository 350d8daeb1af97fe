// Figures: where things lie, what is thinned out, what is said of what cannot be shown, and the SVG. Expected values
// are computed from the definition unless a line says otherwise.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <rapidcheck.h>
#include <set>

#include <gmock/gmock.h>

#include "ui/figures/builders.h"
#include "ui/figures/figure_csv.h"
#include "ui/figures/svg.h"
#include "ui/figures/thinning.h"

#include "tests/faces/figure_checks.h"
#include "tests/faces/figure_examples.h"

namespace becalm::figures {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::SizeIs;
using tests::fault_in;
using tests::words_of;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double inf = std::numeric_limits<double>::infinity();

std::vector<std::string> texts_of(const Scene& scene, Role role)
{
    std::vector<std::string> texts;
    for (const auto& [of, words] : words_of(scene))
        if (of == role) texts.push_back(words.text);
    return texts;
}

double wide_letters(std::string_view text, double size_px, bool bold)
{
    return 1.3 * approximate_width(text, size_px, bold);
}

TEST(Figures, KeepLabelsApartAndInsideAtThreeSizes)
{
    for (const auto& [width, height] : {std::pair{480.0, 320.0}, std::pair{800.0, 500.0}, std::pair{1600.0, 900.0}})
        for (const auto& [name, figure] : tests::example_figures(width, height))
            for (const TextWidth& text_width : {TextWidth(approximate_width), TextWidth(wide_letters)}) {
                const Scene scene = laid_out(figure, text_width);
                EXPECT_EQ(fault_in(scene), "") << name << " " << width;
                EXPECT_EQ(scene.areas.size(), figure.panels.size()) << name;
                EXPECT_GE(scene.height_px, figure.height_px);
                for (const PlotArea& area : scene.areas)
                    EXPECT_GT(area.rect.width * area.rect.height, 0.08 * width * 320.0) << name << " " << width;
            }
}

TEST(Figures, AreAsLargeAsAskedWhereTheirPanelsHaveRoom)
{
    for (const auto& [name, figure] : tests::example_figures(800.0, 500.0)) {
        const Scene scene = laid_out(figure);
        EXPECT_EQ(scene.width_px, 800.0) << name;
        if (figure.height_px > 0.0) {
            EXPECT_EQ(scene.height_px, 500.0) << name;
        }
    }
}

std::string any_words(int most)
{
    static const std::vector<std::string> parts{"shaft", "blades 2×", "Motorlüfter", "船室", "a",          " ",   " ",
                                                "&<b>",  "Ж",         "مروحة",       "🚢",    "1234567890", "\xFF"};
    std::string text;
    for (int i = *rc::gen::inRange(0, most); i > 0; --i) text += *rc::gen::elementOf(parts);
    return text;
}

double any_value()
{
    return *rc::gen::element(0.0, 1.0, -1.0, 0.003, 1e-12, 7e8, 1e300, -1e300, 5e-324, nan, inf, -inf, 12.5, 80.0,
                             0.02);
}

PlotAxis any_axis()
{
    PlotAxis axis{
        .kind = *rc::gen::element(AxisKind::linear, AxisKind::logarithmic, AxisKind::third_octaves, AxisKind::time),
        .words = any_words(6)};
    axis.numbers.unit = *rc::gen::element<std::string>("mm/s²", "", "Hz");
    axis.numbers.shown_per_unit = *rc::gen::element(1.0, 1e3, 1e6);
    if (*rc::gen::arbitrary<bool>()) axis.from = any_value();
    if (*rc::gen::arbitrary<bool>()) axis.to = any_value();
    return axis;
}

Plot any_plot()
{
    Plot plot{.x = any_axis(), .y = any_axis()};
    for (int k = *rc::gen::inRange(0, 4); k > 0; --k) {
        Series series{.words = any_words(5),
                      .form =
                          *rc::gen::element(SeriesForm::line, SeriesForm::steps, SeriesForm::bars, SeriesForm::band),
                      .shaded = *rc::gen::arbitrary<bool>()};
        const int n = *rc::gen::inRange(0, 12);
        if (*rc::gen::arbitrary<bool>())
            for (int i = 0; i < n; ++i) series.x.listed.push_back(any_value());
        for (int i = 0; i < n; ++i) series.values.push_back(any_value());
        for (int i = 0; i < n; ++i) series.lower.push_back(any_value());
        plot.series.push_back(series);
    }
    for (int k = *rc::gen::inRange(0, 12); k > 0; --k)
        plot.markers.push_back({*rc::gen::inRange(0, 100) * 1.0, any_words(4),
                                *rc::gen::element(Marker::Kind::source, Marker::Kind::finding)});
    for (int k = *rc::gen::inRange(0, 5); k > 0; --k)
        plot.levels.push_back({any_value(), any_words(6), *rc::gen::element(Level::Kind::limit, Level::Kind::source)});
    for (int k = *rc::gen::inRange(0, 5); k > 0; --k) plot.bands.push_back({any_value(), any_value(), any_words(6)});
    for (int k = *rc::gen::inRange(0, 3); k > 0; --k) plot.left_out.push_back({any_value(), any_value(), any_words(4)});
    if (*rc::gen::inRange(0, 3) == 0) {
        HeatMap heat;
        for (int i = *rc::gen::inRange(0, 6); i > 0; --i) heat.x_edges.push_back(any_value());
        for (int i = *rc::gen::inRange(0, 6); i > 0; --i) heat.y_edges.push_back(any_value());
        for (int i = *rc::gen::inRange(0, 30); i > 0; --i) heat.values.push_back(static_cast<float>(any_value()));
        heat.colour.words = any_words(6);
        plot.heat = heat;
    }
    return plot;
}

Figure any_figure()
{
    Figure figure{.width_px = static_cast<double>(*rc::gen::inRange(0, 1700)),
                  .height_px = static_cast<double>(*rc::gen::inRange(0, 900)),
                  .title = any_words(12),
                  .subtitle = any_words(20)};
    for (int k = *rc::gen::inRange(0, 4); k > 0; --k) {
        Panel panel{.words = any_words(5), .share = *rc::gen::element(1.0, 2.0, 0.0, nan)};
        const int kind = *rc::gen::inRange(0, 4);
        if (kind == 0) {
            Ladder ladder{.words = any_words(5)};
            for (int i = *rc::gen::inRange(0, 15); i > 0; --i)
                ladder.rungs.push_back({any_words(6), any_words(6),
                                        *rc::gen::element(0.0, 0.1, 0.5, 1.0, nan, -1.0, 3.0),
                                        *rc::gen::inRange(0, 5) == 0});
            panel.content = ladder;
        } else if (kind == 1) {
            Ruler ruler{.logarithmic = *rc::gen::arbitrary<bool>(),
                        .value_words = any_words(12),
                        .distance_words = any_words(12)};
            ruler.numbers.unit = "mm/s²";
            for (int i = *rc::gen::inRange(0, 8); i > 0; --i) {
                RulerBand band{.words = any_words(8),
                               .exceeds = *rc::gen::arbitrary<bool>(),
                               .holds_value = *rc::gen::arbitrary<bool>()};
                if (*rc::gen::arbitrary<bool>()) band.from = any_value();
                if (*rc::gen::arbitrary<bool>()) band.to = any_value();
                ruler.bands.push_back(band);
            }
            if (*rc::gen::arbitrary<bool>()) ruler.value = any_value();
            if (*rc::gen::arbitrary<bool>()) ruler.expanded_uncertainty = any_value();
            if (*rc::gen::arbitrary<bool>()) ruler.next_limit = any_value();
            panel.content = ruler;
        } else {
            panel.content = any_plot();
        }
        figure.panels.push_back(panel);
    }
    for (int k = *rc::gen::inRange(0, 3); k > 0; --k) figure.notes.push_back(any_words(40));
    return figure;
}

TEST(Figures, OfAnyContentKeepTheirLabelsApartAndInside)
{
    EXPECT_TRUE(rc::check([] {
        const Figure figure = any_figure();
        const Scene scene = laid_out(figure);
        RC_ASSERT(fault_in(scene) == std::string());
        RC_ASSERT(svg_of(scene) == svg_of(figure));
    }));
}

TEST(Figures, WithoutPanelsAndOfNoSizeAreStillFigures)
{
    const Scene scene = laid_out({.width_px = nan, .height_px = -5.0, .title = "nothing"});
    EXPECT_EQ(scene.width_px, 240.0);
    EXPECT_EQ(scene.height_px, 160.0);
    EXPECT_THAT(texts_of(scene, Role::title), ElementsAre("nothing"));
}

// ---- gaps and what has no place

Figure line_figure(std::vector<double> x, std::vector<double> y, AxisKind y_kind = AxisKind::linear)
{
    Plot plot{.x = {.words = "x"}, .y = {.kind = y_kind, .words = "y"}};
    plot.series.push_back({.words = "curve", .x = {.listed = std::move(x)}, .values = std::move(y)});
    return {.title = "curve", .panels = {{.content = plot}}};
}

std::vector<std::vector<Point>> series_runs(const Scene& scene)
{
    std::vector<std::vector<Point>> runs;
    for (const Item& item : scene.items)
        if (const auto* path = std::get_if<Path>(&item.shape);
            path != nullptr && item.role == Role::series && !path->closed)
            runs.insert(runs.end(), path->runs.begin(), path->runs.end());
    return runs;
}

TEST(Figures, ShowWhatIsNoNumberAsAGap)
{
    const Scene scene = laid_out(line_figure({0, 1, 2, 3, 4}, {1, 2, nan, 2, 1}));
    EXPECT_THAT(series_runs(scene), ElementsAre(SizeIs(2), SizeIs(2)));
    EXPECT_THAT(texts_of(scene, Role::note), IsEmpty());
}

TEST(Figures, ShowASampleBetweenTwoGaps)
{
    const auto runs = series_runs(laid_out(line_figure({0, 1, 2, 3, 4}, {1, nan, 2, nan, 1})));
    ASSERT_THAT(runs, SizeIs(3));
    for (const auto& run : runs) EXPECT_THAT(run, SizeIs(2));
}

TEST(Figures, SayHowManyValuesAreInfinite)
{
    const Scene scene = laid_out(line_figure({0, 1, 2, 3, 4}, {1, 2, inf, 2, -inf}));
    EXPECT_THAT(texts_of(scene, Role::note), ElementsAre("2 values of curve are infinite: left out"));
}

TEST(Figures, SayWhatHasNoPlaceOnALogarithmicAxis)
{
    const Scene scene = laid_out(line_figure({1, 2, 3, 4, 5}, {1, 0, 3, -2, 5}, AxisKind::logarithmic));
    EXPECT_THAT(texts_of(scene, Role::note),
                ElementsAre("2 values of curve at or below zero have no place on a logarithmic axis: left out"));
    EXPECT_THAT(scene.description, HasSubstr("2 values of curve at or below zero"));
    EXPECT_THAT(series_runs(scene), SizeIs(3));

    Figure figure = line_figure({0, 1, 10, 100}, {1, 2, 3, 4});
    std::get<Plot>(figure.panels[0].content).x.kind = AxisKind::logarithmic;
    EXPECT_THAT(texts_of(laid_out(figure), Role::note),
                ElementsAre("1 place at or below zero has no place on a logarithmic axis: left out"));
}

TEST(Figures, SayThatThereIsNothingToShow)
{
    for (const std::vector<double>& values : {std::vector<double>{}, std::vector<double>{nan, nan}}) {
        const Scene scene = laid_out(line_figure(std::vector<double>(values.size(), 1.0), values));
        EXPECT_THAT(texts_of(scene, Role::panel_words), Contains("nothing to show"));
        EXPECT_THAT(series_runs(scene), IsEmpty());
    }
    EXPECT_THAT(texts_of(laid_out(ladder_figure({.rest = ""})), Role::panel_words), Contains("nothing to show"));
    EXPECT_THAT(texts_of(laid_out(time_strip_figure({})), Role::panel_words), Contains("nothing to show"));
    EXPECT_THAT(texts_of(laid_out(spectrum_figure({})), Role::panel_words), Contains("nothing to show"));
    EXPECT_THAT(texts_of(laid_out(spectrogram_figure({})), Role::panel_words), Contains("nothing to show"));
    EXPECT_THAT(texts_of(laid_out(third_octave_figure({})), Role::panel_words), Contains("nothing to show"));
    EXPECT_THAT(texts_of(laid_out(comparison_figure({})), Role::panel_words), Contains("nothing to show"));
    EXPECT_EQ(fault_in(laid_out(ruler_figure({}, {{}}))), "");
}

TEST(Figures, NameInANoteTheMarksThatFindNoRoom)
{
    Figure figure = line_figure({0, 100}, {0, 1});
    figure.width_px = 300.0;
    figure.height_px = 200.0;
    auto& plot = std::get<Plot>(figure.panels[0].content);
    for (int i = 0; i < 12; ++i) plot.markers.push_back({40.0 + 0.5 * i, "a source with a name " + std::to_string(i)});
    const Scene scene = laid_out(figure);
    EXPECT_EQ(fault_in(scene), "");
    std::string notes;
    for (const std::string& line : texts_of(scene, Role::note)) notes += line + " ";
    EXPECT_THAT(notes, HasSubstr("marked without room for a label: "));
    const std::vector<std::string> flags = texts_of(scene, Role::marker_label);
    EXPECT_LT(flags.size(), 12U);
    for (const Marker& marker : plot.markers)
        EXPECT_THAT(scene.description, HasSubstr(marker.words)) << "told even where the note is too long";
}

TEST(Figures, SayWhichLimitLiesBeyondTheAxis)
{
    Figure figure = line_figure({0, 1}, {1, 2});
    auto& plot = std::get<Plot>(figure.panels[0].content);
    plot.y.to = 3.0;
    plot.levels = {{4.0, "the contract"}, {2.5, "the guide"}};
    const Scene scene = laid_out(figure);
    EXPECT_THAT(texts_of(scene, Role::note), ElementsAre("beyond the axis: the contract"));
    EXPECT_THAT(texts_of(scene, Role::level_label), ElementsAre("the guide"));
}

TEST(Figures, HoldALimitThatTheDataDoNotReach)
{
    Figure figure = line_figure({0, 1}, {1, 2});
    std::get<Plot>(figure.panels[0].content).levels = {{10.0, "the contract"}};
    const Scene scene = laid_out(figure);
    EXPECT_GE(scene.areas.at(0).y.to, 10.0);
    EXPECT_THAT(texts_of(scene, Role::level_label), ElementsAre("the contract"));
}

TEST(Figures, DescribeWhatTheyShow)
{
    const Scene scene = laid_out(line_figure({0, 1, 4}, {1, 5, 2}));
    EXPECT_EQ(scene.title, "curve");
    EXPECT_EQ(scene.description, "Plot of y from 0 to 6.00 over x from 0 to 4.00. curve: 1.00 to 5.00.");
}

TEST(Figures, ShareTheirXAxis)
{
    const auto examples = tests::example_figures(800.0, 500.0);
    const Scene scene = laid_out(examples.back().figure); // comparison
    ASSERT_EQ(scene.areas.size(), 2U);
    EXPECT_EQ(scene.areas[0].rect.left, scene.areas[1].rect.left);
    EXPECT_EQ(scene.areas[0].rect.right(), scene.areas[1].rect.right());
    EXPECT_EQ(scene.areas[0].x.from, scene.areas[1].x.from);
    EXPECT_EQ(std::ranges::count(texts_of(scene, Role::panel_words), "one-third octave, Hz"), 1);
}

TEST(Figures, ShowErrorBarsInFull)
{
    TrendInput input;
    input.points = {{"a", 10.0, 1.0, 0.5}, {"b", 20.0, 4.0, {}}, {"c", 30.0, 9.0, 3.0}, {"d", 40.0, 2.0, 2.5}};
    const Figure figure = trend_figure(input);
    const Scene scene = laid_out(figure);
    ASSERT_THAT(scene.areas, SizeIs(1));
    EXPECT_LE(scene.areas[0].y.from, 0.5);
    EXPECT_GE(scene.areas[0].y.to, 12.0);
    std::size_t marks = 0, strokes = 0;
    for (const Item& item : scene.items)
        if (const auto* path = std::get_if<Path>(&item.shape); path != nullptr && item.role == Role::series)
            (path->fill ? marks : strokes) += path->runs.size();
    EXPECT_EQ(marks, 4U);
    EXPECT_EQ(strokes, 3U + 3U + 2U); // that of d goes below zero: no end on a logarithmic axis
    const std::string csv = csv_of(figure);
    EXPECT_THAT(csv, HasSubstr(",uncertainty,"));
    EXPECT_THAT(csv, HasSubstr(",6,12\r\n"));
    EXPECT_FALSE(laid_out(trend_figure({})).items.empty());
}

// ---- thinning

TEST(Thinning, KeepsTheExtremesOfEachColumnInTheirOrder)
{
    const AxisScale scale{.from = 0.0, .to = 10.0, .px_from = 0.0, .px_to = 2.0}; // two columns of 5
    const std::vector<double> values{0, 1, 7, -3, 2, 5, 5, 9, 4, 4, 6};
    const auto runs = thinned_line({}, values, scale, false);
    ASSERT_THAT(runs, SizeIs(1));
    std::vector<double> kept;
    for (const Point& point : runs[0]) kept.push_back(point.y);
    EXPECT_THAT(kept, ElementsAre(0, 7, -3, 2, 5, 9, 4, 6));
}

TEST(Thinning, LosesNoExtremeOfAnyColumn)
{
    EXPECT_TRUE(rc::check([] {
        std::vector<double> values;
        for (int i = *rc::gen::inRange(1, 400); i > 0; --i) values.push_back(*rc::gen::inRange(-1000, 1000));
        const bool logarithmic = *rc::gen::arbitrary<bool>();
        const AxisScale scale{.from = 1.0,
                              .to = 300.0,
                              .logarithmic = logarithmic,
                              .px_from = 10.0,
                              .px_to = 10.0 + *rc::gen::inRange(1, 40)};
        const auto runs = thinned_line({.first = 1.0, .step = 1.0}, values, scale, false);
        std::size_t kept = 0;
        for (const auto& run : runs) kept += run.size();
        RC_ASSERT(kept <= static_cast<std::size_t>(4.0 * (scale.length_px() + 2.0)));
        // The right end belongs to the last column.
        const auto column = [&](double x) { return std::min(std::floor(scale.px(x)), scale.px_to - 1.0); };
        std::map<double, std::pair<double, double>> wanted, found;
        const auto take = [&](auto& columns, double x, double y) {
            if (x > scale.to) return;
            const auto [at, is_new] = columns.try_emplace(column(x), y, y);
            at->second = {std::min(at->second.first, y), std::max(at->second.second, y)};
        };
        for (std::size_t i = 0; i < values.size(); ++i) take(wanted, 1.0 + static_cast<double>(i), values[i]);
        for (const auto& run : runs)
            for (const Point& point : run) take(found, point.x, point.y);
        RC_ASSERT(wanted == found);
    }));
}

TEST(Thinning, DrawsTenMillionSamplesInAFewThousandPoints)
{
    std::vector<double> values(10'000'000);
    for (std::size_t i = 0; i < values.size(); ++i) values[i] = static_cast<double>((i * 2654435761U) % 1000U);
    values[7'654'321] = 5000.0;
    values[1'234'567] = -4000.0;
    Plot plot{.x = {.kind = AxisKind::time}};
    plot.series.push_back({.x = {.step = 1e-3}, .values = std::move(values)});
    const Figure figure{.title = "long", .panels = {{.content = std::move(plot)}}};
    const Scene scene = laid_out(figure);
    double least = 1e9, greatest = -1e9; // px, downwards
    std::size_t points = 0;
    for (const auto& run : series_runs(scene))
        for (const Point& point : run) {
            least = std::min(least, point.y);
            greatest = std::max(greatest, point.y);
            ++points;
        }
    EXPECT_LT(points, 4U * 800U);
    EXPECT_NEAR(least, scene.areas[0].y.px(5000.0), 1e-6);
    EXPECT_NEAR(greatest, scene.areas[0].y.px(-4000.0), 1e-6);
    EXPECT_LT(svg_of(scene).size(), 100'000U);
}

TEST(Thinning, OfALineAsItComesShowsWhatAllSamplesWould)
{
    // Cells of whole columns: the first, least, greatest and last sample of every column are kept, whatever the blocks.
    constexpr std::size_t count = 100'000, cells = 4000;
    std::vector<double> samples(count);
    for (std::size_t i = 0; i < count; ++i)
        samples[i] = std::sin(0.37 * static_cast<double>(i)) + (i == 4711 ? 9.0 : i == 70'001 ? -9.0 : 0.0);
    RunningLine line(2.0, 0.001, count, cells);
    for (std::size_t at = 0; at < count; at += 777)
        line.add(std::span(samples).subspan(at, std::min<std::size_t>(777, count - at)));
    EXPECT_LE(line.values().size(), 4 * cells);
    const std::vector<double> x = line.x().listed;
    EXPECT_EQ(x.size(), line.values().size());
    EXPECT_TRUE(std::is_sorted(x.begin(), x.end()));
    EXPECT_EQ(line.values().front(), samples.front());
    EXPECT_EQ(line.values().back(), samples.back());
    EXPECT_DOUBLE_EQ(x.back(), 2.0 + 0.001 * (count - 1));
    const auto greatest = std::max_element(line.values().begin(), line.values().end());
    EXPECT_EQ(*greatest, samples[4711]);
    EXPECT_DOUBLE_EQ(x[static_cast<std::size_t>(greatest - line.values().begin())], 2.0 + 4.711);
    EXPECT_EQ(*std::min_element(line.values().begin(), line.values().end()), samples[70'001]);

    RunningLine brief(0.0, 1.0, 3, cells);
    brief.add(std::vector{1.0, 5.0, 2.0});
    EXPECT_THAT(brief.values(), ElementsAre(1.0, 5.0, 2.0));
    EXPECT_THAT(brief.x().listed, ElementsAre(0.0, 1.0, 2.0));
}

TEST(Thinning, CutsLinesAtTheEdgeOfThePlot)
{
    const Rect rect{0.0, 0.0, 10.0, 10.0};
    const auto runs = clipped_line(std::vector<Point>{{-5, 5}, {5, 5}, {5, 20}, {8, 20}, {8, 5}}, rect);
    ASSERT_THAT(runs, SizeIs(2));
    ASSERT_THAT(runs[0], SizeIs(3));
    EXPECT_EQ(runs[0][0].x, 0.0);
    EXPECT_EQ(runs[0][2].y, 10.0);
    ASSERT_THAT(runs[1], SizeIs(2));
    EXPECT_EQ(runs[1][0].y, 10.0);
    EXPECT_THAT(clipped_line(std::vector<Point>{{-5, -5}, {-1, 20}}, rect), IsEmpty());
    EXPECT_THAT(clipped_area({{20, 20}, {30, 20}, {30, 30}}, rect), IsEmpty());
    EXPECT_THAT(clipped_area({{-5, 2}, {20, 2}, {20, 4}, {-5, 4}}, rect), SizeIs(4));
}

TEST(Thinning, GivesEachCellTheGreatestValueItCovers)
{
    HeatMap map{.x_edges = {0, 1, 2, 3, 4},
                .y_edges = {0, 1, 2},
                .values = {1, 2, 3, 4, 5, 6, 7, std::numeric_limits<float>::quiet_NaN()}};
    const AxisScale x{.from = 0.0, .to = 4.0, .px_from = 0.0, .px_to = 4.0},
        y{.from = 0.0, .to = 2.0, .px_from = 4.0, .px_to = 0.0};
    const AxisScale colour{.from = 0.0, .to = 8.0, .px_from = 0.0, .px_to = 1.0};
    const Cells cells = reduced_cells(map, x, y, colour, 8, 2.0);
    EXPECT_THAT(cells.x_edges, ElementsAre(0, 2, 4));
    EXPECT_THAT(cells.y_edges, ElementsAre(0, 2, 4));
    EXPECT_THAT(cells.levels, ElementsAre(6, 7, 2, 4)); // the upper row of values lies above
    map.values = {nan, nan, 1, -1, 8, 9, 1, 1};
    const AxisScale decades{.from = 1.0, .to = 10.0, .logarithmic = true, .px_from = 0.0, .px_to = 1.0};
    EXPECT_THAT(reduced_cells(map, x, y, decades, 2, 2.0).levels, ElementsAre(1, 0, Cells::empty_cell, 0));
}

TEST(Thinning, FillsThePlotWithCellsFromEdgeToEdge)
{
    EXPECT_TRUE(rc::check([] {
        HeatMap map;
        const int n = *rc::gen::inRange(1, 300);
        for (int i = 0; i <= n; ++i) map.x_edges.push_back(i);
        map.y_edges = {0.0, 1.0};
        map.values.assign(static_cast<std::size_t>(n), 1.0F);
        const double from = *rc::gen::inRange(0, n), to = from + 1.0 + *rc::gen::inRange(0, n);
        const AxisScale x{.from = from, .to = to, .px_from = 50.0, .px_to = 50.0 + *rc::gen::inRange(2, 400)};
        const AxisScale y{.from = 0.0, .to = 1.0, .px_from = 100.0, .px_to = 0.0}, colour{.from = 0.0, .to = 2.0};
        const Cells cells = reduced_cells(map, x, y, colour, 4, 2.0);
        RC_PRE(!cells.x_edges.empty());
        RC_ASSERT(cells.x_edges.front() == x.px_from);
        RC_ASSERT(cells.x_edges.back() == std::round(x.px(std::min(to, n * 1.0))));
        RC_ASSERT(cells.levels.size() == cells.x_edges.size() - 1);
        for (std::size_t i = 1; i < cells.x_edges.size(); ++i) RC_ASSERT(cells.x_edges[i] > cells.x_edges[i - 1]);
    }));
}

// ---- colours

// CIE 1976 L*a*b* (D65) of linear sRGB (IEC 61966-2-1).
std::array<double, 3> lab_of(const std::array<double, 3>& rgb)
{
    const auto f = [](double t) { return t > 216.0 / 24389.0 ? std::cbrt(t) : (24389.0 / 27.0 * t + 16.0) / 116.0; };
    const double x = (0.4124564 * rgb[0] + 0.3575761 * rgb[1] + 0.1804375 * rgb[2]) / 0.95047;
    const double y = 0.2126729 * rgb[0] + 0.7151522 * rgb[1] + 0.0721750 * rgb[2];
    const double z = (0.0193339 * rgb[0] + 0.1191920 * rgb[1] + 0.9503041 * rgb[2]) / 1.08883;
    return {116.0 * f(y) - 16.0, 500.0 * (f(x) - f(y)), 200.0 * (f(y) - f(z))};
}

double linear(std::uint8_t channel)
{
    const double part = channel / 255.0;
    return part <= 0.04045 ? part / 12.92 : std::pow((part + 0.055) / 1.055, 2.4);
}

using Matrix = std::array<std::array<double, 3>, 3>;

std::array<double, 3> seen(Colour colour, const Matrix& by)
{
    const std::array<double, 3> rgb{linear(colour.red), linear(colour.green), linear(colour.blue)};
    std::array<double, 3> result{};
    for (std::size_t i = 0; i < 3; ++i)
        result[i] = std::clamp(by[i][0] * rgb[0] + by[i][1] * rgb[1] + by[i][2] * rgb[2], 0.0, 1.0);
    return lab_of(result);
}

// Machado, Oliveira, Fernandes 2009, table 1, severity 1 (from memory).
const std::array<std::pair<const char*, Matrix>, 4> sights{
    {{"common", {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}},
     {"protanopia",
      {{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}}},
     {"deuteranopia",
      {{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}}},
     {"tritanopia",
      {{{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}}}}};

TEST(Palette, StandsOutFromTheBackground)
{
    EXPECT_NEAR(contrast({0, 0, 0}, {255, 255, 255}), 21.0, 1e-12); // WCAG 2.2, contrast ratio
    for (const Ink ink : series_inks) EXPECT_GE(contrast(colour_of(ink), colour_of(Ink::paper)), 3.0);
    for (const Ink ink : {Ink::text, Ink::quiet}) EXPECT_GE(contrast(colour_of(ink), colour_of(Ink::paper)), 4.5);
}

TEST(Palette, CanBeToldApartByAnyEye)
{
    for (const auto& [name, by] : sights)
        for (std::size_t i = 0; i < series_inks.size(); ++i)
            for (std::size_t j = 0; j < i; ++j) {
                const auto a = seen(colour_of(series_inks[i]), by), b = seen(colour_of(series_inks[j]), by);
                EXPECT_GE(std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]), 27.0) << name << " " << i << " " << j;
            }
}

TEST(Palette, FallsEvenlyInLightnessForAnyEye)
{
    for (const auto& [name, by] : sights) {
        double before = 100.0;
        for (std::size_t level = 0; level < 16; ++level) {
            const double lightness = seen(sequential(level, 16), by)[0];
            EXPECT_LT(lightness, before - 1.0) << name << " " << level;
            EXPECT_GT(lightness, before - 12.0) << name << " " << level;
            before = lightness;
        }
    }
    EXPECT_EQ(sequential(0, 1), sequential(0, 16));
    EXPECT_EQ(sequential(99, 16), sequential(15, 16));
}

// ---- SVG

template <class Shape>
Scene scene_of(Shape shape)
{
    Scene scene{.width_px = 100.0, .height_px = 50.0};
    scene.items.emplace_back().shape.template emplace<Shape>(std::move(shape));
    return scene;
}

TEST(Svg, EscapesWhatXmlWouldTakeForMarkup)
{
    EXPECT_EQ(xml_text("a < b & \"c\" > 'd'"), "a &lt; b &amp; &quot;c&quot; &gt; &#39;d&#39;");
    Figure figure = line_figure({0, 1}, {0, 1});
    figure.title = "</title><script>alert(1)</script>";
    figure.subtitle = "Deck \"3\" & <b>船室</b> \xFF\x01";
    auto& plot = std::get<Plot>(figure.panels[0].content);
    plot.markers = {{0.5, "<a href='x'>"}};
    plot.levels = {{0.5, "]]>&amp;"}};
    plot.series[0].words = "<!--";
    const std::string svg = svg_of(figure);
    EXPECT_THAT(svg, Not(HasSubstr("<script")));
    EXPECT_THAT(svg, Not(HasSubstr("<a ")));
    EXPECT_THAT(svg, Not(HasSubstr("<!--")));
    EXPECT_THAT(svg, Not(HasSubstr("]]>")));
    EXPECT_THAT(svg, HasSubstr("<title>&lt;/title&gt;&lt;script&gt;alert(1)&lt;/script&gt;</title>"));
    EXPECT_THAT(svg, HasSubstr("Deck &quot;3&quot; &amp; &lt;b&gt;船室&lt;/b&gt; \xEF\xBF\xBD</text>"));
}

TEST(Svg, GivesTheSameBytesForTheSameFigure)
{
    const auto once = tests::example_figures(800.0, 500.0), again = tests::example_figures(800.0, 500.0);
    for (std::size_t i = 0; i < once.size(); ++i)
        EXPECT_EQ(svg_of(once[i].figure), svg_of(again[i].figure)) << once[i].name;
}

TEST(Svg, RoundsToHundredthsOfAPixel)
{
    const Scene scene =
        scene_of(Path{.runs = {{{1.0 / 3.0, 2.0}, {-0.004, 0.1}, {nan, 1e9}}}, .edge = Stroke{{1, 2, 3}, 1.25}});
    EXPECT_THAT(svg_of(scene), HasSubstr("<path d=\"M0.33 2 0 0.1 0 10000000\" fill=\"none\" stroke=\"#010203\" "
                                         "stroke-width=\"1.25\""));
}

TEST(Svg, PutsCellsOfOneColourIntoOnePath)
{
    const std::string svg = svg_of(scene_of(Cells{.x_edges = {0, 2, 4, 6},
                                                  .y_edges = {0, 3, 6},
                                                  .levels = {0, 0, 1, Cells::empty_cell, 1, 1},
                                                  .colours = {{1, 1, 1}, {2, 2, 2}}}));
    EXPECT_THAT(svg, HasSubstr("<path stroke=\"#010101\" stroke-width=\"3\" d=\"M0 1.5h4\"/>"));
    EXPECT_THAT(svg, HasSubstr("<path stroke=\"#020202\" stroke-width=\"3\" d=\"M4 1.5h2M2 4.5h4\"/>"));
}

// ---- builders

TEST(Builders, DrawBandsBetweenTheirExactEdges)
{
    ThirdOctaveInput input;
    input.traces = {{"level", {8.0, 10.0, 16.0}, {1.0, 2.0, 3.0}}}; // nominal, 12.5 Hz missing
    const Figure figure = third_octave_figure(input);
    const Series& series = std::get<Plot>(figure.panels[0].content).series[0];
    ASSERT_THAT(series.values, SizeIs(4));
    EXPECT_TRUE(std::isnan(series.values[2]));
    ASSERT_THAT(series.x.listed, SizeIs(5));
    for (int i = 0; i <= 4; ++i)
        EXPECT_NEAR(series.x.listed[static_cast<std::size_t>(i)], std::pow(10.0, (8.5 + i) / 10.0),
                    1e-9); // iec61260-1-2014, 5.2 to 5.5
}

TEST(Builders, LeaveOutTheBinAtZeroHertz)
{
    SpectrumInput input{.resolution_hz = 0.5};
    input.traces = {{.words = "z", .values = {99.0, 1.0, 2.0, 3.0}}};
    const Scene scene = laid_out(spectrum_figure(input));
    EXPECT_THAT(scene.description, HasSubstr("z: 1.00 to 3.00"));
    EXPECT_THAT(texts_of(scene, Role::note), IsEmpty());
}

TEST(Builders, ShowTheTimeBetweenRowsAsAGap)
{
    SpectrogramInput input{.resolution_hz = 1.0, .from_hz = 0.5, .to_hz = 3.5};
    input.rows = {{0.0, 5.0, {9, 1, 2, 3}}, {4.0, 8.0, {9, 4, 5, 6}}, {20.0, 24.0, {9, 7}}};
    const Figure figure = spectrogram_figure(input);
    const HeatMap& heat = *std::get<Plot>(figure.panels[0].content).heat;
    EXPECT_THAT(heat.x_edges, ElementsAre(0, 4, 8, 20, 24));
    EXPECT_THAT(heat.y_edges, ElementsAre(0.5, 1.5, 2.5, 3.5));
    ASSERT_THAT(heat.values, SizeIs(12));
    EXPECT_EQ(heat.values[0], 1.0F);
    EXPECT_EQ(heat.values[1], 4.0F);
    EXPECT_TRUE(std::isnan(heat.values[2]));
    EXPECT_EQ(heat.values[3], 7.0F);
    EXPECT_TRUE(std::isnan(heat.values[7])); // a row that ends early
    EXPECT_THAT(texts_of(laid_out(figure), Role::key), Contains("no data"));
}

Ruler ruler_in(const RulerInput& input) { return std::get<Ruler>(ruler_figure({}, {input}).panels[0].content); }

TEST(Builders, SayTheValueWithTheDigitsOfItsUncertaintyAndTheWayToTheNextLimit)
{
    RulerInput input{.words = "x",
                     .bands = {{"low", {}, 20.0}, {"middle", {}, 40.0}, {"high", {}, {}, true}},
                     .value = 12.345,
                     .expanded_uncertainty = 1.23,
                     .band = 0};
    input.shown.unit = "mm/s²";
    EXPECT_EQ(ruler_in(input).value_words, "12.3 ± 1.2 mm/s² (k = 2)");
    EXPECT_EQ(ruler_in(input).distance_words, "7.7 mm/s² below the next limit (38 % of it)");
    EXPECT_EQ(ruler_in(input).next_limit, 20.0);
    EXPECT_TRUE(ruler_in(input).bands[0].holds_value);
    EXPECT_FALSE(ruler_in(input).bands[1].holds_value);

    input.value = 19.5;
    EXPECT_EQ(ruler_in(input).distance_words, "0.50 mm/s² below the next limit (2.5 % of it), within the uncertainty");
    input.value = 44.0;
    input.band = 2;
    EXPECT_EQ(ruler_in(input).distance_words, "4.0 mm/s² above the last limit (10 % of it)");
    EXPECT_EQ(ruler_in(input).next_limit, 40.0);

    input.expanded_uncertainty = {};
    EXPECT_EQ(ruler_in(input).value_words, "44.0 mm/s², uncertainty not stated");
    input.value = {};
    input.why_not = "clipped";
    EXPECT_EQ(ruler_in(input).value_words, "not judged: clipped");
    EXPECT_EQ(ruler_in(input).distance_words, "");
}

TEST(Builders, SayWhatNoSourceExplains)
{
    LadderInput input;
    input.contributions = {{"blades", "", 0.7}, {"shaft", "", 0.2}};
    const auto rungs = std::get<Ladder>(ladder_figure(input).panels[0].content).rungs;
    ASSERT_THAT(rungs, SizeIs(3));
    EXPECT_TRUE(rungs[2].rest);
    EXPECT_NEAR(rungs[2].share, 0.1, 1e-12);
}

TEST(Builders, TellTheLeastRungsInOneWhereThereIsNoRoom)
{
    LadderInput input{.heading = {.width_px = 480.0, .height_px = 200.0}};
    for (int i = 0; i < 20; ++i) input.contributions.push_back({"source " + std::to_string(i), "", 0.04});
    const Scene scene = laid_out(ladder_figure(input));
    EXPECT_EQ(fault_in(scene), "");
    const auto labels = texts_of(scene, Role::rung_label);
    EXPECT_THAT(labels, Contains(HasSubstr(" others")));
    EXPECT_THAT(labels, Contains("not explained"));
    EXPECT_THAT(labels, Contains("source 0"));
}

TEST(Builders, SetTheChangeOfEachBandBeneath)
{
    ComparisonInput input;
    input.first = {"before", {1.0, 1.25, 1.6}, {1.0, 2.0, 0.0}};
    input.second = {"after", {1.25, 1.6, 2.0}, {0.2, 1.0, 1.0}};
    const Figure figure = comparison_figure(input);
    const Series& change = std::get<Plot>(figure.panels[1].content).series[0];
    ASSERT_THAT(change.values, SizeIs(2)); // 1.25 and 1.6 Hz
    EXPECT_NEAR(change.values[0], -20.0, 1e-9);
    EXPECT_TRUE(std::isnan(change.values[1]));
}

TEST(Builders, SetTimeHistoriesBeneathEachOtherAndNameTheirTracesOnce)
{
    TimeHistoryInput input{.from_s = 3.0, .to_s = 5.0, .left_out = {{3.0, 3.5, "not settled"}}};
    for (const auto* quantity : {"acceleration", "velocity"}) {
        HistoryPanel panel{.quantity = quantity};
        panel.traces.push_back({.words = "channel 1", .x = {.first = 3.0, .step = 0.5}});
        panel.traces.back().values = {0.0, 1.0, -1.0, 1.0, 0.0};
        panel.traces.push_back(panel.traces.front());
        panel.traces.back().words = "channel 2";
        input.panels.push_back(panel);
    }
    const Figure figure = time_history_figure(input);
    ASSERT_THAT(figure.panels, SizeIs(2));
    for (std::size_t i = 0; i < 2; ++i) {
        const auto& plot = std::get<Plot>(figure.panels[i].content);
        EXPECT_EQ(plot.y.words, input.panels[i].quantity);
        EXPECT_EQ(plot.x.from, 3.0);
        EXPECT_EQ(plot.x.to, 5.0);
        ASSERT_THAT(plot.series, SizeIs(2));
        EXPECT_EQ(plot.series[1].words, i == 0 ? "channel 2" : "");
        EXPECT_NE(plot.series[0].dash, plot.series[1].dash);
        EXPECT_THAT(plot.left_out, SizeIs(1));
    }
    input.panels[0].traces[1].values.assign(5000, 1.0);
    EXPECT_EQ(std::get<Plot>(time_history_figure(input).panels[0].content).series[1].dash, Dash::solid)
        << "dashes of a dense line are no dashes";
}

TEST(Builders, MarkFindingsAndHatchWhatIsLeftOut)
{
    TimeStripInput input{.rms = {1, 2, 3, 2, 1},
                         .peak = {2, 4, 6, 4, 2},
                         .left_out = {{1.0, 2.0, "touched"}},
                         .findings = {{3.0, "clipped"}}};
    const Scene scene = laid_out(time_strip_figure(input));
    EXPECT_THAT(texts_of(scene, Role::marker_label), testing::UnorderedElementsAre("touched", "clipped"));
    EXPECT_THAT(texts_of(scene, Role::key), ElementsAre("peak of each second", "r.m.s. of each second", "left out"));
    EXPECT_EQ(scene.areas[0].x.to, 5.0);
}

} // namespace
} // namespace becalm::figures
