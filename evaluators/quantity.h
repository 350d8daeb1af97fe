// The quantities that a criterion can compare, by name. Each name leads to the procedure of the publication that
// defines it.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/base/problem.h"
#include "src/model/ledger.h"

namespace becalm::evaluators {

// Ledger rows of one recording that count.
struct SelectedRows {
    const Ledger* ledger = nullptr;
    std::vector<TimeSpan> selected = {}; // whole seconds
};

// Arguments of every procedure: what was measured on one axis, and what it stands for.
struct QuantityArguments {
    Tally tally = {};                              // selected rows of all recordings of this axis together
    std::vector<Tally> recordings = {};            // of each of them (an event each, where events is set)
    std::vector<SelectedRows> rows = {};           // and their ledgers, for what no tally can tell
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

struct Quantity {
    std::string_view name;
    std::string_view unit;
    std::string_view meaning; // a short phrase for people
    QuantityResult (*evaluate)(const QuantityArguments&);
};

// nullptr where the name is unknown.
const Quantity* quantity_named(std::string_view name);

} // namespace becalm::evaluators
