#include <algorithm>
#include <charconv>
#include <utility>

#include <fmt/format.h>

#include "evaluators/ledger_questions.h"
#include "src/io/json_out.h"
#include "ui/cli/clock_text.h"
#include "ui/cli/command.h"
#include "ui/cli/lane_options.h"
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
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        return app;
    }

    int run(const Console& console) override
    {
        const auto question = parse();
        if (!question) return give_up(console, {question.error()});
        const auto ledger = io::LedgerFolder::open(folder_);
        if (!ledger) return give_up(console, {ledger.error()});
        const auto report = evaluators::answer(*ledger, *question);
        return tell(
            console, report, json_, [&](const LedgerAnswer& answer) { show(console, answer); },
            [](const LedgerAnswer& answer) { return io::as_json(answer); },
            report && !report->stretches.empty() ? done : unusable);
    }

private:
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
        for (Finding finding : answer.findings) {
            finding.recording.clear(); // stands above
            console.print(finding);
        }
    }

    std::string folder_, json_;
    bool by_day_ = false;
    std::vector<std::string> hours_, left_out_;
    std::optional<double> from_, to_;
};

} // namespace

std::unique_ptr<Command> make_ledger_command() { return std::make_unique<LedgerCommand>(); }

} // namespace becalm::cli
