// One lane of a block in W stretches of time that run side by side, W being the width of the kernel's vectors: slot j
// of row i is sample j length + i of the block. A vector is then full and of one shape of filter whatever lanes there
// are.
//
// That is exact, not a run-in: the filter is linear, so the state at the end of a stretch is
//     carry (state at its beginning) + sum over its rows of factors[row] input[row]
// with the matrix and the factors found once, in long double, for an error in them would be in every block alike. The
// second state of a section is counted as the sum of both: where poles are slow the two are nearly opposite, and what
// matters is the little that remains. The states at the beginnings follow one from the other, and from there each
// stretch runs as one that was reached sample by sample.
//
// The factors of a row are as many as the filter has states; further from the end, where the fast ones have forgotten,
// fewer combinations of them say the same to 1e-15 (a pivoted QR finds them). So this costs some 11 products a sample
// beside the 46 of Wk at 1 kHz and takes 0.6 ms to find; three lanes that would fill three eighths of a vector run in
// 0.6 of the time.
#pragma once

#include <cstddef>
#include <memory>
#include <vector>

#include "filters/aligned_buffer.h"
#include "filters/digital_design.h"

namespace becalm::filters {

struct Stretches {
    static constexpr std::size_t most_states = 64;

    std::size_t length = 0; // rows of a stretch
    int taps = 0, poles = 0, sections = 0;
    std::size_t states = 0, padded = 0; // poles, then both of each section; the next multiple of W
    AlignedBuffer tap = {}, rho = {}, residue = {},
                  section = {}; // as kernel::Filter takes them, the same in every slot

    // States at the end by rows [from, from + rows), which begin at -(taps - 1).
    struct Piece {
        std::ptrdiff_t from = 0;
        std::size_t rows = 0, rank = 0;
        AlignedBuffer factors = {}; // [rows][rank]
        AlignedBuffer basis = {};   // [states][rank]; empty: the sums are the states themselves
    };
    std::vector<Piece> pieces = {};
    AlignedBuffer carry = {}; // [states][padded], column by column
};

// Found once a process for a weighting and a length. Thread safe. `length` is at least 64.
std::shared_ptr<const Stretches> stretches_of(const std::shared_ptr<const DigitalWeighting>& weighting,
                                              std::size_t length);

} // namespace becalm::filters
