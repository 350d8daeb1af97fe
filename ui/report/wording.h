// The words of a report, in one table for each language, and how numbers are written in it: values with three
// significant digits, uncertainties with two (common practice, no source); the appendix has every digit.
//
// The words of publications (bands, titles), of the survey and of the judgement (findings, notes, reasons) stand as
// they are. {} are filled in, in their order.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "src/model/assessment.h"

namespace becalm::report {

struct Wording {
    std::string_view language = "en";

    std::string_view contents = "Contents", date = "Date: {}", client = "Client: {}", by_program = "Made by becalm {}";
    std::string_view yes = "yes", no = "no", not_stated = "not stated";

    std::string_view verdicts = "Verdicts";
    std::string_view counts = "{} judged, of which {} exceed; {} that cannot be judged.";
    std::string_view nothing_judged = "Nothing could be judged: the reasons stand beside each place.";
    std::string_view how_read =
        "Worst first within each criterion. The mark shows the place of the value among the bands, from the mildest on "
        "the left; the words are those of the publication.";
    std::string_view criterion = "criterion", space = "space", position = "position", condition = "condition",
                     use = "use", axis = "axis", weighting = "weighting", value = "value", uncertainty = "± (k = 2)",
                     unit = "unit", place = "place", band = "band", exceeded = "exceeded";
    std::string_view not_judged = "cannot be judged; “What was left out” tells why", no_limits = "no limits set",
                     also = "{} (or {})";

    std::string_view purpose = "Client and purpose";
    std::string_view purpose_words = "It is judged how vibration is felt by people, by the criteria below.";
    std::string_view uses = "uses", all_uses = "all uses", confirmed_by = "numbers compared with the publication by",
                     judged_by = "Criteria asked for";

    std::string_view statement_table = "Stated in the survey", item = "item", statement = "statement",
                     purpose_stated = "purpose", object_stated = "object", author = "author",
                     instruments_stated = "instruments", mounting = "mounting of the sensors",
                     background = "background vibration", complaints = "complaints, rattle, sound",
                     deviations = "deviations from the publications", client_stated = "client";

    std::string_view object = "Object and places";
    std::string_view setting = "Setting: {}.", spaces = "Spaces", label = "name", group = "group", plan = "plan",
                     mark = "mark", plan_alternative = "Plan {} with the numbered marks of its spaces",
                     plan_not_shown = "The plan {} ({}) is not shown: {}.", plan_damaged = "its PDF file is damaged",
                     plan_locked = "its PDF file is locked by a password", plan_no_page = "its PDF file has no page {}",
                     plan_failed = "its page cannot be drawn",
                     plan_marks = "Marks: the number of the space and the place of its worst value among the bands; "
                                  "dark where it exceeds.",
                     plan_unknown = "it is no PNG, JPEG or SVG picture";
    std::string_view axes_words =
        "Axes: x, y and z are translations, rx, ry and rz rotations about them. Of a person x is fore-and-aft, y "
        "lateral and z along the spine; in buildings and vessels z is vertical.";

    std::string_view conditions = "Conditions, times and sources";
    std::string_view condition_table = "Conditions", title = "title", noted = "as noted", period = "period",
                     hours = "hours", events = "events", source_table = "Sources of vibration", source = "source",
                     kind = "kind", exposure_table = "Persons and their tasks", person = "person", day = "day",
                     no_conditions = "The survey states no conditions.";

    std::string_view instruments = "Instruments and recordings";
    std::string_view sensor_table = "Sensors", sensor = "sensor", serial = "serial number", calibrated = "calibrated",
                     certificate = "certificate", sensor_uncertainty = "uncertainty of the sensitivity (k = 2), %",
                     no_sensors =
                         "The survey names no sensors: calibration cannot be shown and no uncertainty be stated.";
    std::string_view recording_table = "Recordings", recording = "recording", channels = "channels",
                     read_as = "as read", scale = "a stored 1 is", start = "start", comment = "remark",
                     not_read = "not read";
    std::string_view filter_words =
        "Weightings are designed for each recording's own rate from their published parameters, within 0.01 % and "
        "0.01° of the definition up to 112 Hz (hand-arm weighting: 1,400 Hz). The first seconds, while a filter "
        "settles, are left out and said so in the notes.";

    std::string_view left_out = "What was left out, and why";
    std::string_view excluded_table = "Spans left out", from_to = "from–to, s", reason = "reason",
                     event_table = "Events: where a recording lists some, they alone are judged", event = "event",
                     refused_table = "Places without a verdict",
                     nothing_left_out = "No span was left out of any recording, and every place has its verdict.";

    std::string_view fitness = "Fitness of the recordings";
    std::string_view finding_table = "Findings", severity = "severity", channel = "channel", finding = "finding",
                     nothing_found = "Nothing was found that a careful reader would ask about.",
                     severity_words = "A refusal keeps the recording or channel out of every verdict; a caution lets "
                                      "the value stand; a note changes nothing.";

