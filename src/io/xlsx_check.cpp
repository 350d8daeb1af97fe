#include "src/io/xlsx_check.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <string_view>
#include <zlib.h>

#include <fmt/format.h>

namespace becalm::io {
namespace {

constexpr std::size_t block_bytes = std::size_t{1} << 16;

// Little-endian numbers of the container [APPNOTE.TXT, 4.3.12 and 4.3.16].
std::uint32_t number_at(std::string_view bytes, std::size_t at, int count)
{
    std::uint32_t value = 0;
    for (int i = 0; i < count; ++i)
        value |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[at + static_cast<std::size_t>(i)]))
                 << (8 * i);
    return value;
}

struct Part {
    std::string name;
    std::uint32_t packed = 0, size = 0, crc = 0, at = 0;
    std::uint32_t method = 0; // 0: as it is, 8: deflated
};

// Follows the text of a part as it comes.
class XmlText {
public:
    void take(std::string_view text)
    {
        if (head_.size() < most_head) head_ += text.substr(0, most_head - head_.size());
        // What straddles two blocks is found in the joint.
        static constexpr std::string_view cell = "<c r=";
        const std::string joint = tail_.substr(tail_.size() - std::min(tail_.size(), cell.size() - 1)) +
                                  std::string(text.substr(0, cell.size() - 1));
        cells_ += count(joint, cell) + count(text, cell);
        for (const char c : text) {
            if (c == '<')
                in_tag_ = true;
            else if (c == '>')
                in_tag_ = false;
            else if (!in_tag_ && c != '\n' && c != '\r')
                ++text_bytes_;
        }
        tail_ += text.substr(text.size() - std::min(text.size(), most_tail));
        if (tail_.size() > most_tail) tail_.erase(0, tail_.size() - most_tail);
    }

    std::uint64_t cells() const { return cells_; }
    std::uint64_t text_bytes() const { return text_bytes_; } // between tags, without ends of lines

    bool is_whole() const
    {
        std::size_t begin = head_.find('<');
        while (begin != std::string::npos && begin + 1 < head_.size() && head_[begin + 1] == '?')
            begin = head_.find('<', begin + 1);
        if (begin == std::string::npos) return false;
        const std::string root = head_.substr(begin + 1, head_.find_first_of(" />", begin) - begin - 1);
        const std::size_t end = tail_.find_last_not_of("\r\n");
        return end != std::string::npos && std::string_view(tail_).substr(0, end + 1).ends_with("</" + root + ">");
    }

private:
    static constexpr std::size_t most_head = 512, most_tail = 256;

    static std::uint64_t count(std::string_view text, std::string_view word)
    {
        std::uint64_t found = 0;
        for (std::size_t at = text.find(word); at != std::string_view::npos; at = text.find(word, at + word.size()))
            ++found;
        return found;
    }

    std::string head_, tail_;
    std::uint64_t cells_ = 0, text_bytes_ = 0;
    bool in_tag_ = false;
};

class Package {
public:
    explicit Package(const std::string& path) : in_(path, std::ios::binary) {}

    std::vector<Part> parts()
    {
        constexpr std::size_t end_bytes = 22, entry_bytes = 46;
        in_.seekg(0, std::ios::end);
        const auto size = static_cast<std::int64_t>(in_.tellg());
        if (size < static_cast<std::int64_t>(end_bytes)) return {};
        const std::string end = bytes(size - static_cast<std::int64_t>(end_bytes), end_bytes);
        if (!end.starts_with("PK\x05\x06")) return {};
        const std::string listing = bytes(number_at(end, 16, 4), number_at(end, 12, 4));
        std::vector<Part> parts;
        for (std::size_t at = 0; at + entry_bytes <= listing.size();) {
            Part part{.name = {},
                      .packed = number_at(listing, at + 20, 4),
                      .size = number_at(listing, at + 24, 4),
                      .crc = number_at(listing, at + 16, 4),
                      .at = number_at(listing, at + 42, 4),
                      .method = number_at(listing, at + 10, 2)};
            const std::size_t name = number_at(listing, at + 28, 2);
            part.name = listing.substr(at + entry_bytes, name);
            parts.push_back(std::move(part));
            at += entry_bytes + name + number_at(listing, at + 30, 2) + number_at(listing, at + 32, 2);
        }
        return parts;
    }

    // False where it is not what the listing says.
    bool read(const Part& part, XmlText& text)
    {
        constexpr std::size_t head_bytes = 30;
        const std::string head = bytes(part.at, head_bytes);
        if (head.size() < head_bytes || part.method != Z_DEFLATED) return false;
        in_.seekg(static_cast<std::streamoff>(part.at) + static_cast<std::streamoff>(head_bytes) +
                  static_cast<std::streamoff>(number_at(head, 26, 2) + number_at(head, 28, 2)));
        z_stream stream{};
        if (inflateInit2(&stream, -MAX_WBITS) != Z_OK) return false;
        std::string packed(block_bytes, '\0'), plain(block_bytes, '\0');
        std::uint64_t left = part.packed, size = 0;
        uLong crc = crc32(0, nullptr, 0);
        int state = Z_OK;
        while (state == Z_OK) {
            if (stream.avail_in == 0) {
                const std::uint64_t wanted = std::min<std::uint64_t>(left, packed.size());
                if (wanted == 0 || !in_.read(packed.data(), static_cast<std::streamsize>(wanted))) break;
                left -= wanted;
                stream.next_in = reinterpret_cast<Bytef*>(packed.data());
                stream.avail_in = static_cast<uInt>(wanted);
            }
            stream.next_out = reinterpret_cast<Bytef*>(plain.data());
            stream.avail_out = static_cast<uInt>(plain.size());
            state = inflate(&stream, Z_NO_FLUSH);
            const std::size_t got = plain.size() - stream.avail_out;
            crc = crc32(crc, reinterpret_cast<const Bytef*>(plain.data()), static_cast<uInt>(got));
            size += got;
            text.take(std::string_view(plain).substr(0, got));
        }
        inflateEnd(&stream);
        return state == Z_STREAM_END && size == part.size && crc == part.crc;
    }

private:
    std::string bytes(std::int64_t at, std::size_t count)
    {
        std::string result(count, '\0');
        in_.clear();
        in_.seekg(at);
        in_.read(result.data(), static_cast<std::streamsize>(count));
        result.resize(static_cast<std::size_t>(std::max<std::streamsize>(in_.gcount(), 0)));
        in_.clear();
        return result;
    }

    std::ifstream in_;
};

} // namespace

std::string fault_of_xlsx(const std::string& path, const std::vector<XlsxSheet>& wanted)
{
    Package package(path);
    const std::vector<Part> parts = package.parts();
    std::size_t sheets = 0;
    for (const Part& part : parts) {
        XmlText text;
        if (!package.read(part, text) || !text.is_whole()) return fmt::format("its part {} is not whole", part.name);
        for (std::size_t i = 0; i < wanted.size(); ++i) {
            if (part.name != fmt::format("xl/worksheets/sheet{}.xml", i + 1)) continue;
            ++sheets;
            if (text.cells() != wanted[i].cells)
                return fmt::format("its part {} has {} cells instead of {}", part.name, text.cells(), wanted[i].cells);
            if (text.text_bytes() != wanted[i].text_bytes)
                return fmt::format("its part {} has {} bytes of text instead of {}", part.name, text.text_bytes(),
                                   wanted[i].text_bytes);
        }
    }
    return sheets == wanted.size() ? std::string() : "it has parts missing";
}

} // namespace becalm::io
