// Decimal numbers as text, correctly rounded to the last bit.
//
// Up to 2^53 and 10^22 both the digits and the power of ten are exact doubles, so one multiplication or division rounds
// once, and correctly [W. D. Clinger, How to read floating point numbers accurately, PLDI 1990]. Nearly all numbers of
// recorders are of that kind. The others go to std::from_chars, which is correct and several times as slow.
#pragma once

#include <array>
#include <cfloat>
#include <charconv>
#include <cstddef>
#include <cstdint>

namespace becalm::io {

// No point: nothing of a line is one.
inline constexpr char no_point = '\n';

// What the fast way leaves: many digits, great powers, "nan" and "inf", and what is no number. As parse_decimal.
const char* parse_any_decimal(const char* at, const char* end, char point, double& value);

// The number that begins at `at`, written with the decimal sign `point` ('.', ',' or no_point); a plus sign is allowed.
// Returns the place after it, or nullptr where there is none that a double can hold. A decimal comma wants a digit
// behind it.
inline const char* parse_decimal(const char* const at, const char* const end, char point, double& value)
{
    static_assert(FLT_EVAL_METHOD == 0, "doubles must be rounded as doubles");
    constexpr std::array<double, 23> powers{1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                            1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    constexpr std::uint64_t exact = std::uint64_t{1} << 53;
    constexpr std::ptrdiff_t digits_of_64_bits = 19;
    const char* p = at;
    const bool negative = p < end && *p == '-';
    if (negative || (p < end && *p == '+')) ++p;
    const auto digit = [](char c) { return static_cast<unsigned>(static_cast<unsigned char>(c)) - '0'; };
    std::uint64_t mantissa = 0;
    const char* const first = p;
    while (p < end && digit(*p) < 10) mantissa = mantissa * 10 + digit(*p++);
    std::ptrdiff_t digits = p - first;
    int exponent = 0;
    if (p < end && *p == point) {
        const char* const decimals = ++p;
        while (p < end && digit(*p) < 10) mantissa = mantissa * 10 + digit(*p++);
        if (p == decimals) return parse_any_decimal(at, end, point, value);
        digits += p - decimals;
        exponent = -static_cast<int>(p - decimals);
    }
    if (digits == 0 || digits > digits_of_64_bits) return parse_any_decimal(at, end, point, value);
    if (p < end && (*p == 'e' || *p == 'E')) {
        const char* e = p + 1;
        const bool down = e < end && *e == '-';
        if (down || (e < end && *e == '+')) ++e;
        const char* const begin = e;
        int stated = 0;
        while (e < end && digit(*e) < 10 && e - begin < 4) stated = stated * 10 + static_cast<int>(digit(*e++));
        if (e == begin || (e < end && digit(*e) < 10)) return parse_any_decimal(at, end, point, value);
        exponent += down ? -stated : stated;
        p = e;
    }
    if (mantissa > exact || exponent < -22 || exponent > 22) return parse_any_decimal(at, end, point, value);
    const auto whole = static_cast<double>(mantissa);
    const double size = exponent < 0 ? whole / powers[static_cast<std::size_t>(-exponent)]
                                     : whole * powers[static_cast<std::size_t>(exponent)];
    value = negative ? -size : size;
    return p;
}

} // namespace becalm::io