    std::string_view results = "Results by criterion";
    std::string_view compared = "What is compared", confirmed = "How the numbers were confirmed: {}.",
                     bands_table = "Bands", range = "range", below = "below {}", up_to = "up to {}",
                     above = "above these", from_on = "from {} ", exceeds = "exceeds",
                     rulers = "Values with their uncertainty among the bands", notes = "Notes",
                     combined = "taken together";
    std::string_view limits_missing = "The publication sets limits that are not in the program.";

    std::string_view causes = "Causes and cures";
    std::string_view causes_words = "For the worst place of each criterion: what carries the weighted energy, what "
                                    "makes it, and what would bring "
                                    "the value to the next milder band. Sources are those that the survey names.",
                     cannot_explain = "It cannot be explained, because {}.",
                     component_table = "Components, strongest first", frequency = "Hz",
                     weighted = "weighted r.m.s., {}", share = "share, %", made_by = "made by", because = "because",
                     unexplained = "unexplained",
                     energy = "Of the energy {} % comes from named sources, {} % is in unexplained components, {} % is "
                              "broad.",
                     next_band = "The next milder band, “{}”, begins {} % lower, at {}.",
                     nothing_to_explain = "There is no judged value to explain.";

    std::string_view uncertainty_chapter = "Uncertainty";
    std::string_view uncertainty_words =
        "A stated uncertainty is expanded (k = 2). It is put together from the calibration of the sensors (common to "
        "the "
        "axes of one sensor), the filters (0.01 %), what the survey states of mounting and of the choice of the place, "
        "and what the record tells of its own scatter: by first order, or by drawing where axes, positions or maxima "
        "compete. The table gives each part as a standard uncertainty of the value. A value without one comes from "
        "sensors of which the survey states none, or from a quantity that is no power of the motion.";
    std::string_view rule_simple = "A verdict compares the value itself with the limit, without the uncertainty.",
                     rule_guarded = "A verdict compares the value plus its expanded uncertainty with the limit.",
                     budget = "Standard uncertainty of each value and its parts", unstated = "Not in the uncertainty",
                     probability = "exceeds with, %";
    std::string_view near_table = "Values nearer to a limit than their uncertainty", limit = "limit",
                     none_near = "No value lies nearer to a limit than its stated uncertainty.";

    std::string_view cautions = "Cautions";
    std::string_view caution_comfort = "Comfort evaluation is not a structural, machinery or health assessment.",
                     caution_limits = "Limits come from the editions cited. Local codes, contracts and licensed "
                                      "practice prevail.",
                     caution_memory = "Numbers marked “from memory” were not compared with the publication: compare "
                                      "them with your copy before you sign. They are those of {}.",
                     caution_health = "A health action value is exceeded for {}. The employer has a duty to act: "
                                      "reduce the exposure and follow the law that applies. A physician or a licensed "
                                      "hygienist decides about people.";

    std::string_view appendix_values = "Appendix A: every value in full";
    std::string_view values_words = "Unrounded, in SI units. With the recordings of appendix D, the weighting and the "
                                    "formula of the criterion each "
                                    "can be computed again.",
                     values_table = "Compared values", verdict = "verdict", terms_table = "Values of the axes",
                     factor = "factor", duration = "duration, s", recordings = "recordings";
    std::string_view appendix_steps = "Appendix B: steps of the computation", steps_table = "Steps, in their order",
                     step = "step", of = "of";
    std::string_view appendix_sources = "Appendix C: publications", sources_table = "Publications used",
                     edition = "edition", status = "status", seen = "how its contents were seen";
    std::string_view appendix_inputs = "Appendix D: what the report rests on";
    std::string_view
        inputs_words =
            "The seal in the last line is the SHA-256 of these inputs, the values of appendix A and the text of this "
            "report. It is no signature: it shows what changed since, not who changed it. `becalm verify` judges the "
            "survey again and names what differs.",
        seal_of_html = "Seal (SHA-256) of the same report as HTML: {}", inputs_table = "Inputs", input = "input",
        name = "name", sha256 = "SHA-256 or value";
};

const Wording& english();

// `format` with its {} filled in.
std::string filled(std::string_view format, std::string_view a = "", std::string_view b = "", std::string_view c = "");

// "81.2" of 0.0812 m/s2; "5.8" of an uncertainty; "mm/s²". Empty where there is none.
std::string value_text(const std::optional<double>& value, std::string_view unit);
std::string uncertainty_text(const std::optional<double>& uncertainty, std::string_view unit);
std::string unit_text(std::string_view unit);
// "81.2 mm/s²"
std::string with_unit(double value, std::string_view unit);

// The shortest text that reads back the same number.
std::string exact_text(const std::optional<double>& value);

// The band in the publication's words, others that hold the value beside it; why it is not judged; that there are no
// limits.
std::string band_text(const Verdict& verdict, const Wording& words);

} // namespace becalm::report
