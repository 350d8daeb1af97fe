#include <algorithm>
#include <cmath>
#include <filesystem>

#include <fmt/format.h>

#include "evaluators/history.h"
#include "src/io/atomic_file.h"
#include "src/io/history_csv.h"
#include "src/io/json_out.h"
#include "ui/cli/command.h"
#include "ui/cli/lane_options.h"
#include "ui/figures/builders.h"
#include "ui/figures/svg.h"
#include "ui/figures/thinning.h"

namespace becalm::cli {
namespace {

// Thinned as they come.
class HistoryFigure {
public:
    void add(const HistoryReport& about, const HistoryRows& rows)
    {
        if (lines_.empty())
            lines_.assign(
                rows.series.size(),
                figures::RunningLine(about.from_s, 1.0 / about.rate_hz,
                                     static_cast<std::size_t>(std::llround(about.duration_s * about.rate_hz))));
        for (std::size_t s = 0; s < lines_.size(); ++s) lines_[s].add(rows.series[s]);
    }

    std::string svg(const HistoryReport& report) const
    {
        figures::TimeHistoryInput input{.from_s = report.from_s, .to_s = report.from_s + report.duration_s};
        input.heading = {.title = "Time histories",
                         .subtitle = std::filesystem::path(report.file).filename().string(),
                         .notes = {filters_of(report)}};
        const std::size_t quantities = report.channels.front().quantities.size();
        input.heading.height_px = 120.0 + 230.0 * static_cast<double>(quantities);
        for (std::size_t m = 0; m < quantities; ++m) {
            figures::HistoryPanel panel{.quantity = report.channels.front().quantities[m].motion};
            panel.shown.unit = shown_unit(report.channels.front().quantities[m].unit);
            double greatest = 0.0;
            for (std::size_t c = 0; c < report.channels.size(); ++c) {
                const figures::RunningLine& line = lines_[c * quantities + m];
                panel.traces.push_back({.words = words_of(report.channels[c].channel), .x = line.x()});
                panel.traces.back().values = line.values();
                for (const double value : line.values()) greatest = std::max(greatest, std::abs(value));
            }
            // The greatest reads between 1 and 1,000.
            for (const auto& [prefix, factor] : {std::pair("m", 1e3), std::pair("µ", 1e6), std::pair("n", 1e9)})
                if (greatest > 0.0 && greatest * panel.shown.shown_per_unit < 1.0) {
                    panel.shown.shown_per_unit = factor;
                    panel.shown.unit = prefix + shown_unit(report.channels.front().quantities[m].unit);
                }
            input.panels.push_back(std::move(panel));
        }
        if (report.settled_from_s > report.from_s)
            input.left_out = {{report.from_s, report.settled_from_s, "not settled"},
                              {report.settled_to_s, report.from_s + report.duration_s, "not settled"}};
        return figures::svg_of(figures::time_history_figure(input));
    }

    static std::string filters_of(const HistoryReport& report)
    {
        std::string words;
        for (const auto& [name, filter] :
             {std::pair("high-pass", report.high_pass), std::pair("low-pass", report.low_pass)})
            if (filter)
                words += fmt::format("{}{} {:.4g} Hz (order {})", words.empty() ? "" : ", ", name, filter->hz,
                                     filter->order);
        if (words.empty()) return "the mean taken away";
        words += ", Butterworth without phase, -3 dB";
        if (report.nothing_below_hz > 0.0) words += fmt::format("; nothing below {:.3g} Hz", report.nothing_below_hz);
        return words;
    }

private:
    static std::string words_of(const ChannelOfReport& channel)
    {
        return fmt::format("channel {}{}{}", channel.channel, channel.name ? " " + *channel.name : "",
                           channel.axis ? " " + *channel.axis : "");
    }

    static std::string shown_unit(std::string unit)
    {
        if (unit.ends_with("s2")) unit.replace(unit.size() - 1, 1, "²");
        return unit;
    }

    std::vector<figures::RunningLine> lines_;
};

class HistoryCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("history", "Acceleration, velocity and displacement of a recording over time");
        app.text("FILE", file_, "recording", Need::required);
        lanes_.declare_selection(app);
        app.text("--as", as_, "of acceleration, velocity and displacement, separated by commas (default all)");
        app.number("--high-pass", wanted_.high_pass_hz,
                   "lower limit, Hz, -3 dB; an integration needs one, below the motion and above the sensor's drift");
        app.number("--low-pass", wanted_.low_pass_hz, "upper limit, Hz, -3 dB");
        app.number("--order", order_, "of both filters, Butterworth: 6 dB an octave each (default 4)");
        app.output("--csv", csv_, "write time and a column a channel and quantity to FILE as they come");
        app.output("--figure", figure_, "draw the time histories to FILE (SVG)");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        return app;
    }

