// Numbers of a converter or a program as they lie in raw files and streams.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>

namespace becalm::io {

enum class RawNumbers { int16, int24, int32, float32, float64 };

inline constexpr std::array<std::string_view, 5> names_of_raw_numbers{"int16", "int24", "int32", "float32", "float64"};

std::size_t width_of(RawNumbers numbers); // bytes

// The first `count` numbers in `bytes`, into every `step`-th of `to`; all of them are there.
void numbers_from(const char* bytes, RawNumbers numbers, bool big_endian, std::size_t count, double* to,
                  std::size_t step);

} // namespace becalm::io
