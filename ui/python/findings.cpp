#include <fmt/format.h>
#include <pybind11/stl.h>

#include "src/model/finding.h"
#include "ui/python/bindings.h"

namespace becalm::python {
namespace py = pybind11;

void bind_findings(py::module_& module)
{
    py::class_<Finding>(module, "Finding", "What was noticed about a recording or a survey.")
        .def_property_readonly(
            "severity", [](const Finding& finding) { return std::string(name_of(finding.severity)); },
            "'note', 'caution' or 'refusal': nothing that needs it is judged.")
        .def_readonly("code", &Finding::code, "Stable, for programs: 'clipped', 'gap', ...")
        .def_readonly("message", &Finding::message, "What it is and what to do.")
        .def_readonly("recording", &Finding::recording, "File as the survey names it; empty for the survey as a whole.")
        .def_readonly("channel", &Finding::channel, "From 1, or None.")
        .def_readonly("at_s", &Finding::from_s, "Where it begins, seconds from the first sample, or None.")
        .def_readonly("to_s", &Finding::to_s, "Where it ends, or None.")
        .def("__repr__", [](const Finding& finding) {
            return fmt::format("<Finding {} {}: {}>", name_of(finding.severity), finding.code, finding.message);
        });
}

} // namespace becalm::python
