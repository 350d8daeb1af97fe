// A survey: what was measured where, with what, under which condition, and what is to be judged. Plain data; the file
// that holds it is read and written by src/io/survey_file.h.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/base/units.h"
#include "src/model/axis.h"
#include "src/model/span.h"

namespace becalm {

enum class Setting { vessel, rail, road, building, lift };

inline constexpr std::array<Setting, 5> all_settings{Setting::vessel, Setting::rail, Setting::road, Setting::building,
                                                     Setting::lift};

std::string_view name_of(Setting setting);
std::optional<Setting> setting_named(std::string_view name);

// One of a sensor's calibrations.
struct Calibration {
    std::string date = {};                          // ISO 8601
    std::optional<double> sensitivity = {};         // in the sensor's own unit of it
    std::optional<double> uncertainty_percent = {}; // expanded (k = 2) uncertainty of the sensitivity, %
    std::string certificate = {};                   // number on the certificate
};

struct Sensor {
    std::string id = {};
    std::string title = {};
    std::string model = {}; // maker and type, free text
    std::string serial = {};
    std::optional<double> sensitivity = {};         // as its data sheet or certificate states it; changes no value
    std::string sensitivity_unit = {};              // "mV/(m/s2)", free text
    std::string calibrated = {};                    // ISO 8601 date; where there is a history, see calibration_on()
    std::string certificate = {};                   // number on the certificate
    std::optional<double> uncertainty_percent = {}; // expanded (k = 2) uncertainty of the sensitivity, %
    std::vector<Calibration> calibrations = {};     // its history, in order of time
    std::optional<double> calibration_valid_months = {};
    std::optional<double> noise_m_s2 = {}; // r.m.s. of sensor and recorder at rest, within the criteria's band of
                                           // frequency or weighted
    std::string teds = {}; // its electronic data sheet: hexadecimal text, or a file in the survey's folder
    int line = 0;
};

// The calibration that holds on a date (ISO 8601; empty: the latest): the last one of the history that is not later,
// else its first; without a history what the sensor states itself. What an entry leaves out (uncertainty, certificate)
// is what the sensor states. Its date may be empty.
Calibration calibration_on(const Sensor& sensor, std::string_view date);

// A running condition: what the ship, train, lift, plant or traffic was doing.
struct Condition {
    std::string id = {};
    std::string title = {};
    std::map<std::string, double> values =
        {};                                // shaft_rpm, speed_kn, speed_km_h, power_percent, ... as the user noted them
    std::string period = {};               // "day", "evening", "night", ... where the recordings stand for that period
    std::optional<double> exposure_h = {}; // how long a day (or period) this condition lasts, hours
    std::optional<double> events = {};     // or how often the recorded event happens in the period
    int line = 0;
};

// A machine, track or walker that can excite vibration. Carried from the file as written; evaluators/explain reads it.
struct Source {
    std::string id = {};
    std::string title = {};
    std::string kind = {};
    std::map<std::string, double> values = {};
    std::optional<int> reference_channel = {}; // from 1, of the recordings' files: a transducer on the source itself
    int line = 0;
};

// A drawing of a deck, a storey or a coach that places can be shown on. No verdict depends on it.
struct Plan {
    std::string id = {};
    std::string title = {};
    std::string file = {}; // PNG, JPEG, SVG or PDF, as the survey writes it, relative to the survey's folder
    int page = 1;          // of a PDF, from 1
    int line = 0;
};

// Shares of a plan's width and height from its left and its top edge, 0 to 1.
struct PlanPlace {
    double x = 0.0;
    double y = 0.0;

