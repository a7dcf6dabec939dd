#include "core/forming/ladder.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>

#include "core/car_model.h"
#include "core/drawn_loft.h"
#include "core/job_file.h"
#include "core/mounts/stack.h"
#include "geometry/seeded_draw.h"
#include "tests/core/forming/chain_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;
using geometry::SeededDraw;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

constexpr double k_rounding = 1e-9;
constexpr std::array k_kinds{DimensionKind::spacing,       DimensionKind::outside,      DimensionKind::inside,
                             DimensionKind::hollow,        DimensionKind::face_to_edge, DimensionKind::convex_radius,
                             DimensionKind::concave_radius};

Dimension dimension(DimensionKind kind, double value, double sheet = 3.0, double sheet_sd = 0.15) {
    return {"D", kind, false, millimetres(value), millimetres(sheet), millimetres(sheet_sd)};
}

double on(const LadderOf& ladder, const std::string& generation) {
    const Rung* const rung = ladder.find(generation);
    EXPECT_NE(rung, nullptr) << generation;
    return rung != nullptr ? in_mm(rung->value) : std::nan("");
}

LadderOf ladder_of(const Job& job, const Dimension& one) {
    return ladder(job, chain_of(job), one);
}

TEST(Ladder, NamesItsRungsFromThePartToTheBuck) {
    Job job = chain_job();
    job.forming.generations[3].hot = geometry::celsius(65);
    job.forming.generations[3].expansion_per_k = 25e-6;
    std::vector<std::string> names;
    const LadderOf found = ladder_of(job, dimension(DimensionKind::outside, 150));
    for (const Rung& rung : found.rungs) {
        names.push_back(rung.generation);
    }
    EXPECT_THAT(names, ElementsAre("painted part", "part", "mould face", "male mould, hot", "male mould",
                                   "female mould", "plug", "buck"));
    EXPECT_THAT(found.missing, IsEmpty());
    // Walkthrough's mould of 1860 mm, 45 K hotter: 25e-6 · 45 · 1860 = 2.1 mm.
    const LadderOf length = ladder_of(job, dimension(DimensionKind::spacing, 1860.0 * 0.994));
    EXPECT_NEAR(on(length, "male mould"), 1860.0, k_rounding);
    EXPECT_NEAR(on(length, "male mould, hot") - 1860.0, 2.0925, k_rounding);
}

// Reference values, section 8.1.
TEST(Ladder, HasThePublishedSizes) {
    EXPECT_NEAR(on(ladder_of(chain_job(), dimension(DimensionKind::spacing, 1800)), "plug"), 1818.130, 5e-4);
    EXPECT_NEAR(on(ladder_of(chain_job(), dimension(DimensionKind::spacing, 1800)), "male mould"), 1810.865, 5e-4);
}

// By hand, on a male mould: film 0.12, sheet 3, skin 3, plug 1.010072 of the part.
TEST(Ladder, TakesPaintAndSheetOffBeforeItScalesAndSkinAfter) {
    const Job job = chain_job();
    const double up = 1.0 / (0.998 * 0.998 * 0.994);
    const auto buck = [&](DimensionKind kind, double value) {
        return on(ladder_of(job, dimension(kind, value)), "buck");
    };
    EXPECT_NEAR(buck(DimensionKind::spacing, 100), 100 * up, k_rounding);
    EXPECT_NEAR(buck(DimensionKind::outside, 100), (100 - 6.24) * up - 6, k_rounding);
    EXPECT_NEAR(buck(DimensionKind::inside, 100), 100 * up - 6, k_rounding);
    EXPECT_NEAR(buck(DimensionKind::hollow, 100), (100 + 6.24) * up + 6, k_rounding);
    EXPECT_NEAR(buck(DimensionKind::face_to_edge, 100), (100 - 3.12) * up - 3, k_rounding);
    EXPECT_NEAR(buck(DimensionKind::convex_radius, 10), (10 - 3.12) * up - 3, k_rounding);
    EXPECT_NEAR(buck(DimensionKind::concave_radius, 10), (10 + 3.12) * up + 3, k_rounding);
    // Scaled before the sheet is off, it would be another size.
    EXPECT_GT(std::abs(buck(DimensionKind::outside, 100) - (100 * up - 6.24 - 6)), 0.05);
}

