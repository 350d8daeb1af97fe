// How values follow something that the conditions of a survey state: the speed, the power, the traffic.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace becalm {

struct TrendPoint {
    std::string condition = {};
    double at = 0.0; // what the condition states
    double value = 0.0;
    std::optional<double> expanded_uncertainty = {}; // k = 2, of the verdict
    std::optional<double> off_db = {};               // against the fitted line; empty without one
};

struct TrendEstimate {
    double value = 0.0;
    double low = 0.0, high = 0.0; // ends of the 95 % interval
};

// Of the fitted line at one place, with the interval of a single further value there.
struct TrendLinePoint {
    double at = 0.0;
    TrendEstimate value = {};
};

// Of one place and criterion, and of one axis where the criterion judges each.
struct Trend {
    std::string space = {}, position = {}, criterion = {}, edition = {}, quantity = {}, unit = {};
    std::string axis = {};               // the governing one; each one joined with "+" where it changes
    std::vector<TrendPoint> points = {}; // rising
    std::optional<TrendEstimate> exponent =
        {};                                // of value = factor * at^exponent; of levels the same of what they are of
    std::optional<double> factor = {};     // of levels in dB
    std::optional<double> scatter_db = {}; // standard deviation about the line
    std::optional<TrendEstimate> expected = {}; // of a single further value there, where one was asked for
    std::vector<TrendLinePoint> line = {}; // evenly over the logarithm from the first point to the last, or to `at`
    std::string why_not = {};              // no line, because ...
    std::vector<std::string> notes = {};
};

struct TrendReport {
    std::string title = {}, file = {}, sha256 = {};
    std::string over = {};         // key of the conditions' values
    std::optional<double> at = {}; // where a value is asked for
    std::vector<Trend> trends = {};
};

} // namespace becalm
