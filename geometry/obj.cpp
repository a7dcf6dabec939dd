#include "geometry/obj.h"

#include <algorithm>
#include <optional>
#include <utility>

namespace sillwright::geometry {

namespace {

constexpr const char* k_again = "; export the mesh again.";

/// Takes words off one line and the lines joined to it.
class ObjReader {
public:
    ObjReader(std::string_view bytes, const MeshSource& source) : rest_{bytes}, source_{source} {}

    Result<Mesh> mesh() {
        while (!rest_.empty()) {
            take_whole_line();
            const std::string_view kind = word();
            if ((kind == "v" && !point()) || (kind == "f" && !face())) {
                return *error_;
            }
        }
        if (highest_ >= static_cast<std::int64_t>(mesh_.points.size())) {
            line_ = highest_line_;
            fail(no_point(highest_ + 1));
            return *error_;
        }
        if (mesh_.triangles.empty()) {
            return file_error(source_, "holds no face (no line begins with \"f\")" + std::string{k_again});
        }
        return std::move(mesh_);
    }

private:
    void take_whole_line() {
        line_ = next_line_;
        const char* const begin = rest_.data();
        std::string_view part = take_line(rest_);
        ++next_line_;
        // A remark may end in a backslash of its own, as a path does.
        const bool remark = part.starts_with('#');
        while (!remark && part.ends_with('\\') && !rest_.empty()) {
            part = take_line(rest_);
            ++next_line_;
        }
        words_ = {begin, static_cast<std::size_t>(part.data() + part.size() - begin)};
    }

    std::string_view word() {
        std::string_view found = take_word(words_);
        while (found == "\\") {
            found = take_word(words_);
        }
        if (found.ends_with('\\')) {
            found.remove_suffix(1);  // joined to the next line without a blank between
        }
        return found.starts_with('#') ? std::string_view{} : found;
    }

    bool fail(const std::string& what) {
        error_ = line_error(source_, line_, what);
        return false;
    }

    bool point() {
        Eigen::Vector3d p;
        for (int k = 0; k < 3; ++k) {
            const std::string_view found = word();
            const auto number = number_in(found);
            if (!number) {
                return fail("found " + shown(found) + " where one of a point's three numbers belongs" + k_again);
            }
            p[k] = mm_per(source_.unit) * *number;
        }
        if (const auto fault = point_fault(p)) {
            return fail(*fault);
        }
        if (mesh_.points.size() == k_max_mesh_elements) {
            return fail(too_many("points"));
        }
        mesh_.points.push_back(p);
        return true;
    }

    std::string no_point(std::int64_t number) const {
        return "a face names point " + std::to_string(number) + ", but there are " +
               std::to_string(mesh_.points.size()) + k_again;
    }

    /// The corner that a word like 7/2/5 names; its texture and normal are not looked at.
    bool corner(std::string_view found, std::int32_t& index) {
        const auto number = whole_number_in(found.substr(0, found.find('/')));
        if (!number) {
            return fail("found " + shown(found) + " where a face's corner belongs" + k_again);
        }
        const auto count = static_cast<std::int64_t>(mesh_.points.size());
        if (*number == 0 || *number < -count || *number > static_cast<std::int64_t>(k_max_mesh_elements)) {
            return fail(no_point(*number));
        }
        // A point may stand below the face that names it, so the rest is seen at the end.
        const std::int64_t from_zero = *number > 0 ? *number - 1 : count + *number;
        if (from_zero > highest_) {
            highest_ = from_zero;
            highest_line_ = line_;
        }
        index = static_cast<std::int32_t>(from_zero);
        return true;
    }

    bool face() {
        Triangle t{};
        std::size_t corners = 0;
        for (std::string_view found = word(); !found.empty(); found = word(), ++corners) {
            std::int32_t index = 0;
            if (!corner(found, index)) {
                return false;
            }
            t[std::min<std::size_t>(corners, 2)] = index;
            if (corners < 2) {
                continue;
            }
            if (mesh_.triangles.size() == k_max_mesh_elements) {
                return fail(too_many("triangles"));
            }
            mesh_.triangles.push_back(t);
            t[1] = t[2];
        }
        return corners >= 3 || fail("a face has " + std::to_string(corners) + " corners and needs three" + k_again);
    }

    std::string_view rest_;
    std::string_view words_;
    std::size_t line_ = 1;
    std::size_t next_line_ = 1;
    const MeshSource& source_;
    Mesh mesh_;
    std::int64_t highest_ = -1;  ///< The highest point that a face has named so far,
    std::size_t highest_line_ = 0;
    std::optional<Error> error_;
};

}  // namespace

Result<Mesh> mesh_from_obj(std::string_view bytes, const MeshSource& source) {
    if (bytes.empty()) {
        return file_error(source, "is empty" + std::string{k_again});
    }
    if (const std::size_t zero = bytes.find('\0'); zero != std::string_view::npos) {
        return byte_error(source, zero, "a zero byte: this is no text, so no OBJ; check the file's ending.");
    }
    return ObjReader{bytes, source}.mesh();
}

std::string obj_text(const Mesh& mesh, FileUnit unit) {
    std::string text = "# Sillwright mesh\n";
    for (const Eigen::Vector3d& p : mesh.points) {
        text += 'v';
        for (int k = 0; k < 3; ++k) {
            text += ' ';
            append_number(text, p[k] / mm_per(unit));
        }
        text += '\n';
    }
    for (const Triangle& t : mesh.triangles) {
        text += 'f';
        for (const std::int32_t index : t) {
            text += ' ';
            append_number(text, std::int64_t{index} + 1);
        }
        text += '\n';
    }
    return text;
}

}  // namespace sillwright::geometry
