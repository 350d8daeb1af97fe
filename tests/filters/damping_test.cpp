// Frequency and damping from free decays and from the width of resonances. What is expected is what the signals were
// made with (tests/filters/modes.h) where nothing else is said.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "filters/damping.h"
#include "filters/windowed_mode.h"

#include "tests/filters/modes.h"

namespace becalm::filters {
namespace {

using testing::HasSubstr;
using tests::free_decay_of;
using tests::noise;
using tests::Normal;
using tests::Signal;

constexpr double tau = 2.0 * std::numbers::pi;
constexpr double dampings[] = {0.005, 0.01, 0.03, 0.05};

Signal with_noise(Signal signal, double rms, std::uint64_t seed)
{
    Normal normal(seed);
    for (double& x : signal) x += rms * normal();
    return signal;
}

// How often results lay within k = 1 and k = 2 of what was put in, and how far at most, relative.
struct Record {
    double frequency_1 = 0.0, frequency_2 = 0.0, damping_1 = 0.0, damping_2 = 0.0, count = 0.0;
    double worst_frequency = 0.0, worst_damping = 0.0, mean_damping = 0.0;

    void add(const Estimate& frequency, double hz, const Estimate& of_damping, double damping)
    {
        const double off_hz = std::abs(frequency.value - hz), off = std::abs(of_damping.value - damping);
        frequency_1 += off_hz <= frequency.uncertainty;
        frequency_2 += off_hz <= 2.0 * frequency.uncertainty;
        damping_1 += off <= of_damping.uncertainty;
        damping_2 += off <= 2.0 * of_damping.uncertainty;
        worst_frequency = std::max(worst_frequency, off_hz / hz);
        worst_damping = std::max(worst_damping, off / damping);
        mean_damping += of_damping.value / damping;
        count += 1.0;
    }
    std::string told() const
    {
        return fmt::format(
            "{} runs: frequency within k = 1 in {:.3f}, k = 2 in {:.3f}, worst {:.4f} %; damping within k = "
            "1 in {:.3f}, k = 2 in {:.3f}, worst {:.2f} %, mean {:+.2f} %",
            count, frequency_1 / count, frequency_2 / count, 100.0 * worst_frequency, damping_1 / count,
            damping_2 / count, 100.0 * worst_damping, 100.0 * (mean_damping / count - 1.0));
    }
};

// ---- free decay ----

TEST(FreeDecay, GivesFrequencyAndDampingInNoise)
{
    // White noise of 1 % of the first amplitude, 500 Hz, 12 s; begins between two samples.
    for (const double damping : dampings) {
        Record record;
        for (std::uint64_t seed = 1; seed <= 100; ++seed) {
            const Signal signal = with_noise(free_decay_of(5.3, damping, 500.0, 6000, 1.0371), 0.01, seed);
            const auto decay = free_decay(signal, 500.0);
            ASSERT_TRUE(decay) << to_text(decay.error());
            record.add(decay->frequency_hz, 5.3, decay->damping, damping);
        }
        RecordProperty(fmt::format("damping_{}", damping), record.told());
        EXPECT_LT(record.worst_frequency, 0.001) << damping << ": " << record.told();
        EXPECT_LT(record.worst_damping, 0.03) << damping << ": " << record.told();
        EXPECT_GE(record.damping_2, 90.0) << damping << ": " << record.told();
        EXPECT_GE(record.frequency_2, 90.0) << damping << ": " << record.told();
    }
}

TEST(FreeDecay, LiesWithinItsUncertaintyAtEveryNoiseAndRate)
{
    Record all;
    for (const double rate_hz : {64.0, 200.0, 1000.0})
        for (const double hz : {4.1, 9.7})
            for (const double damping : dampings)
                for (const double rms : {0.001, 0.01, 0.03})
                    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
                        const auto count = static_cast<std::size_t>(12.0 * rate_hz);
                        const Signal signal = with_noise(free_decay_of(hz, damping, rate_hz, count, 0.7), rms, seed);
                        const auto decay = free_decay(signal, rate_hz, {.near_hz = hz});
                        ASSERT_TRUE(decay) << rate_hz << ", " << hz << ", " << damping << ", " << rms << ": "
                                           << to_text(decay.error());
                        all.add(decay->frequency_hz, hz, decay->damping, damping);
                    }
    RecordProperty("all", all.told());
    EXPECT_NEAR(all.damping_1 / all.count, 0.72, 0.10) << all.told();
    EXPECT_GE(all.damping_2 / all.count, 0.92) << all.told();
    EXPECT_GE(all.frequency_2 / all.count, 0.92) << all.told();
}

TEST(FreeDecay, WithoutNoiseIsExact)
{
    // To the end of the record: it begins in the decay, so that nothing but half a band-pass is lost.
    for (const double damping : dampings) {
        Signal signal = free_decay_of(6.0, damping, 200.0, 2000, -0.01);
        for (double& x : signal) x = 1e-3 * x + 9.81;
        const auto decay = free_decay(signal, 200.0);
        ASSERT_TRUE(decay) << to_text(decay.error());
        EXPECT_NEAR(decay->frequency_hz.value, 6.0, 6e-6);
        EXPECT_NEAR(decay->damping.value, damping, 1e-4 * damping);
        EXPECT_NEAR(decay->from_s, 1.0 / 6.0, 0.02) << "half of two periods";
        EXPECT_NEAR(decay->from_amplitude, 1e-3 * std::exp(-damping * tau * 6.0 * (decay->from_s + 0.01)), 1e-5);
        EXPECT_LT(decay->misfit, 0.02) << "the mirrored frequency, where the damping is great";
    }
}

TEST(FreeDecay, KeepsAModeApartFromOthersFarOff)
{
    // As strong a mode at 12.5 Hz and a constant beside 5 Hz; and the other one by name. Two periods of 5 Hz are blind
    // to 12.5 Hz, two of 12.5 Hz are not to 5 Hz: it takes six.
    const Signal low = free_decay_of(5.0, 0.02, 200.0, 2000, 0.5), high = free_decay_of(12.5, 0.01, 200.0, 2000, 0.5);
    Signal both = with_noise(low, 0.002, 1);
    for (std::size_t i = 0; i < both.size(); ++i) both[i] += high[i] + 1.0;
    const auto of_low = free_decay(both, 200.0, {.near_hz = 5.0}),
               of_high = free_decay(both, 200.0, {.near_hz = 12.6, .kernel_periods = 6.0});
    ASSERT_TRUE(of_low) << to_text(of_low.error());
    ASSERT_TRUE(of_high) << to_text(of_high.error());
    EXPECT_NEAR(of_low->frequency_hz.value, 5.0, 0.005);
    EXPECT_NEAR(of_low->damping.value, 0.02, 0.02 * 0.03);
    EXPECT_NEAR(of_high->frequency_hz.value, 12.5, 0.0125);
    EXPECT_NEAR(of_high->damping.value, 0.01, 0.01 * 0.03);
}

TEST(FreeDecay, IsRefusedWhereThereIsNone)
{
    const auto reason = [](const Signal& signal, const DecayOptions& options = {}) {
        const auto decay = free_decay(signal, 200.0, options);
        return decay ? fmt::format("damping {}", decay->damping.value) : to_text(decay.error());
    };
    const auto steady = [](double hz, double growth) {
        Signal signal(2000);
        for (std::size_t i = 0; i < signal.size(); ++i) {
            const double t = static_cast<double>(i) / 200.0;
            signal[i] = std::exp(growth * t) * std::sin(tau * hz * t);
        }
        return signal;
    };
    EXPECT_THAT(reason(with_noise(steady(5.0, 0.0), 0.01, 1), {.near_hz = 5.0}), HasSubstr("no decay"));
    EXPECT_THAT(reason(steady(5.0, 0.5)), testing::AnyOf(HasSubstr("too short"), HasSubstr("no decay")))
        << "greatest at the end";
    EXPECT_THAT(reason(noise(2000, 1), {.near_hz = 5.0}), testing::Not(HasSubstr("damping 0"))) << "noise alone";
    EXPECT_THAT(reason(free_decay_of(5.0, 0.02, 200.0, 150, 0.1)), HasSubstr("too short"));
    EXPECT_THAT(reason(with_noise(free_decay_of(5.0, 0.05, 200.0, 2000, 0.5), 0.3, 1), {.near_hz = 5.0}),
                testing::AnyOf(HasSubstr("too short"), HasSubstr("no decay")));
    EXPECT_THAT(reason(free_decay_of(45.0, 0.01, 200.0, 2000, 0.5), {.near_hz = 45.0}),
                HasSubstr("a rate of 200 Hz is too low for a decay at 45 Hz"));
    EXPECT_THAT(reason(Signal(2000, 1.0)), HasSubstr("no decay"));
    EXPECT_THAT(reason(Signal(5, 1.0)), HasSubstr("too short"));
    EXPECT_THAT(reason({}), HasSubstr("too short"));
    EXPECT_THAT(reason(steady(5.0, -1.0), {.kernel_periods = 1.0}), HasSubstr("band-pass of two periods"));
    Signal broken = steady(5.0, -1.0);
    broken[7] = std::nan("");
    EXPECT_THAT(reason(broken, {.near_hz = 5.0}), HasSubstr("no finite numbers"));
}

TEST(FreeDecay, OfTwoCloseModesIsRefused)
{
    // They beat with 0.4 Hz.
    const Signal one = free_decay_of(5.0, 0.01, 200.0, 3000, 0.5), other = free_decay_of(5.4, 0.01, 200.0, 3000, 0.5);
    Signal both = with_noise(one, 0.002, 1);
    for (std::size_t i = 0; i < both.size(); ++i) both[i] += 0.7 * other[i];
    const auto decay = free_decay(both, 200.0, {.near_hz = 5.0});
    ASSERT_FALSE(decay);
    EXPECT_THAT(to_text(decay.error()), HasSubstr("two close modes"));
}

// ---- what the window shows of a mode ----

TEST(WindowedMode, IsWhatTheAveragesOfSegmentsTendTo)
{
    // Mean |X_k|^2 of windowed segments = sum over lags of R[n] sum_i w[i] w[i + n] cos(2 pi k n / L): summed up here,
    // with R of the mode; at 400 samples a period the sum is the integral to 1e-4.
    constexpr std::size_t length = 16000;
    constexpr double rate_hz = 2000.0, segment_s = 8.0;
    const Mode mode{.hz = 5.0, .damping = 0.02};
    const double w0 = tau * mode.hz, alpha = mode.damping * w0, wd = w0 * std::sqrt(1.0 - 0.02 * 0.02);
    std::vector<double> window(length), lagged(length);
    for (std::size_t i = 0; i < length; ++i) window[i] = 0.5 - 0.5 * std::cos(tau * static_cast<double>(i) / length);
    double power = 0.0;
    for (const double w : window) power += w * w;
    for (std::size_t n = 0; n < length; n += 400) {
        double sum = 0.0;
        for (std::size_t i = n; i < length; ++i) sum += window[i] * window[i - n];
        EXPECT_NEAR(hann_lag_window(static_cast<double>(n) / length), sum / power, 1e-6);
    }
    for (std::size_t n = 0; n < length; ++n) {
        const double t = static_cast<double>(n) / rate_hz;
        lagged[n] = std::exp(-alpha * t) * (std::cos(wd * t) + alpha / wd * std::sin(wd * t)) *
                    hann_lag_window(static_cast<double>(n) / length);
    }
    const auto summed = [&](double hz) {
        double sum = 0.5 * lagged[0];
        for (std::size_t n = 1; n < length; ++n)
            sum += lagged[n] * std::cos(tau * hz * static_cast<double>(n) / rate_hz);
        return sum;
    };
    const double peak = shown_density(mode, segment_s, 5.0) / summed(5.0);
    for (const double hz : {1.0, 4.5, 4.9, 5.0, 5.1, 5.25, 6.0, 9.0})
        EXPECT_NEAR(shown_density(mode, segment_s, hz) / summed(hz) / peak, 1.0, hz > 4.0 && hz < 6.5 ? 1e-4 : 1e-2)
            << hz;
}

TEST(WindowedMode, OfALongSegmentIsTheMode)
{
    // A thousand lines a bandwidth: the receptance's square.
    const Mode mode{.hz = 5.0, .damping = 0.05};
    const auto square = [&](double hz) {
        return 1.0 / (std::pow(25.0 - hz * hz, 2) + 4.0 * 0.05 * 0.05 * 25.0 * hz * hz);
    };
    for (const double hz : {3.0, 4.7, 5.0, 5.4, 8.0}) {
        EXPECT_NEAR(shown_density(mode, 2000.0, hz) / shown_density(mode, 2000.0, 5.0), square(hz) / square(5.0),
                    2e-5 * square(hz) / square(5.0));
        EXPECT_NEAR(shown_receptance_square(mode, 2000.0, hz) / shown_receptance_square(mode, 2000.0, 5.0),
                    square(hz) / square(5.0), 2e-5 * square(hz) / square(5.0));
    }
}

// ---- half-power bandwidth ----

std::vector<double> shown_lines(const Mode& mode, double resolution_hz, std::size_t count, Motion motion)
{
    std::vector<double> density(count, 0.0);
    for (std::size_t k = 1; k < count; ++k) {
        const double hz = static_cast<double>(k) * resolution_hz;
        const double by = motion == Motion::acceleration ? 2.0 : motion == Motion::velocity ? 1.0 : 0.0;
        density[k] = 1e-6 * std::pow(tau * hz, 2.0 * by) * shown_density(mode, 1.0 / resolution_hz, hz);
    }
    return density;
}

TEST(HalfPower, OfExactLinesGivesTheModeAtEveryResolutionThatIsFineEnough)
{
    for (const Motion motion : {Motion::acceleration, Motion::velocity, Motion::displacement})
        for (const double damping : dampings)
            for (const double lines : {4.0, 6.0, 12.0, 50.0}) {
                const double hz = 5.03, resolution_hz = 2.0 * damping * hz / lines;
                const auto density = shown_lines({.hz = hz, .damping = damping}, resolution_hz,
                                                 static_cast<std::size_t>(20.0 / resolution_hz), motion);
                const auto got = half_power(density, resolution_hz, 100.0, {.near_hz = 5.2, .motion = motion});
                ASSERT_TRUE(got) << to_text(got.error());
                EXPECT_NEAR(got->frequency_hz.value, hz, 1e-6 * hz) << damping << ", " << lines;
                EXPECT_NEAR(got->damping.value, damping, 1e-5 * damping) << damping << ", " << lines;
                // As the header says: some 6 % at four lines, and less with their square.
                EXPECT_NEAR(got->widened * lines * lines, 1.1, 0.15) << damping << ", " << lines;
            }
}

TEST(HalfPower, IsTheTextbookWidth)
{
    // Displacement, finely resolved: f2 - f1 = 2 zeta f0 to the square of the damping.
    const auto got = half_power(shown_lines({.hz = 8.0, .damping = 0.01}, 0.001, 20000, Motion::displacement), 0.001,
                                400.0, {.near_hz = 8.0, .motion = Motion::displacement});
    ASSERT_TRUE(got) << to_text(got.error());
    EXPECT_NEAR(got->to_hz - got->from_hz, 0.16, 1e-4);
    EXPECT_NEAR(got->lines, 160.0, 0.1);
    // Half the greatest |H|^2: f^2 / f0^2 = 1 - 2 zeta^2 +- 2 zeta sqrt(1 - zeta^2) [computed from the definition].
    const double apart = 2.0 * 0.01 * std::sqrt(1.0 - 1e-4);
    EXPECT_NEAR(got->from_hz, 8.0 * std::sqrt(1.0 - 2e-4 - apart), 1e-4);
    EXPECT_NEAR(got->to_hz, 8.0 * std::sqrt(1.0 - 2e-4 + apart), 1e-4);
}

TEST(HalfPower, IsWidenedByAFloor)
{
    // As the header warns: 20 dB below the peak it adds 2 % to the damping, 30 dB below 0.2 %.
    const auto damping_over = [](double floor) {
        auto density = shown_lines({.hz = 5.0, .damping = 0.02}, 0.01, 1000, Motion::displacement);
        const double peak = *std::ranges::max_element(density);
        for (double& line : density) line += floor * peak;
        const auto got = half_power(density, 0.01, 100.0, {.near_hz = 5.0, .motion = Motion::displacement});
        EXPECT_TRUE(got) << to_text(got.error());
        return got->damping.value;
    };
    EXPECT_NEAR(damping_over(0.01) / 0.02, 1.02, 0.003);
    EXPECT_NEAR(damping_over(0.001) / 0.02, 1.002, 0.0003);
}

TEST(HalfPower, OfAResponseToNoiseLiesWithinItsUncertainty)
{
    // 20 min at 64 Hz, segments so that there are 8 lines a bandwidth.
    Record record;
    for (const double damping : {0.01, 0.03, 0.05})
        for (std::uint64_t seed = 1; seed <= 50; ++seed) {
            const double hz = 6.2;
            const auto length = static_cast<std::size_t>(64.0 * 8.0 / (2.0 * damping * hz));
            Welch welch(64.0, length);
            welch.add(tests::white_noise_response(hz, damping, 64.0, 64 * 1200, seed).velocity);
            const auto got =
                half_power(welch.density(), welch.resolution_hz(), effective_averages(length, welch.segments()),
                           {.near_hz = hz, .motion = Motion::velocity});
            ASSERT_TRUE(got) << to_text(got.error());
            record.add(got->frequency_hz, hz, got->damping, damping);
        }
    RecordProperty("noise", record.told());
    EXPECT_GE(record.damping_2 / record.count, 0.90) << record.told();
    EXPECT_GE(record.frequency_2 / record.count, 0.90) << record.told();
    EXPECT_NEAR(record.damping_1 / record.count, 0.68, 0.1) << record.told();
    EXPECT_NEAR(record.mean_damping / record.count, 1.0, 0.01) << record.told();
}

// Displacement under a force that stays for one sample, exact from sample to sample.
Signal response_to(const Signal& force, double hz, double damping, double rate_hz)
{
    const double w0 = tau * hz, alpha = damping * w0, wd = w0 * std::sqrt(1.0 - damping * damping), dt = 1.0 / rate_hz;
    const double e = std::exp(-alpha * dt), c = std::cos(wd * dt), s = std::sin(wd * dt);
    const double a11 = e * (c + alpha / wd * s), a12 = e * s / wd, a21 = -e * w0 * w0 / wd * s,
                 a22 = e * (c - alpha / wd * s);
    double x = 0.0, v = 0.0;
    Signal response;
    for (const double f : force) {
        response.push_back(x);
        // Steady displacement under f is f / w0^2; what differs from it moves freely.
        const double rest = f / (w0 * w0), from = x - rest, before = v;
        x = rest + a11 * from + a12 * before;
        v = a21 * from + a22 * before;
    }
    return response;
}

// A shaker with noise, 10 min at 100 Hz, eight lines a bandwidth; noise at the response of so many times its r.m.s.
Record transfer_record(double noise_ratio)
{
    Record record;
    for (const double damping : {0.01, 0.03, 0.05})
        for (std::uint64_t seed = 1; seed <= 50; ++seed) {
            const double hz = 5.0;
            const Signal force = with_noise(Signal(60000, 0.0), 1.0, 2 * seed);
            Signal response = response_to(force, hz, damping, 100.0);
            double square = 0.0;
            for (const double x : response) square += x * x / 60000.0;
            response = with_noise(response, noise_ratio * std::sqrt(square), 2 * seed + 1);
            const auto length = static_cast<std::size_t>(100.0 * 8.0 / (2.0 * damping * hz));
            const auto d = cross_densities(std::vector<SampledChannel>{{100.0, force}, {100.0, response}}, length);
            EXPECT_TRUE(d) << to_text(d.error());
            const auto got =
                half_power(transfers(*d, 0, 1), d->resolution_hz(), {.near_hz = hz, .motion = Motion::displacement});
            EXPECT_TRUE(got) << damping << ", " << seed << ": " << to_text(got.error());
            if (got) record.add(got->frequency_hz, hz, got->damping, damping);
        }
    return record;
}

TEST(HalfPower, OfATransferFunctionLiesWithinItsUncertainty)
{
    const Record noisy = transfer_record(3.0), quiet = transfer_record(0.3);
    RecordProperty("transfer_with_noise", noisy.told());
    RecordProperty("transfer_without", quiet.told());
    EXPECT_GE(noisy.damping_2 / noisy.count, 0.90) << noisy.told();
    EXPECT_GE(noisy.frequency_2 / noisy.count, 0.90) << noisy.told();
    EXPECT_NEAR(noisy.damping_1 / noisy.count, 0.68, 0.1) << noisy.told();
    EXPECT_NEAR(noisy.mean_damping / noisy.count, 1.0, 0.02) << noisy.told();
    // Where the window's leakage alone lowers the coherence, less scatters than that says: on the safe side.
    EXPECT_GE(quiet.damping_2 / quiet.count, 0.95) << quiet.told();
    EXPECT_GE(quiet.frequency_2 / quiet.count, 0.95) << quiet.told();
    EXPECT_NEAR(quiet.mean_damping / quiet.count, 1.0, 0.01) << quiet.told();
}

TEST(HalfPower, IsRefusedWhereTheResolutionIsTooCoarse)
{
    // 0.5 % of 5 Hz is 0.05 Hz: two and a half lines of 0.02 Hz, which the window makes three.
    const auto lines = [](double resolution_hz) {
        return shown_lines({.hz = 5.0, .damping = 0.005}, resolution_hz, 1000, Motion::acceleration);
    };
    const auto coarse = half_power(lines(0.02), 0.02, 100.0, {.near_hz = 5.0});
    ASSERT_FALSE(coarse);
    EXPECT_THAT(to_text(coarse.error()), HasSubstr("at 5 Hz spans 3 lines"));
    EXPECT_THAT(to_text(coarse.error()), HasSubstr("take segments of"));
    const auto fine = half_power(lines(0.01), 0.01, 100.0, {.near_hz = 5.0});
    ASSERT_TRUE(fine) << to_text(fine.error());
    EXPECT_NEAR(fine->damping.value, 0.005, 1e-5);
    // A tone is as narrow as the window makes it.
    std::vector<double> tone(400, 1e-9);
    tone[199] = tone[201] = 0.25, tone[200] = 1.0;
    EXPECT_FALSE(half_power(tone, 0.05, 100.0, {.near_hz = 10.0}));
}

TEST(HalfPower, IsRefusedWhereThereIsNoResonanceOfItsOwn)
{
    const auto reason = [](const std::vector<double>& density, const BandwidthOptions& options) {
        const auto got = half_power(density, 0.01, 100.0, options);
        return got ? fmt::format("damping {}", got->damping.value) : to_text(got.error());
    };
    const auto one = shown_lines({.hz = 5.0, .damping = 0.01}, 0.01, 1000, Motion::displacement);
    const auto other = shown_lines({.hz = 5.12, .damping = 0.01}, 0.01, 1000, Motion::displacement);
    std::vector<double> both = one;
    for (std::size_t k = 0; k < both.size(); ++k) both[k] += other[k];
    EXPECT_THAT(reason(both, {.near_hz = 5.0, .motion = Motion::displacement}), HasSubstr("two close modes"));
    EXPECT_THAT(reason(std::vector<double>(1000, 1.0), {.near_hz = 5.0, .motion = Motion::displacement}),
                HasSubstr("no resonance"));
    EXPECT_THAT(reason(one, {.near_hz = 3.0, .motion = Motion::displacement}), HasSubstr("no resonance"));
    EXPECT_THAT(reason(std::vector<double>(1000, 0.0), {.near_hz = 5.0}), HasSubstr("no line with energy"));
    EXPECT_THAT(reason(one, {.near_hz = 50.0}), HasSubstr("no line with energy"));
    EXPECT_THAT(reason(one, {.near_hz = 0.0}), HasSubstr("are needed"));
    EXPECT_FALSE(half_power(one, 0.01, 0.0, {.near_hz = 5.0}));
    EXPECT_FALSE(half_power(std::vector<Transfer>{}, 0.01, {.near_hz = 5.0}));
}

} // namespace
} // namespace becalm::filters
