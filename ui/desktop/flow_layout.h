// Widgets one beside the other as words in a text: what does not fit goes to the next line.
#pragma once

#include <QLayout>
#include <vector>

namespace becalm::desktop {

class FlowLayout final : public QLayout {
    Q_OBJECT

public:
    using QLayout::QLayout;
    ~FlowLayout() override;

    // The widget goes with the one before it wherever a line is broken.
    void add_beside(QWidget* widget);

    void addItem(QLayoutItem* item) override;
    int count() const override;
    QLayoutItem* itemAt(int index) const override;
    QLayoutItem* takeAt(int index) override;
    Qt::Orientations expandingDirections() const override { return {}; }
    bool hasHeightForWidth() const override { return true; }
    int heightForWidth(int width) const override;
    QSize sizeHint() const override;
    QSize minimumSize() const override;
    void setGeometry(const QRect& rect) override;

private:
    struct Entry {
        QLayoutItem* item = nullptr;
        bool beside = false;
    };
    int lay_out(const QRect& rect, bool move) const; // the height

    std::vector<Entry> entries_;
};

} // namespace becalm::desktop
