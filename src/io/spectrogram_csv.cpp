#include "src/io/spectrogram_csv.h"

#include <algorithm>
#include <fstream>
#include <iterator>

#include <fmt/format.h>

namespace becalm::io {
namespace {

constexpr std::size_t block_bytes = std::size_t{1} << 16;

std::string name_of_lane(const auto& lane) { return fmt::format("{},{},{}", lane.channel, lane.axis, lane.weighting); }

} // namespace

Result<SpectrogramCsv> SpectrogramCsv::create(const std::string& path)
{
    auto file = AtomicFile::create(path);
    if (!file) return tl::unexpected(file.error());
    return SpectrogramCsv(path, std::move(*file));
}

void SpectrogramCsv::add(const SpectrogramRow& row)
{
    const auto out = std::back_inserter(pending_);
    if (!has_head_) {
        pending_ += "time_s,channel,axis,weighting,unit";
        for (const double hz : row.hz) fmt::format_to(out, ",{:.6g}", hz);
        pending_ += '\n';
        has_head_ = true;
    }
    const std::string lane = name_of_lane(row);
    if (std::ranges::find(lanes_, lane) == lanes_.end()) lanes_.push_back(lane);
    fmt::format_to(out, "{:.10g},{},{}", row.from_s, lane, row.unit);
    for (const double value : row.values) fmt::format_to(out, ",{:.6g}", value);
    pending_ += '\n';
    if (pending_.size() >= block_bytes) flush();
}

void SpectrogramCsv::flush()
{
    if (state_) state_ = file_->append(pending_);
    pending_.clear();
}

Result<void> SpectrogramCsv::finish(const std::vector<SpectrumLane>& lanes)
{
    flush();
    if (!state_) return state_;
    std::vector<std::string> dropped = lanes_;
    for (const SpectrumLane& lane : lanes) std::erase(dropped, name_of_lane(lane));
    if (dropped.empty()) return file_->commit();

    auto kept = AtomicFile::create(path_);
    if (!kept) return tl::unexpected(kept.error());
    std::ifstream in(file_->temporary_path(), std::ios::binary);
    std::string block, line;
    while (std::getline(in, line)) {
        const std::string_view after_time = std::string_view(line).substr(line.find(',') + 1);
        if (std::ranges::any_of(dropped, [&](const std::string& lane) { return after_time.starts_with(lane + ","); }))
            continue;
        block += line + '\n';
        if (block.size() < block_bytes) continue;
        if (auto written = (*kept)->append(block); !written) return written;
        block.clear();
    }
    if (auto written = (*kept)->append(block); !written) return written;
    return (*kept)->commit();
}

} // namespace becalm::io
