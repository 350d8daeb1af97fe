// The numbers of a figure, for a spreadsheet or a program: what each panel draws, before any thinning, in the units
// that its axes show.
#pragma once

#include <string>

#include "ui/figures/figure.h"

namespace becalm::figures {

// A long table [RFC 4180]: panel, series, what x is, x, what y is, y (and its lower edge for bands), one row a point;
// error bars, markers, levels, rungs and rulers as rows of their own. Numbers are the shortest text that reads back the
// same.
std::string csv_of(const Figure& figure);

} // namespace becalm::figures
