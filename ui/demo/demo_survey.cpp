#include "ui/demo/demo_survey.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <charconv>
#include <cmath>
#include <fcntl.h>
#include <filesystem>
#include <iterator>
#include <string_view>

#include <fmt/format.h>
#include <sys/file.h>

#include "src/io/atomic_file.h"
#include "src/io/audio_writer.h"
#include "src/io/regular_file.h"
#include "ui/demo/deck_plans.h"
#include "ui/demo/synthesis.h"

namespace becalm::demo {

namespace {

namespace fs = std::filesystem;

enum class Stored { wav_float, wav_integer, flac, text };

struct DemoRecording {
    std::string_view file; // below recordings/
    std::string_view space;
    std::string_view condition;
    std::string_view sensor;
    std::string_view start;
    Stored stored = Stored::wav_float;
    int rate_hz = 1000;
    int seconds = 125;
    double full_scale = 1.0; // of integers, in the unit of the recording
    Sensed sensed = Sensed::acceleration;
    bool clips = false;        // the recorder's range was chosen too small
    std::string_view teaching; // comment lines above the entry
    std::string_view keys;     // further lines of the entry
    Scene scene;
};

struct DemoPlace {
    std::string_view folder; // below the demo's own, empty for itself
    std::string_view head;   // of survey.toml
    std::vector<DemoRecording> recordings;
    std::vector<DeckPlan> plans = {};
};

// ---- the ferry
// --------------------------------------------------------------------------------------------------------

constexpr std::string_view ferry_head =
    R"toml(# A survey, as becalm reads it. Every key is explained where it first appears; unknown keys are faults, so a typing error
# cannot silently change a verdict.
#
#     becalm check survey.toml       is everything fit to be judged?
#     becalm assess survey.toml      the verdicts

title = "MF Plumwhistle, habitability on a delivery voyage"
setting = "vessel"             # vessel | rail | road | building | lift
client = "Saltmarsh Pudding Ferries (invented)"
note = """
Invented for demonstration. The ferry, its owner and every name are made up, nothing was measured: the signals are \
synthesised with a fixed seed for each recording, so that everybody gets the same verdicts."""
# For the report; what is left out stands there as not stated.
purpose = "Habitability at delivery, as the building contract asks"
object = "Car ferry of 74 m, three decks, one propeller, bow thruster"
author = "an invented surveyor"
mounting = "Floor plates on three feet, levelled; no carpet beneath"
complaints = "In cabin 214 a wardrobe door rattles at service speed"
deviations = "None known"

# --- Sensors. A recording that names one carries its uncertainty (expanded, k = 2) into the verdict. ---
[[sensor]]
id = "a1"
title = "Triaxial accelerometer on a floor plate, set 1"
serial = "invented-0117"
calibrated = 2026-01-20
certificate = "INV-2026-031"
uncertainty_percent = 3.0

[[sensor]]
id = "a2"
title = "Triaxial accelerometer on a floor plate, set 2"
serial = "invented-0118"
calibrated = 2026-01-20
certificate = "INV-2026-032"
uncertainty_percent = 4.5

# --- Conditions: what the vessel was doing. A space is judged for each condition by itself. ---
[[condition]]
id = "service"
title = "Service speed, deep water"
shaft_rpm = 165
power_percent = 85
speed_kn = 13.5
sea_state = 2
water_depth_m = 70

[[condition]]
id = "harbour"
title = "Manoeuvring in harbour, bow thruster in use"
shaft_rpm = 90
power_percent = 25
speed_kn = 3
sea_state = 1
water_depth_m = 9

# --- Sources: what can excite vibration. They explain a spectrum's peaks; no verdict depends on them. ---
[[source]]
id = "shaft"
title = "Propeller shaft: 2.75 turns a second at service speed"
kind = "shaft"
rpm = 165

[[source]]
id = "propeller"
title = "Propeller: blade rate 11 Hz at service speed, and its multiples"
kind = "propeller"
rpm = 165
blades = 4
diameter_m = 2.1

[[source]]
id = "engine"
title = "Main engine, in-line: firing at 37.5 Hz at service speed"
kind = "engine"
rpm = 750
cylinders = 6
strokes = 4
# reference_channel = 4  # where a transducer sits on it: that channel of the recordings' files (here there is none)

[[source]]
id = "generator"
title = "Generator set: 25 Hz and 50 Hz at all times"
kind = "generator"
rpm = 1500

# --- Plans: drawings the spaces can be shown on. They help to find a place again; no verdict depends on them. ---
[[plan]]
id = "deck-2"
title = "Deck 2"
file = "plans/deck2.svg"

[[plan]]
id = "deck-4"
title = "Deck 4"
file = "plans/deck4.svg"

[[plan]]
id = "deck-6"
title = "Deck 6"
file = "plans/deck6.svg"

# --- Spaces. `use` chooses the scale of a criterion: the same motion is worse in a cabin than in a galley. `place` says
#     where on the plan: shares of its width and height from the left and the top edge. ---
[[space]]
id = "d2-crew-1"
label = "Crew cabin 1, forward"
use = "crew-accommodation"
group = "Deck 2"
plan = "deck-2"
place = [0.72, 0.35]

[[space]]
id = "d2-crew-4"
label = "Crew cabin 4, aft"
use = "crew-accommodation"
group = "Deck 2"
plan = "deck-2"
place = [0.105, 0.63]

[[space]]
id = "d2-control"
label = "Engine control room"
use = "working-area"
group = "Deck 2"
plan = "deck-2"
place = [0.54, 0.35]

[[space]]
id = "d4-201"
label = "Cabin 201, forward"
use = "passenger-cabin"
group = "Deck 4"
plan = "deck-4"
place = [0.74, 0.35]

[[space]]
id = "d4-214"
label = "Cabin 214, above the propeller"
use = "passenger-cabin"
group = "Deck 4"
plan = "deck-4"
place = [0.12, 0.63]

[[space]]
id = "d4-galley"
label = "Galley"
use = "working-area"
group = "Deck 4"
plan = "deck-4"
place = [0.25, 0.35]

[[space]]
id = "d6-302"
label = "Cabin 302"
use = "passenger-cabin"
group = "Deck 6"
plan = "deck-6"
place = [0.68, 0.63]

[[space]]
id = "d6-wheelhouse"
label = "Wheelhouse"
use = "working-area"
group = "Deck 6"
plan = "deck-6"
place = [0.83, 0.48]

# --- Persons at work: who is where for how many hours of a day. `becalm exposure survey.toml` tells what each task adds. ---
[[exposure]]
person = "Helmsman"
tasks = [
    { space = "d6-wheelhouse", condition = "service", hours = 6.5 },
    { space = "d6-wheelhouse", condition = "harbour", hours = 1.0 },
]

[[exposure]]
person = "Second engineer"
tasks = [
    { space = "d2-control", condition = "service", hours = 5.0 },
    { space = "d2-control", condition = "harbour", hours = 1.5 },
]

# --- What is judged by which criterion; `becalm criteria list` shows those that are there. iso2631-2-2003 is made for
#     buildings, so its values belong to the survey in terminal/. ---
[[judge]]
criteria = ["iso6954-2000"]
)toml";

// Clocks of every ferry scene, in this order.
enum FerryClock : std::size_t { shaft, engine, generator };

std::vector<Clock> ferry_clocks(double shaft_rpm)
{
    constexpr double gear = 750.0 / 165.0;
    constexpr double wander = 0.003;
    return {{shaft_rpm / 60.0, wander}, {shaft_rpm * gear / 60.0, wander}, {25.0, 0.0006}};
}

// Levels in one space, mm/s2 r.m.s. unweighted.
struct FerryLevels {
    PerAxis shaft_rate, blade_rate, twice_blade_rate, thrice_blade_rate, firing, generator, twice_generator;
    PerAxis broadband;
    PerAxis thruster; // bow thruster
    PerAxis swell;
    std::vector<Bang> bangs = {};
    std::vector<Band> passing = {};
};

Scene ferry_scene(double shaft_rpm, const FerryLevels& levels)
{
    Scene scene{.clocks = ferry_clocks(shaft_rpm), .tones = {}, .bands = {}, .bangs = levels.bangs};
    constexpr double blades = 4.0;
    constexpr double firings = 3.0; // a turn of a four-stroke engine with six cylinders
    scene.tones = {{shaft, 1.0, levels.shaft_rate},
                   {shaft, blades, levels.blade_rate},
                   {shaft, 2.0 * blades, levels.twice_blade_rate},
                   {shaft, 3.0 * blades, levels.thrice_blade_rate},
                   {engine, firings, levels.firing},
                   {generator, 1.0, levels.generator},
                   {generator, 2.0, levels.twice_generator}};
    scene.bands = {{30.0, 40.0, levels.broadband}, {28.0, 12.0, levels.thruster}, {0.12, 0.04, levels.swell}};
    scene.bands.insert(scene.bands.end(), levels.passing.begin(), levels.passing.end());
    return scene;
}

constexpr double service_rpm = 165.0;
constexpr double harbour_rpm = 90.0;

DemoPlace ferry()
{
    constexpr PerAxis none{};
    constexpr PerAxis open_sea{18, 22, 55};
    constexpr PerAxis sheltered{3, 4, 6};
    std::vector<DemoRecording> recordings;

    recordings.push_back({.file = "d2-crew-1-service.wav",
                          .space = "d2-crew-1",
                          .condition = "service",
                          .sensor = "a1",
                          .start = "2026-04-14T10:05:00+02:00",
                          .teaching = R"(
# --- Recordings: which file was taken where. `channels` says which channel is which axis: x fore-and-aft, y athwartships,
#     z vertical. This one holds floating-point numbers in m/s2, the unit that is taken unless another is named. ---
)",
                          .keys = {},
                          .scene = ferry_scene(service_rpm, {.shaft_rate = {4, 4, 9},
                                                             .blade_rate = {26, 21, 88},
                                                             .twice_blade_rate = {14, 12, 41},
                                                             .thrice_blade_rate = {9, 8, 22},
                                                             .firing = {12, 10, 34},
                                                             .generator = {9, 7, 18},
                                                             .twice_generator = {11, 9, 24},
                                                             .broadband = {19, 19, 45},
                                                             .thruster = none,
                                                             .swell = open_sea})});
    recordings.push_back({.file = "d2-crew-4-service.wav",
                          .space = "d2-crew-4",
                          .condition = "service",
                          .sensor = "a1",
                          .start = "2026-04-14T10:16:00+02:00",
                          .stored = Stored::wav_integer,
                          .full_scale = 5.0,
                          .teaching = R"(
# Integer samples say only how large a part of full scale they are. `scale` says what full scale is: here 5 m/s2. Without
# it the recording is refused.
)",
                          .keys = {},
                          .scene = ferry_scene(service_rpm, {.shaft_rate = {12, 10, 26},
                                                             .blade_rate = {84, 66, 268},
                                                             .twice_blade_rate = {41, 36, 155},
                                                             .thrice_blade_rate = {29, 26, 96},
                                                             .firing = {66, 58, 210},
                                                             .generator = {42, 33, 105},
                                                             .twice_generator = {39, 34, 120},
                                                             .broadband = {52, 48, 130},
                                                             .thruster = none,
                                                             .swell = open_sea})});
    recordings.push_back({.file = "d2-control-service.wav",
                          .space = "d2-control",
                          .condition = "service",
                          .sensor = "a2",
                          .start = "2026-04-14T10:31:00+02:00",
                          .stored = Stored::wav_integer,
                          .full_scale = 3.0,
                          .clips = true,
                          .teaching = R"(
# The recorder's range was too small for what happened here: from 47 s on samples stand at full scale for some seconds.
# What is clipped cannot be told any more, so the recording cannot be judged; a pass would be an invention.
)",
                          .keys = R"(comment = "hoist of the workshop ran into its stop; repeat"
)",
                          .scene = ferry_scene(service_rpm, {.shaft_rate = {12, 12, 22},
                                                             .blade_rate = {95, 80, 320},
                                                             .twice_blade_rate = {52, 47, 190},
                                                             .thrice_blade_rate = {44, 36, 120},
                                                             .firing = {110, 95, 330},
                                                             .generator = {61, 55, 180},
                                                             .twice_generator = {72, 66, 210},
                                                             .broadband = {70, 70, 180},
                                                             .thruster = none,
                                                             .swell = open_sea,
                                                             .passing = {{9.0, 4.0, {700, 600, 2600}, 47.0, 54.0}}})});
    recordings.push_back({.file = "d4-201-service.flac",
                          .space = "d4-201",
                          .condition = "service",
                          .sensor = "a2",
                          .start = "2026-04-14T10:50:00+02:00",
                          .stored = Stored::flac,
                          .full_scale = 2.0,
                          .teaching = R"(
# FLAC takes half the room and loses nothing. Its samples are integers too.
)",
                          .keys = {},
                          .scene = ferry_scene(service_rpm, {.shaft_rate = {4, 5, 8},
                                                             .blade_rate = {17, 15, 62},
                                                             .twice_blade_rate = {8, 7, 27},
                                                             .thrice_blade_rate = {5, 5, 14},
                                                             .firing = {9, 7, 21},
                                                             .generator = {7, 6, 13},
                                                             .twice_generator = {8, 8, 18},
                                                             .broadband = {15, 14, 30},
                                                             .thruster = none,
                                                             .swell = open_sea})});
    recordings.push_back({.file = "d4-214-service.wav",
                          .space = "d4-214",
                          .condition = "service",
                          .sensor = "a1",
                          .start = "2026-04-14T11:04:00+02:00",
                          .stored = Stored::wav_integer,
                          .full_scale = 5.0,
                          .teaching = {},
                          .keys = R"(comment = "wardrobe door rattles at blade rate"
)",
                          .scene = ferry_scene(service_rpm, {.shaft_rate = {14, 12, 31},
                                                             .blade_rate = {96, 77, 345},
                                                             .twice_blade_rate = {50, 44, 170},
                                                             .thrice_blade_rate = {33, 31, 95},
                                                             .firing = {38, 34, 105},
                                                             .generator = {24, 21, 60},
                                                             .twice_generator = {28, 26, 75},
                                                             .broadband = {46, 44, 110},
                                                             .thruster = none,
                                                             .swell = open_sea})});
    recordings.push_back(
        {.file = "d4-galley-service.wav",
         .space = "d4-galley",
         .condition = "service",
         .sensor = "a1",
         .start = "2026-04-14T11:19:00+02:00",
         .stored = Stored::wav_integer,
         .seconds = 135,
         .full_scale = 20.0,
         .teaching = R"(
# A span that is not the ship's vibration is taken out of the judgement, always with its reason. Take the line away to see
# what three slams of a door do to a value.
)",
         .keys = R"(exclude = [ { from_s = 61.0, to_s = 67.0, reason = "cold store door slammed three times" } ]
)",
         .scene = ferry_scene(service_rpm, {.shaft_rate = {7, 6, 13},
                                            .blade_rate = {44, 36, 151},
                                            .twice_blade_rate = {25, 22, 82},
                                            .thrice_blade_rate = {19, 17, 50},
                                            .firing = {30, 26, 88},
                                            .generator = {22, 17, 48},
                                            .twice_generator = {25, 22, 66},
                                            .broadband = {34, 33, 80},
                                            .thruster = none,
                                            .swell = open_sea,
                                            .bangs = {{61.6, 12.0, 0.5, {2400, 1700, 6100}},
                                                      {62.9, 12.0, 0.5, {2200, 1500, 5600}},
                                                      {64.3, 12.0, 0.5, {2500, 1800, 6400}}}})});
    recordings.push_back({.file = "d6-302-service.wav",
                          .space = "d6-302",
                          .condition = "service",
                          .sensor = "a2",
                          .start = "2026-04-14T11:40:00+02:00",
                          .teaching = {},
                          .keys = {},
                          .scene = ferry_scene(service_rpm, {.shaft_rate = {13, 10, 17},
                                                             .blade_rate = {128, 64, 176},
                                                             .twice_blade_rate = {47, 30, 84},
                                                             .thrice_blade_rate = {21, 19, 43},
                                                             .firing = {20, 17, 49},
                                                             .generator = {15, 12, 28},
                                                             .twice_generator = {16, 15, 35},
                                                             .broadband = {30, 28, 65},
                                                             .thruster = none,
                                                             .swell = open_sea})});
    recordings.push_back({.file = "d6-wheelhouse-service.wav",
                          .space = "d6-wheelhouse",
                          .condition = "service",
                          .sensor = "a2",
                          .start = "2026-04-14T11:55:00+02:00",
                          .teaching = R"(
# High up, the deckhouse rocks fore and aft: here x governs, not z.
)",
                          .keys = {},
                          .scene = ferry_scene(service_rpm, {.shaft_rate = {34, 12, 18},
                                                             .blade_rate = {232, 71, 146},
                                                             .twice_blade_rate = {68, 34, 70},
                                                             .thrice_blade_rate = {26, 20, 38},
                                                             .firing = {22, 18, 41},
                                                             .generator = {16, 14, 25},
                                                             .twice_generator = {17, 16, 30},
                                                             .broadband = {38, 32, 60},
                                                             .thruster = none,
                                                             .swell = open_sea})});
    recordings.push_back({.file = "d2-crew-1-harbour.wav",
                          .space = "d2-crew-1",
                          .condition = "harbour",
                          .sensor = "a1",
                          .start = "2026-04-14T16:02:00+02:00",
                          .stored = Stored::wav_integer,
                          .full_scale = 10.0,
                          .teaching = R"(
# In harbour the picture turns round: the bow thruster shakes what was quiet at sea.
)",
                          .keys = {},
                          .scene = ferry_scene(harbour_rpm, {.shaft_rate = {3, 3, 5},
                                                             .blade_rate = {16, 13, 40},
                                                             .twice_blade_rate = {9, 8, 21},
                                                             .thrice_blade_rate = {6, 6, 13},
                                                             .firing = {8, 8, 20},
                                                             .generator = {9, 7, 18},
                                                             .twice_generator = {11, 9, 24},
                                                             .broadband = {40, 40, 90},
                                                             .thruster = {340, 420, 1190},
                                                             .swell = sheltered})});
    recordings.push_back({.file = "d4-201-harbour.wav",
                          .space = "d4-201",
                          .condition = "harbour",
                          .sensor = "a2",
                          .start = "2026-04-14T16:09:00+02:00",
                          .stored = Stored::wav_integer,
                          .full_scale = 5.0,
                          .teaching = {},
                          .keys = {},
                          .scene = ferry_scene(harbour_rpm, {.shaft_rate = {2, 3, 4},
                                                             .blade_rate = {11, 10, 28},
                                                             .twice_blade_rate = {6, 6, 14},
                                                             .thrice_blade_rate = {4, 4, 9},
                                                             .firing = {6, 6, 13},
                                                             .generator = {7, 6, 13},
                                                             .twice_generator = {8, 8, 18},
                                                             .broadband = {25, 25, 55},
                                                             .thruster = {125, 150, 440},
                                                             .swell = sheltered})});
    recordings.push_back({.file = "d4-214-harbour.wav",
                          .space = "d4-214",
                          .condition = "harbour",
                          .sensor = "a1",
                          .start = "2026-04-14T16:21:00+02:00",
                          .stored = Stored::wav_integer,
                          .full_scale = 5.0,
                          .teaching = {},
                          .keys = {},
                          .scene = ferry_scene(harbour_rpm, {.shaft_rate = {5, 5, 9},
                                                             .blade_rate = {38, 33, 130},
                                                             .twice_blade_rate = {20, 18, 62},
                                                             .thrice_blade_rate = {14, 12, 35},
                                                             .firing = {17, 15, 46},
                                                             .generator = {24, 21, 60},
                                                             .twice_generator = {28, 26, 75},
                                                             .broadband = {30, 30, 70},
                                                             .thruster = {15, 20, 45},
                                                             .swell = sheltered})});
    recordings.push_back({.file = "d2-control-harbour.wav",
                          .space = "d2-control",
                          .condition = "harbour",
                          .sensor = "a2",
                          .start = "2026-04-14T16:34:00+02:00",
                          .stored = Stored::wav_integer,
                          .full_scale = 5.0,
                          .teaching = {},
                          .keys = {},
                          .scene = ferry_scene(harbour_rpm, {.shaft_rate = {5, 5, 9},
                                                             .blade_rate = {33, 28, 90},
                                                             .twice_blade_rate = {24, 21, 66},
                                                             .thrice_blade_rate = {17, 15, 41},
                                                             .firing = {52, 47, 150},
                                                             .generator = {61, 55, 180},
                                                             .twice_generator = {72, 66, 210},
                                                             .broadband = {52, 50, 120},
                                                             .thruster = {12, 15, 33},
                                                             .swell = sheltered})});
    recordings.push_back({.file = "d6-wheelhouse-harbour.csv",
                          .space = "d6-wheelhouse",
                          .condition = "harbour",
                          .sensor = "a2",
                          .start = "2026-04-14T16:48:00+02:00",
                          .stored = Stored::text,
                          .teaching = R"(
# Text as some loggers write it: semicolons between the columns, decimal commas, a time column. Time gives the rate.
)",
                          .keys = {},
                          .scene = ferry_scene(harbour_rpm, {.shaft_rate = {8, 4, 5},
                                                             .blade_rate = {52, 22, 34},
                                                             .twice_blade_rate = {30, 15, 24},
                                                             .thrice_blade_rate = {15, 10, 16},
                                                             .firing = {12, 10, 20},
                                                             .generator = {16, 14, 25},
                                                             .twice_generator = {17, 16, 30},
                                                             .broadband = {26, 24, 45},
                                                             .thruster = {40, 50, 70},
                                                             .swell = sheltered})});
    return {.folder = {}, .head = ferry_head, .recordings = std::move(recordings), .plans = ferry_plans()};
}

