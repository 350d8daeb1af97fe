#include "evaluators/term_value.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "evaluators/fitness.h"
#include "evaluators/selection.h"
#include "evaluators/stated_in.h"

namespace becalm::evaluators {
namespace {

// An event's seconds, widened to whole ones: its ends lie inside seconds of the ledger that belong to it in part.
std::vector<TimeSpan> widened(std::vector<TimeSpan> spans, double duration_s)
{
    for (TimeSpan& span : spans) span = {std::floor(span.from_s), std::min(std::ceil(span.to_s), duration_s)};
    return spans;
}

double length_of(const std::vector<TimeSpan>& spans)
{
    double sum = 0.0;
    for (const TimeSpan& span : spans) sum += span.to_s - span.from_s;
    return sum;
}

// The ledger's values are taken for accelerations.
bool is_of_acceleration(const Quantity& quantity)
{
    return quantity.needs == needs_ledger &&
           (quantity.unit == "m/s2" || quantity.unit == "m/s^1.75" || quantity.unit == "m/s^1.5");
}

// What one part gives to one axis.
class PartValue {
public:
    PartValue(const Criterion& criterion, const Quantity& quantity, const AxisTerm& term, const Part& part,
              std::optional<Position> only)
        : criterion_(criterion), quantity_(quantity), term_(term), part_(part), only_(only)
    {
        arguments_.axis = term.axis;
        arguments_.weighting = term.weighting;
        arguments_.parameters = term.parameters;
        arguments_.parameters.insert(criterion.parameters.begin(), criterion.parameters.end()); // the term's own win
        if (const auto curve = criterion.curves.find(term.axis); curve != criterion.curves.end())
            arguments_.curve = curve->second;
        if (criterion.reference_h) arguments_.reference_s = *criterion.reference_h * 3600.0;
        arguments_.exposed_s = part.exposed_s;
        arguments_.events = part.events;
    }

    std::optional<Refusal> gather()
    {
        for (const Measured* measured : part_.group) {
            const ChannelMapping* mapping = measured->mapping(term_.axis);
            const Recording& recording = *measured->recording;
            if (mapping == nullptr || !is_taken_at(term_, recording) || (only_ && *only_ != recording.position))
                continue;
            if (auto refusal = gather(*measured, mapping->channel)) return refusal;
        }
        if (recordings_.empty()) return {};
        if (arguments_.recordings.empty())
            return Refusal{fmt::format("{}: nothing is left of its {:.3f} s after what is excluded",
                                       recordings_.front()->file, duration_)};
        if (measured_s_ < criterion_.least_duration_s)
            return Refusal{fmt::format("{:.3f} s of axis {} can be used, and {} asks for at least {:.0f} s; measure "
                                       "longer",
                                       measured_s_, name_of(term_.axis), criterion_.edition,
                                       criterion_.least_duration_s)};
        // The events that a recording lists are all there were, unless the condition knows better.
        const bool lists_events =
            std::ranges::any_of(recordings_, [](const Recording* recording) { return !recording->events.empty(); });
        if (lists_events && !arguments_.events && !arguments_.exposed_s)
            arguments_.events = static_cast<double>(arguments_.recordings.size());
        arguments_.events_listed =
            std::ranges::none_of(recordings_, [](const Recording* recording) { return recording->events.empty(); });
        return {};
    }

    QuantityResult evaluate()
    {
        // Without a weighting a velocity stays one, and is no number of m/s2.
        if (is_of_acceleration(quantity_))
            if (const auto problem = unless_stated_in(arguments_, Motion::acceleration)) return fail(*problem);
        const std::size_t count = arguments_.recordings.size();
        if (criterion_.repeats == RepeatsRule::pooled || count < 2) return quantity_.evaluate(arguments_);
        std::vector<double>& values = each_;
        QuantityValue result;
        for (std::size_t i = 0; i < count; ++i) {
            QuantityResult one = quantity_.evaluate(alone(arguments_, i));
            if (!one) return one;
            values.push_back(one->value);
            if (i == 0) result.notes = std::move(one->notes);
        }
        const bool highest = criterion_.repeats == RepeatsRule::highest;
        result.value = highest ? std::ranges::max(values)
                               : std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(count);
        result.notes.push_back(fmt::format("{} of {} recordings, {:.4g} to {:.4g}", highest ? "greatest" : "mean",
                                           count, std::ranges::min(values), std::ranges::max(values)));
        return result;
    }

