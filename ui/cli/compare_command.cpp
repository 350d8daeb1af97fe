#include <algorithm>
#include <cmath>
#include <filesystem>

#include <fmt/format.h>

#include "evaluators/compare.h"
#include "evaluators/explain.h"
#include "src/io/json_out.h"
#include "src/io/stated_verdicts.h"
#include "src/io/survey_file.h"
#include "ui/cli/cache_option.h"
#include "ui/cli/command.h"
#include "ui/cli/compare_figures.h"

namespace becalm::cli {
namespace {

std::string with_sign(const std::optional<double>& value, std::string_view form)
{
    if (!value) return "-";
    const std::string text = fmt::format(fmt::runtime(form), std::abs(*value));
    return (*value < 0.0 ? "-" : *value > 0.0 ? "+" : "") + text;
}

// The band that adds most to the change of the mean square over all axes.
std::string mostly_at(const ComparedPair& pair)
{
    const ComparedBand* most = nullptr;
    const auto moved = [](const ComparedBand& band) {
        return std::abs(band.second * band.second - band.first * band.first);
    };
    std::string axis;
    for (const ComparedSpectrum& spectrum : pair.spectra)
        for (const ComparedBand& band : spectrum.bands)
            if (most == nullptr || moved(band) > moved(*most)) {
                most = &band;
                axis = spectrum.axis;
            }
    if (most == nullptr || !most->db) return "";
    return fmt::format("{:g} Hz {} ({} dB)", most->nominal_hz, axis, with_sign(most->db, "{:.1f}"));
}

class CompareCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("compare", "What changes between two surveys, two conditions, or a prediction and "
                                                "what was measured");
        app.text("FIRST", first_, "survey.toml, the JSON of an assessment, or a table of predicted values (CSV)",
                 Need::required);
        app.text("SECOND", second_, "the other one; left out, two conditions of FIRST are compared");
        app.two_texts("--conditions", conditions_, "compare condition A of FIRST with condition B of SECOND");
        app.texts("--criterion", criteria_, "by this one instead of the survey's own [[judge]] (repeat for more)");
        app.text("--space", space_, "this space alone");
        app.text("--figures", figures_, "write one-third octaves of both and their change as SVG into this folder");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        app.output("--csv", csv_, "write one row a pair to FILE, or to the output for -");
        cache_.declare(app);
        app.jobs(jobs_);
        return app;
    }

    int run(const Console& console) override
    {
        const auto usage = [&](const std::string& what, const std::string& remedy) {
            return give_up(console, {{.kind = ProblemKind::usage, .what = what, .remedy = remedy}});
        };
        if (!json_.empty() && json_ == csv_)
            return usage(fmt::format("--json and --csv both go to {}", json_), "give one of them another file");
        if (second_.empty() && conditions_.empty())
            return usage("there is nothing to compare it with", "name a second survey, or --conditions A B");
        if (second_.empty() && conditions_.front() == conditions_.back())
            return usage(fmt::format("{} is compared with itself", conditions_.front()), "name two conditions");
        Side first, second;
        if (const auto problems = read(console, first_, first); !problems.empty()) return give_up(console, problems);
        if (!second_.empty())
            if (const auto problems = read(console, second_, second); !problems.empty())
                return give_up(console, problems);
        Side& other = second_.empty() ? first : second;
        if (!space_.empty() && !has_space(first) && !has_space(other))
            return usage(fmt::format("no side has a space \"{}\"", space_), "leave --space out to see all");
        evaluators::SideToCompare a = to_compare(first), b = to_compare(other);
        if (!conditions_.empty()) {
            a.about.condition = conditions_.front();
            b.about.condition = conditions_.back();
            for (const evaluators::SideToCompare* side : {&a, &b})
                if (side->about.kind != "predicted" && std::ranges::find(side->verdicts, side->about.condition,
                                                                         &Verdict::condition) == side->verdicts.end())
                    return usage(
                        fmt::format("{} has no verdict of a condition \"{}\"", side->about.file, side->about.condition),
                        "`becalm assess` shows the conditions");
        }
        const ComparisonReport report = evaluators::compare(a, b);
        if (!figures_.empty()) {
            const auto written = write_figures(report, figures_);
            if (!written) return give_up(console, {written.error()});
            if (json_ != "-" && csv_ != "-")
                console.print(fmt::format("{} written to {}\n", counted(std::ssize(*written), "figure"), figures_));
        }
        if (json_ != "-" && csv_ != "-") show(console, report);
        const auto delivered = deliver(
            console, {{json_, [&] { return io::as_json(report); }}, {csv_, [&] { return io::as_csv(report); }}});
        if (!delivered) return give_up(console, {delivered.error()});
        return std::ranges::any_of(report.pairs, [](const ComparedPair& pair) { return pair.db.has_value(); })
                   ? done
                   : unusable;
    }

private:
    struct Side {
        ComparedSide about = {};
        Survey survey = {}; // of a survey
        std::vector<Verdict> verdicts = {};
        std::vector<Explanation> explanations = {};
    };

