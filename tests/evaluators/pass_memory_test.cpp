// The pass needs no more memory for a long recording than for a short one. What is allowed (32 MB) comes from the
// performance asked for of this project; the recordings are silence with a little noise.
#include <array>
#include <fstream>
#include <string>
#include <unistd.h>
#include <vector>

#include <gtest/gtest.h>
#include <sys/wait.h>

#include "evaluators/pass.h"

#include "tests/evaluators/recordings.h"

namespace becalm::evaluators {
namespace {

using namespace tests;
using enum WeightingId;

// A line of the process's own status, in kB.
long status_kb(const std::string& key)
{
    std::ifstream status("/proc/self/status");
    std::string line;
    while (std::getline(status, line))
        if (line.starts_with(key + ":")) return std::stol(line.substr(key.size() + 1));
    return -1;
}

// What a pass in a process of its own adds to the memory that the process has, in kB at the peak; -1 where it failed.
long growth_kb(const PassRequest& request)
{
    int ends[2];
    if (::pipe(ends) != 0) return -1;
    const pid_t child = ::fork();
    if (child == 0) {
        const long before = status_kb("VmRSS");
        const auto results = run_passes(std::span(&request, 1), {.jobs = 2});
        const long grown = results[0] ? status_kb("VmHWM") - before : -1;
        const bool told = ::write(ends[1], &grown, sizeof grown) == sizeof grown;
        ::_exit(told ? 0 : 1);
    }
    ::close(ends[1]);
    long grown = -1;
    if (::read(ends[0], &grown, sizeof grown) != sizeof grown) grown = -1;
    ::close(ends[0]);
    int status = 0;
    ::waitpid(child, &status, 0);
    return grown;
}

template <class Number>
void put(std::ofstream& out, Number number)
{
    out.write(reinterpret_cast<const char*>(&number), sizeof number);
}

// The head of a WAV file with one channel of 32-bit floats.
std::ofstream begun_wav(const std::string& path, int rate_hz, int seconds)
{
    std::ofstream out(path, std::ios::binary);
    const auto bytes = static_cast<std::uint32_t>(rate_hz) * static_cast<std::uint32_t>(seconds) * 4U;
    out << "RIFF";
    put(out, bytes + 36U);
    out << "WAVEfmt ";
    put(out, std::uint32_t{16});
    put(out, std::uint16_t{3}); // IEEE float
    put(out, std::uint16_t{1});
    put(out, static_cast<std::uint32_t>(rate_hz));
    put(out, static_cast<std::uint32_t>(rate_hz) * 4U);
    put(out, std::uint16_t{4});
    put(out, std::uint16_t{32});
    out << "data";
    put(out, bytes);
    return out;
}

// Written piece by piece, so that this process stays small.
std::string long_wav(const ScratchFolder& folder, int rate_hz, int seconds)
{
    const std::string path = folder.path("long.wav");
    std::ofstream out = begun_wav(path, rate_hz, seconds);
    const Signal piece = noise(static_cast<std::size_t>(rate_hz) * 60, 1);
    std::vector<float> values(piece.begin(), piece.end());
    for (int done = 0; done < seconds; done += 60)
        out.write(reinterpret_cast<const char*>(values.data()),
                  static_cast<std::streamsize>(values.size() * sizeof(float)));
    return path;
}

// Takes no room on the disk.
std::string silent_wav(const ScratchFolder& folder, int rate_hz, int seconds)
{
    const std::string path = folder.path("silent.wav");
    std::ofstream out = begun_wav(path, rate_hz, seconds);
    out.seekp(static_cast<std::streamoff>(seconds) * rate_hz * 4 - 4, std::ios::cur);
    put(out, 0.0F);
    return path;
}

TEST(PassMemory, DoesNotGrowOverADayOfAudio)
{
    const ScratchFolder folder;
    PassRequest request{.path = long_wav(folder, 256, 86400),
                        .lanes = {{1, Axis::z, Wk}, {1, Axis::z, Wb}, {1, Axis::z, none}}};
    for (const bool with_spectra : {false, true}) {
        if (with_spectra) request.spectra_channels = {1};
        const long grown = growth_kb(request);
        EXPECT_GE(grown, 0);
        EXPECT_LT(grown, 32 * 1024) << with_spectra;
    }
}

TEST(PassMemory, OfSpectraDoesNotGrowFromHoursToWeeks)
{
    // 240 rows of 641 bins are 0.6 MB, whether they are a day or a month. Rows that lay about in double until the end,
    // one or two a span, would be 9 MB in the month; what else differs is the allocator's and each span's small change.
    const ScratchFolder folder;
    std::array<long, 2> grown{};
    for (const int days : {1, 31}) {
        const PassRequest request{.path = silent_wav(folder, 80, 86400 * days), .spectra_channels = {1}, .hash = false};
        grown[days == 1 ? 0 : 1] = growth_kb(request);
    }
    EXPECT_GE(grown[0], 0);
    EXPECT_LT(grown[1] - grown[0], 3 * 1024) << grown[0] << " kB, " << grown[1] << " kB";
}

TEST(PassMemory, DoesNotGrowOverAMonthOfText)
{
    // Text runs as one span, and a row a second is a row every other sample here: 2.6 million rows would take 207 MB.
    const ScratchFolder folder;
    const std::string path = folder.path("month.csv");
    {
        std::ofstream out(path, std::ios::binary);
        out << "z\n";
        std::string piece;
        for (const double x : noise(36000, 1)) piece += fmt::format("{:.4f}\n", x);
        for (int part = 0; part < 144; ++part) out << piece;
    }
    const PassRequest request{
        .path = path, .read = {.rate_hz = 2.0}, .lanes = {{1, Axis::z, Wf}}, .spectra_channels = {1}};
    const long grown = growth_kb(request);
    EXPECT_GE(grown, 0);
    EXPECT_LT(grown, 32 * 1024);
}

} // namespace
} // namespace becalm::evaluators
