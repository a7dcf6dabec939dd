#include "geometry/ring_mesh.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/polygon_triangles.h"
#include "geometry/text.h"

namespace sillwright::geometry {

namespace {

/// Covers what may lie between the probes at 1/4, 1/2 and 3/4 (see the header).
constexpr double k_between_probes = 1.25;
constexpr std::array<double, 3> k_probes{0.25, 0.5, 0.75};
/// A diagonal of a twisted quad stands off the ruled cell by t (1 - t) of the twist
/// over the chord's relative length at t: a quarter at the middle, and up to 0.262 of
/// it where the two chords differ as much as `twist` allows (lengths 3 : 5).
constexpr double k_twist_share = 0.27;
/// A body that needs more points than this is a mistake in its numbers.
constexpr double k_most_points = 1'000'000;
/// Ring neighbours nearer than this are welded: below any shape, above rounding.
constexpr double k_weld_mm = 1e-9;
/// Rows are aimed at this part of what the tolerance allows, so that few intervals miss it.
constexpr double k_aim = 0.9;
/// Halving an interval that is already as short as this will not mend it.
constexpr double k_least_interval_mm = 1e-4;

/// Outlines along a stretch, and how far the ruled cell between two stands off.
class Prober {
public:
    explicit Prober(const RingBody& body) : body_{body} {}

    Status outline(Length along, Ring& ring) const {
        auto status = body_.outline(along, ring);
        if (status && ring.points_mm.size() != body_.point_count) {
            return Error{ErrorCode::invalid_argument,
                         "The outline at " + text(along) + " has " + std::to_string(ring.points_mm.size()) +
                             " points instead of " + std::to_string(body_.point_count) + "."};
        }
        return status;
    }

    /// Deviation of the cells between rows `a` and `b`.
    Result<double> deviation(Length from, const Ring& a, Length to, const Ring& b) {
        const double twisted = twist(a, b);
        double worst = std::max(in_mm(a.sagitta), in_mm(b.sagitta)) + twisted;
        for (const double t : k_probes) {
            if (auto status = outline(from + t * (to - from), probe_); !status) {
                return status.error();
            }
            double squared = 0.0;
            for (std::size_t i = 0; i < probe_.points_mm.size(); ++i) {
                const Eigen::Vector2d chord = (1.0 - t) * a.points_mm[i] + t * b.points_mm[i];
                squared = std::max(squared, (probe_.points_mm[i] - chord).squaredNorm());
            }
            worst = std::max(worst, k_between_probes * std::sqrt(squared) + in_mm(probe_.sagitta) + twisted);
        }
        return worst;
    }

private:
    /// How far a quad's diagonal stands off the ruled cell, at most.
    static double twist(const Ring& a, const Ring& b) {
        const std::size_t n = a.points_mm.size();
        double worst = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            const std::size_t k = i + 1 == n ? 0 : i + 1;
            const Eigen::Vector2d side_a = a.points_mm[k] - a.points_mm[i];
            const Eigen::Vector2d side_b = b.points_mm[k] - b.points_mm[i];
            const Eigen::Vector2d w = side_b - side_a;
            const Eigen::Vector2d middle = side_a + side_b;
            const double squared = w.squaredNorm();
            // Along the chord a twist only shifts points within the surface; where the
            // chord changes much, all of it is counted.
            if (16.0 * squared < middle.squaredNorm()) {
                const double turn = w.x() * middle.y() - w.y() * middle.x();
                worst = std::max(worst, turn * turn / middle.squaredNorm());
            } else {
                worst = std::max(worst, squared);
            }
        }
        return k_twist_share * std::sqrt(worst);
    }

    const RingBody& body_;
    Ring probe_;
};

struct Row {
    Length along;
    Ring ring;
    double deviation_behind_mm = 0.0;  ///< Of the interval to the next row.
};

Error too_many(Length from, Length to, Length tolerance) {
    return {ErrorCode::does_not_fit, "Between " + text(from) + " and " + text(to) +
                                         " the surface cannot be followed within " + std::to_string(in_mm(tolerance)) +
                                         " mm; look for a fold or a jump of the section there, or allow more."};
}

/// Rows between two key places.
class RowSetter {
public:
    RowSetter(const RingBody& body, Length tolerance) : body_{body}, prober_{body}, tolerance_{tolerance} {}

