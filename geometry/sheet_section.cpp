#include "geometry/sheet_section.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <utility>
#include <variant>

#include "geometry/parallel.h"
#include "geometry/piece_joining.h"
#include "geometry/text.h"

namespace sillwright::geometry {

namespace {

using Eigen::Vector2d;
using Points = std::vector<Vector2d>;

/// Points nearer than this are one: far above rounding, far below what is cut.
constexpr double k_same_place_mm = 1e-9;
/// A joint that turns by less has no corner to be rounded or cut.
constexpr double k_tangent_rad = 1e-9;
/// A finer tolerance would ask for millions of points.
constexpr double k_least_tolerance_mm = 1e-7;
/// Chords are never wider than this, so that a half turn keeps its shape whatever the tolerance.
constexpr double k_widest_chord_rad = std::numbers::pi / 4.0;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

Vector2d left_of(const Vector2d& direction) {
    return {-direction.y(), direction.x()};
}

Error invalid(const char* message) {
    return {ErrorCode::invalid_argument, message};
}

bool in_order(const SheetFaces& faces) {
    return std::isfinite(in_mm(faces.left)) && std::isfinite(in_mm(faces.right)) && faces.left > faces.right;
}

// ---- constant thickness ----------------------------------------------------

/// A face's chains: the one from end to end, and those round hollows.
struct Face {
    Profile through;
    std::vector<Profile> hollows;
};

Result<Face> face_of(const Profile& line, Length distance) {
    auto chains = parallel(line, distance);
    if (!chains) {
        return chains.error();
    }
    std::optional<Face> face;
    std::vector<Profile> hollows;
    for (Profile& chain : std::move(chains).value().chains) {
        if (chain.closed) {
            hollows.push_back(std::move(chain));
        } else if (face) {
            face.reset();
            hollows.clear();
            break;
        } else {
            face = Face{std::move(chain), {}};
        }
    }
    const auto square = [&](const Segment& own, double at, const Vector2d& p) {
        return (point_at(own, at) + in_mm(distance) * left_of(direction_at(own, at)) - p).norm() <= in_mm(k_joint);
    };
    if (!face || !square(line.segments.front(), 0.0, start_point(face->through.segments.front())) ||
        !square(line.segments.back(), 1.0, end_point(face->through.segments.back()))) {
        return Error{ErrorCode::does_not_fit, "The sheet meets itself: its face at " + text(distance) +
                                                  " from the line does not run from end to end. Open the line there, "
                                                  "or take a thinner sheet."};
    }
    face->hollows = std::move(hollows);
    return std::move(*face);
}

void close_by_line(Profile& outline, const Vector2d& to) {
    const Vector2d from = end_point(outline.segments.back());
    if ((to - from).norm() > k_same_place_mm) {
        outline.segments.push_back({LineSegment{from, to}, 0});
    }
}

// ---- thickness that changes ------------------------------------------------

double faces_between(std::span<const FacesAt> faces, double s, bool left) {
    const auto value = [&](const FacesAt& at) { return in_mm(left ? at.faces.left : at.faces.right); };
    const auto behind =
        std::find_if(faces.begin(), faces.end(), [&](const FacesAt& at) { return in_mm(at.along) > s; });
    if (behind == faces.begin()) {
        return value(faces.front());
    }
    if (behind == faces.end()) {
        return value(faces.back());
    }
    const FacesAt& before = *std::prev(behind);
    const double part = (s - in_mm(before.along)) / in_mm(behind->along - before.along);
    return std::lerp(value(before), value(*behind), part);
}

/// One face of a sheet whose thickness changes, put together segment by segment.
class FaceLine {
public:
    FaceLine(const Profile& line, std::span<const FacesAt> faces, bool left, double tolerance)
        : line_{line}, faces_{faces}, left_{left}, tolerance_{tolerance} {}

    Result<Points> points() {
        double start = 0.0;
        for (const Segment& segment : line_.segments) {
            const double size = in_mm(length(segment));
            if (used_up(segment, start, size)) {
                cut_ = true;
            } else if (auto status = add(segment, start, size); !status) {
                return status.error();
            }
            start += size;
        }
        if (runs_.empty() || cut_) {
            return no_room(start);
        }
        Points all;
        for (const Points& run : runs_) {
            for (const Vector2d& p : run) {
                if (all.empty() || (p - all.back()).norm() > k_same_place_mm) {
                    all.push_back(p);
                }
            }
        }
        return all;
    }

private:
    [[nodiscard]] double offset(double s) const { return faces_between(faces_, s, left_); }

    [[nodiscard]] double greatest(double from, double to) const {
        double most = std::max(std::abs(offset(from)), std::abs(offset(to)));
        for (const FacesAt& at : faces_) {
            if (in_mm(at.along) > from && in_mm(at.along) < to) {
                most = std::max(most, std::abs(in_mm(left_ ? at.faces.left : at.faces.right)));
            }
        }
        return most;
    }

