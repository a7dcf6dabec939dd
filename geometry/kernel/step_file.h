#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "geometry/kernel/shape.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// A shape and what it is called in a file.
struct NamedShape {
    std::string name;
    Shape shape;
};

/// Writes shapes to a STEP file (ISO 10303-21, AP214) in millimetres, as a temporary
/// file beside `path` that then takes its place: on any failure what stood at
/// `path` before is untouched.
/// Errors: invalid_argument if there is no shape; unreadable_file if the folder cannot
///   be written to; kernel_failure if the kernel refuses, naming the shape.
Status write_step(const std::filesystem::path& path, const std::vector<NamedShape>& shapes);

/// The same as the bytes of the file.
Result<std::string> step_text(const std::vector<NamedShape>& shapes);

/// All shapes of a STEP file as one, in millimetres whatever the file's unit.
/// Errors: unreadable_file if it is missing, cut short, no STEP file, or has no shape
///   in it; kernel_failure if the kernel gives up.
Result<Shape> read_step(const std::filesystem::path& path);

}  // namespace sillwright::geometry