// ---- the terminal
// -----------------------------------------------------------------------------------------------------

constexpr std::string_view terminal_head =
    R"toml(# The floors above the hall of the ferry's terminal. They are a building, and a survey has one setting: so this is another.

title = "Plumwhistle Quay, floors above the terminal hall"
setting = "building"
client = "Saltmarsh Pudding Ferries (invented)"
note = """
Invented for demonstration. The terminal, its owner and every name are made up, nothing was measured: the signals are \
synthesised with a fixed seed for each recording, so that everybody gets the same verdicts."""

[[sensor]]
id = "g1"
title = "Triaxial geophone, velocity"
serial = "invented-0640"
calibrated = 2025-11-04
certificate = "INV-2025-207"
uncertainty_percent = 5.0

[[sensor]]
id = "a3"
title = "Triaxial accelerometer for quiet floors"
serial = "invented-0233"
calibrated = 2025-11-05
certificate = "INV-2025-208"
uncertainty_percent = 3.0

# --- Conditions of a building. `period` says which part of the day the recordings stand for, so a criterion for the night
#     leaves those of the day alone. A dose needs to know how long it goes on: `exposure_h` hours a period, or that the one
#     recorded event happens `events` times. ---
[[condition]]
id = "day"
title = "Hall open, walkers, lorries on the quay, plant running"
period = "day"
exposure_h = 16.0
persons = 60
traffic_per_h = 20

