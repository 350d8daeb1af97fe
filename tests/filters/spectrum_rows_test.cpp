// Spectra in rows of time against their definition, summed by hand. Expected values are computed from the definition
// where nothing else is said.
#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <tuple>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "filters/spectrum_rows.h"
#include "src/model/ledger.h"

#include "tests/filters/signals.h"

namespace becalm::filters {
namespace {

using tests::noise;
using tests::Signal;

// Whole and other rates: of recorders, of a crystal that is a little off, of a third of a hertz, very slow.
double any_rate() { return *rc::gen::element(8.0, 10.0, 10.1, 12.8, 16.67, 25.6, 31.0 + 1.0 / 3.0, 33.3, 49.97, 50.0); }

// One stream over the samples of [from_second, to_second), and what its last segments need beyond.
SpectrumRows rows_of_span(const SpectrumLayout& layout, const Signal& signal, std::int64_t from_second,
                          std::int64_t to_second, std::size_t block)
{
    const std::int64_t first = layout.segments_before(from_second), end = layout.segments_before(to_second);
    SegmentDensity density(layout.rate_hz, layout.length);
    if (first == end) return SpectrumRows(layout);
    SpectrumStream stream(layout, density, first, end);
    const auto samples = std::span(signal).subspan(static_cast<std::size_t>(layout.begin_of(first)));
    for (std::size_t done = 0; done < samples.size(); done += block)
        stream.add(samples.subspan(done, std::min(block, samples.size() - done)));
    return std::move(stream.rows());
}

ChannelSpectra spectra_of(const Signal& signal, double rate_hz, std::int64_t piece_s = 1800, std::size_t block = 997)
{
    const auto layout = spectrum_layout(rate_hz, static_cast<std::int64_t>(signal.size()), piece_s);
    if (!layout) return {};
    const auto end = static_cast<std::int64_t>(static_cast<double>(signal.size()) / rate_hz) + 1;
    return rows_of_span(*layout, signal, 0, end, block).spectra();
}

// Density of one segment by the sum that defines it.
std::vector<double> plain_density(std::span<const double> segment, double rate_hz)
{
    const auto n = segment.size();
    double mean = 0.0, power = 0.0;
    for (const double x : segment) mean += x / static_cast<double>(n);
    std::vector<double> windowed;
    std::vector<std::complex<double>> turn;
    for (std::size_t i = 0; i < n; ++i) {
        const double angle = 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(n);
        const double w = 0.5 * (1.0 - std::cos(angle));
        power += w * w;
        windowed.push_back((segment[i] - mean) * w);
        turn.push_back(std::polar(1.0, -angle));
    }
    std::vector<double> density;
    for (std::size_t k = 0; k <= n / 2; ++k) {
        std::complex<double> sum;
        for (std::size_t i = 0; i < n; ++i) sum += windowed[i] * turn[i * k % n];
        density.push_back((k == 0 || 2 * k == n ? 1.0 : 2.0) * std::norm(sum) / (rate_hz * power));
    }
    return density;
}

// ---- one density over all segments ----

RC_GTEST_PROP(Welch, IsMeanGreatestAndLeastOfTheRows, ())
{
    // Lengths even and odd, rows of several segments, blocks of any size, lanes side by side, an offset.
    const auto length = *rc::gen::inRange<std::size_t>(2, 40), in_a_row = *rc::gen::inRange<std::size_t>(1, 4);
    const auto block = *rc::gen::inRange<std::size_t>(1, 90), stride = *rc::gen::inRange<std::size_t>(1, 4);
    const auto count = *rc::gen::inRange<std::size_t>(length, 400);
    Signal signal = noise(count * stride, *rc::gen::inRange<std::uint64_t>(1, 999)), mine;
    for (double& x : signal) x += 3.0;
    for (std::size_t i = 0; i < count; ++i) mine.push_back(signal[i * stride]);

    const std::size_t hop = std::max<std::size_t>(1, length / 2);
    std::vector<double> sum(length / 2 + 1, 0.0), row = sum, greatest = sum, least(sum.size(), 1e300);
    std::size_t segments = 0, rows = 0;
    for (std::size_t at = 0; at + length <= count; at += hop) {
        const std::vector<double> density = plain_density(std::span(mine).subspan(at, length), 10.0);
        for (std::size_t k = 0; k < sum.size(); ++k) sum[k] += density[k], row[k] += density[k];
        if (++segments % in_a_row != 0) continue;
        ++rows;
        for (std::size_t k = 0; k < sum.size(); ++k) {
            greatest[k] = std::max(greatest[k], row[k] / static_cast<double>(in_a_row));
            least[k] = std::min(least[k], row[k] / static_cast<double>(in_a_row));
            row[k] = 0.0;
        }
    }
    Welch welch(10.0, length, in_a_row);
    for (const bool again : {false, true}) { // the second time after a restart in the middle
        if (again) welch.restart();
        for (std::size_t done = 0; done < count; done += block)
            welch.add(&signal[done * stride], std::min(block, count - done), stride);
        RC_ASSERT(welch.segments() == segments);
        RC_ASSERT(welch.rows() == rows);
        const auto density = welch.density(), most = welch.greatest(), fewest = welch.least();
        for (std::size_t k = 0; k < sum.size(); ++k) {
            const double mean = sum[k] / static_cast<double>(segments);
            RC_ASSERT(std::abs(density[k] - mean) < 1e-11 * mean + 1e-13);
            RC_ASSERT(std::abs(most[k] - (rows > 0 ? greatest[k] : mean)) < 1e-11 * greatest[k] + 1e-13 + 1e-11 * mean);
            RC_ASSERT(std::abs(fewest[k] - (rows > 0 ? least[k] : mean)) < 1e-11 * mean + 1e-13);
        }
    }
}

// ---- the definition ----

RC_GTEST_PROP(SpectrumRows, AreTheMeansOfTheSegmentsThatBeginInThem, ())
{
    const double rate_hz = any_rate();
    const double duration_s = *rc::gen::inRange(20, 3000) / 10.0;
    const Signal signal =
        noise(static_cast<std::size_t>(duration_s * rate_hz), *rc::gen::inRange<std::uint64_t>(1, 99));
    const ChannelSpectra got = spectra_of(signal, rate_hz, 1800, *rc::gen::inRange<std::size_t>(1, 3000));
    const double lasts = static_cast<double>(signal.size()) / rate_hz;

    RC_ASSERT(got.rows.empty() == (lasts < 2.0));
    if (got.rows.empty()) return;
    // Up to 300 s, 1/240 of which is rounded up to 8 s: a segment a row.
    const std::size_t length = std::min(signal.size(), static_cast<std::size_t>(16.0 * rate_hz + 1e-6));
    RC_ASSERT(got.rate_hz == rate_hz);
    RC_ASSERT(std::abs(got.resolution_hz * static_cast<double>(length) / rate_hz - 1.0) < 1e-12);
    for (std::size_t r = 0; r < got.rows.size(); ++r) {
        const SpectralRow& row = got.rows[r];
        const auto begin = static_cast<std::size_t>(std::ceil(8.0 * static_cast<double>(r) * rate_hz - 1e-6));
        RC_ASSERT(row.segments == 1U);
        RC_ASSERT(row.from_s == 8.0 * static_cast<double>(r));
        RC_ASSERT(row.to_s == std::min(row.from_s + 16.0, lasts));
        RC_ASSERT(begin + length <= signal.size());
        const auto expected = plain_density(std::span(signal).subspan(begin, length), rate_hz);
        RC_ASSERT(row.density.size() == expected.size());
        const double greatest = *std::ranges::max_element(expected);
        for (std::size_t k = 0; k < expected.size(); ++k) // float: 6e-8 of the value
            RC_ASSERT(std::abs(static_cast<double>(row.density[k]) - expected[k]) <=
                      6e-8 * expected[k] + 1e-12 * greatest);
    }
    // No further segment would have found room.
    const double next = std::ceil(8.0 * static_cast<double>(got.rows.size()) * rate_hz - 1e-6);
    RC_ASSERT(next + static_cast<double>(length) > static_cast<double>(signal.size()));
}

RC_GTEST_PROP(SpectrumRows, AreTheSameToTheLastBitHoweverTheyAreCut, ())
{
    // Rows of 8 to 40 s over pieces of 8 to 80 s: pieces within rows, rows within pieces, and neither.
    const double rate_hz = *rc::gen::element(2.0, 4.0, 4.1, 5.01);
    const auto signal = noise(*rc::gen::inRange<std::size_t>(40, 40000), *rc::gen::inRange<std::uint64_t>(1, 99));
    const std::int64_t piece_s = *rc::gen::inRange<std::int64_t>(1, 11) * 8;
    const auto layout = spectrum_layout(rate_hz, static_cast<std::int64_t>(signal.size()), piece_s);
    RC_ASSERT(layout.has_value());
    const auto seconds = static_cast<std::int64_t>(std::ceil(static_cast<double>(signal.size()) / rate_hz));
    const ChannelSpectra one = rows_of_span(*layout, signal, 0, seconds, 512).spectra();

    SpectrumRows joined(*layout);
    const std::int64_t span_s = piece_s * *rc::gen::inRange<std::int64_t>(1, 4);
    for (std::int64_t from = 0; from < seconds; from += span_s)
        joined.append(rows_of_span(*layout, signal, from, std::min(from + span_s, seconds),
                                   *rc::gen::inRange<std::size_t>(1, 2000)));
    const ChannelSpectra several = std::move(joined).spectra();

    RC_ASSERT(several.rows.size() == one.rows.size());
    std::int64_t segments = 0;
    for (std::size_t r = 0; r < one.rows.size(); ++r) {
        RC_ASSERT(several.rows[r].from_s == one.rows[r].from_s);
        RC_ASSERT(several.rows[r].to_s == one.rows[r].to_s);
        RC_ASSERT(several.rows[r].segments == one.rows[r].segments);
        RC_ASSERT(several.rows[r].density == one.rows[r].density);
        segments += one.rows[r].segments;
    }
    RC_ASSERT(segments == layout->segments);
    RC_ASSERT(one.rows.size() <= 240U);
}

TEST(SpectrumRows, OfSeveralSegmentsAreTheMeanOverAllOfThem)
{
    // 2400 s: rows of 16 s hold two segments, and all together are what Welch's method gives for the whole, whose
    // segments lie on the same grid at a whole rate.
    constexpr double rate_hz = 20.0;
    const Signal signal = noise(2400 * 20, 7);
    const ChannelSpectra spectra = spectra_of(signal, rate_hz);
    ASSERT_EQ(spectra.rows.size(), 150U);
    EXPECT_EQ(spectra.rows[3].segments, 2U);
    EXPECT_EQ(spectra.rows[3].from_s, 48.0);
    EXPECT_EQ(spectra.rows[3].to_s, 72.0);
    EXPECT_EQ(spectra.rows[149].segments, 1U) << "the last segment begins at 2384 s";
    EXPECT_EQ(spectra.rows[149].to_s, 2400.0);

    Welch welch(rate_hz, 320);
    welch.add(signal);
    ASSERT_EQ(welch.segments(), 299U);
    const std::vector<double> expected = welch.density();
    const std::vector<double> mean = mean_density(spectra, std::vector{TimeSpan{}});
    ASSERT_EQ(mean.size(), expected.size());
    for (std::size_t k = 0; k < mean.size(); ++k) EXPECT_NEAR(mean[k] / expected[k], 1.0, 1e-7) << "bin " << k;
}

TEST(SpectrumRows, KeepParseval)
{
    // sum of density times resolution = sum w^2 (x - mean)^2 / sum w^2 of the segment: exact, but for the rounding to
    // float. Even and odd lengths (bin at half the rate or not).
    for (const double rate_hz : {50.0, 50.07}) {
        const Signal signal = noise(static_cast<std::size_t>(100.0 * rate_hz), 3);
        const ChannelSpectra spectra = spectra_of(signal, rate_hz);
        const auto length = static_cast<std::size_t>(std::llround(rate_hz / spectra.resolution_hz));
        ASSERT_GE(spectra.rows.size(), 10U);
        for (const SpectralRow& row : spectra.rows) {
            const auto begin = static_cast<std::size_t>(std::ceil(row.from_s * rate_hz - 1e-6));
            double mean = 0.0, power = 0.0, expected = 0.0, got = 0.0;
            for (std::size_t i = 0; i < length; ++i) mean += signal[begin + i] / static_cast<double>(length);
            for (std::size_t i = 0; i < length; ++i) {
                const double w =
                    0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(length));
                power += w * w;
                expected += std::pow(w * (signal[begin + i] - mean), 2);
            }
            for (const float density : row.density) got += static_cast<double>(density) * spectra.resolution_hz;
            EXPECT_NEAR(got / (expected / power), 1.0, 1e-7) << rate_hz << " Hz, row at " << row.from_s << " s";
        }
    }
}

TEST(SpectrumRows, OfASineGiveItsRmsInItsThirdOctave)
{
    // a / sqrt(2), between two bins as well as on one. What the window lets out of the band is below 0.2 %.
    constexpr double rate_hz = 256.0, amplitude = 0.3;
    for (const double hz : {8.0, 8.0 + 1.0 / 32.0, 15.9, 31.4}) {
        Signal signal(static_cast<std::size_t>(60.0 * rate_hz));
        for (std::size_t i = 0; i < signal.size(); ++i)
            signal[i] = 5.0 + amplitude * std::sin(2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate_hz);
        const ChannelSpectra spectra = spectra_of(signal, rate_hz);
        const auto density = mean_density(spectra, std::vector{TimeSpan{}});
        const ThirdOctave band = third_octave(static_cast<int>(std::lround(10.0 * std::log10(hz))));
        EXPECT_NEAR(band_rms(density, spectra.resolution_hz, band.from_hz, band.to_hz), amplitude / std::numbers::sqrt2,
                    0.002 * amplitude / std::numbers::sqrt2)
            << hz << " Hz";
    }
}

// ---- selections ----

TEST(SpectrumRows, OfAnExcludedSpanAreLeftOut)
{
    // Noise with a burst from 100.5 s to 109 s; the span that is left out is widened to whole seconds.
    for (const double rate_hz : {100.0, 100.3}) {
        const auto at = [&](double second) { return static_cast<std::ptrdiff_t>(std::ceil(second * rate_hz)); };
        Signal clean = noise(static_cast<std::size_t>(200.0 * rate_hz), 5), burst = clean;
        std::for_each(burst.begin() + at(100.5), burst.begin() + at(109.0), [](double& x) { x *= 50.0; });
        const auto kept = selection(200.0, 0.0, std::vector{ExcludedSpan{100.5, 109.0, "a door"}});
        const ChannelSpectra of_clean = spectra_of(clean, rate_hz), of_burst = spectra_of(burst, rate_hz);
        EXPECT_EQ(mean_density(of_burst, kept), mean_density(of_clean, kept));
        EXPECT_NE(mean_density(of_burst, std::vector{TimeSpan{}}), mean_density(of_clean, std::vector{TimeSpan{}}));
        // Segments that begin at 0, 8 ... 80 s and 112 ... 184 s: those between end after 100 s or begin before 109 s.
        std::size_t rows = 0;
        for (const SpectralRow& row : of_burst.rows) rows += row.to_s <= 100.0 || row.from_s >= 109.0;
        EXPECT_EQ(rows, 21U);
    }
}

// ---- sizes ----

TEST(SpectrumRows, AreNoneOfLessThanTwoSeconds)
{
    EXPECT_FALSE(spectrum_layout(1000.0, 1999, 1800));
    const auto layout = spectrum_layout(1000.0, 2000, 1800);
    ASSERT_TRUE(layout);
    EXPECT_EQ(layout->length, 2000U);
    EXPECT_EQ(layout->segments, 1);
    EXPECT_EQ(layout->bins, 501U) << "to 250 Hz, 0.5 Hz apart";
    const ChannelSpectra spectra = spectra_of(noise(2000, 1), 1000.0);
    ASSERT_EQ(spectra.rows.size(), 1U);
    EXPECT_EQ(spectra.rows[0].to_s, 2.0);
    EXPECT_EQ(spectra.resolution_hz, 0.5);
    EXPECT_FALSE(spectrum_layout(0.4, 3600, 1800)) << "16 s of 0.4 Hz are no spectrum";
}

TEST(SpectrumRows, DoNotGrowWithDuration)
{
    for (const double rate_hz : {8.0, 100.1, 1000.0, 44100.0})
        for (const std::int64_t hours : {1, 24, 24 * 31, 24 * 366}) {
            const auto layout =
                spectrum_layout(rate_hz, static_cast<std::int64_t>(static_cast<double>(hours * 3600) * rate_hz), 1800);
            ASSERT_TRUE(layout);
            const std::int64_t rows = layout->row_of(layout->segments - 1) + 1;
            EXPECT_LE(rows, 240) << rate_hz << " Hz, " << hours << " h";
            EXPECT_GE(rows, 200) << rate_hz << " Hz, " << hours << " h"; // 225 of 16 s in the hour
            EXPECT_LE(layout->bins, 4001U);
        }
}

TEST(SpectrumRows, LieInWholeSeconds)
{
    // So that excluding whole seconds never meets a segment that reaches a sample into them.
    for (const auto& [rate_hz, hours] : {std::pair(99.97, 3), std::pair(128.3, 3), std::pair(512.0, 1)}) {
        const auto layout =
            spectrum_layout(rate_hz, static_cast<std::int64_t>(static_cast<double>(hours * 3600) * rate_hz), 1800);
        ASSERT_TRUE(layout);
        for (std::int64_t s = 0; s < layout->segments; ++s) {
            ASSERT_GE(static_cast<double>(layout->begin_of(s)) / rate_hz, static_cast<double>(8 * s) - 1e-6);
            ASSERT_LE(static_cast<double>(layout->end_of(s) - 1) / rate_hz, static_cast<double>(8 * s + 16));
        }
    }
}

} // namespace
} // namespace becalm::filters
