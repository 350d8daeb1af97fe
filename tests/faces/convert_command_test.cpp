// `becalm convert`. Expected values are computed from the definition: what was selected is what must be in the file.
#include <gmock/gmock.h>

#include "src/io/recording_reader.h"

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

TEST(ConvertCommand, WritesASpanOfTheChannelsWantedInSi)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.csv", "rate_hz: 100\nfloor,seat,back\n1,2,3\n4,5,6\n7,8,9\n10,11,12\n");
    const std::string out = folder.path("out.uff");
    const Outcome outcome = call({"convert", path, "--uff", out, "--unit", "mm/s", "--scale", "2", "--axes", "1=x,3=z",
                                  "--from", "0.01", "--to", "0.03"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_EQ(outcome.out, out + ": 2 channels, 0.02 s at 100 Hz, m/s\n");
    auto reader = io::open_recording(out);
    ASSERT_TRUE(reader);
    EXPECT_THAT((*reader)->info().names, ElementsAre("floor (1 +X)", "back (3 +Z)"));
    EXPECT_EQ((*reader)->info().unit, "m/s");
    EXPECT_EQ((*reader)->info().rate_hz, 100.0);
    std::vector<double> values(4);
    ASSERT_EQ((*reader)->read(values).value(), 2U);
    EXPECT_THAT(values, ElementsAre(4 * 0.002, 6 * 0.002, 7 * 0.002, 9 * 0.002));

    const Outcome again = call({"convert", path, "--uff", out});
    EXPECT_EQ(again.code, 2);
    EXPECT_THAT(again.err, HasSubstr("it exists already"));
}

TEST(ConvertCommand, RefusesWhatIsNoSignal)
{
    const ScratchFolder folder;
    const std::string gap = folder.file("a.csv", "rate_hz: 100\nx\n1\nnan\n3\n");
    EXPECT_THAT(call({"convert", gap, "--uff", folder.path("out.uff")}).err, HasSubstr("a gap at 0.01 s"));
    EXPECT_EQ(folder.entries(), 1U); // and leaves nothing behind
    EXPECT_THAT(call({"convert", gap}).err, HasSubstr("name a file: --uff OUT.uff"));
    const std::string wave = folder.file("a.wav", wav({sine(1.0, 1000.0, 10.0, 0.3)}, 1000));
    EXPECT_EQ(call({"convert", wave, "--uff", folder.path("b.uff")}).code, 0);
}

} // namespace
} // namespace becalm::tests
