// ISO 2631-1:1997: basic evaluation (clause 6.1), running r.m.s. (6.3.1), estimated dose for health (annex B), motion
// sickness dose value (annex D).
// Values per axis, before multiplying factors; evaluators/combine.h forms the total over the axes (6.5).
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::iso2631_1 {

// 6.1, equation 1: a_w = [1/T integral a_w(t)^2 dt]^(1/2), m/s2. Notes where the additional methods are
// called for: a crest factor above 9 (6.2.1), MTVV / a_w above 1.5 or VDV / (a_w T^(1/4)) above 1.75 (6.3.3).
QuantityResult weighted_rms(const QuantityArguments& arguments);

// 6.3.1: maximum transient vibration value, tau = 1 s, m/s2; equation 2 (linear) and 3 (exponential).
QuantityResult mtvv_linear(const QuantityArguments& arguments);
QuantityResult mtvv_exponential(const QuantityArguments& arguments);

// Greatest absolute weighted acceleration, m/s2.
QuantityResult peak(const QuantityArguments& arguments);

// Annex B: what one task adds to a day's eVDV = 1.4 a_w T^(1/4), m/s^1.75; fourth powers add up. T is the condition's
// exposure_h or the task's hours. Parameter: greatest_crest_factor, above which the estimate says nothing (6, as in
// bs6841-1987; the basic method of 6.2.1 goes to 9).
QuantityResult daily_evdv(const QuantityArguments& arguments);

// D.1.2: MSDV = [integral a_w(t)^2 dt]^(1/2) over the exposure, m/s^1.5. Where the condition's exposure differs from
// what was measured, a_w sqrt(exposure).
QuantityResult msdv(const QuantityArguments& arguments);

// D.3: Km MSDV, per cent of unadapted adults, for exposures of about 20 min to 6 h. Parameter: per_msdv, Km (1/3).
QuantityResult vomiting_percent(const QuantityArguments& arguments);

} // namespace becalm::evaluators::iso2631_1
