#include "ui/report/pdf.h"

#include <algorithm>
#include <cairo-pdf.h>
#include <cctype>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <functional>
#include <map>
#include <memory>
#include <numeric>
#include <optional>

#include <fmt/format.h>
#include <librsvg/rsvg.h>
#include <pango/pangocairo.h>

#include "ui/figures/layout.h"
#include "ui/figures/measures.h"
#include "ui/figures/text.h"
#include "ui/report/pdf_pages.h"

namespace becalm::report {
namespace {

using figures::Colour;

// Points, 1/72 inch: A4, margins of 18 mm.
constexpr double page_width = 595.276, page_height = 841.89, margin = 51.0;
constexpr double body_width = page_width - 2.0 * margin, body_height = page_height - 2.0 * margin;
constexpr double per_px = 3.0 / 4.0; // px are 1/96 inch
constexpr double body_size = 10.0, table_size = 8.0, code_size = 7.0;
constexpr double first_rows = 9.0 * table_size; // of a table: caption, head and a row of some lines
constexpr const char* family = "Noto Sans, Liberation Sans, DejaVu Sans, sans-serif";
constexpr std::string_view soft_hyphen = "\u00ad";
constexpr const char* code_family = "DejaVu Sans Mono, Liberation Mono, monospace";

template <auto release>
struct Release {
    template <class T>
    void operator()(T* object) const
    {
        release(object);
    }
};
using Surface = std::unique_ptr<cairo_surface_t, Release<cairo_surface_destroy>>;
using Context = std::unique_ptr<cairo_t, Release<cairo_destroy>>;
using Layout = std::unique_ptr<PangoLayout, Release<g_object_unref>>;
using Font = std::unique_ptr<PangoFontDescription, Release<pango_font_description_free>>;
using Svg = std::unique_ptr<RsvgHandle, Release<g_object_unref>>;

cairo_status_t append(void* target, const unsigned char* data, unsigned length)
{
    static_cast<std::string*>(target)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

struct Bytes {
    std::string_view left;
};

cairo_status_t take(void* source, unsigned char* data, unsigned length)
{
    std::string_view& left = static_cast<Bytes*>(source)->left;
    if (length > left.size()) return CAIRO_STATUS_READ_ERROR;
    std::memcpy(data, left.data(), length);
    left.remove_prefix(length);
    return CAIRO_STATUS_SUCCESS;
}

// Cairo 1.16 has no words for the language of a document: it is added to the catalogue (ISO 32000-1, 7.7.2 and
// 14.9.2, from memory), the last object before the table of places, so that no place but the table's own moves. A file
// that is not laid out like that stays as it is.
void tell_language(std::string& pdf, const std::string& code)
{
    static constexpr std::string_view catalogue = "<< /Type /Catalog\n", table = "\nxref\n", place = "startxref\n";
    const std::size_t at = pdf.rfind(catalogue);
    if (at == std::string::npos) return;
    const std::size_t xref = pdf.find(table, at), start = pdf.rfind(place);
    if (xref == std::string::npos || start == std::string::npos || start < xref) return;
    const std::string told = std::to_string(xref + 1);
    const std::size_t number = start + place.size();
    if (pdf.compare(number, told.size() + 1, told + "\n") != 0 || pdf.find(" obj\n", at) < xref) return;
    const std::string entry = "   /Lang (" + code + ")\n";
    pdf.replace(number, told.size(), std::to_string(xref + 1 + entry.size()));
    pdf.insert(at + catalogue.size(), entry);
}

struct Style {
    double size = body_size;
    bool bold = false;
    bool code = false;
    bool flush_right = false;
};

// Where chapters begin and how many pages there are: known after a first run.
struct Pages {
    std::map<std::string, int> of_anchor = {};
    int count = 0;
};

class Printer {
public:
    Printer(std::string& target, const Document& document, const std::string& date, Pages before)
        : surface_(cairo_pdf_surface_create_for_stream(append, &target, page_width, page_height)),
          context_(cairo_create(surface_.get())), before_(std::move(before)),
          picture_not_drawn_(document.picture_not_drawn), language_(document.language)
    {
        cairo_pdf_surface_restrict_to_version(surface_.get(), CAIRO_PDF_VERSION_1_4); // a table of cross references
        cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_TITLE,
                                       figures::cleaned(document.title).c_str());
        cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_CREATOR, "becalm");
        // Without a date of the caller's: any fixed one, so that the bytes are the same again.
        cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_CREATE_DATE,
                                       ((date.empty() ? "1970-01-01" : date) + "T00:00:00Z").c_str());
    }

