#include "geometry/stl.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <bit>
#include <cctype>
#include <cstring>
#include <optional>
#include <utility>

#include "geometry/point_weld.h"

namespace sillwright::geometry {

static_assert(std::endian::native == std::endian::little, "the binary reader copies numbers as they lie");

namespace {

constexpr std::size_t k_header_bytes = 80;
constexpr std::size_t k_start_bytes = k_header_bytes + sizeof(std::uint32_t);
constexpr std::size_t k_normal_bytes = 3 * sizeof(float);
constexpr std::size_t k_point_bytes = 3 * sizeof(float);
/// Normal, three corners, and two bytes that nobody agrees about.
constexpr std::size_t k_triangle_bytes = k_normal_bytes + 3 * k_point_bytes + 2;

/// How far into a file we look for the words of an STL text.
constexpr std::size_t k_look_bytes = 1024;

/// True if `word` is `wanted` in capitals or not. `wanted` is in small letters.
bool is_word(std::string_view word, std::string_view wanted) {
    return std::equal(word.begin(), word.end(), wanted.begin(), wanted.end(),
                      [](unsigned char c, char w) { return std::tolower(c) == w; });
}

std::uint32_t claimed_triangles(std::string_view bytes) {
    std::uint32_t count = 0;
    std::memcpy(&count, bytes.data() + k_header_bytes, sizeof count);
    return count;
}

std::size_t binary_bytes(std::uint32_t triangles) {
    return k_start_bytes + k_triangle_bytes * static_cast<std::size_t>(triangles);
}

/// A text never passes for a binary file of the right size: four printing
/// characters read as a count are over 500 million triangles.
bool looks_like_text(std::string_view bytes) {
    if (bytes.size() >= k_start_bytes && binary_bytes(claimed_triangles(bytes)) == bytes.size()) {
        return false;
    }
    std::string_view look = bytes.substr(0, k_look_bytes);
    if (look.find('\0') != std::string_view::npos) {
        return false;
    }
    return is_word(take_word(look), "solid");
}

Eigen::Vector3d binary_point(const char* at, double scale) {
    std::array<float, 3> xyz{};
    std::memcpy(xyz.data(), at, k_point_bytes);
    return scale * Eigen::Vector3f{xyz[0], xyz[1], xyz[2]}.cast<double>();
}

std::optional<Error> size_fault(std::string_view bytes, const MeshSource& source) {
    if (bytes.size() < k_start_bytes) {
        return file_error(source, "is no STL file, or ends early: " + std::to_string(bytes.size()) +
                                      " bytes, and the shortest has 84; export the mesh again.");
    }
    const std::uint32_t count = claimed_triangles(bytes);
    if (binary_bytes(count) != bytes.size()) {
        return byte_error(source, k_header_bytes,
                          "claims " + std::to_string(count) + " triangles, which take " +
                              std::to_string(binary_bytes(count)) + " bytes, but the file has " +
                              std::to_string(bytes.size()) + "; it was cut off or is no STL: export the mesh again.");
    }
    if (count > k_max_mesh_elements) {
        return byte_error(source, k_header_bytes, too_many("triangles"));
    }
    return std::nullopt;
}

Result<Mesh> binary_mesh(std::string_view bytes, const MeshSource& source) {
    if (auto fault = size_fault(bytes, source)) {
        return *fault;
    }
    const std::size_t count = claimed_triangles(bytes);
    const double scale = mm_per(source.unit);
    Mesh mesh;
    mesh.triangles.resize(count);
    PointWeld weld(count / 2 + 4);  // a closed mesh has about half as many points as triangles
    for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t k = 0; k < 3; ++k) {
            const std::size_t byte = binary_bytes(static_cast<std::uint32_t>(i)) + k_normal_bytes + k * k_point_bytes;
            const Eigen::Vector3d p = binary_point(bytes.data() + byte, scale);
            if (const auto fault = point_fault(p)) {
                return byte_error(source, byte, "triangle " + std::to_string(i + 1) + ": " + *fault);
            }
            mesh.triangles[i][k] = weld.number_of(p);
        }
    }
    mesh.points = weld.take_points();
    return mesh;
}

/// Word after word of an STL text, with the line that each stands on.
class TextReader {
public:
    TextReader(std::string_view bytes, const MeshSource& source) : rest_{bytes}, source_{source}, weld_{0} {}

    Result<Mesh> mesh() {
        while (!at_end()) {
            if (!expect("solid") || !solid()) {
                return *error_;
            }
        }
        mesh_.points = weld_.take_points();
        return std::move(mesh_);
    }

private:
    /// True if only white space is left.
    bool at_end() {
        while (line_words_.find_first_not_of(" \t\r\v\f") == std::string_view::npos) {
            if (rest_.empty()) {
                return true;
            }
            line_words_ = take_line(rest_);
            ++line_;
        }
        return false;
    }

    bool fail(const std::string& what) {
        error_ = line_error(source_, line_, what);
        return false;
    }

    std::optional<std::string_view> word() {
        if (at_end()) {
            fail("the file ends in the middle; it was cut off: export the mesh again.");
            return std::nullopt;
        }
        return take_word(line_words_);
    }

