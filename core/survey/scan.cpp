#include "core/survey/scan.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <Eigen/SVD>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "core/car_model.h"
#include "core/imported_shape.h"
#include "core/shape_files.h"
#include "core/sill_frame.h"
#include "core/typed.h"
#include "geometry/distance_tree.h"
#include "geometry/file_text.h"
#include "geometry/mesh_file.h"
#include "geometry/mesh_section.h"
#include "geometry/ring_mesh.h"
#include "geometry/sha256.h"

namespace sillwright::core::survey {

using Eigen::Matrix3d;
using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using geometry::Length;
using geometry::Mesh;
using geometry::millimetres;
using geometry::PlaneLine;

namespace {

/// Distances between marks tell a unit within this; whole extents only roughly, as a scan may be of a part.
constexpr double k_marks_ratio = 0.03;
constexpr double k_extent_ratio = 0.6;
/// Extents that differ by less than this say nothing of the unit: a scan of a part, or with the floor round it.
constexpr double k_extents_differ = 4.0;
/// So many points of a scan decide a fit; a try from another start takes fewer.
constexpr std::size_t k_fit_points = 4000;
constexpr std::size_t k_try_points = 500;
/// Of the mesh of the body that a scan is fitted to: less than any scanner's noise.
constexpr Length k_body_deviation = millimetres(0.02);
/// A line of marks whose width is below this part of its length does not say how the scan is turned about it.
constexpr double k_marks_width = 0.02;
/// A second piece of a cut above this part of the longest is worth a word.
constexpr double k_piece_worth = 0.2;

std::string number(double value, const char* form = "%.1f") {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), form, value);
    return text.data();
}

double unit_mm(BareUnit unit) {
    return in_mm(from_unit(1.0, unit));
}

std::string unit_words(BareUnit unit) {
    return unit == BareUnit::mm ? "millimetres" : unit == BareUnit::cm ? "centimetres" : "inches";
}

/// A rigid motion of the scan into the car's frame.
struct Motion {
    Matrix3d rotation = Matrix3d::Identity();
    Vector3d shift = Vector3d::Zero();
    [[nodiscard]] Vector3d operator()(const Vector3d& p) const { return rotation * p + shift; }
};

/// The mark's place in its own frame and in the car's, of those that the book places.
struct MarkPairs {
    Eigen::Matrix3Xd scan, car;
    std::vector<std::size_t> mark;
};

MarkPairs mark_pairs(const Job& job, const Scan& scan, const Solution& solution, PlacedScan& placed) {
    MarkPairs pairs;
    const SillFrame frame(job);
    for (std::size_t i = 0; i < scan.marks.size(); ++i) {
        const ScanMark& mark = scan.marks[i];
        placed.marks.emplace_back();
        const PlacedPoint* point = solution.find(mark.point);
        if (point == nullptr) {
            placed.marks.back().lacks = "The measuring book does not place " + mark.point + " yet.";
            continue;
        }
        const auto n = static_cast<Eigen::Index>(pairs.mark.size());
        pairs.scan.conservativeResize(3, n + 1);
        pairs.car.conservativeResize(3, n + 1);
        pairs.scan.col(n) = unit_mm(scan.unit) * Vector3d(mark.x, mark.y, mark.z);
        pairs.car.col(n) = frame.car_from_sill(point->at_mm);
        pairs.mark.push_back(i);
    }
    return pairs;
}

/// Root mean square distance from the middle.
double size_of(const Eigen::Matrix3Xd& points) {
    const Eigen::Matrix3Xd off = points.colwise() - Vector3d(points.rowwise().mean());
    return std::sqrt(off.squaredNorm() / static_cast<double>(points.cols()));
}

bool on_a_line(const Eigen::Matrix3Xd& points) {
    const Eigen::Matrix3Xd off = points.colwise() - Vector3d(points.rowwise().mean());
    const Eigen::Vector3d values = Eigen::JacobiSVD<Eigen::Matrix3Xd>(off).singularValues();
    return values(1) < k_marks_width * values(0);
}

