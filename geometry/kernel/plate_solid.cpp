#include "geometry/kernel/plate_solid.h"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRepLib.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRep_Builder.hxx>
#include <Eigen/Geometry>
#include <GC_MakeArcOfCircle.hxx>
#include <GProp_GProps.hxx>
#include <ShapeFix_Face.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Solid.hxx>
#include <TopoDS_Wire.hxx>
#include <cmath>
#include <gp_Pln.hxx>
#include <gp_Pnt.hxx>
#include <gp_Vec.hxx>
#include <string>

#include "geometry/kernel/shape_access.h"

namespace sillwright::geometry {

namespace {

/// Of the volume: both are exact but for rounding.
constexpr double k_volume_slack = 1e-6;

gp_Pnt in_space(const PlatePlace& place, const Eigen::Vector2d& p) {
    const Eigen::Vector3d at = place.origin_mm + place.right * p.x() + place.up * p.y();
    return {at.x(), at.y(), at.z()};
}

TopoDS_Edge edge_of(const PlatePlace& place, const Segment& segment) {
    const gp_Pnt from = in_space(place, start_point(segment));
    const gp_Pnt to = in_space(place, end_point(segment));
    if (std::holds_alternative<LineSegment>(segment.shape)) {
        return BRepBuilderAPI_MakeEdge(from, to);
    }
    const gp_Pnt middle = in_space(place, point_at(segment, 0.5));
    return BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(from, middle, to).Value());
}

/// An arc of a whole turn has no ends to tell it by: it becomes two.
std::vector<Segment> parts_of(const Segment& segment) {
    const auto* const arc = std::get_if<ArcSegment>(&segment.shape);
    if (arc == nullptr || std::abs(in_deg(arc->sweep)) < 300.0) {
        return {segment};
    }
    return {part_of(segment, 0.0, 0.5), part_of(segment, 0.5, 1.0)};
}

TopoDS_Wire wire_of(const PlatePlace& place, const Profile& profile) {
    BRepBuilderAPI_MakeWire wire;
    for (const Segment& segment : profile.segments) {
        for (const Segment& part : parts_of(segment)) {
            wire.Add(edge_of(place, part));
        }
    }
    return wire;
}

double kernel_volume(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(shape, properties);
    return properties.Mass();
}

}  // namespace

Result<Shape> plate_solid(const Profile& outline, const std::vector<Profile>& holes, const PlatePlace& place) {
    const double thickness = std::abs(place.right.cross(place.up).dot(place.through_mm));
    if (!outline.closed || !(thickness > 0.0)) {
        return Error{ErrorCode::invalid_argument, "A plate needs a closed outline and a thickness above zero."};
    }
    double area = std::abs(enclosed_area_mm2(outline));
    for (const Profile& hole : holes) {
        area -= std::abs(enclosed_area_mm2(hole));
    }
    return at_kernel_border("making a plate", [&]() -> Result<Shape> {
        BRepBuilderAPI_MakeFace face(wire_of(place, outline), Standard_True);
        for (const Profile& hole : holes) {
            face.Add(wire_of(place, hole));
        }
        ShapeFix_Face sense(face.Face());
        sense.FixOrientation();
        const gp_Vec through(place.through_mm.x(), place.through_mm.y(), place.through_mm.z());
        TopoDS_Solid solid = TopoDS::Solid(BRepPrimAPI_MakePrism(sense.Face(), through).Shape());
        BRepLib::OrientClosedSolid(solid);
        if (!BRepCheck_Analyzer(solid).IsValid()) {
            return Error{ErrorCode::kernel_failure,
                         "The modelling kernel objects to a plate: a hole meets its edge, or the edge crosses itself."};
        }
        const double volume = kernel_volume(solid);
        if (std::abs(volume - area * thickness) > k_volume_slack * area * thickness) {
            return Error{ErrorCode::kernel_failure, "The modelling kernel makes a plate of " + std::to_string(volume) +
                                                        " cubic millimetres where its outline says " +
                                                        std::to_string(area * thickness) + "."};
        }
        return owned(solid);
    });
}

Result<Shape> together(const std::vector<Shape>& shapes) {
    return at_kernel_border("putting solids together", [&]() -> Result<Shape> {
        BRep_Builder builder;
        TopoDS_Compound all;
        builder.MakeCompound(all);
        for (const Shape& shape : shapes) {
            builder.Add(all, kernel_shape(shape));
        }
        return owned(all);
    });
}

}  // namespace sillwright::geometry
