#include "app/link/arcs_of_hinge.h"

#include <Eigen/Geometry>
#include <algorithm>

namespace sillwright::app {

using core::survey::HingeAxis;
using Eigen::Vector2d;
using Eigen::Vector3d;

namespace {

/// The plane across the axis: along the car to the right, out downward.
class Across {
public:
    explicit Across(const HingeAxis& axis) : origin_{axis.lower_mm} {
        const Vector3d up = (axis.upper_mm - axis.lower_mm).normalized();
        right_ = (Vector3d::UnitX() - up * up.x()).normalized();
        down_ = up.cross(right_);
    }
    [[nodiscard]] Vector2d of(const Vector3d& run_mm) const { return {right_.dot(run_mm), down_.dot(run_mm)}; }
    [[nodiscard]] Vector2d at(const Vector3d& p_mm) const { return of(p_mm - origin_); }

private:
    Vector3d origin_, right_, down_;
};

}  // namespace

ArcPicture arcs_of_hinge(const core::survey::Book& book, const core::survey::Results& results,
                         const core::survey::HingeOutcome& hinge) {
    ArcPicture picture;
    picture.door = hinge.door;
    picture.words = hinge.lacks;
    if (!hinge.axis) {
        return picture;
    }
    const HingeAxis& axis = *hinge.axis;
    if (axis.from_pins) {
        picture.words = "The axis is taken from the two hinge pins; there is no arc to check it by.";
        return picture;
    }
    picture.axis = true;
    const Across across(axis);
    for (std::size_t i = 0; i < axis.misses.size(); ++i) {
        const core::survey::TargetMiss& miss = axis.misses[i];
        const auto* point = results.solution.find(miss.target + "/" + std::to_string(miss.opening));
        if (point == nullptr) {
            continue;
        }
        auto target = std::find_if(picture.targets.begin(), picture.targets.end(),
                                   [&](const TargetArc& arc) { return arc.name == miss.target; });
        if (target == picture.targets.end()) {
            target = picture.targets.insert(picture.targets.end(), TargetArc{miss.target, {}});
        }
        target->places.push_back(
            {miss.opening, across.at(point->at_mm), across.of(miss.miss_mm), axis.suspect && *axis.suspect == i});
    }
    // In the order of the book's set, as they were stuck on.
    for (const core::survey::HingeSet& set : book.hinges) {
        if (set.door == hinge.door) {
            std::stable_sort(picture.targets.begin(), picture.targets.end(), [&](const auto& a, const auto& b) {
                const auto place = [&](const std::string& name) {
                    return std::find(set.targets.begin(), set.targets.end(), name) - set.targets.begin();
                };
                return place(a.name) < place(b.name);
            });
        }
    }
    return picture;
}

}  // namespace sillwright::app
