#include "ui/figures/layout.h"

#include <algorithm>
#include <cmath>

#include "ui/figures/panel_layout.h"

namespace becalm::figures {
namespace {

constexpr double least_width_px = 240.0, least_height_px = 160.0, most_px = 20000.0;
constexpr std::size_t most_notes_lines = 6;

double size_within(double wanted, double least)
{
    return std::isfinite(wanted) ? std::clamp(std::round(wanted), least, most_px) : least;
}

// Type grows a little with the figure, so that a small one has room and a large one is read from further away.
TypeSizes type_sizes(double width_px)
{
    const double size = std::clamp(17.0 / 2.0 + width_px / 320.0, 19.0 / 2.0, 13.0);
    return {.title = std::round(percent(135) * size * 2.0) / 2.0, .text = size, .small = size - 1.0};
}

struct Prepared {
    const Panel* panel = nullptr;
    std::optional<RangedPlot> plot = {};
    double least_height = 0.0;
    Surroundings around = {};
};

bool shares_x_axis(const Panel& panel, const Panel& next)
{
    const auto* above = std::get_if<Plot>(&panel.content);
    const auto* below = std::get_if<Plot>(&next.content);
    return above != nullptr && below != nullptr && above->x.kind == below->x.kind && above->x.words == below->x.words &&
           above->x.from == below->x.from && above->x.to == below->x.to;
}

class FigureLayout {
public:
    FigureLayout(const Figure& figure, const TextWidth& text_width) : figure_(figure), text_width_(text_width)
    {
        for (std::size_t i = 0; i < figure.panels.size(); ++i) {
            Prepared prepared{.panel = &figure.panels[i]};
            if (const auto* plot = std::get_if<Plot>(&prepared.panel->content)) {
                prepared.plot = ranged(*plot, figure.language);
                left_out_.insert(left_out_.end(), prepared.plot->notes.begin(), prepared.plot->notes.end());
            }
            prepared.around.panel = i;
            prepared.around.heading = cleaned(prepared.panel->words);
            prepared.around.x_axis_below =
                i + 1 < figure.panels.size() && shares_x_axis(figure.panels[i], figure.panels[i + 1]);
            panels_.push_back(std::move(prepared));
        }
    }

    // What finds no room is known once the panels are placed; saying it takes room from them.
    Scene scene()
    {
        std::vector<std::string> notes = figure_.notes;
        notes.insert(notes.end(), left_out_.begin(), left_out_.end());
        std::vector<std::string> without_room = attempt(notes, false).second;
        if (!without_room.empty()) {
            std::vector<std::string> more = notes;
            more.insert(more.end(), without_room.begin(), without_room.end());
            without_room = attempt(more, false).second;
            notes.insert(notes.end(), without_room.begin(), without_room.end());
        }
        return attempt(notes, true).first;
    }

private:
    std::pair<Scene, std::vector<std::string>> attempt(const std::vector<std::string>& notes, bool shown)
    {
        Scene scene{.width_px = size_within(figure_.width_px, least_width_px),
                    .height_px = size_within(figure_.height_px, least_height_px),
                    .title = cleaned(figure_.title),
                    .description = shown ? description(notes) : ""};
        Canvas canvas(scene, text_width_, type_sizes(scene.width_px), figure_.language);
        const auto [title, text, small] = canvas.sizes();
        const double pad = scene.width_px < 600.0 ? 10.0 : 16.0, width = scene.width_px - 2.0 * pad;

        const auto title_lines = wrapped(cleaned(figure_.title), width, 2, canvas.extent(title, true));
        const auto subtitle_lines = wrapped(cleaned(figure_.subtitle), width, 2, canvas.extent(text));
        std::vector<std::string> note_lines;
        for (const std::string& note : notes)
            for (std::string& line : wrapped(cleaned(note), width, 3, canvas.extent(small)))
                if (note_lines.size() < most_notes_lines) note_lines.push_back(std::move(line));

        double top = pad + static_cast<double>(title_lines.size()) * Canvas::line_height(title) +
                     static_cast<double>(subtitle_lines.size()) * Canvas::line_height(text);
        if (top > pad) top += 6.0;
        const double foot =
            static_cast<double>(note_lines.size()) * Canvas::line_height(small) + (note_lines.empty() ? 0.0 : 6.0);
        const double gap = 12.0;
        double least = 0.0, natural = 0.0;
        for (Prepared& panel : panels_) {
            panel.around.box = {pad, top, width, 0.0};
            panel.around.margins = {};
            panel.least_height = least_height(panel, canvas);
            const double gap_before = panel.around.panel > 0 ? gap : 0.0;
            least += panel.least_height + gap_before;
            natural += natural_height(panel, canvas) + gap_before;
        }
        // A figure too low for its panels grows.
        if (figure_.height_px == 0.0) scene.height_px = std::ceil(top + natural + foot + pad);
        scene.height_px = std::max(scene.height_px, std::ceil(top + least + foot + pad));
        canvas.box(Role::background, canvas.whole(), colour_of(Ink::paper));
        double at = canvas.lines(Role::title, pad, pad, title_lines, {.size_px = title, .bold = true});
        canvas.lines(Role::title, pad, at, subtitle_lines, {.size_px = text, .ink = Ink::quiet});

        share_height(top, scene.height_px - top - foot - pad - least, gap);
        agree_on_margins(canvas);
        std::vector<std::string> without_room;
        for (const Prepared& panel : panels_) draw_panel(panel, canvas, without_room, shown);
        canvas.lines(Role::note, pad, scene.height_px - pad - foot + 6.0, note_lines,
                     {.size_px = small, .ink = Ink::quiet});
        return {std::move(scene), std::move(without_room)};
    }

