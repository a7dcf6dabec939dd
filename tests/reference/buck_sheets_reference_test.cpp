// The router's sheets of a buck as independent programs read them, and the buck put together from them: ezdxf with its
// auditor, shapely, GDAL's ogrinfo (buck_sheets.py).
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdio>
#include <filesystem>
#include <functional>
#include <string>

#include "core/buck/buck_work.h"
#include "core/buck/sheet_drawing.h"
#include "geometry/dxf_file.h"
#include "geometry/file_text.h"
#include "tests/core/buck/buck_world.h"
#include "tests/core/small_job.h"
#include "tests/support/command.h"
#include "tests/core/buck/hand_buck.h"

namespace sillwright::core {
namespace {

using testing::HasSubstr;
using tests::count;
using tests::Output;
using tests::run;

class BuckSheets : public testing::Test {
protected:
    /// Writes the sheets, changed on their way, and what is wanted of them; returns the judge's word.
    Output judged(const BuckPlan& plan, const std::vector<CutPart>& parts, const Nesting& nesting,
                  const std::function<void(std::vector<SheetDrawing>&)>& change = {}) {
        auto drawn = sheet_drawings(job_, parts, nesting);
        EXPECT_TRUE(drawn) << drawn.error().message;
        std::vector<SheetDrawing> sheets = std::move(drawn).value();
        if (change) {
            change(sheets);
        }
        std::vector<std::string> files;
        entities_ = 0;
        for (const SheetDrawing& sheet : sheets) {
            files.push_back(sheet.stem + ".dxf");
            entities_ += sheet.drawing.entities.size();
            const auto text = geometry::dxf_text(sheet.drawing, dxf_options(job_.buck));
            EXPECT_TRUE(text) << text.error().message;
            put_file(home_.path() / files.back(), text.value());
        }
        put_file(home_.path() / "intent.json", intent_of(job_, plan, nesting, files).dump(1));
        return run("/usr/bin/python3 " SILLWRIGHT_SOURCE_DIR "/tests/reference/buck_sheets.py " +
                   home_.path().string() + " " + (home_.path() / "intent.json").string());
    }

    /// The same of a buck that was made by hand.
    Output judged(const std::function<void(std::vector<SheetDrawing>&)>& change = {}) {
        const BuckPlan plan = hand_buck_plan(job_);
        const auto parts = cut_parts(job_, plan);
        EXPECT_TRUE(parts) << parts.error().message;
        return judged(plan, parts.value(), nest_ ? nest_(parts.value()) : hand_nesting(parts.value()), change);
    }

    void expect_found(const std::string& words, const std::function<void(std::vector<SheetDrawing>&)>& change) {
        const Output word = judged(change);
        EXPECT_EQ(word.status, 1) << word.text;
        EXPECT_THAT(word.text, HasSubstr(words));
    }

    /// The n-th chain of a layer.
    static geometry::DrawnChain& chain(std::vector<SheetDrawing>& sheets, const std::string& layer, std::size_t n) {
        for (geometry::DrawnEntity& entity : sheets.front().drawing.entities) {
            auto* found = std::get_if<geometry::DrawnChain>(&entity.shape);
            if (entity.layer == layer && found != nullptr && n-- == 0) {
                return *found;
            }
        }
        throw std::out_of_range("no such chain");
    }
    static geometry::DrawnText& label(std::vector<SheetDrawing>& sheets, const std::string& words) {
        for (geometry::DrawnEntity& entity : sheets.front().drawing.entities) {
            auto* found = std::get_if<geometry::DrawnText>(&entity.shape);
            if (found != nullptr && found->words == words) {
                return *found;
            }
        }
        throw std::out_of_range("no such label");
    }

