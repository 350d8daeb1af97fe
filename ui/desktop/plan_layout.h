// Where the plates of a plan lie: each space has at least a small mark at its place, and the most important ones get a
// plate with words where it covers nobody's mark. In the order given; a few thousand take milliseconds.
#pragma once

#include <QPointF>
#include <QRectF>
#include <vector>

namespace becalm::desktop {

struct PlateWish {
    QPointF at = {};           // of the space
    QSizeF plate = {}, mark{}; // wanted, and the least
};

struct Plate {
    QRectF rect = {};
    bool has_words = false; // else it is the mark alone
};

// Most important first. Plates keep inside `within` where they have words; no two with words overlap.
std::vector<Plate> lay_out_plates(const std::vector<PlateWish>& wishes, const QRectF& within);

} // namespace becalm::desktop
