// The procedures by name, on tallies whose integrals are known. Each row names what its expected value comes from.
#include <cmath>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "evaluators/combine.h"
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

// ---- worked examples: the procedure, then the rule over the axes ----

struct AxisExample {
    double x, y, z; // before the factors 1.4, 1.4, 1
    double hours;
};

std::vector<VerdictTerm> terms_of(std::string_view quantity, const AxisExample& example, Tally (*tally)(double))
{
    std::vector<VerdictTerm> terms;
    for (const auto& [axis, value, factor] :
         {std::tuple("x", example.x, 1.4), std::tuple("y", example.y, 1.4), std::tuple("z", example.z, 1.0)}) {
        const QuantityResult got =
            evaluated(quantity, {.tally = tally(value), .exposed_s = example.hours * hour, .reference_s = 8.0 * hour});
        terms.push_back({.axis = axis, .weighting = "W", .factor = factor, .value = got ? got->value : NAN});
    }
    return terms;
}

TEST(WorkedExamples, DailyExposureOfOneTask)
{
    // UK guidance on whole-body vibration, example E.1: 6.5 h at 0.2, 0.4, 0.25; printed 0.5 m/s2 in y (from memory),
    // digits computed.
    const auto terms = terms_of("daily_exposure", {0.2, 0.4, 0.25, 6.5}, [](double a) { return steady(a, 600.0); });
    const auto each = combine(AxisRule::each, terms);
    constexpr const char* source = "UK guidance on whole-body vibration, E.1: inputs and method read, digits computed";
    EXPECT_NEAR(each[0].value, 0.252, 0.0005) << source;
    EXPECT_NEAR(each[1].value, 0.505, 0.0005) << source;
    EXPECT_NEAR(each[2].value, 0.225, 0.0005) << source;
    const auto highest = combine(AxisRule::highest, terms);
    EXPECT_EQ(highest[0].axis, "y");
    EXPECT_NEAR(highest[0].value, 0.5, 0.05) << "UK guidance on whole-body vibration, E.1, printed value from memory";
}

TEST(WorkedExamples, DailyExposureOfTwoTasks)
{
    // Partial exposures add by their squares: sqrt(sum A_i^2), an axis at a time.
    const auto run = [](double a) { return steady(a, 600.0); };
    const auto forklift = combine(AxisRule::each, terms_of("daily_exposure", {0.5, 0.3, 0.9, 1.0}, run));
    const auto lorry = combine(AxisRule::each, terms_of("daily_exposure", {0.2, 0.3, 0.3, 6.0}, run));
    constexpr const char* source =
        "UK guidance on whole-body vibration, E.2: inputs read, digits computed, printed values from memory";
    const std::vector<double> expected{0.3465, 0.3929, 0.4108}, first{0.25, 0.15, 0.32}, second{0.24, 0.36, 0.26};
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_NEAR(forklift[i].value, first[i], 0.005) << source;
        EXPECT_NEAR(lorry[i].value, second[i], 0.005) << source;
        EXPECT_NEAR(std::hypot(forklift[i].value, lorry[i].value), expected[i], 0.00005) << source;
    }
}

TEST(WorkedExamples, HandArmEnergyIsOfTheSameForm)
{
    const auto a8 = [](double a, double hours) {
        return evaluated("daily_exposure",
                         {.tally = steady(a, 60.0), .exposed_s = hours * hour, .reference_s = 8.0 * hour})
            ->value;
    };
    EXPECT_NEAR(a8(4.0, 4.5), 3.0, 1e-12) << "EU guide to good practice on hand-arm vibration, E.1";
    const double parts[] = {a8(4.0, 2.5), a8(3.0, 1.0), a8(20.0, 0.25)};
    const double printed[] = {2.2, 1.1, 3.5};
    for (int i = 0; i < 3; ++i)
        EXPECT_NEAR(parts[i], printed[i], 0.05) << "EU guide on hand-arm vibration, E.2, from memory";
    EXPECT_NEAR(std::hypot(parts[0], parts[1], parts[2]), 4.3, 0.05)
        << "EU guide on hand-arm vibration, E.2, from memory";
    for (const auto& [hours, magnitude, half_unit] : {std::tuple(4.0, 3.5, 0.05), std::tuple(2.0, 5.0, 0.05),
                                                      std::tuple(1.0, 7.0, 0.5), std::tuple(0.5, 10.0, 0.05)})
        EXPECT_NEAR(2.5 * magnitude / a8(magnitude, hours), magnitude, half_unit)
            << "Danish guidance on hand-arm vibration, rounded as printed";
}

TEST(WorkedExamples, DailyDose)
{
    // EU guide on whole-body vibration: 3, 5, 4 measured over 2 h, exposure 6.5 h (inputs from memory, digits
    // computed).
    const auto terms = terms_of("daily_vdv", {3.0, 5.0, 4.0, 6.5}, [](double v) { return dose(v, 2.0 * hour); });
    const auto each = combine(AxisRule::each, terms);
    constexpr const char* source = "EU guide on whole-body vibration, from memory, rounded as printed";
    EXPECT_NEAR(each[0].value, 5.6, 0.05) << source;
    EXPECT_NEAR(each[1].value, 9.4, 0.05) << source;
    EXPECT_NEAR(each[2].value, 5.4, 0.05) << source;
    EXPECT_EQ(combine(AxisRule::highest, terms)[0].axis, "y");
}

TEST(WorkedExamples, TotalsOfAPublishedFieldStudy)
{
    constexpr const char* source =
        "International Journal of Industrial Ergonomics 64 (2018) 188-198, Tables 2 and 3, rounded as printed";
    struct Row {
        double x, y, z, total, half_unit;
    };
    for (const Row& row :
         {Row{0.44, 0.35, 0.61, 1.00, 0.005}, Row{0.35, 0.38, 0.52, 0.89, 0.005}, Row{0.34, 0.42, 0.49, 0.90, 0.005},
          Row{0.23, 0.23, 0.35, 0.57, 0.005}, Row{0.25, 0.24, 0.37, 0.61, 0.005}, Row{0.28, 0.24, 0.47, 0.70, 0.005},
          Row{6.7, 5.4, 16.0, 20.0, 0.5}, Row{4.7, 4.9, 6.4, 11.0, 0.5}, Row{4.1, 5.0, 5.6, 11.0, 0.5},
          Row{3.2, 3.3, 4.2, 8.0, 0.5}, Row{3.0, 2.9, 4.0, 7.1, 0.05}, Row{5.4, 4.8, 11.0, 15.0, 0.5}}) {
        const std::vector<VerdictTerm> terms{{.axis = "x", .weighting = "Wd", .factor = 1.4, .value = row.x},
                                             {.axis = "y", .weighting = "Wd", .factor = 1.4, .value = row.y},
                                             {.axis = "z", .weighting = "Wk", .factor = 1.0, .value = row.z}};
        EXPECT_NEAR(combine(AxisRule::total, terms)[0].value, row.total, row.half_unit)
            << fmt::format("{}, {}, {} ({})", row.x, row.y, row.z, source);
    }
}

} // namespace
} // namespace becalm::evaluators