    Pages print(const Document& document, const std::string& closing)
    {
        print(document.letterhead);
        paragraph(document.title, {.size = 18.0, .bold = true}, 6.0);
        for (const std::string& line : document.subtitle) paragraph(line, {}, 2.0);
        y_ += 10.0;
        contents(document);
        print(document.blocks);
        y_ += 10.0;
        paragraph(closing, {.size = code_size, .code = true}, 0.0);
        end_page();
        cairo_surface_finish(surface_.get());
        return pages_;
    }

    cairo_status_t status() const { return cairo_surface_status(surface_.get()); }

private:
    // --- pages

    void end_page()
    {
        ++pages_.count;
        const Layout number = laid(fmt::format("{} / {}", pages_.count, before_.count), {.size = 8.0}, body_width);
        pango_layout_set_alignment(number.get(), PANGO_ALIGN_RIGHT);
        ink(figures::colour_of(figures::Ink::quiet));
        cairo_move_to(context_.get(), margin, page_height - margin + 14.0);
        pango_cairo_show_layout(context_.get(), number.get());
        cairo_show_page(context_.get());
        y_ = margin;
    }

    double left_on_page() const { return margin + body_height - y_; }
    void need(double height)
    {
        if (height > left_on_page() && y_ > margin) end_page();
    }

    // --- text

    void ink(Colour colour)
    {
        constexpr double full = 255.0;
        cairo_set_source_rgb(context_.get(), colour.red / full, colour.green / full, colour.blue / full);
    }

    Layout laid(const std::string& text, const Style& style, double width)
    {
        Layout layout(pango_cairo_create_layout(context_.get()));
        // Places of letters are not those of a screen.
        cairo_font_options_t* options = cairo_font_options_create();
        cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
        cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
        pango_cairo_context_set_font_options(pango_layout_get_context(layout.get()), options);
        cairo_font_options_destroy(options);
        pango_context_set_language(pango_layout_get_context(layout.get()),
                                   pango_language_from_string(language_.c_str()));
        pango_context_set_round_glyph_positions(pango_layout_get_context(layout.get()), FALSE);
        const Font font(pango_font_description_from_string(style.code ? code_family : family));
        pango_font_description_set_absolute_size(font.get(), style.size * PANGO_SCALE);
        if (style.bold) pango_font_description_set_weight(font.get(), PANGO_WEIGHT_BOLD);
        pango_layout_set_font_description(layout.get(), font.get());
        pango_layout_set_text(layout.get(), figures::cleaned(text).c_str(), -1);
        pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
        // A hyphen that nobody wrote would change a hash, an identifier, a file's name; a soft one is written.
        PangoAttrList* attributes = pango_attr_list_new();
        const bool is_to_be_hyphenated = text.find(soft_hyphen) != std::string::npos;
        pango_attr_list_insert(attributes, pango_attr_insert_hyphens_new(is_to_be_hyphenated ? TRUE : FALSE));
        pango_layout_set_attributes(layout.get(), attributes);
        pango_attr_list_unref(attributes);
        if (style.flush_right) pango_layout_set_alignment(layout.get(), PANGO_ALIGN_RIGHT);
        if (width > 0.0) pango_layout_set_width(layout.get(), static_cast<int>(width * PANGO_SCALE));
        return layout;
    }

