#include <pybind11/pybind11.h>

#include "src/base/units.h"
#include "src/model/weighting_id.h"
#include "ui/python/bindings.h"
#include "ui/python/problems.h"

PYBIND11_MODULE(_core, module)
{
    module.doc() = "The compiled part of becalm; call what `import becalm` gives.";
    module.attr("version") = BECALM_VERSION;
    becalm::python::translate_problems();
    becalm::python::bind_findings(module);
    becalm::python::bind_selection(module);
    becalm::python::bind_weighing(module);
    becalm::python::bind_judging(module);
    becalm::python::bind_spectra(module);
}
