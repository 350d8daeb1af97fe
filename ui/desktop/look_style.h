// The widgets' own drawing: marks grow with the text, what has the focus is framed so that it can be seen, and in a
// palette of high contrast (no shade between paper and ink) every field and button has an edge of ink.
#pragma once

#include <QProxyStyle>

namespace becalm::desktop {

class LookStyle final : public QProxyStyle {
    Q_OBJECT

public:
    LookStyle();

    int pixelMetric(PixelMetric metric, const QStyleOption* option, const QWidget* widget) const override;
    void drawPrimitive(PrimitiveElement element, const QStyleOption* option, QPainter* painter,
                       const QWidget* widget) const override;
    void drawComplexControl(ComplexControl control, const QStyleOptionComplex* option, QPainter* painter,
                            const QWidget* widget) const override;
    void drawControl(ControlElement element, const QStyleOption* option, QPainter* painter,
                     const QWidget* widget) const override;
};

} // namespace becalm::desktop
