#include "app/drawings/number_field.h"

#include <QKeyEvent>

#include "app/looks.h"

namespace sillwright::app {

NumberField::NumberField(const QString& name, const QString& spoken, QWidget* parent) : QLineEdit(parent) {
    setObjectName(name);
    setAccessibleName(spoken);
    setToolTip(spoken);
    setFont(looks::font(looks::k_text, true));
    setAlignment(Qt::AlignCenter);
    hide();
}

void NumberField::begin(const QString& text, const QRect& box, bool select) {
    setGeometry(box);
    setText(text);
    show();
    raise();
    setFocus(Qt::OtherFocusReason);
    if (select) {
        selectAll();
    }
}

void NumberField::keyPressEvent(QKeyEvent* event) {
    switch (event->key()) {
        case Qt::Key_Return:
        case Qt::Key_Enter:
            emit fixed();
            break;
        case Qt::Key_Escape:
            emit given_up();
            break;
        default:
            QLineEdit::keyPressEvent(event);
    }
}

bool NumberField::event(QEvent* event) {
    if (event->type() == QEvent::KeyPress) {
        const int key = static_cast<QKeyEvent*>(event)->key();
        if (key == Qt::Key_Tab || key == Qt::Key_Backtab) {
            emit passed_on();
            return true;
        }
    }
    return QLineEdit::event(event);
}

}  // namespace sillwright::app
