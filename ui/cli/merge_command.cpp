#include <filesystem>

#include <fmt/format.h>

#include "evaluators/pass_cache.h"
#include "ui/cli/cache_option.h"
#include "ui/cli/command.h"

namespace becalm::cli {
namespace {

class MergeCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("merge", "Take over what other folders .becalm hold, such as those of shards that "
                                              "were filtered on other machines");
        app.text("SURVEY", survey_, "survey.toml", Need::required);
        app.texts("FOLDER", folders_, "a folder .becalm, or the one it lies in", Need::required);
        return app;
    }

    int run(const Console& console) override
    {
        namespace fs = std::filesystem;
        std::error_code unknown;
        if (!fs::is_regular_file(survey_, unknown))
            return give_up(console, {{.kind = ProblemKind::outside_world,
                                      .file = survey_,
                                      .what = "there is no such survey",
                                      .remedy = "name the survey.toml beside which the folder .becalm belongs"}});
        const std::string here = CacheOption().folder_for(survey_);
        store::Cache into(here, evaluators::engine_version());
        bool any = false;
        for (const std::string& folder : folders_) {
            const fs::path inside = fs::path(folder) / ".becalm";
            const std::string path = fs::is_directory(inside, unknown) ? inside.string() : folder;
            if (!fs::is_directory(path, unknown)) {
                console.complain({.kind = ProblemKind::outside_world,
                                  .file = path,
                                  .what = "there is no such folder",
                                  .remedy = "name a folder .becalm, or the one it lies in"});
                return unusable;
            }
            if (fs::equivalent(path, here, unknown)) {
                console.complain({.kind = ProblemKind::usage,
                                  .file = path,
                                  .what = "this is the folder of the survey itself",
                                  .remedy = "leave it out"});
                return bad_usage;
            }
            store::Cache from(path, evaluators::engine_version());
            if (const auto trouble = from.trouble()) return give_up(console, {*trouble});
            const evaluators::MergedPasses merged = evaluators::merge_passes(from, into);
            if (const auto trouble = into.trouble()) return give_up(console, {*trouble});
            console.print(fmt::format("{}: {} taken over, {} added to, {} known already\n", path, merged.taken,
                                      merged.added_to, merged.known));
            if (merged == evaluators::MergedPasses{})
                console.complain({.file = path,
                                  .what = "it holds nothing that could be taken over",
                                  .remedy = "check that it is the folder you meant"});
            if (merged.damaged > 0)
                console.complain({.file = path,
                                  .what = counted(merged.damaged, "entry that is damaged was left out",
                                                  "entries that are damaged were left out"),
                                  .remedy = "their recordings will be filtered again"});
            if (merged.of_other_engines > 0)
                console.complain({.file = path,
                                  .what = counted(merged.of_other_engines,
                                                  "entry of another version or instruction set was left out",
                                                  "entries of another version or instruction set were left out"),
                                  .remedy = "run the same program everywhere, and give all machines the "
                                            "BECALM_KERNEL of the least one (baseline, avx2, avx512)"});
            any = any || merged.taken + merged.added_to + merged.known > 0;
        }
        return any ? done : unusable;
    }

private:
    static std::string counted(int count, std::string_view one, std::string_view many)
    {
        return fmt::format("{} {}", count, count == 1 ? one : many);
    }

    std::string survey_;
    std::vector<std::string> folders_;
};

} // namespace

std::unique_ptr<Command> make_merge_command() { return std::make_unique<MergeCommand>(); }

} // namespace becalm::cli