    TestFolder home_;
    Job job_ = hand_buck_job();
    std::function<Nesting(const std::vector<CutPart>&)> nest_;
    std::size_t entities_ = 0;
};

TEST_F(BuckSheets, AreAsWantedAndGoTogether) {
    const Output word = judged();
    EXPECT_EQ(word.status, 0) << word.text;
    EXPECT_EQ(word.text, "agree: 5 parts, 6 half-laps\n");
}

TEST_F(BuckSheets, OfTheOlderReleaseInInchesToo) {
    job_.buck.release = core::DxfRelease::older;
    job_.buck.unit = DrawingUnit::inches;
    const Output word = judged();
    EXPECT_EQ(word.status, 0) << word.text;
    EXPECT_EQ(word.text, "agree: 5 parts, 6 half-laps\n");
}

TEST_F(BuckSheets, WithCornersRelievedAlongTheirEdge) {
    job_.buck.relief = CornerRelief::along_edge;
    const Output word = judged();
    EXPECT_EQ(word.status, 0) << word.text;
}

TEST_F(BuckSheets, GdalReadsEveryEntity) {
    for (const auto release : {core::DxfRelease::newer, core::DxfRelease::older}) {
        job_.buck.release = release;
        EXPECT_EQ(judged().status, 0);
        const Output gdal = run("ogrinfo -ro -al '" + (home_.path() / "sheet_1_mdf_12.dxf").string() + "'");
        EXPECT_EQ(gdal.status, 0) << gdal.text;
        EXPECT_EQ(count(gdal.text, "OGRFeature(entities):"), entities_);
        EXPECT_EQ(count(gdal.text, "ERROR") + count(gdal.text, "Warning"), 0U);
    }
}

// The judge must see what is wrong.

TEST_F(BuckSheets, AMovedSlotIsFound) {
    // The first outline's vertices from one slot's mouth to the other side of it: by 0.05 mm.
    expect_found("R1: slot for S1: clearance on the low side", [](auto& sheets) {
        for (geometry::ChainVertex& vertex : chain(sheets, "CUT_OUTSIDE", 0).vertices) {
            const double side = vertex.p_mm.x() - 100.0;
            if (side > -22.0 - 8.0 && side < -22.0 + 8.0 && vertex.p_mm.y() < 60.0) {
                vertex.p_mm.x() += 0.05;
            }
        }
    });
}

TEST_F(BuckSheets, ASlotThatIsTooShallowIsFound) {
    expect_found("R1 on S1: room between the slots' ends", [](auto& sheets) {
        for (geometry::ChainVertex& vertex : chain(sheets, "CUT_OUTSIDE", 0).vertices) {
            const double side = vertex.p_mm.x() - 100.0;
            if (side > -22.0 - 8.0 && side < -22.0 + 8.0 && vertex.p_mm.y() > 21.0) {
                vertex.p_mm.y() -= 0.05;
            }
        }
    });
}

TEST_F(BuckSheets, AnOpenOutlineIsFound) {
    expect_found("an outline is open", [](auto& sheets) { chain(sheets, "CUT_OUTSIDE", 1).closed = false; });
}

TEST_F(BuckSheets, AnOutlineThatCrossesItselfIsFound) {
    expect_found("an outline crosses itself", [](auto& sheets) {
        auto& vertices = chain(sheets, "CUT_OUTSIDE", 0).vertices;
        vertices.front().p_mm.x() += 400.0;
    });
}

TEST_F(BuckSheets, ALabelOutsideIsFound) {
    expect_found("the label R2 lies outside of every part", [](auto& sheets) {
        label(sheets, "R2").at_mm = Eigen::Vector2d{1500, 900};
    });
}

TEST_F(BuckSheets, StrokesOutsideAreFound) {
    expect_found("is inside of 0 parts", [](auto& sheets) {
        for (geometry::ChainVertex& vertex : chain(sheets, "ENGRAVE", 0).vertices) {
            vertex.p_mm += Eigen::Vector2d{1200, 700};
        }
    });
}

TEST_F(BuckSheets, TwoPartsOfOneNameAreFound) {
    expect_found("two parts are called R1", [](auto& sheets) { label(sheets, "R2").words = "R1"; });
}

TEST_F(BuckSheets, PartsThatLieOnOneAnotherAreFound) {
    nest_ = [](const std::vector<CutPart>& parts) {
        Nesting nesting = hand_nesting(parts);
        nesting.sheets[0].parts[1].moved_mm.x() -= 200.0;
        return nesting;
    };
    expect_found("R2 lies on R1", {});
}

TEST_F(BuckSheets, PartsThatAreTooNearAreFound) {
    nest_ = [](const std::vector<CutPart>& parts) {
        Nesting nesting = hand_nesting(parts);
        // S1's upper edge is at 400 + 62 mm; S2, turned about, is 45 high: 7.9 mm between them.
        nesting.sheets[0].parts[4].moved_mm.y() = 462.0 + 7.9 + 45.0;
        return nesting;
    };
    expect_found("S2 is 7.900 mm from S1", {});
}

TEST_F(BuckSheets, APartBeyondTheSheetsMarginIsFound) {
    nest_ = [](const std::vector<CutPart>& parts) {
        Nesting nesting = hand_nesting(parts);
        nesting.sheets[0].parts[0].moved_mm.x() = 79.0;  // its left edge at 9 mm
        return nesting;
    };
    expect_found("R1 comes nearer to the sheet's edge than 10", {});
}

TEST_F(BuckSheets, AHoleInAnotherPlaceIsFound) {
    expect_found("R3: hole at", [](auto& sheets) {
        std::size_t n = 0;
        for (geometry::DrawnEntity& entity : sheets.front().drawing.entities) {
            if (auto* circle = std::get_if<geometry::DrawnCircle>(&entity.shape); circle != nullptr && ++n == 5) {
                circle->centre_mm.y() += 0.05;
            }
        }
    });
}

// The sample's whole buck, planned, cut and nested by the program.
TEST_F(BuckSheets, OfEstateAGoTogether) {
    auto read = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright");
    ASSERT_TRUE(read) << read.error().message;
    const BuckWorld world = buck_world(read.value());
    job_ = world.job;
    const auto work = buck_work(job_, world.plan);
    ASSERT_TRUE(work) << work.error().message;
    ASSERT_TRUE(work.value().nesting.left_out.empty());
    std::size_t half_laps = 0;
    for (const PieceBuck& buck : world.plan.pieces) {
        half_laps += buck.ribs.size() * buck.spines.size();
    }
    ASSERT_GT(half_laps, 10U);
    const Output word = judged(world.plan, work.value().parts, work.value().nesting);
    EXPECT_EQ(word.status, 0) << word.text;
    EXPECT_EQ(word.text, "agree: " + std::to_string(work.value().parts.size()) + " parts, " +
                             std::to_string(half_laps) + " half-laps\n");
    const Output gdal = run("ogrinfo -ro -al '" + (home_.path() / "sheet_1_mdf_12.dxf").string() + "'");
    EXPECT_EQ(gdal.status, 0) << gdal.text;
    EXPECT_EQ(count(gdal.text, "ERROR") + count(gdal.text, "Warning"), 0U);
}

}  // namespace
}  // namespace sillwright::core
