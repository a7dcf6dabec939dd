#include "core/job_file.h"

#include <gmock/gmock.h>
#include <sys/resource.h>
#include <unistd.h>

#include <csignal>
#include <nlohmann/json.hpp>
#include <numbers>

#include "core/typed.h"
#include "small_job.h"

namespace sillwright::core {

namespace {

using geometry::in_mm;
using testing::HasSubstr;

Job small_job() {
    auto job = parse_job(small_job_text(), "small.sillwright");
    EXPECT_TRUE(job) << (job ? "" : job.error().message);
    return job ? job.value() : Job{};
}

// Expected values: read off tests/data/jobs/v1_small.sillwright by eye.
TEST(JobFile, ReadsTheFirstShippedJob) {
    const Job job = small_job();
    EXPECT_EQ(job.side, Side::left);
    ASSERT_TRUE(job.zero_to_midplane);
    EXPECT_EQ(in_mm(job.zero_to_midplane->value), 705.5);
    ASSERT_EQ(job.stations.size(), 3U);
    EXPECT_NEAR(in_mm(job.stations[1].along.value), 15.75 * 25.4, 1e-9);
    EXPECT_EQ(job.stations[1].along.typed, "15 3/4\"");
    ASSERT_EQ(job.mounts.size(), 2U);
    EXPECT_EQ(job.mounts[0].shape, HoleShape::slot);
    EXPECT_FALSE(job.mounts[0].sd[2]);
    EXPECT_NEAR(job.mounts[0].axis.norm(), 1.0, 1e-15);
    EXPECT_NEAR(job.mounts[0].axis.y() / job.mounts[0].axis.z(), -0.02, 1e-15);
    EXPECT_EQ(job.mounts[1].use, MountUse::unused);
    EXPECT_FALSE(job.mounts[1].size);
    ASSERT_EQ(job.doors.size(), 1U);
    EXPECT_NEAR(geometry::in_rad(job.doors[0].opening.value()), 68.0 * std::numbers::pi / 180.0, 1e-15);
    EXPECT_EQ(job.doors[0].sag->share_at_once, 1.0);
    EXPECT_TRUE(job.doors[0].bodies[0].closed);
    ASSERT_EQ(job.skirt.pieces.size(), 1U);
    const Piece& piece = job.skirt.pieces[0];
    EXPECT_NEAR(in_mm(piece.sheet->value), 3.175, 1e-12);
    EXPECT_EQ(piece.flange.making, FlangeMaking::bent_after);
    EXPECT_EQ(piece.top_edge, TopEdgeFixing::tape);
    EXPECT_EQ(in_mm(piece.drawn.sections[0].nodes[0].radius.value), 0.0);
    EXPECT_EQ(in_mm(piece.drawn.run_outs[0].along.value), 200.0);
}

TEST(JobFile, TheFirstShippedJobIsWrittenAsItWas) {
    EXPECT_EQ(job_text(small_job()), small_job_text());
}

TEST(JobFile, AnEmptyJobIsAJobAndNothingInItIsZero) {
    const auto job = parse_job(R"({"version": 1, "side": "right"})", "x");
    ASSERT_TRUE(job);
    EXPECT_EQ(job.value(), Job{});
    EXPECT_FALSE(job.value().zero_to_midplane);
}

TEST(JobFile, NullIsNotMeasured) {
    const auto job = parse_job(edited(small_job_text(), "\"survey_sd\": 0.5", "\"survey_sd\": null"), "x");
    ASSERT_TRUE(job);
    EXPECT_FALSE(job.value().survey_sd);
}

TEST(JobFile, BareNumbersHaveTheJobsUnit) {
    for (const auto& [word, mm] : {std::pair{"cm", 7055.0}, std::pair{"in", 705.5 * 25.4}}) {
        const std::string unit = std::string("\"unit\": \"") + word + "\"";
        const auto job = parse_job(edited(small_job_text(), "\"unit\": \"mm\"", unit), "x");
        ASSERT_TRUE(job) << job.error().message;
        EXPECT_NEAR(in_mm(job.value().zero_to_midplane->value), mm, 1e-9);
        EXPECT_EQ(job.value().stations[1].along.typed, "15 3/4\"");
        EXPECT_NEAR(in_mm(job.value().stations[1].along.value), 15.75 * 25.4, 1e-9);
    }
}

TEST(JobFile, TextIsStableInEveryUnit) {
    for (const char* word : {"mm", "cm", "in"}) {
        const std::string text =
            edited(small_job_text(), "\"unit\": \"mm\"", std::string("\"unit\": \"") + word + "\"");
        const auto first = parse_job(text, "x");
        ASSERT_TRUE(first) << first.error().message;
        EXPECT_EQ(job_text(first.value()), text) << word;
        const auto second = parse_job(job_text(first.value()), "x");
        ASSERT_TRUE(second);
        EXPECT_EQ(second.value(), first.value());
    }
}

TEST(JobFile, ValuesThatTheProgramMadeComeBack) {
    Job job = small_job();
    job.unit = BareUnit::in;
    double third = 1.0 / 3.0;
    for (int i = 0; i < 200; ++i, third *= 1.0371) {
        job.body.sections[0].nodes[0].out = entry(geometry::inches(third));
        job.doors[0].opening = geometry::degrees(0.1 + third / 10.0);
        job.mounts[0].axis = Direction(third, 0.1, -1.0).normalized();
        const std::string text = job_text(job);
        const auto again = parse_job(text, "x");
        ASSERT_TRUE(again) << again.error().message;
        const Job& back = again.value();
        ASSERT_EQ(back.body.sections[0].nodes[0].out, job.body.sections[0].nodes[0].out) << i;
        ASSERT_DOUBLE_EQ(geometry::in_rad(*back.doors[0].opening), geometry::in_rad(*job.doors[0].opening)) << i;
        ASSERT_EQ(back.mounts[0].axis, job.mounts[0].axis) << i;
        ASSERT_EQ(back.limits.gap_shut.value, job.limits.gap_shut.value);  // 6 mm is no double of an inch
        ASSERT_EQ(job_text(again.value()), text);
    }
}

TEST(JobFile, WordsThatMeanSomethingElseByNowAreNotWritten) {
    Job job = small_job();
    job.survey_sd = typed_entry("0.5", BareUnit::mm).value();
    EXPECT_THAT(job_text(job), HasSubstr("\"survey_sd\": \"0.5\""));
    job.unit = BareUnit::in;
    const auto again = parse_job(job_text(job), "x");
    ASSERT_TRUE(again) << again.error().message;
    EXPECT_EQ(in_mm(again.value().survey_sd->value), 0.5);
    EXPECT_EQ(again.value().stations[1].along.typed, "15 3/4\"") << "words with their unit stay";
}

/// Puts one unknown field into every object of `json`; the number of objects.
int mark_objects(nlohmann::ordered_json& json, bool unknown) {
    int marked = 0;
    for (auto& item : json.items()) {
        marked += item.value().is_structured() ? mark_objects(item.value(), unknown) : 0;
    }
    if (json.is_object() && !unknown) {
        json["zz later"] = {{"list", {1, 2.5, "three", nullptr}}, {"yes", true}};
        ++marked;
    }
    return marked;
}

TEST(JobFile, UnknownFieldsSurviveInEveryObject) {
    auto json = nlohmann::ordered_json::parse(small_job_text());
    json["doors"][0]["hinge"]["sag_about"] = {{"along", 20}, {"out", 84}, {"up", 550}};
    // Settings are written whatever they are.
    json["buck"] = {{"boards", {{{"name", "mdf 12"}, {"defects", {{{"name", "knot"}}}}}}},
                    {"rib_board", "mdf 12"},
                    {"fit", 0.15},
                    {"slot_extra", 0.5},
                    {"key_step", 4},
                    {"base_room", 20},
                    {"pin", 6},
                    {"tab_width", 6},
                    {"tab_height", 2},
                    {"tab_pitch", 250},
                    {"letters", 8},
                    {"margin", 10}};
    json["papers"] = {{"call", "the shop"}, {"foam", 40}, {"carton", 7}};
    json["doors"][0]["bodies"].push_back(
        {{"name", "cladding"}, {"kind", "cladding"}, {"file", {{"path", "clad.stl"}, {"unit", "mm"}}}});
    const int marked = mark_objects(json, false);
    EXPECT_GT(marked, 60);
    const auto job = parse_job(json.dump(), "x");
    ASSERT_TRUE(job) << job.error().message;
    const auto again = nlohmann::ordered_json::parse(job_text(job.value()));
    EXPECT_EQ(nlohmann::json(again), nlohmann::json(json));
}

TEST(JobFile, OldVersionIsKeptBesideTheNew) {
    const TestFolder folder;
    const auto path = folder.path() / "a.sillwright";
    Job job = small_job();
    ASSERT_TRUE(save_job(job, path));
    EXPECT_EQ(file_bytes(path), small_job_text());
    EXPECT_FALSE(std::filesystem::exists(path.string() + "~"));
    job.revision = "B";
    ASSERT_TRUE(save_job(job, path));
    EXPECT_EQ(file_bytes(path.string() + "~"), small_job_text());
    EXPECT_EQ(read_job(path).value(), job);
    ASSERT_TRUE(save_job(job, path));  // the same again does not push the older one out
    EXPECT_EQ(file_bytes(path.string() + "~"), small_job_text());
    EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder.path()), {}), 2) << "a temporary file is left";
}

