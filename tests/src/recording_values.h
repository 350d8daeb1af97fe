// What the tests of every recording format ask.
#pragma once

#include <vector>

#include "src/io/recording_reader.h"

namespace becalm::tests {

inline Result<std::vector<double>> read_all(io::RecordingReader& reader, std::size_t block_frames = 1000)
{
    const auto channels = static_cast<std::size_t>(reader.info().channels);
    std::vector<double> all;
    std::vector<double> block(block_frames * channels);
    for (;;) {
        const auto got = reader.read(block);
        if (!got) return fail(got.error());
        if (*got == 0) return all;
        all.insert(all.end(), block.begin(), block.begin() + static_cast<std::ptrdiff_t>(*got * channels));
    }
}

// What a user sees of opening and reading a recording: its complaint, or "no complaint".
inline std::string complaint(const std::string& path, const io::ReadOptions& options = {})
{
    auto reader = io::open_recording(path, options);
    if (!reader) return to_text(reader.error());
    const auto values = read_all(**reader);
    return values ? "no complaint" : to_text(values.error());
}

// Reads all that a file holds, whatever it is; for files that are damaged. True where nothing was amiss.
inline bool reads_everything(const std::string& path)
{
    bool sound = true;
    const auto read = [&](const std::string& name) {
        auto reader = io::open_recording(name);
        sound = reader && sound;
        if (!reader) return;
        const io::RecordingInfo& info = (*reader)->info();
        BECALM_ASSERT(info.rate_hz > 0.0 && info.channels >= 1 && info.frames >= 1);
        std::vector<double> block(static_cast<std::size_t>(info.channels) * 512);
        std::int64_t frames = 0;
        while (frames < 1'000'000) {
            const auto got = (*reader)->read(block);
            sound = got && sound;
            if (!got || *got == 0) break;
            frames += static_cast<std::int64_t>(*got);
        }
        BECALM_ASSERT(frames <= info.frames);
        sound = (*reader)->seek(info.frames / 2) && (*reader)->read(block) && sound;
    };
    const auto parts = io::parts_of(path);
    if (!parts) return false;
    if (parts->empty()) read(path);
    for (const io::RecordingPart& part : *parts) read(path + "#" + part.name);
    return sound;
}

} // namespace becalm::tests
