#include "app/link/section_gap.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "app/length_words.h"
#include "core/finding_words.h"

namespace sillwright::app {

using core::Finding;
using Eigen::Vector2d;
using geometry::Angle;
using geometry::in_deg;
using geometry::in_mm;
using geometry::Length;

namespace {

/// A finding's points are drawn in the section if they are no further from it: what they
/// stand on has the same shape there, seen at any scale.
constexpr double k_here_mm = 3.0;
/// A door that is turned to a finding's angle by hand, on a slider.
constexpr double k_same_angle_deg = 0.05;
/// A greater gap is seen without a magnifier.
constexpr double k_small_mm = 15.0;

std::string name_of_door(const std::string& finding_id) {
    // "swing/front door/moving"
    const std::size_t from = finding_id.find('/') + 1;
    return finding_id.substr(from, finding_id.rfind('/') - from);
}

bool is_here(const Finding& finding, Length along, const std::map<std::string, Angle>& openings) {
    const core::Place& place = finding.place;
    if (finding.stage != core::Stage::swing || !finding.found || !place.along || !place.on_part_mm ||
        !place.on_other_mm || std::abs(in_mm(*place.along - along)) > k_here_mm) {
        return false;
    }
    const auto turned = openings.find(name_of_door(finding.id));
    const Angle opening = turned == openings.end() ? Angle{} : turned->second;
    return std::abs(in_deg(place.door_angle.value_or(Angle{}) - opening)) <= k_same_angle_deg;
}

SectionGap gap_of(const Finding& finding, core::BareUnit unit) {
    const auto in_section = [](const Eigen::Vector3d& p_mm) { return Vector2d(p_mm.y(), p_mm.z()); };
    const auto words = [unit](double mm) {
        // With the sign that findings are written with, not a hyphen.
        return (mm < 0.0 ? "\u2212" : "") + short_number(geometry::millimetres(std::abs(mm)), unit);
    };
    SectionGap gap{
        in_section(*finding.place.on_part_mm), in_section(*finding.place.on_other_mm), {}, {}, {}, false, {}};
    gap.number = words(*finding.found) + " " + unit_word(unit);
    if (finding.required) {
        gap.words = "needs " + words(*finding.required) + "\n";
    }
    gap.words += core::look(finding.state).word;
    gap.state = finding.state;
    gap.small = *finding.found < k_small_mm;
    gap.item = {Item::Kind::finding, finding.id};
    return gap;
}

/// The nearest points of two straights that do not cross.
void take_nearer(const Vector2d& p, const Vector2d& a, const Vector2d& b, bool p_on_part, double& least,
                 SectionGap& gap) {
    const Vector2d run = b - a;
    const double length2 = run.squaredNorm();
    const double share = length2 > 0.0 ? std::clamp((p - a).dot(run) / length2, 0.0, 1.0) : 0.0;
    const Vector2d foot = a + share * run;
    const double distance = (p - foot).norm();
    if (distance < least) {
        least = distance;
        gap.on_part_mm = p_on_part ? p : foot;
        gap.on_other_mm = p_on_part ? foot : p;
    }
}

struct Box {
    Vector2d low = Vector2d::Constant(std::numeric_limits<double>::infinity());
    Vector2d high = -low;
    void take(const Vector2d& p) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    [[nodiscard]] double distance(const Vector2d& p) const { return (low - p).cwiseMax(p - high).cwiseMax(0.0).norm(); }
};

Box box_of(const SectionLine& line) {
    Box box;
    for (const Vector2d& p : line.points_mm) {
        box.take(p);
    }
    return box;
}

/// Points of `from` against the straights of `to`.
void search(const SectionLine& from, const SectionLine& to, bool from_part, double& least, SectionGap& gap) {
    const Box box = box_of(to);
    const std::size_t count = to.points_mm.size();
    const std::size_t straights = to.closed ? count : count - 1;
    for (const Vector2d& p : from.points_mm) {
        if (box.distance(p) >= least) {
            continue;
        }
        for (std::size_t i = 0; i < straights; ++i) {
            take_nearer(p, to.points_mm[i], to.points_mm[(i + 1) % count], from_part, least, gap);
        }
    }
}

void collect(const SectionPicture& picture, std::vector<const SectionLine*>& doors,
             std::vector<const SectionLine*>& skirt) {
    for (const SectionLine& line : picture.lines) {
        if (line.points_mm.size() < 2) {
            continue;
        }
        if (line.role == SectionRole::door) {
            doors.push_back(&line);
        } else if (line.role == SectionRole::skirt_outside) {
            skirt.push_back(&line);
        }
    }
    if (picture.under) {
        collect(*picture.under, doors, skirt);
    }
}

std::optional<SectionGap> gap_in_section(const SectionPicture& picture) {
    std::vector<const SectionLine*> doors;
    std::vector<const SectionLine*> skirt;
    collect(picture, doors, skirt);
    SectionGap gap;
    double least = k_small_mm;
    for (const SectionLine* door : doors) {
        for (const SectionLine* outside : skirt) {
            search(*door, *outside, false, least, gap);
            search(*outside, *door, true, least, gap);
        }
    }
    if (least >= k_small_mm) {
        return std::nullopt;
    }
    gap.number = short_number(geometry::millimetres(least), picture.unit) + " " + unit_word(picture.unit);
    gap.words = "in this section";
    gap.small = true;
    return gap;
}

}  // namespace

std::optional<SectionGap> gap_at(const core::Evaluation& evaluation, Length along,
                                 const std::map<std::string, Angle>& openings, const SectionPicture& picture) {
    // Worst first: the first that is here is the worst.
    const auto found = std::find_if(evaluation.findings.begin(), evaluation.findings.end(),
                                    [&](const Finding& finding) { return is_here(finding, along, openings); });
    return found != evaluation.findings.end() ? std::optional(gap_of(*found, picture.unit)) : gap_in_section(picture);
}

}  // namespace sillwright::app
