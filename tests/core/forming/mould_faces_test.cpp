#include "core/forming/mould_faces.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/skirt/flange_findings.h"
#include "tests/core/forming/draw_world.h"

namespace sillwright::core {
namespace {

using draw_world::c_section;
using draw_world::job_of;
using draw_world::k_deg;
using draw_world::line_of;
using draw_world::mm;
using geometry::in_mm;

MouldFaces faces_of(const Job& job) {
    return mould_faces(job, job.skirt.pieces[0], line_of(job));
}

TEST(MouldFaces, EveryStationAndPlacesBetween) {
    const MouldFaces mould = faces_of(job_of({c_section(4, 7), c_section(4, 7), c_section(4, 7)}, 160.0));
    ASSERT_EQ(mould.sections.size(), 2U * (k_between + 2));
    EXPECT_TRUE(mould.faults.empty());
    EXPECT_NEAR(in_mm(mould.sections.front().along), 0.0, 1e-12);
    EXPECT_NEAR(in_mm(mould.sections[1].along), 20.0, 1e-9);
    EXPECT_NEAR(in_mm(mould.sections[k_between + 1].along), 160.0, 1e-12);
    EXPECT_NEAR(in_mm(mould.sections[k_between + 2].along), 160.0, 1e-12);
    EXPECT_NEAR(in_mm(mould.sections.back().along), 320.0, 1e-12);
}

// The face at out 100 is drawn as the inside: the male mould is there, the female one the sheet's 3 mm further out.
TEST(MouldFaces, LieOnTheSheet) {
    Job job = job_of({c_section(4, 7), c_section(4, 7)});
    const auto face_out = [](const Job& one) {
        for (const auto& face : faces_of(one).sections[0].faces) {
            if (face.from == 1 && face.to == 2) {
                return face.from_mm.x();
            }
        }
        return 0.0;
    };
    EXPECT_NEAR(face_out(job), 100.0, 1e-12);
    job.forming.mould = MouldKind::female;
    EXPECT_NEAR(face_out(job), 103.0, 1e-12);
    job.skirt.pieces[0].drawn_face = DrawnFace::outside;
    EXPECT_NEAR(face_out(job), 100.0, 1e-12);
    job.forming.mould = MouldKind::male;
    EXPECT_NEAR(face_out(job), 97.0, 1e-12);
    job.skirt.pieces[0].sheet.reset();
    EXPECT_NEAR(face_out(job), 100.0, 1e-12);
    job.forming.mould.reset();
    EXPECT_NEAR(face_out(job), 100.0, 1e-12);
}

// By hand: the underside runs 60 mm inwards falling by 7 degrees; the flange of 20 mm goes on in that direction.
TEST(MouldFaces, FlangeBentAfterLiesOn) {
    auto spots = c_section(4, 7);
    spots.push_back({"flange end", 40, 60 * -std::tan(7 * k_deg) + 20});
    Job job = job_of({spots, spots});
    EXPECT_FALSE(flange_lies_on(job.skirt.pieces[0], line_of(job)));
    job.skirt.pieces[0].flange.making = FlangeMaking::bent_after;
    EXPECT_TRUE(flange_lies_on(job.skirt.pieces[0], line_of(job)));
    const MouldFaces mould = faces_of(job);
    const auto& flange = mould.sections[3].faces.back();
    EXPECT_NEAR(flange.to_mm.x(), 40 - 20 * std::cos(7 * k_deg), 1e-9);
    EXPECT_NEAR(flange.to_mm.y(), -60 * std::tan(7 * k_deg) - 20 * std::sin(7 * k_deg), 1e-9);
    job.skirt.pieces[0].drawn.sections[0].nodes.back().name = "lip";
    job.skirt.pieces[0].drawn.sections[1].nodes.back().name = "lip";
    EXPECT_FALSE(flange_lies_on(job.skirt.pieces[0], line_of(job)));
}

}  // namespace
}  // namespace sillwright::core
