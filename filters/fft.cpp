#include "filters/fft.h"

#include <fftw3.h>
#include <mutex>

#include "src/base/problem.h"

namespace becalm::filters {
namespace {

// FFTW's planner is not thread safe; its executors are.
std::mutex& planner()
{
    static std::mutex mutex;
    return mutex;
}

} // namespace

struct RealFft::Plan {
    explicit Plan(std::size_t n) : length(n), in(fftw_alloc_real(n)), out(fftw_alloc_complex(n / 2 + 1))
    {
        const std::lock_guard lock(planner());
        // ESTIMATE measures nothing: the same plan, and so the same last digit, every time.
        plan = fftw_plan_dft_r2c_1d(static_cast<int>(n), in, out, FFTW_ESTIMATE);
        BECALM_ASSERT(plan != nullptr);
    }
    ~Plan()
    {
        const std::lock_guard lock(planner());
        fftw_destroy_plan(plan);
        fftw_free(in);
        fftw_free(out);
    }
    Plan(const Plan&) = delete;
    Plan& operator=(const Plan&) = delete;

    std::size_t length;
    double* in;
    fftw_complex* out;
    fftw_plan plan = nullptr;
};

RealFft::RealFft(std::size_t length) : plan_(std::make_unique<Plan>(length)) { BECALM_ASSERT(length >= 2); }
RealFft::~RealFft() = default;
RealFft::RealFft(RealFft&&) noexcept = default;
RealFft& RealFft::operator=(RealFft&&) noexcept = default;

std::size_t RealFft::length() const { return plan_->length; }
std::span<double> RealFft::input() { return {plan_->in, plan_->length}; }

std::span<const std::complex<double>> RealFft::run()
{
    fftw_execute(plan_->plan);
    return {reinterpret_cast<const std::complex<double>*>(plan_->out), plan_->length / 2 + 1};
}

} // namespace becalm::filters
