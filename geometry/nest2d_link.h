#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <functional>
#include <vector>

namespace sillwright::geometry {

/// How libnest2d lays: its own settings.
struct Nest2dSettings {
    int rotations = 4;  ///< Even parts of a full turn that are tried.
    enum class Corner { middle, bottom_left } start = Corner::middle;
    float accuracy = 0.65F;
    bool pairs = false;  ///< Its selection by pairs of parts (DJD) in place of the first that fits.
};

/// Where it put one.
struct Nest2dPlace {
    int sheet = -1;  ///< From 0; -1: nowhere.
    double turned_rad = 0.0;
    Eigen::Vector2d moved_mm = Eigen::Vector2d::Zero();
};

/// Rings laid by libnest2d 5 on equal sheets of which there are as many as needed, touching one another at most.
///
/// Units and frame: millimetres; a sheet from its lower left corner.
/// Accuracy: it works in whole thousandths of a millimetre, and truncates: 0.002 mm.
/// Stop: asked between parts; what is placed then is given back.
/// Known: concave outlines are laid by their hulls' directions only, so it makes no use of hollows; its
/// BottomLeftPlacer
///   lays parts on top of one another and is not used.
/// In this header's source alone libnest2d is included: its version 5.0 does not compile as C++20.
std::vector<Nest2dPlace> laid_by_nest2d(const std::vector<std::vector<Eigen::Vector2d>>& rings_mm,
                                        const Eigen::Vector2d& sheet_mm, const Nest2dSettings& settings,
                                        const std::function<bool()>& stop);

}  // namespace sillwright::geometry
