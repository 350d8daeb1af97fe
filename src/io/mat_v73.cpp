// MATLAB files of version 7.3: HDF5 behind a header of 512 bytes. What MATLAB adds to HDF5 are attributes: MATLAB_class
// on every object, MATLAB_empty, MATLAB_object_decode; a struct is a group, a cell array a dataset of references, a
// struct array a group of datasets of references; an array of R rows and C columns has the dimensions (C, R).
//
// The HDF5 library keeps its state in global variables: one call at a time, whatever the thread. It follows nothing out
// of the file here: no external links or data, no virtual datasets, no filters loaded from elsewhere.
#include <algorithm>
#include <array>
#include <cstdint>
#include <cstring>
#include <hdf5.h>
#include <limits>
#include <mutex>
#include <utility>
#include <zlib.h>

#include <fmt/format.h>

#include "src/io/mat_tree.h"

namespace becalm::io {

namespace {

constexpr auto copy_again = "copy it again, or save it again from where it was made";

// A chunk is read as a whole; MATLAB and other writers keep them far below.
constexpr std::uint64_t greatest_chunk = std::uint64_t{64} << 20;
// Deflate makes at best 1032 bytes of one [RFC 1951].
constexpr std::uint64_t greatest_ratio = 1032;

std::mutex& library()
{
    static std::mutex mutex;
    return mutex;
}

// An identifier of HDF5 and how it is given back.
class Id {
public:
    Id() = default;
    Id(hid_t id, herr_t (*close)(hid_t)) : id_(id), close_(close) {}
    Id(Id&& other) noexcept : id_(std::exchange(other.id_, -1)), close_(other.close_) {}
    Id& operator=(Id&& other) noexcept
    {
        std::swap(id_, other.id_);
        std::swap(close_, other.close_);
        return *this;
    }
    Id(const Id&) = delete;
    Id& operator=(const Id&) = delete;
    ~Id()
    {
        if (id_ >= 0) close_(id_);
    }
    operator hid_t() const { return id_; }
    bool sound() const { return id_ >= 0; }

private:
    hid_t id_ = -1;
    herr_t (*close_)(hid_t) = nullptr;
};

// A short text attribute; empty where there is none.
std::string text_attribute(hid_t object, const char* name)
{
    if (H5Aexists(object, name) <= 0) return {};
    const Id attribute(H5Aopen(object, name, H5P_DEFAULT), &H5Aclose);
    if (!attribute.sound()) return {};
    const Id type(H5Aget_type(attribute), &H5Tclose);
    const Id space(H5Aget_space(attribute), &H5Sclose);
    constexpr std::size_t most = 256;
    if (!type.sound() || H5Tget_class(type) != H5T_STRING || H5Tis_variable_str(type) != 0 || !space.sound() ||
        H5Sget_simple_extent_npoints(space) != 1 || H5Tget_size(type) > most)
        return {};
    std::string text(H5Tget_size(type), '\0');
    if (H5Aread(attribute, type, text.data()) < 0) return {};
    return text.substr(0, text.find('\0'));
}

struct Chunk {
    std::array<std::uint64_t, 2> place = {}; // column, row
    std::vector<double> values = {};
};

// Where numbers lie.
struct Numbers {
    Id dataset = {};
    int rank = 0;
    std::vector<H5Z_filter_t> filters = {}; // of its chunks, in the order in which they were applied
    std::array<std::uint64_t, 2> chunk{};   // columns, rows
    std::vector<Chunk> cached = {};         // the one used last at the end
};

class V73File final : public MatFile {
public:
    V73File(OpenedFile file, std::string path) : file_(std::move(file)), path_(std::move(path))
    {
        root_.kind = MatNode::Kind::structure;
    }
    ~V73File() override
    {
        const std::lock_guard lock(library());
        numbers_.clear();
        hdf5_ = Id();
    }

