// One fuzzer for every recording format: the seeds (write_seeds.cpp) make it the fuzzer of one of them.
#include "tests/fuzz/recording_fuzz.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    becalm::fuzz::read_everything(becalm::fuzz::file_of(data, size));
    return 0;
}