    // Lines of a layout, whose x and base line are taken from it, so that each can go to a page of its own.
    struct Line {
        PangoLayoutLine* line = nullptr;
        double x = 0.0, ascent = 0.0, height = 0.0;
    };
    static std::vector<Line> lines_of(PangoLayout* layout)
    {
        std::vector<Line> lines;
        PangoLayoutIter* at = pango_layout_get_iter(layout);
        do {
            PangoRectangle logical;
            pango_layout_iter_get_line_extents(at, nullptr, &logical);
            lines.push_back({pango_layout_iter_get_line_readonly(at), pango_units_to_double(logical.x),
                             pango_units_to_double(pango_layout_iter_get_baseline(at) - logical.y),
                             pango_units_to_double(logical.height)});
        } while (pango_layout_iter_next_line(at));
        pango_layout_iter_free(at);
        return lines;
    }

    void paragraph(const std::string& text, const Style& style, double after, double indent = 0.0)
    {
        const Layout layout = laid(text, style, body_width - indent);
        const std::vector<Line> lines = lines_of(layout.get());
        for (std::size_t i = 0; i < lines.size(); ++i) {
            const Line& line = lines[i];
            // Neither the first line alone at the foot of a page nor the last at the head of the next.
            const bool with_next = lines.size() > 1 && (i == 0 || i + 2 == lines.size());
            need(with_next ? 2.0 * line.height : line.height);
            ink(figures::colour_of(figures::Ink::text));
            cairo_move_to(context_.get(), margin + indent + line.x, y_ + line.ascent);
            pango_cairo_show_layout_line(context_.get(), line.line);
            y_ += line.height;
        }
        y_ += after;
    }

    void contents(const Document& document)
    {
        paragraph(document.contents_words, {.size = 12.0, .bold = true}, 4.0);
        for (const Block& block : document.blocks) {
            const auto* heading = std::get_if<Heading>(&block);
            if (heading == nullptr || heading->level != 2 || heading->anchor.empty()) continue;
            const auto page = before_.of_anchor.find(heading->anchor);
            const std::string link = "dest='" + heading->anchor + "'";
            if (page != before_.of_anchor.end()) cairo_tag_begin(context_.get(), CAIRO_TAG_LINK, link.c_str());
            if (page != before_.of_anchor.end()) {
                constexpr double narrow = 0.75 * body_width; // the eye finds its way to the number
                const Layout number = laid(std::to_string(page->second), {.flush_right = true}, narrow);
                need(2.0 * body_size);
                ink(figures::colour_of(figures::Ink::text));
                cairo_move_to(context_.get(), margin, y_);
                pango_cairo_show_layout(context_.get(), number.get());
            }
            paragraph(heading->words, {}, 1.0);
            if (page != before_.of_anchor.end()) cairo_tag_end(context_.get(), CAIRO_TAG_LINK);
        }
    }

    // --- blocks

    void print(const std::vector<Block>& blocks)
    {
        for (std::size_t i = 0; i < blocks.size(); ++i) {
            if (std::holds_alternative<Heading>(blocks[i])) need(height_with_next(blocks, i));
            std::visit([this](const auto& one) { put(one); }, blocks[i]);
        }
    }

    // Of a heading with what must stand beneath it on the same page: the first lines of what follows, a figure as a
    // whole.
    double height_with_next(const std::vector<Block>& blocks, std::size_t at)
    {
        double height = 0.0;
        for (; at < blocks.size() && std::holds_alternative<Heading>(blocks[at]); ++at)
            height += 3.0 * size_of(std::get<Heading>(blocks[at]));
        if (at == blocks.size()) return height;
        if (const auto* drawing = std::get_if<Drawing>(&blocks[at])) {
            const figures::Scene scene = figures::laid_out(drawing->figure);
            return height + scene.height_px * scale_of(scene);
        }
        return height + (std::holds_alternative<Table>(blocks[at]) ? first_rows : 3.0 * body_size);
    }

