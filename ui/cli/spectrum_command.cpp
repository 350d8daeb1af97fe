#include <cmath>

#include <fmt/format.h>

#include "evaluators/spectrum.h"
#include "src/io/json_out.h"
#include "src/io/spectrogram_csv.h"
#include "ui/cli/command.h"
#include "ui/cli/lane_options.h"
#include "ui/cli/spectrum_figures.h"

namespace becalm::cli {
namespace {

class SpectrumCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("spectrum", "Spectrum, octave bands and dominant components of a recording");
        app.text("FILE", file_, "recording", Need::required);
        lanes_.declare(app, false);
        app.number("--resolution", wanted_.resolution_hz, "spacing of the bins, Hz (default 0.25)");
        app.text("--scaling", scaling_, "print every bin too: density, or amplitude (r.m.s. of a sine)");
        app.text("--as", as_, "convert to acceleration, velocity or displacement");
        app.number("--above", wanted_.above_hz,
                   "report nothing below, Hz (default with --as the greater of 3 resolutions and 0.5)");
        app.number("--running", wanted_.running_s,
                   "running levels of bands filtered in time; exponential, time constant in s (0.125 or 1)");
        app.number(
            "--row-s", wanted_.row_s,
            "length of a row, s: of peak hold and minimum (default one segment), of the spectrogram (default 1)");
        app.output("--spectrogram", spectrogram_, "write rows of one-third octaves to FILE (CSV) as they come");
        app.text("--columns", columns_, "of the spectrogram: bands (default) or bins");
        app.text("--figures", figures_, "write spectrum and one-third octaves as SVG into this folder");
        app.flag("--linear", linear_, "of the figures: a linear axis of frequency");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        return app;
    }

    int run(const Console& console) override
    {
        auto report = reported(console);
        console.end_progress();
        if (report && !figures_.empty()) {
            const auto written = write_figures(*report, figures_, linear_);
            if (!written) return give_up(console, {written.error()});
            if (json_ != "-") console.print(fmt::format("{} figures written to {}\n", written->size(), figures_));
        }
        return tell(
            console, report, json_, [&](const auto& told) { show(console, told); },
            [](const auto& told) { return io::as_json(told); }, report && report->lanes.empty() ? unusable : done);
    }

private:
    Result<evaluators::SpectrumOptions> wanted() const
    {
        const auto choice = [](const std::string& option, const std::string& given, const std::string& choices) {
            return fail({.kind = ProblemKind::usage,
                         .what = fmt::format("{} cannot be \"{}\"", option, given),
                         .remedy = "choose " + choices});
        };
        evaluators::SpectrumOptions wanted = wanted_;
        if (!as_.empty()) {
            wanted.as = motion_named(as_);
            if (!wanted.as) return choice("--as", as_, "acceleration, velocity or displacement");
        }
        if (!scaling_.empty() && scaling_ != "density" && scaling_ != "amplitude")
            return choice("--scaling", scaling_, "density or amplitude");
        wanted.amplitude = scaling_ == "amplitude";
        if (columns_ != "bands" && columns_ != "bins") return choice("--columns", columns_, "bands or bins");
        wanted.spectrogram_of_bins = columns_ == "bins";
        return wanted;
    }

    Result<SpectrumReport> reported(const Console& console) const
    {
        auto wanted = this->wanted();
        if (!wanted) return tl::unexpected(wanted.error());
        const auto options = lanes_.parse(console, "reading");
        if (!options) return tl::unexpected(options.error());
        if (spectrogram_.empty()) return evaluators::spectrum(file_, *options, *wanted);

        auto csv = io::SpectrogramCsv::create(spectrogram_);
        if (!csv) return tl::unexpected(csv.error());
        wanted->spectrogram = [&](const SpectrogramRow& row) { csv->add(row); };
        auto report = evaluators::spectrum(file_, *options, *wanted);
        if (!report || report->lanes.empty()) return report;
        if (auto finished = csv->finish(report->lanes); !finished) return tl::unexpected(finished.error());
        return report;
    }

