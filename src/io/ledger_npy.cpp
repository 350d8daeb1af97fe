#include "src/io/ledger_npy.h"

#include <bit>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <system_error>

#include <fmt/format.h>

#include "src/io/atomic_file.h"
#include "src/io/json_out.h"
#include "src/io/stopped.h"

namespace becalm::io {
namespace {

constexpr std::size_t block_bytes = std::size_t{1} << 18;

void append_little_endian(std::string& bytes, std::uint64_t value)
{
    for (unsigned shift = 0; shift < 64; shift += 8) bytes += static_cast<char>((value >> shift) & 0xFFU);
}

Result<void> write_lane(const LedgerLane& lane, const std::string& path, const std::stop_token& stop)
{
    auto file = AtomicFile::create(path);
    if (!file) return tl::unexpected(file.error());
    std::string pending = npy_header(fields_of_ledger(), lane.ledger->rows.size());
    for (std::size_t i = 0; i < lane.ledger->rows.size(); ++i) {
        append_npy_record(pending, fields_of_ledger(), ledger_numbers(lane, i));
        if (pending.size() < block_bytes) continue;
        if (stop.stop_requested()) return fail(stopped(path));
        if (auto written = (*file)->append(pending); !written) return written;
        pending.clear();
    }
    if (auto written = (*file)->append(pending); !written) return written;
    return (*file)->commit();
}

} // namespace

std::string npy_name_of(const LedgerLane& lane)
{
    return fmt::format("{:04}-ch{}-{}-{}.npy", lane.recording, lane.ledger->lane.channel,
                       name_of(lane.ledger->lane.axis), name_of(lane.ledger->lane.weighting));
}

std::string sums_name_of(const LedgerLane& lane, int seconds)
{
    const std::string name = npy_name_of(lane);
    return fmt::format("{}-sums-{}.npy", name.substr(0, name.size() - 4), seconds);
}

void append_npy_record(std::string& bytes, std::span<const LedgerField> fields, std::span<const LedgerNumber> numbers)
{
    for (std::size_t j = 0; j < fields.size(); ++j)
        append_little_endian(bytes, fields[j].whole ? static_cast<std::uint64_t>(numbers[j].whole)
                                                    : std::bit_cast<std::uint64_t>(numbers[j].real));
}

std::string npy_header(std::span<const LedgerField> fields, std::uint64_t rows, std::size_t least_bytes)
{
    constexpr std::size_t head = 10, alignment = 64; // magic, version, length of what follows
    std::string words = "{'descr': [";
    for (const LedgerField& field : fields)
        words += fmt::format("('{}', '{}'), ", field.name, field.whole ? "<i8" : "<f8");
    words.resize(words.size() - 2);
    words += fmt::format("], 'fortran_order': False, 'shape': ({},), }}", rows);
    if (head + words.size() + 1 < least_bytes) words.append(least_bytes - head - words.size() - 1, ' ');
    const std::size_t unpadded = head + words.size() + 1;
    words.append((alignment - unpadded % alignment) % alignment, ' ');
    words += '\n';
    std::string header("\x93NUMPY\x01\x00", 8);
    header += static_cast<char>(words.size() & 0xFFU);
    header += static_cast<char>(words.size() >> 8U);
    return header + words;
}

Result<void> write_npy_folder(const LedgerIndex& index, const std::string& folder, const std::stop_token& stop)
{
    const std::filesystem::path place(folder);
    std::error_code error; // of making the folder it shows when the first file is written
    std::filesystem::create_directories(place, error);
    const std::filesystem::path index_path = place / "index.json";
    if (std::filesystem::is_regular_file(index_path, error) && !std::filesystem::remove(index_path, error))
        return fail({.kind = ProblemKind::outside_world,
                     .file = index_path.string(),
                     .what = "cannot be replaced: " + error.message(),
                     .remedy = "check the rights of the folder"});
    for (const LedgerLane& lane : index.lanes)
        if (auto written = write_lane(lane, (place / npy_name_of(lane)).string(), stop); !written) return written;
    return write_file_atomically(index_path.string(), as_json(index));
}

} // namespace becalm::io
