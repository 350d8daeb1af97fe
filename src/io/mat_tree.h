// The variables of a MATLAB file as a tree, whichever of its two kinds it is: version 5 (also written by versions 6 and
// 7, src/io/mat_v5.cpp) or version 7.3, which is HDF5 (src/io/mat_v73.cpp). src/io/mat_reader.cpp finds the recordings
// in it.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/io/regular_file.h"

namespace becalm::io {

struct MatNode {
    enum class Kind {
        numbers,   // real, dense
        text,      // char array
        structure, // `inside` are its fields
        list,      // cells or the elements of a struct array: `inside` are they, named "{1}" or "(1)"
        other      // nothing a recording could be made of: `class_name` says what
    };

    std::string name = {};
    Kind kind = Kind::other;
    std::string class_name = {};         // "double", "int16", "complex double", "sparse", "table", ...
    bool integer = false;                // of class int8 ... uint64
    std::vector<std::int64_t> size = {}; // as MATLAB gives it: rows, columns, ...; empty for what has none
    std::optional<double> number = {};   // of a single number
    std::string text = {};               // of a short char array, in UTF-8; rows end with a line feed
    std::vector<MatNode> inside = {};
    std::size_t data = 0; // of numbers: which they are, for MatFile
};

// No file is read further in than this, nor for more variables, fields and cells altogether.
inline constexpr int mat_greatest_depth = 16;
inline constexpr std::size_t mat_most_nodes = 20'000;
// Longer char arrays are no names, units or dates.
inline constexpr std::int64_t mat_longest_text = 4096;

// Columns [column, column + columns) of rows [row, row + rows).
struct MatBlock {
    std::int64_t row = 0;
    std::int64_t rows = 0;
    std::int64_t column = 0;
    std::int64_t columns = 0;
};

class MatFile {
public:
    virtual ~MatFile() = default;

    // A structure whose fields are the variables. Its address and those of all nodes stay.
    virtual const MatNode& variables() const = 0;

    // Makes these numbers ready to be read block by block; called before block(), as often as need be.
    virtual Result<void> prepare(std::span<const MatNode* const> numbers) = 0;

    // Fills `values` column by column. The block lies within the array.
    virtual Result<void> block(const MatNode& numbers, const MatBlock& block, std::span<double> values) = 0;
};

// Adds a character of the basic plane in UTF-8.
void mat_add_utf8(std::string& text, std::uint32_t code);

Problem mat_problem(const std::string& path, std::string what, std::string remedy);

// `file` is an open file of this kind.
Result<std::unique_ptr<MatFile>> open_mat_v5(OpenedFile file, const std::string& path);
Result<std::unique_ptr<MatFile>> open_mat_v73(OpenedFile file, const std::string& path);

} // namespace becalm::io
