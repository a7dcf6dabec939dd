#include "core/job_file/json_text.h"

#include <algorithm>
#include <set>
#include <vector>

namespace sillwright::core::job_file {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;

namespace {

constexpr std::string_view k_byte_order_mark = "\xEF\xBB\xBF";
constexpr std::size_t k_most_quoted = 60;
constexpr int k_not_a_double = 406;  // nlohmann's id: a number beyond the range of a double

struct LineColumn {
    std::size_t line = 1, column = 1;
};

LineColumn place_of(std::string_view text, std::size_t byte) {
    LineColumn place;
    for (std::size_t i = 0; i < std::min(byte, text.size()); ++i) {
        ++place.column;
        if (text[i] == '\n') {
            ++place.line;
            place.column = 1;
        }
    }
    return place;
}

Error refuse(const std::string& file, std::string_view text, std::size_t byte, const std::string& message) {
    const LineColumn place = place_of(text, byte);
    return {ErrorCode::unreadable_file, file + " (line " + std::to_string(place.line) + ", column " +
                                            std::to_string(place.column) + "): " + message};
}

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

struct Fault {
    std::size_t byte;
    std::string message;
};

bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// The byte after the string that opens at `open`.
std::size_t after_string(std::string_view text, std::size_t open) {
    std::size_t i = open + 1;
    while (i < text.size() && text[i] != '"') {
        i += text[i] == '\\' ? 2 : 1;
    }
    return std::min(i + 1, text.size());
}

/// One pass over the text, before any of it is taken apart: depth, number of
/// values, keys, and words that JSON has not.
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

/// Where the word that ends at `byte` begins: a string's opening mark.
std::size_t word_start(std::string_view text, std::size_t byte) {
    if (byte == 0 || byte >= text.size() || text[byte] != '"') {
        return byte;
    }
    const std::size_t open = text.find_last_of("\"\n", byte - 1);
    return open == std::string_view::npos || text[open] == '\n' ? byte : open;
}

Error not_json(const std::string& text, const std::string& file, const nlohmann::json::parse_error& fault) {
    const std::string said = fault.what();
    if (said.find("end of input") != std::string::npos || fault.byte > text.size()) {
        return refuse(file, text, text.size(),
                      "the file ends too early: a bracket or a quotation mark is still open. Take the version before "
                      "it (the file of the same name with ~ at its end), or close what is open.");
    }
    const std::size_t last = fault.byte == 0 ? 0 : fault.byte - 1;
    const std::size_t byte = word_start(text, last);
    const auto comma = said.find("; expected ");
    const std::string cure = comma == std::string::npos ? std::string("a JSON value, comma or bracket")
                                                        : said.substr(comma + std::string("; expected ").size());
    return refuse(file, text, byte,
                  "this is not JSON at " +
                      std::string(std::string_view(text).substr(byte, std::min(last - byte + 1, k_most_quoted))) +
                      ". Expected: " + cure + ".");
}

Error not_taken(const std::string& text, const std::string& file, const nlohmann::json::exception& fault) {
    if (fault.id != k_not_a_double) {
        return refuse(file, text, 0, "the file cannot be taken apart as JSON. Check it with a JSON checker.");
    }
    // "... number overflow parsing '1e999'"
    std::string number = fault.what();
    number.erase(0, number.find('\'') + 1);
    number.erase(std::min(number.find('\''), number.size()));
    return refuse(file, text, std::min(text.find(number), text.size()),
                  number.substr(0, k_most_quoted) + " is too large for any length. Write lengths below 1 km.");
}

/// Walks over text that is known to be JSON.
class Walker {
public:
    explicit Walker(std::string_view text) : text_{text} {
        if (text_.substr(0, k_byte_order_mark.size()) == k_byte_order_mark) {
            at_ = k_byte_order_mark.size();
        }
        blanks();
    }

    [[nodiscard]] std::size_t at() const { return at_; }

    /// Steps into the member or element named by `step`; stays if there is none.
    bool enter(const std::string& step) {
        if (at_ >= text_.size() || (text_[at_] != '{' && text_[at_] != '[')) {
            return false;
        }
        const std::size_t back = at_;
        const bool object = text_[at_] == '{';
        ++at_;
        for (std::size_t index = 0;; ++index) {
            blanks();
            if (at_ >= text_.size() || text_[at_] == '}' || text_[at_] == ']') {
                at_ = back;
                return false;
            }
            const std::string name = object ? key() : std::to_string(index);
            if (name == step) {
                return true;
            }
            skip_value();
            blanks();
            if (at_ < text_.size() && text_[at_] == ',') {
                ++at_;
            }
        }
    }

private:
    void blanks() {
        while (at_ < text_.size() && std::string_view(" \t\r\n").find(text_[at_]) != std::string_view::npos) {
            ++at_;
        }
    }

    /// Reads a key and its colon; ends at the value.
    std::string key() {
        const std::size_t end = after_string(text_, at_);
        const Json name = Json::parse(text_.substr(at_, end - at_), nullptr, false);
        at_ = end;
        blanks();
        ++at_;  // the colon
        blanks();
        return name.is_string() ? name.get<std::string>() : std::string();
    }

