// Mesh files that nobody should have made: each is read as a sound mesh or
// refused with words, and never does harm.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/resource.h>

#include <cmath>
#include <cstring>
#include <random>
#include <string>
#include <vector>

#include "geometry/mesh_check.h"
#include "geometry/mesh_file.h"
#include "geometry/obj.h"
#include "geometry/ply.h"
#include "geometry/stl.h"
#include "mesh_shapes.h"

namespace sillwright::geometry {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

using Reader = Result<Mesh> (*)(std::string_view, const MeshSource&);

struct Seed {
    const char* name;
    Reader reader;
    std::string bytes;
};

std::vector<Seed> seeds() {
    const Mesh mesh = box({1900, 120, 180});
    const FileUnit mm = FileUnit::millimetre;
    return {
        {"binary.stl", &mesh_from_stl, stl_binary(mesh, mm)},
        {"text.stl", &mesh_from_stl, stl_text(mesh, mm)},
        {"plain.obj", &mesh_from_obj, obj_text(mesh, mm)},
        {"rich.obj", &mesh_from_obj,
         "# remark\nv 0 0 0\nv 1e2 0 0 1\nv 100 50.5 0\nv 0 50 -1.5e1\nvt 0 0\nvn 0 0 1\nf 1/1/1 2/1/1 \\\n3//1 4\n"
         "f -1 -2 -3\n"},
        {"text.ply", &mesh_from_ply, ply_bytes(mesh, PlyKind::text, mm)},
        {"little.ply", &mesh_from_ply, ply_bytes(mesh, PlyKind::binary_little, mm)},
        {"big.ply", &mesh_from_ply, ply_bytes(mesh, PlyKind::binary_big, mm)},
        {"rich.ply", &mesh_from_ply,
         "ply\nformat ascii 1.0\nelement note 2\nproperty list uchar float many\nelement vertex 3\nproperty float x\n"
         "property float y\nproperty uchar red\nproperty float z\nelement face 1\nproperty list int int vertex_index\n"
         "property int flag\nend_header\n2 1 2\n0\n0 0 255 0\n1 0 255 0\n0 1 255 0\n3 0 1 2 7\n"},
    };
}

void expect_sound_or_refused(const Seed& seed, const std::string& bytes) {
    const auto mesh = seed.reader(bytes, {seed.name, FileUnit::millimetre});
    if (!mesh) {
        EXPECT_EQ(mesh.error().code, ErrorCode::unreadable_file);
        EXPECT_THAT(mesh.error().message, StartsWith("\"" + std::string{seed.name} + "\""));
        EXPECT_TRUE(mesh.error().message.ends_with('.')) << mesh.error().message;
        for (const char c : mesh.error().message) {
            EXPECT_TRUE(c >= ' ' && c <= '~') << mesh.error().message;
        }
        return;
    }
    EXPECT_TRUE(is_writable(mesh.value()));
    EXPECT_FALSE(mesh.value().triangles.empty());
    EXPECT_TRUE(is_writable(cleaned(mesh.value())));
    for (const MeshFinding& finding : check_mesh(mesh.value(), {})) {
        EXPECT_FALSE(finding.words.empty());
        EXPECT_TRUE(std::isfinite(finding.number));
    }
}

/// Draws from a fixed seed; plain remainders, so that every library draws alike.
class Mutator {
public:
    explicit Mutator(std::uint32_t seed) : random_{seed} {}

    std::string mutated(std::string bytes) {
        const std::size_t times = 1 + below(3);
        for (std::size_t i = 0; i < times && !bytes.empty(); ++i) {
            once(bytes);
        }
        return bytes;
    }

private:
    std::size_t below(std::size_t limit) { return random_() % limit; }

    void once(std::string& bytes) {
        const std::size_t at = below(bytes.size());
        const std::size_t length = 1 + below(std::min<std::size_t>(40, bytes.size() - at));
        switch (below(8)) {
            case 0:
                bytes.resize(at);
                break;
            case 1:
                bytes[at] = static_cast<char>(bytes[at] ^ static_cast<char>(1U << below(8)));
                break;
            case 2:
                bytes[at] = static_cast<char>(below(256));
                break;
            case 3:
                bytes.erase(at, length);
                break;
            case 4:
                bytes.insert(at, bytes.substr(at, length));
                break;
            case 5:
                bytes.replace(at, std::min(length, sizeof(double)), extreme_bits());
                break;
            case 6:
                replace_a_number(bytes, at);
                break;
            default:
                bytes.insert(at, extreme_word());
                break;
        }
    }