    static double size_of(const Heading& heading)
    {
        return heading.level == 2 ? 14.0 : heading.level == 3 ? 12.0 : body_size;
    }

    void put(const Heading& heading)
    {
        const double size = size_of(heading);
        y_ += y_ > margin ? size : 0.0;
        if (!heading.anchor.empty()) {
            const std::string name = "name='" + heading.anchor + "'", link = "dest='" + heading.anchor + "'";
            pages_.of_anchor[heading.anchor] = pages_.count + 1;
            cairo_tag_begin(context_.get(), CAIRO_TAG_DEST, name.c_str());
            paragraph(heading.words, {.size = size, .bold = true}, 4.0);
            cairo_tag_end(context_.get(), CAIRO_TAG_DEST);
            cairo_pdf_surface_add_outline(surface_.get(), CAIRO_PDF_OUTLINE_ROOT,
                                          figures::cleaned(heading.words).c_str(), link.c_str(),
                                          static_cast<cairo_pdf_outline_flags_t>(0));
            return;
        }
        paragraph(heading.words, {.size = size, .bold = true}, 4.0);
    }

    void put(const Paragraph& text) { paragraph(text.words, {.bold = text.caution}, 5.0); }

    void put(const List& list)
    {
        for (const std::string& item : list.items) paragraph("– " + item, {}, 2.0, 10.0);
        y_ += 4.0;
    }

    static Style style_of(CellForm form, bool head)
    {
        return {.size = form == CellForm::code && !head ? code_size : table_size,
                .bold = head,
                .code = form == CellForm::code && !head,
                .flush_right = form == CellForm::number};
    }

    // By bytes, between spaces and hyphens before letters, soft ones too, as lines break; `found` where none is longer.
    static std::string_view longest_word(std::string_view text, std::string_view found)
    {
        while (!text.empty()) {
            std::size_t end = text.find_first_of(" -");
            while (end != std::string_view::npos && text[end] == '-' &&
                   (end + 1 == text.size() || std::isdigit(static_cast<unsigned char>(text[end + 1])) != 0))
                end = text.find_first_of(" -", end + 1);
            end = std::min(end, text.find(soft_hyphen));
            const std::string_view word = text.substr(0, end);
            if (word.size() > found.size()) found = word;
            const std::size_t mark = text.substr(word.size()).starts_with(soft_hyphen) ? soft_hyphen.size() : 1;
            text.remove_prefix(std::min(word.size() + mark, text.size()));
        }
        return found;
    }

