// How a survey was made, told from the survey alone. The practice behind each row is from memory unless said.
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "evaluators/survey_conditions.h"

#include "tests/evaluators/case.h"

namespace becalm::evaluators {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::UnorderedElementsAre;
using namespace tests;

std::vector<std::string> codes(const Survey& survey)
{
    std::vector<std::string> result;
    for (const Finding& finding : survey_conditions(survey)) result.push_back(finding.code);
    return result;
}

std::string message(const Survey& survey, const std::string& code)
{
    for (const Finding& finding : survey_conditions(survey))
        if (finding.code == code) return finding.message;
    return "no such finding";
}

// A voyage as practice asks for it: one deck, three directions, calm deep water.
Survey voyage()
{
    Survey survey{.setting = Setting::vessel};
    survey.sensors = {{.id = "a1", .calibrated = "2025-03-01"}};
    survey.conditions = {{.id = "service",
                          .values = {{"shaft_rpm", 105.0},
                                     {"sea_state", 3.0},
                                     {"wind_bft", 4.0},
                                     {"water_depth_m", 60.0},
                                     {"draught_m", 12.0}}}};
    survey.spaces = {{.id = "c1", .use = "passenger-cabin", .group = "deck 5"},
                     {.id = "c2", .use = "passenger-cabin", .group = "deck 5"}};
    survey.recordings = {{.file = "a.wav",
                          .space = "c1",
                          .condition = "service",
                          .sensor = "a1",
                          .channels = {{1, Axis::x}, {2, Axis::y}, {3, Axis::z}},
                          .start = "2026-05-02T10:00:00+01:00"},
                         {.file = "b.wav",
                          .space = "c2",
                          .condition = "service",
                          .sensor = "a1",
                          .channels = {{1, Axis::z}},
                          .start = "2026-05-02T11:00:00+01:00"}};
    return survey;
}

Survey run()
{
    Survey survey{.setting = Setting::rail};
    survey.conditions = {{.id = "north", .values = {{"speed_km_h", 158.0}}},
                         {.id = "south", .values = {{"speed_km_h", 162.0}}}};
    survey.spaces = {{.id = "coach", .use = "saloon"}};
    for (const char* condition : {"north", "south"})
        survey.recordings.push_back({.file = fmt::format("{}.wav", condition),
                                     .space = "coach",
                                     .condition = condition,
                                     .channels = {{1, Axis::z}}});
    return survey;
}

TEST(SurveyConditions, ASurveyMadeAsPracticeAsksHasNone)
{
    EXPECT_THAT(codes(voyage()), IsEmpty());
    EXPECT_THAT(codes(run()), IsEmpty());
    Survey building = voyage();
    building.setting = Setting::building;
    building.conditions.front().values.clear();
    EXPECT_THAT(codes(building), IsEmpty());
}

TEST(SurveyConditions, OfAVesselEachMatterIsOneFinding)
{
    Survey survey = voyage();
    for (const char* id : {"trial", "return"}) {
        survey.conditions.push_back(
            {.id = id,
             .values = {{"sea_state", 4.0}, {"wind_bft", 6.0}, {"water_depth_m", 59.0}, {"draught_m", 12.0}}});
        survey.recordings.push_back(
            {.file = fmt::format("{}.wav", id), .space = "c2", .condition = id, .channels = {{1, Axis::z}}});
    }
    EXPECT_THAT(codes(survey), ElementsAre("shaft-speed", "sea-state", "wind", "shallow-water"));
    EXPECT_THAT(message(survey, "shaft-speed"), HasSubstr("not noted for: trial, return;"));
    EXPECT_THAT(message(survey, "sea-state"), HasSubstr("above 3: trial (4), return (4)"));
    EXPECT_THAT(message(survey, "wind"), HasSubstr("Beaufort 4: trial (6), return (6)"));
    EXPECT_THAT(message(survey, "shallow-water"), HasSubstr("trial (59 m of water, 12 m draught)"));
    for (const Finding& finding : survey_conditions(survey)) EXPECT_EQ(finding.severity, Severity::caution);
}

TEST(SurveyConditions, AConditionNobodyRecordedInDoesNotMatter)
{
    Survey survey = voyage();
    survey.conditions.push_back({.id = "planned"});
    EXPECT_THAT(codes(survey), IsEmpty());
}

TEST(SurveyConditions, EachDeckHasAPointOfThreeDirections)
{
    Survey survey = voyage();
    survey.spaces[1].group = "deck 6";
    EXPECT_THAT(codes(survey), ElementsAre("directions"));
    EXPECT_THAT(message(survey, "directions"), HasSubstr("on: deck 6;"));
    // The directions may come from several files of one point.
    survey.recordings.push_back(
        {.file = "c.wav", .space = "c2", .condition = "service", .channels = {{1, Axis::x}, {2, Axis::y}}});
    EXPECT_THAT(codes(survey), IsEmpty());
    survey.recordings.back().position = Position::bed;
    EXPECT_THAT(codes(survey), ElementsAre("directions"));
    survey.spaces[1].group.clear();
    EXPECT_THAT(message(survey, "directions"), HasSubstr("the spaces without a group"));
}

TEST(SurveyConditions, RecordingsWithoutACondition)
{
    Survey survey = voyage();
    survey.recordings.back().condition.clear();
    EXPECT_THAT(codes(survey), ElementsAre("no-condition"));
    EXPECT_THAT(message(survey, "no-condition"), HasSubstr("1 of 2 recordings name no condition, so the shaft speed"));
}

TEST(SurveyConditions, OfARunAboutConstantSpeed)
{
    Survey survey = run();
    survey.conditions[1].values["speed_km_h"] = 140.0;
    EXPECT_THAT(codes(survey), ElementsAre("section-speeds-differ"));
    EXPECT_THAT(message(survey, "section-speeds-differ"), HasSubstr("from 140 km/h (south) to 158 km/h (north)"));
    survey.conditions[0].values.clear();
    EXPECT_THAT(codes(survey), ElementsAre("section-speed"));
    survey.recordings[1].condition.clear();
    EXPECT_THAT(codes(survey), UnorderedElementsAre("no-condition", "section-speed"));
}

TEST(SurveyConditions, ASensorCalibratedMoreThanTwoYearsBefore)
{
    // Two years: common practice, no source.
    Survey survey = voyage();
    survey.sensors[0].calibrated = "2024-05-02"; // two years to the day
    EXPECT_THAT(codes(survey), IsEmpty());
    survey.sensors[0].calibrated = "2024-05-01";
    EXPECT_THAT(codes(survey), ElementsAre("old-calibration"));
    EXPECT_THAT(message(survey, "old-calibration"), HasSubstr("a1 (calibrated 2024-05-01, used 2026-05-02)"));
    for (Recording& recording : survey.recordings) recording.start.clear(); // nobody knows
    EXPECT_THAT(codes(survey), IsEmpty());
}

TEST(SurveyConditions, ComeOutOfAJudgement)
{
    const Assessment assessment = Case("vessel")
                                      .space("cabin", "passenger-cabin")
                                      .recording("a.wav", "cabin", "1 = \"x\", 2 = \"y\", 3 = \"z\"",
                                                 std::vector(3, sine(0.1, 8.0, 1000.0, 70.0)), "condition = \"rough\"")
                                      .table("[[condition]]\nid = \"rough\"\nshaft_rpm = 100\nsea_state = 5")
                                      .judge("\"iso6954-2000\"")
                                      .assessment();
    ASSERT_EQ(assessment.findings.size(), 1U);
    EXPECT_EQ(assessment.findings[0].code, "sea-state");
}

} // namespace
} // namespace becalm::evaluators
