// What a list of verdicts tells beside the verdicts themselves: which is worst, how far the next limit is, where among
// the bands a value lies. Nothing is judged here; band, value and uncertainty are those of the verdict.
#pragma once

#include <QMetaType>
#include <QString>
#include <cstddef>
#include <optional>
#include <string_view>

#include "src/model/assessment.h"
#include "src/model/survey.h"

namespace becalm::desktop {

// Worst first: what is exceeded, by how many times; then what lies nearest to being exceeded (or highest among bands
// that none exceeds); then what cannot be judged; then what has no limits. A strict weak order.
bool is_worse(const Verdict& a, const Verdict& b);

// From the value to a limit, in the verdict's unit: of an exceeded one to where being exceeded begins, of any other to
// the next limit above, in the topmost band to the last one below. Empty where there is no value or no limit, and
// where something else than the value decides (DecisionOutcome).
struct LimitDistance {
    double limit = 0.0;
    double away = 0.0; // >= 0
    bool is_above = false;
    bool within_uncertainty = false;
};
std::optional<LimitDistance> distance_to_limit(const Verdict& verdict);

// "12 mm/s² below the next limit (15 % of it), within the uncertainty".
QString distance_words(const Verdict& verdict);

// Another band would hold the value, if it were off by its expanded uncertainty.
bool is_near_limit(const Verdict& verdict);

// Where among the bands, mildest first.
struct BandPlace {
    enum class State { nothing, cannot_be_judged, no_limits, in_band };
    State state = State::nothing;
    std::size_t band = 0, bands = 0;
    std::size_t exceeds_from = 0; // the first band that exceeds; `bands`: none does

    bool exceeded() const { return state == State::in_band && band >= exceeds_from; }
    friend bool operator==(const BandPlace&, const BandPlace&) = default;
};
BandPlace band_place(const Verdict* verdict); // null: nothing

// ".#." for the second of three bands, "?" for what cannot be judged, "-" where there are no limits, empty for nothing.
QString place_glyph(const BandPlace& place);

// What the survey calls them, else their ids.
QString space_words(const Survey& survey, std::string_view id);
QString condition_words(const Survey& survey, std::string_view id);

// "ISO 6954:2000, Habitability on passenger and merchant ships": what is known of edition and title, else the id.
QString criterion_words(std::string_view edition, std::string_view title, std::string_view id);
inline QString criterion_words(const Verdict& verdict)
{
    return criterion_words(verdict.edition, verdict.title, verdict.criterion);
}

} // namespace becalm::desktop

Q_DECLARE_METATYPE(becalm::desktop::BandPlace)
