// The arithmetic without files: weighting with all running statistics, and the statistics alone.
//
// "ns" is nanoseconds a lane-sample; with one lane a channel that is a channel-sample.
// "bound" is the nanoseconds that the multiplications and additions of the lanes would take at the greatest rate of
// fused multiply-adds that this machine reaches in vectors of the kernel's width: 1 a tap, 2 a real pole, 5 a section,
// 9 of the statistics. Loads, stores, comparisons and what one sample waits for from the one before are not in it.
// BECALM_KERNEL=baseline|avx2|avx512 asks for a lesser kernel.
#include <algorithm>
#include <array>
#include <chrono>
#include <random>
#include <string_view>
#include <vector>

#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include "filters/aligned_buffer.h"
#include "filters/digital_design.h"
#include "filters/half_cycles.h"
#include "filters/lane_bank.h"
#include "filters/lane_kernel.h"
#include "filters/motion_bins.h"
#include "filters/row_accumulator.h"
#include "filters/spectrum_rows.h"
#include "src/model/weighting_id.h"

namespace {

using namespace becalm;

constexpr std::size_t block_rows = filters::LaneBank::usual_block; // as the pass has it
constexpr std::size_t seconds = 60;
constexpr std::size_t channels = 3;

std::vector<double> noise(std::size_t count)
{
    std::mt19937_64 generator(3);
    std::uniform_real_distribution<double> uniform(-1.0, 1.0);
    std::vector<double> values(count);
    for (double& value : values) value = uniform(generator);
    return values;
}

// Chains enough that none waits for itself.
#define BECALM_MULTIPLY_ADDS(WIDTH)                                                                                    \
    typedef double V __attribute__((vector_size(8 * WIDTH)));                                                          \
    V a[12];                                                                                                           \
    for (int k = 0; k < 12; ++k) a[k] = V{} + 1e-3 * k;                                                                \
    V factor = V{} + 0.999, term = V{} + 1e-3;                                                                         \
    asm volatile("" : "+m"(factor), "+m"(term));                                                                       \
    for (long i = 0; i < rounds; ++i)                                                                                  \
        _Pragma("GCC unroll 12") for (int k = 0; k < 12; ++k) a[k] = a[k] * factor + term;                             \
    V sum{};                                                                                                           \
    for (int k = 0; k < 12; ++k) sum += a[k];                                                                          \
    benchmark::DoNotOptimize(sum[0])

#if defined(__x86_64__)
__attribute__((target("avx512f,fma"))) void multiply_adds_of_eight(long rounds) { BECALM_MULTIPLY_ADDS(8); }
__attribute__((target("avx2,fma"))) void multiply_adds_of_four(long rounds) { BECALM_MULTIPLY_ADDS(4); }
#endif
void multiply_adds_of_two(long rounds) { BECALM_MULTIPLY_ADDS(2); }

// Multiply-adds of single numbers in a nanosecond; the best of several attempts, for others use the machine too.
double multiply_adds_a_ns()
{
    static const double rate = [] {
        constexpr long rounds = 2'000'000;
        auto run = &multiply_adds_of_two;
        double width = 2.0;
#if defined(__x86_64__)
        const std::string_view name = filters::kernel::chosen().name;
        if (name == "avx512") run = &multiply_adds_of_eight, width = 8.0;
        if (name == "avx2") run = &multiply_adds_of_four, width = 4.0;
#endif
        double best = 0.0;
        for (int attempt = 0; attempt < 20; ++attempt) {
            const auto begin = std::chrono::steady_clock::now();
            run(rounds);
            const std::chrono::duration<double, std::nano> taken = std::chrono::steady_clock::now() - begin;
            best = std::max(best, 12.0 * width * rounds / taken.count());
        }
        return best;
    }();
    return rate;
}

void report(benchmark::State& state, std::size_t samples_a_round, const std::string& label)
{
    const double samples = static_cast<double>(samples_a_round) * static_cast<double>(state.iterations());
    state.counters["ns"] =
        benchmark::Counter(samples * 1e-9, benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
    state.SetLabel(label);
}

// Lane i takes channel i modulo 3.
void weighting_with_statistics(benchmark::State& state, const std::vector<WeightingId>& weightings,
                               Motion input = Motion::acceleration)
{
    const auto rate_hz = static_cast<double>(state.range(0));
    std::vector<filters::BankLane> lanes;
    std::string shapes;
    double operations = 0.0;
    for (std::size_t l = 0; l < weightings.size(); ++l) {
        const auto designed = filters::design(weightings[l], input, rate_hz);
        if (!designed) return state.SkipWithError("no design");
        lanes.push_back({l % channels, *designed});
        const auto& weighting = **designed;
        operations +=
            static_cast<double>(weighting.taps.size() + 2 * weighting.poles.size() + 5 * weighting.sections.size() + 9);
        const std::string shape = fmt::format(" {} {}+{}+{}", name_of(weighting.id), weighting.sections.size(),
                                              weighting.taps.size(), weighting.poles.size());
        if (shapes.find(shape) == std::string::npos) shapes += shape;
    }
    filters::LaneBank bank(lanes, block_rows);
    std::vector<filters::RowAccumulator> accumulators;
    for (const auto& group : bank.groups()) accumulators.emplace_back(group.width(), group.lanes(), rate_hz, 0);

    const std::size_t frames = static_cast<std::size_t>(rate_hz) * seconds / block_rows * block_rows; // whole blocks
    std::array<filters::AlignedBuffer, channels> signal; // as the pass has them
    for (auto& channel : signal) {
        channel = filters::AlignedBuffer(frames);
        std::ranges::copy(noise(frames), channel.data());
    }
    const filters::FlushSubnormals flush;
    for ([[maybe_unused]] auto round : state) {
        for (std::size_t at = 0; at < frames; at += block_rows) {
            const std::size_t rows = std::min(block_rows, frames - at);
            const std::array<const double*, channels> inputs{&signal[0][at], &signal[1][at], &signal[2][at]};
            bank.process(inputs, rows);
            for (std::size_t g = 0; g < accumulators.size(); ++g) accumulators[g].add(bank.groups()[g].rows(), rows);
        }
        for (std::size_t g = 0; g < accumulators.size(); ++g)
            for (std::size_t l = 0; l < bank.groups()[g].lanes(); ++l) {
                benchmark::DoNotOptimize(accumulators[g].rows_of(l).data());
                accumulators[g].rows_of(l).clear();
            }
    }
    state.counters["bound"] = 1e-9 * operations / static_cast<double>(weightings.size()) / multiply_adds_a_ns();
    report(state, frames * weightings.size(),
           fmt::format("{}; sections+taps+poles:{}", filters::kernel::chosen().name, shapes));
}

void statistics(benchmark::State& state)
{
    const auto width = static_cast<std::size_t>(state.range(0));
    const auto rate_hz = static_cast<double>(state.range(1));
    const auto frames = static_cast<std::size_t>(rate_hz) * seconds;
    filters::RowAccumulator accumulator(static_cast<int>(width), width, rate_hz, 0);
    // A block at a time, as it comes out of the filters: in the cache.
    const std::vector<double> values = noise(block_rows * width);
    filters::AlignedBuffer rows(values.size()); // as the kernels expect them
    std::ranges::copy(values, rows.data());
    for ([[maybe_unused]] auto round : state) {
        for (std::size_t at = 0; at < frames; at += block_rows)
            accumulator.add(rows.data(), std::min(block_rows, frames - at));
        for (std::size_t l = 0; l < width; ++l) {
            benchmark::DoNotOptimize(accumulator.rows_of(l).data());
            accumulator.rows_of(l).clear();
        }
    }
    report(state, frames * width, filters::kernel::chosen().name);
}

// What rides in the pass beside the lanes, for one channel or lane.
void spectrum_rows(benchmark::State& state)
{
    const auto rate_hz = static_cast<double>(state.range(0));
    const auto frames = static_cast<std::size_t>(rate_hz) * seconds * 10;
    const std::vector<double> signal = noise(frames);
    const auto layout = filters::spectrum_layout(rate_hz, static_cast<std::int64_t>(frames), 1800);
    if (!layout) return state.SkipWithError("no layout");
    filters::SegmentDensity density(rate_hz, layout->length);
    for ([[maybe_unused]] auto round : state) {
        filters::SpectrumStream stream(*layout, density, 0, layout->segments);
        for (std::size_t at = 0; at < frames; at += block_rows)
            stream.add(std::span(signal).subspan(at, std::min(block_rows, frames - at)));
        benchmark::DoNotOptimize(std::move(stream.rows()).spectra());
    }
    report(state, frames, fmt::format("segments of {}", layout->length));
}

void motion_bins(benchmark::State& state)
{
    const auto rate_hz = static_cast<double>(state.range(0));
    const std::vector<double> signal = noise(block_rows);
    const auto frames = static_cast<std::size_t>(rate_hz) * seconds;
    for ([[maybe_unused]] auto round : state) {
        filters::MotionBins bins(rate_hz, 0);
        for (std::size_t at = 0; at < frames; at += block_rows)
            bins.add(std::span(signal).first(std::min(block_rows, frames - at)));
        benchmark::DoNotOptimize(bins.bins().data());
    }
    report(state, frames, "");
}

// Of noise, which crosses zero every other sample; and of a tone that does so 32 times a second at 1 kHz.
void half_cycles(benchmark::State& state, bool tone)
{
    constexpr std::size_t width = 4;
    std::vector<double> rows = noise(block_rows * width);
    if (tone)
        for (std::size_t i = 0; i < rows.size(); ++i) rows[i] = std::sin(0.1 * static_cast<double>(i / width) + 1.0);
    const std::size_t frames = 1000 * seconds;
    for ([[maybe_unused]] auto round : state) {
        filters::HalfCycles half_cycles(frames);
        for (std::size_t at = 0; at < frames; at += block_rows)
            half_cycles.add(rows.data(), std::min(block_rows, frames - at), width, static_cast<std::int64_t>(at));
        benchmark::DoNotOptimize(half_cycles.is_overfull());
    }
    report(state, frames, "");
}

using enum WeightingId;

BENCHMARK_CAPTURE(weighting_with_statistics, three_lanes, std::vector{Wd, Wd, Wk})
    ->ArgName("hz")
    ->Arg(1000)
    ->Arg(2048)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(weighting_with_statistics, eight_lanes, std::vector{Wd, Wd, Wk, Wm, Wm, Wm, Wb, Wk})
    ->ArgName("hz")
    ->Arg(1000)
    ->Arg(2048)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(weighting_with_statistics, three_lanes_of_velocity, std::vector{KB, KB, KB}, Motion::velocity)
    ->ArgName("hz")
    ->Arg(256)
    ->Arg(512)
    ->Arg(1000)
    ->Arg(2048)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(weighting_with_statistics, three_lanes_of_displacement, std::vector{Wk, Wk, Wk}, Motion::displacement)
    ->ArgName("hz")
    ->Arg(256)
    ->Arg(1000)
    ->Unit(benchmark::kMillisecond);
BENCHMARK(statistics)
    ->ArgNames({"lanes", "hz"})
    ->Args({4, 1000})
    ->Args({4, 2048})
    ->Args({8, 1000})
    ->Args({8, 2048})
    ->Unit(benchmark::kMillisecond);

BENCHMARK(spectrum_rows)->ArgName("hz")->Arg(1000)->Arg(2048)->Unit(benchmark::kMillisecond);
BENCHMARK(motion_bins)->ArgName("hz")->Arg(1000)->Arg(2048)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(half_cycles, of_noise, false)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(half_cycles, of_a_tone, true)->Unit(benchmark::kMillisecond);

} // namespace
