// MATLAB files of version 5, by their published description ("MAT-File Format", level 5): data elements with a tag of
// type and size, one a variable, arrays within arrays, each variable perhaps deflated as a whole.
//
// Opening walks over all elements and keeps what is short. Numbers stay in the file: plain ones are read where they
// lie, deflated ones are inflated once, when they are asked for, into memory or a temporary file without a name.
#include <algorithm>
#include <array>
#include <bit>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <limits>
#include <unistd.h>
#include <zlib.h>

#include <fmt/format.h>

#include "src/io/mat_tree.h"

namespace becalm::io {

namespace {

constexpr auto copy_again = "copy it again, or save it again from where it was made";

// Inflated numbers are kept in memory up to here, beyond in a temporary file, and nowhere beyond its bound.
constexpr std::size_t most_in_memory = std::size_t{64} << 20;
constexpr std::uint64_t most_inflated = std::uint64_t{8} << 30;
// Deflate makes at best 1032 bytes of one [RFC 1951: 258 bytes from two bits].
constexpr std::uint64_t greatest_ratio = 1032;

constexpr std::uint32_t matrix_type = 14;
constexpr std::uint32_t compressed_type = 15;

// Bytes of one number of a data type; 0 for what is no number.
std::size_t width_of(std::uint32_t type)
{
    switch (type) {
    case 1: // int8
    case 2: return 1;
    case 3: // int16
    case 4: return 2;
    case 5: // int32
    case 6:
    case 7: return 4; // single
    case 9:           // double
    case 12:          // int64
    case 13: return 8;
    default: return 0;
    }
}

template <class T>
double number_at(const char* at, bool swapped)
{
    std::array<char, sizeof(T)> bytes;
    std::memcpy(bytes.data(), at, sizeof(T));
    if (swapped) std::ranges::reverse(bytes);
    return static_cast<double>(std::bit_cast<T>(bytes));
}

template <class T>
void convert(const char* bytes, bool swapped, std::span<double> values)
{
    for (std::size_t i = 0; i < values.size(); ++i) values[i] = number_at<T>(bytes + i * sizeof(T), swapped);
}

void convert(std::uint32_t type, const char* bytes, bool swapped, std::span<double> values)
{
    switch (type) {
    case 1: convert<std::int8_t>(bytes, swapped, values); break;
    case 2: convert<std::uint8_t>(bytes, swapped, values); break;
    case 3: convert<std::int16_t>(bytes, swapped, values); break;
    case 4: convert<std::uint16_t>(bytes, swapped, values); break;
    case 5: convert<std::int32_t>(bytes, swapped, values); break;
    case 6: convert<std::uint32_t>(bytes, swapped, values); break;
    case 7: convert<float>(bytes, swapped, values); break;
    case 9: convert<double>(bytes, swapped, values); break;
    case 12: convert<std::int64_t>(bytes, swapped, values); break;
    case 13: convert<std::uint64_t>(bytes, swapped, values); break;
    default: BECALM_ASSERT(false);
    }
}

// What the classes of arrays are called; empty: not known.
std::string_view class_named(unsigned number)
{
    constexpr std::array<std::string_view, 19> names{
        "",      "cell",   "struct", "object", "char",  "sparse", "double",          "single",          "int8", "uint8",
        "int16", "uint16", "int32",  "uint32", "int64", "uint64", "function handle", "table or object", ""};
    return number < names.size() ? names[number] : std::string_view{};
}

// A stretch of the file in order, inflated where it is deflated.
class Stretch {
public:
    Stretch(const FileHandle& file, std::int64_t begin, std::int64_t end, bool deflated)
        : file_(file), next_(begin), end_(end), deflated_(deflated)
    {
        if (!deflated) return;
        raw_.resize(std::size_t{32} << 10);
        BECALM_ASSERT(inflateInit(&stream_) == Z_OK);
    }
    Stretch(const Stretch&) = delete;
    Stretch& operator=(const Stretch&) = delete;
    ~Stretch()
    {
        if (deflated_) inflateEnd(&stream_);
    }

    // Bytes handed out or passed over so far.
    std::uint64_t at() const { return at_; }
    // Why the last read() or skip() failed.
    const std::string& fault() const { return fault_; }

