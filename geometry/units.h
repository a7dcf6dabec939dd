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

/// Newtons.
struct ForceUnit {
    static constexpr Quantity<ForceUnit> from_newtons(double n) { return Quantity<ForceUnit>{n}; }
    static constexpr double to_newtons(Quantity<ForceUnit> q) { return q.value_; }
};
using Force = Quantity<ForceUnit>;

/// Newtons per square millimetre, which are megapascals.
struct StressUnit {
    static constexpr Quantity<StressUnit> from_mpa(double mpa) { return Quantity<StressUnit>{mpa}; }
    static constexpr double to_mpa(Quantity<StressUnit> q) { return q.value_; }
};
using Stress = Quantity<StressUnit>;

/// Degrees Celsius, so that what is typed comes back as it was; a difference of two is in kelvins.
struct TemperatureUnit {
    static constexpr Quantity<TemperatureUnit> from_c(double c) { return Quantity<TemperatureUnit>{c}; }
    static constexpr double to_c(Quantity<TemperatureUnit> q) { return q.value_; }
};
using Temperature = Quantity<TemperatureUnit>;

constexpr Force newtons(double n) {
    return ForceUnit::from_newtons(n);
}
constexpr double in_newtons(Force f) {
    return ForceUnit::to_newtons(f);
}

constexpr Stress megapascals(double mpa) {
    return StressUnit::from_mpa(mpa);
}
constexpr double in_mpa(Stress s) {
    return StressUnit::to_mpa(s);
}

constexpr Temperature celsius(double c) {
    return TemperatureUnit::from_c(c);
}
constexpr double in_celsius(Temperature t) {
    return TemperatureUnit::to_c(t);
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
