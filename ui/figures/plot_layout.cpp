#include <algorithm>
#include <cmath>
#include <limits>

#include "ui/figures/labels.h"
#include "ui/figures/panel_layout.h"
#include "ui/figures/thinning.h"

namespace becalm::figures {
namespace {

constexpr std::size_t colour_levels = 16;
constexpr double tick_px = 4.0, sample_px = 22.0, leader_px = 10.0, least_plot_px = 44.0, notch_px = 9.0, mark_px = 8.0;

struct KeyEntry {
    const Series* series = nullptr; // nullptr: the hatch of what is left out
    std::string words = {};
    double at_px = 0.0; // from the left of the key
    int row = 0;
};

struct MarginWords {
    enum class Of { limit, source, band } of = Of::limit;
    double y = 0.0; // wish, px
    std::string whole = {};
    std::vector<std::string> lines = {};
    std::optional<double> centre = {};
};

class PlotLayout {
public:
    PlotLayout(const RangedPlot& ranged, const Surroundings& around, const Canvas& canvas)
        : ranged_(ranged), plot_(*ranged.plot), around_(around), sizes_(canvas.sizes()), measure_(canvas)
    {
        heading_ = words_with_unit(plot_.y.words, y_unit());
        bold_heading_ = around.heading;
        arrange_key();
    }

    double least_height() const { return above() + least_plot_px + below(); }

    Margins margins()
    {
        Margins margins{.left = 14.0, .right = margin_words_width()};
        margins.right = margins.right > 0.0 ? margins.right + leader_px + 4.0 : 6.0;
        // The flags' rows decide the height, the height the ticks: whichever it will be, the widest label fits.
        for (int rows = 0; rows <= most_rows(); ++rows) {
            const Rect rect = plot_rect(margins, rows);
            for (const TickMark& tick : y_ticks(rect).marks)
                margins.left = std::max(margins.left, measure_.width(tick.label, sizes_.small) + tick_px + 4.0);
        }
        for (int pass = 0; pass < 4; ++pass) { // a narrower plot may have other labels at its ends
            const Rect rect = plot_rect(margins, 0);
            for (const TickMark& tick : x_ticks(rect).marks) {
                const double half = measure_.width(tick.label, sizes_.small) / 2.0, at = x_scale(rect).px(tick.value);
                margins.left = std::max(margins.left, margins.left + around_.box.left - (at - half));
                margins.right = std::max(margins.right, margins.right + (at + half) - around_.box.right());
            }
        }
        const double most = around_.box.width / 3.0;
        return {std::min(margins.left, most), std::min(margins.right, most)};
    }

    void arrange()
    {
        place_flags();
        x_ = x_scale(rect_);
        y_ = {ranged_.y.from, ranged_.y.to, ranged_.y.logarithmic, rect_.bottom(), rect_.top};
        place_margin_words();
    }

    void say_what_has_no_room(std::vector<std::string>& notes) const
    {
        std::string unnamed;
        const auto add = [&](const std::string& words) {
            unnamed += (unnamed.empty() ? "" : ", ") + isolated(cleaned(words));
        };
        for (std::size_t i = 0; i < flags_.size(); ++i)
            if (!placed_[i]) add(flag_words_[i].whole);
        for (const MarginWords& words : margin_)
            if (!words.centre) add(words.whole);
        if (!unnamed.empty()) notes.push_back(filled(measure_.said().no_room_for_label, unnamed));
    }

    void draw(Canvas& canvas) const
    {
        draw_heading(canvas);
        draw_key(canvas);
        if (plot_.heat) draw_legend(canvas);
        draw_bands(canvas);
        if (!plot_.heat) draw_grid(canvas);
        draw_left_out(canvas);
        if (plot_.heat) draw_heat(canvas);
        for (const Series& series : plot_.series)
            if (series.form == SeriesForm::band || series.form == SeriesForm::bars || series.shaded)
                draw_body(canvas, series);
        draw_masts(canvas);
        for (const Series& series : plot_.series) draw_line(canvas, series);
        draw_levels(canvas);
        draw_flags(canvas);
        draw_axes(canvas);
        draw_margin_words(canvas);
        if (!ranged_.has_data) draw_nothing(canvas);
        canvas.area_of({around_.panel, rect_, x_, y_});
    }

private:
    // ---- measures

    std::string y_unit() const { return unit_of(plot_.y); }
    static std::string unit_of(const PlotAxis& axis)
    {
        if (axis.kind == AxisKind::third_octaves) return "Hz";
        return axis.numbers.form == NumberForm::prefixed ? "" : axis.numbers.unit;
    }

