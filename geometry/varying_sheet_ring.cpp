#include "geometry/varying_sheet_ring.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <memory>

#include "geometry/text.h"

namespace sillwright::geometry {

namespace {

/// Places looked at between two key places when chords are counted.
constexpr int k_looks = 8;
/// Rows of a law nearer than this to a key place are that place.
constexpr double k_same_row_mm = 1e-3;

/// One section's corners and distances: room that is used again from place to place.
struct Work {
    std::vector<ProfileNode> nodes;
    std::vector<Corner> corners;
    std::vector<double> marks;
    OffsetRow left, right;
    std::vector<Eigen::Vector2d> points;
    std::vector<StripCurve> curves;
};

Status find(const Loft& loft, const VaryingFaces& faces, Length along, Work& work) {
    loft.nodes_at(along, work.nodes);
    if (work.marks.size() != work.nodes.size()) {
        work.marks = plain_marks(work.nodes.size());
    }
    faces.left.at(along, work.left);
    faces.right.at(along, work.right);
    auto status = find_corners(work.nodes, loft.names(), false, work.corners);
    for (const OffsetRow* const row : {&work.left, &work.right}) {
        const auto [least, most] = std::minmax_element(row->mm.begin(), row->mm.end());
        for (const double offset : {*least, *most}) {
            if (status) {
                status = check_room(work.corners, loft.names(), false, offset);
            }
        }
    }
    if (!status) {
        return Error{status.error().code, "At " + loft.place(along) + " " + status.error().message + "."};
    }
    return status;
}

Status check_faces(const Loft& loft, const VaryingFaces& faces) {
    if (loft.closed()) {
        return Error{ErrorCode::invalid_argument, "A sheet is made from an open line, not from a closed outline."};
    }
    const double left = faces.left.least();
    const double right = faces.right.most();
    if (!(left > right)) {
        return Error{ErrorCode::invalid_argument,
                     "A sheet's left face (" + text(millimetres(left)) + ") must lie to the left of its right face (" +
                         text(millimetres(right)) + "); the thickness must be more than zero."};
    }
    return std::monostate{};
}

std::vector<Length> key_places_of(const Loft& loft, const VaryingFaces& faces) {
    std::vector<Length> places = loft.key_places();
    const std::vector<Length> drawn = places;
    for (const OffsetLaw* const law : {&faces.left, &faces.right}) {
        for (const Length row : law->rows) {
            const bool near = std::any_of(drawn.begin(), drawn.end(),
                                          [&](Length at) { return std::abs(in_mm(at - row)) < k_same_row_mm; });
            if (!near && row > drawn.front() && row < drawn.back()) {
                places.push_back(row);
            }
        }
    }
    std::sort(places.begin(), places.end());
    const auto same = [](Length a, Length b) { return in_mm(b - a) < k_same_row_mm; };
    places.erase(std::unique(places.begin() + 1, places.end(), same), places.end());
    return places;
}

std::size_t points_of(const FaceLayout& layout) {
    std::size_t points = 0;
    for (const std::size_t count : layout.chords) {
        points += count + 1;
    }
    for (const auto& parts : layout.parts) {
        points += parts.size();
    }
    return points;
}

/// Adds a face's strips; backwards from the last node to the first.
void add_face(std::vector<RingStrip>& strips, RingFace face, const FaceLayout& layout, bool backwards,
              std::size_t& segment) {
    const std::size_t n = layout.chords.size();
    const auto add = [&](StripShape shape, std::size_t from, std::size_t to, std::size_t count) {
        if (count > 0) {
            strips.push_back({face, shape, from, to, segment, count});
            segment += count;
        }
    };
    for (std::size_t k = 0; k < n; ++k) {
        const std::size_t i = backwards ? n - 1 - k : k;
        add(StripShape::arc, i, i, layout.chords[i]);
        if (k + 1 < n) {
            const std::size_t next = backwards ? i - 1 : i + 1;
            const std::size_t chords = layout.parts[std::min(i, next)].size() + 1;
            for (std::size_t chord = 0; chord < chords; ++chord) {
                add(StripShape::line, i, next, 1);
            }
        }
    }
}

StripCurve straight(const Eigen::Vector2d& from, const Eigen::Vector2d& to) {
    return {from, (from + to) / 2.0, to, 1.0};
}

void widen_face(FaceLayout& layout, const FaceLayout& other) {
    layout.chords.resize(other.chords.size(), 0);
    layout.parts.resize(other.parts.size());
    for (std::size_t i = 0; i < other.chords.size(); ++i) {
        layout.chords[i] = std::max(layout.chords[i], other.chords[i]);
    }
    for (std::size_t i = 0; i < other.parts.size(); ++i) {
        std::vector<double> both;
        std::set_union(layout.parts[i].begin(), layout.parts[i].end(), other.parts[i].begin(), other.parts[i].end(),
                       std::back_inserter(both));
        layout.parts[i] = std::move(both);
    }
}

}  // namespace

void widen(VaryingLayout& layout, const VaryingLayout& other) {
    widen_face(layout.left, other.left);
    widen_face(layout.right, other.right);
}

Result<VaryingLayout> layout_of_varying_sheet(const Loft& loft, const VaryingFaces& faces, Length sagitta) {
    if (auto status = check_faces(loft, faces); !status) {
        return status.error();
    }
    if (!(sagitta > Length{})) {
        return Error{ErrorCode::invalid_argument, "The tolerance of roundings must be more than zero."};
    }
    std::vector<Length> places = key_places_of(loft, faces);
    const std::vector<Length> drawn = loft.key_places();
    for (std::size_t k = 0; k + 1 < drawn.size(); ++k) {
        for (int look = 1; look < k_looks; ++look) {
            places.push_back(drawn[k] + (static_cast<double>(look) / k_looks) * (drawn[k + 1] - drawn[k]));
        }
    }
    VaryingLayout layout;
    Work work;
    for (const Length along : places) {
        if (auto status = find(loft, faces, along, work); !status) {
            return status.error();
        }
        widen(layout.left, work.corners, work.marks, work.left, sagitta);
        widen(layout.right, work.corners, work.marks, work.right, sagitta);
    }
    return layout;
}

Result<RingBody> varying_sheet_ring(const Loft& loft, const VaryingFaces& faces, const VaryingLayout& layout) {
    if (auto status = check_faces(loft, faces); !status) {
        return status.error();
    }
    const std::size_t n = loft.names().size();
    if (layout.left.chords.size() != n || layout.right.chords.size() != n || layout.left.parts.size() + 1 != n ||
        layout.right.parts.size() + 1 != n) {
        return Error{ErrorCode::invalid_argument, "The layout of the outline was made for another body."};
    }
    RingBody body;
    body.key_places = key_places_of(loft, faces);
    body.run_outs = loft.run_out_places();
    body.point_count = points_of(layout.left) + points_of(layout.right);
    std::size_t segment = 0;
    const RingFace right_is = faces.left_is == RingFace::outside ? RingFace::inside : RingFace::outside;
    add_face(body.strips, faces.left_is, layout.left, false, segment);
    body.strips.push_back({RingFace::edge, StripShape::line, n - 1, n - 1, segment++, 1});
    add_face(body.strips, right_is, layout.right, true, segment);
    body.strips.push_back({RingFace::edge, StripShape::line, 0, 0, segment++, 1});

    struct Made {
        Loft loft;
        VaryingFaces faces;
        VaryingLayout layout;
    };
    const auto made = std::make_shared<const Made>(Made{loft, faces, layout});
    body.outline = [made, work = Work{}](Length along, Ring& ring) mutable -> Status {
        if (auto status = find(made->loft, made->faces, along, work); !status) {
            return status;
        }
        ring.points_mm.clear();
        work.points.clear();
        const Length left =
            append_varying_parallel(work.corners, work.marks, work.left, made->layout.left, ring.points_mm);
        const Length right =
            append_varying_parallel(work.corners, work.marks, work.right, made->layout.right, work.points);
        ring.points_mm.insert(ring.points_mm.end(), work.points.rbegin(), work.points.rend());
        ring.sagitta = std::max(left, right);
        return std::monostate{};
    };
    body.curves = [made, work = Work{}](Length along, std::vector<StripCurve>& curves) mutable -> Status {
        if (auto status = find(made->loft, made->faces, along, work); !status) {
            return status;
        }
        curves.clear();
        work.curves.clear();
        append_varying_curves(work.corners, work.marks, work.left, made->layout.left, curves);
        append_varying_curves(work.corners, work.marks, work.right, made->layout.right, work.curves);
        const std::size_t edge = curves.size();
        curves.emplace_back();
        for (auto curve = work.curves.rbegin(); curve != work.curves.rend(); ++curve) {
            curves.push_back({curve->to_mm, curve->middle_mm, curve->from_mm, curve->weight});
        }
        curves[edge] = straight(curves[edge - 1].to_mm, curves[edge + 1].from_mm);
        curves.push_back(straight(curves.back().to_mm, curves.front().from_mm));
        return std::monostate{};
    };
    return body;
}

}  // namespace sillwright::geometry
