#include "core/imported_shape.h"

#include <algorithm>
#include <cctype>

#include "core/sill_frame.h"
#include "geometry/kernel/shape.h"
#include "geometry/kernel/step_file.h"
#include "geometry/mesh_check.h"
#include "geometry/mesh_file.h"

namespace sillwright::core {

using geometry::Mesh;
using geometry::MeshFault;
using geometry::Result;

geometry::FileUnit file_unit(BareUnit unit) {
    switch (unit) {
        case BareUnit::cm:
            return geometry::FileUnit::centimetre;
        case BareUnit::in:
            return geometry::FileUnit::inch;
        case BareUnit::mm:
            break;
    }
    return geometry::FileUnit::millimetre;
}

namespace {

bool is_step(const std::filesystem::path& path) {
    std::string ending = path.extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return ending == ".step" || ending == ".stp";
}

Result<Mesh> read_shape(const std::filesystem::path& path, BareUnit unit) {
    if (!is_step(path)) {
        return geometry::read_mesh(path, file_unit(unit));
    }
    return geometry::read_step(path).and_then(
        [](const geometry::Shape& shape) { return geometry::mesh_of(shape, k_step_deviation); });
}

/// Faults after which a body has no inside, or has another size: distances then mean less.
bool falls_short(MeshFault fault) {
    return fault != MeshFault::degenerate_faces;
}

const char* fault_id(MeshFault fault) {
    switch (fault) {
        case MeshFault::empty:
            return "empty";
        case MeshFault::not_closed:
            return "not closed";
        case MeshFault::not_consistently_turned:
            return "not consistently turned";
        case MeshFault::inside_out:
            return "inside out";
        case MeshFault::degenerate_faces:
            return "degenerate faces";
        case MeshFault::too_small:
            return "too small";
        case MeshFault::too_large:
            return "too large";
    }
    return "";
}

}  // namespace

Result<ImportedShape> import_shape(const Job& job, const ShapeFile& file, const std::filesystem::path& folder,
                                   const std::string& id, const std::string& what) {
    auto read = read_shape(folder / file.path, file.unit);
    if (!read) {
        return read.error();
    }
    ImportedShape shape;
    shape.mesh = SillFrame(job).sill_from_car(std::move(read).value());
    for (const geometry::MeshFinding& fault : geometry::check_mesh(shape.mesh, {})) {
        Finding finding;
        finding.id = id + "/" + fault_id(fault.kind);
        finding.title = what + ": " + fault_id(fault.kind);
        finding.stage = Stage::sections;
        finding.state = falls_short(fault.kind) ? State::falls_short : State::close;
        finding.unit = Unit::none;
        finding.at_least = false;
        finding.found = fault.number;
        finding.place.words = "in the file " + file.path;
        finding.place.on_part_mm = fault.first_mm;
        finding.why = fault.words;
        finding.formula = "count of edges or faces, or greatest extent in mm";
        finding.source = "definition of a closed, consistently turned triangle mesh";
        shape.findings.push_back(std::move(finding));
    }
    if (!SillFrame(job).placed()) {
        Finding finding;
        finding.id = id + "/place";
        finding.title = what + ": place across the car";
        finding.stage = Stage::sections;
        finding.place.words = "in the file " + file.path;
        finding.why =
            "The file's y is measured from the car's mid-plane, the job's out from a line of its own; without "
            "the distance between them it is placed as if they were the same.";
        finding.formula = "out = |y| - distance of the line where out is zero from the mid-plane";
        finding.source = "axes of the car: ISO 4130";
        finding.missing = {"the distance from the line where out is zero to the car's mid-plane (zero_to_midplane)"};
        shape.findings.push_back(std::move(finding));
    }
    const bool inside_out = std::any_of(shape.findings.begin(), shape.findings.end(), [](const Finding& finding) {
        return finding.id.ends_with(fault_id(MeshFault::inside_out));
    });
    if (inside_out) {  // Said above; inside and outside then still have their meaning for the checks.
        for (geometry::Triangle& t : shape.mesh.triangles) {
            std::swap(t[1], t[2]);
        }
    }
    shape.mesh = geometry::cleaned(shape.mesh);
    return shape;
}

}  // namespace sillwright::core
