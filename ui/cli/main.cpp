#include <atomic>
#include <cerrno>
#include <chrono>
#include <condition_variable>
#include <csignal>
#include <fcntl.h>
#include <iostream>
#include <mutex>
#include <thread>
#include <unistd.h>

#include "ui/cli/command_line.h"

namespace {

std::atomic<bool> interrupted{false};
static_assert(std::atomic<bool>::is_always_lock_free); // or the handler could not touch it

void on_interrupt(int signal)
{
    // The second time, the ordinary way: no work is so long that it must not be killed. Files are renamed into place
    // whole.
    std::signal(signal, SIG_DFL);
    interrupted = true;
}

// A stream that the caller closed leaves its number free, and the next file that is opened would take it: what is told
// to people would stand in the middle of a result. Opened the wrong way round, such a stream fails as it should.
void occupy_closed_streams()
{
    for (int stream = STDIN_FILENO; stream <= STDERR_FILENO; ++stream)
        if (::fcntl(stream, F_GETFD) == -1 && errno == EBADF)
            static_cast<void>(::open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY));
}

} // namespace

int main(int argc, char** argv)
{
    occupy_closed_streams();
    std::signal(SIGINT, on_interrupt);
    std::signal(SIGTERM, on_interrupt);
    std::stop_source stop;
    std::jthread watcher([&stop](const std::stop_token& end) {
        std::mutex mutex;
        std::condition_variable_any end_of_run; // nobody notifies it: it wakes by time, or at once when the run ends
        std::unique_lock lock(mutex);
        while (!end.stop_requested() && !interrupted)
            end_of_run.wait_for(lock, end, std::chrono::milliseconds(20), [] { return interrupted.load(); });
        if (interrupted) stop.request_stop();
    });
    const becalm::cli::Console console{
        .out = std::cout, .err = std::cerr, .progress = ::isatty(STDERR_FILENO) == 1, .stop = stop.get_token()};
    const int code = becalm::cli::run(std::vector<std::string>(argv + 1, argv + argc), console);
    std::cout.flush();
    if (!std::cout && code == becalm::cli::done) {
        std::cerr << "becalm: the output could not be written; is the disk full or the reader gone?\n";
        return becalm::cli::unusable;
    }
    return code;
}
