// The Python module becalm._core, a part a file; becalm/__init__.py is what people call. Nothing is computed here:
// names become options, results become objects whose arrays lie over the core's own memory.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <pybind11/pybind11.h>

#include "evaluators/weigh.h"
#include "src/model/ledger_lane.h"

namespace becalm::python {

void bind_findings(pybind11::module_& module);
void bind_weighing(pybind11::module_& module);
void bind_judging(pybind11::module_& module);
void bind_spectra(pybind11::module_& module);

// What is read, and which lanes of it: the arguments that weigh, blocks, ledger and spectrum share.
struct Selection {
    std::string path = {};              // or what the samples are called
    pybind11::object array = {};        // None: a file
    std::optional<double> rate_hz = {}; // of the array
    std::vector<std::string> weightings = {};
    std::vector<std::pair<int, std::string>> axes = {};
    std::string unit = {}, offset = {};
    std::optional<double> scale = {}, from_s = {}, to_s = {};
    int threads = 0;
};
void bind_selection(pybind11::module_& module);

// Throws Problems where a name is not known or a number cannot be used. The samples of an array are read where they
// lie: `selection.array` must outlive whoever reads them.
evaluators::WeighOptions options_from(const Selection& selection);

// A ledger that something else keeps alive.
pybind11::object held_ledger(std::shared_ptr<const void> owner, LedgerLane lane);

} // namespace becalm::python