/// By the marks; says what is missing.
std::optional<Motion> by_marks(const Scan& scan, const MarkPairs& pairs, PlacedScan& placed) {
    const auto n = pairs.scan.cols();
    if (n >= 2) {
        const std::string unit = suspected_unit(size_of(pairs.car), size_of(pairs.scan), scan.unit, k_marks_ratio);
        if (!unit.empty()) {
            placed.cautions.push_back(unit);
        }
    }
    if (n < 3) {
        placed.lacks = "Three marks are needed to place the scan; there " +
                       (n == 1 ? std::string("is 1") : "are " + std::to_string(n)) +
                       ". Pick marks on the scan that the measuring book has, or fit it to the body as drawn.";
        return std::nullopt;
    }
    if (on_a_line(pairs.car) || on_a_line(pairs.scan)) {
        placed.lacks = "The marks lie on one line, so the scan could turn about it. Pick one more beside that line.";
        return std::nullopt;
    }
    const Eigen::Matrix4d moved = Eigen::umeyama(pairs.scan, pairs.car, false);
    const Motion motion{moved.topLeftCorner<3, 3>(), moved.topRightCorner<3, 1>()};
    double squares = 0.0;
    for (Eigen::Index i = 0; i < n; ++i) {
        squares += (motion(pairs.scan.col(i)) - pairs.car.col(i)).squaredNorm() / static_cast<double>(n);
    }
    placed.rms_mm = std::sqrt(squares);
    placed.how = "by " + std::to_string(n) + " marks, " + number(placed.rms_mm) + " mm rms";
    return motion;
}

void take_residuals(const Job& job, const MarkPairs& pairs, const Motion& motion, PlacedScan& placed) {
    const SillFrame frame(job);
    for (std::size_t i = 0; i < pairs.mark.size(); ++i) {
        const auto column = static_cast<Eigen::Index>(i);
        placed.marks[pairs.mark[i]].residual_mm =
            frame.turned(motion(pairs.scan.col(column)) - Vector3d(pairs.car.col(column)));
    }
}

void warn_marks(const Scan& scan, PlacedScan& placed) {
    const PlacedMark* worst = nullptr;
    for (const PlacedMark& mark : placed.marks) {
        if (mark.residual_mm && (worst == nullptr || mark.residual_mm->norm() > worst->residual_mm->norm())) {
            worst = &mark;
        }
    }
    if (worst != nullptr && worst->residual_mm->norm() > k_mark_limit_mm) {
        const auto index = static_cast<std::size_t>(worst - placed.marks.data());
        placed.cautions.push_back("Mark " + scan.marks[index].point + " is off most, by " +
                                  number(worst->residual_mm->norm()) +
                                  " mm. Pick it again on the scan, or look at its readings in the measuring book.");
    }
}

/// The outer face of the body as drawn, an open mesh in the car's frame.
geometry::Result<Mesh> body_face(const Job& job, const geometry::Loft& body) {
    const auto surface = body_surface(body, k_body_deviation);
    if (!surface) {
        return surface.error();
    }
    const geometry::RingMesh& ring = *surface.value().ring;
    Mesh mesh;
    mesh.points = ring.mesh.points;
    for (std::size_t i = 0; i < ring.mesh.triangles.size(); ++i) {
        const geometry::TrianglePlace& place = ring.places[i];
        if (place.part == geometry::RingMeshPart::side &&
            geometry::strip_of(ring, place.segment).face == geometry::RingFace::outside) {
            mesh.triangles.push_back(ring.mesh.triangles[i]);
        }
    }
    return SillFrame(job).car_from_sill(std::move(mesh));
}

std::vector<Vector3d> some_points(const Mesh& mesh, std::size_t most) {
    std::vector<Vector3d> some;
    const std::size_t step = std::max<std::size_t>(1, mesh.points.size() / most);
    for (std::size_t i = 0; i < mesh.points.size(); i += step) {
        some.push_back(mesh.points[i]);
    }
    return some;
}

