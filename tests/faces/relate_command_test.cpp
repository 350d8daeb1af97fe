// `becalm relate` and `becalm decay`. Expected values are what the signals were made with: gain, phase, natural
// frequency and damping; everything else is computed from the definition and says so.
#include <gmock/gmock.h>

#include "tests/faces/cli_harness.h"
#include "tests/filters/modes.h"

namespace becalm::tests {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

constexpr double rate_hz = 200.0;

// amplitude cos(2 pi hz t + phase)
void add_tone(Signal& signal, double hz, double amplitude, double phase_deg)
{
    for (std::size_t i = 0; i < signal.size(); ++i)
        signal[i] += amplitude * std::cos(2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate_hz +
                                          phase_deg * std::numbers::pi / 180.0);
}

// Channel 1, the reference: 1.0 at 12 Hz and 0.4 at 30 Hz. Channel 2: 0.5 of it, 40 degrees ahead, at 12 Hz; twice, 90
// degrees behind, at 30 Hz. Channel 3: noise of its own alone.
std::vector<Signal> three_points()
{
    std::vector<Signal> points{noise(120.0, rate_hz, 0.01, 1), noise(120.0, rate_hz, 0.01, 2),
                               noise(120.0, rate_hz, 0.3, 3)};
    add_tone(points[0], 12.0, 1.0, 0.0);
    add_tone(points[0], 30.0, 0.4, 0.0);
    add_tone(points[1], 12.0, 0.5, 40.0);
    add_tone(points[1], 30.0, 0.8, -90.0);
    return points;
}

double value_of(const json& of, const char* key) { return of.at(key).at("value"); }

// Within so many of its own standard uncertainties, which must be worth their name.
void expect_near(const json& found, double expected, double most_uncertainty)
{
    const double uncertainty = found.at("uncertainty");
    EXPECT_GT(uncertainty, 0.0);
    EXPECT_LT(uncertainty, most_uncertainty);
    EXPECT_NEAR(found.at("value").get<double>(), expected, 3.0 * uncertainty);
}

TEST(Relate, FindsTheGainAndPhaseOfTwoLines)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", wav(three_points(), 200));
    const Outcome outcome = call({"relate", path, "--reference", "1", "--axes", "x,y,z", "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json report = outcome.json();
    EXPECT_EQ(report.at("schema"), "becalm.relation/1");
    EXPECT_EQ(report.at("reference").at("channel"), 1);
    EXPECT_EQ(report.at("resolution_hz"), 0.25);
    EXPECT_EQ(report.at("segments"), 59); // 120 s hold so many of 4 s, half overlapping
    ASSERT_EQ(report.at("lines").size(), 2U);
    EXPECT_NEAR(report.at("lines").at(0).at("reference_rms").get<double>(), 1.0 / std::sqrt(2.0), 0.01);
    const struct {
        double hz, gain, phase_deg;
    } expected[] = {{12.0, 0.5, 40.0}, {30.0, 2.0, -90.0}};
    for (std::size_t i = 0; i < 2; ++i) {
        const json& line = report.at("lines").at(i);
        EXPECT_NEAR(line.at("hz").get<double>(), expected[i].hz, 0.01);
        const json& second = line.at("channels").at(0);
        EXPECT_EQ(second.at("channel"), 2);
        EXPECT_EQ(second.at("axis"), "y");
        EXPECT_GT(second.at("coherence").get<double>(), 0.99);
        EXPECT_TRUE(second.at("moves_together").get<bool>());
        EXPECT_NEAR(second.at("magnitude").get<double>(), expected[i].gain, 0.005 * expected[i].gain);
        EXPECT_NEAR(second.at("phase_deg").get<double>(), expected[i].phase_deg, 0.3);
        const double phase = expected[i].phase_deg * std::numbers::pi / 180.0;
        EXPECT_NEAR(second.at("amplitude").at(0).get<double>(), expected[i].gain * std::cos(phase), 0.01);
        EXPECT_NEAR(second.at("amplitude").at(1).get<double>(), expected[i].gain * std::sin(phase), 0.01);
        // u(arg H) = u(|H|) / |H|, in radians [definition in filters/cross_spectra.h]
        EXPECT_NEAR(second.at("phase_uncertainty_deg").get<double>() * std::numbers::pi / 180.0,
                    second.at("magnitude_uncertainty").get<double>() / second.at("magnitude").get<double>(), 1e-9);
        EXPECT_FALSE(line.at("channels").at(1).at("moves_together").get<bool>());
    }
    // 12 Hz is bin 48; every bin but those that lack energy is listed, the one at half the rate too.
    bool listed = false;
    for (const json& bin : report.at("channels").at(0).at("bins"))
        if (bin.at("hz") == 12.0) {
            listed = true;
            EXPECT_NEAR(bin.at("magnitude").get<double>(), 0.5, 0.0025);
        }
    EXPECT_TRUE(listed);
    EXPECT_GT(report.at("channels").at(0).at("bins").size(), 395U);
}

TEST(Relate, SaysInWordsWhereChannelsDoNotMoveTogether)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.csv", csv(three_points(), rate_hz, "deck,rail,chair"));
    const Outcome outcome = call({"relate", path, "--reference", "deck"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_THAT(outcome.out, HasSubstr("channel 3 and the reference do not move together there"));
    EXPECT_THAT(outcome.out, Not(HasSubstr("channel 2 and the reference do not")));
}

TEST(Relate, RefusesWithAWayOut)
{
    const ScratchFolder folder;
    const std::vector<Signal> points = three_points();
    const std::string path = folder.file("a.wav", wav(points, 200));
    const Outcome missing = call({"relate", path, "--reference", "7"});
    EXPECT_EQ(missing.code, 2);
    EXPECT_THAT(missing.err, HasSubstr("channel \"7\", is not among the channels; choose --reference from 1, 2, 3"));

    const Outcome brief = call({"relate", path, "--reference", "1", "--to", "5", "--resolution", "0.25"});
    EXPECT_EQ(brief.code, 3);
    EXPECT_THAT(brief.err, HasSubstr("too short to compare channels"));
    EXPECT_THAT(brief.err, HasSubstr("coarser --resolution"));

    const Outcome alone = call({"relate", folder.file("b.wav", wav({points[0]}, 200)), "--reference", "1"});
    EXPECT_EQ(alone.code, 2);
    EXPECT_THAT(alone.err, HasSubstr("no channel beside the reference"));

    const Outcome dead =
        call({"relate", folder.file("c.wav", wav({Signal(24'000, 0.5), points[0]}, 200)), "--reference", "1"});
    EXPECT_EQ(dead.code, 3);
    EXPECT_THAT(dead.err, HasSubstr("channel 1, does not move"));

    const Outcome unscaled = call({"relate", folder.file("d.wav", wav(points, 200, 24)), "--reference", "1"});
    EXPECT_EQ(unscaled.code, 3);
    EXPECT_THAT(unscaled.err, HasSubstr("--scale"));
}

TEST(Relate, AGapIsRefusedAndASpanWithoutItIsNot)
{
    const ScratchFolder folder;
    std::vector<Signal> points = three_points();
    points[1][20'000] = std::numeric_limits<double>::quiet_NaN(); // at 100 s
    const std::string path = folder.file("a.wav", wav(points, 200));
    const Outcome gap = call({"relate", path, "--reference", "1"});
    EXPECT_EQ(gap.code, 3);
    EXPECT_THAT(gap.err, HasSubstr("channel 2 has a gap at 100 s"));
    EXPECT_THAT(gap.err, HasSubstr("--from and --to"));
    EXPECT_EQ(call({"relate", path, "--reference", "1", "--to", "100"}).code, 0);
    EXPECT_EQ(call({"relate", path, "--reference", "1", "--axes", "1=x,3=z"}).code, 0);
}

// 32,000,000 samples are the bound.
TEST(Relate, RefusesMoreThanItHoldsInMemoryAndNamesTheSpanThatFits)
{
    const ScratchFolder folder;
    std::vector<Signal> points(2, Signal(16'000'001, 0.0));
    const std::string path = folder.file("a.wav", wav(points, 1000, 16));
    for (const auto* command : {"relate", "decay"}) {
        std::vector<std::string> arguments{command, path, "--scale", "1"};
        if (std::string(command) == "relate") arguments.insert(arguments.end(), {"--reference", "1"});
        const Outcome outcome = call(arguments);
        EXPECT_EQ(outcome.code, 2);
        EXPECT_THAT(outcome.err, HasSubstr("at most 16000 s by --from and --to"));
    }
}

// A heel drop after 2 s of rest, two channels with noise of 0.2 % of the first amplitude.
std::vector<Signal> heel_drop()
{
    std::vector<Signal> points;
    unsigned seed = 5;
    for (const double gain : {1.0, 0.4}) {
        Signal x = filters::tests::free_decay_of(6.3, 0.02, rate_hz, 3000, 2.0);
        const Signal faint = noise(15.0, rate_hz, 0.002 * gain, seed++);
        for (std::size_t i = 0; i < x.size(); ++i) x[i] = gain * x[i] + faint[i];
        points.push_back(std::move(x));
    }
    return points;
}

TEST(DecayCommand, FindsFrequencyAndDampingOfAHeelDrop)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", wav(heel_drop(), 200));
    const Outcome outcome = call({"decay", path, "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err << outcome.out;
    const json report = outcome.json();
    EXPECT_EQ(report.at("schema"), "becalm.decay/1");
    EXPECT_EQ(report.at("method"), "free-decay");
    ASSERT_EQ(report.at("channels").size(), 2U);
    for (const json& channel : report.at("channels")) {
        expect_near(channel.at("frequency_hz"), 6.3, 0.02);
        expect_near(channel.at("damping"), 0.02, 0.002);
        // 2 pi zeta / sqrt(1 - zeta^2), computed from the definition
        const double zeta = value_of(channel, "damping");
        EXPECT_NEAR(channel.at("logarithmic_decrement").get<double>(),
                    2.0 * std::numbers::pi * zeta / std::sqrt(1.0 - zeta * zeta), 1e-12);
        EXPECT_GT(channel.at("from_s").get<double>(), 2.0);
        EXPECT_TRUE(channel.at("why_not").is_null());
    }
    // Seconds count from the start of the recording, whatever span is chosen.
    const json later = call({"decay", path, "--from", "1.5", "--json", "-"}).json();
    EXPECT_GT(later.at("channels").at(0).at("from_s").get<double>(), 2.0);
    expect_near(later.at("channels").at(0).at("damping"), 0.02, 0.002);
}

// Two modes: the range says which of them is meant; the span ends before the slower one, which rings on, is all there
// is.
TEST(DecayCommand, TheRangeChoosesTheMode)
{
    const ScratchFolder folder;
    Signal x = filters::tests::free_decay_of(5.0, 0.01, rate_hz, 4000, 1.0);
    const Signal other = filters::tests::free_decay_of(23.0, 0.015, rate_hz, 4000, 1.0);
    const Signal faint = noise(20.0, rate_hz, 0.0005, 8);
    for (std::size_t i = 0; i < x.size(); ++i) x[i] += 0.5 * other[i] + faint[i];
    const std::string path = folder.file("a.wav", wav({x}, 200));
    const json low = call({"decay", path, "--json", "-"}).json().at("channels").at(0);
    EXPECT_NEAR(value_of(low, "frequency_hz"), 5.0, 0.02);
    EXPECT_NEAR(value_of(low, "damping"), 0.01, 0.001);
    const json high =
        call({"decay", path, "--above", "15", "--below", "40", "--to", "3", "--json", "-"}).json().at("channels").at(0);
    EXPECT_NEAR(value_of(high, "frequency_hz"), 23.0, 0.1);
    EXPECT_NEAR(value_of(high, "damping"), 0.015, 0.0015);
}

TEST(DecayCommand, RefusesWithAWayOut)
{
    const ScratchFolder folder;
    const Outcome steady = call({"decay", folder.file("a.wav", wav({sine(20.0, rate_hz, 8.0, 1.0)}, 200))});
    EXPECT_EQ(steady.code, 3);
    EXPECT_THAT(steady.out, HasSubstr("channel 1: no decay"));
    EXPECT_THAT(steady.out, HasSubstr("--from and --to"));

    std::vector<Signal> drop = heel_drop();
    const std::string path = folder.file("b.wav", wav(drop, 200));
    const Outcome brief = call({"decay", path, "--from", "2", "--to", "2.3"});
    EXPECT_EQ(brief.code, 3);
    EXPECT_THAT(brief.out, HasSubstr("too short"));
    EXPECT_EQ(call({"decay", path, "--above", "9", "--below", "3"}).code, 2);
    EXPECT_EQ(call({"decay", path, "--resolution", "1"}).code, 2);
    EXPECT_EQ(call({"decay", path, "--from", "50"}).code, 2);
    const Outcome ambient = call({"decay", path, "--ambient", "--resolution", "0.05"});
    EXPECT_EQ(ambient.code, 3);
    EXPECT_THAT(ambient.err, HasSubstr("too short"));

    drop[0][1000] = std::numeric_limits<double>::quiet_NaN();
    const Outcome gap = call({"decay", folder.file("c.wav", wav(drop, 200))});
    EXPECT_EQ(gap.code, 3);
    EXPECT_THAT(gap.err, HasSubstr("channel 1 has a gap at 5 s"));
}

// An oscillator of 4 Hz and 2 % under white noise for half an hour, seen at two points that move against each other.
TEST(DecayCommand, FindsTheModeOfAnAmbientResponseInTwoWays)
{
    const ScratchFolder folder;
    const auto response = filters::tests::white_noise_response(4.0, 0.02, 50.0, 50 * 1800, 11);
    std::vector<Signal> points{noise(1800.0, 50.0, 0.02, 1), noise(1800.0, 50.0, 0.02, 2)};
    for (std::size_t i = 0; i < points[0].size(); ++i) {
        points[0][i] += response.displacement[i];
        points[1][i] -= 0.5 * response.displacement[i];
    }
    const std::string path = folder.file("a.wav", wav(points, 50));
    const Outcome outcome =
        call({"decay", path, "--ambient", "--unit", "m", "--above", "2", "--below", "8", "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err << outcome.out;
    const json report = outcome.json();
    EXPECT_EQ(report.at("method"), "ambient");
    ASSERT_EQ(report.at("modes").size(), 1U) << report;
    const json& mode = report.at("modes").at(0);
    expect_near(mode.at("frequency_hz"), 4.0, 0.05);
    expect_near(mode.at("damping"), 0.02, 0.005);
    EXPECT_NEAR(mode.at("shape").at(1).at(0).get<double>(), -0.5, 0.02);
    for (const json& channel : mode.at("half_power")) {
        ASSERT_TRUE(channel.at("why_not").is_null()) << channel;
        expect_near(channel.at("frequency_hz"), 4.0, 0.05);
        expect_near(channel.at("damping"), 0.02, 0.006);
    }
    EXPECT_THAT(call({"decay", path, "--ambient", "--unit", "m", "--above", "2", "--below", "8"}).out,
                HasSubstr("all channels, decomposed"));
}

} // namespace
} // namespace becalm::tests
