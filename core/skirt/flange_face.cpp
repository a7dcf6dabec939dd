#include "core/skirt/flange_face.h"

#include <algorithm>

#include "core/skirt/flange_bend.h"
#include "core/skirt/surface.h"

namespace sillwright::core {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// A flange shorter than this has run out: far below what can be made, far above rounding.
constexpr double k_no_flange_mm = 1e-6;
/// Half the step over which the face's lean along the car is taken: short beside a
/// guide line's bends, long beside rounding.
constexpr double k_lean_step_mm = 1e-3;

std::optional<std::size_t> root_number(const geometry::Loft& line) {
    const auto& names = line.names();
    const auto root = std::find(names.begin(), names.end(), k_flange_root);
    if (root == names.end() || root + 1 == names.end() || *(root + 1) != k_flange_end) {
        return std::nullopt;
    }
    return static_cast<std::size_t>(root - names.begin());
}

}  // namespace

FlangeFace::FlangeFace(const Piece& piece, const geometry::Loft& line, const FormedSheet* formed)
    : line_{&line},
      root_{*root_number(line)},
      inside_{*outward_law(piece, line, formed, std::nullopt, Surface::inside)},
      formed_{formed} {
    if (const auto outside = outward_offset(piece, std::nullopt, Surface::outside)) {
        outside_mm_ = in_mm(*outside);
    }
    bent_after_ = piece.flange.making == FlangeMaking::bent_after;
    if (bent_after_ && piece.flange.inner_radius) {
        radius_left_ = drawn_radius(piece, piece.flange.inner_radius->value, true);
        radius_right_ = drawn_radius(piece, piece.flange.inner_radius->value, false);
    }
}

double FlangeFace::inside_at(Length along, std::size_t node) const {
    return inside_.at(along, static_cast<double>(node));
}

bool FlangeFace::drawn_on(const geometry::Loft& line) {
    return root_number(line).has_value();
}

std::optional<FlangeFace> FlangeFace::of(const Piece& piece, const geometry::Loft& line, const FormedSheet* formed) {
    const auto inside = outward_offset(piece, std::nullopt, Surface::inside);
    if (!inside || !drawn_on(line)) {
        return std::nullopt;
    }
    return FlangeFace{piece, line, formed};
}

std::optional<FlangeSection> FlangeFace::at(Length along) const {
    const Vector2d root = line_->node_at(root_, along).p_mm;
    const Vector2d end = line_->node_at(root_ + 1, along).p_mm;
    FlangeSection section;
    section.length_mm = (end - root).norm();
    if (section.length_mm < k_no_flange_mm) {
        return std::nullopt;
    }
    section.direction = (end - root) / section.length_mm;
    section.inward = {section.direction.y(), -section.direction.x()};
    const double inside_at_root = inside_at(along, root_);
    const double inside_at_end = inside_at(along, root_ + 1);
    section.root_mm = root - inside_at_root * section.inward;
    section.end_mm = end - inside_at_end * section.inward;
    if (inside_at_root != inside_at_end) {
        section.length_mm = (section.end_mm - section.root_mm).norm();
        section.direction = (section.end_mm - section.root_mm) / section.length_mm;
        section.inward = {section.direction.y(), -section.direction.x()};
    }
    return section;
}

std::optional<double> FlangeFace::height_mm(const Vector3d& p_mm) const {
    const auto section = at(millimetres(p_mm.x()));
    if (!section) {
        return std::nullopt;
    }
    return section->inward.dot(p_mm.tail<2>() - section->root_mm);
}

std::optional<Vector3d> FlangeFace::normal(const Vector3d& p_mm) const {
    const auto section = at(millimetres(p_mm.x()));
    const double from = std::clamp(p_mm.x() - k_lean_step_mm, in_mm(front()), in_mm(rear()));
    const double to = std::clamp(p_mm.x() + k_lean_step_mm, in_mm(front()), in_mm(rear()));
    const auto before = height_mm({from, p_mm.y(), p_mm.z()});
    const auto behind = height_mm({to, p_mm.y(), p_mm.z()});
    if (!section || !before || !behind) {
        return std::nullopt;
    }
    const double lean = to > from ? (*behind - *before) / (to - from) : 0.0;
    return Vector3d{lean, section->inward.x(), section->inward.y()}.normalized();
}

std::optional<geometry::Corner> FlangeFace::bend(Length along) const {
    const auto nodes = line_->nodes_at(along);
    std::vector<geometry::Corner> corners;
    if (!geometry::find_corners(nodes, line_->names(), false, corners)) {
        return std::nullopt;
    }
    return corners[root_];
}

std::optional<double> FlangeFace::flat_from_mm(Length along) const {
    auto corner = bend(along);
    if (!corner) {
        return std::nullopt;
    }
    if (corner->kind != geometry::CornerKind::turn) {
        return 0.0;
    }
    const auto& radius = corner->side > 0.0 ? radius_left_ : radius_right_;
    if (radius) {
        corner->radius_mm = std::max(corner->radius_mm, in_mm(*radius));
    }
    return std::max(corner->setback_at(inside_at(along, root_)), outside_mm_ ? corner->setback_at(*outside_mm_) : 0.0);
}

std::vector<std::string> FlangeFace::missing_for_bend() const {
    std::vector<std::string> missing;
    if (!outside_mm_) {
        missing.emplace_back("the skirt's sheet thickness");
    }
    if (bent_after_ && !radius_left_ && !radius_right_) {
        missing.emplace_back("the inner radius of the bend made after");
    }
    return missing;
}

}  // namespace sillwright::core
