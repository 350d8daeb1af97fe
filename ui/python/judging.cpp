#include <filesystem>

#include <fmt/format.h>
#include <pybind11/stl.h>

#include "evaluators/assess.h"
#include "evaluators/tables.h"
#include "src/io/criteria_folders.h"
#include "src/io/json_out.h"
#include "src/io/survey_file.h"
#include "ui/python/bindings.h"
#include "ui/python/interruptible.h"
#include "ui/python/problems.h"

namespace becalm::python {
namespace py = pybind11;
namespace {

struct Judgement {
    Survey survey = {}; // `judged` points into it
    evaluators::Judged judged = {};
    io::LedgerIndex ledgers = {};
    std::vector<Problem> complaints = {}; // nothing is judged otherwise for them
};
struct HeldJudgement {
    std::shared_ptr<const Judgement> judgement;

    const Assessment& assessment() const { return judgement->judged.assessment; }
};

std::shared_ptr<const Judgement> judge(const std::string& path, const std::vector<std::string>& criteria, bool cache,
                                       int threads, bool verdicts, const Work& work)
{
    const auto judgement = std::make_shared<Judgement>();
    judgement->survey = value_of(io::read_survey(path));
    const io::LoadedCriteria loaded = value_of(io::load_all_criteria(path));
    judgement->complaints = loaded.library.problems;
    evaluators::AssessOptions options{.criteria = criteria,
                                      .jobs = threads,
                                      .judge = verdicts,
                                      .cache_trouble =
                                          [&](Problem problem) {
                                              problem.what = "nothing is kept for the next run: " + problem.what;
                                              judgement->complaints.push_back(std::move(problem));
                                          },
                                      .progress = work.progress,
                                      .stop = work.stop};
    if (cache) options.cache_folder = (std::filesystem::path(path).parent_path() / ".becalm").string();
    judgement->judged = value_of(evaluators::judged(judgement->survey, loaded.library, options));
    judgement->ledgers = evaluators::ledgers_of(judgement->survey, judgement->judged);
    for (const auto& [recording, why] : judgement->ledgers.unreadable)
        judgement->complaints.push_back({.file = path, .what = why});
    return judgement;
}

HeldJudgement assess(const std::string& path, const std::vector<std::string>& criteria, bool cache, int threads,
                     bool verdicts, const py::object& progress)
{
    if (threads < 0) throw py::value_error("there cannot be fewer than no threads; 0 takes as many as the machine has");
    HeldJudgement held{interruptibly(
        progress, [&](const Work& work) { return judge(path, criteria, cache, threads, verdicts, work); })};
    const py::object warn = py::module_::import("warnings").attr("warn");
    for (const Problem& complaint : held.judgement->complaints)
        warn(to_text(complaint), py::module_::import("becalm._problem").attr("Caution"), py::arg("stacklevel") = 3);
    return held;
}

py::object text_or_none(const std::string& text) { return text.empty() ? py::object(py::none()) : py::str(text); }

template <class Class>
auto text(std::string Class::*member)
{
    return [member](const Class& of) { return text_or_none(of.*member); };
}

void bind_parts(py::module_& module)
{
    py::class_<Band>(module, "Band", "A named range of values, as the publication has it.")
        .def_readonly("name", &Band::name, "In the publication's words.")
        .def_readonly("below", &Band::limit, "Upper end, or None.")
        .def_readonly("inclusive", &Band::inclusive, "Whether the upper end belongs to it.")
        .def_readonly("from_", &Band::from, "Lower end where ranges overlap; None: that of the band before.")
        .def_readonly("exceeds", &Band::exceeds, "Whether a value here exceeds what is allowed or asked for.")
        .def("__repr__", [](const Band& band) { return fmt::format("<Band {}>", band.name); });

    py::class_<DecisionOutcome>(module, "Decision", "A decision in two steps.")
        .def_readonly("quantity", &DecisionOutcome::quantity, "Of the second step.")
        .def_readonly("value", &DecisionOutcome::value, "None: not looked at.")
        .def_property_readonly(
            "lower", [](const DecisionOutcome& of) { return of.limits.lower; }, "At most this: met.")
        .def_property_readonly(
            "upper", [](const DecisionOutcome& of) { return of.limits.upper; }, "Above this: not met.")
        .def_property_readonly(
            "average", [](const DecisionOutcome& of) { return of.limits.average; },
            "Decides between the two; None: not met there.")
        .def_readonly("words", &DecisionOutcome::words, "How it was decided.")
        .def("__repr__", [](const DecisionOutcome& of) { return fmt::format("<Decision {}>", of.words); });

    py::class_<VerdictPart>(module, "Part", "What one condition, or one task of a person, adds to a value.")
        .def_property_readonly("condition", text(&VerdictPart::condition), "Id of the condition, or None.")
        .def_property_readonly("space", text(&VerdictPart::space), "Of a task.")
        .def_readonly("rest", &VerdictPart::rest, "Whether it lies in hours of rest.")
        .def_readonly("value", &VerdictPart::value, "Of the axis, before the factor, over this part alone.")
        .def_readonly("exposed_h", &VerdictPart::exposed_h, "How long it lasts, hours, or None.")
        .def_readonly("events", &VerdictPart::events, "How often it happens, or None.")
        .def_readonly("duration_s", &VerdictPart::duration_s, "That was judged.")
        .def("__repr__", [](const VerdictPart& of) {
            return fmt::format("<Part {}{}: {:.4g}>", of.space, of.condition, of.value);
        });

    py::class_<VerdictTerm>(module, "Term", "A value of one axis on the way to the compared value.")
        .def_readonly("axis", &VerdictTerm::axis, "'x', 'y', 'z', ...")
        .def_property_readonly("position", text(&VerdictTerm::position), "Where the criterion asks for one.")
        .def_readonly("weighting", &VerdictTerm::weighting, "'Wk', 'Wd', ...")
        .def_readonly("factor", &VerdictTerm::factor, "Of the axis, in the total.")
        .def_readonly("value", &VerdictTerm::value, "Before the factor, in the quantity's unit.")
        .def_readonly("duration_s", &VerdictTerm::duration_s, "That was judged.")
        .def_readonly("recordings", &VerdictTerm::recordings, "Files that it is from.")
        .def_readonly("parts", &VerdictTerm::parts, "Where several conditions or tasks add up.")
        .def("__repr__", [](const VerdictTerm& of) {
            return fmt::format("<Term {}, {}: {}>", of.axis, of.weighting,
                               of.value ? fmt::format("{:.4g}", *of.value) : "-");
        });

    py::class_<UncertaintyComponent>(module, "UncertaintyComponent", "A part of a value's uncertainty.")
        .def_readonly("name", &UncertaintyComponent::name,
                      "'calibration', 'filter', 'mounting', 'position', 'statistics'.")
        .def_readonly("standard", &UncertaintyComponent::standard, "Standard uncertainty of the value, its unit.")
        .def_readonly("method", &UncertaintyComponent::method, "How it is known.")
        .def_readonly("dof", &UncertaintyComponent::dof, "Degrees of freedom; None: known for certain.")
        .def("__repr__", [](const UncertaintyComponent& of) {
            return fmt::format("<UncertaintyComponent {}: {:.4g}>", of.name, of.standard);
        });

    py::class_<Settling>(module, "Settling", "What would settle a verdict that lies near a bound.")
        .def_readonly("bound", &Settling::bound, "That the uncertainty covers, in the value's unit.")
        .def_readonly("times", &Settling::times, "So many times the record, all in all; None: no amount would do.")
        .def_readonly("more_s", &Settling::more_s, "Further seconds of the same, or None.")
        .def_readonly("more_events", &Settling::more_events, "Further events of the same, or None.")
        .def_readonly("more_recordings", &Settling::more_recordings, "Further recordings of the same, or None.")
        .def_property_readonly("in_the_way", text(&Settling::in_the_way),
                               "The component that measuring does not make smaller.")
        .def_readonly("words", &Settling::words, "All of it in words.")
        .def("__repr__", [](const Settling& of) { return fmt::format("<Settling {}>", of.words); });

    py::class_<Uncertainty>(module, "Uncertainty", "What a value's uncertainty is made of.")
        .def_readonly("standard", &Uncertainty::standard, "None where a component that must be stated is not.")
        .def_readonly("k", &Uncertainty::k, "Coverage factor of Verdict.expanded_uncertainty.")
        .def_property_readonly("method", text(&Uncertainty::method), "How the components were put together.")
        .def_readonly("components", &Uncertainty::components, "Parts, one a source.")
        .def_readonly("not_covered", &Uncertainty::not_covered, "What is not in it, and why.")
        .def_readonly("probability_exceeded", &Uncertainty::probability_exceeded,
                      "That the true value exceeds what is allowed.")
        .def_readonly("probability_of_band", &Uncertainty::probability_of_band, "That it lies in the verdict's band.")
        .def_readonly("settling", &Uncertainty::settling, "Where it covers a bound of the band.")
        .def("__repr__", [](const Uncertainty& of) {
            return fmt::format("<Uncertainty {}>", of.standard ? fmt::format("{:.4g}", *of.standard) : "not known");
        });

    py::class_<ProvenanceStep>(module, "ProvenanceStep", "A step from the recording to the verdict.")
        .def_readonly("step", &ProvenanceStep::step, "What was done.")
        .def_readonly("of", &ProvenanceStep::of, "Of what, usually a file.")
        .def("__repr__",
             [](const ProvenanceStep& of) { return fmt::format("<ProvenanceStep {}: {}>", of.of, of.step); });
}

void bind_verdict(py::module_& module)
{
    py::class_<Verdict>(module, "Verdict", "What a criterion says of a place, or of a person's day.")
        .def_readonly("space", &Verdict::space, "Id in the survey; empty for a person's day.")
        .def_readonly("position", &Verdict::position, "'floor', 'seat-pan', ...")
        .def_property_readonly("condition", text(&Verdict::condition), "Id of the condition, or None.")
        .def_property_readonly("person", text(&Verdict::person), "Whose day it is.")
        .def_readonly("criterion", &Verdict::criterion, "Id of the document.")
        .def_readonly("title", &Verdict::title, "Of the criterion.")
        .def_readonly("edition", &Verdict::edition, "Of the publication.")
        .def_readonly("clause", &Verdict::clause, "Of the publication.")
        .def_readonly("confirmed", &Verdict::confirmed, "How the criterion's numbers were confirmed.")
        .def_readonly("use", &Verdict::use, "Of the space.")
        .def_readonly("quantity", &Verdict::quantity, "'weighted_rms', 'vdv', ...")
        .def_property_readonly("axis", text(&Verdict::axis), "The governing one, or 'total'.")
        .def_property_readonly("weighting", text(&Verdict::weighting),
                               "Of the governing axis, or each one joined with +; or None.")
        .def_readonly("value", &Verdict::value, "That is compared; None where there is none.")
        .def_readonly("unit", &Verdict::unit, "Of the value.")
        .def_readonly("expanded_uncertainty", &Verdict::expanded_uncertainty, "k = 2, same unit, or None.")
        .def_readonly("uncertainty", &Verdict::uncertainty, "What that is made of, or None.")
        .def_readonly("judged", &Verdict::judged, "Whether it could be judged.")
        .def_property_readonly("why_not", text(&Verdict::why_not), "Why it cannot be judged; None where it is.")
        .def_property_readonly(
            "band",
            [](const Verdict& of) {
                return of.band_index ? text_or_none(of.bands[static_cast<std::size_t>(*of.band_index)].name)
                                     : py::none();
            },
            "Name of the band that the value lies in, or None.")
        .def_readonly("band_index", &Verdict::band_index, "Its place in bands, from 0, or None.")
        .def_readonly("also_bands", &Verdict::also_bands, "Others whose overlapping range holds the value.")
        .def_readonly("bands", &Verdict::bands, "From the mildest to the most severe.")
        .def_readonly("exceeded", &Verdict::exceeded,
                      "Whether the value exceeds what the publication allows or asks for.")
        .def_readonly("decision", &Verdict::decision, "Where the criterion decides in two steps, or None.")
        .def_readonly("terms", &Verdict::terms, "Values of the axes.")
        .def_readonly("notes", &Verdict::notes, "Assumptions that a reader must know.")
        .def_readonly("recordings", &Verdict::recordings, "Files that it is from.")
        .def("__repr__", [](const Verdict& of) {
            const std::string& subject = of.person.empty() ? of.space : of.person;
            if (!of.judged) return fmt::format("<Verdict {}, {}: {}>", subject, of.criterion, of.why_not);
            return fmt::format("<Verdict {}, {}: {:.4g} {}{}>", subject, of.criterion, of.value.value_or(0.0), of.unit,
                               of.exceeded ? ", exceeded" : "");
        });
}

} // namespace

void bind_judging(py::module_& module)
{
    bind_parts(module);
    bind_verdict(module);
    py::class_<HeldJudgement>(module, "Assessment", "The judgement of a survey.")
        .def_property_readonly(
            "title", [](const HeldJudgement& of) { return of.assessment().title; }, "Of the survey.")
        .def_property_readonly(
            "setting", [](const HeldJudgement& of) { return of.assessment().setting; },
            "'vessel', 'rail', 'road', 'building' or 'lift'.")
        .def_property_readonly(
            "decision_rule", [](const HeldJudgement& of) { return of.assessment().decision_rule; },
            "'simple' or 'guarded'.")
        .def_property_readonly(
            "file", [](const HeldJudgement& of) { return of.assessment().file; }, "Of the survey.")
        .def_property_readonly(
            "sha256", [](const HeldJudgement& of) { return of.assessment().sha256; }, "Of the survey's text.")
        .def_property_readonly(
            "verdicts", [](const HeldJudgement& of) -> const std::vector<Verdict>& { return of.assessment().verdicts; },
            "One a place and criterion, in the survey's order.")
        .def_property_readonly(
            "findings", [](const HeldJudgement& of) -> const std::vector<Finding>& { return of.assessment().findings; },
            "What was noticed about recordings and survey.")
        .def_property_readonly(
            "provenance",
            [](const HeldJudgement& of) -> const std::vector<ProvenanceStep>& { return of.assessment().provenance; },
            "From the files to the verdicts.")
        .def_property_readonly(
            "ledgers",
            [](const HeldJudgement& of) {
                py::list ledgers;
                for (const LedgerLane& lane : of.judgement->ledgers.lanes)
                    ledgers.append(held_ledger(of.judgement, lane));
                return ledgers;
            },
            "Every lane that was weighted for the judgement, second by second, see Ledger.")
        .def(
            "to_json", [](const HeldJudgement& of) { return io::as_json(of.assessment()); },
            "The text that `becalm assess --json` writes, to the byte.")
        .def(
            "to_csv", [](const HeldJudgement& of) { return io::as_csv(of.assessment()); },
            "The text that `becalm assess --csv` writes: one row a verdict.")
        .def(
            "as_dict",
            [](const HeldJudgement& of) {
                return py::module_::import("json").attr("loads")(io::as_json(of.assessment()));
            },
            "to_json() as dictionaries and lists.")
        .def("__len__", [](const HeldJudgement& of) { return of.assessment().verdicts.size(); })
        .def("__repr__", [](const HeldJudgement& of) {
            return fmt::format("<Assessment {}: {} verdicts>", of.assessment().title, of.assessment().verdicts.size());
        });
    module.def("assess", &assess, py::arg("survey"), py::arg("criteria"), py::arg("cache"), py::arg("threads"),
               py::arg("verdicts"), py::arg("progress"));
}

} // namespace becalm::python