    double heading_height() const { return Canvas::line_height(sizes_.text) + 3.0; }
    double key_row_height() const { return Canvas::line_height(sizes_.small) + 1.0; }
    double key_height() const { return key_.empty() || key_beside_heading_ ? 0.0 : key_rows_ * key_row_height() + 3.0; }
    double legend_height() const { return plot_.heat ? 10.0 + Canvas::line_height(sizes_.small) + 8.0 : 0.0; }
    double flag_row_height() const { return std::ceil(percent(125) * sizes_.small); }
    double above() const { return heading_height() + key_height() + legend_height() + sizes_.small / 2.0; }
    double below() const
    {
        if (around_.x_axis_below) return tick_px + 6.0;
        return tick_px + 2.0 + Canvas::line_height(sizes_.small) + Canvas::line_height(sizes_.text);
    }

    int most_rows() const
    {
        if (flags() == 0) return 0;
        const double room = around_.box.height - above() - below() - least_plot_px;
        return std::clamp(static_cast<int>(percent(55) * room / flag_row_height()), 0, 12);
    }

    Rect plot_rect(const Margins& margins, int rows) const
    {
        const Rect& box = around_.box;
        const double top = std::round(box.top + above() + rows * flag_row_height());
        const double bottom = std::round(box.bottom() - below());
        const double left = std::round(box.left + margins.left), right = std::round(box.right() - margins.right);
        return {left, top, std::max(right - left, 8.0), std::max(bottom - top, 8.0)};
    }

    AxisScale x_scale(const Rect& rect) const
    {
        return {ranged_.x.from, ranged_.x.to, ranged_.x.logarithmic, rect.left, rect.right()};
    }

    Ticks ticks(const PlotAxis& axis, const AxisScale& scale, const LabelRoom& room) const
    {
        switch (axis.kind) {
        case AxisKind::time: return time_ticks(scale, axis.start, room, measure_.language());
        case AxisKind::third_octaves: return in_digits_of(measure_.language(), third_octave_ticks(scale, room));
        case AxisKind::logarithmic:
            return in_digits_of(measure_.language(), logarithmic_ticks(scale, axis.numbers, room));
        case AxisKind::linear: break;
        }
        return in_digits_of(measure_.language(), linear_ticks(scale, axis.numbers, room));
    }

    Ticks x_ticks(const Rect& rect) const
    {
        return ticks(plot_.x, x_scale(rect), {measure_.extent(sizes_.small), 8.0, 44.0});
    }

    Ticks y_ticks(const Rect& rect) const
    {
        const double height = tight_leading * sizes_.small;
        return ticks(plot_.y, {ranged_.y.from, ranged_.y.to, ranged_.y.logarithmic, rect.bottom(), rect.top},
                     {[height](std::string_view) { return height; }, 3.0, 34.0});
    }

    // ---- key

    void arrange_key()
    {
        const auto add = [&](const Series* series, const std::string& words) {
            if (!words.empty()) key_.push_back({series, words});
        };
        for (const Series& series : plot_.series) add(&series, cleaned(series.words));
        if (!plot_.left_out.empty()) add(nullptr, measure_.said().left_out.text());
        double at = 0.0;
        key_rows_ = 1;
        for (KeyEntry& entry : key_) {
            entry.words = shortened(entry.words, around_.box.width - sample_px - 6.0, measure_.extent(sizes_.small));
            const double width = sample_px + 5.0 + measure_.width(entry.words, sizes_.small);
            if (at > 0.0 && at + width > around_.box.width) {
                at = 0.0;
                ++key_rows_;
            }
            entry.at_px = at;
            entry.row = key_rows_ - 1;
            at += width + 16.0;
        }
        key_width_ = at - 16.0;
        key_beside_heading_ =
            !key_.empty() && key_rows_ == 1 && heading_width() + 28.0 + key_width_ <= around_.box.width;
    }

    double heading_width() const
    {
        return measure_.width(cleaned(heading_), sizes_.text) +
               (bold_heading_.empty() ? 0.0 : measure_.width(cleaned(bold_heading_) + "  ", sizes_.text, true));
    }

