// The handover folder of the sample as independent programs read it: ezdxf with its
// auditor, GDAL's ogrinfo, shapely, python's csv, coreutils' sha256sum.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "core/buck/buck_work.h"
#include "core/evaluate.h"
#include "core/handover/handover.h"
#include "core/job_file.h"
#include "core/sill_frame.h"
#include "geometry/file_text.h"
#include "geometry/kernel/step_file.h"
#include "geometry/mesh.h"
#include "geometry/mesh_file.h"
#include "geometry/sha256.h"
#include "tests/core/small_job.h"
#include "tests/support/command.h"

namespace sillwright::core {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

using tests::count;
using tests::Output;
using tests::run;

enum class Change { none, left_hand, drawn_outside };

struct Case {
    std::string name;
    Change change;
};

void PrintTo(const Case& one, std::ostream* out) {
    *out << one.name;
}

/// The sample, or a job made from it, handed over to a folder.
class BuckReference : public testing::TestWithParam<Case> {
protected:
    void SetUp() override {
        const fs::path sample = fs::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright";
        auto read = read_job(sample);
        ASSERT_TRUE(read) << read.error().message;
        job_ = std::move(read).value();
        if (GetParam().change == Change::left_hand) {
            job_.side = Side::left;
            job_.mounts.at(0).name = "H1, \"front\"";
            job_.stations.at(2).name = "3/../rear";
            job_.skirt.pieces.at(0).drawn.sections.at(2).station = "3/../rear";
            for (Section& section : job_.body.sections) {
                section.station = section.station == "3" ? "3/../rear" : section.station;
            }
            for (Door& door : job_.doors) {
                for (DoorBody& body : door.bodies) {
                    for (Section& section : body.drawn.sections) {
                        section.station = section.station == "3" ? "3/../rear" : section.station;
                    }
                }
            }
        } else if (GetParam().change == Change::drawn_outside) {
            job_.skirt.pieces.at(0).drawn_face = DrawnFace::outside;
            job_.forming = {};  // The judge takes the sheet to be as thick everywhere.
        }
        job_.buck = {};  // So that the ribs are outlines of the part's own size.
        file_ = home_.path() / "job.sillwright";
        const auto saved = save_job(job_, file_);
        ASSERT_TRUE(saved) << saved.error().message;
        const auto evaluated = evaluate(job_, home_.path(), {}, Mends::leave);
        ASSERT_TRUE(evaluated) << evaluated.error().message;
        evaluation_ = evaluated.value();
        const JobFileMark mark{"job.sillwright", geometry::sha256(file_bytes(file_))};
        auto report = write_handover(*evaluation_, {}, mark, file_, folder());
        ASSERT_TRUE(report) << report.error().message;
        report_ = std::move(report).value();
    }
    [[nodiscard]] fs::path folder() const { return home_.path() / "handover"; }

