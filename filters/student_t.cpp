#include "filters/student_t.h"

#include <cmath>
#include <numbers>

#include "src/base/problem.h"

namespace becalm::filters {

double within_t(double t, int degrees)
{
    BECALM_ASSERT(t >= 0.0 && degrees >= 1);
    const double theta = std::atan(t / std::sqrt(static_cast<double>(degrees)));
    const double squared = std::cos(theta) * std::cos(theta);
    const bool odd = degrees % 2 != 0;
    double term = odd ? std::cos(theta) : 1.0, sum = 0.0;
    for (int k = odd ? 1 : 0; k <= degrees - 2; k += 2) {
        sum += term;
        term *= squared * (k + 1.0) / (k + 2.0);
    }
    return odd ? 2.0 / std::numbers::pi * (theta + std::sin(theta) * sum) : std::sin(theta) * sum;
}

double t_factor(double probability, int degrees)
{
    BECALM_ASSERT(probability > 0.0 && probability < 1.0);
    double low = 0.0, high = 1.0;
    while (within_t(high, degrees) < probability) high *= 2.0;
    while (high - low > 1e-12 * high) {
        const double middle = 0.5 * (low + high);
        (within_t(middle, degrees) < probability ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

} // namespace becalm::filters