[[condition]]
id = "night"
title = "Hall closed, plant running"
period = "night"
exposure_h = 8.0

[[condition]]
id = "night-trains"
title = "One goods train on the quay line"
period = "night"
events = 5
speed_km_h = 30

# --- Sources. ---
[[source]]
id = "walker"
title = "Walkers in the hall: two steps a second and multiples"
kind = "walker"
hz = 2.0
tolerance_percent = 10

[[source]]
id = "quay-line"
title = "Goods trains on the quay line, 18 m away"
kind = "track"
spacing_m = 0.65
speed_km_h = 30

[[source]]
id = "ventilation"
title = "Ventilation plant on the roof"
kind = "plant"
rpm = 1470

# --- Spaces. ---
[[space]]
id = "flat-bedroom"
label = "Harbour warden's flat, bedroom"
use = "residential"
group = "First floor"

[[space]]
id = "flat-living"
label = "Harbour warden's flat, living room"
use = "residential"
group = "First floor"

[[space]]
id = "ticket-office"
label = "Ticket office"
use = "office"
group = "First floor"

# --- What is judged by which criterion. `uses` narrows a judgement: the ranges of BS 6472-1 that are here are those for
#     homes, so the office is left out. ISO 2631-2 sets no limits: its values are reported for every space. ---
[[judge]]
criteria = ["bs6472-1-2008-day", "bs6472-1-2008-night"]
uses = ["residential"]

