// The keys and names that the survey and criterion files know, once: the readers, the schemas in data/schema and the
// messages all follow these lists (a test holds the schemas to them).
#pragma once

#include <array>
#include <string_view>
#include <utility>

namespace becalm::io::keys {

using Name = std::string_view;

// --- survey ---
inline constexpr auto survey = std::to_array<Name>({"title",
                                                    "setting",
                                                    "client",
                                                    "note",
                                                    "purpose",
                                                    "object",
                                                    "author",
                                                    "instruments",
                                                    "mounting",
                                                    "background",
                                                    "complaints",
                                                    "deviations",
                                                    "mounting_percent",
                                                    "position_percent",
                                                    "decision_rule",
                                                    "sensor",
                                                    "condition",
                                                    "source",
                                                    "plan",
                                                    "space",
                                                    "recording",
                                                    "calibration_check",
                                                    "exposure",
                                                    "judge"});
// Of these: plain text for the report, asked of a report by [bs6472-1-2008, annex A; din4150-2-1999, 8; jgj-t170-2009,
// 7] (as listed in secondary texts).
inline constexpr auto survey_statements = std::to_array<Name>(
    {"purpose", "object", "author", "instruments", "mounting", "background", "complaints", "deviations"});
inline constexpr auto sensor = std::to_array<Name>({"id", "title", "model", "serial", "sensitivity", "sensitivity_unit",
                                                    "calibrated", "certificate", "uncertainty_percent", "calibrations",
                                                    "calibration_valid_months", "noise_m_s2", "teds"});
inline constexpr auto calibration = std::to_array<Name>({"date", "sensitivity", "uncertainty_percent", "certificate"});
inline constexpr auto calibration_check =
    std::to_array<Name>({"file", "sensor", "channel", "when", "unit", "scale", "amplitude", "hz", "tolerance_percent"});
inline constexpr auto calibration_moments = std::to_array<Name>({"before", "after"});
inline constexpr auto condition = std::to_array<Name>({"id", "title", "period", "exposure_h", "events"});
inline constexpr auto condition_values =
    std::to_array<Name>({"shaft_rpm", "power_percent", "speed_kn", "speed_km_h", "wind_bft", "sea_state",
                         "water_depth_m", "draught_m", "temperature_c", "traffic_per_h", "load_kg", "persons"});
inline constexpr auto source = std::to_array<Name>({"id", "title", "kind", "reference_channel"});
inline constexpr auto source_values =
    std::to_array<Name>({"rpm", "blades", "cylinders", "strokes", "teeth", "hz", "spacing_m", "diameter_m",
                         "speed_km_h", "tolerance_percent"});
inline constexpr auto plan = std::to_array<Name>({"id", "title", "file", "page"});
inline constexpr auto space = std::to_array<Name>({"id", "label", "use", "group", "plan", "place", "position_percent"});
inline constexpr auto recording = std::to_array<Name>(
    {"file", "space", "position", "condition", "sensor", "channels", "unit", "scale", "sensitivity", "start",
     "resample_hz", "exclude", "events", "mounting_percent", "position_percent", "comment"});
inline constexpr auto exclusion = std::to_array<Name>({"from_s", "to_s", "reason"});
inline constexpr auto event = std::to_array<Name>({"from_s", "to_s", "title"});
inline constexpr auto exposure = std::to_array<Name>({"person", "day", "tasks"});
inline constexpr auto task = std::to_array<Name>({"space", "position", "condition", "hours"});
inline constexpr auto judge = std::to_array<Name>({"criteria", "uses", "confirmed-by"});

// --- criterion ---
inline constexpr auto criterion = std::to_array<Name>({"id",
                                                       "title",
                                                       "setting",
                                                       "settings",
                                                       "source",
                                                       "clause",
                                                       "quantity",
                                                       "unit",
                                                       "axes",
                                                       "weighting",
                                                       "factor",
                                                       "needed",
                                                       "positions",
                                                       "repeats",
                                                       "conditions",
                                                       "highest_position",
                                                       "period",
                                                       "hours",
                                                       "rest",
                                                       "decision",
                                                       "curve",
                                                       "reference_h",
                                                       "least_duration_s",
                                                       "wished_duration_s",
                                                       "least_recordings",
                                                       "parameters",
                                                       "check_first",
                                                       "limits_missing",
                                                       "confirmed",
                                                       "note",
                                                       "term",
                                                       "scale"});
inline constexpr auto term = std::to_array<Name>({"axis", "position", "weighting", "factor", "group", "parameters"});
inline constexpr auto scale = std::to_array<Name>({"use", "bands", "lower", "upper", "average"});
inline constexpr auto rest = std::to_array<Name>({"factor", "hours", "sunday_hours"});
inline constexpr auto decision = std::to_array<Name>({"average_quantity", "strict", "rare_events"});
inline constexpr auto band = std::to_array<Name>({"name", "from", "below", "up_to", "exceeds"});
// Keys of a table of weightings or factors; "horizontal" stands for x and y, "vertical" for z.
inline constexpr auto per_axis = std::to_array<Name>({"x", "y", "z", "rx", "ry", "rz", "horizontal", "vertical"});
inline constexpr auto publication = std::to_array<Name>({"title", "edition", "status", "seen", "note"});

// --- names used as values ---
inline constexpr auto periods = std::to_array<Name>({"day", "evening", "night"});
// "rest": hours of rest in the day, which some publications count double.
inline constexpr auto condition_periods = std::to_array<Name>({"day", "evening", "night", "rest"});
inline constexpr auto source_kinds = std::to_array<Name>(
    {"shaft", "propeller", "engine", "gear", "generator", "walker", "track", "wheel", "plant", "mains", "other"});

// Quantities a criterion can compare, each with the unit it must be stated in.
inline constexpr auto quantity_units = std::to_array<std::pair<Name, Name>>({{"weighted_rms", "m/s2"},
                                                                             {"vdv", "m/s^1.75"},
                                                                             {"evdv", "m/s^1.75"},
                                                                             {"mtvv_linear", "m/s2"},
                                                                             {"mtvv_exponential", "m/s2"},
                                                                             {"msdv", "m/s^1.5"},
                                                                             {"peak", "m/s2"},
                                                                             {"daily_exposure", "m/s2"},
                                                                             {"daily_vdv", "m/s^1.75"},
                                                                             {"daily_evdv", "m/s^1.75"},
                                                                             {"exposure_points", "1"},
                                                                             {"seat_rms", "%"},
                                                                             {"seat_vdv", "%"},
                                                                             {"seat_psd", "%"},
                                                                             {"weighted_velocity", "m/s"},
                                                                             {"event_rms", "m/s2"},
                                                                             {"event_velocity", "m/s"},
                                                                             {"block_rms", "m/s2"},
                                                                             {"comfort_index", "1"},
                                                                             {"component_peak", "m/s"},
                                                                             {"curve_transition_percent", "%"},
                                                                             {"discrete_event_percent", "%"},
                                                                             {"ride_index_components", "1"},
                                                                             {"ride_index_weighted", "1"},
                                                                             {"swing_greatest", "m/s2"},
                                                                             {"swing_a95", "m/s2"},
                                                                             {"jerk_greatest", "m/s^3"},
                                                                             {"ride_acceleration_a95", "m/s2"},
                                                                             {"motion_rms", "m/s2"},
                                                                             {"running_velocity", "m/s"},
                                                                             {"response_factor", "1"},
                                                                             {"vomiting_percent", "%"},
                                                                             {"kb_fmax", "1"},
                                                                             {"kb_ftm", "1"},
                                                                             {"kb_ftr", "1"},
                                                                             {"curve_ratio", "1"},
                                                                             {"curve_level", "dB"},
                                                                             {"peak_ratio", "1"},
                                                                             {"velocity_level", "dB"},
                                                                             {"vibration_level", "dB"},
                                                                             {"vibration_level_max", "dB"},
                                                                             {"vibration_level_l10", "dB"},
                                                                             {"band_level", "dB"},
                                                                             {"source_rms", "m/s2"},
                                                                             {"ranked_velocity", "m/s"},
                                                                             {"peak_percent_g", "%"},
                                                                             {"espa", "%"},
                                                                             {"one_step_rms", "m/s"}});
// In these a quantity is of an acceleration, as it is or integrated.
inline constexpr auto units_of_acceleration = std::to_array<Name>({"m/s2", "m/s^1.5", "m/s^1.75"});
// Those that are of a lane weighted by KB and no other.
inline constexpr auto quantities_of_kb = std::to_array<Name>({"kb_fmax", "kb_ftm", "kb_ftr"});

// Parameters that a quantity knows; all have a default but those in `needed_parameters`.
inline constexpr auto quantity_parameters =
    std::to_array<std::pair<Name, Name>>({{"weighted_velocity", "time_constant_s"},
                                          {"event_rms", "deviations"},
                                          {"event_velocity", "deviations"},
                                          {"event_velocity", "time_constant_s"},
                                          {"block_rms", "block_s"},
                                          {"block_rms", "percentile"},
                                          {"block_rms", "percentile_rule"},
                                          {"block_rms", "class_width"},
                                          {"comfort_index", "block_s"},
                                          {"comfort_index", "percentile"},
                                          {"comfort_index", "percentile_rule"},
                                          {"comfort_index", "class_width"},
                                          {"component_peak", "conversion_factor"},
                                          {"curve_transition_percent", "A"},
                                          {"curve_transition_percent", "B"},
                                          {"curve_transition_percent", "C"},
                                          {"curve_transition_percent", "D"},
                                          {"curve_transition_percent", "E"},
                                          {"discrete_event_percent", "a"},
                                          {"discrete_event_percent", "b"},
                                          {"discrete_event_percent", "c"},
                                          {"swing_a95", "percentile"},
                                          {"jerk_greatest", "window_s"},
                                          {"ride_acceleration_a95", "percentile"},
                                          {"running_velocity", "time_constant_s"},
                                          {"response_factor", "base"},
                                          {"daily_evdv", "greatest_crest_factor"},
                                          {"exposure_points", "action"},
                                          {"vomiting_percent", "per_msdv"},
                                          {"kb_ftm", "takt_s"},
                                          {"kb_ftm", "zero_up_to"},
                                          {"kb_ftm", "zero_below"},
                                          {"kb_ftr", "takt_s"},
                                          {"kb_ftr", "zero_up_to"},
                                          {"kb_ftr", "zero_below"},
                                          {"curve_ratio", "derivative"},
                                          {"curve_level", "derivative"},
                                          {"peak_ratio", "natural_hz"},
                                          {"peak_ratio", "below_hz"},
                                          {"velocity_level", "reference"},
                                          {"vibration_level", "reference"},
                                          {"vibration_level_max", "reference"},
                                          {"vibration_level_l10", "reference"},
                                          {"vibration_level_l10", "step_s"},
                                          {"vibration_level_l10", "percent"},
                                          {"band_level", "reference"},
                                          {"band_level", "from_hz"},
                                          {"band_level", "to_hz"},
                                          {"source_rms", "deviations"},
                                          {"source_rms", "residual"},
                                          {"ranked_velocity", "rank"},
                                          {"ranked_velocity", "time_constant_s"},
                                          {"one_step_rms", "percentile"}});
// Those that compare a spectrum with a curve of the criterion.
inline constexpr auto quantities_with_curve =
    std::to_array<Name>({"curve_ratio", "component_peak", "curve_level", "peak_ratio"});
inline constexpr auto needed_parameters = std::to_array<std::pair<Name, Name>>({{"response_factor", "base"},
                                                                                {"curve_transition_percent", "A"},
                                                                                {"curve_transition_percent", "B"},
                                                                                {"curve_transition_percent", "C"},
                                                                                {"curve_transition_percent", "D"},
                                                                                {"curve_transition_percent", "E"},
                                                                                {"discrete_event_percent", "a"},
                                                                                {"discrete_event_percent", "b"},
                                                                                {"discrete_event_percent", "c"},
                                                                                {"exposure_points", "action"}});
// Those that mean nothing without a reference duration.
inline constexpr auto quantities_with_reference = std::to_array<Name>({"daily_exposure", "exposure_points", "kb_ftr"});

} // namespace becalm::io::keys
