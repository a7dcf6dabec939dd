#include "app/terminal/page.h"

#include <algorithm>

#include "app/terminal/plain_text.h"

namespace sillwright::app::terminal {

std::string left(std::string text, std::size_t width) {
    text.append(width - std::min(width, columns(text)), ' ');
    return text;
}

std::string right(const std::string& text, std::size_t width) {
    return std::string(width - std::min(width, columns(text)), ' ') + text;
}

void Page::line(const std::string& text) {
    std::string fit = without_controls(text);
    while (fit.ends_with(' ')) {
        fit.pop_back();
    }
    text_ += (look_.utf8 ? fit : in_ascii(fit)) + "\n";
}

void Page::gap() {
    if (!text_.empty() && !text_.ends_with("\n\n")) {
        text_ += "\n";
    }
}

void Page::title(const std::string& text) {
    gap();
    plain(text);
}

void Page::plain(const std::string& text) {
    for (const std::string& part : wrapped(without_controls(text), look_.width)) {
        line(part);
    }
}

void Page::paragraph(const std::string& lead, const std::string& text, std::size_t inset) {
    std::string start = left(lead, inset);
    for (const std::string& part : wrapped(without_controls(text), look_.width - inset)) {
        line(start + part);
        start = std::string(inset, ' ');
    }
}

}  // namespace sillwright::app::terminal
