#include "core/survey/csv_text.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <optional>
#include <utility>

namespace sillwright::core::survey {

using geometry::Error;
using geometry::ErrorCode;

namespace {

constexpr std::string_view k_mark = "\xEF\xBB\xBF";  // byte order mark in UTF-8
constexpr std::string_view k_separators = ",;\t|";

bool starts_as(std::string_view bytes, unsigned char first, unsigned char second) {
    return bytes.size() >= 2 && static_cast<unsigned char>(bytes[0]) == first &&
           static_cast<unsigned char>(bytes[1]) == second;
}

/// UTF-16 without a mark shows by its zero bytes: no text has them.
bool is_utf_16(std::string_view bytes) {
    return starts_as(bytes, 0xFF, 0xFE) || starts_as(bytes, 0xFE, 0xFF) || bytes.find('\0') != std::string_view::npos;
}

/// Bytes of the character that begins there; none if it is not UTF-8 (RFC 3629).
std::optional<std::size_t> character_size(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) -> unsigned {
        return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
    };
    const unsigned lead = byte(at);
    if (lead < 0x80) {
        return 1;
    }
    const std::size_t size = lead >= 0xC2 && lead < 0xE0   ? 2
                             : lead >= 0xE0 && lead < 0xF0 ? 3
                             : lead >= 0xF0 && lead < 0xF5 ? 4
                                                           : 0;
    for (std::size_t i = 1; i < size; ++i) {
        if ((byte(at + i) & 0xC0U) != 0x80U) {
            return std::nullopt;
        }
    }
    const unsigned second = byte(at + 1);
    const bool bad = size == 0 || (lead == 0xE0 && second < 0xA0) || (lead == 0xED && second > 0x9F) ||
                     (lead == 0xF0 && second < 0x90) || (lead == 0xF4 && second > 0x8F);
    return bad ? std::nullopt : std::optional(size);
}

std::optional<std::size_t> first_not_utf_8(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        const auto size = character_size(text, i);
        if (!size) {
            return i;
        }
        i += *size;
    }
    return std::nullopt;
}

/// Row and column of a byte, counted plainly: lines, and separators of whatever kind stand most in its line.
std::pair<std::size_t, std::size_t> place_of(std::string_view text, std::size_t byte) {
    const std::string_view before = text.substr(0, byte);
    const std::size_t begin = before.rfind('\n') == std::string_view::npos ? 0 : before.rfind('\n') + 1;
    const auto count = [](std::string_view part, char c) {
        return static_cast<std::size_t>(std::count(part.begin(), part.end(), c));
    };
    const std::string_view line = text.substr(begin, text.find('\n', begin) - begin);
    const char separator = *std::max_element(k_separators.begin(), k_separators.end(),
                                             [&](char a, char b) { return count(line, a) < count(line, b); });
    return {count(before, '\n') + 1, count(before.substr(begin), separator) + 1};
}

std::string in_hex(char byte) {
    std::array<char, 8> room{};
    std::snprintf(room.data(), room.size(), "0x%02X", static_cast<unsigned>(static_cast<unsigned char>(byte)));
    return room.data();
}

/// Cuts a text into records.
class Cutter {
public:
    Cutter(std::string_view text, char separator) : text_{text}, separator_{separator} {}

    std::vector<CsvRecord> run() {
        std::size_t row = 0;
        while (at_ < text_.size()) {
            CsvRecord record = next();
            record.row = ++row;
            if (std::any_of(record.cells.begin(), record.cells.end(), [](const auto& cell) { return !cell.empty(); })) {
                records_.push_back(std::move(record));
            }
        }
        return std::move(records_);
    }

private:
    CsvRecord next() {
        const std::size_t begin = at_;
        CsvRecord record;
        do {
            if (!take_cell(record)) {
                return open_line(begin);
            }
        } while (take(separator_));
        record.text = text_.substr(begin, at_ - begin);
        take_line_end();
        return record;
    }

    bool take_cell(CsvRecord& record) {
        std::string cell;
        if (take('"')) {
            for (;;) {
                if (at_ >= text_.size()) {
                    return false;
                }
                const char c = text_[at_++];
                if (c != '"') {
                    cell += c;
                } else if (take('"')) {
                    cell += '"';
                } else {
                    break;
                }
            }
        }
        while (at_ < text_.size() && text_[at_] != separator_ && text_[at_] != '\n' && text_[at_] != '\r') {
            cell += text_[at_++];
        }
        record.cells.push_back(std::move(cell));
        return true;
    }

    /// The line that begins there, for itself: what follows it is not lost in its open cell.
    CsvRecord open_line(std::size_t begin) {
        at_ = std::min(text_.find_first_of("\r\n", begin), text_.size());
        CsvRecord record;
        record.text = text_.substr(begin, at_ - begin);
        record.cells = {record.text};
        record.open = true;
        take_line_end();
        return record;
    }

    bool take(char c) {
        const bool there = at_ < text_.size() && text_[at_] == c;
        at_ += there ? 1 : 0;
        return there;
    }

    void take_line_end() {
        const bool carriage = take('\r');
        if (!take('\n') && !carriage) {
            return;
        }
    }

    std::string_view text_;
    char separator_;
    std::size_t at_ = 0;
    std::vector<CsvRecord> records_;
};

}  // namespace

geometry::Result<std::string> csv_characters(std::string_view bytes) {
    if (is_utf_16(bytes)) {
        return Error{ErrorCode::unreadable_file,
                     "Row 1, column 1: this text is in UTF-16 or no text at all. Save it as CSV in UTF-8 (in the "
                     "spreadsheet: Save as, text CSV, character set UTF-8) and take it again."};
    }
    if (bytes.starts_with(k_mark)) {
        bytes.remove_prefix(k_mark.size());
    }
    if (const auto bad = first_not_utf_8(bytes)) {
        const auto [row, column] = place_of(bytes, *bad);
        return Error{ErrorCode::unreadable_file,
                     "Row " + std::to_string(row) + ", column " + std::to_string(column) + ": the byte " +
                         in_hex(bytes[*bad]) +
                         " is not UTF-8, so the text is in another encoding, such as Windows-1252. Save it as CSV in "
                         "UTF-8 (in the spreadsheet: Save as, text CSV, character set UTF-8) and take it again."};
    }
    return std::string(bytes);
}

std::vector<CsvRecord> csv_records(std::string_view text, char separator) {
    return Cutter(text, separator).run();
}

std::string csv_cell(const std::string& text, char separator) {
    const bool plain = text.find_first_of("\"\r\n") == std::string::npos && text.find(separator) == std::string::npos &&
                       !text.starts_with(' ') && !text.ends_with(' ');
    if (plain) {
        return text;
    }
    std::string quoted = "\"";
    for (const char c : text) {
        quoted += c == '"' ? "\"\"" : std::string(1, c);
    }
    return quoted + "\"";
}

}  // namespace sillwright::core::survey
