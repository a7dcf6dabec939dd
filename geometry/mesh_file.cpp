#include "geometry/mesh_file.h"

#include <algorithm>
#include <cctype>

#include "geometry/file_text.h"
#include "geometry/obj.h"
#include "geometry/ply.h"
#include "geometry/stl.h"

namespace sillwright::geometry {

namespace {

std::string lower_ending(const std::filesystem::path& path) {
    std::string ending = path.extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return ending;
}

using Reader = Result<Mesh> (*)(std::string_view, const MeshSource&);

/// Null if the ending is none of ours.
Reader reader_for(const std::string& ending) {
    if (ending == ".stl") {
        return &mesh_from_stl;
    }
    if (ending == ".obj") {
        return &mesh_from_obj;
    }
    return ending == ".ply" ? &mesh_from_ply : nullptr;
}

}  // namespace

Result<Mesh> read_mesh(const std::filesystem::path& path, FileUnit unit) {
    const MeshSource source{path.string(), unit};
    const Reader reader = reader_for(lower_ending(path));
    if (reader == nullptr) {
        return file_error(source, "the name ends in none of .stl, .obj and .ply; save the mesh as one of these.");
    }
    const auto bytes = read_file(path, k_max_mesh_file_bytes);
    return bytes ? reader(bytes.value(), source) : Result<Mesh>{bytes.error()};
}

bool is_writable(const Mesh& mesh) {
    const auto count = static_cast<std::int64_t>(mesh.points.size());
    return std::none_of(mesh.points.begin(), mesh.points.end(),
                        [](const Eigen::Vector3d& p) { return point_fault(p).has_value(); }) &&
           std::all_of(mesh.triangles.begin(), mesh.triangles.end(), [count](const Triangle& t) {
               return std::all_of(t.begin(), t.end(), [count](std::int32_t i) { return i >= 0 && i < count; });
           });
}

Result<std::string> mesh_bytes(const Mesh& mesh, MeshFormat format, FileUnit unit) {
    if (!is_writable(mesh)) {
        return Error{ErrorCode::invalid_argument,
                     "The mesh has a point that is not finite or beyond 10 km, or a triangle without a point; it "
                     "cannot be written."};
    }
    switch (format) {
        case MeshFormat::stl_binary:
            return stl_binary(mesh, unit);
        case MeshFormat::stl_text:
            return stl_text(mesh, unit);
        case MeshFormat::obj:
            return obj_text(mesh, unit);
        case MeshFormat::ply_binary:
            return ply_bytes(mesh, PlyKind::binary_little, unit);
        case MeshFormat::ply_text:
            break;
    }
    return ply_bytes(mesh, PlyKind::text, unit);
}

Status write_mesh(const Mesh& mesh, const std::filesystem::path& path, MeshFormat format, FileUnit unit) {
    const auto bytes = mesh_bytes(mesh, format, unit);
    return bytes ? write_file(path, bytes.value()) : Status{bytes.error()};
}

}  // namespace sillwright::geometry
