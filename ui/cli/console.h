// Where a command writes, and how its outcome is told.
#pragma once

#include <cstddef>
#include <functional>
#include <initializer_list>
#include <iosfwd>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

#include "src/base/problem.h"
#include "src/model/finding.h"

namespace becalm::cli {

// Exit codes of the contract.
enum ExitCode { done = 0, exceeded = 1, bad_usage = 2, unusable = 3, program_fault = 70 };

ExitCode exit_code_of(const Problem& problem); // bad_usage for a faulty call, unusable for everything else

struct Console {
    std::ostream& out;
    std::ostream& err;
    bool progress = false; // the error stream is a terminal that may show progress
    std::stop_token stop = {};

    // "becalm: FILE:LINE: what is wrong; what to do", one problem a line, control characters made visible.
    void complain(const Problem& problem) const;
    void complain(const std::vector<Problem>& problems) const;

    // A callback for long work; empty where there is nowhere to show progress.
    std::function<void(double fraction)> progress_for(std::string what) const;
    void end_progress() const;

    void print(std::string_view text) const;
    void print(const Finding& finding) const; // indented, severity first
};

// Complains, and says what the call comes to: bad_usage where any of the problems is one, unusable otherwise.
int give_up(const Console& console, const std::vector<Problem>& problems);

// Writes what `text` makes to FILE, or to the output stream for "-". Nothing is made for an empty target.
Result<void> deliver(const Console& console, const std::string& target, const std::function<std::string()>& text);

struct Delivery {
    std::string target;
    std::function<std::string()> text;
};
// The same for what belongs together: either all files are there or the old ones stay.
Result<void> deliver(const Console& console, std::initializer_list<Delivery> deliveries);

// Tells people a report by `show`, unless its JSON takes the output, and writes the JSON where it was asked for
// (`target` as of deliver()). Returns `outcome`, or what the call comes to where there is no report or it cannot be
// delivered.
template <class Report, class Show, class AsJson>
int tell(const Console& console, const Result<Report>& report, const std::string& target, Show show, AsJson as_json,
         int outcome = done)
{
    if (!report) return give_up(console, {report.error()});
    if (target != "-") show(*report);
    if (const auto delivered = deliver(console, target, [&] { return as_json(*report); }); !delivered)
        return give_up(console, {delivered.error()});
    return outcome;
}

// Text table: columns padded to their widest cell; numbers (right = true) flush right.
class Table {
public:
    explicit Table(std::vector<std::pair<std::string, bool>> columns); // heading, right-aligned
    void add(std::vector<std::string> cells);
    std::string text(std::string_view indent) const;

private:
    std::vector<std::pair<std::string, bool>> columns_;
    std::vector<std::vector<std::string>> rows_;
};

// "1 verdict", "2 verdicts"
std::string counted(std::ptrdiff_t count, std::string_view noun);

// Four significant digits, "-" where there is no value.
std::string number(const std::optional<double>& value);

} // namespace becalm::cli
