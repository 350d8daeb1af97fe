// Student's t of whole degrees of freedom: the factor of a two-sided confidence interval.
//
// For whole degrees the integral of the density has a closed form, a finite sum in sin and cos of atan(t / sqrt(n));
// its inverse is found by halving. (computed from the definition)
#pragma once

namespace becalm::filters {

// Probability that |t| is smaller; t >= 0, degrees >= 1.
double within_t(double t, int degrees);

// t with within_t(t, degrees) == probability to 1e-12 of itself; 0 < probability < 1.
double t_factor(double probability, int degrees);

} // namespace becalm::filters
