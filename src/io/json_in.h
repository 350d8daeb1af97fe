// Numbers out of JSON that somebody else may have written.
#pragma once

#include <limits>
#include <stdexcept>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace becalm::io {

/// The whole number that `value` holds. nlohmann's get<int>() wraps a whole number beyond an int around and is
/// undefined for any other one beyond it. Throws what the parser throws for a value that is no number,
/// std::out_of_range for another.
inline int int_in(const nlohmann::json& value)
{
    const double number = value.get<double>();
    if (number >= std::numeric_limits<int>::min() && number <= std::numeric_limits<int>::max())
        if (const int whole = static_cast<int>(number); whole == number) return whole;
    throw std::out_of_range(fmt::format("{} is no whole number that can be meant", value.dump()));
}

} // namespace becalm::io
