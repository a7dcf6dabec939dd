#include "geometry/mesh_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <stdlib.h>

#include <limits>

#include "geometry/file_text.h"
#include "mesh_shapes.h"

namespace sillwright::geometry {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

class MeshFile : public testing::Test {
protected:
    void SetUp() override {
        std::string name = (fs::temp_directory_path() / "sillwright_mesh_file_XXXXXX").string();
        ASSERT_NE(::mkdtemp(name.data()), nullptr);
        folder_ = name;
    }
    void TearDown() override { fs::remove_all(folder_); }

    fs::path folder_;
};

struct Case {
    const char* name;
    MeshFormat format;
};

TEST_F(MeshFile, WhatIsWrittenIsRead) {
    const Mesh mesh = box({1900, 120, 180});
    for (const Case& c :
         {Case{"a.stl", MeshFormat::stl_binary}, Case{"b.STL", MeshFormat::stl_text}, Case{"c.obj", MeshFormat::obj},
          Case{"d.ply", MeshFormat::ply_binary}, Case{"e.Ply", MeshFormat::ply_text}}) {
        SCOPED_TRACE(c.name);
        for (const FileUnit unit : {FileUnit::millimetre, FileUnit::centimetre, FileUnit::inch}) {
            ASSERT_TRUE(write_mesh(mesh, folder_ / c.name, c.format, unit));
            const auto back = read_mesh(folder_ / c.name, unit);
            ASSERT_TRUE(back) << back.error().message;
            EXPECT_EQ(open_edge_count(back.value()), 0U);
            // Single precision, 2^-24 on each of three factors; 2^-22 leaves room for the product.
            EXPECT_NEAR(volume_mm3(back.value()), 1900.0 * 120 * 180, 1900.0 * 120 * 180 * std::ldexp(1.0, -22));
        }
    }
}

TEST_F(MeshFile, TheUnitIsTheReaders) {
    ASSERT_TRUE(write_mesh(box({10, 10, 10}), folder_ / "a.obj", MeshFormat::obj, FileUnit::millimetre));
    EXPECT_DOUBLE_EQ(volume_mm3(read_mesh(folder_ / "a.obj", FileUnit::centimetre).value()), 1e6);
}

TEST_F(MeshFile, SaysWhichEndingsItKnows) {
    const auto mesh = read_mesh(folder_ / "a.txt", FileUnit::millimetre);
    ASSERT_FALSE(mesh);
    EXPECT_THAT(mesh.error().message, HasSubstr(".stl, .obj and .ply"));
    EXPECT_THAT(read_mesh(folder_ / "none.stl", FileUnit::millimetre).error().message, HasSubstr("is not there"));
}

TEST_F(MeshFile, AFileBeyondTheLimitIsNotRead) {
    // A file of holes: a byte over the limit, and next to nothing on the disk.
    ASSERT_TRUE(write_file(folder_ / "huge.stl", "x"));
    fs::resize_file(folder_ / "huge.stl", k_max_mesh_file_bytes + 1);
    const auto mesh = read_mesh(folder_ / "huge.stl", FileUnit::millimetre);
    ASSERT_FALSE(mesh);
    EXPECT_THAT(mesh.error().message, HasSubstr("536870913 bytes, more than the 536870912"));
}

TEST_F(MeshFile, RefusesToWriteWhatIsNoMesh) {
    Mesh mesh = box({1, 1, 1});
    mesh.triangles.push_back({0, 1, 8});
    EXPECT_FALSE(mesh_bytes(mesh, MeshFormat::obj, FileUnit::millimetre));
    mesh = box({1, 1, 1});
    mesh.points[3].y() = std::numeric_limits<double>::quiet_NaN();
    const Status status = write_mesh(mesh, folder_ / "a.stl", MeshFormat::stl_binary, FileUnit::millimetre);
    ASSERT_FALSE(status);
    EXPECT_EQ(status.error().code, ErrorCode::invalid_argument);
    EXPECT_FALSE(fs::exists(folder_ / "a.stl"));
}

}  // namespace
}  // namespace sillwright::geometry
