#include "evaluators/compare.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "evaluators/classify.h"
#include "filters/student_t.h"
#include "filters/welch.h"
#include "src/model/axis.h"

namespace becalm::evaluators {
namespace {

bool is_level(const Verdict& verdict) { return verdict.unit == "dB"; }

bool same_scale(const Verdict& a, const Verdict& b)
{
    return std::ranges::equal(a.bands, b.bands, [](const Band& x, const Band& y) {
        return x.name == y.name && x.from == y.from && x.limit == y.limit && x.exceeds == y.exceeds;
    });
}

// ---- who belongs to whom

bool fits(const std::string& stated, const std::string& of_other) { return stated.empty() || stated == of_other; }

// What a prediction leaves open, from the one verdict that it is about. Empty: it is complete now; else why it is not.
std::string complete(Verdict& predicted, std::span<const Verdict* const> others, PartnersBy by)
{
    std::vector<const Verdict*> about;
    for (const Verdict* other : others)
        if (predicted.space == other->space && predicted.criterion == other->criterion &&
            fits(predicted.position, other->position) && fits(predicted.axis, other->axis) &&
            (by == PartnersBy::place || fits(predicted.condition, other->condition)))
            about.push_back(other);
    if (about.empty()) return {};
    if (about.size() > 1)
        return fmt::format("{} verdicts of the other side are of this space and criterion; state position, condition "
                           "or axis too",
                           about.size());
    const Verdict& other = *about.front();
    const auto take = [](std::string& field, const std::string& of_other) {
        if (field.empty()) field = of_other;
    };
    take(predicted.position, other.position);
    if (by == PartnersBy::place_and_condition) take(predicted.condition, other.condition);
    take(predicted.axis, other.axis);
    take(predicted.title, other.title);
    take(predicted.edition, other.edition);
    take(predicted.use, other.use);
    take(predicted.quantity, other.quantity);
    take(predicted.weighting, other.weighting);
    take(predicted.unit, other.unit);
    // Where a second quantity decides, one value alone has no band.
    if (predicted.bands.empty() && !other.bands.empty() && !other.decision && predicted.unit == other.unit) {
        predicted.bands = other.bands;
        predicted.band_index = static_cast<int>(classify(*predicted.value, predicted.bands).band);
        predicted.exceeded = predicted.bands[static_cast<std::size_t>(*predicted.band_index)].exceeds;
    }
    return {};
}

std::string differ(std::string_view what, const std::string& a, const std::string& b)
{
    return a.empty() || b.empty() || a == b ? std::string() : fmt::format("the {} differ: {} and {}", what, a, b);
}

std::string why_not_comparable(const Verdict& a, const Verdict& b)
{
    for (const auto& [what, first, second] : {std::tuple{"editions", &a.edition, &b.edition},
                                              {"uses", &a.use, &b.use},
                                              {"quantities", &a.quantity, &b.quantity},
                                              {"units", &a.unit, &b.unit}})
        if (std::string why = differ(what, *first, *second); !why.empty()) return why;
    for (const VerdictTerm& term : a.terms)
        for (const VerdictTerm& other : b.terms) {
            if (term.axis != other.axis || term.position != other.position) continue;
            if (std::string why = differ("weightings of axis " + term.axis, term.weighting, other.weighting);
                !why.empty())
                return why;
            if (term.factor != other.factor)
                return fmt::format("the factors of axis {} differ: {:g} and {:g}", term.axis, term.factor,
                                   other.factor);
        }
    // The governing axis may be another one, with a weighting of its own.
    if ((a.terms.empty() || b.terms.empty()) && a.axis == b.axis)
        if (std::string why = differ("weightings", a.weighting, b.weighting); !why.empty()) return why;
    for (const auto& [side, verdict] : {std::pair{"first", &a}, {"second", &b}}) {
        if (verdict->judged) continue;
        return fmt::format("the {} {}", side, verdict->why_not);
    }
    return {};
}

// ---- uncertainty

// Those that measured what the value is of; empty where one of them is not known.
std::vector<const Sensor*> sensors_of(const Verdict& verdict, const Survey* survey)
{
    if (survey == nullptr) return {};
    std::set<const Sensor*> sensors;
    const bool one_axis = axis_named(verdict.axis).has_value();
    for (const VerdictTerm& term : verdict.terms) {
        if (one_axis && term.axis != verdict.axis) continue;
        for (const Recording& recording : survey->recordings) {
            if (std::ranges::find(term.recordings, recording.file) == term.recordings.end() ||
                (!verdict.space.empty() && recording.space != verdict.space))
                continue;
            const Sensor* sensor = survey->sensor(recording.sensor);
            if (sensor == nullptr) return {};
            sensors.insert(sensor);
        }
    }
    return {sensors.begin(), sensors.end()};
}

// Of two surveys only a serial number tells that it is the same instrument, and a later calibration has another error.
bool is_same(const Sensor& a, const Sensor& b)
{
    return &a == &b || (!a.serial.empty() && a.serial == b.serial && a.calibrated == b.calibrated &&
                        a.certificate == b.certificate);
}

void tell_uncertainty(ComparedPair& pair, const Survey* of_first, const Survey* of_second)
{
    const Verdict &a = pair.first, &b = pair.second;
    const auto first = sensors_of(a, of_first), second = sensors_of(b, of_second);
    if (first.size() == 1 && second.size() == 1 && a.axis == b.axis && is_same(*first.front(), *second.front())) {
        pair.calibration_cancels = true;
        pair.uncertainty_words =
            fmt::format("both were measured with sensor {}, whose calibration error is in both values and cancels; "
                        "nothing else of the uncertainty is known",
                        first.front()->id);
        return;
    }
    for (const auto& [side, verdict] : {std::pair{"first", &a}, {"second", &b}}) {
        if (verdict->expanded_uncertainty) continue;
        pair.uncertainty_words = fmt::format("the {} value states no uncertainty", side);
        return;
    }
    pair.uncertainty_words = "the uncertainties of both in quadrature, taken as independent";
    if (is_level(a)) {
        pair.uncertainty_db = std::hypot(*a.expanded_uncertainty, *b.expanded_uncertainty);
        return;
    }
    const double relative = std::hypot(*a.expanded_uncertainty / *a.value, *b.expanded_uncertainty / *b.value);
    pair.uncertainty_percent = 100.0 * *b.value / *a.value * relative;
    pair.uncertainty_db = 20.0 * std::log10(1.0 + relative);
}

// ---- spectra

const Explanation* explanation_of(const SideToCompare& side, const Verdict& verdict)
{
    const auto found = std::ranges::find_if(side.explanations, [&](const Explanation& one) {
        const Verdict& of = one.verdict;
        return std::tie(of.space, of.person, of.position, of.condition, of.criterion, of.axis) ==
               std::tie(verdict.space, verdict.person, verdict.position, verdict.condition, verdict.criterion,
                        verdict.axis);
    });
    return found == side.explanations.end() ? nullptr : &*found;
}

std::vector<filters::ThirdOctave> bands_of(const ExplainedSpectrum& spectrum)
{
    if (spectrum.density.size() < 2) return {};
    const double rate_hz = 2.0 * spectrum.resolution_hz * static_cast<double>(spectrum.density.size() - 1);
    return filters::third_octaves_within(spectrum.resolution_hz, rate_hz);
}

double rms_of(const ExplainedSpectrum& spectrum, const filters::ThirdOctave& band)
{
    return filters::band_rms(spectrum.density, spectrum.resolution_hz, band.from_hz, band.to_hz);
}

void tell_spectra(ComparedPair& pair, const SideToCompare& first, const SideToCompare& second)
{
    const Explanation *a = explanation_of(first, pair.first), *b = explanation_of(second, pair.second);
    if (a == nullptr || b == nullptr) return;
    for (const auto& [side, one] : {std::pair{"first", a}, {"second", b}})
        if (!one->why_not.empty())
            pair.notes.push_back(fmt::format("no spectrum of the {}, because {}", side, one->why_not));
    for (const ExplainedSpectrum& one : a->spectra) {
        const auto other = std::ranges::find(b->spectra, one.axis, &ExplainedSpectrum::axis);
        if (other == b->spectra.end() || other->unit != one.unit) continue;
        ComparedSpectrum compared{.axis = one.axis, .weighting = one.weighting, .unit = one.unit};
        const auto others = bands_of(*other);
        for (const filters::ThirdOctave& band : bands_of(one)) {
            if (std::ranges::find(others, band.n, &filters::ThirdOctave::n) == others.end()) continue;
            ComparedBand change{
                .nominal_hz = band.nominal_hz, .first = rms_of(one, band), .second = rms_of(*other, band)};
            if (change.first > 0.0 && change.second > 0.0) change.db = 20.0 * std::log10(change.second / change.first);
            compared.bands.push_back(change);
        }
        pair.spectra.push_back(std::move(compared));
    }
}

// ---- words and numbers over all

std::string band_words(const Verdict& first, const Verdict& second, const std::optional<int>& bands)
{
    const auto name = [](const Verdict& verdict) {
        return !verdict.judged       ? std::string("cannot be judged")
               : !verdict.band_index ? std::string("no limits set")
                                     : verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name;
    };
    const std::string a = name(first), b = name(second);
    if (a == b) return a + " in both";
    std::string words = a + " to " + b;
    if (bands)
        words += fmt::format(" ({} by {} band{})", *bands > 0 ? "worse" : "better", std::abs(*bands),
                             std::abs(*bands) == 1 ? "" : "s");
    return words;
}

ComparisonSummary summary_of(std::string criterion, const std::vector<ComparedPair>& pairs)
{
    ComparisonSummary summary{.criterion = std::move(criterion)};
    std::vector<double> changes;
    for (const ComparedPair& pair : pairs) {
        if (!summary.criterion.empty() && pair.first.criterion != summary.criterion) continue;
        if (pair.bands)
            ++(*pair.bands > 0 ? summary.worse_band : *pair.bands < 0 ? summary.better_band : summary.same_band);
        if (!pair.db) continue;
        changes.push_back(*pair.db);
        ++(*pair.db > 0.0 ? summary.higher : *pair.db < 0.0 ? summary.lower : summary.unchanged);
    }
    summary.pairs = static_cast<int>(changes.size());
    if (changes.empty()) return summary;
    const auto n = static_cast<double>(changes.size());
    double sum = 0.0;
    for (const double change : changes) sum += change;
    const double mean = sum / n;
    std::ranges::sort(changes);
    const std::size_t half = changes.size() / 2;
    summary.mean_db = mean;
    summary.median_db = changes.size() % 2 != 0 ? changes[half] : 0.5 * (changes[half - 1] + changes[half]);
    if (changes.size() < 2) return summary;
    double squares = 0.0;
    for (const double change : changes) squares += (change - mean) * (change - mean);
    constexpr double confidence = 0.95; // not a limit: probability of the interval
    const double reach =
        filters::t_factor(confidence, summary.pairs - 1) * std::sqrt(squares / (n - 1.0)) / std::sqrt(n);
    summary.from_db = mean - reach;
    summary.to_db = mean + reach;
    return summary;
}

std::vector<Verdict> looked_at(const SideToCompare& side)
{
    std::vector<Verdict> verdicts;
    for (const Verdict& verdict : side.verdicts)
        if (fits(side.about.condition, verdict.condition) ||
            (side.about.kind == "predicted" && verdict.condition.empty()))
            verdicts.push_back(verdict);
    return verdicts;
}

std::vector<const Verdict*> pointers_to(const std::vector<Verdict>& verdicts)
{
    std::vector<const Verdict*> pointers;
    for (const Verdict& verdict : verdicts) pointers.push_back(&verdict);
    return pointers;
}

} // namespace

std::vector<VerdictPartners> partners_of(std::span<const Verdict* const> first, std::span<const Verdict* const> second,
                                         PartnersBy by)
{
    using Key = std::tuple<std::string, std::string, std::string, std::string, std::string>;
    struct Sides {
        std::vector<const Verdict*> first = {}, second = {};
    };
    std::vector<Key> order;
    std::map<Key, Sides> of;
    const auto sides_of = [&](const Verdict& verdict) -> Sides& {
        const Key key{verdict.space, verdict.person, verdict.position,
                      by == PartnersBy::place ? std::string() : verdict.condition, verdict.criterion};
        const auto [found, is_new] = of.try_emplace(key);
        if (is_new) order.push_back(key);
        return found->second;
    };
    for (const Verdict* verdict : first) sides_of(*verdict).first.push_back(verdict);
    for (const Verdict* verdict : second) sides_of(*verdict).second.push_back(verdict);
    std::vector<VerdictPartners> partners;
    for (const Key& key : order) {
        Sides& sides = of[key];
        // The greatest axis may be another one on the other side; one verdict each is a pair all the same.
        const bool by_axis = sides.first.size() > 1 || sides.second.size() > 1;
        for (const Verdict* a : sides.first) {
            const auto partner = std::ranges::find_if(
                sides.second, [&](const Verdict* b) { return b != nullptr && (!by_axis || a->axis == b->axis); });
            const Verdict* b = nullptr;
            if (partner != sides.second.end()) b = std::exchange(*partner, nullptr);
            partners.push_back({a, b});
        }
        for (const Verdict* b : sides.second)
            if (b != nullptr) partners.push_back({nullptr, b});
    }
    return partners;
}

VerdictChange change_between(const Verdict& first, const Verdict& second)
{
    VerdictChange change;
    if (first.value && second.value && first.unit == second.unit) {
        const double a = *first.value, b = *second.value;
        if (is_level(first)) {
            change.db = b - a;
        } else if (a > 0.0 && b > 0.0) {
            change.percent = 100.0 * (b - a) / a;
            change.db = 20.0 * std::log10(b / a);
        }
    }
    if (first.judged && second.judged && first.band_index && second.band_index && same_scale(first, second))
        change.bands = *second.band_index - *first.band_index;
    return change;
}

ComparisonReport compare(const SideToCompare& first, const SideToCompare& second)
{
    ComparisonReport report{.first = first.about, .second = second.about};
    const PartnersBy by = first.about.condition.empty() && second.about.condition.empty()
                              ? PartnersBy::place_and_condition
                              : PartnersBy::place;
    std::vector<Verdict> of_first = looked_at(first), of_second = looked_at(second);
    std::map<const Verdict*, std::string> unclear;
    const auto complete_all = [&](const SideToCompare& side, std::vector<Verdict>& verdicts,
                                  const std::vector<Verdict>& others) {
        if (side.about.kind != "predicted") return;
        for (Verdict& verdict : verdicts)
            if (std::string why = complete(verdict, pointers_to(others), by); !why.empty())
                unclear[&verdict] = std::move(why);
    };
    complete_all(first, of_first, of_second);
    complete_all(second, of_second, of_first);
    std::vector<const Verdict*> clear_first = pointers_to(of_first), clear_second = pointers_to(of_second);
    for (auto* side : {&clear_first, &clear_second})
        std::erase_if(*side, [&](const Verdict* verdict) { return unclear.contains(verdict); });
    for (const auto& [is_first, verdicts] : {std::pair{true, &of_first}, {false, &of_second}})
        for (const Verdict& verdict : *verdicts)
            if (const auto found = unclear.find(&verdict); found != unclear.end())
                report.without_partner.push_back({is_first, verdict, found->second});

    for (const VerdictPartners& partners : partners_of(clear_first, clear_second, by)) {
        if (partners.first == nullptr || partners.second == nullptr) {
            const bool is_of_first = partners.first != nullptr;
            report.without_partner.push_back({is_of_first, is_of_first ? *partners.first : *partners.second,
                                              fmt::format("the {} has no verdict of this place{}, criterion and axis",
                                                          is_of_first ? "second" : "first",
                                                          by == PartnersBy::place_and_condition ? ", condition" : "")});
            continue;
        }
        ComparedPair pair{.first = *partners.first, .second = *partners.second};
        pair.why_not = why_not_comparable(pair.first, pair.second);
        if (pair.why_not.empty()) {
            const VerdictChange change = change_between(pair.first, pair.second);
            pair.percent = change.percent;
            pair.db = change.db;
            pair.bands = change.bands;
            if (!pair.db)
                pair.why_not = "a ratio to or of nothing cannot be told";
            else
                tell_uncertainty(pair, first.survey, second.survey);
            pair.band_words = band_words(pair.first, pair.second, pair.bands);
            if (pair.first.band_index && pair.second.band_index && !pair.bands)
                pair.notes.push_back("the limits differ, so the bands cannot be counted against each other");
            if (pair.first.axis != pair.second.axis)
                pair.notes.push_back(
                    fmt::format("axis {} governs the first, axis {} the second", pair.first.axis, pair.second.axis));
            tell_spectra(pair, first, second);
        }
        report.pairs.push_back(std::move(pair));
    }
    std::ranges::stable_sort(report.pairs, [](const ComparedPair& a, const ComparedPair& b) {
        if (a.db.has_value() != b.db.has_value()) return a.db.has_value();
        return a.db && *a.db > *b.db;
    });
    std::vector<std::string> criteria;
    for (const ComparedPair& pair : report.pairs)
        if (pair.db && std::ranges::find(criteria, pair.first.criterion) == criteria.end())
            criteria.push_back(pair.first.criterion);
    for (const std::string& criterion : criteria) report.summaries.push_back(summary_of(criterion, report.pairs));
    if (criteria.size() > 1) {
        report.summaries.push_back(summary_of("", report.pairs));
        report.notes.push_back("the interval over all criteria takes their values as independent, which those of one "
                               "place are not; that of one criterion is the surer one");
    }
    return report;
}

} // namespace becalm::evaluators
