#include <algorithm>
#include <charconv>
#include <utility>

#include <fmt/format.h>

#include "evaluators/ledger_questions.h"
#include "src/io/json_out.h"
#include "ui/cli/clock_text.h"
#include "ui/cli/command.h"
#include "ui/cli/lane_options.h"
#include "ui/cli/verdict_text.h"
#include "ui/cli/weighed_table.h"

namespace becalm::cli {
namespace {

std::optional<double> seconds_in(std::string_view text)
{
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || text.empty() || !(value >= 0.0)) return {};
    return value;
}

// "120-180.5"
std::optional<ExcludedSpan> span_in(std::string_view text)
{
    const std::size_t dash = text.find('-');
    if (dash == std::string_view::npos) return {};
    const auto from = seconds_in(text.substr(0, dash)), to = seconds_in(text.substr(dash + 1));
    if (!from || !to || !(*from < *to)) return {};
    ExcludedSpan span;
    span.from_s = *from;
    span.to_s = *to;
    return span;
}

class LedgerCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("ledger", "Weighted quantities of any stretch of a recording that `becalm "
                                               "stream` kept the ledger of, meanwhile or later");
        app.text("FOLDER", folder_, "the ledger's", Need::required);
        app.flag("--by-day", by_day_, "each day by itself");
        app.texts("--hours", hours_, "only these, by the clock: 06:00-22:00 (repeat for more, each by itself)");
        app.number("--from", from_, "first second that counts");
        app.number("--to", to_, "second at which it ends");
        app.texts("--leave-out", left_out_, "seconds FROM-TO that do not count (repeat for more)");
        app.texts("--criterion", criteria_, "judge each stretch by this one (repeat for more)");
        app.text("--setting", setting_, "with --criterion: vessel, rail, road, building or lift");
        app.text("--use", use_, "with --criterion: what the space is used as, such as residential");
        app.text("--position", position_, "with --criterion: where the sensor is, such as seat-pan (default floor)");
        app.text("--period", period_,
                 "with --criterion: what each stretch stands for, such as night, where no clock tells");
        app.number("--sensor-uncertainty", sensor_percent_,
                   "with --criterion: of the sensor's sensitivity, per cent, k = 2; without it a value has none");
        app.flag("--fail-on-exceedance", fail_on_exceedance_, "exit with 1 where something is exceeded");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        return app;
    }

    int run(const Console& console) override
    {
        const auto question = parse();
        if (!question) return give_up(console, {question.error()});
        if (const auto problem = faulty_judging()) return give_up(console, {*problem});
        const auto ledger = io::LedgerFolder::open(folder_);
        if (!ledger) return give_up(console, {ledger.error()});
        if (!criteria_.empty()) return judge(console, *ledger, *question);
        const auto report = evaluators::answer(*ledger, *question);
        return tell(
            console, report, json_, [&](const LedgerAnswer& answer) { show(console, answer); },
            [](const LedgerAnswer& answer) { return io::as_json(answer); },
            report && !report->stretches.empty() ? done : unusable);
    }

