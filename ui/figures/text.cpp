#include "ui/figures/text.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstdint>
#include <utility>

#include <fmt/format.h>

#include "ui/figures/measures.h"

namespace becalm::figures {
namespace {

constexpr char32_t replacement = 0xFFFD;

struct Letter {
    char32_t code = 0;
    std::size_t begin = 0, end = 0; // bytes
};

Letter letter_at(std::string_view text, std::size_t at)
{
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char first = byte(at);
    const Letter broken{replacement, at, at + 1};
    if (first < 0x80) return {first, at, at + 1};
    const std::size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
    if (first < 0xC2 || first > 0xF4 || at + length > text.size()) return broken;
    auto code = static_cast<char32_t>(first & (0xFF >> (length + 1)));
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(at + i) & 0xC0) != 0x80) return broken;
        code = (code << 6) | (byte(at + i) & 0x3F);
    }
    static constexpr std::array<char32_t, 5> least{0, 0, 0x80, 0x800, 0x10000};
    const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
    if (code < least[length] || code > 0x10FFFF || surrogate) return broken;
    return {code, at, at + length};
}

std::vector<Letter> letters_of(std::string_view text)
{
    std::vector<Letter> letters;
    for (std::size_t at = 0; at < text.size(); at = letters.back().end) letters.push_back(letter_at(text, at));
    return letters;
}

using Ranges = std::initializer_list<std::pair<char32_t, char32_t>>;

bool lies_in(char32_t code, const Ranges& ranges)
{
    return std::any_of(ranges.begin(), ranges.end(),
                       [&](const auto& range) { return code >= range.first && code <= range.second; });
}

// Marks above, below and around the letter before, joiners, direction marks. Blocks of the scripts most written, not
// all of Unicode: an unknown mark costs the width of a letter.
bool is_mark(char32_t code)
{
    static const Ranges marks{
        {0x0300, 0x036F}, {0x0483, 0x0489}, {0x0591, 0x05BD}, {0x05BF, 0x05C7},   {0x0610, 0x061A},
        {0x064B, 0x065F}, {0x0670, 0x0670}, {0x06D6, 0x06DC}, {0x093C, 0x093C},   {0x0941, 0x0948},
        {0x094D, 0x094D}, {0x0E31, 0x0E31}, {0x0E34, 0x0E3A}, {0x0E47, 0x0E4E},   {0x1AB0, 0x1AFF},
        {0x1DC0, 0x1DFF}, {0x200B, 0x200F}, {0x202A, 0x202E}, {0x2060, 0x2069},   {0x20D0, 0x20FF},
        {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}, {0xFEFF, 0xFEFF}, {0x1F3FB, 0x1F3FF}, {0xE0100, 0xE01EF}};
    return lies_in(code, marks);
}

bool is_right_to_left(char32_t code)
{
    static const Ranges scripts{{0x0590, 0x08FF}, {0xFB1D, 0xFDFF}, {0xFE70, 0xFEFC}, {0x10800, 0x10FFF}};
    return lies_in(code, scripts);
}

// Thousandths of the type size: the greater advance width of DejaVu Sans 2.37 and Liberation Sans 2.1, from space on.
constexpr std::array<std::int16_t, 95> ascii_widths{
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361,  318, 337, 636, 636, 636,
    636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 556, 1015, 684, 686, 722, 770, 667,
    611, 778, 752, 295, 500, 667, 557, 863, 748, 787, 667, 787, 722, 667,  611, 732, 684, 989, 685,
    667, 685, 390, 337, 390, 838, 556, 500, 613, 635, 550, 635, 615, 352,  635, 634, 278, 278, 579,
    278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592,  525, 636, 337, 636, 838};

