// Surveys explained for one test, and the tones they are made of.
#pragma once

#include <cmath>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "evaluators/explain.h"
#include "filters/weighting.h"

#include "tests/evaluators/case.h"

namespace becalm::evaluators::tests {

inline ExplanationReport explanation(Case& survey, const std::vector<Change>& changes = {})
{
    const auto read = io::read_survey(survey.written());
    EXPECT_TRUE(read);
    auto report = explain(*read, shipped_library(), {.changes = changes});
    if (report) return std::move(*report);
    for (const Problem& problem : report.error()) ADD_FAILURE() << to_text(problem);
    return {};
}

inline Signal sum_of(const std::vector<std::pair<double, double>>& tones, double seconds = 130.0)
{
    Signal signal(static_cast<std::size_t>(seconds * 500.0));
    for (const auto& [amplitude, hz] : tones) {
        const Signal tone = sine(amplitude, hz, 500.0, seconds);
        for (std::size_t i = 0; i < signal.size(); ++i) signal[i] += tone[i];
    }
    return signal;
}

inline double wm(double hz) { return std::abs(filters::analytic_response(WeightingId::Wm, Motion::acceleration, hz)); }

} // namespace becalm::evaluators::tests
