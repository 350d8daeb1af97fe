// becalm explain, in process. The signals are the test's own; frequencies are computed from the definitions.
#include <gmock/gmock.h>

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

class Explain : public testing::Test {
protected:
    // Blade passing of 4 blades at 105 rpm is 7 Hz; 31.7 Hz belongs to nobody.
    std::string survey() const
    {
        Signal signal = sine(130.0, 500.0, 7.0, 0.3);
        const Signal other = sine(130.0, 500.0, 31.7, 0.2);
        for (std::size_t i = 0; i < signal.size(); ++i) signal[i] += other[i];
        folder_.file("a.wav", wav({signal}, 500));
        return folder_.file(
            "survey.toml",
            "title = \"Test\"\nsetting = \"vessel\"\n[[source]]\nid = \"prop\"\nkind = \"propeller\"\nrpm = "
            "105\nblades = 4\n[[source]]\nid = \"fan\"\nkind = \"plant\"\n[[space]]\nid = \"c\"\nuse = "
            "\"passenger-cabin\"\n[[recording]]\nfile = \"a.wav\"\nspace = \"c\"\nchannels = { 1 = \"z\" "
            "}\n[[judge]]\ncriteria = [\"iso6954-2000\"]\n");
    }
    const ScratchFolder folder_;
};

