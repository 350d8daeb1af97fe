#include <QStringList>

#include <gmock/gmock.h>

#include "src/io/survey_file.h"
#include "ui/desktop/condition_comparison.h"
#include "ui/desktop/criteria_choice.h"
#include "ui/desktop/verdict_details.h"
#include "ui/desktop/verdict_rulers.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::Not;

Verdict verdict_in(const std::string& condition, double value, int band, const std::string& unit = "m/s2")
{
    Verdict verdict{
        .space = "a", .position = "floor", .condition = condition, .criterion = "c", .title = "A criterion"};
    verdict.value = value;
    verdict.unit = unit;
    verdict.judged = true;
    verdict.bands = {{.name = "fair", .limit = 0.1}, {.name = "poor", .limit = 0.2}, {.name = "bad", .exceeds = true}};
    verdict.band_index = band;
    return verdict;
}

TEST(ConditionComparison, TellsTheChangeInPerCentInDecibelsAndInBands)
{
    Assessment assessment;
    assessment.verdicts = {verdict_in("sea", 0.05, 0), verdict_in("harbour", 0.15, 1)};
    const auto changes = changes_between(assessment, "sea", "harbour", "");
    ASSERT_EQ(changes.size(), 1U);
    EXPECT_NEAR(*changes[0].percent, 200.0, 1e-9);
    EXPECT_NEAR(*changes[0].db, 9.5424, 1e-4); // 20 lg 3, computed from the definition
    EXPECT_EQ(changes[0].bands, 1);
    EXPECT_EQ(band_change_words(changes[0]).toStdString(), "fair → poor (worse by 1)");
    const auto back = changes_between(assessment, "harbour", "sea", "a");
    EXPECT_NEAR(*back[0].percent, -66.6667, 1e-3);
    EXPECT_EQ(band_change_words(back[0]).toStdString(), "poor → fair (better by 1)");
}

TEST(ConditionComparison, TakesLevelsInDecibelsForWhatTheyAre)
{
    Assessment assessment;
    assessment.verdicts = {verdict_in("sea", 62.0, 0, "dB"), verdict_in("harbour", 68.0, 0, "dB")};
    const auto changes = changes_between(assessment, "sea", "harbour", "");
    EXPECT_FALSE(changes[0].percent);
    EXPECT_NEAR(*changes[0].db, 6.0, 1e-12);
    EXPECT_EQ(band_change_words(changes[0]).toStdString(), "fair in both");
}

TEST(ConditionComparison, KeepsWhatHasNoPartnerAndWhatCannotBeJudged)
{
    Assessment assessment;
    assessment.verdicts = {verdict_in("sea", 0.05, 0), verdict_in("harbour", 0.0, 0), verdict_in("sea", 0.07, 0)};
    assessment.verdicts[2].position = "bed";
    assessment.verdicts[1].value.reset();
    assessment.verdicts[1].judged = false;
    const auto changes = changes_between(assessment, "sea", "harbour", "");
    ASSERT_EQ(changes.size(), 2U);
    EXPECT_FALSE(changes[0].percent);
    EXPECT_EQ(band_change_words(changes[0]).toStdString(), "fair → cannot be judged");
    EXPECT_EQ(changes[1].second, nullptr);
    EXPECT_EQ(band_change_words(changes[1]).toStdString(), "fair → not measured");
    Survey survey;
    survey.spaces = {{.id = "a", .label = "Mess"}};
    const QStringList lines = table_of(survey, changes, "sea", "harbour").split(QChar(u'\n'));
    EXPECT_EQ(lines[1].toStdString(), "Mess\tfloor\tA criterion\t50.00\t\tmm/s²\t\t\tfair → cannot be judged");
}

TEST(ConditionComparison, PairsTheAxesOfACriterionThatJudgesEach)
{
    Assessment assessment;
    for (const auto& [condition, axis, value] :
         {std::tuple{"sea", "x", 0.02}, {"sea", "z", 0.04}, {"harbour", "z", 0.08}, {"harbour", "x", 0.01}}) {
        assessment.verdicts.push_back(verdict_in(condition, value, 0));
        assessment.verdicts.back().axis = axis;
    }
    const auto changes = changes_between(assessment, "sea", "harbour", "");
    ASSERT_EQ(changes.size(), 2U);
    EXPECT_EQ(changes[0].first->axis, "z") << "what gets worse most comes first";
    EXPECT_NEAR(*changes[0].percent, 100.0, 1e-9);
    EXPECT_NEAR(*changes[1].percent, -50.0, 1e-9);
}

TEST(VerdictRulers, SayNoDistanceWhereASecondQuantityDecides)
{
    Verdict verdict = verdict_in("sea", 0.15, 2); // its band was decided by another quantity
    const auto figure = figures::ruler_figure({}, {ruler_input(verdict, QStringLiteral("words"))});
    EXPECT_EQ(std::get<figures::Ruler>(figure.panels[0].content).distance_words, "");
    verdict.value = 0.25;
    const auto above = figures::ruler_figure({}, {ruler_input(verdict, QStringLiteral("words"))});
    EXPECT_THAT(std::get<figures::Ruler>(above.panels[0].content).distance_words, HasSubstr("50 mm/s² above"));
}

