#include "ui/figures/svg.h"

#include <array>
#include <cmath>
#include <map>
#include <utility>

#include <fmt/format.h>

namespace becalm::figures {
namespace {

constexpr std::string_view fonts = "'Noto Sans','Liberation Sans',Arial,Helvetica,'DejaVu Sans',sans-serif";

// Rounded to 0.01, without trailing zeros.
std::string px(double value)
{
    const long long hundredths = std::isfinite(value) ? std::llround(std::min(std::max(value, -1e7), 1e7) * 100.0) : 0;
    const long long magnitude = std::llabs(hundredths);
    std::string text = (hundredths < 0 ? "-" : "") + std::to_string(magnitude / 100);
    if (const long long rest = magnitude % 100; rest % 10 != 0)
        text += fmt::format(".{:02}", rest);
    else if (rest != 0)
        text += fmt::format(".{}", rest / 10);
    return text;
}

std::string hex(Colour colour) { return fmt::format("#{:02x}{:02x}{:02x}", colour.red, colour.green, colour.blue); }

std::string fill_of(const std::optional<Colour>& fill)
{
    return fill ? " fill=\"" + hex(*fill) + "\"" : " fill=\"none\"";
}

std::string dashes(Dash dash, double width)
{
    switch (dash) {
    case Dash::dashed: return px(5.0 * width) + " " + px(3.0 * width);
    case Dash::dotted: return px(width) + " " + px(2.0 * width);
    case Dash::dash_dot: return px(6.0 * width) + " " + px(3.0 * width) + " " + px(width) + " " + px(3.0 * width);
    case Dash::solid: break;
    }
    return "";
}

std::string edge_of(const std::optional<Stroke>& edge)
{
    if (!edge) return "";
    std::string text = " stroke=\"" + hex(edge->colour) + "\" stroke-width=\"" + px(edge->width_px) + "\"";
    if (edge->dash != Dash::solid)
        text += " stroke-dasharray=\"" + dashes(edge->dash, std::max(edge->width_px, 1.0)) + "\"";
    return text;
}

std::string place(Point point) { return px(point.x) + " " + px(point.y); }

class Writer {
public:
    explicit Writer(const Scene& scene)
    {
        text_ = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + px(scene.width_px) + "\" height=\"" +
                px(scene.height_px) + "\" viewBox=\"0 0 " + px(scene.width_px) + " " + px(scene.height_px) +
                "\" role=\"img\" stroke-linejoin=\"round\" font-family=\"" + std::string(fonts) + "\">\n";
        text_ += "<title>" + xml_text(scene.title) + "</title>\n<desc>" + xml_text(scene.description) + "</desc>\n";
        for (const Item& item : scene.items) std::visit([this](const auto& shape) { write(shape); }, item.shape);
        text_ += "</svg>\n";
    }

    std::string text() { return std::move(text_); }

private:
    void write(const Box& box)
    {
        text_ += "<rect x=\"" + px(box.rect.left) + "\" y=\"" + px(box.rect.top) + "\" width=\"" + px(box.rect.width) +
                 "\" height=\"" + px(box.rect.height) + "\"" + fill_of(box.fill) + edge_of(box.edge) + "/>\n";
    }

    void write(const Path& path)
    {
        std::string data;
        for (const auto& run : path.runs) {
            if (run.empty()) continue;
            std::string last = place(run.front());
            data += "M" + last;
            for (std::size_t i = 1; i < run.size(); ++i) {
                std::string next = place(run[i]);
                if (next == last && i + 1 < run.size()) continue;
                data += " " + next; // what follows a M is a line
                last = std::move(next);
            }
            if (path.closed) data += "Z";
        }
        if (data.empty()) return;
        text_ += "<path d=\"" + data + "\"" + fill_of(path.fill) + edge_of(path.edge);
        text_ += "/>\n";
    }

    // A row of cells is a thick stroke; those of one colour and height make one path.
    void write(const Cells& cells)
    {
        const std::size_t columns = cells.x_edges.empty() ? 0 : cells.x_edges.size() - 1;
        const std::size_t rows = cells.y_edges.empty() ? 0 : cells.y_edges.size() - 1;
        std::map<std::pair<std::size_t, long>, std::string> paths; // level, height
        for (std::size_t j = 0; j < rows; ++j) {
            const double height = cells.y_edges[j + 1] - cells.y_edges[j];
            for (std::size_t i = 0; i < columns;) {
                const std::size_t from = i;
                const std::uint8_t level = cells.levels[j * columns + from];
                while (i < columns && cells.levels[j * columns + i] == level) ++i;
                if (level == Cells::empty_cell) continue;
                paths[{level, std::lround(height)}] += "M" + px(cells.x_edges[from]) + " " +
                                                       px(cells.y_edges[j] + height / 2.0) + "h" +
                                                       px(cells.x_edges[i] - cells.x_edges[from]);
            }
        }
        if (paths.empty()) return;
        text_ += "<g fill=\"none\" shape-rendering=\"crispEdges\">\n";
        for (const auto& [key, data] : paths)
            text_ += "<path stroke=\"" + hex(cells.colours[key.first]) + "\" stroke-width=\"" +
                     std::to_string(key.second) + "\" d=\"" + data + "\"/>\n";
        text_ += "</g>\n";
    }

    void write(const Words& words)
    {
        static constexpr std::array anchors{"", " text-anchor=\"middle\"", " text-anchor=\"end\""};
        text_ += "<text x=\"" + px(words.at.x) + "\" y=\"" + px(words.at.y) + "\" font-size=\"" + px(words.size_px) +
                 "\"" + (words.bold ? " font-weight=\"bold\"" : "") + anchors[static_cast<std::size_t>(words.anchor)] +
                 " fill=\"" + hex(words.colour) + "\">" + xml_text(words.text) + "</text>\n";
    }

    std::string text_;
};

} // namespace

std::string xml_text(std::string_view text)
{
    std::string result;
    for (const char c : cleaned(text)) {
        switch (c) {
        case '&': result += "&amp;"; break;
        case '<': result += "&lt;"; break;
        case '>': result += "&gt;"; break;
        case '"': result += "&quot;"; break;
        case '\'': result += "&#39;"; break;
        default: result += c;
        }
    }
    return result;
}

std::string svg_of(const Scene& scene) { return Writer(scene).text(); }

std::string svg_of(const Figure& figure) { return svg_of(laid_out(figure)); }

} // namespace becalm::figures
