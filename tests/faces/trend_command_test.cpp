// becalm trend, in process, on a survey of the test's own.
#include <gmock/gmock.h>

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using nlohmann::json;
using testing::HasSubstr;

TEST(TrendCommand, FindsTheExponentOfASurveyOverSpeeds)
{
    const ScratchFolder folder;
    std::string text = "title = \"Trials\"\nsetting = \"vessel\"\n[[space]]\nid = \"c\"\nuse = \"passenger-cabin\"\n";
    for (const int speed : {8, 10, 12, 14}) {
        const std::string name = fmt::format("v{}", speed);
        folder.file(name + ".wav", wav({sine(62.0, 300.0, 9.0, 1e-4 * speed * speed)}, 300));
        text += fmt::format("[[condition]]\nid = \"{0}\"\nspeed_kn = {1}\n[[recording]]\nfile = \"{0}.wav\"\nspace = "
                            "\"c\"\ncondition = \"{0}\"\nchannels = {{ 1 = \"z\" }}\n",
                            name, speed);
    }
    const std::string path = folder.file("survey.toml", text + "[[judge]]\ncriteria = [\"iso6954-2000\"]\n");
    const Outcome outcome = call({"trend", path, "--over", "speed_kn", "--at", "16", "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json trend = outcome.json().at("trends").at(0);
    EXPECT_NEAR(trend.at("exponent").at("value").get<double>(), 2.0, 1e-3);
    EXPECT_NEAR(trend.at("expected").at("value").get<double>() / trend.at("points").at(0).at("value").get<double>(),
                4.0, 0.01);
    const Outcome told = call({"trend", path, "--over", "speed_kn", "--at", "16"});
    EXPECT_THAT(told.out, HasSubstr("2.00 to 2.00"));
    EXPECT_THAT(told.out, HasSubstr("16 lies outside of what was measured, 8 to 14"));
    const Outcome refused = call({"trend", path, "--over", "shaft_rpm"});
    EXPECT_EQ(refused.code, 2);
    EXPECT_THAT(refused.err, HasSubstr("no condition of the survey states shaft_rpm; they state speed_kn"));
}

} // namespace
} // namespace becalm::tests
