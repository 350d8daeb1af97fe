#include "ui/cli/clocks.h"

#include <fmt/format.h>

namespace becalm::cli {

void show_clocks(const Console& console, const ClocksCompared& clocks)
{
    const auto lag = [&] {
        return clocks.lag_uncertainty_s ? fmt::format("{:.6f} s +- {:.2g} s", clocks.lag_s, *clocks.lag_uncertainty_s)
                                        : fmt::format("{:.6f} s", clocks.lag_s);
    };
    console.print(fmt::format("  the second has the motion {} later than the first (negative: earlier)\n", lag()));
    if (clocks.drift_ppm)
        console.print(
            fmt::format("  its clock is {:.3f} ppm +- {:.2g} ppm faster (negative: slower); +- is the standard "
                        "uncertainty\n",
                        clocks.drift_ppm->value, clocks.drift_ppm->uncertainty));
    std::string quality = fmt::format("  correlation {:.3f}", clocks.quality);
    if (!clocks.pieces.empty())
        quality += fmt::format(", {} of {:.4g} s{}, scatter about a steady clock {:.2g} s",
                               counted(std::ssize(clocks.pieces), "piece"), clocks.piece_s,
                               clocks.pieces_left_out > 0 ? fmt::format(" ({} left out)", clocks.pieces_left_out) : "",
                               clocks.scatter_s);
    console.print(quality + "\n");
}

} // namespace becalm::cli
