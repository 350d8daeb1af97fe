// Random changes to a survey's text, each held against the survey it must give.
#pragma once

#include <algorithm>
#include <array>
#include <functional>
#include <optional>
#include <rapidcheck.h>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "src/io/survey_file.h"
#include "src/io/toml_text.h"

namespace becalm::tests {

enum class Layout { tables, lists }; // [[space]], or some list = [ { ... } ]

// What two texts have not in common: `taken` out of the first stood where `put` stands in the second.
struct TextDifference {
    std::string taken;
    std::string put;
};

inline TextDifference difference(std::string_view before, std::string_view after)
{
    const auto [a, b] = std::ranges::mismatch(before, after);
    const auto same = static_cast<std::size_t>(a - before.begin());
    before.remove_prefix(same);
    after.remove_prefix(same);
    while (!before.empty() && !after.empty() && before.back() == after.back()) {
        before.remove_suffix(1);
        after.remove_suffix(1);
    }
    return {std::string(before), std::string(after)};
}

// Lines of comment alone, without indentation.
inline std::vector<std::string> comment_lines(std::string_view text)
{
    std::vector<std::string> lines;
    while (!text.empty()) {
        const std::size_t newline = std::min(text.find('\n'), text.size());
        const std::string_view line = text.substr(0, newline);
        const std::size_t first = std::min(line.find_first_not_of(" \t"), line.size());
        if (line.substr(first).starts_with('#')) lines.emplace_back(line.substr(first));
        text.remove_prefix(std::min(newline + 1, text.size()));
    }
    return lines;
}

class RandomEdit {
public:
    RandomEdit(const std::string& text, Survey survey, int serial)
        : text_(text), expected_(std::move(survey)), serial_(serial)
    {
        switch (any_below(8)) {
        case 0: add(); break;
        case 1: add(); break;
        case 2: remove(); break;
        case 3: set_of_space(); break;
        case 4: set_of_recording(); break;
        case 5: unset_of_space(); break;
        case 6: unset_of_recording(); break;
        default: break;
        }
        if (what_.empty()) set_on_top();
    }

    enum class Kind { adds, removes_entry, sets, unsets };

    const std::string& what() const { return what_; }
    Kind kind() const { return kind_; }
    const Result<std::string>& result() const { return result_; }
    const Survey& expected() const { return expected_; }

private:
    static std::string any_words()
    {
        return *rc::gen::container<std::string>(rc::gen::weightedOneOf<char>(
                   {{8, rc::gen::inRange<char>(' ', '~')}, {1, rc::gen::elementOf(std::string("\"\\\n\t#]}'"))}})) +
               (*rc::gen::arbitrary<bool>() ? "\xc3\xa9" : "");
    }
    // At its full size from the first case on, or the later kinds of change would hardly be drawn.
    template <class Count>
    static Count any_below(Count count)
    {
        return *rc::gen::resize(rc::kNominalSize, rc::gen::inRange(Count{}, count));
    }
    static PlanPlace any_place() { return {any_below(1001) / 1000.0, any_below(1001) / 1000.0}; }

    void told(Kind kind, std::string what, Result<std::string> result)
    {
        kind_ = kind;
        what_ = std::move(what);
        result_ = std::move(result);
    }

    template <class Entry>
    void add(std::string_view array, std::vector<Entry>& entries, Entry entry)
    {
        told(Kind::adds, fmt::format("add {}", array),
             io::with_entry(text_, "survey.toml", array, io::entry_as_toml(entry)));
        entries.push_back(std::move(entry));
    }

    void add()
    {
        const std::string id = fmt::format("new {}", serial_);
        switch (any_below(6)) {
        case 0:
            return add<Plan>("plan", expected_.plans,
                             {.id = id, .title = any_words(), .file = "a.pdf", .page = *rc::gen::inRange(1, 9)});
        case 1: return add<Sensor>("sensor", expected_.sensors, {.id = id, .title = any_words()});
        case 2: return add<Condition>("condition", expected_.conditions, {.id = id, .title = any_words()});
        case 3: return add<Judge>("judge", expected_.judges, {.criteria = {"a" + any_words(), "b"}, .uses = {id}});
        case 4:
            if (!expected_.spaces.empty())
                return add<Recording>("recording", expected_.recordings,
                                      {.file = id,
                                       .space = expected_.spaces[any_below(expected_.spaces.size())].id,
                                       .channels = {{1, Axis::x}, {2, Axis::z}},
                                       .comment = any_words()});
            break;
        default: break;
        }
        Space space{.id = id, .label = any_words(), .use = "office"};
        if (!expected_.plans.empty()) {
            space.plan = expected_.plans[any_below(expected_.plans.size())].id;
            space.place = any_place();
        }
        add<Space>("space", expected_.spaces, std::move(space));
    }

