// The inner loops, compiled once per instruction set and chosen at run time. Lanes lie side by side in one vector of W
// = 4 or 8 doubles, samples are the outer loop: row i of a block is the W lanes' sample i.
//
// Only plain loops live behind this header: nothing that could leave a wide-vector copy of a shared inline function
// behind.
#pragma once

#include <cstddef>
#include <cstdint>

namespace becalm::filters::kernel {

// One group of W lanes through the same shape of filter. Every array is [index][W].
struct Filter {
    int taps = 0, poles = 0, sections = 0;
    const double* tap = nullptr;     // [taps][W]
    const double* rho = nullptr;     // [poles][W]
    const double* residue = nullptr; // [poles][W]
    double* pole_state = nullptr;    // [poles][W]
    const double* section = nullptr; // [sections][4][W]: b1 - a1, b2 - a2, a1, a2
    double* section_state = nullptr; // [sections][2][W]
};

// Sums and running means of one group. `rows` are the weighted samples.
struct Running {
    double* sums = nullptr;   // [9][W]: sum of squares, sum of fourths, peak, prefix, linear max, linear-within max,
                              //         exponential slow, its max, then fast, its max: see RunningSlot
    double* window = nullptr; // [n + 1][W]: squares of this block so far, suffix sums of the last block beyond
    double slow = 0.0, fast = 0.0; // 1 - exp(-dt / tau)
};

enum RunningSlot {
    sum_squares,
    sum_fourths,
    peak,
    prefix,
    linear_max,
    within_max,
    slow,
    slow_max,
    fast,
    fast_max,
    running_slots
};

struct ScanResult {
    double min = 0.0, max = 0.0;
    double sum = 0.0, sum_squares = 0.0; // of x[i] - about
    std::int64_t not_finite = 0;
    std::int64_t equal_neighbours = 0; // x[i] == x[i - 1], i >= 1
    double least_step = 0.0;           // least |x[i] - x[i - 1]| that is not 0; 0 where all are
};

struct Table {
    const char* name;
    int widest; // lanes that run together at best speed: 4 or 8
    // output[i] = sum_k tap[k] input[i - k] + the real poles + the sections. Rows -(taps - 1) ... -1 of `input` must be
    // valid.
    void (*filter4)(const Filter&, const double* input, double* output, std::size_t rows);
    void (*filter8)(const Filter&, const double* input, double* output, std::size_t rows);
    // Takes `rows` samples into the sums; they must not cross the end of a ledger row nor of a window block. `position`
    // is the index of the first within its window block; `within` says whether windows ending here lie wholly in the
    // ledger row.
    void (*running4)(const Running&, const double* samples, std::size_t rows, std::size_t position, bool within);
    void (*running8)(const Running&, const double* samples, std::size_t rows, std::size_t position, bool within);
    // Turns the squares of a full window block into suffix sums.
    void (*suffix4)(double* window, std::size_t rows);
    void (*suffix8)(double* window, std::size_t rows);

    // One lane in `widest` stretches of time side by side (filters/stretches.h), W = widest.
    // to[i][j] = x[j length + i]
    void (*spread)(const double* x, std::size_t length, double* to);
    // sums[k][j] = sum over i of factors[i][k] rows[i][j]
    void (*weigh)(const double* rows, const double* factors, std::size_t count, std::size_t n, double* sums);
    // ends[s][j] += sum over k of basis[s][k] sums[k][j]; without a basis ends[s][j] += sums[s][j].
    void (*combine)(const double* basis, const double* sums, std::size_t rank, std::size_t states, double* ends);
    // start[.][j] = carry start[.][j - 1] + ends[.][j - 1] for j >= 1; carry is [states][padded], column by column.
    // `states` is even, `padded` the next multiple of W, 64 at most.
    void (*carry)(const double* carry, std::size_t states, std::size_t padded, const double* ends, double* start);
    // to[j length + i][lane] = lanes[lane][i][j]; 0 for the lanes from `count` to `width`, which is 4 or W.
    void (*merge)(const double* const* lanes, std::size_t count, std::size_t width, std::size_t length, double* to);
    // to[i][lane] = lanes[lane][i], as above.
    void (*interleave)(const double* const* lanes, std::size_t count, std::size_t width, std::size_t rows, double* to);

    // One channel out of `width`: to[i] = scale frames[i width], i < count.
    void (*channel)(const double* frames, std::size_t width, double scale, double* to, std::size_t count);
    // `about` keeps the digits of a small motion on a great offset.
    ScanResult (*scan)(const double* values, std::size_t count, double about);
    double (*sum_about)(const double* values, std::size_t count, double about);
    // Of each stretch of `length` samples in turn the sum of squares of its second differences. One sample before the
    // first stretch and one behind the last must be valid.
    void (*bends)(const double* values, std::size_t length, std::size_t stretches, double* sums);

    // Spectra. Interleaved: real and imaginary part of bin after bin.
    double (*sum)(const double* values, std::size_t count);
    // to[i] = (values[i] - mean) window[i]
    void (*windowed)(const double* values, double mean, const double* window, double* to, std::size_t count);
    // sums[k] += |X_k|^2
    void (*add_powers)(const double* interleaved, double* sums, std::size_t bins);
    // The same, and the greatest and the least |X_k|^2 so far.
    void (*hold_powers)(const double* interleaved, double* sums, double* greatest, double* least, std::size_t bins);
};

extern const Table baseline;
#if defined(BECALM_X86_KERNELS)
extern const Table avx2;
extern const Table avx512;
#endif

// The best one this processor runs; BECALM_KERNEL=baseline|avx2|avx512 in the environment asks for a lesser one.
const Table& chosen();

} // namespace becalm::filters::kernel