    // `value`: what evaluate() gave.
    tl::expected<RecordStatistic, std::string> statistic(double value) const
    {
        return record_statistic(quantity_, arguments_, criterion_.repeats, value, each_);
    }

    void note(Notes& notes) const
    {
        if (left_out_ > 0.0)
            notes.add(fmt::format("the first {:.0f} s are left out while the filter settles", left_out_));
        if (excluded_ > 0.5) notes.add(fmt::format("{:.0f} s excluded", excluded_));
        if (part_.by_clock)
            notes.add(fmt::format("by the clock: {:.0f} s lie in the {}{}", measured_s_, criterion_.period,
                                  part_.clock == ClockPart::resting   ? ", hours of rest"
                                  : part_.clock == ClockPart::working ? ", outside the hours of rest"
                                                                      : ""));
        if (measured_s_ < criterion_.wished_duration_s)
            notes.add(fmt::format("{:.0f} s can be used; {:.0f} s are wished for", measured_s_,
                                  criterion_.wished_duration_s));
    }

    const QuantityArguments& arguments() const { return arguments_; }
    const std::vector<const Recording*>& recordings() const { return recordings_; }
    double drift_percent() const { return drift_percent_; }
    const std::string& drift_sensor() const { return drift_sensor_; }

private:
    std::optional<Refusal> gather(const Measured& measured, int channel)
    {
        const Recording& recording = *measured.recording;
        if (!measured.pass) return Refusal{measured.unreadable};
        const auto& refusals = part_.refused(measured);
        if (const auto refused = refusals.find(channel); refused != refusals.end())
            return Refusal{fmt::format("{}: {}", recording.file, refused->second)};
        const Lane lane{channel, term_.axis, term_.weighting};
        const auto result = std::ranges::find(measured.pass->lanes, lane, &LaneResult::lane);
        BECALM_ASSERT(result != measured.pass->lanes.end());
        if (result->refused)
            return Refusal{fmt::format("{}: {}; {}", recording.file, result->refused->what, result->refused->remedy)};

        if (result->swings && result->swings->refused)
            return Refusal{fmt::format("{}: {}; {}", recording.file, result->swings->refused->what,
                                       result->swings->refused->remedy)};

        arguments_.motion = measured.motion;
        duration_ = measured.pass->duration_s;
        const double run_in = run_in_for(term_.weighting, duration_);
        const TimeSpan settling{0.0, run_in};
        const auto settled = selection(duration_, run_in, recording.excluded);
        const auto recorded = selection(duration_, 0.0, recording.excluded);
        recordings_.push_back(&recording);
        if (std::abs(measured.drift_percent) > std::abs(drift_percent_)) {
            drift_percent_ = measured.drift_percent;
            drift_sensor_ = recording.sensor;
        }
        for (const auto& stretch : stretches(measured, part_, criterion_)) {
            const bool is_event = !recording.events.empty();
            const auto wanted = is_event ? widened(stretch, duration_) : stretch;
            const auto selected = common(settled, wanted);
            const Tally tally = fold(result->ledger, selected);
            const auto settling_here = common(wanted, std::span(&settling, 1));
            measured_s_ +=
                settling_here.empty() ? tally.duration_s : fold(result->ledger, common(recorded, wanted)).duration_s;
            const double run_in_here = length_of(settling_here);
            left_out_ = std::max(left_out_, run_in_here);
            if (!part_.by_clock && !is_event) excluded_ += length_of(wanted) - run_in_here - tally.duration_s;
            if (tally.samples == 0) continue;
            if (auto refusal = cut_spectra(measured, channel, common(recorded, wanted))) return refusal;
            arguments_.recordings.push_back(tally);
            arguments_.rows.push_back({&result->ledger, selected});
            take_reduced(measured, channel, *result, common(recorded, wanted), common(recorded, stretch));
            arguments_.tally = merge(arguments_.tally, tally);
        }
        return {};
    }

