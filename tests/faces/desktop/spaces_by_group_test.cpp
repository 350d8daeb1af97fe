#include <QElapsedTimer>
#include <QStringList>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "ui/desktop/plan_layout.h"
#include "ui/desktop/spaces_by_group.h"
#include "ui/desktop/verdict_facts.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

const std::vector<Band> three_bands{{.name = "fair", .limit = 0.1},
                                    {.name = "poor", .limit = 0.2},
                                    {.name = "too much", .exceeds = true}}; // limits of the test's own

Verdict verdict_of(const std::string& space, double value, double uncertainty = 0.0)
{
    Verdict verdict{.space = space, .condition = "service", .criterion = "c", .title = "A criterion"};
    verdict.value = value;
    verdict.unit = "m/s2";
    if (uncertainty > 0.0) verdict.expanded_uncertainty = uncertainty;
    verdict.judged = true;
    verdict.bands = three_bands;
    verdict.band_index = value < 0.1 ? 0 : value < 0.2 ? 1 : 2;
    verdict.exceeded = value >= 0.2;
    return verdict;
}

Verdict not_judged(const std::string& space)
{
    return {.space = space, .criterion = "c", .why_not = "cannot be judged, because the test says so"};
}

Survey survey_of(const std::vector<std::pair<std::string, std::string>>& spaces_and_groups)
{
    Survey survey;
    for (const auto& [id, group] : spaces_and_groups)
        survey.spaces.push_back({.id = id, .label = "Room " + id, .use = "office", .group = group});
    survey.spaces.front().use = "workshop";
    return survey;
}

std::vector<std::string> ids(const SpaceGroup& group)
{
    std::vector<std::string> all;
    for (const SpaceRow& row : group.rows) all.push_back(row.space->id);
    return all;
}

TEST(SpacesByGroup, PutsTheWorstFirstAtEveryLevel)
{
    const Survey survey = survey_of({{"a", "Low"}, {"b", "High"}, {"c", "High"}, {"d", "Low"}, {"e", "High"}});
    Assessment assessment;
    assessment.verdicts = {verdict_of("a", 0.05), not_judged("b"), verdict_of("c", 0.3), verdict_of("c", 0.15),
                           verdict_of("d", 0.19)};
    const auto groups = spaces_by_group(survey, assessment);
    ASSERT_EQ(groups.size(), 2U);
    EXPECT_EQ(groups[0].name, "High");
    EXPECT_THAT(ids(groups[0]), ElementsAre("c", "b", "e")) << "what cannot be judged before what has no verdict";
    EXPECT_THAT(ids(groups[1]), ElementsAre("d", "a"));
    EXPECT_EQ(groups[0].rows[0].worst(), &assessment.verdicts[2]);
}

TEST(SpacesByGroup, LeavesOutWhatTheFilterDoes)
{
    const Survey survey = survey_of({{"a", "Low"}, {"b", "High"}, {"c", "High"}, {"d", "Low"}});
    Assessment assessment;
    assessment.verdicts = {verdict_of("a", 0.05), not_judged("b"), verdict_of("c", 0.3), verdict_of("d", 0.095, 0.01)};
    using Verdicts = SpaceFilter::Verdicts;
    const auto of = [&](const SpaceFilter& filter) {
        std::vector<std::string> all;
        for (const SpaceGroup& group : spaces_by_group(survey, assessment, filter))
            for (const std::string& id : ids(group)) all.push_back(id);
        return all;
    };
    EXPECT_THAT(of({.verdicts = Verdicts::exceeded}), ElementsAre("c"));
    EXPECT_THAT(of({.verdicts = Verdicts::not_judged}), ElementsAre("b"));
    EXPECT_THAT(of({.verdicts = Verdicts::near_limit}), ElementsAre("d"));
    EXPECT_THAT(of({.use = "workshop"}), ElementsAre("a"));
    EXPECT_THAT(of({.text = "room WORKSHOP"}), ElementsAre("a"));
    EXPECT_THAT(of({.text = "too much"}), ElementsAre("c"));
    EXPECT_THAT(of({.text = "nowhere"}), IsEmpty());
}

TEST(SpacesByGroup, MakesATableThatNoCellTearsApart)
{
    Survey survey = survey_of({{"a", "Low"}});
    survey.spaces[0].label = "Tab\there\nand a line";
    Assessment assessment;
    assessment.verdicts = {verdict_of("a", 0.05, 0.01), verdict_of("a", 0.3)};
    const QStringList lines = table_of(survey, spaces_by_group(survey, assessment)).split(QChar(u'\n'));
    ASSERT_EQ(lines.size(), 4); // heads, two verdicts, the end
    for (int i = 0; i < 3; ++i) EXPECT_EQ(lines[i].count(QChar(u'\t')), lines[0].count(QChar(u'\t')));
    EXPECT_TRUE(lines[1].contains(QStringLiteral("Tab here and a line\t"))) << lines[1].toStdString();
    EXPECT_TRUE(lines[1].contains(QStringLiteral("\t300.0\t"))) << lines[1].toStdString();
    EXPECT_TRUE(lines[2].contains(QStringLiteral("\t50.00\t10.00\tmm/s²\tfair\t#..\tno\t"))) << lines[2].toStdString();
}

