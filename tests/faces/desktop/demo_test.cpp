#include <algorithm>

#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

TEST(Demo, GoesFromTheFirstPageToTheDemo)
{
    WindowUnderTest under_test;
    under_test.window.make_demo(qt(under_test.folder.path("demo")));
    under_test.wait_for_verdicts();
    const auto& verdicts = under_test.session.judgement()->assessment().verdicts;
    EXPECT_EQ(std::ranges::count_if(verdicts, &Verdict::exceeded), 2);
    EXPECT_EQ(std::ranges::count_if(verdicts, [](const Verdict& verdict) { return !verdict.judged; }), 1);
    // Asked for again, it is opened as it was left.
    under_test.window.make_demo(qt(under_test.folder.path("demo")));
    EXPECT_TRUE(under_test.session.document().is_open());
    under_test.picture(QStringLiteral("demo"));
}

} // namespace
} // namespace becalm::desktop::tests
