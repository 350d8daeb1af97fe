// The basic part of a transducer's electronic data sheet [IEEE 1451.4, from memory]: 64 bits, the least significant bit
// of the first byte first:
//   manufacturer 14 bits, model 15 bits, version letter 5 bits (A = 1), version number 6 bits, serial number 24 bits
// Templates behind it (sensitivity, date of calibration) are not read. Files carry it as hexadecimal text; the check
// sum of a memory page is not part of it.
#pragma once

#include <string>
#include <string_view>

#include "src/base/problem.h"
#include "src/io/recording_reader.h"

namespace becalm::io {

struct BasicTeds {
    int manufacturer = 0; // number of the standard's list, which is not part of this program
    int model = 0;
    char version_letter = ' '; // 'A' to 'Z', blank where there is none
    int version = 0;
    int serial = 0;
};

// Hexadecimal text of 8 bytes or more; blanks, colons, dashes and "0x" between bytes do not count. A Problem: other
// characters, half a byte, fewer than 8 bytes, nothing but zeros or ones (an empty or missing memory).
Result<BasicTeds> basic_teds(std::string_view hex);

// The same as what a file says of a sensor: `sensor` ("manufacturer 17, model 288 B1") and `serial`.
Result<ChannelFacts> facts_from_teds(std::string_view hex);

// The same of a file that holds the bytes themselves, or such text. The file is short: 8 bytes to 4 KiB.
Result<BasicTeds> teds_in_file(const std::string& path);

// Fills in what the data sheets of a recording's channels say and the file does not say otherwise (sensor, serial);
// those that cannot be read are remarked upon.
void read_sheets(RecordingInfo& info);

} // namespace becalm::io
