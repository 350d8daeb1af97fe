// The one streaming pass: each recording is read once and each lane filtered once, whichever and however many
// procedures ask for it.
//
// From a file: SI values = stored value x to_si; the offset is taken away; the filters start at rest at the first
// sample of the file; their latency is removed; ledger rows begin at the start of the selected span. Memory does not
// grow with duration unless the rows are kept (80 bytes a second and lane) or motion bins are asked for (240 bytes a
// second and channel).
//
// Reducers ride in the same pass for those channels and lanes that a request names: spectra in rows of time and motion
// bins of a channel as recorded, in SI, the offset taken away, not weighted (filters/spectrum_rows.h,
// filters/motion_bins.h); swings of a lane (filters/half_cycles.h). All of them begin with the selection's first
// sample.
//
// Work is parallel over recordings, and over spans of 1,800 s of a long one. A span starts its filters early enough
// that the start is forgotten to 1e-12. The cuts depend on the recording alone, so the result does not depend on the
// number of threads, to the last bit; nor does that of a lane on the lanes beside it, so that results of several passes
// can be put together (evaluators/pass_cache.h).
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <stop_token>
#include <string>
#include <utility>
#include <vector>

#include "filters/channel_scan.h"
#include "filters/fault_scan.h"
#include "src/base/problem.h"
#include "src/base/units.h"
#include "src/io/recording_reader.h"
#include "src/io/stream_reader.h"
#include "src/model/ledger.h"
#include "src/model/motion.h"
#include "src/model/span.h"
#include "src/model/spectra.h"

namespace becalm::evaluators {

enum class OffsetRule {
    first_10_s, // mean of the first 10 s, or of all when shorter
    mean,       // mean of all: the file is read twice
    none
};

struct PassRequest {
    std::string path = {};
    io::ReadOptions read = {};
    std::vector<Lane> lanes = {}; // channels from 1; duplicates are run once
    Motion input = Motion::acceleration;
    double to_si = 1.0;       // scale times the unit's factor
    bool scale_given = false; // integer PCM needs one
    OffsetRule offset = OffsetRule::first_10_s;
    TimeSpan span = {}; // seconds of the file that count
    bool keep_rows = false;
    std::optional<double> resolution_hz =
        {};                      // spectra too, with bins so far apart; the recording then runs as one span
    double spectrum_row_s = 0.0; // whose greatest and least density over rows of this length; 0: rows of one segment
    std::vector<int> spectra_channels = {}; // those of which spectra in rows of time are wanted, from 1; in any order
    bool whole_spectra = false;             // those in a single row, the mean of all: no memory for the rows of time
    std::vector<int> motion_channels = {};  // motion bins
    std::vector<Lane> swing_lanes = {};     // swings; each of them one of `lanes`
    bool hash = true;                       // SHA-256 of the file's content, beside the other work
};

// A longer selection of a seekable recording runs as several spans, unless somebody listens to its lanes.
inline constexpr std::int64_t span_seconds = 1800;

// Frames of a recording that `span` selects, the first and the one behind the last; equal where it selects none.
std::pair<std::int64_t, std::int64_t> selected_frames(const io::RecordingInfo& info, const TimeSpan& span);

// One-sided power spectral density of a lane (conventions: filters/welch.h).
struct LaneSpectrum {
    double resolution_hz = 0.0;
    std::size_t segments = 0;                      // averaged
    std::vector<double> density = {};              // bin k at k * resolution_hz
    std::size_t row_segments = 1;                  // of a row, and
    std::size_t rows = 0;                          // whole ones; where there is none, all segments count as one
    std::vector<double> greatest = {}, least = {}; // of the rows' densities
};

// Swings of a lane in order of time. They are gathered over an hour and up to two million half cycles at most, since
// they take memory as they come: beyond, there are none, and a reason why.
struct LaneSwings {
    std::optional<Problem> refused = {};
    std::vector<Swing> swings = {};
};

struct LaneResult {
    Lane lane = {};
    std::optional<Problem> refused = {}; // the rate is too low for the weighting; no tally then
    Tally tally = {};
    Ledger ledger = {};                        // rows only where kept
    std::optional<LaneSpectrum> spectrum = {}; // where a resolution was asked for
    std::optional<LaneSwings> swings = {};     // where asked for
};

struct ChannelResult {
    int channel = 1;
    double offset = 0.0; // taken away, SI
    filters::ChannelScan scan{1.0};
    filters::FaultScan faults{};
    std::optional<ChannelSpectra> spectra = {}; // where asked for; no rows where the selection is shorter than 2 s
    std::optional<MotionSeries> motion = {};    // where asked for; no bins where the rate is below 20 Hz
};

struct PassResult {
    io::RecordingInfo info = {};
    std::string sha256 = {};                  // of the file, where asked for
    double from_s = 0.0;                      // of the first selected sample
    double duration_s = 0.0;                  // selected
    std::vector<LaneResult> lanes = {};       // in the order asked for
    std::vector<ChannelResult> channels = {}; // those that a lane or a reducer uses, ascending
};

struct PassOptions {
    int jobs = 0;                                       // threads; 0: as many as the machine has
    std::function<void(double fraction)> progress = {}; // called from one thread at a time
    std::stop_token stop = {};
    // What comes out of a lane, from the selection's first sample on and in order of time: samples[i * stride], i <
    // count. Called for every lane of `request` from one thread; its recording then runs as one span. Must not throw.
    struct Samples {
        std::size_t request = 0;
        const Lane& lane;
        double rate_hz = 0.0;
        const double* samples = nullptr;
        std::size_t count = 0, stride = 1;
    };
    std::function<void(const Samples& samples)> lane_samples = {};
    // Called once a request as soon as its result is there, from several threads at once. Must not throw.
    std::function<void(std::size_t request, const Result<PassResult>& result)> finished = {};
};

struct StreamOptions {
    // The rows of each lane, as many of each, in order of time, soon after they are finished: every second or so, more
    // at once where they come fast. They are not kept then. A Problem ends the pass.
    std::function<Result<void>(std::span<const Lane> lanes, std::span<const std::vector<LedgerRow>> rows)> rows = {};
    std::function<void(std::size_t frames)> progress = {}; // that have been read since
};

// The pass of a recording that comes out of a pipe, in constant memory: the same rows, tallies and scans as those of
// the same samples in a file, to the last bit, for it is cut into the same spans. All of it counts; spectra, motion
// bins, swings and the offset's mean over everything want a file. One thread.
Result<PassResult> run_stream(io::StreamReader& stream, const PassRequest& request, const StreamOptions& options = {});

// One result a request, in order. A faulty recording spoils its own result only.
std::vector<Result<PassResult>> run_passes(std::span<const PassRequest> requests, const PassOptions& options = {});

} // namespace becalm::evaluators