    bool read(char* to, std::size_t count)
    {
        if (deflated_) return inflate_into(to, count);
        if (std::cmp_greater(count, end_ - next_)) return fails("the data end there");
        std::size_t filled = 0;
        while (filled < count) {
            const ssize_t got =
                ::pread(file_.get(), to + filled, count - filled, next_ + static_cast<std::int64_t>(filled));
            if (got < 0 && errno == EINTR) continue;
            if (got <= 0) return fails(got < 0 ? "the disk reports a fault" : "the data end there");
            filled += static_cast<std::size_t>(got);
        }
        next_ += static_cast<std::int64_t>(count);
        at_ += count;
        return true;
    }

    bool skip(std::uint64_t count)
    {
        if (!deflated_) {
            if (std::cmp_greater(count, end_ - next_)) return fails("the data end there");
            next_ += static_cast<std::int64_t>(count);
            at_ += count;
            return true;
        }
        std::array<char, std::size_t{16} << 10> passed;
        while (count > 0) {
            const auto part = static_cast<std::size_t>(std::min<std::uint64_t>(count, passed.size()));
            if (!inflate_into(passed.data(), part)) return false;
            count -= part;
        }
        return true;
    }

    // Whether a deflated stretch has come to its end.
    bool ended() const { return ended_; }

    // Of a deflated stretch that has been read: whether its checksum is right.
    bool ends_soundly()
    {
        std::array<char, 64> passed; // padding
        stream_.next_out = reinterpret_cast<Bytef*>(passed.data());
        stream_.avail_out = passed.size();
        while (!ended_ && stream_.avail_out > 0)
            if (!step()) return false;
        return true;
    }

private:
    bool fails(std::string why)
    {
        fault_ = std::move(why);
        return false;
    }

    bool step()
    {
        if (stream_.avail_in == 0) {
            const auto count =
                static_cast<std::size_t>(std::min<std::int64_t>(end_ - next_, static_cast<std::int64_t>(raw_.size())));
            const ssize_t got = count > 0 ? ::pread(file_.get(), raw_.data(), count, next_) : 0;
            if (got < 0 && errno == EINTR) return true;
            if (got <= 0) return fails(got < 0 ? "the disk reports a fault" : "the compressed data end there");
            next_ += got;
            stream_.next_in = reinterpret_cast<Bytef*>(raw_.data());
            stream_.avail_in = static_cast<uInt>(got);
        }
        const int outcome = ::inflate(&stream_, Z_NO_FLUSH);
        if (outcome == Z_STREAM_END) {
            ended_ = true;
            return true;
        }
        return outcome == Z_OK || outcome == Z_BUF_ERROR || fails("the compressed data are damaged there");
    }

    bool inflate_into(char* to, std::size_t count)
    {
        while (count > 0) {
            if (ended_) return fails("the data end there");
            const auto part = static_cast<uInt>(std::min<std::size_t>(count, std::numeric_limits<uInt>::max()));
            stream_.next_out = reinterpret_cast<Bytef*>(to);
            stream_.avail_out = part;
            if (!step()) return false;
            const std::size_t got = part - stream_.avail_out;
            to += got;
            count -= got;
            at_ += got;
        }
        return true;
    }

    const FileHandle& file_;
    std::int64_t next_; // byte of the file
    std::int64_t end_;
    bool deflated_;
    bool ended_ = false;
    std::uint64_t at_ = 0;
    std::string fault_;
    std::vector<char> raw_;
    z_stream stream_ = {};
};

// Inflated bytes: in memory, then in a file that has no name and vanishes with the program.
class Store {
public:
    explicit Store(const std::string& path) : path_(path) {}

    std::uint64_t size() const { return size_; }

    std::optional<Problem> add(std::span<const char> bytes)
    {
        if (!file_.is_open() && memory_.size() + bytes.size() <= most_in_memory) {
            memory_.insert(memory_.end(), bytes.begin(), bytes.end());
            size_ = memory_.size();
            return std::nullopt;
        }
        if (!file_.is_open()) {
            std::error_code ignored;
            std::string name = (std::filesystem::temp_directory_path(ignored) / "becalm-XXXXXX").string();
            file_ = FileHandle(::mkostemp(name.data(), O_CLOEXEC));
            if (!file_.is_open()) return system_problem(name, FileAttempt::write, errno);
            ::unlink(name.c_str());
            size_ = 0;
            const std::vector<char> first = std::exchange(memory_, {});
            if (auto problem = write(first)) return problem;
        }
        return write(bytes);
    }

