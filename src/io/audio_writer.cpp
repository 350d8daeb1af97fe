#include "src/io/audio_writer.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <limits>
#include <memory>
#include <optional>
#include <sndfile.h>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "src/io/atomic_file.h"

namespace becalm::io {

namespace {

constexpr double half_of_the_steps = 0x1p23;

Problem bad_call(const std::string& path, std::string what, std::string remedy)
{
    return {.kind = ProblemKind::usage, .file = path, .what = std::move(what), .remedy = std::move(remedy)};
}

// A file in memory, as libsndfile wants to see one.
class MemoryFile {
public:
    static SF_VIRTUAL_IO functions()
    {
        SF_VIRTUAL_IO io = {};
        io.get_filelen = [](void* self) { return static_cast<sf_count_t>(of(self).bytes_.size()); };
        io.seek = [](sf_count_t offset, int whence, void* self) {
            MemoryFile& file = of(self);
            const auto size = static_cast<sf_count_t>(file.bytes_.size());
            const sf_count_t base = whence == SEEK_SET ? 0 : whence == SEEK_CUR ? file.position_ : size;
            file.position_ = std::clamp<sf_count_t>(base + offset, 0, size);
            return file.position_;
        };
        io.read = [](void* out, sf_count_t count, void* self) {
            MemoryFile& file = of(self);
            const auto got = std::min(count, static_cast<sf_count_t>(file.bytes_.size()) - file.position_);
            std::memcpy(out, file.bytes_.data() + file.position_, static_cast<std::size_t>(got));
            file.position_ += got;
            return got;
        };
        io.write = [](const void* in, sf_count_t count, void* self) {
            MemoryFile& file = of(self);
            const auto end = static_cast<std::size_t>(file.position_ + count);
            if (end > file.bytes_.size()) file.bytes_.resize(end);
            std::memcpy(file.bytes_.data() + file.position_, in, static_cast<std::size_t>(count));
            file.position_ += count;
            return count;
        };
        io.tell = [](void* self) { return of(self).position_; };
        return io;
    }

    void reserve(std::size_t bytes) { bytes_.reserve(bytes); }
    std::string_view content() const { return bytes_; }

private:
    static MemoryFile& of(void* self) { return *static_cast<MemoryFile*>(self); }

    std::string bytes_;
    sf_count_t position_ = 0;
};

std::optional<Problem> fault_in(const std::string& path, const AudioLayout& layout, std::size_t values)
{
    const bool flac = layout.container == AudioContainer::flac;
    const int greatest_channels = flac ? 8 : 256;
    if (layout.rate_hz < 1)
        return bad_call(path, fmt::format("a rate of {} Hz cannot be written", layout.rate_hz), "give one above 0");
    if (layout.channels < 1 || layout.channels > greatest_channels)
        return bad_call(path, fmt::format("{} channels; 1 to {} can be written", layout.channels, greatest_channels),
                        "split them into several files");
    if (flac && layout.coding == AudioCoding::float32)
        return bad_call(path, "FLAC holds integers only", "write WAV, or integers with a full scale");
    if (layout.coding == AudioCoding::integer24 && !(layout.full_scale > 0.0 && std::isfinite(layout.full_scale)))
        return bad_call(path, fmt::format("a full scale of {} cannot be", layout.full_scale), "give one above 0");
    if (values == 0 || values % static_cast<std::size_t>(layout.channels) != 0)
        return bad_call(path, fmt::format("{} values are no whole frames of {} channels", values, layout.channels),
                        "give every channel the same number of values, at least one");
    const std::uint64_t bytes_a_value = layout.coding == AudioCoding::float32 ? 4 : 3;
    constexpr std::uint64_t room_for_the_header = 4096;
    if (values > (std::numeric_limits<std::uint32_t>::max() - room_for_the_header) / bytes_a_value)
        return bad_call(path, fmt::format("{} values are too many for one file of 4 GiB", values),
                        "split the recording into several files");
    return std::nullopt;
}

Problem bad_value(const std::string& path, const AudioLayout& layout, std::size_t index, std::string what)
{
    const auto channels = static_cast<std::size_t>(layout.channels);
    return bad_call(path, fmt::format("frame {}, channel {}: {}", index / channels + 1, index % channels + 1, what),
                    layout.coding == AudioCoding::float32 ? "leave it out"
                                                          : "choose a greater full scale, or leave it out");
}

// The stored samples, or the first that cannot be stored. libsndfile takes 24-bit samples in the upper bits of an int.
Result<std::vector<int>> as_integers(const std::string& path, const AudioLayout& layout, std::span<const double> values)
{
    std::vector<int> stored(values.size());
    for (std::size_t i = 0; i < values.size(); ++i) {
        const double steps = std::nearbyint(values[i] / layout.full_scale * half_of_the_steps);
        if (!(steps >= -half_of_the_steps && steps < half_of_the_steps))
            return fail(bad_value(
                path, layout, i, fmt::format("{} does not fit into a full scale of {}", values[i], layout.full_scale)));
        stored[i] = static_cast<int>(steps) * 256;
    }
    return stored;
}

Result<std::vector<float>> as_floats(const std::string& path, const AudioLayout& layout, std::span<const double> values)
{
    std::vector<float> stored(values.size());
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (!(std::abs(values[i]) <= static_cast<double>(std::numeric_limits<float>::max())))
            return fail(bad_value(path, layout, i, fmt::format("{} is no single-precision number", values[i])));
        stored[i] = static_cast<float>(values[i]);
    }
    return stored;
}

} // namespace

Result<void> write_audio(const std::string& path, const AudioLayout& layout, std::span<const double> values)
{
    if (auto fault = fault_in(path, layout, values.size())) return fail(std::move(*fault));
    const bool flac = layout.container == AudioContainer::flac;
    const bool floats = layout.coding == AudioCoding::float32;

    SF_INFO info = {};
    info.samplerate = layout.rate_hz;
    info.channels = layout.channels;
    info.format = (flac ? SF_FORMAT_FLAC : SF_FORMAT_WAV) | (floats ? SF_FORMAT_FLOAT : SF_FORMAT_PCM_24);
    MemoryFile memory;
    if (!flac) memory.reserve(values.size() * (floats ? 4 : 3) + 4096);
    SF_VIRTUAL_IO functions = MemoryFile::functions();
    std::unique_ptr<SNDFILE, decltype(&sf_close)> file(sf_open_virtual(&functions, SFM_WRITE, &info, &memory),
                                                       &sf_close);
    const auto refused = [&] {
        return fail(bad_call(path, fmt::format("it cannot be coded: {}", sf_strerror(file.get())),
                             "choose another format or rate"));
    };
    if (!file) return refused();
    // Floating-point WAV would carry a chunk with the time of writing.
    sf_command(file.get(), SFC_SET_ADD_PEAK_CHUNK, nullptr, SF_FALSE);

    const auto count = static_cast<sf_count_t>(values.size());
    if (floats) {
        const auto stored = as_floats(path, layout, values);
        if (!stored) return fail(stored.error());
        if (sf_write_float(file.get(), stored->data(), count) != count) return refused();
    } else {
        const auto stored = as_integers(path, layout, values);
        if (!stored) return fail(stored.error());
        if (sf_write_int(file.get(), stored->data(), count) != count) return refused();
    }
    file.reset(); // the header is complete only now
    return write_new_file_atomically(path, memory.content());
}

} // namespace becalm::io
