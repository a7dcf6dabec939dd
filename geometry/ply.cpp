#include "geometry/ply.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstring>
#include <optional>
#include <utility>
#include <vector>

namespace sillwright::geometry {

static_assert(std::endian::native == std::endian::little, "\"swapped\" below means: highest byte first");

namespace {

enum class Type { int8, uint8, int16, uint16, int32, uint32, float32, float64 };

struct TypeName {
    std::string_view name;
    Type type;
};
constexpr std::array<TypeName, 16> k_type_names{{{"char", Type::int8},
                                                 {"int8", Type::int8},
                                                 {"uchar", Type::uint8},
                                                 {"uint8", Type::uint8},
                                                 {"short", Type::int16},
                                                 {"int16", Type::int16},
                                                 {"ushort", Type::uint16},
                                                 {"uint16", Type::uint16},
                                                 {"int", Type::int32},
                                                 {"int32", Type::int32},
                                                 {"uint", Type::uint32},
                                                 {"uint32", Type::uint32},
                                                 {"float", Type::float32},
                                                 {"float32", Type::float32},
                                                 {"double", Type::float64},
                                                 {"float64", Type::float64}}};

/// A text number takes a digit and a blank at the least.
constexpr std::size_t k_least_text_bytes = 2;

std::size_t size_of(Type type) {
    switch (type) {
        case Type::int8:
        case Type::uint8:
            return 1;
        case Type::int16:
        case Type::uint16:
            return 2;
        case Type::int32:
        case Type::uint32:
        case Type::float32:
            return 4;
        case Type::float64:
            break;
    }
    return 8;
}

std::optional<Type> type_named(std::string_view name) {
    const auto* found = std::find_if(k_type_names.begin(), k_type_names.end(),
                                     [name](const TypeName& known) { return known.name == name; });
    return found == k_type_names.end() ? std::nullopt : std::optional{found->type};
}

struct Property {
    std::string_view name;
    Type type;
    std::optional<Type> count;  ///< Of a list: how its length is held.
};

struct Element {
    std::string_view name;
    std::uint64_t count;
    std::size_t line;  ///< Of the header.
    std::vector<Property> properties;
};

struct Header {
    std::optional<PlyKind> kind;
    std::vector<Element> elements;
    std::size_t lines = 0;
    std::string_view data;  ///< All that follows.
};

class HeaderReader {
public:
    HeaderReader(std::string_view bytes, const MeshSource& source) : rest_{bytes}, source_{source} {}

    Result<Header> header() {
        if (next_line() != "ply") {
            return file_error(source_, "is no PLY file: its first line is not \"ply\"; check the file's ending.");
        }
        while (!rest_.empty()) {
            std::string_view words = next_line();
            const std::string_view kind = take_word(words);
            if (kind == "end_header") {
                return finished();
            }
            if (!statement(kind, words)) {
                return *error_;
            }
        }
        fail("the header has no \"end_header\"; the file was cut off: export the mesh again.");
        return *error_;
    }

private:
    std::string_view next_line() {
        ++header_.lines;
        return take_line(rest_);
    }

    bool fail(const std::string& what) {
        error_ = line_error(source_, header_.lines, what);
        return false;
    }

    Result<Header> finished() {
        if (!header_.kind) {
            fail("the header has no \"format\" line; export the mesh again.");
            return *error_;
        }
        header_.data = rest_;
        return std::move(header_);
    }

    bool statement(std::string_view kind, std::string_view words) {
        if (kind == "format") {
            return format(take_word(words));
        }
        if (kind == "element") {
            return element(words);
        }
        if (kind == "property") {
            return property(words);
        }
        if (kind == "comment" || kind == "obj_info" || kind.empty()) {
            return true;
        }
        return fail("found " + shown(kind) + " where \"element\", \"property\" or \"end_header\" belongs.");
    }

