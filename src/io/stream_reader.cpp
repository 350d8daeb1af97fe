#include "src/io/stream_reader.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cmath>
#include <cstring>
#include <fcntl.h>
#include <poll.h>
#include <unistd.h>

#include <fmt/format.h>

#include "src/io/raw_bytes.h"

namespace becalm::io {
namespace {

constexpr std::size_t read_bytes_at_once = std::size_t{1} << 18;
constexpr int pipe_bytes = 1 << 20; // asked for; whoever writes then waits less often
constexpr int wait_ms = 200;        // between two looks at the stop
constexpr std::uint64_t least_unknown_size = 0x7FFFF000U;
constexpr int greatest_channels = 256;
constexpr double greatest_rate_hz = 10e6;         // memory grows with it
constexpr std::uint64_t largest_chunk = 16 << 20; // before the samples

Problem unusable(const std::string& name, std::string what, std::string remedy)
{
    return {.kind = ProblemKind::outside_world, .file = name, .what = std::move(what), .remedy = std::move(remedy)};
}

// Up to so many bytes as soon as there are any; 0 at the end, or where it is stopped.
Result<std::size_t> some_bytes(const FileHandle& pipe, const std::string& name, std::span<char> bytes,
                               const std::stop_token& stop)
{
    for (;;) {
        if (stop.stop_requested()) return std::size_t{0};
        if (stop.stop_possible()) {
            pollfd waits{.fd = pipe.get(), .events = POLLIN, .revents = 0};
            const int ready = ::poll(&waits, 1, wait_ms);
            if (ready == 0 || (ready < 0 && errno == EINTR)) continue;
        }
        const ssize_t got = ::read(pipe.get(), bytes.data(), bytes.size());
        if (got >= 0) return static_cast<std::size_t>(got);
        if (errno == EISDIR) return fail(unusable(name, "this is a folder", "send the samples through a pipe"));
        if (errno != EINTR && errno != EAGAIN) return fail(system_problem(name, FileAttempt::read, errno));
    }
}

// The head of a WAV file as it comes by.
class WaveHead {
public:
    WaveHead(const FileHandle& pipe, std::string name, const std::stop_token& stop)
        : pipe_(pipe), name_(std::move(name)), stop_(stop)
    {
    }

    struct Found {
        StreamLayout layout = {};
        std::int64_t frames = frames_not_known;
    };

