#pragma once

#include <string>
#include <string_view>

#include "geometry/mesh.h"
#include "geometry/mesh_source.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// The mesh in an STL file, text or binary: told apart by size and content,
/// since the word "solid" also begins some binary files.
///
/// Shape: one mesh of all solids in the file; equal points become one point.
///   Normals and colours in the file are not used.
/// Accuracy: exact for what the file holds; binary holds single precision.
/// Errors: unreadable_file with line or byte, for a file that ends early or
///   goes on after its end, a coordinate that is not finite or beyond
///   k_max_coordinate_mm, no triangle at all, or something that is no STL.
/// Source: the published layout of the format: 80 bytes of header, the count,
///   then 50 bytes a triangle, lowest byte first.
Result<Mesh> mesh_from_stl(std::string_view bytes, const MeshSource& source);

/// Precondition of both: is_writable(mesh), see mesh_file.h.
/// Binary: single precision; a triangle of which two corners are the same
/// there is left out (its neighbours then meet, so closed stays closed).
std::string stl_binary(const Mesh& mesh, FileUnit unit);
/// Text: every digit kept.
std::string stl_text(const Mesh& mesh, FileUnit unit);

}  // namespace sillwright::geometry
