#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/job.h"
#include "core/job_file/json_text.h"

namespace sillwright::core::job_file {

/// Puts the fields of one object into JSON (see fields.h). What is not measured
/// is left out.
class JobWriter {
public:
    explicit JobWriter(BareUnit unit) : unit_{unit} {}

    void version(const char* key);
    void bare_unit(const char* key, BareUnit& unit);
    void text(const char* key, const std::string& value);
    void name(const char* key, const std::string& value) { json_[key] = value; }
    void names(const char* key, const std::vector<std::string>& values);
    void length(const char* key, const Entry& value) { json_[key] = length_json(value); }
    void length(const char* key, const std::optional<Entry>& value);
    void length_or(const char* key, const Entry& value, const Entry& usual);
    void setting(const char* key, const Entry& value, const Entry& /*usual*/) { length(key, value); }
    void three_lengths(const char* key, const std::array<std::optional<Entry>, 3>& value);
    void number(const char* key, const std::optional<double>& value);
    void number_or(const char* key, double value, double usual);
    void number_setting(const char* key, double value, double /*usual*/) { json_[key] = number_json(value); }
    void angle(const char* key, const std::optional<geometry::Angle>& value);
    void angle_setting(const char* key, geometry::Angle value, geometry::Angle /*usual*/) { angle(key, value); }
    template <class Quantity>
    void quantity(const char* key, const std::optional<Quantity>& value, Quantity (*)(double), double (*in)(Quantity)) {
        number(key, value ? std::optional(in(*value)) : std::nullopt);
    }
    template <class Quantity>
    void quantity_setting(const char* key, Quantity value, Quantity /*usual*/, Quantity (*of)(double),
                          double (*in)(Quantity)) {
        quantity(key, std::optional(value), of, in);
    }
    void flag(const char* key, bool value, bool usual);
    void direction(const char* key, const Direction& value);
    void rest(const Unknown& unknown);

    template <class Choice, class List>
    void word(const char* key, const Choice& value, const List& words) {
        for (const auto& [text, choice] : words) {
            if (choice == value) {
                json_[key] = text;
            }
        }
    }
    template <class Choice, class List>
    void word(const char* key, const std::optional<Choice>& value, const List& words) {
        if (value) {
            word(key, *value, words);
        }
    }
    template <class Choice, class List>
    void word_or(const char* key, Choice value, const List& words, Choice usual) {
        if (value != usual) {
            word(key, value, words);
        }
    }
    template <class Choice, class List>
    void needed_word(const char* key, Choice value, const List& words) {
        word(key, value, words);
    }
    template <class Part>
    void part(const char* key, Part& value) {
        JobWriter writer(unit_);
        describe(writer, value);
        json_[key] = std::move(writer.json_);
    }
    template <class Part>
    void part(const char* key, std::optional<Part>& value) {
        if (value) {
            part(key, *value);
        }
    }
    template <class Part>
    void part_if_set(const char* key, Part& value) {
        if (value != Part{}) {
            part(key, value);
        }
    }
    template <class Part>
    void settings(const char* key, Part& value) {
        part(key, value);
    }
    template <class Item>
    void list(const char* key, std::vector<Item>& items) {
        if (items.empty()) {
            return;
        }
        Json out = Json::array();
        for (Item& item : items) {
            JobWriter writer(unit_);
            describe(writer, item);
            out.push_back(std::move(writer.json_));
        }
        json_[key] = std::move(out);
    }

    [[nodiscard]] const Json& json() const { return json_; }

private:
    [[nodiscard]] Json length_json(const Entry& value) const;
    static Json number_json(double value);

    BareUnit unit_;
    Json json_ = Json::object();
};

}  // namespace sillwright::core::job_file