    bool format(std::string_view name) {
        if (name == "ascii") {
            header_.kind = PlyKind::text;
        } else if (name == "binary_little_endian") {
            header_.kind = PlyKind::binary_little;
        } else if (name == "binary_big_endian") {
            header_.kind = PlyKind::binary_big;
        } else {
            return fail("the format " + shown(name) +
                        " is not known; save as ascii, binary_little_endian or binary_big_endian.");
        }
        return true;
    }

    bool element(std::string_view words) {
        const std::string_view name = take_word(words);
        const std::string_view count_word = take_word(words);
        const auto count = whole_number_in(count_word);
        if (!count || *count < 0) {
            return fail("found " + shown(count_word) + " where the number of " + shown(name) +
                        " belongs; it must be 0 or more.");
        }
        for (const Element& known : header_.elements) {
            if (known.name == name) {
                return fail("the element " + shown(name) + " stands there twice; export the mesh again.");
            }
        }
        header_.elements.push_back({name, static_cast<std::uint64_t>(*count), header_.lines, {}});
        return true;
    }

    bool property(std::string_view words) {
        std::string_view type_word = take_word(words);
        std::optional<Type> count;
        if (type_word == "list") {
            const std::string_view count_word = take_word(words);
            count = type_named(count_word);
            if (!count || *count == Type::float32 || *count == Type::float64) {
                return fail(shown(count_word) + " cannot hold a list's length; use uchar or another whole number.");
            }
            type_word = take_word(words);
        }
        const auto type = type_named(type_word);
        if (!type) {
            return fail("the type " + shown(type_word) + " is not known; use float, double, int, uchar or the like.");
        }
        if (header_.elements.empty()) {
            return fail("a property stands before any element; export the mesh again.");
        }
        header_.elements.back().properties.push_back({take_word(words), *type, count});
        return true;
    }

    std::string_view rest_;
    const MeshSource& source_;
    Header header_;
    std::optional<Error> error_;
};

/// Numbers one after the other out of a text; a record is a line.
class TextData {
public:
    explicit TextData(const Header& header) : rest_{header.data}, line_{header.lines} {}

    void begin_record() {
        do {
            line_words_ = take_line(rest_);
            ++line_;
        } while (blank(line_words_) && !rest_.empty());
    }
    [[nodiscard]] std::optional<std::string> end_record() {
        const std::string_view extra = take_word(line_words_);
        return extra.empty() ? std::nullopt
                             : std::optional{"found " + shown(extra) +
                                             " where the line should end; compare the "
                                             "header's properties with the line."};
    }
    std::optional<double> number(Type /*type*/) {
        found_ = take_word(line_words_);
        return number_in(found_);
    }
    [[nodiscard]] std::string number_fault() const {
        return "found " + shown(found_) + " where a number belongs; the line is too short or damaged: export again.";
    }
    [[nodiscard]] Error error(const MeshSource& source, const std::string& what) const {
        return line_error(source, line_, what);
    }
    [[nodiscard]] std::size_t bytes_left() const { return rest_.size(); }
    [[nodiscard]] bool rest_is_blank() const { return blank(rest_); }
    static std::size_t least_bytes(Type /*type*/) { return k_least_text_bytes; }
    /// The last line may have no end.
    static constexpr std::size_t k_missing_end = 1;

private:
    static bool blank(std::string_view text) { return text.find_first_not_of(" \t\r\n\v\f") == std::string_view::npos; }

    std::string_view rest_;
    std::string_view line_words_;
    std::string_view found_;
    std::size_t line_;
};

/// Numbers one after the other out of a binary file.
class BinaryData {
public:
    BinaryData(const Header& header, std::size_t file_bytes)
        : rest_{header.data}, file_bytes_{file_bytes}, swapped_{header.kind == PlyKind::binary_big} {}