[[judge]]
criteria = ["iso2631-2-2003"]
)toml";

// Clocks of every terminal scene: two walkers and the plant.
enum TerminalClock : std::size_t { stroller, hurrier, plant };

// A walker's force falls with each multiple of the step rate; the floor answers most at its own 6 Hz, the third.
std::vector<Tone> walk(TerminalClock walker, double level, double from_s, double to_s)
{
    constexpr std::array<double, 4> multiples{0.5, 0.7, 1.0, 0.35};
    std::vector<Tone> tones;
    for (std::size_t n = 0; n < multiples.size(); ++n) {
        const double z = level * multiples[n];
        tones.push_back({walker, static_cast<double>(n + 1), {0.25 * z, 0.25 * z, z}, from_s, to_s});
    }
    return tones;
}

Band passage(double hz, double level, double from_s, double to_s)
{
    return {hz, 0.45 * hz, {0.3 * level, 0.35 * level, level}, from_s, to_s};
}

Scene terminal_scene(double plant_level, double floor_level, const std::vector<std::vector<Tone>>& walks,
                     std::vector<Band> passages)
{
    Scene scene;
    scene.clocks = {{1.95, 0.02}, {2.1, 0.02}, {24.5, 0.0006}};
    scene.tones = {{plant, 1.0, {0.3 * plant_level, 0.3 * plant_level, plant_level}},
                   {plant, 2.0, {0.1 * plant_level, 0.1 * plant_level, 0.3 * plant_level}}};
    for (const auto& tones : walks) scene.tones.insert(scene.tones.end(), tones.begin(), tones.end());
    scene.bands = std::move(passages);
    scene.bands.push_back({20.0, 25.0, {0.5 * floor_level, 0.5 * floor_level, floor_level}});
    return scene;
}