TEST(VerdictDetails, EscapeWhatComesFromFiles)
{
    Survey survey;
    survey.spaces = {{.id = "a", .label = "<b>Mess</b> & galley"}};
    Verdict verdict = verdict_in("sea", 0.15, 1);
    verdict.notes = {"scaled <script>"};
    const std::string html = details_of(survey, verdict).toStdString();
    EXPECT_THAT(html, HasSubstr("&lt;b&gt;Mess&lt;/b&gt; &amp; galley"));
    EXPECT_THAT(html, HasSubstr("scaled &lt;script&gt;"));
    EXPECT_THAT(html, Not(HasSubstr("<script>")));
}

// ---- which criteria judge

constexpr std::string_view judged_text = R"(title = "T"
setting = "vessel"
[[space]]
id = "a"
use = "office"
# the usual one
[[judge]]
criteria = ["one", "two"]   # both
[[judge]]
criteria = ["three"]
uses = ["office"]
)";

Survey survey_in(std::string_view text)
{
    auto survey = io::parse_survey(text, "survey.toml");
    if (!survey) {
        ADD_FAILURE() << to_text(survey.error().front());
        return {};
    }
    return *survey;
}

std::vector<std::string> chosen_in(std::string_view text)
{
    std::vector<std::string> all;
    for (const Judge& judge : survey_in(text).judges)
        for (const std::string& id : judge.criteria)
            all.push_back(id + (judge.confirmed_by.empty() ? "" : " by " + judge.confirmed_by) +
                          (judge.uses.empty() ? "" : " for some"));
    return all;
}

TEST(CriteriaChoice, AddsToAnEntryForEveryUseAndTakesAwayEverywhere)
{
    const auto more = with_criterion(judged_text, survey_in(judged_text), "four");
    ASSERT_TRUE(more);
    EXPECT_THAT(chosen_in(*more), ElementsAre("one", "two", "four", "three for some"));
    EXPECT_THAT(*more, HasSubstr("# both"));
    const auto whole = with_criterion(judged_text, survey_in(judged_text), "three");
    EXPECT_THAT(chosen_in(*whole), ElementsAre("one", "two", "three", "three for some"));
    const auto fewer = without_criterion(*whole, survey_in(*whole), "three");
    ASSERT_TRUE(fewer);
    EXPECT_THAT(chosen_in(*fewer), ElementsAre("one", "two"));
}

TEST(CriteriaChoice, KeepsAConfirmationToTheCriterionItIsOf)
{
    const auto more = with_criterion(judged_text, survey_in(judged_text), "four", "A. N. Other, 2026-05-02");
    ASSERT_TRUE(more);
    EXPECT_THAT(chosen_in(*more), ElementsAre("one", "two", "three for some", "four by A. N. Other, 2026-05-02"));
    const auto further = with_criterion(*more, survey_in(*more), "five");
    EXPECT_THAT(chosen_in(*further),
                ElementsAre("one", "two", "five", "three for some", "four by A. N. Other, 2026-05-02"));
    const auto confirmed = with_confirmation(judged_text, survey_in(judged_text), "two", "me");
    ASSERT_TRUE(confirmed);
    EXPECT_THAT(chosen_in(*confirmed), ElementsAre("one", "three for some", "two by me"));
    const auto in_place = with_confirmation(judged_text, survey_in(judged_text), "three", "me");
    EXPECT_THAT(chosen_in(*in_place), ElementsAre("one", "two", "three by me for some"));
}

TEST(CriteriaChoice, ListsThoseForTheSettingAndThoseNamedAllTheSame)
{
    io::CriteriaLibrary library;
    const auto add = [&](const std::string& id, std::vector<Setting> settings, bool check_first) {
        Criterion criterion;
        criterion.id = criterion.title = id;
        criterion.settings = std::move(settings);
        criterion.check_first = check_first;
        library.criteria[id] = criterion;
    };
    add("one", {Setting::rail}, false);
    add("three", {}, true);
    add("four", {Setting::vessel}, false);
    add("five", {Setting::rail}, false);
    const Survey survey = survey_in(judged_text);
    const auto choices = criteria_for(survey, library);
    ASSERT_EQ(choices.size(), 3U);
    EXPECT_EQ(choices[0].criterion->id, "four");
    EXPECT_EQ(choices[1].criterion->id, "one");
    EXPECT_EQ(choices[1].chosen, CriterionChoice::Chosen::yes);
    EXPECT_EQ(choices[2].chosen, CriterionChoice::Chosen::for_some_uses);
    EXPECT_TRUE(choices[2].waits_for_confirmation());
}

} // namespace
} // namespace becalm::desktop::tests
