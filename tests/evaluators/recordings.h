// Recordings made for one test.
#pragma once

#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "src/io/audio_writer.h"

#include "tests/filters/signals.h"
#include "tests/src/scratch_folder.h"

namespace becalm::evaluators::tests {

using becalm::filters::tests::noise;
using becalm::filters::tests::Signal;
using becalm::tests::content_of;
using becalm::tests::ScratchFolder;

// One channel after the other in every frame.
inline Signal interleaved(const std::vector<Signal>& channels)
{
    Signal values;
    values.reserve(channels.size() * channels.front().size());
    for (std::size_t i = 0; i < channels.front().size(); ++i)
        for (const Signal& channel : channels) values.push_back(channel[i]);
    return values;
}

// A float WAV; returns its path.
inline std::string wav(const ScratchFolder& folder, const std::string& name, int rate_hz,
                       const std::vector<Signal>& channels)
{
    const auto written = io::write_audio(
        folder.path(name), {.rate_hz = rate_hz, .channels = static_cast<int>(channels.size())}, interleaved(channels));
    EXPECT_TRUE(written) << to_text(written.error());
    return folder.path(name);
}

// The values as a float file holds them.
inline Signal single_precision(Signal signal)
{
    for (double& x : signal) x = static_cast<float>(x);
    return signal;
}

inline Signal sine(double amplitude, double hz, double rate_hz, double duration_s)
{
    Signal signal(static_cast<std::size_t>(std::llround(duration_s * rate_hz)));
    for (std::size_t i = 0; i < signal.size(); ++i)
        signal[i] = amplitude * std::sin(2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate_hz);
    return signal;
}

} // namespace becalm::evaluators::tests
