#include <algorithm>
#include <charconv>
#include <map>

#include <fmt/format.h>

#include "evaluators/explain.h"
#include "src/io/json_out.h"
#include "src/io/survey_file.h"
#include "ui/cli/cache_option.h"
#include "ui/cli/command.h"
#include "ui/cli/explain_figures.h"

namespace becalm::cli {
namespace {

using evaluators::Change;

// "a,b" as numbers; empty where it is not `count` of them.
std::vector<double> numbers_in(std::string_view text, std::size_t count)
{
    std::vector<double> numbers;
    while (true) {
        const std::size_t comma = std::min(text.find(','), text.size());
        std::string_view piece = text.substr(0, comma);
        if (piece.starts_with('+')) piece.remove_prefix(1);
        double value = 0.0;
        const auto [end, error] = std::from_chars(piece.data(), piece.data() + piece.size(), value);
        if (error != std::errc{} || end != piece.data() + piece.size()) return {};
        numbers.push_back(value);
        if (comma == text.size()) break;
        text.remove_prefix(comma + 1);
    }
    return numbers.size() == count ? numbers : std::vector<double>();
}

class ExplainCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app =
            parent.command("explain", "Which frequencies carry each value, what makes them, what would cure it");
        app.text("SURVEY", survey_, "survey.toml", Need::required);
        app.texts("--criterion", criteria_,
                  "explain by this one instead of the survey's own [[judge]] (repeat for more)");
        app.text("--space", space_, "this space alone");
        app.texts("--reduce", reduce_, "what if SOURCE=DB: a source is brought down by so many dB (repeat for more)");
        app.texts("--move", move_, "what if SOURCE=HZ: a source's components move by so many Hz");
        app.texts("--isolate", isolate_,
                  "what if SOURCE=HZ,ZETA: a source stands on a mount of this natural frequency and damping ratio");
        app.texts("--damp", damp_,
                  "what if HZ,MU,ZETA: a tuned damper of mass ratio MU sits on a resonance of damping ratio ZETA");
        app.texts("--stiffen", stiffen_,
                  "what if HZ,K,ZETA: a resonance of damping ratio ZETA is made K times as stiff");
        app.text("--figures", figures_, "write spectra, bands, spectrograms and ladders as SVG into this folder");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        cache_.declare(app);
        app.jobs(jobs_);
        return app;
    }

    int run(const Console& console) override
    {
        std::vector<Change> changes;
        if (const auto problem = read_changes(changes)) return give_up(console, {*problem});
        const auto survey = io::read_survey(survey_);
        if (!survey) return give_up(console, survey.error());
        if (!space_.empty() && survey->space(space_) == nullptr)
            return give_up(console, {{.kind = ProblemKind::usage,
                                      .what = fmt::format("the survey has no space \"{}\"", space_),
                                      .remedy = "leave --space out to see all"}});
        auto criteria = io::load_all_criteria(survey_);
        if (!criteria) return give_up(console, criteria.error());
        console.complain(criteria->library.problems);
        const auto report = evaluators::explain(*survey, criteria->library,
                                                {.assess = {.criteria = criteria_,
                                                            .jobs = jobs_,
                                                            .cache_folder = cache_.folder_for(survey_),
                                                            .cache_trouble = CacheOption::told_on(console),
                                                            .progress = console.progress_for("reading"),
                                                            .stop = console.stop},
                                                 .space = space_,
                                                 .changes = std::move(changes),
                                                 .spectrograms = !figures_.empty()});
        console.end_progress();
        if (!report) return give_up(console, report.error());
        if (json_ != "-")
            for (const Explanation& explanation : report->explanations) show(console, explanation);
        if (const auto delivered = deliver(console, json_, [&] { return io::as_json(*report); }); !delivered)
            return give_up(console, {delivered.error()});
        if (!figures_.empty()) {
            const auto written = write_figures(*report, figures_);
            if (!written) return give_up(console, {written.error()});
            if (json_ != "-") console.print(fmt::format("{} figures written to {}\n", written->size(), figures_));
        }
        const bool any = std::ranges::any_of(
            report->explanations, [](const Explanation& explanation) { return explanation.why_not.empty(); });
        if (!any && json_ != "-")
            console.print("nothing could be judged, so there is nothing to explain; `becalm check` says why\n");
        return any ? done : unusable;
    }

private:
    static Problem unclear(std::string_view option, const std::string& text, std::string_view form)
    {
        return {.kind = ProblemKind::usage,
                .what = fmt::format("{} {}: this is not {}", option, text, form),
                .remedy = "numbers have a decimal point; `becalm explain --help` shows each"};
    }

