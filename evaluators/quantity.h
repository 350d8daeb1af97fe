// The quantities that a criterion can compare, by name. Each name leads to the procedure of the publication that
// defines it.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/base/problem.h"
#include "src/base/units.h"
#include "src/model/criterion.h"
#include "src/model/ledger.h"
#include "src/model/motion.h"
#include "src/model/spectra.h"

namespace becalm::evaluators {

// Ledger rows of one recording that count.
struct SelectedRows {
    const Ledger* ledger = nullptr;
    std::vector<TimeSpan> selected = {}; // whole seconds
};

// What a quantity looks at besides the ledger. The pass gathers it for those lanes alone.
enum Needs : unsigned {
    needs_ledger = 0,
    needs_spectra = 1, // of the channel as recorded; arguments.spectra
    needs_motion = 2,  // bins of the channel as recorded, and those of the other axes; arguments.motion, .beside
    needs_swings = 4   // of the lane; arguments.swings
};

struct SelectedSpectra {
    const ChannelSpectra* spectra = nullptr;
    std::vector<TimeSpan> selected = {};
};

// The series is of the whole recording, so that a procedure can look a little beyond the ends of what is selected.
struct SelectedMotion {
    const MotionSeries* motion = nullptr;
    std::vector<TimeSpan> selected = {}; // where the recording lists events: one of them, its ends as listed
    Motion kind = Motion::acceleration;  // of this channel
};

struct SelectedSwings {
    const std::vector<Swing>* swings = nullptr;
    std::vector<TimeSpan> selected = {};
};

// Arguments of every procedure: what was measured on one axis, and what it stands for.
struct QuantityArguments {
    Tally tally = {};                    // selected rows of all recordings of this axis together
    std::vector<Tally> recordings = {};  // of each of them (an event each, where events is set)
    std::vector<SelectedRows> rows = {}; // and their ledgers, for what no tally can tell
    Axis axis = Axis::z;
    WeightingId weighting = WeightingId::none;
    Motion motion = Motion::acceleration;      // of the channel: what spectra and motion bins are stated in
    bool events_listed = false;                // every recording here is an event that the survey lists
    std::vector<SelectedSpectra> spectra = {}; // of each recording, where the quantity needs them
    std::vector<SelectedMotion> motions = {};
    std::map<Axis, std::vector<SelectedMotion>> beside = {}; // of the other axes of the same files, one for one
    std::vector<SelectedSwings> swings = {};
    std::vector<CurvePoint> curve = {};            // of the criterion, for this axis
    std::map<std::string, double> parameters = {}; // of the criterion; parameter() gives the defaults
    std::optional<double> exposed_s = {};          // the motion lasts so long a day or period
    std::optional<double> events = {};             // or: such an event happens so often in the period
    std::optional<double> reference_s = {};        // reference duration of the criterion
};

// Arguments of one of the recordings (or events) alone.
QuantityArguments alone(const QuantityArguments& arguments, std::size_t recording);

double parameter(const QuantityArguments& arguments, const std::string& name, double otherwise);

struct QuantityValue {
    double value = 0.0;
    std::vector<std::string> notes = {}; // assumptions a reader must know
};

// Why a quantity has no value: `what` continues "cannot be judged, because ..."; `remedy` says what to do.
using QuantityResult = Result<QuantityValue>;

// How the value follows from the record, which says how its statistical uncertainty is found
// (evaluators/record_statistics.h).
enum class FromRecord {
    mean_square,       // a power of the mean square
    mean_fourth,       // a power of the mean fourth power
    mean_spectrum,     // a function of the spectrum, the mean over all recordings
    greatest_spectrum, // a function of each recording's mean spectrum, of which the greatest counts
    mean_motion,       // the root of the mean square of motion bins about their mean
    maximum,           // the greatest of running values, slopes or swings
    series,            // a percentile or root mean square of values in order of time (Quantity::series)
    events,            // a statistic over events, smooth in each
    other              // nothing is known
};

// Values in order of time that a quantity takes a statistic of.
struct ValueSeries {
    std::vector<double> values = {};
    std::optional<double> percent = {}; // the quantity is this percentile of them; empty: their root mean square
    bool are_events = false;            // each by itself, and all of the period where `are_all` is set
    bool are_all = false;
    bool are_rms = false; // r.m.s. values over blocks, which for noise are about normal
};

struct Quantity {
    std::string_view name;
    std::string_view unit;
    std::string_view meaning; // a short phrase for people
    QuantityResult (*evaluate)(const QuantityArguments&);
    FromRecord from;
    unsigned needs = needs_ledger; // Needs, taken together
    bool daily = false;            // of a working day: persons with tasks are judged by it
    // Of the motion in the value: points go with its square. Empty where the value is no power of it, so that a
    // calibration's uncertainty cannot be carried over. Of a level (dB): of what the level is of.
    std::optional<double> power = 1.0;
    ValueSeries (*series)(const QuantityArguments&) = nullptr; // where `from` says so
};

// nullptr where the name is unknown.
const Quantity* quantity_named(std::string_view name);

// Of the criterion's quantities, taken together.
unsigned needs_of(const Criterion& criterion);

} // namespace becalm::evaluators
