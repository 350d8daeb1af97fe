// What the tests of every recording format share: reading all of a file, the complaint about a broken one, and that
// whatever a file holds, reading it ends in values or in a Problem.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <functional>
#include <random>
#include <string>
#include <unistd.h>
#include <vector>

#include <gtest/gtest.h>

#include "src/io/recording_reader.h"

#include "tests/src/scratch_folder.h"

namespace becalm::tests {

using Values = std::vector<double>;

inline Result<Values> all_values(io::RecordingReader& reader, std::size_t block_frames = 1000)
{
    const auto channels = static_cast<std::size_t>(reader.info().channels);
    Values all;
    Values block(block_frames * channels);
    for (;;) {
        const auto got = reader.read(block);
        if (!got) return fail(got.error());
        if (*got == 0) return all;
        all.insert(all.end(), block.begin(), block.begin() + static_cast<std::ptrdiff_t>(*got * channels));
    }
}

struct WholeRecording {
    io::RecordingInfo info = {};
    Values values = {};

    Values channel(std::size_t index) const
    {
        Values one;
        for (std::size_t i = index; i < values.size(); i += static_cast<std::size_t>(info.channels))
            one.push_back(values[i]);
        return one;
    }
};

// Read twice, the second time from a third on, with a seek.
inline WholeRecording whole_recording(const std::string& path)
{
    auto reader = io::open_recording(path);
    if (!reader) {
        ADD_FAILURE() << to_text(reader.error());
        return {};
    }
    const auto values = all_values(**reader, 777);
    if (!values) {
        ADD_FAILURE() << to_text(values.error());
        return {};
    }
    WholeRecording whole{(*reader)->info(), *values};
    EXPECT_EQ(static_cast<std::int64_t>(values->size()), whole.info.frames * whole.info.channels);
    const std::int64_t third = whole.info.frames / 3;
    EXPECT_TRUE((*reader)->seek(third));
    const auto rest = all_values(**reader, 101);
    EXPECT_TRUE(rest);
    if (rest) {
        const Values expected(values->begin() + third * whole.info.channels, values->end());
        EXPECT_TRUE(rest->size() == expected.size() &&
                    std::memcmp(rest->data(), expected.data(), 8 * expected.size()) == 0);
    }
    EXPECT_FALSE((*reader)->seek(whole.info.frames + 1));
    EXPECT_FALSE((*reader)->seek(-1));
    return whole;
}

// The complaint that opening or reading to the end brings forth, as a user sees it, without the folder.
inline std::string complaint_about(const std::string& path)
{
    const auto told = [&](const Problem& problem) {
        std::string text = to_text(problem);
        const std::string folder = path.substr(0, path.rfind('/') + 1);
        for (auto at = text.find(folder); at != std::string::npos; at = text.find(folder))
            text.erase(at, folder.size());
        return text;
    };
    auto reader = io::open_recording(path);
    if (!reader) return told(reader.error());
    const auto values = all_values(**reader);
    return values ? "no complaint" : told(values.error());
}

// Everything a file holds, up to a bound; true where all of it could be read. A Problem must name the file.
inline bool everything_reads(const std::string& path, std::int64_t most_values = 1'000'000)
{
    const auto one = [&](const std::string& name) {
        auto reader = io::open_recording(name);
        if (!reader) {
            EXPECT_EQ(reader.error().file, path);
            EXPECT_FALSE(reader.error().what.empty());
            return false;
        }
        const io::RecordingInfo& info = (*reader)->info();
        EXPECT_GT(info.rate_hz, 0.0);
        EXPECT_GE(info.channels, 1);
        EXPECT_GE(info.frames, 1);
        Values block(static_cast<std::size_t>(info.channels) * 512);
        for (std::int64_t read = 0; read < most_values;) {
            const auto got = (*reader)->read(block);
            if (!got) {
                EXPECT_EQ(got.error().file, path);
                return false;
            }
            if (*got == 0) return true;
            read += static_cast<std::int64_t>(*got) * info.channels;
        }
        return true;
    };
    bool all = one(path);
    const auto parts = io::parts_of(path);
    if (!parts) return false;
    for (const io::RecordingPart& part : *parts) all = one(path + "#" + part.name) && all;
    return all;
}

// However short a copy of `whole` is, it is refused or, where `may_read` says so, holds less; `whole` itself reads.
inline void every_cut_is_noticed(const std::string& whole, const std::function<bool(std::size_t length)>& may_read,
                                 std::size_t stride = 1)
{
    const ScratchFolder folder;
    const std::string path = folder.file("whole", whole);
    EXPECT_TRUE(everything_reads(path));
    for (std::size_t length = whole.size() - 1; length > 0; length -= std::min(length, stride)) {
        ASSERT_EQ(::truncate(path.c_str(), static_cast<off_t>(length)), 0);
        EXPECT_TRUE(!everything_reads(path) || may_read(length)) << length << " of " << whole.size() << " bytes";
    }
}

// Some bits of `whole` turned over, as often as asked.
inline void any_bit_may_flip(const std::string& whole, int times, unsigned seed)
{
    const ScratchFolder folder;
    const std::string path = folder.file("damaged", whole);
    std::fstream file(path, std::ios::binary | std::ios::in | std::ios::out);
    const auto put = [&](std::size_t at, char byte) {
        file.seekp(static_cast<std::streamoff>(at));
        file.put(byte).flush();
    };
    std::mt19937 generator(seed);
    for (int i = 0; i < times; ++i) {
        std::vector<std::size_t> places(1 + generator() % 3);
        for (std::size_t& at : places) {
            at = generator() % whole.size();
            put(at, static_cast<char>(whole[at] ^ (1 << generator() % 8)));
        }
        everything_reads(path);
        for (const std::size_t at : places) put(at, whole[at]);
    }
}

} // namespace becalm::tests
