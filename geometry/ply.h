#pragma once

#include <string>
#include <string_view>

#include "geometry/mesh.h"
#include "geometry/mesh_source.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// How a PLY file holds its numbers.
enum class PlyKind { text, binary_little, binary_big };

/// The mesh in a PLY file: x, y, z of its `vertex` element and the list
/// `vertex_indices` (or `vertex_index`) of its `face` element. Other elements
/// and properties, lists too, are passed over by their declared sizes.
///
/// Shape: points as they stand in the file, not welded; a face of more than
///   three corners becomes a fan from its first.
/// Errors: unreadable_file with line or byte, for a header that makes no sense
///   or claims more than the file holds (seen before any room is made for it),
///   a coordinate that is not finite or beyond k_max_coordinate_mm, a corner
///   that names no point, a face of fewer than three, no face at all, or a
///   file that ends early or goes on after its end.
/// Source: the format's published description (header of element and property
///   lines; the data follow in the header's order).
Result<Mesh> mesh_from_ply(std::string_view bytes, const MeshSource& source);

/// Double precision in every kind. Precondition: is_writable(mesh), see mesh_file.h.
std::string ply_bytes(const Mesh& mesh, PlyKind kind, FileUnit unit);

}  // namespace sillwright::geometry
