// The project as it stands, held against the rules of house_rules.h.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "tests/architecture/house_rules.h"
#include "tests/architecture/source_text.h"

using namespace becalm::architecture;
namespace fs = std::filesystem;

namespace {

const fs::path project = BECALM_PROJECT;

std::string content_of(const fs::path& path)
{
    std::ifstream stream(path, std::ios::binary);
    EXPECT_TRUE(stream) << path;
    return {std::istreambuf_iterator<char>(stream), {}};
}

// Everything that is no build folder, no version control and no survey a demo has written.
bool is_looked_at(const fs::path& folder)
{
    const std::string name = folder.filename().string();
    return !name.starts_with(".") && !name.starts_with("build") && name != "demo-survey";
}

std::map<std::string, std::string> files_with(const std::set<std::string>& extensions,
                                              const std::set<std::string>& names)
{
    std::map<std::string, std::string> result; // path relative to the project -> content
    for (auto entry = fs::recursive_directory_iterator(project); entry != fs::recursive_directory_iterator(); ++entry) {
        if (entry->is_directory() && !is_looked_at(entry->path())) entry.disable_recursion_pending();
        if (!entry->is_regular_file()) continue;
        const fs::path& path = entry->path();
        if (extensions.contains(path.extension().string()) || names.contains(path.filename().string()))
            result[path.lexically_relative(project).generic_string()] = content_of(path);
    }
    return result;
}

const std::map<std::string, std::string>& sources()
{
    static const auto result = files_with({".h", ".hpp", ".hh", ".hxx", ".cpp", ".cc", ".cxx", ".c"}, {});
    return result;
}

bool is_product(const std::string& path) { return room_of(path) != "tests"; }

void expect_none(const std::vector<Violation>& violations)
{
    for (const Violation& violation : violations)
        ADD_FAILURE() << violation.file << ":" << violation.line << ": " << violation.what;
}

} // namespace

TEST(house, there_is_something_to_look_at)
{
    for (const std::string room : {"src", "filters", "evaluators", "ui", "tests"})
        EXPECT_TRUE(std::any_of(sources().begin(), sources().end(), [&](const auto& source) {
            return room_of(source.first) == room;
        })) << room;
}

TEST(house, every_source_lies_in_its_room)
{
    for (const auto& [path, text] : sources()) expect_none(place_violations(path));
}

TEST(house, includes_run_one_way)
{
    for (const auto& [path, text] : sources()) expect_none(include_violations(path, text));
}

// What a pass is made of must lie where the fingerprint of the engine looks (evaluators/CMakeLists.txt), or the cache
// would give the numbers of another engine.
TEST(house, a_pass_is_made_of_nothing_that_its_fingerprint_leaves_out)
{
    for (const auto& [path, text] : sources()) {
        if (!path.starts_with("evaluators/pass")) continue;
        for (const Include& include : includes_of(text))
            if (include.quoted) {
                EXPECT_TRUE(room_of(include.target) == "src" || room_of(include.target) == "filters" ||
                            include.target.starts_with("evaluators/pass"))
                    << path << ":" << include.line << ": " << include.target
                    << "; move it to filters, or call it evaluators/pass_...";
            }
    }
}

TEST(house, headers_are_guarded_and_say_what_they_are_for)
{
    for (const auto& [path, text] : sources())
        if (path.ends_with(".h")) expect_none(header_violations(path, text));
}

// So every header with a source of its own is compiled alone (CMakeLists.txt beside this sees to the others).
TEST(house, a_source_includes_its_own_header_before_anything_else)
{
    for (const auto& [path, text] : sources()) {
        if (!path.ends_with(".cpp")) continue;
        const std::string header = path.substr(0, path.size() - 4) + ".h";
        if (!sources().contains(header)) continue;
        const auto includes = includes_of(text);
        ASSERT_FALSE(includes.empty()) << path;
        EXPECT_EQ(includes.front().target, header) << path << ":" << includes.front().line;
    }
}

TEST(house, included_files_of_the_project_exist)
{
    for (const auto& [path, text] : sources())
        for (const Include& include : includes_of(text))
            if (include.quoted) {
                EXPECT_TRUE(std::filesystem::is_regular_file(std::filesystem::path(BECALM_PROJECT) / include.target))
                    << path << ":" << include.line << ": " << include.target;
            }
}

// A source that no CMakeLists.txt names is dead, or a test that never runs.
TEST(house, every_source_is_built)
{
    const auto lists = files_with({}, {"CMakeLists.txt"});
    for (const auto& [path, text] : sources()) {
        if (!path.ends_with(".cpp")) continue;
        const bool named = std::any_of(lists.begin(), lists.end(), [&, &source = path](const auto& list) {
            const std::string folder =
                list.first.substr(0, list.first.size() - std::string_view("CMakeLists.txt").size());
            if (!source.starts_with(folder)) return false;
            const std::string name = source.substr(folder.size());
            for (auto at = list.second.find(name); at != std::string::npos; at = list.second.find(name, at + 1)) {
                const std::string_view ends = " \t\n()\"";
                const bool starts = at == 0 || ends.find(list.second[at - 1]) != std::string_view::npos;
                const auto after = at + name.size();
                if (starts && (after == list.second.size() || ends.find(list.second[after]) != std::string_view::npos))
                    return true;
            }
            return false;
        });
        EXPECT_TRUE(named) << path << " is named in no CMakeLists.txt";
    }
}

TEST(house, no_limit_of_a_criterion_stands_in_code)
{
    std::vector<double> limits;
    for (const auto& file : fs::recursive_directory_iterator(project / "data" / "criteria"))
        if (file.path().extension() == ".toml") {
            const auto found = limits_in_criterion(content_of(file.path()));
            limits.insert(limits.end(), found.begin(), found.end());
        }
    // ISO 6954:2000, Table 1 alone has six limits; fewer found means that the keys have changed and this test looks
    // past them.
    ASSERT_GE(limits.size(), 6U);
    for (const auto& [path, text] : sources())
        if (is_product(path) && !path.starts_with("ui/demo/")) expect_none(limit_violations(path, text, limits));
}
