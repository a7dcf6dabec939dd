// Broken job files, each made from one good one by a named edit.
#include <gmock/gmock.h>
#include <sys/resource.h>

#include <ostream>
#include <random>

#include "small_job.h"

namespace sillwright::core {

namespace {

using testing::HasSubstr;

struct BadJob {
    std::string name;
    std::string find, put;           ///< The edit of v1_small.sillwright: the first `find` becomes `put`.
    std::vector<std::string> place;  ///< What the message says of the place,
    std::string cure;                ///< and of what would be right.
};

void PrintTo(const BadJob& bad, std::ostream* out) {
    *out << bad.name;
}

class BadJobFile : public testing::TestWithParam<BadJob> {};

TEST_P(BadJobFile, IsRefusedWithPlaceAndCure) {
    const BadJob& bad = GetParam();
    const auto job = parse_job(edited(small_job_text(), bad.find, bad.put), "bad.sillwright");
    ASSERT_FALSE(job);
    EXPECT_EQ(job.error().code, geometry::ErrorCode::unreadable_file);
    const std::string& message = job.error().message;
    EXPECT_THAT(message, testing::StartsWith("bad.sillwright"));
    for (const std::string& place : bad.place) {
        EXPECT_THAT(message, HasSubstr(place));
    }
    EXPECT_THAT(message, HasSubstr(bad.cure));
    EXPECT_LT(message.size(), 500U);
}

// Lines are counted by hand in tests/data/jobs/v1_small.sillwright.
const std::vector<BadJob> k_bad_jobs{
    {"missing comma", "\"revision\": \"A\",", "\"revision\": \"A\"", {"(line 5, column 3)"}, "Expected: "},
    {"comma before the end", "\"along\": 810.25}", "\"along\": 810.25,}", {"(line 13, column 35)"}, "Expected: "},
    {"comment", "\"version\": 1,", "\"version\": 1, // first", {"(line 2, column 17)"}, "Expected: "},
    {"NaN", "\"survey_sd\": 0.5", "\"survey_sd\": NaN", {"(line 9, column 16)", "NaN"}, "leave the field out"},
    {"minus infinity",
     "\"survey_sd\": 0.5",
     "\"survey_sd\": -Infinity",
     {"(line 9, column 17)"},
     "leave the field out"},
    {"number beyond a double",
     "\"survey_sd\": 0.5",
     "\"survey_sd\": 1e999",
     {"(line 9, column 16)", "1e999"},
     "below 1 km"},
    {"longer than 1 km",
     "\"along\": 810.25",
     "\"along\": 1000001",
     {"/stations/2/along (line 13)", "1 km"},
     "the unit"},
    {"typed longer than 1 km", "15 3/4\\\"", "1000000 in", {"/stations/1/along (line 12)", "1 km"}, "the unit"},
    {"not UTF-8", "Hatch S", "Hatch \xFF", {"(line 3, column 21)"}, "UTF-8"},
    {"version missing", "\"version\": 1,", "", {"/version", "missing"}, "Write \"version\": 1"},
    {"newer version", "\"version\": 1", "\"version\": 2", {"/version (line 2)", "version 2"}, "newer program"},
    {"version in words", "\"version\": 1", "\"version\": \"one\"", {"/version (line 2)"}, "Write \"version\": 1"},
    {"version zero", "\"version\": 1", "\"version\": 0", {"/version (line 2)"}, "Write \"version\": 1"},
    {"key twice",
     "\"revision\": \"A\"",
     "\"side\": \"left\"",
     {"(line 6, column 3)", "\"side\" stands twice"},
     "Keep one"},
    {"text for a list", "\"stations\": [", "\"stations\": 4, \"stations_old\": [", {"/stations (line 10)"}, "[ ... ]"},
    {"number for an object", "{\"name\": \"1\", \"along\": 0}", "17", {"/stations/0 (line 11)", "17"}, "{ ... }"},
    {"length is true", "\"along\": 810.25", "\"along\": true", {"/stations/2/along (line 13)", "true"}, "38.5 mm"},
    {"length in words",
     "15 3/4\\\"",
     "about a foot",
     {"/stations/1/along (line 12)", "\"about a foot\" is not a length. Column 1"},
     "mm"},
    {"flag in words",
     "\"painted_after\": true",
     "\"painted_after\": \"yes\"",
     {"/doors/0/painted_after (line 80)"},
     "true or false"},
    {"angle in words",
     "\"opening_deg\": 68",
     "\"opening_deg\": \"68\"",
     {"/doors/0/opening_deg (line 77)"},
     "bare number"},
    {"name is a number", "{\"name\": \"1\"", "{\"name\": 1", {"/stations/0/name (line 11)"}, "quotation marks"},
    {"name is empty", "{\"name\": \"1\"", "{\"name\": \"\"", {"/stations/0/name (line 11)"}, "Write a name"},
    {"missing length", "\"out\": 62, ", "", {"/body/sections/0/nodes/0/out (line 20)", "missing"}, "Add it"},
    {"unknown side", "\"side\": \"left\"", "\"side\": \"driver\"", {"/side (line 6)", "driver"}, "\"left\", \"right\""},
    {"side left out", "\"side\": \"left\",", "", {"/side", "\"side\" is missing"}, "\"left\", \"right\""},
    {"unknown unit", "\"unit\": \"mm\"", "\"unit\": \"m\"", {"/unit (line 7)"}, "\"mm\", \"cm\", \"in\""},
    {"unknown keep-out",
     "\"kind\": \"jacking\"",
     "\"kind\": \"jack\"",
     {"/keep_outs/0/kind (line 64)"},
     "\"high voltage\""},
    {"date in words", "2026-03-14", "14 March", {"/date (line 5)", "14 March"}, "year-month-day"},
    {"station not found",
     "\"station\": \"1\"",
     "\"station\": \"7\"",
     {"/body/sections/0/station (line 18)", "\"7\""},
     "\"stations\""},
    {"stations out of order",
     "\"along\": 810.25",
     "\"along\": 300",
     {"/stations/2/along (line 13)", "\"2\""},
     "front to rear"},
    {"sections out of order",
     "\"station\": \"3\"",
     "\"station\": \"1\"",
     {"/body/sections/1/station (line 26)"},
     "front to rear"},
    {"station twice", "\"name\": \"2\"", "\"name\": \"1\"", {"/stations/1/name (line 12)"}, "its own"},
    {"node id twice",
     "\"id\": \"s6\"",
     "\"id\": \"b1\"",
     {"/skirt/pieces/0/sections/1/nodes/0/id (line 139)"},
     "its own"},
    {"node name twice",
     "\"name\": \"sill bottom\"",
     "\"name\": \"sill outer\"",
     {"/body/sections/0/nodes/1/name (line 21)"},
     "its own"},
    {"mount twice", "\"name\": \"H2\"", "\"name\": \"H1\"", {"/mounts/1/name (line 53)"}, "its own"},
    {"names in another order",
     R"("name": "sill outer", "out": 60, "up": 61, "radius": 6},
          {"id": "b5", "name": "sill bottom", "out": 58, "up": 15})",
     R"("name": "sill bottom", "out": 60, "up": 61, "radius": 6},
          {"id": "b5", "name": "sill outer", "out": 58, "up": 15})",
     {"/body/sections/1/nodes/1/name (line 29)", "another order"},
     "same order"},
    {"crossing section line",
     R"("name": "floor edge", "out": 10, "up": 15})",
     R"("name": "floor edge", "out": 10, "up": 15}, {"id": "bx", "name": "end", "out": 70, "up": 40})",
     {"/body/sections/0/nodes/2 (line 22)", "crosses itself", "\"sill outer\""},
     "out and up"},
    {"crossing closed section",
     R"("name": "inner", "out": 50, "up": 300})",
     R"("name": "inner", "out": 50, "up": 300}, {"id": "dx", "name": "end", "out": 110, "up": 200})",
     {"/doors/0/bodies/0/sections/0/nodes/", "crosses itself"},
     "out and up"},
    {"negative radius",
     "\"radius\": 6}",
     "\"radius\": -6}",
     {"/body/sections/0/nodes/0/radius (line 20)", "-6"},
     "zero or more"},
    {"run-out of no node",
     R"({"name": "bead", "along": 200})",
     R"({"name": "beat", "along": 200})",
     {"/skirt/pieces/0/run_outs/0/name (line 149)", "beat"},
     "a node that runs out"},
    {"axis without length", "[0, 0.02, -1]", "[0, 0, 0]", {"/mounts/0/axis (line 42)"}, "[0, 0, -1]"},
    {"axis of two numbers", "[0, 0.02, -1]", "[0, -1]", {"/mounts/0/axis (line 42)"}, "[0, 0, -1]"},
    {"sd of one length", "[0.5, 0.5, null]", "0.5", {"/mounts/0/sd (line 47)"}, "[along, out, up]"},
    {"negative sd", "[0.5, 0.5, null]", "[0.5, -0.5, null]", {"/mounts/0/sd/1 (line 47)"}, "zero or more"},
    {"hole size zero", "\"size\": 9", "\"size\": 0", {"/mounts/0/size (line 43)"}, "leave the field out"},
    {"slot shorter than wide",
     "\"slot_length\": 14",
     "\"slot_length\": 8",
     {"/mounts/0/slot_length (line 44)"},
     "over all"},
    {"grip the wrong way round",
     "\"grip_most\": 4.5",
     "\"grip_most\": 2",
     {"/mounts/0/fastener/grip_most (line 50)"},
     "\"grip_least\""},
    {"keep-out inside out",
     R"("to": {"along": 380)",
     R"("to": {"along": 180)",
     {"/keep_outs/0/to/along (line 66)"},
     "smaller value in \"from\""},
    {"hinge axis without length",
     R"("upper": {"along": 18, "out": 78, "up": 750})",
     R"("upper": {"along": 20, "out": 90, "up": 350})",
     {"/doors/0/hinge (line 73)"},
     "lower and the upper pin"},
    {"hinge pins changed about",
     R"("upper": {"along": 18, "out": 78, "up": 750})",
     R"("upper": {"along": 18, "out": 78, "up": 50})",
     {"/doors/0/hinge/upper/up (line 75)"},
     "Change the two about"},
    {"opening zero",
     "\"opening_deg\": 68",
     "\"opening_deg\": 0",
     {"/doors/0/opening_deg (line 77)"},
     "above 0 up to 180"},
    {"opening too far",
     "\"opening_deg\": 68",
     "\"opening_deg\": 180.5",
     {"/doors/0/opening_deg (line 77)"},
     "above 0 up to 180"},
    {"sag read at the hinge",
     "\"distance\": 1000",
     "\"distance\": 0",
     {"/doors/0/sag/distance (line 78)"},
     "measured length"},
    {"outline of two corners",
     R"({"along": 12, "up": 128},
        {"along": 790, "up": 130},)",
     "",
     {"/doors/0/outline (line 81)"},
     "Give all"},
    {"piece with two shapes",
     R"("name": "skirt",)",
     R"("name": "skirt", "file": {"path": "a.stl"},)",
     {"/skirt/pieces/0 (line 117)", "both sections and a file"},
     "Keep one"},
    {"sheet below zero",
     R"("sheet": "1/8\"")",
     R"("sheet": -3)",
     {"/skirt/pieces/0/sheet (line 121)", "-3"},
     "measured length"},
    {"carried by nobody",
     R"("carried_by": "body")",
     R"("carried_by": "bonnet")",
     {"/skirt/pieces/0/carried_by (line 119)", "bonnet"},
     "name of a door"},
    {"neutral line outside the sheet",
     "\"neutral_fraction\": 0.42",
     "\"neutral_fraction\": 42",
     {"/skirt/pieces/0/flange/neutral_fraction (line 123)"},
     "from 0 to 1"},
    {"limit below zero", "\"gap_shut\": 6", "\"gap_shut\": -6", {"/limits/gap_shut (line 155)"}, "zero or more"},
};