    void draw_heading(Canvas& canvas) const
    {
        Point at{around_.box.left, around_.box.top + sizes_.text};
        double room = around_.box.width - (key_beside_heading_ ? key_width_ + 28.0 : 0.0);
        if (!bold_heading_.empty()) {
            const std::string bold = shortened(cleaned(bold_heading_), room, canvas.extent(sizes_.text, true));
            canvas.words(Role::panel_words, at, bold, {.size_px = sizes_.text, .bold = true});
            const double taken = canvas.width(bold, sizes_.text, true) + 8.0;
            at.x += taken;
            room -= taken;
        }
        canvas.words(Role::panel_words, at, shortened(cleaned(heading_), room, canvas.extent(sizes_.text)),
                     {.size_px = sizes_.text, .ink = bold_heading_.empty() ? Ink::text : Ink::quiet});
    }

    void draw_key(Canvas& canvas) const
    {
        for (const KeyEntry& entry : key_) {
            const double left =
                key_beside_heading_ ? around_.box.right() - key_width_ + entry.at_px : around_.box.left + entry.at_px;
            const double base = key_beside_heading_
                                    ? around_.box.top + sizes_.text
                                    : around_.box.top + heading_height() + entry.row * key_row_height() + sizes_.small;
            const double middle = base - half_digit * sizes_.small;
            const Rect swatch{left, middle - 4.0, sample_px, 8.0};
            if (entry.series == nullptr)
                canvas.hatch(Role::key, swatch, hatch_stroke(), 5.0);
            else if (entry.series->form == SeriesForm::bars || entry.series->form == SeriesForm::band)
                canvas.box(Role::key, swatch, body_colour(*entry.series));
            if (entry.series != nullptr && entry.series->form == SeriesForm::points)
                canvas.area(Role::key, {mark_at({left + sample_px / 2.0, middle})}, colour_of(entry.series->ink));
            else if (entry.series != nullptr && entry.series->form == SeriesForm::bars)
                canvas.line(Role::key, {left, swatch.top}, {left + sample_px, swatch.top}, stroke_of(*entry.series));
            else if (entry.series != nullptr && entry.series->form != SeriesForm::band)
                canvas.line(Role::key, {left, middle}, {left + sample_px, middle}, stroke_of(*entry.series));
            canvas.words(Role::key, {left + sample_px + 5.0, base}, entry.words, {.size_px = sizes_.small});
        }
    }

    void draw_legend(Canvas& canvas) const
    {
        const PlotAxis& axis = plot_.heat->colour;
        const double top = around_.box.top + heading_height() + key_height();
        const std::string words = shortened(cleaned(words_with_unit(axis.words, unit_of(axis))),
                                            percent(55) * around_.box.width, canvas.extent(sizes_.small));
        canvas.words(Role::key, {around_.box.left, top + 9.0}, words, {.size_px = sizes_.small, .ink = Ink::quiet});
        const double left =
            std::round(around_.box.left + std::max(canvas.width(words, sizes_.small) + 14.0, around_.margins.left));
        const double gap_words = canvas.width(canvas.said().no_data, sizes_.small) + sample_px + 24.0;
        const double room = around_.box.right() - left - 20.0 - (ranged_.has_gaps ? gap_words : 0.0);
        const double width = std::floor(std::clamp(room, 48.0, 260.0));
        if (ranged_.has_gaps && room >= 48.0) {
            canvas.hatch(Role::key, {left + width + 20.0, top, sample_px, 10.0}, hatch_stroke(), 5.0);
            canvas.words(Role::key, {left + width + 25.0 + sample_px, top + 9.0}, canvas.said().no_data.text(),
                         {.size_px = sizes_.small});
        }
        const AxisScale scale = legend_scale(left, left + width);
        const double step = width / colour_levels;
        for (std::size_t level = 0; level < colour_levels; ++level) {
            const double from = std::round(left + static_cast<double>(level) * step);
            const double to = std::round(left + static_cast<double>(level + 1) * step);
            canvas.box(Role::key, {from, top, to - from, 10.0}, sequential(level, colour_levels));
        }
        for (const TickMark& tick : ticks(axis, scale, {canvas.extent(sizes_.small), 8.0, 40.0}).marks) {
            const double half = canvas.width(tick.label, sizes_.small) / 2.0, at = scale.px(tick.value);
            if (tick.label.empty() || at + half > around_.box.right()) continue;
            canvas.line(Role::key, {at, top + 10.0}, {at, top + 13.0}, {colour_of(Ink::text), 1.0});
            canvas.words(Role::key, {at, top + 14.0 + sizes_.small}, tick.label,
                         {.size_px = sizes_.small, .anchor = Anchor::middle});
        }
    }

    AxisScale legend_scale(double from_px, double to_px) const
    {
        return {ranged_.colour.from, ranged_.colour.to, ranged_.colour.logarithmic, from_px, to_px};
    }