    bool wanted(const Verdict& verdict) const
    {
        return (space_.empty() || verdict.space == space_) &&
               (criteria_.empty() || std::ranges::find(criteria_, verdict.criterion) != criteria_.end());
    }

    bool has_space(const Side& side) const
    {
        return std::ranges::find(side.verdicts, space_, &Verdict::space) != side.verdicts.end();
    }

    evaluators::SideToCompare to_compare(const Side& side) const
    {
        return {.about = side.about,
                .verdicts = side.verdicts,
                .explanations = side.explanations,
                .survey = side.about.kind == "survey" ? &side.survey : nullptr};
    }

    std::vector<Problem> read(const Console& console, const std::string& path, Side& side) const
    {
        if (std::filesystem::path(path).extension() == ".toml") return read_survey(console, path, side);
        auto stated = io::read_stated_verdicts(path);
        if (!stated) return {stated.error()};
        side.about = {.kind = stated->is_table ? "predicted" : "assessment",
                      .title = stated->assessment.title,
                      .file = path,
                      .sha256 = stated->assessment.sha256};
        std::ranges::copy_if(stated->assessment.verdicts, std::back_inserter(side.verdicts),
                             [&](const Verdict& verdict) { return wanted(verdict); });
        return {};
    }

    std::vector<Problem> read_survey(const Console& console, const std::string& path, Side& side) const
    {
        auto survey = io::read_survey(path);
        if (!survey) return survey.error();
        side.survey = std::move(*survey);
        auto criteria = io::load_all_criteria(path);
        if (!criteria) return criteria.error();
        console.complain(criteria->library.problems);
        auto report = evaluators::explain(side.survey, criteria->library,
                                          {.assess = {.criteria = criteria_,
                                                      .jobs = jobs_,
                                                      .cache_folder = cache_.folder_for(path),
                                                      .cache_trouble = CacheOption::told_on(console),
                                                      .progress = console.progress_for("reading"),
                                                      .stop = console.stop},
                                           .space = space_});
        console.end_progress();
        if (!report) return report.error();
        side.about = {.kind = "survey", .title = side.survey.title, .file = path, .sha256 = side.survey.sha256};
        std::ranges::copy_if(report->assessment.verdicts, std::back_inserter(side.verdicts),
                             [&](const Verdict& verdict) { return wanted(verdict); });
        side.explanations = std::move(report->explanations);
        return {};
    }

    static std::string name_of(const ComparedSide& side)
    {
        return (side.title.empty() ? side.file : side.title) +
               (side.condition.empty() ? "" : ", condition " + side.condition);
    }

    static std::string place_of(const Verdict& verdict)
    {
        return (verdict.person.empty() ? verdict.space : verdict.person) +
               (verdict.position.empty() ? "" : " " + verdict.position);
    }

