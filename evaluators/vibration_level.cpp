#include "evaluators/vibration_level.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "evaluators/en12299.h"
#include "evaluators/stated_in.h"
#include "evaluators/third_octaves.h"

namespace becalm::evaluators::vibration_level {
namespace {

double reference_of(const QuantityArguments& arguments) { return parameter(arguments, "reference", 1e-6); }

QuantityResult level(double rms, const QuantityArguments& arguments, std::vector<std::string> notes)
{
    if (!(rms > 0.0))
        return fail({.what = "there is no motion at all, which has no level", .remedy = "check the channel"});
    notes.insert(notes.begin(), fmt::format("dB re {:.3g} m/s2", reference_of(arguments)));
    return QuantityValue{.value = level_db(rms, reference_of(arguments)), .notes = std::move(notes)};
}

std::int64_t step_s_of(const QuantityArguments& arguments)
{
    return std::max<std::int64_t>(1, std::llround(parameter(arguments, "step_s", 5.0)));
}

double percent_of(const QuantityArguments& arguments)
{
    return std::clamp(parameter(arguments, "percent", 10.0), 0.0, 100.0);
}

std::string weighting_note(const QuantityArguments& arguments)
{
    return fmt::format("weighted by {} in place of the publication's asymptotes{}", name_of(arguments.weighting),
                       arguments.weighting == WeightingId::Wg
                           ? ", which from 1.25 Hz to 63 Hz it follows to 1 dB, and up to 1.6 dB too low beyond"
                           : "");
}

} // namespace

double vertical_weight(double hz)
{
    if (hz < 4.0) return 0.5 * std::sqrt(hz);
    return hz <= 8.0 ? 1.0 : 8.0 / hz;
}

QuantityResult vibration_level(const QuantityArguments& arguments)
{
    const auto values = third_octaves_of(arguments, Motion::acceleration, 1.0, 80.0, vertical_weight);
    if (!values) return tl::unexpected(values.error());
    double squares = 0.0;
    for (const BandValue& value : values->bands) squares += value.rms * value.rms;
    return level(std::sqrt(squares), arguments, values->notes);
}

QuantityResult vibration_level_max(const QuantityArguments& arguments)
{
    if (const auto problem = unless_stated_in(arguments, Motion::acceleration)) return fail(*problem);
    return level(arguments.tally.exponential_rms_slow, arguments,
                 {"running r.m.s. exponential, 1 s", weighting_note(arguments)});
}

ValueSeries sample_series(const QuantityArguments& arguments)
{
    ValueSeries series{.percent = 100.0 - percent_of(arguments), .are_rms = true};
    const std::int64_t step = step_s_of(arguments);
    for (const SelectedRows& recording : arguments.rows) {
        const Ledger& ledger = *recording.ledger;
        std::int64_t counted = 0;
        const auto [begin, end] = rows_near(ledger, recording.selected);
        for (std::size_t i = begin; i < end; ++i) {
            const double second = static_cast<double>(ledger.first_second) + static_cast<double>(i);
            const bool inside = std::ranges::any_of(recording.selected, [&](const TimeSpan& span) {
                return second >= span.from_s && second + 1.0 <= span.to_s + 1.0 / ledger.rate_hz;
            });
            if (inside && counted++ % step == 0) series.values.push_back(ledger.rows[i].exponential_rms_slow);
        }
    }
    return series;
}

QuantityResult vibration_level_l10(const QuantityArguments& arguments)
{
    if (const auto problem = unless_stated_in(arguments, Motion::acceleration)) return fail(*problem);
    const std::int64_t step = step_s_of(arguments);
    const double percent = percent_of(arguments);
    std::vector<double> samples = sample_series(arguments).values;
    if (samples.empty()) return fail({.what = "no whole second is left", .remedy = "measure longer or exclude less"});
    const std::size_t count = samples.size();
    return level(en12299::percentile(std::move(samples), 100.0 - percent), arguments,
                 {fmt::format("exceeded by {:.3g} % of {} samples, {} s apart; of a sample's second the greatest "
                              "running r.m.s. (exponential, 1 s), so rather too high",
                              percent, count, step),
                  weighting_note(arguments)});
}

} // namespace becalm::evaluators::vibration_level
