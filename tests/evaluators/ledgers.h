// Recordings of days and weeks as their passes would be, put together by code: nothing is filtered. A campaign is a
// survey in memory whose passes are handed over (AssessOptions::passes).
#pragma once

#include <cmath>
#include <functional>
#include <limits>
#include <map>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "evaluators/monitor.h"
#include "filters/weighting.h"

namespace becalm::evaluators::tests {

// r.m.s. of a second, counted from the recording's first sample.
using Level = std::function<double(std::int64_t second)>;

// What a steady second of this r.m.s. leaves in a ledger: every running value is the r.m.s., the peak three times it.
inline LedgerRow row_of(double rms, std::uint32_t samples)
{
    const double squares = rms * rms * samples;
    return {.samples = samples,
            .sum_squares = squares,
            .sum_fourths = 3.0 * rms * rms * squares, // as of noise
            .peak = 3.0 * rms,
            .linear_rms = rms,
            .linear_rms_within = rms,
            .exponential_rms_slow = rms,
            .exponential_rms_fast = rms,
            .raw_min = -3.0 * rms,
            .raw_max = 3.0 * rms};
}

// A scan that finds nothing wrong, but a sample that is no number where one is wanted.
inline filters::ChannelScan clean_scan(double rate_hz, std::optional<std::int64_t> lost_sample = {})
{
    filters::ChannelScan scan(rate_hz);
    std::vector<double> values(1000);
    for (std::size_t i = 0; i < values.size(); ++i) values[i] = 0.01 * std::sin(0.7 * static_cast<double>(i));
    scan.add(values.data(), values.size(), 0, 0.0);
    if (lost_sample) {
        double lost = std::numeric_limits<double>::quiet_NaN();
        scan.add(&lost, 1, *lost_sample, 0.0);
    }
    return scan;
}

struct MadeRecording {
    double rate_hz = 1000.0;
    std::int64_t seconds = 3600;
    Level level = [](std::int64_t) { return 0.01; };
    std::optional<std::int64_t> lost_sample = {};
};

inline PassResult pass_of(const MadeRecording& made, const PassRequest& request)
{
    PassResult pass{.info = {.rate_hz = made.rate_hz, .channels = 3},
                    .sha256 = "made",
                    .duration_s = static_cast<double>(made.seconds)};
    for (const Lane& lane : request.lanes) {
        LaneResult result{.lane = lane};
        result.ledger = {.lane = lane, .rate_hz = made.rate_hz};
        result.ledger.rows.reserve(static_cast<std::size_t>(made.seconds));
        for (std::int64_t second = 0; second < made.seconds; ++second)
            result.ledger.rows.push_back(row_of(made.level(second), static_cast<std::uint32_t>(made.rate_hz)));
        pass.lanes.push_back(std::move(result));
        bool is_new = true;
        for (const ChannelResult& channel : pass.channels) is_new = is_new && channel.channel != lane.channel;
        if (is_new)
            pass.channels.push_back({.channel = lane.channel, .scan = clean_scan(made.rate_hz, made.lost_sample)});
    }
    return pass;
}

// A survey of one building with its recordings.
class MadeCampaign {
public:
    MadeCampaign()
    {
        survey.path = "survey.toml";
        survey.title = "a campaign";
        survey.setting = Setting::building;
        survey.sensors.push_back({.id = "s", .uncertainty_percent = 2.0});
        survey.spaces.push_back({.id = "room", .use = "residential"});
        options.assess.jobs = 2;
        options.assess.passes = [this](std::span<const PassRequest> requests) {
            loads.push_back(requests.size());
            std::vector<Result<PassResult>> results;
            for (const PassRequest& request : requests) {
                const auto found = recordings.find(request.path);
                if (found == recordings.end())
                    results.emplace_back(tl::unexpect, Problem{.file = request.path, .what = "there is no such file"});
                else
                    results.emplace_back(pass_of(found->second, request));
            }
            return results;
        };
    }
    MadeCampaign(const MadeCampaign&) = delete;
    MadeCampaign& operator=(const MadeCampaign&) = delete;

    Recording& add(const std::string& file, const std::string& start, MadeRecording made)
    {
        recordings[file] = std::move(made);
        survey.recordings.push_back(
            {.file = file, .space = "room", .sensor = "s", .channels = {{1, Axis::z}}, .start = start, .line = 7});
        return survey.recordings.back();
    }

    // An r.m.s. of z by Wk that may be 0.05 m/s2, over the hours.
    Criterion& criterion(const std::string& id, const std::string& period = "", std::vector<ClockSpan> hours = {})
    {
        Criterion made;
        made.id = id;
        made.title = "made for the test";
        made.edition = "test";
        made.quantity = "weighted_rms";
        made.unit = "m/s2";
        made.rule = AxisRule::highest;
        made.terms = {{.axis = Axis::z, .weighting = WeightingId::Wk}};
        made.period = period;
        made.hours = std::move(hours);
        made.scales = {{.use = "any", .bands = {{.name = "quiet", .limit = 0.05}, {.name = "loud", .exceeds = true}}}};
        options.assess.criteria.push_back(id);
        return library.criteria[id] = std::move(made);
    }

    Results<MonitorReport> outcome() { return monitor(survey, library, options); }

    Survey survey = {};
    io::CriteriaLibrary library = {};
    MonitorOptions options = {};
    std::map<std::string, MadeRecording> recordings = {};
    std::vector<std::size_t> loads = {}; // recordings asked for at once
};

} // namespace becalm::evaluators::tests
