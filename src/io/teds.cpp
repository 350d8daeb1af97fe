#include "src/io/teds.h"

#include <algorithm>
#include <cstdint>

#include <fmt/format.h>

#include "src/io/regular_file.h"

namespace becalm::io {

Result<BasicTeds> basic_teds(std::string_view hex)
{
    const auto refuse = [](std::string what) {
        return fail({.what = "the data sheet of a transducer (TEDS) " + std::move(what),
                     .remedy = "state the serial number in the survey instead"});
    };
    constexpr int bytes_needed = 8;
    std::uint64_t bits = 0;
    int digits = 0;
    bool all_zero = true, all_ones = true;
    for (std::size_t i = 0; i < hex.size(); ++i) {
        const char c = hex[i];
        if (c == ' ' || c == ':' || c == '-' || c == '\t') {
            if (digits % 2 != 0) return refuse("holds half a byte");
            continue;
        }
        if (digits % 2 == 0 && c == '0' && i + 1 < hex.size() && (hex[i + 1] == 'x' || hex[i + 1] == 'X')) {
            ++i;
            continue;
        }
        int digit = 0;
        if (c >= '0' && c <= '9')
            digit = c - '0';
        else if (c >= 'a' && c <= 'f')
            digit = c - 'a' + 10;
        else if (c >= 'A' && c <= 'F')
            digit = c - 'A' + 10;
        else
            return refuse("is not hexadecimal text");
        if (digits < 2 * bytes_needed) {
            // The high half of a byte comes first, the bytes from the lowest on.
            const int place = digits / 2 * 8 + (digits % 2 == 0 ? 4 : 0);
            bits |= static_cast<std::uint64_t>(digit) << place;
            all_zero = all_zero && digit == 0;
            all_ones = all_ones && digit == 15;
        }
        ++digits;
    }
    if (digits % 2 != 0) return refuse("holds half a byte");
    if (digits < 2 * bytes_needed) return refuse(fmt::format("has {} bytes where 8 are needed", digits / 2));
    if (all_zero || all_ones) return refuse("is empty");
    const auto take = [&](int count) {
        const auto value = static_cast<int>(bits & ((std::uint64_t{1} << count) - 1));
        bits >>= count;
        return value;
    };
    BasicTeds teds;
    teds.manufacturer = take(14);
    teds.model = take(15);
    const int letter = take(5);
    teds.version_letter = letter >= 1 && letter <= 26 ? static_cast<char>('A' + letter - 1) : ' ';
    teds.version = take(6);
    teds.serial = take(24);
    return teds;
}

Result<ChannelFacts> facts_from_teds(std::string_view hex)
{
    const Result<BasicTeds> teds = basic_teds(hex);
    if (!teds) return tl::unexpected(teds.error());
    std::string version;
    if (teds->version_letter != ' ') version = fmt::format(" {}{}", teds->version_letter, teds->version);
    return ChannelFacts{.sensor = fmt::format("manufacturer {}, model {}{}", teds->manufacturer, teds->model, version),
                        .serial = fmt::format("{}", teds->serial)};
}

Result<BasicTeds> teds_in_file(const std::string& path)
{
    constexpr std::int64_t longest = 4096;
    const auto fault = [&](Problem problem) {
        problem.file = path;
        return tl::unexpected(std::move(problem));
    };
    auto opened = open_regular_file(path);
    if (!opened) return tl::unexpected(opened.error());
    if (opened->size > longest)
        return fault({.what = fmt::format("has {} bytes, which is no data sheet of a transducer (TEDS)", opened->size),
                      .remedy = "name the file that was read out of the sensor"});
    std::string bytes(static_cast<std::size_t>(opened->size), '\0');
    const auto got = read_bytes(opened->handle, path, bytes);
    if (!got) return tl::unexpected(got.error());
    bytes.resize(*got);
    std::string text = bytes;
    std::ranges::replace_if(
        text, [](char c) { return c == '\n' || c == '\r'; }, ' ');
    const bool is_text = text.find_first_not_of("0123456789abcdefABCDEFxX :-\t") == std::string::npos;
    if (!is_text) {
        text.clear();
        for (const char byte : bytes) text += fmt::format("{:02x}", static_cast<unsigned char>(byte));
    }
    auto teds = basic_teds(text);
    if (!teds) return fault(teds.error());
    return teds;
}

void read_sheets(RecordingInfo& info)
{
    for (std::size_t c = 0; c < info.facts.size(); ++c) {
        ChannelFacts& facts = info.facts[c];
        if (facts.teds.empty()) continue;
        const auto told = facts_from_teds(facts.teds);
        if (!told) {
            info.remarks.push_back(fmt::format("Of channel {} {}.", c + 1, told.error().what));
            continue;
        }
        if (facts.sensor.empty()) facts.sensor = told->sensor;
        if (facts.serial.empty()) facts.serial = told->serial;
    }
}

} // namespace becalm::io
