// A description of other files: the bytes are the description, run.bin and two texts lie beside it.
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "src/io/recording_reader.h"

#include "tests/fuzz/recording_fuzz.h"

namespace {

// Made once; the system clears what is left of it with the other temporary files.
std::filesystem::path prepared_folder()
{
    std::string name = (std::filesystem::temp_directory_path() / "becalm-fuzz-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) std::abort();
    const std::filesystem::path folder = name;
    std::ofstream(folder / "run.bin") << std::string(4812, 'r');
    std::ofstream(folder / "a.csv") << "# rate_hz: 100\nx\n1\n2\n";
    std::ofstream(folder / "b.csv") << "# rate_hz: 100\nx\n3\n4\n";
    return folder;
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    static const std::string path = (prepared_folder() / "run.recording.toml").string();
    std::ofstream(path, std::ios::binary)
        .write(reinterpret_cast<const char*>(data), static_cast<std::streamsize>(size));
    becalm::fuzz::read_everything(path);
    (void)becalm::io::files_of_recording(path);
    return 0;
}