    std::optional<Problem> read_changes(std::vector<Change>& changes) const
    {
        const auto of_source = [&](std::string_view option, const std::vector<std::string>& texts, std::size_t count,
                                   Change::Kind kind, std::string_view form) -> std::optional<Problem> {
            for (const std::string& text : texts) {
                const std::size_t at = text.rfind('=');
                const auto numbers = at == std::string::npos ? std::vector<double>()
                                                             : numbers_in(std::string_view(text).substr(at + 1), count);
                if (numbers.empty() || at == 0) return unclear(option, text, form);
                if (count == 2 && !(numbers[0] > 0.0 && numbers[1] >= 0.0)) return unclear(option, text, form);
                changes.push_back({.kind = kind,
                                   .source = text.substr(0, at),
                                   .amount = numbers[0],
                                   .second = count > 1 ? numbers[1] : 0.0});
            }
            return {};
        };
        if (auto problem = of_source("--reduce", reduce_, 1, Change::Kind::reduce, "SOURCE=DB")) return problem;
        if (auto problem = of_source("--move", move_, 1, Change::Kind::move, "SOURCE=HZ")) return problem;
        if (auto problem = of_source("--isolate", isolate_, 2, Change::Kind::isolate, "SOURCE=HZ,ZETA")) return problem;
        const auto of_resonance = [&](std::string_view option, const std::vector<std::string>& texts, Change::Kind kind,
                                      std::string_view form) -> std::optional<Problem> {
            for (const std::string& text : texts) {
                const auto numbers = numbers_in(text, 3);
                if (numbers.empty() || !(numbers[0] > 0.0 && numbers[1] > 0.0 && numbers[2] > 0.0))
                    return unclear(option, text, form);
                changes.push_back({.kind = kind, .amount = numbers[0], .second = numbers[1], .third = numbers[2]});
            }
            return {};
        };
        if (auto problem = of_resonance("--damp", damp_, Change::Kind::damp, "HZ,MU,ZETA")) return problem;
        if (auto problem = of_resonance("--stiffen", stiffen_, Change::Kind::stiffen, "HZ,K,ZETA")) return problem;
        return {};
    }

    static std::string percent(double share) { return fmt::format("{:.1f} %", 100.0 * share); }

    // The uncertainty of a frequency from phases; "~" where it is not.
    static std::string give_or_take(const ExplainedComponent& component)
    {
        constexpr double least = 1e-4; // not a limit: that four decimals show
        if (!component.frequency_uncertainty_hz) return "~";
        return *component.frequency_uncertainty_hz < least ? "<0.0001"
                                                           : fmt::format("{:.4f}", *component.frequency_uncertainty_hz);
    }

