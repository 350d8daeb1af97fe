// Third-octave values of a channel over what was selected, from its spectra: what the procedures that compare a
// spectrum with a curve begin with.
//
// A channel is converted in the spectral domain: its density times (2 pi f)^(2 n), n the number of times its motion
// has to be differentiated (negative: integrated) to become the wanted one. Recordings are averaged by their energy,
// each by the time that its spectra tell of. Bands are those of the base-ten system [iec61260-1-2014].
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "evaluators/quantity.h"
#include "filters/welch.h"

namespace becalm::evaluators {

struct BandValue {
    filters::ThirdOctave band = {};
    double rms = 0.0; // SI unit of the wanted motion
};

struct BandValues {
    std::vector<BandValue> bands = {};   // every band with a nominal centre in the range asked for, ascending
    std::vector<std::string> notes = {}; // what the spectra's resolution leaves uncertain
};

// Gain of a weighting at a frequency > 0; what it is applied to has been converted already.
using Gain = std::function<double(double hz)>;

// No value where a recording has no spectrum inside the selection (evaluators/recorded_spectrum.h), or a band cannot be
// told: its lower edge lies below the resolution, its upper one above half the rate.
Result<BandValues> third_octaves_of(const QuantityArguments& arguments, Motion wanted, double from_hz, double to_hz,
                                    const Gain& gain = {});

// 20 lg(value / reference), dB; value > 0, reference > 0.
double level_db(double value, double reference);

} // namespace becalm::evaluators
