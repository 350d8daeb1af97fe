// The ledger's definition (src/model/ledger.h) spelt out as double loops over the samples: slow and plain, to hold the
// fast code against. Nothing here is shared with it.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

#include "src/model/ledger.h"

namespace becalm::tests {

// `samples[0]` is sample 0 of second 0.
inline std::vector<LedgerRow> naive_rows(const std::vector<double>& samples, double rate_hz)
{
    const auto window = std::max<std::int64_t>(1, std::llround(rate_hz));
    const auto count = static_cast<std::int64_t>(samples.size());
    const auto square = [&](std::int64_t i) {
        return i < 0 ? 0.0 : samples[static_cast<std::size_t>(i)] * samples[static_cast<std::size_t>(i)];
    };
    const auto linear = [&](std::int64_t last) { // window of samples last - window + 1 ... last
        double sum = 0.0;
        for (std::int64_t i = last - window + 1; i <= last; ++i) sum += square(i);
        return std::sqrt(sum / static_cast<double>(window));
    };
    const auto exponential = [&](std::int64_t last, double tau_s) {
        // Kernel (1 - exp(-dt/tau)) exp(-k dt/tau), k samples back.
        const double step = 1.0 / (rate_hz * tau_s);
        double sum = 0.0;
        for (std::int64_t i = 0; i <= last; ++i) sum += std::exp(-static_cast<double>(last - i) * step) * square(i);
        return std::sqrt((1.0 - std::exp(-step)) * sum);
    };

    std::vector<LedgerRow> rows;
    std::int64_t i = 0;
    for (std::int64_t second = 0; i < count; ++second) {
        LedgerRow row;
        const std::int64_t begin = i;
        // Sample i lies at i / rate; a sample on the second to rounding belongs to it.
        for (; i < count && static_cast<double>(i) < static_cast<double>(second + 1) * rate_hz - 1e-6; ++i) {
            ++row.samples;
            row.sum_squares += square(i);
            row.sum_fourths += square(i) * square(i);
            row.peak = std::max(row.peak, std::abs(samples[static_cast<std::size_t>(i)]));
            row.linear_rms = std::max(row.linear_rms, linear(i));
            if (i - window + 1 >= begin) row.linear_rms_within = std::max(row.linear_rms_within, linear(i));
            row.exponential_rms_slow = std::max(row.exponential_rms_slow, exponential(i, 1.0));
            row.exponential_rms_fast = std::max(row.exponential_rms_fast, exponential(i, 0.125));
        }
        if (row.samples < window) row.linear_rms_within = std::sqrt(row.sum_squares / static_cast<double>(window));
        rows.push_back(row);
    }
    return rows;
}

} // namespace becalm::tests
