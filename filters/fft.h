// The one place that calls FFTW. Real signals, half-complex spectra, double precision.
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

// The way back, of one length, reusable; the same rules.
class InverseRealFft {
public:
    explicit InverseRealFft(std::size_t length); // >= 2
    ~InverseRealFft();
    InverseRealFft(InverseRealFft&&) noexcept;
    InverseRealFft& operator=(InverseRealFft&&) noexcept;

    std::size_t length() const;
    std::span<std::complex<double>> input(); // length() / 2 + 1 values, to be filled before every run()

    // x[n] = (1 / length) sum_k X[k] exp(2 pi j k n / length) over all k of the real signal's spectrum, X[length - k] =
    // conj X[k]; imaginary parts at 0 and at half the length are let pass. Valid until the next run.
    std::span<const double> run();

private:
    struct Plan;
    std::unique_ptr<Plan> plan_;
};

// The least length >= `least` that has no prime factor beyond 5: transforms of such lengths are fast.
std::size_t fast_length(std::size_t least);

} // namespace becalm::filters
