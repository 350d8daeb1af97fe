// The names of the frequency weightings. Their parameters live in filters/weighting.h, once.
#pragma once

#include <array>
#include <optional>
#include <string_view>

namespace becalm {

enum class WeightingId { none, Wb, Wc, Wd, We, Wf, Wg, Wh, Wj, Wk, Wm };

inline constexpr std::array<WeightingId, 11> all_weightings{
    WeightingId::none, WeightingId::Wb, WeightingId::Wc, WeightingId::Wd, WeightingId::We, WeightingId::Wf,
    WeightingId::Wg,   WeightingId::Wh, WeightingId::Wj, WeightingId::Wk, WeightingId::Wm};

std::string_view name_of(WeightingId id); // "none", "Wb", ...
std::optional<WeightingId> weighting_named(std::string_view name);
std::string_view weighting_names(); // "none, Wb, Wc, ..." for messages

} // namespace becalm
