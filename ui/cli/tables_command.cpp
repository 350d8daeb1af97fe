#include <algorithm>
#include <filesystem>
#include <optional>
#include <system_error>

#include <fmt/format.h>

#include "evaluators/assess.h"
#include "evaluators/explain.h"
#include "evaluators/tables.h"
#include "src/io/ledger_npy.h"
#include "src/io/survey_file.h"
#include "src/io/table_csv.h"
#include "src/io/table_xlsx.h"
#include "ui/cli/cache_option.h"
#include "ui/cli/command.h"
#include "ui/report/dates.h"
#include "ui/report/unreadable.h"

namespace becalm::cli {
namespace {

class TablesCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("tables", "Write the judgement as long tables for spreadsheets and programs");
        app.text("SURVEY", survey_, "survey.toml", Need::required);
        app.output("--xlsx", xlsx_, "write a spreadsheet, a sheet a table");
        app.output("--csv", csv_, "write a CSV file a table into this folder");
        app.output("--npy", npy_, "write the seconds of each channel as NPY arrays, with index.json, into this folder");
        app.texts("--criterion", criteria_,
                  "judge by this one instead of the survey's own [[judge]] (repeat for more)");
        app.flag("--no-ledger", no_ledger_, "leave the table of seconds out of the spreadsheet and the CSV files");
        app.flag("--no-components", no_components_, "do not read the recordings once more for the table components");
        app.text("--date", date_, "YYYY-MM-DD (default: that of the latest recording, where one states its start)");
        cache_.declare(app);
        app.jobs(jobs_);
        return app;
    }

    int run(const Console& console) override
    {
        if (const auto problem = problem_of_the_call()) return give_up(console, {*problem});
        const auto survey = io::read_survey(survey_);
        if (!survey) return give_up(console, survey.error());
        auto criteria = io::load_all_criteria(survey_);
        if (!criteria) return give_up(console, criteria.error());
        console.complain(criteria->library.problems);
        const evaluators::AssessOptions options{.criteria = criteria_,
                                                .jobs = jobs_,
                                                .spectra = wants_tables(),
                                                .cache_folder = cache_.folder_for(survey_),
                                                .cache_trouble = CacheOption::told_on(console),
                                                .progress = console.progress_for("judging"),
                                                .stop = console.stop};
        const auto judged = evaluators::judged(*survey, criteria->library, options);
        console.end_progress();
        if (!judged) return give_up(console, judged.error());
        std::optional<ExplanationReport> explanation;
        if (wants_tables() && !no_components_) {
            auto explained = evaluators::explained(*survey, *judged, {.assess = options});
            if (!explained) return give_up(console, explained.error());
            explanation = *std::move(explained);
        }
        const io::LedgerIndex index = evaluators::ledgers_of(*survey, *judged);
        const std::string date = date_.empty() ? report::latest_date(*survey) : date_;
        const TableBook book = evaluators::tables_of({.survey = *survey,
                                                      .judged = *judged,
                                                      .explanation = explanation ? &*explanation : nullptr,
                                                      .ledger = !no_ledger_,
                                                      .program = "becalm " BECALM_VERSION,
                                                      .date = date});
        if (const auto problem = would_replace(*survey, book, index)) return give_up(console, {*problem});
        if (const auto written = write(console, book, index, date); !written)
            return give_up(console, {written.error()});

        const Assessment& assessment = judged->assessment;
        const auto unreadable = report::unreadable_recordings(survey_, *survey, assessment.findings);
        console.complain(unreadable);
        if (!unreadable.empty())
            console.print("a recording could not be read; the table findings says which and why\n");
        const bool any_judged = std::ranges::any_of(assessment.verdicts, &Verdict::judged);
        if (!any_judged) console.print("nothing could be judged; the table verdicts says why\n");
        return !unreadable.empty() || !any_judged ? unusable : done;
    }

private:
    bool wants_tables() const { return !xlsx_.empty() || !csv_.empty(); }

