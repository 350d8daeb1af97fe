#include <QComboBox>
#include <QToolButton>

#include "tests/faces/cli_harness.h"
#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::Eq;

TEST(MainWindow, JudgesASurveyAsTheCommandLineDoesByteForByte)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    const auto command = becalm::tests::call({"assess", under_test.survey, "--json", "-"});
    EXPECT_EQ(command.code, 0) << command.err;
    EXPECT_THAT(under_test.session.judgement_json(), Eq(command.out));
}

TEST(MainWindow, AsksEveryQuestionByKeyboard)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    using Question = MainWindow::Question;
    const std::vector<Question> questions{Question::gather, Question::where, Question::how_much,
                                          Question::when,   Question::why,   Question::people};
    for (std::size_t i = 0; i < questions.size(); ++i) {
        under_test.press(static_cast<Qt::Key>(Qt::Key_1 + static_cast<int>(i)), Qt::ControlModifier);
        EXPECT_TRUE(wait_until([&] { return under_test.window.asked() == questions[i]; }, 2000)) << "Ctrl+" << i + 1;
    }
}

} // namespace
} // namespace becalm::desktop::tests
