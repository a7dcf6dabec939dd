#include "core/handover/packing.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/edit/mend_edit.h"
#include "core/keep_outs/keep_out_body.h"
#include "geometry/mesh.h"
#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;

/// A box 1000 x 100 x 20, turned about along.
CarModel turned_box(double degrees) {
    geometry::Mesh mesh = box_between({0.0, 0.0, 0.0}, {1000.0, 100.0, 20.0});
    const double a = degrees * std::acos(-1.0) / 180.0;
    for (Eigen::Vector3d& p : mesh.points) {
        p = {p.x(), p.y() * std::cos(a) - p.z() * std::sin(a), p.y() * std::sin(a) + p.z() * std::cos(a)};
    }
    CarModel car;
    car.pieces.emplace_back();
    car.pieces[0].body.emplace();
    car.pieces[0].body->mesh = mesh;
    return car;
}

Job one_piece() {
    Job job;
    job.skirt.pieces.emplace_back();
    job.skirt.pieces[0].name = "skirt";
    return job;
}

TEST(Packing, TurnsAPartBackIntoItsLeastBox) {
    for (const double degrees : {0.0, 12.0, 45.0, 88.0, 120.0, -30.0}) {
        const auto all = packing(one_piece(), turned_box(degrees));
        ASSERT_EQ(all.size(), 1U);
        EXPECT_NEAR(in_mm(all[0].part.length), 1000.0, 1e-9);
        EXPECT_NEAR(in_mm(all[0].part.width), 100.0, 1e-9) << degrees;
        EXPECT_NEAR(in_mm(all[0].part.height), 20.0, 1e-9) << degrees;
        // Turned back by as much, or half a turn further.
        const double left = geometry::in_deg(all[0].turned) + degrees;
        EXPECT_NEAR(std::remainder(left, 180.0), 0.0, 1e-9) << degrees;
        EXPECT_LE(std::abs(geometry::in_deg(all[0].turned)), 90.0);
    }
}

TEST(Packing, CountsFoamCartonGirthAndVolume) {
    Job job = one_piece();
    job.skirt.material.density_kg_per_m3 = 1000.0;
    const Packing box = packing(job, turned_box(12.0)).at(0);
    EXPECT_NEAR(in_mm(box.inner.length), 1080.0, 1e-9);  // 40 mm foam each side
    EXPECT_NEAR(in_mm(box.inner.height), 100.0, 1e-9);
    EXPECT_NEAR(in_mm(box.outer.length), 1094.0, 1e-9);  // 7 mm carton each side
    EXPECT_NEAR(in_mm(box.outer.width), 194.0, 1e-9);
    EXPECT_NEAR(in_mm(box.outer.height), 114.0, 1e-9);
    EXPECT_NEAR(in_mm(box.longest), 1094.0, 1e-9);
    EXPECT_NEAR(in_mm(box.length_and_girth), 1094.0 + 2.0 * (194.0 + 114.0), 1e-9);
    EXPECT_NEAR(box.volumetric_kg, 109.4 * 19.4 * 11.4 / 5000.0, 1e-9);
    EXPECT_NEAR(*box.part_kg, 2.0, 1e-9);  // 2 litres of water
}

TEST(Packing, FillsTheBoxWithFoamAndPart) {
    const Packing box = packing(one_piece(), turned_box(0.0)).at(0);
    double foam = 0.0;
    for (const FoamPiece& piece : box.foam) {
        foam += piece.count * in_mm(piece.length) * in_mm(piece.width) * in_mm(piece.thickness);
    }
    const auto volume = [](const BoxSize& size) { return in_mm(size.length) * in_mm(size.width) * in_mm(size.height); };
    EXPECT_NEAR(foam + volume(box.part), volume(box.inner), 1e-6);
}

