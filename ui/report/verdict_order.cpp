#include "ui/report/verdict_order.h"

#include <algorithm>
#include <tuple>

namespace becalm::report {

std::vector<std::string> criteria_of(const Assessment& assessment)
{
    std::vector<std::string> criteria;
    for (const Verdict& verdict : assessment.verdicts)
        if (std::ranges::find(criteria, verdict.criterion) == criteria.end()) criteria.push_back(verdict.criterion);
    return criteria;
}

std::vector<const Verdict*> worst_first(const Assessment& assessment, std::string_view criterion)
{
    std::vector<const Verdict*> verdicts;
    for (const Verdict& verdict : assessment.verdicts)
        if (verdict.criterion == criterion) verdicts.push_back(&verdict);
    std::ranges::stable_sort(verdicts, [](const Verdict* a, const Verdict* b) {
        return std::tuple(a->judged, a->band_index.value_or(-1), a->value.value_or(0.0)) >
               std::tuple(b->judged, b->band_index.value_or(-1), b->value.value_or(0.0));
    });
    return verdicts;
}

const Verdict* worst_of(const Assessment& assessment, std::string_view space)
{
    const auto height = [](const Verdict& verdict) {
        return std::tuple(verdict.exceeded, (*verdict.band_index + 1.0) / static_cast<double>(verdict.bands.size()));
    };
    const Verdict* worst = nullptr;
    for (const Verdict& verdict : assessment.verdicts)
        if (verdict.space == space && verdict.judged && verdict.band_index && !verdict.bands.empty() &&
            (worst == nullptr || height(verdict) > height(*worst)))
            worst = &verdict;
    return worst;
}

std::string band_place(const Verdict& verdict)
{
    std::string place;
    for (std::size_t i = 0; i < verdict.bands.size(); ++i)
        place += verdict.band_index && static_cast<std::size_t>(*verdict.band_index) == i ? '#' : '.';
    return place;
}

} // namespace becalm::report