    // ---- flags

    struct FlagWords {
        std::string whole = {}, text = {};
        double at_x = 0.0;
        enum class Of { source, finding, left_out } of = Of::source;
    };

    std::vector<FlagWords> wanted_flags() const
    {
        std::vector<FlagWords> wanted;
        for (const Marker& marker : plot_.markers)
            if (ranged_.x.holds(marker.x))
                wanted.push_back(
                    {marker.words, cleaned(marker.words), marker.x,
                     marker.kind == Marker::Kind::finding ? FlagWords::Of::finding : FlagWords::Of::source});
        for (const LeftOut& span : plot_.left_out) {
            const double from = std::max(span.from, ranged_.x.from), to = std::min(span.to, ranged_.x.to);
            if (from < to && !span.words.empty())
                wanted.push_back({span.words, cleaned(span.words),
                                  ranged_.x.logarithmic ? std::sqrt(from * to) : (from + to) / 2.0,
                                  FlagWords::Of::left_out});
        }
        return wanted;
    }

    std::size_t flags() const { return wanted_flags().size(); }

    void place_flags()
    {
        flag_words_ = wanted_flags();
        const Rect widest = plot_rect(around_.margins, 0);
        const AxisScale x = x_scale(widest);
        for (FlagWords& flag : flag_words_) {
            flag.text = shortened(flag.text, percent(45) * widest.width, measure_.extent(sizes_.small));
            flags_.push_back({std::round(x.px(flag.at_x)), measure_.width(flag.text, sizes_.small)});
        }
        placed_ = placed_flags(flags_, widest.left, around_.box.right(), 8.0, most_rows());
        int rows = 0;
        for (const auto& place : placed_)
            if (place) rows = std::max(rows, place->row + 1);
        rect_ = plot_rect(around_.margins, rows);
    }

    static Ink ink_of(const FlagWords& flag) { return flag.of == FlagWords::Of::finding ? Ink::second : Ink::quiet; }

    // Over the bodies and beneath the lines, so that a line that peaks there stays visible. Colours are not to be
    // covered: there the ends alone are marked.
    void draw_masts(Canvas& canvas) const
    {
        for (std::size_t i = 0; i < flags_.size(); ++i) {
            if (flag_words_[i].of == FlagWords::Of::left_out) continue;
            const double at = crisp(flags_[i].at_px);
            const Stroke stroke{colour_of(ink_of(flag_words_[i])), 1.0, plot_.heat ? Dash::solid : Dash::dotted};
            if (plot_.heat)
                draw_notch(canvas, {at, rect_.bottom() - notch_px}, {at, rect_.bottom()}, stroke);
            else
                canvas.line(Role::marker, {at, rect_.top}, {at, rect_.bottom()}, stroke);
        }
    }

    static void draw_notch(Canvas& canvas, Point from, Point to, Stroke stroke)
    {
        canvas.line(Role::marker, from, to, {colour_of(Ink::paper), 4.0});
        stroke.width_px = 2.0;
        canvas.line(Role::marker, from, to, stroke);
    }

    void draw_flags(Canvas& canvas) const
    {
        for (std::size_t i = 0; i < flags_.size(); ++i) {
            const double at = crisp(flags_[i].at_px);
            const Colour ink = colour_of(ink_of(flag_words_[i]));
            if (flag_words_[i].of == FlagWords::Of::finding)
                canvas.area(Role::marker, {{{at - 4.0, rect_.top}, {at + 4.0, rect_.top}, {at, rect_.top + 7.0}}}, ink);
            if (!placed_[i]) continue;
            const PlacedFlag& place = *placed_[i];
            canvas.line(Role::marker, {at, rect_.top - (place.row + percent(90)) * flag_row_height()}, {at, rect_.top},
                        {ink, 1.0});
            canvas.words(
                Role::marker_label,
                {place.to_the_left ? place.to_px : place.from_px, rect_.top - place.row * flag_row_height() - 3.0},
                flag_words_[i].text,
                {.size_px = sizes_.small,
                 .ink = flag_words_[i].of == FlagWords::Of::left_out ? Ink::quiet : Ink::text,
                 .anchor = place.to_the_left ? Anchor::end : Anchor::start});
        }
    }

    // ---- words in the margin

    double margin_words_width() const
    {
        double width = 0.0;
        for (const std::string& words : margin_texts())
            for (const std::size_t most : {1, 2}) // one line may be wider than each of two
                for (const std::string& line : margin_lines(words, most))
                    width = std::max(width, measure_.width(line, sizes_.small));
        return width;
    }