    Result<void> walk()
    {
        const std::lock_guard lock(library());
        H5Eset_auto2(H5E_DEFAULT, nullptr, nullptr); // it writes to standard error
        H5PLset_loading_state(0);
        const Id access(H5Pcreate(H5P_FILE_ACCESS), &H5Pclose);
        H5Pset_file_locking(access, 0, 1);
        H5Pset_fclose_degree(access, H5F_CLOSE_STRONG);
        hdf5_ = Id(H5Fopen(path_.c_str(), H5F_ACC_RDONLY, access), &H5Fclose);
        if (!hdf5_.sound())
            return fail(
                mat_problem(path_, "its HDF5 structure is cut off or damaged: it cannot be opened", copy_again));
        const Id root(H5Oopen(hdf5_, "/", H5P_DEFAULT), &H5Oclose);
        if (auto why = walk_fields(root, 0, root_)) return fail(mat_problem(path_, *why, copy_again));
        return {};
    }

    const MatNode& variables() const override { return root_; }

    Result<void> prepare(std::span<const MatNode* const> wanted) override
    {
        most_cached_ = greatest_chunk / std::max<std::size_t>(1, wanted.size());
        return {};
    }

    Result<void> block(const MatNode& node, const MatBlock& block, std::span<double> values) override
    {
        const std::lock_guard lock(library());
        Numbers& numbers = numbers_[node.data];
        if (!numbers.filters.empty()) {
            if (chunks_into(numbers, block, values)) return {};
            return fail(unreadable_at(node, block));
        }
        const std::array<hsize_t, 2> from{static_cast<hsize_t>(block.column), static_cast<hsize_t>(block.row)};
        const std::array<hsize_t, 2> count{static_cast<hsize_t>(block.columns), static_cast<hsize_t>(block.rows)};
        const Id space(H5Dget_space(numbers.dataset), &H5Sclose);
        const hsize_t size = values.size();
        const Id memory(H5Screate_simple(1, &size, nullptr), &H5Sclose);
        // A dataset of one dimension is one column.
        const std::size_t first = numbers.rank == 1 ? 1 : 0;
        if (H5Sselect_hyperslab(space, H5S_SELECT_SET, from.data() + first, nullptr, count.data() + first, nullptr) <
                0 ||
            H5Dread(numbers.dataset, H5T_NATIVE_DOUBLE, memory, space, H5P_DEFAULT, values.data()) < 0)
            return fail(unreadable_at(node, block));
        return {};
    }

private:
    using Why = std::optional<std::string>;

    Problem unreadable_at(const MatNode& node, const MatBlock& block) const
    {
        return mat_problem(path_,
                           fmt::format("the numbers of {} cannot be read at row {}, column {}", node.name,
                                       block.row + 1, block.column + 1),
                           copy_again);
    }

    // The library takes a chunk's filters at their word and reads beyond what a damaged one inflates to. So chunks come
    // from it as they are stored, and are inflated here.
    bool chunks_into(Numbers& numbers, const MatBlock& block, std::span<double> values)
    {
        const auto rows = static_cast<std::uint64_t>(block.rows), columns = static_cast<std::uint64_t>(block.columns);
        const auto row = static_cast<std::uint64_t>(block.row), column = static_cast<std::uint64_t>(block.column);
        const auto [chunk_columns, chunk_rows] = numbers.chunk;
        for (std::uint64_t c = column / chunk_columns; c * chunk_columns < column + columns; ++c)
            for (std::uint64_t r = row / chunk_rows; r * chunk_rows < row + rows; ++r) {
                const std::vector<double>* chunk = inflated(numbers, c * chunk_columns, r * chunk_rows);
                if (chunk == nullptr) return false;
                const std::uint64_t first_row = std::max(row, r * chunk_rows);
                const std::uint64_t count = std::min(row + rows, (r + 1) * chunk_rows) - first_row;
                const std::uint64_t last_column = std::min(column + columns, (c + 1) * chunk_columns);
                for (std::uint64_t k = std::max(column, c * chunk_columns); k < last_column; ++k)
                    std::copy_n(chunk->data() + (k - c * chunk_columns) * chunk_rows + (first_row - r * chunk_rows),
                                count, values.data() + (k - column) * rows + (first_row - row));
            }
        return true;
    }

