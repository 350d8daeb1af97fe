#include <fmt/format.h>

#include "evaluators/weigh.h"
#include "src/io/json_out.h"
#include "ui/cli/command.h"
#include "ui/cli/lane_options.h"
#include "ui/cli/weighed_table.h"

namespace becalm::cli {
namespace {

class WeighCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("weigh", "Weighted quantities of recordings, no survey needed");
        app.texts("FILE", files_, "recordings of any kind that is read (see README)", Need::required);
        lanes_.declare(app, true);
        app.flag("--bands", bands_, "one-third octaves of each channel as recorded too, up to 250 Hz");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        return app;
    }

    int run(const Console& console) override
    {
        auto options = lanes_.parse(console, "weighing");
        if (!options) {
            console.complain(options.error());
            return exit_code_of(options.error());
        }
        options->bands = bands_;
        const evaluators::WeighResult result = evaluators::weigh(files_, *options);
        console.end_progress();
        if (console.stop.stop_requested()) {
            console.complain({.kind = ProblemKind::outside_world,
                              .what = "stopped before the end",
                              .remedy = "nothing was written"});
            return unusable;
        }
        console.complain(result.problems);
        if (json_ != "-")
            for (const WeighedFile& file : result.files) show(console, file);
        if (const auto delivered = deliver(console, json_, [&] { return io::as_json(result.files); }); !delivered) {
            console.complain(delivered.error());
            return exit_code_of(delivered.error());
        }
        return exit_code(result);
    }

private:
    static void show(const Console& console, const WeighedFile& file)
    {
        if (file.lanes.empty()) return; // the complaint says it all
        console.print(fmt::format("{}: {:.3f} s at {:.6g} Hz{}\n", file.file, file.duration_s, file.rate_hz,
                                  file.from_s > 0.0 ? fmt::format(" from {:.3f} s on", file.from_s) : ""));
        show_lanes(console, file.lanes);
        if (file.total_rms)
            console.print(fmt::format("  root of the sum of squares over x, y, z: {} {}\n", number(file.total_rms),
                                      file.lanes.front().unit));
        if (file.bands) show_bands(console, *file.bands);
        for (const Finding& finding : file.findings) {
            Finding shown = finding;
            shown.recording.clear(); // stands above
            console.print(shown);
        }
    }

    static void show_bands(const Console& console, const std::vector<RecordedBands>& channels)
    {
        if (channels.empty()) return;
        if (channels.front().third_octaves.empty()) {
            console.print("  too short for one-third octaves\n");
            return;
        }
        std::vector<std::pair<std::string, bool>> columns{{"one-third octave Hz", true}};
        for (const RecordedBands& bands : channels)
            columns.push_back({fmt::format("channel {} {}", bands.channel, bands.unit), true});
        Table table(columns);
        for (std::size_t b = 0; b < channels.front().third_octaves.size(); ++b) {
            std::vector<std::string> row{fmt::format("{:.6g}", channels.front().third_octaves[b].nominal_hz)};
            for (const RecordedBands& bands : channels) row.push_back(number(bands.third_octaves[b].rms));
            table.add(row);
        }
        console.print(fmt::format("  r.m.s. as recorded, not weighted; {}, {:.4g} Hz apart, Hann window, half "
                                  "overlapping\n",
                                  counted(channels.front().segments, "segment"), channels.front().resolution_hz) +
                      table.text("  "));
    }

    static int exit_code(const evaluators::WeighResult& result)
    {
        for (const Problem& problem : result.problems)
            if (exit_code_of(problem) == bad_usage) return bad_usage;
        if (!result.problems.empty()) return unusable;
        for (const WeighedFile& file : result.files)
            for (const WeighedLane& lane : file.lanes)
                if (!lane.rms) return unusable;
        return done;
    }

    std::vector<std::string> files_;
    LaneOptions lanes_;
    std::string json_;
    bool bands_ = false;
};

} // namespace

std::unique_ptr<Command> make_weigh_command() { return std::make_unique<WeighCommand>(); }

} // namespace becalm::cli
