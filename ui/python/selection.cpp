#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <pybind11/numpy.h>
#include <pybind11/stl.h>

#include "ui/python/bindings.h"
#include "ui/python/problems.h"

namespace becalm::python {
namespace py = pybind11;
namespace {

[[noreturn]] void refuse(std::string what, std::string remedy)
{
    throw Problems{{{.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)}}};
}

// A look at the array's memory, whatever its strides.
std::shared_ptr<const io::SamplesInMemory> samples_of(const Selection& selection)
{
    if (!py::isinstance<py::array>(selection.array)) throw py::type_error("the samples are no NumPy array");
    const auto array = py::reinterpret_borrow<py::array>(selection.array);
    const py::dtype type = array.dtype();
    const bool single = type.kind() == 'f' && type.itemsize() == sizeof(float);
    if (type.kind() != 'f' || !(single || type.itemsize() == sizeof(double)) || !py::cast<bool>(type.attr("isnative")))
        throw py::type_error(fmt::format("an array of {} is not read; hand over float64 or float32 in a unit, for "
                                         "example array.astype(float) times what one count is",
                                         std::string(py::str(py::object(type)))));
    if (array.ndim() != 1 && array.ndim() != 2)
        throw py::value_error(fmt::format(
            "an array of {} dimensions is not read; hand over (samples,) or (samples, channels)", array.ndim()));
    if (array.size() == 0) throw py::value_error("the array is empty; hand over at least one sample");
    constexpr py::ssize_t most_channels = 4096;
    const py::ssize_t channels = array.ndim() == 2 ? array.shape(1) : 1;
    if (channels > most_channels)
        throw py::value_error(
            fmt::format("the array has {} samples of {} channels; is it (channels, samples)? Hand over "
                        "array.T then",
                        array.shape(0), channels));
    if (!selection.rate_hz) throw py::type_error("an array says nothing of its sampling rate; say rate=..., in Hz");
    if (!(*selection.rate_hz > 0.0 && *selection.rate_hz <= 1e9))
        throw py::value_error(fmt::format("a rate of {} Hz cannot be used", *selection.rate_hz));
    return std::make_shared<io::SamplesInMemory>(
        io::SamplesInMemory{.rate_hz = *selection.rate_hz,
                            .frames = array.shape(0),
                            .channels = static_cast<int>(channels),
                            .first = static_cast<const std::byte*>(array.data()),
                            .frame_stride = array.strides(0),
                            .channel_stride = array.ndim() == 2 ? array.strides(1) : 0,
                            .single_precision = single});
}

} // namespace

evaluators::WeighOptions options_from(const Selection& selection)
{
    evaluators::WeighOptions options{.scale = selection.scale, .jobs = selection.threads};
    for (const std::string& name : selection.weightings) {
        const auto id = weighting_named(name);
        if (!id)
            refuse(fmt::format("there is no weighting \"{}\"", name), fmt::format("choose from {}", weighting_names()));
        if (std::ranges::find(options.weightings, *id) == options.weightings.end()) options.weightings.push_back(*id);
    }
    if (options.weightings.empty())
        refuse("no weighting is asked for", fmt::format("choose from {}", weighting_names()));
    for (const auto& [channel, name] : selection.axes) {
        const auto axis = axis_named(name);
        if (!axis) refuse(fmt::format("\"{}\" is no axis", name), "choose from x, y, z, rx, ry and rz");
        if (channel < 1) refuse(fmt::format("there is no channel {}", channel), "count channels from 1");
        for (const auto& [other_channel, other_axis] : options.axes)
            if (other_channel == channel || other_axis == *axis)
                refuse("the axes name a channel or an axis twice", "map each channel to one axis");
        options.axes.emplace_back(channel, *axis);
    }
    const auto unit = unit_named(selection.unit);
    if (!unit)
        refuse(fmt::format("there is no unit \"{}\"", selection.unit), fmt::format("choose from {}", unit_names()));
    options.unit = *unit;
    if (selection.scale && (*selection.scale == 0.0 || !std::isfinite(*selection.scale)))
        refuse(fmt::format("a scale of {} cannot be used", *selection.scale),
               "say how much of the unit a stored 1.0 is");
    options.span = {selection.from_s.value_or(0.0), selection.to_s.value_or(options.span.to_s)};
    if (!(options.span.from_s >= 0.0 && options.span.to_s > options.span.from_s))
        refuse("from_s must be 0 or more and to_s greater than from_s", "choose a span of time");
    if (selection.offset == "first10s")
        options.offset = evaluators::OffsetRule::first_10_s;
    else if (selection.offset == "mean")
        options.offset = evaluators::OffsetRule::mean;
    else if (selection.offset == "none")
        options.offset = evaluators::OffsetRule::none;
    else
        refuse(fmt::format("there is no offset rule \"{}\"", selection.offset), "choose first10s, mean or none");
    if (selection.threads < 0) refuse("there cannot be fewer than no threads", "0 takes as many as the machine has");
    if (!selection.array.is_none())
        options.samples = samples_of(selection);
    else if (selection.rate_hz)
        throw py::type_error("rate=... is for arrays; a file says its own rate");
    return options;
}

void bind_selection(py::module_& module)
{
    py::class_<Selection>(module, "Selection", "What is read, and which lanes of it.")
        .def(py::init([](std::string path, py::object array, std::optional<double> rate,
                         std::vector<std::string> weightings, std::vector<std::pair<int, std::string>> axes,
                         std::string unit, std::string offset, std::optional<double> scale,
                         std::optional<double> from_s, std::optional<double> to_s, int threads) {
                 return Selection{.path = std::move(path),
                                  .array = std::move(array),
                                  .rate_hz = rate,
                                  .weightings = std::move(weightings),
                                  .axes = std::move(axes),
                                  .unit = std::move(unit),
                                  .offset = std::move(offset),
                                  .scale = scale,
                                  .from_s = from_s,
                                  .to_s = to_s,
                                  .threads = threads};
             }),
             py::arg("path"), py::arg("array"), py::arg("rate"), py::arg("weightings"), py::arg("axes"),
             py::arg("unit"), py::arg("offset"), py::arg("scale"), py::arg("from_s"), py::arg("to_s"),
             py::arg("threads"));
}

} // namespace becalm::python
