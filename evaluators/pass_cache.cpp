#include "evaluators/pass_cache.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <mutex>
#include <optional>
#include <thread>

#include <fmt/format.h>

#include "filters/lane_kernel.h"
#include "src/io/file_hash.h"
#include "src/io/recording_path.h"
#include "src/store/archive.h"

// ---- what an entry consists of ----

namespace becalm::store {

void serialize(auto& archive, Of<io::ChannelFacts> auto& facts)
{
    auto& [unit, scale, sensor, serial, sensitivity, calibrated, direction, teds] = facts;
    archive(unit, scale, sensor, serial, sensitivity, calibrated, direction, teds);
}

void serialize(auto& archive, Of<io::TimeGap> auto& gap)
{
    auto& [at_s, lasts_s] = gap;
    archive(at_s, lasts_s);
}

void serialize(auto& archive, Of<io::TimedRate> auto& rate)
{
    auto& [hz, relative, by] = rate;
    archive(hz, relative, by);
}

void serialize(auto& archive, Of<io::RecordingInfo> auto& info)
{
    auto& [format, rate_hz, channels, frames, integer_pcm, step, seekable, names, unit, start, facts, remarks,
           resampled, files, timed_rate, gaps] = info;
    archive(format, rate_hz, channels, frames, integer_pcm, step, seekable, names, unit, start, facts, remarks,
            resampled, files, timed_rate, gaps);
}

void serialize(auto& archive, Of<Problem> auto& problem)
{
    auto& [kind, file, line, column, key, what, remedy] = problem;
    archive(kind, file, line, column, key, what, remedy);
}

void serialize(auto& archive, Of<Ledger> auto& ledger)
{
    auto& [lane, rate_hz, first_second, rows] = ledger;
    archive(lane, rate_hz, first_second, rows);
}

void serialize(auto& archive, Of<evaluators::LaneSpectrum> auto& spectrum)
{
    auto& [resolution_hz, segments, density, row_segments, rows, greatest, least] = spectrum;
    archive(resolution_hz, segments, density, row_segments, rows, greatest, least);
}

void serialize(auto& archive, Of<SpectralRow> auto& row)
{
    auto& [from_s, to_s, segments, density] = row;
    archive(from_s, to_s, segments, density);
}

void serialize(auto& archive, Of<ChannelSpectra> auto& spectra)
{
    auto& [resolution_hz, rate_hz, rows] = spectra;
    archive(resolution_hz, rate_hz, rows);
}

void serialize(auto& archive, Of<MotionSeries> auto& motion)
{
    auto& [bin_s, bins] = motion;
    archive(bin_s, bins);
}

void serialize(auto& archive, Of<evaluators::LaneSwings> auto& swings)
{
    auto& [refused, list] = swings;
    archive(refused, list);
}

void serialize(auto& archive, Of<evaluators::LaneResult> auto& result)
{
    auto& [lane, refused, tally, ledger, spectrum, swings] = result;
    archive(lane, refused, tally, ledger, spectrum, swings);
}

void serialize(auto& archive, Of<filters::ChannelScan> auto& scan) { filters::ChannelScan::serialize(archive, scan); }

void serialize(auto& archive, Of<filters::FaultScan> auto& scan) { filters::FaultScan::serialize(archive, scan); }

void serialize(auto& archive, Of<evaluators::ChannelResult> auto& result)
{
    auto& [channel, offset, scan, faults, spectra, motion] = result;
    archive(channel, offset, scan, faults, spectra, motion);
}

void serialize(auto& archive, Of<evaluators::PassResult> auto& result)
{
    auto& [info, sha256, from_s, duration_s, lanes, channels] = result;
    archive(info, sha256, from_s, duration_s, lanes, channels);
}

} // namespace becalm::store

