#include "core/survey/hinge_weakness.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace sillwright::core::survey {
namespace {

using geometry::degrees;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

geometry::HingeFit fit_with(const std::vector<double>& angles_deg, const std::vector<Eigen::Vector3d>& points) {
    geometry::HingeFit fit;
    for (const double angle : angles_deg) {
        fit.angles.push_back(degrees(angle));
    }
    fit.points_mm = points;
    return fit;
}

const std::vector<Eigen::Vector3d> k_wide{{1000, 0, 100}, {500, 0, 400}, {900, 0, 600}};

TEST(HingeWeakness, IsSilentOnAGoodSet) {
    EXPECT_THAT(hinge_weaknesses(fit_with({0, 15, 30, 45}, k_wide)), IsEmpty());
}

TEST(HingeWeakness, NamesEachWithWhatToAdd) {
    EXPECT_THAT(hinge_weaknesses(fit_with({0, 10, 15, 20}, k_wide)),
                ElementsAre(HasSubstr("opened over 20° only: measure the targets at wider openings")));
    EXPECT_THAT(hinge_weaknesses(fit_with({0, -30, -60}, k_wide)), ElementsAre(HasSubstr("3 openings only: add")));
    EXPECT_THAT(hinge_weaknesses(fit_with({0, 20, 40, 60}, {{1000, 0, 100}})),
                ElementsAre(HasSubstr("One target alone carries the axis: add two")));
    EXPECT_THAT(hinge_weaknesses(fit_with({0, 20, 40, 60}, {{1000, 0, 100}, {900, 0, 600}})),
                ElementsAre(HasSubstr("within 100 mm along: add one that is 400 mm or more away")));
}

TEST(HingeWeakness, NamesPinsThatAreNear) {
    EXPECT_THAT(pin_weaknesses({0, 0, 0}, {0, 0, 400}), IsEmpty());
    EXPECT_THAT(pin_weaknesses({0, 0, 0}, {0, 0, 60}), ElementsAre(HasSubstr("60 mm apart only")));
}

}  // namespace
}  // namespace sillwright::core::survey
