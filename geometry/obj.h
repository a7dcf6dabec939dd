#pragma once

#include <string>
#include <string_view>

#include "geometry/mesh.h"
#include "geometry/mesh_source.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// The mesh in an OBJ file: its `v` and `f` lines, all others are passed over.
///
/// Shape: points as they stand in the file, not welded. A face's corners may
///   be a, a/b, a//c or a/b/c, counted from 1, or backward from the last point
///   if negative; a face of more corners becomes a fan from its first. A
///   backslash at a line's end joins it to the next.
/// Errors: unreadable_file with the line, for a word that should be a number,
///   a coordinate that is not finite or beyond k_max_coordinate_mm, a corner
///   that names no point, fewer than three corners, no face at all, or
///   something that is no text.
Result<Mesh> mesh_from_obj(std::string_view bytes, const MeshSource& source);

/// Every digit kept. Precondition: is_writable(mesh), see mesh_file.h.
std::string obj_text(const Mesh& mesh, FileUnit unit);

}  // namespace sillwright::geometry
