#pragma once

#include <QString>
#include <string>

namespace sillwright::app {

/// Core's words, which are UTF-8, on the screen.
inline QString text_of(const std::string& words) {
    return QString::fromStdString(words);
}

}  // namespace sillwright::app