    Result<std::vector<Row>> set() {
        Row first{body_.key_places.front(), {}, 0.0};
        if (auto status = prober_.outline(first.along, first.ring); !status) {
            return status.error();
        }
        rows_.push_back(std::move(first));
        for (std::size_t k = 0; k + 1 < body_.key_places.size(); ++k) {
            if (auto status = fill_gap(body_.key_places[k], body_.key_places[k + 1]); !status) {
                return status.error();
            }
        }
        return std::move(rows_);
    }

private:
    Status fill_gap(Length from, Length to) {
        Row end{to, {}, 0.0};
        if (auto status = prober_.outline(to, end.ring); !status) {
            return status.error();
        }
        const auto whole = prober_.deviation(from, rows_.back().ring, to, end.ring);
        if (!whole) {
            return whole.error();
        }
        // What the rows can mend falls with the square of their distance.
        const double floor_mm = in_mm(end.ring.sagitta);
        const double allowed = in_mm(tolerance_) - floor_mm;
        const double ratio = (whole.value() - floor_mm) / (k_aim * allowed);
        const double intervals = std::ceil(std::sqrt(std::max(1.0, ratio)));
        if (!(allowed > 0.0) || !(intervals * static_cast<double>(body_.point_count) < k_most_points)) {
            return too_many(from, to, tolerance_);
        }
        const auto count = static_cast<std::size_t>(intervals);
        for (std::size_t i = 1; i <= count; ++i) {
            if (i == count) {
                return add(std::move(end));
            }
            Row row{from + (static_cast<double>(i) / static_cast<double>(count)) * (to - from), {}, 0.0};
            if (auto status = prober_.outline(row.along, row.ring); !status) {
                return status.error();
            }
            if (auto status = add(std::move(row)); !status) {
                return status.error();
            }
        }
        return std::monostate{};
    }

    /// Appends `row`, with rows between where the interval before it stands off too far.
    Status add(Row row) {
        const Length from = rows_.back().along;
        const auto deviation = prober_.deviation(from, rows_.back().ring, row.along, row.ring);
        if (!deviation) {
            return deviation.error();
        }
        if (deviation.value() <= in_mm(tolerance_)) {
            rows_.back().deviation_behind_mm = deviation.value();
            rows_.push_back(std::move(row));
            return std::monostate{};
        }
        if (row.along - from < millimetres(k_least_interval_mm) ||
            static_cast<double>(rows_.size() * body_.point_count) > k_most_points) {
            return too_many(from, row.along, tolerance_);
        }
        Row middle{0.5 * (from + row.along), {}, 0.0};
        if (auto status = prober_.outline(middle.along, middle.ring); !status) {
            return status.error();
        }
        if (auto status = add(std::move(middle)); !status) {
            return status.error();
        }
        return add(std::move(row));
    }

