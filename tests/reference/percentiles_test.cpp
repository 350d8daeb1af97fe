// Percentiles beside those of numpy and scipy; percentiles/generate.py made the expected values.
#include <fstream>
#include <string>
#include <vector>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "evaluators/en12299.h"

namespace becalm::evaluators {
namespace {

TEST(PercentilesBesideOthers, OfBothRulesAgree)
{
    std::ifstream file(std::string(BECALM_TEST_DATA) + "/reference/percentiles/expected.json");
    const auto expected = nlohmann::json::parse(file);
    const double width = expected.at("class_width").get<double>();
    const auto percents = expected.at("percents").get<std::vector<double>>();
    std::size_t compared = 0;
    for (const auto& set : expected.at("sets")) {
        const auto values = set.at("values").get<std::vector<double>>();
        for (std::size_t i = 0; i < percents.size(); ++i, ++compared) {
            EXPECT_NEAR(en12299::percentile(values, percents[i]), set.at("linear").at(i).get<double>(), 1e-12)
                << percents[i] << " % of " << values.size() << ", linear between order statistics (numpy "
                << expected.at("numpy") << ")";
            EXPECT_NEAR(en12299::class_percentile(values, percents[i], width), set.at("classes").at(i).get<double>(),
                        1e-12)
                << percents[i] << " % of " << values.size() << ", classes (numpy " << expected.at("numpy") << ")";
        }
    }
    EXPECT_EQ(compared, 30U);
}

} // namespace
} // namespace becalm::evaluators
