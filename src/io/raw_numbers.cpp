#include "src/io/raw_numbers.h"

#include "src/io/raw_bytes.h"

namespace becalm::io {
namespace {

template <class T>
void take(const char* bytes, ByteOrder order, std::size_t count, double* to, std::size_t step)
{
    // Apart, so that the usual order is a copy and a conversion.
    if (order == native_order)
        for (std::size_t i = 0; i < count; ++i)
            to[i * step] = static_cast<double>(number_at<T>(bytes + i * sizeof(T), native_order));
    else
        for (std::size_t i = 0; i < count; ++i)
            to[i * step] = static_cast<double>(number_at<T>(bytes + i * sizeof(T), order));
}

} // namespace

std::size_t width_of(RawNumbers numbers)
{
    constexpr std::array<std::size_t, 5> widths{2, 3, 4, 4, 8};
    return widths[static_cast<std::size_t>(numbers)];
}

void numbers_from(const char* bytes, RawNumbers numbers, bool big_endian, std::size_t count, double* to,
                  std::size_t step)
{
    const ByteOrder order = big_endian ? ByteOrder::big : ByteOrder::little;
    switch (numbers) {
    case RawNumbers::int16: return take<std::int16_t>(bytes, order, count, to, step);
    case RawNumbers::int24:
        for (std::size_t i = 0; i < count; ++i) {
            const char* const at = bytes + i * 3;
            std::array<char, 4> four{0, at[0], at[1], at[2]}; // in the upper three bytes, so that the sign is right
            if (big_endian) four = {at[0], at[1], at[2], 0};
            to[i * step] = number_at<std::int32_t>(four.data(), order) / 256.0;
        }
        return;
    case RawNumbers::int32: return take<std::int32_t>(bytes, order, count, to, step);
    case RawNumbers::float32: return take<float>(bytes, order, count, to, step);
    case RawNumbers::float64: return take<double>(bytes, order, count, to, step);
    }
}

} // namespace becalm::io