    const RingBody& body_;
    Prober prober_;
    Length tolerance_;
    std::vector<Row> rows_;
};

std::size_t row_count(const RingMesh& m) {
    return m.rows.size();
}

std::uint32_t index(const RingMesh& m, std::size_t row, std::size_t point) {
    return static_cast<std::uint32_t>(row * m.point_count + point);
}

Eigen::Vector2d in_section(const Eigen::Vector3d& p) {
    return {p.y(), p.z()};
}

/// Welds ring neighbours of one row that are at one place.
void weld_row(RingMesh& m, std::size_t row) {
    const std::size_t n = m.point_count;
    const auto apart = [&](std::size_t i, std::size_t k) {
        return (m.mesh.points[index(m, row, i)] - m.mesh.points[index(m, row, k)]).squaredNorm() >
               k_weld_mm * k_weld_mm;
    };
    std::size_t leader = 0;
    for (std::size_t i = 0; i < n; ++i) {
        leader = i > 0 && apart(leader, i) ? i : leader;
        m.representative[index(m, row, i)] = index(m, row, leader);
    }
    // The run that ends the ring may be the one that starts it.
    if (leader > 0 && !apart(leader, 0)) {
        for (std::size_t i = leader; i < n; ++i) {
            m.representative[index(m, row, i)] = index(m, row, 0);
        }
    }
}

void set_row(RingMesh& m, std::size_t row, const Ring& ring) {
    const double along = in_mm(m.rows[row]);
    for (std::size_t i = 0; i < m.point_count; ++i) {
        m.mesh.points[index(m, row, i)] = {along, ring.points_mm[i].x(), ring.points_mm[i].y()};
    }
    weld_row(m, row);
}

void add_triangle(RingMesh& m, std::array<std::uint32_t, 3> corners, TrianglePlace place) {
    if (corners[0] == corners[1] || corners[1] == corners[2] || corners[2] == corners[0]) {
        return;
    }
    if (m.turned) {
        std::swap(corners[1], corners[2]);
    }
    m.mesh.triangles.push_back({static_cast<std::int32_t>(corners[0]), static_cast<std::int32_t>(corners[1]),
                                static_cast<std::int32_t>(corners[2])});
    m.places.push_back(place);
}

void add_sides(RingMesh& m) {
    const std::size_t n = m.point_count;
    const auto at = [&](std::size_t row, std::size_t i) { return m.representative[index(m, row, i)]; };
    for (std::size_t row = 0; row + 1 < row_count(m); ++row) {
        for (std::size_t i = 0; i < n; ++i) {
            const std::size_t k = i + 1 == n ? 0 : i + 1;
            const TrianglePlace place{RingMeshPart::side, static_cast<std::uint32_t>(row),
                                      static_cast<std::uint32_t>(i)};
            add_triangle(m, {at(row, i), at(row, k), at(row + 1, k)}, place);
            add_triangle(m, {at(row, i), at(row + 1, k), at(row + 1, i)}, place);
        }
    }
}

/// The welded outline of a row, anticlockwise, and the mesh points it consists of.
struct CapOutline {
    std::vector<Eigen::Vector2d> corners;
    std::vector<std::uint32_t> points;
};

CapOutline cap_outline(const RingMesh& m, std::size_t row) {
    CapOutline cap;
    for (std::size_t i = 0; i < m.point_count; ++i) {
        if (m.representative[index(m, row, i)] == index(m, row, i)) {
            cap.points.push_back(index(m, row, i));
        }
    }
    if (m.turned) {
        std::reverse(cap.points.begin(), cap.points.end());
    }
    for (const std::uint32_t p : cap.points) {
        cap.corners.push_back(in_section(m.mesh.points[p]));
    }
    return cap;
}

/// Whether each triangle of a cap still faces away from the body: then they still fill its outline.
bool face_out(const RingMesh& m, const std::vector<Triangle>& cap, RingMeshPart part) {
    const double outward = part == RingMeshPart::front_cap ? -1.0 : 1.0;
    return std::all_of(cap.begin(), cap.end(), [&](const Triangle& t) {
        const auto point = [&](std::size_t k) { return in_section(m.mesh.points[static_cast<std::size_t>(t[k])]); };
        const Eigen::Vector2d a = point(1) - point(0);
        const Eigen::Vector2d b = point(2) - point(0);
        return outward * (a.x() * b.y() - a.y() * b.x()) >= 0.0;
    });
}

/// `before`: the triangles of this cap in a mesh of the same points, which are kept as long as they fill it.
Status add_cap(RingMesh& m, RingMeshPart part, const std::vector<Triangle>& before) {
    const std::size_t row = part == RingMeshPart::front_cap ? 0 : row_count(m) - 1;
    const CapOutline cap = cap_outline(m, row);
    const auto triangles = polygon_triangles(cap.corners);
    if (!triangles) {
        return Error{triangles.error().code, "At " + text(m.rows[row]) + " " + triangles.error().message +
                                                 "; a body needs a proper section at its ends."};
    }
    if (before.size() == triangles.value().size() && face_out(m, before, part)) {
        m.mesh.triangles.insert(m.mesh.triangles.end(), before.begin(), before.end());
        m.places.insert(m.places.end(), before.size(), TrianglePlace{part, 0, 0});
        return std::monostate{};
    }
    for (const Triangle& t : triangles.value()) {
        std::array<std::uint32_t, 3> corners{};
        for (std::size_t k = 0; k < 3; ++k) {
            corners[k] = cap.points[static_cast<std::size_t>(t[k])];
        }
        // Anticlockwise seen against the along axis faces rearward; the front cap faces forward.
        if ((part == RingMeshPart::front_cap) != m.turned) {
            std::swap(corners[1], corners[2]);
        }
        add_triangle(m, corners, {part, 0, 0});
    }
    return std::monostate{};
}

void take_deviation(RingMesh& m) {
    m.mesh.deviation = *std::max_element(m.interval_deviation.begin(), m.interval_deviation.end());
}

std::vector<Triangle> cap_triangles(const RingMesh& m, RingMeshPart part) {
    std::vector<Triangle> cap;
    for (std::size_t i = m.places.size(); i-- > 0 && m.places[i].part != RingMeshPart::side;) {
        if (m.places[i].part == part) {
            cap.push_back(m.mesh.triangles[i]);
        }
    }
    std::reverse(cap.begin(), cap.end());
    return cap;
}

Status add_triangles(RingMesh& m) {
    const std::vector<Triangle> front = cap_triangles(m, RingMeshPart::front_cap);
    const std::vector<Triangle> rear = cap_triangles(m, RingMeshPart::rear_cap);
    m.mesh.triangles.clear();
    m.places.clear();
    m.mesh.triangles.reserve(2 * m.point_count * row_count(m));
    m.places.reserve(2 * m.point_count * row_count(m));
    add_sides(m);
    if (auto status = add_cap(m, RingMeshPart::front_cap, front); !status) {
        return status;
    }
    if (auto status = add_cap(m, RingMeshPart::rear_cap, rear); !status) {
        return status;
    }
    if (!(volume_mm3(m.mesh) > 0.0)) {
        return Error{ErrorCode::does_not_fit, "From " + text(m.rows.front()) + " to " + text(m.rows.back()) +
                                                  " the section turns inside out; its nodes must run the same way "
                                                  "round at every station."};
    }
    return std::monostate{};
}

Status check(const RingBody& body, Length tolerance) {
    if (!(tolerance > Length{})) {
        return Error{ErrorCode::invalid_argument, "The mesh tolerance must be more than zero."};
    }
    std::size_t segments = 0;
    for (const RingStrip& strip : body.strips) {
        if (strip.first_segment != segments) {
            return Error{ErrorCode::invalid_argument, "The strips of a body must cover its outline in order."};
        }
        segments += strip.segment_count;
    }
    if (body.point_count < 3 || segments != body.point_count || body.key_places.size() < 2 ||
        !std::is_sorted(body.key_places.begin(), body.key_places.end())) {
        return Error{
            ErrorCode::invalid_argument,
            "A body needs three or more points round, a strip for each segment, and two or more rising places."};
    }
    return std::monostate{};
}

double ring_area(const RingMesh& m, std::size_t row) {
    std::vector<Eigen::Vector2d> corners;
    for (std::size_t i = 0; i < m.point_count; ++i) {
        corners.push_back(in_section(m.mesh.points[index(m, row, i)]));
    }
    return polygon_area(corners);
}

}  // namespace