    std::vector<std::string> margin_texts() const
    {
        std::vector<std::string> texts;
        for (const Level& level : plot_.levels) texts.push_back(cleaned(level.words));
        for (const LevelBand& band : plot_.bands) texts.push_back(cleaned(band.words));
        return texts;
    }

    std::vector<std::string> margin_lines(const std::string& words, std::size_t most) const
    {
        return wrapped(words, std::clamp(around_.box.width / 5.0, 56.0, 190.0), most, measure_.extent(sizes_.small));
    }

    void place_margin_words()
    {
        for (const Level& level : plot_.levels)
            if (y_.holds(level.y) && !cleaned(level.words).empty())
                margin_.push_back({level.kind == Level::Kind::limit ? MarginWords::Of::limit : MarginWords::Of::source,
                                   y_.px(level.y), cleaned(level.words)});
        for (std::size_t i = 0; i < plot_.bands.size(); ++i)
            if (const auto part = shown_part(plot_.bands[i]); part && !plot_.bands[i].words.empty())
                margin_.push_back(
                    {MarginWords::Of::band, (part->first + part->second) / 2.0, cleaned(plot_.bands[i].words)});
        for (const std::size_t most : {2, 1}) {
            std::vector<MarginLabel> wishes;
            for (MarginWords& words : margin_) {
                words.lines = margin_lines(words.whole, most);
                wishes.push_back({words.y, static_cast<double>(words.lines.size()) * line_px() + 1.0});
            }
            const auto centres = spread(wishes, rect_.top, rect_.bottom() + sizes_.small / 2.0);
            bool all = true;
            for (std::size_t i = 0; i < margin_.size(); ++i) {
                margin_[i].centre = margin_[i].lines.empty() ? std::nullopt : centres[i];
                all = all && margin_[i].centre;
            }
            if (all) break;
        }
    }

    double line_px() const { return tight_leading * sizes_.small; }

    // Upper and lower end in px.
    std::optional<std::pair<double, double>> shown_part(const LevelBand& band) const
    {
        const double from = band.from ? std::max(*band.from, y_.from) : y_.from;
        const double to = band.to ? std::min(*band.to, y_.to) : y_.to;
        if (!(from < to)) return {};
        return std::pair{y_.px(to), y_.px(from)};
    }

    void draw_margin_words(Canvas& canvas) const
    {
        for (const MarginWords& words : margin_) {
            if (!words.centre) continue;
            const double size = static_cast<double>(words.lines.size()) * line_px();
            if (words.of != MarginWords::Of::band)
                canvas.lines(Role::level,
                             {{{rect_.right(), words.y}, {rect_.right() + leader_px - 3.0, *words.centre}}},
                             {colour_of(words.of == MarginWords::Of::limit ? Ink::text : Ink::quiet), 1.0});
            for (std::size_t i = 0; i < words.lines.size(); ++i)
                canvas.words(
                    Role::level_label,
                    {rect_.right() + leader_px,
                     *words.centre - size / 2.0 + (static_cast<double>(i) + percent(82)) * line_px()},
                    words.lines[i],
                    {.size_px = sizes_.small, .ink = words.of == MarginWords::Of::limit ? Ink::text : Ink::quiet});
        }
    }

    // ---- the plot

    static Stroke hatch_stroke() { return {tint(colour_of(Ink::quiet), percent(65)), 1.0}; }

    static Stroke stroke_of(const Series& series) { return {colour_of(series.ink), series.width_px, series.dash}; }
    static Colour body_colour(const Series& series)
    {
        return tint(colour_of(series.ink), series.form == SeriesForm::bars ? percent(40) : percent(20));
    }

    void draw_bands(Canvas& canvas) const
    {
        for (std::size_t i = 0; i < plot_.bands.size(); ++i) {
            const auto part = shown_part(plot_.bands[i]);
            if (!part) continue;
            const Rect rect{rect_.left, part->first, rect_.width, part->second - part->first};
            canvas.box(Role::shade, rect, tint(sequential(i + 1, plot_.bands.size() + 3), 1.0 / 3.0));
            const Stroke edge{tint(colour_of(Ink::quiet), 0.5), 1.0};
            for (const double y : {rect.top, rect.bottom()})
                if (y > rect_.top && y < rect_.bottom())
                    canvas.line(Role::shade, {rect_.left, crisp(y)}, {rect_.right(), crisp(y)}, edge);
        }
    }

