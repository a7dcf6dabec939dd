#include "core/handover/templates.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <functional>
#include <map>
#include <variant>

#include "core/handover/outer_strip.h"
#include "core/job_file.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::in_mm;

std::shared_ptr<const Evaluation> estate_with(const std::function<void(Job&)>& change) {
    const std::filesystem::path file = SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright";
    Job job = read_job(file).value();
    change(job);
    return evaluate(job, file.parent_path(), {}, Mends::leave).value();
}

const Evaluation& estate_on(Side side) {
    static std::map<Side, std::shared_ptr<const Evaluation>> known;
    auto& one = known[side];
    if (!one) {
        one = estate_with([&](Job& job) { job.side = side; });
    }
    return *one;
}

const Template* find(const Templates& all, const std::string& stem) {
    const auto found =
        std::find_if(all.all.begin(), all.all.end(), [&](const Template& one) { return one.stem == stem; });
    return found == all.all.end() ? nullptr : &*found;
}

/// Middles of what is drilled, from the left.
std::vector<Vector2d> drilled(const Template& one) {
    std::vector<Vector2d> middles;
    for (const auto& entity : one.drawing.entities) {
        if (entity.layer != "DRILL") {
            continue;
        }
        if (const auto* circle = std::get_if<geometry::DrawnCircle>(&entity.shape)) {
            middles.push_back(circle->centre_mm);
        } else {
            Vector2d sum = Vector2d::Zero();
            const auto& vertices = std::get<geometry::DrawnChain>(entity.shape).vertices;
            for (const auto& vertex : vertices) {
                sum += vertex.p_mm;
            }
            middles.emplace_back(sum / static_cast<double>(vertices.size()));
        }
    }
    std::sort(middles.begin(), middles.end(), [](const Vector2d& a, const Vector2d& b) { return a.x() < b.x(); });
    return middles;
}

std::vector<std::string> words_of(const Template& one) {
    std::vector<std::string> words;
    for (const auto& entity : one.drawing.entities) {
        if (const auto* text = std::get_if<geometry::DrawnText>(&entity.shape)) {
            words.push_back(text->words);
        }
    }
    return words;
}

bool says(const Template& one, const std::string& what) {
    const auto words = words_of(one);
    return std::any_of(words.begin(), words.end(),
                       [&](const std::string& text) { return text.find(what) != std::string::npos; });
}

TEST(Templates, DrillsEveryPlannedHoleAtItsTrueDistance) {
    const Evaluation& estate = estate_on(Side::right);
    const Templates all = templates(estate);
    const Template* flange = find(all, "template_flange");
    ASSERT_NE(flange, nullptr);
    const auto middles = drilled(*flange);
    ASSERT_EQ(middles.size(), estate.plan.holes.size());
    ASSERT_GE(middles.size(), 3U);
    // The flange of this car is nearly even: laid flat, neighbours are as far apart as in space.
    for (std::size_t i = 1; i < middles.size(); ++i) {
        const auto place = [&](std::size_t k) {
            const HolePlan& plan = estate.plan.holes[k];
            return Eigen::Vector3d(plan.landing.p_mm + (plan.drawn ? plan.drawn_shift_mm : plan.shift_mm) * plan.along);
        };
        const double in_space = (place(i) - place(i - 1)).norm();
        EXPECT_NEAR((middles[i] - middles[i - 1]).norm(), in_space, 0.1) << i;
    }
    for (const HolePlan& plan : estate.plan.holes) {
        EXPECT_TRUE(says(*flange, plan.mount)) << plan.mount;
    }
    EXPECT_TRUE(says(*flange, "DATUM"));
    EXPECT_TRUE(says(*flange, "RIGHT SIDE"));
    EXPECT_NE(flange->notes.front().find("Verify before drilling"), std::string::npos);
}

// Whoever lies below a right-hand sill with the car's rear to the right has the car's middle above.
TEST(Templates, IsSeenFromBelow) {
    const auto right = outer_strip(estate_on(Side::right).job, estate_on(Side::right).car, 0, FreeEdge::flange_end);
    ASSERT_TRUE(right.strip);
    EXPECT_LT(right.strip->near_mm.front().x(), right.strip->near_mm.back().x());
    const std::size_t middle = right.strip->along.size() / 2;
    EXPECT_GT(right.strip->far_mm[middle].y(), right.strip->near_mm[middle].y() + 20.0);
    // Of the top return, seen from above, the car's middle is below.
    const auto top = outer_strip(estate_on(Side::right).job, estate_on(Side::right).car, 0, FreeEdge::top_return_end);
    ASSERT_TRUE(top.strip);
    EXPECT_LT(top.strip->far_mm[middle].y(), top.strip->near_mm[middle].y() - 5.0);
}

