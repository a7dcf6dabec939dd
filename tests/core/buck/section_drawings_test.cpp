#include "core/buck/section_drawings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <set>
#include <string>

#include "core/job_file.h"
#include "geometry/dxf_file.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::DrawnChain;
using geometry::DrawnText;
using testing::Contains;
using testing::HasSubstr;

class SectionDrawings : public testing::Test {
protected:
    void SetUp() override {
        auto read = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright");
        ASSERT_TRUE(read) << read.error().message;
        job_ = std::move(read).value();
    }
    std::vector<SectionDrawing> drawn() {
        auto car = car_model(job_, {});
        EXPECT_TRUE(car) << car.error().message;
        auto sections = section_drawings(job_, car.value());
        EXPECT_TRUE(sections) << sections.error().message;
        return std::move(sections).value();
    }
    static std::vector<Vector2d> points_on(const SectionDrawing& section, const std::string& layer) {
        std::vector<Vector2d> points;
        for (const auto& entity : section.drawing.entities) {
            if (const auto* chain = std::get_if<DrawnChain>(&entity.shape); entity.layer == layer && chain != nullptr) {
                for (const auto& vertex : chain->vertices) {
                    points.push_back(vertex.p_mm);
                }
            }
        }
        return points;
    }
    static std::vector<std::string> words_of(const SectionDrawing& section) {
        std::vector<std::string> words;
        for (const auto& entity : section.drawing.entities) {
            if (const auto* text = std::get_if<DrawnText>(&entity.shape)) {
                EXPECT_EQ(entity.layer, "NOTE");
                words.push_back(text->words);
            }
        }
        return words;
    }

    Job job_;
};

TEST_F(SectionDrawings, ThereIsOneForEachStationAndItCanBeWritten) {
    const auto sections = drawn();
    ASSERT_EQ(sections.size(), job_.stations.size());
    std::set<std::string> stems;
    for (const SectionDrawing& section : sections) {
        EXPECT_TRUE(stems.insert(section.stem).second);
        EXPECT_TRUE(geometry::dxf_text(section.drawing)) << section.stem;
        EXPECT_THAT(words_of(section), Contains("PART SIZE, NOT FOR THE BUCK"));
        EXPECT_THAT(words_of(section), Contains("Seen looking forward."));
        for (const char* layer : {"SKIRT_DRAWN", "SKIRT_INSIDE", "SKIRT_OUTSIDE", "SKIRT_PAINTED", "CAR_BODY"}) {
            EXPECT_FALSE(points_on(section, layer).empty()) << layer << " of " << section.stem;
        }
    }
    EXPECT_EQ(sections.front().stem, "section_" + job_.stations.front().name);
}

// The sample's first section by its file: eight nodes, from (61.4, 119.6) to (34, 15.14).
TEST_F(SectionDrawings, NamedPointsAreWhereTheyWereDrawn) {
    const SectionDrawing section = drawn().front();
    std::vector<Vector2d> points;
    for (const auto& entity : section.drawing.entities) {
        if (entity.layer == "NAMED_POINT") {
            points.push_back(std::get<geometry::DrawnPoint>(entity.shape).at_mm);
        }
    }
    ASSERT_EQ(points.size(), 8U);
    EXPECT_EQ(points.front(), Vector2d(61.4, 119.6));
    EXPECT_EQ(points.back(), Vector2d(34, 15.14));
    EXPECT_THAT(words_of(section), Contains("1 top return end: out 61.4, up 119.6, radius 0"));
    EXPECT_THAT(words_of(section), Contains("4 bead: out 154, up 103.4, radius 8"));
    EXPECT_EQ(points_on(section, "SKIRT_DRAWN").front(), Vector2d(61.4, 119.6));
}

// Not formed, the outside of a sheet drawn on its inside is its parallel; paint lies its film further out.
TEST_F(SectionDrawings, FacesStandOffByTheSheetAndItsFilm) {
    job_.forming = {};
    Piece& piece = job_.skirt.pieces.at(0);
    piece.drawn_face = DrawnFace::inside;
    piece.sheet = Entry{geometry::millimetres(4.0), ""};
    job_.skirt.paint = Entry{geometry::millimetres(0.5), ""};
    for (const SectionDrawing& section : drawn()) {
        const auto nearest = [&](const Vector2d& p) {  // to the drawn line, arcs as fine chords
            double least = 1e9;
            for (const auto& entity : section.drawing.entities) {
                const auto* chain = std::get_if<DrawnChain>(&entity.shape);
                if (entity.layer != "SKIRT_DRAWN" || chain == nullptr) {
                    continue;
                }
                for (std::size_t i = 0; i + 1 < chain->vertices.size(); ++i) {
                    const auto& from = chain->vertices[i];
                    const auto& to = chain->vertices[i + 1];
                    if (from.bulge != 0.0) {
                        const auto arc = geometry::arc_of_bulge(from.p_mm, to.p_mm, from.bulge);
                        least = std::min(
                            least,
                            geometry::in_mm(geometry::distance_to(
                                {geometry::ArcSegment{arc.centre_mm, geometry::in_mm(arc.radius), arc.start, arc.sweep},
                                 0},
                                p)));
                    } else {
                        least = std::min(least, geometry::in_mm(geometry::distance_to(
                                                    {geometry::LineSegment{from.p_mm, to.p_mm}, 0}, p)));
                    }
                }
            }
            return least;
        };
        for (const Vector2d& p : points_on(section, "SKIRT_OUTSIDE")) {
            EXPECT_NEAR(nearest(p), 4.0, 1e-6);
        }
        for (const Vector2d& p : points_on(section, "SKIRT_PAINTED")) {
            EXPECT_NEAR(nearest(p), 4.5, 1e-6);
        }
        for (const Vector2d& p : points_on(section, "SKIRT_INSIDE")) {
            EXPECT_NEAR(nearest(p), 0.0, 1e-6);
        }
    }
}

TEST_F(SectionDrawings, MountsAreInTheSectionsThatTheyAreNear) {
    job_.mounts.resize(1);
    job_.mounts[0].name = "H1";
    job_.mounts[0].at.along.value = job_.stations.at(2).along.value + geometry::millimetres(24.0);
    const auto sections = drawn();
    for (std::size_t i = 0; i < sections.size(); ++i) {
        bool there = false;
        for (const auto& entity : sections[i].drawing.entities) {
            there = there || entity.layer == "MOUNT";
        }
        EXPECT_EQ(there, i == 2) << sections[i].stem;
    }
    EXPECT_THAT(words_of(sections[2]), Contains(HasSubstr("Mount H1, 24 mm to the rear: ")));
}

TEST_F(SectionDrawings, WhatIsNotGivenIsSaid) {
    job_.skirt.paint.reset();
    const SectionDrawing section = drawn().front();
    EXPECT_TRUE(points_on(section, "SKIRT_PAINTED").empty());
    EXPECT_THAT(section.notes, Contains(HasSubstr("SKIRT_PAINTED is not drawn: the film of paint is not given")));
    EXPECT_THAT(words_of(section), Contains(HasSubstr("the film of paint is not given")));
}

TEST_F(SectionDrawings, ALeftHandPartIsSeenLookingRearward) {
    job_.side = Side::left;
    EXPECT_THAT(words_of(drawn().front()), Contains("Seen looking rearward."));
}

}  // namespace
}  // namespace sillwright::core
