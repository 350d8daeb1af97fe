// Coherence with a channel on the source, as evidence. The machines are made: which of them moves the judged channel
// is known. The coherence itself is held against its definition, written out once more here.
#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <complex>
#include <fstream>
#include <limits>
#include <numbers>

#include <gmock/gmock.h>

#include "evaluators/attribution.h"
#include "evaluators/reference_channel.h"

#include "tests/evaluators/explained.h"

namespace becalm::evaluators {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;
using namespace tests;

constexpr double rate_hz = 500.0;

// Turns at `hz` but for a phase that wanders: a random walk of so many rad in the root of a second.
Signal machine(double amplitude, double hz, std::uint64_t seed, double seconds = 130.0, double walk = 0.25)
{
    Signal signal = noise(static_cast<std::size_t>(seconds * rate_hz), seed); // of variance 1/3
    double phase = 0.0;
    for (std::size_t i = 0; i < signal.size(); ++i) {
        phase += walk * std::sqrt(3.0 / rate_hz) * signal[i];
        signal[i] = amplitude * std::sin(2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate_hz + phase);
    }
    return signal;
}

Signal together(Signal one, const Signal& other, double times = 1.0)
{
    for (std::size_t i = 0; i < one.size(); ++i) one[i] += times * other[i];
    return one;
}

Signal rough(const Signal& signal, double amplitude, std::uint64_t seed)
{
    return together(signal, noise(signal.size(), seed), amplitude);
}

std::string fan(const std::string& id, double hz, const std::string& more = "")
{
    return fmt::format("[[source]]\nid = \"{}\"\nkind = \"plant\"\nhz = {}\n{}\n", id, hz, more);
}

// A sample of this value becomes one that is not a number, which the writer of files refuses.
constexpr double lost = 123.456;

void lose_samples(const std::string& path)
{
    std::string content = content_of(path);
    const auto bytes = [](double x) {
        const auto single = std::bit_cast<std::array<char, 4>>(static_cast<float>(x));
        return std::string(single.begin(), single.end());
    };
    const std::size_t at = content.find(bytes(lost));
    if (at == std::string::npos) return;
    content.replace(at, 4, bytes(std::numeric_limits<double>::quiet_NaN()));
    std::ofstream(path, std::ios::binary) << content;
}

Explanation explained(const std::vector<std::string>& sources, const std::vector<Signal>& channels,
                      const std::string& judge = "iso6954-2000", const std::string& more = "")
{
    Case survey(judge == "iso6954-2000" ? "vessel" : "building");
    survey.space("c", judge == "iso6954-2000" ? "passenger-cabin" : "office");
    for (const std::string& source : sources) survey.table(source);
    survey.recording("a.wav", "c", "1 = \"z\"", channels, more, static_cast<int>(rate_hz)).judge("\"" + judge + "\"");
    lose_samples(survey.path("a.wav"));
    ExplanationReport report = explanation(survey);
    EXPECT_EQ(report.explanations.size(), 1U);
    if (report.explanations.empty()) return {};
    EXPECT_EQ(report.explanations[0].why_not, "");
    EXPECT_FALSE(report.explanations[0].components.empty());
    return std::move(report.explanations[0]);
}

// gamma^2 at one frequency from the definition: Hann, half overlap, each segment's mean taken away. From the 3 s on
// that Wm needs to settle.
double coherence_of(const Signal& one, const Signal& other, double hz)
{
    constexpr std::size_t length = 2000, run_in = 1500; // 4 s, 3 s
    double xx = 0.0, yy = 0.0;
    std::complex<double> xy;
    for (std::size_t begin = run_in; begin + length <= one.size(); begin += length / 2) {
        const auto at = [&](const Signal& signal) {
            double mean = 0.0;
            for (std::size_t n = 0; n < length; ++n) mean += signal[begin + n] / length;
            std::complex<double> sum;
            for (std::size_t n = 0; n < length; ++n) {
                const double turn = 2.0 * std::numbers::pi * static_cast<double>(n);
                sum += (signal[begin + n] - mean) * (0.5 - 0.5 * std::cos(turn / length)) *
                       std::polar(1.0, -turn * hz / rate_hz);
            }
            return sum;
        };
        const auto x = at(one), y = at(other);
        xx += std::norm(x);
        yy += std::norm(y);
        xy += std::conj(x) * y;
    }
    return std::norm(xy) / (xx * yy);
}

std::vector<std::string> makers(const ExplainedComponent& component)
{
    std::vector<std::string> ids;
    for (const SourceMatch& match : component.matches) ids.push_back(match.source);
    return ids;
}

TEST(ReferenceChannel, OfTwoMachinesAtTheSameFrequencyTheCoherentOneIsNamed)
{
    const Signal a = machine(0.2, 20.0, 1), b = machine(0.2, 20.0, 2);
    const std::vector<Signal> channels{single_precision(rough(a, 0.01, 3)), single_precision(rough(a, 0.05, 4)),
                                       single_precision(rough(b, 0.05, 5))};
    const auto neither = explained({fan("a", 20.0), fan("b", 20.0)}, channels);
    EXPECT_THAT(makers(neither.components[0]), ElementsAre("a", "b")) << "without reference channels both fit";

    const auto why =
        explained({fan("b", 20.0, "reference_channel = 3"), fan("a", 20.0, "reference_channel = 2")}, channels);
    const ExplainedComponent& component = why.components[0];
    ASSERT_THAT(makers(component), ElementsAre("a"));
    const SourceMatch& match = component.matches[0];
    EXPECT_EQ(match.reference_channel, 2);
    ASSERT_TRUE(match.coherence);
    const double expected = coherence_of(channels[0], channels[1], 20.0);
    EXPECT_GT(expected, 0.95);
    EXPECT_NEAR(*match.coherence, expected, 1e-6);
    EXPECT_EQ(match.evidence.front(), fmt::format("moves with channel 2, coherence {:.2f}", expected));
    const double of_b = coherence_of(channels[0], channels[2], 20.0);
    EXPECT_THAT(component.notes, ElementsAre(fmt::format("does not move with channel 3 (b), coherence {:.2f}", of_b)));
    EXPECT_TRUE(
        std::ranges::none_of(why.notes, [](const std::string& note) { return note.find("coherence") < note.size(); }));
}

TEST(ReferenceChannel, TheScaleOfTheReferencePlaysNoPart)
{
    const Signal a = machine(0.2, 20.0, 1);
    Signal faint = rough(a, 0.05, 4);
    for (double& x : faint) x *= -1e-6;
    const auto why = explained({fan("a", 20.0, "reference_channel = 2")}, {rough(a, 0.01, 3), faint});
    ASSERT_THAT(makers(why.components[0]), ElementsAre("a"));
    EXPECT_GT(why.components[0].matches[0].coherence.value_or(0.0), 0.95);
}

TEST(ReferenceChannel, AToneOfSomebodyElseNearAPredictedLineIsDropped)
{
    // Predicted at 20.00 Hz to 1 %; what moves the cabin is at 20.15 Hz, and the fan, at 20.00 Hz, does not reach it.
    const Signal cabin = rough(sine(0.2, 20.15, rate_hz, 130.0), 0.01, 1);
    const Signal at_the_fan = rough(sine(0.5, 20.0, rate_hz, 130.0), 0.05, 2);
    const auto guessed = explained({fan("a", 20.0)}, {cabin, at_the_fan});
    EXPECT_THAT(makers(guessed.components[0]), ElementsAre("a"));
    const auto why = explained({fan("a", 20.0, "reference_channel = 2")}, {cabin, at_the_fan});
    EXPECT_THAT(makers(why.components[0]), IsEmpty());
    EXPECT_THAT(why.components[0].notes, ElementsAre(StartsWith("does not move with channel 2 (a), coherence 0.0")));
    EXPECT_NEAR(why.unexplained_share, why.components[0].share, 1e-9);
    EXPECT_THAT(why.cures, IsEmpty());
}

TEST(ReferenceChannel, WhereNoLineFitsTheComponentStaysUnexplainedAndSaysWhatItMovesWith)
{
    const Signal a = machine(0.2, 33.3, 1);
    const auto why = explained({fan("a", 20.0, "reference_channel = 2")}, {rough(a, 0.01, 3), rough(a, 0.02, 4)});
    EXPECT_THAT(makers(why.components[0]), IsEmpty());
    EXPECT_THAT(why.components[0].notes, ElementsAre("moves with channel 2 (a), coherence 1.00"));
    EXPECT_EQ(why.explained_share, 0.0);
}

TEST(ReferenceChannel, OfTwoComponentsNearALineTheCoherentOneTellsTheSpeed)
{
    // 19.9 Hz is nearer to what is stated, but it is the component at 20.15 Hz that moves with the fan; its second
    // multiple lies at that speed.
    const Signal a = machine(0.1, 20.15, 1, 130.0, 0.1), other = sine(0.1, 19.9, rate_hz, 130.0);
    Signal twice = noise(a.size(), 1); // the same walk, doubled
    double phase = 0.0;
    for (std::size_t i = 0; i < twice.size(); ++i) {
        phase += 0.1 * std::sqrt(3.0 / rate_hz) * twice[i];
        twice[i] = 0.05 * std::sin(2.0 * (2.0 * std::numbers::pi * 20.15 * static_cast<double>(i) / rate_hz + phase));
    }
    const Signal machine_room = rough(together(a, twice), 0.01, 7);
    const auto why = explained({fan("a", 20.0, "reference_channel = 2")},
                               {rough(together(together(a, twice), other), 0.005, 3), machine_room});
    std::vector<double> found;
    for (const ExplainedComponent& component : why.components)
        if (!component.matches.empty()) found.push_back(component.hz);
    std::ranges::sort(found);
    ASSERT_EQ(found.size(), 2U);
    EXPECT_NEAR(found[0], 20.15, 0.02);
    EXPECT_NEAR(found[1], 40.30, 0.04);
}

TEST(ReferenceChannel, InBetweenNothingChanges)
{
    // Half of what the reference shows at 20 Hz is another machine's.
    const Signal a = machine(0.2, 20.0, 1), b = machine(0.2, 20.0, 2);
    const std::vector<Signal> channels{rough(a, 0.01, 3), together(a, b)};
    const auto without = explained({fan("a", 20.0)}, channels);
    const auto with = explained({fan("a", 20.0, "reference_channel = 2")}, channels);
    ASSERT_THAT(makers(with.components[0]), ElementsAre("a"));
    const SourceMatch& match = with.components[0].matches[0];
    ASSERT_TRUE(match.coherence);
    EXPECT_NEAR(*match.coherence, 0.5, 0.19);
    EXPECT_EQ(match.evidence, without.components[0].matches[0].evidence);
    EXPECT_EQ(match.weight, without.components[0].matches[0].weight);
    EXPECT_THAT(with.components[0].notes, IsEmpty());
}

TEST(ReferenceChannel, WhatLeaksFromATonesNeighbourIsNoCoherence)
{
    // Two steady tones 0.5 Hz apart turn by the same in a hop of 2 s, so that the skirt of one is coherent with the
    // other, whatever makes them.
    const Signal cabin = rough(sine(0.2, 20.1, rate_hz, 130.0), 1e-4, 1);
    const Signal elsewhere = rough(sine(0.2, 20.6, rate_hz, 130.0), 1e-4, 2);
    ASSERT_GT(coherence_of(cabin, elsewhere, 20.0), 0.8) << "that is the trap";
    const auto why = explained({fan("a", 20.1, "reference_channel = 2")}, {cabin, elsewhere});
    for (const SourceMatch& match : why.components[0].matches)
        EXPECT_THAT(match.evidence, testing::Not(Contains(HasSubstr("moves with channel"))));
}

TEST(ReferenceChannel, AStrongNeighbourIsNotHeldAgainstAFaintLine)
{
    // At 0.25 Hz the tone at 20.3 Hz hides the fan, which is as coherent as can be; at 0.0625 Hz they are two lines.
    const Signal a = machine(0.02, 20.0, 1, 130.0, 0.02);
    const Signal cabin = rough(together(a, sine(0.3, 20.3, rate_hz, 130.0)), 0.001, 3), at_the_fan = rough(a, 0.001, 4);
    ASSERT_LT(coherence_of(cabin, at_the_fan, 20.0), 0.1) << "that is the trap";
    const auto why = explained({fan("a", 20.0, "reference_channel = 2")}, {cabin, at_the_fan});
    ASSERT_GE(why.components.size(), 2U);
    EXPECT_NEAR(why.components[1].hz, 20.0, 0.01);
    EXPECT_THAT(makers(why.components[1]), ElementsAre("a"));
    EXPECT_THAT(why.components[1].notes, IsEmpty());
}

TEST(ReferenceChannel, SaysWhyThereIsNoneAndGoesByTheOtherEvidence)
{
    const Signal a = machine(0.2, 20.0, 1);
    const Signal cabin = rough(a, 0.01, 3);
    const auto note = [&](const std::string& reference, const std::vector<Signal>& channels) {
        const auto why = explained({fan("a", 20.0, "reference_channel = " + reference)}, channels);
        EXPECT_THAT(makers(why.components[0]), ElementsAre("a")) << reference;
        EXPECT_FALSE(why.components[0].matches[0].coherence);
        EXPECT_THAT(why.components[0].notes, IsEmpty());
        const auto told =
            std::ranges::find_if(why.notes, [](const std::string& one) { return one.starts_with("axis z"); });
        return told == why.notes.end() ? std::string() : *told;
    };
    EXPECT_EQ(note("4", {cabin, a}),
              "axis z: nothing is known of its coherence with channel 4 (a): a.wav has 2 channels");
    EXPECT_EQ(note("1", {cabin, a}),
              "axis z: nothing is known of its coherence with channel 1 (a): in a.wav it is the judged channel itself");
    EXPECT_EQ(note("2", {cabin, Signal(a.size(), 0.5)}),
              "axis z: nothing is known of its coherence with channel 2 (a): a.wav: it does not move; see to its "
              "transducer");
    Signal gap = a;
    gap[20'000] = lost;
    EXPECT_EQ(note("2", {cabin, gap}),
              "axis z: nothing is known of its coherence with channel 2 (a): channel 2 of a.wav has a gap at 40 s: a "
              "sample that is not a number");

    const Signal brief = machine(0.2, 20.0, 1, 20.0);
    const auto why = explained({fan("a", 20.0, "reference_channel = 2")}, {brief, brief}, "iso2631-2-2003");
    EXPECT_THAT(makers(why.components[0]), ElementsAre("a"));
    EXPECT_THAT(why.notes, Contains("axis z: nothing is known of its coherence with channel 2 (a): a.wav: 9 segments "
                                    "of 4 s are too few; 24 s without a gap are needed"));
}

TEST(ReferenceChannel, RepeatsAndPiecesAreTakenTogether)
{
    const auto record = [](std::uint64_t seed) {
        const Signal a = machine(0.2, 20.0, seed, 66.0);
        return std::vector<Signal>{rough(a, 0.01, seed + 10), rough(a, 0.05, seed + 20)};
    };
    Case survey("vessel");
    survey.space("c", "passenger-cabin")
        .table(fan("a", 20.0, "reference_channel = 2"))
        .recording("a.wav", "c", "1 = \"z\"", record(1), "exclude = [ { from_s = 30, to_s = 31, reason = \"door\" } ]",
                   500)
        .recording("b.wav", "c", "1 = \"z\"", record(2), "", 500)
        .recording("c.wav", "c", "1 = \"z\"", {record(3)[0]}, "", 500)
        .judge("\"iso6954-2000\"");
    const ExplanationReport report = explanation(survey);
    const Explanation& why = report.explanations.at(0);
    ASSERT_THAT(makers(why.components.at(0)), ElementsAre("a"));
    EXPECT_GT(why.components[0].matches[0].coherence.value_or(0.0), 0.9);
    EXPECT_THAT(why.notes,
                Contains("axis z: nothing is known of its coherence with channel 2 (a): c.wav has 1 channel"));
}

// An occasion in which sources of these frequencies say this of each component.
Occasion occasion(const std::vector<double>& components, const std::vector<Source>& sources,
                  const std::vector<std::vector<ReferenceWord>>& words)
{
    Occasion here;
    for (const double hz : components) here.components.push_back({hz, 1.0});
    for (std::size_t s = 0; s < sources.size(); ++s) {
        here.sources.push_back(*predicted_lines(sources[s], nullptr, 200.0));
        auto& said = here.references.emplace_back();
        for (const ReferenceWord word : words[s])
            said.push_back(ReferenceSays{.source = sources[s].id, .channel = 2, .coherence = 0.9, .word = word});
    }
    return here;
}

TEST(Attribution, TheReferenceChannelDropsHarmonicsToo)
{
    const Source a{.id = "a", .kind = "plant", .values = {{"hz", 20.0}}};
    const auto yes = ReferenceWord::moves_with, no = ReferenceWord::does_not;
    const auto matches = attribute(occasion({20.0, 40.0, 60.0}, {a}, {{yes, no, yes}}), {}, 0.0625);
    EXPECT_EQ(matches[0].size(), 1U);
    EXPECT_THAT(matches[1], IsEmpty());
    EXPECT_EQ(matches[2].size(), 1U);
    EXPECT_THAT(matches[0][0].evidence, testing::Not(Contains(HasSubstr("rotation x 2"))));
}

TEST(Attribution, WhatMovesWithTheReferenceGoesFirst)
{
    const Source a{.id = "a", .kind = "plant", .values = {{"hz", 20.0}}},
        b{.id = "b", .kind = "plant", .values = {{"hz", 20.0}}};
    const auto yes = ReferenceWord::moves_with, nothing = ReferenceWord::nothing;
    const auto matches = attribute(occasion({20.0}, {a, b}, {{nothing}, {yes}}), {}, 0.0625);
    ASSERT_EQ(matches[0].size(), 2U);
    EXPECT_EQ(matches[0][0].source, "b");
    // Of two components for one line, too: 19.98 Hz is nearer to what is stated, 20.15 Hz moves along.
    const auto speed = attribute(occasion({19.98, 20.15}, {a}, {{nothing, yes}}), {}, 0.0625);
    EXPECT_THAT(speed[0], IsEmpty());
    EXPECT_EQ(speed[1].size(), 1U);
}

// Densities of two channels as if two parts, one common and one of each, had the given powers at every line.
filters::CrossDensities made(double common, double own, std::size_t segments)
{
    filters::CrossDensities densities{.rate_hz = 500.0, .length = 2000, .channels = 2, .segments = segments};
    std::vector<double> shape(densities.lines(), 1e-6);
    for (const auto& [line, height] : {std::pair{79, 0.25}, {80, 1.0}, {81, 0.25}}) shape[line] += height;
    for (const double power : {common + own, common, common + own})
        for (const double s : shape) densities.values.emplace_back(power * s);
    densities.mean_squares = {1.0, 1.0};
    return densities;
}

TEST(ReferenceSays, HighLowAndNothing)
{
    // As a tone on line 80: density 1 is rms^2 / (1.5 resolution).
    const std::vector<filters::SpectralLine> line{{.hz = 20.0, .rms = std::sqrt(1.5 * 0.25), .above_floor = 1e6}};
    const auto said = [&](double coherence, std::size_t segments) {
        // common^2 / (common + own)^2 with a sum of 1.
        const double common = std::sqrt(coherence);
        const auto says = reference_says(made(common, 1.0 - common, segments), line, 0);
        EXPECT_TRUE(says && std::abs(says->coherence - coherence) < 1e-9);
        return says->word;
    };
    EXPECT_EQ(said(0.81, 30), ReferenceWord::moves_with);
    EXPECT_EQ(said(0.79, 30), ReferenceWord::nothing);
    EXPECT_EQ(said(0.31, 30), ReferenceWord::nothing);
    EXPECT_EQ(said(0.05, 30), ReferenceWord::does_not);
    // The upper end of 95 % by Fisher's transform: of 11 segments n_d = 10.47, tanh(atanh sqrt(c) - 1/18.9 + 1.645 /
    // sqrt(18.9)) = sqrt(0.3) at c = 0.0796; of 100 segments, n_d = 94.76, at c = 0.2138 (computed from the
    // definition).
    EXPECT_EQ(said(0.079, 11), ReferenceWord::does_not);
    EXPECT_EQ(said(0.080, 11), ReferenceWord::nothing);
    EXPECT_EQ(said(0.213, 100), ReferenceWord::does_not);
    EXPECT_EQ(said(0.215, 100), ReferenceWord::nothing);
    EXPECT_EQ(why_no_coherence(made(0.5, 0.5, 11)), "");
    EXPECT_EQ(why_no_coherence(made(0.5, 0.5, 10)), "10 segments of 4 s are too few; 24 s without a gap are needed");
    // Not what moves the channel there: a neighbour has the line.
    const std::vector<filters::SpectralLine> two{{.hz = 20.0, .rms = std::sqrt(0.5 * 1.5 * 0.25), .above_floor = 1e6},
                                                 {.hz = 20.05, .rms = std::sqrt(0.5 * 1.5 * 0.25), .above_floor = 1e6}};
    EXPECT_EQ(reference_says(made(1.0, 0.0, 30), two, 0)->word, ReferenceWord::nothing);
    EXPECT_EQ(reference_says(made(0.0, 1.0, 30), two, 0)->word, ReferenceWord::nothing);
    EXPECT_FALSE(reference_says(made(1.0, 0.0, 30), std::vector<filters::SpectralLine>{{.hz = 0.2}}, 0));
    EXPECT_FALSE(reference_says(made(1.0, 0.0, 30), std::vector<filters::SpectralLine>{{.hz = 250.0}}, 0));
}

} // namespace
} // namespace becalm::evaluators