INSTANTIATE_TEST_SUITE_P(Table, BadJobFile, testing::ValuesIn(k_bad_jobs), [](const auto& bad) {
    std::string name = bad.param.name;
    for (char& c : name) {
        c = std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '_';
    }
    return name;
});

std::string message_of(const std::string& text) {
    const auto job = parse_job(text, "bad.sillwright");
    return job ? "no error" : job.error().message;
}

TEST(BadJobText, EveryCutIsRefused) {
    const std::string text = small_job_text();
    for (std::size_t size = 0; size + 2 < text.size(); size += 7) {  // the last two are the bracket and line feed
        EXPECT_FALSE(parse_job(text.substr(0, size), "bad.sillwright")) << "cut after " << size << " bytes";
    }
    EXPECT_THAT(message_of(text.substr(0, text.size() / 2)), HasSubstr("ends too early"));
    EXPECT_THAT(message_of(text.substr(0, text.size() / 2)), HasSubstr("with ~ at its end"));
}

TEST(BadJobText, EmptyFile) {
    EXPECT_THAT(message_of(""), HasSubstr("bad.sillwright: the file is empty"));
    EXPECT_THAT(message_of(" \n\n"), HasSubstr("with ~ at its end"));
}

TEST(BadJobText, AListIsNoJob) {
    EXPECT_THAT(message_of("[1, 2]"), HasSubstr("is not an object"));
}