Result<RingMesh> mesh_of(const RingBody& body, Length tolerance) {
    if (auto status = check(body, tolerance); !status) {
        return status.error();
    }
    const auto rows = RowSetter(body, tolerance).set();
    if (!rows) {
        return rows.error();
    }
    RingMesh m;
    m.point_count = body.point_count;
    m.strips = body.strips;
    for (const Row& row : rows.value()) {
        m.rows.push_back(row.along);
        m.interval_deviation.push_back(millimetres(row.deviation_behind_mm));
    }
    m.interval_deviation.pop_back();
    m.mesh.points.resize(row_count(m) * m.point_count);
    m.representative.resize(m.mesh.points.size());
    for (std::size_t row = 0; row < row_count(m); ++row) {
        set_row(m, row, rows.value()[row].ring);
    }
    m.turned = ring_area(m, 0) < 0.0;
    if (auto status = add_triangles(m); !status) {
        return status.error();
    }
    take_deviation(m);
    return m;
}

namespace {

/// Ranges of triangles that use a point of rows first..last, in the triangle order of a RingMesh.
std::vector<TriangleRange> ranges_of_rows(const RingMesh& m, std::size_t first, std::size_t last) {
    const std::size_t first_interval = first == 0 ? 0 : first - 1;
    const auto side_end = std::find_if(m.places.begin(), m.places.end(),
                                       [](const TrianglePlace& p) { return p.part != RingMeshPart::side; });
    const auto from = std::lower_bound(m.places.begin(), side_end, first_interval,
                                       [](const TrianglePlace& p, std::size_t i) { return p.interval < i; });
    const auto to = std::upper_bound(m.places.begin(), side_end, last,
                                     [](std::size_t i, const TrianglePlace& p) { return i < p.interval; });
    const auto number = [&](auto it) { return static_cast<std::size_t>(it - m.places.begin()); };
    const auto rear_cap =
        std::find_if(side_end, m.places.end(), [](const TrianglePlace& p) { return p.part == RingMeshPart::rear_cap; });
    std::vector<TriangleRange> ranges{{number(from), number(to)}};
    if (first == 0) {
        ranges.push_back({number(side_end), number(rear_cap)});
    }
    if (last + 1 == row_count(m)) {
        ranges.push_back({number(rear_cap), m.places.size()});
    }
    return ranges;
}

}  // namespace