    // Each column at least as wide as its longest word; what is left goes bit by bit to the column that shortens the
    // table most.
    std::vector<double> widths_of(const Table& table)
    {
        constexpr double gap = 6.0;
        constexpr double widest_word = body_width / 7.0; // longer ones are broken
        const std::size_t columns = table.columns.size();
        const auto width_of = [&](const std::string& text, std::size_t column, bool head) {
            int width = 0;
            pango_layout_get_size(laid(text, style_of(table.columns[column].form, head), 0.0).get(), &width, nullptr);
            return pango_units_to_double(width) + gap + 1.0;
        };
        std::vector<double> widths, most;
        std::vector<std::vector<double>> needed(columns); // of each cell on one line, the head's first
        for (std::size_t i = 0; i < columns; ++i) {
            needed[i].push_back(width_of(table.columns[i].words, i, true));
            std::string_view longest;
            for (const Row& row : table.rows) {
                if (i >= row.cells.size()) continue;
                needed[i].push_back(width_of(row.cells[i], i, false));
                if (table.columns[i].form != CellForm::code) longest = longest_word(row.cells[i], longest);
            }
            constexpr double short_head = 45.0; // kept on one line
            const std::string head_word(longest_word(table.columns[i].words, ""));
            const double of_head = needed[i].front() <= short_head ? needed[i].front() : width_of(head_word, i, true);
            widths.push_back(std::min(std::max(width_of(std::string(longest), i, false), of_head), widest_word));
            constexpr double widest_number = body_width / 4.0; // a number is not broken
            if (table.columns[i].form == CellForm::number)
                for (std::size_t row = 1; row < needed[i].size(); ++row)
                    widths.back() = std::max(widths.back(), std::min(needed[i][row], widest_number));
            most.push_back(std::max(widths.back(), *std::ranges::max_element(needed[i])));
        }
        double left = body_width;
        for (const double width : widths) left -= width;
        if (left < 0.0) { // more columns than a page has room for
            for (double& width : widths) width *= body_width / (body_width - left);
            return widths;
        }
        constexpr double step = 6.0;
        while (left > 0.5) {
            std::size_t best = columns;
            double best_gain = 0.0;
            for (std::size_t i = 0; i < columns; ++i) {
                if (most[i] - widths[i] < 0.5) continue;
                // Lines of the rows in which this column is the tallest, by the column's width.
                double gain = 0.0;
                for (std::size_t row = 0; row < needed[i].size(); ++row) {
                    double others = 1.0;
                    for (std::size_t k = 0; k < columns; ++k)
                        if (k != i && row < needed[k].size()) others = std::max(others, needed[k][row] / widths[k]);
                    const double before = std::max(others, needed[i][row] / widths[i]);
                    gain += before - std::max(others, needed[i][row] / (widths[i] + step));
                }
                gain += 1e-6 * (most[i] - widths[i]); // of those that shorten nothing the one with most to say
                if (best == columns || gain > best_gain) best = i, best_gain = gain;
            }
            if (best == columns) break;
            const double given = std::min({step, left, most[best] - widths[best]});
            widths[best] += given;
            left -= given;
        }
        return widths;
    }

    void rule(double at, double width)
    {
        ink(figures::colour_of(figures::Ink::quiet));
        cairo_set_line_width(context_.get(), width);
        cairo_move_to(context_.get(), margin, at);
        cairo_line_to(context_.get(), page_width - margin, at);
        cairo_stroke(context_.get());
    }

    void put(const Table& table)
    {
        constexpr double gap = 6.0;
        const std::vector<double> widths = widths_of(table);
        std::vector<std::string> head;
        for (const Column& column : table.columns) head.push_back(column.words);
        need(first_rows);
        if (!table.caption.empty()) paragraph(table.caption, {.size = table_size + 1.0, .bold = true}, 2.0);
        const auto row = [&](const std::vector<std::string>& cells, bool is_head) {
            std::vector<Layout> layouts;
            std::vector<std::vector<Line>> lines;
            double height = 0.0;
            std::size_t most = 0;
            for (std::size_t i = 0; i < cells.size() && i < widths.size(); ++i) {
                layouts.push_back(laid(cells[i], style_of(table.columns[i].form, is_head), widths[i] - gap));
                lines.push_back(lines_of(layouts.back().get()));
                most = std::max(most, lines.back().size());
                for (const Line& line : lines.back()) height = std::max(height, line.height);
            }
            constexpr std::size_t kept_together = 12; // lines; a longer row goes on overleaf
            for (std::size_t from = 0; from < most;) {
                const std::size_t wanted = std::min(most - from, kept_together);
                if (static_cast<double>(wanted) * height + 3.0 > left_on_page()) {
                    end_page();
                    if (!is_head) print_head_(head);
                }
                double x = margin;
                for (std::size_t i = 0; i < lines.size(); ++i) {
                    for (std::size_t k = from; k < std::min(from + wanted, lines[i].size()); ++k) {
                        const Line& line = lines[i][k];
                        ink(figures::colour_of(figures::Ink::text));
                        cairo_move_to(context_.get(), x + line.x,
                                      y_ + static_cast<double>(k - from) * height + line.ascent);
                        pango_cairo_show_layout_line(context_.get(), line.line);
                    }
                    x += widths[i];
                }
                y_ += static_cast<double>(wanted) * height + 3.0;
                from += wanted;
            }
            rule(y_ - 2.0, is_head ? 1.0 : 0.25); // not a limit: a hairline
        };
        print_head_ = [&](const std::vector<std::string>& cells) { row(cells, true); };
        row(head, true);
        for (const Row& one : table.rows) row(one.cells, false);
        print_head_ = nullptr;
        y_ += 8.0;
    }

