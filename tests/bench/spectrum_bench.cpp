// Spectra with all their statistics (mean, peak hold and minimum, as `becalm spectrum` makes them) beside the
// transforms alone: the same data, segments, overlap and plan, each copied into the plan's array and run.
//
// "ratio" is the time of the one by that of the other, taken in alternating rounds; "ns" nanoseconds a sample of the
// spectra.
#include <algorithm>
#include <chrono>
#include <random>
#include <vector>

#include <benchmark/benchmark.h>

#include "filters/welch.h"

namespace {

using namespace becalm;

constexpr std::size_t block_rows = 512; // as the pass has it
constexpr std::size_t seconds = 600;

std::vector<double> noise(std::size_t count)
{
    std::mt19937_64 generator(3);
    std::uniform_real_distribution<double> uniform(-1.0, 1.0);
    std::vector<double> values(count);
    for (double& value : values) value = uniform(generator);
    return values;
}

template <class Work>
double seconds_of(Work&& work)
{
    const auto begin = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

void spectra_by_bare_transforms(benchmark::State& state)
{
    const auto rate_hz = static_cast<double>(state.range(0));
    const auto length = static_cast<std::size_t>(state.range(1));
    const auto stride = static_cast<std::size_t>(state.range(2)); // lanes side by side, as the filters hand them out
    const auto frames = static_cast<std::size_t>(rate_hz) * seconds;
    const std::vector<double> signal = noise(frames), lanes = noise(block_rows * stride);
    filters::RealFft fft(length);
    filters::Welch welch(rate_hz, length);
    double bare_s = 0.0, spectra_s = 0.0;
    for ([[maybe_unused]] auto round : state) {
        bare_s += seconds_of([&] {
            for (std::size_t at = 0; at + length <= frames; at += length / 2) {
                std::copy_n(signal.begin() + static_cast<std::ptrdiff_t>(at), length, fft.input().begin());
                benchmark::DoNotOptimize(fft.run().data());
            }
        });
        const double took_s = seconds_of([&] {
            welch.restart();
            for (std::size_t at = 0; at < frames; at += block_rows) {
                const std::size_t rows = std::min(block_rows, frames - at);
                welch.add(stride == 1 ? &signal[at] : lanes.data(), rows, stride);
            }
            benchmark::DoNotOptimize(welch.density().data());
            benchmark::DoNotOptimize(welch.greatest().data());
            benchmark::DoNotOptimize(welch.least().data());
        });
        spectra_s += took_s;
        state.SetIterationTime(took_s);
    }
    state.counters["ratio"] = spectra_s / bare_s;
    state.counters["ns"] =
        benchmark::Counter(static_cast<double>(frames) * 1e-9 * static_cast<double>(state.iterations()),
                           benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

// 0.25 Hz at 1 kHz, 2,048 Hz and 10 kHz; short and long segments; one of four lanes.
BENCHMARK(spectra_by_bare_transforms)
    ->ArgNames({"hz", "length", "stride"})
    ->Args({1000, 4000, 1})
    ->Args({1000, 4000, 4})
    ->Args({2048, 8192, 1})
    ->Args({2048, 1024, 1})
    ->Args({10000, 40000, 1})
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);

} // namespace
