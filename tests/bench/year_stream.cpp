// Samples of three channels as a recorder sends them, for as long as it is asked: year_stream DAYS [RATE_HZ] writes
// 32-bit floats in the machine's order of bytes, all channels of a moment together, to the standard output.
//
// It must cost little beside what reads it. So it makes 64 s of noise and three sines once, all of it repeating, and
// sends them again and again, each time with another one of 97 amplitudes: no two days are the same, and a sum over
// all of them tells a piece that is missing.
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <numbers>
#include <random>
#include <unistd.h>
#include <vector>

int main(int count, char** words)
{
    const double days = count > 1 ? std::atof(words[1]) : 0.0;
    const double rate_hz = count > 2 ? std::atof(words[2]) : 1000.0;
    if (!(days > 0.0) || !(rate_hz >= 1.0)) {
        std::fputs("year_stream DAYS [RATE_HZ]: samples of three channels, 32-bit floats, to the output\n", stderr);
        return 2;
    }
    constexpr int channels = 3, piece_s = 64;
    const auto piece = static_cast<std::size_t>(piece_s * rate_hz);
    std::vector<float> made(piece * channels), sent(made.size());
    std::mt19937_64 random(20260101);
    std::normal_distribution<double> noise(0.0, 0.01);
    for (std::size_t i = 0; i < piece; ++i)
        for (int c = 0; c < channels; ++c) {
            const double hz = 0.5 * (5 + 3 * c); // whole periods in a piece
            const double t = static_cast<double>(i) / rate_hz;
            made[i * channels + static_cast<std::size_t>(c)] =
                static_cast<float>(0.02 * std::sin(2.0 * std::numbers::pi * hz * t) + noise(random));
        }
    auto frames = static_cast<std::uint64_t>(days * 86400.0 * rate_hz);
    for (std::uint64_t turn = 0; frames > 0; ++turn) {
        const auto factor = static_cast<float>(0.5 + static_cast<double>(turn % 97) / 97.0);
        for (std::size_t i = 0; i < made.size(); ++i) sent[i] = made[i] * factor;
        const std::uint64_t now = frames < piece ? frames : piece;
        const char* from = reinterpret_cast<const char*>(sent.data());
        for (std::size_t left = static_cast<std::size_t>(now) * channels * sizeof(float); left > 0;) {
            const ssize_t written = ::write(STDOUT_FILENO, from, left);
            if (written <= 0) return 1;
            from += written;
            left -= static_cast<std::size_t>(written);
        }
        frames -= now;
    }
    return 0;
}
