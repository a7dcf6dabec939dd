#include "core/handover/manifest.h"

#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

// Digests by coreutils' sha256sum.
constexpr const char* k_abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

TEST(Manifest, IsWhatSha256sumPrintsBelowOurLine) {
    EXPECT_EQ(manifest_text({{"buck/a.dxf", "abc"}}),
              "# sillwright handover 1, 1 files\n" + std::string(k_abc) + "  buck/a.dxf\n");
}

TEST(Manifest, IsReadBack) {
    const auto lines = parse_manifest(manifest_text({{"READ ME FIRST.txt", "abc"}, {"buck/a.dxf", ""}}));
    ASSERT_TRUE(lines);
    ASSERT_EQ(lines->size(), 2U);
    EXPECT_EQ((*lines)[0].path, "READ ME FIRST.txt");
    EXPECT_EQ((*lines)[0].sha256, k_abc);
    EXPECT_EQ((*lines)[1].path, "buck/a.dxf");
}

TEST(Manifest, RefusesAllElse) {
    const std::string whole = manifest_text({{"a", "abc"}, {"b", "abc"}});
    for (std::size_t length = 0; length < whole.size(); ++length) {
        EXPECT_FALSE(parse_manifest(whole.substr(0, length))) << length;
    }
    const std::string first = "# sillwright handover 1, 1 files\n";
    EXPECT_FALSE(parse_manifest("# of somebody else, 1 files\n" + std::string(k_abc) + "  a\n"));
    EXPECT_FALSE(parse_manifest(std::string(k_abc) + "  a\n"));
    EXPECT_FALSE(parse_manifest(first + std::string(k_abc) + "  ../a\n"));
    EXPECT_FALSE(parse_manifest(first + std::string(k_abc) + "  /etc/passwd\n"));
    EXPECT_FALSE(parse_manifest(first + "12345  a\n"));
    EXPECT_FALSE(parse_manifest(std::string("\0\0\0", 3)));
}

TEST(Manifest, KnowsWhatStaysInside) {
    for (const char* path : {"a", "a/b.dxf", "READ ME FIRST.txt", "a..b", ".a"}) {
        EXPECT_TRUE(stays_inside(path)) << path;
    }
    for (const char* path : {"", "/a", "a/", "a//b", "..", "a/../b", "./a", "a\\b", "a\nb"}) {
        EXPECT_FALSE(stays_inside(path)) << path;
    }
}

}  // namespace
}  // namespace sillwright::core
