// The rules of the house that text can break, each as a function from text to what breaks it.
//
// Rooms and directions: ui -> evaluators -> filters -> src; a room includes itself and what lies to its right. Includes
// are rooted at the project ("src/io/..."). Qt lives in ui only. filters know no files, surveys or criteria; evaluators
// no file formats.
//
// Limits: a number that a criterion compares with (below, up_to, from, lower, upper, average in data/criteria/*.toml)
// must not stand in code, or a verdict could rest on something no criterion file shows. Numbers are compared by value,
// also a thousand times greater or smaller (mm/s2 for m/s2). What is no evidence of a limit is passed over:
//   - whole numbers, powers of ten and 0.5, which stand for counts, units and halves everywhere;
//   - in filters, the preferred numbers of ISO 3 (R10: 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8), since limits are
//   chosen from
//     the same series as the third-octave frequencies and the corner frequencies and quality factors of the weightings;
//   - ui/demo, whose invented motions are as strong as it takes to fall into every band;
//   - a line with the comment "not a limit: " and what the number is instead.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace becalm::architecture {

struct Violation {
    std::string file;
    int line = 0; // 0: the file as a whole
    std::string what;
};

// All `path`s are relative to the project, with '/'.

// "src", "filters", "evaluators", "ui", "tests", or "" for a path in none of them.
std::string room_of(std::string_view path);

std::vector<Violation> include_violations(const std::string& path, std::string_view source);

// A header has #pragma once and opens with a comment that says what it is for.
std::vector<Violation> header_violations(const std::string& path, std::string_view source);

// A source lies in a room and, where the room has several, in one of its folders; it is named .h or .cpp.
std::vector<Violation> place_violations(const std::string& path);

// Values of the keys below, up_to, from, lower, upper and average in a criterion file.
std::vector<double> limits_in_criterion(std::string_view toml);

std::vector<Violation> limit_violations(const std::string& path, std::string_view source,
                                        const std::vector<double>& limits);

} // namespace becalm::architecture
