// Time histories beside scipy.signal (histories/generate.py; versions in histories/expected.json).
#include <cmath>
#include <fstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "evaluators/history.h"

namespace becalm::evaluators {
namespace {

const std::string folder = std::string(BECALM_TEST_DATA) + "/reference/";

TEST(Histories, AgreeWithAnOutsideSource)
{
    const auto document = nlohmann::json::parse(std::ifstream(folder + "histories/expected.json"));
    const auto step = document.at("step").get<std::size_t>();
    std::size_t compared = 0;
    for (const auto& expected : document.at("cases")) {
        HistoryOptions wanted{.high_pass_hz = expected.at("high_pass").get<double>(), .order = expected.at("order")};
        if (!expected.at("low_pass").is_null()) wanted.low_pass_hz = expected.at("low_pass").get<double>();
        std::vector<std::vector<double>> series(9);
        wanted.rows = [&](const HistoryReport&, const HistoryRows& rows) {
            for (std::size_t s = 0; s < rows.series.size(); ++s)
                series[s].insert(series[s].end(), rows.series[s].begin(), rows.series[s].end());
        };
        const auto report = history(folder + "whole_record/acceleration.wav", {}, wanted);
        ASSERT_TRUE(report) << to_text(report.error());
        for (std::size_t c = 0; c < 3; ++c)
            for (std::size_t m = 0; m < 3; ++m) {
                const auto& motion = expected.at("motions").at(m);
                const HistoryQuantity& quantity = report->channels.at(c).quantities.at(m);
                const double rms = motion.at("rms").at(c);
                const std::string what =
                    fmt::format("high-pass {} Hz, channel {}, {}", *wanted.high_pass_hz, c + 1, quantity.motion);
                // What the tails and the content at half the rate leave: filters/history.h.
                EXPECT_NEAR(quantity.rms, rms, 1e-5 * rms) << what;
                EXPECT_NEAR(quantity.peak, motion.at("peak").at(c).get<double>(), 5e-4 * rms) << what;
                EXPECT_NEAR(quantity.peak_to_peak, motion.at("peak_to_peak").at(c).get<double>(), 5e-4 * rms) << what;
                const auto& samples = motion.at("samples").at(c);
                for (std::size_t i = 0; i < samples.size(); ++i) {
                    EXPECT_NEAR(series[3 * c + m].at(i * step), samples.at(i).get<double>(), 1e-3 * rms)
                        << what << ", sample " << i * step;
                    ++compared;
                }
            }
    }
    EXPECT_EQ(compared, 3U * 9U * 91U);
}

} // namespace
} // namespace becalm::evaluators