    static void begin_record() {}
    static std::optional<std::string> end_record() { return std::nullopt; }
    std::optional<double> number(Type type) {
        const std::size_t size = size_of(type);
        if (rest_.size() < size) {
            return std::nullopt;
        }
        std::array<char, sizeof(double)> bytes{};
        std::memcpy(bytes.data(), rest_.data(), size);
        rest_.remove_prefix(size);
        if (swapped_) {
            std::reverse(bytes.data(), bytes.data() + size);
        }
        return value(bytes, type);
    }
    static std::string number_fault() {
        return "the file ends in the middle of an element; it was cut off: export again.";
    }
    [[nodiscard]] Error error(const MeshSource& source, const std::string& what) const {
        return byte_error(source, file_bytes_ - rest_.size(), what);
    }
    [[nodiscard]] std::size_t bytes_left() const { return rest_.size(); }
    [[nodiscard]] bool rest_is_blank() const {
        return rest_.find_first_not_of(" \t\r\n\v\f") == std::string_view::npos;
    }
    static std::size_t least_bytes(Type type) { return size_of(type); }
    static constexpr std::size_t k_missing_end = 0;

private:
    template <class T>
    static double as(const std::array<char, sizeof(double)>& bytes) {
        T number;
        std::memcpy(&number, bytes.data(), sizeof number);
        return static_cast<double>(number);
    }
    static double value(const std::array<char, sizeof(double)>& bytes, Type type) {
        switch (type) {
            case Type::int8:
                return as<std::int8_t>(bytes);
            case Type::uint8:
                return as<std::uint8_t>(bytes);
            case Type::int16:
                return as<std::int16_t>(bytes);
            case Type::uint16:
                return as<std::uint16_t>(bytes);
            case Type::int32:
                return as<std::int32_t>(bytes);
            case Type::uint32:
                return as<std::uint32_t>(bytes);
            case Type::float32:
                return as<float>(bytes);
            case Type::float64:
                break;
        }
        return as<double>(bytes);
    }

    std::string_view rest_;
    std::size_t file_bytes_;
    bool swapped_;
};

/// Reads the elements in the header's order; `Data` is one of the two above.
template <class Data>
class DataReader {
public:
    DataReader(const Header& header, Data data, const MeshSource& source)
        : header_{header}, data_{data}, source_{source}, scale_{mm_per(source.unit)} {}

    Result<Mesh> mesh() {
        for (const Element& element : header_.elements) {
            if (!fits(element) || !records(element)) {
                return *error_;
            }
        }
        if (!data_.rest_is_blank()) {
            data_.begin_record();  // so that the error names the line that is too many
            return data_.error(source_,
                               "the file goes on after its last element; its header counts too few: export "
                               "again.");
        }
        if (mesh_.triangles.empty()) {
            return file_error(source_, "holds no face; export it as a mesh of triangles.");
        }
        return std::move(mesh_);
    }

private:
    bool fail(const std::string& what) {
        error_ = data_.error(source_, what);
        return false;
    }
    bool header_fail(const Element& element, const std::string& what) {
        error_ = line_error(source_, element.line, what);
        return false;
    }

    /// Compares what the header claims with what the file can hold, before any room is made for it.
    bool fits(const Element& element) {
        std::size_t least = 0;
        for (const Property& property : element.properties) {
            least += data_.least_bytes(property.count.value_or(property.type));
        }
        if (element.count > 0 && least == 0) {
            return header_fail(element, "the element " + shown(element.name) + " has no property; export again.");
        }
        if (element.count > 0 && element.count > (data_.bytes_left() + Data::k_missing_end) / least) {
            return header_fail(element, "claims " + std::to_string(element.count) + " of " + shown(element.name) +
                                            ", of " + std::to_string(least) + " bytes or more each, but " +
                                            std::to_string(data_.bytes_left()) +
                                            " bytes are left; the file was cut off or is damaged: export again.");
        }
        if (element.count > k_max_mesh_elements) {
            return header_fail(element, too_many(std::string{element.name}));
        }
        return true;
    }

    bool records(const Element& element) {
        if (element.name == "vertex") {
            return points(element);
        }
        if (element.name == "face") {
            return faces(element);
        }
        for (std::uint64_t i = 0; i < element.count; ++i) {
            data_.begin_record();
            for (const Property& property : element.properties) {
                if (!skip(property)) {
                    return false;
                }
            }
            if (!end_record()) {
                return false;
            }
        }
        return true;
    }