double thousandths(char32_t code)
{
    if (code >= 0x20 && code < 0x7F) return ascii_widths[code - 0x20];
    if (is_mark(code)) return 0.0;
    static const Ranges wide{{0x1100, 0x115F}, {0x2E80, 0xA4CF}, {0xAC00, 0xD7A3}, {0xF900, 0xFAFF},
                             {0xFE30, 0xFE6F}, {0xFF00, 0xFF60}, {0xFFE0, 0xFFE6}, {0x20000, 0x3FFFD}};
    if (lies_in(code, wide)) return 1000.0;
    if (lies_in(code, {{0x1F000, 0x1FAFF}})) return 1350.0; // pictures
    if (lies_in(code, {{0xB2, 0xB3}, {0xB7, 0xB7}, {0xB9, 0xB9}})) return 401.0;
    if (lies_in(code, {{0x2070, 0x2089}})) return 440.0; // raised and lowered digits
    if (code == 0x207B) return 528.0;                    // raised minus
    if (lies_in(code, {{0xC0, 0xDE}, {0x391, 0x3A9}})) return 780.0;
    if (lies_in(code, {{0xDF, 0x24F}, {0x3B1, 0x3C9}})) return 640.0;
    if (lies_in(code, {{0x400, 0x42F}})) return 790.0;
    if (lies_in(code, {{0x430, 0x52F}})) return 680.0;
    if (lies_in(code, {{0x2013, 0x2013}})) return 560.0;
    if (lies_in(code, {{0x2014, 0x2014}, {0x2026, 0x2026}})) return 1000.0;
    if (lies_in(code, {{0x2190, 0x22FF}, {0xD7, 0xD7}, {0xF7, 0xF7}, {0xB1, 0xB1}})) return 838.0;
    if (code == 0xA0) return thousandths(0x20); // a space that does not break
    if (lies_in(code, {{0xA1, 0xBF}, {0x2018, 0x201D}})) return 640.0;
    return 760.0;
}

const std::string ellipsis = "…";

// Bytes of the longest beginning that, with `tail`, is at most `width_px` wide; letters keep their marks.
std::size_t longest_fit(std::string_view text, std::string_view tail, double width_px, const Extent& extent)
{
    const std::vector<Letter> letters = letters_of(text);
    std::size_t fits = 0;
    for (std::size_t i = 0; i < letters.size(); ++i) {
        if (i + 1 < letters.size() && is_mark(letters[i + 1].code)) continue;
        std::string candidate(text.substr(0, letters[i].end));
        if (extent(candidate.append(tail)) > width_px) break;
        fits = letters[i].end;
    }
    return fits;
}

std::string superscript(std::string_view digits)
{
    static const std::array<std::string_view, 10> raised{"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
    std::string result;
    for (const char c : digits) {
        if (c >= '0' && c <= '9') result += raised[static_cast<std::size_t>(c - '0')];
        if (c == '-') result += "⁻";
        if (c == '.') result += "·";
    }
    return result;
}

bool is_zero(std::string_view digits) { return digits.find_first_of("123456789") == std::string_view::npos; }

std::string with_real_minus(std::string digits)
{
    if (digits.starts_with('-')) digits.replace(0, 1, is_zero(digits) ? "" : "−");
    return digits;
}

} // namespace

double approximate_width(std::string_view text, double size_px, bool bold)
{
    double sum = 0.0;
    for (const Letter& letter : letters_of(text)) sum += thousandths(letter.code);
    return sum / 1000.0 * size_px * (bold ? percent(115) : 1.0);
}

std::string cleaned(std::string_view text)
{
    std::string result;
    result.reserve(text.size());
    for (const Letter& letter : letters_of(text)) {
        if (letter.code >= 0x202A && letter.code <= 0x202E) continue;
        if (letter.code < 0x20 || (letter.code >= 0x7F && letter.code < 0xA0))
            result += ' ';
        else if (letter.code == replacement || (letter.code & 0xFFFE) == 0xFFFE)
            result += "\xEF\xBF\xBD";
        else
            result += text.substr(letter.begin, letter.end - letter.begin);
    }
    return result;
}

