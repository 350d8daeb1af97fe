// libFuzzer entry for descriptions of recordings: whatever the bytes, reading ends in values or a Problem.
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <string>
#include <unistd.h>
#include <vector>

#include "src/io/recording_reader.h"

namespace {

constexpr std::int64_t most_frames = 100'000;

void read_one(const std::string& path)
{
    auto reader = becalm::io::open_recording(path);
    if (!reader) return;
    std::vector<double> block(static_cast<std::size_t>((*reader)->info().channels) * 1024);
    for (std::int64_t frames = 0; frames < most_frames;) {
        const auto got = (*reader)->read(block);
        if (!got || *got == 0) break;
        frames += static_cast<std::int64_t>(*got);
    }
    if ((*reader)->seek((*reader)->info().frames / 2)) static_cast<void>((*reader)->read(block));
}

void read_everything(const std::string& path)
{
    const auto parts = becalm::io::parts_of(path);
    if (!parts) return;
    if (parts->empty()) read_one(path);
    for (std::size_t i = 0; i < parts->size() && i < 64; ++i) read_one(path + "#" + (*parts)[i].name);
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    static const std::string path =
        (std::filesystem::temp_directory_path() / ("becalm-fuzz-" + std::to_string(::getpid()) + ".toml")).string();
    std::filesystem::remove(path);
    std::ofstream(path, std::ios::binary)
        .write(reinterpret_cast<const char*>(data), static_cast<std::streamsize>(size));
    read_everything(path);
    return 0;
}
