#include <algorithm>

#include <fmt/format.h>

#include "evaluators/assess.h"
#include "src/io/json_out.h"
#include "src/io/survey_file.h"
#include "ui/cli/cache_option.h"
#include "ui/cli/command.h"

namespace becalm::cli {
namespace {

std::string value_text(const Verdict& verdict)
{
    if (!verdict.value) return "-";
    std::string text = number(verdict.value);
    if (verdict.expanded_uncertainty) text += fmt::format(" ± {:.2g}", *verdict.expanded_uncertainty);
    return text + " " + verdict.unit;
}

std::string band_text(const Verdict& verdict)
{
    if (!verdict.band_index) return "no limits set";
    std::string text = verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name;
    for (const std::string& also : verdict.also_bands) text += " (or " + also + ")";
    return text;
}

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

// The band of the value as a place: [..o..] with one cell a band, so that it is told without words or colours too.
std::string band_place(const Verdict& verdict)
{
    std::string place;
    for (std::size_t i = 0; i < verdict.bands.size(); ++i)
        place += verdict.band_index && static_cast<std::size_t>(*verdict.band_index) == i ? '#' : '.';
    return place;
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
        const auto survey = io::read_survey(survey_);
        if (!survey) return give_up(console, survey.error());
        auto criteria = io::load_all_criteria(survey_);
        if (!criteria) return give_up(console, criteria.error());
        console.complain(criteria->library.problems);
        const auto assessment = evaluators::assess(*survey, criteria->library,
                                                   {.criteria = criteria_,
                                                    .jobs = jobs_,
                                                    .cache_folder = cache_.folder_for(survey_),
                                                    .cache_trouble = CacheOption::told_on(console),
                                                    .progress = console.progress_for("judging"),
                                                    .stop = console.stop});
        console.end_progress();
        if (!assessment) return give_up(console, assessment.error());

        bool unreadable = false;
        auto next =
            survey->recordings.begin(); // findings come in the order of the tables; one file can stand in several
        for (const Finding& finding : assessment->findings) {
            if (finding.code != "unreadable") continue;
            unreadable = true;
            const auto recording = std::find_if(next, survey->recordings.end(), [&](const Recording& candidate) {
                return candidate.file == finding.recording;
            });
            const bool found = recording != survey->recordings.end();
            console.complain({.file = survey_, .line = found ? recording->line : 0, .what = finding.message});
            if (found) next = recording + 1;
        }
        if (json_ != "-" && csv_ != "-") show(console, *assessment);
        if (const auto delivered = deliver(console, json_, [&] { return io::as_json(*assessment); }); !delivered)
            return give_up(console, {delivered.error()});
        if (const auto delivered = deliver(console, csv_, [&] { return io::as_csv(*assessment); }); !delivered)
            return give_up(console, {delivered.error()});

        const bool any_judged = std::ranges::any_of(assessment->verdicts, &Verdict::judged);
        if (unreadable || !any_judged) return unusable;
        return fail_on_exceedance_ && std::ranges::any_of(assessment->verdicts, &Verdict::exceeded) ? exceeded : done;
    }

private:
    static void show(const Console& console, const Assessment& assessment)
    {
        const auto judged = std::ranges::count_if(assessment.verdicts, &Verdict::judged);
        const auto exceeding = std::ranges::count_if(assessment.verdicts, &Verdict::exceeded);
        console.print(fmt::format("{} ({}): {}, {} exceeding, {} that cannot be judged\n\n", assessment.title,
                                  assessment.setting, counted(judged, "verdict"), exceeding,
                                  std::ssize(assessment.verdicts) - judged));

        // One table a criterion, worst first.
        std::vector<std::string> criteria;
        for (const Verdict& verdict : assessment.verdicts)
            if (std::ranges::find(criteria, verdict.criterion) == criteria.end()) criteria.push_back(verdict.criterion);
        for (const std::string& criterion : criteria) show(console, assessment, criterion);

        bool heading = false;
        for (const Finding& finding : assessment.findings) {
            if (finding.severity == Severity::note) continue;
            if (!heading) console.print("Findings\n");
            heading = true;
            console.print(finding);
        }
        if (heading) console.print("\n");
        console.print(
            "Comfort evaluation is no structural, machinery or health assessment. Limits come from the editions cited; "
            "local codes,\n"
            "contracts and licensed practice prevail. --json gives every value in full with its provenance.\n");
    }

    static void show(const Console& console, const Assessment& assessment, const std::string& criterion)
    {
        std::vector<const Verdict*> verdicts;
        for (const Verdict& verdict : assessment.verdicts)
            if (verdict.criterion == criterion) verdicts.push_back(&verdict);
        std::ranges::stable_sort(verdicts, [](const Verdict* a, const Verdict* b) {
            return std::tuple(a->judged, a->band_index.value_or(-1), a->value.value_or(0.0)) >
                   std::tuple(b->judged, b->band_index.value_or(-1), b->value.value_or(0.0));
        });
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
                       value_text(*verdict), band_place(*verdict),
                       band_text(*verdict) + (verdict->exceeded ? ", exceeded" : "") + sure_text(*verdict)});
            std::vector<std::string> said = verdict->notes;
            if (verdict->uncertainty && verdict->uncertainty->standard)
                for (const std::string& part : verdict->uncertainty->not_covered)
                    said.push_back("not in the uncertainty: " + part);
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

    std::string survey_, json_, csv_;
    std::vector<std::string> criteria_;
    bool fail_on_exceedance_ = false;
    CacheOption cache_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_assess_command() { return std::make_unique<AssessCommand>(); }

} // namespace becalm::cli