    TestFolder home_;
    fs::path file_;
    Job job_;
    std::shared_ptr<const Evaluation> evaluation_;
    HandoverReport report_;
};

TEST_P(BuckReference, OutlinesAgreeWithTheSections) {
    const Output checked = run("/usr/bin/python3 " SILLWRIGHT_SOURCE_DIR "/tests/reference/buck_against_ezdxf.py " +
                               file_.string() + " " + folder().string());
    EXPECT_EQ(checked.status, 0) << checked.text;
    EXPECT_EQ(checked.text, "agree: 10 stations\n");
}

TEST_P(BuckReference, GdalReadsEveryEntity) {
    std::vector<fs::path> files;
    for (const char* const inside : {"outlines", "sections"}) {
        for (const auto& entry : fs::directory_iterator(folder() / inside)) {
            files.push_back(entry.path());
        }
    }
    EXPECT_EQ(files.size(), 22U);
    for (const fs::path& file : files) {
        const std::string text = file_bytes(file);
        const std::string entities = text.substr(text.find("\nENTITIES\n"));
        std::size_t wanted = 0;
        for (const char* kind : {"LINE", "ARC", "CIRCLE", "LWPOLYLINE", "TEXT", "POINT"}) {
            wanted += count(entities, std::string("\n0\n") + kind + "\n") +
                      count(entities, std::string("\n  0\n") + kind + "\n");
        }
        EXPECT_GT(wanted, 20U);
        const Output gdal = run("ogrinfo -ro -al '" + file.string() + "'");
        EXPECT_EQ(gdal.status, 0) << gdal.text;
        EXPECT_EQ(count(gdal.text, "OGRFeature(entities):"), wanted);
        EXPECT_EQ(count(gdal.text, "ERROR") + count(gdal.text, "Warning"), 0U) << gdal.text;
    }
}

TEST_P(BuckReference, ManifestIsCheckedBySha256sum) {
    const Output checked = run("cd '" + folder().string() + "' && sha256sum --strict -c manifest.txt");
    EXPECT_EQ(checked.status, 0) << checked.text;
    EXPECT_EQ(count(checked.text, ": OK\n") + 1, report_.files.size());
}

TEST_P(BuckReference, StepAndStlAreThePartInTheCarsFrame) {
    ASSERT_TRUE(fs::exists(folder() / "part.step"));
    const auto shape = geometry::read_step(folder() / "part.step");
    ASSERT_TRUE(shape) << shape.error().message;
    EXPECT_TRUE(geometry::is_valid(shape.value()).value());
    EXPECT_EQ(geometry::solid_count(shape.value()), 1U);
    const auto mesh = geometry::read_mesh(folder() / "part.stl", geometry::FileUnit::millimetre);
    ASSERT_TRUE(mesh) << mesh.error().message;
    EXPECT_EQ(geometry::open_edge_count(mesh.value()), 0U);
    const geometry::Mesh& model = evaluation_->car.pieces.at(0).body->mesh;
    // Single precision is good to 1.2e-4 mm at 2 m; twice over the area for the volume.
    const double area = geometry::area_mm2(model);
    EXPECT_NEAR(geometry::volume_mm3(mesh.value()), geometry::volume_mm3(model), 2.4e-4 * area);
    // The solid is within 0.01 mm of the loft, the mesh within its deviation.
    EXPECT_NEAR(geometry::kernel_volume_mm3(shape.value()).value(), geometry::volume_mm3(model),
                (0.01 + geometry::in_mm(model.deviation)) * area);
    // Y of the car: 742.5 mm to the mid-plane, the skirt's outs are about 31 to 161 mm.
    Eigen::AlignedBox3d stl, step;
    for (const Eigen::Vector3d& p : mesh.value().points) {
        stl.extend(p);
    }
    const auto meshed = geometry::mesh_of(shape.value(), geometry::millimetres(0.05));
    ASSERT_TRUE(meshed) << meshed.error().message;
    for (const Eigen::Vector3d& p : meshed.value().points) {
        step.extend(p);
    }
    EXPECT_LT((stl.min() - step.min()).norm() + (stl.max() - step.max()).norm(), 0.3);
    const double sign = job_.side == Side::right ? 1.0 : -1.0;
    EXPECT_NEAR(sign * stl.center().y(), 742.5 + 95.0, 6.0);
    EXPECT_NEAR(stl.min().x(), 0.0, 1e-3);
    EXPECT_NEAR(stl.max().x(), 1900.0, 1e-3);
}

TEST_P(BuckReference, ReportCarriesTheWarning) {
    EXPECT_EQ(report_.notes.at(0), "PART SIZE - NO SHRINKAGE, NO SKIN - DO NOT CUT A BUCK FROM THIS");
    const std::string first = file_bytes(folder() / "READ ME FIRST.txt");
    EXPECT_THAT(first, HasSubstr("\n" + report_.notes.at(0) + "\n"));
    EXPECT_THAT(first, HasSubstr(job_.side == Side::right ? "R I G H T   S I D E" : "L E F T   S I D E"));
}

INSTANTIATE_TEST_SUITE_P(Jobs, BuckReference,
                         testing::Values(Case{"as drawn", Change::none}, Case{"left hand", Change::left_hand},
                                         Case{"drawn outside", Change::drawn_outside}));

}  // namespace
}  // namespace sillwright::core