/// Axes by size, the longest extent first, right-handed; the points' middle.
std::pair<Matrix3d, Vector3d> main_axes(const std::vector<Vector3d>& points) {
    Vector3d middle = Vector3d::Zero();
    for (const Vector3d& p : points) {
        middle += p / static_cast<double>(points.size());
    }
    Matrix3d spread = Matrix3d::Zero();
    for (const Vector3d& p : points) {
        spread += (p - middle) * (p - middle).transpose();
    }
    Matrix3d axes = Eigen::SelfAdjointEigenSolver<Matrix3d>(spread).eigenvectors().rowwise().reverse();
    axes.col(2) = axes.col(0).cross(axes.col(1));
    return {axes, middle};
}

/// As the file has it, and with the longest extents along each other, four ways about.
std::vector<Motion> free_starts(const Mesh& scan, const Mesh& body) {
    const auto [scan_axes, scan_middle] = main_axes(some_points(scan, k_fit_points));
    const auto [body_axes, body_middle] = main_axes(some_points(body, k_fit_points));
    std::vector<Motion> starts{{}};
    for (const double a : {1.0, -1.0}) {
        for (const double b : {1.0, -1.0}) {
            const Matrix3d turn = body_axes * Vector3d(a, b, a * b).asDiagonal() * scan_axes.transpose();
            starts.push_back({turn, body_middle - turn * scan_middle});
        }
    }
    return starts;
}

std::optional<Motion> best_start(const Mesh& scan, const Mesh& body, const geometry::DistanceTree& tree) {
    const std::vector<Vector3d> points = some_points(scan, k_try_points);
    std::optional<Motion> best;
    double least = 0.0;
    for (const Motion& start : free_starts(scan, body)) {
        const auto fit = geometry::fit_to_mesh(points, tree, start.rotation, start.shift);
        // Many points far off are worse than few: the misfit is weighed with the points that do not count.
        const double misfit = fit ? fit.value().rms_mm / (fit.value().share * fit.value().share) : 0.0;
        if (fit && (!best || misfit < least)) {
            best = Motion{fit.value().rotation, fit.value().shift_mm};
            least = misfit;
        }
    }
    return best;
}

std::string weak_words(const geometry::WeakMotion& weak, const SillFrame& frame) {
    const Vector3d in_sill = frame.turned(weak.direction).cwiseAbs();
    Eigen::Index axis = 0;
    in_sill.maxCoeff(&axis);
    constexpr std::array<const char*, 3> k_slides{"along the sill", "in and out", "up and down"};
    constexpr std::array<const char*, 3> k_turns{"about the sill's length", "about a line across the car",
                                                 "about an upright line"};
    const auto i = static_cast<std::size_t>(axis);
    std::string words = weak.turn ? std::string("The fit hardly tells how the scan is turned ") + k_turns[i]
                                  : std::string("The fit hardly tells how far the scan is slid ") + k_slides[i];
    if (!weak.held) {
        words += ": " + number(weak.play_mm, "%.0f") + " mm more would fit nearly as well";
    }
    return words + (weak.held ? ", and has left it as it was. " : ". ") + "Three marks that the book has settle it.";
}

void warn_extent(const Scan& scan, const Mesh& mesh, const Mesh& body, PlacedScan& placed) {
    const auto extent = [](const Mesh& m) {
        Eigen::AlignedBox3d box;
        for (const Vector3d& p : m.points) {
            box.extend(p);
        }
        return box.diagonal().norm();
    };
    const double body_mm = extent(body);
    const double scan_mm = extent(mesh);
    if (scan_mm > k_extents_differ * body_mm || body_mm > k_extents_differ * scan_mm) {
        const std::string unit = suspected_unit(body_mm, scan_mm, scan.unit, k_extent_ratio);
        placed.cautions.push_back(!unit.empty() ? unit
                                                : "The scan is " + number(scan_mm, "%.0f") +
                                                      " mm over all and the body as drawn " + number(body_mm, "%.0f") +
                                                      " mm. Is its unit right?");
    }
}

