#include "ui/report/wording.h"

#include <algorithm>

#include <fmt/format.h>

#include "ui/figures/explanation_figures.h"
#include "ui/figures/text.h"

namespace becalm::report {
namespace {

std::string shown(const std::optional<double>& value, std::string_view unit, int significant, Language language)
{
    if (!value) return {};
    const double number = *value * figures::shown_in(unit).shown_per_unit;
    return figures::in_digits_of(language, figures::number_text(number, significant));
}

} // namespace

const Wording& wording_of(Language language)
{
    switch (language) {
    case Language::german: return german();
    case Language::french: return french();
    case Language::english: break;
    }
    return english();
}

std::string value_text(const std::optional<double>& value, std::string_view unit, Language language)
{
    return shown(value, unit, 3, language);
}

std::string uncertainty_text(const std::optional<double>& uncertainty, std::string_view unit, Language language)
{
    return shown(uncertainty, unit, 2, language);
}

std::string unit_text(std::string_view unit) { return figures::shown_in(unit).unit; }

std::string with_unit(double value, std::string_view unit, Language language)
{
    const std::string shown = unit_text(unit);
    return value_text(value, unit, language) + (shown.empty() ? "" : "\u00a0" + shown);
}

std::string exact_text(const std::optional<double>& value, Language language)
{
    return value ? figures::in_digits_of(language, fmt::format("{}", *value)) : "";
}

std::string date_text(const std::string& iso8601, Language language)
{
    static constexpr std::string_view form = "0000-00-00";
    if (iso8601.size() < form.size()) return iso8601;
    const auto fits = [](char c, char like) { return like == '0' ? c >= '0' && c <= '9' : c == like; };
    if (!std::ranges::equal(std::string_view(iso8601).substr(0, form.size()), form, fits)) return iso8601;
    std::string text = iso8601.substr(0, form.size());
    const std::string sign = language == Language::german ? "." : "/";
    if (language != Language::english)
        text = iso8601.substr(8, 2) + sign + iso8601.substr(5, 2) + sign + iso8601.substr(0, 4);
    if (iso8601.size() <= form.size() + 1) return text;
    const std::size_t zone = std::min(iso8601.find_first_of("+-Z", form.size() + 1), iso8601.size());
    text += " " + iso8601.substr(form.size() + 1, zone - form.size() - 1);
    if (zone < iso8601.size()) text += " " + iso8601.substr(zone);
    return text;
}

std::string band_text(const Verdict& verdict, const Wording& words)
{
    if (!verdict.judged) return words.not_judged.text();
    if (!verdict.band_index) return words.no_limits.text();
    std::string text = verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name;
    for (const std::string& also : verdict.also_bands) text = filled(words.also, text, also);
    return text;
}

} // namespace becalm::report
