#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "core/entry.h"

namespace sillwright::core {

/// A line of a table for other programs: fields between commas, ended by CR LF.
/// Source: RFC 4180, rules 1, 6 and 7.
class CsvLine {
public:
    /// In quotation marks where the standard asks for them.
    void add(std::string_view text);
    /// The shortest digits that read back as the same number.
    void add(double number);
    /// In millimetres; an empty field for none.
    void add(const std::optional<Entry>& entry);
    void add_nothing() { add(std::string_view{}); }

    [[nodiscard]] std::string line() const { return text_ + "\r\n"; }

private:
    std::string text_;
    bool empty_ = true;
};

}  // namespace sillwright::core