    // --- figures and pictures

    void stroke(const figures::Stroke& edge)
    {
        const double width = std::max(edge.width_px, 1.0);
        std::vector<double> dashes;
        switch (edge.dash) {
        case figures::Dash::dashed: dashes = {5.0 * width, 3.0 * width}; break;
        case figures::Dash::dotted: dashes = {width, 2.0 * width}; break;
        case figures::Dash::dash_dot: dashes = {6.0 * width, 3.0 * width, width, 3.0 * width}; break;
        case figures::Dash::solid: break;
        }
        cairo_set_dash(context_.get(), dashes.data(), static_cast<int>(dashes.size()), 0.0);
        cairo_set_line_width(context_.get(), edge.width_px);
        ink(edge.colour);
        cairo_stroke(context_.get());
        cairo_set_dash(context_.get(), nullptr, 0, 0.0);
    }

    void fill_and_edge(const std::optional<Colour>& fill, const std::optional<figures::Stroke>& edge)
    {
        if (fill) {
            ink(*fill);
            cairo_fill_preserve(context_.get());
        }
        if (edge) stroke(*edge);
        cairo_new_path(context_.get());
    }

    void paint(const figures::Box& box)
    {
        cairo_rectangle(context_.get(), box.rect.left, box.rect.top, box.rect.width, box.rect.height);
        fill_and_edge(box.fill, box.edge);
    }

    void paint(const figures::Path& path)
    {
        for (const auto& run : path.runs) {
            for (std::size_t i = 0; i < run.size(); ++i)
                i == 0 ? cairo_move_to(context_.get(), run[i].x, run[i].y)
                       : cairo_line_to(context_.get(), run[i].x, run[i].y);
            if (path.closed && !run.empty()) cairo_close_path(context_.get());
        }
        fill_and_edge(path.fill, path.edge);
    }

    void paint(const figures::Cells& cells)
    {
        const std::size_t columns = cells.x_edges.empty() ? 0 : cells.x_edges.size() - 1;
        for (std::size_t k = 0; k < cells.levels.size() && columns > 0; ++k) {
            if (cells.levels[k] == figures::Cells::empty_cell) continue;
            const std::size_t i = k % columns, j = k / columns;
            cairo_rectangle(context_.get(), cells.x_edges[i], cells.y_edges[j], cells.x_edges[i + 1] - cells.x_edges[i],
                            cells.y_edges[j + 1] - cells.y_edges[j]);
            fill_and_edge(cells.colours[cells.levels[k]], {});
        }
    }

    void paint(const figures::Words& words)
    {
        const Layout layout = laid(words.text, {.size = words.size_px, .bold = words.bold}, 0.0);
        const auto lines = lines_of(layout.get());
        PangoRectangle logical;
        pango_layout_line_get_extents(lines.front().line, nullptr, &logical);
        const double width = pango_units_to_double(logical.width);
        const double back = words.anchor == figures::Anchor::start    ? 0.0
                            : words.anchor == figures::Anchor::middle ? width / 2.0
                                                                      : width;
        ink(words.colour);
        cairo_move_to(context_.get(), words.at.x - back, words.at.y);
        pango_cairo_show_layout_line(context_.get(), lines.front().line);
    }

    static double scale_of(const figures::Scene& scene)
    {
        return std::min({per_px, body_width / scene.width_px, body_height / scene.height_px});
    }