    /// NaN, infinity, the largest and the least numbers, in bits.
    std::string extreme_bits() {
        static const std::vector<std::string> bits{std::string(4, '\xFF'),         std::string{"\0\0\xC0\x7F", 4},
                                                   std::string{"\0\0\x80\x7F", 4}, std::string{"\xFF\xFF\xFF\x7F", 4},
                                                   std::string(8, '\xFF'),         std::string(8, '\0')};
        return bits[below(bits.size())];
    }
    std::string extreme_word() {
        static const std::vector<std::string> words{
            "nan", "inf",  "-inf", "1e39", "1e999", "-1",  "0",  "4294967295", "2147483648", "99999999999999999999",
            "1e7", "1e-9", "+",    "/",    "\\\n",  "#",   "\n", " ",          "solid ",     "end_header\n",
            "f ",  "v ",   "255",  "-128", "0x10",  "1,5", "3 ", "list",       "\r",         "element face 1\n"};
        return words[below(words.size())];
    }
    void replace_a_number(std::string& bytes, std::size_t from) {
        const std::size_t begin = bytes.find_first_of("0123456789", from);
        if (begin != std::string::npos) {
            const std::size_t end = std::min(bytes.find_first_not_of("0123456789.", begin), bytes.size());
            bytes.replace(begin, end - begin, extreme_word());
        }
    }