    void draw_grid(Canvas& canvas) const
    {
        const Stroke hairline{colour_of(Ink::hairline), 1.0};
        std::vector<std::vector<Point>> runs;
        for (const TickMark& tick : y_ticks(rect_).marks)
            if (!tick.label.empty())
                runs.push_back({{rect_.left, crisp(y_.px(tick.value))}, {rect_.right(), crisp(y_.px(tick.value))}});
        canvas.lines(Role::grid, std::move(runs), hairline);
        runs.clear();
        for (const TickMark& tick : x_ticks(rect_).marks)
            if (!tick.label.empty())
                runs.push_back({{crisp(x_.px(tick.value)), rect_.top}, {crisp(x_.px(tick.value)), rect_.bottom()}});
        canvas.lines(Role::grid, std::move(runs), {tint(colour_of(Ink::hairline), percent(60)), 1.0});
    }

    void draw_left_out(Canvas& canvas) const
    {
        for (const LeftOut& span : plot_.left_out) {
            const double from = std::max(span.from, ranged_.x.from), to = std::min(span.to, ranged_.x.to);
            if (!(from < to)) continue;
            const double left = x_.px(from), right = std::max(x_.px(to), left + 1.0);
            const Rect rect{left, rect_.top, std::min(right, rect_.right()) - left, rect_.height};
            canvas.box(Role::shade, rect, tint(colour_of(Ink::hairline), 0.5));
            canvas.hatch(Role::shade, rect, hatch_stroke(), 7.0);
        }
    }

    void draw_heat(Canvas& canvas) const
    {
        if (ranged_.has_gaps) canvas.hatch(Role::shade, rect_, hatch_stroke(), 7.0);
        canvas.cells(Role::heat, reduced_cells(*plot_.heat, x_, y_, legend_scale(0.0, 100.0), colour_levels, 2.0));
    }

    Point px(Point sample) const { return {x_.px(sample.x), y_.px(sample.y)}; }

    double foot_px() const
    {
        return y_.logarithmic ? rect_.bottom() : std::clamp(y_.px(0.0), rect_.top, rect_.bottom());
    }

    // Bars so thin that one cannot see them apart are drawn as one body.
    bool apart(const Series& series) const
    {
        return series.form == SeriesForm::bars && static_cast<double>(series.values.size()) * 4.0 <= rect_.width;
    }

    std::vector<std::vector<Point>> outline(const Series& series) const
    {
        const bool edges = series.form == SeriesForm::steps || series.form == SeriesForm::bars;
        return edges ? thinned_steps(series.x, series.values, x_, y_.logarithmic)
                     : thinned_line(series.x, series.values, x_, y_.logarithmic);
    }

    void draw_body(Canvas& canvas, const Series& series) const
    {
        std::vector<std::vector<Point>> areas;
        const auto add = [&](std::vector<Point> area) {
            area = clipped_area(std::move(area), rect_);
            if (!area.empty()) areas.push_back(std::move(area));
        };
        if (apart(series)) {
            for_each_bar(series, [&](const Rect& bar) {
                add({{bar.left, bar.top},
                     {bar.right(), bar.top},
                     {bar.right(), bar.bottom()},
                     {bar.left, bar.bottom()}});
            });
        } else if (series.form == SeriesForm::band) {
            const ThinnedBand band = thinned_band(series.x, series.values, series.lower, x_, y_.logarithmic);
            for (std::size_t k = 0; k < band.upper.size() && k < band.lower.size(); ++k) {
                std::vector<Point> area;
                for (const Point& sample : band.upper[k]) area.push_back(px(sample));
                for (auto sample = band.lower[k].rbegin(); sample != band.lower[k].rend(); ++sample)
                    area.push_back(px(*sample));
                add(std::move(area));
            }
        } else {
            for (const auto& run : outline(series)) {
                std::vector<Point> area{{x_.px(run.front().x), foot_px()}};
                for (const Point& sample : run) area.push_back(px(sample));
                area.push_back({area.back().x, foot_px()});
                add(std::move(area));
            }
        }
        canvas.area(Role::series, std::move(areas), body_colour(series));
    }

