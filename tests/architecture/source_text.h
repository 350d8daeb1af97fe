// C++ source as text, cut up just far enough to tell code from comments and strings.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace becalm::architecture {

enum class Keep { code, code_and_strings };

// The text with comments (and, for Keep::code, the inside of string and character literals) blanked out. Every other
// byte and every line break stays where it was, so that line numbers hold.
std::string without_comments(std::string_view source, Keep keep);

struct Include {
    int line = 0;
    bool quoted = false; // "..." rather than <...>
    std::string target;
};

std::vector<Include> includes_of(std::string_view source);

struct FloatingLiteral {
    int line = 0;
    double value = 0.0;
    std::string text; // as written
};

// Decimal floating-point literals of the code (1.6, .5, 7.15e-2f), not integers and not hexadecimal.
std::vector<FloatingLiteral> floating_literals_of(std::string_view source);

// Line `line` (from 1), without its line break.
std::string_view line_of(std::string_view source, int line);

} // namespace becalm::architecture
