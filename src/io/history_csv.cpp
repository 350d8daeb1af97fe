#include "src/io/history_csv.h"

#include <iterator>

#include <fmt/format.h>

#include "src/io/csv_field.h"

namespace becalm::io {
namespace {

constexpr std::size_t block_bytes = std::size_t{1} << 16;

} // namespace

Result<HistoryCsv> HistoryCsv::create(const std::string& path)
{
    auto file = AtomicFile::create(path);
    if (!file) return tl::unexpected(file.error());
    return HistoryCsv(std::move(*file));
}

void HistoryCsv::add(const HistoryReport& about, const HistoryRows& rows)
{
    if (!has_head_) {
        pending_ += "time_s";
        for (const HistoryOfChannel& one : about.channels)
            for (const HistoryQuantity& quantity : one.quantities) {
                std::string name = fmt::format("channel {}", one.channel.channel);
                if (one.channel.name) name += " " + *one.channel.name;
                if (one.channel.axis) name += " " + *one.channel.axis;
                pending_ += "," + csv_field(fmt::format("{} {} {}", name, quantity.motion, quantity.unit));
            }
        pending_ += '\n';
        has_head_ = true;
    }
    const auto out = std::back_inserter(pending_);
    for (std::size_t i = 0; i < rows.series[0].size(); ++i) {
        fmt::format_to(out, "{:.12g}", rows.from_s + static_cast<double>(i) / rows.rate_hz);
        for (const auto& series : rows.series) fmt::format_to(out, ",{:.9g}", series[i]);
        pending_ += '\n';
        if (pending_.size() >= block_bytes) flush();
    }
}

void HistoryCsv::flush()
{
    if (state_) state_ = file_->append(pending_);
    pending_.clear();
}

Result<std::unique_ptr<AtomicFile>> HistoryCsv::release()
{
    flush();
    if (!state_) return tl::unexpected(state_.error());
    return std::move(file_);
}

Result<void> HistoryCsv::finish()
{
    const auto file = release();
    return file ? (*file)->commit() : tl::unexpected(file.error());
}

} // namespace becalm::io
