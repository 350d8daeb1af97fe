#include "filters/welch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "filters/lane_kernel.h"
#include "src/base/problem.h"

namespace becalm::filters {

namespace {

double sum_of(std::span<const double> values) { return kernel::chosen().sum(values.data(), values.size()); }

const double* interleaved(std::span<const std::complex<double>> spectrum)
{
    return reinterpret_cast<const double*>(spectrum.data());
}

std::vector<double> hann(std::size_t length)
{
    std::vector<double> window(length);
    for (std::size_t i = 0; i < length; ++i)
        window[i] = 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(length));
    return window;
}

} // namespace

SegmentDensity::SegmentDensity(double rate_hz, std::size_t length)
    : rate_hz_(rate_hz), fft_(length), window_(hann(length))
{
    for (const double w : window_) window_power_ += w * w;
}

std::span<const std::complex<double>> SegmentDensity::transform(std::span<const double> segment)
{
    return transform(segment, {}, sum_of(segment) / static_cast<double>(segment.size()));
}

std::span<const std::complex<double>> SegmentDensity::transform(std::span<const double> first,
                                                                std::span<const double> second, double mean)
{
    BECALM_ASSERT(first.size() + second.size() == length());
    double* const in = fft_.input().data();
    const auto windowed = kernel::chosen().windowed;
    windowed(first.data(), mean, window_.data(), in, first.size());
    windowed(second.data(), mean, window_.data() + first.size(), in + first.size(), second.size());
    return fft_.run();
}

void SegmentDensity::add(std::span<const double> segment, std::span<double> sums)
{
    BECALM_ASSERT(sums.size() <= length() / 2 + 1);
    kernel::chosen().add_powers(interleaved(transform(segment)), sums.data(), sums.size());
}

double SegmentDensity::factor(std::size_t k) const
{
    const bool stands_alone = k == 0 || 2 * k == length();
    return (stands_alone ? 1.0 : 2.0) / (rate_hz_ * window_power_);
}

Welch::Welch(double rate_hz, std::size_t length, std::size_t row_segments)
    : density_(rate_hz, length), length_(length), hop_(std::max<std::size_t>(1, length / 2)), pending_(length),
      sum_(length / 2 + 1, 0.0), row_segments_(row_segments), row_sum_(sum_), row_greatest_(sum_),
      row_least_(sum_.size(), std::numeric_limits<double>::infinity())
{
    BECALM_ASSERT(row_segments >= 1);
}

void Welch::add(std::span<const double> samples) { add(samples.data(), samples.size(), 1); }

void Welch::add(const double* samples, std::size_t count, std::size_t stride)
{
    while (count > 0) {
        const std::size_t at = (begin_ + filled_) % length_;
        const std::size_t taken = std::min({count, length_ - filled_, length_ - at});
        double* const to = pending_.data() + at;
        if (stride == 1)
            std::copy_n(samples, taken, to);
        else
            for (std::size_t i = 0; i < taken; ++i) to[i] = samples[i * stride];
        samples += taken * stride;
        count -= taken;
        filled_ += taken;
        if (filled_ < length_) continue;
        add_segment();
        begin_ = (begin_ + hop_) % length_;
        filled_ = length_ - hop_;
    }
}

void Welch::restart()
{
    begin_ = filled_ = segments_ = rows_ = 0;
    for (auto* sums : {&sum_, &row_sum_, &row_greatest_}) std::ranges::fill(*sums, 0.0);
    std::ranges::fill(row_least_, std::numeric_limits<double>::infinity());
}

void Welch::add_segment()
{
    const std::span<const double> older = std::span(pending_).subspan(begin_),
                                  newer = std::span(pending_).first(begin_);
    // Where two segments share a whole half, its sum is known.
    double sum = 0.0;
    if (2 * hop_ == length_) {
        const double latest = sum_of(std::span(pending_).subspan((begin_ + hop_) % length_, hop_));
        sum = latest + (segments_ == 0 ? sum_of(std::span(pending_).first(hop_)) : shared_sum_);
        shared_sum_ = latest;
    } else {
        sum = sum_of(older) + sum_of(newer);
    }
    const auto out = density_.transform(older, newer, sum / static_cast<double>(length_));
    ++segments_;
    const kernel::Table& run = kernel::chosen();
    if (row_segments_ == 1) {
        run.hold_powers(interleaved(out), sum_.data(), row_greatest_.data(), row_least_.data(), sum_.size());
        ++rows_;
        return;
    }
    run.add_powers(interleaved(out), row_sum_.data(), row_sum_.size());
    if (segments_ % row_segments_ != 0) return;
    for (std::size_t k = 0; k < sum_.size(); ++k) {
        sum_[k] += row_sum_[k];
        row_greatest_[k] = std::max(row_greatest_[k], row_sum_[k]);
        row_least_[k] = std::min(row_least_[k], row_sum_[k]);
        row_sum_[k] = 0.0;
    }
    ++rows_;
}

std::vector<double> Welch::scaled(const std::vector<double>& sums, double averages) const
{
    std::vector<double> density(sums.size(), 0.0);
    if (segments_ == 0) return density;
    for (std::size_t k = 0; k < sums.size(); ++k) density[k] = sums[k] * density_.factor(k) / averages;
    return density;
}

std::vector<double> Welch::density() const
{
    std::vector<double> sums = sum_; // of whole rows
    for (std::size_t k = 0; k < sums.size(); ++k) sums[k] += row_sum_[k];
    return scaled(sums, static_cast<double>(segments_));
}

