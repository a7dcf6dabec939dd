#pragma once

#include <compare>
#include <numbers>

namespace sillwright::geometry {

/// One physical dimension held as a double in one fixed unit.
///
/// `Tag` makes each dimension a distinct type, so a length cannot be passed
/// where an angle is wanted and a bare double can be passed for neither.
/// Same size and cost as a double; copy by value.
template <class Tag>
class Quantity {
public:
    constexpr Quantity() = default;  // zero

    friend constexpr auto operator<=>(Quantity, Quantity) = default;
    friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity{a.value_ + b.value_}; }
    friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity{a.value_ - b.value_}; }
    friend constexpr Quantity operator-(Quantity a) { return Quantity{-a.value_}; }
    friend constexpr Quantity operator*(Quantity a, double k) { return Quantity{a.value_ * k}; }
    friend constexpr Quantity operator*(double k, Quantity a) { return a * k; }
    friend constexpr Quantity operator/(Quantity a, double k) { return Quantity{a.value_ / k}; }
    /// Ratio of like quantities: a plain number.
    friend constexpr double operator/(Quantity a, Quantity b) { return a.value_ / b.value_; }

private:
    friend Tag;
    explicit constexpr Quantity(double value) : value_{value} {}
    double value_{0.0};
};

/// Millimetres are the only stored length unit; others exist only as
/// named conversions at the edge (import, export, display).
struct LengthUnit {
    static constexpr Quantity<LengthUnit> from_mm(double mm) { return Quantity<LengthUnit>{mm}; }
    static constexpr double to_mm(Quantity<LengthUnit> q) { return q.value_; }
};
using Length = Quantity<LengthUnit>;

/// Radians are the only stored angle unit.
struct AngleUnit {
    static constexpr Quantity<AngleUnit> from_rad(double rad) { return Quantity<AngleUnit>{rad}; }
    static constexpr double to_rad(Quantity<AngleUnit> q) { return q.value_; }
};
using Angle = Quantity<AngleUnit>;

constexpr Length millimetres(double mm) {
    return LengthUnit::from_mm(mm);
}
/// 1 in = 25.4 mm exactly (International Yard and Pound Agreement, 1959).
constexpr Length inches(double in) {
    return LengthUnit::from_mm(in * 25.4);
}
constexpr double in_mm(Length l) {
    return LengthUnit::to_mm(l);
}

constexpr Angle radians(double rad) {
    return AngleUnit::from_rad(rad);
}
constexpr Angle degrees(double deg) {
    return AngleUnit::from_rad(deg * (std::numbers::pi / 180.0));
}
constexpr double in_rad(Angle a) {
    return AngleUnit::to_rad(a);
}
constexpr double in_deg(Angle a) {
    return in_rad(a) * (180.0 / std::numbers::pi);
}

namespace literals {
constexpr Length operator""_mm(long double v) {
    return millimetres(static_cast<double>(v));
}
constexpr Length operator""_mm(unsigned long long v) {
    return millimetres(static_cast<double>(v));
}
constexpr Angle operator""_deg(long double v) {
    return degrees(static_cast<double>(v));
}
constexpr Angle operator""_deg(unsigned long long v) {
    return degrees(static_cast<double>(v));
}
}  // namespace literals

}  // namespace sillwright::geometry
