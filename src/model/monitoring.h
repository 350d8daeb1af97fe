// What days and nights of a long recording or a campaign come to, each judged by itself.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/model/assessment.h"

namespace becalm {

// What is judged by itself.
enum class MonitorBy { day, period, week, hour };

inline constexpr std::array<MonitorBy, 4> all_monitor_by{MonitorBy::day, MonitorBy::period, MonitorBy::week,
                                                         MonitorBy::hour};

std::string_view name_of(MonitorBy by); // "day", ...
std::optional<MonitorBy> monitor_by_named(std::string_view name);

struct MonitoredPeriod {
    std::string date = {}; // ISO 8601, of the place; a night belongs to the day it begins in, a week to its Monday
    std::string hour = {}; // "14:00", where hours are judged
    std::string from = {}, to = {};        // ISO 8601 with offset; empty where only the survey knows what the period is
    std::optional<double> expected_s = {}; // that it lasts; a day on which the clock is changed has 23 h or 25 h
    double measured_s = 0.0;               // of it that was recorded, whatever is excluded
    std::optional<double> coverage_percent = {};
    bool is_gap = false; // nothing was recorded
    Verdict verdict = {};
};

// A straight line through the judged values over time.
struct MonitorTrend {
    double per_week = 0.0;        // that a value grows by, its unit
    double low = 0.0, high = 0.0; // ends of the 95 % interval
};

struct MonitorSummary {
    int periods = 0, judged = 0, exceeded = 0, not_judged = 0, gaps = 0; // gaps are among those not judged
    int longest_run = 0;                                                 // of periods that follow each other and exceed
    std::optional<std::size_t> worst = {};                               // the one with the greatest value
    std::vector<int> in_band = {};                                       // how many values each band holds
    std::optional<double> least = {}, quarter = {}, median = {}, three_quarters = {}, nine_tenths = {}, greatest = {};
    std::optional<double> coverage_percent = {}; // of all periods together
    int half_measured = 0;                       // judged ones of which less than half was recorded
    std::optional<MonitorTrend> trend = {};
    std::string why_no_trend = {};
};

// Of one place, condition and criterion, and of one axis where the criterion judges each.
struct MonitorSeries {
    std::string space = {}, position = {}, condition = {}, criterion = {}, title = {}, edition = {}, quantity = {};
    std::string axis = {}; // where the criterion judges each; else empty
    std::string unit = {};
    std::string period = {}; // "day", "night", ...; empty: whole days
    std::string hours = {};  // "22:00-06:00"; empty: all
    std::vector<Band> bands = {};
    std::vector<MonitoredPeriod> periods = {}; // in order of time
    MonitorSummary summary = {};
};

struct MonitorReport {
    std::string title = {}, setting = {}, decision_rule = {}, file = {}, sha256 = {};
    MonitorBy by = MonitorBy::day;
    std::optional<double> least_coverage_percent = {};
    std::vector<MonitorSeries> series = {};
    std::vector<Finding> findings = {};
};

} // namespace becalm
