// What a plot shows at a place: for the readout under a cursor. In the unit of the data.
#pragma once

#include <optional>

#include "ui/figures/figure.h"

namespace becalm::figures {

// Of the first series that has a value there: that of the nearest point of a line (no further than the points are
// apart), that of the step or bar. Bands have none.
std::optional<double> curve_value(const Plot& plot, double x);

// Of the cell of the heat map.
std::optional<double> cell_value(const Plot& plot, double x, double y);

} // namespace becalm::figures
