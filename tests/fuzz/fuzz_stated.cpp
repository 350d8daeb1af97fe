// Verdicts that somebody else states: JSON of an assessment, or a table.
#include <cstdlib>

#include "src/io/stated_verdicts.h"

#include "tests/fuzz/recording_fuzz.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    using namespace becalm;
    const auto stated = io::read_stated_verdicts(fuzz::file_of(data, size));
    if (!stated && stated.error().what.empty()) std::abort();
    return 0;
}
