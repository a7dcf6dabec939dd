#pragma once

namespace sillwright::geometry {

/// Chance that chi-squared with `degrees_of_freedom` is at most `x`: the incomplete gamma function P(dof/2, x/2).
///
/// Accuracy: 1e-12, up to 20 000 degrees of freedom.
/// Precondition: degrees_of_freedom > 0.
/// Source: M. Abramowitz, I. Stegun, 1964, 6.5.29 (series) and 6.5.31 (continued fraction), 26.4.19 (from memory).
double chi_squared_chance(double x, int degrees_of_freedom);

/// The x that chi-squared stays below with that chance.
///
/// Accuracy: 1e-10 relative.
/// Precondition: degrees_of_freedom > 0, 0 < chance < 1.
double chi_squared_point(double chance, int degrees_of_freedom);

}  // namespace sillwright::geometry
