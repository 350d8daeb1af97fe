// What the fuzz targets of recording readers share: arbitrary bytes as a file, and everything read of it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <unistd.h>
#include <vector>

#include <fmt/format.h>
#include <sys/mman.h>

#include "src/io/recording_reader.h"

namespace becalm::fuzz {

// Opens the recording, or each recording where the file holds several, and reads at most `most_values` of each, then
// again from the middle. Problems are what a reader should answer; anything else is for the sanitizers to find.
inline void read_everything(const std::string& path, std::int64_t most_values = 200'000)
{
    const auto read_one = [&](const std::string& name) {
        auto reader = io::open_recording(name);
        if (!reader) return;
        const io::RecordingInfo& info = (*reader)->info();
        if (!(info.rate_hz > 0.0) || info.channels < 1 || info.frames < 1) std::abort();
        std::vector<double> block(static_cast<std::size_t>(info.channels) * 512);
        const auto read_on = [&] {
            for (std::int64_t values = 0; values < most_values;) {
                const auto got = (*reader)->read(block);
                if (!got || *got == 0) return;
                values += static_cast<std::int64_t>(*got) * info.channels;
            }
        };
        read_on();
        if ((*reader)->seek(info.frames / 2)) read_on();
    };
    read_one(path);
    const auto parts = io::parts_of(path);
    if (!parts) return;
    constexpr std::size_t most_parts = 64;
    for (std::size_t i = 0; i < parts->size() && i < most_parts; ++i) read_one(path + "#" + (*parts)[i].name);
}

// One file in memory, written anew each time; nothing of the disk is touched.
inline std::string file_of(const std::uint8_t* data, std::size_t size)
{
    static const int descriptor = ::memfd_create("becalm-fuzz", 0);
    if (descriptor < 0 || ::ftruncate(descriptor, 0) != 0) std::abort();
    for (std::size_t written = 0; written < size;) {
        const ssize_t done = ::pwrite(descriptor, data + written, size - written, static_cast<off_t>(written));
        if (done <= 0) std::abort();
        written += static_cast<std::size_t>(done);
    }
    return fmt::format("/proc/self/fd/{}", descriptor);
}

} // namespace becalm::fuzz
