// `becalm align` and `becalm relate --with`. The recordings are sums of sines of any frequency, evaluated at the times
// of two clocks: the lag and drift that are expected are what they were made with.
#include <gmock/gmock.h>

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

constexpr double rate_hz = 200.0;
constexpr double tau = 2.0 * std::numbers::pi;

// Sixty sines between 1 Hz and 60 Hz, of r.m.s. 1 together, as a recorder sees them whose clock is fast by so many ppm
// and which was switched on `early_s` before 0; with noise of its own.
Signal recorded(double seconds, double early_s, double ppm, double noise_rms, unsigned seed, unsigned motion_seed = 1)
{
    std::mt19937 generator(motion_seed);
    std::uniform_real_distribution<double> any(0.0, 1.0);
    Signal signal = noise(seconds, rate_hz, noise_rms, seed);
    for (int k = 0; k < 60; ++k) {
        const double w = tau * (1.0 + 59.0 * any(generator)), phase = tau * any(generator);
        for (std::size_t i = 0; i < signal.size(); ++i)
            signal[i] += std::sqrt(2.0 / 60.0) *
                         std::sin(w * (static_cast<double>(i) / (rate_hz * (1.0 + ppm * 1e-6)) - early_s) + phase);
    }
    return signal;
}

double value_of(const json& of) { return of.at("value"); }
double uncertainty_of(const json& of) { return of.at("uncertainty"); }

