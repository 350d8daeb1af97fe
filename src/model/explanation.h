// Why a value is what it is: which frequencies carry it, what makes them, and what would bring it to the next band.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "src/model/assessment.h"
#include "src/model/spectra.h"

namespace becalm {

// A source that may make a component, and what speaks for it.
struct SourceMatch {
    std::string source = {}; // id
    std::string line = {};   // "blade passing x 2"
    double predicted_hz = 0.0;
    double off_hz = 0.0;                    // found minus predicted
    std::vector<std::string> evidence = {}; // in words, the strongest first
    double weight = 0.0;                    // of the evidence, for the order of several matches
    std::optional<double> coherence = {};   // with the source's reference channel, where one says something
    std::optional<int> reference_channel = {};
};

struct ExplainedComponent {
    std::string axis = {};
    double hz = 0.0;
    double weighted_rms = 0.0;          // in the unit that comes out of the weighting, the floor taken away
    double share = 0.0;                 // of the mean square that the value rests on
    double above_floor = 0.0;           // ratio of densities
    std::string series = {};            // "3 x 7.00 Hz" or "-1 x 0.73 Hz beside 20.00 Hz"; empty outside a family
    std::optional<double> beat_hz = {}; // distance to another tone so near that they beat
    std::optional<std::array<double, 2>> drift_hz = {}; // lowest and highest, where it drifts during the recording
    std::vector<SourceMatch> matches = {};              // strongest first; empty: unexplained
    std::vector<std::string> notes = {};                // what reference channels say beside the matches
    // From the phases of the recording's segments, where it is steady; else from the averaged spectrum, because ...
    std::string averaged_because = {};                   // empty: from the phases
    std::optional<double> frequency_uncertainty_hz = {}; // standard, of the frequency from the phases
    std::optional<double> confidence = {}; // probability that a flat floor shows nothing as high; from the phases
};

struct BandShare {
    std::string axis = {};
    double nominal_hz = 0.0;
    double weighted_rms = 0.0;
    double share = 0.0;
};

struct NamedLine {
    std::string source = {}, name = {};
    double hz = 0.0;
    int rank = 1; // 1: what the source is known for
};

// The weighted spectrum of an axis, factor included.
struct ExplainedSpectrum {
    std::string axis = {}, weighting = {};
    std::string unit = {}; // the density is in its square per Hz
    double resolution_hz = 0.0;
    std::vector<double> density = {};   // bin k at k * resolution_hz
    std::vector<NamedLine> lines = {};  // what the sources would make
    std::vector<SpectralRow> rows = {}; // where asked for, and one recording has them
};

// How far one source would have to be brought down for the value to reach the next milder band.
struct Cure {
    std::string source = {};
    double share = 0.0;                      // of the mean square
    std::optional<double> reduction_db = {}; // empty: not reachable by this source alone
    double value_without = 0.0;              // with the source gone altogether
    std::string words = {};
};

// An answer to "what if".
struct Prediction {
    std::string change = {}; // as it was asked
    double value = 0.0;
    std::optional<double> expanded_uncertainty = {}; // of the value now, scaled
    std::optional<int> band_index = {};
    bool exceeded = false;
    std::vector<std::string> notes = {};
};

struct Explanation {
    Verdict verdict = {};
    std::string condition = {}; // id of the one whose speeds the sources' lines rest on; empty: the sources' own
    double resolution_hz = 0.0;
    std::vector<ExplainedComponent> components = {}; // greatest share first
    std::vector<BandShare> bands = {};
    std::vector<ExplainedSpectrum> spectra = {}; // of each axis
    double explained_share = 0.0;                // of components that some source makes
    double unexplained_share = 0.0;              // of components that none does
    double broad_share = 0.0;                    // what is no component
    std::string next_band = {};                  // the milder one; empty where the value is in the mildest
    std::optional<double> next_limit = {};
    std::optional<double> needed_percent = {}; // by which the value has to fall
    std::vector<Cure> cures = {};
    std::vector<Prediction> predictions = {};
    std::vector<std::string> notes = {};
    std::string why_not = {}; // nothing can be said, because ...
};

struct ExplanationReport {
    Assessment assessment = {};
    std::vector<Explanation> explanations = {};
};

} // namespace becalm
