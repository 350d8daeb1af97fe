#include <algorithm>

#include <fmt/format.h>
#include <pybind11/numpy.h>
#include <pybind11/stl.h>

#include "evaluators/spectrum.h"
#include "src/io/json_out.h"
#include "ui/python/arrays.h"
#include "ui/python/bindings.h"
#include "ui/python/interruptible.h"
#include "ui/python/problems.h"

namespace becalm::python {
namespace py = pybind11;
namespace {

[[noreturn]] void refuse(std::string what, std::string remedy)
{
    throw Problems{{{.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)}}};
}

struct HeldSpectrum {
    std::shared_ptr<const SpectrumReport> report;
};

struct LaneOfSpectrum {
    std::shared_ptr<const SpectrumReport> report;
    std::size_t lane = 0;

    const SpectrumLane& is() const { return report->lanes[lane]; }
    std::size_t first() const { return static_cast<std::size_t>(is().first_bin); }
};

struct HeldResponse {
    std::shared_ptr<const ResponseReport> report;
};

py::array reported(const py::object& self, std::vector<double> SpectrumLane::*member)
{
    const auto& lane = self.cast<const LaneOfSpectrum&>();
    const std::vector<double>& bins = lane.is().*member;
    const std::size_t first = std::min(lane.first(), bins.size());
    return view(bins.data() + first, bins.size() - first, self);
}

void bind_spectrum(py::module_& module)
{
    PYBIND11_NUMPY_DTYPE(DominantComponent, hz, rms, energy_share, above_floor);

    py::class_<LaneOfSpectrum> lane(module, "SpectrumLane", "Spectrum of a channel as one axis under one weighting.");
    const auto add = [&](const char* name, auto member, const char* words) {
        lane.def_property_readonly(
            name, [member](const LaneOfSpectrum& of) { return of.is().*member; }, words);
    };
    const auto add_bins = [&](const char* name, auto member, const char* words) {
        lane.def_property_readonly(
            name, [member](const py::object& self) { return reported(self, member); }, words);
    };
    const auto add_table = [&](const char* name, auto member, const char* words) {
        lane.def_property_readonly(
            name,
            [member](const py::object& self) { return view(self.cast<const LaneOfSpectrum&>().is().*member, self); },
            words);
    };
    add("channel", &SpectrumLane::channel, "Of the recording, from 1.");
    add("axis", &SpectrumLane::axis, "'x', 'y', 'z', 'rx', 'ry' or 'rz'.");
    add("weighting", &SpectrumLane::weighting, "'Wk', 'Wd', ..., 'none'.");
    add("unit", &SpectrumLane::unit, "Of r.m.s. values; the density is in its square per Hz.");
    add("resolution_hz", &SpectrumLane::resolution_hz, "From bin to bin.");
    add("segments", &SpectrumLane::segments, "That were averaged: Hann windows, half overlapping.");
    add_bins("psd", &SpectrumLane::density, "Mean power spectral density, one-sided, a value a bin of `hz`.");
    add_bins("psd_max", &SpectrumLane::greatest, "Greatest of the rows' densities, bin by bin.");
    add_bins("psd_min", &SpectrumLane::least, "Least of the rows' densities, bin by bin.");
    add_table("third_octave", &SpectrumLane::third_octaves, "Structured array: n, exact_hz, nominal_hz, rms.");
    add_table("octave", &SpectrumLane::octaves, "Structured array: n, exact_hz, nominal_hz, rms.");
    add_table("dominant", &SpectrumLane::dominant,
              "Components that stand out, greatest share first. Structured array: hz, rms, energy_share, above_floor.");
    lane.def_property_readonly(
            "hz",
            [](const LaneOfSpectrum& of) {
                const py::module_ numpy = py::module_::import("numpy");
                return numpy.attr("multiply")(numpy.attr("arange")(of.first(), of.is().density.size()),
                                              of.is().resolution_hz);
            },
            "Frequencies of the bins.")
        .def("__repr__", [](const LaneOfSpectrum& of) {
            return fmt::format("<SpectrumLane channel {}, {}, {}: {} bins, {:.4g} Hz apart>", of.is().channel,
                               of.is().axis, of.is().weighting, of.is().density.size() - of.first(),
                               of.is().resolution_hz);
        });

    py::class_<HeldSpectrum>(module, "Spectrum", "Spectra of a recording.")
        .def_property_readonly(
            "lanes",
            [](const HeldSpectrum& of) {
                std::vector<LaneOfSpectrum> lanes;
                for (std::size_t l = 0; l < of.report->lanes.size(); ++l) lanes.push_back({of.report, l});
                return lanes;
            },
            "Those that could be weighted; for the others see the findings.")
        .def_property_readonly(
            "file", [](const HeldSpectrum& of) { return of.report->file; }, "Path, or what an array is called.")
        .def_property_readonly(
            "rate_hz", [](const HeldSpectrum& of) { return of.report->rate_hz; }, "Samples a second.")
        .def_property_readonly(
            "duration_s", [](const HeldSpectrum& of) { return of.report->duration_s; }, "Of what was selected.")
        .def_property_readonly(
            "findings", [](const HeldSpectrum& of) -> const std::vector<Finding>& { return of.report->findings; },
            "What was noticed about the recording.")
        .def(
            "to_json", [](const HeldSpectrum& of) { return io::as_json(*of.report); },
            "The text that `becalm spectrum --json` writes.")
        .def("__repr__", [](const HeldSpectrum& of) {
            return fmt::format("<Spectrum {}: {} lanes>", of.report->file, of.report->lanes.size());
        });

    module.def(
        "spectrum",
        [](const Selection& selection, std::optional<double> resolution_hz, const std::optional<std::string>& as,
           std::optional<double> above_hz, const py::object& progress) {
            auto options = options_from(selection);
            evaluators::SpectrumOptions wanted{.resolution_hz = resolution_hz, .above_hz = above_hz};
            if (as) {
                wanted.as = motion_named(*as);
                if (!wanted.as)
                    refuse(fmt::format("there is no motion \"{}\"", *as),
                           "choose acceleration, velocity or displacement");
            }
            return HeldSpectrum{
                std::make_shared<SpectrumReport>(value_of(interruptibly(progress, [&](const Work& work) {
                    options.stop = work.stop;
                    options.progress = work.progress;
                    return evaluators::spectrum(selection.path, options, wanted);
                })))};
        },
        py::arg("selection"), py::arg("resolution"), py::arg("as_"), py::arg("above"), py::arg("progress"));
}

void bind_response(py::module_& module)
{
    PYBIND11_NUMPY_DTYPE(ResponsePoint, hz, magnitude, phase_deg, analytic_magnitude, analytic_phase_deg);

    py::class_<HeldResponse> response(module, "Response", "What a running filter does beside the analytic definition.");
    const auto add = [&](const char* name, auto member, const char* words) {
        response.def_property_readonly(
            name, [member](const HeldResponse& of) { return (*of.report).*member; }, words);
    };
    add("weighting", &ResponseReport::weighting, "'Wk', 'Wd', ...");
    add("input", &ResponseReport::input, "Motion that goes in.");
    add("output", &ResponseReport::output, "Motion that comes out.");
    add("rate_hz", &ResponseReport::rate_hz, "Samples a second.");
    add("latency_samples", &ResponseReport::latency_samples, "Of the filter; it is taken out of the samples.");
    add("correction_taps", &ResponseReport::taps, "Beside the poles.");
    add("accurate_to_hz", &ResponseReport::accurate_to_hz, "Within 0.01 % and 0.01 degrees of the definition.");
    add("least_rate_hz", &ResponseReport::least_rate_hz, "That would do for this weighting.");
    response
        .def_property_readonly(
            "points",
            [](const py::object& self) { return view(self.cast<const HeldResponse&>().report->points, self); },
            "Structured array over the core's memory: hz, magnitude, phase_deg, analytic_magnitude, "
            "analytic_phase_deg.")
        .def(
            "to_json", [](const HeldResponse& of) { return io::as_json(*of.report); },
            "The text that `becalm response --json` writes.")
        .def("__repr__", [](const HeldResponse& of) {
            return fmt::format("<Response {} at {:.6g} Hz: {} points>", of.report->weighting, of.report->rate_hz,
                               of.report->points.size());
        });

    module.def(
        "response",
        [](const std::string& weighting, std::vector<double> at_hz, double rate_hz, const std::string& input) {
            const auto id = weighting_named(weighting);
            if (!id)
                refuse(fmt::format("there is no weighting \"{}\"", weighting),
                       fmt::format("choose from {}", weighting_names()));
            const auto motion = motion_named(input);
            if (!motion)
                refuse(fmt::format("there is no input \"{}\"", input), "choose acceleration, velocity or displacement");
            if (!(rate_hz > 0.0 && rate_hz <= 1e9))
                refuse(fmt::format("a rate of {:.6g} Hz is no sampling rate", rate_hz), "give it in Hz");
            return HeldResponse{std::make_shared<ResponseReport>(value_of(interruptibly(py::none(), [&](const Work&) {
                return evaluators::show_response(*id, *motion, rate_hz, std::move(at_hz));
            })))};
        },
        py::arg("weighting"), py::arg("frequencies"), py::arg("rate"), py::arg("input"));
}

} // namespace

void bind_spectra(py::module_& module)
{
    bind_spectrum(module);
    bind_response(module);
}

} // namespace becalm::python
