// The real program, run as the shell runs it.
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <functional>
#include <iostream>
#include <iterator>
#include <memory>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <stdexcept>
#include <string>

#include "tests/core/small_job.h"

namespace {

using nlohmann::json;
using sillwright::core::file_bytes;
using sillwright::core::put_file;
using sillwright::core::TestFolder;

struct Ended {
    int code;
    std::string out;
};

/// Runs `line` after the program's name in a shell.
Ended shell(const std::string& line, const std::string& before = "") {
    const std::string command = before + " '" SILLWRIGHT_PROGRAM "' " + line;
    FILE* pipe = popen(command.c_str(), "r");
    if (pipe == nullptr) {
        ADD_FAILURE() << "no shell";
        return {-1, ""};
    }
    Ended ended{0, ""};
    std::array<char, 4096> buffer{};
    for (std::size_t n = 0; (n = fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
        ended.out.append(buffer.data(), n);
    }
    const int status = pclose(pipe);
    ended.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return ended;
}

/// A display that is not there must not be looked for.
const std::string k_no_display = "env -u DISPLAY -u WAYLAND_DISPLAY -u QT_QPA_PLATFORM";

TEST(Program, TellsItsVersionAndHelpWithoutADisplay) {
    EXPECT_EQ(shell("--version", k_no_display).out, "sillwright " SILLWRIGHT_VERSION "\n");
    const Ended help = shell("--help", k_no_display);
    EXPECT_EQ(help.code, 0);
    EXPECT_NE(help.out.find("Examples"), std::string::npos);
    EXPECT_NE(shell("check --help", k_no_display).out.find("--json"), std::string::npos);
}

TEST(Program, WrongWordsEndWithTwo) {
    const Ended ended = shell("chek a.sillwright 2>&1");
    EXPECT_EQ(ended.code, 2);
    EXPECT_EQ(ended.out, "sillwright: There is no command \"chek\". Did you mean \"check\"?\n");
    EXPECT_EQ(shell("chek a.sillwright 2>/dev/null").out, "") << "errors are not results";
}

TEST(Program, AnOutputThatCannotBeWrittenIsSaid) {
    const Ended full = shell("--help 2>&1 >/dev/full");
    EXPECT_EQ(full.code, 2);
    EXPECT_NE(full.out.find("No space left on device"), std::string::npos);
    EXPECT_EQ(shell("--help 2>/dev/null >&-").code, 2);
    EXPECT_EQ(shell("--version 2>&- <&-").code, 0);
}

TEST(Program, AReaderThatGoesAwayIsNoError) {
    // The reader, true, has gone long before the first letter.
    const Ended gone = shell("--help 2>&1; echo \"ended $?\" >&2; } | true; } 2>&1", "{ { sleep 0.3; ");
    EXPECT_EQ(gone.out, "ended 0\n");
}

TEST(Program, WithoutADisplayTheWindowSaysSo) {
    const Ended ended = shell("2>&1", k_no_display);
    EXPECT_EQ(ended.code, 2);
    EXPECT_NE(ended.out.find("There is no display"), std::string::npos);
    EXPECT_NE(ended.out.find("sillwright check JOB"), std::string::npos);
}

TEST(Program, WritesAPictureOfTheWindowWithoutADisplay) {
    const auto file = std::filesystem::path(testing::TempDir()) / "sillwright_window.png";
    std::filesystem::remove(file);
    const std::string words = "--picture '" + file.string() + "' 2>&1";
    EXPECT_EQ(shell(words, k_no_display).code, 0);
    EXPECT_GT(std::filesystem::file_size(file), 1000U);
    const Ended again = shell(words, k_no_display);
    EXPECT_EQ(again.code, 2);
    EXPECT_NE(again.out.find("exists already"), std::string::npos);
    std::filesystem::remove(file);
    EXPECT_EQ(shell("--picture /nowhere/at/all.png 2>&1", k_no_display).code, 2);
}

const std::string k_estate = SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright";

/// Estate A, which holds everywhere, with something done to it, in a folder of its own.
class ChangedEstate : public testing::Test {
protected:
    /// Words for the shell: the job file's name in quotation marks.
    std::string changed(const std::function<void(json& job)>& change) {
        json job = json::parse(file_bytes(k_estate));
        change(job);
        return written(job.dump(1));
    }
    std::string written(const std::string& text) {
        put_file(folder_.path() / "job.sillwright", text);
        return "'" + (folder_.path() / "job.sillwright").string() + "'";
    }
    /// 30 mm is more than the gap that there is, about 9 mm.
    static void ask_too_much(json& job) { job["limits"]["gap_shut"] = 30; }
    static void forget_a_hinge(json& job) { job["doors"][0].erase("hinge"); }

    TestFolder folder_;
};

TEST(Program, EstateAHoldsAndIsQuick) {
    const auto start = std::chrono::steady_clock::now();
    const Ended ended = shell("check '" + k_estate + "' 2>&1", k_no_display);
    const std::chrono::duration<double> time = std::chrono::steady_clock::now() - start;
    EXPECT_EQ(ended.code, 0) << ended.out;
    EXPECT_NE(ended.out.find("Worst margin: +"), std::string::npos);
    // Printed, not asked for: this machine may be busy with other things.
    std::cout << "sillwright check, Estate A, whole process: " << time.count() << " s\n";
}

TEST_F(ChangedEstate, WhatFallsShortEndsWithOne) {
    const Ended ended = shell("check " + changed(ask_too_much), k_no_display);
    EXPECT_EQ(ended.code, 1);
    EXPECT_NE(ended.out.find("falls short"), std::string::npos);
}

TEST_F(ChangedEstate, WhatIsNotMeasuredEndsWithFour) {
    const Ended ended = shell("check " + changed(forget_a_hinge), k_no_display);
    EXPECT_EQ(ended.code, 4);
    EXPECT_NE(ended.out.find("the hinge axis of front door"), std::string::npos);
}

TEST_F(ChangedEstate, FallingShortWinsOverNotMeasured) {
    const std::string job = changed([](json& both) {
        ask_too_much(both);
        forget_a_hinge(both);
    });
    EXPECT_EQ(shell("check " + job, k_no_display).code, 1);
}

/// The job's file, the place in it, and what would be right; nothing on standard output.
void expect_refused(const std::string& job, const std::string& place, const std::string& cure) {
    for (const std::string& command : {"check " + job, "check --json " + job}) {
        const Ended told = shell(command + " 2>&1 >/dev/null", k_no_display);
        EXPECT_EQ(told.code, 2);
        for (const std::string& part : {std::string("job.sillwright"), place, cure}) {
            EXPECT_NE(told.out.find(part), std::string::npos) << part << " is not in: " << told.out;
        }
        EXPECT_EQ(shell(command + " 2>/dev/null", k_no_display).out, "");
    }
}

TEST_F(ChangedEstate, AWrongNumberIsRefusedWithItsPlaceAndCure) {
    const std::string job = changed([](json& wrong) { wrong["stations"][2]["along"] = "38 furlongs"; });
    expect_refused(job, "/stations/2/along (line ", "write mm, cm, m, in");
}

TEST_F(ChangedEstate, StationsOutOfOrderAreRefused) {
    const std::string job = changed([](json& wrong) { wrong["stations"][2]["along"] = -5; });
    expect_refused(job, "/stations/2", "along");
}

TEST_F(ChangedEstate, ATruncatedFileIsRefused) {
    const std::string whole = file_bytes(k_estate);
    expect_refused(written(whole.substr(0, whole.size() / 2)), "line ", "");
}

TEST_F(ChangedEstate, AMeshThatIsNotThereIsRefused) {
    const std::string job = changed([](json& wrong) {
        json& body = wrong["doors"][0]["bodies"][0];
        body.erase("sections");
        body["file"] = {{"path", "no such.stl"}};
    });
    expect_refused(job, "no such.stl", "");
}

TEST_F(ChangedEstate, AFileThatIsNotThereIsRefused) {
    const std::string job = "'" + (folder_.path() / "job.sillwright").string() + "'";
    expect_refused(job, "", "");
}

TEST_F(ChangedEstate, AHandoverFolderIsWrittenWithAllThatIsInIt) {
    const auto folder = folder_.path() / "handover";
    const std::string words = "handover '" + k_estate + "' --to '" + folder.string() + "'";
    const Ended ended = shell(words + " 2>&1", k_no_display);
    EXPECT_EQ(ended.code, 0) << ended.out;
    EXPECT_NE(ended.out.find("Written to " + folder.string()), std::string::npos);
    // Every file that is there is named.
    std::size_t there = 0;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
        if (entry.is_regular_file()) {
            ++there;
            const std::string name = std::filesystem::relative(entry.path(), folder).string();
            EXPECT_NE(ended.out.find("\n  " + name + "\n"), std::string::npos) << name;
        }
    }
    EXPECT_GT(there, 40U) << "sheets, ten stations, the part, papers, templates, findings and cautions";
    EXPECT_EQ(json::parse(file_bytes(folder / "findings.json"))["program"], "sillwright");

    put_file(folder / "my notes.txt", "mine");
    EXPECT_EQ(shell(words + " 2>&1", k_no_display).code, 0) << "written anew";
    EXPECT_EQ(file_bytes(folder / "my notes.txt"), "mine");
    put_file(folder / "findings.json", "changed by hand");
    EXPECT_EQ(shell(words + " 2>&1", k_no_display).code, 2);
    EXPECT_EQ(file_bytes(folder / "findings.json"), "changed by hand");
}

TEST_F(ChangedEstate, AFolderOfSomebodyElseIsLeftAlone) {
    put_file(folder_.path() / "theirs.txt", "theirs");
    const Ended ended =
        shell("handover '" + k_estate + "' --to '" + folder_.path().string() + "' 2>&1 >/dev/null", k_no_display);
    EXPECT_EQ(ended.code, 2);
    EXPECT_NE(ended.out.find(folder_.path().string()), std::string::npos);
    EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder_.path()), {}), 1);
}

