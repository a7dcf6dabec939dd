#include "geometry/kernel/placement.h"

#include <BRepBuilderAPI_Transform.hxx>
#include <gp_Ax2.hxx>
#include <gp_Dir.hxx>
#include <gp_Pnt.hxx>
#include <gp_Trsf.hxx>
#include <gp_Vec.hxx>

#include "geometry/kernel/shape_access.h"

namespace sillwright::geometry {

Result<Shape> placed(const Shape& shape, Mirror mirror, const Eigen::Vector3d& by_mm) {
    return at_kernel_border("placing a solid in the car", [&]() -> Result<Shape> {
        gp_Trsf move;
        move.SetTranslation(gp_Vec(by_mm.x(), by_mm.y(), by_mm.z()));
        if (mirror == Mirror::in_y) {
            gp_Trsf turn;
            turn.SetMirror(gp_Ax2(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(0.0, 1.0, 0.0)));
            move.Multiply(turn);
        }
        return owned(BRepBuilderAPI_Transform(kernel_shape(shape), move, Standard_True).Shape());
    });
}

}  // namespace sillwright::geometry
