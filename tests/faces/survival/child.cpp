#include "tests/faces/survival/child.h"

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <sstream>
#include <thread>
#include <unistd.h>

#include <fmt/format.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include "tests/faces/cli_harness.h"

namespace becalm::tests {

namespace fs = std::filesystem;

long Ending::calls() const
{
    const auto at = told.find(" of all");
    if (at == std::string::npos) return -1;
    const auto begin = told.rfind('\n', at);
    return std::strtol(told.c_str() + (begin == std::string::npos ? 0 : begin + 1), nullptr, 10);
}

std::string Ending::name_of_call() const
{
    std::istringstream words(told);
    std::string number, name;
    words >> number >> name;
    return name == "of" ? std::string() : name;
}

Running::Running(const std::vector<std::string>& arguments, const World& world) : world_(world)
{
    std::map<std::string, std::string> environment{{"BECALM_DATA", world.data.empty() ? small_data() : world.data},
                                                   {"XDG_CONFIG_HOME", "/nonexistent"},
                                                   {"HOME", "/nonexistent"},
                                                   {"LANG", "C.UTF-8"},
                                                   {"PATH", "/nonexistent"}}; // a shell would be missed
    if (!world.faults.empty()) {
        environment["LD_PRELOAD"] = BECALM_FAULT_LIBRARY;
        environment["FAULTS_TOLD"] = around_.path("told");
        environment.insert(world.faults.begin(), world.faults.end());
        if (auto folder = environment.find("FAULTS_IN"); folder != environment.end())
            folder->second = fs::weakly_canonical(folder->second).string(); // as the kernel names it
    }
    std::vector<std::string> settings;
    for (const auto& [name, value] : environment) settings.push_back(name + "=" + value);
    std::vector<std::string> words{BECALM_PROGRAM};
    words.insert(words.end(), arguments.begin(), arguments.end());
    const auto pointers = [](std::vector<std::string>& texts) {
        std::vector<char*> all;
        for (std::string& text : texts) all.push_back(text.data());
        all.push_back(nullptr);
        return all;
    };
    auto argv = pointers(words), envp = pointers(settings);
    const std::string out = around_.path("out"), err = around_.path("err");
    process_ = ::fork();
    if (process_ != 0) return;
    // Only what may be called between fork and exec.
    const int in_file = ::open("/dev/null", O_RDONLY), out_file = ::open(out.c_str(), O_WRONLY | O_CREAT, 0666),
              err_file = ::open(err.c_str(), O_WRONLY | O_CREAT, 0666);
    ::dup2(in_file, 0);
    ::dup2(out_file, 1);
    ::dup2(err_file, 2);
    if (!world.folder.empty() && ::chdir(world.folder.c_str()) != 0) ::_exit(125);
    if (world.address_space > 0) {
        const rlimit most{static_cast<rlim_t>(world.address_space), static_cast<rlim_t>(world.address_space)};
        ::setrlimit(RLIMIT_AS, &most);
    }
    constexpr uid_t nobody = 65534;
    if (world.as_nobody && ::geteuid() == 0 && (::setgid(nobody) != 0 || ::setuid(nobody) != 0)) ::_exit(125);
    ::execve(argv[0], argv.data(), envp.data());
    ::_exit(126);
}

Running::~Running()
{
    if (process_ <= 0) return;
    ::kill(process_, SIGKILL);
    ::waitpid(process_, nullptr, 0);
}

Ending Running::ended()
{
    Ending ending;
    using Clock = std::chrono::steady_clock;
    const auto began = Clock::now();
    const auto last = began + std::chrono::minutes(1);
    if (world_.kill_after_us) {
        std::this_thread::sleep_for(std::chrono::microseconds(*world_.kill_after_us));
        ::kill(process_, SIGKILL);
    }
    int status = 0;
    rusage used = {};
    while (::wait4(process_, &status, WNOHANG, &used) == 0) {
        if (!ending.hung && Clock::now() > last) {
            ending.hung = true;
            ::kill(process_, SIGKILL);
        }
        std::this_thread::sleep_for(std::chrono::microseconds(500));
    }
    process_ = -1;
    ending.killed = WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL && !ending.hung;
    ending.signal = WIFSIGNALED(status) && !ending.killed ? WTERMSIG(status) : 0;
    ending.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    ending.peak_kb = used.ru_maxrss;
    ending.out = content_of(around_.path("out"));
    ending.err = content_of(around_.path("err"));
    ending.told = content_of(around_.path("told"));
    return ending;
}

Ending run(const std::vector<std::string>& arguments, const World& world) { return Running(arguments, world).ended(); }

const std::string& small_data()
{
    static const ScratchFolder folder;
    static const std::string path = [] {
        fs::create_directory(folder.path("criteria"));
        fs::copy_file(BECALM_PROJECT "/data/criteria/iso2631-2-2003.toml", folder.path("criteria/iso2631-2-2003.toml"));
        fs::copy_file(BECALM_PROJECT "/data/sources.toml", folder.path("sources.toml"));
        return folder.path();
    }();
    return path;
}

Listing listing_of(const std::string& folder)
{
    Listing listing;
    for (auto entry = fs::recursive_directory_iterator(folder); entry != fs::recursive_directory_iterator(); ++entry) {
        const std::string name = entry->path().filename().string();
        if (name == ".becalm") {
            entry.disable_recursion_pending();
            continue;
        }
        const std::string path = entry->path().lexically_relative(folder).string();
        if (entry->is_symlink())
            listing.files[path] = "-> " + fs::read_symlink(entry->path()).string();
        else if (name.starts_with(".becalm-") && name.ends_with(".tmp"))
            ++listing.temporary;
        else if (entry->is_regular_file())
            listing.files[path] = content_of(entry->path().string());
    }
    return listing;
}

std::string tiny_recording(unsigned seed, double seconds) { return wav({noise(seconds, 256.0, 0.05, seed)}, 256); }

std::string write_tiny_survey(const std::string& folder, unsigned seed)
{
    const auto write = [&](const std::string& name, const std::string& content) {
        std::ofstream(folder + "/" + name, std::ios::binary) << content;
    };
    write("a.wav", tiny_recording(1));
    write("b.wav", tiny_recording(seed));
    std::string text = "title = \"kept\"\nsetting = \"building\"\n";
    for (const char* name : {"a", "b"})
        text += fmt::format("[[space]]\nid = \"{0}\"\nuse = \"office\"\n[[recording]]\nfile = \"{0}.wav\"\nspace = "
                            "\"{0}\"\nchannels = {{ 1 = \"z\" }}\n",
                            name);
    write("survey.toml", text + "[[judge]]\ncriteria = [\"iso2631-2-2003\"]\n");
    return folder + "/survey.toml";
}

} // namespace becalm::tests
