#include "ui/cli/outputs.h"

#include <algorithm>
#include <filesystem>
#include <iterator>

#include <fmt/format.h>

#include "src/io/recording_path.h"
#include "src/io/recording_reader.h"
#include "src/io/survey_file.h"

namespace becalm::cli {
namespace {

namespace fs = std::filesystem;

Problem usage(std::string what, std::string remedy)
{
    return {.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)};
}

fs::path resolved(const std::string& path)
{
    std::error_code unknown;
    const fs::path whole = fs::weakly_canonical(fs::absolute(path, unknown), unknown);
    return unknown ? fs::path(path).lexically_normal() : whole;
}

void add_recording(const std::string& path, std::vector<std::string>& files)
{
    files.push_back(io::recording_path(path).file);
    const auto several = io::files_of_recording(path);
    if (!several) return;
    for (const auto& file : *several) files.push_back(file.path);
}

std::vector<std::string> all_files_of(const std::string& input)
{
    std::vector<std::string> files{input};
    std::error_code unknown;
    if (!fs::is_regular_file(input, unknown)) {
        if (const std::string file = io::recording_path(input).file; file != input) add_recording(input, files);
        return files;
    }
    if (fs::path(input).extension() != ".toml") return files;
    const auto survey = io::read_survey(input);
    if (!survey) {
        add_recording(input, files); // a description of a recording, perhaps
        return files;
    }
    const fs::path folder = fs::path(input).parent_path();
    for (const Recording& recording : survey->recordings) add_recording((folder / recording.file).string(), files);
    for (const Plan& plan : survey->plans) files.push_back((folder / plan.file).string());
    return files;
}

} // namespace

std::optional<Problem> faulty_outputs(std::span<const Output> outputs, std::span<const std::string> inputs)
{
    for (std::size_t i = 0; i < outputs.size(); ++i) {
        if (outputs[i].path == "-") continue;
        for (std::size_t j = 0; j < i; ++j)
            if (outputs[j].path != "-" && resolved(outputs[i].path) == resolved(outputs[j].path))
                return usage(
                    fmt::format("{} and {} both go to {}", outputs[j].option, outputs[i].option, outputs[j].path),
                    "give one of them another file");
    }
    std::optional<std::vector<std::string>>
        read; // a large survey takes its time, and is asked about only where it must
    for (const Output& output : outputs) {
        std::error_code unknown;
        if (output.path == "-" || !fs::is_regular_file(output.path, unknown)) continue; // nothing there to be lost
        if (!read) {
            read.emplace();
            for (const std::string& input : inputs) std::ranges::move(all_files_of(input), std::back_inserter(*read));
        }
        for (const std::string& file : *read)
            if (fs::equivalent(output.path, file, unknown))
                return usage(fmt::format("{} {} would replace a file that is read", output.option, output.path),
                             "give it another name");
    }
    return {};
}

} // namespace becalm::cli
