// The components of a motion. Expected values are computed from the definition; what is random is seeded, and what was
// measured is printed.
#include <algorithm>
#include <cmath>
#include <iostream>
#include <numbers>
#include <random>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "filters/components.h"
#include "filters/spectrum_rows.h"

namespace becalm::filters {
namespace {

using Signal = std::vector<double>;

constexpr double tau = 2.0 * std::numbers::pi;
constexpr double rate_hz = 128.0;
constexpr std::size_t length = 2048; // 16 s
constexpr double resolution_hz = rate_hz / length;

Signal tone(std::size_t count, double bins, double amplitude, double phase = 0.4)
{
    Signal signal(count);
    for (std::size_t i = 0; i < count; ++i)
        signal[i] = amplitude * std::cos(tau * bins * static_cast<double>(i) / length + phase);
    return signal;
}

void add_to(Signal& signal, const Signal& other)
{
    for (std::size_t i = 0; i < signal.size(); ++i) signal[i] += other[i];
}

// Gaussian, of standard deviation 1: a density of 2 / rate.
Signal white(std::size_t count, std::mt19937_64& random)
{
    std::normal_distribution<double> normal;
    Signal signal(count);
    for (double& x : signal) x = normal(random);
    return signal;
}

LaggedSums sums_of(const Signal& signal)
{
    LaggedSpectra spectra(rate_hz, length);
    spectra.add(signal);
    return spectra.sums();
}

std::vector<Component> found_in(const Signal& signal, double least_ratio = 10.0)
{
    return components(sums_of(signal), least_ratio);
}

ChannelSpectra rows_of(const Signal& signal)
{
    const auto layout = spectrum_layout(rate_hz, static_cast<std::int64_t>(signal.size()), 1800);
    SegmentDensity density(rate_hz, layout->length);
    SpectrumStream stream(*layout, density, 0, layout->segments);
    stream.add(signal);
    return std::move(stream.rows()).spectra();
}

constexpr std::size_t segments_of(std::size_t segments) { return (segments + 1) * length / 2; }

// ---- sums ----

TEST(LaggedSpectra, AreTheSameInAnyBlocks)
{
    std::mt19937_64 random(1);
    const Signal signal = white(segments_of(5) + 77, random);
    LaggedSpectra blocks(rate_hz, length);
    for (std::size_t i = 0; i < signal.size(); i += 331)
        blocks.add(std::span(signal).subspan(i, std::min<std::size_t>(331, signal.size() - i)));
    const LaggedSums a = sums_of(signal), b = blocks.sums();
    EXPECT_EQ(a.segments, 5U);
    EXPECT_EQ(a.density, b.density);
    EXPECT_EQ(a.lag_1, b.lag_1);
    EXPECT_EQ(a.lag_2, b.lag_2);
    Welch welch(rate_hz, length);
    welch.add(signal);
    const auto density = welch.density();
    for (std::size_t k = 0; k < density.size(); ++k) EXPECT_NEAR(a.density[k], density[k], 1e-12) << k;
}

TEST(LaggedSpectra, SeeASixthOfWhiteNoiseTurnWithTheBin)
{
    // sum w[n] w[n + L/2] / sum w^2 from the window itself, and from noise.
    double overlap = 0.0, power = 0.0;
    const auto w = [](std::size_t i) { return 0.5 - 0.5 * std::cos(tau * static_cast<double>(i) / length); };
    for (std::size_t i = 0; i < length; ++i) {
        power += w(i) * w(i);
        if (i + length / 2 < length) overlap += w(i) * w(i + length / 2);
    }
    EXPECT_NEAR(overlap / power, 1.0 / 6.0, 1e-12);
    std::mt19937_64 random(2);
    const LaggedSums sums = sums_of(white(segments_of(400), random));
    EXPECT_EQ(sums.overlap, 1.0 / 6.0);
    std::complex<double> turned = 0.0;
    double all = 0.0;
    for (std::size_t k = 5; k < 1000; ++k) {
        turned += sums.lag_1[k] * (k % 2 == 0 ? 1.0 : -1.0);
        all += sums.pair_density[k];
    }
    std::cout << fmt::format("lag product of white noise: {:.4f} {:+.4f} i of its density\n", turned.real() / all,
                             turned.imag() / all);
    EXPECT_NEAR(turned.real() / all, 1.0 / 6.0, 0.005);
    EXPECT_NEAR(turned.imag() / all, 0.0, 0.005);
}

// ---- one tone ----

TEST(Components, OfACleanSineAtEveryFractionOfABin)
{
    double worst_bins = 0.0, worst_rms = 0.0;
    for (int i = 0; i < 37; ++i) {
        const double bins = 160.0 + i / 37.0;
        const auto found = found_in(tone(segments_of(9), bins, 0.3, 0.1 * i));
        ASSERT_EQ(found.size(), 1U) << bins;
        EXPECT_EQ(found[0].character, Character::tone) << bins;
        EXPECT_FALSE(found[0].close_pair) << bins;
        EXPECT_GT(found[0].steadiness, 0.999) << bins;
        worst_bins = std::max(worst_bins, std::abs(found[0].hz / resolution_hz - bins));
        worst_rms = std::max(worst_rms, std::abs(found[0].rms / (0.3 / std::numbers::sqrt2) - 1.0));
    }
    std::cout << fmt::format("clean sine: off by {:.2g} bins and {:.2g} of the amplitude at worst\n", worst_bins,
                             worst_rms);
    EXPECT_LT(worst_bins, 0.01);
    EXPECT_LT(worst_rms, 1e-3);
}

TEST(Components, OfASineInNoiseAreNearerThanAmplitudesTell)
{
    // 15 segments. A tone of amplitude a shows a^2 / (3 resolution), beside a bin up to 1.42 dB less; the noise 2 /
    // rate.
    std::mt19937_64 random(3);
    for (const double above_db : {20.0, 10.0, 3.0}) {
        double by_phase = 0.0, by_amplitude = 0.0, foretold = 0.0, level = 0.0;
        int runs = 0;
        for (int run = 0; run < 300; ++run) {
            const double bins = std::uniform_real_distribution(200.0, 201.0)(random);
            const double amplitude = std::sqrt(3.0 * resolution_hz * 2.0 / rate_hz * (std::pow(10.0, above_db / 10.0)));
            Signal signal = tone(segments_of(15), bins, amplitude, std::uniform_real_distribution(0.0, tau)(random));
            add_to(signal, white(signal.size(), random));
            const LaggedSums sums = sums_of(signal);
            const auto near = [&](const auto& lines) {
                const auto off = [&](const auto& line) { return std::abs(line.hz / resolution_hz - bins); };
                const auto best = std::ranges::min_element(lines, {}, off);
                return best != lines.end() && off(*best) < 1.0 ? &*best : nullptr;
            };
            const auto fine = components(sums, 1.3);
            const auto coarse = spectral_lines(sums.density, resolution_hz, 1.3);
            const auto* a = near(fine);
            const auto* b = near(coarse);
            if (a == nullptr || b == nullptr) continue;
            ++runs;
            by_phase += std::pow(a->hz / resolution_hz - bins, 2);
            by_amplitude += std::pow(b->hz / resolution_hz - bins, 2);
            foretold += std::pow(a->hz_uncertainty / resolution_hz, 2);
            level += a->rms / amplitude * std::numbers::sqrt2;
        }
        ASSERT_GT(runs, 270) << above_db;
        by_phase = std::sqrt(by_phase / runs);
        by_amplitude = std::sqrt(by_amplitude / runs);
        foretold = std::sqrt(foretold / runs);
        std::cout << fmt::format(
            "{} dB above the floor, {} of 300 runs: off by {:.4f} bins by phase ({:.4f} foretold), "
            "{:.4f} by amplitude; level {:.3f}\n",
            above_db, runs, by_phase, foretold, by_amplitude, level / runs);
        EXPECT_LT(by_phase, by_amplitude) << above_db;
        EXPECT_LT(by_phase, 2.0 * foretold) << above_db;
        EXPECT_GT(by_phase, 0.4 * foretold) << above_db;
        EXPECT_NEAR(level / runs, 1.0, 0.05) << above_db;
    }
}

TEST(Components, AreToldFromChanceByTheirHeight)
{
    // Noise alone, 200 records of 1,025 bins: of the peaks that it shows, how many claim a confidence of 95 %?
    std::mt19937_64 random(4);
    int claims = 0;
    for (int run = 0; run < 200; ++run)
        claims += std::ranges::any_of(found_in(white(segments_of(15), random), 1.5),
                                      [](const Component& c) { return c.confidence > 0.95; });
    std::cout << fmt::format("of 200 records of noise {} claim a component with 95 % confidence\n", claims);
    EXPECT_LE(claims, 24); // 10 expected; 12 % at most
    Signal signal = tone(segments_of(15), 300.4, 0.3);
    add_to(signal, white(signal.size(), random));
    EXPECT_GT(found_in(signal).at(0).confidence, 0.999);
}

// ---- not a tone ----

// Noise through a resonance of one degree of freedom (pole pair at its natural frequency), rise left out.
Signal resonance(std::size_t count, double hz, double damping, std::mt19937_64& random)
{
    const double w = tau * hz / rate_hz, r = std::exp(-damping * w);
    const double c = 2.0 * r * std::cos(w * std::sqrt(1.0 - damping * damping));
    std::normal_distribution<double> normal;
    const auto skipped = static_cast<std::size_t>(10.0 / (damping * w));
    Signal signal(count);
    double y1 = 0.0, y2 = 0.0;
    for (std::size_t i = 0; i < count + skipped; ++i) {
        const double y = normal(random) + c * y1 - r * r * y2;
        y2 = y1;
        y1 = y;
        if (i >= skipped) signal[i - skipped] = y;
    }
    return signal;
}

TEST(Components, NarrowBandNoiseIsNoTone)
{
    // Half-power bandwidths 2 zeta f of 1.3 to 16 bins, and a little noise beside them so that there is a floor.
    std::mt19937_64 random(5);
    for (const std::size_t segments : {7U, 15U, 60U}) {
        int called = 0, shown = 0, tones = 0;
        for (int run = 0; run < 200; ++run) {
            const double hz = std::uniform_real_distribution(6.0, 25.0)(random);
            const double damping =
                std::pow(10.0, std::uniform_real_distribution(std::log10(0.04 / hz), std::log10(0.5 / hz))(random));
            Signal signal = resonance(segments_of(segments), hz, damping, random);
            add_to(signal, white(signal.size(), random));
            for (const Component& c : found_in(signal)) {
                ++shown;
                called += c.character == Character::tone;
            }
            Signal steady = tone(segments_of(segments), hz / resolution_hz, 0.5);
            add_to(steady, white(steady.size(), random));
            tones += found_in(steady).at(0).character == Character::tone;
        }
        std::cout << fmt::format("{} segments, 200 resonances: {} of {} components called a tone ({:.1f} %); of 200 "
                                 "tones {} were\n",
                                 segments, called, shown, 100.0 * called / shown, tones);
        EXPECT_GT(shown, 150);
        EXPECT_LT(called, 0.05 * shown);
        EXPECT_GE(tones, 196);
    }
}

TEST(Components, FewSegmentsDecideNothing)
{
    EXPECT_EQ(found_in(tone(segments_of(3), 100.3, 1.0)).at(0).character, Character::undecided);
    EXPECT_TRUE(found_in(tone(length - 1, 100.3, 1.0)).empty());
}

TEST(Components, AChirpIsNoSteadyTone)
{
    // From 10 to 10.5 Hz in 240 s: 8 bins.
    Signal signal(static_cast<std::size_t>(240.0 * rate_hz));
    for (std::size_t i = 0; i < signal.size(); ++i) {
        const double t = static_cast<double>(i) / rate_hz;
        signal[i] = std::sin(tau * (10.0 * t + 0.5 * 0.5 / 240.0 * t * t));
    }
    for (const Component& c : found_in(signal, 3.0)) EXPECT_NE(c.character, Character::tone) << c.hz;
}

// ---- two tones ----

TEST(Components, TwoTonesAreToldApart)
{
    std::mt19937_64 random(6);
    for (const double apart : {1.0, 1.5, 2.0, 3.0}) {
        int flagged = 0, resolved = 0, right = 0;
        double off = 0.0;
        constexpr int runs = 100;
        for (int run = 0; run < runs; ++run) {
            const double bins = std::uniform_real_distribution(150.0, 151.0)(random);
            const double second = std::uniform_real_distribution(0.5, 1.0)(random);
            std::uniform_real_distribution phase(0.0, tau);
            Signal signal = tone(segments_of(31), bins, 1.0, phase(random));
            add_to(signal, tone(signal.size(), bins + apart, second, phase(random)));
            Signal rough = white(signal.size(), random);
            for (double& x : rough) x *= 0.3;
            add_to(signal, rough);
            const auto found = found_in(signal);
            flagged += found.at(0).close_pair;
            if (found[0].beat_hz) {
                ++resolved;
                const double error = *found[0].beat_hz / resolution_hz - apart;
                right += std::abs(error) < 0.1;
                off = std::max(off, std::abs(error));
            }
        }
        std::cout << fmt::format(
            "two tones {} bins apart: {} of {} flagged, {} with a beat frequency, {} of these within "
            "0.1 bins ({:.3f} at worst)\n",
            apart, flagged, runs, resolved, right, off);
        EXPECT_EQ(flagged, runs) << apart;
        EXPECT_GE(right, 0.95 * resolved) << apart;
        // Two bins apart both turn alike from segment to segment, and only the amplitudes can tell them.
        EXPECT_GE(resolved, apart == 2.0 ? 40 : 90) << apart;
    }
}

TEST(Components, OfTwoTonesFrequencyAndLevelAreAsGoodAsOfOne)
{
    // In noise of 20 dB below; the phase between them goes all the way round. The uncertainty is never less than what
    // there is; 1.8 bins apart they turn nearly alike, and it tells that each leaks into the other.
    for (const double apart : {0.5, 0.75, 1.0, 1.5, 1.8})
        for (const double level : {1.0, 0.5}) {
            std::mt19937_64 random(7);
            double off = 0.0, off_level = 0.0, squares = 0.0;
            int pairs = 0;
            for (int run = 0; run < 20; ++run) {
                Signal signal = tone(segments_of(14), 200.3, 1.0);
                add_to(signal, tone(signal.size(), 200.3 + apart, level, 0.05 * tau * run));
                Signal rough = white(signal.size(), random);
                for (double& x : rough) x *= 0.1;
                add_to(signal, rough);
                for (const Component& c : found_in(signal)) {
                    if (!c.beat_hz) continue;
                    const double bins = c.hz / resolution_hz;
                    const bool is_first = std::abs(bins - 200.3) < std::abs(bins - 200.3 - apart);
                    const double away = bins - 200.3 - (is_first ? 0.0 : apart);
                    off = std::max(off, std::abs(away));
                    off_level = std::max(off_level, std::abs(c.rms * std::sqrt(2.0) / (is_first ? 1.0 : level) - 1.0));
                    squares += std::pow(away * resolution_hz / std::hypot(c.hz_uncertainty, c.wander_hz), 2);
                    ++pairs;
                }
            }
            std::cout << fmt::format(
                "{} bins apart, levels 1 and {}: {} of 40, off by {:.4f} bins and {:.2f} % at worst; "
                "(off / uncertainty)^2 {:.2f}\n",
                apart, level, pairs, off, 100.0 * off_level, squares / std::max(1, pairs));
            if (apart > 1.6) {
                EXPECT_LE(squares, 1.5 * pairs); // none of the weaker one, which is no line of its own
                continue;
            }
            EXPECT_EQ(pairs, 40) << apart;
            EXPECT_LT(off, 0.005) << apart;
            EXPECT_LT(off_level, 0.04) << apart;
            EXPECT_LT(squares / pairs, 1.5) << apart;
        }
}

TEST(Components, AToneThatWandersIsOneAndTellsHowFar)
{
    // Slowly around 200.3 bins by 0.24 bins: frequency is first-order noise that remembers 8 s.
    std::mt19937_64 random(11);
    int pairs = 0, tones = 0;
    for (int run = 0; run < 40; ++run) {
        const double keeps = std::exp(-1.0 / (8.0 * rate_hz));
        const Signal kicks = white(segments_of(15), random);
        Signal signal(kicks.size());
        double off = 0.24 * kicks[0], phase = 0.0;
        for (std::size_t i = 0; i < signal.size(); ++i) {
            off = keeps * off + 0.24 * std::sqrt(1.0 - keeps * keeps) * kicks[i];
            phase += tau * (200.3 + off) / static_cast<double>(length);
            signal[i] = std::sin(phase);
        }
        const auto found = found_in(signal);
        pairs += std::ranges::any_of(found, [](const Component& c) { return c.beat_hz.has_value(); });
        tones += found.front().character == Character::tone && found.front().wander_hz > 0.02 * resolution_hz;
    }
    std::cout << fmt::format("of 40 that wander {} are told as two, {} as a tone that wanders\n", pairs, tones);
    EXPECT_LE(pairs, 1);
    EXPECT_GE(tones, 30);

    // Evenly over 0.3 bins: a standard deviation of 0.3 / sqrt 12.
    Signal chirp(segments_of(20));
    for (std::size_t i = 0; i < chirp.size(); ++i) {
        const double share = static_cast<double>(i) / static_cast<double>(chirp.size());
        chirp[i] = std::sin(tau * static_cast<double>(i) / length * (200.0 + 0.15 * share));
    }
    const auto found = found_in(chirp);
    ASSERT_FALSE(found.empty());
    EXPECT_EQ(found[0].character, Character::tone);
    EXPECT_NEAR(found[0].wander_hz, 0.3 / std::sqrt(12.0) * resolution_hz, 0.015 * resolution_hz);
    const auto steady = found_in(tone(segments_of(20), 200.3, 1.0));
    EXPECT_LT(steady[0].wander_hz, 1e-4 * resolution_hz);
}

TEST(Components, OneToneIsNoPair)
{
    std::mt19937_64 random(7);
    int flagged = 0;
    for (int run = 0; run < 200; ++run) {
        Signal signal = tone(segments_of(15), std::uniform_real_distribution(150.0, 151.0)(random), 0.4);
        add_to(signal, white(signal.size(), random));
        flagged += found_in(signal).at(0).close_pair;
    }
    std::cout << fmt::format("of 200 single tones {} are taken for two\n", flagged);
    EXPECT_LE(flagged, 4);
}

// ---- sidebands ----

std::vector<SpectralLine> lines_of(const std::vector<Component>& found)
{
    std::vector<SpectralLine> lines;
    for (const Component& c : found) lines.push_back({c.hz, c.rms, c.above_floor});
    return lines;
}

TEST(Sidebands, OfAnAmplitudeModulatedTone)
{
    // (1 + 0.5 cos(0.73 Hz) + 0.2 cos(1.46 Hz)) cos(20 Hz): sidebands of 0.25 and 0.1 on both sides.
    std::mt19937_64 random(8);
    Signal signal = white(segments_of(20), random);
    for (std::size_t i = 0; i < signal.size(); ++i) {
        const double t = static_cast<double>(i) / rate_hz;
        const double m = 1.0 + 0.5 * std::cos(tau * 0.73 * t) + 0.2 * std::cos(tau * 1.46 * t + 1.0);
        signal[i] = 0.1 * signal[i] + m * std::cos(tau * 20.0 * t);
    }
    const auto found = found_in(signal);
    const auto families = sideband_families(lines_of(found), 0.1 * resolution_hz);
    ASSERT_EQ(families.size(), 1U);
    EXPECT_NEAR(found[families[0].carrier].hz, 20.0, 0.01 * resolution_hz);
    EXPECT_NEAR(families[0].spacing_hz, 0.73, 0.02 * resolution_hz);
    ASSERT_EQ(families[0].members.size(), 4U);
    for (const Sideband& member : families[0].members)
        EXPECT_NEAR(found[member.component].rms * std::numbers::sqrt2, std::abs(member.k) == 1 ? 0.25 : 0.1, 0.01);
}

TEST(Sidebands, HarmonicsAreNone)
{
    const std::vector<SpectralLine> harmonics{
        {7.0, 0.5, 100.0}, {14.0, 1.0, 100.0}, {21.0, 0.4, 100.0}, {28.0, 0.3, 9.0}};
    EXPECT_TRUE(sideband_families(harmonics, 0.01).empty());
    // A tooth mesh of 31 with sidebands at the speed of the shaft, which does not show itself.
    const std::vector<SpectralLine> mesh{{31.0, 1.0, 100.0}, {30.0, 0.2, 100.0}, {32.0, 0.3, 100.0}};
    ASSERT_EQ(sideband_families(mesh, 0.01).size(), 1U);
    EXPECT_NEAR(sideband_families(mesh, 0.01)[0].spacing_hz, 1.0, 1e-12);
    const std::vector<SpectralLine> one_side{{31.0, 1.0, 100.0}, {32.0, 0.3, 100.0}, {33.0, 0.1, 100.0}};
    EXPECT_TRUE(sideband_families(one_side, 0.01).empty());
}

TEST(Sidebands, ManyLinesSpreadAtRandomMakeFew)
{
    std::mt19937_64 random(9);
    int families = 0;
    for (int run = 0; run < 1000; ++run) {
        std::vector<SpectralLine> lines;
        for (int i = 0; i < 20; ++i)
            lines.push_back({std::uniform_real_distribution(2.0, 80.0)(random),
                             std::pow(10.0, std::uniform_real_distribution(-2.0, 0.0)(random)), 100.0});
        families += static_cast<int>(sideband_families(lines, 0.1 * resolution_hz).size());
    }
    std::cout << fmt::format("1000 spectra of 20 lines at random: {} families of sidebands\n", families);
    EXPECT_LT(families, 50);
}

// ---- tracks ----

Signal moving(double seconds, const auto& hz_at)
{
    Signal signal(static_cast<std::size_t>(seconds * rate_hz));
    double phase = 0.0;
    for (std::size_t i = 0; i < signal.size(); ++i) {
        signal[i] = std::sin(phase);
        phase += tau * hz_at(static_cast<double>(i) / rate_hz) / rate_hz;
    }
    return signal;
}

TEST(Track, FollowsADriftRowByRow)
{
    std::mt19937_64 random(10);
    constexpr double slope = 0.6 / 600.0;
    Signal signal = moving(600.0, [](double t) { return 9.0 + slope * t; });
    Signal rough = white(signal.size(), random);
    for (double& x : rough) x *= 0.5;
    add_to(signal, rough);
    const ChannelSpectra spectra = rows_of(signal);
    const Track drift = track(spectra, 9.3);
    ASSERT_EQ(drift.points.size(), spectra.rows.size());
    double worst = 0.0;
    for (const TrackPoint& point : drift.points) {
        worst = std::max(worst, std::abs(point.hz - 9.0 - slope * point.time_s));
        EXPECT_NEAR(point.rms, 1.0 / std::numbers::sqrt2, 0.1);
    }
    std::cout << fmt::format("drift of 0.6 Hz in 600 s: rows off by {:.4f} Hz at worst, slope {:.3g} Hz/s\n", worst,
                             drift.slope_hz_per_s);
    EXPECT_LT(worst, 0.2 * resolution_hz);
    EXPECT_NEAR(drift.slope_hz_per_s, slope, 0.01 * slope);
    EXPECT_NEAR(drift.lowest_hz, 9.0, 0.02);
    EXPECT_NEAR(drift.highest_hz, 9.6, 0.02);
    EXPECT_TRUE(drift.drifts(resolution_hz));
    // Of noise a single segment now and then shows ten times its median: no track.
    EXPECT_LT(track(spectra, 40.0).points.size(), spectra.rows.size() / 4);
    EXPECT_FALSE(track(spectra, 40.0).drifts(resolution_hz));
}

TEST(Track, AToneThatStandsDoesNotDrift)
{
    std::mt19937_64 random(11);
    Signal signal = moving(600.0, [](double) { return 9.03; });
    add_to(signal, white(signal.size(), random));
    const Track still = track(rows_of(signal), 9.0);
    EXPECT_GE(still.points.size(), still.rows * 9 / 10);
    EXPECT_FALSE(still.drifts(resolution_hz));
}

TEST(Track, TellsWhetherItFollowsASpeed)
{
    // A fan of 7 blades between 95 and 105 rpm, and the mains beside it, and something of its own.
    const auto rpm = [](double t) { return 100.0 + 5.0 * std::sin(tau * t / 400.0); };
    std::vector<SpeedPoint> speed;
    for (int t = 0; t <= 800; t += 10) speed.push_back({static_cast<double>(t), rpm(t)});
    Signal signal = moving(800.0, [&](double t) { return 7.0 * rpm(t) / 60.0; });
    add_to(signal, moving(800.0, [](double) { return 25.0; }));
    add_to(signal, moving(800.0, [](double t) { return 40.0 + 0.8 * std::sin(tau * t / 290.0 + 1.0); }));
    std::mt19937_64 random(12);
    add_to(signal, white(signal.size(), random));
    const ChannelSpectra spectra = rows_of(signal);
    const FollowedSpeed fan = followed(track(spectra, 11.6), speed, resolution_hz);
    EXPECT_EQ(fan.following, Following::moves_along) << fan.off_along_hz << " " << fan.off_still_hz;
    EXPECT_NEAR(fan.order_hz_per_speed, 7.0 / 60.0, 1e-3 * 7.0 / 60.0);
    EXPECT_EQ(followed(track(spectra, 25.0), speed, resolution_hz).following, Following::stands_still);
    EXPECT_EQ(followed(track(spectra, 40.0), speed, resolution_hz).following, Following::neither);
    for (SpeedPoint& point : speed) point.speed = 100.0;
    EXPECT_EQ(followed(track(spectra, 25.0), speed, resolution_hz).following, Following::cannot_tell);
}

} // namespace
} // namespace becalm::filters
