#include "ui/cli/cache_option.h"

#include <filesystem>

namespace becalm::cli {

void CacheOption::declare(Options app)
{
    app.flag("--no-cache", none_,
             "filter every recording again; neither use nor write the folder .becalm beside SURVEY");
}

std::string CacheOption::folder_for(const std::string& survey) const
{
    return none_ ? "" : (std::filesystem::path(survey).parent_path() / ".becalm").string();
}

std::function<void(const Problem&)> CacheOption::told_on(const Console& console)
{
    return [&console](Problem problem) {
        console.end_progress();
        problem.what = "nothing is kept for the next run: " + problem.what;
        problem.remedy += problem.remedy.empty() ? "give --no-cache" : ", or give --no-cache";
        console.complain(problem);
    };
}

} // namespace becalm::cli
