// How the cost of a pass grows with samples and with lanes: bench_scaling FOLDER writes scaling.svg and scaling.csv
// there.
//
//   samples   3 lanes (x and y under Wd, z under Wk) of 1 min to 24 h at 1 kHz
//   lanes     1 to 64 of 10 min at 1 kHz: 16 channels, all of them read, under Wk, then under Wd, Wb and Wm too
//
// Processor time of one thread, the best of three, reading the file and laying it beside each other in it; without the
// hash. Up to eight lanes run side by side in one vector, so the cost of a lane falls until a vector is full. A
// recording of many hours is one of an hour, told to come many times.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <limits>
#include <random>
#include <string>
#include <unistd.h>
#include <vector>

#include <fmt/format.h>

#include "evaluators/pass.h"
#include "ui/figures/svg.h"

namespace {

using namespace becalm;
namespace fs = std::filesystem;

constexpr int rate_hz = 1000;
constexpr int hour_s = 3600;
constexpr int lanes_beside = 8;

struct Measured {
    double seconds = 0.0;
    int lanes = 0;
    double processor_s = 0.0;

    double ns_a_lane_sample() const { return processor_s / (seconds * rate_hz * lanes) * 1e9; }
};

double processor_s()
{
    timespec now{};
    ::clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

void write_noise(const fs::path& path, int channels, int seconds)
{
    std::mt19937 random(7);
    std::normal_distribution<float> value(0.0F, 0.1F);
    std::vector<float> values(static_cast<std::size_t>(channels) * rate_hz);
    std::ofstream out(path, std::ios::binary);
    for (int s = 0; s < seconds; ++s) {
        for (float& x : values) x = value(random);
        out.write(reinterpret_cast<const char*>(values.data()),
                  static_cast<std::streamsize>(values.size() * sizeof(float)));
    }
}

// A description of `file` so many times, one after the other.
std::string described(const fs::path& folder, const std::string& file, int channels, int times)
{
    const fs::path path = folder / fmt::format("{}-{}.recording.toml", file, times);
    std::ofstream out(path);
    out << "[becalm-recording]\nfiles = [";
    for (int i = 0; i < times; ++i) out << (i > 0 ? ", " : "") << '"' << file << '"';
    out << fmt::format("]\nnumbers = \"float32\"\nchannels = {}\nrate_hz = {}.0\n", channels, rate_hz);
    return path.string();
}

bool measure(evaluators::PassRequest request, Measured& measured)
{
    request.hash = false;
    measured.lanes = static_cast<int>(request.lanes.size());
    measured.processor_s = std::numeric_limits<double>::infinity();
    for (int round = 0; round < 3; ++round) {
        const double begin = processor_s();
        const auto result = evaluators::run_passes(std::span(&request, 1), {.jobs = 1});
        if (!result[0]) {
            std::fputs((to_text(result[0].error()) + "\n").c_str(), stderr);
            return false;
        }
        measured.seconds = result[0]->duration_s;
        measured.processor_s = std::min(measured.processor_s, processor_s() - begin);
    }
    std::printf("%8.0f s  %3d lanes  %8.3f s of processor  %6.2f ns a lane-sample\n", measured.seconds, measured.lanes,
                measured.processor_s, measured.ns_a_lane_sample());
    std::fflush(stdout);
    return true;
}

figures::Figure figure_of(const std::vector<Measured>& by_samples, const std::vector<Measured>& by_lanes)
{
    using namespace figures;
    // Straight through the longest, and what the vectors of eight cost at the price of full ones.
    const Measured& longest = by_samples.back();
    const auto full = std::ranges::min_element(by_lanes, {}, &Measured::ns_a_lane_sample);

    Series time{.words = "measured", .form = SeriesForm::points, .ink = Ink::first};
    Series linear{.words = "in proportion to 24 h", .ink = Ink::second, .dash = Dash::dashed};
    for (const Measured& one : by_samples) {
        time.x.listed.push_back(one.seconds / hour_s);
        time.values.push_back(one.processor_s);
        linear.x.listed.push_back(one.seconds / hour_s);
        linear.values.push_back(longest.processor_s * one.seconds / longest.seconds);
    }
    Series cost{.words = "measured", .form = SeriesForm::points, .ink = Ink::first};
    Series vectors{.words = "whole vectors of eight", .ink = Ink::second, .dash = Dash::dashed};
    for (const Measured& one : by_lanes) {
        cost.x.listed.push_back(one.lanes);
        cost.values.push_back(one.ns_a_lane_sample());
    }
    for (int lanes = 1; lanes <= by_lanes.back().lanes; ++lanes) {
        const int beside = (lanes + lanes_beside - 1) / lanes_beside * lanes_beside;
        vectors.x.listed.push_back(lanes);
        vectors.values.push_back(full->ns_a_lane_sample() * beside / lanes);
    }
    Figure figure{.width_px = 800.0, .height_px = 620.0, .title = "What a pass costs, one thread"};
    const auto panel = [&](const char* words, const PlotAxis& x, const PlotAxis& y, std::vector<Series> series) {
        Plot plot;
        plot.x = x;
        plot.y = y;
        plot.series = std::move(series);
        Panel& added = figure.panels.emplace_back();
        added.words = words;
        added.content = std::move(plot);
    };
    const auto axis = [](AxisKind kind, const char* words, const char* unit) {
        PlotAxis one;
        one.kind = kind;
        one.words = words;
        one.numbers.unit = unit;
        return one;
    };
    const auto reaching = [](PlotAxis one, const Series& over) { // a little further than its marks
        one.from = over.x.listed.front() / 1.2;
        one.to = over.x.listed.back() * 1.2;
        return one;
    };
    panel("3 lanes of a recording at 1 kHz", reaching(axis(AxisKind::logarithmic, "duration", "h"), time),
          axis(AxisKind::logarithmic, "processor time", "s"), {linear, time});
    PlotAxis of_lanes = axis(AxisKind::linear, "time a lane-sample", "ns");
    of_lanes.from = 0.0;
    panel("10 min of 16 channels at 1 kHz", reaching(axis(AxisKind::logarithmic, "lanes", ""), cost), of_lanes,
          {vectors, cost});
    figure.notes = {
        "A lane takes its share of reading and laying beside each other, and of the scan of each channel in use, "
        "up to 16 of them; eight lanes run side by side."};
    return figure;
}

} // namespace

int main(int count, char** arguments)
{
    if (count != 2) {
        std::fputs("usage: bench_scaling FOLDER\n", stderr);
        return 2;
    }
    const fs::path work = fs::temp_directory_path() / fmt::format("becalm-scaling-{}", ::getpid());
    fs::create_directories(work);
    std::vector<Measured> by_samples, by_lanes;
    bool sound = true;
    write_noise(work / "minute.bin", 3, 60);
    write_noise(work / "hour.bin", 3, hour_s);
    for (const auto& [file, times] :
         {std::pair{"minute.bin", 1}, std::pair{"minute.bin", 3}, std::pair{"minute.bin", 10},
          std::pair{"minute.bin", 30}, std::pair{"hour.bin", 1}, std::pair{"hour.bin", 3}, std::pair{"hour.bin", 8},
          std::pair{"hour.bin", 24}})
        sound = sound && measure({.path = described(work, file, 3, times),
                                  .lanes = {{1, Axis::x, WeightingId::Wd},
                                            {2, Axis::y, WeightingId::Wd},
                                            {3, Axis::z, WeightingId::Wk}}},
                                 by_samples.emplace_back());
    constexpr int channels = 16;
    write_noise(work / "many.bin", channels, 600);
    const std::string many = described(work, "many.bin", channels, 1);
    for (const int lanes : {1, 2, 3, 4, 5, 6, 8, 9, 12, 16, 20, 24, 32, 40, 48, 64}) {
        evaluators::PassRequest request{.path = many};
        for (int l = 0; l < lanes; ++l) {
            constexpr std::array weightings{WeightingId::Wk, WeightingId::Wd, WeightingId::Wb, WeightingId::Wm};
            request.lanes.push_back({l % channels + 1, Axis::z, weightings[static_cast<std::size_t>(l / channels)]});
        }
        sound = sound && measure(request, by_lanes.emplace_back());
    }
    fs::remove_all(work);
    if (!sound) return 1;

    std::ofstream csv(fs::path(arguments[1]) / "scaling.csv");
    csv << "seconds,lanes,processor_s,ns_a_lane_sample\n";
    for (const auto* list : {&by_samples, &by_lanes})
        for (const Measured& one : *list)
            csv << fmt::format("{:.0f},{},{:.4f},{:.3f}\n", one.seconds, one.lanes, one.processor_s,
                               one.ns_a_lane_sample());
    std::ofstream svg(fs::path(arguments[1]) / "scaling.svg", std::ios::binary);
    svg << figures::svg_of(figure_of(by_samples, by_lanes));
    csv.flush();
    svg.flush();
    return csv && svg ? 0 : 1;
}