    /// Whether the face lies on the hollow side of a rounding that is too tight for it.
    [[nodiscard]] bool used_up(const Segment& segment, double start, double size) const {
        const auto* arc = std::get_if<ArcSegment>(&segment.shape);
        const double side = offset(start + size / 2.0);
        return arc != nullptr && side * in_rad(arc->sweep) > 0.0 &&
               greatest(start, start + size) >= arc->radius_mm - k_same_place_mm;
    }

    /// Steepest change of the offset along the line.
    [[nodiscard]] double steepest() const {
        double most = 0.0;
        for (std::size_t i = 1; i < faces_.size(); ++i) {
            const double rise = in_mm(left_ ? faces_[i].faces.left - faces_[i - 1].faces.left
                                            : faces_[i].faces.right - faces_[i - 1].faces.right);
            most = std::max(most, std::abs(rise) / in_mm(faces_[i].along - faces_[i - 1].along));
        }
        return most;
    }

    /// Fractions at which a segment's face has a point.
    [[nodiscard]] std::vector<double> fractions(const Segment& segment, double start, double size) const {
        std::vector<double> at{0.0};
        for (const FacesAt& face : faces_) {
            const double part = (in_mm(face.along) - start) / size;
            if (part > 0.0 && part < 1.0) {
                at.push_back(part);
            }
        }
        at.push_back(1.0);
        const auto* arc = std::get_if<ArcSegment>(&segment.shape);
        if (arc == nullptr) {
            return at;
        }
        // A face that draws nearer as it turns is a spiral: (r² + 2 m²) / sqrt(r² + m²) in place of r in the sagitta.
        const double r = arc->radius_mm + greatest(start, start + size);
        const double m = steepest() * arc->radius_mm;
        const double widest = chord_rad((r * r + 2.0 * m * m) / std::hypot(r, m));
        std::vector<double> fine{0.0};
        for (std::size_t i = 1; i < at.size(); ++i) {
            const double turn = (at[i] - at[i - 1]) * std::abs(in_rad(arc->sweep));
            const double parts = std::max(1.0, std::ceil(turn / widest));
            for (double k = 1.0; k <= parts; k += 1.0) {
                fine.push_back(std::lerp(at[i - 1], at[i], k / parts));
            }
        }
        return fine;
    }

    [[nodiscard]] double chord_rad(double radius) const {
        return std::min(k_widest_chord_rad, 4.0 * std::asin(std::sqrt(std::min(1.0, tolerance_ / (2.0 * radius)))));
    }

    [[nodiscard]] Status add(const Segment& segment, double start, double size) {
        Points run;
        for (const double part : fractions(segment, start, size)) {
            run.push_back(point_at(segment, part) + offset(start + part * size) * left_of(direction_at(segment, part)));
        }
        const Vector2d direction = direction_at(segment, 0.0);
        if (!runs_.empty()) {
            const double turn = std::atan2(cross(direction_, direction), direction_.dot(direction));
            const double d = offset(start);
            if (cut_ || d * turn > std::abs(d) * k_tangent_rad) {
                if (!cut(runs_.back(), run)) {
                    return no_room(start);
                }
            } else if (d * turn < -std::abs(d) * k_tangent_rad) {
                add_fan(start_point(segment), d, turn);
            }
        } else if (cut_) {
            return no_room(start);
        }
        cut_ = false;
        direction_ = direction_at(segment, 1.0);
        runs_.push_back(std::move(run));
        return std::monostate{};
    }

    void add_fan(const Vector2d& corner, double d, double turn) {
        const double parts = std::ceil(std::abs(turn) / chord_rad(std::abs(d)));
        const Vector2d ray = d * left_of(direction_);
        for (double k = 1.0; k < parts; k += 1.0) {
            const double a = turn * k / parts;
            runs_.back().emplace_back(corner + Vector2d{std::cos(a) * ray.x() - std::sin(a) * ray.y(),
                                                        std::sin(a) * ray.x() + std::cos(a) * ray.y()});
        }
    }

    /// Cuts two runs where they cross nearest to their joint.
    static bool cut(Points& before, Points& after) {
        for (std::size_t reach = 0; reach + 3 <= before.size() + after.size(); ++reach) {
            for (std::size_t back = 0; back <= reach; ++back) {
                const std::size_t on = reach - back;
                if (back + 2 > before.size() || on + 2 > after.size()) {
                    continue;
                }
                const std::size_t i = before.size() - 2 - back;
                const auto p = crossing(before[i], before[i + 1], after[on], after[on + 1]);
                if (p) {
                    before.resize(i + 1);
                    before.push_back(*p);
                    after.erase(after.begin(), after.begin() + static_cast<std::ptrdiff_t>(on) + 1);
                    after.insert(after.begin(), *p);
                    return true;
                }
            }
        }
        return false;
    }