    template <class Entry>
    void remove(std::string_view array, std::vector<Entry>& entries, std::function<bool(const Entry&)> is_named)
    {
        std::vector<std::size_t> free;
        for (std::size_t i = 0; i < entries.size(); ++i)
            if (!is_named(entries[i])) free.push_back(i);
        if (free.empty()) return;
        const std::size_t index = free[any_below(free.size())];
        told(Kind::removes_entry, fmt::format("remove {}[{}]", array, index),
             io::without_entry(text_, "survey.toml", array, index));
        entries.erase(entries.begin() + static_cast<std::ptrdiff_t>(index));
    }

    void remove()
    {
        const auto names = [](std::string Recording::*key, std::string Task::*task_key, const Survey& survey,
                              const std::string& id) {
            const bool by_task = task_key != nullptr && std::ranges::any_of(survey.exposures, [&](const Exposure& e) {
                                     return std::ranges::find(e.tasks, id, task_key) != e.tasks.end();
                                 });
            return by_task || std::ranges::find(survey.recordings, id, key) != survey.recordings.end();
        };
        switch (any_below(6)) {
        case 0:
            return remove<Space>("space", expected_.spaces, [&](const Space& e) {
                return names(&Recording::space, &Task::space, expected_, e.id);
            });
        case 1:
            return remove<Plan>("plan", expected_.plans, [&](const Plan& e) {
                return std::ranges::find(expected_.spaces, e.id, &Space::plan) != expected_.spaces.end();
            });
        case 2:
            return remove<Sensor>("sensor", expected_.sensors,
                                  [&](const Sensor& e) { return names(&Recording::sensor, nullptr, expected_, e.id); });
        case 3:
            return remove<Condition>("condition", expected_.conditions, [&](const Condition& e) {
                return names(&Recording::condition, &Task::condition, expected_, e.id);
            });
        case 4: return remove<Recording>("recording", expected_.recordings, [](const Recording&) { return false; });
        default: return remove<Judge>("judge", expected_.judges, [](const Judge&) { return false; });
        }
    }

    void set(std::string_view array, std::size_t index, std::string_view key, const std::string& value)
    {
        told(Kind::sets, fmt::format("set {}[{}].{}", array, index, key),
             io::with_value(text_, "survey.toml", array, index, key, value));
    }
    void unset(std::string_view array, std::size_t index, std::string_view key)
    {
        told(Kind::unsets, fmt::format("unset {}[{}].{}", array, index, key),
             io::without_value(text_, "survey.toml", array, index, key));
    }

    void set_of_space()
    {
        if (expected_.spaces.empty()) return;
        const std::size_t i = any_below(expected_.spaces.size());
        Space& space = expected_.spaces[i];
        switch (any_below(4)) {
        case 0: space.group = any_words(); return set("space", i, "group", io::toml_string(space.group));
        case 1:
            if (expected_.plans.empty()) return;
            space.plan = expected_.plans[any_below(expected_.plans.size())].id;
            return set("space", i, "plan", io::toml_string(space.plan));
        case 2:
            if (space.plan.empty()) return;
            space.place = any_place();
            return set("space", i, "place", io::toml_list(std::array{space.place->x, space.place->y}));
        default: space.label = any_words(); return set("space", i, "label", io::toml_string(space.label));
        }
    }

    void set_of_recording()
    {
        if (expected_.recordings.empty()) return;
        const std::size_t i = any_below(expected_.recordings.size());
        Recording& recording = expected_.recordings[i];
        if (*rc::gen::arbitrary<bool>()) {
            recording.comment = any_words();
            return set("recording", i, "comment", io::toml_string(recording.comment));
        }
        recording.scale = *rc::gen::inRange(1, 100) / 8.0;
        set("recording", i, "scale", io::toml_number(*recording.scale));
    }