    // A window that begins or ends inside a recording takes the rows of its spectra that lie wholly inside. Rows of a
    // long recording are long; what they leave out at the ends has to be little.
    std::optional<Refusal> cut_spectra(const Measured& measured, int channel, const std::vector<TimeSpan>& seconds)
    {
        constexpr double least_told = 0.9; // not a limit: share of the seconds, common practice, no source
        if (!(quantity_.needs & needs_spectra) || part_.window == nullptr) return {};
        const TimeSpan whole{0.0, measured.pass->duration_s};
        if (without(std::span(&whole, 1), part_.window->of(measured).spans).empty()) return {};
        const ChannelResult* result = measured.channel(channel);
        BECALM_ASSERT(result != nullptr && result->spectra);
        std::vector<TimeSpan> outside{whole};
        double longest = 0.0;
        for (const SpectralRow& row : result->spectra->rows) {
            longest = std::max(longest, row.to_s - row.from_s);
            const bool inside = std::ranges::any_of(
                seconds, [&](const TimeSpan& span) { return row.from_s >= span.from_s && row.to_s <= span.to_s; });
            const TimeSpan told{row.from_s, row.to_s};
            if (inside) outside = without(outside, std::span(&told, 1));
        }
        const double wanted = length_of(seconds), told = wanted - length_of(common(seconds, outside));
        if (told >= least_told * wanted) return {};
        return Refusal{fmt::format("{}: its spectra are kept in rows of {:.0f} s, and those that lie wholly inside "
                                   "tell of {:.0f} s of {:.0f} s; record in files of a day or of an hour",
                                   measured.recording->file, longest, told, wanted)};
    }

    // What the reducers gathered of this recording or event. Spectra and swings count by whole seconds as the ledger
    // does, the motion to the bin.
    void take_reduced(const Measured& measured, int channel, const LaneResult& lane,
                      const std::vector<TimeSpan>& seconds, const std::vector<TimeSpan>& exactly)
    {
        if (quantity_.needs & needs_spectra) {
            const ChannelResult* result = measured.channel(channel);
            BECALM_ASSERT(result != nullptr && result->spectra);
            arguments_.spectra.push_back({&*result->spectra, seconds});
        }
        if (quantity_.needs & needs_swings) {
            BECALM_ASSERT(lane.swings.has_value());
            arguments_.swings.push_back({&lane.swings->swings, seconds});
        }
        if (!(quantity_.needs & needs_motion)) return;
        // Other axes of the same file may stand in a [[recording]] of their own (rotations have another unit).
        for (const Measured* other : part_.group) {
            if (other->recording->file != measured.recording->file || !other->pass) continue;
            for (const ChannelMapping& mapping : other->recording->channels) {
                const ChannelResult* result = other->channel(mapping.channel);
                if (result == nullptr || !result->motion || part_.refused(*other).contains(mapping.channel)) continue;
                auto& taken = mapping.axis == term_.axis ? arguments_.motions : arguments_.beside[mapping.axis];
                if (mapping.axis != term_.axis || other == &measured)
                    taken.push_back({&*result->motion, exactly, other->motion});
            }
        }
    }

