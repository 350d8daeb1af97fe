// Hours of a day and days as text, as criteria and questions write them.
#pragma once

#include <chrono>
#include <string>
#include <vector>

#include "src/model/criterion.h"

namespace becalm {

std::string clock_text(const ClockSpan& hours);              // "22:00-06:00"
std::string clock_text(const std::vector<ClockSpan>& hours); // "07:00-09:00, 17:00-19:00"
std::string date_text(std::chrono::sys_days day);            // "2026-03-14" [ISO 8601-1]

} // namespace becalm
