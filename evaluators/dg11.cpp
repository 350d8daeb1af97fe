#include "evaluators/dg11.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "evaluators/en12299.h"
#include "evaluators/stated_in.h"

namespace becalm::evaluators::dg11 {
namespace {

double percent_of_gravity(double acceleration) { return 100.0 * acceleration / standard_gravity; }

} // namespace

QuantityResult peak_percent_g(const QuantityArguments& arguments)
{
    if (const auto problem = unless_stated_in(arguments, Motion::acceleration)) return fail(*problem);
    return QuantityValue{.value = percent_of_gravity(arguments.tally.peak)};
}

QuantityResult espa(const QuantityArguments& arguments)
{
    if (const auto problem = unless_stated_in(arguments, Motion::acceleration)) return fail(*problem);
    double greatest = -1.0;
    for (const SelectedRows& recording : arguments.rows)
        for (const TimeSpan& span : recording.selected) {
            const std::vector<double> seconds =
                en12299::block_values({.ledger = recording.ledger, .selected = {span}}, 1);
            for (std::size_t i = 1; i < seconds.size(); ++i)
                greatest =
                    std::max(greatest, std::hypot(seconds[i - 1], seconds[i])); // sqrt(2) times the r.m.s. of both
        }
    if (greatest < 0.0)
        return fail({.what = "no two whole seconds follow each other", .remedy = "measure longer or exclude less"});
    return QuantityValue{.value = percent_of_gravity(greatest), .notes = {"windows of 2 s, 1 s apart"}};
}

} // namespace becalm::evaluators::dg11
