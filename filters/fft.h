// The one place that calls FFTW. Real input, half-complex output, double precision.
#pragma once

#include <complex>
#include <cstddef>
#include <memory>
#include <span>

namespace becalm::filters {

// Transform of one length, reusable. Thread safe in construction; one object belongs to one thread.
class RealFft {
public:
    explicit RealFft(std::size_t length); // >= 2
    ~RealFft();
    RealFft(RealFft&&) noexcept;
    RealFft& operator=(RealFft&&) noexcept;

    std::size_t length() const;
    std::span<double> input(); // length() values, to be filled before run()

    // X[k] = sum_n x[n] exp(-2 pi j k n / length), k = 0 ... length / 2. Valid until the next run.
    std::span<const std::complex<double>> run();

private:
    struct Plan;
    std::unique_ptr<Plan> plan_;
};

} // namespace becalm::filters
