#include "core/survey/scan.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "core/typed.h"
#include "geometry/mesh_file.h"
#include "tests/core/survey/scan_world.h"

namespace sillwright::core::survey {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;
using tests::marked;
using tests::scan_world;
using tests::ScanWorld;

constexpr double k_noise_mm = 0.05;

/// Largest distance of a line from the body's own section: the truth.
double off_truth(const ScanWorld& world, Length along, const geometry::PlaneLine& line) {
    const auto truth = world.body.section_at(along).value();
    double most = 0.0;
    for (const Vector2d& p : line) {
        most = std::max(most, in_mm(geometry::nearest_point(truth, p).distance));
    }
    return most;
}

double off_truth_all(const ScanWorld& world, const geometry::Mesh& placed, Length deviation) {
    std::vector<Length> stations;
    for (const Station& station : world.job.stations) {
        stations.push_back(std::clamp(station.along.value, world.body.front() + millimetres(40.0),
                                      world.body.rear() - millimetres(40.0)));
    }
    double most = 0.0;
    const auto cuts = cut_scan(placed, stations);
    for (std::size_t i = 0; i < cuts.size(); ++i) {
        EXPECT_EQ(cuts[i].lines.size(), 1U) << i << cuts[i].lacks;
        const auto thinned = geometry::thin(cuts[i].lines, deviation).value();
        EXPECT_LE(thinned.deviation, deviation);
        EXPECT_LT(thinned.nodes[0].size(), 60U);
        most = std::max(most, off_truth(world, stations[i], thinned.nodes[0]));
    }
    return most;
}

// The truth is the loft that the scan was made of. Allowed: the stated deviation, four sds of the noise (of some
// thousand points), what the placing is unsure by, and 0.15 mm of facets across the tightest roundings.
TEST(Scan, PlacedByMarksGivesTheProfilesItWasMadeOf) {
    for (const Side side : {Side::right, Side::left}) {
        const ScanWorld world = scan_world(k_noise_mm, side);
        Scan scan;
        const Solution solution = marked(world, scan, 4);
        const PlacedScan placed = place_scan(world.job, scan, world.scan, solution, &world.body);
        ASSERT_TRUE(placed.mesh) << placed.lacks;
        EXPECT_LT(placed.rms_mm, 1e-9);
        EXPECT_TRUE(placed.cautions.empty()) << placed.cautions[0];
        EXPECT_EQ(placed.how, "by 4 marks, 0.0 mm rms");
        EXPECT_LT(off_truth_all(world, *placed.mesh, millimetres(0.3)), 0.3 + 4.0 * k_noise_mm + 0.15);
    }
}

TEST(Scan, PlacedByFitAloneGivesTheProfilesItWasMadeOf) {
    const ScanWorld world = scan_world(k_noise_mm);
    Scan scan;
    scan.fitted = true;
    const PlacedScan placed = place_scan(world.job, scan, world.scan, {}, &world.body);
    ASSERT_TRUE(placed.mesh) << placed.lacks;
    ASSERT_TRUE(placed.fit);
    EXPECT_TRUE(placed.fit->converged);
    EXPECT_LT(placed.fit->rms_mm, 0.1);
    EXPECT_LT(off_truth_all(world, *placed.mesh, millimetres(0.3)), 0.3 + 4.0 * k_noise_mm + 0.25);
    // The sill is nearly prismatic: that is said.
    ASSERT_FALSE(placed.fit->weak.empty());
    EXPECT_TRUE(std::any_of(placed.cautions.begin(), placed.cautions.end(), [](const std::string& words) {
        return words.find("slid along the sill") != std::string::npos;
    }));
}

TEST(Scan, NamesTheMarkThatIsOff) {
    const ScanWorld world = scan_world(0.0);
    Scan scan;
    const Solution solution = marked(world, scan, 4);
    scan.marks[1].x += 12.0;
    const PlacedScan placed = place_scan(world.job, scan, world.scan, solution, nullptr);
    ASSERT_TRUE(placed.mesh);
    EXPECT_GT(placed.rms_mm, 1.0);
    ASSERT_FALSE(placed.cautions.empty());
    EXPECT_NE(placed.cautions.back().find("is off most"), std::string::npos) << placed.cautions.back();
}

TEST(Scan, SuspectsAWrongUnitInWords) {
    const ScanWorld world = scan_world(0.0);
    const auto cautions = [&](BareUnit read_as, double file_is_mm, bool fitted) {
        Scan scan;
        const Solution solution = marked(world, scan, 4);
        for (ScanMark& mark : scan.marks) {
            mark.x /= file_is_mm;
            mark.y /= file_is_mm;
            mark.z /= file_is_mm;
        }
        scan.unit = read_as;
        scan.fitted = fitted;
        if (fitted) {
            scan.marks.clear();
        }
        geometry::Mesh mesh = world.scan;
        for (Vector3d& p : mesh.points) {
            p *= in_mm(from_unit(1.0, read_as)) / file_is_mm;
        }
        std::string all;
        for (const std::string& words : place_scan(world.job, scan, mesh, solution, &world.body).cautions) {
            all += words + "\n";
        }
        return all;
    };
    // Numbers in mm read as cm: ten times too large; read as inches: 25.4 times; inches read as mm: too small.
    EXPECT_NE(cautions(BareUnit::cm, 1.0, false).find("10.0 times too large: its numbers look like millimetres"),
              std::string::npos);
    EXPECT_NE(cautions(BareUnit::in, 1.0, false).find("25.4 times too large: its numbers look like millimetres"),
              std::string::npos);
    EXPECT_NE(cautions(BareUnit::mm, 25.4, false).find("25.4 times too small: its numbers look like inches"),
              std::string::npos);
    EXPECT_NE(cautions(BareUnit::cm, 1.0, true).find("look like millimetres"), std::string::npos);
    EXPECT_NE(cautions(BareUnit::in, 1.0, true).find("look like millimetres"), std::string::npos);
    EXPECT_TRUE(cautions(BareUnit::mm, 1.0, false).empty());
}

TEST(Scan, SaysWhatItLacks) {
    const ScanWorld world = scan_world(0.0);
    Scan two;
    const Solution solution = marked(world, two, 2);
    EXPECT_NE(place_scan(world.job, two, world.scan, solution, nullptr).lacks.find("there are 2"), std::string::npos);
    two.fitted = true;
    EXPECT_NE(place_scan(world.job, two, world.scan, solution, nullptr).lacks.find("no body to fit"),
              std::string::npos);
    Scan unknown;
    unknown.marks.push_back({"Z", 0, 0, 0, {}});
    const auto placed = place_scan(world.job, unknown, world.scan, solution, nullptr);
    EXPECT_EQ(placed.marks[0].lacks, "The measuring book does not place Z yet.");
    Scan line;
    Solution on_line;
    for (int i = 0; i < 3; ++i) {
        PlacedPoint point;
        point.name = std::string(1, static_cast<char>('A' + i));
        point.at_mm = Vector3d(100.0 * i, 60.0, 20.0);
        on_line.points.push_back(point);
        line.marks.push_back({point.name, 100.0 * i, 0, 0, {}});
    }
    EXPECT_NE(place_scan(world.job, line, world.scan, on_line, nullptr).lacks.find("on one line"), std::string::npos);
    EXPECT_FALSE(place_scan(world.job, line, geometry::Mesh{}, on_line, nullptr).mesh);
}

TEST(Scan, SaysWhereItHasNoTriangle) {
    const ScanWorld world = scan_world(0.0);
    Scan scan;
    const Solution solution = marked(world, scan, 4);
    const auto placed = place_scan(world.job, scan, world.scan, solution, nullptr);
    const auto cuts = cut_scan(*placed.mesh, {millimetres(-500.0), millimetres(800.0)});
    EXPECT_EQ(cuts[0].lacks, "The scan has no triangle at -500 mm along the car.");
    EXPECT_TRUE(cuts[1].lacks.empty());
    const auto& line = cuts[1].lines[0];
    EXPECT_GT(line.front().y(), line.back().y()) << "from the top outward and down";
}

TEST(Scan, ReadsItsFileInItsUnitOnly) {
    const auto folder = std::filesystem::temp_directory_path() / "sillwright_scan_test";
    std::filesystem::create_directories(folder);
    geometry::Mesh mesh;
    mesh.points = {{0, 0, 0}, {254, 0, 0}, {0, 254, 0}};
    mesh.triangles = {{0, 1, 2}};
    ASSERT_TRUE(
        geometry::write_mesh(mesh, folder / "a.stl", geometry::MeshFormat::stl_binary, geometry::FileUnit::millimetre));
    Scan scan;
    scan.path = "a.stl";
    scan.unit = BareUnit::cm;
    EXPECT_NEAR(read_scan(scan, folder).value().points[1].x(), 2540.0, 1e-3);
    scan.checksum = std::string(64, '0');
    EXPECT_NE(read_scan(scan, folder).error().message.find("another one"), std::string::npos);
    scan.path = "none.stl";
    EXPECT_FALSE(read_scan(scan, folder));
    std::filesystem::remove_all(folder);
}

}  // namespace
}  // namespace sillwright::core::survey