TEST(Ladder, AFemaleMouldHasTheOutsideForItsFace) {
    Job job = chain_job();
    job.forming.mould = MouldKind::female;
    const auto face = [&](DimensionKind kind) { return on(ladder_of(job, dimension(kind, 100)), "mould face"); };
    EXPECT_NEAR(face(DimensionKind::spacing), 100, k_rounding);
    EXPECT_NEAR(face(DimensionKind::outside), 100 - 0.24, k_rounding);
    EXPECT_NEAR(face(DimensionKind::inside), 106, k_rounding);
    EXPECT_NEAR(face(DimensionKind::hollow), 100 + 0.24, k_rounding);
    EXPECT_NEAR(face(DimensionKind::face_to_edge), 100 - 0.12, k_rounding);
    EXPECT_NEAR(face(DimensionKind::convex_radius), 100 - 0.12, k_rounding);
    EXPECT_NEAR(face(DimensionKind::concave_radius), 100 + 0.12, k_rounding);
}

// A part of 100 over its outer faces, bare, is 94 between its inner ones: one solid, so one buck.
TEST(Ladder, InsideAndOutsideOfOnePartLeadToOneBuck) {
    for (const MouldKind mould : {MouldKind::male, MouldKind::female}) {
        Job job = chain_job();
        job.forming.mould = mould;
        job.skirt.paint = mm(0.0);
        EXPECT_NEAR(on(ladder_of(job, dimension(DimensionKind::outside, 100)), "buck"),
                    on(ladder_of(job, dimension(DimensionKind::inside, 94)), "buck"), k_rounding);
    }
}

TEST(Ladder, SaysWhatIsMissingAndGoesAsFarAsItIsKnown) {
    Job job = chain_job();
    job.forming.skin.reset();
    LadderOf found = ladder_of(job, dimension(DimensionKind::outside, 100));
    EXPECT_EQ(found.rungs.back().generation, "plug");
    EXPECT_THAT(found.missing, ElementsAre("the plug's skin over its ribs"));
    EXPECT_FALSE(part_of_buck(job, chain_of(job), found.dimension, millimetres(100)));
    EXPECT_THAT(ladder_of(job, dimension(DimensionKind::spacing, 100)).missing, IsEmpty());
    job.forming.generations[2].shrink_along.reset();
    found = ladder_of(job, dimension(DimensionKind::outside, 100));
    EXPECT_EQ(found.rungs.back().generation, "mould face");
    EXPECT_THAT(found.missing, ElementsAre("shrinkage of male mould, along", "the plug's skin over its ribs"));
    job.forming.mould.reset();
    Dimension bare = dimension(DimensionKind::outside, 100);
    EXPECT_EQ(ladder_of(job, bare).rungs.back().generation, "part");
    job.forming.mould = MouldKind::male;
    bare.sheet.reset();
    EXPECT_THAT(ladder_of(job, bare).missing, testing::Contains("the sheet thickness"));
    job.skirt.paint.reset();
    EXPECT_THAT(ladder_of(job, bare).rungs, SizeIs(1));
}

TEST(Ladder, TicksOfItsNameStandBesideIt) {
    Job job = chain_job();
    job.forming.generations[1].ticks = {tick("D", 1009.0, 1007.1, 0.2)};
    const LadderOf found = ladder_of(job, dimension(DimensionKind::spacing, 1000));
    EXPECT_NEAR(in_mm(*found.find("female mould")->measured), 1007.1, k_rounding);
    EXPECT_NEAR(in_mm(*found.find("plug")->measured), 1009.0, k_rounding);
    EXPECT_FALSE(found.find("male mould")->measured);
}