namespace becalm::evaluators {

extern const char* const engine_fingerprint; // made when the program is built: evaluators/CMakeLists.txt

namespace {

// To the last bit.
std::string exactly(std::optional<double> value) { return value ? fmt::format("{:a}", *value) : "none"; }

// All that the numbers of a lane or channel depend on but what is asked of it. A field more of PassRequest does not
// compile before it is told here, or known not to matter.
std::string key_of(const PassRequest& request, const std::string& sha256)
{
    const auto& [path, read, lanes, input, to_si, scale_given, offset, span, keep_rows, resolution_hz, spectrum_row_s,
                 spectra_channels, whole_spectra, motion_channels, swing_lanes, hash] = request;
    const auto& [rate_hz, part, resample_hz, samples] = read;
    BECALM_ASSERT(!samples); // of which no file tells when they change
    const auto& [from_s, to_s] = span;
    const std::string named = io::recording_path(path).part;
    return fmt::format("{}; part {:?}; read at {}, put onto {}; {} times {}, {}; offset {}; from {} to {}; {}; spectra "
                       "{} in rows of {}{}",
                       sha256, named.empty() ? part : named, exactly(rate_hz), exactly(resample_hz), name_of(input),
                       exactly(to_si), scale_given ? "scaled" : "as it is", static_cast<int>(offset), exactly(from_s),
                       exactly(to_s), keep_rows ? "rows" : "no rows", exactly(resolution_hz), exactly(spectrum_row_s),
                       whole_spectra ? "; whole" : "");
}

template <class Result>
auto* lane_in(Result& result, const Lane& lane)
{
    const auto found = std::ranges::find(result.lanes, lane, &LaneResult::lane);
    return found != result.lanes.end() ? &*found : nullptr;
}

template <class Result>
auto* channel_in(Result& result, int channel)
{
    const auto found = std::ranges::find(result.channels, channel, &ChannelResult::channel);
    return found != result.channels.end() ? &*found : nullptr;
}

bool names(const auto& list, const auto& wanted) { return std::ranges::find(list, wanted) != list.end(); }

// Takes away from a request what an entry has.
void leave_out(PassRequest& request, const PassResult& entry)
{
    std::erase_if(request.swing_lanes, [&](const Lane& lane) {
        const LaneResult* found = lane_in(entry, lane);
        return found != nullptr && found->swings;
    });
    std::erase_if(request.lanes, [&](const Lane& lane) {
        return lane_in(entry, lane) != nullptr && !names(request.swing_lanes, lane);
    });
    std::erase_if(request.spectra_channels, [&](int channel) {
        const ChannelResult* found = channel_in(entry, channel);
        return found != nullptr && found->spectra;
    });
    std::erase_if(request.motion_channels, [&](int channel) {
        const ChannelResult* found = channel_in(entry, channel);
        return found != nullptr && found->motion;
    });
}

bool asks_for_nothing(const PassRequest& request)
{
    return request.lanes.empty() && request.spectra_channels.empty() && request.motion_channels.empty();
}

// Takes over what `more`, of the same recording, has beyond it.
void add(PassResult& result, PassResult more)
{
    for (LaneResult& lane : more.lanes) {
        LaneResult* mine = lane_in(result, lane.lane);
        if (mine == nullptr)
            result.lanes.push_back(std::move(lane));
        else if (!mine->swings)
            mine->swings = std::move(lane.swings);
    }
    for (ChannelResult& channel : more.channels) {
        ChannelResult* mine = channel_in(result, channel.channel);
        if (mine == nullptr) {
            result.channels.push_back(std::move(channel));
            continue;
        }
        if (!mine->spectra) mine->spectra = std::move(channel.spectra);
        if (!mine->motion) mine->motion = std::move(channel.motion);
    }
    std::ranges::sort(result.channels, {}, &ChannelResult::channel);
}

// What run_passes() would have given for this request.
PassResult selected(PassResult from, const PassRequest& request)
{
    PassResult result{.info = std::move(from.info),
                      .sha256 = std::move(from.sha256),
                      .from_s = from.from_s,
                      .duration_s = from.duration_s};
    for (const Lane& lane : request.lanes) {
        if (const LaneResult* twice = lane_in(result, lane)) {
            result.lanes.push_back(LaneResult(*twice));
            continue;
        }
        LaneResult* found = lane_in(from, lane);
        BECALM_ASSERT(found != nullptr);
        if (!names(request.swing_lanes, lane)) found->swings.reset();
        result.lanes.push_back(std::move(*found));
        result.lanes.back().lane = lane;
    }
    for (ChannelResult& channel : from.channels) {
        const bool has_lane = std::ranges::find(request.lanes, channel.channel, &Lane::channel) != request.lanes.end();
        const bool has_spectra = names(request.spectra_channels, channel.channel);
        const bool has_motion = names(request.motion_channels, channel.channel);
        if (!has_spectra) channel.spectra.reset();
        if (!has_motion) channel.motion.reset();
        if (has_lane || has_spectra || has_motion) result.channels.push_back(std::move(channel));
    }
    return result;
}

class CachedRun {
public:
    CachedRun(std::span<const PassRequest> requests, const PassOptions& options, store::Cache& cache)
        : requests_(requests), options_(options), cache_(cache), known_(requests.size())
    {
    }

