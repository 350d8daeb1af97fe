#include "ui/report/wording.h"

#include <array>

#include <fmt/format.h>

#include "ui/figures/explanation_figures.h"
#include "ui/figures/text.h"

namespace becalm::report {

const Wording& english()
{
    static const Wording words;
    return words;
}

std::string filled(std::string_view format, std::string_view a, std::string_view b, std::string_view c)
{
    const std::array given{a, b, c};
    std::string text;
    std::size_t next = 0;
    while (true) {
        const std::size_t at = format.find("{}");
        text += format.substr(0, at);
        if (at == std::string_view::npos) return text;
        if (next < given.size()) text += given[next++];
        format.remove_prefix(at + 2);
    }
}

std::string value_text(const std::optional<double>& value, std::string_view unit)
{
    return value ? figures::number_text(*value * figures::shown_in(unit).shown_per_unit, 3) : "";
}

std::string uncertainty_text(const std::optional<double>& uncertainty, std::string_view unit)
{
    return uncertainty ? figures::number_text(*uncertainty * figures::shown_in(unit).shown_per_unit, 2) : "";
}

std::string unit_text(std::string_view unit) { return figures::shown_in(unit).unit; }

std::string with_unit(double value, std::string_view unit)
{
    const std::string shown = unit_text(unit);
    return value_text(value, unit) + (shown.empty() ? "" : "\u00a0" + shown);
}

std::string exact_text(const std::optional<double>& value) { return value ? fmt::format("{}", *value) : ""; }

std::string band_text(const Verdict& verdict, const Wording& words)
{
    if (!verdict.judged) return verdict.why_not;
    if (!verdict.band_index) return std::string(words.no_limits);
    std::string text = verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name;
    for (const std::string& also : verdict.also_bands) text = filled(words.also, text, also);
    return text;
}

} // namespace becalm::report
