// ISO 6954:1984: vibration of merchant ships by the peak of the greatest single component, 1 Hz to 100 Hz. From memory.
//
//   peak = sqrt(2) * conversion factor * r.m.s. of a component's velocity       the "maximum repetitive value"
//   two lines over frequency: constant acceleration from 1 Hz to 5 Hz, constant velocity from 5 Hz to 100 Hz
// A component's peak over the line at its frequency, times the line's constant velocity, is compared: so both lines are
// bands of one velocity. The greatest over the components counts.
//
// The conversion factor is the share that a component of slowly varying size has in its own crest; the product
// sqrt(2) * factor is often taken as 1.8 in total (from memory: other texts apply 1.8 besides sqrt(2), so the
// criterion's file is switched off until somebody has looked).
// Not to be compared with the edition of 2000, which judges the overall weighted r.m.s. value.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::iso6954_1984 {

// m/s. Needs spectra and the criterion's curve: its shape alone matters, its least value counts as the constant
// velocity. Parameter: conversion_factor (1.8 / sqrt(2)). Components as in recorded_spectrum.h; where none stands out
// of the spectrum, the procedure has nothing to judge.
QuantityResult component_peak(const QuantityArguments& arguments);

} // namespace becalm::evaluators::iso6954_1984
