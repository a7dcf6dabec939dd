#include "core/buck/flange_pattern.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <numbers>
#include <string>

#include "core/job_file.h"
#include "geometry/dxf_file.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::DrawnChain;
using geometry::in_mm;
using testing::Contains;
using testing::HasSubstr;

class FlangePatterns : public testing::Test {
protected:
    void SetUp() override {
        auto read = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright");
        ASSERT_TRUE(read) << read.error().message;
        job_ = std::move(read).value();
    }
    FlangePattern drawn() {
        auto car = car_model(job_, {});
        EXPECT_TRUE(car) << car.error().message;
        car_ = std::move(car).value();
        plan_ = mount_plan(job_, car_);
        auto patterns = flange_patterns(job_, car_, plan_);
        EXPECT_EQ(patterns.size(), 1U);
        return patterns.at(0);
    }
    /// Middles of round holes and slots, front to rear.
    static std::vector<Vector2d> middles(const FlangePattern& pattern) {
        std::vector<Vector2d> found;
        for (const auto& entity : pattern.drawing.entities) {
            if (entity.layer == "DRILL" || entity.layer == "CUT_INSIDE") {
                found.push_back(geometry::bounds_mm({{}, {entity}}).center());
            }
        }
        return found;
    }
    static DrawnChain edge(const FlangePattern& pattern) {
        for (const auto& entity : pattern.drawing.entities) {
            if (entity.layer == "CUT_OUTSIDE") {
                return std::get<DrawnChain>(entity.shape);
            }
        }
        return {};
    }

    Job job_;
    CarModel car_;
    MountPlan plan_;
};

TEST_F(FlangePatterns, EachHoleIsWhereItsMountLands) {
    const FlangePattern pattern = drawn();
    ASSERT_FALSE(plan_.holes.empty());
    const auto found = middles(pattern);
    ASSERT_EQ(found.size(), plan_.holes.size());
    for (std::size_t i = 0; i < found.size(); ++i) {
        const HolePlan& hole = plan_.holes[i];
        const double shift = hole.drawn ? hole.drawn_shift_mm : hole.shift_mm;
        EXPECT_NEAR(found[i].x(), hole.landing.p_mm.x() + shift, 1e-9) << hole.mount;
        // The free edge runs nearly along the car: its distance is the greatest y there, less the hole's.
        double free_edge = 0.0;
        for (const auto& vertex : edge(pattern).vertices) {
            if (std::abs(vertex.p_mm.x() - hole.landing.p_mm.x()) <= 10.0) {
                free_edge = std::max(free_edge, vertex.p_mm.y());
            }
        }
        EXPECT_NEAR(free_edge - found[i].y(), hole.landing.free_edge.distance_mm, 0.3) << hole.mount;
    }
    EXPECT_TRUE(geometry::dxf_text(pattern.drawing));
    EXPECT_EQ(pattern.stem, "flange_" + job_.skirt.pieces[0].name);
}

TEST_F(FlangePatterns, SlotsHaveTheirLengthAndRoundEnds) {
    for (Mount& mount : job_.mounts) {
        mount.part_hole = Entry{geometry::millimetres(7.0), ""};
        mount.part_slot = Entry{geometry::millimetres(15.0), ""};
        mount.part_shift.reset();
    }
    const FlangePattern pattern = drawn();
    std::size_t slots = 0;
    for (const auto& entity : pattern.drawing.entities) {
        if (entity.layer == "CUT_INSIDE") {
            ++slots;
            const auto box = geometry::bounds_mm({{}, {entity}});
            EXPECT_NEAR(box.sizes().x(), 15.0, 1e-9);
            EXPECT_NEAR(box.sizes().y(), 7.0, 1e-9);
        }
    }
    EXPECT_EQ(slots, plan_.holes.size());
}

TEST_F(FlangePatterns, TheDatumIsMarkedAndTheOthersAreCountedFromIt) {
    const FlangePattern pattern = drawn();
    std::vector<std::string> words;
    for (const auto& entity : pattern.drawing.entities) {
        if (const auto* text = std::get_if<geometry::DrawnText>(&entity.shape)) {
            words.push_back(text->words);
        }
    }
    EXPECT_THAT(words, Contains(plan_.locator + " DATUM"));
    EXPECT_THAT(words, Contains("PART SIZE, NOT FOR THE BUCK"));
    EXPECT_EQ(std::count_if(words.begin(), words.end(),
                            [](const std::string& one) { return one.find("from datum") != std::string::npos; }),
              static_cast<long>(plan_.holes.size()) - 1);
}

// By hand: the bend takes angle · (R + K t) of the sheet, laid before the flat.
TEST_F(FlangePatterns, ABendMadeAfterIsLaidFlat) {
    Piece& piece = job_.skirt.pieces.at(0);
    piece.flange.making = FlangeMaking::bent_after;
    piece.flange.inner_radius = Entry{geometry::millimetres(5.0), ""};
    piece.flange.neutral_fraction = 0.4;
    piece.flange.thickness = Entry{geometry::millimetres(3.0), ""};
    const FlangePattern pattern = drawn();
    const auto& nodes = piece.drawn.sections.front().nodes;
    const auto at = [&](std::size_t from_end) {
        const Node& node = nodes[nodes.size() - from_end];
        return Vector2d(in_mm(node.out.value), in_mm(node.up.value));
    };
    const Vector2d before = at(2) - at(3);
    const Vector2d after = at(1) - at(2);
    const double angle = std::acos(before.normalized().dot(after.normalized()));
    const double begin = edge(pattern).vertices.front().p_mm.y();
    double flat = 0.0;
    for (const auto& entity : pattern.drawing.entities) {
        if (const auto* chain = std::get_if<DrawnChain>(&entity.shape); entity.layer == "ENGRAVE" && chain != nullptr) {
            flat = chain->vertices.front().p_mm.y();
        }
    }
    EXPECT_NEAR(flat - begin, angle * (5.0 + 0.4 * 3.0), 1e-6);
    piece.flange.neutral_fraction.reset();
    EXPECT_THAT(drawn().notes, Contains(HasSubstr("the bend is not laid flat")));
}

}  // namespace
}  // namespace sillwright::core
