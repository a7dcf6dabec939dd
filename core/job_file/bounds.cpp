#include "core/job_file/bounds.h"

#include <algorithm>
#include <set>
#include <vector>

#include "core/job_file/text_place.h"

namespace sillwright::core::job_file {

namespace {

std::size_t bytes_of_sequence(unsigned char lead) {
    if (lead < 0x80U) {
        return 1;
    }
    if (lead >= 0xC2U && lead < 0xE0U) {
        return 2;
    }
    if (lead >= 0xE0U && lead < 0xF0U) {
        return 3;
    }
    return lead >= 0xF0U && lead < 0xF5U ? 4 : 0;
}

/// The first byte that is not UTF-8. (Overlong forms of three and four bytes are
/// left to the parser.)
std::optional<std::size_t> first_bad_utf8(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = bytes_of_sequence(static_cast<unsigned char>(text[i]));
        if (length == 0 || i + length > text.size()) {
            return i;
        }
        for (std::size_t k = 1; k < length; ++k) {
            if ((static_cast<unsigned char>(text[i + k]) & 0xC0U) != 0x80U) {
                return i;
            }
        }
        i += length;
    }
    return std::nullopt;
}

bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

class Bounds {
public:
    explicit Bounds(std::string_view text) : text_{text} {}

    std::optional<Fault> check() {
        for (std::size_t i = 0; i < text_.size();) {
            std::size_t end = i + 1;
            std::optional<Fault> fault;
            if (text_[i] == '"') {
                end = after_string(text_, i);
                fault = string(i, end);
            } else if (is_letter(text_[i])) {
                end = after_word(i);
                fault = word(i, end);
            } else {
                fault = mark(i);
            }
            if (fault) {
                return fault;
            }
            i = end;
        }
        return std::nullopt;
    }

private:
    [[nodiscard]] std::size_t after_word(std::size_t i) const {
        while (i < text_.size() && is_letter(text_[i])) {
            ++i;
        }
        return i;
    }

    [[nodiscard]] std::optional<Fault> word(std::size_t at, std::size_t end) const {
        std::string lower(text_.substr(at, end - at));
        std::transform(lower.begin(), lower.end(), lower.begin(),
                       [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
        if (lower == "nan" || lower == "inf" || lower == "infinity") {
            return Fault{at, std::string(text_.substr(at, end - at)) +
                                 " is not a number. Write the measured number, or leave the field out if it is not "
                                 "measured."};
        }
        return std::nullopt;
    }

    /// A string with a colon after it is a key. (A key written in two ways, with
    /// escapes and without, is taken for two.)
    std::optional<Fault> string(std::size_t at, std::size_t end) {
        const std::size_t next = text_.find_first_not_of(" \t\r\n", end);
        if (keys_.empty() || next == std::string_view::npos || text_[next] != ':') {
            return std::nullopt;
        }
        const std::string_view key = text_.substr(at + 1, end - at - 2);
        if (!keys_.back().insert(key).second) {
            return Fault{at, "the key " + in_quotes(key) + " stands twice in one object. Keep one of the two."};
        }
        if (keys_.back().size() > k_most_members) {
            return Fault{at, "one object has more than " + std::to_string(k_most_members) +
                                 " fields. Take out those that are no part of a job."};
        }
        return std::nullopt;
    }

    std::optional<Fault> mark(std::size_t at) {
        const char c = text_[at];
        if (c == '{' || c == '[') {
            keys_.emplace_back();
            if (keys_.size() > k_most_depth) {
                return Fault{at, "lists and objects are nested deeper than " + std::to_string(k_most_depth) +
                                     " levels. A job needs fewer than 12: take out the nested brackets."};
            }
        } else if ((c == '}' || c == ']') && !keys_.empty()) {
            keys_.pop_back();
        }
        if (c == ',' || c == '{' || c == '[') {
            ++values_;
        }
        if (values_ > k_most_values) {
            return Fault{at, "there are more than " + std::to_string(k_most_values) +
                                 " values in the file. Put a dense surface in a mesh file beside the job."};
        }
        return std::nullopt;
    }

    std::string_view text_;
    std::vector<std::set<std::string_view>> keys_;  ///< Of each object that is open; none in a list.
    std::size_t values_ = 0;
};

}  // namespace

std::optional<Fault> utf8_fault(std::string_view text) {
    if (const auto bad = first_bad_utf8(text)) {
        return Fault{*bad, "this byte is not UTF-8. Save the file as UTF-8 text."};
    }
    return std::nullopt;
}

std::optional<Fault> bounds_fault(std::string_view text) {
    return Bounds(text).check();
}

}  // namespace sillwright::core::job_file
