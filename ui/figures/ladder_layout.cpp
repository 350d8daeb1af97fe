#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "ui/figures/panel_layout.h"

namespace becalm::figures {
namespace {

constexpr double least_rung_px = 16.0, natural_rung_px = 36.0;

double whole_of(const Ladder& ladder)
{
    double sum = 0.0;
    for (const Rung& rung : ladder.rungs)
        if (std::isfinite(rung.share)) sum += std::max(rung.share, 0.0);
    return std::min(std::max(sum, 1.0), 1e6);
}

std::string share_text(double share, Language language)
{
    if (!std::isfinite(share)) return words_of(language).not_known.text();
    const double parts = 100.0 * std::max(share, 0.0);
    if (parts > 0.0 && parts < 0.1) return in_digits_of(language, "< 0.1 %");
    return in_digits_of(language, decimal_text(parts, parts < 10.0 - percent(5) ? 1 : 0)) + " %";
}

double heading_height(const Surroundings& around, const Canvas& canvas)
{
    return around.heading.empty() ? 0.0 : Canvas::line_height(canvas.sizes().text) + 4.0;
}

double axis_height(const Canvas& canvas)
{
    return 6.0 + Canvas::line_height(canvas.sizes().small) + Canvas::line_height(canvas.sizes().text);
}

// As many as there is room for: the least shares before the rest are told in one.
std::vector<Rung> rungs_that_fit(const Ladder& ladder, double height_px, const FigureWords& words)
{
    const auto room = static_cast<std::size_t>(std::max(1.0, std::floor(height_px / least_rung_px)));
    std::vector<Rung> named, rest;
    for (const Rung& rung : ladder.rungs) {
        if (!rung.rest)
            named.push_back(rung);
        else if (rest.empty())
            rest.push_back(rung);
        else
            rest.back().share += std::isfinite(rung.share) ? rung.share : 0.0;
    }
    const std::size_t for_named = room > rest.size() ? room - rest.size() : 1;
    if (named.size() > for_named) {
        Rung others;
        std::size_t count = 0;
        while (named.size() + 1 > for_named && !named.empty()) {
            const double share = named.back().share;
            if (std::isfinite(share)) others.share += share;
            ++count;
            named.pop_back();
        }
        others.words = counted(count, words.other, words.others);
        named.push_back(others);
    }
    named.insert(named.end(), rest.begin(), rest.end());
    return named;
}

} // namespace

double least_height_of(const Ladder& ladder, const Surroundings& around, const Canvas& canvas)
{
    const auto rungs = static_cast<double>(std::clamp<std::size_t>(ladder.rungs.size(), 1, 3));
    return heading_height(around, canvas) + axis_height(canvas) + rungs * least_rung_px;
}

double natural_height_of(const Ladder& ladder, const Surroundings& around, const Canvas& canvas)
{
    const auto rungs = static_cast<double>(std::max<std::size_t>(ladder.rungs.size(), 1));
    return heading_height(around, canvas) + axis_height(canvas) + rungs * natural_rung_px;
}

Margins margins_of(const Ladder& ladder, const Surroundings& around, const Canvas& canvas)
{
    double widest = canvas.width("00 " + canvas.said().others.text(), canvas.sizes().text);
    for (const Rung& rung : ladder.rungs)
        widest = std::max({widest, canvas.width(cleaned(rung.words), canvas.sizes().text),
                           canvas.width(cleaned(rung.detail), canvas.sizes().small)});
    const double half_end = canvas.width("100 %", canvas.sizes().small) / 2.0;
    return {std::min(widest + 12.0, percent(36) * around.box.width), half_end + 2.0};
}

void draw(const Ladder& ladder, const Surroundings& around, Canvas& canvas)
{
    const auto [title, text, small] = canvas.sizes();
    const Rect& box = around.box;
    if (!around.heading.empty())
        canvas.words(Role::panel_words, {box.left, box.top + text},
                     shortened(cleaned(around.heading), box.width, canvas.extent(text, true)),
                     {.size_px = text, .bold = true});
    const double top = box.top + heading_height(around, canvas), bottom = box.bottom() - axis_height(canvas);
    const Rect area{std::round(box.left + around.margins.left), std::round(top),
                    std::max(8.0, std::floor(box.width - around.margins.left - around.margins.right)),
                    std::max(8.0, std::floor(bottom - top))};
    const AxisScale scale{0.0, whole_of(ladder), false, area.left, area.right()};
    const std::vector<Rung> rungs = rungs_that_fit(ladder, area.height, canvas.said());
    const double step = rungs.empty() ? 0.0 : area.height / static_cast<double>(rungs.size());
    const double foot = std::round(area.bottom());

    const LabelRoom room{canvas.extent(small), 8.0, 80.0};
    const Ticks ticks = linear_ticks(scale, {.unit = "%", .shown_per_unit = 100.0}, room);
    std::vector<std::vector<Point>> grid, marks;
    for (const TickMark& tick : ticks.marks) {
        const double at = crisp(std::min(scale.px(tick.value), area.right() - 0.5));
        grid.push_back({{at, area.top}, {at, foot}});
        marks.push_back({{at, foot}, {at, foot + 4.0}});
        canvas.words(Role::tick_label, {at, foot + 5.0 + small}, tick.label,
                     {.size_px = small, .anchor = Anchor::middle});
    }
    canvas.lines(Role::grid, std::move(grid), {colour_of(Ink::hairline), 1.0});

    double from = 0.0;
    for (std::size_t i = 0; i < rungs.size(); ++i) {
        const Rung& rung = rungs[i];
        const double share = std::isfinite(rung.share) ? std::max(rung.share, 0.0) : 0.0;
        const double to = std::min(from + share, scale.to);
        const Rect row{area.left, area.top + static_cast<double>(i) * step, area.width, step};
        const double thick = std::min(row.height - 4.0, 34.0), middle = row.top + row.height / 2.0;
        const Rect bar{scale.px(from), middle - thick / 2.0, std::max(scale.px(to) - scale.px(from), 1.0), thick};
        const Colour ink = colour_of(rung.rest ? Ink::quiet : Ink::first);
        if (rung.rest) {
            canvas.box(Role::rung, bar, tint(ink, 0.1));
            canvas.hatch(Role::rung, bar, {tint(ink, percent(70)), 1.0}, 6.0);
            canvas.box(Role::rung, bar, {}, Stroke{ink, 1.0});
        } else {
            canvas.box(Role::rung, bar, tint(ink, percent(85)));
        }
        // The next rung begins where this one ends.
        if (i + 1 < rungs.size())
            canvas.line(Role::rung, {crisp(bar.right() - 0.5), bar.bottom()},
                        {crisp(bar.right() - 0.5), bar.bottom() + step - thick},
                        {colour_of(Ink::quiet), 1.0, Dash::dotted});

        const std::string share_words = share_text(rung.share, canvas.language());
        const double width = canvas.width(share_words, text, true), base = middle + half_digit * text;
        if (bar.right() + 6.0 + width <= area.right() + around.margins.right)
            canvas.words(Role::rung_label, {bar.right() + 6.0, base}, share_words, {.size_px = text, .bold = true});
        else if (bar.left - 6.0 - width >= area.left)
            canvas.words(Role::rung_label, {bar.left - 6.0, base}, share_words,
                         {.size_px = text, .anchor = Anchor::end, .bold = true});
        else
            canvas.words(
                Role::rung_label, {bar.left + bar.width / 2.0, base}, share_words,
                {.size_px = text, .ink = rung.rest ? Ink::text : Ink::paper, .anchor = Anchor::middle, .bold = true});

        const double name_room = around.margins.left - 10.0, right = area.left - 10.0;
        const std::string words = shortened(cleaned(rung.words), name_room, canvas.extent(text));
        std::string detail = cleaned(rung.detail);
        if (!detail.empty() && row.height >= Canvas::line_height(text) + Canvas::line_height(small)) {
            detail = shortened(detail, name_room, canvas.extent(small));
            canvas.words(Role::rung_label, {right, middle - 2.0}, words, {.size_px = text, .anchor = Anchor::end});
            canvas.words(Role::rung_label, {right, middle + small + 1.0}, detail,
                         {.size_px = small, .ink = Ink::quiet, .anchor = Anchor::end});
        } else {
            canvas.words(Role::rung_label, {right, base}, words, {.size_px = text, .anchor = Anchor::end});
        }
        from = to;
    }
    canvas.lines(Role::tick, std::move(marks), {colour_of(Ink::text), 1.0});
    canvas.line(Role::tick, {area.left, foot + 0.5}, {area.right(), foot + 0.5}, {colour_of(Ink::text), base_px});
    canvas.words(Role::panel_words, {area.right(), foot + 5.0 + Canvas::line_height(small) + text},
                 shortened(cleaned(words_with_unit(ladder.words, "%")), area.width, canvas.extent(text)),
                 {.size_px = text, .anchor = Anchor::end});
    if (rungs.empty())
        canvas.words(Role::panel_words, {area.left + area.width / 2.0, area.top + area.height / 2.0},
                     shortened(canvas.said().nothing_to_show, area.width, canvas.extent(text)),
                     {.size_px = text, .ink = Ink::quiet, .anchor = Anchor::middle});
    canvas.area_of({around.panel, area, scale, {}});
}

std::string description_of(const Ladder& ladder, Language language)
{
    const FigureWords& words = words_of(language);
    std::string text = filled(words.shares, ladder.words.empty() ? words.of_the_whole : std::string_view(ladder.words));
    for (const Rung& rung : ladder.rungs)
        text += fmt::format(" {}{}: {}.", isolated(rung.words), rung.detail.empty() ? "" : ", " + isolated(rung.detail),
                            share_text(rung.share, language));
    return text;
}

} // namespace becalm::figures
