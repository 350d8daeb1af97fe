#include "ui/desktop/criteria_choice.h"

#include <algorithm>
#include <tuple>

#include "src/io/survey_file.h"
#include "src/io/toml_text.h"

namespace becalm::desktop {
namespace {

bool names(const Judge& judge, const std::string& id)
{
    return std::ranges::find(judge.criteria, id) != judge.criteria.end();
}

std::vector<std::string> others(const Judge& judge, const std::string& id)
{
    std::vector<std::string> rest = judge.criteria;
    std::erase(rest, id);
    return rest;
}

} // namespace

std::vector<CriterionChoice> criteria_for(const Survey& survey, const io::CriteriaLibrary& library)
{
    std::vector<CriterionChoice> choices;
    for (const auto& [id, criterion] : library.criteria) {
        CriterionChoice choice{.criterion = &criterion};
        for (const Judge& judge : survey.judges) {
            if (!names(judge, id)) continue;
            if (choice.confirmed_by.empty()) choice.confirmed_by = judge.confirmed_by;
            if (judge.uses.empty()) choice.chosen = CriterionChoice::Chosen::yes;
            if (choice.chosen == CriterionChoice::Chosen::yes) continue;
            choice.chosen = CriterionChoice::Chosen::for_some_uses;
            choice.uses.insert(choice.uses.end(), judge.uses.begin(), judge.uses.end());
        }
        const bool fits = criterion.settings.empty() ||
                          std::ranges::find(criterion.settings, survey.setting) != criterion.settings.end();
        if (fits || choice.chosen != CriterionChoice::Chosen::no) choices.push_back(std::move(choice));
    }
    std::ranges::stable_sort(choices, {}, [](const CriterionChoice& choice) {
        return std::tie(choice.criterion->edition, choice.criterion->title);
    });
    return choices;
}

Result<std::string> with_criterion(std::string_view text, const Survey& survey, const std::string& id,
                                   const std::string& confirmed_by)
{
    for (std::size_t i = 0; confirmed_by.empty() && i < survey.judges.size(); ++i) {
        const Judge& judge = survey.judges[i];
        if (!judge.uses.empty() || !judge.confirmed_by.empty()) continue;
        std::vector<std::string> criteria = others(judge, id);
        criteria.push_back(id);
        return io::with_value(text, survey.path, "judge", i, "criteria", io::toml_list(criteria));
    }
    return io::with_entry(text, survey.path, "judge",
                          io::entry_as_toml(Judge{.criteria = {id}, .confirmed_by = confirmed_by}));
}

Result<std::string> without_criterion(std::string_view text, const Survey& survey, const std::string& id)
{
    Result<std::string> changed{std::string(text)};
    // From the last on, so that the entries before keep their numbers.
    for (std::size_t i = survey.judges.size(); i-- > 0;) {
        if (!names(survey.judges[i], id)) continue;
        const std::vector<std::string> rest = others(survey.judges[i], id);
        changed = rest.empty() ? io::without_entry(*changed, survey.path, "judge", i)
                               : io::with_value(*changed, survey.path, "judge", i, "criteria", io::toml_list(rest));
        if (!changed) return changed;
    }
    return changed;
}

Result<std::string> with_confirmation(std::string_view text, const Survey& survey, const std::string& id,
                                      const std::string& confirmed_by)
{
    for (std::size_t i = 0; i < survey.judges.size(); ++i) {
        const Judge& judge = survey.judges[i];
        if (!names(judge, id)) continue;
        const std::vector<std::string> rest = others(judge, id);
        if (rest.empty())
            return io::with_value(text, survey.path, "judge", i, "confirmed-by", io::toml_string(confirmed_by));
        auto changed = io::with_value(text, survey.path, "judge", i, "criteria", io::toml_list(rest));
        if (!changed) return changed;
        return io::with_entry(
            *changed, survey.path, "judge",
            io::entry_as_toml(Judge{.criteria = {id}, .uses = judge.uses, .confirmed_by = confirmed_by}));
    }
    return with_criterion(text, survey, id, confirmed_by);
}

} // namespace becalm::desktop
