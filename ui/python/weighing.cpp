#include <fmt/format.h>
#include <pybind11/numpy.h>
#include <pybind11/stl.h>

#include "evaluators/weighted_series.h"
#include "src/io/json_out.h"
#include "ui/python/arrays.h"
#include "ui/python/bindings.h"
#include "ui/python/interruptible.h"
#include "ui/python/problems.h"

namespace becalm::python {
namespace py = pybind11;
namespace {

using evaluators::WeightedBlocks;
using evaluators::WeightedSeries;
using Series = std::shared_ptr<const WeightedSeries>;

// add(name, member, words) for members of what `part` gives of an instance.
template <class Class, class Part>
auto adder_of_members(Class& to, Part part)
{
    return [&to, part](const char* name, auto member, const char* words) {
        to.def_property_readonly(
            name, [part, member](const typename Class::type& of) { return part(of).*member; }, words);
    };
}

// The quantities of a lane, whoever worked them out: `quantities` says where its WeighedLane is.
template <class Class, class Quantities>
void add_quantities(Class& lane, Quantities quantities)
{
    const auto add = adder_of_members(lane, quantities);
    add("rms", &WeighedLane::rms, "Root of the mean square. None, as all others, where there is no value.");
    add("peak", &WeighedLane::peak, "Greatest magnitude.");
    add("crest_factor", &WeighedLane::crest_factor, "Peak over r.m.s.");
    add("mtvv_linear", &WeighedLane::mtvv_linear, "Greatest running r.m.s., linear over 1 s.");
    add("mtvv_exponential", &WeighedLane::mtvv_exponential, "Greatest running r.m.s., exponential, time constant 1 s.");
    add("vdv", &WeighedLane::vdv, "Vibration dose value, m/s^1.75; of accelerations only.");
    add("evdv", &WeighedLane::evdv, "Estimated vibration dose value, m/s^1.75.");
    add("msdv", &WeighedLane::msdv, "Motion sickness dose value, m/s^1.5.");
}

template <class Class, class Quantities>
void add_identity(Class& lane, Quantities quantities)
{
    const auto add = adder_of_members(lane, quantities);
    add("channel", &WeighedLane::channel, "Of the recording, from 1.");
    add("axis", &WeighedLane::axis, "'x', 'y', 'z', 'rx', 'ry' or 'rz'.");
    add("weighting", &WeighedLane::weighting, "'Wk', 'Wd', ..., 'none'.");
    add("unit", &WeighedLane::unit, "Of the samples, r.m.s., peak and running values.");
}

std::string number(const std::optional<double>& value) { return value ? fmt::format("{:.4g}", *value) : "-"; }

struct LaneOfSeries {
    Series series;
    std::size_t lane = 0;

    const WeighedLane& weighed() const { return series->weighed.lanes[lane]; }
};

struct HeldLedger {
    std::shared_ptr<const void> owner; // of what the lane points into
    LedgerLane lane;
};

py::object times(std::size_t count, double rate_hz, double from_s)
{
    const py::module_ numpy = py::module_::import("numpy");
    return numpy.attr("add")(from_s, numpy.attr("divide")(numpy.attr("arange")(count), rate_hz));
}

py::object samples_of(const py::object& self)
{
    const auto& lane = self.cast<const LaneOfSeries&>();
    if (lane.series->samples.empty() || !lane.weighed().rms) return py::none();
    return view(lane.series->samples[lane.lane], self);
}

Series weigh(const Selection& selection, bool samples, bool bands, const py::object& progress)
{
    auto options = options_from(selection);
    options.bands = bands;
    return std::make_shared<WeightedSeries>(value_of(interruptibly(progress, [&](const Work& work) {
        options.stop = work.stop;
        options.progress = work.progress;
        return evaluators::weighted_series(selection.path, options, samples);
    })));
}

// The array's memory is looked at by the thread that reads, so that ends first.
struct HeldBlocks {
    py::object array;
    std::unique_ptr<WeightedBlocks> blocks;

