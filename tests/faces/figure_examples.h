// One figure of each kind with invented data as a survey would give them: for the tests of geometry, and to look at
// (write_figures). Nothing in it was measured, and the limits are those of no document.
#pragma once

#include <string>
#include <vector>

#include "ui/figures/figure.h"

namespace becalm::tests {

struct NamedFigure {
    std::string name; // of a file
    figures::Figure figure;
};

std::vector<NamedFigure> example_figures(double width_px, double height_px);

} // namespace becalm::tests
