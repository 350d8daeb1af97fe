#include "src/io/criteria_folders.h"

#include <cstdlib>
#include <filesystem>

namespace becalm::io {

Results<LoadedCriteria> load_all_criteria(const std::string& survey_path)
{
    const std::filesystem::path data(data_folder());
    const auto bibliography = read_sources((data / "sources.toml").string());
    if (!bibliography) return tl::unexpected(bibliography.error());
    LoadedCriteria loaded;
    loaded.folders.push_back((data / "criteria").string());
    const char* config = std::getenv("XDG_CONFIG_HOME");
    const char* home = std::getenv("HOME");
    if (config != nullptr && *config != '\0')
        loaded.folders.push_back((std::filesystem::path(config) / "becalm" / "criteria").string());
    else if (home != nullptr && *home != '\0')
        loaded.folders.push_back((std::filesystem::path(home) / ".config" / "becalm" / "criteria").string());
    if (!survey_path.empty())
        loaded.folders.push_back((std::filesystem::path(survey_path).parent_path() / "criteria").string());
    loaded.library = load_criteria(loaded.folders, *bibliography);
    return loaded;
}

} // namespace becalm::io
