// The folder that a cache keeps beside a survey, as tests look into it.
#pragma once

#include <chrono>
#include <filesystem>
#include <string>
#include <vector>

namespace becalm::tests {

inline std::vector<std::filesystem::path> entries_in(const std::string& folder)
{
    std::vector<std::filesystem::path> entries;
    if (std::filesystem::is_directory(folder))
        for (const auto& file : std::filesystem::directory_iterator(folder))
            if (file.path().extension() == ".entry") entries.push_back(file.path());
    return entries;
}

// As if the file had been written long ago.
inline void settle(const std::string& path, std::chrono::seconds age = std::chrono::hours(1))
{
    std::filesystem::last_write_time(path, std::filesystem::file_time_type::clock::now() - age);
}

} // namespace becalm::tests
