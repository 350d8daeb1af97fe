// becalm compare, in process, on surveys of the test's own.
#include <filesystem>
#include <fstream>

#include <gmock/gmock.h>

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using nlohmann::json;
using testing::HasSubstr;

class Compare : public testing::Test {
protected:
    static constexpr double seconds = 66.0, rate_hz = 500.0;

    // 8 Hz in both cabins; `factor` on it, 31.5 Hz as it was.
    std::string survey(const std::string& name, double factor, const std::string& use = "passenger-cabin")
    {
        std::string text = "title = \"" + name +
                           "\"\nsetting = \"vessel\"\n[[sensor]]\nid = \"s\"\nserial = \"17\"\nuncertainty_percent = "
                           "3.0\n[[condition]]\nid = \"sea\"\n[[condition]]\nid = \"harbour\"\n";
        for (const std::string space : {"one", "two"}) {
            text += "[[space]]\nid = \"" + space + "\"\nuse = \"" + use + "\"\n";
            for (const std::string condition : {"sea", "harbour"}) {
                const double own = (space == "two" ? 2.0 : 1.0) * (condition == "harbour" ? 0.5 : 1.0);
                Signal signal = sine(seconds, rate_hz, 8.0, 0.2 * own * factor);
                const Signal other = sine(seconds, rate_hz, 31.5, 0.02 * own);
                for (std::size_t i = 0; i < signal.size(); ++i) signal[i] += other[i];
                const std::string file = name + "-" + space + "-" + condition + ".wav";
                folder_.file(file, wav({signal}, static_cast<int>(rate_hz)));
                text += "[[recording]]\nfile = \"" + file + "\"\nspace = \"" + space + "\"\ncondition = \"" +
                        condition + "\"\nsensor = \"s\"\nchannels = { 1 = \"z\" }\n";
            }
        }
        return folder_.file(name + ".toml", text + "[[judge]]\ncriteria = [\"iso6954-2000\"]\n");
    }

    const ScratchFolder folder_;
};

TEST_F(Compare, TwoSurveysBeforeAndAfterACure)
{
    const std::string before = survey("before", 1.0), after = survey("after", 0.25);
    const Outcome outcome = call({"compare", before, after, "--json", "-", "--csv", folder_.path("table.csv"),
                                  "--figures", folder_.path("figures")});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json document = outcome.json();
    EXPECT_EQ(document.at("schema"), "becalm.comparison/1");
    ASSERT_EQ(document.at("pairs").size(), 4U);
    for (const json& pair : document.at("pairs")) {
        EXPECT_TRUE(pair.at("calibration_cancels").get<bool>());
        EXPECT_EQ(pair.at("first").at("condition"), pair.at("second").at("condition"));
        const auto change_at = [&](double hz) {
            for (const json& band : pair.at("third_octaves").at(0).at("bands"))
                if (band.at("nominal_hz") == hz) return band.at("db").get<double>();
            return std::nan("");
        };
        EXPECT_NEAR(change_at(8.0), -12.041, 0.01); // 20 lg 4
        EXPECT_NEAR(change_at(31.5), 0.0, 0.01);
    }
    const json& summary = document.at("summaries").at(0);
    EXPECT_EQ(summary.at("lower"), 4);
    EXPECT_LT(summary.at("to_db").get<double>(), -11.0);
    std::ifstream table(folder_.path("table.csv"));
    std::string line;
    int lines = 0;
    while (std::getline(table, line)) ++lines;
    EXPECT_EQ(lines, 5);
    EXPECT_TRUE(std::filesystem::exists(folder_.path("figures/one-floor-iso6954-2000-change-z.svg")));
    const Outcome told = call({"compare", before, after, "--space", "one"});
    EXPECT_THAT(told.out, HasSubstr("8 Hz z (-12.0 dB)"));
    EXPECT_THAT(told.out, HasSubstr("cancels"));
}

