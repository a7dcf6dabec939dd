#include "core/job_file/text_place.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <vector>

namespace sillwright::core::job_file {

namespace {

constexpr std::string_view k_byte_order_mark = "\xEF\xBB\xBF";
constexpr std::size_t k_most_quoted = 60;

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
        const auto name = nlohmann::json::parse(text_.substr(at_, end - at_), nullptr, false);
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

}  // namespace

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

/// The byte after the string that opens at `open`.
std::size_t after_string(std::string_view text, std::size_t open) {
    std::size_t i = open + 1;
    while (i < text.size() && text[i] != '"') {
        i += text[i] == '\\' ? 2 : 1;
    }
    return std::min(i + 1, text.size());
}

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

}  // namespace sillwright::core::job_file
