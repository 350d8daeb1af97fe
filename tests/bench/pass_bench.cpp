// The pass over a file of an hour, three channels, 1 kHz, in one thread and without the hash: Wd, Wd, Wk alone and with
// what can ride beside them.
//
// "ns" is nanoseconds a channel-sample.
#include <cstdio>
#include <filesystem>
#include <random>
#include <string>
#include <unistd.h>
#include <vector>

#include <benchmark/benchmark.h>

#include "evaluators/pass.h"
#include "src/io/audio_writer.h"

namespace {

using namespace becalm;

constexpr int rate_hz = 1000, channels = 3, seconds = 3600;

// Noise of an hour in a file that goes when the program ends.
class Recording {
public:
    Recording()
        : path_((std::filesystem::temp_directory_path() / ("becalm-bench-" + std::to_string(::getpid()) + ".wav"))
                    .string())
    {
        std::mt19937_64 generator(5);
        std::uniform_real_distribution<double> uniform(-1.0, 1.0);
        std::vector<double> values(std::size_t{rate_hz} * seconds * channels);
        for (double& value : values) value = uniform(generator);
        written_ = io::write_audio(path_, {.rate_hz = rate_hz, .channels = channels}, values).has_value();
    }
    ~Recording() { std::remove(path_.c_str()); }
    Recording(const Recording&) = delete;
    Recording& operator=(const Recording&) = delete;

    bool is_written() const { return written_; }
    const std::string& path() const { return path_; }

private:
    std::string path_;
    bool written_ = false;
};

struct Beside {
    bool spectra = false, bins = false, swings = false;
};

void pass(benchmark::State& state, Beside beside)
{
    static const Recording recording;
    if (!recording.is_written()) return state.SkipWithError("no file");
    using enum WeightingId;
    evaluators::PassRequest request{
        .path = recording.path(), .lanes = {{1, Axis::x, Wd}, {2, Axis::y, Wd}, {3, Axis::z, Wk}}, .hash = false};
    if (beside.spectra) request.spectra_channels = {1, 2, 3};
    if (beside.bins) request.motion_channels = {1, 2, 3};
    if (beside.swings) request.swing_lanes = request.lanes;
    for ([[maybe_unused]] auto round : state) {
        const auto results = evaluators::run_passes(std::span(&request, 1), {.jobs = 1});
        if (!results[0]) return state.SkipWithError("no result");
    }
    state.counters["ns"] =
        benchmark::Counter(1e-9 * rate_hz * seconds * channels * static_cast<double>(state.iterations()),
                           benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

BENCHMARK_CAPTURE(pass, lanes, Beside{})->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(pass, and_spectra, Beside{.spectra = true})->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(pass, and_bins, Beside{.bins = true})->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(pass, and_swings, Beside{.swings = true})->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(pass, and_all, Beside{.spectra = true, .bins = true, .swings = true})->Unit(benchmark::kMillisecond);

} // namespace