    static std::optional<Vector2d> crossing(const Vector2d& a, const Vector2d& b, const Vector2d& c,
                                            const Vector2d& d) {
        const double area = cross(b - a, d - c);
        if (area == 0.0) {
            return std::nullopt;
        }
        const double s = cross(c - a, d - c) / area;
        const double t = cross(c - a, b - a) / area;
        const bool both = s >= 0.0 && s <= 1.0 && t >= 0.0 && t <= 1.0;
        return both ? std::optional<Vector2d>{a + s * (b - a)} : std::nullopt;
    }

    [[nodiscard]] static Error no_room(double at) {
        return {ErrorCode::does_not_fit, "The sheet is too thick for the bend at " + text(millimetres(at)) +
                                             " along its line: nothing is left of the straight beside it. Take a "
                                             "larger radius or a thinner sheet."};
    }

    const Profile& line_;
    std::span<const FacesAt> faces_;
    bool left_;
    double tolerance_;
    std::vector<Points> runs_;
    Vector2d direction_ = Vector2d::Zero();  ///< At the end of the last run's segment.
    bool cut_ = false;                       ///< A rounding between the last run and the next is used up.
};

std::optional<Error> refuse(const Profile& line, std::span<const FacesAt> faces, Length tolerance) {
    if (line.segments.empty() || line.closed) {
        return invalid("A sheet's line must be open and have a segment.");
    }
    if (!(in_mm(tolerance) >= k_least_tolerance_mm) || !std::isfinite(in_mm(tolerance))) {
        return invalid("The tolerance must be a length of 0.0000001 mm or more.");
    }
    if (faces.empty()) {
        return invalid("A sheet needs its faces at one place at least.");
    }
    for (std::size_t i = 0; i < faces.size(); ++i) {
        if (!in_order(faces[i].faces) || !std::isfinite(in_mm(faces[i].along)) ||
            (i > 0 && !(faces[i].along > faces[i - 1].along))) {
            return invalid("A sheet's left face must lie left of its right one, at places that rise along the line.");
        }
    }
    return std::nullopt;
}

Result<AreaMoments> moments_of(const Result<std::vector<Profile>>& outline) {
    return outline.and_then([](const std::vector<Profile>& profiles) { return area_moments(profiles); });
}

}  // namespace

Result<std::vector<Profile>> sheet_outline(const Profile& line, const SheetFaces& faces) {
    if (line.closed) {
        return invalid("A sheet's line must be open.");
    }
    if (!in_order(faces)) {
        return invalid("A sheet's left face must lie left of its right one.");
    }
    auto left = face_of(line, faces.left);
    if (!left) {
        return left.error();
    }
    auto right = face_of(line, faces.right);
    if (!right) {
        return right.error();
    }
    Face near = std::move(right).value();
    Face far = std::move(left).value();
    Profile outline{std::move(near.through.segments), true};
    const Profile back = reversed(far.through);
    close_by_line(outline, start_point(back.segments.front()));
    outline.segments.insert(outline.segments.end(), back.segments.begin(), back.segments.end());
    close_by_line(outline, start_point(outline.segments.front()));
    std::vector<Profile> all{std::move(outline)};
    for (Profile& hollow : near.hollows) {
        all.push_back(std::move(hollow));
    }
    for (const Profile& hollow : far.hollows) {
        all.push_back(reversed(hollow));
    }
    return all;
}

Result<AreaMoments> sheet_moments(const Profile& line, const SheetFaces& faces) {
    return moments_of(sheet_outline(line, faces));
}

Result<std::vector<Profile>> sheet_outline(const Profile& line, std::span<const FacesAt> faces, Length tolerance) {
    if (const auto error = refuse(line, faces, tolerance)) {
        return *error;
    }
    auto right = FaceLine(line, faces, false, in_mm(tolerance)).points();
    if (!right) {
        return right.error();
    }
    const auto left = FaceLine(line, faces, true, in_mm(tolerance)).points();
    if (!left) {
        return left.error();
    }
    Points all = std::move(right).value();
    all.insert(all.end(), left.value().rbegin(), left.value().rend());
    Profile outline{{}, true};
    for (std::size_t i = 0; i < all.size(); ++i) {
        outline.segments.push_back({LineSegment{all[i], all[(i + 1) % all.size()]}, 0});
    }
    return std::vector<Profile>{std::move(outline)};
}

Result<AreaMoments> sheet_moments(const Profile& line, std::span<const FacesAt> faces, Length tolerance) {
    return moments_of(sheet_outline(line, faces, tolerance));
}

}  // namespace sillwright::geometry