    const Criterion& criterion_;
    const Quantity& quantity_;
    const AxisTerm& term_;
    const Part& part_;
    std::optional<Position> only_;
    QuantityArguments arguments_;
    std::vector<const Recording*> recordings_;
    double drift_percent_ = 0.0; // the greatest of theirs
    std::string drift_sensor_;
    std::vector<double> each_; // values of recordings that are not pooled
    double duration_ = 0.0;
    double left_out_ = 0.0, excluded_ = 0.0;
    double measured_s_ = 0.0; // what a publication's least duration is about: the run-in was measured as well
};

} // namespace

void Notes::add(std::string text)
{
    if (std::ranges::find(texts_, text) == texts_.end()) texts_.push_back(std::move(text));
}

double combined(PartsRule rule, std::span<const double> values)
{
    BECALM_ASSERT(!values.empty());
    if (values.size() == 1) return values.front();
    const auto root_of_powers = [&](double power) {
        double sum = 0.0;
        for (const double value : values) sum += std::pow(value, power);
        return std::pow(sum, 1.0 / power);
    };
    switch (rule) {
    case PartsRule::sum: return std::accumulate(values.begin(), values.end(), 0.0);
    case PartsRule::root_sum_square: return root_of_powers(2.0);
    case PartsRule::root_sum_quad: return root_of_powers(4.0);
    case PartsRule::each:
    case PartsRule::highest: break;
    }
    return std::ranges::max(values);
}

std::vector<double> shares_of(PartsRule rule, std::span<const double> values)
{
    const double whole = combined(rule, values);
    std::vector<double> shares(values.size(), values.size() == 1 ? 1.0 : 0.0);
    if (values.size() == 1 || !(whole > 0.0)) return shares;
    const auto of_powers = [&](double power) {
        for (std::size_t i = 0; i < values.size(); ++i) shares[i] = std::pow(values[i] / whole, power);
    };
    switch (rule) {
    case PartsRule::sum: of_powers(1.0); break;
    case PartsRule::root_sum_square: of_powers(2.0); break;
    case PartsRule::root_sum_quad: of_powers(4.0); break;
    case PartsRule::each:
    case PartsRule::highest: shares[static_cast<std::size_t>(std::ranges::max_element(values) - values.begin())] = 1.0;
    }
    return shares;
}

tl::expected<std::optional<TermValue>, Refusal> term_value(const Criterion& criterion, const Quantity& quantity,
                                                           const AxisTerm& term, std::span<const Part> parts,
                                                           std::optional<Position> only, Notes& notes)
{
    TermValue result;
    result.shown = {.axis = std::string(name_of(term.axis)),
                    .group = term.group,
                    .weighting = std::string(name_of(term.weighting)),
                    .factor = term.factor};
    if (term.position) result.shown.position = name_of(*term.position);
    std::vector<double> values;
    std::size_t counted = 0;
    // The greatest value of a decision is that of the whole period: rest and the sum of energies are the average's.
    const bool is_greatest = criterion.decision && quantity.name != criterion.decision->average_quantity;
    for (const Part& part : parts) {
        PartValue one(criterion, quantity, term, part, only);
        if (auto refusal = one.gather()) return tl::unexpected(std::move(*refusal));
        if (one.recordings().empty()) return std::optional<TermValue>();
        counted += one.arguments().recordings.size();
        QuantityResult value = one.evaluate();
        if (!value) {
            // Too few recordings is what the reader has to know first.
            if (counted < static_cast<std::size_t>(criterion.least_recordings)) break;
            return tl::unexpected(Refusal{fmt::format("{}; {}", value.error().what, value.error().remedy)});
        }
        result.statistics.push_back({.statistic = one.statistic(value->value)});
        if (part.rest && criterion.rest && !is_greatest) value->value *= std::sqrt(criterion.rest->factor);
        values.push_back(value->value);
        for (std::string& text : value->notes) notes.add(std::move(text));
        one.note(notes);
        result.recordings.insert(result.recordings.end(), one.recordings().begin(), one.recordings().end());
        if (std::abs(one.drift_percent()) > std::abs(result.drift_percent)) {
            result.drift_percent = one.drift_percent();
            result.drift_sensor = one.drift_sensor();
        }
        result.shown.duration_s += one.arguments().tally.duration_s;
        if (parts.size() > 1)
            result.shown.parts.push_back(
                {.condition = part.condition == nullptr ? std::string() : part.condition->id,
                 .space = part.space,
                 .rest = part.rest,
                 .value = value->value,
                 .exposed_h = part.exposed_s ? std::optional(*part.exposed_s / 3600.0) : std::nullopt,
                 .events = part.events,
                 .duration_s = one.arguments().tally.duration_s});
    }
    if (counted < static_cast<std::size_t>(criterion.least_recordings))
        return tl::unexpected(Refusal{fmt::format(
            "there are {} recordings of axis {}, and {} asks for at least {}; record more events or sections", counted,
            name_of(term.axis), criterion.edition, criterion.least_recordings)});
    for (const Recording* recording : result.recordings)
        if (std::ranges::find(result.shown.recordings, recording->file) == result.shown.recordings.end())
            result.shown.recordings.push_back(recording->file);
    const PartsRule rule = is_greatest ? PartsRule::highest : criterion.conditions;
    result.shown.value = combined(rule, values);
    const std::vector<double> shares = shares_of(rule, values);
    for (std::size_t i = 0; i < shares.size(); ++i) result.statistics[i].share = shares[i];
    return std::optional(std::move(result));
}

} // namespace becalm::evaluators