std::string isolated(std::string_view name)
{
    const std::vector<Letter> letters = letters_of(name);
    if (std::none_of(letters.begin(), letters.end(), [](const Letter& l) { return is_right_to_left(l.code); }))
        return std::string(name);
    return "\xE2\x81\xA8" + std::string(name) + "\xE2\x81\xA9";
}

std::string shortened(std::string_view text, double width_px, const Extent& extent)
{
    if (extent(text) <= width_px) return std::string(text);
    std::string_view kept = text.substr(0, longest_fit(text, ellipsis, width_px, extent));
    while (kept.ends_with(' ') || kept.ends_with(',')) kept.remove_suffix(1);
    return kept.empty() ? std::string() : std::string(kept) + ellipsis;
}

std::vector<std::string> wrapped(std::string_view text, double width_px, std::size_t most, const Extent& extent)
{
    std::vector<std::string> lines;
    const auto next_word = [&] {
        while (text.starts_with(' ')) text.remove_prefix(1);
        return text.substr(0, text.find(' '));
    };
    while (!next_word().empty() && lines.size() < most) {
        if (lines.size() + 1 == most) {
            lines.push_back(shortened(text, width_px, extent));
            break;
        }
        std::string line;
        for (std::string_view word = next_word(); !word.empty(); word = next_word()) {
            const std::string longer = line.empty() ? std::string(word) : line + " " + std::string(word);
            if (extent(longer) > width_px) break;
            line = longer;
            text.remove_prefix(word.size());
        }
        if (line.empty()) { // a word too wide by itself
            const std::size_t fits = longest_fit(next_word(), "", width_px, extent);
            if (fits == 0) break;
            line = text.substr(0, fits);
            text.remove_prefix(fits);
        }
        lines.push_back(std::move(line));
    }
    std::erase_if(lines, [](const std::string& line) { return line.empty(); });
    return lines;
}

std::string pretty_unit(std::string_view unit)
{
    std::string result;
    for (std::size_t i = 0; i < unit.size(); ++i) {
        const bool begins = i == 0 || unit[i - 1] == '/' || unit[i - 1] == ' ' || unit[i - 1] == '(';
        if (begins && unit[i] == 'u' && i + 1 < unit.size() && std::isalpha(static_cast<unsigned char>(unit[i + 1]))) {
            result += "µ";
        } else if (unit[i] == '^' || (i > 0 && unit[i] >= '2' && unit[i] <= '9' &&
                                      (std::isalpha(static_cast<unsigned char>(unit[i - 1])) || unit[i - 1] == ')'))) {
            const std::size_t from = unit[i] == '^' ? i + 1 : i;
            std::size_t to = from;
            while (to < unit.size() && std::string_view("0123456789.-").find(unit[to]) != std::string_view::npos) ++to;
            result += superscript(unit.substr(from, to - from));
            i = to - 1;
        } else {
            result += unit[i];
        }
    }
    return result;
}

std::string power_of_ten(int n) { return "10" + superscript(std::to_string(n)); }

std::string decimal_text(double value, int decimals)
{
    if (!std::isfinite(value)) return "–";
    return with_real_minus(fmt::format("{:.{}f}", value, std::clamp(decimals, 0, 12)));
}

std::string number_text(double value, int significant)
{
    if (!std::isfinite(value)) return "–";
    if (value == 0.0) return "0";
    // Rounded first: 9.999 to three digits is 10.0, not 10.00.
    const std::string rounded = fmt::format("{:.{}e}", value, significant - 1);
    const int exponent = std::stoi(rounded.substr(rounded.find('e') + 1));
    if (exponent >= -4 && exponent < 6) return decimal_text(value, std::max(0, significant - 1 - exponent));
    return with_real_minus(rounded.substr(0, rounded.find('e'))) + "×" + power_of_ten(exponent);
}

std::string counted(std::size_t n, std::string_view one, std::string_view several)
{
    return fmt::format("{} {}", n, n == 1 ? one : several);
}

} // namespace becalm::figures
