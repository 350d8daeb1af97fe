#include "ui/report/wording.h"

namespace becalm::report {
namespace {

constexpr Wording words{
    .contents = "Contents",
    .date = "Date: {}",
    .client = "Client: {}",
    .by_program = "Made by becalm {}",
    .yes = "yes",
    .no = "no",
    .not_stated = "not stated",
    .logo = "logo",
    .picture_not_drawn = "{}: the picture cannot be drawn here.",

    .verdicts = "Verdicts",
    .counts = "{} judged, of which {} exceed; {} that cannot be judged.",
    .nothing_judged = "Nothing could be judged: the reasons stand beside each place.",
    .how_read = "Worst first within each criterion. The mark shows the place of the value among the bands, from the "
                "mildest on the left; the words are those of the publication.",
    .criterion = "criterion",
    .space = "space",
    .position = "position",
    .condition = "condition",
    .use = "use",
    .axis = "axis",
    .weighting = "weighting",
    .value = "value",
    .uncertainty = "± (k\u00a0=\u00a02)",
    .unit = "unit",
    .place = "place",
    .band = "band",
    .exceeded = "exceeded",
    .not_judged = "cannot be judged; “What was left out” tells why",
    .no_limits = "no limits set",
    .also = "{} (or {})",
    .total_axis = "total",

    .purpose = "Client and purpose",
    .purpose_words = "It is judged how vibration is felt by people, by the criteria below.",
    .uses = "uses",
    .all_uses = "all uses",
    .confirmed_by = "numbers compared with the publication by",
    .judged_by = "Criteria asked for",

    .object = "Object and places",
    .setting = "Setting: {}.",
    .spaces = "Spaces",
    .label = "name",
    .group = "group",
    .plan = "plan",
    .mark = "mark",
    .plan_alternative = "Plan {} with the numbered marks of its spaces",
    .plan_not_shown = "The plan {} ({}) is not shown: {}.",
    .plan_pdf = "it is a page of a PDF file",
    .plan_unknown = "it is no PNG, JPEG or SVG picture",
    .axes_words = "Axes: x, y and z are translations, rx, ry and rz rotations about them. Of a person x is "
                  "fore-and-aft, y lateral and z along the spine; in buildings and vessels z is vertical.",

    .conditions = "Conditions, times and sources",
    .condition_table = "Conditions",
    .title = "title",
    .noted = "as noted",
    .period = "period",
    .hours = "hours",
    .events = "events",
    .source_table = "Sources of vibration",
    .source = "source",
    .kind = "kind",
    .exposure_table = "Persons and their tasks",
    .person = "person",
    .day = "day",
    .no_conditions = "The survey states no conditions.",

    .instruments = "Instruments and recordings",
    .sensor_table = "Sensors",
    .sensor = "sensor",
    .serial = "serial number",
    .calibrated = "calibrated",
    .certificate = "certificate",
    .sensor_uncertainty = "uncertainty of the sensitivity (k = 2), %",
    .no_sensors = "The survey names no sensors: calibration cannot be shown and no uncertainty be stated.",
    .recording_table = "Recordings",
    .recording = "recording",
    .channels = "channels",
    .read_as = "as read",
    .scale = "a stored 1 is",
    .start = "start",
    .comment = "remark",
    .not_read = "not read",
    .filter_words = "Weightings are designed for each recording's own rate from their published parameters, within "
                    "0.01 % and 0.01° of the definition up to 112 Hz (hand-arm weighting: 1,400 Hz). The first "
                    "seconds, while a filter settles, are left out and said so in the notes.",

    .left_out = "What was left out, and why",
    .excluded_table = "Spans left out",
    .from_to = "from–to, s",
    .reason = "reason",
    .event_table = "Events: where a recording lists some, they alone are judged",
    .event = "event",
    .refused_table = "Places without a verdict",
    .nothing_left_out = "No span was left out of any recording, and every place has its verdict.",

    .fitness = "Fitness of the recordings",
    .finding_table = "Findings",
    .severity = "severity",
    .channel = "channel",
    .finding = "finding",
    .finding_quoted = "in the program’s words",
    .nothing_found = "Nothing was found that a careful reader would ask about.",
    .severity_words = "A refusal keeps the recording or channel out of every verdict; a caution lets the value stand; "
                      "a note changes nothing.",

    .results = "Results by criterion",
    .compared = "What is compared",
    .confirmed = "How the numbers were confirmed: {}.",
    .from_memory = "from memory",
    .bands_table = "Bands",
    .range = "range",
    .below = "below {}",
    .up_to = "up to {}",
    .above = "above these",
    .from_on = "from {} ",
    .exceeds = "exceeds",
    .rulers = "Values with their uncertainty among the bands",
    .notes = "Notes",
    .combined = "taken together",
    .limits_missing = "The publication sets limits that are not in the program.",

    .causes = "Causes and cures",
    .causes_words = "For the worst place of each criterion: what carries the weighted energy, what makes it, and what "
                    "would bring the value to the next milder band. Sources are those that the survey names.",
    .cannot_explain = "It cannot be explained, because {}.",
    .component_table = "Components, strongest first",
    .frequency = "Hz",
    .weighted = "weighted r.m.s., {}",
    .share = "share, %",
    .made_by = "made by",
    .because = "because",
    .unexplained = "unexplained",
    .energy = "Of the energy {} % comes from named sources, {} % is in unexplained components, {} % is broad.",
    .next_band = "The next milder band, “{}”, begins {} % lower, at {}.",
    .cure_reaches = "{} dB less of {} reaches “{}”",
    .cure_alone = "not reachable by {} alone: without it the value is {}",
    .cure_without = "without {} the value is {}",
    .nothing_to_explain = "There is no judged value to explain.",

    .uncertainty_chapter = "Uncertainty",
    .uncertainty_words =
        "A stated uncertainty is expanded (k = 2). It is put together from the calibration of the sensors (common to "
        "the axes of one sensor), the filters (0.01 %), what the survey states of mounting and of the choice of the "
        "place, and what the record tells of its own scatter: by first order, or by drawing where axes, positions or "
        "maxima compete. The table gives each part as a standard uncertainty of the value. A value without one comes "
        "from sensors of which the survey states none, or from a quantity that is no power of the motion.",
    .rule_simple = "A verdict compares the value itself with the limit, without the uncertainty.",
    .rule_guarded = "A verdict compares the value plus its expanded uncertainty with the limit.",
    .budget = "Standard uncertainty of each value and its parts",
    .unstated = "Not in the uncertainty",
    .unstated_quoted = "Not in the uncertainty",
    .count_of_values = "Verdicts",
    .probability = "exceeds with, %",
    .near_table = "Values nearer to a limit than their uncertainty",
    .limit = "limit",
    .none_near = "No value lies nearer to a limit than its stated uncertainty.",
    .settled_by = "settled by so many times the record",
    .settled_by_none = "none: {}",

    .exposure = "Daily exposure",
    .exposure_words =
        "The days of persons, by their tasks. A task adds A(8) = k a_w √(T / 8 h) on each axis, with k = 1.4 for x and "
        "y and 1 for z of the whole body; k VDV (T / judged duration)^¼; and points, 100 at the action value. Squares "
        "of A(8), fourth powers of doses, and points of the tasks add up, an axis at a time. Of the whole body the "
        "highest axis is compared, of a hand the vector sum. Hours are those that the survey states.",
    .whole_body = "Whole body",
    .hand_arm = "Hand and arm, {}",
    .hand_arm_governs = "Hand and arm, {} (the hand that governs)",
    .task = "task",
    .whole_day = "whole day",
    .points_an_hour = "points/h",
    .points = "points",
    .highest = "highest: {}",
    .vector_sum = "vector sum",
    .not_within_a_day = "not within a day",
    .others_exceed = "the others exceed it already",
    .task_times = "How long each task may last",
    .no_bound_in_a_day = "{}: no task reaches a bound within a day, alone or beside the others.",
    .bound = "bound",
    .alone = "alone, after",
    .beside = "beside the other tasks, after",
    .left = "left",
    .same_work = "the same work, in these shares, reaches it after",
    .seat_value = "SEAT value, %",
    .duty = "Duty to act: {}.",
    .taken = "{} (taken: the survey asks for none)",
    .exposure_caution =
        "A comfort evaluation is no health assessment. These are exposures as measured, by the editions cited, for the "
        "hours stated; how work and machines vary from day to day is not in the uncertainty (of A(8) and VDV 20 % to "
        "40 % in all are usual). National law prevails over the Directive; a licensed professional of occupational "
        "health decides about people.",

    .cautions = "Cautions",
    .caution_comfort = "Comfort evaluation is not a structural, machinery or health assessment.",
    .caution_limits = "Limits come from the editions cited. Local codes, contracts and licensed practice prevail.",
    .caution_memory = "Numbers marked “from memory” were not compared with the publication: compare them with your "
                      "copy before you sign. They are those of {}.",
    .caution_health = "A health action value is exceeded for {}. The employer has a duty to act: reduce the exposure "
                      "and follow the law that applies. A physician or a licensed hygienist decides about people.",
    .quotes = "Findings, reasons, notes and steps are told in the program’s own words; bands and titles are those of "
              "the publications or of the criteria.",

    .appendix_values = "Appendix A: every value in full",
    .values_words = "Unrounded, in SI units. With the recordings of appendix D, the weighting and the formula of the "
                    "criterion each can be computed again.",
    .values_table = "Compared values",
    .verdict = "verdict",
    .terms_table = "Values of the axes",
    .factor = "factor",
    .duration = "duration, s",
    .recordings = "recordings",
    .appendix_steps = "Appendix B: steps of the computation",
    .steps_table = "Steps, in their order",
    .step = "step",
    .of = "of",
    .appendix_sources = "Appendix C: publications",
    .sources_table = "Publications used",
    .edition = "edition",
    .status = "status",
    .seen = "how its contents were seen",
    .appendix_inputs = "Appendix D: what the report rests on",
    .inputs_words = "The seal in the last line is the SHA-256 of these inputs, the values of appendix A and the text "
                    "of this report. It is no signature: it shows what changed since, not who changed it. `becalm "
                    "verify` judges the survey again and names what differs.",
    .seal_of_html = "Seal (SHA-256) of the same report as HTML: {}",
    .inputs_table = "Inputs",
    .input = "input",
    .name = "name",
    .sha256 = "SHA-256 or value",
    .in_place_of_own = "in place of the survey's own",

    .settings = {"vessel", "rail", "road", "building", "lift"},
    .severities = {"note", "caution", "refusal"},
    .axis_rules = {"each axis is judged apart", "the axis with the greatest value governs",
                   "the vertical axis alone is judged",
                   "root of the sum of the squares of the axes, each times its factor",
                   "roots of sums of squares of groups of axes, added up",
                   "root of the sum of squares of the first group over that of the second, in per cent"},
    .parts_rules = {"conditions are judged apart", "values of conditions or tasks add up",
                    "squares of the values of conditions or tasks add up",
                    "fourth powers of the values of conditions or tasks add up",
                    "the condition with the greatest value governs"},
    .repeats_rules = {"repeated recordings count as one longer record",
                      "of repeated recordings the mean of the values counts",
                      "of repeated recordings the greatest value counts"},
};

} // namespace

const Wording& english() { return words; }

} // namespace becalm::report
