#include "ui/desktop/look.h"

#include <QApplication>
#include <QPalette>
#include <QStyleFactory>

namespace becalm::desktop {

void put_on(const QSettings&) { QApplication::setStyle(QStyleFactory::create(QStringLiteral("Fusion"))); }

} // namespace becalm::desktop
