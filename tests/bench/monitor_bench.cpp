// A year of one point with three channels at 1 kHz, judged by day and by night: 31.5 million rows of a second and lane,
// put together by code and held in memory. "judge" is the question alone, from ledgers that lie there; "from_cache"
// reads them from entries of a cache first, a file a day, four weeks at most (1.2 GB), as `becalm monitor` does.
//
// "rows" is rows a second, of all lanes. BECALM_BENCH_DAYS takes another number of days than 365.
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <unistd.h>
#include <vector>

#include <benchmark/benchmark.h>
#include <sys/resource.h>

#include "evaluators/pass_cache.h"

#include "tests/evaluators/ledgers.h"

namespace {

using namespace becalm;
using evaluators::tests::MadeCampaign;
using evaluators::tests::MadeRecording;

constexpr std::int64_t day_s = 86400;

int days()
{
    const char* const wanted = std::getenv("BECALM_BENCH_DAYS");
    return wanted == nullptr ? 365 : std::atoi(wanted);
}

double level(std::int64_t second) { return 0.01 * (1.0 + 0.5 * std::sin(1e-4 * static_cast<double>(second))); }

void three_axes(MadeCampaign& campaign, Recording& recording)
{
    recording.channels = {{1, Axis::x}, {2, Axis::y}, {3, Axis::z}};
    if (!campaign.library.criteria.empty()) return;
    for (const auto& [id, hours] : {std::pair("by-day", ClockSpan{360, 1320}), {"by-night", ClockSpan{1320, 360}}}) {
        Criterion& criterion = campaign.criterion(id, id + 3, {hours});
        criterion.terms = {{.axis = Axis::x, .weighting = WeightingId::Wd},
                           {.axis = Axis::y, .weighting = WeightingId::Wd},
                           {.axis = Axis::z, .weighting = WeightingId::Wk}};
    }
}

void tell(benchmark::State& state, double rows)
{
    state.counters["rows"] =
        benchmark::Counter(rows * static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
    rusage usage{};
    ::getrusage(RUSAGE_SELF, &usage);
    state.counters["greatest_MB"] = static_cast<double>(usage.ru_maxrss) / 1024.0;
}

// One recording of all of it, whose passes are lent and taken back: the question alone.
void judge(benchmark::State& state)
{
    MadeCampaign campaign;
    three_axes(campaign, campaign.add("year.wav", "2026-01-01T00:00:00Z",
                                      {.seconds = static_cast<std::int64_t>(days()) * day_s, .level = level}));
    campaign.options.assess.jobs = static_cast<int>(state.range(0));
    campaign.options.by = state.range(1) == 0 ? MonitorBy::day : MonitorBy::hour;
    const auto make = campaign.options.assess.passes;
    bool faulty = false;
    for ([[maybe_unused]] auto round : state) {
        campaign.options.assess.passes = [&](std::span<const evaluators::PassRequest> asked) {
            state.PauseTiming();
            std::vector<evaluators::PassRequest> requests(asked.begin(), asked.end());
            for (auto& request : requests) // none is looked at
                std::erase_if(request.lanes, [](const Lane& lane) { return lane.weighting == WeightingId::none; });
            auto passes = make(requests);
            for (std::size_t i = 0; i < passes.size(); ++i)
                for (const Lane& lane : asked[i].lanes)
                    if (lane.weighting == WeightingId::none) passes[i]->lanes.push_back({.lane = lane});
            state.ResumeTiming();
            return passes;
        };
        const auto report = campaign.outcome();
        faulty = faulty || !report || report->series.size() != 2;
    }
    if (faulty) return state.SkipWithError("no report");
    tell(state, 3.0 * static_cast<double>(days()) * static_cast<double>(day_s));
}

// A file a day through the cache's own bytes.
void from_cache(benchmark::State& state)
{
    const auto folder = std::filesystem::temp_directory_path() / ("becalm-bench-" + std::to_string(::getpid()));
    std::filesystem::create_directories(folder);
    const int count = std::min(days(), 28);
    MadeCampaign campaign;
    for (int i = 0; i < count; ++i) {
        const std::chrono::year_month_day date{std::chrono::sys_days(std::chrono::year(2026) / 1 / 1) +
                                               std::chrono::days(i)};
        three_axes(campaign,
                   campaign.add(fmt::format("{:03}.wav", i),
                                fmt::format("{}-{:02}-{:02}T00:00:00Z", static_cast<int>(date.year()),
                                            static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day())),
                                {.seconds = day_s, .level = level}));
    }
    const std::string blobs = (folder / "blobs").string();
    {
        store::Cache cache(blobs, "bench");
        cache.keep_everything();
        const auto make = campaign.options.assess.passes;
        const evaluators::PassRequest request{.path = "000.wav",
                                              .lanes = {{1, Axis::x, WeightingId::Wd},
                                                        {2, Axis::y, WeightingId::Wd},
                                                        {3, Axis::z, WeightingId::Wk},
                                                        {1, Axis::x, WeightingId::none},
                                                        {2, Axis::y, WeightingId::none},
                                                        {3, Axis::z, WeightingId::none}}};
        const std::string bytes = evaluators::bytes_of(*make(std::span(&request, 1)).front());
        for (int i = 0; i < count; ++i) cache.store(fmt::format("{:03}.wav", i), bytes);
    }
    bool faulty = false;
    for ([[maybe_unused]] auto round : state) {
        store::Cache cache(blobs, "bench");
        campaign.options.assess.passes = [&](std::span<const evaluators::PassRequest> asked) {
            std::vector<Result<evaluators::PassResult>> passes(asked.size()); // one that is lost has no rows
            for (std::size_t i = 0; i < asked.size(); ++i)
                if (auto pass = evaluators::pass_from(cache.load(asked[i].path))) *passes[i] = std::move(*pass);
            return passes;
        };
        const auto report = campaign.outcome();
        faulty = faulty || !report || report->series.size() != 2 || report->series[0].summary.judged != count;
    }
    std::filesystem::remove_all(folder);
    if (faulty) return state.SkipWithError("no report");
    tell(state, 3.0 * static_cast<double>(count) * static_cast<double>(day_s));
}

BENCHMARK(from_cache)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(judge)
    ->ArgNames({"jobs", "hours"})
    ->Args({1, 0})
    ->Args({2, 0})
    ->Args({2, 1})
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->Iterations(2);

} // namespace