std::vector<double> Welch::greatest() const
{
    return rows_ == 0 ? density() : scaled(row_greatest_, static_cast<double>(row_segments_));
}

std::vector<double> Welch::least() const
{
    return rows_ == 0 ? density() : scaled(row_least_, static_cast<double>(row_segments_));
}

double effective_averages(std::size_t length, std::size_t segments)
{
    const std::vector<double> window = hann(length);
    const std::size_t hop = std::max<std::size_t>(1, length / 2);
    const auto overlap = [&](std::size_t shift) {
        double sum = 0.0;
        for (std::size_t i = shift; i < length; ++i) sum += window[i] * window[i - shift];
        return sum;
    };
    const auto count = static_cast<double>(segments);
    double scatter = 1.0;
    for (std::size_t j = 1; j < segments && j * hop < length; ++j)
        scatter += 2.0 * (1.0 - static_cast<double>(j) / count) * std::pow(overlap(j * hop) / overlap(0), 2);
    return count / scatter;
}

double band_rms(std::span<const double> density, double resolution_hz, double from_hz, double to_hz)
{
    double mean_square = 0.0;
    const auto bins = static_cast<double>(density.size());
    const auto first = static_cast<std::size_t>(std::clamp(std::floor(from_hz / resolution_hz - 1.0), 0.0, bins));
    const auto end = static_cast<std::size_t>(std::clamp(std::ceil(to_hz / resolution_hz + 2.0), 0.0, bins));
    for (std::size_t k = first; k < end; ++k) {
        const double low = (static_cast<double>(k) - 0.5) * resolution_hz;
        const double share = std::min(low + resolution_hz, to_hz) - std::max(low, from_hz);
        if (share > 0.0) mean_square += density[k] * share;
    }
    return std::sqrt(mean_square);
}

ThirdOctave third_octave(int n)
{
    constexpr std::array<double, 10> nominal{1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0};
    const int decade = n >= 0 ? n / 10 : -((9 - n) / 10);
    const auto step = static_cast<std::size_t>(n - 10 * decade);
    return {.n = n,
            .exact_hz = std::pow(10.0, n / 10.0),
            .nominal_hz = nominal[step] * std::pow(10.0, decade),
            .from_hz = std::pow(10.0, n / 10.0 - 0.05),
            .to_hz = std::pow(10.0, n / 10.0 + 0.05)};
}

std::vector<ThirdOctave> third_octaves_within(double resolution_hz, double rate_hz)
{
    std::vector<ThirdOctave> bands;
    for (int n = static_cast<int>(std::ceil(10.0 * std::log10(resolution_hz) + 0.5));
         third_octave(n).to_hz <= rate_hz / 2.0; ++n)
        bands.push_back(third_octave(n));
    return bands;
}

double floor_around(std::span<const double> density, std::size_t k)
{
    std::vector<double> around;
    for (std::size_t away = 4; away <= 24; ++away) {
        if (k >= away + 1) around.push_back(density[k - away]);
        if (k + away < density.size()) around.push_back(density[k + away]);
    }
    if (around.empty()) return 0.0;
    const auto middle = around.begin() + static_cast<std::ptrdiff_t>(around.size() / 2);
    std::ranges::nth_element(around, middle);
    return *middle;
}

double hann_lobe(double bins)
{
    if (std::abs(bins) < 1e-9) return 1.0;
    if (std::abs(std::abs(bins) - 1.0) < 1e-9) return 0.5;
    const double x = std::numbers::pi * bins;
    return std::sin(x) / x / (1.0 - bins * bins);
}

SpectralLine line_at(std::span<const double> density, double resolution_hz, std::size_t k, double floor)
{
    // Between the greatest bin and its greater neighbour, the ratio of amplitudes tells the place: offset = (2 r - 1) /
    // (r + 1).
    const bool up = density[k + 1] >= density[k - 1];
    const double neighbour = up ? density[k + 1] : density[k - 1];
    const double r = std::sqrt(std::max(0.0, neighbour - floor) / (density[k] - floor));
    const double offset = std::clamp((2.0 * r - 1.0) / (r + 1.0), 0.0, 0.5) * (up ? 1.0 : -1.0);
    // A sine of mean square s shows s / (1.5 resolution) as density at its own frequency, times the lobe's square
    // beside it (1.5 bins: the equivalent noise bandwidth of the Hann window).
    const double lobe = hann_lobe(offset);
    const double mean_square =
        (density[k] - floor) * 1.5 * resolution_hz / (lobe * lobe); // not a limit: Hann bandwidth
    return {.hz = (static_cast<double>(k) + offset) * resolution_hz,
            .rms = std::sqrt(mean_square),
            .above_floor = floor > 0.0 ? density[k] / floor : std::numeric_limits<double>::infinity()};
}

std::vector<SpectralLine> spectral_lines(std::span<const double> density, double resolution_hz, double least_ratio)
{
    std::vector<SpectralLine> lines;
    for (std::size_t k = 3; k + 1 < density.size(); ++k) {
        if (!(density[k] > density[k - 1] && density[k] >= density[k + 1])) continue;
        const double floor = floor_around(density, k);
        if (!(density[k] > least_ratio * floor)) continue;
        lines.push_back(line_at(density, resolution_hz, k, floor));
    }
    std::ranges::sort(lines, std::ranges::greater{}, &SpectralLine::rms);
    return lines;
}

} // namespace becalm::filters