DemoPlace terminal()
{
    std::vector<DemoRecording> recordings;
    recordings.push_back(
        {.file = "flat-bedroom-day.wav",
         .space = "flat-bedroom",
         .condition = "day",
         .sensor = "g1",
         .start = "2026-04-15T09:10:00+02:00",
         .stored = Stored::wav_integer,
         .rate_hz = 512,
         .seconds = 150,
         .full_scale = 20.0,
         .sensed = Sensed::velocity,
         .teaching = R"(
# --- Recordings. A geophone gives velocity; `unit` says so, and what is judged is the weighted acceleration all the same. ---
)",
         .keys = {},
         .scene = terminal_scene(
             4, 3, {walk(stroller, 6, 14.0, 62.0), walk(hurrier, 7, 48.0, 96.0), walk(stroller, 5, 104.0, 148.0)},
             {passage(12.0, 14, 70.0, 88.0)})});
    recordings.push_back({.file = "flat-bedroom-night.wav",
                          .space = "flat-bedroom",
                          .condition = "night",
                          .sensor = "g1",
                          .start = "2026-04-16T00:20:00+02:00",
                          .stored = Stored::wav_integer,
                          .rate_hz = 512,
                          .seconds = 150,
                          .full_scale = 5.0,
                          .sensed = Sensed::velocity,
                          .teaching = {},
                          .keys = {},
                          .scene = terminal_scene(4, 3, {}, {})});
    recordings.push_back(
        {.file = "flat-bedroom-train.wav",
         .space = "flat-bedroom",
         .condition = "night-trains",
         .sensor = "g1",
         .start = "2026-04-16T02:44:00+02:00",
         .stored = Stored::wav_integer,
         .rate_hz = 512,
         .seconds = 120,
         .full_scale = 20.0,
         .sensed = Sensed::velocity,
         .teaching = R"(
# One train, from before it can be felt until after; its condition says that five such pass in a night.
)",
         .keys = {},
         .scene = terminal_scene(4, 3, {}, {passage(9.0, 72, 35.0, 85.0), passage(21.0, 60, 38.0, 82.0)})});
    recordings.push_back(
        {.file = "flat-living-day.wav",
         .space = "flat-living",
         .condition = "day",
         .sensor = "a3",
         .start = "2026-04-15T10:02:00+02:00",
         .rate_hz = 1024,
         .seconds = 150,
         .teaching = {},
         .keys = {},
         .scene = terminal_scene(
             3, 3, {walk(hurrier, 11, 12.0, 58.0), walk(stroller, 10, 40.0, 100.0), walk(hurrier, 10, 92.0, 146.0)},
             {passage(12.0, 18, 64.0, 84.0), passage(12.0, 14, 118.0, 136.0)})});
    recordings.push_back(
        {.file = "flat-living-train.wav",
         .space = "flat-living",
         .condition = "night-trains",
         .sensor = "a3",
         .start = "2026-04-16T03:31:00+02:00",
         .rate_hz = 1024,
         .seconds = 120,
         .teaching = {},
         .keys = {},
         .scene = terminal_scene(3, 3, {}, {passage(9.0, 40, 34.0, 84.0), passage(21.0, 36, 37.0, 81.0)})});
    recordings.push_back(
        {.file = "ticket-office-day.wav",
         .space = "ticket-office",
         .condition = "day",
         .sensor = "a3",
         .start = "2026-04-15T11:15:00+02:00",
         .rate_hz = 1024,
         .seconds = 150,
         .teaching = {},
         .keys = {},
         .scene = terminal_scene(11, 6, {walk(hurrier, 26, 11.0, 70.0), walk(stroller, 22, 50.0, 149.0)},
                                 {passage(12.0, 17, 90.0, 108.0)})});
    return {.folder = "terminal", .head = terminal_head, .recordings = std::move(recordings)};
}

