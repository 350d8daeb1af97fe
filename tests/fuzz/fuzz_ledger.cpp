// A folder of ledgers. The bytes are, with a line "====" between them: index.json, the rows of a lane, its sums of a
// minute and of an hour. Files are called as the index of the seed calls them.
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>
#include <unistd.h>

#include <fmt/format.h>

#include "src/io/ledger_folder.h"

#include "tests/fuzz/recording_fuzz.h"

namespace {

const std::string& folder()
{
    static const std::string path = [] {
        const std::filesystem::path place =
            std::filesystem::temp_directory_path() / fmt::format("becalm-fuzz-ledger-{}", ::getpid());
        std::filesystem::create_directories(place);
        return place.string();
    }();
    return path;
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    using namespace becalm;
    constexpr std::string_view line = "\n====\n";
    std::string_view rest(reinterpret_cast<const char*>(data), size);
    for (const std::string_view name :
         {"index.json", "0001-ch1-z-Wk.npy", "0001-ch1-z-Wk-sums-60.npy", "0001-ch1-z-Wk-sums-3600.npy"}) {
        const std::size_t end = rest.find(line);
        const std::string_view part = rest.substr(0, end);
        std::ofstream(fmt::format("{}/{}", folder(), name), std::ios::binary)
            .write(part.data(), static_cast<std::streamsize>(part.size()));
        rest = end == std::string_view::npos ? std::string_view() : rest.substr(end + line.size());
    }
    const auto ledger = io::LedgerFolder::open(folder());
    if (!ledger) {
        if (ledger.error().what.empty() || ledger.error().remedy.empty()) std::abort();
        return 0;
    }
    const io::LedgerFolder::Seconds selected[] = {{1, 59}, {61, 4000}};
    for (std::size_t lane = 0; lane < ledger->lanes().size(); ++lane)
        if (const auto tally = ledger->tally(lane, selected); !tally && tally.error().what.empty()) std::abort();
    return 0;
}
