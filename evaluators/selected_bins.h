// Bins of a motion that lie wholly inside a selected span.
#pragma once

#include <optional>
#include <span>

#include "evaluators/quantity.h"

namespace becalm::evaluators {

std::span<const MotionBin> bins_inside(const MotionSeries& series, const TimeSpan& span);

// Why nothing can be read from the bins of an acceleration: another motion was recorded, or too slowly for bins.
std::optional<Problem> no_acceleration_bins(const QuantityArguments& arguments);

} // namespace becalm::evaluators
