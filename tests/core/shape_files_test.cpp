#include "core/shape_files.h"

#include <gmock/gmock.h>
#include <unistd.h>

#include <fstream>
#include <iterator>

#include "geometry/sha256.h"

namespace sillwright::core {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

/// A job with a door and a piece that are files, and two folders: one with the files, one empty.
class ShapeFiles : public testing::Test {
protected:
    ShapeFiles() {
        fs::remove_all(top_);
        fs::create_directories(from_ / "scans");
        fs::create_directories(to_);
        write(from_ / "scans/door.stl", "solid door");
        write(from_ / "part.ply", "ply part");
        Door door;
        door.bodies = {DoorBody{}, DoorBody{}};
        door.bodies[1].file = ShapeFile{"scans/door.stl", ""};
        Piece piece;
        piece.file = ShapeFile{"part.ply", ""};
        job_.doors = {door};
        job_.skirt.pieces = {Piece{}, piece};
    }
    ~ShapeFiles() override { fs::remove_all(top_); }

    static void write(const fs::path& file, const std::string& text) { std::ofstream(file) << text; }
    static std::string text(const fs::path& file) {
        std::ifstream in(file);
        return {std::istreambuf_iterator<char>(in), {}};
    }
    std::string refusal() {
        const auto copied = copy_shape_files(job_, from_, to_);
        EXPECT_FALSE(copied);
        return copied ? "" : copied.error().message;
    }
    /// Files anywhere below the new folder.
    int copies() {
        int count = 0;
        for (const auto& entry : fs::recursive_directory_iterator(to_)) {
            count += entry.is_regular_file() ? 1 : 0;
        }
        return count;
    }

    const fs::path top_ = fs::temp_directory_path() / ("sillwright_shape_files_" + std::to_string(::getpid()));
    const fs::path from_ = top_ / "from", to_ = top_ / "to";
    Job job_;
};

TEST_F(ShapeFiles, AreThoseOfDoorsAndPieces) {
    const auto files = shape_files(job_);
    ASSERT_EQ(files.size(), 2U);
    EXPECT_EQ(files[0].path, "scans/door.stl");
    EXPECT_EQ(files[1].path, "part.ply");
    EXPECT_TRUE(shape_files(Job{}).empty());
}

TEST_F(ShapeFiles, AreCopiedWithTheirFolders) {
    ASSERT_TRUE(copy_shape_files(job_, from_, to_));
    EXPECT_EQ(text(to_ / "scans/door.stl"), "solid door");
    EXPECT_EQ(text(to_ / "part.ply"), "ply part");
    EXPECT_EQ(text(from_ / "part.ply"), "ply part");
    EXPECT_TRUE(copy_shape_files(job_, from_, to_)) << "the same files may be there already";
}

TEST_F(ShapeFiles, OfOneNameTwiceAreCopiedOnce) {
    job_.skirt.pieces[0].file = ShapeFile{"part.ply", ""};
    EXPECT_TRUE(copy_shape_files(job_, from_, to_));
    EXPECT_EQ(copies(), 2);
}

TEST_F(ShapeFiles, MustBeThoseOfTheJobsChecksum) {
    job_.skirt.pieces[1].file->checksum = geometry::sha256("ply part");
    EXPECT_TRUE(copy_shape_files(job_, from_, to_));
    fs::remove_all(to_);
    fs::create_directories(to_);
    write(from_ / "part.ply", "another");
    EXPECT_THAT(refusal(), HasSubstr("\"part.ply\", but the file of that name is another one"));
    EXPECT_EQ(copies(), 0);
}

TEST_F(ShapeFiles, NeverReplaceAnother) {
    write(to_ / "part.ply", "somebody else's");
    EXPECT_THAT(refusal(), HasSubstr("another file has that name"));
    EXPECT_EQ(text(to_ / "part.ply"), "somebody else's");
    EXPECT_EQ(copies(), 1);
}

TEST_F(ShapeFiles, ThatAreMissingAreNamed) {
    fs::remove(from_ / "scans/door.stl");
    EXPECT_THAT(refusal(), HasSubstr("\"scans/door.stl\", which cannot be copied"));
    EXPECT_EQ(copies(), 0);
}

TEST_F(ShapeFiles, StayInsideBothFolders) {
    fs::remove(from_ / "part.ply");
    write(top_ / "outside.ply", "x");
    fs::create_symlink(top_ / "outside.ply", from_ / "part.ply");
    EXPECT_THAT(refusal(), HasSubstr("leads out of the job's folder"));
    fs::remove(from_ / "part.ply");
    write(from_ / "part.ply", "ply part");
    fs::create_directories(top_ / "elsewhere");
    fs::create_directory_symlink(top_ / "elsewhere", to_ / "scans");
    EXPECT_THAT(refusal(), HasSubstr("leads out of the job's folder"));
    EXPECT_TRUE(fs::is_empty(top_ / "elsewhere"));
}

TEST_F(ShapeFiles, ThatCannotBeWrittenLeaveNoCopyBehind) {
    fs::rename(to_, top_ / "gone");
    write(to_, "a file, not a folder");
    EXPECT_FALSE(copy_shape_files(job_, from_, to_));
    EXPECT_EQ(text(to_), "a file, not a folder");
}

TEST_F(ShapeFiles, ArePhotosAndScansToo) {
    survey::Photo photo;
    photo.path = "p.png";
    photo.checksum = "c";
    survey::Scan scan;
    scan.path = "s.stl";
    job_.photos = {photo};
    job_.scans = {scan};
    const auto files = shape_files(job_);
    ASSERT_EQ(files.size(), 4U);
    EXPECT_EQ(files[2].path, "p.png");
    EXPECT_EQ(files[2].checksum, "c");
    EXPECT_EQ(files[3].path, "s.stl");
}

TEST_F(ShapeFiles, AreBroughtBesideTheJobWithoutOverwriting) {
    write(from_ / "p.png", "picture");
    write(to_ / "p.png", "another picture");
    const auto brought = bring_file(from_ / "p.png", to_);
    ASSERT_TRUE(brought);
    EXPECT_EQ(brought.value().path, "p 2.png");
    EXPECT_EQ(brought.value().checksum, geometry::sha256("picture"));
    EXPECT_EQ(text(to_ / "p 2.png"), "picture");
    EXPECT_EQ(text(to_ / "p.png"), "another picture");
    EXPECT_EQ(bring_file(from_ / "p.png", to_).value().path, "p 2.png") << "the same is there already";
    EXPECT_EQ(bring_file(to_ / "p.png", to_).value().path, "p.png");
    EXPECT_FALSE(bring_file(from_ / "none.png", to_));
    EXPECT_EQ(copies(), 2);
}

}  // namespace
}  // namespace sillwright::core
