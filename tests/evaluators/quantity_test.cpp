// The procedures by name, on tallies whose integrals are known. Each row names what its expected value comes from.
#include <cmath>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "evaluators/quantity.h"
#include "filters/quantities.h"
#include "src/io/document_keys.h"

namespace becalm::evaluators {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr double hour = 3600.0;
constexpr const char* definition = "computed from the definition";

Tally steady(double rms, double duration_s, double crest = 3.0)
{
    return {.samples = 1,
            .duration_s = duration_s,
            .sum_squares = rms * rms * duration_s,
            .sum_fourths = 1.5 * std::pow(rms, 4) * duration_s,
            .peak = crest * rms,
            .linear_rms = 1.2 * rms,
            .exponential_rms_slow = 1.1 * rms};
}

Tally dose(double vdv, double duration_s)
{
    return {.samples = 1,
            .duration_s = duration_s,
            .sum_squares = duration_s,
            .sum_fourths = std::pow(vdv, 4),
            .peak = 1.0};
}

QuantityResult evaluated(std::string_view name, const QuantityArguments& arguments)
{
    const Quantity* quantity = quantity_named(name);
    if (quantity == nullptr) return fail({.what = "unknown"});
    return quantity->evaluate(arguments);
}

void check(std::string_view name, const QuantityArguments& arguments, double expected, double half_unit,
           const char* source)
{
    const QuantityResult got = evaluated(name, arguments);
    ASSERT_TRUE(got) << name << ": " << to_text(got.error());
    EXPECT_NEAR(got->value, expected, half_unit) << fmt::format("{} ({})", name, source);
}

TEST(Quantity, NamesAreThoseThatCriteriaCanUse)
{
    for (const auto& [name, unit] : io::keys::quantity_units) {
        const Quantity* quantity = quantity_named(name);
        ASSERT_NE(quantity, nullptr) << name;
        EXPECT_EQ(quantity->unit, unit) << name;
        EXPECT_FALSE(quantity->meaning.empty());
    }
    EXPECT_EQ(quantity_named("loudness"), nullptr);
}

TEST(Quantity, OfISO2631)
{
    const QuantityArguments a{.tally = steady(0.5, 2.0 * hour)};
    check("weighted_rms", a, 0.5, 1e-12, definition);
    check("mtvv_linear", a, 0.6, 1e-12, definition);
    check("mtvv_exponential", a, 0.55, 1e-12, definition);
    check("peak", a, 1.5, 1e-12, definition);
    check("msdv", a, 42.43, 0.005, "iso2631-1-1997 D.1.2, digits computed");
    check("msdv", {.tally = steady(0.5, 60.0), .exposed_s = 2.0 * hour}, 42.43, 0.005,
          "iso2631-1-1997 D.1.2, digits computed");
    check("msdv", {.tally = steady(1.0, 60.0), .exposed_s = 6.0 * hour}, 146.97, 0.005,
          "iso2631-1-1997 D.1.2, digits computed");

    EXPECT_THAT(evaluated("weighted_rms", a)->notes, IsEmpty());
    // iso2631-1-1997, 6.2.1, from memory: the basic method up to a crest factor of 9.
    EXPECT_THAT(evaluated("weighted_rms", {.tally = steady(0.5, 60.0, 9.0)})->notes, IsEmpty());
    EXPECT_THAT(evaluated("weighted_rms", {.tally = steady(0.5, 60.0, 9.1)})->notes,
                ElementsAre(HasSubstr("crest factor 9.1")));
    EXPECT_THAT(evaluated("msdv", {.tally = steady(0.5, 60.0), .exposed_s = 2.0 * hour})->notes,
                ElementsAre(HasSubstr("stand for 2 h")));
}

TEST(Quantity, VibrationDoseOfAPeriod)
{
    check("vdv", {.tally = dose(0.15, hour), .reference_s = 16.0 * hour}, 0.300, 1e-12,
          "bs6472-1-2008: VDV (T / t)^(1/4)");
    check("vdv", {.tally = dose(0.15, hour)}, 0.15, 1e-12, definition);
    check(
        "vdv", {.tally = dose(0.15, hour), .exposed_s = hour / 16.0, .reference_s = 16.0 * hour}, 0.075, 1e-12,
        "halving the dose = a sixteenth of the time, a secondary text on bs6472-1-2008; exposure_h before reference_h");
    EXPECT_THAT(evaluated("vdv", {.tally = dose(0.15, hour), .reference_s = 16.0 * hour})->notes,
                ElementsAre(HasSubstr("3600 s measured, taken to stand for 16 h (the whole period")));
    EXPECT_THAT(evaluated("vdv", {.tally = dose(0.15, hour), .exposed_s = hour})->notes,
                ElementsAre(testing::Not(HasSubstr("whole period"))));
}

TEST(Quantity, VibrationDoseOfEvents)
{
    const Tally train = dose(0.03, 20.0), heavy = dose(0.05, 30.0);
    const auto events = [](std::vector<Tally> recordings, double count) {
        QuantityArguments arguments{.recordings = std::move(recordings), .events = count, .reference_s = 16.0 * hour};
        for (const Tally& tally : arguments.recordings) arguments.tally = merge(arguments.tally, tally);
        return arguments;
    };
    check("vdv", events({train}, 60.0), 0.0835, 0.00005,
          "60 trains of 0.03, bs6472-1-2008: (sum VDV_i^4)^(1/4), digits computed");
    check("vdv", events({train, train, train, train, train, train, heavy}, 70.0), 0.1027, 0.00005,
          "60 of 0.03 and 10 of 0.05, bs6472-1-2008: (sum VDV_i^4)^(1/4), digits computed");
    check("vdv", events({train}, 1.0), 0.03, 1e-12, definition);
    EXPECT_THAT(evaluated("vdv", events({train, heavy}, 12.0))->notes,
                ElementsAre(HasSubstr("12 events in the period like the 2 recorded")));
}

TEST(Quantity, EstimatedDose)
{
    check("evdv", {.tally = steady(0.5, 60.0), .reference_s = 8.0 * hour}, 9.1, 0.05,
          "directive-2002-44-ec Article 3: 0.5 beside 9.1");
    check("evdv", {.tally = steady(1.15, 60.0), .reference_s = 8.0 * hour}, 21.0, 0.5,
          "directive-2002-44-ec Article 3: 1.15 beside 21");
    check("evdv", {.tally = steady(0.5, 60.0), .exposed_s = 8.0 * hour}, 9.119, 0.0005,
          "digits computed from 1.4 a T^(1/4)");
    check("evdv", {.tally = steady(0.5, 60.0)}, 1.4 * 0.5 * std::pow(60.0, 0.25), 1e-12, definition);
    // bs6472-1-2008 through secondary texts: crest factors below 6 only.
    EXPECT_TRUE(evaluated("evdv", {.tally = steady(0.5, 60.0, 5.99)}));
    const QuantityResult refused = evaluated("evdv", {.tally = steady(0.5, 60.0, 6.0)});
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().what, HasSubstr("crest factor is 6.0"));
    EXPECT_FALSE(refused.error().remedy.empty());
}

TEST(Quantity, DailyExposureNeedsToKnowHowLong)
{
    for (const char* name : {"daily_exposure", "daily_vdv"}) {
        const QuantityResult refused = evaluated(name, {.tally = steady(0.5, 60.0), .reference_s = 8.0 * hour});
        ASSERT_FALSE(refused) << name;
        EXPECT_THAT(refused.error().remedy, HasSubstr("exposure_h"));
    }
}

} // namespace
} // namespace becalm::evaluators
