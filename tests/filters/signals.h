// Signals for the witnesses, and the shortest way from one to a ledger.
#pragma once

#include <algorithm>
#include <cstdint>
#include <vector>

#include "filters/row_accumulator.h"

namespace becalm::filters::tests {

using Signal = std::vector<double>;

// Evenly spread over -1 ... 1; the same for the same seed on every machine.
inline Signal noise(std::size_t count, std::uint64_t seed)
{
    Signal signal(count);
    std::uint64_t state = seed * 0x9E3779B97F4A7C15ULL + 1;
    for (double& x : signal) {
        state = state * 6364136223846793005ULL + 1442695040888963407ULL;
        x = static_cast<double>(state >> 11) * 0x1p-53 * 2.0 - 1.0;
    }
    return signal;
}

// The ledger of a signal that is not weighted, taken in blocks of `block` samples.
inline Ledger ledger_of(const Signal& signal, double rate_hz, std::int64_t first_second = 0, std::size_t block = 997)
{
    constexpr int width = 4;
    RowAccumulator accumulator(width, 1, rate_hz, first_second);
    AlignedBuffer rows(block * width);
    for (std::size_t done = 0; done < signal.size(); done += block) {
        const std::size_t count = std::min(block, signal.size() - done);
        for (std::size_t i = 0; i < count; ++i) rows[i * width] = signal[done + i];
        accumulator.add(rows.data(), count);
    }
    accumulator.finish();
    return {.lane = {}, .rate_hz = rate_hz, .first_second = first_second, .rows = accumulator.rows_of(0)};
}

} // namespace becalm::filters::tests