    static void show(const Console& console, const Explanation& explanation)
    {
        const Verdict& verdict = explanation.verdict;
        const std::string subject = verdict.person.empty() ? verdict.space : verdict.person;
        console.print(fmt::format("{} {}{}{}: {} {}, {} ({})\n", subject, verdict.position,
                                  verdict.condition.empty() ? "" : " " + verdict.condition,
                                  verdict.axis.empty() ? "" : ", axis " + verdict.axis, number(verdict.value),
                                  verdict.unit,
                                  verdict.band_index ? verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name
                                                     : std::string("no limits set"),
                                  verdict.criterion));
        if (!explanation.why_not.empty()) {
            console.print(fmt::format("  cannot be explained, because {}\n\n", explanation.why_not));
            return;
        }
        constexpr std::size_t most_rows = 8;
        std::map<std::string, std::string> averaged; // why a frequency is not from phases → which
        Table components({{"Hz", true},
                          {"± Hz", true},
                          {"axis", false},
                          {"weighted r.m.s.", true},
                          {"share", true},
                          {"made by", false},
                          {"because", false}});
        for (std::size_t i = 0; i < explanation.components.size() && i < most_rows; ++i) {
            const ExplainedComponent& component = explanation.components[i];
            std::string made_by = component.matches.empty() ? "unexplained" : "";
            for (const SourceMatch& match : component.matches)
                made_by += (made_by.empty() ? "" : " or ") + match.source + " (" + match.line + ")";
            std::string because = component.series;
            const auto add = [&](const std::string& words) { because += (because.empty() ? "" : "; ") + words; };
            if (component.beat_hz) add(fmt::format("beats at {:.3f} Hz with its neighbour", *component.beat_hz));
            if (component.drift_hz)
                add(fmt::format("drifts from {:.2f} to {:.2f} Hz", component.drift_hz->front(),
                                component.drift_hz->back()));
            if (!component.matches.empty())
                for (const std::string& evidence : component.matches.front().evidence) add(evidence);
            for (const std::string& note : component.notes) add(note);
            components.add({fmt::format("{:.3f}", component.hz), give_or_take(component), component.axis,
                            number(component.weighted_rms), percent(component.share), made_by, because});
            if (component.averaged_because.empty()) continue;
            std::string& which = averaged[component.averaged_because];
            which += fmt::format("{}{:.3f} Hz", which.empty() ? "" : ", ", component.hz);
        }
        if (!explanation.components.empty()) console.print(components.text("  "));
        if (explanation.components.size() > most_rows)
            console.print(fmt::format("  and {} more, fainter\n", explanation.components.size() - most_rows));
        for (const auto& [because, which] : averaged)
            console.print(fmt::format("  ~ from the averaged spectrum ({}): {}\n", which, because));
        console.print(fmt::format("  of the energy: {} by named sources, {} in unexplained components, {} broad\n",
                                  percent(explanation.explained_share), percent(explanation.unexplained_share),
                                  percent(explanation.broad_share)));
        if (explanation.next_limit)
            console.print(fmt::format("  the next band, \"{}\", begins {:.1f} % lower, at {} {}\n",
                                      explanation.next_band, *explanation.needed_percent,
                                      number(explanation.next_limit), verdict.unit));
        for (const Cure& cure : explanation.cures)
            console.print(fmt::format("  {}: {}\n", percent(cure.share), cure.words));
        for (const Prediction& prediction : explanation.predictions) {
            console.print(fmt::format(
                "  what if {}: {}{} {}{}\n", prediction.change, number(prediction.value),
                prediction.expanded_uncertainty ? fmt::format(" ± {:.2g}", *prediction.expanded_uncertainty) : "",
                verdict.unit,
                prediction.band_index ? ", " + verdict.bands[static_cast<std::size_t>(*prediction.band_index)].name
                                      : ""));
            for (const std::string& note : prediction.notes) console.print(fmt::format("    note: {}\n", note));
        }
        for (const std::string& note : explanation.notes) console.print(fmt::format("  note: {}\n", note));
        console.print("\n");
    }

    std::string survey_, json_, space_, figures_;
    std::vector<std::string> criteria_, reduce_, move_, isolate_, damp_, stiffen_;
    CacheOption cache_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_explain_command() { return std::make_unique<ExplainCommand>(); }

} // namespace becalm::cli
