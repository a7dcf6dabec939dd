#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "geometry/mesh.h"
#include "geometry/mesh_source.h"
#include "geometry/result.h"

namespace sillwright::core {

/// A mesh or STEP file of a job, in the job's own frame.
struct ImportedShape {
    geometry::Mesh mesh;            ///< (along, out, up), millimetres; degenerate faces left out.
    std::vector<Finding> findings;  ///< One for each thing that is wrong with it.
};

/// Reads `file`, which lies in `folder`. `id` begins the findings' ids and `what`
/// names the shape in words.
/// Errors: unreadable_file with the file, the place in it and the cure.
geometry::Result<ImportedShape> import_shape(const Job& job, const ShapeFile& file, const std::filesystem::path& folder,
                                             const std::string& id, const std::string& what);

/// The unit of a file's numbers, as geometry names it.
geometry::FileUnit file_unit(BareUnit unit);

/// Deviation of the mesh that a STEP file is turned into.
constexpr geometry::Length k_step_deviation = geometry::millimetres(0.05);

}  // namespace sillwright::core
