#include <QImage>
#include <QImageWriter>

#include <gmock/gmock.h>

#include "ui/desktop/plan_picture.h"

#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::HasSubstr;

// Ten thousand by ten thousand: of one bit it is cheap to make.
TEST(PlanPicture, ReadsAHundredMegapixelsScaledDown)
{
    const ScratchFolder folder;
    const QString path = qt(folder.path("deck.png"));
    {
        QImage large(10000, 10000, QImage::Format_Mono);
        ASSERT_FALSE(large.isNull());
        large.fill(1);
        QImageWriter writer(path, "png");
        writer.setCompression(10);
        ASSERT_TRUE(writer.write(large)) << writer.errorString().toStdString();
    }
    const PlanPicture picture = read_plan_picture(path, 1);
    EXPECT_EQ(picture.why_not.toStdString(), "");
    EXPECT_TRUE(picture.is_scaled);
    EXPECT_EQ(picture.image.width(), PlanPicture::longest_px);
    EXPECT_EQ(picture.image.height(), PlanPicture::longest_px);
    EXPECT_GT(qGray(picture.image.pixel(2000, 2000)), 200);
    ASSERT_FALSE(picture.smaller.empty());
    EXPECT_EQ(picture.smaller.front().width(), PlanPicture::longest_px / 2);
}

// As a scanner gives it.
TEST(PlanPicture, ReadsAHundredMegapixelsOfAPhotograph)
{
    const ScratchFolder folder;
    const QString path = qt(folder.path("deck.jpg"));
    {
        QImage large(10000, 10000, QImage::Format_Grayscale8);
        ASSERT_FALSE(large.isNull());
        large.fill(Qt::white);
        ASSERT_TRUE(large.save(path, "JPG", 60));
    }
    const PlanPicture picture = read_plan_picture(path, 1);
    EXPECT_EQ(picture.why_not.toStdString(), "");
    EXPECT_EQ(picture.image.width(), PlanPicture::longest_px);
}

TEST(PlanPicture, SaysThatAPictureHasTooManyPixels)
{
    const ScratchFolder folder;
    const QString path = qt(folder.path("deck.png"));
    {
        QImage huge(20000, 20000, QImage::Format_Mono);
        ASSERT_FALSE(huge.isNull());
        huge.fill(1);
        ASSERT_TRUE(huge.save(path, "PNG", 90));
    }
    const PlanPicture picture = read_plan_picture(path, 1);
    EXPECT_TRUE(picture.image.isNull());
    EXPECT_THAT(picture.why_not.toStdString(), HasSubstr("its 20000 × 20000 px are too many; save it with fewer"));
}

} // namespace
} // namespace becalm::desktop::tests
