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
    mean_square, // a power of the mean square
    mean_fourth, // a power of the mean fourth power
    maximum,     // the greatest of running values, of the ledger alone
    sections,    // of the ledger alone, and such that sections of the record tell the same (percentiles)
    events,      // a statistic over events, smooth in each
    other        // nothing is known
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
};

// nullptr where the name is unknown.
const Quantity* quantity_named(std::string_view name);

} // namespace becalm::evaluators
