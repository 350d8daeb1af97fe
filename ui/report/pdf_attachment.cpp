#include "ui/report/pdf_attachment.h"

#include <charconv>
#include <vector>

#include <fmt/format.h>

namespace becalm::report {
namespace {

// A comment of PDF, on a line of its own. What is attached follows.
constexpr std::string_view begin_mark = "\n%becalm\n";
constexpr std::string_view stream_begin = "stream\n", stream_end = "\nendstream\nendobj\n";

std::optional<std::size_t> number_at(std::string_view text)
{
    std::size_t number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc{}) return {};
    return number;
}

// The number behind the last `key` of `text`.
std::optional<std::size_t> number_behind(std::string_view text, std::string_view key)
{
    const std::size_t at = text.rfind(key);
    if (at == std::string_view::npos) return {};
    return number_at(text.substr(at + key.size()));
}

// Of the table at `table`, "xref LF 0 count LF" and lines of 20 bytes.
std::optional<std::size_t> offset_of(std::string_view pdf, std::size_t table, std::size_t object)
{
    constexpr std::string_view head = "xref\n0 ";
    if (table > pdf.size() || !pdf.substr(table).starts_with(head)) return {};
    const auto count = number_at(pdf.substr(table + head.size()));
    const std::size_t first = pdf.find('\n', table + head.size());
    constexpr std::size_t line = 20, digits = 10;
    if (!count || object >= *count || first == std::string_view::npos || first + 1 + *count * line > pdf.size())
        return {};
    const std::string_view entry = pdf.substr(first + 1 + object * line, digits);
    std::size_t offset = 0;
    const auto [end, error] = std::from_chars(entry.data(), entry.data() + digits, offset);
    if (error != std::errc{} || offset >= pdf.size()) return {};
    return offset;
}

// The dictionary of an object, from its "<<" to before its last ">>".
std::optional<std::string_view> dictionary_of(std::string_view pdf, std::size_t table, std::size_t object)
{
    const auto offset = offset_of(pdf, table, object);
    if (!offset) return {};
    const std::string_view rest = pdf.substr(*offset);
    const std::string_view body = rest.substr(0, rest.find("endobj"));
    const std::size_t begin = body.find("<<"), end = body.rfind(">>");
    if (body.size() == rest.size() || begin == std::string_view::npos || end == std::string_view::npos || end < begin)
        return {};
    return body.substr(begin, end - begin);
}

} // namespace

std::optional<std::string> with_attachment(std::string_view pdf, const Attachment& attachment)
{
    const auto table = number_behind(pdf, "\nstartxref\n");
    const std::size_t trailer_at = pdf.rfind("\ntrailer\n");
    if (!table || trailer_at == std::string_view::npos || !pdf.ends_with("%%EOF\n")) return {};
    const std::string_view trailer = pdf.substr(trailer_at);
    const auto size = number_behind(trailer, "/Size "), root = number_behind(trailer, "/Root "),
               info = number_behind(trailer, "/Info ");
    if (!size || !root || !info) return {};
    const auto catalog = dictionary_of(pdf, *table, *root);
    if (!catalog) return {};

    // The tree of names, where there is one, else the catalogue takes it.
    const std::string names =
        fmt::format("/EmbeddedFiles << /Names [ ({}) {} 0 R ] >>\n>>\nendobj\n", attachment.name, *size + 1);
    std::size_t changed = *root;
    std::string object = fmt::format("{}   /Names << {}", *catalog, names);
    object.insert(object.size() - std::string_view("endobj\n").size(), ">>\n");
    if (const auto tree = number_behind(*catalog, "/Names ")) {
        const auto dictionary = dictionary_of(pdf, *table, *tree);
        if (!dictionary) return {};
        changed = *tree;
        object = fmt::format("{}\n   {}", *dictionary, names);
    }

    std::string file(pdf);
    file += begin_mark.substr(1);
    const std::size_t stream_at = file.size();
    file += fmt::format("{} 0 obj\n<< /Type /EmbeddedFile /Subtype /text#2Fplain /Length {} >>\n{}{}{}", *size,
                        attachment.content.size(), stream_begin, attachment.content, stream_end);
    const std::size_t specification_at = file.size();
    file += fmt::format("{} 0 obj\n<< /Type /Filespec /F ({}) /UF ({}) /Desc ({}) /EF << /F {} 0 R >> >>\nendobj\n",
                        *size + 1, attachment.name, attachment.name, attachment.description, *size);
    const std::size_t changed_at = file.size();
    file += fmt::format("{} 0 obj\n{}", changed, object);
    const std::size_t new_table = file.size();
    file += fmt::format("xref\n{} 1\n{:010} 00000 n \n{} 2\n{:010} 00000 n \n{:010} 00000 n \n"
                        "trailer\n<< /Size {} /Root {} 0 R /Info {} 0 R /Prev {} >>\nstartxref\n{}\n%%EOF\n",
                        changed, changed_at, *size, stream_at, specification_at, *size + 2, *root, *info, *table,
                        new_table);
    return file;
}

std::optional<Detached> detached(std::string_view file)
{
    const std::size_t mark = file.rfind(begin_mark);
    if (mark == std::string_view::npos) return {};
    const std::size_t begin = file.find(stream_begin, mark + begin_mark.size());
    const std::size_t end = file.rfind(stream_end);
    if (begin == std::string_view::npos || end == std::string_view::npos || end < begin + stream_begin.size())
        return {};
    const std::size_t content = begin + stream_begin.size();
    return Detached{file.substr(0, mark + 1), file.substr(content, end - content)};
}

} // namespace becalm::report
