// A folder of one test's own, gone when the test ends; and files made in it.
#pragma once

#include <atomic>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <unistd.h>

#include <fmt/format.h>

namespace becalm::tests {

class ScratchFolder {
public:
    ScratchFolder()
    {
        static std::atomic<int> counter{0};
        path_ = std::filesystem::temp_directory_path() / fmt::format("becalm-test-{}-{}", ::getpid(), counter++);
        std::filesystem::create_directories(path_);
        std::filesystem::permissions(path_,
                                     std::filesystem::perms::all); // also for a test that gives up its privileges
    }
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
    ~ScratchFolder()
    {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }

    std::string path() const { return path_.string(); }
    std::string path(std::string_view name) const { return (path_ / name).string(); }

    std::string file(std::string_view name, std::string_view content) const
    {
        const std::string where = path(name);
        std::ofstream(where, std::ios::binary).write(content.data(), static_cast<std::streamsize>(content.size()));
        return where;
    }

    std::size_t entries() const
    {
        return static_cast<std::size_t>(std::distance(std::filesystem::directory_iterator(path_), {}));
    }

private:
    std::filesystem::path path_;
};

inline std::string content_of(const std::string& path)
{
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

// Permissions do not bind the superuser; while this lives the process is nobody in particular.
class WithoutPrivileges {
public:
    WithoutPrivileges()
    {
        constexpr uid_t nobody = 65534;
        if (::geteuid() == 0) changed_ = ::seteuid(nobody) == 0;
    }
    WithoutPrivileges(const WithoutPrivileges&) = delete;
    WithoutPrivileges& operator=(const WithoutPrivileges&) = delete;
    ~WithoutPrivileges()
    {
        if (changed_) static_cast<void>(::seteuid(0) == 0);
    }
    bool achieved() const { return ::geteuid() != 0; }

private:
    bool changed_ = false;
};

} // namespace becalm::tests