/// What only the model can find: the piece, the door or the file, the place in it, and what would be right.
struct BadModel {
    std::string name;
    std::function<void(json& job, const std::filesystem::path& folder)> damage;
    std::vector<std::string> words;
};

void PrintTo(const BadModel& bad, std::ostream* out) {
    *out << bad.name;
}

json& skirt_piece(json& job) {
    return job["skirt"]["pieces"][0];
}

/// As it reads without the line breaks of a narrow page.
std::string on_one_line(const std::string& text) {
    return std::regex_replace(text, std::regex("\\s+"), " ");
}

// What is drawn in part is not measured yet: never a refusal.
TEST_F(ChangedEstate, WhatIsDrawnInPartIsNotMeasured) {
    const std::string one_section = changed([](json& job) {
        json& sections = skirt_piece(job)["sections"];
        sections.erase(sections.begin() + 1, sections.end());
    });
    const Ended ended = shell("check " + one_section, k_no_display);
    EXPECT_EQ(ended.code, 4) << ended.out;
    EXPECT_NE(ended.out.find("a second section of skirt"), std::string::npos);
    const std::string gone = changed([](json& job) { skirt_piece(job)["sections"][5]["nodes"].erase(2); });
    const Ended told = shell("check " + gone, k_no_display);
    EXPECT_EQ(told.code, 4) << told.out;
    EXPECT_NE(on_one_line(told.out).find("shelf edge of skirt at station 6, or where it runs out"), std::string::npos);
}