private:
    int judge(const Console& console, const io::LedgerFolder& ledger, const evaluators::LedgerQuestion& question) const
    {
        auto criteria = io::load_all_criteria(folder_); // and those beside the folder
        if (!criteria) return give_up(console, criteria.error());
        console.complain(criteria->library.problems);
        const auto report = evaluators::answer(ledger, question, criteria->library,
                                               {.criteria = criteria_,
                                                .setting = *setting_named(setting_),
                                                .use = use_,
                                                .position = *position_named(position_),
                                                .period = period_,
                                                .sensor_percent = sensor_percent_});
        if (!report) return give_up(console, report.error());
        const auto any = [&](auto of) {
            return std::ranges::any_of(report->stretches, [&](const LedgerStretch& stretch) {
                return std::ranges::any_of(stretch.verdicts, of);
            });
        };
        const int outcome = !any(&Verdict::judged)                           ? unusable
                            : fail_on_exceedance_ && any(&Verdict::exceeded) ? exceeded
                                                                             : done;
        return tell(
            console, Result<LedgerAnswer>(*report), json_, [&](const LedgerAnswer& answer) { show(console, answer); },
            [](const LedgerAnswer& answer) { return io::as_json(answer); }, outcome);
    }

    std::optional<Problem> faulty_judging() const
    {
        const auto usage = [](std::string what, std::string remedy) {
            return Problem{.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)};
        };
        if (criteria_.empty()) {
            if (setting_.empty() && use_.empty() && period_.empty() && position_ == default_position &&
                !sensor_percent_ && !fail_on_exceedance_)
                return {};
            return usage("no criterion is named to judge by", "add --criterion ID; `becalm criteria list` shows all");
        }
        if (!setting_named(setting_))
            return usage(setting_.empty() ? "a criterion judges in a setting, and none is named"
                                          : fmt::format("there is no setting \"{}\"", setting_),
                         fmt::format("add --setting and one of {}", names_of(all_settings)));
        if (use_.empty())
            return usage("a criterion judges a use of the space, and none is named",
                         "add --use, such as residential; `becalm criteria show ID` tells which it knows");
        if (!position_named(position_))
            return usage(fmt::format("there is no position \"{}\"", position_),
                         fmt::format("choose from {}", names_of(all_positions)));
        if (sensor_percent_ && !(*sensor_percent_ >= 0.0 && *sensor_percent_ < 100.0))
            return usage(fmt::format("--sensor-uncertainty is {:g}", *sensor_percent_),
                         "give per cent, from 0 on and below 100");
        return {};
    }

    template <class Names>
    static std::string names_of(const Names& all)
    {
        std::string text;
        for (const auto one : all) text += (text.empty() ? "" : ", ") + std::string(name_of(one));
        return text;
    }

    Result<evaluators::LedgerQuestion> parse() const
    {
        const auto usage = [](std::string what, std::string remedy) {
            return fail({.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)});
        };
        evaluators::LedgerQuestion question{.by_day = by_day_};
        for (const std::string& text : hours_) {
            const auto hours = clock_span_in(text);
            if (!hours) return usage(fmt::format("\"{}\" is no span of hours", text), "write 06:00-22:00");
            question.hours.push_back(*hours);
        }
        question.span = {from_.value_or(0.0), to_.value_or(question.span.to_s)};
        if (auto fault = fault_of(question.span)) return tl::unexpected(std::move(*fault));
        for (const std::string& text : left_out_) {
            const auto span = span_in(text);
            if (!span) return usage(fmt::format("\"{}\" is no span of seconds", text), "write 120-180.5");
            question.left_out.push_back(*span);
        }
        return question;
    }

    static std::string title_of(const LedgerStretch& stretch)
    {
        return fmt::format("{}{}{}: {} s", stretch.date.empty() ? "all days" : stretch.date,
                           stretch.hours.empty() ? "" : " ", stretch.hours, stretch.seconds);
    }

    // A row a stretch and lane.
    static void show_rows(const Console& console, const std::vector<LedgerStretch>& stretches)
    {
        Table table({{"stretch", false},
                     {"channel", true},
                     {"axis", false},
                     {"weighting", false},
                     {"r.m.s.", true},
                     {"peak", true},
                     {"MTVV lin.", true},
                     {"MTVV exp.", true},
                     {"unit", false},
                     {"VDV m/s^1.75", true}});
        for (const LedgerStretch& stretch : stretches) {
            std::string title = title_of(stretch);
            for (const WeighedLane& lane : stretch.lanes) {
                table.add({std::exchange(title, {}), std::to_string(lane.channel), lane.axis, lane.weighting,
                           number(lane.rms), number(lane.peak), number(lane.mtvv_linear), number(lane.mtvv_exponential),
                           lane.unit, lane.unit == "m/s2" ? number(lane.vdv) : "-"});
            }
        }
        console.print(table.text("  "));
    }

    // A table a criterion, and each reason why something cannot be judged once.
    static void show_verdicts(const Console& console, const LedgerAnswer& answer)
    {
        constexpr std::size_t most_shown = 5;
        std::vector<std::string> criteria;
        for (const LedgerStretch& stretch : answer.stretches)
            for (const Verdict& verdict : stretch.verdicts)
                if (std::ranges::find(criteria, verdict.criterion) == criteria.end())
                    criteria.push_back(verdict.criterion);
        for (const std::string& criterion : criteria) {
            Table table({{"stretch", false}, {"axis", false}, {"weighting", false}, {"value", true}, {"band", false}});
            std::vector<std::pair<std::string, std::vector<std::string>>> refusals; // why, of which stretches
            std::vector<std::string> notes;
            bool any = false, is_first = true;
            for (const LedgerStretch& stretch : answer.stretches)
                for (const Verdict& verdict : stretch.verdicts) {
                    if (verdict.criterion != criterion) continue;
                    if (std::exchange(is_first, false))
                        console.print(fmt::format("\n{}, {}: {} ({}), {}, {}\n", verdict.edition, verdict.clause,
                                                  verdict.title, criterion, verdict.use, verdict.position));
                    if (!verdict.judged) {
                        auto known =
                            std::ranges::find(refusals, verdict.why_not, &decltype(refusals)::value_type::first);
                        if (known == refusals.end()) known = refusals.insert(refusals.end(), {verdict.why_not, {}});
                        known->second.push_back(title_of(stretch));
                        continue;
                    }
                    any = true;
                    table.add({title_of(stretch), verdict.axis, verdict.weighting, value_text(verdict),
                               band_text(verdict) + (verdict.exceeded ? ", exceeded" : "")});
                    for (const std::string& note : verdict.notes)
                        if (std::ranges::find(notes, note) == notes.end()) notes.push_back(note);
                }
            if (any) console.print(table.text("  "));
            for (const auto& [why, stretches] : refusals) {
                std::string where;
                for (std::size_t i = 0; i < stretches.size() && i < most_shown; ++i)
                    where += (i > 0 ? ", " : "") + stretches[i];
                if (stretches.size() > most_shown) where += fmt::format(" and {} more", stretches.size() - most_shown);
                console.print(fmt::format("  {}: {}\n", where, why));
            }
            for (std::size_t i = 0; i < notes.size() && i < most_shown; ++i)
                console.print(fmt::format("  note: {}\n", notes[i]));
            if (notes.size() > most_shown) {
                const std::size_t more = notes.size() - most_shown;
                console.print(fmt::format("  {} more {}, see --json\n", more, more == 1 ? "note" : "notes"));
            }
        }
        console.print("\nComfort evaluation is no structural, machinery or health assessment. Limits come from the "
                      "editions cited; local codes,\ncontracts and licensed practice prevail.\n");
    }

    static void show(const Console& console, const LedgerAnswer& answer)
    {
        console.print(fmt::format("{}: {} s at {:.6g} Hz{}\n", answer.file, answer.seconds, answer.rate_hz,
                                  answer.start.empty() ? "" : " from " + answer.start + " on"));
        if (answer.stretches.empty()) console.print("  nothing of it lies in what was asked for\n");
        if (answer.stretches.size() == 1) {
            console.print(title_of(answer.stretches.front()) + "\n");
            show_lanes(console, answer.stretches.front().lanes);
        } else if (!answer.stretches.empty()) {
            show_rows(console, answer.stretches);
        }
        if (answer.judged_as && !answer.stretches.empty()) show_verdicts(console, answer);
        for (Finding finding : answer.findings) {
            finding.recording.clear(); // stands above
            console.print(finding);
        }
    }

    static constexpr std::string_view default_position = "floor";

    std::string folder_, json_, setting_, use_, period_, position_{default_position};
    std::vector<std::string> criteria_;
    std::optional<double> sensor_percent_;
    bool by_day_ = false, fail_on_exceedance_ = false;
    std::vector<std::string> hours_, left_out_;
    std::optional<double> from_, to_;
};

} // namespace

std::unique_ptr<Command> make_ledger_command() { return std::make_unique<LedgerCommand>(); }

} // namespace becalm::cli