    int run(const Console& console) override
    {
        auto report = reported(console);
        console.end_progress();
        return tell(
            console, report, json_, [&](const auto& told) { show(console, told); },
            [](const auto& told) { return io::as_json(told); });
    }

private:
    Result<evaluators::HistoryOptions> wanted() const
    {
        evaluators::HistoryOptions wanted = wanted_;
        if (!as_.empty()) wanted.as.clear();
        for (const std::string& name : as_.empty() ? std::vector<std::string>{} : split(as_, ',')) {
            const auto motion = motion_named(name);
            if (!motion || std::ranges::find(wanted.as, *motion) != wanted.as.end())
                return fail(
                    {.kind = ProblemKind::usage,
                     .what = fmt::format("--as cannot be \"{}\"", as_),
                     .remedy = "name each of acceleration, velocity and displacement once, separated by commas"});
            wanted.as.push_back(*motion);
        }
        if (!(order_ >= 1.0 && order_ <= 16.0) || order_ != std::floor(order_))
            return fail({.kind = ProblemKind::usage,
                         .what = fmt::format("a filter of order {:.6g}", order_),
                         .remedy = "choose a whole number from 1 to 16"});
        wanted.order = static_cast<int>(order_);
        return wanted;
    }

    Result<HistoryReport> reported(const Console& console) const
    {
        auto wanted = this->wanted();
        if (!wanted) return tl::unexpected(wanted.error());
        const auto options = lanes_.parse(console, "reading");
        if (!options) return tl::unexpected(options.error());
        std::optional<io::HistoryCsv> csv;
        if (!csv_.empty()) {
            auto created = io::HistoryCsv::create(csv_);
            if (!created) return tl::unexpected(created.error());
            csv.emplace(std::move(*created));
        }
        HistoryFigure figure;
        wanted->rows = [&](const HistoryReport& about, const HistoryRows& rows) {
            if (csv) csv->add(about, rows);
            if (!figure_.empty()) figure.add(about, rows);
        };
        auto report = evaluators::history(file_, *options, *wanted);
        if (!report) return report;
        std::vector<std::unique_ptr<io::AtomicFile>> files;
        if (csv) {
            auto file = csv->release();
            if (!file) return tl::unexpected(file.error());
            files.push_back(*std::move(file));
        }
        if (!figure_.empty()) {
            auto file = io::AtomicFile::create(figure_);
            if (!file) return tl::unexpected(file.error());
            files.push_back(*std::move(file));
            if (auto written = files.back()->append(figure.svg(*report)); !written)
                return tl::unexpected(written.error());
        }
        if (auto committed = io::commit_all(files); !committed) return tl::unexpected(committed.error());
        return report;
    }

    static void show(const Console& console, const HistoryReport& report)
    {
        console.print(fmt::format("{}: {:.3f} s at {:.6g} Hz, {}\n", report.file, report.duration_s, report.rate_hz,
                                  report.recorded));
        console.print("  " + HistoryFigure::filters_of(report) + "\n");
        console.print(fmt::format("  values from {:.3f} s to {:.3f} s of the recording\n", report.settled_from_s,
                                  report.settled_to_s));
        Table table({{"channel", true},
                     {"axis", false},
                     {"quantity", false},
                     {"r.m.s.", true},
                     {"peak", true},
                     {"at s", true},
                     {"peak to peak", true},
                     {"crest factor", true},
                     {"unit", false}});
        for (const HistoryOfChannel& one : report.channels)
            for (const HistoryQuantity& quantity : one.quantities)
                table.add({fmt::format("{}", one.channel.channel), one.channel.axis.value_or("-"), quantity.motion,
                           number(quantity.rms), number(quantity.peak), fmt::format("{:.3f}", quantity.peak_at_s),
                           number(quantity.peak_to_peak), number(quantity.crest_factor), quantity.unit});
        console.print(table.text("  "));
        for (const Finding& finding : report.findings) console.print(finding);
    }

    std::string file_, as_, csv_, figure_, json_;
    double order_ = 4.0;
    LaneOptions lanes_;
    evaluators::HistoryOptions wanted_;
};

} // namespace

std::unique_ptr<Command> make_history_command() { return std::make_unique<HistoryCommand>(); }

} // namespace becalm::cli
