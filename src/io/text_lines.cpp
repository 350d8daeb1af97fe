#include "src/io/text_lines.h"

#include <algorithm>
#include <cstring>
#include <unistd.h>

#include <fmt/format.h>

#include "src/io/text_dialect.h"

namespace becalm::io {

namespace {

constexpr std::size_t longest_line = std::size_t{1} << 20;
constexpr std::size_t usual_block = std::size_t{256} << 10; // stays in the second cache
constexpr std::size_t raw_block = std::size_t{64} << 10;
constexpr std::size_t byte_order_mark = 2;

char* put_utf8(unsigned code, char* out)
{
    const auto byte = [&](unsigned value) { *out++ = static_cast<char>(value); };
    if (code < 0x80) {
        byte(code);
    } else if (code < 0x800) {
        byte(0xC0U | code >> 6);
        byte(0x80U | (code & 0x3FU));
    } else if (code < 0x10000) {
        byte(0xE0U | code >> 12);
        byte(0x80U | (code >> 6 & 0x3FU));
        byte(0x80U | (code & 0x3FU));
    } else {
        byte(0xF0U | code >> 18);
        byte(0x80U | (code >> 12 & 0x3FU));
        byte(0x80U | (code >> 6 & 0x3FU));
        byte(0x80U | (code & 0x3FU));
    }
    return out;
}

constexpr unsigned replacement = 0xFFFD;

} // namespace

TextEncoding encoding_of(std::string_view beginning)
{
    if (beginning.substr(0, byte_order_mark) == "\xFF\xFE") return TextEncoding::utf16_little;
    if (beginning.substr(0, byte_order_mark) == "\xFE\xFF") return TextEncoding::utf16_big;
    return TextEncoding::bytes;
}

char* Utf16Decoder::take(unsigned unit, char* out)
{
    const bool low = unit >= 0xDC00 && unit < 0xE000;
    if (high_) {
        const unsigned high = *high_;
        high_.reset();
        if (low) return put_utf8(0x10000 + ((high - 0xD800) << 10) + (unit - 0xDC00), out);
        out = put_utf8(replacement, out);
    }
    if (unit >= 0xD800 && unit < 0xDC00) {
        high_ = unit;
        return out;
    }
    return put_utf8(low ? replacement : unit, out);
}

char* Utf16Decoder::decode(std::string_view bytes, char* out)
{
    for (const char c : bytes) {
        const auto byte = static_cast<unsigned char>(c);
        if (!half_) {
            half_ = byte;
            continue;
        }
        const unsigned unit =
            big_ ? static_cast<unsigned>(*half_) << 8 | byte : static_cast<unsigned>(byte) << 8 | *half_;
        half_.reset();
        out = take(unit, out);
    }
    return out;
}

char* Utf16Decoder::finish(char* out)
{
    if (high_) out = put_utf8(replacement, out);
    if (half_) out = put_utf8(replacement, out);
    high_.reset();
    half_.reset();
    return out;
}

LineSource::LineSource(OpenedFile file, std::string path, TextEncoding encoding)
    : handle_(std::move(file.handle)), path_(std::move(path)), encoding_(encoding), decoder_(encoding),
      room_(std::clamp(static_cast<std::size_t>(std::max<std::int64_t>(0, file.size)) + 64, std::size_t{256},
                       usual_block)),
      block_(std::make_unique_for_overwrite<char[]>(room_))
{
    if (encoding != TextEncoding::bytes) raw_ = std::make_unique_for_overwrite<char[]>(raw_block);
}

void LineSource::begin_at(std::int64_t offset, std::int64_t line)
{
    const bool bytes = encoding_ == TextEncoding::bytes;
    // A regular file that is open can always be positioned; a fault of the disk shows in the read that follows.
    ::lseek(handle_.get(), bytes ? offset : static_cast<std::int64_t>(byte_order_mark), SEEK_SET);
    begin_ = end_ = 0;
    number_ = line - 1;
    at_end_ = false;
    fault_.reset();
    decoder_ = Utf16Decoder(encoding_);
    for (std::int64_t skip = bytes ? 0 : offset; skip > 0;) {
        if (begin_ == end_ && (at_end_ || !refill())) return;
        const auto now = std::min<std::int64_t>(skip, static_cast<std::int64_t>(end_ - begin_));
        begin_ += static_cast<std::size_t>(now);
        skip -= now;
    }
}

bool LineSource::next(std::string_view& line)
{
    for (std::size_t searched = 0;;) {
        const char* const from = block_.get() + begin_;
        if (const void* found =
                end_ > begin_ + searched ? std::memchr(from + searched, '\n', end_ - begin_ - searched) : nullptr) {
            const auto length = static_cast<std::size_t>(static_cast<const char*>(found) - from);
            begin_ += length + 1;
            return give({from, length}, line);
        }
        searched = end_ - begin_;
        if (at_end_) {
            if (searched == 0) return false;
            begin_ = end_;
            return give({from, searched}, line);
        }
        if (!refill()) return false;
    }
}

bool LineSource::give(std::string_view found, std::string_view& line)
{
    if (!found.empty() && found.back() == '\r') found.remove_suffix(1);
    line = found;
    ++number_;
    return true;
}

bool LineSource::refill()
{
    const std::size_t kept = end_ - begin_;
    // A line that fills half the block wants a greater one.
    if (2 * kept >= room_) {
        if (kept >= longest_line) {
            fault_ = text_problem(path_, number_ + 1, 0, fmt::format("a line is longer than {} bytes", longest_line),
                                  "check that the file has line ends");
            return false;
        }
        auto greater = std::make_unique_for_overwrite<char[]>(4 * room_);
        std::memcpy(greater.get(), block_.get() + begin_, kept);
        block_ = std::move(greater);
        room_ *= 4;
    } else {
        std::memmove(block_.get(), block_.get() + begin_, kept);
    }
    begin_ = 0;
    end_ = kept;
    const auto got = fill(block_.get() + kept, room_ - kept);
    if (!got) {
        fault_ = got.error();
        return false;
    }
    end_ = kept + *got;
    return true;
}

Result<std::size_t> LineSource::fill(char* to, std::size_t room)
{
    if (encoding_ == TextEncoding::bytes) {
        const auto got = read_bytes(handle_, path_, {to, room});
        if (got) at_end_ = *got < room;
        return got;
    }
    const std::size_t wanted = std::min(raw_block, (room - 16) / 3 * 2);
    const auto got = read_bytes(handle_, path_, {raw_.get(), wanted});
    if (!got) return got;
    char* out = decoder_.decode({raw_.get(), *got}, to);
    at_end_ = *got < wanted;
    if (at_end_) out = decoder_.finish(out);
    return static_cast<std::size_t>(out - to);
}

} // namespace becalm::io
