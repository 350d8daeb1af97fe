// A survey's text: read, and edited as the desktop edits it. An edit that is made must leave a text that can be read as
// TOML whenever the text before it could.
#include <cstdlib>
#include <string>
#include <string_view>

#include "src/io/survey_file.h"

namespace {

using namespace becalm;

void demand_readable(const Result<std::string>& edited, bool was_readable)
{
    if (!edited) {
        if (edited.error().what.empty()) std::abort();
        return;
    }
    if (was_readable && !io::entries_in(*edited, "survey.toml", "space")) std::abort();
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    const std::string path = "survey.toml";
    const auto survey = io::parse_survey(text, path);
    const bool readable = io::entries_in(text, path, "space").has_value();
    if (survey && !readable) std::abort();
    if (survey && !io::parse_survey(io::survey_as_toml(*survey), path)) std::abort(); // what is written can be read

    demand_readable(io::with_exclusion(text, path, "a.wav", {1.0, 2.0, "a door"}), readable);
    demand_readable(io::without_exclusion(text, path, "a.wav", 0), readable);
    demand_readable(io::with_value(text, path, "recording", 0, "scale", "9.81"), readable);
    demand_readable(io::without_value(text, path, "recording", 0, "condition"), readable);
    demand_readable(io::with_entry(text, path, "space", io::entry_as_toml(Space{.id = "new", .use = "office"})),
                    readable);
    demand_readable(io::without_entry(text, path, "space", 0), readable);
    demand_readable(io::with_id(text, path, "space", 0, "other"), readable);
    demand_readable(io::with_top_value(text, path, "title", "\"t\""), readable);
    demand_readable(io::with_task(text, path, 0, Task{.space = "new", .hours = 1.0}), readable);
    demand_readable(io::without_task(text, path, 0, 0), readable);
    return 0;
}
