// Reading alone: opening a recording and taking its samples to the end. "ns" is nanoseconds a channel-sample; the files
// are in the system's cache, so this is decoding, not the disk.
#include <cstdio>
#include <filesystem>
#include <random>
#include <sndfile.h>
#include <string>
#include <vector>

#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include "src/io/atomic_file.h"
#include "src/io/audio_writer.h"
#include "src/io/recording_reader.h"

#include "tests/src/scratch_folder.h"

namespace {

using namespace becalm;

constexpr int rate_hz = 1000;
constexpr int channels = 3;
constexpr int seconds = 300;

// One recording in every format.
class Recordings {
public:
    Recordings()
    {
        std::mt19937_64 generator(9);
        std::uniform_real_distribution<double> uniform(-1.0, 1.0);
        std::vector<double> values(static_cast<std::size_t>(rate_hz * channels * seconds));
        for (double& value : values) value = 0.999 * uniform(generator);
        using enum io::AudioContainer;
        using enum io::AudioCoding;
        keep(io::write_audio(folder_.path("float.wav"), {rate_hz, channels, wav, float32, 1.0}, values));
        keep(io::write_audio(folder_.path("integer.wav"), {rate_hz, channels, wav, integer24, 1.0}, values));
        keep(io::write_audio(folder_.path("integer.flac"), {rate_hz, channels, flac, integer24, 1.0}, values));
        for (const bool german : {false, true}) {
            const char separator = german ? ';' : ',';
            std::string text = fmt::format("time{0}x{0}y{0}z\n", separator);
            for (std::size_t i = 0; i < values.size(); i += channels) {
                std::string row =
                    fmt::format("{:.3f};{:.6f};{:.6f};{:.6f}\n", static_cast<double>(i / channels) / rate_hz, values[i],
                                values[i + 1], values[i + 2]);
                for (char& c : row) {
                    if (c == ';') c = separator;
                    if (c == '.' && german) c = ',';
                }
                text += row;
            }
            keep(io::write_file_atomically(folder_.path(german ? "comma.csv" : "point.csv"), text));
        }
    }
    std::string path(const std::string& name) const { return folder_.path(name); }
    const std::string& fault() const { return fault_; }

private:
    void keep(const Result<void>& written)
    {
        if (!written) fault_ = to_text(written.error());
    }

    tests::ScratchFolder folder_;
    std::string fault_;
};

const Recordings& recordings_made()
{
    static const Recordings recordings;
    return recordings;
}

// The measure of reading audio: the library alone.
void library(benchmark::State& state, const std::string& name)
{
    const Recordings& recordings = recordings_made();
    if (!recordings.fault().empty()) return state.SkipWithError(recordings.fault().c_str());
    std::vector<double> block(4096 * channels);
    double samples = 0.0;
    for ([[maybe_unused]] auto round : state) {
        SF_INFO info = {};
        SNDFILE* file = sf_open(recordings.path(name).c_str(), SFM_READ, &info);
        if (file == nullptr) return state.SkipWithError(sf_strerror(nullptr));
        while (const auto got = sf_readf_double(file, block.data(), 4096))
            samples += static_cast<double>(got * channels);
        sf_close(file);
    }
    state.counters["ns"] =
        benchmark::Counter(samples * 1e-9, benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

void reading(benchmark::State& state, const std::string& name)
{
    const Recordings& recordings = recordings_made();
    if (!recordings.fault().empty()) return state.SkipWithError(recordings.fault().c_str());
    std::vector<double> block(4096 * channels);
    double samples = 0.0;
    double bytes = 0.0;
    for ([[maybe_unused]] auto round : state) {
        const auto file_size = std::filesystem::file_size(recordings.path(name));
        const auto reader = io::open_recording(recordings.path(name));
        if (!reader) return state.SkipWithError(to_text(reader.error()).c_str());
        while (true) {
            const auto got = (*reader)->read(block);
            if (!got) return state.SkipWithError(to_text(got.error()).c_str());
            if (*got == 0) break;
            samples += static_cast<double>(*got * channels);
            benchmark::DoNotOptimize(block.data());
        }
        bytes += static_cast<double>(file_size);
    }
    state.counters["MB/s"] = benchmark::Counter(bytes * 1e-6, benchmark::Counter::kIsRate);
    state.counters["ns"] =
        benchmark::Counter(samples * 1e-9, benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

BENCHMARK_CAPTURE(library, wav_float, "float.wav")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(library, wav_integer24, "integer.wav")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(library, flac_integer24, "integer.flac")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(reading, wav_float, "float.wav")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(reading, wav_integer24, "integer.wav")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(reading, flac_integer24, "integer.flac")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(reading, csv_decimal_point, "point.csv")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(reading, csv_decimal_comma, "comma.csv")->Unit(benchmark::kMillisecond);

} // namespace