TEST(BadJobText, PathsThatLeaveTheFolder) {
    for (const char* path :
         {"../a.stl", "meshes/../../a.stl", "/tmp/a.stl", "C:\\\\a.stl", "c:/a.stl", "a\\u0000.stl"}) {
        const std::string text =
            std::string(R"({"version": 1, "side": "right", "skirt": {"pieces": [{"name": "s", "carried_by": "body",)") +
            R"( "file": {"path": ")" + path + R"("}}]}})";
        EXPECT_THAT(message_of(text), HasSubstr("/skirt/pieces/0/file/path (line 1): the path leads out")) << path;
        EXPECT_THAT(message_of(text), HasSubstr("Copy the file beside the job"));
    }
}

TEST(BadJobText, DeepNesting) {
    for (const std::size_t depth : {65U, 1'000'000U}) {
        const std::string deep =
            R"({"version": 1, "later": )" + std::string(depth, '[') + std::string(depth, ']') + "}";
        EXPECT_THAT(message_of(deep), HasSubstr("(line 1, column "));
        EXPECT_THAT(message_of(deep), HasSubstr("nested deeper than 64"));
    }
    const std::string objects = std::string(R"({"a":)") + std::string(100, '[') + R"({"b")";
    EXPECT_THAT(message_of(objects), HasSubstr("nested deeper than 64"));
}

