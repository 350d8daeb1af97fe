// The command line as a test calls it: in process, with captured streams; and signals and files of the test's own,
// written without the program's writers.
#pragma once

#include <bit>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <limits>
#include <numbers>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "ui/cli/command_line.h"

#include "tests/src/scratch_folder.h"

namespace becalm::tests {

struct Outcome {
    int code = -1;
    std::string out = {};
    std::string err = {};

    nlohmann::json json() const { return nlohmann::json::parse(out); } // all of it: anything beside the JSON throws
};

inline Outcome call(std::vector<std::string> arguments)
{
    ::setenv("XDG_CONFIG_HOME", "/nonexistent", 1); // no criteria of whoever runs the test
    std::ostringstream out, err;
    const int code = cli::run(std::move(arguments), {.out = out, .err = err});
    return {code, out.str(), err.str()};
}

using Signal = std::vector<double>;

// seconds * rate samples of amplitude sin(2 pi hz t) + offset
inline Signal sine(double seconds, double rate_hz, double hz, double amplitude, double offset = 0.0)
{
    Signal signal(static_cast<std::size_t>(std::lround(seconds * rate_hz)));
    for (std::size_t i = 0; i < signal.size(); ++i)
        signal[i] = amplitude * std::sin(2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate_hz) + offset;
    return signal;
}

inline Signal noise(double seconds, double rate_hz, double deviation, unsigned seed, double offset = 0.0)
{
    std::mt19937 generator(seed);
    std::normal_distribution<double> distribution(offset, deviation);
    Signal signal(static_cast<std::size_t>(std::lround(seconds * rate_hz)));
    for (double& value : signal) value = distribution(generator);
    return signal;
}

inline void append(std::string& bytes, std::uint64_t value, int count)
{
    for (int i = 0; i < count; ++i) bytes += static_cast<char>((value >> (8 * i)) & 0xff);
}

// A canonical RIFF/WAVE file. `bits` 16 or 24: integers, values are parts of full scale; 32: IEEE single precision.
inline std::string wav(const std::vector<Signal>& channels, int rate_hz, int bits = 32)
{
    const std::size_t frames = channels.front().size();
    const auto width = static_cast<std::uint64_t>(channels.size() * static_cast<std::size_t>(bits / 8));
    std::string bytes = "RIFF";
    append(bytes, 36 + width * frames, 4);
    bytes += "WAVEfmt ";
    append(bytes, 16, 4);
    append(bytes, bits == 32 ? 3 : 1, 2);
    append(bytes, channels.size(), 2);
    append(bytes, static_cast<std::uint64_t>(rate_hz), 4);
    append(bytes, static_cast<std::uint64_t>(rate_hz) * width, 4);
    append(bytes, width, 2);
    append(bytes, static_cast<std::uint64_t>(bits), 2);
    bytes += "data";
    append(bytes, width * frames, 4);
    for (std::size_t i = 0; i < frames; ++i)
        for (const Signal& channel : channels) {
            if (bits == 32)
                append(bytes, std::bit_cast<std::uint32_t>(static_cast<float>(channel[i])), 4);
            else
                append(bytes, static_cast<std::uint64_t>(std::llround(std::ldexp(channel[i], bits - 1))), bits / 8);
        }
    return bytes;
}

// Time and one column a channel, 17 digits: the values as they are.
inline std::string csv(const std::vector<Signal>& channels, double rate_hz, const std::string& names,
                       const std::string& line_end = "\n")
{
    std::string text = "time," + names + line_end;
    for (std::size_t i = 0; i < channels.front().size(); ++i) {
        text += fmt::format("{}", static_cast<double>(i) / rate_hz);
        for (const Signal& channel : channels) text += fmt::format(",{}", channel[i]);
        text += line_end;
    }
    return text;
}

// What single precision keeps of it.
inline Signal as_stored(Signal signal)
{
    for (double& value : signal) value = static_cast<float>(value);
    return signal;
}

} // namespace becalm::tests
