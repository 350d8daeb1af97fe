// Writing channels of a recording as a universal file: dataset 164 (SI), then a time response a channel in dataset 58b,
// double precision, little-endian [Universal File Formats, dataset 58 / 58b, SDRC; definition published by the
// University of Cincinnati Structural Dynamics Research Laboratory]. Whole or not at all; an existing file is never
// touched. Memory does not grow.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/base/units.h"
#include "src/io/atomic_file.h"

namespace becalm::io {

struct UffChannel {
    std::string name = {}; // the first identification line; may be empty
    int node = 1;          // of the response
    std::string axis = {}; // "x", "y", "z", "rx", "ry", "rz"; empty: no direction
    Motion motion = Motion::acceleration;
    bool rotates = false;
};

struct UffLayout {
    double rate_hz = 0.0;    // > 0
    std::int64_t frames = 0; // of every channel, 1 to 2,147,483,647
    double from_s = 0.0;     // the abscissa of the first
    std::string title = {};  // the second identification line; may be empty
    std::string start = {};  // ISO 8601; becomes the third, to the second; may be empty
    std::vector<UffChannel> channels = {};
};

class UffWriter {
public:
    static Result<UffWriter> create(const std::string& path, UffLayout layout);

    // Values in SI, channel behind channel: all of the first, then all of the second, in pieces of any length. After a
    // failure they are let pass; finish() tells it.
    void add(std::span<const double> values);
    // Refuses where the layout promised more or fewer values.
    Result<void> finish();

private:
    UffWriter(std::string path, UffLayout layout, std::unique_ptr<AtomicFile> file);
    void begin_channel();
    void append(std::string_view bytes);

    std::string path_;
    UffLayout layout_;
    std::unique_ptr<AtomicFile> file_;
    std::size_t channel_ = 0;
    std::int64_t written_ = 0; // of this channel
    Result<void> state_ = {};
};

// What a reader makes of the rate, of which the file keeps the sampling interval to seven digits.
double rate_kept_by_uff(double rate_hz);

} // namespace becalm::io
