#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace sillwright::core {

/// A plain text file in lines of no more than `k_page_columns` columns, UTF-8.
class TextPage {
public:
    static constexpr std::size_t k_page_columns = 100;

    /// A line with a rule under it.
    void heading(std::string_view words);
    /// Wrapped; `lead` once before the first line, the others indented as far.
    void paragraph(std::string_view words, std::string_view lead = {});
    /// Words (ASCII) in spaced letters between two rules, to be seen from afar.
    void banner(std::string_view words);
    void blank();

    [[nodiscard]] const std::string& text() const { return text_; }

private:
    std::string text_;
};

}  // namespace sillwright::core
