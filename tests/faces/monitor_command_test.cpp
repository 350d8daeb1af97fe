// becalm monitor, in process, on a campaign of the test's own: three days, a file of a minute every six hours.
#include <filesystem>

#include <gmock/gmock.h>

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using nlohmann::json;
using testing::HasSubstr;

class MonitorCommand : public testing::Test {
protected:
    // Loud, by a hundred, in the evening of the second day.
    std::string campaign(const std::string& judge = "\"bs6472-1-2008-day\", \"bs6472-1-2008-night\"")
    {
        std::string text = "title = \"Beside the works\"\nsetting = \"building\"\n[[space]]\nid = \"flat\"\nuse = "
                           "\"residential\"\n[[judge]]\ncriteria = [" +
                           judge + "]\n";
        for (int i = 0; i < 12; ++i) {
            folder_.file(fmt::format("{}.wav", i), wav({sine(60.0, 300.0, 9.0, i == 7 ? 0.1 : 0.001)}, 300));
            text += fmt::format("[[recording]]\nfile = \"{}.wav\"\nspace = \"flat\"\nchannels = {{ 1 = \"z\" "
                                "}}\nstart = 2026-05-{:02}T{:02}:00:00+02:00\n",
                                i, 4 + i / 4, 6 * (i % 4));
        }
        return folder_.file("survey.toml", text);
    }
    std::string path(const std::string& name) const { return folder_.path(name); }

    const ScratchFolder folder_;
};

TEST_F(MonitorCommand, TellsWhichDaysAndNightsAreWorst)
{
    const std::string survey = campaign();
    const Outcome told = call({"monitor", survey, "--figures", path("figures"), "--csv", path("days.csv")});
    ASSERT_EQ(told.code, 0) << told.err;
    EXPECT_THAT(told.out, HasSubstr("day 07:00-23:00"));
    EXPECT_THAT(told.out, HasSubstr("worst       space"));
    EXPECT_THAT(told.out, HasSubstr("a night belongs to the day it begins in"));
    EXPECT_THAT(told.out, HasSubstr("2 figures written"));
    EXPECT_TRUE(std::filesystem::exists(path("figures/flat-floor-bs6472-1-2008-day-day.svg")));
    EXPECT_THAT(content_of(path("days.csv")),
                HasSubstr("flat,floor,,bs6472-1-2008-day,vdv,day,07:00-23:00,2026-05-05,,"));

    const Outcome again = call({"monitor", survey, "--json", "-"});
    const json report = again.json();
    EXPECT_EQ(report.at("by"), "day");
    const json& days = report.at("series").at(0);
    EXPECT_EQ(days.at("summary").at("periods"), 3);
    EXPECT_EQ(days.at("periods").at(1).at("date"), "2026-05-05");
    EXPECT_EQ(days.at("summary").at("worst"), 1);
    EXPECT_EQ(days.at("periods").at(1).at("measured_s"), 120.0); // noon and 18 h
    EXPECT_EQ(again.out, call({"monitor", survey, "--json", "-", "--no-cache", "--jobs", "1"}).out)
        << "with the cache or without, on any number of threads";
}

TEST_F(MonitorCommand, SaysWhatExceeds)
{
    const std::string survey = campaign();
    folder_.file("strict.toml",
                 "id = \"strict\"\ntitle = \"Strict\"\nsource = \"bs6472-1-2008\"\nclause = \"none\"\n"
                 "quantity = \"weighted_rms\"\nunit = \"m/s2\"\naxes = \"vertical\"\nweighting = \"Wk\"\n"
                 "confirmed = \"from memory\"\n[[scale]]\nuse = \"any\"\nbands = [ { name = \"quiet\", "
                 "below = 0.01 }, { name = \"loud\", exceeds = true } ]\n");
    std::filesystem::create_directory(path("criteria"));
    std::filesystem::rename(path("strict.toml"), path("criteria/strict.toml"));
    const Outcome told = call({"monitor", survey, "--criterion", "strict", "--by", "hour", "--fail-on-exceedance"});
    EXPECT_EQ(told.code, 1) << told.err;
    EXPECT_THAT(told.out, HasSubstr("2026-05-05 18:00"));
    EXPECT_THAT(told.out, HasSubstr("loud, exceeded"));
    EXPECT_EQ(call({"monitor", survey, "--criterion", "strict", "--fail-on-exceedance", "--to", "2026-05-04"}).code, 0);
    const Outcome thin = call({"monitor", survey, "--criterion", "strict", "--least-coverage", "50"});
    EXPECT_EQ(thin.code, 3);
    EXPECT_THAT(thin.out, HasSubstr("% of the period was recorded, and 50 % are asked for"));
}

TEST_F(MonitorCommand, RefusesWhatMakesNoSense)
{
    const std::string survey = campaign("\"iso2631-2-2003\"");
    const auto refused = [&](std::vector<std::string> more, const std::string& why) {
        more.insert(more.begin(), {"monitor", survey});
        const Outcome outcome = call(more);
        EXPECT_EQ(outcome.code, 2);
        EXPECT_THAT(outcome.err, HasSubstr(why));
    };
    refused({"--by", "month"}, "take day, period, week or hour");
    refused({"--from", "4 May"}, "is no date; write it as 2026-05-02");
    refused({"--from", "2026-02-30"}, "is no date");
    refused({"--from", "2026-05-06", "--to", "2026-05-04"}, "the last day lies before the first");
    refused({"--by", "period"}, "no criterion says which hours its period has; name the hours");
    refused({"--by", "period", "--period", "night"}, "names no hours; write it as night=22:00-06:00");
    refused({"--period", "night=22:00-06:00"}, "--period names hours for --by period");
    refused({"--least-coverage", "120"}, "give per cent");
    refused({"--criterion", "no-such"}, "no-such");
    const Outcome nights = call({"monitor", survey, "--by", "period", "--period", "night=22:00-06:00"});
    EXPECT_EQ(nights.code, 0) << nights.err;
    EXPECT_THAT(nights.out, HasSubstr("night 22:00-06:00"));

    const std::string text = content_of(survey);
    folder_.file("survey.toml", text.substr(0, text.rfind("start")));
    const Outcome unknown = call({"monitor", survey});
    EXPECT_EQ(unknown.code, 3);
    EXPECT_THAT(unknown.err, HasSubstr("it is not known on which day it was recorded; add start = "));
}

} // namespace
} // namespace becalm::tests
