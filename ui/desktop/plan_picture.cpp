#include "ui/desktop/plan_picture.h"

#include <QCoreApplication>
#include <QFileInfo>
#include <QImageReader>
#include <QPainter>
#include <QSvgRenderer>
#include <algorithm>
#include <memory>
#include <poppler-qt6.h>

namespace becalm::desktop {
namespace {

struct Words { // what a translator sees as their place
    Q_DECLARE_TR_FUNCTIONS(becalm::desktop::PlanPicture)
};

// A drawing of rooms has kilobytes; one of this size holds something else.
constexpr qint64 greatest_drawing_bytes = 64LL * 1024 * 1024;

QSize fitted(const QSizeF& size)
{
    return size.scaled(PlanPicture::longest_px, PlanPicture::longest_px, Qt::KeepAspectRatio)
        .toSize()
        .expandedTo(QSize(1, 1));
}

PlanPicture unreadable(const QString& path, const QString& why, const QString& remedy)
{
    return {.why_not = Words::tr("The plan %1 cannot be shown: %2; %3").arg(path, why, remedy)};
}

// Qt counts four bytes for each pixel of a file, whatever it holds, and refuses more than 256 MB of them: too little
// for a scanned deck of 100 megapixels.
constexpr int greatest_picture_mb = 768;
constexpr qint64 most_pixels = greatest_picture_mb * 1024LL * 1024 / 4;

PlanPicture read_picture(const QString& path)
{
    QImageReader::setAllocationLimit(greatest_picture_mb);
    QImageReader reader(path);
    reader.setDecideFormatFromContent(true);
    reader.setAutoTransform(true);
    PlanPicture picture;
    const QSize size = reader.size();
    if (size.isValid() && std::max(size.width(), size.height()) > PlanPicture::longest_px) {
        reader.setScaledSize(fitted(size));
        picture.is_scaled = true;
    }
    picture.image = reader.read();
    if (!picture.image.isNull()) return picture;
    const bool is_huge = size.isValid() && static_cast<qint64>(size.width()) * size.height() > most_pixels;
    return unreadable(
        path,
        is_huge ? Words::tr("its %1 × %2 px are too many").arg(size.width()).arg(size.height()) : reader.errorString(),
        is_huge ? Words::tr("save it with fewer pixels, or as a PDF") : Words::tr("save it anew as PNG, SVG or PDF"));
}

PlanPicture read_drawing(const QString& path)
{
    if (QFileInfo(path).size() > greatest_drawing_bytes)
        return unreadable(path, Words::tr("it is no drawing of a sensible size"), Words::tr("save it as a PNG"));
    QSvgRenderer renderer(path);
    if (!renderer.isValid())
        return unreadable(path, Words::tr("it is no SVG drawing"), Words::tr("save it anew as SVG or PNG"));
    const QSizeF size = renderer.viewBoxF().isEmpty() ? QSizeF(renderer.defaultSize()) : renderer.viewBoxF().size();
    if (size.isEmpty()) return unreadable(path, Words::tr("it has no size"), Words::tr("give it a viewBox"));
    PlanPicture picture{.image = QImage(fitted(size), QImage::Format_ARGB32_Premultiplied)};
    picture.image.fill(Qt::white);
    QPainter painter(&picture.image);
    renderer.render(&painter);
    return picture;
}

PlanPicture read_page(const QString& path, int page_from_1)
{
    Poppler::setDebugErrorFunction([](const QString&, const QVariant&) {}, {}); // the sentence below is enough
    const std::unique_ptr<Poppler::Document> document = Poppler::Document::load(path);
    if (document == nullptr)
        return unreadable(path, Words::tr("it is no PDF"), Words::tr("save it anew as PDF or PNG"));
    if (document->isLocked())
        return unreadable(path, Words::tr("it asks for a password"), Words::tr("save it without one, or as a PNG"));
    PlanPicture picture{.pages = document->numPages()};
    if (page_from_1 < 1 || page_from_1 > picture.pages) {
        picture.why_not = Words::tr("The plan %1 has no page %2; it has %3, so choose one of them")
                              .arg(path)
                              .arg(page_from_1)
                              .arg(picture.pages);
        return picture;
    }
    document->setRenderHint(Poppler::Document::Antialiasing);
    document->setRenderHint(Poppler::Document::TextAntialiasing);
    const std::unique_ptr<Poppler::Page> page = document->page(page_from_1 - 1);
    const QSizeF points = page == nullptr ? QSizeF() : page->pageSizeF();
    if (points.isEmpty())
        return unreadable(path, Words::tr("its page has no size"), Words::tr("save it anew as PDF or PNG"));
    constexpr double points_an_inch = 72.0;
    const double dots_an_inch = points_an_inch * fitted(points).width() / points.width();
    picture.image = page->renderToImage(dots_an_inch, dots_an_inch);
    if (picture.image.isNull())
        return unreadable(path, Words::tr("its page cannot be painted"), Words::tr("save it anew as PDF or PNG"));
    return picture;
}

// One format for all, which is also the one that is painted fastest.
void halve(PlanPicture& picture)
{
    if (picture.image.isNull()) return;
    picture.image.convertTo(QImage::Format_ARGB32_Premultiplied);
    constexpr int least_px = 512;
    for (QImage last = picture.image; std::max(last.width(), last.height()) > 2 * least_px;) {
        last = last.scaled(std::max(1, last.width() / 2), std::max(1, last.height() / 2), Qt::IgnoreAspectRatio,
                           Qt::SmoothTransformation);
        picture.smaller.push_back(last);
    }
}

} // namespace

PlanPicture read_plan_picture(const QString& path, int page)
{
    const QFileInfo file(path);
    if (!file.exists())
        return unreadable(path, Words::tr("there is no such file"),
                          Words::tr("put it there, or name another in its [[plan]]"));
    if (!file.isFile() || !file.isReadable())
        return unreadable(path, Words::tr("it is no file that may be read"), Words::tr("see to its permissions"));
    const QString suffix = file.suffix().toLower();
    PlanPicture picture = suffix == QStringLiteral("svg")   ? read_drawing(path)
                          : suffix == QStringLiteral("pdf") ? read_page(path, page)
                                                            : read_picture(path);
    halve(picture);
    return picture;
}

} // namespace becalm::desktop
