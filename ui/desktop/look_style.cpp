#include "ui/desktop/look_style.h"

#include <QPainter>
#include <QStyleOption>
#include <cmath>

#include "ui/desktop/look.h"

namespace becalm::desktop {
namespace {

void frame(QPainter& painter, const QRect& rect, const QColor& colour, double width_px)
{
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(colour, width_px));
    const double half = width_px / 2.0;
    painter.drawRoundedRect(QRectF(rect).adjusted(half, half, -half, -half), 2.0, 2.0);
    painter.restore();
}

} // namespace

LookStyle::LookStyle() : QProxyStyle(QStringLiteral("Fusion")) {}

int LookStyle::pixelMetric(PixelMetric metric, const QStyleOption* option, const QWidget* widget) const
{
    const int usual = QProxyStyle::pixelMetric(metric, option, widget);
    switch (metric) {
    case PM_IndicatorWidth:
    case PM_IndicatorHeight:
    case PM_ExclusiveIndicatorWidth:
    case PM_ExclusiveIndicatorHeight:
    case PM_SmallIconSize:
    case PM_ButtonIconSize:
    case PM_TabBarIconSize:
    case PM_ListViewIconSize:
    case PM_ScrollBarExtent:
    case PM_SliderThickness:
    case PM_SliderLength:
    case PM_SliderControlThickness: return static_cast<int>(std::lround(usual * text_scale()));
    default: return usual;
    }
}

void LookStyle::drawPrimitive(PrimitiveElement element, const QStyleOption* option, QPainter* painter,
                              const QWidget* widget) const
{
    if (element == PE_FrameFocusRect && option != nullptr) {
        const bool on_highlight = option->state & State_Selected;
        const QPalette::ColorRole role = on_highlight ? QPalette::HighlightedText : QPalette::Highlight;
        frame(*painter, option->rect, option->palette.color(role), 2.0);
        return;
    }
    QProxyStyle::drawPrimitive(element, option, painter, widget);
    // On a dark ground the edge of an empty box would be a shadow on a shadow.
    if (option != nullptr && (element == PE_IndicatorItemViewItemCheck || element == PE_IndicatorCheckBox))
        frame(*painter, option->rect, option->palette.color(QPalette::PlaceholderText), 1.0);
    if (option == nullptr || !is_high_contrast(option->palette)) return;
    switch (element) {
    case PE_FrameLineEdit:
    case PE_PanelButtonCommand:
    case PE_PanelButtonTool:
    case PE_Frame:
    case PE_FrameGroupBox:
    case PE_IndicatorCheckBox:
        frame(*painter, option->rect, option->palette.color(QPalette::Dark),
              option->state & State_HasFocus ? 3.0 : 1.0);
        break;
    default: break;
    }
}

void LookStyle::drawComplexControl(ComplexControl control, const QStyleOptionComplex* option, QPainter* painter,
                                   const QWidget* widget) const
{
    QProxyStyle::drawComplexControl(control, option, painter, widget);
    // Which of the questions is asked: by a bar, not by a shade alone.
    if (option != nullptr && control == CC_ToolButton && option->state & State_AutoRaise && option->state & State_On)
        painter->fillRect(QRect(option->rect.topLeft(), QSize(4, option->rect.height())),
                          option->palette.color(QPalette::Highlight));
    if (option != nullptr && (control == CC_ComboBox || control == CC_SpinBox) && is_high_contrast(option->palette))
        frame(*painter, option->rect, option->palette.color(QPalette::Dark),
              option->state & State_HasFocus ? 3.0 : 1.0);
}

// A pushed button with the focus: an edge of its own, since the colour alone is easily missed.
void LookStyle::drawControl(ControlElement element, const QStyleOption* option, QPainter* painter,
                            const QWidget* widget) const
{
    QProxyStyle::drawControl(element, option, painter, widget);
    if (option != nullptr && element == CE_PushButton && option->state & State_HasFocus)
        frame(*painter, option->rect.adjusted(1, 1, -1, -1), option->palette.color(QPalette::Highlight), 2.0);
}

} // namespace becalm::desktop
