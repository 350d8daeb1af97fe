#include "ui/desktop/source_trial.h"

#include <algorithm>
#include <cmath>

#include "src/io/survey_file.h"
#include "src/io/toml_text.h"

namespace becalm::desktop {
namespace {

double rounded(double value)
{
    if (!(value > 0.0)) return value;
    const double unit = std::pow(10.0, std::floor(std::log10(value)) - 3.0); // not a limit: four significant digits
    // Dividing by a whole number gives the shortest decimal where multiplying by its inverse does not.
    return unit < 1.0 ? std::round(value / unit) / std::round(1.0 / unit) : std::round(value / unit) * unit;
}

} // namespace

SourceTrial::SourceTrial(const Survey& survey, std::string condition) : condition_(std::move(condition))
{
    stated_.sources = survey.sources;
    stated_.conditions = survey.conditions;
    tried_ = stated_;
}

const Source* SourceTrial::source_of(const Survey& survey, const std::string& id)
{
    const auto found = std::ranges::find(survey.sources, id, &Source::id);
    return found == survey.sources.end() ? nullptr : &*found;
}

std::optional<evaluators::SourceSpeed> SourceTrial::speed(const std::string& source) const
{
    const Source* found = source_of(tried_, source);
    if (found == nullptr) return {};
    return evaluators::speed_of(*found, tried_.condition(condition_));
}

std::optional<evaluators::SourceSpeed> SourceTrial::stated(const std::string& source) const
{
    const Source* found = source_of(stated_, source);
    if (found == nullptr) return {};
    return evaluators::speed_of(*found, stated_.condition(condition_));
}

bool SourceTrial::set_speed(const std::string& source, double value)
{
    const auto now = speed(source);
    if (!now || !(value > 0.0) || !std::isfinite(value)) return false;
    if (now->of_condition)
        std::ranges::find(tried_.conditions, condition_, &Condition::id)->values[now->key] = value;
    else
        std::ranges::find(tried_.sources, source, &Source::id)->values[now->key] = value;
    return true;
}

bool SourceTrial::draw(const std::string& source, double from_hz, double to_hz)
{
    const auto now = speed(source);
    if (!now || !(from_hz > 0.0 && to_hz > 0.0)) return false;
    return set_speed(source, rounded(now->value * to_hz / from_hz));
}

void SourceTrial::put_back() { tried_ = stated_; }

std::vector<SourceTrial::Edit> SourceTrial::changes() const
{
    std::vector<Edit> all;
    const auto compare = [&](const char* array, std::size_t index, const auto& stated, const auto& tried) {
        for (const auto& [key, value] : tried.values)
            if (const auto old = stated.values.find(key); old == stated.values.end() || old->second != value)
                all.push_back({array, index, key, value});
    };
    for (std::size_t i = 0; i < tried_.sources.size(); ++i) compare("source", i, stated_.sources[i], tried_.sources[i]);
    for (std::size_t i = 0; i < tried_.conditions.size(); ++i)
        compare("condition", i, stated_.conditions[i], tried_.conditions[i]);
    return all;
}

std::vector<NamedLine> SourceTrial::lines(double most_hz) const
{
    std::vector<NamedLine> all;
    for (const Source& source : tried_.sources)
        if (const auto lines = evaluators::predicted_lines(source, tried_.condition(condition_), most_hz))
            for (const evaluators::PredictedLine& line : *lines)
                all.push_back({line.source, line.name, line.hz, line.rank});
    return all;
}

std::optional<Problem> SourceTrial::missing(const std::string& source) const
{
    const Source* found = source_of(tried_, source);
    if (found == nullptr) return {};
    const auto lines = evaluators::predicted_lines(*found, tried_.condition(condition_), 1.0);
    if (lines) return {};
    return lines.error();
}

Result<std::string> SourceTrial::written(std::string text, const std::string& path) const
{
    for (const Edit& edit : changes()) {
        auto next = io::with_value(text, path, edit.array, edit.index, edit.key, io::toml_number(edit.value));
        if (!next) return next;
        text = std::move(*next);
    }
    return text;
}

} // namespace becalm::desktop