TEST_F(Compare, TwoConditionsOfOneSurvey)
{
    const Outcome outcome = call({"compare", survey("ship", 1.0), "--conditions", "sea", "harbour", "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json document = outcome.json();
    ASSERT_EQ(document.at("pairs").size(), 2U);
    for (const json& pair : document.at("pairs")) EXPECT_NEAR(pair.at("percent").get<double>(), -50.0, 0.01);
    EXPECT_EQ(document.at("first").at("condition"), "sea");
}

TEST_F(Compare, APredictionWithWhatWasMeasured)
{
    const std::string ship = survey("ship", 1.0);
    const std::string predicted =
        folder_.file("predicted.csv", "space,criterion,value,condition,remark\r\n"
                                      "one,iso6954-2000,0.1,sea,\"by the yard, 2026\"\r\n"
                                      "two,iso6954-2000,0.1,,\r\nthree,iso6954-2000,0.1,sea,\r\n");
    const Outcome outcome = call({"compare", predicted, ship, "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json document = outcome.json();
    ASSERT_EQ(document.at("pairs").size(), 1U);
    EXPECT_EQ(document.at("pairs").at(0).at("space"), "one");
    EXPECT_EQ(document.at("pairs").at(0).at("first").at("band_index").is_null(), false);
    // "two" fits two conditions, nobody measured "three", and three verdicts were not predicted
    EXPECT_EQ(document.at("without_partner").size(), 5U);
    EXPECT_EQ(document.at("without_partner").at(0).at("space"), "two");
    for (const auto& [table, message] :
         {std::pair{"space,value\none,0.1\n", "the table has no column \"criterion\""},
          {"space,criterion,value\none,c,\"0,1\"\n", "bad.csv:2: the value \"0,1\" is no number from 0 on"},
          {"space,criterion,value\none,c\n", "bad.csv:2: 2 fields stand below a header of 3"},
          {"space,criterion,value\n\"one,c,1\n", "bad.csv:2: a quotation mark is not closed"},
          {"{\"schema\": \"becalm.weigh/1\"}", "the JSON follows becalm.weigh/1"},
          {"{\"schema\": \"becalm.assessment/1\"}", "this is no assessment in JSON"}}) {
        const Outcome refused = call({"compare", folder_.file("bad.csv", table), ship});
        EXPECT_EQ(refused.code, 3);
        EXPECT_THAT(refused.err, HasSubstr(message));
    }
}

TEST_F(Compare, RefusesABandBeyondAnyInt)
{
    const std::string ship = survey("ship", 1.0);
    json kept = call({"assess", ship, "--json", "-"}).json();
    kept.at("verdicts").at(0).at("band_index") = 1e300;
    const Outcome refused = call({"compare", folder_.file("kept.json", kept.dump()), ship});
    EXPECT_EQ(refused.code, 3);
    EXPECT_THAT(refused.err, HasSubstr("1e+300 is no whole number"));
}

TEST_F(Compare, AnAssessmentThatWasKeptAsJson)
{
    const std::string ship = survey("ship", 1.0), kept = folder_.path("kept.json");
    ASSERT_EQ(call({"assess", ship, "--json", kept}).code, 0);
    const Outcome outcome = call({"compare", kept, ship, "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json document = outcome.json();
    ASSERT_EQ(document.at("pairs").size(), 4U);
    for (const json& pair : document.at("pairs")) {
        EXPECT_EQ(pair.at("db"), 0.0);
        EXPECT_FALSE(pair.at("calibration_cancels").get<bool>());
        EXPECT_GT(pair.at("expanded_uncertainty_db").get<double>(), 0.3);
    }
    EXPECT_EQ(document.at("summaries").at(0).at("unchanged"), 4);
    const std::string crew = survey("crew", 1.0, "crew-accommodation");
    const Outcome other = call({"compare", kept, crew});
    EXPECT_EQ(other.code, 3);
    EXPECT_THAT(other.out, HasSubstr("the uses differ: passenger-cabin and crew-accommodation"));
}

TEST_F(Compare, SaysWhatIsWrongWithTheCall)
{
    const std::string ship = survey("ship", 1.0);
    for (const auto& [arguments, message] : std::vector<std::pair<std::vector<std::string>, std::string>>{
             {{"compare", ship}, "there is nothing to compare it with"},
             {{"compare", ship, "--conditions", "sea"}, "--conditions needs two values"},
             {{"compare", ship, "--conditions", "sea", "sea"}, "sea is compared with itself"},
             {{"compare", ship, "--conditions", "sea", "storm"}, "has no verdict of a condition \"storm\""},
             {{"compare", ship, ship, "--space", "nine"}, "no side has a space \"nine\""}}) {
        const Outcome outcome = call(arguments);
        EXPECT_EQ(outcome.code, 2) << message;
        EXPECT_THAT(outcome.err, HasSubstr(message));
    }
}

} // namespace
} // namespace becalm::tests
