// `becalm history`. Expected values are what the signals were made with, a sine's r.m.s., V = A / w and D = A / w^2, or
// computed from the definition of the filters in filters/history.h.
#include <filesystem>

#include <gmock/gmock.h>

#include "src/io/recording_reader.h"

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

constexpr double tau = 2.0 * std::numbers::pi;

const json& quantity(const json& report, std::size_t channel, std::size_t which)
{
    return report.at("channels").at(channel).at("quantities").at(which);
}

double value(const json& report, std::size_t channel, std::size_t which, const char* key)
{
    return quantity(report, channel, which).at(key);
}

// Butterworth of order 4 at r = hz / corner of a low-pass.
double low_passed(double r) { return 1.0 / std::sqrt(1.0 + std::pow(r, 8.0)); }

TEST(HistoryCommand, OfASineIsThatOfTheSine)
{
    // 60 s, of which 5 s from both ends do not count. Whole periods of both tones lie in the 50 s between.
    const ScratchFolder folder;
    const std::string path =
        folder.file("a.wav", wav({sine(60.0, 1000.0, 10.0, 0.3, 9.8), sine(60.0, 1000.0, 25.0, 2.0)}, 1000));
    const Outcome outcome = call({"history", path, "--high-pass", "2", "--axes", "1=z,2=x", "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json report = outcome.json();
    EXPECT_EQ(report.at("schema"), "becalm.history/1");
    EXPECT_EQ(report.at("settled_from_s"), 5.0);
    EXPECT_EQ(report.at("settled_to_s"), 55.0);
    EXPECT_EQ(report.at("high_pass"), json({{"hz", 2.0}, {"order", 4}}));
    EXPECT_TRUE(report.at("low_pass").is_null());
    EXPECT_EQ(report.at("channels").at(1).at("axis"), "x");
    EXPECT_TRUE(report.at("findings").empty()) << report.at("findings");
    const struct {
        double hz, amplitude;
    } tones[] = {{10.0, 0.3}, {25.0, 2.0}};
    const char* units[] = {"m/s2", "m/s", "m"};
    for (std::size_t c = 0; c < 2; ++c)
        for (std::size_t m = 0; m < 3; ++m) {
            const double amplitude = tones[c].amplitude * std::pow(tau * tones[c].hz, -static_cast<double>(m));
            EXPECT_EQ(quantity(report, c, m).at("unit"), units[m]);
            EXPECT_NEAR(value(report, c, m, "rms"), amplitude / std::numbers::sqrt2, 1e-4 * amplitude);
            EXPECT_NEAR(value(report, c, m, "peak"), amplitude, 2e-3 * amplitude);
            EXPECT_NEAR(value(report, c, m, "peak_to_peak"), 2.0 * amplitude, 4e-3 * amplitude);
            EXPECT_NEAR(value(report, c, m, "crest_factor"), std::numbers::sqrt2, 3e-3);
        }
}

TEST(HistoryCommand, OfAVelocityIsDifferentiatedAndIntegrated)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", wav({sine(60.0, 500.0, 8.0, 4.0)}, 500));
    const Outcome outcome = call({"history", path, "--unit", "mm/s", "--high-pass", "2", "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json report = outcome.json();
    EXPECT_EQ(report.at("recorded"), "velocity");
    EXPECT_NEAR(value(report, 0, 0, "peak"), 4e-3 * tau * 8.0, 2e-3 * 4e-3 * tau * 8.0);
    EXPECT_NEAR(value(report, 0, 1, "peak"), 4e-3, 2e-3 * 4e-3);
    EXPECT_NEAR(value(report, 0, 2, "peak"), 4e-3 / (tau * 8.0), 2e-3 * 4e-3 / (tau * 8.0));
}

TEST(HistoryCommand, HighPassAndLowPassTakeTheirToneAway)
{
    // 5 Hz and 80 Hz of amplitude 1 each.
    const ScratchFolder folder;
    Signal both = sine(60.0, 1000.0, 5.0, 1.0);
    const Signal fast = sine(60.0, 1000.0, 80.0, 1.0);
    for (std::size_t i = 0; i < both.size(); ++i) both[i] += fast[i];
    const std::string path = folder.file("a.wav", wav({both}, 1000));
    const auto rms = [&](std::vector<std::string> limits) {
        std::vector<std::string> arguments{"history", path, "--as", "acceleration", "--json", "-"};
        arguments.insert(arguments.end(), limits.begin(), limits.end());
        return value(call(arguments).json(), 0, 0, "rms");
    };
    const auto root = [](double a, double b) { return std::sqrt(0.5 * (a * a + b * b)); };
    EXPECT_NEAR(rms({}), 1.0, 1e-5);
    EXPECT_NEAR(rms({"--low-pass", "20"}), root(low_passed(5.0 / 20.0), low_passed(4.0)), 1e-4);
    EXPECT_NEAR(rms({"--high-pass", "20"}), root(0.0, low_passed(20.0 / 80.0)),
                1e-4); // 5 Hz lies below 20 / 2 / sqrt 2
    EXPECT_NEAR(rms({"--high-pass", "5"}), root(low_passed(1.0), low_passed(5.0 / 80.0)), 2e-4);
    EXPECT_NEAR(rms({"--low-pass", "80", "--order", "1"}), root(1.0 / std::sqrt(1.0 + 1.0 / 256.0), std::sqrt(0.5)),
                1e-4);
    EXPECT_NEAR(rms({"--high-pass", "1", "--low-pass", "5"}), root(low_passed(1.0) * low_passed(1.0 / 5.0), 0.0), 2e-4);
}

TEST(HistoryCommand, WritesEverySampleToTheCsvThatTheProgramReads)
{
    const ScratchFolder folder;
    const std::string path =
        folder.file("a.csv", csv({sine(30.0, 200.0, 10.0, 0.3), sine(30.0, 200.0, 20.0, 1.0)}, 200.0, "deck,\"a, b\""));
    const std::string out = folder.path("out.csv");
    const Outcome outcome =
        call({"history", path, "--from", "4", "--high-pass", "2", "--as", "velocity,displacement", "--csv", out});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_THAT(outcome.out, HasSubstr("values from 9.000 s to 25.000 s"));
    const std::string text = content_of(folder.path("out.csv"));
    EXPECT_EQ(
        text.substr(0, text.find('\n')),
        "time_s,channel 1 deck velocity m/s,channel 1 deck displacement m,\"channel 2 a, b velocity m/s\",\"channel "
        "2 a, b displacement m\"");
    auto reader = io::open_recording(out);
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_EQ((*reader)->info().frames, 26 * 200);
    EXPECT_NEAR((*reader)->info().rate_hz, 200.0, 1e-6);
    ASSERT_EQ((*reader)->info().channels, 4);
    std::vector<double> values(4 * 5200);
    ASSERT_TRUE((*reader)->read(values));
    for (std::size_t i = 1500; i < 3700; i += 7) { // from 11.5 s on, settled
        const double t = 4.0 + static_cast<double>(i) / 200.0, w = tau * 10.0;
        EXPECT_NEAR(values[4 * i], -0.3 / w * std::cos(w * t), 2e-3 * 0.3 / w) << i;
        EXPECT_NEAR(values[4 * i + 3], -1.0 / (4.0 * w * w) * std::sin(2.0 * w * t), 4e-3 / (4.0 * w * w)) << i;
    }
}

TEST(HistoryCommand, DrawsAPanelAQuantity)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", wav({sine(60.0, 500.0, 8.0, 1.0)}, 500));
    const std::string figure = folder.path("a.svg");
    ASSERT_EQ(call({"history", path, "--high-pass", "2", "--figure", figure}).code, 0);
    const std::string svg = content_of(folder.path("a.svg"));
    for (const auto* words : {"acceleration, m/s²", "velocity, mm/s", "displacement, µm", "high-pass 2 Hz (order 4)"})
        EXPECT_THAT(svg, HasSubstr(words));
    EXPECT_LT(svg.size(), 400'000U) << "30,000 samples are thinned";
}

TEST(HistoryCommand, SaysWhereAValueDependsOnTheHighPassOrOnTheEnds)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", wav({noise(100.0, 200.0, 0.01, 1)}, 200));
    const Outcome near = call({"history", path, "--high-pass", "1"});
    EXPECT_THAT(near.out, HasSubstr("channel 1's displacement lie less than an octave above the high-pass"));
    EXPECT_THAT(near.out, Not(HasSubstr("channel 1's acceleration")));
    EXPECT_THAT(near.out, Not(HasSubstr("ends of the span")));
    EXPECT_THAT(call({"history", path, "--high-pass", "1", "--to", "30"}).out,
                HasSubstr("ends of the span, 10 s each"));
    EXPECT_THAT(call({"history", folder.file("b.wav", wav({Signal(20'000, 0.5)}, 200)), "--high-pass", "1"}).out,
                HasSubstr("channel 1 does not move"));
}

TEST(HistoryCommand, RefusesWithAWayOut)
{
    const ScratchFolder folder;
    Signal signal = noise(20.0, 200.0, 0.1, 1);
    const std::string path = folder.file("a.wav", wav({signal}, 200));
    const auto refusal = [&](int code, std::vector<std::string> limits, const std::string& file = {}) {
        std::vector<std::string> arguments{"history", file.empty() ? path : file, "--csv", folder.path("out.csv")};
        arguments.insert(arguments.end(), limits.begin(), limits.end());
        const Outcome outcome = call(arguments);
        EXPECT_EQ(outcome.code, code) << outcome.err;
        EXPECT_FALSE(std::filesystem::exists(folder.path("out.csv")));
        return outcome.err;
    };
    EXPECT_THAT(refusal(2, {}), HasSubstr("a velocity from a recorded acceleration needs a lower limit: without one it "
                                          "is that of the sensor's drift; say --high-pass HZ, 0.34 Hz or more"));
    EXPECT_THAT(
        refusal(3, {"--high-pass", "0.3"}),
        HasSubstr("20 s are too short for a high-pass at 0.3 Hz; choose --high-pass 0.341 or more, or a span of "
                  "at least 22.76 s"));
    EXPECT_THAT(refusal(2, {"--high-pass", "30", "--low-pass", "20"}), HasSubstr("leave nothing between them"));
    EXPECT_THAT(refusal(2, {"--high-pass", "1", "--low-pass", "100"}),
                HasSubstr("--low-pass 100 Hz does not lie between 0 and half the rate, 100 Hz"));
    EXPECT_THAT(refusal(2, {"--high-pass", "-1"}), HasSubstr("--high-pass -1 Hz does not lie between"));
    EXPECT_THAT(refusal(2, {"--high-pass", "1", "--as", "velocity,jerk"}), HasSubstr("--as cannot be"));
    EXPECT_THAT(refusal(2, {"--high-pass", "1", "--as", "velocity,velocity"}), HasSubstr("once"));
    EXPECT_THAT(refusal(2, {"--high-pass", "1", "--order", "17"}), HasSubstr("from 1 to 16"));
    EXPECT_THAT(refusal(3, {"--high-pass", "1"}, folder.file("i.wav", wav({signal}, 200, 24))), HasSubstr("--scale"));
    signal[3000] = std::numeric_limits<double>::quiet_NaN();
    const std::string gap = folder.file("g.wav", wav({signal}, 200));
    EXPECT_THAT(refusal(3, {"--high-pass", "1"}, gap), HasSubstr("channel 1 has a gap at 15 s"));
    EXPECT_EQ(call({"history", gap, "--high-pass", "1", "--to", "15"}).code, 0);
}

} // namespace
} // namespace becalm::tests
