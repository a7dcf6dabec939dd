#pragma once

#include <cstdint>
#include <filesystem>
#include <string>

#include "geometry/mesh.h"
#include "geometry/mesh_source.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// Largest mesh file that is read: ten million triangles of binary STL.
constexpr std::uintmax_t k_max_mesh_file_bytes = std::uintmax_t{512} << 20U;

enum class MeshFormat { stl_binary, stl_text, obj, ply_binary, ply_text };

/// Reads a mesh; its format is known by the file's ending (.stl, .obj, .ply in
/// any case), and within it by its content.
///
/// Units and frame: `unit` is what the file's numbers mean; the result is in
///   millimetres, in the file's own frame.
/// Shape: every index is valid and every coordinate finite. Nothing else is
///   promised: the mesh may be open, inside out or of the wrong size; see
///   mesh_check.h.
/// Errors: unreadable_file with file, line or byte, and the cure; see stl.h,
///   obj.h and ply.h.
Result<Mesh> read_mesh(const std::filesystem::path& path, FileUnit unit);

/// True if every coordinate is finite and within k_max_coordinate_mm and every
/// triangle names three points of the mesh.
bool is_writable(const Mesh& mesh);

/// The content of a file of the mesh, its numbers in `unit`.
/// Accuracy: every digit is kept, except in binary STL, which holds single
///   precision, and except for the division by the unit (one rounding).
/// Errors: invalid_argument if the mesh is not writable.
Result<std::string> mesh_bytes(const Mesh& mesh, MeshFormat format, FileUnit unit);

/// Writes such a file, whole or not at all; see write_file.
Status write_mesh(const Mesh& mesh, const std::filesystem::path& path, MeshFormat format, FileUnit unit);

}  // namespace sillwright::geometry