    std::vector<Result<PassResult>> results()
    {
        look_everything_up();
        run_what_is_missing();
        run_again_what_changed();
        std::vector<Result<PassResult>> results;
        for (std::size_t r = 0; r < requests_.size(); ++r) results.push_back(result_of(r));
        // Who was stopped has not asked for all that the survey needs.
        if (!options_.stop.stop_requested()) cache_.tidy();
        return results;
    }

private:
    // What is known of a request's recording.
    struct Known {
        std::vector<store::FileState> states = {}; // of its files, before anything was read; empty: one is not there
        std::string sha256 = {};                   // empty: not known yet
        std::optional<PassResult> entry = {};
        bool changed = false; // while it was read
        std::optional<Result<PassResult>> run = {};
    };

    void look_everything_up()
    {
        const unsigned cores = std::max(1U, std::thread::hardware_concurrency());
        const auto jobs = options_.jobs > 0 ? static_cast<std::size_t>(options_.jobs) : std::size_t{cores};
        std::atomic<std::size_t> next{0}, looked_up{0};
        const auto work = [&] {
            while (!options_.stop.stop_requested()) {
                const std::size_t r = next++;
                if (r >= requests_.size()) return;
                look_up(r);
                report(++looked_up);
            }
        };
        std::vector<std::jthread> threads;
        for (std::size_t i = 1; i < std::min(jobs, requests_.size()); ++i) threads.emplace_back(work);
        work();
    }

    // Looking up is over at once, unless many contents have to be hashed.
    void report(std::size_t looked_up)
    {
        const std::unique_lock lock(progress_mutex_, std::try_to_lock);
        if (!lock || !options_.progress) return;
        const auto now = std::chrono::steady_clock::now();
        if (now - last_report_ < std::chrono::milliseconds(100)) return;
        last_report_ = now;
        options_.progress(static_cast<double>(looked_up) / static_cast<double>(requests_.size()));
    }

    static void no_longer(Known& known) { known.states.clear(); }

    void look_up(std::size_t r)
    {
        const PassRequest& request = requests_[r];
        Known& known = known_[r];
        const auto files = io::files_of_recording(request.path);
        if (!files) return; // the pass will say what is wrong
        std::vector<std::pair<std::string, std::string>> hashes;
        for (const io::RecordingFile& file : *files) {
            const auto state = store::state_of(file.path);
            if (!state) return no_longer(known);
            std::string sha256 = cache_.sha256_of(*state);
            // A content never seen before has no entry: it is hashed beside its pass, unless it is one of several. One
            // that may still change unnoticed is hashed before and after.
            if (sha256.empty() && (files->size() > 1 || !state->settled || cache_.has_seen_size(state->size))) {
                auto hashed = io::sha256_of_file(file.path);
                if (!hashed || store::state_of(file.path) != state) return no_longer(known);
                sha256 = std::move(*hashed);
                if (state->settled) cache_.remember(*state, sha256);
            }
            known.states.push_back(*state);
            hashes.emplace_back(std::move(sha256), file.name);
        }
        known.sha256 = io::sha256_of_files(hashes);
        if (!known.sha256.empty()) known.entry = pass_from(cache_.load(key_of(request, known.sha256)));
    }

    void run_what_is_missing()
    {
        std::vector<PassRequest> requests;
        std::vector<std::size_t> place;
        for (std::size_t r = 0; r < requests_.size(); ++r) {
            PassRequest request = requests_[r];
            if (known_[r].entry) leave_out(request, *known_[r].entry);
            if (known_[r].entry && asks_for_nothing(request)) continue;
            request.hash = known_[r].sha256.empty();
            requests.push_back(std::move(request));
            place.push_back(r);
        }
        if (requests.empty()) return;
        PassOptions options = options_;
        options.finished = [&](std::size_t i, const Result<PassResult>& result) {
            if (result) keep(place[i], *result);
            if (options_.finished) options_.finished(place[i], result);
        };
        auto results = run_passes(requests, options);
        for (std::size_t i = 0; i < results.size(); ++i) known_[place[i]].run = std::move(results[i]);
    }

    // Whether a pass that has just ended saw one content from its beginning to its end, that of the hash.
    bool stayed_as_it_was(const Known& known) const
    {
        const auto is_as_it_was = [](const store::FileState& state) { return store::state_of(state.path) == state; };
        if (known.states.empty() || !std::ranges::all_of(known.states, is_as_it_was)) return false;
        return std::ranges::all_of(known.states, &store::FileState::settled) ||
               io::sha256_of_recording(known.states.front().path) == known.sha256;
    }