TEST(JobFile, AFolderThatCannotBeWrittenLeavesTheOldFile) {
    const TestFolder folder;
    const auto path = folder.path() / "a.sillwright";
    Job job = small_job();
    ASSERT_TRUE(save_job(job, path));
    job.revision = "B";
    // A folder in the place of the kept version stops even the administrator.
    std::filesystem::create_directories(path.string() + "~/in the way");
    const auto saved = save_job(job, path);
    ASSERT_FALSE(saved);
    EXPECT_THAT(saved.error().message, HasSubstr("a.sillwright~"));
    EXPECT_EQ(file_bytes(path), small_job_text());
    EXPECT_FALSE(save_job(job, folder.path() / "not there" / "b.sillwright"));
    if (geteuid() == 0) {
        return;  // permissions do not bind the administrator
    }
    std::filesystem::remove_all(path.string() + "~");
    std::filesystem::permissions(folder.path(),
                                 std::filesystem::perms::owner_read | std::filesystem::perms::owner_exec);
    EXPECT_FALSE(save_job(job, path));
    EXPECT_EQ(file_bytes(path), small_job_text());
}

/// Lets no file grow beyond `bytes` for as long as it lives: what a full disk does to a writer.
class SmallDisk {
public:
    explicit SmallDisk(rlim_t bytes) {
        getrlimit(RLIMIT_FSIZE, &before_);
        std::signal(SIGXFSZ, SIG_IGN);
        const rlimit small{bytes, before_.rlim_max};
        setrlimit(RLIMIT_FSIZE, &small);
    }
    SmallDisk(const SmallDisk&) = delete;
    SmallDisk& operator=(const SmallDisk&) = delete;
    ~SmallDisk() {
        setrlimit(RLIMIT_FSIZE, &before_);
        std::signal(SIGXFSZ, SIG_DFL);
    }

private:
    rlimit before_{};
};

