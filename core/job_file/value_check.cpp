#include "core/job_file/value_check.h"

#include <cmath>
#include <cstddef>
#include <string>
#include <variant>
#include <vector>

#include "core/job_file/bounds.h"
#include "core/job_file/fields.h"

namespace sillwright::core::job_file {

namespace {

/// Goes through the fields of a job (see fields.h) and keeps the first that cannot be written.
class ValueCheck {
public:
    std::optional<Misfit> fault;

    void version(const char* /*key*/) {}
    void bare_unit(const char* /*key*/, BareUnit /*unit*/) {}
    void flag(const char* /*key*/, bool /*value*/, bool /*usual*/) {}
    void rest(const Unknown& /*unknown*/) {}
    template <class Choice, class List>
    void word(const char* /*key*/, const Choice& /*value*/, const List& /*words*/) {}

    template <class Choice, class List>
    void word_or(const char* /*key*/, Choice /*value*/, const List& /*words*/, Choice /*usual*/) {}

    template <class Choice, class List>
    void needed_word(const char* /*key*/, Choice /*value*/, const List& /*words*/) {}

    void text(const char* key, const std::string& value) {
        if (utf8_fault(value)) {
            refuse(key, "this text is not UTF-8. Write it anew.");
        }
    }
    void name(const char* key, const std::string& value) {
        text(key, value);
        if (value.empty()) {
            refuse(key, "this text is empty. Write a name.");
        }
    }
    void names(const char* key, const std::vector<std::string>& values) {
        for (const std::string& value : values) {
            name(key, value);
        }
    }
    void length(const char* key, const Entry& value) {
        const double mm = geometry::in_mm(value.value);
        if (!std::isfinite(mm)) {
            refuse(key, "this is not a number. Write a length.");
        } else if (std::abs(mm) > k_most_mm) {
            refuse(key, "this is longer than 1 km. Check the unit and the digits.");
        }
        text(key, value.typed);
    }
    void length(const char* key, const std::optional<Entry>& value) {
        if (value) {
            length(key, *value);
        }
    }
    void length_or(const char* key, const Entry& value, const Entry& /*usual*/) { length(key, value); }
    void setting(const char* key, const Entry& value, const Entry& /*usual*/) { length(key, value); }
    void three_lengths(const char* key, const std::array<std::optional<Entry>, 3>& value) {
        for (std::size_t i = 0; i < value.size(); ++i) {
            const Step step(*this, key, i);
            if (value[i]) {
                length("", *value[i]);
            }
        }
    }
    void number(const char* key, const std::optional<double>& value) {
        if (value && !std::isfinite(*value)) {
            refuse(key, "this is not a number. Write one.");
        }
    }
    void number_or(const char* key, double value, double /*usual*/) { number(key, value); }
    void number_setting(const char* key, double value, double /*usual*/) { number(key, value); }
    void angle(const char* key, const std::optional<geometry::Angle>& value) {
        if (value) {
            number(key, geometry::in_deg(*value));
        }
    }
    void angle_setting(const char* key, geometry::Angle value, geometry::Angle /*usual*/) { angle(key, value); }
    template <class Quantity>
    void quantity(const char* key, const std::optional<Quantity>& value, Quantity (*)(double), double (*in)(Quantity)) {
        if (value) {
            number(key, in(*value));
        }
    }
    template <class Quantity>
    void quantity_setting(const char* key, Quantity value, Quantity /*usual*/, Quantity (*of)(double),
                          double (*in)(Quantity)) {
        quantity(key, std::optional(value), of, in);
    }
    void direction(const char* key, const Direction& value) {
        if (unit_direction(value) != value) {
            refuse(key, "this is not a direction of length one. Write three numbers for along, out and up.");
        }
    }
    template <class Part>
    void part(const char* key, Part& value) {
        const Step step(*this, key);
        describe(*this, value);
    }
    template <class Part>
    void part(const char* key, std::optional<Part>& value) {
        if (value) {
            part(key, *value);
        }
    }
    template <class Part>
    void part_if_set(const char* key, Part& value) {
        part(key, value);
    }
    template <class Part>
    void settings(const char* key, Part& value) {
        part(key, value);
    }
    template <class Item>
    void list(const char* key, std::vector<Item>& items) {
        for (std::size_t i = 0; i < items.size() && !fault; ++i) {
            const Step step(*this, key, i);
            describe(*this, items[i]);
        }
    }

private:
    /// One step of the way to where the check is; put into words only if something is wrong.
    class Step {
    public:
        Step(ValueCheck& check, const char* key) : way_{check.way_} { way_.push_back({key, std::nullopt}); }
        Step(ValueCheck& check, const char* key, std::size_t item) : way_{check.way_} { way_.push_back({key, item}); }
        Step(const Step&) = delete;
        Step& operator=(const Step&) = delete;
        ~Step() { way_.pop_back(); }

    private:
        std::vector<std::pair<const char*, std::optional<std::size_t>>>& way_;
    };

    void refuse(const std::string& key, const std::string& message) {
        if (fault) {
            return;
        }
        std::string pointer;
        for (const auto& [part, item] : way_) {
            pointer = pointer_to(pointer, part);
            pointer = item ? pointer_to(pointer, std::to_string(*item)) : pointer;
        }
        fault = Misfit{key.empty() ? pointer : pointer_to(pointer, key), message};
    }

    std::vector<std::pair<const char*, std::optional<std::size_t>>> way_;
};

}  // namespace

std::optional<Misfit> value_fault(Job& job) {
    ValueCheck check;
    describe(check, job);
    return check.fault;
}

}  // namespace sillwright::core::job_file
