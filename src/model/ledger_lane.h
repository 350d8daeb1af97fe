// A ledger as it is given to others: whose it is, and a row a second of numbers with names and units.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/model/ledger.h"

namespace becalm {

struct LedgerLane {
    const Ledger* ledger = nullptr;
    int recording = 1; // its place among the survey's recordings, from 1
    std::string file = {}, sha256 = {};
    std::string space = {}, position = {}, condition = {}, start = {};
    std::string unit = {};               // of what comes out of the weighting: m/s2, m/s, ...
    std::string recorded_unit = {};      // of the channel, SI
    std::vector<TimeSpan> selected = {}; // seconds that count, whole ones
    std::string why_unfit = {};          // why nothing is judged by its channel; empty: it is fit
    // Of a ledger that lies in a folder and grows: how many rows are there, none of them in `ledger`, and whether the
    // channel has samples that are no numbers.
    std::optional<std::uint64_t> rows_kept = {};
    bool holds_no_numbers = false;
};

enum class LedgerFieldUnit { seconds, none, lane, lane_squared, lane_fourth, recorded };

struct LedgerField {
    std::string_view name;
    bool whole = false; // an integer
    LedgerFieldUnit unit = LedgerFieldUnit::none;
    std::string_view words;
};

inline constexpr std::size_t ledger_fields = 13;

// Names and meaning of the numbers of a row, in order.
const std::array<LedgerField, ledger_fields>& fields_of_ledger();

// Of a lane: "m/s2", "(m/s2)^2", "s"; empty where the number has none.
std::string unit_of(const LedgerField& field, const LedgerLane& lane);

struct LedgerNumber {
    std::int64_t whole = 0; // where the field is an integer
    double real = 0.0;      // else
};

// Of row i, in the order of the fields.
std::array<LedgerNumber, ledger_fields> ledger_numbers(const LedgerLane& lane, std::size_t i);

} // namespace becalm