    bool read(std::uint64_t from, std::span<char> bytes) const
    {
        if (!file_.is_open()) {
            std::copy_n(memory_.begin() + static_cast<std::ptrdiff_t>(from), bytes.size(), bytes.begin());
            return true;
        }
        std::size_t filled = 0;
        while (filled < bytes.size()) {
            const ssize_t got =
                ::pread(file_.get(), bytes.data() + filled, bytes.size() - filled, static_cast<off_t>(from + filled));
            if (got < 0 && errno == EINTR) continue;
            if (got <= 0) return false;
            filled += static_cast<std::size_t>(got);
        }
        return true;
    }

private:
    std::optional<Problem> write(std::span<const char> bytes)
    {
        while (!bytes.empty()) {
            const ssize_t put = ::pwrite(file_.get(), bytes.data(), bytes.size(), static_cast<off_t>(size_));
            if (put < 0 && errno == EINTR) continue;
            if (put < 0) {
                Problem problem = system_problem(path_, FileAttempt::write, errno);
                problem.what = "it has to be inflated into a temporary file: " + problem.what;
                problem.remedy = "free some space where temporary files lie (TMPDIR), or save it uncompressed (-v6)";
                return problem;
            }
            bytes = bytes.subspan(static_cast<std::size_t>(put));
            size_ += static_cast<std::uint64_t>(put);
        }
        return std::nullopt;
    }

    const std::string& path_;
    std::vector<char> memory_;
    FileHandle file_;
    std::uint64_t size_ = 0;
};

// Where numbers lie.
struct Numbers {
    std::size_t variable = 0; // which stretch of the file
    std::uint64_t place = 0;  // in the stretch, inflated
    std::uint32_t type = 0;   // of a number
    std::int64_t count = 0;
    std::int64_t rows = 0;
    std::optional<std::uint64_t> stored = {}; // place in the store
};

struct Variable {
    std::int64_t begin = 0; // of the element's data, or of its tag where it is not deflated
    std::int64_t end = 0;
    bool deflated = false;
    bool checked = false; // inflated to its end, with its checksum
};

struct Tag {
    std::uint32_t type = 0;
    std::uint32_t size = 0;
    std::uint32_t padding = 0; // behind the data
};

class V5File final : public MatFile {
public:
    V5File(OpenedFile file, std::string path) : file_(std::move(file)), path_(std::move(path)), store_(path_)
    {
        root_.kind = MatNode::Kind::structure;
    }

    Result<void> walk()
    {
        std::array<char, 128> head{};
        Stretch stretch(file_.handle, 0, file_.size, false);
        if (!stretch.read(head.data(), head.size()))
            return fail(mat_problem(path_, "the header is cut off: a MATLAB file begins with 128 bytes", copy_again));
        // Written as the number "MI" in the writer's order of bytes.
        swapped_ = (head[126] == 'M') != (std::endian::native == std::endian::big);
        std::int64_t at = 128;
        while (at < file_.size) {
            Variable variable{.begin = at, .end = file_.size};
            Stretch plain(file_.handle, at, file_.size, false);
            Tag tag;
            if (!read_tag(plain, tag)) return fail(broken("", at, plain.fault()));
            const std::int64_t body = at + static_cast<std::int64_t>(plain.at());
            if (std::cmp_greater(tag.size, file_.size - body))
                return fail(mat_problem(path_,
                                        fmt::format("the variable at byte {} promises {} bytes, the file holds {}", at,
                                                    tag.size, file_.size - body),
                                        copy_again));
            if (tag.type == compressed_type) {
                variable = {.begin = body, .end = body + tag.size, .deflated = true};
                at = variable.end;
            } else if (tag.type == matrix_type) {
                variable.end = body + tag.size;
                at = std::min(file_.size, variable.end + static_cast<std::int64_t>(tag.padding));
            } else {
                return fail(mat_problem(
                    path_, fmt::format("at byte {} a variable is expected, not an element of type {}", at, tag.type),
                    copy_again));
            }
            if (auto problem = walk_variable(variable, tag.size)) return fail(std::move(*problem));
        }
        return {};
    }

