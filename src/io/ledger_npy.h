// Ledgers as arrays that NumPy maps: a file in the published NPY format, version 1.0 [numpy.lib.format], for each lane,
// one record a second, little-endian 8-byte integers and doubles, every bit as it was computed. What the files are of
// stands in index.json (data/schema/ledger-1.schema.json).
//
//   index = json.load(open("index.json")); rows = numpy.load(index["lanes"][0]["file"], mmap_mode="r"); rows["rms"]
//
// Memory does not grow with the rows.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <stop_token>
#include <string>
#include <utility>
#include <vector>

#include "src/base/problem.h"
#include "src/model/finding.h"
#include "src/model/ledger_lane.h"

namespace becalm::io {

struct LedgerIndex {
    std::string title = {}, survey = {}, sha256 = {}; // survey: name of its file
    std::vector<LedgerLane> lanes = {};
    std::vector<int> sums_of_s = {}; // seconds that each record of further files sums up (src/io/ledger_folder.h)
    std::vector<std::pair<std::string, std::string>> unreadable = {}; // recording, why
    // Of a stream that has ended: what was noticed, refusals with the whole seconds that they lie in.
    std::optional<std::vector<Finding>> findings = {};
};

// "0001-ch1-z-Wk.npy": recording, channel, axis, weighting.
std::string npy_name_of(const LedgerLane& lane);
// "0001-ch1-z-Wk-sums-3600.npy"
std::string sums_name_of(const LedgerLane& lane, int seconds);

// The file's head for so many rows: magic, version, the dtype of the fields, padded to 64 bytes, and to `least_bytes`
// where more rows are still to come.
std::string npy_header(std::span<const LedgerField> fields, std::uint64_t rows, std::size_t least_bytes = 0);

// The numbers of a record in the order of its fields, appended to `bytes`.
void append_npy_record(std::string& bytes, std::span<const LedgerField> fields, std::span<const LedgerNumber> numbers);

// All of it lies inside the folder, which is made where it is not there; other files in it are left alone, so what does
// not stand in the index is none of this survey's. The index goes first and comes last: where it is, all is there.
Result<void> write_npy_folder(const LedgerIndex& index, const std::string& folder, const std::stop_token& stop = {});

} // namespace becalm::io