json& skirt_node(json& job, std::size_t section, const std::string& name) {
    for (json& node : skirt_piece(job)["sections"][section]["nodes"]) {
        if (node["name"] == name) {
            return node;
        }
    }
    throw std::invalid_argument("the sample has no node " + name);
}

/// The front door's panel is in a file of these bytes.
std::function<void(json&, const std::filesystem::path&)> door_file(const std::string& name, const std::string& bytes) {
    return [=](json& job, const std::filesystem::path& folder) {
        put_file(folder / name, bytes);
        json& body = job["doors"][0]["bodies"][0];
        body.erase("sections");
        body["file"] = {{"path", name}};
    };
}

const std::string k_text_triangle =
    "solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 nan 0\nvertex 0 1 0\nendloop\nendfacet\n"
    "endsolid a\n";
/// 2 GB of points and faces are claimed, and are not there.
const std::string k_large_ply =
    "ply\nformat binary_little_endian 1.0\nelement vertex 178956970\nproperty float x\nproperty float y\n"
    "property float z\nelement face 2147483647\nproperty list uchar int vertex_indices\nend_header\n" +
    std::string(64, '\0');
const std::string k_large_stl = std::string(80, 'x') + std::string("\xff\xff\xff\x7f", 4) + std::string(100, '\0');
const std::string k_cut_step =
    "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('','',(''),(''),'','','');\n"
    "FILE_SCHEMA(('AUTOMOTIVE_DESIGN'));\nENDSEC;\nDATA;\n#1=CARTESIAN_POINT('',(0.,0.,";

