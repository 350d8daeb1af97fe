// Lag and clock drift between two recordings of one motion. The motions are sums of sines of any frequency, evaluated
// at the times of each recording: what is expected is what they were made with.
#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "filters/alignment.h"

#include "tests/filters/signals.h"

namespace becalm::filters {
namespace {

using testing::HasSubstr;
using tests::noise;
using tests::Signal;

constexpr double tau = 2.0 * std::numbers::pi;

// Eighty sines of equal amplitude spread over from_hz ... to_hz: no period before some hundreds of seconds.
class Motions {
public:
    Motions(double from_hz, double to_hz, std::uint64_t seed)
    {
        const Signal random = noise(160, seed);
        for (std::size_t i = 0; i < 80; ++i) {
            hz_.push_back(from_hz + (to_hz - from_hz) * (0.5 + 0.5 * random[i]));
            phase_.push_back(tau * random[80 + i]);
        }
    }

    // At begin_s + i / rate_hz, with noise of so many times its r.m.s.
    Signal recorded(std::size_t count, double rate_hz, double begin_s, double noise_ratio = 0.0,
                    std::uint64_t seed = 1) const
    {
        Signal signal = noise(count, seed);
        const double rms = std::sqrt(0.5 * static_cast<double>(hz_.size()));
        for (std::size_t i = 0; i < count; ++i) {
            signal[i] *= noise_ratio * rms * std::numbers::sqrt3;
            const double t = begin_s + static_cast<double>(i) / rate_hz;
            for (std::size_t k = 0; k < hz_.size(); ++k) signal[i] += std::sin(tau * hz_[k] * t + phase_[k]);
        }
        return signal;
    }

private:
    std::vector<double> hz_, phase_;
};

TEST(Lag, IsFoundToAFewThousandthsOfASample)
{
    // Content up to 0.4 of the rate, and of low frequency only; recordings that begin earlier and later, also by no
    // whole number of samples. `other` begins begin_s later, so it has the motion that much earlier in its samples.
    constexpr double rate_hz = 200.0;
    double worst = 0.0;
    for (const auto& [from_hz, to_hz] : {std::pair(1.0, 80.0), std::pair(0.8, 6.0)}) {
        const Motions motion(from_hz, to_hz, 3);
        const Signal one = motion.recorded(6000, rate_hz, 10.0);
        for (const double begin_s : {0.0, 0.1, -1.2345, 3.33333, 0.0025, -0.0013}) {
            const Signal other = motion.recorded(5500, rate_hz, 10.0 + begin_s);
            const auto lag = lag_between({rate_hz, one}, {rate_hz, other}, {.most_lag_s = 5.0});
            ASSERT_TRUE(lag) << to_text(lag.error());
            EXPECT_NEAR(lag->lag_s, -begin_s, 0.005 / rate_hz) << to_hz << " Hz, " << begin_s << " s";
            EXPECT_GT(lag->quality, 0.9999);
            EXPECT_LT(lag->next_best, 0.9);
            worst = std::max(worst, std::abs(lag->lag_s + begin_s) * rate_hz);
        }
    }
    RecordProperty("worst_error_in_samples", fmt::format("{:.5f}", worst));
}

TEST(Lag, HasAQualityThatIsTheRootOfTheCommonEnergy)
{
    // Noise of the r.m.s. of the motion in each recording: half of each energy is common, correlation 1/2. In one
    // alone: sqrt(1/2).
    constexpr double rate_hz = 200.0;
    const Motions motion(1.0, 60.0, 5);
    const Signal clean = motion.recorded(40000, rate_hz, 0.0), one = motion.recorded(40000, rate_hz, 0.0, 1.0, 7),
                 other = motion.recorded(40000, rate_hz, 0.25, 1.0, 8);
    const auto both = lag_between({rate_hz, one}, {rate_hz, other}, {.most_lag_s = 2.0, .least_quality = 0.3});
    const auto single = lag_between({rate_hz, clean}, {rate_hz, other}, {.most_lag_s = 2.0});
    ASSERT_TRUE(both && single);
    EXPECT_NEAR(both->quality, 0.5, 0.01);
    EXPECT_NEAR(single->quality, std::sqrt(0.5), 0.01);
    EXPECT_NEAR(both->lag_s, -0.25, 0.1 / rate_hz);
    EXPECT_NEAR(single->lag_s, -0.25, 0.1 / rate_hz);
}

TEST(Lag, DoesNotCareForFactorsAndOffsets)
{
    constexpr double rate_hz = 100.0;
    const Motions motion(1.0, 30.0, 2);
    const Signal one = motion.recorded(5000, rate_hz, 0.0);
    Signal other = motion.recorded(5000, rate_hz, 0.777);
    for (double& x : other) x = 9.81 + 1e-3 * x;
    const auto lag = lag_between({rate_hz, one}, {rate_hz, other}, {.most_lag_s = 2.0});
    ASSERT_TRUE(lag) << to_text(lag.error());
    EXPECT_NEAR(lag->lag_s, -0.777, 0.01 / rate_hz);
    EXPECT_GT(lag->quality, 0.999);
}

RC_GTEST_PROP(Lag, OfACutIsWhereItWasCut, ())
{
    // A piece of a recording in the recording: exact to rounding, quality 1.
    const Signal whole = noise(3000, *rc::gen::inRange<std::uint64_t>(1, 99));
    const auto from = *rc::gen::inRange<std::size_t>(0, 400);
    const auto length = *rc::gen::inRange<std::size_t>(1000, 2500);
    const auto piece = std::span(whole).subspan(from, length);
    const auto lag = lag_between({10.0, piece}, {10.0, whole}, {.most_lag_s = 45.0});
    RC_ASSERT(lag.has_value());
    // The means are those of unlike spans, and the piece is no periodic signal.
    RC_ASSERT(std::abs(lag->lag_s * 10.0 - static_cast<double>(from)) < 1e-2);
    RC_ASSERT(lag->quality > 0.99);
    const auto back = lag_between({10.0, whole}, {10.0, piece}, {.most_lag_s = 45.0});
    RC_ASSERT(std::abs(back->lag_s + lag->lag_s) < 1e-9);
}

TEST(Lag, OfAChirpIsUnique)
{
    // 2 Hz to 40 Hz in 20 s.
    constexpr double rate_hz = 250.0;
    const auto chirp = [&](double late_s) {
        Signal signal(6000, 0.0);
        for (std::size_t i = 0; i < signal.size(); ++i) {
            const double t = static_cast<double>(i) / rate_hz - late_s;
            if (t > 0.0 && t < 20.0)
                signal[i] = std::sin(std::numbers::pi * t / 20.0) * std::sin(tau * (2.0 * t + 0.95 * t * t));
        }
        return signal;
    };
    const Signal one = chirp(1.0), other = chirp(2.3711);
    const auto lag = lag_between({rate_hz, one}, {rate_hz, other}, {.most_lag_s = 3.0});
    ASSERT_TRUE(lag) << to_text(lag.error());
    EXPECT_NEAR(lag->lag_s, 1.3711, 0.005 / rate_hz);
}

TEST(Lag, IsRefusedWhereThereIsNone)
{
    constexpr double rate_hz = 100.0;
    const Motions motion(1.0, 30.0, 2);
    const Signal one = motion.recorded(5000, rate_hz, 0.0), late = motion.recorded(5000, rate_hz, 4.0),
                 stranger = Motions(1.0, 30.0, 9).recorded(5000, rate_hz, 0.0), silent(5000, 1.0);
    Signal upside_down = one, tone(5000), broken = one;
    for (double& x : upside_down) x = -x;
    for (std::size_t i = 0; i < tone.size(); ++i) tone[i] = std::sin(tau * 5.0 * static_cast<double>(i) / rate_hz);
    broken[77] = std::nan("");
    const auto reason = [&](const Signal& a, const Signal& b, double most_lag_s) {
        const auto lag = lag_between({rate_hz, a}, {rate_hz, b}, {.most_lag_s = most_lag_s});
        return lag ? fmt::format("a lag of {} s", lag->lag_s) : to_text(lag.error());
    };
    EXPECT_THAT(reason(one, stranger, 5.0), HasSubstr("do not show the same motion"));
    EXPECT_THAT(reason(one, silent, 5.0), HasSubstr("do not show the same motion"));
    EXPECT_THAT(reason(one, upside_down, 5.0), HasSubstr("and -1.00 with the sign reversed; see whether one sensor"));
    EXPECT_THAT(reason(tone, tone, 5.0), HasSubstr("the motion repeats itself"));
    EXPECT_THAT(reason(one, late, 4.0), HasSubstr("greatest at the end of the search, -4 s"));
    EXPECT_THAT(reason(one, late, 26.0), HasSubstr("leaves less than half"));
    EXPECT_THAT(reason(one, broken, 5.0), HasSubstr("no finite numbers"));
    EXPECT_THAT(reason(one, {}, 5.0), HasSubstr("leaves less than half"));
    EXPECT_THAT(reason(one, one, 0.0), HasSubstr("state how far apart"));
    EXPECT_THAT(to_text(lag_between({100.0, one}, {100.1, one}, {.most_lag_s = 1.0}).error()),
                HasSubstr("rates of 100 Hz and 100.1 Hz differ"));
}

TEST(ClockDrift, IsThatOfTheClocks)
{
    // Two crystals, 600 s: the clock of `other` is fast by so many ppm, its samples come so much closer.
    constexpr double rate_hz = 100.0;
    const Motions motion(0.8, 25.0, 4);
    const Signal one = motion.recorded(60000, rate_hz, 0.0, 0.1, 1);
    for (const double ppm : {0.0, 20.0, -55.0, 150.0}) {
        const double other_rate_hz = rate_hz * (1.0 + ppm * 1e-6);
        const Signal other = motion.recorded(60000, other_rate_hz, -2.5, 0.1, 2);
        const auto drift =
            clock_drift({rate_hz, one}, {rate_hz, other}, {.most_lag_s = 5.0, .piece_s = 30.0, .most_ppm = 200.0});
        ASSERT_TRUE(drift) << to_text(drift.error());
        // A hundredth of a sample at both ends of 550 s: 0.2 ppm; one more where the drift blurs the pieces.
        EXPECT_NEAR(drift->drift_ppm, ppm, 0.4);
        EXPECT_NEAR(drift->begin.lag_s, 2.5 + ppm * 1e-6 * (2.5 + 5.0 + 15.0), 2e-4);
        EXPECT_GT(drift->end.quality, 0.97);
        EXPECT_NEAR(drift->apart_s, 560.0, 1.0);
    }
}

TEST(ClockRelation, IsThatOfTheClocksWithinItsUncertainty)
{
    // Eight pairs of recordings of 300 s with noise of their own: lags and drifts lie within 3 of their standard
    // uncertainties, and these are worth their name: about two in three lie within one.
    constexpr double rate_hz = 100.0;
    int within_one = 0, all = 0;
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
        const Motions motion(0.8, 25.0, seed);
        const double ppm = 30.0 * static_cast<double>(seed) - 150.0, late_s = 0.7 * static_cast<double>(seed) - 3.3;
        const double ratio = seed % 2 == 0 ? 0.3 : 0.8;
        const Signal one = motion.recorded(30000, rate_hz, 0.0, ratio, seed),
                     other = motion.recorded(30000, rate_hz * (1.0 + ppm * 1e-6), -late_s, ratio, 100 + seed);
        const auto found = clock_relation({rate_hz, one}, {rate_hz, other}, {.most_lag_s = 5.0});
        ASSERT_TRUE(found) << to_text(found.error());
        EXPECT_NEAR(found->drift_ppm, ppm, 3.0 * found->drift_uncertainty_ppm) << seed;
        const double lag_s = late_s * (1.0 + ppm * 1e-6);
        EXPECT_NEAR(found->lag_s, lag_s, 3.0 * found->lag_uncertainty_s) << seed;
        EXPECT_LT(found->drift_uncertainty_ppm, 3.0);
        EXPECT_LT(found->lag_uncertainty_s, 0.05 / rate_hz);
        EXPECT_GT(found->drift_uncertainty_ppm, 0.0);
        EXPECT_NEAR(found->quality, 1.0 / (1.0 + ratio * ratio), 0.05) << "the share that both have in common";
        EXPECT_EQ(found->pieces.size(), 24U);
        within_one += std::abs(found->drift_ppm - ppm) < found->drift_uncertainty_ppm ? 1 : 0;
        within_one += std::abs(found->lag_s - lag_s) < found->lag_uncertainty_s ? 1 : 0;
        all += 2;
    }
    EXPECT_GE(within_one, all * 4 / 10);
    RecordProperty("within_one_uncertainty_of_16", within_one);
}

TEST(ClockRelation, LeavesOutWhereNothingMoved)
{
    constexpr double rate_hz = 100.0;
    const Motions motion(0.8, 25.0, 6);
    Signal one = motion.recorded(30000, rate_hz, 0.0), other = motion.recorded(30000, rate_hz * 1.00005, -1.0);
    const Signal apart = noise(30000, 5), other_noise = noise(30000, 6);
    for (std::size_t i = 9000; i < 16000; ++i) one[i] = 0.1 * apart[i], other[i] = 0.1 * other_noise[i];
    const auto found = clock_relation({rate_hz, one}, {rate_hz, other}, {.most_lag_s = 5.0});
    ASSERT_TRUE(found) << to_text(found.error());
    EXPECT_GE(found->left_out, 4U);
    EXPECT_NEAR(found->drift_ppm, 50.0, 3.0 * found->drift_uncertainty_ppm);
}

TEST(ClockRelation, IsRefusedWhereThereIsNone)
{
    constexpr double rate_hz = 100.0;
    const Motions motion(1.0, 30.0, 2);
    const Signal one = motion.recorded(30000, rate_hz, 0.0),
                 stranger = Motions(1.0, 30.0, 9).recorded(30000, rate_hz, 0.0);
    const auto reason = [&](const Signal& a, const Signal& b, const ClockSearch& search) {
        const auto found = clock_relation({rate_hz, a}, {rate_hz, b}, search);
        return found ? fmt::format("{} ppm", found->drift_ppm) : to_text(found.error());
    };
    EXPECT_THAT(reason(one, stranger, {.most_lag_s = 5.0}), HasSubstr("do not show the same motion"));
    EXPECT_THAT(reason(one, one, {.most_lag_s = 130.0}), HasSubstr("too short for 5 pieces of 10 s beside lags"));
    EXPECT_THAT(reason(one, motion.recorded(30000, rate_hz * 1.002, 0.0), {.most_lag_s = 5.0}),
                HasSubstr("with no more than 200 ppm between their clocks"));
    EXPECT_THAT(reason(one, one, {.most_lag_s = 0.0}), HasSubstr("state how far apart"));
    EXPECT_THAT(reason(one, one, {.most_lag_s = 1.0, .piece_s = 0.0}), HasSubstr("pieces without length"));
    // Two narrow bands of noise of the same middle: each piece can be shifted to fit, by a lag of its own.
    const auto narrow = [&](std::uint64_t seed) { return Motions(5.0, 5.12, seed).recorded(30000, rate_hz, 0.0); };
    EXPECT_THAT(reason(narrow(3), narrow(4), {.most_lag_s = 5.0, .piece_s = 5.0, .most_ppm = 3000.0}),
                HasSubstr("follow no steady clock"));
}

TEST(ClockRelation, TellsUpToWhereCoherenceSurvives)
{
    // Coherence of two tones of which one turns against the other by 2 pi f d t: |mean of exp(2 pi j f d t)|^2.
    const double hz = coherent_to_hz(50.0, 1200.0);
    std::complex<double> sum;
    constexpr int steps = 100'000;
    for (int i = 0; i < steps; ++i) sum += std::polar(1.0, tau * hz * 50e-6 * 1200.0 * (i + 0.5) / steps);
    EXPECT_NEAR(std::norm(sum / static_cast<double>(steps)), 0.9, 1e-4);
}

TEST(ClockDrift, IsRefusedWhereItCannotBeTold)
{
    constexpr double rate_hz = 100.0;
    const Motions motion(0.8, 25.0, 4);
    const Signal one = motion.recorded(20000, rate_hz, 0.0), fast = motion.recorded(20000, rate_hz * 1.002, 0.0);
    const auto reason = [&](const Signal& other, const DriftSearch& search) {
        const auto drift = clock_drift({rate_hz, one}, {rate_hz, other}, search);
        return drift ? fmt::format("{} ppm", drift->drift_ppm) : to_text(drift.error());
    };
    EXPECT_THAT(reason(one, {.most_lag_s = 5.0, .piece_s = 95.0}), HasSubstr("200 s are too short for two pieces"));
    EXPECT_THAT(reason(fast, {.most_lag_s = 5.0, .piece_s = 10.0}), testing::Not(HasSubstr("ppm")))
        << "2000 ppm where 200 were looked for";
    EXPECT_THAT(reason(fast, {.most_lag_s = 5.0, .piece_s = 5.0, .most_ppm = 3000.0}), HasSubstr("ppm"));
    EXPECT_THAT(reason(one, {.most_lag_s = 0.0}), HasSubstr("state how far apart"));
    EXPECT_THAT(reason(one, {.most_lag_s = 1.0, .piece_s = 0.0}), HasSubstr("pieces without length"));
}

} // namespace
} // namespace becalm::filters
