#include "ui/cli/monitor_figures.h"

#include <chrono>

#include <fmt/format.h>

#include "evaluators/quantity.h"
#include "evaluators/selection.h"
#include "ui/cli/figure_folder.h"
#include "ui/figures/builders.h"
#include "ui/figures/explanation_figures.h"

namespace becalm::cli {
namespace {

using evaluators::local_start;

// By the clock of the place: a night lies where its evening is, whatever the offset.
double clock_s(const std::string& when) { return evaluators::local_s(*local_start(when)); }

figures::PeriodsInput input_of(const MonitorReport& report, const MonitorSeries& series)
{
    const evaluators::Quantity* quantity = evaluators::quantity_named(series.quantity);
    const MonitorSummary& summary = series.summary;
    std::string of = series.condition.empty() ? "" : ", " + series.condition;
    if (!series.period.empty()) of += ", " + series.period;
    if (!series.hours.empty()) of += " " + series.hours;
    figures::PeriodsInput input{
        .heading = {.title = fmt::format("{} {}{}{}", series.space, series.position,
                                         series.axis.empty() ? "" : ", axis " + series.axis, of),
                    .subtitle = fmt::format("{}: {} of {} exceed, {} cannot be judged", series.edition,
                                            summary.exceeded, summary.periods, summary.not_judged)},
        .quantity = quantity == nullptr ? series.quantity : std::string(quantity->meaning),
        .shown = figures::thousandths(series.unit),
        .is_level = series.unit == "dB"};
    for (const Band& band : series.bands)
        input.bands.push_back({.name = band.name, .from = band.from, .limit = band.limit, .exceeds = band.exceeds});
    const double begin = series.periods.empty() ? 0.0 : clock_s(series.periods.front().date + "T00:00:00Z");
    input.start = std::chrono::local_seconds(std::chrono::seconds(std::llround(begin)));
    // Each takes the width of its day, week or hour: a night is drawn on the day it begins in.
    const double width = report.by == MonitorBy::week ? 7.0 * 86400.0 : report.by == MonitorBy::hour ? 3600.0 : 86400.0;
    std::optional<double> before;
    for (const MonitoredPeriod& period : series.periods) {
        const double at =
            clock_s(fmt::format("{}T{}:00Z", period.date, period.hour.empty() ? "00:00" : period.hour)) - begin;
        figures::PeriodValue value{.from_s = at,
                                   .to_s = at + width,
                                   .value = period.verdict.judged ? period.verdict.value : std::nullopt,
                                   .exceeds = period.verdict.exceeded};
        if (period.coverage_percent) value.covered = *period.coverage_percent / 100.0;
        // An hour that the clock shows twice: the greater one is seen.
        if (before && *before == at) {
            figures::PeriodValue& shown = input.periods.back();
            if (value.value && (!shown.value || *shown.value < *value.value)) shown = value;
            continue;
        }
        before = at;
        input.periods.push_back(value);
    }
    return input;
}

} // namespace

Result<std::vector<std::string>> write_figures(const MonitorReport& report, const std::string& folder_name)
{
    FigureFolder folder(folder_name);
    for (const MonitorSeries& series : report.series) {
        const std::string name = fmt::format("{}-{}-{}-{}{}{}", series.space, series.position, series.criterion,
                                             name_of(report.by), series.axis.empty() ? "" : "-" + series.axis,
                                             series.condition.empty() ? "" : "-" + series.condition);
        if (auto written = folder.keep(name, figures::periods_figure(input_of(report, series))); !written)
            return tl::unexpected(written.error());
    }
    return folder.names();
}

} // namespace becalm::cli