// ---- writing
// ----------------------------------------------------------------------------------------------------------

std::string entry_of(const DemoRecording& recording)
{
    std::string out = recording.teaching.empty() ? "\n" : std::string(recording.teaching);
    out += fmt::format("[[recording]]\nfile = \"recordings/{}\"\nspace = \"{}\"\ncondition = \"{}\"\nsensor = \"{}\"\n",
                       recording.file, recording.space, recording.condition, recording.sensor);
    out += "channels = { 1 = \"x\", 2 = \"y\", 3 = \"z\" }\n";
    if (recording.sensed == Sensed::velocity) out += "unit = \"mm/s\"\n";
    if (recording.stored == Stored::wav_integer || recording.stored == Stored::flac)
        out += fmt::format("scale = {:.1f}\n", recording.full_scale);
    out += fmt::format("start = {}\n", recording.start);
    return out += recording.keys;
}

// The largest and the smallest part of full scale that 24 bits hold.
void clip(std::vector<double>& samples, double full_scale)
{
    const double highest = full_scale * (1.0 - 0x1p-23);
    for (double& sample : samples) sample = std::clamp(sample, -full_scale, highest);
}

void append_with_decimal_comma(std::string& out, double value, int decimals)
{
    std::array<char, 64> digits{};
    const auto end = std::to_chars(digits.begin(), digits.end(), value, std::chars_format::fixed, decimals).ptr;
    std::replace(digits.begin(), end, '.', ',');
    out.append(digits.begin(), end);
}

