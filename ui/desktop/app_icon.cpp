#include "ui/desktop/app_icon.h"

#include <QFile>
#include <QPainter>
#include <QPainterPath>
#include <QXmlStreamReader>

static void load_resources() { Q_INIT_RESOURCE(desktop); } // must stand outside of every namespace

namespace becalm::desktop {
namespace {

constexpr double side = 128.0; // of the drawing's view box

QPainterPath path_of(const QString& data)
{
    const QStringList parts = data.split(QChar(u' '), Qt::SkipEmptyParts);
    QPainterPath path;
    qsizetype at = 0;
    const auto point = [&] {
        const double x = parts.value(at++).toDouble();
        return QPointF(x, parts.value(at++).toDouble());
    };
    while (at < parts.size()) {
        const QString command = parts[at++];
        if (command == QStringLiteral("M")) {
            path.moveTo(point());
        } else if (command == QStringLiteral("L")) {
            path.lineTo(point());
        } else if (command == QStringLiteral("C")) {
            const QPointF first = point(), second = point();
            path.cubicTo(first, second, point());
        } else {
            break;
        }
    }
    return path;
}

void paint_element(QPainter& painter, const QString& name, const QXmlStreamAttributes& attributes)
{
    const auto number = [&](const char* key) { return attributes.value(QLatin1String(key)).toDouble(); };
    const auto colour = [&](const char* key) { return QColor(attributes.value(QLatin1String(key)).toString()); };
    if (name == QStringLiteral("rect")) {
        painter.setPen(Qt::NoPen);
        painter.setBrush(colour("fill"));
        painter.drawRoundedRect(QRectF(number("x"), number("y"), number("width"), number("height")), number("rx"),
                                number("rx"));
    } else if (name == QStringLiteral("path")) {
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(colour("stroke"), number("stroke-width"), Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
        painter.drawPath(path_of(attributes.value(QLatin1String("d")).toString()));
    }
}

QPixmap drawn(int size_px)
{
    QPixmap pixmap(size_px, size_px);
    pixmap.fill(Qt::transparent);
    QFile file(QStringLiteral(":/icons/becalm.svg"));
    if (!file.open(QIODevice::ReadOnly)) return pixmap;
    QPainter painter(&pixmap);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.scale(size_px / side, size_px / side);
    QXmlStreamReader xml(&file);
    while (!xml.atEnd())
        if (xml.readNext() == QXmlStreamReader::StartElement)
            paint_element(painter, xml.name().toString(), xml.attributes());
    return pixmap;
}

} // namespace

QIcon app_icon()
{
    load_resources();
    QIcon icon;
    for (const int size_px : {16, 24, 32, 48, 64, 128}) icon.addPixmap(drawn(size_px));
    return icon;
}

} // namespace becalm::desktop
