#include "geometry/chi_squared.h"

#include <cassert>
#include <cmath>
#include <limits>

namespace sillwright::geometry {

namespace {

constexpr double k_epsilon = std::numeric_limits<double>::epsilon();
/// The series and the fraction both end after a few times sqrt(a) terms; a is 10 000 at most.
constexpr int k_most_terms = 100000;
/// Halvings alone would end after 60.
constexpr int k_most_steps = 200;
constexpr double k_point_accuracy = 1e-14;
constexpr double k_tiny = 1e-300;  ///< Stands for a zero that would be divided by.

/// x^a e^-x / Gamma(a).
double front(double a, double x) {
    return std::exp(a * std::log(x) - x - std::lgamma(a));
}

double lower_by_series(double a, double x) {
    double term = 1.0 / a;
    double sum = term;
    for (int n = 1; n < k_most_terms && term > sum * k_epsilon; ++n) {
        term *= x / (a + n);
        sum += term;
    }
    return front(a, x) * sum;
}

/// W. J. Lentz, Applied Optics 15 (1976) 668: the fraction from its front.
double upper_by_fraction(double a, double x) {
    double b = x + 1.0 - a;
    double c = 1.0 / k_tiny;
    double d = 1.0 / b;
    double h = d;
    for (int n = 1; n < k_most_terms; ++n) {
        const double numerator = -n * (n - a);
        b += 2.0;
        d = numerator * d + b;
        d = 1.0 / (std::abs(d) < k_tiny ? k_tiny : d);
        c = b + numerator / c;
        c = std::abs(c) < k_tiny ? k_tiny : c;
        h *= c * d;
        if (std::abs(c * d - 1.0) <= k_epsilon) {
            break;
        }
    }
    return front(a, x) * h;
}

}  // namespace

double chi_squared_chance(double x, int degrees_of_freedom) {
    assert(degrees_of_freedom > 0);
    const double a = 0.5 * degrees_of_freedom;
    const double half = 0.5 * x;
    if (!(half > 0.0)) {
        return 0.0;
    }
    return half < a + 1.0 ? lower_by_series(a, half) : 1.0 - upper_by_fraction(a, half);
}

double chi_squared_point(double chance, int degrees_of_freedom) {
    assert(chance > 0.0 && chance < 1.0);
    const double a = 0.5 * degrees_of_freedom;
    double low = 0.0;
    double high = 2.0 * a;
    while (chi_squared_chance(high, degrees_of_freedom) < chance) {
        low = high;
        high *= 2.0;
    }
    double x = 0.5 * (low + high);
    for (int step = 0; step < k_most_steps && high - low > k_point_accuracy * high; ++step) {
        const double over = chi_squared_chance(x, degrees_of_freedom) - chance;
        (over > 0.0 ? high : low) = x;
        const double newton = x - 2.0 * over * 0.5 * x / front(a, 0.5 * x);  // the density is front / x
        const double next = newton > low && newton < high ? newton : 0.5 * (low + high);
        if (std::abs(next - x) <= k_point_accuracy * x) {
            return next;
        }
        x = next;
    }
    return x;
}

}  // namespace sillwright::geometry
