// A WAV file as it comes out of a pipe, whose header may promise anything.
#include <cstdlib>
#include <fcntl.h>
#include <vector>

#include "src/io/stream_reader.h"

#include "tests/fuzz/recording_fuzz.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    using namespace becalm;
    io::FileHandle pipe(::open(fuzz::file_of(data, size).c_str(), O_RDONLY | O_CLOEXEC));
    const auto opened = io::open_stream("-", std::move(pipe));
    if (!opened) {
        if (opened.error().what.empty() || opened.error().remedy.empty()) std::abort();
        return 0;
    }
    io::StreamReader& stream = **opened;
    if (stream.info().channels < 1 || !(stream.info().rate_hz > 0.0)) std::abort();
    std::vector<double> block(static_cast<std::size_t>(stream.info().channels) * 97);
    std::int64_t frames = 0;
    while (true) {
        const auto got = stream.read(block);
        if (!got || *got == 0) break;
        frames += static_cast<std::int64_t>(*got);
    }
    if (frames > static_cast<std::int64_t>(size)) std::abort(); // a sample is a byte at least
    return 0;
}
