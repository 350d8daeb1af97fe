// Numbers in the bytes of a file, in either order of bytes.
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cstddef>
#include <cstring>

namespace becalm::io {

enum class ByteOrder { little, big };

static_assert(std::endian::native == std::endian::little || std::endian::native == std::endian::big);
inline constexpr ByteOrder native_order =
    std::endian::native == std::endian::little ? ByteOrder::little : ByteOrder::big;

// The T whose bytes begin at `bytes`; whoever calls has seen to it that sizeof(T) of them are there.
template <class T>
T number_at(const char* bytes, ByteOrder order)
{
    std::array<char, sizeof(T)> copy;
    std::memcpy(copy.data(), bytes, sizeof(T));
    if (order != native_order) std::reverse(copy.begin(), copy.end());
    return std::bit_cast<T>(copy);
}

} // namespace becalm::io
