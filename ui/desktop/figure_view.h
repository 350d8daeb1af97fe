// A figure on the screen: laid out for the size at hand and in the screen's own font, with a readout under the cursor,
// spans that can be dragged, and a way to files. What it shows is the very figure that a report would.
#pragma once

#include <QPixmap>
#include <QPoint>
#include <QWidget>
#include <functional>
#include <optional>

#include "ui/desktop/scene_painter.h"
#include "ui/figures/figure.h"
#include "ui/figures/scene.h"

class QMenu;

namespace becalm::desktop {

class FigureView : public QWidget {
    Q_OBJECT

public:
    // For a place of this size; a height of 0: as high as reads well.
    using Maker = std::function<figures::Figure(double width_px, double height_px)>;

    explicit FigureView(QWidget* parent = nullptr);

    // `name` is what a file of it is called, without suffix.
    void show_figure(Maker maker, const QString& name);
    void clear();
    void refresh();                        // the maker would make another figure now
    void set_natural_height(bool natural); // as high as the figure wants at the width it gets
    void set_spans_draggable(bool draggable) { spans_draggable_ = draggable; }

    const figures::Scene& scene(); // at the present size
    const figures::Figure& figure();
    bool is_empty() const { return !maker_; }

    // Where the cursor is, in the data's own units: which panel, which values.
    struct Reading {
        std::size_t panel = 0;
        double x = 0.0, y = 0.0;
    };
    std::optional<Reading> reading_at(const QPointF& at);
    // "12.5 Hz, 3.2 mm/s²; curve 2.9 mm/s²": in the units that the axes show, and what is drawn there.
    QString words_of(const Reading& reading);

    // By the file's suffix: svg, png, pdf, csv (its numbers). A Problem is told by `could_not_export`.
    bool export_to(const QString& path);
    // To the clipboard: the picture, and as text the table that export_to() writes.
    void copy_picture();
    void copy_numbers();
    void add_export_actions(QMenu& menu);

    QSize sizeHint() const override;
    bool hasHeightForWidth() const override { return natural_; }
    int heightForWidth(int width) const override;

signals:
    void hovered(const QString& words);                           // empty: left
    void span_dragged(std::size_t panel, double from, double to); // from < to
    void clicked_at(std::size_t panel, double x, double y);
    void could_not_export(const QString& why);

protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void contextMenuEvent(QContextMenuEvent* event) override;
    void changeEvent(QEvent* event) override;

    Ground ground() const;
    const figures::PlotArea* area_at(const QPointF& at);

private:
    void lay_out();
    figures::Figure figure_for_file() const;

    Maker maker_;
    QString name_;
    std::optional<figures::Figure> figure_;
    std::optional<figures::Scene> scene_;
    QPixmap picture_; // of the scene: what lies over it changes with every move of the mouse
    std::optional<QPointF> cursor_, dragged_from_;
    std::size_t dragged_panel_ = 0;
    bool natural_ = false, spans_draggable_ = false;
};

} // namespace becalm::desktop