    ~HeldBlocks()
    {
        const py::gil_scoped_release release;
        blocks.reset();
    }
};

std::unique_ptr<HeldBlocks> open_blocks(const Selection& selection, double block_s)
{
    const auto options = options_from(selection);
    auto held = std::make_unique<HeldBlocks>();
    held->array = selection.array;
    const py::gil_scoped_release release;
    held->blocks = value_of(WeightedBlocks::open(selection.path, options, block_s));
    return held;
}

py::array next_block(HeldBlocks& held)
{
    auto block = value_of(interruptibly(py::none(), [&](const Work& work) { return held.blocks->next(work.stop); }));
    if (block.empty()) throw py::stop_iteration();
    return handed_over(std::move(block), held.blocks->lanes().size());
}

void bind_lane(py::module_& module)
{
    const auto weighed = [](const LaneOfSeries& lane) -> const WeighedLane& { return lane.weighed(); };
    py::class_<LaneOfSeries> lane(module, "Lane", "A channel as one axis under one weighting.");
    add_identity(lane, weighed);
    add_quantities(lane, weighed);
    lane.def_property_readonly(
            "samples", &samples_of,
            "Weighted samples, float64, over the core's memory (read only). None where they were not "
            "asked for or the lane could not be weighted.")
        .def_property_readonly(
            "times",
            [](const LaneOfSeries& of) -> py::object {
                if (of.series->samples.empty() || !of.weighed().rms) return py::none();
                return times(of.series->samples[of.lane].size(), of.series->info.rate_hz, of.series->weighed.from_s);
            },
            "Seconds of the recording that the samples are at.")
        .def_property_readonly(
            "ledger",
            [](const LaneOfSeries& of) { return held_ledger(of.series, evaluators::ledger_lane(*of.series, of.lane)); },
            "Sums and greatest values second by second, see Ledger.")
        .def("__repr__", [](const LaneOfSeries& of) {
            const WeighedLane& is = of.weighed();
            return fmt::format("<Lane channel {}, {}, {}: r.m.s. {} {}>", is.channel, is.axis, is.weighting,
                               number(is.rms), is.unit);
        });
}

std::vector<LaneOfSeries> lanes_of(const Series& series)
{
    std::vector<LaneOfSeries> lanes;
    for (std::size_t l = 0; l < series->weighed.lanes.size(); ++l) lanes.push_back({series, l});
    return lanes;
}

struct HeldSeries {
    Series series;
};

void bind_bands(py::module_& module)
{
    PYBIND11_NUMPY_DTYPE(BandLevel, n, exact_hz, nominal_hz, rms);
    py::class_<RecordedBands>(module, "RecordedBands",
                              "One-third octaves of a channel as it was recorded, not weighted.")
        .def_readonly("channel", &RecordedBands::channel, "From 1.")
        .def_readonly("unit", &RecordedBands::unit, "Of the values.")
        .def_readonly("resolution_hz", &RecordedBands::resolution_hz, "Of the spectrum they are from.")
        .def_readonly("segments", &RecordedBands::segments, "That were averaged.")
        .def_property_readonly(
            "third_octave",
            [](const py::object& self) { return view(self.cast<const RecordedBands&>().third_octaves, self); },
            "Structured array: n, exact_hz, nominal_hz, rms.")
        .def("__repr__", [](const RecordedBands& of) {
            return fmt::format("<RecordedBands channel {}: {} bands>", of.channel, of.third_octaves.size());
        });
}

void bind_weighed(py::module_& module)
{
    py::class_<HeldSeries>(module, "Weighed",
                           "A recording's weighted quantities and samples, lane by lane. "
                           "`weighed['z']`, `weighed['z', 'Wk']` and `weighed[0]` give a lane.")
        .def_property_readonly(
            "lanes", [](const HeldSeries& of) { return lanes_of(of.series); }, "Every axis under every weighting.")
        .def_property_readonly(
            "file", [](const HeldSeries& of) { return of.series->weighed.file; }, "Path, or what an array is called.")
        .def_property_readonly(
            "sha256",
            [](const HeldSeries& of) -> py::object {
                const std::string& hash = of.series->weighed.sha256;
                return hash.empty() ? py::object(py::none()) : py::str(hash);
            },
            "Of the file's content; None for an array.")
        .def_property_readonly(
            "rate_hz", [](const HeldSeries& of) { return of.series->weighed.rate_hz; }, "Samples a second.")
        .def_property_readonly(
            "from_s", [](const HeldSeries& of) { return of.series->weighed.from_s; }, "Of the first selected sample.")
        .def_property_readonly(
            "duration_s", [](const HeldSeries& of) { return of.series->weighed.duration_s; }, "Of what was selected.")
        .def_property_readonly(
            "start", [](const HeldSeries& of) { return of.series->info.start; },
            "ISO 8601, as the file states it; may be empty.")
        .def_property_readonly(
            "format", [](const HeldSeries& of) { return of.series->info.format; }, "Of the file.")
        .def_property_readonly(
            "total_rms", [](const HeldSeries& of) { return of.series->weighed.total_rms; },
            "Root of the sum of the squares over x, y, z where each has one weighting.")
        .def_property_readonly(
            "findings", [](const HeldSeries& of) -> const std::vector<Finding>& { return of.series->weighed.findings; },
            "What was noticed about the recording.")
        .def_property_readonly(
            "recorded",
            [](const HeldSeries& of) -> const std::optional<std::vector<RecordedBands>>& {
                return of.series->weighed.bands;
            },
            "One-third octaves as recorded, where bands=True asked for them; else None.")
        .def(
            "to_json", [](const HeldSeries& of) { return io::as_json(std::vector{of.series->weighed}); },
            "The text that `becalm weigh --json` writes.")
        .def("__len__", [](const HeldSeries& of) { return of.series->weighed.lanes.size(); })
        .def("__iter__", [](const HeldSeries& of) { return py::iter(py::cast(lanes_of(of.series))); })
        .def(
            "__getitem__",
            [](const HeldSeries& of, py::ssize_t index) {
                const auto count = static_cast<py::ssize_t>(of.series->weighed.lanes.size());
                if (index < -count || index >= count) throw py::index_error("there is no such lane");
                return LaneOfSeries{of.series, static_cast<std::size_t>(index < 0 ? index + count : index)};
            },
            py::arg("index"), "A lane by its place.")
        .def(
            "__getitem__",
            [](const HeldSeries& of, const std::string& axis) {
                std::optional<LaneOfSeries> found;
                for (const LaneOfSeries& lane : lanes_of(of.series)) {
                    if (lane.weighed().axis != axis) continue;
                    if (found)
                        throw py::key_error(fmt::format("axis {} has several weightings; name one: ['{}', '{}']", axis,
                                                        axis, found->weighed().weighting));
                    found = lane;
                }
                if (!found) throw py::key_error("there is no lane of axis " + axis);
                return *found;
            },
            py::arg("axis"), "The lane of an axis.")
        .def(
            "__getitem__",
            [](const HeldSeries& of, const std::pair<std::string, std::string>& key) {
                for (const LaneOfSeries& lane : lanes_of(of.series))
                    if (lane.weighed().axis == key.first && lane.weighed().weighting == key.second) return lane;
                throw py::key_error(fmt::format("there is no lane of axis {} under {}", key.first, key.second));
            },
            py::arg("key"), "The lane of an axis and a weighting.")
        .def("__repr__", [](const HeldSeries& of) {
            const WeighedFile& file = of.series->weighed;
            return fmt::format("<Weighed {}: {:.3f} s at {:.6g} Hz, {} lanes>", file.file, file.duration_s,
                               file.rate_hz, file.lanes.size());
        });
    module.def(
        "weigh",
        [](const Selection& selection, bool samples, bool bands, const py::object& progress) {
            return HeldSeries{weigh(selection, samples, bands, progress)};
        },
        py::arg("selection"), py::arg("samples"), py::arg("bands"), py::arg("progress"));
}

void bind_ledger(py::module_& module)
{
    PYBIND11_NUMPY_DTYPE_EX(LedgerRow, samples, "samples", sum_squares, "sum_squares", sum_fourths, "sum_fourths", peak,
                            "peak", linear_rms, "running_rms", linear_rms_within, "running_rms_within",
                            exponential_rms_slow, "running_rms_slow", exponential_rms_fast, "running_rms_fast", raw_min,
                            "recorded_min", raw_max, "recorded_max");

    const auto quantities = [](const evaluators::Folded& folded) -> const WeighedLane& { return folded.quantities; };
    py::class_<evaluators::Folded> tally(module, "Tally",
                                         "Sums and greatest values of a selection, and its quantities.");
    tally
        .def_property_readonly(
            "samples", [](const evaluators::Folded& of) { return of.tally.samples; }, "That count.")
        .def_property_readonly(
            "duration_s", [](const evaluators::Folded& of) { return of.tally.duration_s; }, "They last.")
        .def_property_readonly(
            "sum_squares", [](const evaluators::Folded& of) { return of.tally.sum_squares; },
            "Integral of the square over time.")
        .def_property_readonly(
            "sum_fourths", [](const evaluators::Folded& of) { return of.tally.sum_fourths; },
            "Integral of the fourth power over time.");
    add_identity(tally, quantities);
    add_quantities(tally, quantities);
    tally.def("__repr__", [](const evaluators::Folded& of) {
        return fmt::format("<Tally {:.6g} s, r.m.s. {} {}>", of.tally.duration_s, number(of.quantities.rms),
                           of.quantities.unit);
    });

    py::class_<HeldLedger> ledger(
        module, "Ledger",
        "A lane second by second. What it is of, and `rows`: a structured array with a record a "
        "second.");
    const auto add = [&](const char* name, auto member, const char* words) {
        ledger.def_property_readonly(
            name, [member](const HeldLedger& of) { return of.lane.*member; }, words);
    };
    add("file", &LedgerLane::file, "As the survey names it.");
    add("sha256", &LedgerLane::sha256, "Of the file's content.");
    add("space", &LedgerLane::space, "Of the survey; empty for a single file, as all that only a survey knows.");
    add("position", &LedgerLane::position, "'floor', 'seat-pan', ...");
    add("condition", &LedgerLane::condition, "Of the survey.");
    add("start", &LedgerLane::start, "ISO 8601; may be empty.");
    add("unit", &LedgerLane::unit, "Of peak and running values; the sums are of its square and its fourth power.");
    add("recorded_unit", &LedgerLane::recorded_unit, "Of recorded_min and recorded_max.");
    add("why_unfit", &LedgerLane::why_unfit, "Why nothing is judged by this channel; empty where it is fit.");
    ledger
        .def_property_readonly(
            "channel", [](const HeldLedger& of) { return of.lane.ledger->lane.channel; }, "From 1.")
        .def_property_readonly(
            "axis", [](const HeldLedger& of) { return std::string(name_of(of.lane.ledger->lane.axis)); },
            "'x', 'y', 'z', 'rx', 'ry' or 'rz'.")
        .def_property_readonly(
            "weighting", [](const HeldLedger& of) { return std::string(name_of(of.lane.ledger->lane.weighting)); },
            "'Wk', 'Wd', ..., 'none'.")
        .def_property_readonly(
            "rate_hz", [](const HeldLedger& of) { return of.lane.ledger->rate_hz; }, "Samples a second.")
        .def_property_readonly(
            "first_second", [](const HeldLedger& of) { return of.lane.ledger->first_second; },
            "rows[i] is of the second first_second + i from where the selection begins.")
        .def_property_readonly(
            "selected",
            [](const HeldLedger& of) {
                std::vector<std::pair<double, double>> spans;
                for (const TimeSpan& span : of.lane.selected) spans.emplace_back(span.from_s, span.to_s);
                return spans;
            },
            "Spans (from_s, to_s) that count: what the survey leaves out is left out.")
        .def_property_readonly(
            "rows", [](const py::object& self) { return view(self.cast<const HeldLedger&>().lane.ledger->rows, self); },
            "Structured array over the core's memory (read only), a record a second: samples, sum_squares, "
            "sum_fourths, "
            "peak, running_rms (linear, 1 s, windows that end in this second), running_rms_within (windows inside it), "
            "running_rms_slow (exponential, 1 s), running_rms_fast (0.125 s), recorded_min, recorded_max.")
        .def(
            "fold",
            [](const HeldLedger& of, const std::optional<std::vector<std::pair<double, double>>>& spans) {
                std::vector<TimeSpan> wanted;
                for (const auto& [from_s, to_s] : spans.value_or(std::vector<std::pair<double, double>>{})) {
                    if (!(from_s >= 0.0 && to_s > from_s))
                        throw py::value_error("a span is (from_s, to_s), 0 <= from_s < to_s");
                    wanted.push_back({from_s, to_s});
                }
                if (spans && wanted.empty()) throw py::value_error("no span is named; leave it out for all that count");
                const py::gil_scoped_release release;
                return evaluators::folded(of.lane, wanted);
            },
            py::arg("spans") = py::none(),
            "The Tally of the seconds wholly inside the spans [(from_s, to_s), ...]; without any, of those selected.")
        .def("__len__", [](const HeldLedger& of) { return of.lane.ledger->rows.size(); })
        .def("__repr__", [](const HeldLedger& of) {
            const Lane& lane = of.lane.ledger->lane;
            return fmt::format("<Ledger {}{}{} channel {}, {}, {}: {} s>", of.lane.file,
                               of.lane.space.empty() ? "" : ", ", of.lane.space, lane.channel, name_of(lane.axis),
                               name_of(lane.weighting), of.lane.ledger->rows.size());
        });
}

void bind_blocks(py::module_& module)
{
    struct LaneOfBlocks : WeighedLane {};
    py::class_<LaneOfBlocks> lane(module, "BlockLane", "What a row of the blocks is.");
    add_identity(lane, [](const LaneOfBlocks& of) -> const WeighedLane& { return of; });
    lane.def("__repr__", [](const LaneOfBlocks& of) {
        return fmt::format("<BlockLane channel {}, {}, {}>", of.channel, of.axis, of.weighting);
    });

    py::class_<HeldBlocks>(
        module, "Blocks",
        "Weighted samples block by block, in constant memory: iterating gives arrays (lanes, samples) "
        "that are yours. A gap in the recording raises Problem at its end.")
        .def_property_readonly(
            "rate_hz", [](const HeldBlocks& of) { return of.blocks->info().rate_hz; }, "Samples a second.")
        .def_property_readonly(
            "start", [](const HeldBlocks& of) { return of.blocks->info().start; },
            "ISO 8601, as the file states it; may be empty.")
        .def_property_readonly(
            "from_s", [](const HeldBlocks& of) { return of.blocks->from_s(); },
            "Of the first sample of the first block.")
        .def_property_readonly(
            "duration_s", [](const HeldBlocks& of) { return of.blocks->duration_s(); }, "Of all blocks together.")
        .def_property_readonly(
            "lanes",
            [](const HeldBlocks& of) {
                std::vector<LaneOfBlocks> lanes;
                for (const WeighedLane& is : of.blocks->lanes()) lanes.push_back({is});
                return lanes;
            },
            "Which lane each row is, in order.")
        .def("__iter__", [](const py::object& self) { return self; })
        .def("__next__", &next_block);
    module.def("blocks", &open_blocks, py::arg("selection"), py::arg("block_s"));
}

} // namespace

py::object held_ledger(std::shared_ptr<const void> owner, LedgerLane lane)
{
    return py::cast(HeldLedger{std::move(owner), std::move(lane)});
}

void bind_weighing(py::module_& module)
{
    bind_bands(module);
    bind_lane(module);
    bind_weighed(module);
    bind_ledger(module);
    bind_blocks(module);
}

} // namespace becalm::python
