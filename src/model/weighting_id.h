// The names of the frequency weightings, and what comes out of each. Their parameters live in filters/weighting.h,
// once.
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "src/base/units.h"

namespace becalm {

enum class WeightingId { none, Wb, Wc, Wd, We, Wf, Wg, Wh, Wj, Wk, Wm, KB, velocity, flat };

inline constexpr std::array<WeightingId, 14> all_weightings{
    WeightingId::none, WeightingId::Wb, WeightingId::Wc,       WeightingId::Wd,  WeightingId::We,
    WeightingId::Wf,   WeightingId::Wg, WeightingId::Wh,       WeightingId::Wj,  WeightingId::Wk,
    WeightingId::Wm,   WeightingId::KB, WeightingId::velocity, WeightingId::flat};

std::string_view name_of(WeightingId id); // "none", "Wb", ...
std::optional<WeightingId> weighting_named(std::string_view name);
std::string_view weighting_names(); // "none, Wb, Wc, ..." for messages

// What comes out, whichever motion goes in: a velocity (m/s) of KB and velocity, an acceleration (m/s2) of all others.
// `id` must not be none.
Motion output_of(WeightingId id);

// The same of a channel that carries `input`: none leaves it as it is.
Motion output_of(WeightingId id, Motion input);

} // namespace becalm