    bool end_record() {
        const auto fault = data_.end_record();
        return !fault || fail(*fault);
    }

    bool number(Type type, double& value) {
        const auto found = data_.number(type);
        if (!found) {
            return fail(data_.number_fault());
        }
        value = *found;
        return true;
    }

    bool list_length(const Property& property, std::uint64_t& length) {
        double value = 0.0;
        if (!number(*property.count, value)) {
            return false;
        }
        // Also bounds the loop over a list in a binary file: it ends where the file ends.
        if (!(value >= 0.0) || value != std::floor(value) || value > static_cast<double>(data_longest())) {
            return fail("the length of the list " + shown(property.name) +
                        " is negative, no whole number, or longer than the file; export again.");
        }
        length = static_cast<std::uint64_t>(value);
        return true;
    }
    /// No list has more numbers than the file has bytes.
    [[nodiscard]] std::size_t data_longest() const { return header_.data.size(); }

    bool skip(const Property& property) {
        std::uint64_t length = 1;
        if (property.count && !list_length(property, length)) {
            return false;
        }
        double ignored = 0.0;
        for (std::uint64_t i = 0; i < length; ++i) {
            if (!number(property.type, ignored)) {
                return false;
            }
        }
        return true;
    }

    /// Which property is this coordinate; the number of properties if none is.
    static std::size_t place_of(const Element& element, std::string_view name) {
        const auto found =
            std::find_if(element.properties.begin(), element.properties.end(),
                         [name](const Property& property) { return property.name == name && !property.count; });
        return static_cast<std::size_t>(found - element.properties.begin());
    }

    bool points(const Element& element) {
        const std::array<std::size_t, 3> places{place_of(element, "x"), place_of(element, "y"), place_of(element, "z")};
        if (*std::max_element(places.begin(), places.end()) == element.properties.size()) {
            return header_fail(element, "the points lack x, y or z; export the mesh again.");
        }
        mesh_.points.reserve(element.count);
        for (std::uint64_t i = 0; i < element.count; ++i) {
            if (!point(element, places)) {
                return false;
            }
        }
        return true;
    }

    bool point(const Element& element, const std::array<std::size_t, 3>& places) {
        Eigen::Vector3d p = Eigen::Vector3d::Zero();
        data_.begin_record();
        for (std::size_t k = 0; k < element.properties.size(); ++k) {
            const Property& property = element.properties[k];
            const auto* place = std::find(places.begin(), places.end(), k);
            if (place == places.end() ? !skip(property) : !number(property.type, p[place - places.begin()])) {
                return false;
            }
        }
        p *= scale_;
        if (const auto fault = point_fault(p)) {
            return fail("point " + std::to_string(mesh_.points.size() + 1) + ": " + *fault);
        }
        mesh_.points.push_back(p);
        return end_record();
    }

    static bool is_corner_list(const Property& property) {
        return property.count && (property.name == "vertex_indices" || property.name == "vertex_index");
    }

    bool faces(const Element& element) {
        if (std::count_if(element.properties.begin(), element.properties.end(), is_corner_list) != 1) {
            return header_fail(element, "the faces need one list \"vertex_indices\"; export the mesh again.");
        }
        const auto vertex = std::find_if(header_.elements.begin(), header_.elements.end(),
                                         [](const Element& other) { return other.name == "vertex"; });
        point_count_ = vertex == header_.elements.end() ? 0 : vertex->count;
        mesh_.triangles.reserve(element.count);
        for (std::uint64_t i = 0; i < element.count; ++i) {
            data_.begin_record();
            for (const Property& property : element.properties) {
                if (is_corner_list(property) ? !face(property) : !skip(property)) {
                    return false;
                }
            }
            if (!end_record()) {
                return false;
            }
        }
        return true;
    }

