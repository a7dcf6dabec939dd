#include "core/edit/pasted_cells.h"

#include <cstddef>

#include "core/edit/cell.h"

namespace sillwright::core {

namespace {

using Lines = std::vector<std::vector<std::string>>;

/// Whether a quote that opens a cell at `at` closes again at the end of a cell.
bool closes(std::string_view text, std::size_t at, char parting) {
    for (std::size_t i = at + 1; i < text.size(); ++i) {
        if (text[i] != '"') {
            continue;
        }
        if (i + 1 < text.size() && text[i + 1] == '"') {
            ++i;
            continue;
        }
        return i + 1 == text.size() || text[i + 1] == parting || text[i + 1] == '\n' || text[i + 1] == '\r';
    }
    return false;
}

/// The cell in quotes that begins at `at`; leaves `at` behind its closing quote.
std::string quoted_cell(std::string_view text, std::size_t& at) {
    std::string cell;
    for (++at; at < text.size(); ++at) {
        if (text[at] == '"') {
            if (at + 1 >= text.size() || text[at + 1] != '"') {
                ++at;
                break;
            }
            ++at;
        }
        cell += text[at];
    }
    return cell;
}

}  // namespace

geometry::Result<Lines> pasted_cells(std::string_view text) {
    const char parting = text.find('\t') != std::string_view::npos ? '\t' : ';';
    Lines lines;
    bool line_open = false;
    bool quoted = false;
    std::string cell;
    const auto end_cell = [&] {
        if (!line_open) {
            lines.emplace_back();
            line_open = true;
        }
        lines.back().push_back(trimmed(cell));
        cell.clear();
        quoted = false;
    };
    for (std::size_t at = 0; at < text.size();) {
        const char c = text[at];
        if (c == '"' && cell.empty() && !quoted) {
            if (!closes(text, at, parting)) {
                return geometry::Error{geometry::ErrorCode::invalid_argument,
                                       "Line " + std::to_string(lines.size() + (line_open ? 0 : 1)) +
                                           ": a cell begins with a double quote that is not closed. Close it, or "
                                           "take it away."};
            }
            cell = quoted_cell(text, at);
            quoted = true;
            continue;
        }
        ++at;
        if (c == parting) {
            end_cell();
            if (at == text.size()) {
                end_cell();
            }
        } else if (c == '\n' || c == '\r') {
            end_cell();
            line_open = false;
            at += c == '\r' && at < text.size() && text[at] == '\n' ? 1 : 0;
        } else {
            cell += c;
        }
    }
    if (!cell.empty() || quoted) {
        end_cell();
    }
    return lines;
}

}  // namespace sillwright::core
