// Reading a recording, whatever its format: sniffed by content, streamed in blocks, constant memory.
//
// A reader hands out the stored values times nothing: full scale of integer PCM counts as 1.0, text and float files as
// they are. Scale and unit belong to whoever says where the sensor was (survey or command line).
//
// One format, one file: src/io/audio_reader.cpp (WAV, RF64, W64, FLAC), src/io/text_reader.cpp (delimited text), ...
// Samples that are in memory already are read by src/io/memory_reader.cpp.
//
// Some formats hold several recordings in one file (variables of a .mat file, groups, stretches between gaps): its
// parts. A part is named after the file: "run.mat#deck3". Where a file holds one recording alone its part need not be
// named.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "src/base/problem.h"

namespace becalm::io {

// What a file says of the sensor on one of its channels. Nothing here changes a value: it is held against the survey.
struct ChannelFacts {
    std::string unit = {};            // of stored value x scale, as the file states it, may be empty
    std::optional<double> scale = {}; // a stored 1.0 is `scale` of `unit`; where the file states it for stored counts
    std::string sensor = {};          // make and model in the file's words, may be empty
    std::string serial = {};          // of the sensor, may be empty
    std::string sensitivity = {};     // "10.2 mV/(m/s2)", as the file states it, may be empty
    std::string calibrated = {};      // ISO 8601 date, may be empty
    std::string direction = {};       // of motion, as the file states it: "+z", "12 -X", may be empty
    std::string teds = {};            // the sensor's electronic data sheet as hexadecimal text (src/io/teds.h)
};

// Where a file that holds this recording goes on without it: seconds from its first sample (below 0: before it).
struct TimeGap {
    double at_s = 0.0;
    double lasts_s = 0.0;
};

// A rate that follows from times in the file, beside the one that it states and that is taken.
struct TimedRate {
    double hz = 0.0;
    double relative = 0.0; // how sure it is: half the resolution of the times over their span
    std::string by = {};   // "the times of its records"; empty: the file has no times beside its rate
};

struct RecordingInfo {
    std::string format = {};               // "WAV, 24-bit integer", "delimited text", ...
    double rate_hz = 0.0;                  // > 0
    int channels = 0;                      // >= 1
    std::int64_t frames = 0;               // samples a channel, as found in the file
    bool integer_pcm = false;              // integers of a converter, which mean nothing without a scale
    double step = 0.0;                     // one quantisation step where integer_pcm, else 0: below 1 where full scale
                                           // counts as 1.0 (audio files), 1 where one count does
    bool seekable = true;                  // seek() is cheap
    std::vector<std::string> names = {};   // of the channels, where the file has them (may be empty)
    std::string unit = {};                 // as the file states it, may be empty
    std::string start = {};                // ISO 8601, as the file states it, may be empty
    std::vector<ChannelFacts> facts = {};  // one a channel, or empty where the file says nothing of its channels
    std::vector<std::string> remarks = {}; // what a careful reader of this file should know, a sentence each
    std::string resampled = {};            // how and how well, where the values were put onto an even grid of time
    std::vector<std::string> files = {};   // further files the samples come from, as a description in their folder
                                           // (src/io/description_reader.h) names them
    TimedRate timed_rate = {};
    std::vector<TimeGap> gaps = {};
};

class RecordingReader {
public:
    virtual ~RecordingReader() = default;

    virtual const RecordingInfo& info() const = 0;

    // Reads up to values.size() / channels frames, interleaved. Returns the frames read; 0 at the end.
    // A Problem names the line and column (text) or the frame (binary) that could not be read.
    virtual Result<std::size_t> read(std::span<double> values) = 0;

