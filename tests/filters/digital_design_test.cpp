// The digital weighting: a quick subset of rates (all of them: every_rate_test.cpp), refusals, and that the running
// code, whichever instruction set it was compiled for, does what response() says.
#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "filters/aligned_buffer.h"
#include "filters/digital_design.h"
#include "filters/lane_bank.h"
#include "filters/lane_kernel.h"
#include "filters/weighting.h"

#include "tests/filters/design_check.h"
#include "tests/filters/kernels.h"

namespace becalm::filters {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using Complex = std::complex<double>;

constexpr double pi = std::numbers::pi;

std::shared_ptr<const DigitalWeighting> designed(WeightingId id, Motion motion, double rate_hz)
{
    auto result = design(id, motion, rate_hz);
    if (!result) throw std::runtime_error(to_text(result.error()));
    return *result;
}

TEST(DigitalDesign, FollowsTheDefinitionAtAFewRates)
{
    EXPECT_THAT(tests::broken_promise(WeightingId::Wk, Motion::acceleration, 1000.0), IsEmpty());
    EXPECT_THAT(tests::broken_promise(WeightingId::Wk, Motion::acceleration, 2048.0), IsEmpty());
    EXPECT_THAT(tests::broken_promise(WeightingId::Wd, Motion::acceleration, 1000.0), IsEmpty());
    EXPECT_THAT(tests::broken_promise(WeightingId::Wd, Motion::acceleration, 2048.0), IsEmpty());
    EXPECT_THAT(tests::broken_promise(WeightingId::Wm, Motion::velocity, 512.0), IsEmpty());
    EXPECT_THAT(tests::broken_promise(WeightingId::KB, Motion::velocity, 1000.0), IsEmpty());
    EXPECT_THAT(tests::broken_promise(WeightingId::velocity, Motion::acceleration, 1000.0), IsEmpty());
    EXPECT_THAT(tests::broken_promise(WeightingId::flat, Motion::acceleration, 1000.0), IsEmpty());
}

TEST(DigitalDesign, RefusesARateTooLowAndSaysWhichWouldDo)
{
    struct Case {
        WeightingId id;
        double rate_hz;
        const char* least;
    };
    // Least rates: from the words of filters/weighting.h.
    for (const Case& refused : {Case{WeightingId::Wk, 255.0, "256 Hz"}, Case{WeightingId::Wm, 100.0, "256 Hz"},
                                Case{WeightingId::Wh, 3199.0, "3200 Hz"}, Case{WeightingId::Wf, 1.5, "1.6 Hz"}}) {
        const auto result = design(refused.id, Motion::acceleration, refused.rate_hz);
        ASSERT_FALSE(result) << name_of(refused.id);
        EXPECT_EQ(result.error().kind, ProblemKind::bad_input);
        EXPECT_THAT(result.error().what, HasSubstr(std::string(name_of(refused.id))));
        EXPECT_THAT(result.error().what, HasSubstr(fmt::format("{:g} Hz", refused.rate_hz)));
        EXPECT_THAT(result.error().remedy, HasSubstr(refused.least));
    }
}

TEST(DigitalDesign, LetsAnUnweightedLaneThroughAtAnyRate)
{
    const auto none = designed(WeightingId::none, Motion::velocity, 0.5);
    EXPECT_EQ(none->latency, 0);
    EXPECT_EQ(response(*none, 0.2), Complex(1.0));
}

TEST(DigitalDesign, DesignsTheSameRequestOnce)
{
    EXPECT_EQ(designed(WeightingId::Wd, Motion::acceleration, 1000.0),
              designed(WeightingId::Wd, Motion::acceleration, 1000.0));
    EXPECT_NE(designed(WeightingId::Wd, Motion::acceleration, 1000.0),
              designed(WeightingId::Wd, Motion::acceleration, 1001.0));
}

// sum_i h[i] exp(-j w (i - latency))
Complex fourier(const std::vector<double>& impulse_response, double hz, double rate_hz, int latency)
{
    Complex sum = 0.0;
    for (std::size_t i = 0; i < impulse_response.size(); ++i)
        sum += impulse_response[i] * std::polar(1.0, -2.0 * pi * hz / rate_hz * (static_cast<double>(i) - latency));
    return sum;
}

// Samples until the response to an impulse is below 1e-12 of what it was: 28 time constants of the slowest pole, of the
// weighting or of the correction.
std::size_t forgotten_after(const DigitalWeighting& weighting)
{
    return static_cast<std::size_t>(std::ceil(memory_s(weighting) * weighting.rate_hz)) + weighting.taps.size();
}

// Rounding: what two ways of adding the same products may differ by, of the value itself and of the greatest within the
// sums: 1.4e-11 of that was seen over the 200,000 samples of Wj on a displacement, and depends on the machine's own way
// of rounding.
double rounding(const DigitalWeighting& weighting, Complex value)
{
    double greatest = 0.0;
    for (int i = 1; i <= 100; ++i)
        greatest = std::max(greatest, std::abs(response(weighting, weighting.rate_hz * i / 200.0)));
    return 1e-9 * std::abs(value) + 5e-11 * greatest;
}

struct Running {
    WeightingId id;
    Motion motion;
    double rate_hz;
    std::array<double, 5> hz;
};

// Frequencies across the range; anywhere would do.
constexpr std::array running_cases{
    Running{WeightingId::Wk, Motion::acceleration, 1000.0, {0.31, 0.97, 6.1, 79.0, 333.0}},
    Running{WeightingId::Wd, Motion::acceleration, 400.0, {0.31, 0.97, 6.1, 79.0, 151.0}},
    Running{WeightingId::Wm, Motion::velocity, 1000.0, {0.31, 0.97, 6.1, 79.0, 401.0}},
    Running{WeightingId::Wh, Motion::acceleration, 8192.0, {5.1, 15.7, 80.0, 990.0, 3001.0}},
    Running{WeightingId::Wf, Motion::acceleration, 10.0, {0.051, 0.1, 0.23, 0.5, 2.1}},
    Running{WeightingId::Wj, Motion::displacement, 8192.0, {0.31, 0.97, 6.1, 79.0, 3001.0}},
    Running{WeightingId::KB, Motion::velocity, 1000.0, {0.31, 0.97, 6.1, 79.0, 401.0}},
    Running{WeightingId::velocity, Motion::acceleration, 1000.0, {0.31, 0.97, 6.1, 79.0, 401.0}},
    Running{WeightingId::flat, Motion::acceleration, 1000.0, {0.31, 0.97, 6.1, 79.0, 401.0}},
};

TEST(DigitalDesign, IsWhatTheLaneBankRuns)
{
    for (const Running& running : running_cases) {
        const auto weighting = designed(running.id, running.motion, running.rate_hz);
        constexpr std::size_t block = 1000;
        const std::array lanes{BankLane{.input = 0, .weighting = weighting}};
        LaneBank bank(lanes, block);
        const std::size_t blocks = forgotten_after(*weighting) / block + 1;
        std::vector<double> input(block, 0.0), impulse_response;
        input[0] = 1.0;
        for (std::size_t b = 0; b < blocks; ++b) {
            const double* channel = input.data();
            bank.process(std::span(&channel, 1), block);
            LaneGroup& group = bank.groups()[0];
            for (std::size_t i = 0; i < block; ++i)
                impulse_response.push_back(group.rows()[i * static_cast<std::size_t>(group.width())]);
            input[0] = 0.0;
        }
        for (const double hz : running.hz) {
            const Complex ran = fourier(impulse_response, hz, running.rate_hz, bank.groups()[0].latency());
            const Complex said = response(*weighting, hz);
            EXPECT_LE(std::abs(ran - said), rounding(*weighting, said)) << fmt::format(
                "{} {} at {} Hz, {} Hz: ran {} {}j, response() {} {}j", name_of(running.id), name_of(running.motion),
                running.rate_hz, hz, ran.real(), ran.imag(), said.real(), said.imag());
        }
    }
}

// One weighting in every lane of a kernel, lane l fed with l + 1 times the input. Returns [row][width].
std::vector<double> run_kernel(const kernel::Table& table, int width, const DigitalWeighting& weighting,
                               const std::vector<double>& input)
{
    const auto w = static_cast<std::size_t>(width);
    const auto taps = weighting.taps.size(), sections = weighting.sections.size();
    const auto poles = weighting.poles.size() + weighting.poles.size() % 2;
    AlignedBuffer tap(taps * w), rho(poles * w), residue(poles * w), pole_state(poles * w), section(sections * 4 * w),
        section_state(sections * 2 * w), in((taps - 1 + input.size()) * w), out(input.size() * w);
    for (std::size_t l = 0; l < w; ++l) {
        for (std::size_t k = 0; k < taps; ++k) tap[k * w + l] = weighting.taps[k];
        for (std::size_t k = 0; k < weighting.poles.size(); ++k) {
            rho[k * w + l] = weighting.poles[k].rho;
            residue[k * w + l] = weighting.poles[k].residue;
        }
        for (std::size_t k = 0; k < sections; ++k) {
            const Section& s = weighting.sections[k];
            const std::array coefficients{s.b1 - s.a1, s.b2 - s.a2, s.a1, s.a2};
            for (std::size_t c = 0; c < 4; ++c) section[(4 * k + c) * w + l] = coefficients[c];
        }
        for (std::size_t i = 0; i < input.size(); ++i)
            in[(taps - 1 + i) * w + l] = static_cast<double>(l + 1) * input[i];
    }
    const kernel::Filter filter{.taps = static_cast<int>(taps),
                                .poles = static_cast<int>(poles),
                                .sections = static_cast<int>(sections),
                                .tap = tap.data(),
                                .rho = rho.data(),
                                .residue = residue.data(),
                                .pole_state = pole_state.data(),
                                .section = section.data(),
                                .section_state = section_state.data()};
    (width == 8 ? table.filter8 : table.filter4)(filter, in.data() + (taps - 1) * w, out.data(), input.size());
    return {out.data(), out.data() + out.size()};
}

// Of the peak. Rounding differs where products are fused with sums, and the high-pass, its poles 5e-3 from z = 1 for Wh
// at 8,192 Hz, holds on to it: 3e-12 was seen.
constexpr double kernel_rounding = 1e-11;

class Kernel : public testing::TestWithParam<int> {};

TEST_P(Kernel, AnImpulseThroughEachInstructionSetIsWhatTheResponseSays)
{
    const int width = GetParam();
    const auto w = static_cast<std::size_t>(width);
    for (const Running& running : running_cases) {
        const auto weighting = designed(running.id, running.motion, running.rate_hz);
        std::vector<double> impulse(forgotten_after(*weighting), 0.0);
        impulse[0] = 1.0;
        std::vector<double> first;
        for (const kernel::Table* table : tests::kernels_of_this_processor()) {
            const std::vector<double> rows = run_kernel(*table, width, *weighting, impulse);
            const std::size_t last = w - 1;
            std::vector<double> lane;
            for (std::size_t i = 0; i < impulse.size(); ++i)
                lane.push_back(rows[i * w + last] / static_cast<double>(w));
            for (const double hz : running.hz) {
                const Complex ran = fourier(lane, hz, running.rate_hz, weighting->latency);
                const Complex said = response(*weighting, hz);
                EXPECT_LE(std::abs(ran - said), rounding(*weighting, said))
                    << table->name << " " << width << " lanes " << name_of(running.id) << " at " << running.rate_hz
                    << " Hz, " << hz << " Hz";
            }
            if (first.empty()) first = rows;
            double peak = 0.0, difference = 0.0;
            for (std::size_t i = 0; i < rows.size(); ++i) {
                peak = std::max(peak, std::abs(first[i]));
                difference = std::max(difference, std::abs(rows[i] - first[i]));
            }
            EXPECT_LE(difference, kernel_rounding * peak)
                << table->name << " " << width << " lanes " << name_of(running.id) << " at " << running.rate_hz
                << " Hz differs from " << kernel::baseline.name;
        }
    }
}

TEST_P(Kernel, NoiseThroughEachInstructionSetIsTheSame)
{
    const int width = GetParam();
    for (const Running& running : running_cases) {
        const auto weighting = designed(running.id, running.motion, running.rate_hz);
        std::mt19937_64 random(20240229);
        std::vector<double> noise(20003);
        for (double& x : noise) x = static_cast<double>(random() >> 11) * 0x1p-53 * 2.0 - 1.0;
        std::vector<double> first;
        for (const kernel::Table* table : tests::kernels_of_this_processor()) {
            const std::vector<double> rows = run_kernel(*table, width, *weighting, noise);
            if (first.empty()) first = rows;
            double peak = 0.0, difference = 0.0;
            for (std::size_t i = 0; i < rows.size(); ++i) {
                peak = std::max(peak, std::abs(first[i]));
                difference = std::max(difference, std::abs(rows[i] - first[i]));
            }
            EXPECT_LE(difference, kernel_rounding * peak)
                << fmt::format("{}, {} lanes, {} {} at {} Hz differs from {} by {:.3g} of the peak", table->name, width,
                               name_of(running.id), name_of(running.motion), running.rate_hz, kernel::baseline.name,
                               difference / peak);
        }
    }
}

INSTANTIATE_TEST_SUITE_P(Widths, Kernel, testing::Values(4, 8));

} // namespace
} // namespace becalm::filters