    static void show(const Console& console, const ComparisonReport& report)
    {
        console.print(fmt::format("first:  {}\nsecond: {}\n\n", name_of(report.first), name_of(report.second)));
        Table table({{"place", false},
                     {"condition", false},
                     {"criterion", false},
                     {"first", true},
                     {"second", true},
                     {"unit", false},
                     {"change, %", true},
                     {"dB", true},
                     {"± dB", true},
                     {"bands", false},
                     {"mostly at", false}});
        std::vector<std::pair<std::string, std::string>> said; // where, what
        bool any = false;
        for (const ComparedPair& pair : report.pairs) {
            const Verdict &a = pair.first, &b = pair.second;
            if (!pair.db) {
                said.emplace_back(place_of(a) + ", " + a.criterion, "not compared, because " + pair.why_not);
                continue;
            }
            any = true;
            const bool by_condition = !a.condition.empty() && a.condition == b.condition;
            table.add({place_of(a), by_condition ? a.condition : "", a.criterion, number(a.value), number(b.value),
                       a.unit, with_sign(pair.percent, "{:.1f}"), with_sign(pair.db, "{:.2f}"),
                       pair.calibration_cancels ? "cancels"
                       : pair.uncertainty_db    ? fmt::format("{:.2g}", *pair.uncertainty_db)
                                                : "-",
                       pair.band_words, mostly_at(pair)});
            for (const std::string& note : pair.notes) said.emplace_back(place_of(a) + ", " + a.criterion, note);
        }
        if (any) console.print(table.text("  "));
        for (const auto& [where, what] : said) console.print(fmt::format("  {}: {}\n", where, what));
        for (const WithoutPartner& one : report.without_partner)
            console.print(fmt::format("  {}{}, {} ({}): no partner: {}\n", place_of(one.verdict),
                                      one.verdict.condition.empty() ? "" : " " + one.verdict.condition,
                                      one.verdict.criterion, one.is_of_first ? "first" : "second", one.why));
        tell_uncertainty(console, report);
        console.print("\n");
        for (const ComparisonSummary& summary : report.summaries) {
            if (!summary.mean_db) continue;
            console.print(fmt::format("{}: mean change {} dB over {}",
                                      summary.criterion.empty() ? "all criteria" : summary.criterion,
                                      with_sign(summary.mean_db, "{:.2f}"), counted(summary.pairs, "pair")));
            if (summary.from_db)
                console.print(fmt::format(" (95 % confidence: {} to {} dB)", with_sign(summary.from_db, "{:.2f}"),
                                          with_sign(summary.to_db, "{:.2f}")));
            console.print(fmt::format(", median {} dB; {} lower, {} higher, {} unchanged; band better {}, worse {}, "
                                      "same {}\n",
                                      with_sign(summary.median_db, "{:.2f}"), summary.lower, summary.higher,
                                      summary.unchanged, summary.better_band, summary.worse_band, summary.same_band));
        }
        for (const std::string& note : report.notes) console.print(fmt::format("note: {}\n", note));
    }

    // Once for all pairs of which it is true.
    static void tell_uncertainty(const Console& console, const ComparisonReport& report)
    {
        std::vector<std::pair<std::string, std::ptrdiff_t>> told;
        for (const ComparedPair& pair : report.pairs) {
            if (pair.uncertainty_words.empty()) continue;
            const auto known = std::ranges::find(told, pair.uncertainty_words, &decltype(told)::value_type::first);
            if (known == told.end())
                told.emplace_back(pair.uncertainty_words, 1);
            else
                ++known->second;
        }
        for (const auto& [words, count] : told)
            console.print(fmt::format("  uncertainty of {}: {}\n", counted(count, "change"), words));
    }

    std::string first_, second_, space_, figures_, json_, csv_;
    std::vector<std::string> conditions_, criteria_;
    CacheOption cache_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_compare_command() { return std::make_unique<CompareCommand>(); }

} // namespace becalm::cli
