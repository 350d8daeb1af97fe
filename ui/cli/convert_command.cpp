#include <filesystem>

#include <fmt/format.h>

#include "evaluators/selected_samples.h"
#include "src/io/uff_writer.h"
#include "ui/cli/command.h"
#include "ui/cli/lane_options.h"

namespace becalm::cli {
namespace {

class ConvertCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("convert", "Write channels of a recording, or a span of them, to another file");
        app.text("FILE", file_, "recording", Need::required);
        lanes_.declare_selection(app);
        app.output("--uff", uff_, "universal file to write (dataset 58b, SI units, double precision)");
        return app;
    }

    int run(const Console& console) override
    {
        const auto done = converted(console);
        console.end_progress();
        return done ? ExitCode::done : give_up(console, {done.error()});
    }

private:
    Result<void> converted(const Console& console) const
    {
        if (uff_.empty())
            return fail({.kind = ProblemKind::usage,
                         .what = "it is not said what to write",
                         .remedy = "name a file: --uff OUT.uff"});
        const auto options = lanes_.parse(console, "writing");
        if (!options) return tl::unexpected(options.error());
        auto reader = evaluators::SelectedReader::open(file_, *options);
        if (!reader) return tl::unexpected(reader.error());
        io::UffLayout layout{.rate_hz = reader->rate_hz(),
                             .frames = static_cast<std::int64_t>(reader->frames()),
                             .from_s = reader->from_s(),
                             .title = std::filesystem::path(file_).filename().string(),
                             .start = reader->info().start};
        for (const ChannelOfReport& channel : reader->channels())
            layout.channels.push_back({.name = channel.name.value_or(""),
                                       .node = channel.channel,
                                       .axis = channel.axis.value_or(""),
                                       .motion = options->unit.motion,
                                       .rotates = options->unit.rotates});
        auto writer = io::UffWriter::create(uff_, layout);
        if (!writer) return tl::unexpected(writer.error());
        // The file holds channel behind channel: one reading for each, so that memory does not grow.
        const std::size_t channels = layout.channels.size();
        for (std::size_t c = 0; c < channels; ++c) {
            const auto share = [&](std::size_t of) { return static_cast<double>(of) / static_cast<double>(channels); };
            const auto read =
                reader->read([&](std::span<const std::span<const double>> blocks) { writer->add(blocks[c]); }, share(c),
                             share(c + 1));
            if (!read) return read;
        }
        if (auto finished = writer->finish(); !finished) return finished;
        console.print(fmt::format("{}: {} channel{}, {:.6g} s at {:.9g} Hz, {}\n", uff_, channels,
                                  channels == 1 ? "" : "s", reader->duration_s(), reader->rate_hz(),
                                  si_unit_of(options->unit.motion, options->unit.rotates)));
        if (const double kept = io::rate_kept_by_uff(reader->rate_hz()); kept != reader->rate_hz())
            console.print(fmt::format("  The file keeps the sampling interval to seven digits: {:.9g} Hz.\n", kept));
        return {};
    }

    std::string file_, uff_;
    LaneOptions lanes_;
};

} // namespace

std::unique_ptr<Command> make_convert_command() { return std::make_unique<ConvertCommand>(); }

} // namespace becalm::cli
