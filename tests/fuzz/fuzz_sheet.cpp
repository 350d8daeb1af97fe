// What is said of a transducer: the bytes of its data sheet (IEEE 1451.4) in a file, and its sensitivity in words.
#include <cstdlib>
#include <string_view>

#include "src/io/sensitivity.h"
#include "src/io/teds.h"

#include "tests/fuzz/recording_fuzz.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    using namespace becalm;
    const auto sheet = io::teds_in_file(fuzz::file_of(data, size));
    if (!sheet && sheet.error().what.empty()) std::abort();
    const auto sensitivity = io::sensitivity_in({reinterpret_cast<const char*>(data), size});
    if (!sensitivity && sensitivity.error().what.empty()) std::abort();
    return 0;
}