    bool operator==(const PlanPlace&) const = default;
};

struct Space {
    std::string id = {};
    std::string label = {};
    std::string use = {};                // "passenger-cabin", "residential", ...: the criterion's scale is chosen by it
    std::string group = {};              // a deck, a storey, a coach
    std::string plan = {};               // id, may be empty
    std::optional<PlanPlace> place = {}; // on the plan; empty where there is none, or nobody has placed it yet
    std::optional<double> position_percent = {}; // in place of the survey's
    int line = 0;
};

struct ChannelMapping {
    int channel = 1; // from 1
    Axis axis = Axis::z;
};

struct Recording {
    std::string file = {};  // as the survey writes it, relative to the survey's folder
    std::string space = {}; // id
    Position position = Position::floor;
    std::string condition = {}; // id, may be empty
    std::string sensor = {};    // id, may be empty
    std::vector<ChannelMapping> channels = {};
    std::string unit = "m/s2";
    std::optional<double> scale = {};       // a stored 1.0 is `scale` of `unit`
    std::string sensitivity = {};           // "10.2 mV/(m/s2)", where it made unit and scale: `scale_v` / sensitivity
    std::optional<double> scale_v = {};     // then: a stored 1.0 is so many volts
    std::string start = {};                 // ISO 8601 date and time with offset, may be empty
    std::optional<double> resample_hz = {}; // irregular times are put onto this even rate
    std::vector<ExcludedSpan> excluded = {};
    std::vector<EventSpan> events = {};          // where given, these alone are judged, one by one
    std::optional<double> mounting_percent = {}; // in place of the survey's
    std::optional<double> position_percent = {}; // in place of the space's and the survey's
    std::string comment = {};
    int line = 0;
};

// A recording of a calibrator: a known motion, before or after the measurement.
struct CalibrationCheck {
    std::string file = {};   // as the survey writes it, relative to the survey's folder
    std::string sensor = {}; // id
    int channel = 1;         // from 1
    std::string when = {};   // "before" or "after"
    std::string unit = "m/s2";
    std::optional<double> scale = {}; // that the recordings use: a stored 1.0 is `scale` of `unit`
    double amplitude = 10.0;          // r.m.s. of the calibrator, m/s2 (common practice, no source)
    double hz = 159.2;                // of the calibrator: 1000 rad/s (common practice, no source)
    double tolerance_percent = 3.0;   // beyond which a deviation or a drift is a caution (common practice, no source)
    int line = 0;
};

// What a person does for how long on a working day, for daily exposures.
struct Task {
    std::string space = {};                // id
    std::optional<Position> position = {}; // empty: those the criterion looks at
    std::string condition = {};            // id, may be empty
    double hours = 0.0;
    int line = 0;
};

struct Exposure {
    std::string person = {}; // or the job, where several persons do it
    std::string day = {};    // where the days of a week differ
    std::vector<Task> tasks = {};
    int line = 0;
};

// Which criteria judge which uses; an empty list of uses means all.
struct Judge {
    std::vector<std::string> criteria = {};
    std::vector<std::string> uses = {};
    std::string confirmed_by = {}; // who compared the criteria's numbers with the publication, and when
    int line = 0;
};

// How a value is held against a limit, given its uncertainty.
enum class Comparison {
    simple, // as it is
    guarded // with its expanded uncertainty added: exceeded unless it surely is not
};

inline constexpr std::array<Comparison, 2> all_comparisons{Comparison::simple, Comparison::guarded};

std::string_view name_of(Comparison comparison);
std::optional<Comparison> comparison_named(std::string_view name);

struct Survey {
    std::string path = {}; // of the file, as given by the user
    std::string sha256 = {};
    std::string title = {};
    Setting setting = Setting::building;
    std::string client = {};
    std::string note = {};
    // What a reader of the report asks for and no verdict depends on, by key (io::keys::survey_statements): "purpose",
    // ...
    std::map<std::string, std::string, std::less<>> statements = {};
    std::optional<double> mounting_percent =
        {}; // expanded (k = 2) uncertainty of a value by how sensors are mounted, %
    std::optional<double> position_percent = {}; // the same by where in the space they stand, %
    Comparison decision_rule = Comparison::simple;
    std::vector<Sensor> sensors = {};
    std::vector<Condition> conditions = {};
    std::vector<Source> sources = {};
    std::vector<Plan> plans = {};
    std::vector<Space> spaces = {};
    std::vector<Recording> recordings = {};
    std::vector<CalibrationCheck> calibration_checks = {};
    std::vector<Exposure> exposures = {};
    std::vector<Judge> judges = {};

    const Space* space(std::string_view id) const;
    const Condition* condition(std::string_view id) const;
    const Sensor* sensor(std::string_view id) const;
    const Plan* plan(std::string_view id) const;

    // What holds for a recording: the nearest statement of recording, space and survey; empty where there is none.
    std::optional<double> mounting_percent_of(const Recording& recording) const;
    std::optional<double> position_percent_of(const Recording& recording) const;
};

} // namespace becalm
