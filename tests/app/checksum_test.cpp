#include "app/checksum.h"

#include <gtest/gtest.h>

#include <fstream>

namespace sillwright::app {
namespace {

TEST(Checksum, AgreesWithThePublishedExample) {
    const auto file = std::filesystem::path(testing::TempDir()) / "sillwright_checksum_abc";
    std::ofstream(file) << "abc";
    // FIPS 180-2, appendix B.1.
    EXPECT_EQ(sha256_of(file).value(), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    std::filesystem::remove(file);
}

TEST(Checksum, SaysWhichFileCannotBeRead) {
    const auto failed = sha256_of("/nowhere/at all.sillwright");
    ASSERT_FALSE(failed.has_value());
    EXPECT_NE(failed.error().message.find("/nowhere/at all.sillwright"), std::string::npos);
}

}  // namespace
}  // namespace sillwright::app
