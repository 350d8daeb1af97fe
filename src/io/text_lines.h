// The lines of a text file from some place on, in UTF-8 or Latin-1 as they lie there, in UTF-16 transcoded to UTF-8
// block by block.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "src/base/problem.h"
#include "src/io/regular_file.h"

namespace becalm::io {

enum class TextEncoding { bytes, utf16_little, utf16_big };

// By the byte order mark at the beginning of a file.
TextEncoding encoding_of(std::string_view beginning);

// UTF-16 to UTF-8, cut anywhere [RFC 2781, 2.2; RFC 3629, 3]. Half a pair, or half a unit at the end, becomes U+FFFD,
// which is no part of any number, so that it is complained about where it matters.
class Utf16Decoder {
public:
    explicit Utf16Decoder(TextEncoding encoding) : big_(encoding == TextEncoding::utf16_big) {}

    // At most three bytes for each two given, and three for what was kept before.
    char* decode(std::string_view bytes, char* out);
    // What the end of the file leaves unfinished: at most six bytes.
    char* finish(char* out);

private:
    char* take(unsigned unit, char* out);

    bool big_;
    std::optional<unsigned char> half_; // first byte of a unit
    std::optional<unsigned> high_;      // first unit of a pair
};

class LineSource {
public:
    LineSource(OpenedFile file, std::string path, TextEncoding encoding);

    // `offset`: bytes of UTF-8 behind the byte order mark of UTF-16, else bytes of the file.
    void begin_at(std::int64_t offset, std::int64_t line);

    // The next line without its end; false at the end of the file or after a fault. The line lives until the next call.
    bool next(std::string_view& line);

    std::int64_t number() const { return number_; } // of the line handed out last
    const std::optional<Problem>& fault() const { return fault_; }

private:
    bool give(std::string_view found, std::string_view& line);
    bool refill();
    Result<std::size_t> fill(char* to, std::size_t room);

    FileHandle handle_;
    std::string path_;
    TextEncoding encoding_;
    Utf16Decoder decoder_;
    std::unique_ptr<char[]> raw_ = {}; // of UTF-16
    std::size_t room_ = 0;
    std::unique_ptr<char[]> block_ = {};
    std::size_t begin_ = 0; // of what is not yet handed out
    std::size_t end_ = 0;
    bool at_end_ = false;
    std::int64_t number_ = 0;
    std::optional<Problem> fault_ = {};
};

} // namespace becalm::io
