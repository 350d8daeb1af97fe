// Long work without the interpreter's lock: other threads of Python run meanwhile, Ctrl-C stops it, and a callable is
// told how far it is.
#pragma once

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <exception>
#include <functional>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>
#include <type_traits>

#include <pybind11/pybind11.h>

namespace becalm::python {

struct Work {
    std::stop_token stop = {};
    std::function<void(double fraction)> progress = {};
};

// Runs `work(Work)` in a thread of its own and waits for it. `progress`: None or a callable that takes a fraction; it
// is called from the waiting thread, and what it raises stops the work. The lock must be held.
template <class Function>
auto interruptibly(const pybind11::object& progress, Function work)
{
    namespace py = pybind11;
    using Outcome = std::invoke_result_t<Function, const Work&>;
    std::optional<Outcome> outcome;
    std::exception_ptr thrown, raised; // by the work; by Python
    {
        const py::gil_scoped_release release;
        std::mutex mutex;
        std::condition_variable changed;
        bool over = false;
        std::atomic<double> fraction{0.0};
        std::stop_source stop;
        std::jthread worker([&] {
            try {
                outcome.emplace(work(Work{stop.get_token(), [&fraction](double now) { fraction = now; }}));
            } catch (...) {
                thrown = std::current_exception();
            }
            const std::lock_guard lock(mutex);
            over = true;
            changed.notify_one();
        });
        const auto look = [&] {
            const py::gil_scoped_acquire acquire;
            try {
                if (PyErr_CheckSignals() != 0) throw py::error_already_set();
                if (!progress.is_none()) progress(fraction.load());
            } catch (py::error_already_set&) {
                raised = std::current_exception();
                stop.request_stop();
            }
        };
        std::unique_lock lock(mutex);
        while (!changed.wait_for(lock, std::chrono::milliseconds(50), [&] { return over; })) {
            if (raised) continue;
            lock.unlock();
            look();
            lock.lock();
        }
    }
    if (raised) std::rethrow_exception(raised);
    if (thrown) std::rethrow_exception(thrown);
    if (!progress.is_none()) progress(1.0);
    return std::move(*outcome);
}

} // namespace becalm::python
