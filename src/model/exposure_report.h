// The days of persons at work, task by task: what each task adds to the day, and how long it may last.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "src/model/assessment.h"

namespace becalm {

// One axis of one task, or of a whole day, which has no values of its own before k.
struct ExposureAxis {
    std::string axis = {}, weighting = {};
    double factor = 1.0;                  // k
    std::optional<double> rms = {};       // m/s2, weighted, before k
    std::optional<double> vdv = {};       // m/s^1.75, before k, over the judged duration; of the whole body alone
    std::optional<double> judged_s = {};  // judged duration
    std::optional<double> a8 = {};        // m/s2, with k, over eight hours
    std::optional<double> daily_vdv = {}; // m/s^1.75, with k, over the task's hours
    std::optional<double> points = {};
};

// What is compared: of the highest axis, or of the vector sum ("total").
struct ExposureSum {
    std::optional<double> value = {};
    std::string axis = {};
    std::optional<double> expanded_uncertainty = {}; // k = 2, unit of the value
};

struct ExposureSums {
    ExposureSum a8 = {}, daily_vdv = {}, points = {};
};

// How long a task may last until a bound of a criterion is reached.
struct TaskTime {
    std::string criterion = {};
    std::string band = {}; // that begins above the bound
    double bound = 0.0;
    std::string unit = {};
    bool exceeds = false;                // that band does
    std::optional<double> alone_h = {};  // of this task and nothing else that day; empty: its motion is nothing
    std::optional<double> beside_h = {}; // beside the other tasks as they are; empty: its motion is nothing
    bool others_exceed = false;          // the other tasks are above the bound by themselves; beside_h is 0
};

struct SeatValue {
    std::string criterion = {};
    std::optional<double> percent = {};
    std::optional<double> expanded_uncertainty = {};
    std::string why_not = {};
};

struct ExposureTask {
    std::string space = {}, position = {}, condition = {};
    double hours = 0.0;
    int line = 0;             // of the survey
    std::string why_not = {}; // "cannot be judged, because ..."
    std::vector<std::string> recordings = {};
    std::vector<ExposureAxis> axes = {};
    ExposureSum magnitude = {}; // m/s2, with k: of the highest axis, or the vector sum
    ExposureSums sums = {};     // of this task alone
    std::optional<double> points_an_hour = {};
    std::vector<SeatValue> seat = {}; // where seat and floor were measured
    std::vector<TaskTime> times = {};
    std::vector<std::string> notes = {};
};

enum class ExposureKind { whole_body, hand_arm };

// The tasks of a day of one kind; of hands, at one of them.
struct ExposureTable {
    ExposureKind kind = ExposureKind::whole_body;
    std::string hand = {};                  // "hand-left", "hand-right"; empty of the whole body
    bool governs = true;                    // of two hands, the higher one
    std::vector<std::string> criteria = {}; // by which the values are made
    std::vector<ExposureTask> tasks = {};
    std::vector<ExposureAxis> axes = {}; // of the whole day; none where a task has no value
    ExposureSums sums = {};
    std::vector<std::string> notes = {};
};

// A bound of a verdict's bands.
struct DayTime {
    std::string band = {}; // that begins above the bound
    double bound = 0.0;    // unit of the verdict
    bool exceeds = false;
    double hours = 0.0; // of the same work, its tasks in the same shares
};

struct DayVerdict {
    Verdict verdict = {};
    bool asked_for = true; // by the survey or the call; else taken because nothing else judges such a day
    std::vector<DayTime> times = {};
};

struct ExposureDay {
    std::string person = {}, day = {};
    double hours = 0.0;
    std::vector<ExposureTable> tables = {};
    std::vector<DayVerdict> verdicts = {};
};

struct ExposureDuty {
    std::string words = {};             // of the criterion
    std::vector<std::string> days = {}; // "driver, Monday: action value exceeded"
};

struct ExposureReport {
    std::string title = {}, setting = {}, file = {}, sha256 = {};
    std::vector<ExposureDay> days = {};
    std::vector<DayVerdict> weeks = {}; // of criteria that look at all days of a person
    std::vector<ExposureDuty> duties = {};
    std::vector<std::string> notes = {};
    std::vector<Finding> findings = {};
};

} // namespace becalm
