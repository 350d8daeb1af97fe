#include "ui/report/html.h"

#include <array>
#include <cstdint>

#include <fmt/format.h>

#include "ui/figures/svg.h"

namespace becalm::report {
namespace {

using figures::xml_text;

constexpr std::string_view style = R"(
html { font-family: 'Noto Sans', 'Liberation Sans', Arial, Helvetica, 'DejaVu Sans', sans-serif; line-height: 1.4; color: #1c1c1c; background: #fff; }
body { max-width: 60em; margin: 0 auto; padding: 1em; }
h1 { font-size: 1.7em; margin-bottom: 0.2em; }
h2 { font-size: 1.35em; margin-top: 2em; border-bottom: 2px solid #555; }
h3 { font-size: 1.1em; margin-top: 1.5em; }
h4 { font-size: 1em; }
table { border-collapse: collapse; width: 100%; margin: 0.8em 0 1.2em; font-size: 0.85em; }
caption { text-align: start; font-weight: bold; padding: 0.3em 0; }
th, td { border-bottom: 1px solid #bbb; padding: 0.25em 0.5em; text-align: start; vertical-align: top; }
thead th { border-bottom: 2px solid #555; }
tbody th { font-weight: normal; }
.number { text-align: right; white-space: nowrap; }
.long { overflow-wrap: anywhere; }
.whole { white-space: nowrap; }
.code { font-family: 'DejaVu Sans Mono', 'Liberation Mono', monospace; font-size: 0.9em; word-break: break-all; }
.caution { border-left: 4px solid #555; padding: 0.4em 0.8em; background: #f2f2f2; }
figure { margin: 1em 0; break-inside: avoid; }
figure svg { max-width: 100%; height: auto; }
.picture { position: relative; display: inline-block; max-width: 100%; }
.picture img { display: block; max-width: 100%; max-height: 32em; }
.mark { position: absolute; transform: translate(-50%, -50%); min-width: 1.4em; line-height: 1.4em; border-radius: 0.7em; text-align: center; font-size: 0.75em; padding: 0 0.3em; white-space: nowrap; background: #fff; color: #1c1c1c; border: 1px solid #1c1c1c; }
.mark.dark { background: #1c1c1c; color: #fff; border-color: #fff; }
.letterhead img { max-height: 6em; }
footer { margin-top: 2em; border-top: 2px solid #555; font-size: 0.8em; }
@media print {
  html { font-size: 10pt; }
  table { font-size: 8pt; }
  th, td { padding: 0.2em 0.35em; }
  a { color: inherit; text-decoration: none; }
  body { max-width: none; padding: 0; }
  @page { size: A4; margin: 18mm; @bottom-right { content: counter(page) " / " counter(pages); } }
  h2, h3, h4, caption { break-after: avoid; }
  tr { break-inside: avoid; }
  thead { display: table-header-group; }
  p, li { orphans: 2; widows: 2; }
}
)";

// [RFC 4648, section 4]
std::string base64(std::string_view bytes)
{
    static constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    text.reserve(bytes.size() / 3 * 4 + 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        std::uint32_t three = 0;
        for (std::size_t k = 0; k < 3; ++k)
            three = three << 8 | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0U);
        for (std::size_t k = 0; k < 4; ++k) text += i + k <= bytes.size() ? letters[three >> (18 - 6 * k) & 63] : '=';
    }
    return text;
}

std::string facts_text(const Facts& facts)
{
    std::string text;
    for (const auto& [name, value] : facts) text += " data-" + name + "=\"" + xml_text(value) + "\"";
    return text;
}

std::string class_of(CellForm form)
{
    static constexpr std::array classes{"", " class=\"number\"", " class=\"code\""};
    return classes[static_cast<std::size_t>(form)];
}

// A word that would push a table over the edge may be broken anywhere; others stay whole.
bool has_long_word(std::string_view text)
{
    constexpr std::size_t longest = 20; // bytes
    std::size_t length = 0;
    for (const char letter : text) {
        length = letter == ' ' ? 0 : length + 1;
        if (length > longest) return true;
    }
    return false;
}

// How a cell's words may be broken: a unit such as mm/s2 not at all.
std::string class_of(CellForm form, std::string_view text)
{
    constexpr std::size_t longest_unit = 12; // bytes
    if (form != CellForm::text) return class_of(form);
    if (has_long_word(text)) return " class=\"long\"";
    const bool is_unit = text.size() <= longest_unit && text.find('/') != std::string_view::npos &&
                         text.find(' ') == std::string_view::npos;
    return is_unit ? " class=\"whole\"" : "";
}

class Writer {
public:
    void write(const Heading& heading)
    {
        const int level = heading.level;
        text_ += fmt::format("<h{}{} dir=\"auto\">{}</h{}>\n", level,
                             heading.anchor.empty() ? "" : " id=\"" + xml_text(heading.anchor) + "\"",
                             xml_text(heading.words), level);
    }

    void write(const Paragraph& paragraph)
    {
        text_ += fmt::format("<p{} dir=\"auto\">{}</p>\n", paragraph.caution ? " class=\"caution\"" : "",
                             xml_text(paragraph.words));
    }

    void write(const List& list)
    {
        if (list.items.empty()) return;
        text_ += "<ul" + language(list.language) + ">\n";
        for (const std::string& item : list.items) text_ += "<li dir=\"auto\">" + xml_text(item) + "</li>\n";
        text_ += "</ul>\n";
    }

    void write(const Table& table)
    {
        text_ += "<table>\n";
        if (!table.caption.empty()) text_ += "<caption dir=\"auto\">" + xml_text(table.caption) + "</caption>\n";
        text_ += "<thead><tr>";
        for (const Column& column : table.columns)
            text_ += "<th scope=\"col\"" + (column.form == CellForm::number ? class_of(column.form) : std::string()) +
                     ">" + xml_text(column.words) + "</th>";
        text_ += "</tr></thead>\n<tbody>\n";
        for (const Row& row : table.rows) {
            text_ += "<tr" + facts_text(row.facts) + ">";
            for (std::size_t i = 0; i < row.cells.size() && i < table.columns.size(); ++i) {
                text_ += (i == 0 ? "<th scope=\"row\"" : "<td") + class_of(table.columns[i].form, row.cells[i]) +
                         language(table.columns[i].language) + " dir=\"auto\">";
                text_ += xml_text(row.cells[i]);
                text_ += i == 0 ? "</th>" : "</td>";
            }
            text_ += "</tr>\n";
        }
        text_ += "</tbody>\n</table>\n";
    }

    void write(const Drawing& drawing) { text_ += "<figure>\n" + figures::svg_of(drawing.figure) + "</figure>\n"; }

    void write(const Picture& picture)
    {
        text_ += "<figure>\n<span class=\"picture\"><img alt=\"" + xml_text(picture.alternative) +
                 "\" src=\"data:" + picture.media_type + ";base64," + base64(picture.bytes) + "\"/>";
        for (const PictureMark& mark : picture.marks)
            text_ += fmt::format("<span class=\"mark{}\" style=\"left:{:.2f}%;top:{:.2f}%\">{}</span>",
                                 mark.stands_out ? " dark" : "", mark.x_percent, mark.y_percent, xml_text(mark.words));
        text_ += "</span>\n";
        if (!picture.caption.empty())
            text_ += "<figcaption dir=\"auto\">" + xml_text(picture.caption) + "</figcaption>\n";
        text_ += "</figure>\n";
    }

    void write(const std::vector<Block>& blocks)
    {
        for (const Block& block : blocks) std::visit([this](const auto& one) { write(one); }, block);
    }

    void write(const Document& document)
    {
        language_ = document.language;
        text_ = "<!DOCTYPE html>\n<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"" + document.language +
                "\" xml:lang=\"" + document.language + "\">\n<head>\n<meta charset=\"utf-8\"/>\n" +
                "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<title>" +
                xml_text(document.title) + "</title>\n<style>" + std::string(style) + "</style>\n</head>\n<body>\n";
        text_ += "<header>\n";
        if (!document.letterhead.empty()) {
            text_ += "<div class=\"letterhead\">\n";
            write(document.letterhead);
            text_ += "</div>\n";
        }
        text_ += "<h1 dir=\"auto\">" + xml_text(document.title) + "</h1>\n";
        for (const std::string& line : document.subtitle) text_ += "<p dir=\"auto\">" + xml_text(line) + "</p>\n";
        text_ += "</header>\n";
        const std::string contents = xml_text(document.contents_words);
        text_ += "<nav aria-label=\"" + contents + "\">\n<h2>" + contents + "</h2>\n<ul>\n";
        for (const Block& block : document.blocks)
            if (const auto* heading = std::get_if<Heading>(&block);
                heading != nullptr && heading->level == 2 && !heading->anchor.empty())
                text_ +=
                    "<li><a href=\"#" + xml_text(heading->anchor) + "\">" + xml_text(heading->words) + "</a></li>\n";
        text_ += "</ul>\n</nav>\n<main>\n";
        write(document.blocks);
        text_ += "</main>\n";
    }

    std::string text() { return std::move(text_); }

private:
    // Of words in another language than the document's: a screen reader pronounces them in theirs.
    std::string language(const std::string& code) const
    {
        return code.empty() || code == language_ ? "" : " lang=\"" + code + "\" xml:lang=\"" + code + "\"";
    }

    std::string language_;
    std::string text_;
};

} // namespace

std::string_view footer_begin() { return "<footer data-"; }

std::string open_html(const Document& document)
{
    Writer writer;
    writer.write(document);
    return writer.text();
}

std::string closed_html(const std::string& open, const Facts& facts, const std::string& words)
{
    return open + "<footer" + facts_text(facts) + ">\n<p class=\"code\">" + xml_text(words) +
           "</p>\n</footer>\n</body>\n</html>\n";
}

} // namespace becalm::report
