#include <algorithm>
#include <charconv>
#include <ctime>
#include <optional>

#include <fmt/chrono.h>
#include <fmt/format.h>

#include "evaluators/assess.h"
#include "src/io/json_out.h"
#include "src/io/survey_file.h"
#include "ui/cli/cache_option.h"
#include "ui/cli/command.h"
#include "ui/cli/survey_watch.h"
#include "ui/cli/verdict_text.h"
#include "ui/report/unreadable.h"
#include "ui/report/verdict_order.h"

namespace becalm::cli {
namespace {

// Said where the matter is not settled: so far from certain either way.
std::string sure_text(const Verdict& verdict)
{
    constexpr double settled = 0.025; // not a limit: beyond k = 2 on one side
    if (!verdict.uncertainty) return {};
    const auto& exceeds = verdict.uncertainty->probability_exceeded;
    const auto& holds = verdict.uncertainty->probability_of_band;
    if (exceeds && *exceeds > settled && *exceeds < 1.0 - settled)
        return fmt::format(", exceeds with a probability of {:.0f} %", 100.0 * *exceeds);
    if (holds && *holds < 1.0 - settled) return fmt::format(", {:.0f} % sure", 100.0 * *holds);
    return {};
}

class AssessCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("assess", "Judge a survey");
        app.text("SURVEY", survey_, "survey.toml", Need::required);
        app.texts("--criterion", criteria_,
                  "judge by this one instead of the survey's own [[judge]] (repeat for more)");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        app.output("--csv", csv_, "write one row a verdict to FILE, or to the output for -");
        app.flag("--fail-on-exceedance", fail_on_exceedance_, "exit with 1 where something is exceeded");
        app.flag("--ledger-only", ledger_only_, "filter the recordings into the folder .becalm and judge nothing");
        app.text("--shard", shard_, "with --ledger-only: I/N, of every N-th file alone, from the I-th on");
        app.flag("--verbose", verbose_, "print notes too, what the files say of themselves, and each step of the way");
        app.flag("--watch", watch_,
                 "judge again whenever the survey, a criterion or a recording changes, until Ctrl-C");
        cache_.declare(app);
        app.jobs(jobs_);
        return app;
    }

    int run(const Console& console) override
    {
        if (!json_.empty() && json_ == csv_)
            return give_up(console, {{.kind = ProblemKind::usage,
                                      .what = fmt::format("--json and --csv both go to {}", json_),
                                      .remedy = "give one of them another file"}});
        if (const auto problem = faulty_shard()) return give_up(console, {*problem});
        if (!watch_) return judge(console);
        if (json_ == "-" || csv_ == "-" || ledger_only_)
            return give_up(console, {{.kind = ProblemKind::usage,
                                      .what = "--watch judges many times",
                                      .remedy = "name a file for --json or --csv, and leave --ledger-only out"}});
        SurveyWatch watch(survey_);
        int outcome = done;
        while (true) {
            watch.about_to_read();
            outcome = judge(console, &watch);
            console.out.flush();
            if (!watch.wait_for_change(console.stop)) return outcome;
        }
    }

private:
    // With a watch: told in one line, and being stopped is no fault.
    int judge(const Console& console, SurveyWatch* watch = nullptr) const
    {
        const auto survey = io::read_survey(survey_);
        if (!survey) return give_up(console, survey.error());
        auto criteria = io::load_all_criteria(survey_);
        if (!criteria) return give_up(console, criteria.error());
        console.complain(criteria->library.problems);
        if (watch != nullptr) watch->about_to_measure(*survey);
        if (ledger_only_) return keep_passes(console, *survey, criteria->library);
        const auto assessment = evaluators::assess(*survey, criteria->library,
                                                   {.criteria = criteria_,
                                                    .jobs = jobs_,
                                                    .cache_folder = cache_.folder_for(survey_),
                                                    .cache_trouble = CacheOption::told_on(console),
                                                    .progress = console.progress_for("judging"),
                                                    .stop = console.stop});
        console.end_progress();
        if (watch != nullptr && console.stop.stop_requested()) return done;
        if (!assessment) return give_up(console, assessment.error());

        const auto unreadable = report::unreadable_recordings(survey_, *survey, assessment->findings);
        console.complain(unreadable);
        if (watch == nullptr && json_ != "-" && csv_ != "-") show(console, *assessment);
        const auto delivered = deliver(console, {{json_, [&] { return io::as_json(*assessment); }},
                                                 {csv_, [&] { return io::as_csv(*assessment); }}});
        if (!delivered) return give_up(console, {delivered.error()});

        if (watch != nullptr) // once the files are there
            console.print(
                fmt::format("{:%H:%M:%S} {}\n", fmt::localtime(std::time(nullptr)), told_in_brief(*assessment)));

        const bool any_judged = std::ranges::any_of(assessment->verdicts, &Verdict::judged);
        if (!unreadable.empty() || !any_judged) return unusable;
        return fail_on_exceedance_ && std::ranges::any_of(assessment->verdicts, &Verdict::exceeded) ? exceeded : done;
    }