    Result<Found> read()
    {
        std::array<char, 12> riff{};
        if (auto taken = take(riff); !taken) return fail(taken.error());
        const std::string_view kind(riff.data(), 4);
        if ((kind != "RIFF" && kind != "RF64") || std::string_view(riff.data() + 8, 4) != "WAVE")
            return fail(
                unusable(name_, "what comes in is no WAV file",
                         "describe raw numbers in a file NAME.recording.toml with files = [\"-\"] and name that"));
        std::optional<std::uint64_t> size_of_rf64_data;
        std::optional<StreamLayout> layout;
        for (;;) {
            std::array<char, 8> head{};
            if (auto taken = take(head); !taken) return fail(taken.error());
            const std::string_view chunk(head.data(), 4);
            const std::uint64_t size = number_at<std::uint32_t>(head.data() + 4, ByteOrder::little);
            if (chunk == "data") {
                if (!layout) return fail(damaged("the samples come before their description"));
                const auto frame = static_cast<std::uint64_t>(width_of(layout->numbers)) *
                                   static_cast<std::uint64_t>(layout->info.channels);
                std::uint64_t bytes = size;
                if (kind == "RF64" && size == 0xFFFFFFFFU) bytes = size_of_rf64_data.value_or(0);
                const bool known =
                    bytes != 0 && (bytes < least_unknown_size || (kind == "RF64" && bytes < (std::uint64_t{1} << 55)));
                return Found{std::move(*layout), known ? static_cast<std::int64_t>(bytes / frame) : frames_not_known};
            }
            if (size > largest_chunk)
                return fail(damaged(fmt::format("a chunk of {} bytes stands before the samples", size)));
            std::vector<char> body(size + size % 2);
            if (auto taken = take(body); !taken) return fail(taken.error());
            if (chunk == "ds64" && size >= 16)
                size_of_rf64_data = number_at<std::uint64_t>(body.data() + 8, ByteOrder::little);
            if (chunk != "fmt ") continue;
            if (size < 16) return fail(damaged("its description is too short"));
            auto described = layout_in(body);
            if (!described) return fail(described.error());
            layout = std::move(*described);
        }
    }

private:
    Result<StreamLayout> layout_in(const std::vector<char>& body) const
    {
        const auto at = [&](std::size_t place) {
            return number_at<std::uint16_t>(body.data() + place, ByteOrder::little);
        };
        std::uint16_t code = at(0);
        if (code == 0xFFFE && body.size() >= 26) code = at(24); // extensible
        const int bits = at(14);
        StreamLayout layout;
        layout.info.channels = at(2);
        layout.info.rate_hz = number_at<std::uint32_t>(body.data() + 4, ByteOrder::little);
        const bool integers = code == 1, floats = code == 3;
        if (integers && (bits == 16 || bits == 24 || bits == 32)) {
            layout.numbers = bits == 16 ? RawNumbers::int16 : bits == 24 ? RawNumbers::int24 : RawNumbers::int32;
            layout.factor = layout.info.step = std::ldexp(1.0, 1 - bits);
            layout.info.integer_pcm = true;
            layout.info.format = fmt::format("WAV, {}-bit integer, streamed", bits);
        } else if (floats && (bits == 32 || bits == 64)) {
            layout.numbers = bits == 32 ? RawNumbers::float32 : RawNumbers::float64;
            layout.info.format = fmt::format("WAV, {}-bit float, streamed", bits);
        } else {
            return fail(unusable(name_, fmt::format("WAV of kind {} with {} bits is not read from a pipe", code, bits),
                                 "send integers of 16, 24 or 32 bits, or floats of 32 or 64"));
        }
        if (layout.info.channels < 1 || layout.info.channels > greatest_channels || !(layout.info.rate_hz > 0.0) ||
            layout.info.rate_hz > greatest_rate_hz)
            return fail(
                damaged(fmt::format("it states {} channels at {} Hz", layout.info.channels, layout.info.rate_hz)));
        return layout;
    }

    Problem damaged(std::string what) const
    {
        return unusable(name_, "the header of the WAV file is damaged: " + std::move(what),
                        "send it from its beginning");
    }

    Result<void> take(std::span<char> bytes)
    {
        for (std::size_t filled = 0; filled < bytes.size();) {
            const auto got = some_bytes(pipe_, name_, bytes.subspan(filled), stop_);
            if (!got) return fail(got.error());
            if (*got == 0) return fail(damaged("it ends before the samples"));
            filled += *got;
        }
        return {};
    }