const std::vector<BadModel> k_bad_models{
    {"a radius that does not fit",
     [](json& job, const std::filesystem::path&) { skirt_node(job, 4, "shelf edge")["radius"] = 200; },
     {"skirt piece \"skirt\"", "station 5", "'shelf edge'", "mm or less fits"}},
    {"a doors radius that does not fit",
     [](json& job, const std::filesystem::path&) {
         job["doors"][0]["bodies"][0]["sections"][1]["nodes"][1]["radius"] = 5000;
     },
     {"door \"front door\", \"door panel\"", "station 2", "'skin low'", "mm or less fits"}},
    {"a sheet thicker than fits",
     [](json& job, const std::filesystem::path&) {
         skirt_piece(job)["drawn_face"] = "outside";
         skirt_piece(job)["sheet"] = 60;
     },
     {"skirt piece \"skirt\"", "fits"}},
    {"a section that folds between two stations",
     [](json& job, const std::filesystem::path&) {
         // From station 6 on it is turned half about: on the way it shrinks to nothing.
         for (std::size_t i = 5; i < skirt_piece(job)["sections"].size(); ++i) {
             json& sections = skirt_piece(job)["sections"][i]["nodes"];
             for (json& node : sections) {
                 node["radius"] = 0;
                 node["up"] = 130.0 - node["up"].get<double>();
                 node["out"] = 130.0 - node["out"].get<double>();
             }
         }
     },
     {"skirt piece \"skirt\"", "between stations 5 and 6"}},
    {"a run-out in the wrong gap",
     [](json& job, const std::filesystem::path&) {
         skirt_piece(job)["run_outs"] = json::array({{{"name", "knee"}, {"along", 100}}});
     },
     {"skirt piece \"skirt\"", "'knee'", "100.00 mm", "move it there or take it out"}},
    {"an outline beside its door",
     [](json& job, const std::filesystem::path&) {
         for (json& corner : job["doors"][0]["outline"]) {
             corner["along"] = corner["along"].get<double>() + 5000.0;
         }
     },
     {"door \"front door\", \"door panel\"", "leaves nothing", "must overlap"}},
    {"an outline that crosses itself",
     [](json& job, const std::filesystem::path&) {
         std::swap(job["doors"][0]["outline"][2], job["doors"][0]["outline"][5]);
     },
     {"door \"front door\", \"door panel\"", "crosses itself", "in order"}},
    {"a mesh with a coordinate that is none",
     door_file("door.stl", k_text_triangle),
     {"door.stl", "line 5", "not a finite number", "export the mesh again"}},
    {"a mesh of 2 GB that are not there",
     door_file("door.stl", k_large_stl),
     {"door.stl", "byte 80", "claims 2147483647 triangles", "export the mesh again"}},
    {"points of 2 GB that are not there",
     door_file("door.ply", k_large_ply),
     {"door.ply", "line 3", "claims 178956970", "export again"}},
    {"a face of a point that is not there",
     door_file("door.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 2147483647\n"),
     {"door.obj", "line 4", "2147483647", "export the mesh again"}},
    {"an empty mesh", door_file("door.stl", ""), {"door.stl", "is empty", "export the mesh again"}},
    {"a STEP file of garbage",
     door_file("door.step", std::string("\0\1 no STEP at all", 17)),
     {"door.step", "does not start with ISO-10303-21", "export it again"}},
    {"a STEP file cut short", door_file("door.stp", k_cut_step), {"door.stp", "cut short", "copy it again"}},
    {"a file of another kind", door_file("door.xyz", "0 0 0"), {"door.xyz", ".stl, .obj and .ply", "save the mesh"}},
};

class BadModelTest : public ChangedEstate, public testing::WithParamInterface<BadModel> {};

TEST_P(BadModelTest, IsRefusedWithPlaceAndCure) {
    const std::string job = changed([&](json& wrong) { GetParam().damage(wrong, folder_.path()); });
    const Ended told = shell("check " + job + " 2>&1 >/dev/null", k_no_display);
    EXPECT_EQ(told.code, 2) << told.out;
    for (const std::string& part : GetParam().words) {
        EXPECT_NE(told.out.find(part), std::string::npos) << part << " is not in: " << told.out;
    }
    EXPECT_LT(told.out.size(), 500U);
    EXPECT_EQ(shell("check --json " + job + " 2>/dev/null", k_no_display).out, "") << "an error is no result";
    const auto to = folder_.path() / "out";
    EXPECT_EQ(shell("handover " + job + " --to '" + to.string() + "' 2>/dev/null", k_no_display).code, 2);
    EXPECT_FALSE(std::filesystem::exists(to)) << "nothing is handed over";
}

