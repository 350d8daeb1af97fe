#include "ui/desktop/flow_layout.h"

#include <QWidget>
#include <algorithm>

namespace becalm::desktop {

FlowLayout::~FlowLayout()
{
    for (const Entry& entry : entries_) delete entry.item;
}

void FlowLayout::add_beside(QWidget* widget)
{
    addWidget(widget);
    entries_.back().beside = true;
}

void FlowLayout::addItem(QLayoutItem* item) { entries_.push_back({item, false}); }

int FlowLayout::count() const { return static_cast<int>(entries_.size()); }

QLayoutItem* FlowLayout::itemAt(int index) const
{
    return index < 0 || index >= count() ? nullptr : entries_[static_cast<std::size_t>(index)].item;
}

QLayoutItem* FlowLayout::takeAt(int index)
{
    QLayoutItem* item = itemAt(index);
    if (item != nullptr) entries_.erase(entries_.begin() + index);
    return item;
}

int FlowLayout::heightForWidth(int width) const { return lay_out({0, 0, width, 0}, false); }

QSize FlowLayout::sizeHint() const
{
    QSize size(0, 0);
    for (const Entry& entry : entries_) {
        if (entry.item->isEmpty()) continue;
        size.rwidth() += entry.item->sizeHint().width() + std::max(spacing(), 0);
        size.setHeight(std::max(size.height(), entry.item->sizeHint().height()));
    }
    return size;
}

// As wide as the widest pair that must stay together.
QSize FlowLayout::minimumSize() const
{
    QSize size(0, 0);
    int together = 0;
    for (const Entry& entry : entries_) {
        if (entry.item->isEmpty()) continue;
        const QSize least = entry.item->minimumSize();
        together = entry.beside ? together + std::max(spacing(), 0) + least.width() : least.width();
        size.setWidth(std::max(size.width(), together));
        size.setHeight(std::max(size.height(), least.height()));
    }
    return size;
}

void FlowLayout::setGeometry(const QRect& rect)
{
    QLayout::setGeometry(rect);
    lay_out(rect, true);
}

int FlowLayout::lay_out(const QRect& rect, bool move) const
{
    const int gap = std::max(spacing(), 0);
    int x = rect.left(), y = rect.top(), line_height = 0;
    for (std::size_t i = 0; i < entries_.size();) {
        std::size_t end = i + 1;
        while (end < entries_.size() && entries_[end].beside) ++end;
        int width = 0, height = 0;
        for (std::size_t j = i; j < end; ++j) {
            if (entries_[j].item->isEmpty()) continue;
            const QSize wanted = entries_[j].item->sizeHint();
            width += wanted.width() + (width > 0 ? gap : 0);
            height = std::max(height, wanted.height());
        }
        if (x > rect.left() && x + width > rect.left() + rect.width()) {
            x = rect.left();
            y += line_height + gap;
            line_height = 0;
        }
        line_height = std::max(line_height, height);
        for (std::size_t j = i; j < end; ++j) {
            QLayoutItem* item = entries_[j].item;
            if (item->isEmpty()) continue;
            const QSize wanted = item->sizeHint();
            // Too wide for a line of its own: it has to do with the line.
            const int given = std::min(wanted.width(), std::max(rect.left() + rect.width() - x, 0));
            if (move) {
                const int item_height = item->hasHeightForWidth() ? item->heightForWidth(given) : wanted.height();
                item->setGeometry({x, y + (height - std::min(height, item_height)) / 2, given, item_height});
            }
            if (item->hasHeightForWidth()) line_height = std::max(line_height, item->heightForWidth(given));
            x += given + gap;
        }
        i = end;
    }
    return y + line_height - rect.top();
}

} // namespace becalm::desktop
