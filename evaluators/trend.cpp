#include "evaluators/trend.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

#include <fmt/format.h>

#include "filters/student_t.h"

namespace becalm::evaluators {
namespace {

constexpr std::size_t least_points = 3;

bool is_level(const Trend& trend) { return trend.unit == "dB"; }

// The logarithm that the line goes through, and back.
double y_of(const Trend& trend, double value) { return is_level(trend) ? value / 20.0 : std::log10(value); }
double value_of(const Trend& trend, double y) { return is_level(trend) ? 20.0 * y : std::pow(10.0, y); }

void fit(Trend& trend, const std::optional<double>& at)
{
    const auto n = static_cast<double>(trend.points.size());
    if (trend.points.size() < least_points) {
        trend.why_not = fmt::format("{} condition{} of it {} known, and a line with its uncertainty takes three",
                                    trend.points.size(), trend.points.size() == 1 ? "" : "s",
                                    trend.points.size() == 1 ? "is" : "are");
        return;
    }
    for (const TrendPoint& point : trend.points)
        if (!(point.at > 0.0) || (!is_level(trend) && !(point.value > 0.0))) {
            trend.why_not =
                fmt::format("condition {} has no logarithm ({:g} at {:g})", point.condition, point.value, point.at);
            return;
        }
    double mean_x = 0.0, mean_y = 0.0;
    for (const TrendPoint& point : trend.points) {
        mean_x += std::log10(point.at) / n;
        mean_y += y_of(trend, point.value) / n;
    }
    double xx = 0.0, xy = 0.0;
    for (const TrendPoint& point : trend.points) {
        const double x = std::log10(point.at) - mean_x;
        xx += x * x;
        xy += x * (y_of(trend, point.value) - mean_y);
    }
    if (trend.points.front().at == trend.points.back().at) {
        trend.why_not = fmt::format("all its conditions state {:g}", trend.points.front().at);
        return;
    }
    const double slope = xy / xx;
    double squares = 0.0;
    for (TrendPoint& point : trend.points) {
        const double off = y_of(trend, point.value) - mean_y - slope * (std::log10(point.at) - mean_x);
        point.off_db = 20.0 * off;
        squares += off * off;
    }
    constexpr double confidence = 0.95; // not a limit: probability of the intervals
    const double s = std::sqrt(squares / (n - 2.0));
    const double reach = filters::t_factor(confidence, static_cast<int>(trend.points.size()) - 2) * s;
    const double slope_reach = reach / std::sqrt(xx);
    trend.exponent = TrendEstimate{slope, slope - slope_reach, slope + slope_reach};
    trend.factor = value_of(trend, mean_y - slope * mean_x);
    trend.scatter_db = 20.0 * s;
    const auto expected_at = [&](double place) {
        const double x = std::log10(place) - mean_x, y = mean_y + slope * x;
        const double y_reach = reach * std::sqrt(1.0 + 1.0 / n + x * x / xx);
        return TrendEstimate{value_of(trend, y), value_of(trend, y - y_reach), value_of(trend, y + y_reach)};
    };
    constexpr int line_steps = 40;
    const double begin = std::min(trend.points.front().at, at.value_or(trend.points.front().at));
    const double end = std::max(trend.points.back().at, at.value_or(trend.points.back().at));
    for (int i = 0; i <= line_steps; ++i) {
        const double place = i == line_steps ? end : begin * std::pow(end / begin, static_cast<double>(i) / line_steps);
        trend.line.push_back({place, expected_at(place)});
    }
    if (!at) return;
    trend.expected = expected_at(*at);
    if (*at < trend.points.front().at || *at > trend.points.back().at)
        trend.notes.push_back(fmt::format("{:g} lies outside of what was measured, {:g} to {:g}", *at,
                                          trend.points.front().at, trend.points.back().at));
}

} // namespace

Result<TrendReport> trends_over(const Survey& survey, const Assessment& assessment, const std::string& over,
                                std::optional<double> at)
{
    const auto refused = [&](std::string what, std::string remedy) {
        return fail({.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)});
    };
    std::set<std::string> stated;
    for (const Condition& condition : survey.conditions)
        for (const auto& [key, value] : condition.values) stated.insert(key);
    if (!stated.contains(over))
        return refused(fmt::format("no condition of the survey states {}", over),
                       stated.empty() ? std::string("write speed_kn = ... or the like into its [[condition]] tables")
                                      : fmt::format("they state {}", fmt::join(stated, ", ")));
    if (at && !(*at > 0.0)) return refused("a power law has no value at 0 or below", "ask for one above 0");

    // More than one verdict of a place, criterion and condition: one an axis.
    using Place = std::tuple<std::string, std::string, std::string>;
    std::map<std::pair<Place, std::string>, int> count;
    std::set<Place> by_axis;
    for (const Verdict& verdict : assessment.verdicts) {
        const Place place{verdict.space, verdict.position, verdict.criterion};
        if (++count[{place, verdict.condition}] > 1) by_axis.insert(place);
    }
    TrendReport report{.title = survey.title, .file = survey.path, .sha256 = survey.sha256, .over = over, .at = at};
    std::map<std::pair<Place, std::string>, std::size_t> index;
    std::vector<std::set<std::string>> axes;
    for (const Verdict& verdict : assessment.verdicts) {
        const Condition* condition = survey.condition(verdict.condition);
        if (!verdict.judged || !verdict.value || condition == nullptr) continue;
        const auto at_point = condition->values.find(over);
        if (at_point == condition->values.end()) continue;
        const Place place{verdict.space, verdict.position, verdict.criterion};
        const auto [found, is_new] =
            index.try_emplace({place, by_axis.contains(place) ? verdict.axis : std::string()}, report.trends.size());
        if (is_new) {
            report.trends.push_back({.space = verdict.space,
                                     .position = verdict.position,
                                     .criterion = verdict.criterion,
                                     .edition = verdict.edition,
                                     .quantity = verdict.quantity,
                                     .unit = verdict.unit});
            axes.emplace_back();
        }
        report.trends[found->second].points.push_back(
            {verdict.condition, at_point->second, *verdict.value, verdict.expanded_uncertainty});
        axes[found->second].insert(verdict.axis);
    }
    for (std::size_t i = 0; i < report.trends.size(); ++i) {
        Trend& trend = report.trends[i];
        trend.axis = fmt::format("{}", fmt::join(axes[i], "+"));
        std::ranges::stable_sort(trend.points, {}, &TrendPoint::at);
        fit(trend, at);
    }
    return report;
}

} // namespace becalm::evaluators
