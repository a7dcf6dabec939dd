#pragma once

#include <Eigen/Geometry>
#include <functional>
#include <optional>
#include <vector>

#include "core/buck/cut_part.h"
#include "geometry/profile.h"

namespace sillwright::core {

/// What tabs are wanted on an outline.
struct TabWish {
    double width_mm = 0.0, pitch_mm = 0.0;
    double bit_radius_mm = 0.0;
    std::vector<Eigen::AlignedBox2d> keep_off{};  ///< Slots: no tab comes as near to them as the bit is wide.
    std::function<int(const Eigen::Vector2d&)>
        rank{};  ///< Of a place: 0 is taken before 1, and so on; none: all the same.
};

/// Tabs that hold a part in its sheet while it is cut: at least `k_least_tabs`, no gap round the outline wider than the
/// pitch where there is room for that; on stretches that turn by no more than `k_tab_turn` under the tab and the bit
/// beside it. As few on places of a higher rank as the pitch lets.
///
/// Units and frame: millimetres of the part. Places are tried every millimetre.
/// Shape: along the outline; none, or fewer, where there is no room.
std::vector<Tab> tabs_on(const geometry::Profile& outline, const TabWish& wish);

/// The widest gap from tab to tab round the outline; all of it with one tab; none without.
std::optional<geometry::Length> widest_gap(const geometry::Profile& outline, const std::vector<Tab>& tabs);

/// Common practice, no source.
constexpr std::size_t k_least_tabs = 3;
/// What a tab stands on is nearly straight: common practice, no source.
constexpr geometry::Angle k_tab_turn = geometry::degrees(10.0);

}  // namespace sillwright::core
