// Bins of a motion that lie wholly inside a selected span.
#pragma once

#include <span>

#include "src/model/motion.h"
#include "src/model/span.h"

namespace becalm::evaluators {

std::span<const MotionBin> bins_inside(const MotionSeries& series, const TimeSpan& span);

} // namespace becalm::evaluators
