// Times of the clock as they are typed.
#pragma once

#include <optional>
#include <string_view>

#include "src/model/criterion.h"

namespace becalm::cli {

std::optional<int> whole(std::string_view text);
// "22:00" → minutes; up to 24:00
std::optional<int> minutes_in(std::string_view text);
// "22:00-06:00"
std::optional<ClockSpan> clock_span_in(std::string_view text);

} // namespace becalm::cli