INSTANTIATE_TEST_SUITE_P(Table, BadModelTest, testing::ValuesIn(k_bad_models), [](const auto& bad) {
    std::string name = bad.param.name;
    std::replace_if(
        name.begin(), name.end(), [](unsigned char c) { return std::isalnum(c) == 0; }, '_');
    return name;
});

/// All keys of all objects in `value`.
void gather_keys(const json& value, std::set<std::string>& keys) {
    for (const auto& item : value.items()) {
        if (value.is_object()) {
            keys.insert(item.key());
        }
        if (item.value().is_structured()) {
            gather_keys(item.value(), keys);
        }
    }
}

/// The words in quotation marks in the format's description.
std::set<std::string> described_words() {
    const std::string text = file_bytes(SILLWRIGHT_SOURCE_DIR "/app/terminal/findings_json.h");
    const std::regex quoted("\"([a-z0-9_]+)\"");
    std::set<std::string> words;
    for (auto it = std::sregex_iterator(text.begin(), text.end(), quoted); it != std::sregex_iterator(); ++it) {
        words.insert((*it)[1]);
    }
    return words;
}

TEST_F(ChangedEstate, EveryKeyOfTheJsonIsDescribedAndThere) {
    // Some 3 mm more than there is: a mend can be found.
    const auto ask_more = [](json& job) {
        job["limits"]["gap_moving_edge"] = 14;
        job["fitting"]["part_half"] = 2;  // and slots too short, which a field written anew mends
    };
    const Ended ended = shell("check --json " + changed(ask_more), k_no_display);
    EXPECT_EQ(ended.code, 1);
    const json read = json::parse(ended.out);
    std::set<std::string> keys;
    gather_keys(read, keys);
    // Words that the description has as values, and keys that this job has no use for.
    std::set<std::string> described = described_words();
    for (const char* word : {"sillwright",
                             "left",
                             "right",
                             "measure",
                             "sections",
                             "mounts",
                             "swing",
                             "forming",
                             "buck",
                             "handover",
                             "at_least",
                             "at_most",
                             "mm",
                             "deg",
                             "n",
                             "none",
                             "shut_on_striker",
                             "shut_off_striker",
                             "moving",
                             "past_shut",
                             "free",
                             "within_tolerance"}) {
        described.erase(word);
    }
    keys.erase("moving");  // also the word for a case
    for (const std::string& key : keys) {
        // "by unit: found_deg …, found_n …, or found …"
        const std::string stem = key.substr(0, key.ends_with("_n") ? key.size() - 2 : key.find("_deg"));
        EXPECT_TRUE(described.contains(key) || described.contains(stem + "_mm")) << key << " is not described";
    }
    for (const std::string& key : described) {
        const bool only_with_limits = read["door_limits"].empty() && key == "chains";
        EXPECT_TRUE(keys.contains(key) || only_with_limits) << key << " is described, but is not there";
    }
}

TEST_F(ChangedEstate, TheJsonHasItsNumbers) {
    const json read = json::parse(shell("check --json '" + k_estate + "'", k_no_display).out);
    EXPECT_EQ(read["job"]["side"], "right");
    EXPECT_EQ(read["job"]["sha256"].get<std::string>().size(), 64U);
    ASSERT_EQ(read["clearance_curves"].size(), 2U) << "two doors, one skirt";
    for (const json& curve : read["clearance_curves"]) {
        const json& points = curve["points"];
        double before = -1.0;
        double least = points[0]["clearance_mm"];
        for (const json& point : points) {
            const double angle = point["door_angle_deg"];
            EXPECT_GT(angle, before);
            EXPECT_LE(angle - before, before < 0.0 ? 1.0 : 0.5 + 1e-9);
            before = angle;
            least = std::min(least, point["clearance_mm"].get<double>());
        }
        EXPECT_EQ(points[0]["door_angle_deg"], 0.0);
        // No angle of the curve has less than the proven distance of the same pair.
        const auto same_pair = [&](const json& one) {
            return one["case"] == "moving" && one["door"] == curve["door"] && one["moving"] == curve["moving"] &&
                   one["fixed"] == curve["fixed"];
        };
        const json& distances = read["swing_distances"];
        const auto found = std::find_if(distances.begin(), distances.end(), same_pair);
        ASSERT_NE(found, distances.end());
        EXPECT_GE(least, (*found)["proven_for_meshes_mm"].get<double>());
        EXPECT_NE(std::find_if(read["findings"].begin(), read["findings"].end(),
                               [&](const json& finding) { return finding["id"] == curve["id"]; }),
                  read["findings"].end());
    }
}

}  // namespace
