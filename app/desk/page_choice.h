#pragma once

#include <QTabBar>

#include "app/looks.h"

namespace sillwright::app {

/// Tabs that can be pressed with gloves on.
class PageChoice : public QTabBar {
public:
    explicit PageChoice(QWidget* parent = nullptr) : QTabBar(parent) {
        setExpanding(false);
        setFont(looks::font(looks::k_text));
        setMinimumHeight(looks::k_target);
        setDrawBase(false);
    }

protected:
    [[nodiscard]] QSize tabSizeHint(int index) const override {
        return QTabBar::tabSizeHint(index).expandedTo({looks::k_target, looks::k_target});
    }
};

}  // namespace sillwright::app
