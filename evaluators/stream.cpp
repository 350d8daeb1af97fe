#include "evaluators/stream.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <memory>

#include "evaluators/weigh.h"
#include "src/io/ledger_folder.h"

namespace becalm::evaluators {
namespace {

using Clock = std::chrono::steady_clock;
constexpr std::chrono::seconds between_commits{10};
constexpr std::chrono::milliseconds between_reports{100};

Result<std::unique_ptr<io::LedgerFolderWriter>> ledger_for(const io::RecordingInfo& info, const std::string& name,
                                                           const StreamRequest& request, std::span<const Lane> lanes)
{
    io::LedgerOrigin origin{.file = name,
                            .start = request.start.empty() ? info.start : request.start,
                            .rate_hz = info.rate_hz,
                            .lanes = {lanes.begin(), lanes.end()},
                            .recorded_unit = std::string(
                                si_unit_of(request.unit.motion, std::ranges::all_of(lanes, is_rotation, &Lane::axis)))};
    for (const Lane& lane : lanes) origin.units.emplace_back(unit_behind(lane, request.unit.motion));
    return io::LedgerFolderWriter::create(request.folder, origin);
}

std::vector<io::LedgerFolderWriter::Fitness> fitness_of(const std::vector<Finding>& findings,
                                                        std::span<const Lane> lanes)
{
    std::vector<io::LedgerFolderWriter::Fitness> fitness;
    for (const Lane& lane : lanes) {
        auto& one = fitness.emplace_back();
        for (const Finding& finding : findings) {
            // A rate that is too low concerns a lane, which has no rows then.
            if (finding.severity != Severity::refusal || finding.channel != lane.channel ||
                finding.code == "rate-too-low")
                continue;
            if (one.why_unfit.empty()) one.why_unfit = finding.message;
            one.holds_no_numbers = one.holds_no_numbers || finding.code == "not-a-number";
        }
    }
    return fitness;
}

// A year may have a fault in every other second: what lies closest together becomes one then.
std::vector<TimeSpan> whole_seconds_of(const std::vector<TimeSpan>& spans)
{
    constexpr std::size_t most = 10'000;
    std::vector<TimeSpan> seconds;
    const auto join = [&](const std::vector<TimeSpan>& all, double gap) {
        std::vector<TimeSpan> joined;
        for (const TimeSpan& span : all) {
            const TimeSpan widened{std::floor(span.from_s), std::ceil(span.to_s)};
            if (!joined.empty() && widened.from_s <= joined.back().to_s + gap)
                joined.back().to_s = std::max(joined.back().to_s, widened.to_s);
            else
                joined.push_back(widened);
        }
        return joined;
    };
    seconds = join(spans, 0.0);
    for (double gap = 1.0; seconds.size() > most; gap *= 2.0) seconds = join(seconds, gap);
    return seconds;
}

std::vector<Finding> kept_findings(std::vector<Finding> findings)
{
    for (Finding& finding : findings)
        finding.spans =
            finding.severity == Severity::refusal ? whole_seconds_of(finding.spans) : std::vector<TimeSpan>();
    return findings;
}

} // namespace

Result<WeighedFile> stream(io::StreamReader& stream, const std::string& name, const StreamRequest& request)
{
    if (auto problem = io::why_not_begun(request.folder); problem && !request.folder.empty())
        return tl::unexpected(std::move(*problem)); // before hours have come in
    for (const Lane& lane : request.lanes)
        if (auto fault = fault_of(request.unit, lane.axis)) return tl::unexpected(std::move(*fault));
    const PassRequest pass_request{.path = name,
                                   .lanes = request.lanes,
                                   .input = request.unit.motion,
                                   .to_si = request.unit.to_si * request.scale.value_or(1.0),
                                   .scale_given = request.scale.has_value(),
                                   .offset = request.offset,
                                   .hash = false};
    std::unique_ptr<io::LedgerFolderWriter> ledger;
    std::vector<Lane> lanes_kept;
    Clock::time_point committed = Clock::now(), reported = committed;
    StreamOptions options;
    if (!request.folder.empty())
        options.rows = [&](std::span<const Lane> lanes, std::span<const std::vector<LedgerRow>> rows) -> Result<void> {
            if (!ledger) {
                auto made = ledger_for(stream.info(), name, request, lanes);
                if (!made) return tl::unexpected(made.error());
                ledger = std::move(*made);
                lanes_kept.assign(lanes.begin(), lanes.end());
            }
            if (auto appended = ledger->append(rows); !appended) return appended;
            if (Clock::now() - committed < between_commits) return {};
            auto done = ledger->commit();
            committed = Clock::now();
            return done;
        };
    std::int64_t frames_done = 0;
    if (request.progress)
        options.progress = [&](std::size_t frames) {
            frames_done += static_cast<std::int64_t>(frames);
            if (Clock::now() - reported < between_reports) return;
            reported = Clock::now();
            request.progress(static_cast<double>(frames_done) / stream.info().rate_hz);
        };
    const auto pass = run_stream(stream, pass_request, options);
    if (!pass) return tl::unexpected(pass.error());
    WeighedFile file = weighed_file(name, *pass, {.unit = request.unit});
    for (const std::string& remark : pass->info.remarks)
        file.findings.push_back(
            {.severity = Severity::caution, .code = "stream", .message = remark, .recording = name});
    if (ledger)
        if (auto done = ledger->commit(fitness_of(file.findings, lanes_kept), kept_findings(file.findings)); !done)
            return tl::unexpected(done.error());
    return file;
}

} // namespace becalm::evaluators
