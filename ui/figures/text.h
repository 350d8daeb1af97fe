// Text as figures need it: fit for XML, measured, wrapped, shortened.
//
// Widths are approximations, since the fonts of whoever looks are not known: advance widths that are not exceeded, on
// average over a word, by DejaVu Sans or by the fonts with the metrics of Arial (computed from their tables, as the
// greater of the two). What is laid out by them does not overlap in either; a narrower font leaves some air.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace becalm::figures {

// px of one line of text; a face with real fonts at hand gives its own.
using TextWidth = std::function<double(std::string_view text, double size_px, bool bold)>;

// px that a label takes along an axis, or a word in a line: size and weight are already decided.
using Extent = std::function<double(std::string_view text)>;

double approximate_width(std::string_view text, double size_px, bool bold);

// Valid UTF-8 of characters that XML 1.0 (fifth edition, 2.2) allows: what is no UTF-8 becomes U+FFFD, controls and
// line ends a space; overrides of the writing direction are dropped, they would turn the text behind them around.
std::string cleaned(std::string_view text);

// A name in a sentence of figures: between direction isolates (U+2068, U+2069) where it holds letters of a script
// written from right to left, so that the numbers beside it stay in their place.
std::string isolated(std::string_view name);

// At most `width_px` wide, its end replaced by an ellipsis where it is longer; empty where not one letter has room.
std::string shortened(std::string_view text, double width_px, const Extent& extent);

// Lines broken at spaces, words broken where one alone is too wide. The last of `most` lines is shortened.
std::vector<std::string> wrapped(std::string_view text, double width_px, std::size_t most, const Extent& extent);

// "m/s2" -> "m/s²", "um" -> "µm", "m/s^1.75" -> "m/s¹·⁷⁵", "%" as it is.
std::string pretty_unit(std::string_view unit);

// 10 to the n: "10⁻³".
std::string power_of_ten(int n);

// "0.0123", "12.3", "1230": n significant digits without an exponent between 1e-4 and 1e6, "1.2×10⁻⁷" beyond; a real
// minus; "–" for what is no number.
std::string number_text(double value, int significant = 3);

// The same with fixed decimals.
std::string decimal_text(double value, int decimals);

// "2 values", "1 value".
std::string counted(std::size_t n, std::string_view one, std::string_view several);

} // namespace becalm::figures