    template <class Use>
    void for_each_bar(const Series& series, Use use) const
    {
        for (std::size_t i = 0; i < series.values.size(); ++i) {
            if (!series.x.listed.empty() && i + 1 >= series.x.listed.size()) break;
            const double from = series.x.at(i), to = series.x.at(i + 1), value = series.values[i];
            if (!std::isfinite(from) || !std::isfinite(to) || !std::isfinite(value)) continue;
            if ((y_.logarithmic && value <= 0.0) || (x_.logarithmic && (from <= 0.0 || to <= 0.0))) continue;
            const double left = x_.px(from), right = x_.px(to), gap = 0.1 * (right - left);
            const double top = y_.px(value), base = foot_px();
            use(Rect{left + gap, std::min(top, base), right - left - 2.0 * gap, std::abs(base - top)});
        }
    }

    void draw_line(Canvas& canvas, const Series& series) const
    {
        if (series.form == SeriesForm::band) return;
        if (series.form == SeriesForm::points) return draw_points(canvas, series);
        std::vector<std::vector<Point>> runs;
        const auto add = [&](const std::vector<Point>& line) {
            for (auto& part : clipped_line(line, rect_)) runs.push_back(std::move(part));
        };
        if (apart(series)) {
            for_each_bar(series, [&](const Rect& bar) { // the end that is the value
                const double end = bar.bottom() > foot_px() + 1e-9 ? bar.bottom() : bar.top;
                add({{bar.left, end}, {bar.right(), end}});
            });
            Stroke stroke = stroke_of(series);
            stroke.width_px = 2.0;
            canvas.lines(Role::series, std::move(runs), stroke);
            return;
        }
        for (const auto& run : outline(series)) {
            std::vector<Point> line;
            for (const Point& sample : run) line.push_back(px(sample));
            if (line.size() == 1) { // alone between gaps: a dot that can be seen
                line = {{line[0].x - series.width_px, line[0].y}, {line[0].x + series.width_px, line[0].y}};
            }
            add(line);
        }
        canvas.lines(Role::series, std::move(runs), stroke_of(series));
    }

    static std::vector<Point> mark_at(const Point& centre)
    {
        const double r = mark_px / 2.0;
        return {{centre.x - r, centre.y}, {centre.x, centre.y - r}, {centre.x + r, centre.y}, {centre.x, centre.y + r}};
    }

    void draw_points(Canvas& canvas, const Series& series) const
    {
        std::vector<std::vector<Point>> marks, error_bars;
        const auto add_line = [&](const std::vector<Point>& line) {
            for (auto& part : clipped_line(line, rect_)) error_bars.push_back(std::move(part));
        };
        for (std::size_t i = 0; i < series.values.size(); ++i) {
            if (!series.x.listed.empty() && i >= series.x.listed.size()) break;
            const double x = series.x.at(i), y = series.values[i];
            if (!std::isfinite(x) || !std::isfinite(y) || !x_.holds(x)) continue;
            if ((x_.logarithmic && x <= 0.0) || (y_.logarithmic && y <= 0.0)) continue;
            const double at = x_.px(x), half = mark_px / 2.0;
            if (i < series.reach.size() && series.reach[i] > 0.0 && std::isfinite(series.reach[i])) {
                const double low = y - series.reach[i], high = y_.px(y + series.reach[i]);
                const bool ends = !y_.logarithmic || low > 0.0; // else it goes down without end
                const double foot = ends ? y_.px(low) : rect_.bottom();
                add_line({{at, foot}, {at, high}});
                add_line({{at - half, high}, {at + half, high}});
                if (ends) add_line({{at - half, foot}, {at + half, foot}});
            }
            auto mark = clipped_area(mark_at({at, y_.px(y)}), rect_);
            if (!mark.empty()) marks.push_back(std::move(mark));
        }
        canvas.lines(Role::series, std::move(error_bars), stroke_of(series));
        canvas.area(Role::series, std::move(marks), colour_of(series.ink));
    }

    void draw_levels(Canvas& canvas) const
    {
        for (const Level& level : plot_.levels) {
            if (!y_.holds(level.y)) continue;
            const double at = y_.px(level.y);
            const bool limit = level.kind == Level::Kind::limit;
            if (plot_.heat && !limit) { // colours are not to be covered
                for (const double end : {rect_.left, rect_.right() - notch_px})
                    draw_notch(canvas, {end, at}, {end + notch_px, at}, {colour_of(Ink::text), 2.0});
                continue;
            }
            canvas.line(Role::level, {rect_.left, at}, {rect_.right(), at},
                        {colour_of(limit ? Ink::text : Ink::quiet), limit ? base_px : 1.0,
                         limit ? Dash::dash_dot : Dash::dotted});
        }
    }

