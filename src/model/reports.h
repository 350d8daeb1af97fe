// What `weigh` and `response` hand to a face. The judgement of a survey is in assessment.h.
#pragma once

#include <complex>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "src/model/assessment.h"
#include "src/model/finding.h"

namespace becalm {

struct WeighedLane {
    int channel = 1;
    std::string axis = {};
    std::string weighting = {};
    std::string unit = {}; // of rms, peak and the running values: of what comes out of the weighting
    // Empty where the lane could not be weighted; the doses also where its weighting gives a velocity.
    std::optional<double> rms = {}, peak = {}, crest_factor = {}, mtvv_linear = {}, mtvv_exponential = {}, vdv = {},
                          evdv = {}, msdv = {};
};

struct BandLevel { // of a one-third octave or octave, base ten
    int n = 0;
    double exact_hz = 0.0, nominal_hz = 0.0;
    double rms = 0.0;
};

// One-third octaves of a channel as it was recorded: not weighted, the offset taken away.
struct RecordedBands {
    int channel = 1;
    std::string unit = {}; // of the values
    double resolution_hz = 0.0;
    int segments = 0; // averaged: Hann windows, half overlapping
    std::vector<BandLevel> third_octaves = {};
};

struct WeighedFile {
    std::string file = {};
    std::string sha256 = {};
    double rate_hz = 0.0;
    double from_s = 0.0;
    double duration_s = 0.0; // of what was selected
    std::vector<WeighedLane> lanes = {};
    std::optional<double> total_rms =
        {}; // root of the sum of squares over the translational axes, where every axis has one weighting
    std::optional<std::vector<RecordedBands>> bands = {}; // where asked for; without channels that have gaps
    std::vector<Finding> findings = {};
};

// What a ledger in a folder tells of stretches of time.
struct LedgerStretch {
    std::string date = {};    // 2026-03-14, of the day it begins on; empty: of all days
    std::string hours = {};   // "06:00-22:00"; empty: all of them
    std::int64_t seconds = 0; // that count
    std::vector<WeighedLane> lanes = {};
    std::vector<Verdict> verdicts = {}; // where criteria were named
};

struct LedgerAnswer {
    std::string file = {};  // that was streamed, as it was called
    std::string start = {}; // ISO 8601, may be empty
    double rate_hz = 0.0;
    std::int64_t seconds = 0; // that the ledger has
    struct JudgedAs {
        std::string setting = {}, use = {}, position = {};
    };
    std::optional<JudgedAs> judged_as = {};    // where criteria were named
    std::vector<LedgerStretch> stretches = {}; // in order of time; those of which there is nothing are left out
    std::vector<Finding> findings = {};
};

struct DominantComponent {
    double hz = 0.0;
    double rms = 0.0;
    double energy_share = 0.0; // of the lane's mean square
    double above_floor = 0.0;  // density at the line over that of its surroundings
};

// Level of a band as it runs: of what comes out of a band filter, averaged exponentially.
struct RunningBandLevel {
    int bands_an_octave = 3; // 3 or 1
    int n = 0;
    double exact_hz = 0.0, nominal_hz = 0.0;
    double greatest = 0.0; // r.m.s.
    double mean = 0.0;     // r.m.s. over everything
    bool class_1 = true;   // the filter keeps the shape of the class; else it leaks more from below the band
};

struct SpectrumLane {
    int channel = 1;
    std::string axis = {};
    std::string weighting = {};
    std::string unit = {}; // of rms values; the density is in its square per Hz
    double resolution_hz = 0.0;
    int segments = 0;
    int row_segments = 1;                          // follow each other in a row; of psd_max and psd_min
    int rows = 0;                                  // whole ones; 0: all segments count as one
    double row_s = 0.0;                            // from the first sample of a row's segments to the last
    int first_bin = 0;                             // those below are not reported
    std::vector<double> density = {};              // bin k at k * resolution_hz
    std::vector<double> greatest = {}, least = {}; // of the rows' densities, bin by bin
    std::vector<double> amplitude = {};            // r.m.s. of the sine that would show this density; where asked for
    std::vector<BandLevel> third_octaves = {}, octaves = {};
    std::vector<RunningBandLevel> running_bands = {}; // where asked for
    std::vector<DominantComponent> dominant = {};     // greatest share first
};

// A row of a spectrogram as it comes.
struct SpectrogramRow {
    int channel = 1;
    std::string_view axis = {}, weighting = {}, unit = {};
    double from_s = 0.0;             // from the first selected sample
    std::span<const double> hz = {}; // of the columns: nominal centres of one-third octaves, or bins
    std::span<const double> values = {};
};

struct SpectrumReport {
    std::string file = {};
    std::string sha256 = {};
    double rate_hz = 0.0;
    double duration_s = 0.0;
    std::optional<std::string> converted_to = {}; // a motion: "velocity" ...
    double from_hz = 0.0;                         // nothing below is reported
    std::optional<double> running_s = {};         // time constant of running_bands
    std::vector<SpectrumLane> lanes = {};
    std::vector<Finding> findings = {};
};

struct ResponsePoint {
    double hz = 0.0;
    double magnitude = 0.0, phase_deg = 0.0;
    double analytic_magnitude = 0.0, analytic_phase_deg = 0.0;
};

struct ResponseReport {
    std::string weighting = {};
    std::string input = {};
    std::string output = {}; // motion that comes out
    double rate_hz = 0.0;
    int latency_samples = 0;
    int taps = 0;
    double accurate_to_hz = 0.0;
    double least_rate_hz = 0.0;
    std::vector<ResponsePoint> points = {};
};

struct UncertainValue {
    double value = 0.0;
    double uncertainty = 0.0; // standard, k = 1
};

struct ChannelOfReport {
    int channel = 1;                                 // from 1
    std::optional<std::string> axis = {}, name = {}; // where it is known
};

// How the clock of one recording goes beside that of another of the same motion (filters/alignment.h).
struct LagOfPiece {
    double at_s = 0.0; // its middle, in the span of the first recording
    double lag_s = 0.0;
    double quality = 0.0; // correlation
};

struct ClocksCompared {
    double lag_s = 0.0;                           // the other has the motion so much later; at the begin of the span
    std::optional<double> lag_uncertainty_s = {}; // standard; empty where the span is too short to tell
    double quality = 0.0;                         // correlation
    std::optional<UncertainValue> drift_ppm = {}; // the other's clock is so much faster; empty as above
    std::string why_no_drift = {};                // where there is none
    std::optional<double> coherent_to_hz = {};    // above it the drift spoils coherence; empty: nowhere
    double scatter_s = 0.0;                       // of the lags about the line
    double piece_s = 0.0;
    std::vector<LagOfPiece> pieces = {};
    int pieces_left_out = 0;
};

struct AlignmentReport {
    std::string file = {}, other = {};
    std::string sha256 = {}, other_sha256 = {};
    double rate_hz = 0.0;
    double from_s = 0.0;                             // of both
    double duration_s = 0.0, other_duration_s = 0.0; // selected
    ChannelOfReport channel = {}, other_channel = {};
    double most_lag_s = 0.0, most_ppm = 0.0; // sought
    ClocksCompared clocks = {};
    std::vector<Finding> findings = {};
};

// How a channel moves at one frequency, measured by the reference: H1 = G_rp / G_rr (filters/cross_spectra.h).
struct RelatedMotion {
    double hz = 0.0;
    double coherence = 0.0;                                  // gamma^2
    double real = 0.0, imaginary = 0.0;                      // unit by unit of the reference
    double magnitude = 0.0, magnitude_uncertainty = 0.0;     // standard, of chance
    double phase_deg = 0.0, phase_uncertainty_deg = 0.0;     // positive: the channel leads
    bool moves_together() const { return coherence >= 0.5; } // half of its energy there or more goes with the reference
};

struct RelatedChannel {
    ChannelOfReport channel = {};
    bool of_other = false;                // of the other file
    std::vector<RelatedMotion> bins = {}; // where both have energy
};

struct RelatedLine { // operating deflection at a line of the reference
    double hz = 0.0;
    double bin_hz = 0.0;                      // that was taken for it
    double reference_rms = 0.0;               // of the line
    std::vector<RelatedMotion> channels = {}; // as RelationReport::channels
};

// A second file, shifted to the first.
struct RelatedFile {
    std::string file = {};
    std::string sha256 = {};
    ChannelOfReport channel = {}; // that was compared with the reference
    ClocksCompared clocks = {};
};

struct RelationReport {
    std::string file = {};
    std::string sha256 = {};
    std::optional<RelatedFile> other = {};
    double rate_hz = 0.0;
    double from_s = 0.0, duration_s = 0.0; // selected
    std::string unit = {};
    ChannelOfReport reference = {};
    double resolution_hz = 0.0;
    int segments = 0;
    double averages = 0.0;                     // independent ones
    std::vector<RelatedChannel> channels = {}; // all but the reference
    std::vector<RelatedLine> lines = {};       // greatest first
    std::vector<Finding> findings = {};
};

struct ModeFound {
    UncertainValue frequency_hz = {}, damping = {}; // undamped; ratio to critical
};

struct DecayFound {
    ModeFound mode = {};
    double decrement = 0.0;          // logarithmic, a period
    double from_s = 0.0, to_s = 0.0; // of the recording: what was fitted
    double from_amplitude = 0.0, to_amplitude = 0.0, noise_floor = 0.0;
    double misfit = 0.0; // share
};

struct DecayOfChannel {
    ChannelOfReport channel = {};
    std::optional<DecayFound> decay = {};
    std::string why_not = {}; // where there is none
};

struct HalfPowerOfChannel {
    int channel = 1;
    std::optional<ModeFound> mode = {};
    std::string why_not = {};
};

struct AmbientModeFound {
    ModeFound mode = {};
    double from_hz = 0.0, to_hz = 0.0;            // of its bell
    double first_to_second = 0.0;                 // singular values; infinite for one channel
    std::vector<std::complex<double>> shape = {}; // as DecayReport::channels; the greatest is 1
    std::vector<HalfPowerOfChannel> half_power = {};
};

struct DecayReport {
    std::string file = {};
    std::string sha256 = {};
    double rate_hz = 0.0;
    double from_s = 0.0, duration_s = 0.0; // selected
    std::string unit = {};
    bool ambient = false;
    double above_hz = 0.0, below_hz = 0.0;     // where modes were sought
    std::vector<DecayOfChannel> channels = {}; // with decays, unless ambient
    std::optional<double> resolution_hz = {};  // ambient
    std::vector<AmbientModeFound> modes = {};  // by frequency
    std::vector<std::string> left_out = {};    // peaks that give no mode, and why
    std::vector<Finding> findings = {};
};

struct HistoryQuantity {
    std::string motion = {}; // "velocity" ...
    std::string unit = {};
    double rms = 0.0, peak = 0.0;            // about zero
    double peak_to_peak = 0.0;               // from the least to the greatest
    std::optional<double> crest_factor = {}; // empty where nothing moves
    double peak_at_s = 0.0;                  // of the recording: where the peak is
};

struct HistoryOfChannel {
    ChannelOfReport channel = {};
    std::vector<HistoryQuantity> quantities = {}; // as they were asked for
};

struct HistoryFilter { // Butterworth without phase, -3 dB at hz
    double hz = 0.0;
    int order = 4;
};

struct HistoryReport {
    std::string file = {};
    std::string sha256 = {};
    double rate_hz = 0.0;
    double from_s = 0.0, duration_s = 0.0; // selected
    std::string recorded = {};             // motion of the samples
    std::optional<HistoryFilter> high_pass = {}, low_pass = {};
    double nothing_below_hz = 0.0;                   // 0: the mean alone is taken away
    double settled_from_s = 0.0, settled_to_s = 0.0; // of the recording: what the values of the channels are of
    std::vector<HistoryOfChannel> channels = {};
    std::vector<Finding> findings = {};
};

// A part of the time histories, as it becomes ready.
struct HistoryRows {
    double from_s = 0.0; // of the recording: its first sample
    double rate_hz = 0.0;
    std::span<const std::span<const double>> series = {}; // channel by channel, quantity by quantity; equally long
};

} // namespace becalm