    // The numbers of a chunk, of the ones used last from memory; null where it is damaged.
    const std::vector<double>* inflated(Numbers& numbers, std::uint64_t column, std::uint64_t row)
    {
        auto& cached = numbers.cached;
        const auto found = std::ranges::find(cached, std::array{column, row}, &Chunk::place);
        if (found != cached.end()) {
            std::rotate(found, found + 1, cached.end());
            return &cached.back().values;
        }
        const std::size_t count = numbers.chunk[0] * numbers.chunk[1];
        const Id type(H5Dget_type(numbers.dataset), &H5Tclose);
        const std::size_t width = H5Tget_size(type);
        const std::array<hsize_t, 2> place{column, row};
        const hsize_t* const offset = place.data() + (numbers.rank == 1 ? 1 : 0);
        hsize_t stored = 0;
        if (H5Dget_chunk_storage_size(numbers.dataset, offset, &stored) < 0) return nullptr;
        Chunk chunk{.place = {column, row}, .values = std::vector<double>(count)};
        if (stored > 0) { // else it was never written: zeros
            if (std::cmp_greater(stored, file_.size)) return nullptr;
            std::vector<char> bytes(stored);
            std::uint32_t left_out = 0;
            if (H5Dread_chunk(numbers.dataset, H5P_DEFAULT, offset, &left_out, bytes.data()) < 0) return nullptr;
            for (std::size_t f = numbers.filters.size(); f-- > 0;)
                if ((left_out >> f & 1U) == 0 && !undo(numbers.filters[f], width, count * width, bytes)) return nullptr;
            if (bytes.size() != count * width) return nullptr;
            bytes.resize(count * sizeof(double)); // converted where it lies; a number takes at most as much
            if (H5Tconvert(type, H5T_NATIVE_DOUBLE, count, bytes.data(), nullptr, H5P_DEFAULT) < 0) return nullptr;
            std::memcpy(chunk.values.data(), bytes.data(), bytes.size());
        }
        while (!cached.empty() && (cached.size() + 1) * count * sizeof(double) > most_cached_)
            cached.erase(cached.begin());
        cached.push_back(std::move(chunk));
        return &cached.back().values;
    }

    static bool undo(H5Z_filter_t filter, std::size_t width, std::size_t whole, std::vector<char>& bytes)
    {
        if (filter == H5Z_FILTER_FLETCHER32) { // a checksum behind the rest
            if (bytes.size() < 4) return false;
            bytes.resize(bytes.size() - 4);
        } else if (filter == H5Z_FILTER_DEFLATE) {
            std::vector<char> out(whole + 4);
            auto size = static_cast<uLongf>(out.size());
            if (::uncompress(reinterpret_cast<Bytef*>(out.data()), &size, reinterpret_cast<const Bytef*>(bytes.data()),
                             static_cast<uLong>(bytes.size())) != Z_OK)
                return false;
            out.resize(size);
            bytes = std::move(out);
        } else if (width > 1) { // shuffled: the first bytes of all numbers, then the second ones, ...
            const std::size_t count = bytes.size() / width;
            std::vector<char> out(bytes); // what is over stays at the end
            for (std::size_t b = 0; b < width; ++b)
                for (std::size_t i = 0; i < count; ++i) out[i * width + b] = bytes[b * count + i];
            bytes = std::move(out);
        }
        return true;
    }

    // The members of a group, by name.
    Why walk_fields(hid_t group, int depth, MatNode& node)
    {
        node.kind = MatNode::Kind::structure;
        H5G_info_t about = {};
        if (H5Gget_info(group, &about) < 0) return damaged(node);
        if (about.nlinks > mat_most_nodes) return too_many();
        struct Links {
            std::vector<std::string> names;
            bool others = false;
        } links;
        const auto note = [](hid_t, const char* name, const H5L_info_t* info, void* to) -> herr_t {
            auto* found = static_cast<Links*>(to);
            if (found->names.size() > mat_most_nodes) return -1;
            if (info->type == H5L_TYPE_HARD) found->names.emplace_back(name);
            return 0;
        };
        if (H5Literate(group, H5_INDEX_NAME, H5_ITER_NATIVE, nullptr, note, &links) < 0) return damaged(node);
        std::ranges::sort(links.names);
        for (const std::string& name : links.names) {
            if (name.empty() || name.front() == '#') continue; // where references point to
            const Id object(H5Oopen(group, name.c_str(), H5P_DEFAULT), &H5Oclose);
            MatNode& field = node.inside.emplace_back();
            field.name = name;
            if (!object.sound()) return damaged(field);
            if (auto why = walk_object(object, depth + 1, field)) return why;
        }
        return std::nullopt;
    }

