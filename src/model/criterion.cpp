#include "src/model/criterion.h"

namespace becalm {

std::string_view name_of(AxisRule rule)
{
    constexpr std::array<std::string_view, 5> names{"each", "highest", "vertical", "total", "sum_of_totals"};
    return names[static_cast<std::size_t>(rule)];
}

std::optional<AxisRule> axis_rule_named(std::string_view name)
{
    for (const AxisRule rule : all_axis_rules)
        if (name_of(rule) == name) return rule;
    return std::nullopt;
}

} // namespace becalm
