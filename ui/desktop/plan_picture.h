// A plan's picture as an image of a size that fits the memory: PNG and JPEG files, SVG drawings, pages of a PDF.
//
// A picture larger than `longest_px` is read scaled down; drawings and pages are painted at that size. What cannot be
// read is told in a sentence. May take seconds: not for the interface thread.
#pragma once

#include <QImage>
#include <QString>
#include <vector>

namespace becalm::desktop {

struct PlanPicture {
    static constexpr int longest_px = 4096;

    QImage image = {};
    std::vector<QImage> smaller = {}; // each half of the one before, for a view that shows much of it
    int pages = 1;                    // of a PDF
    QString why_not = {};             // where there is no image: what is wrong and what to do
    bool is_scaled = false;           // a picture with more pixels than are shown
};

// `page` from 1.
PlanPicture read_plan_picture(const QString& path, int page);

} // namespace becalm::desktop