    const MatNode& variables() const override { return root_; }

    Result<void> prepare(std::span<const MatNode* const> wanted) override
    {
        std::vector<Numbers*> missing;
        std::uint64_t bytes = store_.size();
        for (const MatNode* node : wanted) {
            Numbers& numbers = numbers_[node->data];
            if (!variables_[numbers.variable].deflated || numbers.stored) continue;
            if (std::ranges::find(missing, &numbers) != missing.end()) continue;
            missing.push_back(&numbers);
            bytes += static_cast<std::uint64_t>(numbers.count) * width_of(numbers.type);
        }
        if (bytes > most_inflated)
            return fail(
                mat_problem(path_,
                            fmt::format("its compressed numbers come to {:.1f} GB; up to {:.0f} GB are inflated",
                                        static_cast<double>(bytes) / 1e9, static_cast<double>(most_inflated) / 1e9),
                            "save it uncompressed (-v6) or as version 7.3"));
        std::ranges::sort(missing, {}, [](const Numbers* n) { return std::pair(n->variable, n->place); });
        for (auto first = missing.begin(); first != missing.end();) {
            const auto last =
                std::find_if(first, missing.end(), [&](const Numbers* n) { return n->variable != (*first)->variable; });
            if (auto problem = inflate({first, last})) return fail(std::move(*problem));
            first = last;
        }
        return {};
    }

    Result<void> block(const MatNode& node, const MatBlock& block, std::span<double> values) override
    {
        const Numbers& numbers = numbers_[node.data];
        const std::size_t width = width_of(numbers.type);
        const bool whole_columns = block.rows == numbers.rows;
        const std::int64_t pieces = whole_columns ? 1 : block.columns;
        const auto piece = static_cast<std::size_t>(whole_columns ? block.rows * block.columns : block.rows);
        bytes_.resize(piece * width);
        for (std::int64_t p = 0; p < pieces; ++p) {
            const std::int64_t first = (block.column + p) * numbers.rows + block.row;
            if (!read_bytes_of(numbers, static_cast<std::uint64_t>(first) * width))
                return fail(mat_problem(path_, fmt::format("the numbers of {} cannot be read", node.name), copy_again));
            convert(numbers.type, bytes_.data(), swapped_, values.subspan(static_cast<std::size_t>(p) * piece, piece));
        }
        return {};
    }

private:
    Problem broken(const std::string& name, std::int64_t at, const std::string& why) const
    {
        const std::string of = name.empty() ? "a variable" : "the variable " + name;
        return mat_problem(path_, fmt::format("{} cannot be read at byte {}: {}", of, at, why), copy_again);
    }

    std::uint32_t u32(const char* at) const
    {
        std::uint32_t value = 0;
        std::memcpy(&value, at, 4);
        return swapped_ ? __builtin_bswap32(value) : value;
    }

    bool read_tag(Stretch& stretch, Tag& tag) const
    {
        std::array<char, 4> bytes{};
        if (!stretch.read(bytes.data(), 4)) return false;
        const std::uint32_t first = u32(bytes.data());
        if (first >> 16 != 0) { // the short form: size and type in one, data in the next four bytes
            tag = {.type = first & 0xFFFF, .size = first >> 16};
            tag.padding = tag.size <= 4 ? 4 - tag.size : 0;
            return true;
        }
        if (!stretch.read(bytes.data(), 4)) return false;
        tag = {.type = first, .size = u32(bytes.data())};
        tag.padding = (8 - tag.size % 8) % 8;
        return true;
    }

    std::optional<Problem> walk_variable(const Variable& variable, std::uint32_t raw_size)
    {
        Stretch stretch(file_.handle, variable.begin, variable.end, variable.deflated);
        variables_.push_back(variable);
        MatNode node;
        const auto attempt = [&]() -> std::optional<std::string> {
            Tag tag;
            if (!read_tag(stretch, tag)) return stretch.fault();
            if (tag.type != matrix_type) return "it is no array";
            if (variable.deflated && tag.size / greatest_ratio > raw_size) return "its size cannot be right";
            return walk_array(stretch, stretch.at() + tag.size, 0, node);
        };
        if (auto why = attempt()) return broken(node.name, variable.begin, *why);
        // An array of numbers by itself is inflated when it is asked for.
        if (variable.deflated && node.kind != MatNode::Kind::numbers) {
            if (!stretch.ends_soundly()) return broken(node.name, variable.begin, stretch.fault());
            variables_.back().checked = true;
        }
        if (node.name.empty()) return std::nullopt; // MATLAB's own notes on objects
        root_.inside.push_back(std::move(node));
        return std::nullopt;
    }

