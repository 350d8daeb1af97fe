#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>

#include <fmt/format.h>

#include "src/io/recording_path.h"
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

struct Format {
    Result<std::unique_ptr<RecordingReader>> (*open)(const std::string& path, const ReadOptions& options);
    // Of a format whose files can hold several recordings; empty where the content is not of this format.
    Result<std::vector<RecordingPart>> (*parts)(const std::string& path) = nullptr;
};

// In the order in which they are asked: text last, since it is told by its looks alone.
constexpr std::array formats{
    Format{&open_audio},
    Format{&open_uff, &parts_of_uff},
    Format{&open_miniseed, &parts_of_miniseed},
    Format{&open_mat, &parts_of_mat},
    Format{&open_tdms, &parts_of_tdms},
    Format{&open_sac},
    Format{&open_description},
    Format{&open_text},
};

// At most so many parts are named in a message.
constexpr std::size_t parts_told = 12;

std::string list_of(std::span<const RecordingPart> parts)
{
    std::string list;
    for (std::size_t i = 0; i < std::min(parts.size(), parts_told); ++i)
        list += fmt::format("{}{} ({})", list.empty() ? "" : ", ", parts[i].name, parts[i].says);
    if (parts.size() > parts_told) list += fmt::format(" and {} more", parts.size() - parts_told);
    return list;
}

} // namespace

std::string_view one_of(const RecordingInfo& info) { return info.step < 1.0 ? "full scale" : "one count"; }

Result<std::size_t> chosen_part(const std::string& path, std::span<const RecordingPart> parts,
                                const std::string& wanted)
{
    if (parts.empty()) return fail(unusable(path, "it holds no recording", "export it again"));
    if (wanted.empty()) {
        if (parts.size() == 1) return std::size_t{0};
        return fail(unusable(path, fmt::format("it holds {} recordings: {}", parts.size(), list_of(parts)),
                             fmt::format("name one: {}#{}", path, parts.front().name)));
    }
    const auto found = std::ranges::find(parts, wanted, &RecordingPart::name);
    if (found == parts.end())
        return fail(unusable(path, fmt::format("it holds no recording \"{}\", but {}", wanted, list_of(parts)),
                             fmt::format("name one that is there: {}#{}", path, parts.front().name)));
    return static_cast<std::size_t>(found - parts.begin());
}

Result<std::unique_ptr<RecordingReader>> open_recording(const std::string& path, const ReadOptions& options)
{
    if (options.samples) return open_memory(path, options);
    const RecordingPath named = recording_path(path);
    ReadOptions wanted = options;
    if (!named.part.empty()) wanted.part = named.part;

    std::array<char, 16> head{};
    std::size_t head_size = 0;
    {
        auto opened = open_regular_file(named.file);
        if (!opened) return fail(opened.error());
        if (opened->size == 0)
            return fail(unusable(named.file, "the file is empty (0 bytes)", "copy it again from the recorder"));
        const auto got = read_bytes(opened->handle, named.file, head);
        if (!got) return fail(got.error());
        head_size = *got;
    }

    for (const Format& format : formats) {
        auto reader = format.open(named.file, wanted);
        if (!reader) return reader;
        if (*reader == nullptr) continue;
        if (options.resample_hz && !(*reader)->info().format.starts_with("delimited text"))
            return fail(unusable(
                named.file,
                fmt::format("resample_hz is for text with irregular times, and this is {}", (*reader)->info().format),
                "take resample_hz out"));
        return reader;
    }

    const std::string_view bytes(head.data(), head_size);
    return fail(
        unusable(named.file, fmt::format("the format is not known (the first bytes are {})", as_hex(bytes)),
                 "WAV, RF64, BW64, W64, AIFF, CAF, FLAC, UFF, miniSEED, SAC, MATLAB files, TDMS, delimited text and "
                 "descriptions of other files are read"));
}

Result<std::vector<RecordingPart>> parts_of(const std::string& path)
{
    for (const Format& format : formats) {
        if (format.parts == nullptr) continue;
        auto parts = format.parts(path);
        if (!parts || !parts->empty()) return parts;
    }
    return std::vector<RecordingPart>{};
}

bool looks_like_a_recording(const std::string& path)
{
    constexpr std::array<std::string_view, 24> endings{
        ".wav", ".bw64", ".aif", ".aiff", ".aifc", ".caf", ".wave", ".rf64", ".w64",   ".flac", ".mat",  ".tdms",
        ".csv", ".txt",  ".tsv", ".asc",  ".dat",  ".uff", ".unv",  ".ufb",  ".mseed", ".msd",  ".seed", ".sac"};
    constexpr std::string_view description = ".recording.toml";
    const auto slash = path.rfind('/');
    const auto begin = slash == std::string::npos ? 0 : slash + 1;
    const auto dot = path.rfind('.');
    if (dot == std::string::npos || dot <= begin) return false; // ".csv" alone is a hidden file, not an ending
    std::string ending = path.substr(dot);
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    if (path.size() - begin > description.size() && path.ends_with(description)) return true;
    return std::find(endings.begin(), endings.end(), ending) != endings.end();
}

} // namespace becalm::io