    void share_height(double top, double spare, double gap)
    {
        const auto share_of = [](const Panel& panel) {
            return std::isfinite(panel.share) ? std::clamp(panel.share, 0.0, 1e6) : 1.0;
        };
        double shares = 0.0;
        for (const Prepared& panel : panels_) shares += share_of(*panel.panel);
        for (Prepared& panel : panels_) {
            const double part = shares > 0.0 ? share_of(*panel.panel) / shares : 0.0;
            panel.around.box.top = top;
            panel.around.box.height = panel.least_height + std::max(spare, 0.0) * part;
            top = panel.around.box.bottom() + gap;
        }
    }

    // Panels of one kind stand flush.
    void agree_on_margins(const Canvas& canvas)
    {
        std::array<Margins, 3> widest{};
        for (const Prepared& panel : panels_) {
            const Margins own = margins(panel, canvas);
            Margins& common = widest[panel.panel->content.index()];
            common = {std::max(common.left, own.left), std::max(common.right, own.right)};
        }
        for (Prepared& panel : panels_) panel.around.margins = widest[panel.panel->content.index()];
    }

    static double least_height(const Prepared& panel, const Canvas& canvas)
    {
        if (panel.plot) return least_height_of(*panel.plot, panel.around, canvas);
        if (const auto* ladder = std::get_if<Ladder>(&panel.panel->content))
            return least_height_of(*ladder, panel.around, canvas);
        return least_height_of(std::get<Ruler>(panel.panel->content), panel.around, canvas);
    }

    static double natural_height(const Prepared& panel, const Canvas& canvas)
    {
        if (panel.plot) return natural_height_of(*panel.plot, panel.around, canvas);
        if (const auto* ladder = std::get_if<Ladder>(&panel.panel->content))
            return natural_height_of(*ladder, panel.around, canvas);
        return natural_height_of(std::get<Ruler>(panel.panel->content), panel.around, canvas);
    }

    static Margins margins(const Prepared& panel, const Canvas& canvas)
    {
        if (panel.plot) return margins_of(*panel.plot, panel.around, canvas);
        if (const auto* ladder = std::get_if<Ladder>(&panel.panel->content))
            return margins_of(*ladder, panel.around, canvas);
        return margins_of(std::get<Ruler>(panel.panel->content), panel.around, canvas);
    }

    static void draw_panel(const Prepared& panel, Canvas& canvas, std::vector<std::string>& notes, bool shown)
    {
        if (panel.plot)
            draw(*panel.plot, panel.around, canvas, notes, shown);
        else if (!shown)
            return;
        else if (const auto* ladder = std::get_if<Ladder>(&panel.panel->content))
            draw(*ladder, panel.around, canvas);
        else
            draw(std::get<Ruler>(panel.panel->content), panel.around, canvas);
    }

    std::string description(const std::vector<std::string>& notes) const
    {
        std::string text;
        const auto add = [&](std::string sentence) {
            sentence = cleaned(sentence);
            while (sentence.ends_with(' ')) sentence.pop_back();
            if (sentence.empty()) return;
            if (!text.empty()) text += text.ends_with('.') ? " " : ". ";
            text += sentence;
        };
        add(figure_.subtitle);
        for (const Prepared& panel : panels_) {
            add(panel.panel->words);
            if (panel.plot)
                add(panel.plot->description);
            else if (const auto* ladder = std::get_if<Ladder>(&panel.panel->content))
                add(description_of(*ladder, figure_.language));
            else
                add(description_of(std::get<Ruler>(panel.panel->content), figure_.language));
        }
        for (const std::string& note : notes) add(note);
        return text;
    }

    const Figure& figure_;
    const TextWidth& text_width_;
    std::vector<Prepared> panels_;
    std::vector<std::string> left_out_;
};

} // namespace

Rect box_of(const Words& words)
{
    const double left = words.anchor == Anchor::start    ? words.at.x
                        : words.anchor == Anchor::middle ? words.at.x - words.width_px / 2.0
                                                         : words.at.x - words.width_px;
    // Ascent and descent of letters: 0.76 and 0.24 of the size
    return {left, words.at.y - ascent * words.size_px, words.width_px, words.size_px};
}

Scene laid_out(const Figure& figure, const TextWidth& text_width) { return FigureLayout(figure, text_width).scene(); }

} // namespace becalm::figures
