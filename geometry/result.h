#pragma once

#include <cassert>
#include <functional>
#include <string>
#include <type_traits>
#include <utility>
#include <variant>

namespace sillwright::geometry {

/// What kind of failure, for code to branch on. Keep this list short: add a
/// value only when some caller will act differently on it.
enum class ErrorCode {
    invalid_argument,  ///< The caller's value is outside the documented range.
    does_not_fit,      ///< Inputs are each valid; together they have no solution.
    kernel_failure,    ///< The modelling kernel threw or gave an invalid shape.
    unreadable_file,   ///< A file is missing, truncated or of another version.
    stopped,           ///< The caller asked for the work to stop.
};

/// A failure. `message` is one English sentence with the offending numbers
/// and their units, fit to be shown in a dialogue as it stands.
struct Error {
    ErrorCode code;
    std::string message;
};

/// Either a T or an Error. Must not be ignored.
///
/// Same vocabulary as C++23 std::expected (has_value, value, error, and_then,
/// transform), so it can be swapped for it when the compilers allow.
template <class T>
class [[nodiscard]] Result {
public:
    Result(T value) : state_{std::in_place_index<0>, std::move(value)} {}      // NOLINT(google-explicit-constructor)
    Result(Error error) : state_{std::in_place_index<1>, std::move(error)} {}  // NOLINT(google-explicit-constructor)

    [[nodiscard]] bool has_value() const { return state_.index() == 0; }
    explicit operator bool() const { return has_value(); }

    /// Precondition: has_value().
    [[nodiscard]] const T& value() const& {
        assert(has_value());
        return *std::get_if<0>(&state_);
    }
    [[nodiscard]] T&& value() && {
        assert(has_value());
        return std::move(*std::get_if<0>(&state_));
    }
    /// Precondition: !has_value().
    [[nodiscard]] const Error& error() const {
        assert(!has_value());
        return *std::get_if<1>(&state_);
    }

    /// next: T -> Result<U>. The first error is passed through untouched.
    template <class F>
    [[nodiscard]] auto and_then(F&& next) const -> std::invoke_result_t<F, const T&> {
        if (!has_value()) {
            return error();
        }
        return std::invoke(std::forward<F>(next), value());
    }
    /// fn: T -> U. The error is passed through untouched.
    template <class F>
    [[nodiscard]] auto transform(F&& fn) const -> Result<std::invoke_result_t<F, const T&>> {
        if (!has_value()) {
            return error();
        }
        return std::invoke(std::forward<F>(fn), value());
    }

private:
    std::variant<T, Error> state_;
};

/// Result of an action that yields nothing but success or failure.
using Status = Result<std::monostate>;

}  // namespace sillwright::geometry
