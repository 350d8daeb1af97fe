#include "ui/desktop/help_sheet.h"

#include <QCoreApplication>
#include <QKeySequence>
#include <QPushButton>
#include <QShortcut>
#include <QVBoxLayout>

namespace becalm::desktop {
namespace {

QString line(const QString& text) { return QStringLiteral("<p>%1</p>").arg(text.toHtmlEscaped()); }
QString heading(const QString& text) { return QStringLiteral("<h3>%1</h3>").arg(text.toHtmlEscaped()); }

} // namespace

QString chief_caution()
{
    return HelpSheet::tr("Comfort evaluation is not a structural, machinery or health assessment. Limits come from the "
                         "editions cited; local codes, contracts and licensed practice prevail.");
}

HelpSheet::HelpSheet(QWidget* parent) : QWidget(parent), text_(new QTextBrowser)
{
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    text_->setFrameShape(QFrame::NoFrame);
    text_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    text_->setTabChangesFocus(true);
    column->addWidget(text_, 1);
    auto* back = new QPushButton(tr("&Back to the survey"));
    back->setSizePolicy(QSizePolicy::Maximum, QSizePolicy::Fixed);
    connect(back, &QPushButton::clicked, this, &HelpSheet::done);
    column->addWidget(back);
    auto* escape = new QShortcut(QKeySequence(Qt::Key_Escape), this);
    escape->setContext(Qt::WidgetWithChildrenShortcut);
    connect(escape, &QShortcut::activated, this, &HelpSheet::done);
}

void HelpSheet::show_text(const QString& title, const QString& html)
{
    text_->setAccessibleName(title);
    text_->setHtml(QStringLiteral("<h2>%1</h2>").arg(title.toHtmlEscaped()) + html);
    text_->setFocus();
}

void HelpSheet::show_keys(const Keys& keys)
{
    const auto key = [](const QKeySequence& sequence) { return sequence.toString(QKeySequence::NativeText); };
    Keys all = keys;
    all.push_back({tr("In a figure"),
                   {{key(Qt::Key_Left) + QStringLiteral(" ") + key(Qt::Key_Right) + QStringLiteral(" ") +
                         key(Qt::Key_Up) + QStringLiteral(" ") + key(Qt::Key_Down),
                     tr("move the cursor and read the values under it; with Ctrl in large steps")},
                    {key(Qt::Key_Menu), tr("write the figure to a file")}}});
    all.push_back({tr("On the curves of When"),
                   {{QStringLiteral("+ −"), tr("look closer, or at more")},
                    {key(Qt::Key_Left) + QStringLiteral(" ") + key(Qt::Key_Right) + QStringLiteral(" ") +
                         key(Qt::Key_Home) + QStringLiteral(" ") + key(Qt::Key_End),
                     tr("move along the recording; with Ctrl the arrows move the cursor")},
                    {key(Qt::Key_X), tr("leave the selected span out")},
                    {key(Qt::Key_Space), tr("play as sound, or stop; held down while dragging it moves the curve")}}});
    all.push_back({tr("Everywhere"),
                   {{key(Qt::Key_Tab), tr("go to the next field; with Shift to the one before")},
                    {key(Qt::Key_Space), tr("press what has the focus")},
                    {key(Qt::Key_Return), tr("open what is chosen in a list")},
                    {key(Qt::Key_F10), tr("go to the menus; Alt with an underlined letter opens one")}}});
    QString html;
    for (const auto& [place, entries] : all) {
        if (entries.empty()) continue;
        html += heading(place) + QStringLiteral("<table cellspacing=\"4\">");
        for (const auto& [keys_of, does] : entries)
            html += QStringLiteral("<tr><td><b>%1</b></td><td>&nbsp;&nbsp;</td><td>%2</td></tr>")
                        .arg(keys_of.toHtmlEscaped(), does.toHtmlEscaped());
        html += QStringLiteral("</table>");
    }
    show_text(tr("Keys"), html);
}

void HelpSheet::show_about()
{
    QString html = line(tr("From vibration recordings to a judgement of human comfort that another engineer can check "
                           "to the last digit."));
    if (const QString version = QCoreApplication::applicationVersion(); !version.isEmpty())
        html += line(tr("Version %1").arg(version));
    html += heading(tr("Cautions")) + line(chief_caution());
    html += line(tr("Numbers marked \"from memory\" were not compared with the publication: compare them with your "
                    "copy before you sign."));
    html += line(tr("Where a health action value is exceeded, the employer has duties. A physician or a licensed "
                    "hygienist decides about people."));
    html += line(tr("An uncertainty (k = 2) is stated where the survey states that of the sensor; the verdict says "
                    "what it does not "
                    "cover."));
    html += heading(tr("Licence"));
    html += line(tr("Becalm is free software under the GNU General Public License, version 3 or later. It comes "
                    "without any warranty. You may use it, study it, change it and pass it on under the same terms; "
                    "the licence lies beside the program's documents."));
    html += heading(tr("Libraries"));
    html += line(tr("Qt %1 (LGPL 3), poppler, PortAudio, FFTW, Eigen, libsndfile, toml++, nlohmann/json, {fmt}, "
                    "tl::expected, OpenSSL's libcrypto, xxHash.")
                     .arg(QString::fromLatin1(qVersion())));
    show_text(tr("About Becalm"), html);
}

} // namespace becalm::desktop
