#include "app/drawings/paper.h"

#include <QEvent>

namespace sillwright::app {

void Paper::paintEvent(QPaintEvent* /*event*/) {
    QPainter painter(this);
    draw(painter, QSizeF(size()));
}

void Paper::changeEvent(QEvent* event) {
    if (event->type() == QEvent::PaletteChange) {
        update();
    }
    QWidget::changeEvent(event);
}

}  // namespace sillwright::app
