#include "src/model/spectra.h"

#include <algorithm>

namespace becalm {

std::vector<double> mean_density(const ChannelSpectra& spectra, std::span<const TimeSpan> selected)
{
    std::vector<double> sum;
    double segments = 0.0;
    for (const SpectralRow& row : spectra.rows) {
        const bool inside = std::ranges::any_of(selected, [&](const TimeSpan& span) {
            return row.from_s >= span.from_s - 1e-9 && row.to_s <= span.to_s + 1e-9;
        });
        if (!inside) continue;
        sum.resize(row.density.size(), 0.0);
        for (std::size_t k = 0; k < sum.size(); ++k) sum[k] += static_cast<double>(row.density[k]) * row.segments;
        segments += row.segments;
    }
    for (double& value : sum) value /= segments;
    return sum;
}

} // namespace becalm