Result<Remeshed> remesh(const RingMesh& previous, const RingBody& body, AlongRange changed) {
    if (body.point_count != previous.point_count || body.key_places.front() != previous.rows.front() ||
        body.key_places.back() != previous.rows.back()) {
        return Error{ErrorCode::invalid_argument, "The changed body has another number of points or another length."};
    }
    Remeshed result{previous, {}, true};
    RingMesh& m = result.ring_mesh;
    const auto begin = std::lower_bound(m.rows.begin(), m.rows.end(), changed.from);
    const auto end = std::upper_bound(m.rows.begin(), m.rows.end(), changed.to);
    const auto first = static_cast<std::size_t>(begin - m.rows.begin());
    const auto behind = static_cast<std::size_t>(end - m.rows.begin());
    if (first == behind && (first == 0 || first == row_count(m))) {
        return result;
    }
    // Intervals touched: those that overlap the changed stretch, also one with no row inside.
    const std::size_t first_interval = first == 0 ? 0 : first - 1;
    const std::size_t behind_interval = std::min(behind, row_count(m) - 1);
    Prober prober(body);
    Ring front;
    if (auto status = prober.outline(m.rows[first_interval], front); !status) {
        return status.error();
    }
    if (first == 0) {
        set_row(m, 0, front);
    }
    for (std::size_t interval = first_interval; interval < behind_interval; ++interval) {
        Ring rear;
        if (auto status = prober.outline(m.rows[interval + 1], rear); !status) {
            return status.error();
        }
        if (interval + 1 < behind) {
            set_row(m, interval + 1, rear);
        }
        const auto deviation = prober.deviation(m.rows[interval], front, m.rows[interval + 1], rear);
        if (!deviation) {
            return deviation.error();
        }
        m.interval_deviation[interval] = millimetres(deviation.value());
        front = std::move(rear);
    }
    take_deviation(m);
    const bool cap_moved = first == 0 || behind == row_count(m);
    if (m.representative != previous.representative || cap_moved) {
        m.turned = ring_area(m, 0) < 0.0;
        if (auto status = add_triangles(m); !status) {
            return status.error();
        }
        result.same_triangles = m.mesh.triangles == previous.mesh.triangles;
    }
    if (result.same_triangles) {
        if (first < behind) {
            result.changed = ranges_of_rows(m, first, behind - 1);
        }
    } else {
        result.changed = {{0, m.mesh.triangles.size()}};
    }
    return result;
}

const RingStrip& strip_of(const RingMesh& ring_mesh, std::size_t segment) {
    const auto behind = std::upper_bound(ring_mesh.strips.begin(), ring_mesh.strips.end(), segment,
                                         [](std::size_t s, const RingStrip& strip) { return s < strip.first_segment; });
    return *(behind - 1);
}

}  // namespace sillwright::geometry
