// Any bytes, most usefully grown from SAC, through src/io/sac_reader.cpp.
#include "tests/fuzz/recording_fuzz.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    becalm::fuzz::read_everything(becalm::fuzz::file_of(data, size));
    return 0;
}
