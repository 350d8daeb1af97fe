#include "src/model/ledger_lane.h"

#include <cmath>

namespace becalm {

const std::array<LedgerField, ledger_fields>& fields_of_ledger()
{
    using Of = LedgerFieldUnit;
    static constexpr std::array<LedgerField, ledger_fields> fields{{
        {"second", true, Of::seconds, "of the recording: the row is of [second, second + 1)"},
        {"samples", true, Of::none, "in this second; the last one may be short"},
        {"left_out", true, Of::none, "1: excluded by the survey, or outside of the events that it lists; 0: counts"},
        {"rms", false, Of::lane, "root of the mean square over this second"},
        {"peak", false, Of::lane, "greatest magnitude"},
        {"running_rms", false, Of::lane,
         "greatest running r.m.s., linear over 1 s, of windows that end in this second"},
        {"running_rms_within", false, Of::lane, "the same of windows that lie wholly in this second"},
        {"running_rms_slow", false, Of::lane, "greatest running r.m.s., exponential, time constant 1 s"},
        {"running_rms_fast", false, Of::lane, "greatest running r.m.s., exponential, time constant 0.125 s"},
        {"sum_squares", false, Of::lane_squared, "sum of the squared samples"},
        {"sum_fourths", false, Of::lane_fourth, "sum of the fourth powers of the samples; a dose adds them up"},
        {"recorded_min", false, Of::recorded, "least value of the channel as recorded, offset included, no weighting"},
        {"recorded_max", false, Of::recorded, "greatest value of the channel as recorded"},
    }};
    return fields;
}

std::string unit_of(const LedgerField& field, const LedgerLane& lane)
{
    switch (field.unit) {
    case LedgerFieldUnit::seconds: return "s";
    case LedgerFieldUnit::lane: return lane.unit;
    case LedgerFieldUnit::lane_squared: return "(" + lane.unit + ")^2";
    case LedgerFieldUnit::lane_fourth: return "(" + lane.unit + ")^4";
    case LedgerFieldUnit::recorded: return lane.recorded_unit;
    case LedgerFieldUnit::none: break;
    }
    return {};
}

std::array<LedgerNumber, ledger_fields> ledger_numbers(const LedgerLane& lane, std::size_t i)
{
    const LedgerRow& row = lane.ledger->rows[i];
    const auto whole = [](std::int64_t value) { return LedgerNumber{.whole = value}; };
    const auto real = [](double value) { return LedgerNumber{.real = value}; };
    const double rms = row.samples > 0 ? std::sqrt(row.sum_squares / row.samples) : 0.0;
    return {whole(lane.ledger->first_second + static_cast<std::int64_t>(i)),
            whole(row.samples),
            whole(is_selected(*lane.ledger, i, lane.selected) ? 0 : 1),
            real(rms),
            real(row.peak),
            real(row.linear_rms),
            real(row.linear_rms_within),
            real(row.exponential_rms_slow),
            real(row.exponential_rms_fast),
            real(row.sum_squares),
            real(row.sum_fourths),
            real(row.raw_min),
            real(row.raw_max)};
}

} // namespace becalm
