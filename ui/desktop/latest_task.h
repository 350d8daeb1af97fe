// One thing at a time off the interface thread, and only the newest: a new request stops the one that runs and takes
// the place of one that waits. What a task gives is handed over on the interface thread; that of a stopped one is
// dropped.
#pragma once

#include <QMetaObject>
#include <QObject>
#include <condition_variable>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>
#include <utility>

namespace becalm::desktop {

template <class Outcome>
class LatestTask {
public:
    using Work = std::function<Outcome(std::stop_token stop)>;
    using Deliver = std::function<void(Outcome outcome)>;

    // `context` lives on the interface thread and outlives the task.
    LatestTask(QObject& context, Deliver deliver)
        : context_(context), deliver_(std::move(deliver)), thread_([this](std::stop_token end) { serve(end); })
    {
    }
    LatestTask(const LatestTask&) = delete;
    LatestTask& operator=(const LatestTask&) = delete;
    ~LatestTask()
    {
        cancel();
        thread_.request_stop();
        wake_.notify_all();
        thread_.join();
    }

    void request(Work work)
    {
        {
            const std::lock_guard lock(mutex_);
            running_.request_stop();
            waiting_ = std::move(work);
            ++asked_for_;
        }
        wake_.notify_all();
    }

    // What runs is stopped, what waits forgotten; nothing of either is delivered.
    void cancel()
    {
        const std::lock_guard lock(mutex_);
        running_.request_stop();
        waiting_ = nullptr;
        ++asked_for_;
    }

    bool is_busy() const
    {
        const std::lock_guard lock(mutex_);
        return busy_ || waiting_;
    }

private:
    void serve(const std::stop_token& end)
    {
        while (!end.stop_requested()) {
            Work work;
            std::stop_token stop;
            std::uint64_t number = 0;
            {
                std::unique_lock lock(mutex_);
                wake_.wait(lock, [&] { return waiting_ || end.stop_requested(); });
                if (end.stop_requested()) return;
                work = std::exchange(waiting_, nullptr);
                running_ = std::stop_source();
                stop = running_.get_token();
                number = asked_for_;
                busy_ = true;
            }
            auto outcome = std::make_shared<Outcome>(work(stop));
            {
                const std::lock_guard lock(mutex_);
                busy_ = false;
            }
            QMetaObject::invokeMethod(
                &context_,
                [this, outcome, number] {
                    {
                        const std::lock_guard lock(mutex_);
                        if (number != asked_for_) return;
                    }
                    deliver_(std::move(*outcome));
                },
                Qt::QueuedConnection);
        }
    }

    QObject& context_;
    Deliver deliver_;
    mutable std::mutex mutex_;
    std::condition_variable wake_;
    std::stop_source running_;
    Work waiting_ = nullptr;
    std::uint64_t asked_for_ = 0;
    bool busy_ = false;
    std::jthread thread_; // last: it uses all of the above
};

} // namespace becalm::desktop
