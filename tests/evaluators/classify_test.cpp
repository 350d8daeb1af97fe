// Bands: which range holds a value, ends included. Expected values come from the criteria under data/criteria and the
// rules in classify.h; rows name the publication that a range is of.
#include <limits>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <rapidcheck/gtest.h>

#include "evaluators/classify.h"

#include "tests/evaluators/criteria.h"

namespace becalm::evaluators {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using tests::shipped;

Band below(std::string name, double limit)
{
    return {.name = std::move(name), .from = {}, .limit = limit, .inclusive = false, .exceeds = false};
}
Band up_to(std::string name, double limit)
{
    return {.name = std::move(name), .from = {}, .limit = limit, .inclusive = true, .exceeds = false};
}
Band last(std::string name)
{
    return {.name = std::move(name), .from = {}, .limit = {}, .inclusive = false, .exceeds = true};
}

TEST(Classify, TellsBelowFromUpTo)
{
    const std::vector<Band> bands{below("a", 1.0), up_to("b", 2.0), last("c")};
    const double before_1 = std::nextafter(1.0, 0.0), after_2 = std::nextafter(2.0, 3.0);
    for (const auto& [value, band] : {std::pair(0.0, 0U), std::pair(before_1, 0U), std::pair(1.0, 1U),
                                      std::pair(2.0, 1U), std::pair(after_2, 2U), std::pair(1e300, 2U)}) {
        EXPECT_EQ(classify(value, bands).band, band) << value;
        EXPECT_THAT(classify(value, bands).also, IsEmpty()) << value;
    }
    const std::vector<Band> only{last("all")};
    EXPECT_EQ(classify(0.0, only).band, 0U);
}

TEST(Classify, GivesTheMostSevereOfOverlappingBandsAndNamesTheOthers)
{
    // iso2631-1-1997, annex C.2.3, from memory: ranges that overlap on purpose.
    const std::vector<Band>& bands = scale_for(shipped("iso2631-1-1997-comfort"), "living room")->bands;
    struct Row {
        double value;
        std::string band;
        std::vector<std::string> also;
    };
    for (const Row& row :
         {Row{0.3, "not uncomfortable", {}}, Row{0.315, "a little uncomfortable", {}},
          Row{0.4, "a little uncomfortable", {}}, Row{0.5, "fairly uncomfortable", {"a little uncomfortable"}},
          Row{0.63, "fairly uncomfortable", {"a little uncomfortable"}}, Row{0.64, "fairly uncomfortable", {}},
          Row{0.9, "uncomfortable", {"fairly uncomfortable"}}, Row{1.1, "uncomfortable", {}},
          Row{1.4, "very uncomfortable", {"uncomfortable"}}, Row{1.8, "very uncomfortable", {}},
          Row{2.25, "extremely uncomfortable", {"very uncomfortable"}}, Row{2.6, "extremely uncomfortable", {}}}) {
        const Classification got = classify(row.value, bands);
        EXPECT_EQ(bands[got.band].name, row.band) << row.value << " (iso2631-1-1997 C.2.3, from memory)";
        std::vector<std::string> also;
        for (const std::size_t i : got.also) also.push_back(bands[i].name);
        EXPECT_EQ(also, row.also) << row.value << " (iso2631-1-1997 C.2.3, from memory)";
    }
}

struct PublishedBand {
    const char* criterion;
    const char* use;
    double value;
    const char* band;
    bool exceeded;
    const char* source;
};

TEST(Classify, FollowsTheShippedCriteria)
{
    constexpr const char* dwelling = "bs6472-1-2008 Table 1, through a secondary text";
    constexpr const char* shared_end =
        "bs6472-1-2008 ranges share end points; no rule for a tie was read: counted to the lower";
    constexpr const char* ship = "iso6954-2000 Table 1, from memory";
    constexpr const char* directive = "directive-2002-44-ec Article 3";
    for (const PublishedBand& row : {
             PublishedBand{"bs6472-1-2008-day", "residential", 0.5, "adverse comment possible", false, dwelling},
             PublishedBand{"bs6472-1-2008-night", "residential", 0.5, "adverse comment probable", false, dwelling},
             PublishedBand{"bs6472-1-2008-day", "residential", 0.1, "adverse comment not expected", false, dwelling},
             PublishedBand{"bs6472-1-2008-day", "residential", 1.7, "adverse comment very likely", false, dwelling},
             PublishedBand{"bs6472-1-2008-day", "residential", 0.4, "low probability of adverse comment", false,
                           shared_end},
             PublishedBand{"bs6472-1-2008-day", "residential", 0.8, "adverse comment possible", false, shared_end},
             PublishedBand{"iso6954-2000", "passenger-cabin", 0.0714, "adverse comments not probable", false, ship},
             PublishedBand{"iso6954-2000", "passenger-cabin", 0.072, "between the two values", false, ship},
             PublishedBand{"iso6954-2000", "passenger-cabin", 0.1435, "adverse comments probable", true, ship},
             PublishedBand{"iso6954-2000", "crew-accommodation", 0.1435, "between the two values", false, ship},
             PublishedBand{"iso6954-2000", "working-area", 0.2861, "adverse comments probable", true, ship},
             PublishedBand{"directive-2002-44-ec-a8", "any use", 0.5, "below the exposure action value", false,
                           directive},
             PublishedBand{"directive-2002-44-ec-a8", "any use", 0.51, "action value exceeded", true, directive},
             PublishedBand{"directive-2002-44-ec-a8", "any use", 1.16, "limit value exceeded", true, directive},
             PublishedBand{"directive-2002-44-ec-vdv", "any use", 9.2, "action value exceeded", true, directive},
             PublishedBand{"directive-2002-44-ec-vdv", "any use", 21.1, "limit value exceeded", true, directive},
         }) {
        const Scale* scale = scale_for(shipped(row.criterion), row.use);
        ASSERT_NE(scale, nullptr) << row.criterion << " " << row.use;
        const Band& band = scale->bands[classify(row.value, scale->bands).band];
        EXPECT_EQ(band.name, row.band) << fmt::format("{} {} {} ({})", row.criterion, row.use, row.value, row.source);
        EXPECT_EQ(band.exceeds, row.exceeded)
            << fmt::format("{} {} {} ({})", row.criterion, row.use, row.value, row.source);
    }
}

TEST(Classify, ChoosesTheScaleOfTheUse)
{
    Criterion criterion;
    criterion.scales = {{.use = "any", .bands = {last("a")}}, {.use = "office", .bands = {last("o")}}};
    EXPECT_EQ(scale_for(criterion, "office")->use, "office");
    EXPECT_EQ(scale_for(criterion, "ward")->use, "any");
    criterion.scales.erase(criterion.scales.begin());
    EXPECT_EQ(scale_for(criterion, "ward"), nullptr);
}

RC_GTEST_PROP(Classify, FindsABandForEveryValueAndNeverAMilderOneForMore, ())
{
    std::vector<Band> bands;
    double limit = 0.0;
    for (int n = *rc::gen::inRange(0, 6); n > 0; --n) {
        limit += 0.25 * *rc::gen::inRange(1, 4);
        bands.push_back(*rc::gen::arbitrary<bool>() ? up_to("b", limit) : below("b", limit));
        if (bands.size() > 1 && *rc::gen::arbitrary<bool>()) bands.back().from = *bands[bands.size() - 2].limit - 0.1;
    }
    bands.push_back(last("c"));
    std::size_t before = 0;
    for (double value = 0.0; value < limit + 1.0; value += 0.0625) {
        const Classification got = classify(value, bands);
        RC_ASSERT(got.band < bands.size());
        RC_ASSERT(got.band >= before);
        for (const std::size_t i : got.also) RC_ASSERT(i < got.band);
        before = got.band;
    }
}

} // namespace
} // namespace becalm::evaluators
