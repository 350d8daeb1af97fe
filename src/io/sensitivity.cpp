#include "src/io/sensitivity.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "src/base/units.h"

namespace becalm::io {
namespace {

void replace_all(std::string& text, std::string_view from, std::string_view to)
{
    for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
        text.replace(at, from.size(), to);
}

} // namespace

Result<Sensitivity> sensitivity_in(std::string_view text)
{
    const auto refuse = [&](std::string why) {
        return fail({.what = fmt::format("\"{}\" is no sensitivity: {}", text, why),
                     .remedy = "write a number, V, mV or uV, and what it is of, such as 10.2 mV/(m/s2) or 100 mV/g"});
    };
    std::string plain(text);
    using Pair = std::pair<std::string_view, std::string_view>;
    for (const auto& [from, to] :
         {Pair{"²", "2"}, Pair{"µ", "u"}, Pair{"μ", "u"}, Pair{"\xC2\xA0", ""}, Pair{" ", ""}, Pair{"\t", ""},
          Pair{"^", ""}, Pair{"(", ""}, Pair{")", ""}, Pair{"*", ""}, Pair{"·", ""}})
        replace_all(plain, from, to);
    std::ranges::replace(plain, ',', '.');
    double number = 0.0;
    const char* const end = plain.data() + plain.size();
    const auto [rest, error] = std::from_chars(plain.data(), end, number);
    if (error != std::errc() || !(number > 0.0) || !std::isfinite(number))
        return refuse("it begins with no number above 0");
    std::string_view behind(rest, static_cast<std::size_t>(end - rest));
    constexpr std::array<std::pair<std::string_view, double>, 3> volts{{{"V/", 1.0}, {"mV/", 1e-3}, {"uV/", 1e-6}}};
    const auto prefix = std::ranges::find_if(volts, [&](const auto& one) { return behind.starts_with(one.first); });
    if (prefix == volts.end()) return refuse("no voltage stands behind the number");
    std::string unit(behind.substr(prefix->first.size()));
    if (unit == "m/s/s" || unit == "ms-2" || unit == "m.s-2") unit = "m/s2";
    if (unit == "ms-1" || unit == "m.s-1") unit = "m/s";
    if (!unit_named(unit))
        return refuse(fmt::format("{} is none of {}", unit.empty() ? "nothing" : unit, unit_names()));
    return Sensitivity{.volts = number * prefix->second, .unit = std::move(unit)};
}

} // namespace becalm::io