    // The array whose tag has just been read; what is wrong with it.
    std::optional<std::string> walk_array(Stretch& stretch, std::uint64_t end, int depth, MatNode& node)
    {
        if (++nodes_ > mat_most_nodes)
            return fmt::format("there are more than {} variables and fields", mat_most_nodes);
        if (depth > mat_greatest_depth) return fmt::format("fields lie more than {} deep", mat_greatest_depth);
        if (end == stretch.at()) { // []
            node.class_name = "empty";
            return std::nullopt;
        }
        Tag tag;
        std::vector<char> bytes;
        if (auto why = read_small(stretch, end, tag, bytes, 16)) return why;
        if (tag.type != 6 || bytes.size() < 8) return "the flags of an array are missing";
        const std::uint32_t flags = u32(bytes.data());
        const unsigned kind = flags & 0xFF;
        const bool complex = (flags & 0x800) != 0;
        const bool logical = (flags & 0x200) != 0;
        node.class_name = class_named(kind);
        if (node.class_name.empty()) return fmt::format("class {} of an array is not known", kind);
        if (kind == 17) { // opaque: no dimensions, names in another order
            if (auto why = read_small(stretch, end, tag, bytes, 64)) return why;
            if (depth == 0) node.name.assign(bytes.begin(), bytes.end());
            if (tag.type != 1) return "the name of an object is missing";
            return stretch.skip(end - stretch.at()) ? std::nullopt : std::optional(stretch.fault());
        }

        if (auto why = read_small(stretch, end, tag, bytes, 32 * 4)) return why;
        if (tag.type != 5 || bytes.size() < 8 || bytes.size() % 4 != 0) return "the size of an array is missing";
        std::int64_t count = 1;
        for (std::size_t i = 0; i < bytes.size(); i += 4) {
            const auto extent = static_cast<std::int32_t>(u32(bytes.data() + i));
            if (extent < 0) return "a size of an array is negative";
            node.size.push_back(extent);
            if (__builtin_mul_overflow(count, std::int64_t{extent}, &count))
                return "the size of an array cannot be right";
        }
        if (auto why = read_small(stretch, end, tag, bytes, 64)) return why;
        if (tag.type != 1 && tag.type != 16) return "the name of an array is missing";
        if (depth == 0) node.name.assign(bytes.begin(), std::ranges::find(bytes, '\0'));

        std::optional<std::string> why;
        switch (kind) {
        case 1: why = walk_cells(stretch, end, depth, count, node); break;
        case 2: why = walk_structure(stretch, end, depth, count, node); break;
        case 4: why = walk_text(stretch, end, count, node); break;
        case 3:
        case 5:
        case 16: break;
        default:
            if (count == 0)
                node.class_name = "empty";
            else if (logical)
                node.class_name = "logical";
            else if (complex)
                node.class_name = "complex " + node.class_name;
            else
                why = walk_numbers(stretch, end, kind, count, node);
        }
        if (why) return why;
        if (stretch.at() > end) return "an array is larger than its size";
        if (depth == 0 && node.kind == MatNode::Kind::numbers) return std::nullopt; // nothing comes behind them
        // Some writers count a deflated variable's own tag into its size.
        if (stretch.skip(end - stretch.at()) || (depth == 0 && stretch.ended())) return std::nullopt;
        return stretch.fault();
    }

    // An element of at most `most` bytes.
    std::optional<std::string> read_small(Stretch& stretch, std::uint64_t end, Tag& tag, std::vector<char>& bytes,
                                          std::uint64_t most) const
    {
        if (!read_tag(stretch, tag)) return stretch.fault();
        if (tag.size > most)
            return fmt::format("an element of {} bytes stands where at most {} can be", tag.size, most);
        if (stretch.at() + tag.size > end) return "an array is larger than its size";
        bytes.resize(tag.size);
        if (!stretch.read(bytes.data(), bytes.size()) || !stretch.skip(tag.padding)) return stretch.fault();
        return std::nullopt;
    }