    void draw_axes(Canvas& canvas) const
    {
        const Stroke ink{colour_of(Ink::text), 1.0};
        std::vector<std::vector<Point>> marks;
        const Ticks across = x_ticks(rect_);
        for (const TickMark& tick : across.marks) {
            const double at = crisp(std::min(x_.px(tick.value), rect_.right() - 0.5));
            marks.push_back(
                {{at, rect_.bottom()}, {at, rect_.bottom() + (tick.label.empty() ? tick_px / 2.0 : tick_px)}});
            if (around_.x_axis_below || tick.label.empty()) continue;
            const double half = canvas.width(tick.label, sizes_.small) / 2.0;
            if (at - half < 0.0 || at + half > canvas.whole().right()) continue;
            canvas.words(Role::tick_label, {x_.px(tick.value), rect_.bottom() + tick_px + 1.0 + sizes_.small},
                         tick.label, {.size_px = sizes_.small, .anchor = Anchor::middle});
        }
        const Ticks up = y_ticks(rect_);
        for (const TickMark& tick : up.marks) {
            const double at = crisp(std::min(y_.px(tick.value), rect_.bottom() - 0.5));
            if (tick.label.empty() || plot_.heat) marks.push_back({{rect_.left - tick_px / 2.0, at}, {rect_.left, at}});
            canvas.words(Role::tick_label, {rect_.left - tick_px - 2.0, y_.px(tick.value) + half_digit * sizes_.small},
                         shortened(tick.label, around_.margins.left - tick_px - 2.0, canvas.extent(sizes_.small)),
                         {.size_px = sizes_.small, .anchor = Anchor::end});
        }
        canvas.lines(Role::tick, std::move(marks), ink);
        if (!y_.logarithmic && y_.from < 0.0 && y_.to > 0.0)
            canvas.line(Role::tick, {rect_.left, crisp(y_.px(0.0))}, {rect_.right(), crisp(y_.px(0.0))},
                        {colour_of(Ink::text), 1.0});
        canvas.line(Role::tick, {rect_.left, rect_.bottom() + 0.5}, {rect_.right(), rect_.bottom() + 0.5},
                    {colour_of(Ink::text), base_px});
        if (around_.x_axis_below) return;
        const double base = rect_.bottom() + tick_px + 1.0 + Canvas::line_height(sizes_.small) + sizes_.text;
        const bool is_time_or_bands = plot_.x.kind == AxisKind::time || plot_.x.kind == AxisKind::third_octaves;
        const std::string words = words_with_unit(plot_.x.words, is_time_or_bands ? across.unit : unit_of(plot_.x));
        canvas.words(Role::panel_words, {rect_.right(), base},
                     shortened(cleaned(words), rect_.width, canvas.extent(sizes_.text)),
                     {.size_px = sizes_.text, .anchor = Anchor::end});
    }

    void draw_nothing(Canvas& canvas) const
    {
        canvas.words(Role::panel_words, {rect_.left + rect_.width / 2.0, rect_.top + rect_.height / 2.0},
                     shortened(canvas.said().nothing_to_show, rect_.width, canvas.extent(sizes_.text)),
                     {.size_px = sizes_.text, .ink = Ink::quiet, .anchor = Anchor::middle});
    }

    const RangedPlot& ranged_;
    const Plot& plot_;
    const Surroundings& around_;
    TypeSizes sizes_;
    const Canvas& measure_;
    std::string heading_, bold_heading_;
    std::vector<KeyEntry> key_;
    int key_rows_ = 0;
    double key_width_ = 0.0;
    bool key_beside_heading_ = false;
    std::vector<FlagWords> flag_words_;
    std::vector<Flag> flags_;
    std::vector<std::optional<PlacedFlag>> placed_;
    std::vector<MarginWords> margin_;
    Rect rect_;
    AxisScale x_, y_;
};

} // namespace

double least_height_of(const RangedPlot& plot, const Surroundings& around, const Canvas& canvas)
{
    return PlotLayout(plot, around, canvas).least_height();
}

double natural_height_of(const RangedPlot& plot, const Surroundings& around, const Canvas& canvas)
{
    return least_height_of(plot, around, canvas) + 240.0;
}

Margins margins_of(const RangedPlot& plot, const Surroundings& around, const Canvas& canvas)
{
    return PlotLayout(plot, around, canvas).margins();
}

void draw(const RangedPlot& plot, const Surroundings& around, Canvas& canvas, std::vector<std::string>& notes,
          bool shown)
{
    PlotLayout layout(plot, around, canvas);
    layout.arrange();
    layout.say_what_has_no_room(notes);
    if (shown) layout.draw(canvas);
}

} // namespace becalm::figures
