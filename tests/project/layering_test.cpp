// The dependency direction app -> core -> geometry, checked on the source text.
#include <gtest/gtest.h>

#include <regex>
#include <string>
#include <vector>

#include "tests/project/source_tree.h"

namespace sillwright::project {
namespace {

struct Include {
    std::string file;
    std::string name;  ///< With its quotation marks or angle brackets.
};

std::vector<Include> includes_below(const std::string& folder) {
    static const std::regex pattern(R"(^\s*#\s*include\s*(["<][^">]*[">]).*)");
    std::vector<Include> includes;
    for (const std::string& file : files_below(folder, {".h", ".cpp"})) {
        for (const std::string& line : lines_of(file)) {
            std::smatch match;
            if (std::regex_match(line, match, pattern)) {
                includes.push_back({file, match[1].str()});
            }
        }
    }
    EXPECT_FALSE(includes.empty()) << folder << ": nothing was checked";
    return includes;
}

struct Layer {
    std::string folder;
    std::vector<std::string> forbidden;  ///< Must not start any include.
};

TEST(Layering, NoFolderIncludesUpwards) {
    const std::vector<Layer> layers{
        {"geometry", {"\"core/", "\"app/", "\"tests/", "<Q"}},
        {"core", {"\"app/", "\"tests/", "<Q"}},
        {"app", {"\"tests/"}},
        {"tests/support", {"\"core/", "\"app/", "\"tests/geometry/", "\"tests/core/", "\"tests/app/", "<Q"}},
        {"tests/geometry", {"\"core/", "\"app/", "\"tests/core/", "\"tests/app/", "<Q"}},
        {"tests/core", {"\"app/", "\"tests/app/", "<Q"}},
        {"tests/reference", {"\"app/", "\"tests/app/", "<Q"}},
        {"tests/bench", {"\"app/", "\"tests/app/", "<Q"}},
        {"tests/project", {"\"app/", "\"core/", "\"geometry/", "<Q"}},
    };
    for (const Layer& layer : layers) {
        for (const Include& include : includes_below(layer.folder)) {
            for (const std::string& prefix : layer.forbidden) {
                EXPECT_FALSE(include.name.starts_with(prefix)) << include.file << " includes " << include.name;
            }
        }
    }
}

/// OpenCASCADE's own headers end in .hxx, and shape_access.h hands on its types.
bool is_of_the_kernel(const std::string& include) {
    return include.ends_with(".hxx>") || include.ends_with(".hxx\"") ||
           include.find("shape_access.h") != std::string::npos;
}

TEST(Layering, OnlyTheKernelFolderAndTheSolidPictureKnowOpenCascade) {
    int seen = 0;
    for (const std::string folder : {"geometry", "core", "app", "tests"}) {
        for (const Include& include : includes_below(folder)) {
            if (!is_of_the_kernel(include.name)) {
                continue;
            }
            ++seen;
            const bool may = include.file.starts_with("geometry/kernel/") ||
                             include.file.starts_with("tests/geometry/kernel/") ||
                             include.file == "app/drawings/solid_painter.cpp";
            EXPECT_TRUE(may) << include.file << " includes " << include.name;
        }
    }
    EXPECT_GT(seen, 10);
}

// What includes a kernel header needs OpenCASCADE's headers too.
TEST(Layering, KernelHeadersHideOpenCascade) {
    for (const Include& include : includes_below("geometry/kernel")) {
        if (include.file.ends_with(".h") && include.file != "geometry/kernel/shape_access.h") {
            EXPECT_FALSE(is_of_the_kernel(include.name)) << include.file << " includes " << include.name;
        }
    }
}

// The libraries that stand in judgement over our numbers take no part in them.
TEST(Layering, JudgesAreInTheTestsOnly) {
    for (const std::string folder : {"geometry", "core", "app"}) {
        for (const Include& include : includes_below(folder)) {
            for (const std::string judge : {"<fcl/", "<gtest/", "<gmock/", "<benchmark/"}) {
                EXPECT_FALSE(include.name.starts_with(judge)) << include.file << " includes " << include.name;
            }
        }
    }
}

}  // namespace
}  // namespace sillwright::project
