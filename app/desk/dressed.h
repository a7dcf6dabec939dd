#pragma once

#include <QLabel>
#include <QString>

#include "app/looks.h"

namespace sillwright::app {

/// A widget that can be pressed or typed in: its names, its text's size, room for a glove.
template <class Widget>
Widget* dressed(Widget* widget, const QString& name, const QString& accessible) {
    widget->setObjectName(name);
    widget->setAccessibleName(accessible);
    widget->setFont(looks::font(looks::k_text));
    widget->setMinimumHeight(looks::k_target);
    return widget;
}

/// Words beside such a widget, as high.
inline QLabel* label_beside(const QString& text) {
    auto* label = new QLabel(text);
    label->setFont(looks::font(looks::k_text));
    label->setMinimumHeight(looks::k_target);
    return label;
}

}  // namespace sillwright::app
