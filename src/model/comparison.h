// Two judgements beside each other: before and after a cure, two vessels, two conditions, measured and predicted.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "src/model/assessment.h"

namespace becalm {

// One of the two that are compared.
struct ComparedSide {
    std::string kind = {}; // "survey", "assessment" (its JSON) or "predicted" (a table)
    std::string title = {}, file = {}, sha256 = {};
    std::string condition = {}; // where one alone was asked for
};

struct ComparedBand {
    double nominal_hz = 0.0;
    double first = 0.0, second = 0.0; // weighted r.m.s., factor included
    std::optional<double> db = {};    // empty where one is 0
};

// One-third octaves of one axis that both sides can tell.
struct ComparedSpectrum {
    std::string axis = {}, weighting = {};
    std::string unit = {}; // of the r.m.s. values
    std::vector<ComparedBand> bands = {};
};

// Partners: both of one place, criterion and, where a criterion judges each axis, axis.
struct ComparedPair {
    Verdict first = {}, second = {};
    std::string why_not = {};           // nothing of the values is compared, because ...
    std::optional<double> percent = {}; // of the first; empty also for levels in dB
    std::optional<double> db = {};      // 20 lg of the ratio; of levels their difference
    // Expanded (k = 2), of the change; empty where one of the values has none, or what is known of it cancels.
    std::optional<double> uncertainty_percent = {}, uncertainty_db = {};
    bool calibration_cancels = false;
    std::string uncertainty_words = {}; // what the uncertainty rests on, or why there is none
    std::optional<int> bands = {};      // up the bands of a scale that both share; > 0 is worse
    std::string band_words = {};
    std::vector<ComparedSpectrum> spectra = {};
    std::vector<std::string> notes = {};
};

struct WithoutPartner {
    bool is_of_first = true;
    Verdict verdict = {};
    std::string why = {};
};

// Over the pairs of a criterion, or over all.
struct ComparisonSummary {
    std::string criterion = {};                         // empty: over all
    int pairs = 0;                                      // whose change is known in dB
    std::optional<double> mean_db = {}, median_db = {}; // empty where there are no pairs
    std::optional<double> from_db = {}, to_db = {};     // 95 % confidence interval of the mean; from two pairs on
    int lower = 0, higher = 0, unchanged = 0;           // the second against the first
    int better_band = 0, worse_band = 0, same_band = 0; // of pairs whose bands can be compared
};

struct ComparisonReport {
    ComparedSide first = {}, second = {};
    std::vector<ComparedPair> pairs = {}; // what rises most comes first, then what cannot be compared
    std::vector<WithoutPartner> without_partner = {};
    std::vector<ComparisonSummary> summaries = {}; // of each criterion, then over all where there are several
    std::vector<std::string> notes = {};
};

} // namespace becalm