/// Any chain, of any length, with or without a hot mould, ticks, a plug in front.
Job random_job(SeededDraw& draw) {
    Job job = chain_job();
    job.forming.mould = draw.uniform() < 0.5 ? MouldKind::male : MouldKind::female;
    job.skirt.paint = mm(0.3 * draw.uniform());
    job.forming.skin = mm(6.0 * draw.uniform());
    job.forming.generations.clear();
    if (draw.uniform() < 0.5) {
        job.forming.generations.push_back(plug());
    }
    const int moulds = static_cast<int>(5.0 * draw.uniform());
    for (int i = 0; i <= moulds; ++i) {
        Generation one = generation("g" + std::to_string(i), i == moulds ? GenerationKind::sheet : GenerationKind::male,
                                    0.02 * draw.uniform() - 0.005, 0.001);
        one.shrink_across = 0.02 * draw.uniform();
        one.from_hot = draw.uniform() < 0.5;
        one.hot = geometry::celsius(20.0 + 80.0 * draw.uniform());
        one.expansion_per_k = 1e-4 * draw.uniform();
        if (draw.uniform() < 0.3) {
            one.ticks.push_back(tick("t", 1000, 990.0 + 12.0 * draw.uniform(), 0.2, draw.uniform() < 0.5));
        }
        job.forming.generations.push_back(one);
    }
    return job;
}

TEST(Ladder, ForwardThroughTheGenerationsComesThePartAgain) {
    SeededDraw draw(6, 1);
    for (int i = 0; i < 500; ++i) {
        const Job job = random_job(draw);
        const auto chain = chain_of(job);
        for (const DimensionKind kind : k_kinds) {
            Dimension one = dimension(kind, 5.0 + 2000.0 * draw.uniform(), 1.0 + 4.0 * draw.uniform());
            one.across = draw.uniform() < 0.5;
            const LadderOf found = ladder(job, chain, one);
            ASSERT_THAT(found.missing, IsEmpty());
            const auto part = part_of_buck(job, chain, one, found.rungs.back().value);
            ASSERT_TRUE(part);
            EXPECT_NEAR(in_mm(*part), in_mm(one.value), k_rounding) << i << ", kind " << static_cast<int>(kind);
        }
    }
}

// The part that comes of one buck, with shrinkages, film and sheets drawn at random, spreads as the ladder says: to
// first order the spread of the part for a given buck, seen through the chain, is that of the buck for a given part.
TEST(Ladder, ItsDeviationsAreThoseOfManyDraws) {
    constexpr int k_draws = 20000;
    Job job = chain_job();
    job.forming.generations[3].from_hot = true;
    job.forming.generations[3].hot = geometry::celsius(65);
    job.forming.generations[3].expansion_per_k = 25e-6;
    job.skirt.paint = mm(1.0);  // thick, so that its part can be seen
    SeededDraw draw(6, 2);
    for (const MouldKind mould : {MouldKind::male, MouldKind::female}) {
        job.forming.mould = mould;
        for (const DimensionKind kind : k_kinds) {
            const Dimension one = dimension(kind, 150.0);
            std::vector<std::pair<double, double>> sums(8);
            const LadderOf told = ladder_of(job, one);
            ASSERT_THAT(told.rungs, SizeIs(8));
            for (int i = 0; i < k_draws; ++i) {
                Job drawn = job;
                for (Generation& each : drawn.forming.generations) {
                    if (each.shrink_along) {
                        *each.shrink_along += *each.shrink_sd * draw.normal();
                    }
                }
                // Two ends, each with its own film and sheet: on average they are as thick as one of sd / sqrt 2.
                const bool two =
                    kind == DimensionKind::outside || kind == DimensionKind::inside || kind == DimensionKind::hollow;
                const auto of = [&](double sd) {
                    return two ? 0.5 * sd * (draw.normal() + draw.normal()) : sd * draw.normal();
                };
                drawn.skirt.paint = mm(1.0 + of(k_film_sd_share * 1.0));
                Dimension seen = one;
                seen.sheet = millimetres(3.0 + of(0.15));
                const LadderOf found = ladder_of(drawn, seen);
                ASSERT_THAT(found.rungs, SizeIs(8));
                for (std::size_t k = 0; k < sums.size(); ++k) {
                    const double off = in_mm(found.rungs[k].value - told.rungs[k].value);
                    sums[k].first += off / k_draws;
                    sums[k].second += off * off / k_draws;
                }
            }
            for (std::size_t k = 0; k < sums.size(); ++k) {
                const double sd = std::sqrt(std::max(0.0, sums[k].second - sums[k].first * sums[k].first));
                EXPECT_NEAR(in_mm(told.rungs[k].sd), sd, std::max(0.03 * sd, k_rounding))
                    << told.rungs[k].generation << ", kind " << static_cast<int>(kind);
            }
        }
    }
}

