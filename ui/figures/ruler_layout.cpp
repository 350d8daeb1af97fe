#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "ui/figures/panel_layout.h"

namespace becalm::figures {
namespace {

constexpr double least_row_px = 16.0, natural_row_px = 24.0, greatest_row_px = 44.0;

struct Stretch {
    double from = 0.0, to = 0.0;
    bool open_below = false, open_above = false;
};

// From where a band reaches to where; the first begins at the end of the scale, each at the end of the one before.
std::vector<Stretch> stretches(const Ruler& ruler, const AxisScale& scale)
{
    std::vector<Stretch> result;
    std::optional<double> end_before;
    for (const RulerBand& band : ruler.bands) {
        const std::optional<double> from = band.from ? band.from : end_before;
        Stretch stretch{std::clamp(from.value_or(scale.from), scale.from, scale.to),
                        std::clamp(band.to.value_or(scale.to), scale.from, scale.to), !from.has_value(),
                        !band.to || *band.to > scale.to};
        if (band.to) end_before = band.to;
        stretch.to = std::max(stretch.from, stretch.to);
        result.push_back(stretch);
    }
    return result;
}

AxisScale scale_of(const Ruler& ruler)
{
    double least = std::numeric_limits<double>::infinity(), greatest = 0.0;
    const auto take = [&](std::optional<double> value) {
        if (!value || !std::isfinite(*value) || *value < 1e-200) return;
        least = std::min(least, std::min(*value, 1e200));
        greatest = std::max(greatest, std::min(*value, 1e200));
    };
    for (const RulerBand& band : ruler.bands) {
        take(band.from);
        take(band.to);
    }
    take(ruler.value);
    if (ruler.value && ruler.expanded_uncertainty) {
        take(*ruler.value + *ruler.expanded_uncertainty);
        take(*ruler.value - *ruler.expanded_uncertainty);
    }
    if (greatest <= 0.0) least = greatest = 1.0;
    if (ruler.logarithmic)
        return {.from = std::max(least / 2.0, greatest * 1e-6), .to = greatest * 2.0, .logarithmic = true};
    return {.from = 0.0, .to = percent(120) * greatest};
}

double heading_height(const Surroundings& around, const Canvas& canvas)
{
    return around.heading.empty() ? 0.0 : Canvas::line_height(canvas.sizes().text) + 4.0;
}

// The value, the distance, and the lane of the whisker and the arrow.
double value_height(const Ruler& ruler, const Canvas& canvas)
{
    return Canvas::line_height(canvas.sizes().text) +
           (ruler.distance_words.empty() ? 0.0 : Canvas::line_height(canvas.sizes().small)) + 14.0;
}

double axis_height(const Canvas& canvas) { return 8.0 + Canvas::line_height(canvas.sizes().small); }

double band_words_width(const Ruler& ruler, const Canvas& canvas)
{
    double widest = 0.0;
    for (const RulerBand& band : ruler.bands)
        widest = std::max(widest, canvas.width(cleaned(band.words), canvas.sizes().text, band.holds_value));
    return widest;
}

// The ends of bands, each once, where they are told apart on the drawing; without any, ordinary marks.
std::vector<TickMark> marks_of(const Ruler& ruler, const AxisScale& scale, const LabelRoom& room, double free_from,
                               Language language)
{
    std::vector<double> ends;
    for (const RulerBand& band : ruler.bands)
        for (const std::optional<double>& end : {band.from, band.to})
            if (end && scale.holds(*end)) ends.push_back(*end);
    std::sort(ends.begin(), ends.end());
    ends.erase(std::unique(ends.begin(), ends.end()), ends.end());
    if (ends.empty())
        return in_digits_of(language, scale.logarithmic ? logarithmic_ticks(scale, ruler.numbers, room)
                                                        : linear_ticks(scale, ruler.numbers, room))
            .marks;
    std::vector<TickMark> marks;
    for (const double end : ends) {
        const double shown = end * ruler.numbers.shown_per_unit;
        std::string label = ruler.numbers.form == NumberForm::prefixed ? with_si_prefix(shown, ruler.numbers.unit)
                                                                       : fmt::format("{:.6g}", shown);
        label = in_digits_of(language, std::move(label));
        const double half = room.extent(label) / 2.0, at = scale.px(end);
        if (at - half < free_from)
            label.clear();
        else
            free_from = at + half + room.gap_px;
        marks.push_back({end, std::move(label)});
    }
    return marks;
}

} // namespace

double least_height_of(const Ruler& ruler, const Surroundings& around, const Canvas& canvas)
{
    return heading_height(around, canvas) + value_height(ruler, canvas) + axis_height(canvas) +
           static_cast<double>(std::max<std::size_t>(ruler.bands.size(), 1)) * least_row_px;
}

double natural_height_of(const Ruler& ruler, const Surroundings& around, const Canvas& canvas)
{
    return least_height_of(ruler, around, canvas) +
           static_cast<double>(std::max<std::size_t>(ruler.bands.size(), 1)) * (natural_row_px - least_row_px);
}

Margins margins_of(const Ruler& ruler, const Surroundings& around, const Canvas& canvas)
{
    const double words = band_words_width(ruler, canvas) + 22.0;
    return {std::min(words, percent(42) * around.box.width), 4.0};
}

void draw(const Ruler& ruler, const Surroundings& around, Canvas& canvas)
{
    const auto [title, text, small] = canvas.sizes();
    const Rect& box = around.box;
    const std::string unit = ruler.numbers.form == NumberForm::prefixed ? "" : ruler.numbers.unit;
    if (!around.heading.empty())
        canvas.words(Role::panel_words, {box.left, box.top + text},
                     shortened(cleaned(around.heading), box.width, canvas.extent(text, true)),
                     {.size_px = text, .bold = true});
    const double words_top = box.top + heading_height(around, canvas);
    const double top = std::round(words_top + value_height(ruler, canvas));
    const double left = std::round(box.left + around.margins.left),
                 right = std::round(box.right() - around.margins.right);
    const std::size_t rows = std::max<std::size_t>(ruler.bands.size(), 1);
    const double row_px = std::clamp(std::floor((box.bottom() - axis_height(canvas) - top) / static_cast<double>(rows)),
                                     least_row_px, greatest_row_px);
    const Rect area{left, top, std::max(right - left, 8.0), row_px * static_cast<double>(rows)};
    AxisScale scale = scale_of(ruler);
    scale.px_from = area.left;
    scale.px_to = area.right();

    // Bands, the mildest below.
    const std::vector<Stretch> parts = stretches(ruler, scale);
    for (std::size_t i = 0; i < ruler.bands.size(); ++i) {
        const RulerBand& band = ruler.bands[i];
        const double row_top = area.bottom() - static_cast<double>(i + 1) * row_px;
        const Rect row{area.left, row_top, area.width, row_px};
        const double from = scale.px(parts[i].from), to = scale.px(parts[i].to);
        const Colour ground = sequential(i + 1, ruler.bands.size() + 3);
        const Rect stair{from, row.top + 2.0, to - from, row.height - 4.0};
        canvas.line(Role::grid, {area.left, crisp(row.bottom())}, {area.right(), crisp(row.bottom())},
                    {colour_of(Ink::hairline), 1.0});
        canvas.box(Role::ruler, stair, band.holds_value ? ground : tint(ground, percent(55)));
        if (band.exceeds) canvas.hatch(Role::ruler, stair, {tint(colour_of(Ink::text), percent(45)), 1.0}, 7.0);
        const Stroke edge =
            band.holds_value ? Stroke{colour_of(Ink::text), base_px} : Stroke{tint(colour_of(Ink::quiet), 0.5), 1.0};
        canvas.box(Role::ruler, stair, {}, edge);
        const double base = row.top + row.height / 2.0 + half_digit * text;
        canvas.words(Role::ruler_label, {area.left - 16.0, base},
                     shortened(cleaned(band.words), around.margins.left - 20.0, canvas.extent(text, band.holds_value)),
                     {.size_px = text, .anchor = Anchor::end, .bold = band.holds_value});
        if (band.holds_value)
            canvas.area(Role::ruler,
                        {{{area.left - 11.0, base - percent(75) * text},
                          {area.left - 4.0, base - half_digit * text},
                          {area.left - 11.0, base}}},
                        colour_of(Ink::second));
    }

    // Ends of bands, and the axis.
    std::vector<std::vector<Point>> marks;
    const std::string axis_words = shortened(canvas.said().limits.text() + (unit.empty() ? "" : ", " + cleaned(unit)),
                                             around.margins.left - 12.0, canvas.extent(small));
    canvas.words(Role::panel_words, {box.left, area.bottom() + 6.0 + small}, axis_words,
                 {.size_px = small, .ink = Ink::quiet});
    const double free_from = box.left + canvas.width(axis_words, small) + 8.0;
    for (const TickMark& mark :
         marks_of(ruler, scale, {canvas.extent(small), 8.0, 44.0}, free_from, canvas.language())) {
        const double at = crisp(scale.px(mark.value));
        marks.push_back({{at, area.bottom()}, {at, area.bottom() + 5.0}});
        const double half = canvas.width(mark.label, small) / 2.0;
        if (scale.px(mark.value) + half <= box.right() && scale.px(mark.value) - half >= free_from)
            canvas.words(Role::tick_label, {scale.px(mark.value), area.bottom() + 6.0 + small}, mark.label,
                         {.size_px = small, .anchor = Anchor::middle});
    }
    canvas.lines(Role::tick, std::move(marks), {colour_of(Ink::text), 1.0});
    canvas.line(Role::tick, {area.left, area.bottom() + 0.5}, {area.right(), area.bottom() + 0.5},
                {colour_of(Ink::text), base_px});

    // The value above its place, its uncertainty, the way to the next limit.
    const bool placed = ruler.value && std::isfinite(*ruler.value) && (!scale.logarithmic || *ruler.value > 0.0);
    const double at = placed ? std::clamp(scale.px(*ruler.value), area.left, area.right()) : area.left;
    const auto beside = [&](const std::string& words, double size, bool bold, Ink ink, double base) {
        const std::string shown = shortened(cleaned(words), box.width, canvas.extent(size, bold));
        const double half = canvas.width(shown, size, bold) / 2.0;
        const double low = box.left + half, high = std::max(low, box.right() - half);
        canvas.words(Role::ruler_label, {placed ? std::clamp(at, low, high) : box.left, base}, shown,
                     {.size_px = size, .ink = ink, .anchor = placed ? Anchor::middle : Anchor::start, .bold = bold});
    };
    beside(ruler.value_words, text, placed, Ink::text, words_top + text);
    if (!ruler.distance_words.empty())
        beside(ruler.distance_words, small, false, Ink::quiet, words_top + Canvas::line_height(text) + small);
    if (placed) {
        const double lane = top - 7.0;
        const Stroke ink{colour_of(Ink::second), 2.0};
        if (ruler.expanded_uncertainty && std::isfinite(*ruler.expanded_uncertainty) &&
            *ruler.expanded_uncertainty > 0.0) {
            const double low = *ruler.value - *ruler.expanded_uncertainty;
            const double from =
                !scale.logarithmic || low > 0.0 ? std::clamp(scale.px(low), area.left, area.right()) : area.left;
            const double to = std::clamp(scale.px(*ruler.value + *ruler.expanded_uncertainty), area.left, area.right());
            for (const double end : {from, to}) {
                canvas.line(Role::ruler, {crisp(end - 0.5), lane - 4.0}, {crisp(end - 0.5), lane + 4.0}, ink);
                canvas.line(Role::ruler, {crisp(end - 0.5), top}, {crisp(end - 0.5), area.bottom()},
                            {colour_of(Ink::second), 1.0, Dash::dotted});
            }
            canvas.line(Role::ruler, {from, lane}, {to, lane}, ink);
        }
        if (ruler.next_limit && scale.holds(*ruler.next_limit)) {
            const double limit = scale.px(*ruler.next_limit), back = limit > at ? -6.0 : 6.0;
            if (std::abs(limit - at) > 8.0) {
                canvas.line(Role::ruler, {at, lane}, {limit + back, lane}, {colour_of(Ink::text), 1.0, Dash::dashed});
                canvas.area(Role::ruler, {{{limit, lane}, {limit + back, lane - 4.0}, {limit + back, lane + 4.0}}},
                            colour_of(Ink::text));
            }
        }
        canvas.line(Role::ruler, {at, lane - 4.0}, {at, area.bottom() + 3.0}, {colour_of(Ink::second), strong_px});
    }
    canvas.area_of({around.panel, area, scale, {}});
}

std::string description_of(const Ruler& ruler, Language language)
{
    const FigureWords& words = words_of(language);
    std::string text = ruler.value_words;
    if (!text.empty()) text += ".";
    if (!ruler.distance_words.empty()) text += " " + ruler.distance_words + ".";
    for (auto band = ruler.bands.begin(); band != ruler.bands.end(); ++band) {
        text += filled(words.band, isolated(band->words));
        const auto shown = [&](double value) {
            return in_digits_of(language, number_text(value * ruler.numbers.shown_per_unit, 4)) +
                   (ruler.numbers.unit.empty() ? "" : " ") + ruler.numbers.unit;
        };
        if (band->from) text += filled(words.from, shown(*band->from));
        if (band->to) text += filled(words.to, shown(*band->to));
        if (band->exceeds) text += words.exceeds.text();
        if (band->holds_value) text += words.holds_value.text();
        text += ".";
    }
    return text;
}

} // namespace becalm::figures
