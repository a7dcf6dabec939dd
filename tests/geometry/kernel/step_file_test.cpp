#include "geometry/kernel/step_file.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdio>
#include <fstream>
#include <iterator>

#include "geometry/kernel/make_solid.h"
#include "geometry/sheet_ring.h"
#include "tests/support/example_lofts.h"

namespace sillwright::geometry {
namespace {

/// A block of 100 x 20 x 50, `along_mm` along the car.
Shape block(double along_mm) {
    using examples::node;
    const std::vector<LoftNode> nodes{node("a", 0, 0), node("b", 20, 0), node("c", 20, 50), node("d", 0, 50)};
    const Loft loft =
        Loft::make({{millimetres(along_mm), nodes}, {millimetres(along_mm + 100.0), nodes}}, {}, true).value();
    const RingBody body = solid_ring(loft, layout_of_solid(loft, millimetres(0.01)).value()).value();
    return make_solid(body, mesh_of(body, millimetres(0.01)).value(), millimetres(0.01)).value();
}

/// A folder of this test's own, gone with it.
class StepFile : public testing::Test {
protected:
    StepFile() : folder_{std::filesystem::temp_directory_path() / ("sillwright_step_" + std::to_string(::getpid()))} {
        std::filesystem::create_directories(folder_);
    }
    ~StepFile() override { std::filesystem::remove_all(folder_); }

    [[nodiscard]] std::string read(const std::string& name) const {
        std::ifstream in(folder_ / name, std::ios::binary);
        return {std::istreambuf_iterator<char>(in), {}};
    }
    void write(const std::string& name, const std::string& bytes) const {
        std::ofstream(folder_ / name, std::ios::binary) << bytes;
    }
    [[nodiscard]] std::size_t files() const {
        const auto all = std::filesystem::directory_iterator(folder_);
        return static_cast<std::size_t>(std::distance(begin(all), end(all)));
    }

    std::filesystem::path folder_;
};

TEST_F(StepFile, SeveralSolidsComeBackWithTheirVolume) {
    const auto path = folder_ / "two.stp";
    ASSERT_TRUE(write_step(path, {{"front block", block(0.0)}, {"rear block", block(300.0)}}).has_value());
    const Shape back = read_step(path).value();
    EXPECT_EQ(solid_count(back), 2U);
    EXPECT_TRUE(is_valid(back).value());
    EXPECT_NEAR(kernel_volume_mm3(back).value(), 200000.0, 1e-3);  // two of 100 x 20 x 50
    const std::string text = read("two.stp");
    EXPECT_EQ(text.rfind("ISO-10303-21;", 0), 0U);
    EXPECT_NE(text.find("front block"), std::string::npos);
    EXPECT_NE(text.find("rear block"), std::string::npos);
    EXPECT_NE(text.find("SI_UNIT(.MILLI.,.METRE.)"), std::string::npos);  // ISO 10303-41's words for millimetres
    EXPECT_EQ(files(), 1U);                                               // no temporary file is left
}

TEST_F(StepFile, BytesAreThoseOfAFile) {
    const std::string bytes = step_text({{"block", block(0.0)}}).value();
    write("bytes.stp", bytes);
    EXPECT_NEAR(kernel_volume_mm3(read_step(folder_ / "bytes.stp").value()).value(), 100000.0, 1e-3);
}

TEST_F(StepFile, WritingSaysNothingOnTheConsole) {
    testing::internal::CaptureStdout();
    testing::internal::CaptureStderr();
    ASSERT_TRUE(write_step(folder_ / "quiet.stp", {{"block", block(0.0)}}).has_value());
    ASSERT_TRUE(read_step(folder_ / "quiet.stp").has_value());
    std::fflush(stdout);
    EXPECT_EQ(testing::internal::GetCapturedStdout(), "");
    EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
}

TEST_F(StepFile, WhatStoodThereSurvivesAFailure) {
    write("kept.stp", "old");
    EXPECT_FALSE(write_step(folder_ / "kept.stp", {}).has_value());
    EXPECT_EQ(read("kept.stp"), "old");
    std::filesystem::create_directories(folder_ / "taken.stp" / "something");  // cannot be replaced by a file
    const auto taken = write_step(folder_ / "taken.stp", {{"block", block(0.0)}});
    ASSERT_FALSE(taken.has_value());
    EXPECT_NE(taken.error().message.find("taken.stp"), std::string::npos);
    EXPECT_TRUE(std::filesystem::is_directory(folder_ / "taken.stp" / "something"));
    EXPECT_EQ(files(), 2U);
}

TEST_F(StepFile, FolderThatIsNotThereIsNamed) {
    const auto status = write_step(folder_ / "nowhere" / "a.stp", {{"block", block(0.0)}});
    ASSERT_FALSE(status.has_value());
    EXPECT_EQ(status.error().code, ErrorCode::unreadable_file);
    EXPECT_NE(status.error().message.find("nowhere"), std::string::npos);
}

TEST_F(StepFile, RefusesBadFilesByName) {
    const std::string good = step_text({{"block", block(0.0)}}).value();
    write("empty.stp", "");
    write("noise.stp", std::string(3000, '\x7f'));
    write("cut.stp", good.substr(0, good.size() / 2));
    write("no data.stp", "ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n");
    std::string torn = good;  // the frame is whole, a record in the middle is not
    torn.replace(torn.find("MANIFOLD_SOLID_BREP"), 19, "MANIFOLD_SOLID_XXXX");
    write("torn.stp", torn);
    for (const char* name : {"empty.stp", "noise.stp", "cut.stp", "no data.stp", "missing.stp", "torn.stp"}) {
        SCOPED_TRACE(name);
        const auto shape = read_step(folder_ / name);
        ASSERT_FALSE(shape.has_value());
        EXPECT_EQ(shape.error().code, ErrorCode::unreadable_file);
        EXPECT_NE(shape.error().message.find(name), std::string::npos);
    }
}

}  // namespace
}  // namespace sillwright::geometry
