#include "tests/architecture/house_rules.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <regex>

#include "tests/architecture/source_text.h"

namespace becalm::architecture {

namespace {

const std::map<std::string, std::vector<std::string>, std::less<>> may_include{
    {"src", {"src"}},
    {"filters", {"filters", "src"}},
    {"evaluators", {"evaluators", "filters", "src"}},
    {"ui", {"ui", "evaluators", "filters", "src"}},
    {"tests", {"tests", "ui", "evaluators", "filters", "src"}},
};

// What a room must not know, by the start of the include.
const std::map<std::string, std::vector<std::string>, std::less<>> must_not_know{
    {"filters",
     {"src/io/", "src/store/", "src/model/survey.h", "src/model/criterion.h", "src/model/assessment.h", "fstream",
      "filesystem", "sndfile", "toml++", "nlohmann"}},
    {"evaluators", {"sndfile", "toml++", "nlohmann"}},
};

const std::map<std::string, std::vector<std::string>, std::less<>> folders_of_room{
    {"src", {"base", "model", "io", "store"}},
    {"ui", {"cli", "demo", "example", "figures", "python", "report", "desktop"}},
    {"tests", {"src", "filters", "evaluators", "reference", "architecture", "fuzz", "bench", "faces"}},
};

bool holds(const std::vector<std::string>& list, std::string_view wanted)
{
    return std::find(list.begin(), list.end(), wanted) != list.end();
}

// <QString>, <QtWidgets/QLabel>, <QtGlobal>
bool is_qt(std::string_view target)
{
    return target.size() > 1 && target[0] == 'Q' && (target[1] == 't' || (target[1] >= 'A' && target[1] <= 'Z'));
}

bool near(double a, double b) { return std::abs(a - b) <= 1e-12 * std::max(std::abs(a), std::abs(b)); }

// |value| as mantissa x 10^n with 1 <= mantissa < 10, the upper end caught by rounding.
double mantissa_of(double value)
{
    const double mantissa = std::abs(value) / std::pow(10.0, std::floor(std::log10(std::abs(value))));
    return near(mantissa, 10.0) ? 1.0 : mantissa;
}

bool is_everyday(double value) { return value == std::floor(value) || value == 0.5 || near(mantissa_of(value), 1.0); }

bool is_preferred(double value)
{
    static constexpr std::array r10{1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0};
    return std::any_of(r10.begin(), r10.end(), [&](double number) { return near(mantissa_of(value), number); });
}

} // namespace

std::string room_of(std::string_view path)
{
    const std::string room(path.substr(0, path.find('/')));
    return path.find('/') != std::string_view::npos && may_include.contains(room) ? room : "";
}

std::vector<Violation> include_violations(const std::string& path, std::string_view source)
{
    std::vector<Violation> result;
    const std::string room = room_of(path);
    if (room.empty()) return {{path, 0, "lies in no room"}};
    for (const Include& include : includes_of(source)) {
        const auto complain = [&](const std::string& what) { result.push_back({path, include.line, what}); };
        const std::string target_room = room_of(include.target);
        if (include.quoted && target_room.empty())
            complain("\"" + include.target + "\" is not rooted at the project");
        else if (!include.quoted && !target_room.empty())
            complain("<" + include.target + "> is the project's own and belongs in quotes");
        else if (include.quoted && !holds(may_include.at(room), target_room))
            complain(room + " must not include " + target_room + " (" + include.target + ")");
        if (is_qt(include.target) && room != "ui" && !path.starts_with("tests/faces/") &&
            path != "tests/bench/desktop_bench.cpp")
            complain("Qt outside ui (" + include.target + ")");
        if (const auto forbidden = must_not_know.find(room); forbidden != must_not_know.end())
            for (const std::string& start : forbidden->second)
                if (include.target.starts_with(start)) complain(room + " must not know " + include.target);
    }
    return result;
}

std::vector<Violation> header_violations(const std::string& path, std::string_view source)
{
    std::vector<Violation> result;
    if (without_comments(source, Keep::code).find("#pragma once") == std::string::npos)
        result.push_back({path, 0, "has no #pragma once"});
    if (!source.starts_with("//")) result.push_back({path, 1, "does not open with a comment that says what it is for"});
    return result;
}

std::vector<Violation> place_violations(const std::string& path)
{
    std::vector<Violation> result;
    const std::string room = room_of(path);
    if (room.empty()) result.push_back({path, 0, "lies in no room"});
    if (const auto folders = folders_of_room.find(room); folders != folders_of_room.end()) {
        const std::string_view inside = std::string_view(path).substr(room.size() + 1);
        const auto slash = inside.find('/');
        if (slash == std::string_view::npos || !holds(folders->second, inside.substr(0, slash)))
            result.push_back({path, 0, "lies in no folder of " + room});
    }
    if (!path.ends_with(".h") && !path.ends_with(".cpp")) result.push_back({path, 0, "is named neither .h nor .cpp"});
    return result;
}

std::vector<double> limits_in_criterion(std::string_view toml)
{
    static const std::regex text_or_comment(R"("(?:\\.|[^"\\\n])*"|'[^'\n]*'|#[^\n]*)");
    static const std::regex limit(R"(\b(?:below|up_to|from|lower|upper|average)[ \t]*=[ \t]*([+-]?[0-9][0-9_.eE+-]*))");
    const std::string bare = std::regex_replace(std::string(toml), text_or_comment, "\"\"");
    std::vector<double> result;
    for (std::sregex_iterator match(bare.begin(), bare.end(), limit), end; match != end; ++match) {
        std::string digits = (*match)[1];
        std::erase(digits, '_');
        result.push_back(std::strtod(digits.c_str(), nullptr));
    }
    return result;
}

std::vector<Violation> limit_violations(const std::string& path, std::string_view source,
                                        const std::vector<double>& limits)
{
    std::vector<Violation> result;
    for (const FloatingLiteral& literal : floating_literals_of(source)) {
        if (is_everyday(literal.value)) continue;
        if (room_of(path) == "filters" && is_preferred(literal.value)) continue;
        if (line_of(source, literal.line).find("// not a limit: ") != std::string_view::npos) continue;
        const bool is_limit = std::any_of(limits.begin(), limits.end(), [&](double limit) {
            return near(literal.value, limit) || near(literal.value, limit * 1e3) || near(literal.value, limit * 1e-3);
        });
        if (is_limit) result.push_back({path, literal.line, literal.text + " is a limit of a criterion"});
    }
    return result;
}

} // namespace becalm::architecture