/// Every point of the mesh turned in steps of a twentieth of a degree, whatever the hull is.
TEST(Packing, AgreesWithTryingEveryTurn) {
    const Evaluation& evaluation = paper_world::estate_a();
    const Packing box = packing(evaluation.job, evaluation.car).at(0);
    const auto& points = evaluation.car.pieces[0].body->mesh.points;
    double least = 1e9;
    for (int step = 0; step < 1800; ++step) {
        const double a = step * 0.05 * std::acos(-1.0) / 180.0;
        double low_x = 1e9, high_x = -1e9, low_y = 1e9, high_y = -1e9;
        for (const Eigen::Vector3d& p : points) {
            const double x = p.y() * std::cos(a) + p.z() * std::sin(a);
            const double y = p.z() * std::cos(a) - p.y() * std::sin(a);
            low_x = std::min(low_x, x);
            high_x = std::max(high_x, x);
            low_y = std::min(low_y, y);
            high_y = std::max(high_y, y);
        }
        least = std::min(least, high_x - low_x + high_y - low_y);
    }
    const double found = in_mm(box.part.width + box.part.height);
    EXPECT_LE(found, least + 1e-9);
    EXPECT_GT(found, least - 0.3);  // a twentieth of a degree of 130 mm, and as much again
    EXPECT_NEAR(*box.part_kg, geometry::volume_mm3(evaluation.car.pieces[0].body->mesh) * 1050e-9, 1e-9);
    EXPECT_GT(*box.part_kg, 0.5);
    EXPECT_LT(*box.part_kg, 5.0);
}

TEST(Packing, IsHeldAgainstWhatTheCarrierTakes) {
    Job job = one_piece();
    const CarModel car = turned_box(12.0);
    EXPECT_TRUE(packing_findings(job, car, packing(job, car)).empty());
    job.papers.girth_most = Entry{millimetres(1710.0), ""};
    job.papers.longest = Entry{millimetres(1093.0), ""};
    const auto findings = packing_findings(job, car, packing(job, car));
    ASSERT_EQ(findings.size(), 2U);
    EXPECT_EQ(findings[0].id, "handover/skirt/box");
    EXPECT_EQ(findings[0].stage, Stage::handover);
    EXPECT_EQ(findings[0].state, State::close);  // 1710, exactly as much: nothing to spare
    EXPECT_NEAR(*findings[0].found, 1710.0, 1e-9);
    EXPECT_EQ(findings[1].id, "handover/skirt/box length");
    EXPECT_EQ(findings[1].state, State::falls_short);
    EXPECT_NEAR(*findings[1].margin, -1.0, 1e-9);
    for (const Finding& finding : findings) {
        EXPECT_FALSE(finding.formula.empty());
        EXPECT_FALSE(finding.source.empty());
    }
}

TEST(Packing, MendsABoxByThinnerFoam) {
    const auto look = [](double longest) {
        Job job = paper_world::sample_job("estate_a");
        job.papers.longest = Entry{millimetres(longest), ""};
        return job;
    };
    const CarModel& car = paper_world::estate_a().car;
    const double whole = in_mm(packing(look(1.0), car).at(0).longest);
    const Job job = look(whole - 15.0);
    const auto findings = packing_findings(job, car, packing(job, car));
    ASSERT_EQ(findings.size(), 1U);
    ASSERT_TRUE(findings[0].mend && findings[0].mend->can_be_taken());
    const auto mended = take_mend(job, findings[0]);
    ASSERT_TRUE(mended) << mended.error().message;
    const Job& after = mended.value().job;
    EXPECT_LT(after.papers.foam.value, job.papers.foam.value);
    const auto again = packing_findings(after, car, packing(after, car));
    ASSERT_EQ(again.size(), 1U);
    EXPECT_NE(again[0].state, State::falls_short);
    EXPECT_NEAR(*again[0].margin, *findings[0].mend->proven_margin, 1e-9);
    // 50 mm are more than foam can give: words only.
    const Job too_short = look(whole - 50.0);
    const auto no_mend = packing_findings(too_short, car, packing(too_short, car));
    ASSERT_TRUE(no_mend[0].mend);
    EXPECT_FALSE(no_mend[0].mend->can_be_taken());
}

TEST(Packing, DoesNotKnowTheMassWithoutADensity) {
    EXPECT_FALSE(packing(one_piece(), turned_box(0.0)).at(0).part_kg);
    EXPECT_TRUE(packing(one_piece(), CarModel{}).empty());
}

}  // namespace
}  // namespace sillwright::core