Job estate() {
    const auto job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright");
    EXPECT_TRUE(job.has_value());
    Job found = job ? job.value() : Job{};
    found.forming = chain_job().forming;
    return found;
}

const Dimension* named_dimension(const std::vector<Dimension>& all, const std::string& name) {
    const auto found = std::find_if(all.begin(), all.end(), [&](const Dimension& one) { return one.name == name; });
    return found == all.end() ? nullptr : &*found;
}

/// A C of straights, open to the car: shelf up 100, face out 150, underside up 10 with a flange, all along the same.
Job box_job() {
    Job job = chain_job();
    Piece piece;
    piece.name = "skirt";
    piece.carried_by = "body";
    piece.sheet = mm(3);
    for (int i = 0; i < 3; ++i) {
        const std::string n = std::to_string(i + 1);
        job.stations.push_back({n, mm(600.0 * i), {}});
        const auto node = [&](const std::string& name, double out, double up, double radius) {
            return Node{n + name, name, mm(out), mm(up), mm(radius), {}};
        };
        piece.drawn.sections.push_back(
            Section{n,
                    {node("shelf inner", 60, 100, 0), node("shelf edge", 150, 100, 8), node("lower edge", 150, 10, 8),
                     node("flange root", 100, 10, 0), node("flange end", 40, 10, 0)},
                    {}});
    }
    job.skirt.pieces = {piece};
    return job;
}

std::vector<Dimension> dimensions_of(const Job& job) {
    const Piece& piece = job.skirt.pieces.front();
    const auto line = loft_of(job, piece.drawn, false, "skirt");
    EXPECT_TRUE(line.has_value());
    return line ? main_dimensions(job, piece, line.value(), nullptr) : std::vector<Dimension>{};
}

// By hand: drawn inside, so a sheet and a film more at each outer face; the depth ends at the flange's cut edge.
TEST(MainDimensions, OfABoxAreThoseByHand) {
    Job job = box_job();
    for (const double along : {100.0, 700.0, 1150.0}) {
        Mount mount = world_mount("H" + std::to_string(job.mounts.size() + 1));
        mount.at = {mm(along), mm(70), mm(12)};
        job.mounts.push_back(mount);
    }
    job.mounts.back().part_shift = mm(0.5);
    const auto all = dimensions_of(job);
    ASSERT_NE(named_dimension(all, "length over all"), nullptr);
    EXPECT_NEAR(in_mm(named_dimension(all, "length over all")->value), 1200, k_rounding);
    EXPECT_EQ(named_dimension(all, "length over all")->kind, DimensionKind::spacing);
    ASSERT_NE(named_dimension(all, "H1 to H3"), nullptr);
    EXPECT_NEAR(in_mm(named_dimension(all, "H1 to H3")->value), 1050.5, 1e-6);
    EXPECT_NEAR(in_mm(named_dimension(all, "section height")->value), 90 + 6.24, k_rounding);
    EXPECT_EQ(named_dimension(all, "section height")->kind, DimensionKind::outside);
    EXPECT_NEAR(in_mm(named_dimension(all, "section depth")->value), 110 + 3.12, k_rounding);
    EXPECT_EQ(named_dimension(all, "section depth")->kind, DimensionKind::face_to_edge);
    EXPECT_NEAR(in_mm(named_dimension(all, "inside at the flange")->value), 90, k_rounding);
    EXPECT_NEAR(in_mm(named_dimension(all, "shelf edge rounding")->value), 11.12, k_rounding);
    EXPECT_EQ(named_dimension(all, "shelf edge rounding")->kind, DimensionKind::convex_radius);
    // The mould's face has the drawn line's size.
    EXPECT_NEAR(on(ladder_of(job, *named_dimension(all, "section height")), "mould face"), 90, k_rounding);
    EXPECT_NEAR(on(ladder_of(job, *named_dimension(all, "shelf edge rounding")), "mould face"), 8, k_rounding);
}