/// Moved on from `start` (none: from wherever fits best) to the body.
std::optional<Motion> by_fit(const Job& job, const Scan& scan, const Mesh& mesh, const geometry::Loft* body,
                             const std::optional<Motion>& start, PlacedScan& placed) {
    if (body == nullptr) {
        placed.lacks = "There is no body to fit the scan to. Draw the body at two stations, or pick three marks.";
        return std::nullopt;
    }
    const auto face = body_face(job, *body);
    const auto tree = face.and_then([](const Mesh& m) { return geometry::DistanceTree::build(m); });
    if (!tree) {
        placed.lacks = "The body as drawn cannot be fitted to: " + tree.error().message;
        return std::nullopt;
    }
    if (placed.cautions.empty()) {
        warn_extent(scan, mesh, face.value(), placed);
    }
    const auto from = start ? start : best_start(mesh, face.value(), tree.value());
    const auto fit =
        from ? geometry::fit_to_mesh(some_points(mesh, k_fit_points), tree.value(), from->rotation, from->shift)
             : geometry::Result<geometry::MeshFit>(Error{ErrorCode::does_not_fit, ""});
    if (!fit) {
        placed.lacks = "The scan does not come to lie on the body as drawn. Pick three marks first; they place it.";
        return std::nullopt;
    }
    placed.fit = fit.value();
    placed.lacks.clear();
    placed.how += (placed.how.empty() ? "by fit" : ", then by fit") + std::string(" to the body as drawn: ") +
                  number(placed.fit->rms_mm, "%.2f") + " mm rms of " + number(100.0 * placed.fit->share, "%.0f") +
                  " in 100 points";
    if (!placed.fit->converged) {
        placed.cautions.push_back(
            "The fit has not come to rest. Pick three marks first, or draw the body more closely.");
    }
    for (const geometry::WeakMotion& weak : placed.fit->weak) {
        placed.cautions.push_back(weak_words(weak, SillFrame(job)));
    }
    return Motion{placed.fit->rotation, placed.fit->shift_mm};
}

/// From its top inner end outward and down.
PlaneLine in_order(const geometry::CutChain& chain) {
    PlaneLine line;
    for (const Vector3d& p : chain.points_mm) {
        line.emplace_back(p.y(), p.z());
    }
    if (!chain.closed) {
        if (line.front().y() < line.back().y()) {
            std::reverse(line.begin(), line.end());
        }
        return line;
    }
    const auto inner =
        std::min_element(line.begin(), line.end(), [](const Vector2d& a, const Vector2d& b) { return a.x() < b.x(); });
    std::rotate(line.begin(), inner, line.end());
    double twice_area = 0.0;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const Vector2d& a = line[i];
        const Vector2d& b = line[(i + 1) % line.size()];
        twice_area += a.x() * b.y() - a.y() * b.x();
    }
    if (twice_area > 0.0) {  // Over the top first: clockwise, with out to the right.
        std::reverse(std::next(line.begin()), line.end());
    }
    line.push_back(line.front());
    return line;
}

double length_of(const PlaneLine& line) {
    double length = 0.0;
    for (std::size_t i = 1; i < line.size(); ++i) {
        length += (line[i] - line[i - 1]).norm();
    }
    return length;
}

}  // namespace

geometry::Result<Mesh> read_scan(const Scan& scan, const std::filesystem::path& folder) {
    if (!scan.checksum.empty()) {
        const auto bytes = geometry::read_file(folder / scan.path, k_most_shape_bytes);
        if (!bytes) {
            return bytes.error();
        }
        if (geometry::sha256(bytes.value()) != scan.checksum) {
            return Error{ErrorCode::unreadable_file,
                         "The file " + scan.path +
                             " is another one than the scan was made with: its SHA-256 differs. Put the right file "
                             "back, or add it as a new scan."};
        }
    }
    return geometry::read_mesh(folder / scan.path, file_unit(scan.unit));
}

