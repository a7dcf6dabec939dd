#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "geometry/mesh.h"
#include "geometry/result.h"

// What the readers and writers of the mesh formats share: the file's name and
// unit, its limits, its words and numbers, and errors that say where.

namespace sillwright::geometry {

/// What a bare number in a mesh file means; the formats themselves do not say.
enum class FileUnit { millimetre, centimetre, inch };
double mm_per(FileUnit unit);

/// The file's name as the person knows it, and its unit.
struct MeshSource {
    std::string name;
    FileUnit unit = FileUnit::millimetre;
};

/// Ten kilometres: far beyond any vehicle, and where single precision steps
/// by a whole millimetre.
constexpr double k_max_coordinate_mm = 1e7;
/// Points or triangles of one mesh; about 1 GB of memory, and well inside the
/// 32-bit index.
constexpr std::size_t k_max_mesh_elements = 20'000'000;

Error file_error(const MeshSource& source, const std::string& what);
Error line_error(const MeshSource& source, std::size_t line, const std::string& what);
Error byte_error(const MeshSource& source, std::size_t byte, const std::string& what);

/// What is wrong with a point, and the cure; nothing if it is finite and
/// within k_max_coordinate_mm.
std::optional<std::string> point_fault(const Eigen::Vector3d& p_mm);
/// "has more than ... points", and the cure.
std::string too_many(const std::string& things);

/// A word of the file as it can be shown in a message: quoted, shortened, with
/// "?" for what cannot be printed.
std::string shown(std::string_view word);

/// Takes the next word off the front of `text`, white space before it too;
/// empty if none is left.
std::string_view take_word(std::string_view& text);
/// Takes the next line off the front of `text`, without its end.
std::string_view take_line(std::string_view& text);

/// The number that the whole of `word` is, in any locale; infinite if it is
/// too large for a double. Nothing if it is no number.
std::optional<double> number_in(std::string_view word);
std::optional<std::int64_t> whole_number_in(std::string_view word);

/// The shortest digits that read back as the same number.
void append_number(std::string& text, double number);
void append_number(std::string& text, std::int64_t number);

}  // namespace sillwright::geometry