TEST(JobFile, AFullDiskLosesNothing) {
    const TestFolder folder;
    const auto path = folder.path() / "a.sillwright";
    Job job = small_job();
    ASSERT_TRUE(save_job(job, path));
    job.revision = "B";
    ASSERT_TRUE(save_job(job, path));
    const std::string now = file_bytes(path);
    job.vehicle = std::string(20000, 'x');
    {
        const SmallDisk disk(small_job_text().size() + 1000);  // the kept version fits, the new one does not
        EXPECT_FALSE(save_job(job, path));
    }
    EXPECT_EQ(file_bytes(path), now);
    {
        const SmallDisk disk(100);
        EXPECT_FALSE(save_job(job, path));
    }
    EXPECT_EQ(file_bytes(path), now);
    EXPECT_TRUE(read_job(path.string() + "~"));
    EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder.path()), {}), 2) << "a temporary file is left";
}

TEST(JobFile, AJobThatWouldNotOpenIsNotSaved) {
    const TestFolder folder;
    const auto path = folder.path() / "a.sillwright";
    ASSERT_TRUE(save_job(small_job(), path));
    Job job = small_job();
    job.mounts[1].name = job.mounts[0].name;
    const auto saved = save_job(job, path);
    ASSERT_FALSE(saved);
    EXPECT_THAT(saved.error().message, HasSubstr("/mounts/1/name"));
    EXPECT_EQ(file_bytes(path), small_job_text());
}

TEST(JobFile, FilesAreLookedForInTheJobsFolder) {
    const TestFolder folder;
    std::filesystem::create_directory(folder.path() / "job");
    std::filesystem::create_directory(folder.path() / "job/meshes");
    const auto path = folder.path() / "job/a.sillwright";
    const std::string head =
        R"({"version": 1, "side": "right", "skirt": {"pieces": [{"name": "s", "carried_by": "body", "file": )";
    put_file(path, head + R"({"path": "meshes/part.stl"}}]}})");
    const auto none = read_job(path);
    ASSERT_FALSE(none);
    EXPECT_THAT(none.error().message, HasSubstr("/skirt/pieces/0/file/path (line 1): there is no file"));
    put_file(folder.path() / "job/meshes/part.stl", "solid x");
    EXPECT_TRUE(read_job(path));
    put_file(folder.path() / "outside.stl", "solid x");
    std::filesystem::create_symlink(folder.path() / "outside.stl", folder.path() / "job/meshes/link.stl");
    put_file(path, head + R"({"path": "meshes/link.stl"}}]}})");
    const auto link = read_job(path);
    ASSERT_FALSE(link);
    EXPECT_THAT(link.error().message, HasSubstr("leads out of the job's folder"));
    std::filesystem::create_symlink("part.stl", folder.path() / "job/meshes/near.stl");
    put_file(path, head + R"({"path": "meshes/near.stl"}}]}})");
    EXPECT_TRUE(read_job(path)) << "a link inside the folder is no harm";
    put_file(path, head + R"({"path": "meshes"}}]}})");
    EXPECT_FALSE(read_job(path)) << "a folder is no mesh";
}

}  // namespace

}  // namespace sillwright::core
