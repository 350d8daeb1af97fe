// Typed access to the fields of a TOML table, for the readers of surveys and criteria alike.
//
// Every fault is noted with file, line, column and dotted key, and reading goes on with a neutral value; whoever reads
// looks at the list of faults once, at the end. Entries of arrays count from 0 in a dotted key, as TOML paths do:
// recording[2].scale.
#pragma once

#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <toml++/toml.h>

#include "src/base/problem.h"

namespace becalm::io {

// The document as a tree; a Problem with line and column where it is not TOML 1.0 (or holds control characters).
Result<toml::table> parse_toml(std::string_view text, const std::string& path);

class TomlFaults {
public:
    explicit TomlFaults(std::string file) : file_(std::move(file)) {}

    void add(const toml::source_region& where, std::string key, std::string what, std::string remedy);
    bool empty() const { return count_ == 0; }
    std::size_t count() const { return count_; }

    // In the order of the file's lines. Of very many the first that were noticed, and one that says how many more.
    std::vector<Problem> sorted() const;

private:
    std::string file_;
    std::vector<Problem> problems_;
    std::size_t count_ = 0;
};

// What a number must be; `words` completes "must be ...".
struct NumberRule {
    double least = -std::numeric_limits<double>::infinity();
    bool least_allowed = true;
    double most = std::numeric_limits<double>::infinity();
    bool most_allowed = true;
    std::string_view words;
};

inline constexpr NumberRule any_number{};
inline constexpr NumberRule above_zero{.least = 0.0, .least_allowed = false, .words = "above 0"};
inline constexpr NumberRule not_negative{.least = 0.0, .words = "0 or more"};

// A field that was found: its value with the place it stands at, for faults noticed later.
template <class T>
struct Placed {
    T value;
    toml::source_region where;
    std::string key; // dotted
};

class TomlFields {
public:
    // Notes every key of `table` that is not in `known` (nor in `more`) as a fault. `place` is the dotted key of the
    // table, empty for the document. `table` and `faults` must outlive the fields.
    TomlFields(const toml::table& table, std::string place, std::span<const std::string_view> known, TomlFaults& faults,
               std::span<const std::string_view> more = {});

    bool has(std::string_view key) const { return table_->contains(key); }
    const toml::node* find(std::string_view key) const { return table_->get(key); }
    int line() const { return static_cast<int>(table_->source().begin.line); }
    const std::string& place() const { return place_; }
    std::string dotted(std::string_view key) const;

    // --- one value; empty where the key is missing or faulty ---
    std::optional<Placed<std::string>> text(std::string_view key);
    std::optional<Placed<std::string>> text_not_empty(std::string_view key);
    std::optional<double> number(std::string_view key, const NumberRule& rule = any_number);
    std::optional<bool> boolean(std::string_view key);
    // A TOML date, or a string that is one: "2026-03-01".
    std::string date(std::string_view key);
    // A TOML date-time with offset, or a string that is one: "2026-05-02T10:12:00+01:00".
    std::string moment(std::string_view key);
    // One of `names`.
    std::optional<Placed<std::string>> one_of(std::string_view key, std::span<const std::string> names);

    // --- lists ---
    std::vector<Placed<std::string>> texts(std::string_view key); // each not empty
    std::vector<Placed<std::string>> some_of(std::string_view key, std::span<const std::string> names); // no name twice
    // The tables of an array, each with the fields it knows.
    std::vector<TomlFields> tables(std::string_view key, std::span<const std::string_view> known,
                                   std::span<const std::string_view> more = {});

    // --- faults ---
    // Notes a missing key, unless it is there (and then faulty, and noted already). `example` is TOML source of a
    // value.
    void require(std::string_view key, std::string_view example);
    void fault(std::string_view key, std::string what,
               std::string remedy); // at the key's value, or the table where it is missing
    TomlFaults& faults() { return *faults_; }

private:
    void wrong_type(const toml::node& node, const std::string& key, std::string_view needed);
    std::optional<Placed<std::string>> text_of(const toml::node& node, const std::string& key, bool may_be_empty);
    bool is_one_of(const Placed<std::string>& field, std::span<const std::string> names);

    const toml::table* table_;
    std::string place_;
    TomlFaults* faults_;
};

// "did you mean ...?", else "known here: ...".
std::string suggestion(std::string_view word, std::span<const std::string> known);

std::vector<std::string> as_strings(std::span<const std::string_view> names);

} // namespace becalm::io
