#include "core/handover/text_page.h"

#include "core/plain_text.h"

namespace sillwright::core {

void TextPage::heading(std::string_view words) {
    paragraph(words);
    text_ += std::string(columns(words) < k_page_columns ? columns(words) : k_page_columns, '-') + "\n";
}

void TextPage::paragraph(std::string_view words, std::string_view lead) {
    std::string start(lead);
    for (const std::string& line : wrapped(without_controls(words), k_page_columns - columns(lead))) {
        text_ += start + line + "\n";
        start = std::string(columns(lead), ' ');
    }
}

void TextPage::banner(std::string_view words) {
    const std::string rule(k_page_columns, '=');
    text_ += rule + "\n   ";
    for (const char letter : words) {
        text_ += std::string(" ") + letter;
    }
    text_ += "\n" + rule + "\n";
}

void TextPage::blank() {
    text_ += "\n";
}

}  // namespace sillwright::core