    const FileHandle& pipe_;
    std::string name_;
    const std::stop_token& stop_;
};

} // namespace

StreamReader::StreamReader(std::string name, FileHandle pipe, StreamLayout layout, std::int64_t frames,
                           std::stop_token stop)
    : name_(std::move(name)), pipe_(std::move(pipe)), layout_(std::move(layout)), info_(layout_.info),
      promised_(frames), stop_(std::move(stop)),
      frame_(width_of(layout_.numbers) * static_cast<std::size_t>(layout_.info.channels))
{
    info_.frames = promised_ == 0 ? 0 : frames_not_known;
    info_.seekable = false;
}

void StreamReader::keep(std::int64_t frames) { keep_ = std::max(keep_, frames); }

void StreamReader::end()
{
    if (ended_) return;
    ended_ = true;
    const std::size_t odd = (bytes_.size() - begin_) % frame_;
    if (odd > 0) {
        info_.remarks.push_back(fmt::format("the stream ended within a frame: its last {} bytes are left out", odd));
        bytes_.resize(bytes_.size() - odd);
    }
    info_.frames = have_end();
    if (promised_ != frames_not_known && info_.frames < promised_)
        info_.remarks.push_back(
            fmt::format("the stream ended at frame {} where its header promised {}", info_.frames, promised_));
}

// Until frame `until` is there, or the end.
Result<void> StreamReader::fetch(std::int64_t until)
{
    while (!ended_ && have_end() < until) {
        if (have_end() >= promised_) {
            end();
            break;
        }
        // What nobody can ask for goes when it is the greater part.
        const std::int64_t oldest = std::max(first_, next_ - keep_);
        const auto unused = begin_ + static_cast<std::size_t>(oldest - first_) * frame_;
        begin_ = unused;
        first_ = oldest;
        if (begin_ >= std::max(read_bytes_at_once, bytes_.size() / 2)) {
            bytes_.erase(bytes_.begin(), bytes_.begin() + static_cast<std::ptrdiff_t>(begin_));
            begin_ = 0;
        }
        const std::size_t held = bytes_.size();
        std::size_t room = read_bytes_at_once;
        if (promised_ != frames_not_known) {
            const auto whole = static_cast<std::size_t>(promised_ - first_) * frame_; // from begin_ on
            room = std::min(room, whole - (held - begin_));
        }
        bytes_.resize(held + room);
        const auto got = some_bytes(pipe_, name_, std::span(bytes_).subspan(held), stop_);
        bytes_.resize(held + got.value_or(0));
        if (!got) return fail(got.error());
        if (*got == 0) end();
    }
    return {};
}

Result<std::size_t> StreamReader::read(std::span<double> values)
{
    const auto channels = static_cast<std::size_t>(info_.channels);
    const auto wanted = static_cast<std::int64_t>(values.size() / channels);
    if (auto fetched = fetch(next_ + wanted); !fetched) return fail(fetched.error());
    const auto count = static_cast<std::size_t>(std::clamp<std::int64_t>(have_end() - next_, 0, wanted));
    const char* const from = bytes_.data() + begin_ + static_cast<std::size_t>(next_ - first_) * frame_;
    numbers_from(from, layout_.numbers, layout_.big_endian, count * channels, values.data(), 1);
    if (layout_.factor != 1.0)
        for (double& value : values.first(count * channels)) value *= layout_.factor;
    next_ += static_cast<std::int64_t>(count);
    return count;
}

Result<void> StreamReader::seek(std::int64_t frame)
{
    if (frame < first_ || frame > have_end())
        return fail(unusable(name_, fmt::format("frame {} of the stream is not kept", frame + 1), ""));
    next_ = frame;
    return {};
}

Result<std::unique_ptr<StreamReader>> open_stream(const std::string& source, FileHandle pipe, std::stop_token stop)
{
    static_cast<void>(::fcntl(pipe.get(), F_SETPIPE_SZ, pipe_bytes)); // a wish: another kind of file refuses it
    if (source == "-") {
        auto found = WaveHead(pipe, "standard input", stop).read();
        if (!found) return fail(found.error());
        return std::make_unique<StreamReader>("standard input", std::move(pipe), std::move(found->layout),
                                              found->frames, std::move(stop));
    }
    auto layout = stream_described(source);
    if (!layout) return fail(layout.error());
    std::vector<char> header(static_cast<std::size_t>(std::min<std::int64_t>(layout->header_bytes, 1 << 16)));
    for (std::int64_t left = layout->header_bytes; left > 0;) {
        const auto most = static_cast<std::size_t>(std::min<std::int64_t>(left, std::ssize(header)));
        const auto got = some_bytes(pipe, source, std::span(header).first(most), stop);
        if (!got) return fail(got.error());
        if (*got == 0)
            return fail(unusable(source, fmt::format("the stream ended {} bytes before its header did", left),
                                 "correct header_bytes"));
        left -= static_cast<std::int64_t>(*got);
    }
    return std::make_unique<StreamReader>(source, std::move(pipe), std::move(*layout), frames_not_known,
                                          std::move(stop));
}

} // namespace becalm::io