    // Called from the threads of the pass.
    void keep(std::size_t r, const PassResult& result)
    {
        Known& known = known_[r];
        if (!stayed_as_it_was(known)) {
            known.changed = true;
            return;
        }
        if (known.sha256.empty()) known.sha256 = result.sha256;
        const std::string key = key_of(requests_[r], known.sha256);
        {
            // Several tables of a survey can be about one recording: each adds to what the others have stored.
            const std::lock_guard lock(stores_[std::hash<std::string>{}(key) % stores_.size()]);
            if (auto entry = pass_from(cache_.load(key))) {
                add(*entry, result);
                cache_.store(key, bytes_of(*entry));
            } else {
                cache_.store(key, bytes_of(result));
            }
        }
        // Of several files each was remembered when it was hashed.
        if (known.states.size() == 1) cache_.remember(known.states.front(), known.sha256);
    }

    void run_again_what_changed()
    {
        std::vector<PassRequest> requests;
        std::vector<std::size_t> place;
        for (std::size_t r = 0; r < requests_.size(); ++r) {
            if (!known_[r].changed) continue;
            requests.push_back(requests_[r]);
            place.push_back(r);
        }
        if (requests.empty()) return;
        PassOptions options = options_;
        options.finished = nullptr;
        auto results = run_passes(requests, options);
        for (std::size_t i = 0; i < results.size(); ++i) {
            known_[place[i]].entry.reset();
            known_[place[i]].run = std::move(results[i]);
        }
    }

    Result<PassResult> result_of(std::size_t r)
    {
        const PassRequest& request = requests_[r];
        Known& known = known_[r];
        if (known.run && (!*known.run || known.changed)) return std::move(*known.run);
        PassResult all = known.run ? std::move(**known.run) : PassResult{};
        if (known.entry) {
            if (known.run)
                add(all, std::move(*known.entry));
            else
                all = std::move(*known.entry);
        }
        all.sha256 = request.hash ? known.sha256 : "";
        return selected(std::move(all), request);
    }

    std::span<const PassRequest> requests_;
    const PassOptions& options_;
    store::Cache& cache_;
    std::vector<Known> known_;
    std::array<std::mutex, 16> stores_;
    std::mutex progress_mutex_;
    std::chrono::steady_clock::time_point last_report_ = std::chrono::steady_clock::now();
};

} // namespace

std::string engine_version() { return fmt::format("{} {}", engine_fingerprint, filters::kernel::chosen().name); }

std::string bytes_of(const PassResult& result)
{
    std::size_t rows = 0;
    for (const LaneResult& lane : result.lanes) rows += lane.ledger.rows.size();
    store::Writer writer;
    writer.reserve(rows * sizeof(LedgerRow) + (std::size_t{16} << 10));
    writer(result);
    return writer.take();
}

std::optional<PassResult> pass_from(const std::optional<store::Blob>& blob)
{
    if (!blob) return std::nullopt;
    store::Reader reader(blob->bytes());
    std::optional<PassResult> result(std::in_place);
    reader(*result);
    if (!reader.sound()) result.reset();
    return result;
}

std::vector<Result<PassResult>> run_passes_cached(std::span<const PassRequest> requests, const PassOptions& options,
                                                  store::Cache& cache)
{
    return CachedRun(requests, options, cache).results();
}

MergedPasses merge_passes(store::Cache& from, store::Cache& into)
{
    into.keep_everything();
    const store::Cache::Contents contents = from.contents();
    MergedPasses merged{.damaged = contents.damaged, .of_other_engines = contents.of_other_engines};
    for (const std::string& key : contents.keys) {
        auto theirs = pass_from(from.load(key));
        if (!theirs) {
            ++merged.damaged;
            continue;
        }
        const auto here = into.load(key);
        auto mine = pass_from(here);
        if (!mine) {
            into.store(key, bytes_of(*theirs));
            ++merged.taken;
            continue;
        }
        add(*mine, std::move(*theirs));
        const std::string together = bytes_of(*mine);
        if (together.size() == here->bytes().size()) { // what is added takes room
            ++merged.known;
            continue;
        }
        into.store(key, together);
        ++merged.added_to;
    }
    into.take_note_of(from);
    return merged;
}

} // namespace becalm::evaluators