TEST(Templates, MirrorsTheLeftHandButNoWord) {
    const Templates right = templates(estate_on(Side::right));
    const Templates left = templates(estate_on(Side::left));
    const Template* a = find(right, "template_flange");
    const Template* b = find(left, "template_flange");
    ASSERT_TRUE(a != nullptr && b != nullptr);
    const auto on_right = drilled(*a);
    auto on_left = drilled(*b);
    ASSERT_EQ(on_right.size(), on_left.size());
    for (std::size_t i = 0; i < on_right.size(); ++i) {
        const Vector2d& mirrored = on_left[on_left.size() - 1 - i];
        EXPECT_NEAR(on_right[i].x(), -mirrored.x(), 1e-9);
        EXPECT_NEAR(on_right[i].y(), mirrored.y(), 1e-9);
    }
    EXPECT_TRUE(says(*b, "LEFT SIDE"));
    EXPECT_FALSE(says(*b, "RIGHT SIDE"));
    for (const auto& entity : b->drawing.entities) {
        if (const auto* text = std::get_if<geometry::DrawnText>(&entity.shape)) {
            EXPECT_EQ(text->turned, geometry::Angle{}) << text->words;
        }
    }
    EXPECT_NE(b->this_side_out.find("THIS SIDE OUT"), std::string::npos);
}

TEST(Templates, WritesTheWidthAtEachStation) {
    const Evaluation& estate = estate_on(Side::right);
    const Templates all = templates(estate);
    for (const char* stem : {"template_trim_flange", "template_trim_top"}) {
        const Template* trim = find(all, stem);
        ASSERT_NE(trim, nullptr) << stem;
        for (const Station& station : estate.job.stations) {
            EXPECT_TRUE(says(*trim, station.name + " · ")) << stem << ' ' << station.name;
        }
    }
    // Section 1: root (70, 15.8), end (34, 15.1): 36.0 on the drawn line; the outside's corner lies within a sheet of
    // it.
    const auto strip = outer_strip(estate.job, estate.car, 0, FreeEdge::flange_end);
    ASSERT_TRUE(strip.strip);
    EXPECT_NEAR(strip.strip->across_mm.front(), 36.0, 1.5);
    EXPECT_NEAR((strip.strip->far_mm.front() - strip.strip->near_mm.front()).norm(), strip.strip->across_mm.front(),
                1e-9);
}

TEST(Templates, HasADoorEnvelopeWhereADoorStands) {
    const Evaluation& estate = estate_on(Side::right);
    const Templates all = templates(estate);
    int envelopes = 0;
    for (const Template& one : all.all) {
        if (!one.stem.starts_with("template_door_")) {
            continue;
        }
        ++envelopes;
        EXPECT_NE(one.this_side_out.find("looking forward"), std::string::npos);
        EXPECT_TRUE(says(one, " limit")) << one.stem;
        // True size: the part's outside is as wide as the section that was drawn.
        Eigen::AlignedBox2d box;
        for (const auto& entity : one.drawing.entities) {
            if (entity.layer == "CUT_OUTSIDE") {
                for (const auto& vertex : std::get<geometry::DrawnChain>(entity.shape).vertices) {
                    box.extend(vertex.p_mm);
                }
            }
        }
        EXPECT_GT(box.sizes().x(), 100.0);
        EXPECT_LT(box.sizes().x(), 140.0);
    }
    EXPECT_GE(envelopes, 3);
    const Templates left = templates(estate_on(Side::left));
    const auto door = std::find_if(left.all.begin(), left.all.end(),
                                   [](const Template& one) { return one.stem.starts_with("template_door_"); });
    ASSERT_NE(door, left.all.end());
    EXPECT_NE(door->this_side_out.find("looking rearward"), std::string::npos);
}

TEST(Templates, SaysWhatIsMissing) {
    const auto bare = estate_with([](Job& job) {
        job.skirt.pieces[0].sheet.reset();
        for (Door& door : job.doors) {
            door.opening.reset();
        }
    });
    const Templates all = templates(*bare);
    EXPECT_TRUE(all.all.empty());
    const auto about = [&](const std::string& what) {
        return std::any_of(all.missing.begin(), all.missing.end(),
                           [&](const std::string& one) { return one.find(what) != std::string::npos; });
    };
    EXPECT_TRUE(about("Flange drilling"));
    EXPECT_TRUE(about("thickness"));
    EXPECT_TRUE(about("Door envelope"));
}

}  // namespace
}  // namespace sillwright::core