    void put(const Drawing& drawing)
    {
        const figures::Scene scene = figures::laid_out(drawing.figure);
        const double scale = scale_of(scene);
        const double height = scene.height_px * scale;
        need(height);
        cairo_save(context_.get());
        cairo_translate(context_.get(), margin, y_);
        cairo_scale(context_.get(), scale, scale);
        cairo_set_line_join(context_.get(), CAIRO_LINE_JOIN_ROUND);
        for (const figures::Item& item : scene.items)
            std::visit([this](const auto& shape) { paint(shape); }, item.shape);
        cairo_restore(context_.get());
        y_ += height + 8.0;
    }

    // Makes room, paints by `draw` into `width` times `height` points, then the marks and the words beneath.
    template <class Draw>
    void place(const Picture& picture, double width, double height, Draw draw)
    {
        need(height + 20.0);
        cairo_save(context_.get());
        cairo_translate(context_.get(), margin, y_);
        draw();
        cairo_restore(context_.get());
        for (const PictureMark& mark : picture.marks) {
            const double x = margin + width * mark.x_percent / 100.0, y = y_ + height * mark.y_percent / 100.0;
            constexpr double mark_size = 7.0, radius = 6.0, quarter = 1.5707963267948966;
            int words_width = 0;
            pango_layout_get_size(laid(mark.words, {.size = mark_size, .bold = true}, 0.0).get(), &words_width,
                                  nullptr);
            const double half = std::max(0.0, pango_units_to_double(words_width) / 2.0 - radius / 2.0);
            const Colour dark = figures::colour_of(figures::Ink::text), light = figures::colour_of(figures::Ink::paper);
            cairo_new_path(context_.get());
            cairo_arc(context_.get(), x + half, y, radius, -quarter, quarter);
            cairo_arc(context_.get(), x - half, y, radius, quarter, 3.0 * quarter);
            cairo_close_path(context_.get());
            fill_and_edge(mark.stands_out ? dark : light,
                          figures::Stroke{.colour = mark.stands_out ? light : dark, .width_px = 0.75});
            paint(figures::Words{.at = {x, y + mark_size * figures::half_digit},
                                 .text = mark.words,
                                 .anchor = figures::Anchor::middle,
                                 .size_px = mark_size,
                                 .bold = true,
                                 .colour = mark.stands_out ? light : dark});
        }
        y_ += height + 3.0;
        if (!picture.caption.empty()) paragraph(picture.caption, {.size = table_size}, 6.0);
    }

    static double fitting(double width, double height, double greatest = per_px)
    {
        constexpr double most_high = body_height / 2.0;
        return std::min({greatest, body_width / width, most_high / height});
    }

    void put(const Picture& picture)
    {
        if (!picture.pdf.empty()) return put_page(picture);
        if (picture.media_type == "image/svg+xml") return put_svg(picture);
        Surface image = picture.media_type == "image/png" ? png(picture.bytes) : jpeg(picture.bytes);
        const double width = cairo_image_surface_get_width(image.get());
        const double height = cairo_image_surface_get_height(image.get());
        if (cairo_surface_status(image.get()) != CAIRO_STATUS_SUCCESS || width <= 0.0 || height <= 0.0)
            return unreadable(picture);
        const double scale = fitting(width, height);
        place(picture, width * scale, height * scale, [&] {
            cairo_scale(context_.get(), scale, scale);
            cairo_set_source_surface(context_.get(), image.get(), 0.0, 0.0);
            cairo_paint(context_.get());
        });
    }

