#include "src/io/recording_path.h"

#include <filesystem>

namespace becalm::io {

RecordingPath recording_path(const std::string& path)
{
    const auto exists = [](const std::string& name) {
        std::error_code error;
        return std::filesystem::exists(name, error);
    };
    auto at = path.find('#');
    if (at == std::string::npos || exists(path)) return {.file = path};
    for (; at != std::string::npos; at = path.find('#', at + 1)) {
        std::string file = path.substr(0, at);
        if (exists(file)) return {.file = std::move(file), .part = path.substr(at + 1)};
    }
    return {.file = path};
}

} // namespace becalm::io