    static void show(const Console& console, const SpectrumReport& report, const SpectrumLane& lane)
    {
        console.print(fmt::format(
            "\nchannel {}, axis {}, weighting {}: {}, {:.4g} Hz apart, Hann window, half overlapping; peak hold over "
            "rows of {:.4g} s\n",
            lane.channel, lane.axis, lane.weighting, counted(lane.segments, "segment"), lane.resolution_hz,
            lane.row_s));
        if (report.converted_to)
            console.print(fmt::format("  converted to {} in the frequency domain\n", *report.converted_to));
        if (report.from_hz > 0.0) console.print(fmt::format("  nothing below {:.4g} Hz is reported\n", report.from_hz));
        for (const auto& [bands, heading] :
             {std::pair(&lane.third_octaves, "one-third octave Hz"), std::pair(&lane.octaves, "octave Hz")}) {
            if (bands->empty()) continue;
            Table table({{heading, true}, {"r.m.s. " + lane.unit, true}});
            for (const BandLevel& band : *bands) table.add({fmt::format("{:.6g}", band.nominal_hz), number(band.rms)});
            console.print(table.text("  "));
        }
        if (report.running_s) show_running(console, *report.running_s, lane);
        if (lane.dominant.empty()) {
            console.print("  no component stands out of its surroundings\n");
            return;
        }
        Table components({{"component Hz", true},
                          {"r.m.s. " + lane.unit, true},
                          {"share of energy %", true},
                          {"above floor dB", true}});
        for (const DominantComponent& line : lane.dominant)
            components.add({fmt::format("{:.3f}", line.hz), number(line.rms),
                            fmt::format("{:.1f}", 100.0 * line.energy_share),
                            fmt::format("{:.1f}", 10.0 * std::log10(line.above_floor))});
        console.print(components.text("  "));
    }

    static void show_running(const Console& console, double time_constant_s, const SpectrumLane& lane)
    {
        Table table({{"band Hz", true},
                     {"width", false},
                     {fmt::format("greatest in {:.4g} s {}", time_constant_s, lane.unit), true},
                     {"mean " + lane.unit, true}});
        for (const RunningBandLevel& band : lane.running_bands)
            table.add(
                {fmt::format("{:.6g}", band.nominal_hz),
                 fmt::format("{}{}", band.bands_an_octave == 1 ? "octave" : "third octave", band.class_1 ? "" : " *"),
                 number(band.greatest), number(band.mean)});
        console.print(
            "  filtered in time, 6th order, averaged exponentially from rest (*: near half the rate, leaks more from "
            "below than class 1 allows)\n" +
            table.text("  "));
    }

    void show_bins(const Console& console, const SpectrumLane& lane) const
    {
        if (scaling_.empty()) return;
        const bool amplitude = scaling_ == "amplitude";
        const std::string unit = amplitude ? "r.m.s. of a sine " + lane.unit : fmt::format("({})^2/Hz", lane.unit);
        // A sine of mean square s shows s / (1.5 resolution): the Hann window's noise bandwidth.
        const auto shown = [&](double density) {
            return number(amplitude ? std::sqrt(density * 1.5 * lane.resolution_hz) : density); // not a limit: Hann
        };
        Table table({{"Hz", true}, {"mean " + unit, true}, {"greatest", true}, {"least", true}});
        for (auto k = static_cast<std::size_t>(lane.first_bin); k < lane.density.size(); ++k)
            table.add({fmt::format("{:.6g}", static_cast<double>(k) * lane.resolution_hz), shown(lane.density[k]),
                       shown(lane.greatest[k]), shown(lane.least[k])});
        console.print(table.text("  "));
    }

    void show(const Console& console, const SpectrumReport& report) const
    {
        console.print(fmt::format("{}: {:.3f} s at {:.6g} Hz\n", report.file, report.duration_s, report.rate_hz));
        for (const SpectrumLane& lane : report.lanes) {
            show(console, report, lane);
            show_bins(console, lane);
        }
        for (const Finding& finding : report.findings) console.print(finding);
    }

    std::string file_, json_, scaling_, as_, spectrogram_, figures_, columns_ = "bands";
    bool linear_ = false;
    LaneOptions lanes_;
    evaluators::SpectrumOptions wanted_;
};

} // namespace

std::unique_ptr<Command> make_spectrum_command() { return std::make_unique<SpectrumCommand>(); }

} // namespace becalm::cli
