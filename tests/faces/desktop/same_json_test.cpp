// The window and the command line judge alike, byte for byte: over surveys drawn at random, after a change, after its
// undoing, and over the invented ferry.
#include <random>

#include "src/io/survey_file.h"
#include "ui/demo/demo_survey.h"

#include "tests/faces/cli_harness.h"
#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::Eq;
using ::testing::HasSubstr;
using ::testing::Not;

class RandomSurvey {
public:
    RandomSurvey(const ScratchFolder& folder, unsigned seed, const io::CriteriaLibrary& library)
        : folder_(folder), random_(seed), library_(library)
    {
        setting_ = all_settings[random_() % all_settings.size()];
    }

    std::string written()
    {
        std::string text =
            fmt::format("title = \"Survey {}\"\nsetting = \"{}\"\n", random_() % 1000, name_of(setting_)) +
            "[[sensor]]\nid = \"s\"\nuncertainty_percent = 2.5\n";
        const int conditions = 1 + below(2);
        for (int i = 0; i < conditions; ++i)
            text += fmt::format("[[condition]]\nid = \"k{}\"\n{}", i, below(2) == 0 ? "exposure_h = 3.0\n" : "");
        const auto [criteria, uses] = chosen_criteria();
        const int spaces = 2 + below(2);
        for (int i = 0; i < spaces; ++i)
            text += fmt::format("[[space]]\nid = \"r{}\"\nuse = \"{}\"\n", i, uses[random_() % uses.size()]);
        const int recordings = spaces + below(3);
        for (int i = 0; i < recordings; ++i) text += recording(i, i < spaces ? i : below(spaces), below(conditions));
        text += "[[judge]]\ncriteria = [";
        for (const std::string& id : criteria) text += fmt::format("\"{}\", ", id);
        return folder_.file("survey.toml", text + "]\n");
    }

private:
    int below(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }

    // Some that the program judges in this setting without asking, and the uses of space that they know.
    std::pair<std::vector<std::string>, std::vector<std::string>> chosen_criteria()
    {
        std::vector<const Criterion*> fit;
        for (const auto& [id, criterion] : library_.criteria)
            if (!criterion.check_first && (criterion.settings.empty() ||
                                           std::ranges::find(criterion.settings, setting_) != criterion.settings.end()))
                fit.push_back(&criterion);
        std::ranges::shuffle(fit, random_);
        fit.resize(std::min<std::size_t>(fit.size(), 3));
        std::vector<std::string> ids, uses;
        for (const Criterion* criterion : fit) {
            ids.push_back(criterion->id);
            for (const Scale& scale : criterion->scales)
                if (scale.use != "any") uses.push_back(scale.use);
        }
        if (uses.empty()) uses.emplace_back("office");
        return {ids, uses};
    }

    std::string recording(int number, int space, int condition)
    {
        const std::string file = fmt::format("r{}.wav", number);
        constexpr int rate_hz = 400;
        const double seconds = 20.0 + below(60);
        std::vector<becalm::evaluators::tests::Signal> axes;
        for (int axis = 0; axis < 3; ++axis) {
            auto signal =
                becalm::tests::noise(seconds, rate_hz, 0.002 * (1 + below(20)), static_cast<unsigned>(random_()));
            const auto tone = becalm::tests::sine(seconds, rate_hz, 2.0 + below(40), 0.02 * (1 + below(10)));
            for (std::size_t i = 0; i < signal.size(); ++i) signal[i] += tone[i];
            axes.push_back(std::move(signal));
        }
        becalm::evaluators::tests::wav(folder_, file, rate_hz, axes);
        std::string text = fmt::format("[[recording]]\nfile = \"{}\"\nspace = \"r{}\"\nposition = \"{}\"\n"
                                       "condition = \"k{}\"\nsensor = \"s\"\n"
                                       "channels = {{ 1 = \"x\", 2 = \"y\", 3 = \"z\" }}\nunit = \"m/s2\"\n",
                                       file, space, below(3) == 0 ? "seat-pan" : "floor", condition);
        if (below(3) == 0) text += "exclude = [ { from_s = 4.0, to_s = 6.5, reason = \"a door slammed\" } ]\n";
        return text;
    }

    const ScratchFolder& folder_;
    std::mt19937 random_;
    const io::CriteriaLibrary& library_;
    Setting setting_;
};

std::string by_command(const std::string& survey)
{
    const auto command = becalm::tests::call({"assess", survey, "--json", "-", "--no-cache"});
    EXPECT_THAT(command.code, ::testing::AnyOf(Eq(0), Eq(3))) << command.err;
    return command.out;
}

void expect_the_same(WindowUnderTest& under_test)
{
    under_test.wait_for_verdicts();
    ASSERT_TRUE(under_test.session.document().save());
    const std::string window = under_test.session.judgement_json();
    EXPECT_THAT(window, HasSubstr("\"verdicts\""));
    EXPECT_TRUE(window == by_command(under_test.survey)) << "the window and the command line differ";
}

void edit_and_compare(WindowUnderTest& under_test)
{
    expect_the_same(under_test);
    const std::string before = under_test.session.judgement_json();
    const Survey& survey = *under_test.session.document().survey();
    const std::string file = survey.recordings.front().file;
    ASSERT_TRUE(under_test.session.change(QStringLiteral("leave out"),
                                          io::with_exclusion(under_test.session.document().text(), under_test.survey,
                                                             file, {8.0, 10.5, "somebody stumbled"})));
    expect_the_same(under_test);
    EXPECT_NE(under_test.session.judgement_json(), before) << "the change changed nothing: not much of a test";
    under_test.session.document().steps().undo();
    expect_the_same(under_test);
    EXPECT_EQ(under_test.session.judgement_json(), before);
}

class RandomSurveys : public ::testing::TestWithParam<unsigned> {};

TEST_P(RandomSurveys, AreJudgedAsTheCommandLineDoesByteForByte)
{
    WindowUnderTest under_test;
    const auto library = io::load_all_criteria("");
    ASSERT_TRUE(library);
    under_test.survey = RandomSurvey(under_test.folder, GetParam(), library->library).written();
    SCOPED_TRACE(content_of(under_test.survey));
    under_test.window.open({qt(under_test.survey)});
    for (const Problem& problem : under_test.session.document().problems()) FAIL() << to_text(problem);
    edit_and_compare(under_test);
}

INSTANTIATE_TEST_SUITE_P(Seeds, RandomSurveys, ::testing::Range(1U, 9U));

TEST(SameJsonOfTheDemo, TheFerryIsJudgedAsTheCommandLineDoesByteForByte)
{
    WindowUnderTest under_test;
    const std::string folder = under_test.folder.path("demo");
    ASSERT_TRUE(demo::write_demo_survey(folder));
    under_test.survey = folder + "/survey.toml";
    under_test.window.open({qt(under_test.survey)});
    edit_and_compare(under_test);
}

} // namespace
} // namespace becalm::desktop::tests
