// ISO 10326-1: seat effective amplitude transmissibility (SEAT), how much of the floor's vibration reaches the person.
// From memory; the concept also in Journal of Sound and Vibration 260 (2003) 867-888.
//
//   SEAT = 100 a_w,seat / a_w,floor per cent, both under the weighting of the seat's axis
//   or of VDV where crest factors are high, or of spectra: [integral G_seat |W|^2 df / integral G_floor |W|^2 df]^(1/2)
// The ratio is the criterion's (axes = "ratio": seat in group 1, floor in group 2); each function gives the value that
// one of the two contributes.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::iso10326_1 {

// a_w, m/s2.
QuantityResult seat_rms(const QuantityArguments& arguments);

// VDV of one second, VDV / T^(1/4), m/s2: recordings of unequal length can be compared.
QuantityResult seat_vdv(const QuantityArguments& arguments);

// (sum of G |W|^2 df)^(1/2) over the bins of the mean density of the channel as recorded, m/s2. Needs spectra.
QuantityResult seat_psd(const QuantityArguments& arguments);

} // namespace becalm::evaluators::iso10326_1
