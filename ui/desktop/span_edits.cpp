#include "ui/desktop/span_edits.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "src/io/survey_file.h"
#include "src/io/toml_text.h"

namespace becalm::desktop {
namespace {

std::string as_toml(const std::vector<EventSpan>& events)
{
    std::string list;
    for (const EventSpan& event : events) {
        list += fmt::format("{}{{ from_s = {}, to_s = {}", list.empty() ? "" : ", ", io::toml_number(event.from_s),
                            io::toml_number(event.to_s));
        if (!event.title.empty()) list += ", title = " + io::toml_string(event.title);
        list += " }";
    }
    return "[ " + list + " ]";
}

std::string numbered(std::size_t index, const std::string& file)
{
    return fmt::format("\"{}\" has no event number {}", file, index + 1);
}

Result<std::string> with_events(const SurveyText& of, const std::string& file, std::vector<EventSpan> events)
{
    std::ranges::sort(events, {}, &EventSpan::from_s);
    for (const EventSpan& event : events)
        if (!std::isfinite(event.from_s) || !std::isfinite(event.to_s) || event.from_s < 0.0 ||
            event.to_s <= event.from_s)
            return fail({.kind = ProblemKind::usage,
                         .file = of.survey.path,
                         .what = fmt::format("an event cannot run from {} s to {} s", event.from_s, event.to_s),
                         .remedy = "it begins at 0 s or later and ends after it begins"});
    for (std::size_t i = 1; i < events.size(); ++i)
        if (events[i].from_s < events[i - 1].to_s)
            return fail({.kind = ProblemKind::usage,
                         .file = of.survey.path,
                         .what = fmt::format("the events at {} s and at {} s would overlap", events[i - 1].from_s,
                                             events[i].from_s),
                         .remedy = "let one end before the next begins"});
    std::string text(of.text);
    for (std::size_t i = 0; i < of.survey.recordings.size(); ++i) {
        if (of.survey.recordings[i].file != file) continue;
        auto changed = events.empty() ? io::without_value(text, of.survey.path, "recording", i, "events")
                                      : io::with_value(text, of.survey.path, "recording", i, "events", as_toml(events));
        if (!changed) return changed;
        text = std::move(*changed);
    }
    return text;
}

} // namespace

const Recording* recording_of(const Survey& survey, std::string_view file)
{
    const auto found = std::ranges::find(survey.recordings, file, &Recording::file);
    return found == survey.recordings.end() ? nullptr : &*found;
}

Result<std::string> with_changed_exclusion(const SurveyText& of, const std::string& file, std::size_t index,
                                           const ExcludedSpan& span)
{
    const auto without = io::without_exclusion(of.text, of.survey.path, file, index);
    if (!without) return without;
    return io::with_exclusion(*without, of.survey.path, file, span);
}

Result<std::string> with_event(const SurveyText& of, const std::string& file, const EventSpan& event)
{
    const Recording* recording = recording_of(of.survey, file);
    std::vector<EventSpan> events = recording != nullptr ? recording->events : std::vector<EventSpan>{};
    events.push_back(event);
    return with_events(of, file, std::move(events));
}

Result<std::string> with_changed_event(const SurveyText& of, const std::string& file, std::size_t index,
                                       const EventSpan& event)
{
    const Recording* recording = recording_of(of.survey, file);
    if (recording == nullptr || index >= recording->events.size())
        return fail({.kind = ProblemKind::usage, .file = of.survey.path, .what = numbered(index, file)});
    std::vector<EventSpan> events = recording->events;
    events[index] = event;
    return with_events(of, file, std::move(events));
}

Result<std::string> without_event(const SurveyText& of, const std::string& file, std::size_t index)
{
    const Recording* recording = recording_of(of.survey, file);
    if (recording == nullptr || index >= recording->events.size())
        return fail({.kind = ProblemKind::usage, .file = of.survey.path, .what = numbered(index, file)});
    std::vector<EventSpan> events = recording->events;
    events.erase(events.begin() + static_cast<std::ptrdiff_t>(index));
    return with_events(of, file, std::move(events));
}

} // namespace becalm::desktop
