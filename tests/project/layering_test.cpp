// The dependency direction app -> core -> geometry, checked on the source text.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

namespace {

struct Layer {
    std::string folder;
    std::vector<std::string> forbidden;  // must not start any #include
};

TEST(Layering, NoFolderIncludesUpwards) {
    const std::filesystem::path root{SILLWRIGHT_SOURCE_DIR};
    const std::vector<Layer> layers{{"geometry", {"\"core/", "\"app/", "<Q"}}, {"core", {"\"app/", "<Q"}}};
    int files = 0;
    for (const Layer& layer : layers) {
        for (const auto& entry : std::filesystem::recursive_directory_iterator(root / layer.folder)) {
            const auto extension = entry.path().extension();
            if (extension != ".h" && extension != ".cpp") {
                continue;
            }
            ++files;
            std::ifstream in(entry.path());
            int number = 0;
            for (std::string line; std::getline(in, line);) {
                ++number;
                for (const std::string& prefix : layer.forbidden) {
                    EXPECT_FALSE(line.starts_with("#include " + prefix))
                        << entry.path() << ':' << number << ": " << line;
                }
            }
        }
    }
    EXPECT_GT(files, 0) << "wrong SILLWRIGHT_SOURCE_DIR? nothing was checked";
}

}  // namespace