std::string as_text(const std::vector<double>& samples, int rate_hz)
{
    std::string out = "Zeit [s];x [m/s²];y [m/s²];z [m/s²]\r\n";
    for (std::size_t i = 0; 3 * i < samples.size(); ++i) {
        append_with_decimal_comma(out, static_cast<double>(i) / rate_hz, 3);
        for (std::size_t a = 0; a < 3; ++a) {
            out += ';';
            append_with_decimal_comma(out, samples[3 * i + a], 5);
        }
        out += "\r\n";
    }
    return out;
}

Result<void> write_recording(const std::string& path, const DemoRecording& recording)
{
    std::vector<double> samples =
        synthesise(recording.scene, recording.rate_hz, recording.seconds, recording.sensed, seed_for(recording.file));
    if (recording.clips) clip(samples, recording.full_scale);
    if (recording.stored == Stored::text)
        return io::write_new_file_atomically(path, as_text(samples, recording.rate_hz));
    const bool floats = recording.stored == Stored::wav_float;
    return io::write_audio(
        path,
        {.rate_hz = recording.rate_hz,
         .channels = 3,
         .container = recording.stored == Stored::flac ? io::AudioContainer::flac : io::AudioContainer::wav,
         .coding = floats ? io::AudioCoding::float32 : io::AudioCoding::integer24,
         .full_scale = recording.full_scale},
        samples);
}

tl::unexpected<Problem> refused(const fs::path& path, const std::error_code& error)
{
    return fail(io::system_problem(path.string(), io::FileAttempt::write, error.value()));
}

Result<void> write_place(const fs::path& folder, const DemoPlace& place, DemoSummary& summary)
{
    std::error_code error;
    fs::create_directories(folder / "recordings", error);
    if (error) return refused(folder / "recordings", error);
    std::string survey(place.head);
    for (const DemoRecording& recording : place.recordings) {
        const fs::path path = folder / "recordings" / recording.file;
        if (auto written = write_recording(path.string(), recording); !written) return written;
        survey += entry_of(recording);
        ++summary.recordings;
        summary.recorded_s += recording.seconds;
        summary.bytes += static_cast<std::int64_t>(fs::file_size(path, error));
    }
    if (!place.plans.empty() && !fs::create_directory(folder / "plans", error)) return refused(folder / "plans", error);
    for (const DeckPlan& plan : place.plans)
        if (auto written = io::write_new_file_atomically((folder / "plans" / plan.file).string(), plan.svg); !written)
            return written;
    return io::write_new_file_atomically((folder / "survey.toml").string(), survey);
}