TEST(AlignCommand, FindsLagAndDriftWithinTheirUncertainty)
{
    const ScratchFolder folder;
    const std::string one = folder.file("a.wav", wav({recorded(300.0, 0.0, 0.0, 0.3, 1)}, 200));
    // Its second channel is the motion, the first nothing but noise.
    const std::string other =
        folder.file("b.wav", wav({noise(310.0, rate_hz, 1.0, 3), recorded(310.0, 2.345, 40.0, 0.3, 2)}, 200));
    const Outcome outcome = call({"align", one, other, "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json report = outcome.json();
    EXPECT_EQ(report.at("schema"), "becalm.alignment/1");
    EXPECT_EQ(report.at("other_channel").at("channel"), 2);
    EXPECT_NEAR(value_of(report.at("drift_ppm")), 40.0, 3.0 * uncertainty_of(report.at("drift_ppm")));
    EXPECT_LT(uncertainty_of(report.at("drift_ppm")), 1.0);
    EXPECT_NEAR(value_of(report.at("lag_s")), 2.345 * (1.0 + 40e-6), 3.0 * uncertainty_of(report.at("lag_s")));
    EXPECT_LT(uncertainty_of(report.at("lag_s")), 1e-4);
    EXPECT_NEAR(report.at("quality").get<double>(), 1.0 / 1.09, 0.03); // 0.09 of noise in each
    // sinc^2(f d t) = 0.9 at 0.178; the shorter of both lasts 300 s
    EXPECT_NEAR(report.at("coherent_to_hz").get<double>(), 0.178 / (40e-6 * 300.0), 1.5);
    ASSERT_EQ(report.at("findings").size(), 1U);
    EXPECT_EQ(report.at("findings").at(0).at("code"), "clock-drift");
    EXPECT_THAT(report.at("findings").at(0).at("message").get<std::string>(),
                HasSubstr("ppm faster than that of the other"));

    // The other way round, both change their sign.
    const json back = call({"align", other, one, "--channel", "2", "--json", "-"}).json();
    EXPECT_NEAR(value_of(back.at("drift_ppm")), -40.0, 3.0 * uncertainty_of(back.at("drift_ppm")));
    EXPECT_NEAR(value_of(back.at("lag_s")), -2.345, 1e-3);
    EXPECT_THAT(call({"align", one, other}).out,
                testing::AllOf(HasSubstr("the second has the motion 2.345"), HasSubstr("ppm faster")));
}

TEST(AlignCommand, TellsTheLagOfAShortRecordingAndThatItsDriftIsNotKnown)
{
    const ScratchFolder folder;
    const std::string one = folder.file("a.wav", wav({recorded(12.0, 0.0, 0.0, 0.1, 1)}, 200)),
                      other = folder.file("b.wav", wav({recorded(12.0, -0.5, 0.0, 0.1, 2)}, 200));
    const json report = call({"align", one, other, "--json", "-"}).json();
    EXPECT_NEAR(value_of(report.at("lag_s")), -0.5, 1e-3);
    EXPECT_TRUE(report.at("lag_s").at("uncertainty").is_null());
    EXPECT_TRUE(report.at("drift_ppm").is_null());
    EXPECT_THAT(report.at("why_no_drift").get<std::string>(), HasSubstr("12 s are too short for 5 pieces"));
    EXPECT_EQ(report.at("findings").at(0).at("code"), "drift-not-known");
}

TEST(AlignCommand, RefusesWhatCannotBeAligned)
{
    const ScratchFolder folder;
    const Signal motion = recorded(120.0, 0.0, 0.0, 0.1, 1);
    const std::string one = folder.file("a.wav", wav({motion}, 200));
    const auto refusal = [&](int code, const std::string& other, std::vector<std::string> more = {}) {
        std::vector<std::string> arguments{"align", one, other};
        arguments.insert(arguments.end(), more.begin(), more.end());
        const Outcome outcome = call(arguments);
        EXPECT_EQ(outcome.code, code) << outcome.out;
        return outcome.err;
    };
    const std::string noisy = folder.file("n.wav", wav({noise(120.0, rate_hz, 1.0, 7)}, 200));
    EXPECT_THAT(refusal(3, noisy), HasSubstr("do not show the same motion"));
    EXPECT_THAT(refusal(3, folder.file("r.wav", wav({motion}, 256))),
                HasSubstr("its rate is 256 Hz, and that of " + one +
                          " is 200 Hz; bring both to one rate first, by "
                          "resampling"));
    Signal upside_down = motion;
    for (double& x : upside_down) x = -x;
    EXPECT_THAT(refusal(3, folder.file("u.wav", wav({upside_down}, 200))),
                HasSubstr("one sensor points the other way"));
    EXPECT_THAT(refusal(3, one, {"--to", "8", "--most-lag", "5"}), HasSubstr("leaves less than half of 8 s"));
    EXPECT_THAT(refusal(2, one, {"--channel", "4"}), HasSubstr("channel \"4\", is not among the channels"));
    EXPECT_THAT(refusal(2, one, {"--other-channel", "rail"}), HasSubstr("choose --other-channel from 1"));
    EXPECT_THAT(refusal(2, one, {"--piece", "0"}), HasSubstr("--piece must be greater than 0"));
    EXPECT_THAT(refusal(2, one, {"--from", "9", "--to", "3"}), HasSubstr("--to greater than --from"));
    const std::string tone = folder.file("t.wav", wav({sine(120.0, rate_hz, 5.0, 1.0)}, 200));
    EXPECT_THAT(call({"align", tone, tone}).err, HasSubstr("the motion repeats itself"));
    Signal gap = motion;
    gap[4000] = std::numeric_limits<double>::quiet_NaN();
    EXPECT_THAT(refusal(3, folder.file("g.wav", wav({gap}, 200))), HasSubstr("channel 1 has a gap at 20 s"));
}

// A motion with a line at 12.5 Hz of amplitude 1.5, on both channels of the first file; the second file has twice that
// motion, 1.5 s later.
std::vector<std::string> two_files(const ScratchFolder& folder, double ppm)
{
    Signal one = recorded(240.0, 0.0, 0.0, 0.05, 1), other = recorded(240.0, 1.5, ppm, 0.05, 2);
    for (std::size_t i = 0; i < one.size(); ++i) {
        const double t = static_cast<double>(i) / rate_hz;
        one[i] += 1.5 * std::sin(tau * 12.5 * t);
        other[i] += 1.5 * std::sin(tau * 12.5 * (t / (1.0 + ppm * 1e-6) - 1.5));
        other[i] *= 2.0;
    }
    return {folder.file("a.wav", wav({one, one}, 200)), folder.file("b.wav", wav({other}, 200))};
}

TEST(RelateWith, ComparesTheChannelsOfASecondFileOnceItIsShifted)
{
    const ScratchFolder folder;
    const auto files = two_files(folder, 0.0);
    const Outcome outcome = call({"relate", files[0], "--reference", "1", "--with", files[1], "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json report = outcome.json();
    EXPECT_NEAR(value_of(report.at("with").at("lag_s")), 1.5, 1e-3);
    EXPECT_EQ(report.at("with").at("file"), files[1]);
    ASSERT_FALSE(report.at("lines").empty());
    const json& line = report.at("lines").at(0);
    EXPECT_NEAR(line.at("hz").get<double>(), 12.5, 0.02);
    ASSERT_EQ(line.at("channels").size(), 2U);
    EXPECT_FALSE(line.at("channels").at(0).contains("file"));
    const json& second = line.at("channels").at(1);
    EXPECT_EQ(second.at("file"), files[1]);
    EXPECT_GT(second.at("coherence").get<double>(), 0.99);
    EXPECT_NEAR(second.at("magnitude").get<double>(), 2.0, 0.01);
    EXPECT_NEAR(second.at("phase_deg").get<double>(), 0.0, 0.5);
    EXPECT_NEAR(report.at("duration_s").get<double>(), 238.5, 0.01);
    EXPECT_THAT(
        call({"relate", files[0], "--reference", "1", "--with", files[1]}).out,
        testing::AllOf(HasSubstr("the second has the motion 1."), HasSubstr("what delay there is between the places")));
}

TEST(RelateWith, SaysWhereDriftSpoilsCoherenceAndTellsNothingBeyond)
{
    // 150 ppm over 240 s: sinc^2 = 0.9 at 0.178 / 0.036 s = 4.9 Hz. At 12.5 Hz the coherence would be that of the
    // clocks, sinc^2(0.45) = 0.49, while the motion is one.
    const ScratchFolder folder;
    const auto files = two_files(folder, 150.0);
    const Outcome outcome = call({"relate", files[0], "--reference", "1", "--with", files[1], "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json report = outcome.json();
    EXPECT_NEAR(value_of(report.at("with").at("drift_ppm")), 150.0,
                3.0 * uncertainty_of(report.at("with").at("drift_ppm")));
    const double to_hz = report.at("with").at("coherent_to_hz");
    EXPECT_NEAR(to_hz, 4.9, 0.3);
    for (const json& line : report.at("lines")) EXPECT_LE(line.at("hz").get<double>(), to_hz);
    for (const json& bin : report.at("channels").at(1).at("bins")) EXPECT_LE(bin.at("hz").get<double>(), to_hz);
    EXPECT_GT(report.at("channels").at(0).at("bins").size(), 390U) << "of the first file all of them";
    const std::string words = call({"relate", files[0], "--reference", "1", "--with", files[1]}).out;
    EXPECT_THAT(words, testing::AllOf(HasSubstr("ppm faster than that of the other file"),
                                      HasSubstr("coherence falls below 90 %")));
    // A span short enough holds it.
    const json brief =
        call({"relate", files[0], "--reference", "1", "--with", files[1], "--to", "60", "--json", "-"}).json();
    ASSERT_FALSE(brief.at("lines").empty());
    EXPECT_NEAR(brief.at("lines").at(0).at("hz").get<double>(), 12.5, 0.02);
    EXPECT_GT(brief.at("lines").at(0).at("channels").at(1).at("coherence").get<double>(), 0.9);
}

TEST(RelateWith, RefusesAFileOfAnotherMotionOrRate)
{
    const ScratchFolder folder;
    const auto files = two_files(folder, 0.0);
    const auto refused = [&](const std::string& other) {
        const Outcome outcome = call({"relate", files[0], "--reference", "1", "--with", other});
        EXPECT_EQ(outcome.code, 3);
        EXPECT_EQ(outcome.out, "");
        return outcome.err;
    };
    EXPECT_THAT(refused(folder.file("n.wav", wav({noise(240.0, rate_hz, 1.0, 7)}, 200))),
                HasSubstr("do not show the same motion"));
    EXPECT_THAT(refused(folder.file("r.wav", wav({noise(240.0, rate_hz, 1.0, 7)}, 256))),
                HasSubstr("its rate is 256 Hz"));
    EXPECT_EQ(call({"relate", files[0], "--reference", "1", "--most-lag", "3"}).code, 2);
}

} // namespace
} // namespace becalm::tests