    std::optional<std::string> walk_within(Stretch& stretch, std::uint64_t end, int depth, MatNode& node)
    {
        Tag tag;
        if (!read_tag(stretch, tag)) return stretch.fault();
        if (tag.type != matrix_type)
            return fmt::format("an element of type {} stands where an array is expected", tag.type);
        const std::uint64_t inner = stretch.at() + tag.size;
        if (inner > end) return "an array is larger than the one it lies in";
        if (auto why = walk_array(stretch, inner, depth + 1, node)) return why;
        return stretch.skip(std::min<std::uint64_t>(tag.padding, end - inner)) ? std::nullopt
                                                                               : std::optional(stretch.fault());
    }

    std::optional<std::string> walk_cells(Stretch& stretch, std::uint64_t end, int depth, std::int64_t count,
                                          MatNode& node)
    {
        node.kind = MatNode::Kind::list;
        if (std::cmp_greater(count, (end - stretch.at()) / 8)) return "there are fewer cells than its size says";
        for (std::int64_t i = 0; i < count; ++i) {
            MatNode& cell = node.inside.emplace_back();
            cell.name = fmt::format("{{{}}}", i + 1);
            if (auto why = walk_within(stretch, end, depth, cell)) return why;
        }
        return std::nullopt;
    }

    std::optional<std::string> walk_structure(Stretch& stretch, std::uint64_t end, int depth, std::int64_t count,
                                              MatNode& node)
    {
        Tag tag;
        std::vector<char> bytes;
        if (auto why = read_small(stretch, end, tag, bytes, 4)) return why;
        if (tag.type != 5 || bytes.size() != 4) return "the length of the names of fields is missing";
        const std::uint32_t longest = u32(bytes.data());
        constexpr std::uint64_t most_of_names = 1U << 20;
        if (auto why = read_small(stretch, end, tag, bytes, most_of_names)) return why;
        if (longest == 0 || longest > 256 || bytes.size() % longest != 0) return "the names of fields cannot be right";
        std::vector<std::string> names;
        for (auto at = bytes.begin(); at != bytes.end(); at += longest)
            names.emplace_back(at, std::find(at, at + longest, '\0'));
        if (names.empty() && count > 1) count = 0;
        if (!names.empty() && std::cmp_greater(count, (end - stretch.at()) / 8))
            return "there are fewer fields than its size says";
        const auto fields_into = [&](MatNode& structure) -> std::optional<std::string> {
            structure.kind = MatNode::Kind::structure;
            structure.class_name = "struct";
            for (const std::string& name : names) {
                MatNode& field = structure.inside.emplace_back();
                field.name = name;
                if (auto why = walk_within(stretch, end, depth, field)) return why;
            }
            return std::nullopt;
        };
        if (count == 1) return fields_into(node);
        node.kind = MatNode::Kind::list;
        for (std::int64_t i = 0; i < count; ++i) {
            MatNode& element = node.inside.emplace_back();
            element.name = fmt::format("({})", i + 1);
            if (auto why = fields_into(element)) return why;
        }
        return std::nullopt;
    }

    std::optional<std::string> walk_text(Stretch& stretch, std::uint64_t end, std::int64_t count, MatNode& node) const
    {
        node.kind = MatNode::Kind::text;
        if (count == 0 || count > mat_longest_text || node.size.size() != 2) return std::nullopt;
        Tag tag;
        std::vector<char> bytes;
        if (auto why = read_small(stretch, end, tag, bytes, 4 * mat_longest_text)) return why;
        const auto rows = static_cast<std::size_t>(node.size[0]);
        if (tag.type == 16 && rows == 1) { // UTF-8, of fewer or more bytes than characters
            node.text.assign(bytes.begin(), bytes.end());
            return std::nullopt;
        }
        const std::size_t width = tag.type == 4 || tag.type == 17 ? 2 : tag.type == 18 ? 4 : 1;
        if (bytes.size() < static_cast<std::size_t>(count) * width) return "a text is shorter than its size";
        const auto columns = static_cast<std::size_t>(node.size[1]);
        for (std::size_t row = 0; row < rows; ++row) {
            for (std::size_t column = 0; column < columns; ++column) {
                const char* at = bytes.data() + (column * rows + row) * width;
                std::uint32_t code = static_cast<unsigned char>(*at);
                if (width == 2) {
                    std::uint16_t unit = 0;
                    std::memcpy(&unit, at, 2);
                    code = swapped_ ? __builtin_bswap16(unit) : unit;
                } else if (width == 4) {
                    code = u32(at) & 0xFFFF;
                }
                mat_add_utf8(node.text, code);
            }
            if (rows > 1) node.text += '\n';
        }
        return std::nullopt;
    }