// Makes the folder unless it is there; takes away again what was made in vain.
class DemoFolder {
public:
    explicit DemoFolder(fs::path folder) : folder_(std::move(folder)), workshop_(folder_ / ".becalm-demo.tmp") {}
    DemoFolder(const DemoFolder&) = delete;
    DemoFolder& operator=(const DemoFolder&) = delete;
    ~DemoFolder()
    {
        std::error_code ignored;
        if (workshop_made_) fs::remove_all(workshop_, ignored);
        if (!complete_) {
            for (const fs::path& name : moved_) fs::remove_all(folder_ / name, ignored);
            if (folder_made_) fs::remove(folder_, ignored);
        }
    }

    Result<void> prepare()
    {
        std::error_code error;
        const fs::file_status status = fs::status(folder_, error);
        if (fs::exists(status)) {
            if (!fs::is_directory(status))
                return fail(occupied("this is a file, not a folder", "name a folder that is empty or not there yet"));
            const auto entries = entries_of(folder_, error);
            if (error) return refused(folder_, error);
            if (!entries.empty() && !take_over(entries))
                return fail(
                    occupied("the folder is not empty", "name another, or empty this one; nothing was changed"));
        } else {
            if (error && error != std::errc::no_such_file_or_directory) return refused(folder_, error);
            if (!fs::create_directory(folder_, error)) return refused(folder_, error);
            folder_made_ = true;
        }
        if (!fs::create_directory(workshop_, error)) return refused(folder_, error);
        workshop_made_ = true;
        static_cast<void>(lock_workshop()); // where there are no locks, nobody takes anything over either
        return {};
    }

    // The survey comes last: where it is, everything is.
    Result<void> move_in()
    {
        for (const std::string_view name : parts) {
            std::error_code error;
            fs::rename(workshop_ / name, folder_ / name, error);
            if (error) return refused(folder_ / name, error);
            moved_.emplace_back(name);
        }
        complete_ = true;
        return {};
    }

    const fs::path& workshop() const { return workshop_; }

private:
    static constexpr std::array<std::string_view, 4> parts{"recordings", "plans", "terminal", "survey.toml"};

    static std::vector<fs::path> entries_of(const fs::path& folder, std::error_code& error)
    {
        std::vector<fs::path> entries;
        for (fs::directory_iterator at(folder, error); !error && at != fs::directory_iterator(); at.increment(error))
            entries.push_back(at->path().filename());
        return entries;
    }

    bool lock_workshop()
    {
        lock_ = io::FileHandle(::open(workshop_.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC | O_NOFOLLOW));
        return lock_.is_open() && ::flock(lock_.get(), LOCK_EX | LOCK_NB) == 0;
    }

    // What a killed run left is nothing of the user's: its workshop, whose lock nobody holds, and parts without their
    // survey.
    bool take_over(const std::vector<fs::path>& entries)
    {
        const auto is_ours = [&](const fs::path& name) {
            return name == workshop_.filename() ||
                   (name != parts.back() && std::ranges::find(parts, name.native()) != parts.end());
        };
        if (!std::ranges::all_of(entries, is_ours) ||
            std::ranges::find(entries, workshop_.filename()) == entries.end() || !lock_workshop())
            return false;
        std::error_code error;
        for (const fs::path& name : entries) {
            fs::remove_all(folder_ / name, error);
            if (error) return false;
        }
        return true;
    }

    Problem occupied(std::string what, std::string remedy) const
    {
        return {
            .kind = ProblemKind::usage, .file = folder_.string(), .what = std::move(what), .remedy = std::move(remedy)};
    }

    fs::path folder_;
    fs::path workshop_;
    std::vector<fs::path> moved_;
    io::FileHandle lock_; // on the workshop
    bool folder_made_ = false;
    bool workshop_made_ = false;
    bool complete_ = false;
};

} // namespace

Result<DemoSummary> write_demo_survey(const std::string& folder)
{
    DemoFolder demo(folder);
    if (auto prepared = demo.prepare(); !prepared) return fail(prepared.error());
    DemoSummary summary;
    for (const DemoPlace& place : {ferry(), terminal()}) {
        if (auto written = write_place(demo.workshop() / place.folder, place, summary); !written) {
            Problem problem = written.error();
            problem.file = folder; // the file it happened to is gone with the rest
            return fail(std::move(problem));
        }
        summary.surveys.push_back((fs::path(folder) / place.folder / "survey.toml").string());
    }
    if (auto moved = demo.move_in(); !moved) return fail(moved.error());
    return summary;
}

} // namespace becalm::demo
