#pragma once

#include <optional>
#include <set>
#include <string>
#include <vector>

#include "core/job.h"
#include "core/job_file/json_text.h"
#include "core/job_file/text_place.h"

namespace sillwright::core::job_file {

/// The version of the job file that we write; older ones are read too.
constexpr int k_version = 1;

/// A place in the JSON and what is wrong there.
struct Misfit {
    std::string pointer;
    std::string message;
};

/// Shared by the readers of all objects of one file.
struct Reading {
    BareUnit unit = BareUnit::mm;
    std::optional<Misfit> first;  ///< The first thing wrong; reading runs on with nothing in its place.

    void refuse(const std::string& pointer, const std::string& message);
};

/// Lengths above this are a slip of the unit or of the keyboard. Common
/// practice, no source.
constexpr double k_most_mm = 1.0e6;

/// The unit vector along three typed numbers; unit vectors stay as they are.
/// Nothing if they have no length.
std::optional<Direction> unit_direction(const Direction& typed);

/// The same direction with its largest part 1, in the fewest digits that unit_direction turns into
/// `unit` again; nothing if there are none.
std::optional<Direction> hand_direction(const Direction& unit);

/// Takes the fields of one JSON object (see fields.h).
class JobReader {
public:
    JobReader(const Json& object, std::string pointer, Reading& reading);

    void version(const char* key);
    void bare_unit(const char* key, BareUnit& unit);
    void text(const char* key, std::string& value);
    void name(const char* key, std::string& value);
    void names(const char* key, std::vector<std::string>& values);
    void length(const char* key, Entry& value);
    void length(const char* key, std::optional<Entry>& value);
    void length_or(const char* key, Entry& value, const Entry& usual);
    void setting(const char* key, Entry& value, const Entry& usual) { length_or(key, value, usual); }
    void three_lengths(const char* key, std::array<std::optional<Entry>, 3>& value);
    void number(const char* key, std::optional<double>& value);
    void number_or(const char* key, double& value, double usual);
    void number_setting(const char* key, double& value, double usual) { number_or(key, value, usual); }
    void angle(const char* key, std::optional<geometry::Angle>& value);
    void angle_setting(const char* key, geometry::Angle& value, geometry::Angle usual);
    template <class Quantity>
    void quantity(const char* key, std::optional<Quantity>& value, Quantity (*of)(double), double (*)(Quantity)) {
        std::optional<double> read;
        number(key, read);
        value = read ? std::optional(of(*read)) : value;
    }
    template <class Quantity>
    void quantity_setting(const char* key, Quantity& value, Quantity usual, Quantity (*of)(double),
                          double (*in)(Quantity)) {
        std::optional<Quantity> read;
        quantity(key, read, of, in);
        value = read.value_or(usual);
    }
    void flag(const char* key, bool& value, bool usual);
    void direction(const char* key, Direction& value);
    void rest(Unknown& unknown);

    template <class Choice, class List>
    void word(const char* key, Choice& value, const List& words) {
        if (const Json* found = find(key)) {
            read_word(*found, key, value, words);
        }
    }
    template <class Choice, class List>
    void word(const char* key, std::optional<Choice>& value, const List& words) {
        if (const Json* found = find(key)) {
            read_word(*found, key, value.emplace(), words);
        }
    }
    template <class Choice, class List>
    void word_or(const char* key, Choice& value, const List& words, Choice usual) {
        value = usual;
        word(key, value, words);
    }
    template <class Choice, class List>
    void needed_word(const char* key, Choice& value, const List& words) {
        if (const Json* found = find(key)) {
            read_word(*found, key, value, words);
        } else {
            refuse(key, "the field " + in_quotes(key) + " is missing. Write one of " + listed(words) + ".");
        }
    }
    template <class Part>
    void part(const char* key, Part& value) {
        if (const Json* found = need(key)) {
            read_part(*found, key, value);
        }
    }
    template <class Part>
    void part(const char* key, std::optional<Part>& value) {
        if (const Json* found = find(key)) {
            read_part(*found, key, value.emplace());
        }
    }
    template <class Part>
    void part_if_set(const char* key, Part& value) {
        if (const Json* found = find(key)) {
            read_part(*found, key, value);
        }
    }
    template <class Part>
    void settings(const char* key, Part& value) {
        part_if_set(key, value);
    }
    template <class Item>
    void list(const char* key, std::vector<Item>& items) {
        const Json* found = find(key);
        if (found == nullptr || !is_list(*found, key)) {
            return;
        }
        const std::string pointer = pointer_to(pointer_, key);
        items.reserve(found->size());
        for (std::size_t i = 0; i < found->size() && !reading_.first; ++i) {
            JobReader reader((*found)[i], pointer_to(pointer, std::to_string(i)), reading_);
            describe(reader, items.emplace_back());
        }
    }

private:
    const Json* find(const char* key);  ///< Nothing for a missing field or null.
    const Json* need(const char* key);
    void refuse(const char* key, const std::string& message) { reading_.refuse(pointer_to(pointer_, key), message); }
    bool is_list(const Json& value, const char* key);
    std::optional<Entry> read_length(const Json& value, const std::string& pointer);
    std::optional<double> read_number(const Json& value, const char* key);

    template <class Part>
    void read_part(const Json& found, const char* key, Part& value) {
        JobReader reader(found, pointer_to(pointer_, key), reading_);
        describe(reader, value);
    }
    template <class Choice, class List>
    void read_word(const Json& found, const char* key, Choice& value, const List& words) {
        for (const auto& [text, choice] : words) {
            if (found.is_string() && found.get_ref<const std::string&>() == text) {
                value = choice;
                return;
            }
        }
        refuse(key, shown(found) + " is none of the words known here. Write one of " + listed(words) + ".");
    }
    template <class List>
    static std::string listed(const List& words) {
        std::string all;
        for (const auto& [text, choice] : words) {
            all += (all.empty() ? "" : ", ") + in_quotes(text);
        }
        return all;
    }
    static std::string shown(const Json& value);

    const Json& object_;
    std::string pointer_;
    Reading& reading_;
    std::set<std::string> known_;
};

}  // namespace sillwright::core::job_file
