// The known name that somebody most likely meant: for messages about unknown keys, ids and names.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace becalm {

// Least number of insertions, deletions, replacements and swaps of neighbours that turn `a` into `b`, byte by byte.
std::size_t edit_distance(std::string_view a, std::string_view b);

// The nearest of `known`, or empty where none is near enough to be a slip of the pen (more than one letter and
// more than a third of them differ). Of equally near names the first.
std::string nearest_name(std::string_view word, std::span<const std::string> known);

} // namespace becalm
