#include "geometry/kernel/make_solid.h"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepLib.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierCurve.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColStd_Array2OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <cmath>
#include <cstdio>
#include <gp_Dir.hxx>
#include <gp_Pln.hxx>

#include "geometry/kernel/shape_access.h"
#include "geometry/kernel/strip_surfaces.h"
#include "geometry/text.h"

namespace sillwright::geometry {

namespace {

/// Edges of neighbouring faces have the same poles; this only has to cover the ends
/// of strips that close to a point (1e-6 mm).
constexpr double k_sewing_mm = 1e-5;
/// A face's side shorter than this is a point.
constexpr double k_point_mm = 2e-6;

gp_Pnt point(const Eigen::Vector4d& h) {
    return {h.x() / h.w(), h.y() / h.w(), h.z() / h.w()};
}

/// The poles along the car of one column of control points: cubics with the rows'
/// values and slopes, joined smoothly.
std::vector<Eigen::Vector4d> poles_along(const StripPiece& piece, std::size_t strip, int column) {
    const auto& rows = piece.rows;
    std::vector<Eigen::Vector4d> poles;
    // A strip that closes has all its columns at one point there.
    const auto value = [&](std::size_t row) -> Eigen::Vector4d {
        const StripControl& c = rows[row].value[strip];
        const bool closes =
            (row == 0 && piece.closed_front[strip]) || (row + 1 == rows.size() && piece.closed_rear[strip]);
        return closes && column == 1 ? Eigen::Vector4d(c(3, 1) * c.col(0)) : Eigen::Vector4d(c.col(column));
    };
    poles.push_back(value(0));
    for (std::size_t row = 0; row < rows.size(); ++row) {
        const Eigen::Vector4d slope = rows[row].slope[strip].col(column);
        if (row > 0) {
            poles.emplace_back(value(row) - (rows[row].along_mm - rows[row - 1].along_mm) / 3.0 * slope);
        }
        if (row + 1 < rows.size()) {
            poles.emplace_back(value(row) + (rows[row + 1].along_mm - rows[row].along_mm) / 3.0 * slope);
        }
    }
    poles.push_back(value(rows.size() - 1));
    return poles;
}

TopoDS_Face strip_face(const StripPiece& piece, std::size_t strip, StripShape shape) {
    const std::vector<int> columns = shape == StripShape::arc ? std::vector<int>{0, 1, 2} : std::vector<int>{0, 2};
    const int across = static_cast<int>(columns.size());
    const int rows = static_cast<int>(piece.rows.size());
    TColgp_Array2OfPnt poles(1, across, 1, 2 * rows);
    TColStd_Array2OfReal weights(1, across, 1, 2 * rows);
    for (int u = 1; u <= across; ++u) {
        int v = 1;
        for (const Eigen::Vector4d& pole : poles_along(piece, strip, columns[static_cast<std::size_t>(u - 1)])) {
            poles.SetValue(u, v, point(pole));
            weights.SetValue(u, v, pole.w());
            ++v;
        }
    }
    TColStd_Array1OfReal u_knots(1, 2);
    u_knots.SetValue(1, 0.0);
    u_knots.SetValue(2, 1.0);
    TColStd_Array1OfInteger u_times(1, 2);
    u_times.Init(across);
    TColStd_Array1OfReal v_knots(1, rows);
    TColStd_Array1OfInteger v_times(1, rows);
    for (int v = 1; v <= rows; ++v) {
        v_knots.SetValue(v, piece.rows[static_cast<std::size_t>(v - 1)].along_mm);
        v_times.SetValue(v, v == 1 || v == rows ? 4 : 2);
    }
    const Handle(Geom_BSplineSurface) surface =
        shape == StripShape::arc
            ? new Geom_BSplineSurface(poles, weights, u_knots, v_knots, u_times, v_times, across - 1, 3)
            : new Geom_BSplineSurface(poles, u_knots, v_knots, u_times, v_times, across - 1, 3);
    return BRepBuilderAPI_MakeFace(surface, k_point_mm).Face();
}

TopoDS_Edge section_edge(const StripControl& c, StripShape shape) {
    if (shape == StripShape::line) {
        return BRepBuilderAPI_MakeEdge(point(c.col(0)), point(c.col(2))).Edge();
    }
    TColgp_Array1OfPnt poles(1, 3);
    TColStd_Array1OfReal weights(1, 3);
    for (int k = 0; k < 3; ++k) {
        poles.SetValue(k + 1, point(c.col(k)));
        weights.SetValue(k + 1, c(3, k));
    }
    const Handle(Geom_BezierCurve) curve = new Geom_BezierCurve(poles, weights);
    return BRepBuilderAPI_MakeEdge(curve).Edge();
}

TopoDS_Face cap_face(const RingBody& body, const StripPiece& piece, bool front) {
    const ControlRow& row = front ? piece.rows.front() : piece.rows.back();
    const std::vector<bool>& closed = front ? piece.closed_front : piece.closed_rear;
    BRepBuilderAPI_MakeWire wire;
    for (std::size_t i = 0; i < row.value.size(); ++i) {
        if (piece.has_width[i] && !closed[i]) {
            wire.Add(section_edge(row.value[i], body.strips[i].shape));
        }
    }
    const gp_Pln plane(gp_Pnt(row.along_mm, 0.0, 0.0), gp_Dir(front ? -1.0 : 1.0, 0.0, 0.0));
    return BRepBuilderAPI_MakeFace(plane, wire.Wire()).Face();
}

Error failed(const std::string& what) {
    return {ErrorCode::kernel_failure, "The modelling kernel could not make a solid of the body: " + what + "."};
}

Result<TopoDS_Solid> sewn(const RingBody& body, const std::vector<StripPiece>& pieces) {
    BRepBuilderAPI_Sewing sewing(k_sewing_mm);
    for (const StripPiece& piece : pieces) {
        for (std::size_t i = 0; i < body.strips.size(); ++i) {
            if (piece.has_width[i]) {
                sewing.Add(strip_face(piece, i, body.strips[i].shape));
            }
        }
    }
    sewing.Add(cap_face(body, pieces.front(), true));
    sewing.Add(cap_face(body, pieces.back(), false));
    sewing.Perform();
    if (sewing.NbFreeEdges() != 0) {
        return failed(std::to_string(sewing.NbFreeEdges()) + " edges of its faces stay open");
    }
    TopExp_Explorer shells(sewing.SewedShape(), TopAbs_SHELL);
    if (!shells.More()) {
        return failed("its faces do not make a shell");
    }
    TopoDS_Solid solid = BRepBuilderAPI_MakeSolid(TopoDS::Shell(shells.Current())).Solid();
    shells.Next();
    if (shells.More()) {
        return failed("its faces make more than one shell");
    }
    BRepLib::OrientClosedSolid(solid);
    return solid;
}

Status check_volume(const Shape& shape, const RingMesh& mesh, Length fit) {
    const auto volume = kernel_volume_mm3(shape);
    if (!volume) {
        return volume.error();
    }
    const double expected = volume_mm3(mesh.mesh);
    const double bound = in_mm(mesh.mesh.deviation + fit) * area_mm2(mesh.mesh);
    if (!(std::abs(volume.value() - expected) <= bound)) {
        char numbers[160];
        std::snprintf(numbers, sizeof numbers,
                      "its volume is %.1f mm3, the mesh's %.1f mm3, and they may differ by %.1f", volume.value(),
                      expected, bound);
        return failed(numbers);
    }
    return std::monostate{};
}

}  // namespace

Result<Shape> make_solid(const RingBody& body, const RingMesh& mesh, Length fit) {
    if (!body.curves || !(fit > Length{})) {
        return Error{ErrorCode::invalid_argument,
                     "A solid needs a body made from a loft, and a fit of more than zero."};
    }
    const auto pieces = strip_pieces(body, fit);
    if (!pieces) {
        return pieces.error();
    }
    const std::string doing = "making a solid from " + text(body.key_places.front()) + " to " +
                              text(body.key_places.back()) + " with " + std::to_string(body.strips.size()) + " strips";
    return at_kernel_border(doing, [&]() -> Result<Shape> {
        const auto solid = sewn(body, pieces.value());
        if (!solid) {
            return solid.error();
        }
        const Shape shape = owned(solid.value());
        if (!BRepCheck_Analyzer(solid.value()).IsValid()) {
            return failed("its own checker finds faults in it");
        }
        if (auto status = check_volume(shape, mesh, fit); !status) {
            return status.error();
        }
        return shape;
    });
}

}  // namespace sillwright::geometry
