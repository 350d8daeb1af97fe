// What a hand at the window waits for: the pyramid of a recording of 10^8 samples, a frame of it at every zoom, the
// strip of a day, and the verdict after a span was left out of a survey of 60 recordings.
//
// Frames are figure, layout and painting on an image of 1600 x 900; 16 ms of them are 60 a second. "MB" of the pyramid
// is what it keeps. Files are made below the temporary folder and removed.
#include <QApplication>
#include <QElapsedTimer>
#include <QImage>
#include <QPainter>
#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <functional>
#include <random>
#include <string>
#include <unistd.h>
#include <vector>

#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include "src/io/survey_file.h"
#include "ui/desktop/sample_pyramid.h"
#include "ui/desktop/scene_painter.h"
#include "ui/desktop/session.h"
#include "ui/desktop/time_figures.h"
#include "ui/desktop/when_page.h"
#include "ui/desktop/words.h"
#include "ui/figures/layout.h"

namespace {

using namespace becalm;
using namespace becalm::desktop;
namespace fs = std::filesystem;

// A folder that goes when the program ends.
class Folder {
public:
    Folder() : path_(fs::temp_directory_path() / ("becalm-desktop-bench-" + std::to_string(::getpid())))
    {
        fs::create_directories(path_);
    }
    ~Folder() { fs::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    std::string file(const std::string& name) const { return (path_ / name).string(); }

private:
    fs::path path_;
};

const Folder& folder()
{
    static const Folder the_folder;
    return the_folder;
}

// Float WAV of the same block of noise again and again, the first sample told by `mark`; written as fast as the disk
// is.
std::string write_wav(const std::string& name, std::uint32_t rate_hz, std::uint16_t channels, std::uint32_t frames,
                      float mark)
{
    const std::string path = folder().file(name);
    std::ofstream file(path, std::ios::binary);
    const auto put = [&](auto value) { file.write(reinterpret_cast<const char*>(&value), sizeof value); };
    const std::uint32_t bytes = frames * channels * 4U;
    file.write("RIFF", 4);
    put(bytes + 50U);
    file.write("WAVEfmt ", 8);
    put(18U);
    put(std::uint16_t{3});
    put(channels);
    put(rate_hz);
    put(rate_hz * channels * 4U);
    put(static_cast<std::uint16_t>(channels * 4));
    put(std::uint16_t{32});
    put(std::uint16_t{0});
    file.write("fact", 4);
    put(4U);
    put(frames);
    file.write("data", 4);
    put(bytes);
    std::mt19937 generator(7);
    std::uniform_real_distribution<float> uniform(-0.1F, 0.1F);
    std::vector<float> block(std::size_t{1} << 20);
    for (float& value : block) value = uniform(generator);
    block.front() = mark;
    for (std::size_t left = std::size_t{frames} * channels; left > 0;) {
        const std::size_t count = std::min(left, block.size());
        file.write(reinterpret_cast<const char*>(block.data()), static_cast<std::streamsize>(count * 4));
        left -= count;
    }
    file.close();
    return file ? path : std::string();
}

// ---- a recording of 10^8 samples

constexpr std::int64_t long_frames = 100'000'000;
constexpr int long_rate_hz = 2048;

const std::string& long_recording()
{
    static const std::string path = write_wav("long.wav", long_rate_hz, 1, std::uint32_t{long_frames}, 0.2F);
    return path;
}

const SamplePyramid& long_pyramid()
{
    static const SamplePyramid pyramid = *pyramid_of(**io::open_recording(long_recording()), {});
    return pyramid;
}

void pyramid_of_1e8(benchmark::State& state)
{
    if (long_recording().empty()) return state.SkipWithError("no file");
    std::size_t bytes = 0;
    for ([[maybe_unused]] auto round : state) {
        const auto reader = io::open_recording(long_recording());
        const auto pyramid = pyramid_of(**reader, {});
        if (!pyramid) return state.SkipWithError("no pyramid");
        bytes = pyramid->bytes();
    }
    state.counters["MB"] = static_cast<double>(bytes) / 1e6;
}
BENCHMARK(pyramid_of_1e8)->Unit(benchmark::kMillisecond)->Iterations(3);

void tile_from_the_file(benchmark::State& state)
{
    const auto reader = io::open_recording(long_recording());
    std::int64_t tile = 0;
    for ([[maybe_unused]] auto round : state) {
        tile = (tile + 617) % (long_frames / SampleTiles::frames_a_tile);
        benchmark::DoNotOptimize(tile_of(**reader, {1, tile}));
    }
}
BENCHMARK(tile_from_the_file)->Unit(benchmark::kMillisecond);

// ---- frames

void draw(QImage& image, const figures::Figure& figure)
{
    image.fill(Qt::white);
    QPainter painter(&image);
    paint(painter, figures::laid_out(figure, painted_width()));
}

QImage screen() { return {1600, 900, QImage::Format_ARGB32_Premultiplied}; }

// The window moves by a quarter of itself each time.
void frame_of_samples(benchmark::State& state)
{
    const std::int64_t frames = state.range(0);
    const Recording recording{.file = "long.wav", .start = "2026-05-04T08:00:00+02:00"};
    evaluators::Measured measured{.recording = &recording};
    measured.pass.emplace();
    measured.pass->info = {.rate_hz = long_rate_hz, .channels = 1, .frames = long_frames};
    TimeMarks marks;
    for (int i = 0; i < 20; ++i) marks.excluded.push_back({i * 2000.0, i * 2000.0 + 30.0, "door slam"});
    const double whole = static_cast<double>(long_frames) / long_rate_hz;
    const auto reader = io::open_recording(long_recording());
    SampleTiles tiles;
    QImage image = screen();
    std::int64_t from = long_frames / 3;
    constexpr int columns = 1480;
    for ([[maybe_unused]] auto round : state) {
        from = std::min(from + frames / 4, long_frames - frames);
        if (from == long_frames - frames) from = 0;
        const std::int64_t step = envelope_step(frames, columns);
        if (step < SamplePyramid::finest) { // fetched by another thread
            state.PauseTiming();
            for (const SampleTiles::Key& key : tiles.missing(1, from, from + frames))
                tiles.put(key, *tile_of(**reader, key));
            state.ResumeTiming();
        }
        SamplesRequest request{.measured = measured, .channel = 1, .marks = marks};
        request.window = {static_cast<double>(from) / long_rate_hz, static_cast<double>(from + frames) / long_rate_hz,
                          whole, 0.0};
        request.envelope = step < SamplePyramid::finest ? tiles.envelope(1, from, from + frames, step)
                                                        : long_pyramid().envelope(1, from, from + frames, step);
        draw(image, samples_figure(request, image.width(), image.height()));
    }
}
BENCHMARK(frame_of_samples)
    ->Arg(long_frames)
    ->Arg(10'000'000)
    ->Arg(1'000'000)
    ->Arg(370'000)
    ->Arg(50'000)
    ->Arg(5'000)
    ->Arg(1'000)
    ->Arg(100)
    ->Unit(benchmark::kMillisecond);

void strip_of_a_day(benchmark::State& state)
{
    figures::TimeStripInput strip{.heading = {.title = "channel 1, z", .width_px = 1600.0, .height_px = 900.0},
                                  .shown = numbers_in("m/s2")};
    std::mt19937 generator(3);
    std::uniform_real_distribution<double> uniform(0.01, 0.05);
    for (int i = 0; i < 86400; ++i) {
        strip.rms.push_back(uniform(generator));
        strip.peak.push_back(3.0 * strip.rms.back());
    }
    for (int i = 0; i < 20; ++i) strip.left_out.push_back({i * 4000.0, i * 4000.0 + 60.0, "door slam"});
    QImage image = screen();
    for ([[maybe_unused]] auto round : state) draw(image, figures::time_strip_figure(strip));
}
BENCHMARK(strip_of_a_day)->Unit(benchmark::kMillisecond);

// ---- the page: a day, and from a span left out to the verdict as it is seen

// Runs the event loop until `is_so`; the longest time that it did not come round, s.
double longest_block(const std::function<bool()>& is_so)
{
    double longest = 0.0;
    QElapsedTimer timer;
    while (!is_so()) {
        QApplication::processEvents(QEventLoop::WaitForMoreEvents, 5);
        timer.restart();
        QApplication::processEvents();
        longest = std::max(longest, static_cast<double>(timer.nsecsElapsed()) / 1e9);
    }
    return longest;
}

bool has_judged(const Session& session)
{
    return !session.is_judging() && session.judgement() && session.judgement()->survey == session.document().survey();
}

// 24 h of three channels: what the window does meanwhile, and then a frame of the whole page.
void page_of_a_day(benchmark::State& state)
{
    constexpr std::uint32_t rate_hz = 256, seconds = 86400;
    static const std::string file = write_wav("day.wav", rate_hz, 3, rate_hz * seconds, 0.2F);
    static const std::string path = [] {
        std::string name = folder().file("day.toml");
        std::ofstream(name)
            << "title = \"A day\"\nsetting = \"vessel\"\n\n[[space]]\nid = \"s\"\nlabel = \"Cabin\"\n"
               "use = \"passenger-cabin\"\n\n[[recording]]\nfile = \"day.wav\"\nspace = \"s\"\n"
               "position = \"floor\"\nchannels = { 1 = \"x\", 2 = \"y\", 3 = \"z\" }\nunit = \"m/s2\"\n\n"
               "[[judge]]\ncriteria = [\"iso6954-2000\"]\n";
        return name;
    }();
    Session session({.kept = shown(folder().file("kept")), .cache = shown(folder().file("passes"))});
    WhenPage page(session);
    page.resize(1600, 900);
    page.show();
    QElapsedTimer timer;
    timer.start();
    if (file.empty() || !session.document().open(shown(path))) return state.SkipWithError("no survey");
    double blocked = static_cast<double>(timer.nsecsElapsed()) / 1e9;
    blocked = std::max(blocked, longest_block([&] { return has_judged(session); }));
    blocked = std::max(blocked, longest_block([&] { return page.has_all_samples(); }));
    state.counters["blocked_ms"] = 1e3 * blocked;
    const double length_s = static_cast<double>(state.range(0));
    QImage image = screen();
    double from_s = 1000.0;
    for ([[maybe_unused]] auto round : state) {
        from_s = from_s + 2.0 * length_s > seconds ? 0.0 : from_s + length_s / 4.0;
        page.look_at(from_s, from_s + length_s);
        page.render(&image);
    }
}
BENCHMARK(page_of_a_day)->Arg(86400)->Arg(3600)->Arg(60)->Arg(1)->Unit(benchmark::kMillisecond);

constexpr int recordings = 60;

const std::string& large_survey()
{
    static const std::string path = [] {
        std::string text = "title = \"Sixty spaces\"\nsetting = \"vessel\"\n\n"
                           "[[condition]]\nid = \"service\"\ntitle = \"Service speed\"\n";
        std::string tables;
        for (int i = 0; i < recordings; ++i) {
            const std::string name = fmt::format("r{}.wav", i);
            write_wav(name, 2048, 3, 300 * 2048, 0.001F * static_cast<float>(i));
            text += fmt::format("\n[[space]]\nid = \"s{0}\"\nlabel = \"Cabin {0}\"\nuse = \"passenger-cabin\"\n", i);
            tables += fmt::format("\n[[recording]]\nfile = \"{}\"\nspace = \"s{}\"\nposition = \"floor\"\n"
                                  "condition = \"service\"\nchannels = {{ 1 = \"x\", 2 = \"y\", 3 = \"z\" }}\n"
                                  "unit = \"m/s2\"\n",
                                  name, i);
        }
        const std::string file = folder().file("survey.toml");
        std::ofstream(file) << text << tables << "\n[[judge]]\ncriteria = [\"iso6954-2000\"]\n";
        return file;
    }();
    return path;
}

void left_out_to_verdict(benchmark::State& state)
{
    Session session({.kept = shown(folder().file("kept")), .cache = shown(folder().file("passes"))});
    QElapsedTimer timer;
    const auto wait = [&] {
        while (!has_judged(session)) QApplication::processEvents(QEventLoop::WaitForMoreEvents, 50);
    };
    WhenPage page(session);
    page.resize(1600, 900);
    page.show();
    if (!session.document().open(shown(large_survey()))) return state.SkipWithError("no survey");
    wait();
    session.judge(); // files were young when they were read first; now their passes are kept
    wait();
    double judging_s = 0.0, slowest_s = 0.0, first_s = 0.0;
    int i = 0;
    for ([[maybe_unused]] auto round : state) {
        timer.restart();
        const SurveyDocument& document = session.document();
        const std::string file = fmt::format("r{}.wav", i++ % recordings);
        session.change("leave out", io::with_exclusion(document.text(), plain(document.path()), file,
                                                       {20.0, 30.0 + i, "door slam"}));
        wait();
        page.repaint();
        const double seconds = static_cast<double>(timer.nsecsElapsed()) / 1e9;
        state.SetIterationTime(seconds);
        if (i == 1)
            first_s = seconds;
        else
            slowest_s = std::max(slowest_s, seconds);
        judging_s += session.judgement()->took_s;
    }
    state.counters["judging_ms"] = 1e3 * judging_s / static_cast<double>(state.iterations());
    state.counters["first_ms"] = 1e3 * first_s;
    state.counters["slowest_ms"] = 1e3 * slowest_s; // of the others
    (void)session.document().save();
}
BENCHMARK(left_out_to_verdict)->Unit(benchmark::kMillisecond)->UseManualTime()->Iterations(40);

} // namespace

int main(int count, char** arguments)
{
    if (qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
    QApplication application(count, arguments);
    benchmark::Initialize(&count, arguments);
    benchmark::RunSpecifiedBenchmarks();
    benchmark::Shutdown();
    return 0;
}