    std::mt19937 random_;
};

TEST(MeshFileHostile, TheSeedsThemselvesAreRead) {
    for (const Seed& seed : seeds()) {
        const auto mesh = seed.reader(seed.bytes, {seed.name, FileUnit::millimetre});
        EXPECT_TRUE(mesh) << mesh.error().message;
    }
}

TEST(MeshFileHostile, MutatedFilesAreReadSoundOrRefused) {
    std::size_t refused = 0, read = 0;
    for (const Seed& seed : seeds()) {
        Mutator mutator(7);
        for (int i = 0; i < 3000; ++i) {
            SCOPED_TRACE(seed.name + std::string{", mutation "} + std::to_string(i));
            const std::string bytes = mutator.mutated(seed.bytes);
            expect_sound_or_refused(seed, bytes);
            seed.reader(bytes, {seed.name, FileUnit::millimetre}) ? ++read : ++refused;
            if (HasFailure()) {
                return;
            }
        }
    }
    // Both ways out were really taken.
    EXPECT_GT(refused, 5000U);
    EXPECT_GT(read, 1000U);
}

TEST(MeshFileHostile, EveryTruncationIsReadSoundOrRefused) {
    for (const Seed& seed : seeds()) {
        for (std::size_t length = 0; length < seed.bytes.size(); ++length) {
            SCOPED_TRACE(seed.name + std::string{" cut to "} + std::to_string(length));
            expect_sound_or_refused(seed, seed.bytes.substr(0, length));
        }
    }
}

TEST(MeshFileHostile, EveryFileMeetsEveryReader) {
    for (const Seed& seed : seeds()) {
        for (const Seed& other : seeds()) {
            SCOPED_TRACE(seed.name + std::string{" read as "} + other.name);
            expect_sound_or_refused(other, seed.bytes);
        }
    }
}

TEST(MeshFileHostile, NoiseIsRefused) {
    std::mt19937 random(11);
    for (const Seed& seed : seeds()) {
        for (int i = 0; i < 200; ++i) {
            std::string noise(random() % 400, '\0');
            for (char& c : noise) {
                c = static_cast<char>(random());
            }
            EXPECT_FALSE(seed.reader(noise, {"noise", FileUnit::millimetre}));
        }
    }
}

struct Broken {
    const char* name;
    Reader reader;
    std::string bytes;
    std::vector<const char*> words;  ///< That the message must contain: the place, then the fault, then the cure.
};

void PrintTo(const Broken& broken, std::ostream* out) {
    *out << broken.name;
}

std::string with_count(std::uint32_t count, std::size_t triangles) {
    std::string bytes(84 + 50 * triangles, '\0');
    std::memcpy(bytes.data() + 80, &count, sizeof count);
    return bytes;
}

std::string with_float(std::size_t at, float value) {
    std::string bytes = stl_binary(box({1, 1, 1}), FileUnit::millimetre);
    std::memcpy(bytes.data() + at, &value, sizeof value);
    return bytes;
}

std::string facet(const std::string& vertices) {
    return "solid a\nfacet normal 0 0 1\nouter loop\n" + vertices + "endloop\nendfacet\nendsolid a\n";
}

std::string ply(const std::string& header, const std::string& data) {
    return "ply\nformat ascii 1.0\n" + header + "end_header\n" + data;
}

const std::string k_points = "element vertex 3\nproperty float x\nproperty float y\nproperty float z\n";
const std::string k_faces = "element face 1\nproperty list uchar int vertex_indices\n";
const std::string k_three = "0 0 0\n1 0 0\n0 1 0\n";
const std::string k_binary_ply = "ply\nformat binary_little_endian 1.0\n";

std::vector<Broken> broken_stl_files() {
    return {
        {"nothing", &mesh_from_stl, "", {"is empty", "export"}},
        {"too short for a header", &mesh_from_stl, std::string(83, 'x'), {"83 bytes", "shortest has 84"}},
        {"four thousand million triangles",
         &mesh_from_stl,
         with_count(4294967295U, 1),
         {"byte 80", "claims 4294967295 triangles", "has 134", "cut off"}},
        {"two gigabytes claimed", &mesh_from_stl, with_count(42949672U, 2), {"byte 80", "2147483684 bytes", "has 184"}},
        {"one triangle cut off", &mesh_from_stl, with_count(3, 2), {"claims 3", "234 bytes", "has 184", "cut off"}},
        {"more than it claims", &mesh_from_stl, with_count(1, 2), {"claims 1 ", "134 bytes", "has 184"}},
        {"no triangle", &mesh_from_stl, with_count(0, 0), {"holds no triangle"}},
        {"not a number in triangle 2",
         &mesh_from_stl,
         with_float(84 + 50 + 12 + 24, std::nanf("")),
         {"byte 170", "triangle 2", "not a finite number"}},
        {"an infinite coordinate", &mesh_from_stl, with_float(96, INFINITY), {"byte 96", "triangle 1", "not a finite"}},
        {"light years away", &mesh_from_stl, with_float(100, 1e20F), {"byte 96", "beyond 10 km", "check the unit"}},
        {"a text cut off",
         &mesh_from_stl,
         "solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0",
         {"line 4", "ends in the middle", "cut off"}},
        {"a text without its end", &mesh_from_stl, "solid a\n", {"line 1", "ends in the middle"}},
        {"a word for a number",
         &mesh_from_stl,
         facet("vertex 0 0 0\nvertex 1 zero 0\nvertex 0 1 0\n"),
         {"line 5", "\"zero\"", "number belongs"}},
        {"two corners", &mesh_from_stl, facet("vertex 0 0 0\nvertex 1 0 0\n"), {"line 6", "\"endloop\"", "\"vertex\""}},
        {"four corners",
         &mesh_from_stl,
         facet("vertex 0 0 0\nvertex 1 0 0\nvertex 1 1 0\nvertex 0 1 0\n"),
         {"line 7", "found \"vertex\"", "\"endloop\""}},
        {"nan in a text",
         &mesh_from_stl,
         facet("vertex 0 0 0\nvertex nan 0 0\nvertex 0 1 0\n"),
         {"line 5", "not a finite number"}},
        {"a huge number in a text",
         &mesh_from_stl,
         facet("vertex 0 0 0\nvertex 1e999 0 0\nvertex 0 1 0\n"),
         {"line 5"}},
        {"a letter",
         &mesh_from_stl,
         "solid thanks for your order, here is the invoice " + std::string(100, 'x'),
         {"ends in the middle"}},
    };
}

std::vector<Broken> broken_obj_files() {
    const std::string points = "v 0 0 0\nv 1 0 0\nv 0 1 0\n";
    return {
        {"nothing", &mesh_from_obj, "", {"is empty"}},
        {"points only", &mesh_from_obj, points, {"holds no face"}},
        {"prose", &mesh_from_obj, "Dear customer,\nthe file follows.\n", {"holds no face"}},
        {"binary", &mesh_from_obj, std::string{"v 0 0 0\0", 8}, {"byte 7", "no text"}},
        {"corner 4 of 3", &mesh_from_obj, points + "f 1 2 4\n", {"line 4", "point 4", "there are 3"}},
        {"corner 0", &mesh_from_obj, points + "f 0 1 2\n", {"line 4", "point 0"}},
        {"corner -4 of 3", &mesh_from_obj, points + "f -4 -1 -2\n", {"line 4", "point -4", "there are 3"}},
        {"corner beyond 32 bits", &mesh_from_obj, points + "f 1 2 4294967297\n", {"line 4", "point 4294967297"}},
        {"corner beyond 64 bits",
         &mesh_from_obj,
         points + "f 1 2 99999999999999999999\n",
         {"line 4", "corner belongs"}},
        {"two corners", &mesh_from_obj, points + "f 1 2\n", {"line 4", "2 corners", "needs three"}},
        {"a word for a corner", &mesh_from_obj, points + "f 1 two 3\n", {"line 4", "\"two\""}},
        {"two coordinates", &mesh_from_obj, "v 0 0\n", {"line 1", "three numbers"}},
        {"decimal comma", &mesh_from_obj, "v 0,5 0 0\n", {"line 1", "\"0,5\""}},
        {"nan", &mesh_from_obj, "v 0 0 0\nv 0 nan 0\n", {"line 2", "not a finite number"}},
        {"inf", &mesh_from_obj, "v -inf 0 0\n", {"line 1", "not a finite number"}},
        {"twenty kilometres", &mesh_from_obj, "v 0 0 2e7\n", {"line 1", "2e+07 mm", "check the unit"}},
    };
}

std::vector<Broken> broken_ply_files() {
    return {
        {"nothing", &mesh_from_ply, "", {"is empty"}},
        {"another format", &mesh_from_ply, "solid a\n", {"first line is not \"ply\"", "check the file's ending"}},
        {"header cut off", &mesh_from_ply, "ply\nformat ascii 1.0\nelement vertex 3\n", {"line 3", "\"end_header\""}},
        {"no format", &mesh_from_ply, "ply\n" + k_points + "end_header\n" + k_three, {"\"format\""}},
        {"unknown format", &mesh_from_ply, "ply\nformat packed 1.0\nend_header\n", {"line 2", "\"packed\"", "ascii"}},
        {"unknown type",
         &mesh_from_ply,
         ply("element vertex 1\nproperty half x\n", ""),
         {"line 4", "\"half\"", "float"}},
        {"list length as float",
         &mesh_from_ply,
         ply("element face 1\nproperty list float int a\n", ""),
         {"line 4", "list's length"}},
        {"property of nothing", &mesh_from_ply, ply("property float x\n", ""), {"line 3", "before any element"}},
        {"unknown statement", &mesh_from_ply, ply("elephant vertex 3\n", ""), {"line 3", "\"elephant\""}},
        {"negative count", &mesh_from_ply, ply("element vertex -3\n", ""), {"line 3", "\"-3\"", "0 or more"}},
        {"count beyond 64 bits",
         &mesh_from_ply,
         ply("element vertex 99999999999999999999\n", ""),
         {"line 3", "\"vertex\""}},
        {"two vertex elements", &mesh_from_ply, ply(k_points + k_points, ""), {"line 7", "twice"}},
        {"no z",
         &mesh_from_ply,
         ply("element vertex 1\nproperty float x\nproperty float y\n", "0 0\n"),
         {"line 3", "lack x, y or z"}},
        {"an element of nothing",
         &mesh_from_ply,
         ply("element ghost 4000000000\n" + k_points + k_faces, k_three),
         {"line 3", "\"ghost\"", "no property"}},
        {"four thousand million points",
         &mesh_from_ply,
         k_binary_ply +
             "element vertex 4000000000\nproperty float x\nproperty float y\nproperty float z\nend_header\n" +
             std::string(120, '\0'),
         {"line 3", "claims 4000000000", "12 bytes", "120 bytes are left", "cut off"}},
        {"a count that would overflow",
         &mesh_from_ply,
         k_binary_ply +
             "element vertex 9223372036854775807\nproperty double x\nproperty double y\nproperty double z\n"
             "end_header\n" +
             std::string(24, '\0'),
         {"line 3", "claims 9223372036854775807"}},
        {"two gigabytes of faces",
         &mesh_from_ply,
         ply(k_points + "element face 2000000000\nproperty list uchar int vertex_indices\n", k_three + "3 0 1 2\n"),
         {"line 7", "claims 2000000000", "8 bytes are left"}},
        {"a list longer than the file",
         &mesh_from_ply,
         k_binary_ply + "element face 1\nproperty list uint int vertex_indices\nend_header\n" + std::string(4, '\xFF'),
         {"byte", "length of the list", "longer than the file"}},
        {"a negative list length",
         &mesh_from_ply,
         ply(k_points + "element face 1\nproperty list char int vertex_indices\n", k_three + "-3 0 1 2\n"),
         {"line 13", "negative"}},
        {"binary data cut off",
         &mesh_from_ply,
         k_binary_ply + k_points + k_faces + "end_header\n" + std::string(36, '\0') + "\x03" + std::string(11, '\0'),
         {"byte", "ends in the middle"}},
        {"binary data goes on",
         &mesh_from_ply,
         k_binary_ply + k_points + k_faces + "end_header\n" + std::string(36, '\0') + "\x03" + std::string(13, '\0'),
         {"byte", "goes on after its last element"}},
        {"text goes on",
         &mesh_from_ply,
         ply(k_points + k_faces, k_three + "3 0 1 2\n3 0 1 2\n"),
         {"line 14", "goes on"}},
        {"a line too short",
         &mesh_from_ply,
         ply(k_points + k_faces, "0 0 0\n1 0\n0 1 0\n3 0 1 2\n"),
         {"line 11", "too short"}},
        {"a line too long",
         &mesh_from_ply,
         ply(k_points + k_faces, "0 0 0\n1 0 0 9\n0 1 0\n3 0 1 2\n"),
         {"line 11", "\"9\"", "line should end"}},
        {"corner 3 of 3",
         &mesh_from_ply,
         ply(k_points + k_faces, k_three + "3 0 1 3\n"),
         {"line 13", "point 3", "there are 3, counted from 0"}},
        {"half a corner", &mesh_from_ply, ply(k_points + k_faces, k_three + "3 0 1 0.5\n"), {"line 13", "point 0.5"}},
        {"two corners", &mesh_from_ply, ply(k_points + k_faces, k_three + "2 0 1\n"), {"line 13", "2 corners"}},
        {"nan",
         &mesh_from_ply,
         ply(k_points + k_faces, "0 0 0\n1 nan 0\n0 1 0\n3 0 1 2\n"),
         {"line 11", "point 2", "not a finite"}},
        {"faces without corners",
         &mesh_from_ply,
         ply(k_points + "element face 1\nproperty int flag\n", k_three + "1\n"),
         {"line 7", "vertex_indices"}},
        {"no face", &mesh_from_ply, ply(k_points, k_three), {"holds no face"}},
    };
}

class BrokenFile : public testing::TestWithParam<Broken> {};

TEST_P(BrokenFile, IsRefusedWithPlaceFaultAndCure) {
    const auto mesh = GetParam().reader(GetParam().bytes, {"door.mesh", FileUnit::millimetre});
    ASSERT_FALSE(mesh);
    EXPECT_THAT(mesh.error().message, StartsWith("\"door.mesh\""));
    for (const char* words : GetParam().words) {
        EXPECT_THAT(mesh.error().message, HasSubstr(words));
    }
}

INSTANTIATE_TEST_SUITE_P(Stl, BrokenFile, testing::ValuesIn(broken_stl_files()));
INSTANTIATE_TEST_SUITE_P(Obj, BrokenFile, testing::ValuesIn(broken_obj_files()));
INSTANTIATE_TEST_SUITE_P(Ply, BrokenFile, testing::ValuesIn(broken_ply_files()));

/// The claims are looked at before room is made for them: all the broken files
/// together take no more memory than a small program has anyway.
TEST(MeshFileHostile, ClaimsTakeNoMemory) {
    const auto peak_kb = [] {
        struct rusage usage = {};
        ::getrusage(RUSAGE_SELF, &usage);
        return usage.ru_maxrss;
    };
    const auto before = peak_kb();
    for (const auto& list : {broken_stl_files(), broken_obj_files(), broken_ply_files()}) {
        for (const Broken& broken : list) {
            EXPECT_FALSE(broken.reader(broken.bytes, {"door.mesh", FileUnit::millimetre})) << broken.name;
        }
    }
    EXPECT_LT(peak_kb() - before, 50000);
}

}  // namespace
}  // namespace sillwright::geometry
