#include "ui/desktop/flow_layout.h"

#include <QWidget>
#include <algorithm>
#include <utility>

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
    const auto width_of = [&](std::size_t from, std::size_t to) {
        int width = 0;
        for (std::size_t i = from; i < to; ++i)
            if (!entries_[i].item->isEmpty()) width += entries_[i].item->sizeHint().width() + (width > 0 ? gap : 0);
        return width;
    };
    int y = rect.top();
    for (std::size_t begin = 0; begin < entries_.size();) {
        // As many as fit, what stands beside another with it, and one at least.
        std::size_t end = begin;
        while (end < entries_.size()) {
            std::size_t next = end + 1;
            while (next < entries_.size() && entries_[next].beside) ++next;
            if (end > begin && width_of(begin, next) > rect.width()) break;
            end = next;
        }
        std::vector<std::pair<QLayoutItem*, QSize>> line;
        int x = rect.left(), height = 0;
        for (std::size_t i = begin; i < end; ++i) {
            QLayoutItem* item = entries_[i].item;
            if (item->isEmpty()) continue;
            const int width = std::min(item->sizeHint().width(), std::max(rect.left() + rect.width() - x, 0));
            line.emplace_back(item, QSize(width, item->hasHeightForWidth() ? item->heightForWidth(width)
                                                                           : item->sizeHint().height()));
            height = std::max(height, line.back().second.height());
            x += width + gap;
        }
        x = rect.left();
        for (const auto& [item, size] : line) {
            if (move) item->setGeometry({QPoint(x, y + (height - size.height()) / 2), size});
            x += size.width() + gap;
        }
        y += height + (end < entries_.size() ? gap : 0);
        begin = end;
    }
    return y - rect.top();
}

} // namespace becalm::desktop
