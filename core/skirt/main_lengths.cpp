#include "core/skirt/main_lengths.h"

#include <algorithm>
#include <optional>

#include "core/skirt/flange_face.h"

namespace sillwright::core {

using Eigen::Vector2d;

namespace {

constexpr const char* k_shelf_inner = "shelf inner";
constexpr const char* k_shelf_edge = "shelf edge";

}  // namespace

std::vector<MainLength> main_lengths(const geometry::Loft& line, geometry::Length along) {
    const std::vector<geometry::ProfileNode> nodes = line.nodes_at(along);
    const auto place = [&](const std::string& name) -> std::optional<Vector2d> {
        const auto found = std::find(line.names().begin(), line.names().end(), name);
        const auto number = static_cast<std::size_t>(found - line.names().begin());
        return found != line.names().end() && line.present_at(number, along) ? std::optional(nodes[number].p_mm)
                                                                             : std::nullopt;
    };
    std::vector<MainLength> lengths;
    const auto add = [&](const std::string& name, const char* from, const char* to, bool outside) {
        const auto a = place(from);
        const auto b = place(to);
        if (!a || !b || *a == *b) {
            return;
        }
        // The outside lies on the left of the drawn line.
        const Vector2d run = (*b - *a).normalized();
        const Vector2d left(-run.y(), run.x());
        lengths.push_back({name, *a, *b, outside ? left : Vector2d(-left), geometry::millimetres((*b - *a).norm())});
    };
    add("flange", k_flange_root, k_flange_end, true);
    add("shelf", k_shelf_inner, k_shelf_edge, false);
    return lengths;
}

}  // namespace sillwright::core
