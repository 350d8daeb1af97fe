#include "src/io/criteria_folders.h"

#include <cstdlib>
#include <filesystem>

namespace becalm::io {

std::vector<std::string> criteria_folders(const std::string& survey_path)
{
    std::vector<std::string> folders{(std::filesystem::path(data_folder()) / "criteria").string()};
    const char* config = std::getenv("XDG_CONFIG_HOME");
    const char* home = std::getenv("HOME");
    if (config != nullptr && *config != '\0')
        folders.push_back((std::filesystem::path(config) / "becalm" / "criteria").string());
    else if (home != nullptr && *home != '\0')
        folders.push_back((std::filesystem::path(home) / ".config" / "becalm" / "criteria").string());
    if (!survey_path.empty())
        folders.push_back((std::filesystem::path(survey_path).parent_path() / "criteria").string());
    return folders;
}

Results<LoadedCriteria> load_all_criteria(const std::string& survey_path)
{
    const auto bibliography = read_sources((std::filesystem::path(data_folder()) / "sources.toml").string());
    if (!bibliography) return tl::unexpected(bibliography.error());
    LoadedCriteria loaded;
    loaded.folders = criteria_folders(survey_path);
    loaded.library = load_criteria(loaded.folders, *bibliography);
    return loaded;
}

} // namespace becalm::io