TEST(MainDimensions, DrawnOutsideAndWithEndCaps) {
    Job job = box_job();
    job.skirt.pieces[0].drawn_face = DrawnFace::outside;
    job.skirt.pieces[0].front_closed = job.skirt.pieces[0].rear_closed = true;
    const auto all = dimensions_of(job);
    EXPECT_NEAR(in_mm(named_dimension(all, "section height")->value), 90.24, k_rounding);
    EXPECT_NEAR(in_mm(named_dimension(all, "inside at the flange")->value), 84, k_rounding);
    EXPECT_EQ(named_dimension(all, "length over all")->kind, DimensionKind::outside);
    EXPECT_NEAR(in_mm(named_dimension(all, "length over all")->value), 1200.24, k_rounding);
    EXPECT_NEAR(in_mm(named_dimension(all, "lower edge rounding")->value), 8.12, k_rounding);
}

TEST(MainDimensions, LeaveOutWhatNeedsASheetOrAFilm) {
    Job job = box_job();
    job.skirt.paint.reset();
    const auto all = dimensions_of(job);
    EXPECT_EQ(named_dimension(all, "section height"), nullptr);
    EXPECT_NE(named_dimension(all, "length over all"), nullptr);
}

TEST(MainDimensions, TakeTheSheetAsFormedWhereTheyStand) {
    const Job job = box_job();
    const Piece& piece = job.skirt.pieces.front();
    const auto line = loft_of(job, piece.drawn, false, "skirt");
    FormedSheet formed;
    formed.sheet = millimetres(3);
    formed.rows = {millimetres(0), millimetres(1200)};
    formed.marks = {0, 4};
    formed.shares = {{1.0, 0.6}, {1.0, 0.6}};
    const auto all = main_dimensions(job, piece, line.value(), &formed);
    // Linear over the marks: shelf edge (1) 0.9.
    EXPECT_NEAR(in_mm(*named_dimension(all, "shelf edge rounding")->sheet), 2.7, k_rounding);
    EXPECT_NEAR(in_mm(named_dimension(all, "shelf edge rounding")->value), 8 + 2.7 + 0.12, k_rounding);
}

TEST(MainDimensions, OfTheSampleAreThereWithLaddersToTheBuck) {
    const Job job = estate();
    const auto all = dimensions_of(job);
    for (const char* name : {"length over all", "section height", "section depth", "inside at the flange",
                             "shelf inner rounding", "bead rounding", "flange root rounding"}) {
        const Dimension* const one = named_dimension(all, name);
        ASSERT_NE(one, nullptr) << name;
        EXPECT_EQ(ladder_of(job, *one).rungs.back().generation, "buck") << name;
    }
    EXPECT_NEAR(in_mm(named_dimension(all, "length over all")->value), 1900, k_rounding);
}

}  // namespace
}  // namespace sillwright::core