    // As lines and letters, kept apart until they are known to succeed, else as its picture. A first run only makes
    // room.
    void put_page(const Picture& picture)
    {
        const auto [width, height] = picture.pdf_size;
        const double scale = fitting(width, height, 1.0);
        place(picture, width * scale, height * scale, [&] {
            if (before_.count == 0) return;
            const cairo_rectangle_t all{0.0, 0.0, width, height};
            const Surface page(cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &all));
            const Context context(cairo_create(page.get()));
            const bool painted = paint_page(context.get(), picture.pdf, picture.pdf_page);
            const Surface image = painted ? Surface() : png(picture.bytes);
            cairo_scale(context_.get(), scale, scale);
            if (!painted)
                cairo_scale(context_.get(), width / std::max(1, cairo_image_surface_get_width(image.get())),
                            height / std::max(1, cairo_image_surface_get_height(image.get())));
            cairo_set_source_surface(context_.get(), painted ? page.get() : image.get(), 0.0, 0.0);
            cairo_paint(context_.get());
        });
    }

    void unreadable(const Picture& picture)
    {
        put(Paragraph{.words = figures::filled(picture_not_drawn_, picture.alternative)});
    }

    void put_svg(const Picture& picture)
    {
        const Svg svg(rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(picture.bytes.data()),
                                                picture.bytes.size(), nullptr));
        if (svg == nullptr) return unreadable(picture);
        double width = 0.0, height = 0.0;
        if (rsvg_handle_get_intrinsic_size_in_pixels(svg.get(), &width, &height) == FALSE) {
            gboolean has_width = FALSE, has_height = FALSE, has_box = FALSE;
            RsvgLength ignored;
            RsvgRectangle box{};
            rsvg_handle_get_intrinsic_dimensions(svg.get(), &has_width, &ignored, &has_height, &ignored, &has_box,
                                                 &box);
            width = has_box ? box.width : body_width;
            height = has_box ? box.height : body_width;
        }
        if (!(width > 0.0 && height > 0.0)) return unreadable(picture);
        const double scale = fitting(width, height);
        place(picture, width * scale, height * scale, [&] {
            const RsvgRectangle room{0.0, 0.0, width * scale, height * scale};
            rsvg_handle_render_document(svg.get(), context_.get(), &room, nullptr);
        });
    }

    static Surface png(const std::string& bytes)
    {
        Bytes source{bytes};
        return Surface(cairo_image_surface_create_from_png_stream(take, &source));
    }

    // The file goes into the PDF as it is; only its size is needed, from the first frame header (ITU-T T.81, B.2.2).
    static Surface jpeg(const std::string& bytes)
    {
        const auto byte = [&](std::size_t at) { return static_cast<unsigned>(static_cast<unsigned char>(bytes[at])); };
        int width = 0, height = 0;
        for (std::size_t at = 2; at + 9 < bytes.size() && byte(at) == 0xff;) {
            const unsigned marker = byte(at + 1);
            if (marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc) {
                height = static_cast<int>(byte(at + 5) << 8 | byte(at + 6));
                width = static_cast<int>(byte(at + 7) << 8 | byte(at + 8));
                break;
            }
            at += 2 + (byte(at + 2) << 8 | byte(at + 3));
        }
        Surface image(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height));
        if (width == 0) return image;
        auto* copy = static_cast<unsigned char*>(std::malloc(bytes.size()));
        if (copy == nullptr) return image;
        std::memcpy(copy, bytes.data(), bytes.size());
        if (cairo_surface_set_mime_data(image.get(), CAIRO_MIME_TYPE_JPEG, copy, bytes.size(), std::free, copy) !=
            CAIRO_STATUS_SUCCESS)
            std::free(copy);
        return image;
    }

    Surface surface_;
    Context context_;
    Pages before_, pages_ = {};
    std::string picture_not_drawn_, language_;
    double y_ = margin;
    std::function<void(const std::vector<std::string>&)> print_head_ = {}; // of the table that is being printed
};

} // namespace

Result<std::string> pdf_of(const Document& document, const std::string& closing, const std::string& date)
{
    std::string draft, pdf;
    const Pages pages = Printer(draft, document, date, {}).print(document, closing);
    Printer printer(pdf, document, date, pages);
    printer.print(document, closing);
    if (printer.status() != CAIRO_STATUS_SUCCESS)
        return fail({.kind = ProblemKind::outside_world,
                     .what = fmt::format("the PDF cannot be made: {}", cairo_status_to_string(printer.status())),
                     .remedy = "write the report as HTML and print that"});
    tell_language(pdf, document.language);
    return pdf;
}

} // namespace becalm::report
