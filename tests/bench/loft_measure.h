#pragma once

#include "geometry/loft.h"
#include "geometry/ring_mesh.h"
#include "geometry/sheet_ring.h"

namespace sillwright::bench {

/// An invented part of 12 stations and 8 names.
geometry::Loft bench_loft();

geometry::SheetFaces bench_faces();
geometry::Length bench_tolerance();

/// From the sections to the closed sheet's mesh within 0.02 mm.
geometry::RingMesh mesh_of_sections(const geometry::Loft& drawn);

}  // namespace sillwright::bench
