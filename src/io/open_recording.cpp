#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>

#include <fmt/format.h>

#include "src/io/recording_reader.h"
#include "src/io/regular_file.h"

namespace becalm::io {

namespace {

Problem unusable(const std::string& path, std::string what, std::string remedy)
{
    Problem problem;
    problem.file = path;
    problem.what = std::move(what);
    problem.remedy = std::move(remedy);
    return problem;
}

std::string as_hex(std::string_view bytes)
{
    std::string text;
    for (const char byte : bytes)
        text += fmt::format("{}{:02x}", text.empty() ? "" : " ", static_cast<unsigned char>(byte));
    return text;
}

} // namespace

Result<std::unique_ptr<RecordingReader>> open_recording(const std::string& path, const ReadOptions& options)
{
    std::array<char, 16> head{};
    std::size_t head_size = 0;
    {
        auto opened = open_regular_file(path);
        if (!opened) return fail(opened.error());
        if (opened->size == 0)
            return fail(unusable(path, "the file is empty (0 bytes)", "copy it again from the recorder"));
        const auto got = read_bytes(opened->handle, path, head);
        if (!got) return fail(got.error());
        head_size = *got;
    }

    auto audio = open_audio(path);
    if (!audio || *audio) return audio;
    auto text = open_text(path, options);
    if (!text || *text) return text;

    const std::string_view bytes(head.data(), head_size);
    if (bytes.substr(0, 2) == "\xff\xfe" || bytes.substr(0, 2) == "\xfe\xff")
        return fail(unusable(path, "this is text in UTF-16, which is not read", "save it as plain text or UTF-8"));
    return fail(unusable(path, fmt::format("the format is not known (the first bytes are {})", as_hex(bytes)),
                         "WAV, RF64, W64, FLAC and delimited text are read"));
}

bool looks_like_a_recording(const std::string& path)
{
    constexpr std::array<std::string_view, 10> endings{".wav", ".wave", ".rf64", ".w64", ".flac",
                                                       ".csv", ".txt",  ".tsv",  ".asc", ".dat"};
    const auto slash = path.rfind('/');
    const auto begin = slash == std::string::npos ? 0 : slash + 1;
    const auto dot = path.rfind('.');
    if (dot == std::string::npos || dot <= begin) return false; // ".csv" alone is a hidden file, not an ending
    std::string ending = path.substr(dot);
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return std::find(endings.begin(), endings.end(), ending) != endings.end();
}

} // namespace becalm::io
