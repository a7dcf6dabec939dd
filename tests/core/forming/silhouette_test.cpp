#include "core/forming/silhouette.h"

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "core/job_file.h"
#include "core/skirt/surface.h"
#include "geometry/sheet_section.h"
#include "geometry/window_fit.h"
#include "tests/core/forming/platen_world.h"

namespace sillwright::core {
namespace {

using geometry::degrees;
using geometry::in_deg;
using geometry::in_mm;
using geometry::in_rad;
using geometry::millimetres;
using namespace platen_world;

TEST(Silhouette, OfAPrismByHand) {
    const Job job = job_of();
    const Silhouette seen = silhouette(piece_of(job), line_of(job), degrees(0));
    ASSERT_EQ(seen.rows.size(), 17U);  // Three stations, seven places between each two.
    for (const SilhouetteRow& row : seen.rows) {
        EXPECT_NEAR(row.low_mm, 20 - k_sheet_mm, 1e-9);
        EXPECT_NEAR(row.high_mm, 120 + k_sheet_mm, 1e-9);
    }
    EXPECT_EQ(seen.rows.front().along_mm, 0.0);
    EXPECT_EQ(seen.rows.back().along_mm, k_length_mm);
    EXPECT_NEAR(seen.crown_mm, 150 + k_sheet_mm, 1e-9);
    EXPECT_NEAR(seen.foot_mm, 40, 1e-9);
    EXPECT_NEAR(seen.high_mm - seen.low_mm, k_width_mm, 1e-9);
}

// Law: a section turned by an angle looks the same from a draw direction turned by it.
TEST(Silhouette, TurnsWithItsDrawDirection) {
    for (const double lean : {-17.0, 4.0, 12.5}) {
        const Job leant = job_of(lean);
        const Job job = job_of();
        const Silhouette a = silhouette(piece_of(leant), line_of(leant), degrees(lean));
        const Silhouette b = silhouette(piece_of(job), line_of(job), degrees(0));
        EXPECT_NEAR(a.high_mm, b.high_mm, 1e-9);
        EXPECT_NEAR(a.low_mm, b.low_mm, 1e-9);
        EXPECT_NEAR(a.crown_mm, b.crown_mm, 1e-9);
        EXPECT_NEAR(a.foot_mm, b.foot_mm, 1e-9);
    }
}

// Judge: the outline of the sheet as parallel lines and arcs, as a fine polyline.
TEST(Silhouette, IsThatOfTheSheetsOutline) {
    const auto path = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright";
    Job job = read_job(path).value();
    for (const DrawnFace face : {DrawnFace::inside, DrawnFace::outside}) {
        job.skirt.pieces.front().drawn_face = face;
        const Piece& piece = piece_of(job);
        const geometry::Loft line = line_of(job);
        for (const double tilt : {-20.0, -6.5, 0.0, 3.0, 20.0}) {
            const Silhouette seen = silhouette(piece, line, degrees(tilt));
            const Eigen::Vector2d draw(std::cos(in_rad(degrees(tilt))), std::sin(in_rad(degrees(tilt))));
            const Eigen::Vector2d across(-draw.y(), draw.x());
            double crown = -1e9;
            for (const SilhouetteRow& row : seen.rows) {
                const auto section = line.section_at(millimetres(row.along_mm)).value();
                const auto outline = geometry::sheet_outline(section, *sheet_faces(piece)).value();
                double low = 1e9;
                double high = -1e9;
                const auto points = geometry::polyline(outline.front(), millimetres(1e-4)).value();
                for (const Eigen::Vector2d& p : points) {
                    low = std::min(low, p.dot(across));
                    high = std::max(high, p.dot(across));
                    crown = std::max(crown, p.dot(draw));
                }
                EXPECT_NEAR(row.low_mm, low, 2e-4) << tilt << " at " << row.along_mm;
                EXPECT_NEAR(row.high_mm, high, 2e-4) << tilt << " at " << row.along_mm;
            }
            EXPECT_NEAR(seen.crown_mm, crown, 2e-4);
        }
    }
}

TEST(Silhouette, StretchAndStripCutIt) {
    const Job job = job_of();
    const Silhouette whole = silhouette(piece_of(job), line_of(job), degrees(0));
    const Silhouette part = stretch_of(whole, 123.0, 800.0);
    EXPECT_EQ(part.rows.front().along_mm, 123.0);
    EXPECT_EQ(part.rows.back().along_mm, 800.0);
    EXPECT_EQ(stretch_of(whole, -5.0, 9000.0).rows.size(), whole.rows.size());
    const Silhouette strip = strip_of(whole, 30.0, 100.0);
    EXPECT_EQ(strip.low_mm, 30.0);
    EXPECT_EQ(strip.high_mm, 100.0);
    EXPECT_EQ(strip.crown_mm, whole.crown_mm);
}

TEST(Silhouette, OutlineGrowsAtEndsAndEdges) {
    const Job job = job_of();
    const Silhouette seen = silhouette(piece_of(job), line_of(job), degrees(0));
    for (const double grown : {0.0, 20.0}) {
        const auto hull = geometry::convex_hull(outline_of(seen, grown));
        const std::vector<Eigen::Vector2d> corners{{-grown, 17 - grown},
                                                   {k_length_mm + grown, 17 - grown},
                                                   {k_length_mm + grown, 123 + grown},
                                                   {-grown, 123 + grown}};
        ASSERT_EQ(hull.size(), 4U);
        for (std::size_t i = 0; i < 4; ++i) {
            EXPECT_LT((hull[i] - corners[i]).norm(), 1e-9);
        }
    }
}

// Judge: a scan over the tilt. The shelf and the underside are seen end-on at 12.5 degrees.
TEST(Silhouette, IsNarrowestWhereAnEdgeIsSeenEndOn) {
    const Job job = job_of(12.5);
    const geometry::Loft line = line_of(job);
    const auto width = [&](double deg) {
        const Silhouette seen = silhouette(piece_of(job), line, degrees(deg));
        return seen.high_mm - seen.low_mm;
    };
    double least = 1e9;
    bool there = false;
    const auto tilts = narrowest_tilts(piece_of(job), line, degrees(-20), degrees(20));
    EXPECT_EQ(in_deg(tilts.front()), -20.0);
    EXPECT_EQ(in_deg(tilts.back()), 20.0);
    for (const geometry::Angle tilt : tilts) {
        least = std::min(least, width(in_deg(tilt)));
        there = there || std::abs(in_deg(tilt) - 12.5) < 1e-9;
    }
    EXPECT_TRUE(there);
    EXPECT_NEAR(least, k_width_mm, 1e-9);
    for (int i = 0; i <= 400; ++i) {
        EXPECT_LE(least, width(-20.0 + 0.1 * i) + 1e-9);
    }
}

TEST(Silhouette, WithoutASheetIsAFoil) {
    Job job = job_of();
    job.skirt.pieces.front().sheet.reset();
    const Silhouette seen = silhouette(piece_of(job), line_of(job), degrees(0));
    EXPECT_NEAR(seen.high_mm - seen.low_mm, 100.0, 1e-9);
}

}  // namespace
}  // namespace sillwright::core
