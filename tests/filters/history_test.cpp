// Acceleration, velocity and displacement of whole records beside closed forms.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "filters/history.h"

#include "tests/filters/signals.h"

namespace becalm::filters {
namespace {

using testing::HasSubstr;
using tests::noise;
using tests::Signal;

constexpr double tau = 2.0 * std::numbers::pi;

double rms_of(std::span<const double> signal)
{
    double sum = 0.0;
    for (const double x : signal) sum += x * x;
    return std::sqrt(sum / static_cast<double>(signal.size()));
}

std::span<const double> inside(const Signal& signal, double rate_hz, double edge_s)
{
    const auto edge = static_cast<std::size_t>(edge_s * rate_hz);
    return std::span(signal).subspan(edge, signal.size() - 2 * edge);
}

double worst_difference(std::span<const double> a, std::span<const double> b)
{
    double worst = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) worst = std::max(worst, std::abs(a[i] - b[i]));
    return worst;
}

// A motion that begins and ends in quiet: sines under a bell of 4 s around the middle of 40 s, exact derivatives.
struct Burst {
    Signal acceleration, velocity, displacement;
};
Burst burst(double rate_hz)
{
    Burst b;
    const auto count = static_cast<std::size_t>(40.0 * rate_hz);
    for (std::size_t i = 0; i < count; ++i) {
        const double t = static_cast<double>(i) / rate_hz - 20.0, spread = 2.0;
        const double bell = std::exp(-0.5 * t * t / (spread * spread));
        const double slope = -t / (spread * spread); // bell' / bell
        const double bend = slope * slope - 1.0 / (spread * spread);
        double a = 0.0, v = 0.0, d = 0.0;
        for (const double hz : {3.0, 7.7, 16.0, 31.0}) {
            const double w = tau * hz, s = std::sin(w * t + hz), c = std::cos(w * t + hz), by = 1.0 / (w * w);
            d += by * bell * s;
            v += by * bell * (w * c + slope * s);
            a += by * bell * (-w * w * s + 2.0 * slope * w * c + bend * s);
        }
        b.acceleration.push_back(a), b.velocity.push_back(v), b.displacement.push_back(d);
    }
    return b;
}

TEST(History, OfAMotionThatBeginsAndEndsInQuietIsExact)
{
    // 3 Hz under a bell of 4 s is nothing below 2 Hz: every conversion there and back.
    constexpr double rate_hz = 200.0;
    const Burst b = burst(rate_hz);
    const auto signal_of = [&](Motion motion) -> const Signal& {
        return motion == Motion::acceleration ? b.acceleration
               : motion == Motion::velocity   ? b.velocity
                                              : b.displacement;
    };
    for (const Motion from : {Motion::acceleration, Motion::velocity, Motion::displacement}) {
        Signal offset = signal_of(from);
        const double much = 10.0 * rms_of(offset); // that of a sensor, or of gravity
        for (double& x : offset) x += much;
        const auto history = History::of(offset, rate_hz, from, {.lower_hz = 1.5});
        ASSERT_TRUE(history) << to_text(history.error());
        for (const Motion to : {Motion::acceleration, Motion::velocity, Motion::displacement}) {
            const Signal got = history->as(to), &expected = signal_of(to);
            ASSERT_EQ(got.size(), expected.size());
            EXPECT_LT(worst_difference(got, expected), 1e-9 * rms_of(expected))
                << name_of(from) << " to " << name_of(to);
        }
    }
}

TEST(History, OfASineThatGoesOnIsThatOfTheSine)
{
    // Of 5 Hz and amplitude 0.3 m/s2: 0.3 / w m/s, 0.3 / w^2 m. Beyond edge_s from the ends within 0.4 % of the r.m.s.,
    // as the header says.
    constexpr double rate_hz = 256.0;
    Signal acceleration(15360), velocity(15360), displacement(15360);
    for (std::size_t i = 0; i < acceleration.size(); ++i) {
        const double w = tau * 5.0, t = static_cast<double>(i) / rate_hz;
        acceleration[i] = 0.3 * std::sin(w * t + 1.0);
        velocity[i] = -0.3 / w * std::cos(w * t + 1.0);
        displacement[i] = -0.3 / (w * w) * std::sin(w * t + 1.0);
    }
    const auto history = History::of(acceleration, rate_hz, Motion::acceleration, {.lower_hz = 1.0});
    ASSERT_TRUE(history) << to_text(history.error());
    EXPECT_EQ(history->edge_s(), 5.0);
    const Signal v = history->as(Motion::velocity), d = history->as(Motion::displacement);
    const auto difference = [&](const Signal& got, const Signal& expected, double edge_s) {
        return worst_difference(inside(got, rate_hz, edge_s), inside(expected, rate_hz, edge_s)) / rms_of(expected);
    };
    EXPECT_LT(difference(v, velocity, 5.0), 0.004);
    EXPECT_LT(difference(d, displacement, 5.0), 0.004);
    EXPECT_LT(difference(d, displacement, 10.0), 0.001);
    EXPECT_GT(difference(d, displacement, 0.5), 0.01) << "near the ends it is not settled";
}

TEST(History, GoesThereAndBack)
{
    // Double integration, then double differentiation, of noise: what lies above the lower limit comes back.
    constexpr double rate_hz = 128.0;
    const Signal wide = noise(128 * 120, 4);
    const HistoryLimits limits{.lower_hz = 2.0};
    const auto first = History::of(wide, rate_hz, Motion::acceleration, limits);
    ASSERT_TRUE(first);
    const Signal acceleration = first->as(Motion::acceleration), displacement = first->as(Motion::displacement);
    const auto second = History::of(displacement, rate_hz, Motion::displacement, {.lower_hz = 1.0});
    ASSERT_TRUE(second);
    const Signal back = second->as(Motion::acceleration);
    EXPECT_LT(worst_difference(inside(back, rate_hz, 10.0), inside(acceleration, rate_hz, 10.0)),
              1e-3 * rms_of(acceleration));
    const auto third = History::of(acceleration, rate_hz, Motion::acceleration, {.lower_hz = 1.0});
    EXPECT_LT(
        worst_difference(inside(third->as(Motion::acceleration), rate_hz, 10.0), inside(acceleration, rate_hz, 10.0)),
        1e-3 * rms_of(acceleration))
        << "what was limited above is not limited again";
}

// What comes through of a long sine of this frequency, in the middle.
double share_of(double hz, const HistoryLimits& limits)
{
    constexpr double rate_hz = 100.0;
    Signal signal(100 * 600);
    for (std::size_t i = 0; i < signal.size(); ++i) signal[i] = std::sin(tau * hz * static_cast<double>(i) / rate_hz);
    const auto history = History::of(signal, rate_hz, Motion::velocity, limits);
    EXPECT_TRUE(history) << to_text(history.error());
    // Twice the mean of the product with the sine: the part in phase; a shift in time would take from it.
    const Signal out = history->as(Motion::velocity);
    double sum = 0.0;
    constexpr std::size_t from = 20000, to = 40000; // whole periods of every hundredth of a hertz, nearly of others
    for (std::size_t i = from; i < to; ++i) sum += out[i] * signal[i];
    return 2.0 * sum / static_cast<double>(to - from);
}

TEST(History, LetsNothingThroughBelowItsLowerLimit)
{
    // Computed from the definition: 1 from 1 Hz on, 1/2 half-way to 1 / sqrt(2) Hz, 0 there and below.
    const HistoryLimits limits{.lower_hz = 1.0};
    EXPECT_NEAR(share_of(1.05, limits), 1.0, 1e-4);
    EXPECT_NEAR(share_of(0.5 + 0.5 / std::numbers::sqrt2, limits), 0.5, 1e-3);
    EXPECT_NEAR(share_of(0.65, limits), 0.0, 1e-4);
    EXPECT_NEAR(share_of(0.1, limits), 0.0, 1e-5);
    EXPECT_NEAR(share_of(30.0, limits), 1.0, 1e-5);
}

TEST(History, FiltersByButterworthWithoutPhase)
{
    // 1 / sqrt(1 + r^2N), r = hz / 10 Hz of the low-pass, 10 Hz / hz of the high-pass.
    for (const int order : {1, 2, 4, 8})
        for (const double hz : {5.0, 10.0, 20.0}) {
            const double low = 1.0 / std::sqrt(1.0 + std::pow(hz / 10.0, 2 * order));
            const double high = 1.0 / std::sqrt(1.0 + std::pow(10.0 / hz, 2 * order));
            const ZeroPhaseFilter filter{.hz = 10.0, .order = order};
            EXPECT_NEAR(share_of(hz, {.lower_hz = 0.5, .low_pass = filter}), low, 1e-4) << order << ", " << hz;
            EXPECT_NEAR(share_of(hz, {.lower_hz = 0.5, .high_pass = filter}), high, 1e-4) << order << ", " << hz;
        }
    EXPECT_NEAR(
        share_of(10.0, {.lower_hz = 0.5, .high_pass = ZeroPhaseFilter{10.0, 4}, .low_pass = ZeroPhaseFilter{10.5, 4}}),
        std::sqrt(0.5) / std::sqrt(1.0 + std::pow(10.0 / 10.5, 8)), 1e-4);
}

TEST(History, HasNoPhase)
{
    // A motion that is the same forth and back stays so.
    Signal signal(4001, 0.0);
    for (std::size_t i = 0; i < signal.size(); ++i) {
        const double t = (static_cast<double>(i) - 2000.0) / 100.0;
        signal[i] = std::exp(-t * t) * std::cos(tau * 4.0 * t);
    }
    const auto history =
        History::of(signal, 100.0, Motion::acceleration,
                    {.lower_hz = 1.0, .high_pass = ZeroPhaseFilter{3.0, 3}, .low_pass = ZeroPhaseFilter{6.0, 5}});
    ASSERT_TRUE(history);
    const Signal got = history->as(Motion::displacement);
    Signal turned(got.rbegin(), got.rend());
    EXPECT_LT(worst_difference(got, turned), 1e-9 * rms_of(got));
}

struct Streamed {
    std::vector<Signal> series;
    double edge_s = 0.0;
};

// All channels through a stream, `block` samples at a time.
Streamed streamed(const std::vector<Signal>& channels, const HistoryStream::Wanted& wanted, std::size_t block)
{
    auto stream = HistoryStream::of(wanted);
    EXPECT_TRUE(stream) << to_text(stream.error());
    Streamed result{.series = std::vector<Signal>(channels.size() * wanted.as.size()), .edge_s = stream->edge_s()};
    for (std::size_t at = 0; at < wanted.samples; at += block) {
        std::vector<std::span<const double>> parts;
        for (const Signal& channel : channels)
            parts.push_back(std::span(channel).subspan(at, std::min(block, wanted.samples - at)));
        stream->add(parts, [&](std::span<const std::span<const double>> ready) {
            for (std::size_t s = 0; s < ready.size(); ++s)
                result.series[s].insert(result.series[s].end(), ready[s].begin(), ready[s].end());
        });
    }
    return result;
}

double mean_of(const Signal& signal)
{
    double sum = 0.0;
    for (const double x : signal) sum += x;
    return sum / static_cast<double>(signal.size());
}

const std::vector<Motion> all_motions{Motion::acceleration, Motion::velocity, Motion::displacement};

TEST(HistoryStream, OfManyPiecesIsTheHistoryOfTheWhole)
{
    // f_low = 0.1 Hz: pieces of 500 s, five of them. One channel is noise on an offset, the other a sine near the limit
    // with a slow drift beneath. The filters are those of evaluators/history.
    constexpr double rate_hz = 100.0;
    constexpr std::size_t count = 200'000;
    std::vector<Signal> channels{noise(count, 3), Signal(count)};
    for (std::size_t i = 0; i < count; ++i) {
        const double t = static_cast<double>(i) / rate_hz;
        channels[0][i] += 9.8;
        channels[1][i] = std::sin(tau * 0.25 * t) + 20.0 * std::sin(tau * 0.0005 * t);
    }
    const HistoryLimits limits{
        .lower_hz = 0.1, .high_pass = ZeroPhaseFilter{0.2, 4}, .low_pass = ZeroPhaseFilter{20.0, 4}};
    HistoryStream::Wanted wanted{.rate_hz = rate_hz, .as = all_motions, .limits = limits, .samples = count};
    for (const Signal& channel : channels) wanted.means.push_back(mean_of(channel));
    const Streamed got = streamed(channels, wanted, 997);
    EXPECT_EQ(got.edge_s, 50.0);
    double worst = 0.0;
    for (std::size_t c = 0; c < channels.size(); ++c) {
        const auto whole = History::of(channels[c], rate_hz, Motion::acceleration, limits);
        ASSERT_TRUE(whole) << to_text(whole.error());
        for (std::size_t m = 0; m < all_motions.size(); ++m) {
            const Signal expected = whole->as(all_motions[m]), &series = got.series[c * all_motions.size() + m];
            ASSERT_EQ(series.size(), count);
            const double difference =
                worst_difference(inside(series, rate_hz, 200.0), inside(expected, rate_hz, 200.0)) / rms_of(expected);
            EXPECT_LT(difference, 2e-4) << "channel " << c << " as " << name_of(all_motions[m]);
            worst = std::max(worst, difference);
        }
    }
    RecordProperty("worst_difference", fmt::format("{:.3g}", worst));
}

TEST(HistoryStream, OfOnePieceIsTheHistoryOfTheWholeWhateverTheBlocks)
{
    constexpr double rate_hz = 200.0;
    const Burst b = burst(rate_hz);
    HistoryStream::Wanted wanted{.rate_hz = rate_hz,
                                 .motion = Motion::displacement,
                                 .as = all_motions,
                                 .limits = {.lower_hz = 1.5},
                                 .samples = b.displacement.size(),
                                 .means = {mean_of(b.displacement)}};
    const Streamed by_one = streamed({b.displacement}, wanted, 1), by_all = streamed({b.displacement}, wanted, 1 << 20);
    EXPECT_EQ(by_one.series, by_all.series);
    for (const auto& [got, expected] : {std::pair(&by_all.series[0], &b.acceleration),
                                        {&by_all.series[1], &b.velocity},
                                        {&by_all.series[2], &b.displacement}})
        EXPECT_LT(worst_difference(*got, *expected), 1e-9 * rms_of(*expected));
}

RC_GTEST_PROP(HistoryStream, GivesEverySampleOnceInAnyNumberOfPieces, ())
{
    // Without limits and conversion what goes in comes out but for the mean; faded pieces add up.
    const auto count = *rc::gen::inRange<std::size_t>(2, 50'000);
    const auto block = *rc::gen::inRange<std::size_t>(1, 30'000);
    Signal signal = noise(count, *rc::gen::inRange<std::uint64_t>(1, 99));
    const double mean = mean_of(signal);
    const Streamed got =
        streamed({signal}, {.rate_hz = 50.0, .as = {Motion::acceleration}, .samples = count, .means = {mean}}, block);
    for (double& x : signal) x -= mean;
    RC_ASSERT(got.series[0].size() == count);
    RC_ASSERT(worst_difference(got.series[0], signal) < 1e-12);
}

TEST(HistoryStream, TellsTheShareOfTheEnergyBelowAFrequency)
{
    // Velocities of equal amplitude at 2 Hz and 20 Hz: as displacements 1 and 1/100 of the energy.
    constexpr double rate_hz = 100.0;
    Signal signal(120'000);
    for (std::size_t i = 0; i < signal.size(); ++i) {
        const double t = static_cast<double>(i) / rate_hz;
        signal[i] = std::sin(tau * 2.0 * t) + std::sin(tau * 20.0 * t);
    }
    auto stream = HistoryStream::of({.rate_hz = rate_hz,
                                     .motion = Motion::velocity,
                                     .as = {Motion::velocity, Motion::displacement},
                                     .limits = {.lower_hz = 0.5},
                                     .samples = signal.size(),
                                     .means = {0.0}});
    ASSERT_TRUE(stream);
    stream->add(std::vector<std::span<const double>>{signal}, [](auto) {});
    EXPECT_NEAR(stream->share_below(0, 5.0), 0.5, 0.001);
    EXPECT_NEAR(stream->share_below(1, 5.0), 1.0 / 1.01, 0.001);
    EXPECT_NEAR(stream->share_below(1, 1.0), 0.0, 0.001);
    EXPECT_NEAR(stream->share_below(0, 50.0), 1.0, 1e-8);
}

TEST(HistoryStream, IsRefusedWhereTheLimitsCannotBeKept)
{
    const auto reason = [](const HistoryStream::Wanted& wanted) {
        const auto stream = HistoryStream::of(wanted);
        return stream ? std::string("possible") : to_text(stream.error());
    };
    HistoryStream::Wanted wanted{.rate_hz = 100.0, .as = {Motion::acceleration}, .samples = 1000, .means = {0.0}};
    EXPECT_EQ(reason(wanted), "possible");
    wanted.as = {Motion::velocity};
    EXPECT_THAT(reason(wanted), HasSubstr("a lower limit of 0 Hz does not lie between"));
    wanted.limits.lower_hz = 0.3;
    EXPECT_THAT(reason(wanted), HasSubstr("10 s cannot resolve a lower limit of 0.3 Hz"));
    wanted.limits.lower_hz = 0.0001;
    wanted.rate_hz = 10'000.0;
    wanted.samples = std::size_t{1} << 40;
    EXPECT_THAT(reason(wanted), HasSubstr("holds too many samples of 1 channels"));
    wanted.limits = {.lower_hz = 1.0, .high_pass = ZeroPhaseFilter{20.0, 4}, .low_pass = ZeroPhaseFilter{15.0, 4}};
    EXPECT_THAT(reason(wanted), HasSubstr("leaves nothing above 20 Hz"));
}

TEST(History, IsRefusedWhereTheLimitsCannotBeKept)
{
    const Signal signal = noise(1000, 1); // 10 s
    const auto reason = [&](const HistoryLimits& limits, std::span<const double> samples) {
        const auto history = History::of(samples, 100.0, Motion::acceleration, limits);
        return history ? std::string("converted") : to_text(history.error());
    };
    EXPECT_EQ(reason({.lower_hz = 0.35}, signal), "converted");
    EXPECT_EQ(reason({.lower_hz = 0.3}, signal), "10 s cannot resolve a lower limit of 0.3 Hz; record for at least "
                                                 "11.3807 s, or choose 0.341421 Hz or more");
    EXPECT_THAT(reason({.lower_hz = 0.0}, signal), HasSubstr("does not lie between 0 and half the rate, 50 Hz"));
    EXPECT_THAT(reason({.lower_hz = 50.0}, signal), HasSubstr("does not lie between"));
    EXPECT_THAT(reason({.lower_hz = std::nan("")}, signal), HasSubstr("does not lie between"));
    EXPECT_THAT(reason({.lower_hz = 1.0, .low_pass = ZeroPhaseFilter{60.0, 4}}, signal),
                HasSubstr("a filter at 60 Hz"));
    EXPECT_THAT(reason({.lower_hz = 1.0, .low_pass = ZeroPhaseFilter{0.9, 4}}, signal),
                HasSubstr("leaves nothing above 1 Hz"));
    EXPECT_THAT(
        reason({.lower_hz = 1.0, .high_pass = ZeroPhaseFilter{20.0, 4}, .low_pass = ZeroPhaseFilter{15.0, 4}}, signal),
        HasSubstr("leaves nothing above 20 Hz"));
    EXPECT_THAT(reason({.lower_hz = 1.0, .high_pass = ZeroPhaseFilter{2.0, 0}}, signal), HasSubstr("order 0"));
    EXPECT_THAT(reason({.lower_hz = 1.0}, {}), HasSubstr("0 s cannot resolve"));
    Signal broken = signal;
    broken[5] = std::nan("");
    EXPECT_THAT(reason({.lower_hz = 1.0}, broken), HasSubstr("no finite numbers"));
    EXPECT_FALSE(History::of(signal, 0.0, Motion::velocity, {.lower_hz = 1.0}));
    const std::vector<double> endless(History::most_samples + 1, 0.0);
    EXPECT_THAT(reason({.lower_hz = 1.0}, endless), HasSubstr("too many for one transform"));
}

} // namespace
} // namespace becalm::filters
