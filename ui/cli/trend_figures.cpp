#include "ui/cli/trend_figures.h"

#include <algorithm>

#include <fmt/format.h>

#include "ui/cli/figure_folder.h"
#include "ui/figures/explanation_figures.h"

namespace becalm::cli {
namespace {

// "speed_kn" → speed, kn: the unit is what stands behind the last underscore, where that is one.
std::pair<std::string, std::string> name_and_unit(const std::string& key)
{
    static constexpr std::array<std::pair<std::string_view, std::string_view>, 10> units{{{"_kn", "kn"},
                                                                                          {"_km_h", "km/h"},
                                                                                          {"_m_s", "m/s"},
                                                                                          {"_rpm", "1/min"},
                                                                                          {"_percent", "%"},
                                                                                          {"_per_h", "1/h"},
                                                                                          {"_hz", "Hz"},
                                                                                          {"_kw", "kW"},
                                                                                          {"_t", "t"},
                                                                                          {"_m", "m"}}};
    std::string name = key, unit;
    for (const auto& [ending, in_words] : units)
        if (key.size() > ending.size() && key.ends_with(ending)) {
            name = key.substr(0, key.size() - ending.size());
            unit = in_words;
            break;
        }
    std::ranges::replace(name, '_', ' ');
    return {name, unit};
}

std::string with_words(std::string quantity)
{
    std::ranges::replace(quantity, '_', ' ');
    return quantity;
}

} // namespace

Result<std::vector<std::string>> write_figures(const TrendReport& report, const std::string& folder_name)
{
    FigureFolder folder(folder_name);
    const auto [over, unit] = name_and_unit(report.over);
    for (const Trend& trend : report.trends) {
        if (trend.points.empty()) continue;
        figures::TrendInput input;
        input.heading.title = fmt::format("{} {} over {}", trend.space, trend.position, over);
        input.heading.subtitle = fmt::format("{}, axis {}", trend.edition, trend.axis);
        input.heading.notes = trend.notes;
        input.over = over;
        input.over_shown.unit = unit;
        input.quantity = with_words(trend.quantity);
        input.shown = figures::shown_in(trend.unit);
        for (const TrendPoint& point : trend.points) {
            input.points.push_back({point.condition, point.at, point.value, point.expanded_uncertainty});
            input.logarithmic = input.logarithmic && point.at > 0.0 && point.value > 0.0;
        }
        if (trend.unit == "dB") input.logarithmic = false;
        for (const TrendLinePoint& point : trend.line) {
            input.at.push_back(point.at);
            input.line.push_back(point.value.value);
            input.low.push_back(point.value.low);
            input.high.push_back(point.value.high);
        }
        if (trend.exponent)
            input.line_words = fmt::format("exponent {:.2f} ({:.2f} to {:.2f})", trend.exponent->value,
                                           trend.exponent->low, trend.exponent->high);
        if (!trend.why_not.empty()) input.heading.notes.push_back("no line, because " + trend.why_not);
        const std::string name =
            fmt::format("{}-{}-{}-{}-trend", trend.space, trend.position, trend.criterion, trend.axis);
        if (auto written = folder.keep(name, figures::trend_figure(input)); !written)
            return tl::unexpected(written.error());
    }
    return folder.names();
}

} // namespace becalm::cli