    bool corner(Type type, std::int32_t& index) {
        double value = 0.0;
        if (!number(type, value)) {
            return false;
        }
        if (!(value >= 0.0) || value != std::floor(value) || value >= static_cast<double>(point_count_)) {
            std::string words = "a face names point ";
            append_number(words, value);
            return fail(words + ", but there are " + std::to_string(point_count_) + ", counted from 0; export again.");
        }
        index = static_cast<std::int32_t>(value);
        return true;
    }

    bool face(const Property& property) {
        std::uint64_t length = 0;
        if (!list_length(property, length)) {
            return false;
        }
        if (length < 3) {
            return fail("a face has " + std::to_string(length) + " corners and needs three; export again.");
        }
        Triangle t{};
        for (std::uint64_t k = 0; k < length; ++k) {
            if (!corner(property.type, t[std::min<std::size_t>(k, 2)])) {
                return false;
            }
            if (k < 2) {
                continue;
            }
            if (mesh_.triangles.size() == k_max_mesh_elements) {
                return fail(too_many("triangles"));
            }
            mesh_.triangles.push_back(t);
            t[1] = t[2];
        }
        return true;
    }

    const Header& header_;
    Data data_;
    const MeshSource& source_;
    double scale_;
    std::uint64_t point_count_ = 0;
    Mesh mesh_;
    std::optional<Error> error_;
};

template <class T>
void append_binary(std::string& bytes, T number, bool swapped) {
    auto raw = std::bit_cast<std::array<char, sizeof(T)>>(number);
    if (swapped) {
        std::reverse(raw.begin(), raw.end());
    }
    bytes.append(raw.data(), raw.size());
}

std::string header_text(const Mesh& mesh, PlyKind kind) {
    const char* format = kind == PlyKind::text            ? "ascii"
                         : kind == PlyKind::binary_little ? "binary_little_endian"
                                                          : "binary_big_endian";
    return std::string{"ply\nformat "} + format + " 1.0\ncomment Sillwright mesh\nelement vertex " +
           std::to_string(mesh.points.size()) +
           "\nproperty double x\nproperty double y\nproperty double z\nelement face " +
           std::to_string(mesh.triangles.size()) + "\nproperty list uchar int vertex_indices\nend_header\n";
}

void append_text(std::string& text, const Mesh& mesh, double scale) {
    for (const Eigen::Vector3d& p : mesh.points) {
        for (int k = 0; k < 3; ++k) {
            append_number(text, p[k] / scale);
            text += k < 2 ? ' ' : '\n';
        }
    }
    for (const Triangle& t : mesh.triangles) {
        text += '3';
        for (const std::int32_t index : t) {
            text += ' ';
            append_number(text, std::int64_t{index});
        }
        text += '\n';
    }
}

}  // namespace

Result<Mesh> mesh_from_ply(std::string_view bytes, const MeshSource& source) {
    if (bytes.empty()) {
        return file_error(source, "is empty; export the mesh again.");
    }
    const auto header = HeaderReader{bytes, source}.header();
    if (!header) {
        return header.error();
    }
    if (header.value().kind == PlyKind::text) {
        return DataReader{header.value(), TextData{header.value()}, source}.mesh();
    }
    return DataReader{header.value(), BinaryData{header.value(), bytes.size()}, source}.mesh();
}

std::string ply_bytes(const Mesh& mesh, PlyKind kind, FileUnit unit) {
    std::string bytes = header_text(mesh, kind);
    const double scale = mm_per(unit);
    if (kind == PlyKind::text) {
        append_text(bytes, mesh, scale);
        return bytes;
    }
    const bool swapped = kind == PlyKind::binary_big;
    for (const Eigen::Vector3d& p : mesh.points) {
        for (int k = 0; k < 3; ++k) {
            append_binary(bytes, p[k] / scale, swapped);
        }
    }
    for (const Triangle& t : mesh.triangles) {
        append_binary(bytes, std::uint8_t{3}, swapped);
        for (const std::int32_t index : t) {
            append_binary(bytes, index, swapped);
        }
    }
    return bytes;
}

}  // namespace sillwright::geometry