    static Why damaged(const MatNode& node)
    {
        return fmt::format("the variable {} is damaged", node.name.empty() ? "list" : node.name);
    }

    static Why too_many() { return fmt::format("it holds more than {} variables and fields", mat_most_nodes); }

    Why walk_object(hid_t object, int depth, MatNode& node)
    {
        if (++nodes_ > mat_most_nodes) return too_many();
        if (depth > mat_greatest_depth)
            return fmt::format("fields of {} lie more than {} deep", node.name, mat_greatest_depth);
        const std::string class_name = text_attribute(object, "MATLAB_class");
        node.class_name = class_name;
        const H5I_type_t kind = H5Iget_type(object);
        if (kind == H5I_GROUP) {
            if (H5Aexists(object, "MATLAB_sparse") > 0) {
                node.class_name = "sparse";
                return std::nullopt;
            }
            if (H5Aexists(object, "MATLAB_object_decode") > 0 || (!class_name.empty() && class_name != "struct"))
                return std::nullopt;
            node.class_name = "struct";
            if (auto why = walk_fields(object, depth, node)) return why;
            return as_elements(object, depth, node);
        }
        if (kind != H5I_DATASET) {
            node.class_name = "HDF5 type";
            return std::nullopt;
        }
        if (H5Aexists(object, "MATLAB_object_decode") > 0) return std::nullopt; // table, string, datetime, ...
        return walk_dataset(object, depth, node);
    }

    // A struct array: every field holds references, one an element.
    Why as_elements(hid_t group, int depth, MatNode& node)
    {
        constexpr std::string_view referring = "references";
        const bool all = !node.inside.empty() && std::ranges::all_of(node.inside, [&](const MatNode& field) {
            return field.class_name == referring;
        });
        if (!all) return std::nullopt;
        const std::vector<MatNode> fields = std::exchange(node.inside, {});
        node.kind = MatNode::Kind::list;
        for (const MatNode& field : fields) {
            const Id dataset(H5Oopen(group, field.name.c_str(), H5P_DEFAULT), &H5Oclose);
            std::vector<hobj_ref_t> references;
            if (!dataset.sound() || !references_of(dataset, references)) return damaged(node);
            if (&field == &fields.front())
                for (std::size_t i = 0; i < references.size(); ++i)
                    node.inside.push_back(
                        {.name = fmt::format("({})", i + 1), .kind = MatNode::Kind::structure, .class_name = "struct"});
            if (references.size() != node.inside.size()) return damaged(node);
            for (std::size_t i = 0; i < references.size(); ++i) {
                MatNode& inside = node.inside[i].inside.emplace_back();
                inside.name = field.name;
                if (auto why = walk_reference(dataset, references[i], depth + 1, inside)) return why;
            }
        }
        return std::nullopt;
    }

    Why walk_reference(hid_t from, const hobj_ref_t& reference, int depth, MatNode& node)
    {
        const Id object(H5Rdereference2(from, H5P_DEFAULT, H5R_OBJECT, &reference), &H5Oclose);
        if (!object.sound()) return damaged(node);
        return walk_object(object, depth + 1, node);
    }

    static bool references_of(hid_t dataset, std::vector<hobj_ref_t>& references)
    {
        const Id type(H5Dget_type(dataset), &H5Tclose);
        const Id space(H5Dget_space(dataset), &H5Sclose);
        if (!type.sound() || !space.sound() || H5Tequal(type, H5T_STD_REF_OBJ) <= 0) return false;
        const hssize_t count = H5Sget_simple_extent_npoints(space);
        if (count < 0 || std::cmp_greater(count, mat_most_nodes)) return false;
        references.resize(static_cast<std::size_t>(count));
        return count == 0 || H5Dread(dataset, H5T_STD_REF_OBJ, H5S_ALL, H5S_ALL, H5P_DEFAULT, references.data()) >= 0;
    }

