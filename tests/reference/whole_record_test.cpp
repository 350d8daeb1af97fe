// The whole way from a file to the quantities, beside an independent route: whole_record/generate.py multiplies one
// transform of the whole record by the analytic weightings (numpy and scipy, versions and seed in
// whole_record/expected.json).
#include <algorithm>
#include <cmath>
#include <fstream>
#include <map>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "evaluators/pass.h"
#include "filters/quantities.h"

namespace becalm::evaluators {
namespace {

const std::string folder = std::string(BECALM_TEST_DATA) + "/reference/whole_record/";

struct Row {
    std::string input;
    Lane lane;
    nlohmann::json values;
};

std::map<std::string, std::vector<Row>> rows_by_file()
{
    std::map<std::string, std::vector<Row>> rows;
    const auto document = nlohmann::json::parse(std::ifstream(folder + "expected.json"));
    for (const auto& row : document.at("rows")) {
        const auto weighting = weighting_named(row.at("weighting").get<std::string>());
        EXPECT_TRUE(weighting) << row;
        rows[row.at("file")].push_back(
            {row.at("input"), {row.at("channel"), Axis::z, weighting.value_or(WeightingId::none)}, row});
    }
    return rows;
}

TEST(WholeRecord, AgreesWithTheFrequencyDomain)
{
    // The filters follow the definition to 1e-4 up to 112 Hz and to 1e-5 of the greatest magnitude beyond; nothing in
    // the record lies beyond 250 Hz (see the script).
    constexpr double tolerance = 1e-4;
    double worst = 0.0;
    int compared = 0;
    for (const auto& [file, rows] : rows_by_file()) {
        PassRequest request{.path = folder + file, .input = motion_named(rows.front().input).value()};
        for (const Row& row : rows) request.lanes.push_back(row.lane);
        const auto results = run_passes(std::span(&request, 1));
        ASSERT_TRUE(results[0]) << to_text(results[0].error());
        for (std::size_t i = 0; i < rows.size(); ++i) {
            const LaneResult& lane = results[0]->lanes[i];
            ASSERT_FALSE(lane.refused) << to_text(*lane.refused);
            const Tally& tally = lane.tally;
            for (const auto& [name, got] :
                 {std::pair("rms", filters::weighted_rms(tally)), std::pair("peak", tally.peak),
                  std::pair("mtvv_linear", tally.linear_rms), std::pair("mtvv_exponential", tally.exponential_rms_slow),
                  std::pair("vdv", filters::vdv(tally)), std::pair("msdv", filters::msdv(tally))}) {
                const double expected = rows[i].values.at(name);
                worst = std::max(worst, std::abs(got / expected - 1.0));
                EXPECT_NEAR(got / expected, 1.0, tolerance)
                    << fmt::format("{} channel {} {} {}: {:.10g}, expected {:.10g} (generate.py)", file,
                                   lane.lane.channel, name_of(lane.lane.weighting), name, got, expected);
                ++compared;
            }
        }
    }
    RecordProperty("worst", fmt::format("{:.3g}", worst));
    EXPECT_EQ(compared, 5 * 12 * 6); // channels, weightings, quantities
}

TEST(WholeRecord, IsOneMotionInThreeForms)
{
    // Acceleration, velocity and displacement of z are stored apart; weighted, they are the same acceleration, or the
    // same velocity. What differs is the rounding of what is stored.
    std::map<WeightingId, std::vector<double>> values;
    for (const auto& [file, channel] :
         {std::pair("acceleration", 3), std::pair("velocity", 1), std::pair("displacement", 1)}) {
        PassRequest request{.path = folder + file + ".wav", .input = motion_named(file).value()};
        for (const WeightingId id : {WeightingId::Wb, WeightingId::Wk, WeightingId::Wm, WeightingId::KB,
                                     WeightingId::velocity, WeightingId::flat})
            request.lanes.push_back({channel, Axis::z, id});
        const auto results = run_passes(std::span(&request, 1));
        ASSERT_TRUE(results[0]) << to_text(results[0].error());
        for (const LaneResult& lane : results[0]->lanes)
            values[lane.lane.weighting].push_back(filters::vdv(lane.tally));
    }
    for (const auto& [id, forms] : values)
        for (const double value : forms) EXPECT_NEAR(value / forms[0], 1.0, 2e-4) << name_of(id);
}

} // namespace
} // namespace becalm::evaluators
