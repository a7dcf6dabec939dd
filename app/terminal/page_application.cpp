#include "app/terminal/page_application.h"

#include <QApplication>
#include <clocale>

namespace sillwright::app::terminal {

PageApplication::PageApplication() {
    if (QCoreApplication::instance() == nullptr) {
        qputenv("QT_QPA_PLATFORM", "offscreen");
        application_ = std::make_unique<QApplication>(count_, words_.data());
        std::setlocale(LC_NUMERIC, "C");  // Qt has taken the reader's; numbers in files have points.
    }
}

PageApplication::~PageApplication() = default;

}  // namespace sillwright::app::terminal