    // "2/5" → second of five.
    std::optional<evaluators::Shard> shard() const
    {
        if (shard_.empty()) return evaluators::Shard{};
        constexpr int most = 1'000'000;
        evaluators::Shard shard;
        const char* const end = shard_.data() + shard_.size();
        const auto [slash, error] = std::from_chars(shard_.data(), end, shard.index);
        if (error != std::errc() || slash == end || *slash != '/') return {};
        const auto [rest, fault] = std::from_chars(slash + 1, end, shard.of);
        if (fault != std::errc() || rest != end || shard.index < 1 || shard.of < shard.index || shard.of > most)
            return {};
        return shard;
    }

    std::optional<Problem> faulty_shard() const
    {
        const auto usage = [](std::string what, std::string remedy) {
            return Problem{.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)};
        };
        if (!shard_.empty() && !ledger_only_)
            return usage("--shard goes with --ledger-only", "judge the whole survey when all shards are done");
        if (!shard())
            return usage(fmt::format("\"{}\" is no shard", shard_), "write I/N with I from 1 to N, such as 2/5");
        if (!ledger_only_) return {};
        if (!json_.empty() || !csv_.empty() || fail_on_exceedance_)
            return usage("--ledger-only judges nothing that could be written or exceeded",
                         "leave --json, --csv and --fail-on-exceedance to the `becalm assess` behind it");
        if (cache_.folder_for(survey_).empty())
            return usage("--ledger-only and --no-cache leave nothing to do", "leave one of them out");
        return {};
    }

    int keep_passes(const Console& console, const Survey& survey, const io::CriteriaLibrary& library) const
    {
        const evaluators::Shard mine = *shard();
        const auto kept = evaluators::keep_passes(survey, library,
                                                  {.criteria = criteria_,
                                                   .jobs = jobs_,
                                                   .cache_folder = cache_.folder_for(survey_),
                                                   .progress = console.progress_for("filtering"),
                                                   .stop = console.stop},
                                                  mine);
        console.end_progress();
        if (!kept) return give_up(console, kept.error());
        for (const std::string& message : kept->unreadable) console.complain(Problem{.what = message});
        const int unreadable = static_cast<int>(kept->unreadable.size());
        console.print(fmt::format("shard {}/{}: {} of {} files, {}: {} filtered, {} kept before{}\n", mine.index,
                                  mine.of, kept->files, kept->files_of_survey, counted(kept->recordings, "recording"),
                                  kept->filtered, kept->recordings - kept->filtered - unreadable,
                                  unreadable > 0 ? fmt::format(", {} unreadable", unreadable) : ""));
        return unreadable > 0 ? unusable : done;
    }

    static std::string told_in_brief(const Assessment& assessment)
    {
        const auto judged = std::ranges::count_if(assessment.verdicts, &Verdict::judged);
        const auto exceeding = std::ranges::count_if(assessment.verdicts, &Verdict::exceeded);
        return fmt::format("{} ({}): {}, {} exceeding, {} that cannot be judged", assessment.title, assessment.setting,
                           counted(judged, "verdict"), exceeding, std::ssize(assessment.verdicts) - judged);
    }

    void show(const Console& console, const Assessment& assessment) const
    {
        console.print(told_in_brief(assessment) + "\n\n");

        // One table a criterion, worst first.
        for (const std::string& criterion : report::criteria_of(assessment)) show(console, assessment, criterion);

        bool heading = false;
        for (const Finding& finding : assessment.findings) {
            if (finding.severity == Severity::note && !verbose_) continue;
            if (!heading) console.print("Findings\n");
            heading = true;
            console.print(finding);
        }
        if (heading) console.print("\n");
        if (verbose_) {
            console.print("Steps\n");
            for (const ProvenanceStep& step : assessment.provenance)
                console.print(fmt::format("  {}: {}\n", step.of, step.step));
            console.print("\n");
        }
        console.print(
            "Comfort evaluation is no structural, machinery or health assessment. Limits come from the editions cited; "
            "local codes,\n"
            "contracts and licensed practice prevail. --json gives every value in full with its provenance.\n");
    }

    static void show(const Console& console, const Assessment& assessment, const std::string& criterion)
    {
        const std::vector<const Verdict*> verdicts = report::worst_first(assessment, criterion);
        const Verdict& first = *verdicts.front();
        console.print(
            fmt::format("{}, {}: {} ({}; numbers {})\n", first.edition, first.clause, first.title, criterion,
                        first.confirmed == "from memory" ? first.confirmed : "confirmed: " + first.confirmed));
        Table table({{"space", false},
                     {"position", false},
                     {"condition", false},
                     {"use", false},
                     {"axis", false},
                     {"weighting", false},
                     {"value", true},
                     {"band", false},
                     {"", false}});
        std::vector<std::string> refusals;
        std::vector<std::pair<std::string, std::vector<std::string>>> notes; // what, and the places it is about
        std::size_t judged = 0;
        for (const Verdict* verdict : verdicts) {
            const std::string& subject = verdict->person.empty() ? verdict->space : verdict->person;
            const std::string place = verdict->condition.empty() ? subject : subject + " " + verdict->condition;
            if (!verdict->judged) {
                refusals.push_back(fmt::format("  {} {}: {}\n", place, verdict->position, verdict->why_not));
                continue;
            }
            ++judged;
            table.add({subject, verdict->position, verdict->condition, verdict->use, verdict->axis, verdict->weighting,
                       value_text(*verdict), report::band_place(*verdict),
                       band_text(*verdict) + (verdict->exceeded ? ", exceeded" : "") + sure_text(*verdict)});
            std::vector<std::string> said = verdict->notes;
            if (verdict->uncertainty && verdict->uncertainty->standard)
                for (const std::string& part : verdict->uncertainty->not_covered)
                    said.push_back("not in the uncertainty: " + part);
            if (verdict->uncertainty && verdict->uncertainty->settling)
                said.push_back(verdict->uncertainty->settling->words);
            if (verdict->decision) said.insert(said.begin(), verdict->decision->words);
            for (const std::string& note : said) {
                auto known = std::ranges::find(notes, note, &decltype(notes)::value_type::first);
                if (known == notes.end()) known = notes.insert(notes.end(), {note, {}});
                known->second.push_back(place);
            }
        }
        if (judged > 0) console.print(table.text("  "));
        for (const std::string& refusal : refusals) console.print(refusal);
        for (auto& [note, places] : notes) {
            const bool about_all = places.size() == judged;
            places.erase(std::ranges::unique(places).begin(), places.end());
            std::string where;
            for (const std::string& place : places) where += (where.empty() ? "" : ", ") + place;
            console.print(fmt::format("  note{}: {}\n", about_all ? "" : " on " + where, note));
        }
        console.print("\n");
    }

    std::string survey_, json_, csv_, shard_;
    std::vector<std::string> criteria_;
    bool fail_on_exceedance_ = false, ledger_only_ = false, watch_ = false, verbose_ = false;
    CacheOption cache_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_assess_command() { return std::make_unique<AssessCommand>(); }

} // namespace becalm::cli
