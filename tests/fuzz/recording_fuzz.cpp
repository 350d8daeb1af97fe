#include "tests/fuzz/recording_fuzz.h"

#include <cstdlib>
#include <unistd.h>
#include <vector>

#include <fmt/format.h>
#include <sys/mman.h>

#include "src/io/recording_reader.h"

namespace becalm::fuzz {
namespace {

// What a Problem must always say, whatever the bytes.
void demand_words(const Problem& problem)
{
    if (problem.what.empty() || problem.remedy.empty()) std::abort();
}

void read_one(const std::string& path)
{
    auto opened = io::open_recording(path);
    if (!opened) return demand_words(opened.error());
    io::RecordingReader& reader = **opened;
    const io::RecordingInfo info = reader.info();
    if (info.channels < 1 || info.frames < 1 || !(info.rate_hz > 0.0)) std::abort();
    if (!info.names.empty() && info.names.size() != static_cast<std::size_t>(info.channels)) std::abort();
    if (!info.facts.empty() && info.facts.size() != static_cast<std::size_t>(info.channels)) std::abort();

    constexpr std::int64_t most = 1'000'000;
    std::vector<double> block(static_cast<std::size_t>(info.channels) * 997);
    std::int64_t frames = 0;
    while (frames * info.channels < most) {
        const auto got = reader.read(block);
        if (!got) {
            demand_words(got.error());
            break;
        }
        if (*got == 0) {
            if (frames != info.frames) std::abort(); // it ends where it said, or says why not
            break;
        }
        frames += static_cast<std::int64_t>(*got);
        if (frames > info.frames) std::abort();
    }
    if (const auto moved = reader.seek(info.frames / 2); !moved) return demand_words(moved.error());
    if (const auto got = reader.read(block); !got) demand_words(got.error());
}

} // namespace

const std::string& file_of(const std::uint8_t* data, std::size_t size)
{
    static const int descriptor = ::memfd_create("becalm-fuzz", 0);
    static const std::string path = fmt::format("/proc/self/fd/{}", descriptor);
    if (descriptor < 0 || ::ftruncate(descriptor, 0) != 0) std::abort();
    for (std::size_t at = 0; at < size;) {
        const ssize_t put = ::pwrite(descriptor, data + at, size - at, static_cast<off_t>(at));
        if (put <= 0) std::abort();
        at += static_cast<std::size_t>(put);
    }
    return path;
}

void read_everything(const std::string& path)
{
    const auto parts = io::parts_of(path);
    if (!parts) demand_words(parts.error());
    read_one(path);
    if (!parts) return;
    constexpr std::size_t most_parts = 8;
    for (std::size_t i = 0; i < std::min(parts->size(), most_parts); ++i) read_one(path + "#" + (*parts)[i].name);
}

} // namespace becalm::fuzz