    static H5Z_filter_t filter_of(hid_t made, int which)
    {
        unsigned flags = 0;
        std::size_t values = 0;
        return H5Pget_filter2(made, static_cast<unsigned>(which), &flags, &values, nullptr, 0, nullptr, nullptr);
    }

    // Whether reading stays within this file, and within bounds.
    Why why_unreadable(hid_t dataset, hid_t type, std::uint64_t count) const
    {
        const Id made(H5Dget_create_plist(dataset), &H5Pclose);
        if (!made.sound()) return "is damaged";
        const H5D_layout_t layout = H5Pget_layout(made);
        if (layout == H5D_VIRTUAL || H5Pget_external_count(made) != 0) return "lies in other files";
        std::uint64_t bytes = 0;
        if (__builtin_mul_overflow(count, std::uint64_t{H5Tget_size(type)}, &bytes))
            return "has a size that cannot be right";
        const std::uint64_t held = H5Dget_storage_size(dataset);
        const auto file_size = static_cast<std::uint64_t>(file_.size);
        if (held == 0) return "holds no numbers";
        if (held > file_size || bytes / greatest_ratio > file_size) return "is larger than the file";
        if (layout == H5D_CONTIGUOUS && bytes > held) return "is larger than what is stored of it";
        if (layout != H5D_CHUNKED) return std::nullopt;
        std::array<hsize_t, H5S_MAX_RANK> extents{};
        const int rank = H5Pget_chunk(made, static_cast<int>(extents.size()), extents.data());
        std::uint64_t chunk = H5Tget_size(type);
        for (int i = 0; i < rank; ++i)
            if (__builtin_mul_overflow(chunk, std::uint64_t{extents[static_cast<std::size_t>(i)]}, &chunk) ||
                chunk > greatest_chunk)
                return "is stored in chunks of more than 64 MB";
        for (int i = 0; i < H5Pget_nfilters(made); ++i) {
            const H5Z_filter_t filter = filter_of(made, i);
            if (filter != H5Z_FILTER_DEFLATE && filter != H5Z_FILTER_SHUFFLE && filter != H5Z_FILTER_FLETCHER32)
                return "is compressed by something other than deflate";
        }
        return std::nullopt;
    }