    // Next read() starts at this frame (0 <= frame <= frames).
    virtual Result<void> seek(std::int64_t frame) = 0;
};

// What a stored 1.0 of integer_pcm is: "full scale" or "one count".
std::string_view one_of(const RecordingInfo& info);

// Samples that a program holds, read where they lie like those of a file that holds numbers as they are. They must stay
// where they are, and what they are, for as long as somebody reads them.
struct SamplesInMemory {
    double rate_hz = 0.0;              // > 0, at most 1e9
    std::int64_t frames = 0;           // samples a channel, >= 1
    int channels = 1;                  // >= 1
    const std::byte* first = nullptr;  // of the first channel
    std::ptrdiff_t frame_stride = 0;   // bytes from one sample to the next of its channel, and
    std::ptrdiff_t channel_stride = 0; // to that of the next channel; may be negative
    bool single_precision = false;     // float, else double, in the byte order of the machine
};

struct ReadOptions {
    std::optional<double> rate_hz = {};                  // for text without a rate of its own
    std::string part = {};                               // which recording of the file; empty: the only one
    std::optional<double> resample_hz = {};              // of text whose times are not even; refused for anything else
    std::shared_ptr<const SamplesInMemory> samples = {}; // read these and no file; the path is what they are called
};

// One of several recordings in a file.
struct RecordingPart {
    std::string name = {}; // as it stands behind the #; unique within the file, no line ends
    std::string says = {}; // "3 channels, 1000 Hz, 600 s", or why it cannot be read
};

// The rule for files with parts, the same in every format: no part asked for and one there: that one; several there: a
// Problem that lists them ("holds 3 recordings: a (3 channels, 1000 Hz), b (...), ..."; "name one: FILE#a"); asked for
// one that is not there: a Problem that lists them. `wanted` is ReadOptions::part. Returns the index of the part.
Result<std::size_t> chosen_part(const std::string& path, std::span<const RecordingPart> parts,
                                const std::string& wanted);

// Opens by content, never by name alone. `path` may name a part ("run.mat#deck3"; src/io/recording_path.h), which then
// goes before ReadOptions::part. The file must not be empty, must hold at least one frame, must have one rate.
Result<std::unique_ptr<RecordingReader>> open_recording(const std::string& path, const ReadOptions& options = {});

// The recordings of a file by name, where its format can hold several; empty for every other format. A file that cannot
// be opened at all is a Problem; a recording in it that cannot be read says so in `says`.
Result<std::vector<RecordingPart>> parts_of(const std::string& path);

// One per format; nullptr where the content is not of this format. `path` is the file, without a part.
Result<std::unique_ptr<RecordingReader>> open_memory(const std::string& path,
                                                     const ReadOptions& options); // of options.samples, which there are
Result<std::unique_ptr<RecordingReader>> open_audio(const std::string& path, const ReadOptions& options = {});
Result<std::unique_ptr<RecordingReader>> open_uff(const std::string& path, const ReadOptions& options);
Result<std::unique_ptr<RecordingReader>> open_miniseed(const std::string& path, const ReadOptions& options);
Result<std::unique_ptr<RecordingReader>> open_sac(const std::string& path, const ReadOptions& options = {});
Result<std::vector<RecordingPart>> parts_of_uff(const std::string& path);
Result<std::vector<RecordingPart>> parts_of_miniseed(const std::string& path);
Result<std::unique_ptr<RecordingReader>> open_mat(const std::string& path, const ReadOptions& options);
Result<std::vector<RecordingPart>> parts_of_mat(const std::string& path);
Result<std::unique_ptr<RecordingReader>> open_tdms(const std::string& path, const ReadOptions& options);
Result<std::vector<RecordingPart>> parts_of_tdms(const std::string& path);
Result<std::unique_ptr<RecordingReader>> open_description(const std::string& path, const ReadOptions& options);
Result<std::unique_ptr<RecordingReader>> open_text(const std::string& path, const ReadOptions& options);

// A file whose bytes decide what is read of a recording.
struct RecordingFile {
    std::string path = {};
    std::string name = {}; // of the recording's own file without folders; of others as the description names them
};

// The recording's own file, then those that it names where it is a description. Whether they are there is not looked
// at. `path` may name a part.
Result<std::vector<RecordingFile>> files_of_recording(const std::string& path);

// File names that a folder scan takes for recordings (ending only; open_recording decides).
bool looks_like_a_recording(const std::string& path);

} // namespace becalm::io