TEST(VerdictFacts, TellsTheDistanceToTheNextLimitAndByHowMuchOneIsExceeded)
{
    const auto below = distance_to_limit(verdict_of("a", 0.08, 0.03));
    ASSERT_TRUE(below);
    EXPECT_NEAR(below->away, 0.02, 1e-12);
    EXPECT_FALSE(below->is_above);
    EXPECT_TRUE(below->within_uncertainty);
    EXPECT_EQ(distance_words(verdict_of("a", 0.08)).toStdString(), "20\u00A0mm/s² below the next limit (20 % of it)");
    const auto above = distance_to_limit(verdict_of("a", 0.3));
    ASSERT_TRUE(above);
    EXPECT_NEAR(above->away, 0.1, 1e-12);
    EXPECT_TRUE(above->is_above);
    EXPECT_EQ(distance_words(verdict_of("a", 0.3)).toStdString(), "exceeds the limit by 100\u00A0mm/s² (50 % of it)");
    EXPECT_FALSE(distance_to_limit(not_judged("a")));
    Verdict free = verdict_of("a", 0.3);
    free.bands.clear();
    free.band_index.reset();
    EXPECT_FALSE(distance_to_limit(free));
}

TEST(VerdictFacts, CountsWhatIsExceededFromTheFirstBandThatExceeds)
{
    Verdict verdict = verdict_of("a", 0.5);
    verdict.bands = {{.name = "kept", .limit = 0.1},
                     {.name = "over", .limit = 0.4, .exceeds = true},
                     {.name = "far over", .exceeds = true}};
    verdict.band_index = 2;
    EXPECT_NEAR(distance_to_limit(verdict)->away, 0.4, 1e-12);
    EXPECT_EQ(place_glyph(band_place(&verdict)).toStdString(), "..#");
    EXPECT_TRUE(band_place(&verdict).exceeded());
}

TEST(VerdictFacts, SaysNothingOfADistanceWhereASecondQuantityDecides)
{
    Verdict verdict = verdict_of("a", 0.15);
    verdict.band_index = 2;
    verdict.exceeded = true;
    verdict.decision = DecisionOutcome{.quantity = "average", .value = 0.09, .words = "the average decides"};
    EXPECT_FALSE(distance_to_limit(verdict));
    EXPECT_EQ(distance_words(verdict).toStdString(), "the average decides");
}

TEST(VerdictFacts, IsNearALimitOnEitherSideWithinItsUncertainty)
{
    EXPECT_TRUE(is_near_limit(verdict_of("a", 0.095, 0.01)));
    EXPECT_TRUE(is_near_limit(verdict_of("a", 0.105, 0.01)));
    EXPECT_FALSE(is_near_limit(verdict_of("a", 0.15, 0.01)));
    EXPECT_FALSE(is_near_limit(verdict_of("a", 0.0999)));
}

TEST(PlanLayout, GivesEverySpaceAMarkAndNoTwoPlatesTheSamePlace)
{
    std::vector<PlateWish> wishes;
    for (int i = 0; i < 400; ++i)
        wishes.push_back({{20.0 + 37.0 * (i % 20), 20.0 + 29.0 * (i / 20)}, {130.0, 40.0}, {22.0, 18.0}});
    QElapsedTimer timer;
    timer.start();
    const auto plates = lay_out_plates(wishes, {0, 0, 800, 640});
    EXPECT_LT(timer.elapsed(), 200) << "ms";
    ASSERT_EQ(plates.size(), wishes.size());
    for (std::size_t i = 0; i < plates.size(); ++i) {
        EXPECT_TRUE(plates[i].rect.contains(wishes[i].at));
        for (std::size_t j = 0; j < i; ++j)
            EXPECT_FALSE((plates[i].has_words || plates[j].has_words) && plates[i].rect.intersects(plates[j].rect));
    }
}

TEST(PlanLayout, WritesWordsWhereThereIsRoom)
{
    const auto plates =
        lay_out_plates({{{100, 100}, {130, 40}, {20, 18}}, {{120, 160}, {130, 40}, {20, 18}}}, {0, 0, 400, 300});
    EXPECT_TRUE(plates[0].has_words);
    EXPECT_TRUE(plates[1].has_words);
}

} // namespace
} // namespace becalm::desktop::tests
