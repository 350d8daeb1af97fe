// Places a figure on a drawing: ranges, margins, ticks, labels, curves thinned out to what a pixel can show.
//
// No two labels overlap: those of an axis by their pattern (ticks.h), flags of markers in rows above the plot, words
// of levels in the margin beside it, all others in lines and columns of their own (labels.h). A word that finds no room
// is shortened with an ellipsis; a flag without room leaves its line, and a note beneath says its words.
//
// A series of n points costs O(n) time and at most four points for each column of pixels: the first, least, greatest
// and last of those that fall into it, in their order, which is what a full drawing would show (Jugel, Jerzak,
// Hackenbroich, Markl 2014).
#pragma once

#include "ui/figures/figure.h"
#include "ui/figures/scene.h"

namespace becalm::figures {

Scene laid_out(const Figure& figure, const TextWidth& text_width = approximate_width);

} // namespace becalm::figures
