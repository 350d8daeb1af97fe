// Frequencies and amplitudes of an explanation come from the phases of the recording, where they can. Expected values
// are those of the tones that were made.
#include <cmath>
#include <iostream>
#include <numbers>

#include <gmock/gmock.h>

#include "evaluators/read_again.h"

#include "tests/evaluators/explained.h"

namespace becalm::evaluators {
namespace {

using testing::HasSubstr;
using testing::StartsWith;
using namespace tests;

constexpr double bin_hz = 0.0625; // segments of 16 s

Explanation explained(const Signal& signal, const std::string& more = "", const std::string& judge = "iso6954-2000")
{
    Case survey(judge == "iso6954-2000" ? "vessel" : "building");
    survey.space("c", judge == "iso6954-2000" ? "passenger-cabin" : "office")
        .recording("a.wav", "c", "1 = \"z\"", {signal}, more, 500)
        .judge("\"" + judge + "\"");
    ExplanationReport report = explanation(survey);
    EXPECT_EQ(report.explanations.size(), 1U);
    if (report.explanations.empty()) return {};
    EXPECT_EQ(report.explanations[0].why_not, "");
    EXPECT_FALSE(report.explanations[0].components.empty());
    return std::move(report.explanations[0]);
}

// From one frequency to another, evenly.
Signal chirp(double amplitude, double from_hz, double to_hz, double seconds)
{
    Signal signal(static_cast<std::size_t>(seconds * 500.0));
    for (std::size_t i = 0; i < signal.size(); ++i) {
        const double t = static_cast<double>(i) / 500.0;
        signal[i] =
            amplitude * std::sin(2.0 * std::numbers::pi * (from_hz * t + 0.5 * (to_hz - from_hz) / seconds * t * t));
    }
    return signal;
}

TEST(ExplainPhases, ASineBetweenTheBinsIsFoundToAHundredthOfABinAndATenthOfAPercent)
{
    double off_hz = 0.0, off_level = 0.0;
    for (const double seconds : {66.0, 130.0})
        for (const double bins : {320.0, 320.13, 320.25, 320.37, 320.5, 320.77, 1011.62, 48.41}) {
            const double hz = bins * bin_hz;
            const Explanation why = explained(sine(0.2, hz, 500.0, seconds));
            const ExplainedComponent& found = why.components[0];
            EXPECT_EQ(found.averaged_because, "") << bins;
            ASSERT_TRUE(found.frequency_uncertainty_hz && found.confidence) << bins;
            EXPECT_LT(*found.frequency_uncertainty_hz, 0.01 * bin_hz) << bins;
            EXPECT_GT(*found.confidence, 0.999) << bins;
            const double expected = 0.2 * wm(hz) / std::numbers::sqrt2;
            EXPECT_NEAR(found.hz, hz, 0.01 * bin_hz) << bins << " bins, " << seconds << " s";
            EXPECT_NEAR(found.weighted_rms / expected, 1.0, 1e-3) << bins << " bins, " << seconds << " s";
            off_hz = std::max(off_hz, std::abs(found.hz - hz) / bin_hz);
            off_level = std::max(off_level, std::abs(found.weighted_rms / expected - 1.0));
        }
    std::cout << "off by at most " << off_hz << " bins and " << 100.0 * off_level << " %\n";
}

TEST(ExplainPhases, InNoiseTheUncertaintyIsThatOfTheFrequency)
{
    // Noise of 0.1 m/s2 over a tone of 0.05 m/s2. The sum of (off / uncertainty)^2 over 10 records would have a mean
    // of 1 if the wandering that noise imitates were not counted in; it is, so it is less, and never far above.
    double sum = 0.0;
    int refined = 0;
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
        const double hz = (200.0 + 0.05 * static_cast<double>(seed)) * bin_hz;
        Signal signal = sine(0.05, hz, 500.0, 130.0);
        const Signal rough = noise(signal.size(), seed);
        for (std::size_t i = 0; i < signal.size(); ++i) signal[i] += 0.1 * rough[i];
        const Explanation why = explained(signal);
        const ExplainedComponent& found = why.components[0];
        EXPECT_NEAR(found.hz, hz, 0.01 * bin_hz) << seed;
        if (!found.frequency_uncertainty_hz) continue;
        ++refined;
        sum += std::pow((found.hz - hz) / *found.frequency_uncertainty_hz, 2);
    }
    EXPECT_EQ(refined, 10);
    std::cout << "mean of (off / uncertainty)^2: " << sum / refined << "\n";
    EXPECT_LT(sum / refined, 2.0);
}

TEST(ExplainPhases, TwoTonesOneBinApartAreTwo)
{
    const double first = 400.3 * bin_hz, second = first + bin_hz;
    const Explanation why = explained(sum_of({{0.2, first}, {0.12, second}}, 300.0));
    ASSERT_GE(why.components.size(), 2U);
    const ExplainedComponent &one = why.components[0], &other = why.components[1];
    EXPECT_NEAR(one.hz, first, 0.01 * bin_hz);
    EXPECT_NEAR(other.hz, second, 0.01 * bin_hz);
    EXPECT_NEAR(one.weighted_rms / (0.2 * wm(first) / std::numbers::sqrt2), 1.0, 2e-3);
    EXPECT_NEAR(other.weighted_rms / (0.12 * wm(second) / std::numbers::sqrt2), 1.0, 2e-3);
    for (const auto& [component, hz] : {std::pair(&one, first), std::pair(&other, second)}) {
        ASSERT_TRUE(component->beat_hz);
        EXPECT_NEAR(*component->beat_hz, bin_hz, 0.01 * bin_hz);
        ASSERT_TRUE(component->frequency_uncertainty_hz);
        EXPECT_GT(*component->frequency_uncertainty_hz, std::abs(component->hz - hz) / 2.0) << "no surer than it is";
    }
    // A record with less than two beats cannot tell them apart: one tone, and the uncertainty reaches both.
    const Explanation shorter = explained(sum_of({{0.2, first}, {0.2, first + 0.25 * bin_hz}}, 110.0));
    const ExplainedComponent& both = shorter.components[0];
    EXPECT_FALSE(both.beat_hz);
    EXPECT_NEAR(both.hz, first + 0.125 * bin_hz, 0.05 * bin_hz);
    ASSERT_TRUE(both.frequency_uncertainty_hz);
    EXPECT_GT(*both.frequency_uncertainty_hz, 0.1 * bin_hz);
}

TEST(ExplainPhases, ASlowChirpDriftsAndHasNoExactFrequency)
{
    const Explanation why = explained(chirp(0.2, 12.0, 12.2, 200.0));
    ASSERT_TRUE(why.components[0].drift_hz);
    EXPECT_NE(why.components[0].averaged_because, "");
    EXPECT_FALSE(why.components[0].frequency_uncertainty_hz);

    // Steady enough for the phases, but more than half a bin from the first row to the last.
    const Explanation hardly = explained(chirp(0.2, 12.0, 12.0 + 0.59 * bin_hz, 600.0));
    ASSERT_TRUE(hardly.components[0].drift_hz);
    EXPECT_EQ(hardly.components[0].averaged_because, "it drifts");
    EXPECT_FALSE(hardly.components[0].frequency_uncertainty_hz);
    EXPECT_FALSE(hardly.components[0].confidence);

    // A third of a bin is too little for the rows of time, and the uncertainty tells it: evenly spread over 0.02 Hz
    // the standard deviation is 0.02 / sqrt 12.
    const Explanation slower = explained(chirp(0.2, 12.0, 12.02, 200.0));
    EXPECT_FALSE(slower.components[0].drift_hz);
    ASSERT_TRUE(slower.components[0].frequency_uncertainty_hz);
    EXPECT_NEAR(slower.components[0].hz, 12.01, 0.002);
    EXPECT_NEAR(*slower.components[0].frequency_uncertainty_hz, 0.02 / std::sqrt(12.0), 0.002);
}

TEST(ExplainPhases, WhereTheyCannotTellTheAveragedSpectrumStays)
{
    const auto because = [](const Explanation& why) {
        EXPECT_NEAR(why.components[0].hz, 20.02, 0.05);
        EXPECT_FALSE(why.components[0].frequency_uncertainty_hz);
        EXPECT_FALSE(why.components[0].confidence);
        return why.components[0].averaged_because;
    };
    const Signal tone = sine(0.2, 20.02, 500.0, 130.0);
    EXPECT_EQ(because(explained(tone, "exclude = [ { from_s = 60, to_s = 61, reason = \"door\" } ]")),
              "what is left of a.wav is in 2 pieces, and phases need one");
    EXPECT_EQ(because(explained(sine(0.2, 20.02, 500.0, 12.0), "", "iso2631-2-2003")),
              "a.wav is too short to compare phases: 16 s are needed");

    Case survey("vessel");
    survey.space("c", "passenger-cabin")
        .recording("a.wav", "c", "1 = \"z\"", {tone}, "", 500)
        .recording("b.wav", "c", "1 = \"z\"", {tone}, "", 500)
        .judge("\"iso6954-2000\"");
    EXPECT_THAT(because(explanation(survey).explanations.at(0)), StartsWith("several recordings are taken together"));

    // Noise around a resonance is no tone: x[n] = 2 r cos(w) x[n - 1] - r^2 x[n - 2] + noise, damping 0.2 %.
    const double w = 2.0 * std::numbers::pi * 20.02 / 500.0, r = std::exp(-0.002 * w);
    Signal rings = noise(65'000, 5);
    for (std::size_t i = 2; i < rings.size(); ++i)
        rings[i] = 1e-3 * rings[i] + 2.0 * r * std::cos(w) * rings[i - 1] - r * r * rings[i - 2];
    EXPECT_EQ(because(explained(rings)), "it is not steady: it wanders, or is noise around a resonance");
}

TEST(ReadAgain, ARecordingThatIsNotThereOrAnotherOneSaysSo)
{
    const ScratchFolder folder;
    const Recording recording{.file = "a.wav", .channels = {{1, Axis::z}}};
    Measured measured{.recording = &recording, .path = folder.path("a.wav"), .pass = PassResult{}};
    const std::vector<TimeSpan> all{{0.0, 30.0}};
    const std::vector<int> channels{1}, references{2};
    const auto gone = read_again(measured, all, channels, references);
    ASSERT_EQ(gone.size(), 1U);
    EXPECT_THAT(gone[0].phases.why_not, HasSubstr("a.wav"));
    EXPECT_THAT(gone[0].references.at(0).why_not, HasSubstr("a.wav"));

    wav(folder, "a.wav", 500, {sine(0.2, 20.0, 500.0, 30.0), sine(0.2, 20.0, 500.0, 30.0)});
    const auto other = read_again(measured, all, channels, references);
    EXPECT_EQ(other[0].phases.why_not, "a.wav is not the file any more that was judged; run it again");

    measured.pass->info = {.rate_hz = 500.0, .channels = 2, .frames = 15'000};
    const auto again = read_again(measured, all, channels, references);
    EXPECT_EQ(again[0].phases.why_not, "");
    EXPECT_TRUE(again[0].references[0].densities);
    std::stop_source stop;
    stop.request_stop();
    EXPECT_EQ(read_again(measured, all, channels, references, stop.get_token())[0].phases.why_not,
              "it was stopped before the end");
}

} // namespace
} // namespace becalm::evaluators
