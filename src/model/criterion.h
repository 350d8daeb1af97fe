// A criterion: what is compared with what. It holds no code; a file under data/criteria (or beside a survey) says it
// all.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/model/axis.h"
#include "src/model/survey.h"
#include "src/model/weighting_id.h"

namespace becalm {

// A named range of values. Bands are listed from the mildest to the most severe; a value belongs to the most severe
// band whose range holds it (ranges may overlap where the publication's do).
struct Band {
    std::string name; // in the publication's own words
    std::optional<double> from =
        {}; // lowest value of the band where ranges overlap; empty: the limit of the band before
    std::optional<double> limit = {}; // upper end; empty: no upper end
    bool inclusive = false;           // the limit itself belongs to this band ("up_to" in the file; "below" otherwise)
    bool exceeds = false;             // a value here exceeds what the publication allows or asks for
};

// Limits of a decision in two steps: the greatest value first, the average over the period where that leaves it open
// (evaluators/din4150_2.h).
struct DecisionLimits {
    double lower = 0.0;                 // at most this: met
    double upper = 0.0;                 // above this: not met
    std::optional<double> average = {}; // between the two the average decides; empty: not met there
};

struct Scale {
    std::string use; // of the space; "any" fits every use
    std::vector<Band> bands;
    std::optional<DecisionLimits> decision = {}; // in place of bands
    int line = 0;
};

// How a value per axis becomes the value that is compared.
enum class AxisRule {
    each,          // every axis apart, a verdict each
    highest,       // the greatest axis governs
    vertical,      // z only
    total,         // root of the sum of squares with the factors (vibration total value)
    sum_of_totals, // a total for each group of terms, added up
    ratio          // total of group 1 over total of group 2, in per cent
};

inline constexpr std::array<AxisRule, 6> all_axis_rules{AxisRule::each,  AxisRule::highest,       AxisRule::vertical,
                                                        AxisRule::total, AxisRule::sum_of_totals, AxisRule::ratio};

std::string_view name_of(AxisRule rule); // "each", ...
std::optional<AxisRule> axis_rule_named(std::string_view name);

// How the values of several conditions of one period, or of the tasks of a person's day, become one.
enum class PartsRule {
    each,            // a verdict each
    sum,             // added up
    root_sum_square, // energies add up
    root_sum_quad,   // fourth powers add up (doses)
    highest          // the greatest governs
};

inline constexpr std::array<PartsRule, 5> all_parts_rules{PartsRule::each, PartsRule::sum, PartsRule::root_sum_square,
                                                          PartsRule::root_sum_quad, PartsRule::highest};

std::string_view name_of(PartsRule rule); // "each", "sum", "root_sum_square", ...
std::optional<PartsRule> parts_rule_named(std::string_view name);

// How repeated recordings of one axis, place and condition become one.
enum class RepeatsRule {
    pooled, // one longer record: sums add, maxima compete
    mean,   // arithmetic mean of the values
    highest // the greatest governs
};

inline constexpr std::array<RepeatsRule, 3> all_repeats_rules{RepeatsRule::pooled, RepeatsRule::mean,
                                                              RepeatsRule::highest};

std::string_view name_of(RepeatsRule rule);
std::optional<RepeatsRule> repeats_rule_named(std::string_view name);

// A stretch of every day by the local clock, minutes after midnight; from > to runs past midnight.
struct ClockSpan {
    int from_min = 0, to_min = 0;

    friend bool operator==(const ClockSpan&, const ClockSpan&) = default;
};

// Hours of rest inside a period, which count more.
struct RestHours {
    double factor = 1.0;                      // of their squared values
    std::vector<ClockSpan> hours = {};        // Monday to Saturday
    std::vector<ClockSpan> sunday_hours = {}; // Sundays; holidays are for the survey to say
};

// A decision that looks at a second quantity where the first leaves it open.
struct DecisionRule {
    std::string average_quantity = {}; // a name of evaluators/quantity.h
    bool strict = false;               // a value equal to a limit does not keep it
    double rare_events = 0.0;          // so few events in the period need no average
};

// A curve over frequency, straight between its points on logarithmic axes.
struct CurvePoint {
    double hz = 0.0, value = 0.0;
};

struct AxisTerm {
    Axis axis = Axis::z;
    WeightingId weighting = WeightingId::none;
    double factor = 1.0;                           // multiplying factor k
    std::optional<Position> position = {};         // where the axis is measured; empty: wherever the recording was made
    int group = 1;                                 // terms of a group form one total (sum_of_totals)
    std::map<std::string, double> parameters = {}; // in place of the criterion's own
};

struct Criterion {
    std::string id;
    std::string title;
    std::vector<Setting> settings; // empty: any
    std::string source;            // key in sources.toml
    std::string edition;           // from sources.toml
    std::string clause;
    std::string quantity; // a name of evaluators/quantity.h
    std::string unit;     // of the compared value
    AxisRule rule = AxisRule::each;
    std::vector<AxisTerm> terms;     // axes that count, with weighting and factor
    std::vector<Axis> needed;        // axes without which nothing can be judged; the rest is wished for
    std::vector<Position> positions; // empty: any
    RepeatsRule repeats = RepeatsRule::pooled;
    PartsRule conditions = PartsRule::each; // of a period that state how long or how often they last; tasks likewise
    bool highest_position = false;          // the position with the greatest value governs (the two hands)
    std::string period;                     // "", "day", "night", ...
    std::vector<ClockSpan> hours;           // of the period, by the clock
    std::optional<RestHours> rest;
    std::optional<DecisionRule> decision;
    std::map<Axis, std::vector<CurvePoint>> curves; // of quantities that compare a spectrum with a curve
    std::optional<double> reference_h;              // reference duration of a dose or exposure, hours
    double least_duration_s = 0.0;                  // a shorter selection cannot be judged
    double wished_duration_s = 0.0;                 // a shorter one is judged with a caution
    std::vector<Scale> scales;                      // empty: the publication sets no limits, the value is reported
    std::map<std::string, double> parameters; // of the quantity, by name: evaluators/quantity.h says which it knows
    int least_recordings = 1;                 // fewer recordings (events, sections) of an axis cannot be judged
    bool check_first =
        false; // switched off until the survey says by whom the numbers were compared with the publication
    bool limits_missing = false; // the publication sets limits, but they are not in the program
    std::string confirmed;       // "from memory", a key in sources.toml, ...
    std::string note;            // shown with every verdict
    std::string path;            // file it came from
    bool is_local = false;       // not one of the program's own
    bool overrides = false;      // a local edition of a criterion of the program's own
    std::string sha256;
};

} // namespace becalm
