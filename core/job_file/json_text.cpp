#include "core/job_file/json_text.h"

#include <algorithm>

#include "core/job_file/bounds.h"
#include "core/job_file/text_place.h"

namespace sillwright::core::job_file {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;

namespace {

constexpr std::size_t k_most_shown = 60;
constexpr int k_not_a_double = 406;  // nlohmann's id: a number beyond the range of a double

Error refuse(const std::string& file, std::string_view text, std::size_t byte, const std::string& message) {
    const LineColumn place = place_of(text, byte);
    return {ErrorCode::unreadable_file, file + " (line " + std::to_string(place.line) + ", column " +
                                            std::to_string(place.column) + "): " + message};
}

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
                      std::string(std::string_view(text).substr(byte, std::min(last - byte + 1, k_most_shown))) +
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
                  number.substr(0, k_most_shown) + " is too large for any length. Write lengths below 1 km.");
}

}  // namespace

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
    for (const auto& fault : {utf8_fault(text), bounds_fault(text)}) {
        if (fault) {
            return refuse(file, text, fault->byte, fault->message);
        }
    }
    try {
        return Json::parse(text);
    } catch (const nlohmann::json::parse_error& fault) {
        return not_json(text, file, fault);
    } catch (const nlohmann::json::exception& fault) {
        return not_taken(text, file, fault);
    }
}

}  // namespace sillwright::core::job_file