    bool expect(std::string_view wanted) {
        const auto found = word();
        if (found && !is_word(*found, wanted)) {
            return fail("found " + shown(*found) + " where \"" + std::string{wanted} +
                        "\" belongs; export the mesh again.");
        }
        return found.has_value();
    }

    bool solid() {
        line_words_ = {};  // its name
        while (const auto found = word()) {
            if (is_word(*found, "endsolid")) {
                line_words_ = {};
                return true;
            }
            if (!is_word(*found, "facet")) {
                return fail("found " + shown(*found) +
                            " where \"facet\" or \"endsolid\" belongs; export the mesh again.");
            }
            if (!facet()) {
                return false;
            }
        }
        return false;
    }

    bool facet() {
        // The normal is not used, and some files have "nan" there.
        if (!expect("normal") || !word() || !word() || !word() || !expect("outer") || !expect("loop")) {
            return false;
        }
        Triangle t{};
        for (std::int32_t& index : t) {
            if (!vertex(index)) {
                return false;
            }
        }
        if (mesh_.triangles.size() == k_max_mesh_elements) {
            return fail(too_many("triangles"));
        }
        mesh_.triangles.push_back(t);
        return expect("endloop") && expect("endfacet");
    }

    bool vertex(std::int32_t& index) {
        if (!expect("vertex")) {
            return false;
        }
        Eigen::Vector3d p;
        for (int k = 0; k < 3; ++k) {
            const auto found = word();
            if (!found) {
                return false;
            }
            const auto number = number_in(*found);
            if (!number) {
                return fail("found " + shown(*found) + " where a number belongs; export the mesh again.");
            }
            p[k] = mm_per(source_.unit) * *number;
        }
        if (const auto fault = point_fault(p)) {
            return fail(*fault);
        }
        index = weld_.number_of(p);
        return true;
    }

    std::string_view rest_;
    std::string_view line_words_;
    std::size_t line_ = 0;
    const MeshSource& source_;
    PointWeld weld_;
    Mesh mesh_;
    std::optional<Error> error_;
};

Eigen::Vector3d normal(const Mesh& mesh, const Triangle& t) {
    const auto& a = mesh.points[static_cast<std::size_t>(t[0])];
    const auto& b = mesh.points[static_cast<std::size_t>(t[1])];
    const auto& c = mesh.points[static_cast<std::size_t>(t[2])];
    const Eigen::Vector3d n = (b - a).cross(c - a);
    const double size = n.norm();
    return size > 0.0 ? Eigen::Vector3d{n / size} : Eigen::Vector3d::Zero();
}

void append_bytes(std::string& bytes, const Eigen::Vector3f& v) {
    bytes.append(std::bit_cast<std::array<char, k_point_bytes>>(std::array<float, 3>{v.x(), v.y(), v.z()}).data(),
                 k_point_bytes);
}

void append_words(std::string& text, const char* before, const Eigen::Vector3d& v) {
    text += before;
    for (int k = 0; k < 3; ++k) {
        text += ' ';
        append_number(text, v[k]);
    }
    text += '\n';
}

}  // namespace

Result<Mesh> mesh_from_stl(std::string_view bytes, const MeshSource& source) {
    if (bytes.empty()) {
        return file_error(source, "is empty; export the mesh again.");
    }
    auto mesh = looks_like_text(bytes) ? TextReader{bytes, source}.mesh() : binary_mesh(bytes, source);
    if (mesh && mesh.value().triangles.empty()) {
        return file_error(source, "holds no triangle; export the mesh again.");
    }
    return mesh;
}

std::string stl_binary(const Mesh& mesh, FileUnit unit) {
    std::string bytes = "Sillwright mesh";  // must not begin with "solid"
    bytes.resize(k_start_bytes);
    bytes.reserve(k_start_bytes + k_triangle_bytes * mesh.triangles.size());
    std::uint32_t count = 0;
    for (const Triangle& t : mesh.triangles) {
        std::array<Eigen::Vector3f, 3> corners;
        for (std::size_t k = 0; k < 3; ++k) {
            corners[k] = (mesh.points[static_cast<std::size_t>(t[k])] / mm_per(unit)).cast<float>();
        }
        if (corners[0] == corners[1] || corners[1] == corners[2] || corners[2] == corners[0]) {
            continue;
        }
        append_bytes(bytes, normal(mesh, t).cast<float>());
        for (const Eigen::Vector3f& corner : corners) {
            append_bytes(bytes, corner);
        }
        bytes.append(2, '\0');
        ++count;
    }
    std::memcpy(bytes.data() + k_header_bytes, &count, sizeof count);
    return bytes;
}

std::string stl_text(const Mesh& mesh, FileUnit unit) {
    std::string text = "solid mesh\n";
    for (const Triangle& t : mesh.triangles) {
        append_words(text, "facet normal", normal(mesh, t));
        text += "outer loop\n";
        for (const std::int32_t index : t) {
            append_words(text, "vertex", mesh.points[static_cast<std::size_t>(index)] / mm_per(unit));
        }
        text += "endloop\nendfacet\n";
    }
    return text + "endsolid mesh\n";
}

}  // namespace sillwright::geometry
