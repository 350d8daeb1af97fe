// From axes to what is compared. Expected values are computed from the definition: factor times value, and root of the
// sum of squares.
#include <cmath>
#include <vector>

#include <gmock/gmock.h>

#include "evaluators/combine.h"

namespace becalm::evaluators {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

VerdictTerm term(std::string axis, std::string weighting, double factor, double value)
{
    return {.axis = std::move(axis), .weighting = std::move(weighting), .factor = factor, .value = value};
}

const std::vector<VerdictTerm> three{term("x", "Wd", 1.4, 0.3), term("y", "Wd", 1.4, 0.2), term("z", "Wk", 1.0, 0.4)};

TEST(Combine, EachAxisApart)
{
    const auto values = combine(AxisRule::each, three);
    ASSERT_THAT(values, SizeIs(3));
    EXPECT_DOUBLE_EQ(values[0].value, 1.4 * 0.3);
    EXPECT_DOUBLE_EQ(values[1].value, 1.4 * 0.2);
    EXPECT_DOUBLE_EQ(values[2].value, 0.4);
    EXPECT_EQ(values[1].axis, "y");
    EXPECT_EQ(values[2].weighting, "Wk");
    EXPECT_THAT(values[2].from, ElementsAre(2));
}

TEST(Combine, TheHighestCountsTheFactor)
{
    const auto values = combine(AxisRule::highest, three);
    ASSERT_THAT(values, SizeIs(1));
    EXPECT_EQ(values[0].axis, "x") << "0.42 with its factor, though 0.4 is the greatest without";
    EXPECT_DOUBLE_EQ(values[0].value, 0.42);
    EXPECT_THAT(values[0].from, ElementsAre(0));
}

TEST(Combine, TheHighestOfEqualAxesIsTheFirst)
{
    const std::vector<VerdictTerm> equal{term("x", "Wd", 1.0, 0.3), term("z", "Wk", 1.0, 0.3)};
    EXPECT_EQ(combine(AxisRule::highest, equal)[0].axis, "x");
}

TEST(Combine, VerticalTakesZAlone)
{
    const auto values = combine(AxisRule::vertical, three);
    ASSERT_THAT(values, SizeIs(1));
    EXPECT_EQ(values[0].axis, "z");
    EXPECT_THAT(values[0].from, ElementsAre(2));
    EXPECT_THAT(combine(AxisRule::vertical, std::span(three).first(2)), IsEmpty());
}

TEST(Combine, TotalIsTheRootOfTheSumOfSquares)
{
    const auto values = combine(AxisRule::total, three);
    ASSERT_THAT(values, SizeIs(1));
    EXPECT_DOUBLE_EQ(values[0].value, std::sqrt(0.42 * 0.42 + 0.28 * 0.28 + 0.4 * 0.4));
    EXPECT_EQ(values[0].axis, "total");
    EXPECT_EQ(values[0].weighting, "Wd+Wk");
    EXPECT_THAT(values[0].from, ElementsAre(0, 1, 2));
    EXPECT_DOUBLE_EQ(combine(AxisRule::total, std::span(three).last(1))[0].value, 0.4);
}

// v dvalue/dv of every rule beside a change of one term by a millionth (computed from the definition).
TEST(Combine, SharesAreWhatARelativeChangeAdds)
{
    std::vector<VerdictTerm> terms = three;
    terms[1].group = terms[2].group = 2;
    for (const AxisRule rule : all_axis_rules) {
        const Combined before = combine(rule, terms)[0];
        ASSERT_EQ(before.shares.size(), before.from.size()) << name_of(rule);
        for (std::size_t i = 0; i < before.from.size(); ++i) {
            std::vector<VerdictTerm> changed = terms;
            changed[before.from[i]].value = *terms[before.from[i]].value * (1.0 + 1e-6);
            EXPECT_NEAR((combine(rule, changed)[0].value - before.value) / 1e-6, before.shares[i], 1e-5 * before.value)
                << name_of(rule) << ", term " << before.from[i];
        }
    }
    const std::vector<VerdictTerm> silence{term("x", "Wd", 1.0, 0.0)};
    EXPECT_THAT(combine(AxisRule::total, silence)[0].shares, ElementsAre(0.0));
}

TEST(Combine, OfNothingIsNothing)
{
    for (const AxisRule rule : all_axis_rules) EXPECT_THAT(combine(rule, {}), IsEmpty());
}

} // namespace
} // namespace becalm::evaluators