TEST_F(Explain, NamesTheSourceTheUnexplainedAndTheCure)
{
    const Outcome outcome = call({"explain", survey(), "--reduce", "prop=6", "--move", "prop=+2.5"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_THAT(outcome.out, HasSubstr("prop (blade passing)"));
    EXPECT_THAT(outcome.out, HasSubstr("unexplained"));
    EXPECT_THAT(outcome.out, HasSubstr("dB less of prop reaches \"adverse comments not probable\""));
    EXPECT_THAT(outcome.out, HasSubstr("what if prop reduced by 6 dB"));
    EXPECT_THAT(outcome.out, HasSubstr("what if prop moved by +2.5 Hz"));
    EXPECT_THAT(outcome.out,
                HasSubstr("the source \"fan\" (plant) states no frequency; add rpm = ... or hz = ... to it"));
}

TEST_F(Explain, WritesJson)
{
    const Outcome outcome = call({"explain", survey(), "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json document = outcome.json();
    EXPECT_EQ(document.at("schema"), "becalm.explanation/1");
    const json& first = document.at("explanations").at(0).at("components").at(0);
    EXPECT_NEAR(first.at("hz").get<double>(), 7.0, 1e-3);
    EXPECT_EQ(first.at("matches").at(0).at("source"), "prop");
}

TEST_F(Explain, TellsTheUncertaintyAndTheReferenceChannel)
{
    // 7 Hz is at the propeller's transducer too, 31.7 Hz is not; the recording with the gap has no phases.
    const Signal blade = sine(130.0, 500.0, 7.0, 0.3);
    Signal cabin = blade;
    const Signal other = sine(130.0, 500.0, 31.7, 0.2);
    for (std::size_t i = 0; i < cabin.size(); ++i) cabin[i] += other[i];
    folder_.file("a.wav", wav({cabin, blade}, 500));
    const auto survey = [&](const std::string& more) {
        return folder_.file("two.toml", "title = \"Test\"\nsetting = \"vessel\"\n[[source]]\nid = \"prop\"\nkind = "
                                        "\"propeller\"\nrpm = 105\nblades = 4\nreference_channel = 2\n[[source]]\nid = "
                                        "\"fan\"\nkind = \"plant\"\nhz = 31.7\nreference_channel = 2\n[[space]]\nid = "
                                        "\"c\"\nuse = \"passenger-cabin\"\n[[recording]]\nfile = \"a.wav\"\nspace = "
                                        "\"c\"\nchannels = { 1 = \"z\" }\n" +
                                            more + "[[judge]]\ncriteria = [\"iso6954-2000\"]\n");
    };
    const Outcome outcome = call({"explain", survey(""), "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json document = outcome.json();
    const json& first = document.at("explanations").at(0).at("components").at(0);
    EXPECT_EQ(first.at("refined"), true);
    EXPECT_LT(first.at("frequency_uncertainty_hz").get<double>(), 1e-3);
    EXPECT_GT(first.at("confidence").get<double>(), 0.999);
    EXPECT_TRUE(first.at("averaged_because").is_null());
    EXPECT_EQ(first.at("matches").at(0).at("reference_channel"), 2);
    EXPECT_NEAR(first.at("matches").at(0).at("coherence").get<double>(), 1.0, 1e-6);
    EXPECT_EQ(first.at("notes"), json::array({"moves with channel 2 (fan), coherence 1.00"}))
        << "no line of the fan fits";

    const std::string text =
        call({"explain", survey("exclude = [ { from_s = 60, to_s = 61, reason = \"door\" } ]\n")}).out;
    EXPECT_THAT(text, HasSubstr("moves with channel 2, coherence 1.00"));
    EXPECT_THAT(text, HasSubstr("7.000     ~  z"));
    EXPECT_THAT(text, HasSubstr("unexplained"));
    EXPECT_THAT(text, HasSubstr("does not move with channel 2 (fan), coherence 0.0"));
    EXPECT_THAT(call({"explain", survey("")}).out, HasSubstr("7.000  <0.0001  z"));
    EXPECT_THAT(text,
                HasSubstr("  ~ from the averaged spectrum (7.000 Hz, 31.700 Hz): what is left of a.wav is in 2 pieces, "
                          "and phases need one\n"));
}

TEST_F(Explain, DrawsWhatItSays)
{
    const std::string figures = folder_.path("figures");
    const Outcome outcome = call({"explain", survey(), "--figures", figures});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_THAT(outcome.out, HasSubstr("4 figures written to "));
    const std::string spectrum = content_of(figures + "/c-floor-iso6954-2000-spectrum-z.svg");
    EXPECT_THAT(spectrum, HasSubstr("<svg"));
    EXPECT_THAT(spectrum, HasSubstr("prop, blade passing"));
    EXPECT_THAT(spectrum, HasSubstr("shape of Wm"));
    EXPECT_THAT(content_of(figures + "/c-floor-iso6954-2000-ladder.svg"), HasSubstr("unexplained, 31.70 Hz"));
    // A folder that cannot be made is told, not passed over.
    folder_.file("taken", "");
    EXPECT_EQ(call({"explain", survey(), "--figures", folder_.path("taken")}).code, 3);
}

TEST_F(Explain, SaysWhatIsWrongWithACall)
{
    const std::string path = survey();
    EXPECT_EQ(call({"explain", path, "--reduce", "prop"}).err,
              "becalm: --reduce prop: this is not SOURCE=DB; numbers have a decimal point; `becalm explain --help` "
              "shows each\n");
    EXPECT_EQ(call({"explain", path, "--reduce", "prop=six"}).code, 2);
    EXPECT_EQ(call({"explain", path, "--isolate", "prop=8"}).code, 2);
    EXPECT_EQ(call({"explain", path, "--damp", "7,0,0.01"}).code, 2);
    EXPECT_EQ(call({"explain", path, "--reduce", "porp=6"}).err,
              "becalm: the survey has no source \"porp\"; did you mean \"prop\"?\n");
    EXPECT_EQ(call({"explain", path, "--space", "attic"}).code, 2);
}

TEST_F(Explain, ASurveyThatCannotBeJudgedHasNothingToExplain)
{
    folder_.file("a.wav", wav({sine(10.0, 500.0, 7.0, 0.3)}, 500)); // too short for the document
    std::string path = survey();
    folder_.file("a.wav", wav({sine(10.0, 500.0, 7.0, 0.3)}, 500));
    const Outcome outcome = call({"explain", path, "--no-cache"});
    EXPECT_EQ(outcome.code, 3);
    EXPECT_THAT(outcome.out, HasSubstr("nothing could be judged"));
}

} // namespace
} // namespace becalm::tests