    void unset_of_space()
    {
        if (expected_.spaces.empty()) return;
        const std::size_t i = any_below(expected_.spaces.size());
        Space& space = expected_.spaces[i];
        if (space.place) {
            space.place.reset();
            return unset("space", i, "place");
        }
        for (const auto& [key, value] :
             {std::pair("plan", &Space::plan), std::pair("label", &Space::label), std::pair("group", &Space::group)}) {
            if ((space.*value).empty()) continue;
            (space.*value).clear();
            return unset("space", i, key);
        }
    }

    void unset_of_recording()
    {
        if (expected_.recordings.empty()) return;
        const std::size_t i = any_below(expected_.recordings.size());
        Recording& recording = expected_.recordings[i];
        if (recording.scale) {
            recording.scale.reset();
            return unset("recording", i, "scale");
        }
        if (!recording.comment.empty()) {
            recording.comment.clear();
            return unset("recording", i, "comment");
        }
        if (!recording.excluded.empty()) {
            recording.excluded.clear();
            return unset("recording", i, "exclude");
        }
    }

    void set_on_top()
    {
        const auto set_text = [&](std::string_view key, std::string& value) {
            value = any_words();
            told(Kind::sets, fmt::format("set {}", key),
                 io::with_top_value(text_, "survey.toml", key, io::toml_string(value)));
        };
        switch (any_below(4)) {
        case 0: return set_text("title", expected_.title);
        case 1: return set_text("client", expected_.client);
        case 2: return set_text("note", expected_.note);
        default:
            expected_.setting = *rc::gen::elementOf(all_settings);
            told(Kind::sets, "set setting",
                 io::with_top_value(text_, "survey.toml", "setting", io::toml_string(name_of(expected_.setting))));
        }
    }

    const std::string& text_;
    Survey expected_;
    int serial_ = 0;
    Kind kind_ = Kind::sets;
    std::string what_;
    Result<std::string> result_;
};

// `count` changes one after the other; each must be made, give the survey it should and leave every other byte.
inline void edit_at_random(std::string text, int count, Layout layout)
{
    const bool has_crlf = text.find("\r\n") != std::string::npos;
    for (int i = 0; i < count; ++i) {
        const auto before = io::parse_survey(text, "survey.toml");
        if (!before) RC_FAIL(to_text(before.error().front()) + "\n" + text);
        const RandomEdit edit(text, *before, i);
        if (!edit.result()) RC_FAIL(edit.what() + ": " + to_text(edit.result().error()) + "\n" + text);
        const std::string& changed = *edit.result();
        const auto after = io::parse_survey(changed, "survey.toml");
        if (!after) RC_FAIL(edit.what() + ": " + to_text(after.error().front()) + "\n" + changed);
        if (io::survey_as_toml(*after) != io::survey_as_toml(edit.expected())) RC_FAIL(edit.what() + "\n" + changed);

        const auto [taken, put] = difference(text, changed);
        const bool by_headers = layout == Layout::tables;
        const std::vector<std::string> old_comments = comment_lines(text);
        const std::vector<std::string> new_comments = comment_lines(changed);
        switch (edit.kind()) {
        case RandomEdit::Kind::adds: RC_ASSERT(!by_headers || taken.empty()); break;
        case RandomEdit::Kind::removes_entry:
            RC_ASSERT(!by_headers || put.empty());
            for (const std::string& line : old_comments)
                if (line.starts_with("# ---"))
                    RC_ASSERT(std::ranges::count(new_comments, line) == std::ranges::count(old_comments, line));
            break;
        case RandomEdit::Kind::unsets: RC_ASSERT(put.empty()); break;
        case RandomEdit::Kind::sets: break;
        }
        if (edit.kind() != RandomEdit::Kind::removes_entry) RC_ASSERT(new_comments == old_comments);
        RC_ASSERT(!has_crlf || std::ranges::count(changed, '\n') == std::ranges::count(changed, '\r'));
        text = changed;
    }
}

} // namespace becalm::tests
