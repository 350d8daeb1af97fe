#include "tests/faces/survival/jobs.h"

#include <algorithm>

#include <gtest/gtest.h>

namespace becalm::tests {

namespace fs = std::filesystem;

namespace {

const char* const nothing = "(no file)";

std::string replaced(std::string text, const std::string& folder)
{
    if (const auto at = text.find('@'); at != std::string::npos) text.replace(at, 1, folder);
    return text;
}

} // namespace

const std::vector<Job>& jobs()
{
    static const std::vector<Job> all{
        {.name = "AssessWithoutCache",
         .arguments = {"assess", "@/in/survey.toml", "--json", "@/out/a.json", "--csv", "@/out/a.csv"},
         .outputs = {"out/a.json", "out/a.csv"}},
        {.name = "AssessWithCache",
         .arguments = {"assess", "@/in/survey.toml", "--json", "@/out/a.json", "--csv", "@/out/a.csv"},
         .outputs = {"out/a.json", "out/a.csv"},
         .warm = true},
        {.name = "Report",
         .arguments = {"report", "@/in/survey.toml", "--html", "@/out/r.html", "--pdf", "@/out/r.pdf"},
         .outputs = {"out/r.html", "out/r.pdf"}},
        {.name = "LedgerOnly", .arguments = {"assess", "@/in/survey.toml", "--ledger-only"}, .fills_cache = true},
        {.name = "Merge", .arguments = {"merge", "@/in/survey.toml", "@/other"}, .fills_cache = true},
        {.name = "Spreadsheet",
         .arguments = {"tables", "@/in/survey.toml", "--xlsx", "@/out/t.xlsx", "--no-components"},
         .outputs = {"out/t.xlsx"},
         .warm = true,
         .stride = 97},
        {.name = "CsvFolder",
         .arguments = {"tables", "@/in/survey.toml", "--csv", "@/out", "--no-components"},
         .outputs = {"out/about.csv", "out/columns.csv", "out/verdicts.csv", "out/ledger.csv"},
         .warm = true,
         .removes_first = true,
         .stride = 5},
        {.name = "NpyFolder",
         .arguments = {"tables", "@/in/survey.toml", "--npy", "@/out"},
         .outputs = {"out/index.json", "out/0001-ch1-z-Wm.npy", "out/0002-ch1-z-Wm.npy"},
         .warm = true,
         .removes_first = true,
         .stride = 2},
        {.name = "Convert",
         .arguments = {"convert", "@/in/b.wav", "--uff", "@/out/b.uff"},
         .outputs = {"out/b.uff"},
         .is_new = true},
        {.name = "NewSurvey", .arguments = {"new", "@/in2"}, .outputs = {"in2/survey.toml"}, .is_new = true},
        {.name = "History",
         .arguments = {"history", "@/in/b.wav", "--as", "acceleration", "--csv", "@/out/h.csv", "--figure",
                       "@/out/h.svg"},
         .outputs = {"out/h.csv", "out/h.svg"}},
    };
    return all;
}

Stage::Stage(Job job) : job_(std::move(job))
{
    for (const char* folder : {"in", "out", "in2", "other"}) fs::create_directory(folder_.path(folder));
    for (const std::string& argument : job_.arguments) arguments_.push_back(replaced(argument, folder_.path()));
    if (job_.name == "Merge") {
        write_tiny_survey(folder_.path("other"), 3);
        EXPECT_EQ(tests::run({"assess", folder_.path("other/survey.toml"), "--ledger-only"}).code, 0);
    }
    set_inputs(2);
    if (!job_.is_new) {
        const Ending before = run_plainly();
        EXPECT_EQ(before.code, 0) << job_.name << before.err;
    }
    for (const std::string& name : job_.outputs) old_[name] = output(name);
    if (job_.warm) fs::copy(folder_.path("in/.becalm"), kept_.path("cache"), fs::copy_options::recursive);
    set_inputs(3);
    begin_ = listing_of(folder_.path());
    fs::remove_all(folder_.path("in/.becalm"));
    const Ending after = run_plainly();
    EXPECT_EQ(after.code, 0) << job_.name << after.err;
    for (const std::string& name : job_.outputs) {
        new_[name] = output(name);
        EXPECT_NE(new_[name], nothing) << job_.name;
        const bool says_what_it_is =
            name == "out/columns.csv" || name == "out/about.csv" || name == "out/0001-ch1-z-Wm.npy";
        EXPECT_TRUE(says_what_it_is || new_[name] != old_[name]) << name;
        EXPECT_TRUE(!job_.is_new || old_[name] == nothing) << name;
    }
}

void Stage::set_inputs(unsigned seed) const
{
    write_tiny_survey(folder_.path("in"), seed);
    for (const char* name : {"a.wav", "b.wav"}) {
        // Long ago, so that what the cache knows of a file can be relied on.
        fs::last_write_time(folder_.path(std::string("in/") + name),
                            fs::file_time_type::clock::now() - std::chrono::hours(10 * seed));
        fs::copy_file(folder_.path(std::string("in/") + name), folder_.path(std::string("in2/") + name),
                      fs::copy_options::overwrite_existing);
    }
}

std::string Stage::output(const std::string& name) const
{
    const std::string path = folder_.path(name);
    return fs::exists(path) ? content_of(path) : nothing;
}

void Stage::reset() const
{
    for (const char* folder : {"in", "out", "in2"})
        for (const fs::directory_entry& entry : fs::directory_iterator(folder_.path(folder))) {
            const std::string name = std::string(folder) + "/" + entry.path().filename().string();
            if (!begin_.files.contains(name)) fs::remove_all(entry.path());
        }
    for (const auto& [name, content] : begin_.files)
        if (!name.starts_with("in") || content_of(folder_.path(name)) != content) folder_.file(name, content);
    if (job_.warm) fs::copy(kept_.path("cache"), folder_.path("in/.becalm"), fs::copy_options::recursive);
}

Ending Stage::run(std::map<std::string, std::string> faults) const
{
    faults.try_emplace("FAULTS_IN", folder_.path());
    return tests::run(arguments_, {.faults = std::move(faults)});
}

std::string Stage::faults_of_files() const
{
    std::string faults;
    for (const std::string& name : job_.outputs) {
        const std::string now = output(name);
        const bool may_be_gone = job_.removes_first && now == nothing && name == job_.outputs.front();
        if (now != old_.at(name) && now != new_.at(name) && !may_be_gone)
            faults += name + " is neither the old nor the new one\n";
    }
    if (job_.removes_first && output(job_.outputs.front()) != nothing && !is_old() && !is_new())
        faults += job_.outputs.front() + " is there, and files are of two judgements\n";
    const Listing now = listing_of(folder_.path());
    for (const auto& [name, content] : now.files) {
        const bool is_output = name.starts_with("out/") && (job_.removes_first || old_.contains(name));
        const auto before = begin_.files.find(name);
        if (is_output || old_.contains(name)) continue;
        if (before == begin_.files.end())
            faults += name + " has come\n";
        else if (before->second != content)
            faults += name + " has changed\n";
    }
    for (const auto& [name, content] : begin_.files)
        if (!now.files.contains(name) && !(job_.removes_first && name == job_.outputs.front()))
            faults += name + " is gone\n";
    return faults;
}

bool Stage::is_old() const
{
    return std::ranges::all_of(job_.outputs, [&](const auto& name) { return output(name) == old_.at(name); });
}

bool Stage::is_new() const
{
    return std::ranges::all_of(job_.outputs, [&](const auto& name) { return output(name) == new_.at(name); });
}

} // namespace becalm::tests
