// The figures of a judgement, made from plain vectors. Whoever calls gives words, numbers in the unit of the data and
// how they are shown (Numbers: "mm/s²", 1e3 for data in m/s²); nothing here weighs, judges or reads files. Vectors may
// be empty, and of unequal length: what has no partner is left out.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "ui/figures/figure.h"

namespace becalm::figures {

struct Heading {
    std::string title = {}, subtitle = {};
    std::vector<std::string> notes = {};
    double width_px = 800.0, height_px = 500.0;
    Language language = Language::english;
};

// What may come from a source: a line at a frequency.
struct SourceLine {
    std::string words = {};
    double hz = 0.0;
};

// A limit, or the shape of a weighting, over frequency: straight between its points on logarithmic axes.
struct FrequencyCurve {
    std::string words = {};
    std::vector<double> hz = {}, values = {};
};

// ---- why: spectra

struct SpectrumTrace {
    std::string words = {};
    std::vector<double> values = {};               // bin k at k * resolution; bin 0 is not drawn
    std::vector<double> least = {}, greatest = {}; // over time or repeats: a pale band; both or none
};

struct SpectrumInput {
    Heading heading = Heading();
    std::string quantity = "acceleration density"; // or an amplitude
    Numbers shown = Numbers();
    double resolution_hz = 1.0;
    std::vector<SpectrumTrace> traces = {};
    std::vector<FrequencyCurve> shapes = {};
    std::vector<SourceLine> sources = {};
    double from_hz = 0.5, to_hz = 100.0;
    bool logarithmic_frequency = true;
    bool logarithmic = true;               // the values; false: levels, which are logarithms already
    std::optional<double> from_value = {}; // where the axis begins; empty: as far as the values go
};
Figure spectrum_figure(const SpectrumInput& input);

struct BandTrace {
    std::string words = {};
    std::vector<double> hz = {}; // nominal or exact midband frequencies, rising; a band not named is a gap
    std::vector<double> values = {};
};

struct ThirdOctaveInput {
    Heading heading = Heading();
    std::string quantity = "acceleration, r.m.s.";
    Numbers shown = Numbers();
    std::vector<BandTrace> traces = {}; // the first as bars, the others as outlines
    std::vector<FrequencyCurve> limits = {};
    std::vector<SourceLine> sources = {};
    bool logarithmic = true; // the values
    std::optional<double> from_value = {};
};
Figure third_octave_figure(const ThirdOctaveInput& input);

struct SpectrogramRow {
    double from_s = 0.0, to_s = 0.0;
    std::vector<float> values = {}; // bin k at k * resolution
};

struct SpectrogramInput {
    Heading heading = Heading();
    std::string quantity = "acceleration density";
    Numbers shown = Numbers();
    double resolution_hz = 1.0;
    std::vector<SpectrogramRow> rows = {}; // rising; time between two of them is a gap, an overlap belongs to the later
    std::vector<SourceLine> sources = {};
    double from_hz = 0.5, to_hz = 100.0;
    bool logarithmic_frequency = true;
    std::optional<std::chrono::local_seconds> start = {};
    bool logarithmic = true; // the colours; false: levels
    std::optional<double> from_value = {};
};
Figure spectrogram_figure(const SpectrogramInput& input);

struct Contribution {
    std::string words = {}, detail = {};
    double share = 0.0; // of the energy, 0 to 1
};

struct LadderInput {
    Heading heading = Heading();
    std::string share_of = "share of the weighted energy";
    std::vector<Contribution> contributions = {}; // greatest first
    std::string rest = "not explained";           // the rung of what is left of 1; empty: none
};
Figure ladder_figure(const LadderInput& input);

// ---- how much: rulers

struct RulerScaleBand {
    std::string name = {}; // in the publication's own words
    std::optional<double> from = {}, limit = {};
    bool exceeds = false;
};

struct RulerInput {
    std::string words = {}; // "ISO 6954:2000, cabin 12": space, criterion
    Numbers shown = Numbers();
    std::vector<RulerScaleBand> bands = {}; // mildest first
    std::optional<double> value = {}, expanded_uncertainty = {};
    std::optional<std::size_t> band = {}; // that holds the value, as judged
    std::string why_not = {};             // where there is no value
};
Figure ruler_figure(const Heading& heading, const std::vector<RulerInput>& rulers);

// ---- when: the strip

struct StripFinding {
    double at_s = 0.0;
    std::string words = {};
};

struct StripLimit {
    double value = 0.0;
    std::string words = {};
};

struct TimeStripInput {
    Heading heading = Heading();
    std::string quantity = "acceleration";
    Numbers shown = Numbers();
    double from_s = 0.0, step_s = 1.0;       // of the rows
    std::vector<double> rms = {}, peak = {}; // a row each; NaN: no data
    std::vector<LeftOut> left_out = {};
    std::vector<StripFinding> findings = {};
    std::vector<StripLimit> limits = {};
    std::vector<RulerScaleBand> bands = {}; // mildest first, each from the end of the one before
    bool logarithmic = false;
    std::optional<std::chrono::local_seconds> start = {};
};
Figure time_strip_figure(const TimeStripInput& input);

// ---- when: periods of a campaign

struct PeriodValue {
    double from_s = 0.0, to_s = 1.0; // from `start` on; rising
    std::optional<double> value = {};
    bool exceeds = false;
    std::optional<double> covered = {}; // of the period, 0 to 1
};

struct PeriodsInput {
    Heading heading = Heading();
    std::string quantity = "acceleration, r.m.s.";
    Numbers shown = Numbers();
    std::vector<PeriodValue> periods = {};
    std::vector<RulerScaleBand> bands = {}; // mildest first
    bool is_level = false;                  // dB: its axis need not begin at 0
    std::optional<std::chrono::local_seconds> start = {};
};
// Values of days, nights or weeks against the bands, those that exceed in another ink; how much of each was measured
// beneath.
Figure periods_figure(const PeriodsInput& input);

// ---- when: time histories

struct HistoryTrace {
    std::string words = {}; // of the channel
    Places x = Places();    // s
    std::vector<double> values = {};
};

struct HistoryPanel {
    std::string quantity = "acceleration";
    Numbers shown = Numbers();
    std::vector<HistoryTrace> traces = {};
};

struct TimeHistoryInput {
    Heading heading = Heading();
    double from_s = 0.0, to_s = 1.0;
    std::vector<HistoryPanel> panels = {}; // beneath each other, of one time axis
    std::vector<LeftOut> left_out = {};    // in all of them
    std::optional<std::chrono::local_seconds> start = {};
};
Figure time_history_figure(const TimeHistoryInput& input);

// ---- before and after

struct ComparisonInput {
    Heading heading = Heading();
    std::string quantity = "acceleration, r.m.s.";
    Numbers shown = Numbers();
    BandTrace first = BandTrace(), second = BandTrace();
    std::vector<FrequencyCurve> limits = {};
    std::vector<SourceLine> sources = {};
};
// One-third octaves of two conditions above, the change from the first to the second in dB beneath.
Figure comparison_figure(const ComparisonInput& input);

// ---- over what conditions state

struct TrendPlace {
    std::string words = {}; // of the condition
    double at = 0.0, value = 0.0;
    std::optional<double> expanded_uncertainty = {};
};

struct TrendInput {
    Heading heading = Heading();
    std::string over = "speed"; // what the conditions state
    Numbers over_shown = Numbers();
    std::string quantity = "acceleration, r.m.s.";
    Numbers shown = Numbers();
    std::vector<TrendPlace> points = {};
    std::vector<double> at = {}, line = {}, low = {}, high = {}; // the line and its interval; empty: none
    std::string line_words = {}, interval_words = {};            // empty: in general words
    bool logarithmic = true; // both axes; false where something is zero or less, or a level
};
// Points with their expanded uncertainty, the line through them and where a further value is to be expected.
Figure trend_figure(const TrendInput& input);

} // namespace becalm::figures
