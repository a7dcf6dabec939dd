#include "core/imported_shape.h"

#include <gmock/gmock.h>

#include <functional>

#include "geometry/kernel/make_solid.h"
#include "geometry/kernel/step_file.h"
#include "geometry/mesh_file.h"
#include "geometry/sheet_ring.h"
#include "tests/core/small_job.h"

// A box of 200 x 60 x 80 mm whose near corner is at x 100, y 750, z 50 of the car, on
// the right; its mirror image on the left. The line where out is zero is 700 from the
// mid-plane, so that the box stands at out 50 to 110 on either side.

namespace sillwright::core {
namespace {

using Eigen::Vector3d;
using geometry::FileUnit;
using geometry::Mesh;
using geometry::MeshFormat;
using geometry::millimetres;
using testing::HasSubstr;

const Vector3d k_low(100, 50, 50);
const Vector3d k_high(300, 110, 130);
constexpr double k_volume = 200.0 * 60.0 * 80.0;

Job job_on(Side side) {
    Job job;
    job.side = side;
    job.zero_to_midplane = Entry{millimetres(700), ""};
    return job;
}

/// In the car's frame, facing outward.
Mesh box_in_car(Side side) {
    const double y0 = side == Side::right ? 750.0 : -810.0;
    Mesh mesh;
    for (int i = 0; i < 8; ++i) {
        mesh.points.emplace_back((i & 1) != 0 ? 300.0 : 100.0, (i & 2) != 0 ? y0 + 60.0 : y0,
                                 (i & 4) != 0 ? 130.0 : 50.0);
    }
    mesh.triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                      {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
    return mesh;
}

/// The same box as the kernel's solid.
geometry::Shape solid_in_car(Side side) {
    const double y0 = side == Side::right ? 750.0 : -810.0;
    const auto node = [](const char* name, double y, double z) {
        return geometry::LoftNode{name, {y, z}, geometry::Length{}};
    };
    const std::vector<geometry::LoftNode> nodes{node("a", y0, 50), node("b", y0 + 60, 50), node("c", y0 + 60, 130),
                                                node("d", y0, 130)};
    const auto loft = geometry::Loft::make({{millimetres(100), nodes}, {millimetres(300), nodes}}, {}, true).value();
    const auto layout = geometry::layout_of_solid(loft, millimetres(0.01)).value();
    const geometry::RingBody body = geometry::solid_ring(loft, layout).value();
    const auto mesh = geometry::mesh_of(body, millimetres(0.01)).value();
    return geometry::make_solid(body, mesh, millimetres(0.01)).value();
}

geometry::Result<ImportedShape> import(const Job& job, const TestFolder& folder, const std::string& name,
                                       BareUnit unit) {
    return import_shape(job, ShapeFile{name, "", unit, {}}, folder.path(), "sections/part", "part");
}

void expect_box(const geometry::Result<ImportedShape>& shape, const std::string& what) {
    ASSERT_TRUE(shape) << what << ": " << shape.error().message;
    EXPECT_TRUE(shape.value().findings.empty()) << what << ": " << shape.value().findings.front().why;
    Vector3d low = Vector3d::Constant(1e9);
    Vector3d high = Vector3d::Constant(-1e9);
    for (const Vector3d& p : shape.value().mesh.points) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    // Binary STL holds single precision: 2^-24 of some 800 mm is 5e-5.
    EXPECT_LT((low - k_low).norm(), 1e-4) << what;
    EXPECT_LT((high - k_high).norm(), 1e-4) << what;
    EXPECT_EQ(geometry::open_edge_count(shape.value().mesh), 0U) << what;
    EXPECT_NEAR(geometry::volume_mm3(shape.value().mesh), k_volume, 1.0) << what << ", positive: it faces outward";
}

class ImportedBox : public testing::TestWithParam<Side> {
protected:
    TestFolder folder_;
};

TEST_P(ImportedBox, OfEveryMeshFormatLandsInTheSillFrame) {
    const Job job = job_on(GetParam());
    const std::vector<std::pair<std::string, MeshFormat>> formats{{"text.stl", MeshFormat::stl_text},
                                                                  {"binary.STL", MeshFormat::stl_binary},
                                                                  {"box.obj", MeshFormat::obj},
                                                                  {"text.ply", MeshFormat::ply_text},
                                                                  {"binary.ply", MeshFormat::ply_binary}};
    const std::vector<std::pair<BareUnit, FileUnit>> units{
        {BareUnit::mm, FileUnit::millimetre}, {BareUnit::in, FileUnit::inch}, {BareUnit::cm, FileUnit::centimetre}};
    for (const auto& [name, format] : formats) {
        for (const auto& [unit, file_unit] : units) {
            ASSERT_TRUE(geometry::write_mesh(box_in_car(GetParam()), folder_.path() / name, format, file_unit));
            expect_box(import(job, folder_, name, unit), name);
        }
    }
}

/// A STEP file in millimetres with its numbers over 25.4 and its length unit an inch.
std::string in_inches(std::string text) {
    const std::string milli = "( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.) )";
    const auto at = text.find(milli);
    EXPECT_NE(at, std::string::npos) << "the writer's words have changed";
    if (at == std::string::npos) {
        return text;
    }
    text.replace(at, milli.size(), "( CONVERSION_BASED_UNIT('INCH',#90001) LENGTH_UNIT() NAMED_UNIT(#90002) )");
    const std::string more =
        "#90001 = LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4),#90003);\n"
        "#90002 = DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.);\n"
        "#90003 = ( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.) );\n";
    return text.insert(text.rfind("ENDSEC;"), more);
}

TEST_P(ImportedBox, OfStepLandsInTheSillFrame) {
    const Job job = job_on(GetParam());
    ASSERT_TRUE(geometry::write_step(folder_.path() / "box.step", {{"box", solid_in_car(GetParam())}}));
    // The file says its own unit: what the job says of it does not matter.
    expect_box(import(job, folder_, "box.step", BareUnit::mm), "mm");
    expect_box(import(job, folder_, "box.step", BareUnit::in), "mm, called inches");
}

TEST_P(ImportedBox, OfStepInInchesIsAnInchLongWhereItSaysOne) {
    ASSERT_TRUE(geometry::write_step(folder_.path() / "mm.stp", {{"box", solid_in_car(GetParam())}}));
    put_file(folder_.path() / "inch.stp", in_inches(file_bytes(folder_.path() / "mm.stp")));
    Job job = job_on(GetParam());
    job.zero_to_midplane = Entry{millimetres(0), ""};
    const auto shape = import(job, folder_, "inch.stp", BareUnit::mm);
    ASSERT_TRUE(shape) << shape.error().message;
    // Twenty-five point four times as large as in millimetres.
    EXPECT_NEAR(geometry::volume_mm3(shape.value().mesh) / (25.4 * 25.4 * 25.4 * k_volume), 1.0, 1e-6);
}

INSTANTIATE_TEST_SUITE_P(BothSides, ImportedBox, testing::Values(Side::right, Side::left));

class BrokenShape : public testing::Test {
protected:
    /// The only finding of a box with something done to it.
    Finding only_finding(const std::function<void(Mesh&)>& change, ImportedShape* imported = nullptr) {
        Mesh mesh = box_in_car(Side::right);
        change(mesh);
        EXPECT_TRUE(
            geometry::write_mesh(mesh, folder_.path() / "part.ply", MeshFormat::ply_binary, FileUnit::millimetre));
        const auto shape = import(job_on(Side::right), folder_, "part.ply", BareUnit::mm);
        EXPECT_TRUE(shape);
        if (!shape || shape.value().findings.size() != 1) {
            ADD_FAILURE() << "not one finding";
            return {};
        }
        if (imported != nullptr) {
            *imported = shape.value();
        }
        const Finding finding = shape.value().findings.front();
        EXPECT_THAT(finding.place.words, HasSubstr("part.ply"));
        EXPECT_EQ(finding.stage, Stage::sections);
        EXPECT_FALSE(finding.margin);
        return finding;
    }
    TestFolder folder_;
};

TEST_F(BrokenShape, Open) {
    const Finding finding = only_finding([](Mesh& mesh) { mesh.triangles.pop_back(); });
    EXPECT_EQ(finding.id, "sections/part/not closed");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_EQ(finding.found, 3.0);  // The three edges of the face that is missing.
    EXPECT_THAT(finding.why, HasSubstr("Close its holes"));
    ASSERT_TRUE(finding.place.on_part_mm);
    EXPECT_NEAR(finding.place.on_part_mm->x(), 300.0, 1e-9) << "the missing face was at x 300";
}

TEST_F(BrokenShape, InsideOutIsSaidAndTurned) {
    ImportedShape shape;
    const Finding finding = only_finding(
        [](Mesh& mesh) {
            for (geometry::Triangle& t : mesh.triangles) {
                std::swap(t[0], t[1]);
            }
        },
        &shape);
    EXPECT_EQ(finding.id, "sections/part/inside out");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_EQ(finding.found, 12.0);
    EXPECT_NEAR(geometry::volume_mm3(shape.mesh), k_volume, 1e-3);
}

TEST_F(BrokenShape, FacesWithoutAreaAreSaidAndLeftOut) {
    ImportedShape shape;
    const Finding finding = only_finding([](Mesh& mesh) { mesh.triangles.push_back({0, 0, 1}); }, &shape);
    EXPECT_EQ(finding.id, "sections/part/degenerate faces");
    EXPECT_EQ(finding.state, State::close) << "they do no harm";
    EXPECT_EQ(finding.found, 1.0);
    EXPECT_EQ(shape.mesh.triangles.size(), 12U);
}

TEST_F(BrokenShape, OneFaceTurned) {
    const Finding finding = only_finding([](Mesh& mesh) { std::swap(mesh.triangles[0][0], mesh.triangles[0][1]); });
    EXPECT_EQ(finding.id, "sections/part/not consistently turned");
    EXPECT_EQ(finding.found, 3.0);
}

TEST_F(BrokenShape, WrongScale) {
    const auto scaled = [](double by) {
        return [by](Mesh& mesh) {
            for (Vector3d& p : mesh.points) {
                p *= by;
            }
        };
    };
    const Finding small = only_finding(scaled(0.001));
    EXPECT_EQ(small.id, "sections/part/too small");
    EXPECT_NEAR(small.found.value_or(0.0), 0.2, 1e-9);
    EXPECT_THAT(small.why, HasSubstr("Check the unit"));
    const Finding large = only_finding(scaled(100.0));
    EXPECT_EQ(large.id, "sections/part/too large");
    EXPECT_NEAR(large.found.value_or(0.0), 20000.0, 1e-6);
}

TEST_F(BrokenShape, ReadAsInchesItIsTooLarge) {
    Mesh mesh = box_in_car(Side::right);
    for (Vector3d& p : mesh.points) {
        p *= 3.0;  // 600 long: 15.24 m if these were inches
    }
    ASSERT_TRUE(geometry::write_mesh(mesh, folder_.path() / "part.obj", MeshFormat::obj, FileUnit::millimetre));
    const auto shape = import(job_on(Side::right), folder_, "part.obj", BareUnit::in);
    ASSERT_TRUE(shape);
    ASSERT_EQ(shape.value().findings.size(), 1U);
    EXPECT_EQ(shape.value().findings[0].id, "sections/part/too large");
    EXPECT_NEAR(shape.value().findings[0].found.value_or(0.0), 600 * 25.4, 1e-3);
}

TEST_F(BrokenShape, WhatCannotBeReadIsAnErrorWithItsFile) {
    put_file(folder_.path() / "garbage.step", "this is no exchange file");
    put_file(folder_.path() / "part.xyz", "0 0 0");
    EXPECT_THAT(import(job_on(Side::right), folder_, "garbage.step", BareUnit::mm).error().message,
                HasSubstr("export it again"));
    for (const char* name : {"garbage.step", "part.xyz", "not there.stl"}) {
        const auto shape = import(job_on(Side::right), folder_, name, BareUnit::mm);
        ASSERT_FALSE(shape) << name;
        EXPECT_EQ(shape.error().code, geometry::ErrorCode::unreadable_file);
        EXPECT_THAT(shape.error().message, HasSubstr(name));
    }
}

}  // namespace
}  // namespace sillwright::core