    static Problem usage(std::string what, std::string remedy)
    {
        return {.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)};
    }

    std::optional<Problem> problem_of_the_call() const
    {
        if (xlsx_.empty() && csv_.empty() && npy_.empty())
            return usage("tables needs to be told what to write", "give --xlsx FILE, --csv FOLDER or --npy FOLDER");
        if (xlsx_ == "-" || csv_ == "-" || npy_ == "-")
            return usage("tables are several files, or no text, and do not go to the output",
                         "name a file for --xlsx, a folder for --csv and --npy");
        if (!date_.empty() && !report::is_date(date_))
            return usage(fmt::format("--date {}: this is no date", date_), "write it as 2026-03-14");
        std::error_code none;
        for (const std::string& folder : {csv_, npy_})
            if (!folder.empty() && std::filesystem::exists(folder, none) &&
                !std::filesystem::is_directory(folder, none))
                return usage(fmt::format("{} is no folder", folder), "name a folder for --csv and --npy");
        return {};
    }

    std::vector<std::string> files_to_write(const TableBook& book, const io::LedgerIndex& index) const
    {
        std::vector<std::string> files;
        const auto add = [&](const std::string& folder, const std::string& name) {
            files.push_back((std::filesystem::path(folder) / name).string());
        };
        if (!xlsx_.empty()) files.push_back(xlsx_);
        if (!csv_.empty())
            for (const std::string& name : io::csv_names_of(book)) add(csv_, name);
        if (!npy_.empty()) {
            add(npy_, "index.json");
            for (const LedgerLane& lane : index.lanes) add(npy_, io::npy_name_of(lane));
        }
        return files;
    }

    // A recording can be called ledger.csv too.
    std::optional<Problem> would_replace(const Survey& survey, const TableBook& book,
                                         const io::LedgerIndex& index) const
    {
        std::vector<std::filesystem::path> needed{survey_};
        const std::filesystem::path beside = std::filesystem::path(survey_).parent_path();
        for (const Recording& recording : survey.recordings) needed.push_back(beside / recording.file);
        for (const Plan& plan : survey.plans) needed.push_back(beside / plan.file);
        std::error_code none;
        for (const std::string& file : files_to_write(book, index)) {
            if (!std::filesystem::exists(file, none)) continue;
            for (const std::filesystem::path& one : needed)
                if (std::filesystem::equivalent(file, one, none))
                    return usage(fmt::format("{} would replace a file of the survey", file),
                                 "give the tables another place");
        }
        return {};
    }

    Result<void> write(const Console& console, const TableBook& book, const io::LedgerIndex& index,
                       const std::string& date) const
    {
        if (!xlsx_.empty()) {
            const auto written = io::write_xlsx(book, xlsx_, {.date = date}, console.stop);
            if (!written) return tl::unexpected(written.error());
            console.print(fmt::format("{} written\n", xlsx_));
            for (const std::string& name : written->left_out) {
                const auto table = std::ranges::find(book.tables, name, &becalm::Table::name);
                console.print(fmt::format("  not in it: {}, whose {} rows no sheet holds; --csv FOLDER{} writes it\n",
                                          name, table->rows, name == "ledger" ? " or --npy FOLDER" : ""));
            }
            if (written->cut_texts > 0)
                console.print(fmt::format("  {} cut, because a cell holds 32,767 characters; --csv FOLDER writes all\n",
                                          counted(static_cast<std::ptrdiff_t>(written->cut_texts), "text")));
        }
        if (!csv_.empty()) {
            if (auto written = io::write_csv_folder(book, csv_, console.stop); !written) return written;
            console.print(fmt::format("{}: {} written\n", csv_, counted(std::ssize(io::csv_names_of(book)), "file")));
        }
        if (!npy_.empty()) {
            if (auto written = io::write_npy_folder(index, npy_, console.stop); !written) return written;
            console.print(
                fmt::format("{}: {} and index.json written\n", npy_, counted(std::ssize(index.lanes), "array")));
        }
        return {};
    }

    std::string survey_, xlsx_, csv_, npy_, date_;
    std::vector<std::string> criteria_;
    bool no_ledger_ = false, no_components_ = false;
    CacheOption cache_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_tables_command() { return std::make_unique<TablesCommand>(); }

} // namespace becalm::cli
