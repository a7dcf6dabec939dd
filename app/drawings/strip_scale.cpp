#include "app/drawings/strip_scale.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace sillwright::app {

namespace {

/// Heights are drawn by one of these, so that the number can be said.
constexpr std::array<double, 20> k_steps{0.1, 0.2, 0.3, 0.4, 0.5, 0.6,  0.7, 0.8, 0.9, 1.0,
                                         1.1, 1.2, 1.3, 1.4, 1.5, 1.75, 2.0, 2.5, 3.0, 4.0};

constexpr std::array<double, 8> k_times{1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0};

}  // namespace

StripScale strip_scale(const StripGround& ground, const QRectF& plot) {
    StripScale scale;
    scale.plot = plot;
    scale.front_mm = ground.front_mm;
    scale.ceiling_mm = ground.ceiling_mm;
    scale.along = plot.width() / (ground.rear_mm - ground.front_mm);
    const double tall_mm = ground.ceiling_mm - ground.floor_mm;
    const double most = plot.height() / (tall_mm * scale.along);
    scale.heights = k_steps.front();
    for (const double step : k_steps) {
        if (step <= most) {
            scale.heights = step;
        }
    }
    scale.top = plot.top() + (plot.height() - tall_mm * scale.along * scale.heights) / 2.0;
    return scale;
}

double enlarged(double size_mm, double pixels_for_mm, double pixels) {
    return std::max(1.0, std::ceil(pixels / (size_mm * pixels_for_mm)));
}

double exaggerated(double size_mm, double pixels_for_mm, double pixels) {
    double times = k_times.front();
    for (const double step : k_times) {
        if (step * size_mm * pixels_for_mm <= pixels) {
            times = step;
        }
    }
    return times;
}

}  // namespace sillwright::app
