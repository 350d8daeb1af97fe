// A criterion's text, and a bibliography's.
#include <cstdlib>
#include <string_view>

#include "src/io/criterion_file.h"

#include "tests/fuzz/recording_fuzz.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    using namespace becalm;
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    static const auto bibliography = io::read_sources(io::data_folder() + "/sources.toml");
    if (!bibliography) std::abort();
    const auto criterion = io::parse_criterion(text, "guide.toml", *bibliography);
    if (!criterion && criterion.error().empty()) std::abort();
    (void)io::read_sources(fuzz::file_of(data, size));
    return 0;
}
