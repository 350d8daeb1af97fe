#include "src/model/criterion.h"

namespace becalm {

std::string_view name_of(AxisRule rule)
{
    constexpr std::array<std::string_view, 6> names{"each", "highest", "vertical", "total", "sum_of_totals", "ratio"};
    return names[static_cast<std::size_t>(rule)];
}

std::optional<AxisRule> axis_rule_named(std::string_view name)
{
    for (const AxisRule rule : all_axis_rules)
        if (name_of(rule) == name) return rule;
    return std::nullopt;
}

std::string_view name_of(PartsRule rule)
{
    constexpr std::array<std::string_view, 5> names{"each", "sum", "root_sum_square", "root_sum_quad", "highest"};
    return names[static_cast<std::size_t>(rule)];
}

std::optional<PartsRule> parts_rule_named(std::string_view name)
{
    for (const PartsRule rule : all_parts_rules)
        if (name_of(rule) == name) return rule;
    return std::nullopt;
}

std::string_view name_of(RepeatsRule rule)
{
    constexpr std::array<std::string_view, 3> names{"pooled", "mean", "highest"};
    return names[static_cast<std::size_t>(rule)];
}

std::optional<RepeatsRule> repeats_rule_named(std::string_view name)
{
    for (const RepeatsRule rule : all_repeats_rules)
        if (name_of(rule) == name) return rule;
    return std::nullopt;
}

} // namespace becalm