long peak_kilobytes() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return usage.ru_maxrss;
}

TEST(BadJobText, MemoryStaysBounded) {
    std::string many = R"({"version": 1, "later": [)";
    many.reserve(60'000'100);
    while (many.size() < 60'000'000) {
        many += "0,0,0,0,0,0,0,0,";
    }
    many += "0]}";
    const long before = peak_kilobytes();
    EXPECT_THAT(message_of(many), HasSubstr("more than 1000000 values"));
    EXPECT_LT(peak_kilobytes() - before, 20'000) << "kilobytes for a 60 MB file that is refused";
    many.append(10'000'000, ' ');
    EXPECT_THAT(message_of(many), HasSubstr("larger than 64 MB"));
}

TEST(BadJobText, TooManyFieldsInOneObject) {
    std::string text = R"({"version": 1)";
    for (int i = 0; i < 1100; ++i) {
        text += ", \"x" + std::to_string(i) + "\": 0";
    }
    EXPECT_THAT(message_of(text + "}"), HasSubstr("more than 1000 fields"));
}

// Bytes changed, cut out and doubled at random: an answer, never a crash.
TEST(BadJobText, DamageIsAnsweredNeverFatal) {
    const std::string text = small_job_text();
    std::mt19937 random(20260314);
    const auto below = [&](std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(random); };
    int refused = 0;
    for (int round = 0; round < 2000; ++round) {
        std::string damaged = text;
        const std::size_t at = below(text.size() - 40);
        switch (below(3)) {
            case 0:
                damaged[at] = static_cast<char>(below(256));
                break;
            case 1:
                damaged.erase(at, 1 + below(40));
                break;
            default:
                damaged.insert(at, damaged.substr(below(text.size() - 40), 1 + below(40)));
        }
        const auto job = parse_job(damaged, "bad.sillwright");
        if (job) {
            EXPECT_TRUE(parse_job(job_text(job.value()), "again")) << "taken, but not once written";
        } else {
            ++refused;
            EXPECT_LT(job.error().message.size(), 600U);
        }
    }
    EXPECT_GT(refused, 1000);
}

TEST(BadJobText, ALongWordIsCutInTheMessage) {
    const std::string text = edited(small_job_text(), "\"left\"", "\"" + std::string(100'000, 'x') + "\"");
    EXPECT_LT(message_of(text).size(), 500U);
}

TEST(BadJobText, LinesAreCountedWithMarksAndEscapes) {
    const std::string text =
        "\xEF\xBB\xBF{\n\"version\": 1, \"side\": \"left\",\n\"a[\\\"{\": [1, {\"b\": \"]}\\\"\"}],\n\"stations\": "
        "[\n{}]}";
    EXPECT_THAT(message_of(text), HasSubstr("/stations/0/name (line 5): the field \"name\" is missing"));
}

TEST(BadJobPlace, DirectoryMissingAndTooLarge) {
    const TestFolder folder;
    const auto at = [&](const char* name) { return folder.path() / name; };
    std::filesystem::create_directory(at("dir.sillwright"));
    const auto message = [](const std::filesystem::path& path) {
        const auto job = read_job(path);
        return job ? std::string("no error") : job.error().message;
    };
    EXPECT_THAT(message(at("dir.sillwright")), HasSubstr("dir.sillwright"));
    EXPECT_THAT(message(at("none.sillwright")), HasSubstr("none.sillwright"));
    put_file(at("big.sillwright"), "");
    std::filesystem::resize_file(at("big.sillwright"), 65ULL * 1024 * 1024);  // a hole, no bytes on the disk
    EXPECT_THAT(message(at("big.sillwright")), HasSubstr("big.sillwright"));
}

TEST(BadJobPlace, TheBrokenFileIsLeftAsItWas) {
    const TestFolder folder;
    const auto path = folder.path() / "a.sillwright";
    const std::string cut = small_job_text().substr(0, 900);
    put_file(path, cut);
    EXPECT_FALSE(read_job(path));
    EXPECT_EQ(file_bytes(path), cut);
    EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder.path()), {}), 1);
}

}  // namespace

}  // namespace sillwright::core