    std::optional<std::string> walk_numbers(Stretch& stretch, std::uint64_t end, unsigned kind, std::int64_t count,
                                            MatNode& node)
    {
        Tag tag;
        if (!read_tag(stretch, tag)) return stretch.fault();
        const std::size_t width = width_of(tag.type);
        if (width == 0) return fmt::format("numbers of type {} are not known", tag.type);
        if (std::cmp_greater(count, std::numeric_limits<std::uint32_t>::max()) ||
            static_cast<std::uint64_t>(count) * width != tag.size)
            return fmt::format("{} numbers are promised, there are {}", count, tag.size / width);
        if (stretch.at() + tag.size > end) return "an array is larger than its size";
        node.kind = MatNode::Kind::numbers;
        node.integer = kind >= 8;
        node.data = numbers_.size();
        numbers_.push_back({.variable = variables_.size() - 1,
                            .place = stretch.at(),
                            .type = tag.type,
                            .count = count,
                            .rows = node.size[0]});
        if (count != 1) return std::nullopt;
        std::array<char, 8> bytes{};
        if (!stretch.read(bytes.data(), width)) return stretch.fault();
        double number = 0.0;
        convert(tag.type, bytes.data(), swapped_, {&number, 1});
        node.number = number;
        return std::nullopt;
    }

    // Fills bytes_.
    bool read_bytes_of(const Numbers& numbers, std::uint64_t from)
    {
        const Variable& variable = variables_[numbers.variable];
        if (variable.deflated) {
            BECALM_ASSERT(numbers.stored);
            return store_.read(*numbers.stored + from, bytes_);
        }
        Stretch stretch(file_.handle, variable.begin + static_cast<std::int64_t>(numbers.place + from), variable.end,
                        false);
        return stretch.read(bytes_.data(), bytes_.size());
    }

    // Numbers of one variable, in the order in which they lie there.
    std::optional<Problem> inflate(std::span<Numbers* const> wanted)
    {
        const Variable& variable = variables_[wanted.front()->variable];
        Stretch stretch(file_.handle, variable.begin, variable.end, true);
        std::vector<char> part(std::size_t{256} << 10);
        for (Numbers* numbers : wanted) {
            if (!stretch.skip(numbers->place - stretch.at())) return broken("", variable.begin, stretch.fault());
            const std::uint64_t begin = store_.size();
            for (std::uint64_t left = static_cast<std::uint64_t>(numbers->count) * width_of(numbers->type); left > 0;) {
                const auto size = static_cast<std::size_t>(std::min<std::uint64_t>(left, part.size()));
                if (!stretch.read(part.data(), size)) return broken("", variable.begin, stretch.fault());
                if (auto problem = store_.add({part.data(), size})) return problem;
                left -= size;
            }
            numbers->stored = begin;
        }
        if (!variable.checked && !stretch.ends_soundly()) return broken("", variable.begin, stretch.fault());
        return std::nullopt;
    }

    OpenedFile file_;
    std::string path_;
    bool swapped_ = false;
    std::size_t nodes_ = 0;
    MatNode root_;
    std::vector<Variable> variables_;
    std::vector<Numbers> numbers_;
    Store store_;
    std::vector<char> bytes_; // of one read
};

} // namespace

Result<std::unique_ptr<MatFile>> open_mat_v5(OpenedFile file, const std::string& path)
{
    auto opened = std::make_unique<V5File>(std::move(file), path);
    const auto walked = opened->walk();
    if (!walked) return fail(walked.error());
    return opened;
}

} // namespace becalm::io
