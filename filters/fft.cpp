#include "filters/fft.h"

#include <algorithm>
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

// The arrays of a transform of one length, and FFTW's plan between them.
template <class In, class Out>
struct Transform {
    // `make(length, in, out)` makes the plan. ESTIMATE measures nothing: the same plan, and so the same last digit,
    // every time.
    template <class Make>
    Transform(std::size_t n, In* first, Out* second, Make make) : length(n), in(first), out(second)
    {
        const std::lock_guard lock(planner());
        plan = make(static_cast<int>(n), in, out, FFTW_ESTIMATE);
        BECALM_ASSERT(plan != nullptr);
    }
    ~Transform()
    {
        const std::lock_guard lock(planner());
        fftw_destroy_plan(plan);
        fftw_free(in);
        fftw_free(out);
    }
    Transform(const Transform&) = delete;
    Transform& operator=(const Transform&) = delete;

    std::size_t length;
    In* in;
    Out* out;
    fftw_plan plan = nullptr;
};

} // namespace

struct RealFft::Plan : Transform<double, fftw_complex> {
    explicit Plan(std::size_t n) : Transform(n, fftw_alloc_real(n), fftw_alloc_complex(n / 2 + 1), fftw_plan_dft_r2c_1d)
    {
    }
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

struct InverseRealFft::Plan : Transform<fftw_complex, double> {
    explicit Plan(std::size_t n) : Transform(n, fftw_alloc_complex(n / 2 + 1), fftw_alloc_real(n), fftw_plan_dft_c2r_1d)
    {
    }
};

InverseRealFft::InverseRealFft(std::size_t length) : plan_(std::make_unique<Plan>(length))
{
    BECALM_ASSERT(length >= 2);
}
InverseRealFft::~InverseRealFft() = default;
InverseRealFft::InverseRealFft(InverseRealFft&&) noexcept = default;
InverseRealFft& InverseRealFft::operator=(InverseRealFft&&) noexcept = default;

std::size_t InverseRealFft::length() const { return plan_->length; }

std::span<std::complex<double>> InverseRealFft::input()
{
    return {reinterpret_cast<std::complex<double>*>(plan_->in), plan_->length / 2 + 1};
}

std::span<const double> InverseRealFft::run()
{
    fftw_execute(plan_->plan);
    const double scale = 1.0 / static_cast<double>(plan_->length);
    for (double& x : std::span(plan_->out, plan_->length)) x *= scale;
    return {plan_->out, plan_->length};
}

std::size_t fast_length(std::size_t least)
{
    std::size_t best = 2;
    while (best < least) best *= 2;
    for (std::size_t fives = 1; fives < best; fives *= 5)
        for (std::size_t threes = fives; threes < best; threes *= 3) {
            std::size_t length = threes;
            while (length < least) length *= 2;
            if (length >= 2) best = std::min(best, length);
        }
    return best;
}

} // namespace becalm::filters
