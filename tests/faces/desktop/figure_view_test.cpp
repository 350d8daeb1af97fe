// Figures as they are painted: in the painter's own font, at several sizes and scales; and their ways to files and to
// the clipboard.
#include <QClipboard>
#include <QGuiApplication>
#include <QImage>
#include <QMenu>
#include <QMenuBar>
#include <QSignalSpy>
#include <QTest>
#include <cmath>
#include <fstream>

#include <gmock/gmock.h>

#include "ui/desktop/figure_view.h"
#include "ui/desktop/main_window.h"
#include "ui/figures/builders.h"
#include "ui/figures/figure_csv.h"
#include "ui/figures/layout.h"
#include "ui/figures/svg.h"

#include "tests/faces/desktop/window_under_test.h"
#include "tests/faces/figure_checks.h"
#include "tests/faces/figure_examples.h"

namespace becalm::desktop::tests {
namespace {

using becalm::tests::example_figures;
using becalm::tests::fault_in;
using becalm::tests::words_of;
using ::testing::Eq;
using ::testing::HasSubstr;
using ::testing::StartsWith;

const std::vector<std::pair<double, double>> sizes{{900.0, 600.0}, {1180.0, 760.0}, {1600.0, 1000.0}};

TEST(FigureView, KeepsWordsApartAndInsideInThePaintersOwnFont)
{
    for (const auto& [width, height] : sizes)
        for (const auto& [name, figure] : example_figures(width, height)) {
            const auto scene = figures::laid_out(figure, painted_width());
            EXPECT_EQ(fault_in(scene), "") << name << " " << width;
        }
}

// Ink outside of the box that the layout has kept for a word, px of the scaled image.
int ink_outside(const figures::Words& words, double scale)
{
    const figures::Rect box = figures::box_of(words);
    constexpr double margin = 12.0;
    QImage image(static_cast<int>(std::ceil((box.width + 2.0 * margin) * scale)),
                 static_cast<int>(std::ceil((box.height + 2.0 * margin) * scale)), QImage::Format_RGB32);
    image.fill(Qt::white);
    figures::Scene scene;
    scene.items.push_back({.shape = words});
    QPainter painter(&image);
    painter.scale(scale, scale);
    painter.translate(margin - box.left, margin - box.top);
    paint(painter, scene);
    painter.end();
    constexpr double slack = 1.5; // antialiasing, and what a slanted letter leans over
    int outside = 0;
    for (int y = 0; y < image.height(); ++y)
        for (int x = 0; x < image.width(); ++x) {
            if (qGray(image.pixel(x, y)) > 160) continue;
            const double left = x / scale - margin, top = y / scale - margin;
            if (left < -slack || top < -slack || left > box.width + slack || top > box.height + slack) ++outside;
        }
    return outside;
}

TEST(FigureView, PaintsEveryWordInsideTheRoomKeptForItAtEveryScale)
{
    for (const double scale : {1.0, 1.5, 2.0})
        for (const auto& [name, figure] : example_figures(sizes.front().first, sizes.front().second)) {
            const auto scene = figures::laid_out(figure, painted_width());
            for (const auto& [role, words] : words_of(scene))
                EXPECT_EQ(ink_outside(words, scale), 0) << name << " at " << scale << ": " << words.text;
        }
}

class Exports : public ::testing::Test {
protected:
    std::string written(FigureView& view, const std::string& name)
    {
        const std::string path = folder_.path(name);
        EXPECT_TRUE(view.export_to(qt(path))) << name;
        return content_of(path);
    }
    ScratchFolder folder_;
};

TEST_F(Exports, EveryKindOfFigureReachesEveryKindOfFile)
{
    const auto all = example_figures(800.0, 500.0);
    for (std::size_t i = 0; i < all.size(); ++i) {
        SCOPED_TRACE(all[i].name);
        FigureView view;
        view.show_figure([i](double width, double height) { return example_figures(width, height)[i].figure; },
                         qt(all[i].name));
        view.resize(500, 300);
        EXPECT_THAT(written(view, all[i].name + ".svg"), Eq(figures::svg_of(all[i].figure)));
        EXPECT_THAT(written(view, all[i].name + ".csv"), Eq(figures::csv_of(all[i].figure)));

        const std::string png = written(view, all[i].name + ".png");
        const QImage image = QImage::fromData(QByteArray::fromStdString(png), "PNG");
        const auto scene = figures::laid_out(all[i].figure, painted_width());
        EXPECT_EQ(image.width(), static_cast<int>(std::ceil(2.0 * scene.width_px))) << "two dots a pixel";
        EXPECT_EQ(image.height(), static_cast<int>(std::ceil(2.0 * scene.height_px)));
        EXPECT_NEAR(image.dotsPerMeterX(), 192.0 / 0.0254, 1.0);
        // Sharp: what is two dots a pixel has detail that one dot a pixel, blown up, has not.
        const QImage coarse =
            image.scaled(image.width() / 2, image.height() / 2, Qt::IgnoreAspectRatio, Qt::SmoothTransformation)
                .scaled(image.size(), Qt::IgnoreAspectRatio, Qt::SmoothTransformation);
        int differing = 0;
        for (int y = 0; y < image.height(); y += 3)
            for (int x = 0; x < image.width(); ++x)
                if (std::abs(qGray(image.pixel(x, y)) - qGray(coarse.pixel(x, y))) > 40) ++differing;
        EXPECT_GT(differing, 200);

        const std::string pdf = written(view, all[i].name + ".pdf");
        EXPECT_THAT(pdf, StartsWith("%PDF-"));
        EXPECT_THAT(pdf, HasSubstr("/MediaBox [0 0 600"));
    }
}

TEST_F(Exports, AnotherSuffixAndAPlaceThatCannotBeWrittenAreSaid)
{
    FigureView view;
    view.show_figure([](double width, double height) { return example_figures(width, height).front().figure; },
                     QStringLiteral("spectrum"));
    QSignalSpy said(&view, &FigureView::could_not_export);
    EXPECT_FALSE(view.export_to(qt(folder_.path("spectrum.bmp"))));
    ASSERT_EQ(said.count(), 1);
    EXPECT_THAT(said[0][0].toString().toStdString(), HasSubstr(".svg, .png, .pdf or .csv"));
    EXPECT_FALSE(view.export_to(qt(folder_.path("no/such/folder/spectrum.svg"))));
    EXPECT_EQ(said.count(), 2);
}

TEST_F(Exports, GoToTheClipboardAsAPictureAndAsNumbers)
{
    FigureView view;
    view.show_figure([](double width, double height) { return example_figures(width, height)[4].figure; },
                     QStringLiteral("ladder"));
    QMenu menu;
    view.add_export_actions(menu);
    const auto act = [&](const QString& words) {
        for (QAction* action : menu.actions())
            if (action->text() == words) return action->trigger();
        ADD_FAILURE() << "no action " << words.toStdString();
    };
    act(QStringLiteral("Copy the figure"));
    EXPECT_EQ(QGuiApplication::clipboard()->image().size(), QSize(1600, 1000));
    act(QStringLiteral("Copy its numbers"));
    EXPECT_THAT(QGuiApplication::clipboard()->text().toStdString(), HasSubstr("propeller blades"));
}

TEST(FigureMenu, OffersEveryFigureThatIsSeen)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    QMenu* menu = nullptr;
    for (QAction* action : under_test.window.menuBar()->actions())
        if (action->text() == QStringLiteral("&Figure")) menu = action->menu();
    ASSERT_NE(menu, nullptr);
    under_test.window.ask(MainWindow::Question::gather);
    emit menu->aboutToShow();
    under_test.window.ask(MainWindow::Question::why);
    ASSERT_TRUE(wait_until([&] { return under_test.session.causes() != nullptr; }));
    emit menu->aboutToShow();
    ASSERT_EQ(menu->actions().size(), 2) << "the spectrum and what is beside it";
    for (QAction* action : menu->actions()) {
        ASSERT_NE(action->menu(), nullptr) << action->text().toStdString();
        EXPECT_GE(action->menu()->actions().size(), 6);
    }
}

} // namespace
} // namespace becalm::desktop::tests
