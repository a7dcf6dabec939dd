#pragma once

#include <cstddef>
#include <string>

#include "app/terminal/findings_text.h"

namespace sillwright::app::terminal {

/// The text and spaces up to a width; a longer text as it is.
std::string left(std::string text, std::size_t width);
std::string right(const std::string& text, std::size_t width);

/// Paragraphs and rows for a terminal, within the look's width.
class Page {
public:
    /// Columns of the words that lead a paragraph: "measure next".
    static constexpr std::size_t k_lead = 14;

    explicit Page(const TextLook& look) : look_{look} {}

    void line(const std::string& text);
    void gap();
    void title(const std::string& text);
    void plain(const std::string& text);
    /// `lead` at the left, the text wrapped beside it.
    void paragraph(const std::string& lead, const std::string& text, std::size_t inset = k_lead);

    [[nodiscard]] std::size_t width() const { return look_.width; }
    [[nodiscard]] const std::string& text() const { return text_; }

private:
    TextLook look_;
    std::string text_;
};

}  // namespace sillwright::app::terminal
