// The survey file: TOML under version control, written by the program and a person's editor alike.
//
// Reading: every fault is reported with file, line, column and key, and reading goes on after it, so that one run shows
// them all. Unknown keys are faults (a typing error must not silently drop an exclusion). Writing: changes patch the
// text at the place where the key stands; comments and layout elsewhere stay as they are.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "src/base/problem.h"
#include "src/model/survey.h"

namespace becalm::io {

// Reads and validates. References between tables (space, condition, sensor ids) are checked; recordings are not opened.
Results<Survey> read_survey(const std::string& path);

// The same from text; `path` is used in messages only.
Results<Survey> parse_survey(std::string_view text, const std::string& path);

// A complete survey file as text, with explanatory comments, from scratch.
std::string survey_as_toml(const Survey& survey);

// The lines of one entry as survey_as_toml writes them below its header, for with_entry.
std::string entry_as_toml(const Sensor& sensor);
std::string entry_as_toml(const Condition& condition);
std::string entry_as_toml(const Source& source);
std::string entry_as_toml(const Plan& plan);
std::string entry_as_toml(const Space& space);
std::string entry_as_toml(const Recording& recording);
std::string exclusions_as_toml(const Recording& recording); // exclude = [ ... ]; empty where there are none
std::string entry_as_toml(const CalibrationCheck& check);
std::string entry_as_toml(const Exposure& exposure);
std::string task_as_toml(const Task& task); // in braces, on one line
std::string entry_as_toml(const Judge& judge);

// --- changes to the text ---
// Everything else stays byte for byte as it was, in the file's own line ends. A change that the layout does not allow
// is refused with a Problem. What the keys mean is not looked at: read the text again to learn of faults (an id that
// is gone but still named, say). `array` is the name of a list of tables, such as "space"; entries count from 0.

// The text with an exclusion added to / removed from the recording whose file is `file`.
Result<std::string> with_exclusion(std::string_view text, const std::string& path, const std::string& file,
                                   const ExcludedSpan& span);
Result<std::string> without_exclusion(std::string_view text, const std::string& path, const std::string& file,
                                      std::size_t index);

// The text with one value of one table entry set (key added or replaced), e.g. ("recording", 2, "scale", "9.81").
// `value` is TOML source of the value.
Result<std::string> with_value(std::string_view text, const std::string& path, std::string_view array,
                               std::size_t index, std::string_view key, std::string_view value);

// The text without a key of one table entry; its line goes with the comment behind it.
Result<std::string> without_value(std::string_view text, const std::string& path, std::string_view array,
                                  std::size_t index, std::string_view key);

// The text with a further entry: a [[array]] table with the lines `entry_toml` below the last entry of this array, or
// at the end of the file where it is the first. A list in brackets gets it as an element on one line.
Result<std::string> with_entry(std::string_view text, const std::string& path, std::string_view array,
                               std::string_view entry_toml);

// The text without an entry. Comment lines directly above a [[array]] header go with it, unless they are a section's
// heading ("# --- ..."); so do keys directly below it that are commented out ("# key = ...").
Result<std::string> without_entry(std::string_view text, const std::string& path, std::string_view array,
                                  std::size_t index);

// --- for tables of a survey on a screen ---

// The plain values of every entry of a list of tables, as a person types them: text bare, numbers with a point, dates
// and times as ISO 8601. Lists and tables are left out. No entries where there is no such list.
using EntryTexts = std::map<std::string, std::string, std::less<>>;
Result<std::vector<EntryTexts>> entries_in(std::string_view text, const std::string& path, std::string_view array);

// One value to set. `within` leads to a table inside the entry: "channels", or "tasks" with the number of one of them.
struct ValueEdit {
    std::string array = {};
    std::size_t index = 0;
    std::string key = {};
    std::optional<std::string> value = {}; // TOML source; empty: the key goes, if it is there
    std::string within = {};
    std::optional<std::size_t> item = {};
};

// The text with all of them made, whatever stands in it between two of them. Of several for one place the last counts.
Result<std::string> with_values(std::string_view text, const std::string& path, std::span<const ValueEdit> edits);

// The text with another id for an entry, there and wherever another entry names it.
Result<std::string> with_id(std::string_view text, const std::string& path, std::string_view array, std::size_t index,
                            std::string_view id);

// The text with a further task of a day, or without one. The last task goes with its [[exposure]].
Result<std::string> with_task(std::string_view text, const std::string& path, std::size_t exposure, const Task& task);
Result<std::string> without_task(std::string_view text, const std::string& path, std::size_t exposure,
                                 std::size_t task);

// The text with a value above all tables set (key added or replaced): title, setting, client, note.
Result<std::string> with_top_value(std::string_view text, const std::string& path, std::string_view key,
                                   std::string_view value);

} // namespace becalm::io
