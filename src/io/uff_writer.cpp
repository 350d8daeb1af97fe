#include "src/io/uff_writer.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <limits>

#include <fmt/format.h>

#include "src/io/stated_text.h"

namespace becalm::io {
namespace {

Problem bad_call(const std::string& path, std::string what, std::string remedy)
{
    return {.kind = ProblemKind::usage, .file = path, .what = std::move(what), .remedy = std::move(remedy)};
}

// An identification line must not be blank, and has 80 columns. Letters beyond ASCII are kept whole.
std::string id_line(std::string_view words)
{
    std::string line = stated_text(words);
    if (line.size() > 80) {
        std::size_t end = 80;
        while (end > 0 && (static_cast<unsigned char>(line[end]) & 0xC0U) == 0x80U) --end;
        line.resize(end);
    }
    return (line.empty() ? "NONE" : line) + "\n";
}

// "2031-05-17T06:30:05.25Z" as "17-MAY-31 06:30:05"; nothing of any other form.
std::string date_line(std::string_view start)
{
    constexpr std::array<std::string_view, 12> months{"JAN", "FEB", "MAR", "APR", "MAY", "JUN",
                                                      "JUL", "AUG", "SEP", "OCT", "NOV", "DEC"};
    constexpr std::string_view form = "0000-00-00T00:00:00";
    if (start.size() < form.size()) return id_line({});
    for (std::size_t i = 0; i < form.size(); ++i)
        if (form[i] == '0' ? start[i] < '0' || start[i] > '9' : start[i] != form[i] && !(i == 10 && start[i] == ' '))
            return id_line({});
    const int month = (start[5] - '0') * 10 + start[6] - '0';
    const std::string_view century = start.substr(0, 2);
    const bool told_by_two_digits = (century == "20" && start[2] < '7') || (century == "19" && start[2] >= '7');
    if (month < 1 || month > 12 || !told_by_two_digits) return id_line({});
    return id_line(fmt::format("{}-{}-{} {}", start.substr(8, 2), months[static_cast<std::size_t>(month) - 1],
                               start.substr(2, 2), start.substr(11, 8)));
}

int direction_of(std::string_view axis)
{
    constexpr std::array<std::string_view, 7> axes{"", "x", "y", "z", "rx", "ry", "rz"};
    const auto found = std::ranges::find(axes, axis);
    return found == axes.end() ? 0 : static_cast<int>(found - axes.begin());
}

// Thirteen columns, one of them free.
std::string real(double value) { return fmt::format("{:13.5E}", value); }
std::string interval_of(double rate_hz) { return fmt::format("{:13.6E}", 1.0 / rate_hz); }

} // namespace

double rate_kept_by_uff(double rate_hz)
{
    const double kept = 1.0 / std::strtod(interval_of(rate_hz).c_str(), nullptr);
    return interval_of(std::round(kept)) == interval_of(rate_hz) ? std::round(kept) : kept;
}

UffWriter::UffWriter(std::string path, UffLayout layout, std::unique_ptr<AtomicFile> file)
    : path_(std::move(path)), layout_(std::move(layout)), file_(std::move(file))
{
}

Result<UffWriter> UffWriter::create(const std::string& path, UffLayout layout)
{
    if (!(layout.rate_hz > 0.0) || !std::isfinite(layout.rate_hz) || layout.channels.empty())
        return fail(bad_call(path, "a universal file needs a rate and a channel", "give both"));
    if (layout.frames < 1 || layout.frames > std::numeric_limits<std::int32_t>::max())
        return fail(bad_call(path, fmt::format("{} samples a channel cannot be written", layout.frames),
                             "choose a span of 1 to 2,147,483,647 samples"));
    std::error_code error;
    if (std::filesystem::exists(std::filesystem::symlink_status(path, error)))
        return fail(bad_call(path, "it exists already", "choose another name or move the old one away"));
    auto file = AtomicFile::create(path, IfItExists::refuse);
    if (!file) return fail(file.error());
    UffWriter writer(path, std::move(layout), std::move(*file));
    writer.append(fmt::format("    -1\n   164\n{:10}{:20}{:10}\n{:25.17E}{:25.17E}{:25.17E}\n{:25.17E}\n    -1\n", 1,
                              "SI: metre, newton", 2, 1.0, 1.0, 1.0, 273.15));
    return writer;
}

void UffWriter::append(std::string_view bytes)
{
    if (state_) state_ = file_->append(bytes);
}

void UffWriter::begin_channel()
{
    const UffChannel& channel = layout_.channels[channel_];
    constexpr int little_endian = 1, ieee = 2, lines = 11, time_response = 1, real_double = 4, even = 1;
    std::string head = fmt::format("    -1\n    58b{:6}{:6}{:12}{:12}{:6}{:6}{:12}{:12}\n", little_endian, ieee, lines,
                                   8 * layout_.frames, 0, 0, 0, 0);
    head += id_line(channel.name) + id_line(layout_.title) + date_line(layout_.start) + id_line({}) + id_line({});
    head += fmt::format("{:5}{:10}{:5}{:10} {:10}{:10}{:4} {:10}{:10}{:4}\n", time_response, channel_ + 1, 0, 0, "NONE",
                        channel.node, direction_of(channel.axis), "NONE", 0, 0);
    head += fmt::format("{:10}{:10}{:10}{}{}{}\n", real_double, layout_.frames, even, real(layout_.from_s),
                        interval_of(layout_.rate_hz), real(0.0));
    const auto axis = [&](int type, std::string_view words, std::string_view unit) {
        head += fmt::format("{:10}{:5}{:5}{:5} {:20} {:20}\n", type, 0, 0, 0, words, unit);
    };
    constexpr int time = 17, displacement = 8, velocity = 11, acceleration = 12;
    axis(time, "Time", "s");
    axis(channel.motion == Motion::acceleration ? acceleration
         : channel.motion == Motion::velocity   ? velocity
                                                : displacement,
         name_of(channel.motion), si_unit_of(channel.motion, channel.rotates));
    axis(0, "NONE", "NONE");
    axis(0, "NONE", "NONE");
    append(head);
}

void UffWriter::add(std::span<const double> values)
{
    while (!values.empty() && state_) {
        if (channel_ == layout_.channels.size()) {
            state_ = fail(bad_call(path_, "there are more values than were promised", "promise as many"));
            return;
        }
        if (written_ == 0) begin_channel();
        const auto left = static_cast<std::size_t>(layout_.frames - written_);
        const auto now = values.first(std::min(left, values.size()));
        if constexpr (std::endian::native == std::endian::little) {
            append({reinterpret_cast<const char*>(now.data()), now.size_bytes()});
        } else {
            std::string bytes;
            for (const double value : now) {
                auto raw = std::bit_cast<std::array<char, sizeof value>>(value);
                bytes.append(raw.rbegin(), raw.rend());
            }
            append(bytes);
        }
        written_ += static_cast<std::int64_t>(now.size());
        values = values.subspan(now.size());
        if (written_ == layout_.frames) {
            append("\n    -1\n");
            written_ = 0;
            ++channel_;
        }
    }
}

Result<void> UffWriter::finish()
{
    if (!state_) return state_;
    if (channel_ < layout_.channels.size())
        return fail(bad_call(path_, "there are fewer values than were promised", "promise as many"));
    return file_->commit();
}

} // namespace becalm::io
