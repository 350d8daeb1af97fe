// Trends of verdicts made up for the test; expected numbers are worked out by hand from the definitions.
#include <cmath>

#include <gmock/gmock.h>

#include "evaluators/trend.h"

namespace becalm::evaluators {
namespace {

using ::testing::HasSubstr;

struct Made {
    Survey survey = {};
    Assessment assessment = {};

    void add(double speed, double value, const std::string& unit = "m/s2", const std::string& axis = "z")
    {
        const std::string id = "at " + std::to_string(speed);
        if (survey.condition(id) == nullptr) survey.conditions.push_back({.id = id, .values = {{"speed_kn", speed}}});
        Verdict verdict{.space = "a", .position = "floor", .condition = id, .criterion = "c", .axis = axis};
        verdict.value = value;
        verdict.unit = unit;
        verdict.judged = true;
        assessment.verdicts.push_back(verdict);
    }
    TrendReport over_speed(std::optional<double> at = {}) const
    {
        auto report = trends_over(survey, assessment, "speed_kn", at);
        EXPECT_TRUE(report);
        return report ? *report : TrendReport{};
    }
};

TEST(Trend, FindsThePowerThatValuesFollow)
{
    Made made;
    for (const double speed : {14.0, 8.0, 10.0, 12.0}) made.add(speed, 1e-4 * std::pow(speed, 2.5));
    const Trend trend = made.over_speed(16.0).trends.at(0);
    EXPECT_EQ(trend.points.front().at, 8.0);
    EXPECT_NEAR(trend.exponent->value, 2.5, 1e-9);
    EXPECT_NEAR(*trend.factor, 1e-4, 1e-12);
    EXPECT_NEAR(*trend.scatter_db, 0.0, 1e-9);
    EXPECT_NEAR(trend.expected->value, 1e-4 * std::pow(16.0, 2.5), 1e-9);
    EXPECT_THAT(trend.notes.at(0), HasSubstr("16 lies outside of what was measured, 8 to 14"));
    EXPECT_TRUE(made.over_speed(9.0).trends.at(0).notes.empty());
}

TEST(Trend, TellsHowSurelyByWhatIsOffTheLine)
{
    // lg: x = 0, 1, 2; y = 0, 2.1, 3.9. Slope 1.95, residuals -0.05, 0.1, -0.05, s = sqrt(0.015), S = 2.
    const double t = 12.706204736, s = std::sqrt(0.015); // of one degree (published tables)
    for (const bool level : {false, true}) {
        Made made;
        for (const auto& [x, y] : {std::pair{0.0, 0.0}, {1.0, 2.1}, {2.0, 3.9}})
            made.add(std::pow(10.0, x), level ? 20.0 * y : std::pow(10.0, y), level ? "dB" : "m/s2");
        const Trend trend = made.over_speed(10.0).trends.at(0);
        EXPECT_NEAR(trend.exponent->value, 1.95, 1e-9);
        EXPECT_NEAR(trend.exponent->low, 1.95 - t * s / std::sqrt(2.0), 1e-7);
        EXPECT_NEAR(trend.exponent->high, 1.95 + t * s / std::sqrt(2.0), 1e-7);
        EXPECT_NEAR(*trend.scatter_db, 20.0 * s, 1e-9);
        EXPECT_NEAR(*trend.points[1].off_db, 2.0, 1e-9);
        const double high = 2.0 + t * s * std::sqrt(1.0 + 1.0 / 3.0); // at the mean of x
        EXPECT_NEAR(trend.expected->high, level ? 20.0 * high : std::pow(10.0, high), 1e-5 * std::pow(10.0, high));
    }
}

TEST(Trend, SaysWhyThereIsNoLine)
{
    Made two;
    two.add(8.0, 0.1);
    two.add(10.0, 0.2);
    EXPECT_THAT(two.over_speed().trends.at(0).why_not, HasSubstr("2 conditions of it are known"));
    Made same;
    for (const double value : {0.1, 0.2, 0.3}) {
        same.add(8.0, value);
        same.survey.conditions.push_back({.id = std::to_string(value), .values = {{"speed_kn", 8.0}}});
        same.assessment.verdicts.back().condition = std::to_string(value);
    }
    EXPECT_THAT(same.over_speed().trends.at(0).why_not, HasSubstr("all its conditions state 8"));
    Made still = two;
    still.add(0.0, 0.01);
    EXPECT_THAT(still.over_speed().trends.at(0).why_not, HasSubstr("has no logarithm"));
    const auto unknown = trends_over(two.survey, two.assessment, "shaft_rpm");
    ASSERT_FALSE(unknown);
    EXPECT_EQ(to_text(unknown.error()), "no condition of the survey states shaft_rpm; they state speed_kn");
    EXPECT_FALSE(trends_over(two.survey, two.assessment, "speed_kn", 0.0));
}

TEST(Trend, KeepsTheAxesOfACriterionThatJudgesEachApart)
{
    Made made;
    for (const double speed : {8.0, 10.0, 12.0}) {
        made.add(speed, 0.01 * speed, "m/s2", "x");
        made.add(speed, 0.001 * speed * speed, "m/s2", "z");
    }
    made.assessment.verdicts.back().judged = false;
    const auto trends = made.over_speed().trends;
    ASSERT_EQ(trends.size(), 2U);
    EXPECT_EQ(trends[0].axis, "x");
    EXPECT_NEAR(trends[0].exponent->value, 1.0, 1e-9);
    EXPECT_EQ(trends[1].points.size(), 2U) << "what cannot be judged is no point";
}

} // namespace
} // namespace becalm::evaluators