PlacedScan place_scan(const Job& job, const Scan& scan, const Mesh& mesh, const Solution& solution,
                      const geometry::Loft* body) {
    PlacedScan placed;
    if (mesh.triangles.empty()) {
        placed.marks.resize(scan.marks.size());
        placed.lacks = "There is no triangle in the scan.";
        return placed;
    }
    const MarkPairs pairs = mark_pairs(job, scan, solution, placed);
    std::optional<Motion> motion = by_marks(scan, pairs, placed);
    if (scan.fitted) {
        motion = by_fit(job, scan, mesh, body, motion, placed);
    }
    if (!motion) {
        return placed;
    }
    take_residuals(job, pairs, *motion, placed);
    warn_marks(scan, placed);
    Mesh moved = mesh;
    for (Vector3d& p : moved.points) {
        p = (*motion)(p);
    }
    placed.mesh = SillFrame(job).sill_from_car(std::move(moved));
    return placed;
}

std::vector<ScanCut> cut_scan(const Mesh& placed, const std::vector<Length>& along) {
    std::vector<double> places;
    for (const Length place : along) {
        places.push_back(in_mm(place));
    }
    const auto sections = geometry::mesh_sections(placed, Vector3d::UnitX(), places);
    std::vector<ScanCut> cuts;
    for (std::size_t i = 0; i < sections.size(); ++i) {
        ScanCut cut;
        for (const geometry::CutChain& chain : sections[i]) {
            cut.lines.push_back(in_order(chain));
        }
        std::stable_sort(cut.lines.begin(), cut.lines.end(),
                         [](const PlaneLine& a, const PlaneLine& b) { return length_of(a) > length_of(b); });
        if (cut.lines.empty()) {
            cut.lacks = "The scan has no triangle at " + number(places[i], "%.0f") + " mm along the car.";
        } else {
            const double longest = length_of(cut.lines.front());
            const auto worth = std::count_if(cut.lines.begin(), cut.lines.end(), [&](const PlaneLine& line) {
                return length_of(line) > k_piece_worth * longest;
            });
            if (worth > 1) {
                cut.caution = "The scan has gaps here: " + std::to_string(worth) + " pieces, the longest is taken.";
            }
        }
        cuts.push_back(std::move(cut));
    }
    return cuts;
}

std::string suspected_unit(double true_mm, double scan_mm, BareUnit unit, double tolerance) {
    if (!(true_mm > 0.0) || !(scan_mm > 0.0) || std::abs(true_mm / scan_mm - 1.0) <= tolerance) {
        return {};
    }
    const bool larger = scan_mm > true_mm;
    const std::string times =
        number(larger ? scan_mm / true_mm : true_mm / scan_mm) + " times too " + (larger ? "large" : "small");
    struct Meant {
        const char* words;
        double mm;
        std::string cure;
    };
    const std::array<Meant, 4> units{Meant{"millimetres", 1.0, "Choose mm as its unit."},
                                     {"centimetres", 10.0, "Choose cm as its unit."},
                                     {"inches", in_mm(geometry::inches(1.0)), "Choose in as its unit."},
                                     {"metres", 1000.0, "Save it from the scanner in millimetres."}};
    const Meant* best = nullptr;
    double least = std::log(1.0 + tolerance);
    for (const Meant& meant : units) {
        const double off = std::abs(std::log(meant.mm / unit_mm(unit) * scan_mm / true_mm));
        if (meant.mm != unit_mm(unit) && off < least) {
            best = &meant;
            least = off;
        }
    }
    if (best == nullptr) {
        return tolerance < 0.1
                   ? "The marks are " + times + " for the measuring book: pick them again, or look at the unit."
                   : std::string();
    }
    return "The scan is " + times + ": its numbers look like " + best->words + ", not " + unit_words(unit) + ". " +
           best->cure;
}

}  // namespace sillwright::core::survey