    void skip_value() {
        std::size_t open = 0;
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (c == '"') {
                at_ = after_string(text_, at_);
                continue;
            }
            if (open == 0 && (c == ',' || c == '}' || c == ']')) {
                return;
            }
            open += c == '{' || c == '[' ? 1U : 0U;
            open -= c == '}' || c == ']' ? 1U : 0U;
            ++at_;
        }
    }

    std::string_view text_;
    std::size_t at_ = 0;
};

std::vector<std::string> steps_of(const std::string& pointer) {
    std::vector<std::string> steps;
    for (const char c : pointer) {
        if (c == '/') {
            steps.emplace_back();
        } else if (!steps.empty()) {
            steps.back() += c;
        }
    }
    for (std::string& step : steps) {
        for (const auto& [code, plain] : {std::pair{"~1", "/"}, std::pair{"~0", "~"}}) {
            for (auto i = step.find(code); i != std::string::npos; i = step.find(code, i + 1)) {
                step.replace(i, 2, plain);
            }
        }
    }
    return steps;
}

constexpr std::size_t k_line_room = 110;

std::string scalar(const Json& value) {
    return value.dump(-1, ' ', false, Json::error_handler_t::replace);
}

/// The value on one line; nothing if it holds objects, or lists in a list.
std::optional<std::string> on_one_line(const Json& value) {
    if (!value.is_structured()) {
        return scalar(value);
    }
    std::string line = value.is_object() ? "{" : "[";
    std::string comma;
    for (const auto& item : value.items()) {
        const bool nests = item.value().is_object() || (value.is_array() && item.value().is_array());
        const auto inner = nests ? std::nullopt : on_one_line(item.value());
        if (!inner || line.size() > k_line_room) {
            return std::nullopt;
        }
        line += comma + (value.is_object() ? scalar(Json(item.key())) + ": " : std::string()) + *inner;
        comma = ", ";
    }
    return line + (value.is_object() ? "}" : "]");
}

/// `column`: where the value begins on its line.
void lay_out(const Json& value, std::size_t indent, std::size_t column, std::string& out) {
    const auto line = on_one_line(value);
    if (line && (!value.is_structured() || value.empty() || column + line->size() <= k_line_room)) {
        out += *line;
        return;
    }
    const std::string margin(indent + 2, ' ');
    out += value.is_object() ? "{" : "[";
    std::string comma;
    for (const auto& item : value.items()) {
        const std::string key = value.is_object() ? scalar(Json(item.key())) + ": " : std::string();
        out += comma + "\n" + margin + key;
        lay_out(item.value(), indent + 2, indent + 2 + key.size(), out);
        comma = ",";
    }
    out += "\n" + std::string(indent, ' ') + (value.is_object() ? "}" : "]");
}

}  // namespace

std::string in_quotes(std::string_view what) {
    std::size_t size = std::min(what.size(), k_most_quoted);
    while (size > 0 && size < what.size() && (static_cast<unsigned char>(what[size]) & 0xC0U) == 0x80U) {
        --size;  // never half a character
    }
    std::string cut(what.substr(0, size));
    if (size < what.size()) {
        cut += "...";
    }
    std::replace_if(
        cut.begin(), cut.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20U; }, ' ');
    return "\"" + cut + "\"";
}

Result<Json> parse_json(const std::string& text, const std::string& file) {
    if (text.size() > k_most_bytes) {
        return Error{ErrorCode::unreadable_file,
                     file + ": the file is larger than 64 MB. Put a dense surface in a mesh file beside the job."};
    }
    if (text.find_first_not_of(" \t\r\n") == std::string::npos) {
        return Error{ErrorCode::unreadable_file,
                     file +
                         ": the file is empty. Take the version before it (the file of the same name with ~ at "
                         "its end)."};
    }
    if (const auto bad = first_bad_utf8(text)) {
        return refuse(file, text, *bad, "this byte is not UTF-8. Save the file as UTF-8 text.");
    }
    if (const auto fault = Bounds(text).check()) {
        return refuse(file, text, fault->byte, fault->message);
    }
    try {
        return Json::parse(text);
    } catch (const nlohmann::json::parse_error& fault) {
        return not_json(text, file, fault);
    } catch (const nlohmann::json::exception& fault) {
        return not_taken(text, file, fault);
    }
}

std::optional<std::size_t> line_of(std::string_view text, const std::string& pointer) {
    Walker walker(text);
    const auto steps = steps_of(pointer);
    for (std::size_t i = 0; i < steps.size(); ++i) {
        if (!walker.enter(steps[i])) {
            if (i + 1 < steps.size()) {
                return std::nullopt;
            }
            break;
        }
    }
    return place_of(text, walker.at()).line;
}

std::string pointer_to(const std::string& parent, std::string_view key) {
    std::string pointer = parent + "/";
    for (const char c : key) {
        pointer += c == '~' ? "~0" : c == '/' ? "~1" : std::string(1, c);
    }
    return pointer;
}

std::string layout(const Json& value) {
    std::string out;
    lay_out(value, 0, 0, out);
    return out + "\n";
}

}  // namespace sillwright::core::job_file
