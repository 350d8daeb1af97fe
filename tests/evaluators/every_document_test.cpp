// Every document that is shipped judges a recording made for it: what it asks for of axes, positions, periods, events,
// durations and persons is put together from the criterion itself. The motion is invented; the values are not looked
// at, only that there is one, that its band follows from it, and that a form says that it is one.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <string>

#include <gmock/gmock.h>

#include "evaluators/quantity.h"

#include "tests/evaluators/case.h"

namespace becalm::evaluators {
namespace {

using testing::HasSubstr;
using namespace tests;

// A line at 2 Hz, as of a footbridge or a tower, one higher up, and noise.
Signal motion(double amplitude, double rate_hz, double seconds, unsigned seed)
{
    Signal signal = noise(static_cast<std::size_t>(std::llround(rate_hz * seconds)), seed);
    for (std::size_t i = 0; i < signal.size(); ++i) {
        const double t = static_cast<double>(i) / rate_hz;
        signal[i] = amplitude * (std::sin(2.0 * std::numbers::pi * 2.0 * t) +
                                 std::sin(2.0 * std::numbers::pi * (9.0 + seed) * t) + 0.3 * signal[i]);
    }
    return signal;
}

bool weights_hands(const Criterion& criterion)
{
    return std::ranges::any_of(criterion.terms, [](const AxisTerm& term) { return term.weighting == WeightingId::Wh; });
}

class Occasion {
public:
    explicit Occasion(const Criterion& criterion)
        : criterion_(criterion),
          survey_(std::string(name_of(criterion.settings.empty() ? Setting::building : criterion.settings.front())))
    {
    }

    Assessment judged()
    {
        survey_.space("p", use());
        survey_.table(
            fmt::format("[[condition]]\nid = \"c\"\nexposure_h = 2.0\nspeed_km_h = 80\nshaft_rpm = 100\n{}",
                        criterion_.period.empty() ? "" : fmt::format("period = \"{}\"\n", criterion_.period)));
        for (const Position position : positions()) record(position);
        constexpr double day_h = 24.0; // not a limit: a longer reference is that of a week
        if (criterion_.reference_h.value_or(0.0) > day_h)
            survey_.table("[[exposure]]\nperson = \"A\"\nday = \"Monday\"\ntasks = [ { space = \"p\", position = \"" +
                          std::string(name_of(*positions().begin())) + "\", condition = \"c\", hours = 4.0 } ]");
        survey_.table(fmt::format("[[judge]]\ncriteria = [\"{}\"]\nconfirmed-by = \"this test\"", criterion_.id));
        return survey_.assessment();
    }

private:
    std::string use() const
    {
        if (criterion_.scales.empty() || criterion_.scales.front().use == "any") return "room";
        return criterion_.scales.front().use;
    }

    std::set<Position> positions() const
    {
        std::set<Position> places;
        for (const AxisTerm& term : criterion_.terms)
            if (term.position) places.insert(*term.position);
        if (places.empty())
            places.insert(criterion_.positions.empty() ? Position::floor : criterion_.positions.front());
        return places;
    }

    void record(Position position)
    {
        const double rate_hz = weights_hands(criterion_) ? 4096.0 : 512.0;
        const double seconds = std::max(weights_hands(criterion_) ? 60.0 : 130.0, criterion_.least_duration_s + 10.0);
        const int count = std::max(criterion_.least_recordings, criterion_.quantity == "ranked_velocity" ? 6 : 1);
        const bool moves =
            criterion_.quantity == "curve_transition_percent" || criterion_.quantity == "discrete_event_percent";
        std::string more = fmt::format("condition = \"c\"\nposition = \"{}\"\n", name_of(position));
        if (moves) more += "events = [ { from_s = 20.0, to_s = 30.0 }, { from_s = 50.0, to_s = 60.0 } ]\n";
        std::vector<Signal> channels;
        for (unsigned c = 1; c <= 6; ++c) channels.push_back(motion(c <= 3 ? 0.03 : 0.05, rate_hz, seconds, c));
        for (int i = 0; i < count; ++i) {
            const std::string file = fmt::format("{}-{}.wav", name_of(position), i);
            survey_.recording(file, "p", R"(1 = "x", 2 = "y", 3 = "z")", channels, more, static_cast<int>(rate_hz));
            survey_.table(fmt::format("[[recording]]\nfile = \"{}\"\nspace = \"p\"\nunit = \"{}\"\n"
                                      "channels = {{ 4 = \"rx\", 5 = \"ry\", 6 = \"rz\" }}\n{}",
                                      file, moves ? "rad/s" : "rad/s2", more));
        }
    }

    const Criterion& criterion_;
    Case survey_;
};

class EveryDocument : public testing::TestWithParam<std::string> {};

TEST_P(EveryDocument, JudgesARecordingMadeForIt)
{
    const Criterion& criterion = shipped(GetParam());
    const Assessment assessment = Occasion(criterion).judged();
    ASSERT_FALSE(assessment.verdicts.empty());
    for (const Verdict& verdict : assessment.verdicts) {
        if (criterion.limits_missing) {
            EXPECT_THAT(verdict.why_not, HasSubstr("type them in from your copy"));
            continue;
        }
        ASSERT_TRUE(verdict.judged) << verdict.why_not;
        ASSERT_TRUE(verdict.value.has_value());
        EXPECT_TRUE(std::isfinite(*verdict.value) && *verdict.value >= 0.0) << *verdict.value;
        EXPECT_EQ(verdict.unit, quantity_named(criterion.quantity)->unit);
        EXPECT_EQ(verdict.band_index.has_value(), !criterion.scales.empty());
        if (criterion.scales.empty() || verdict.decision) continue;
        const Band& band = verdict.bands[static_cast<std::size_t>(*verdict.band_index)];
        EXPECT_LE(*verdict.value, band.limit.value_or(*verdict.value));
        EXPECT_EQ(verdict.exceeded, band.exceeds);
    }
}

std::vector<std::string> ids()
{
    std::vector<std::string> ids;
    for (const auto& [id, criterion] : shipped_library().criteria) ids.push_back(id);
    return ids;
}

INSTANTIATE_TEST_SUITE_P(Shipped, EveryDocument, testing::ValuesIn(ids()), [](const auto& tested) {
    std::string name = tested.param;
    std::ranges::replace(name, '-', '_');
    return name;
});

} // namespace
} // namespace becalm::evaluators