    Why walk_dataset(hid_t dataset, int depth, MatNode& node)
    {
        const Id type(H5Dget_type(dataset), &H5Tclose);
        const Id space(H5Dget_space(dataset), &H5Sclose);
        if (!type.sound() || !space.sound()) return damaged(node);
        const H5T_class_t kind = H5Tget_class(type);
        const int rank = H5Sget_simple_extent_ndims(space);
        std::array<hsize_t, H5S_MAX_RANK> extents{};
        if (rank < 0 || rank > H5S_MAX_RANK || H5Sget_simple_extent_dims(space, extents.data(), nullptr) < 0)
            return damaged(node);
        std::int64_t count = 1;
        for (int i = rank - 1; i >= 0; --i) {
            const hsize_t extent = extents[static_cast<std::size_t>(i)];
            if (std::cmp_greater(extent, std::numeric_limits<std::int64_t>::max()) ||
                __builtin_mul_overflow(count, static_cast<std::int64_t>(extent), &count))
                return fmt::format("the size of {} cannot be right", node.name);
            node.size.push_back(static_cast<std::int64_t>(extent));
        }
        while (node.size.size() < 2) node.size.push_back(1);
        if (H5Aexists(dataset, "MATLAB_empty") > 0 || count == 0) {
            node.class_name = "empty";
            return std::nullopt;
        }
        if (kind == H5T_REFERENCE) {
            if (node.class_name != "cell") {
                node.class_name = "references"; // as_elements() looks for it
                return std::nullopt;
            }
            std::vector<hobj_ref_t> references;
            if (!references_of(dataset, references)) return damaged(node);
            node.kind = MatNode::Kind::list;
            for (std::size_t i = 0; i < references.size(); ++i) {
                MatNode& cell = node.inside.emplace_back();
                cell.name = fmt::format("{{{}}}", i + 1);
                if (auto why = walk_reference(dataset, references[i], depth, cell)) return why;
            }
            return std::nullopt;
        }
        const bool number = kind == H5T_INTEGER || kind == H5T_FLOAT;
        if (auto why = why_unreadable(dataset, type, static_cast<std::uint64_t>(count))) {
            if (number && count > 1) return fmt::format("{} {}", node.name, *why);
            node.class_name = "unreadable value";
            return std::nullopt;
        }
        if (node.class_name == "char") return walk_text(dataset, count, node);
        if (kind == H5T_COMPOUND) {
            node.class_name = "complex " + node.class_name;
            return std::nullopt;
        }
        if (!number || node.class_name == "logical" || H5Tget_size(type) > 8) {
            if (node.class_name.empty()) node.class_name = "HDF5 type";
            return std::nullopt;
        }
        if (node.class_name.empty())
            node.class_name = fmt::format("{}{}", kind == H5T_FLOAT ? "float" : "int", 8 * H5Tget_size(type));
        node.kind = MatNode::Kind::numbers;
        node.integer = kind == H5T_INTEGER;
        node.data = numbers_.size();
        Numbers& numbers = numbers_.emplace_back();
        H5Iinc_ref(dataset);
        numbers.dataset = Id(dataset, &H5Oclose);
        numbers.rank = rank;
        const Id made(H5Dget_create_plist(dataset), &H5Pclose);
        if (rank <= 2 && H5Pget_layout(made) == H5D_CHUNKED && H5Pget_nfilters(made) > 0) {
            std::array<hsize_t, 2> chunk{1, 1};
            if (H5Pget_chunk(made, 2, chunk.data() + (rank == 1 ? 1 : 0)) != rank) return damaged(node);
            if (chunk[0] == 0 || chunk[1] == 0 || chunk[0] * chunk[1] > greatest_chunk / sizeof(double))
                return fmt::format("{} is stored in chunks of more than 64 MB", node.name);
            numbers.chunk = {chunk[0], chunk[1]};
            for (int i = 0; i < H5Pget_nfilters(made); ++i) numbers.filters.push_back(filter_of(made, i));
        }
        if (count == 1) {
            double value = 0.0;
            const MatBlock one{.rows = 1, .columns = 1};
            const bool got = numbers.filters.empty()
                                 ? H5Dread(dataset, H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, &value) >= 0
                                 : chunks_into(numbers, one, {&value, 1});
            numbers.cached.clear();
            if (!got) return damaged(node);
            node.number = value;
        }
        return std::nullopt;
    }

    static Why walk_text(hid_t dataset, std::int64_t count, MatNode& node)
    {
        node.kind = MatNode::Kind::text;
        if (count > mat_longest_text || node.size.size() != 2) return std::nullopt;
        std::vector<std::uint16_t> units(static_cast<std::size_t>(count));
        if (H5Dread(dataset, H5T_NATIVE_UINT16, H5S_ALL, H5S_ALL, H5P_DEFAULT, units.data()) < 0) return damaged(node);
        const auto rows = static_cast<std::size_t>(node.size[0]);
        const auto columns = static_cast<std::size_t>(node.size[1]);
        for (std::size_t row = 0; row < rows; ++row) {
            for (std::size_t column = 0; column < columns; ++column) {
                mat_add_utf8(node.text, units[column * rows + row]);
            }
            if (rows > 1) node.text += '\n';
        }
        return std::nullopt;
    }

    OpenedFile file_;
    std::string path_;
    Id hdf5_;
    std::size_t nodes_ = 0;
    MatNode root_;
    std::vector<Numbers> numbers_;
    std::size_t most_cached_ = std::size_t{1} << 20; // bytes of inflated chunks of each
};

} // namespace

Result<std::unique_ptr<MatFile>> open_mat_v73(OpenedFile file, const std::string& path)
{
    auto opened = std::make_unique<V73File>(std::move(file), path);
    const auto walked = opened->walk();
    if (!walked) return fail(walked.error());
    return opened;
}

} // namespace becalm::io
