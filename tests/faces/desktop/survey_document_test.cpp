#include <QSignalSpy>
#include <fstream>

#include "src/io/survey_file.h"
#include "ui/desktop/survey_document.h"

#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::Eq;
using ::testing::HasSubstr;
using ::testing::Not;

class SurveyDocumentTest : public ::testing::Test {
protected:
    void SetUp() override
    {
        survey_ = write_small_survey(folder_);
        original_ = content_of(survey_);
        ASSERT_TRUE(document_.open(qt(survey_)));
    }

    bool exclude(double from_s, double to_s)
    {
        return document_
            .change(QStringLiteral("leave out"),
                    io::with_exclusion(document_.text(), survey_, "loud.wav", {from_s, to_s, "a door slammed"}))
            .has_value();
    }
    void write_elsewhere(const std::string& text) { std::ofstream(survey_, std::ios::binary) << text; }

    ScratchFolder folder_;
    std::string survey_, original_;
    SurveyDocument document_{qt(folder_.path("kept"))};
};

TEST_F(SurveyDocumentTest, AChangeIsAStepThatReachesTheDiskByItselfAndKeepsComments)
{
    ASSERT_TRUE(exclude(10.0, 12.0));
    EXPECT_TRUE(document_.is_unsaved());
    ASSERT_TRUE(wait_until([&] { return !document_.is_unsaved(); }));
    EXPECT_THAT(content_of(survey_), HasSubstr("a door slammed"));
    EXPECT_THAT(content_of(survey_), HasSubstr("# A comment that must survive."));
    document_.steps().undo();
    EXPECT_THAT(document_.text(), Eq(original_));
    ASSERT_TRUE(document_.save());
    EXPECT_THAT(content_of(survey_), Eq(original_));
    document_.steps().redo();
    EXPECT_THAT(document_.text(), HasSubstr("a door slammed"));
}

TEST_F(SurveyDocumentTest, AChangeThatWouldBreakTheSurveyChangesNothing)
{
    const auto broken = document_.change(QStringLiteral("x"), std::string("title = 3"));
    EXPECT_FALSE(broken);
    EXPECT_THAT(document_.text(), Eq(original_));
    EXPECT_EQ(document_.steps().count(), 0);
}

TEST_F(SurveyDocumentTest, AnEditElsewhereIsTakenOverAndCanBeUndone)
{
    const std::string other = original_ + "\n# from an editor\n";
    write_elsewhere(other);
    ASSERT_TRUE(wait_until([&] { return document_.text() == other; }));
    document_.steps().undo();
    EXPECT_THAT(document_.text(), Eq(original_));
}

TEST_F(SurveyDocumentTest, AnEditElsewhereBesideUnsavedChangesIsLeftToThePerson)
{
    QSignalSpy conflicts(&document_, &SurveyDocument::conflict_found);
    const std::string other = original_ + "\n# from an editor\n";
    ASSERT_TRUE(exclude(10.0, 12.0));
    const std::string ours = document_.text();
    write_elsewhere(other);
    ASSERT_TRUE(wait_until([&] { return conflicts.count() > 0; }));
    QTest::qWait(1300); // no save by itself now
    EXPECT_THAT(content_of(survey_), Eq(other));
    EXPECT_THAT(document_.text(), Eq(ours));
    document_.take_theirs();
    EXPECT_THAT(document_.text(), Eq(other));
    document_.steps().undo(); // ours is not lost
    EXPECT_THAT(document_.text(), Eq(ours));
}

TEST_F(SurveyDocumentTest, WhatCannotBeSavedIsKeptAndOfferedAgain)
{
    QSignalSpy failures(&document_, &SurveyDocument::could_not_save);
    ASSERT_TRUE(exclude(10.0, 12.0));
    // In the place of the folder stands a file: nobody, not even root, can write a survey there.
    const std::string aside = folder_.path("gone.toml");
    std::filesystem::create_directories(folder_.path("sub"));
    const std::string path = folder_.path("sub/survey.toml");
    ASSERT_TRUE(document_.save());
    std::filesystem::copy_file(survey_, path);
    std::string wanted;
    {
        SurveyDocument other(qt(folder_.path("kept")));
        ASSERT_TRUE(other.open(qt(path)));
        std::filesystem::remove_all(folder_.path("sub"));
        folder_.file("sub", "");
        QSignalSpy other_failures(&other, &SurveyDocument::could_not_save);
        ASSERT_TRUE(other.change(QStringLiteral("x"), original_));
        wanted = other.text();
        EXPECT_FALSE(other.save());
        EXPECT_EQ(other_failures.count(), 1);
        EXPECT_TRUE(other.is_unsaved());
    }
    std::filesystem::remove(folder_.path("sub"));
    std::filesystem::create_directories(folder_.path("sub"));
    std::filesystem::copy_file(survey_, path);
    SurveyDocument again(qt(folder_.path("kept")));
    ASSERT_TRUE(again.open(qt(path)));
    EXPECT_THAT(again.kept_text(), Eq(wanted));
    again.take_kept();
    EXPECT_THAT(again.text(), Eq(wanted));
    ASSERT_TRUE(again.save());
    EXPECT_THAT(again.kept_text(), Eq(""));
}

TEST_F(SurveyDocumentTest, ASurveyBrokenByHandOpensWithItsFaults)
{
    write_elsewhere(original_ + "\n[[recording]]\nfile = 7\n");
    SurveyDocument broken(qt(folder_.path("kept")));
    ASSERT_TRUE(broken.open(qt(survey_)));
    EXPECT_EQ(broken.survey(), nullptr);
    ASSERT_FALSE(broken.problems().empty());
    EXPECT_GT(broken.problems().front().line, 0);
}

} // namespace
} // namespace becalm::desktop::tests
