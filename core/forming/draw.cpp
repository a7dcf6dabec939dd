#include "core/forming/draw.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <utility>

#include "core/forming/mould_faces.h"
#include "geometry/draft.h"
#include "geometry/section_faces.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Angle;
using geometry::in_deg;
using geometry::in_mm;
using geometry::in_rad;
using geometry::LeastDraft;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;
using geometry::radians;
using geometry::SectionFace;

namespace {

constexpr Angle k_female_draft = geometry::degrees(2.0);
constexpr Angle k_male_draft = geometry::degrees(3.0);
/// No wall has more draft than a face that is drawn straight at.
constexpr Angle k_square = geometry::degrees(90.0);
constexpr const char* k_mould_missing = "the mould: male or female";
/// For each of these depths of texture one degree more.
constexpr Length k_texture_of_a_degree = millimetres(0.025);
/// Roundings that have less draft than the strips are taken in until they have less by no more than this.
constexpr double k_same_rad = 1e-11;
/// Every round takes in what is worst; two or three are enough where the part leaves its mould at some tilt. Where a
/// rounding faces straight against all tilts there is no best one to be found.
constexpr int k_most_rounds = 8;

/// Adds the normals of roundings that have less than `draft` at the tilt. False if there are none.
bool add_worse(const MouldFaces& mould, Angle tilt, Angle draft, std::vector<Vector2d>& normals) {
    const std::size_t before = normals.size();
    for (const MouldFacesAt& section : mould.sections) {
        for (const SectionFace& face : section.faces) {
            if (face.rounding()) {
                const auto there = geometry::least_draft(face, tilt);
                if (there.draft < draft - radians(k_same_rad)) {
                    normals.push_back(face.normal_at(there.fraction));
                }
            }
        }
    }
    return normals.size() > before;
}

Angle least_of_roundings(const MouldFaces& mould, Angle tilt) {
    Angle least = k_square;
    for (const MouldFacesAt& section : mould.sections) {
        for (const SectionFace& face : section.faces) {
            if (face.rounding()) {
                least = std::min(least, geometry::least_draft(face, tilt).draft);
            }
        }
    }
    return least;
}

/// The least draft of all faces as far as it is needed: strips first, roundings where they are worse.
class Least {
public:
    explicit Least(const MouldFaces& mould) : mould_{mould} {
        for (const MouldFacesAt& section : mould.sections) {
            for (const SectionFace& face : section.faces) {
                if (!face.rounding()) {
                    geometry::add_normals(face, normals_);
                }
            }
        }
        normals_ = LeastDraft(normals_).normals();
    }

    geometry::BestTilt best(Angle from, Angle to) {
        auto found = LeastDraft(normals_).best(from, to);
        for (int round = 0; round < k_most_rounds && add_worse(mould_, found.tilt, found.draft, normals_); ++round) {
            found = LeastDraft(normals_).best(from, to);
        }
        return {found.tilt, std::min(found.draft, least_of_roundings(mould_, found.tilt))};
    }

    std::optional<geometry::TiltRange> enough(Angle draft, Angle from, Angle to) {
        auto found = LeastDraft(normals_).enough(draft, from, to);
        for (int round = 0; round < k_most_rounds && found; ++round) {
            const bool first = add_worse(mould_, found->from, draft, normals_);
            const bool last = add_worse(mould_, found->to, draft, normals_);
            if (!first && !last) {
                break;
            }
            found = LeastDraft(normals_).enough(draft, from, to);
        }
        return found;
    }

private:
    const MouldFaces& mould_;
    std::vector<Vector2d> normals_;
};

bool has_faces(const MouldFaces& mould) {
    return std::any_of(mould.sections.begin(), mould.sections.end(), [](const MouldFacesAt& section) {
        return std::any_of(section.faces.begin(), section.faces.end(),
                           [](const SectionFace& face) { return !face.rounding(); });
    });
}

/// A face of the mould by its name: a strip from a node to the next, or a rounding.
using FaceName = std::pair<std::size_t, std::size_t>;

std::vector<StripDraft> strip_drafts(const MouldFaces& mould, Angle tilt) {
    std::map<FaceName, StripDraft> least;  // In this order strips and roundings follow each other round the section.
    for (const MouldFacesAt& section : mould.sections) {
        for (const SectionFace& face : section.faces) {
            const auto there = geometry::least_draft(face, tilt);
            const FaceName name{face.from, face.to};
            const auto known = least.find(name);
            if (known == least.end() || there.draft < known->second.least) {
                least.insert_or_assign(name, StripDraft{mould.names[face.from], mould.names[face.to], there.draft,
                                                        section.along, face.point_at(there.fraction)});
            }
        }
    }
    std::vector<StripDraft> strips;
    for (auto& [name, strip] : least) {
        strips.push_back(std::move(strip));
    }
    return strips;
}

std::string face_words(const std::vector<std::string>& names, const FaceName& face) {
    return face.first == face.second ? "round " + names[face.first] : names[face.first] + " to " + names[face.second];
}

/// Looks along the car for where the mould holds which face.
class UndercutSearch {
public:
    UndercutSearch(const Job& job, const Piece& piece, const Loft& line, const MouldFaces& mould, Angle tilt)
        : job_{job}, piece_{piece}, line_{line}, mould_{mould}, tilt_{tilt}, keys_{line.key_places()} {}

    std::vector<Undercut> found() {
        std::map<FaceName, std::vector<std::size_t>> held_at;  // By face the numbers of sections.
        std::map<FaceName, std::vector<geometry::HeldFace>> held;
        for (std::size_t i = 0; i < mould_.sections.size(); ++i) {
            const auto& faces = mould_.sections[i].faces;
            for (const geometry::HeldFace& one : geometry::held_faces(faces, tilt_)) {
                const FaceName name{faces[one.face].from, faces[one.face].to};
                held_at[name].push_back(i);
                held[name].push_back(one);
            }
        }
        std::vector<Undercut> all;
        for (const auto& [name, sections] : held_at) {
            for (std::size_t first = 0; first < sections.size();) {
                std::size_t last = first;
                while (last + 1 < sections.size() && sections[last + 1] == sections[last] + 1) {
                    ++last;
                }
                all.push_back(stretch(name, sections, held[name], first, last));
                first = last + 1;
            }
        }
        return all;
    }

private:
    [[nodiscard]] Undercut stretch(const FaceName& name, const std::vector<std::size_t>& sections,
                                   const std::vector<geometry::HeldFace>& held, std::size_t first,
                                   std::size_t last) const {
        std::size_t deepest = first;
        for (std::size_t i = first; i <= last; ++i) {
            deepest = held[i].depth_mm > held[deepest].depth_mm ? i : deepest;
        }
        const std::size_t front = sections[first];
        const std::size_t rear = sections[last];
        Undercut one{mould_.sections[front].along,
                     mould_.sections[rear].along,
                     face_words(mould_.names, name),
                     millimetres(held[deepest].depth_mm),
                     mould_.sections[sections[deepest]].along,
                     held[deepest].at_mm};
        if (front > 0) {
            one.from = end_of(name, mould_.sections[front], mould_.sections[front - 1]);
        }
        if (rear + 1 < mould_.sections.size()) {
            one.to = end_of(name, mould_.sections[rear], mould_.sections[rear + 1]);
        }
        return one;
    }

    /// Between a section that is held there and one that is not.
    [[nodiscard]] Length end_of(const FaceName& name, const MouldFacesAt& held, const MouldFacesAt& free) const {
        if (held.stretch != free.stretch) {
            return held.along;
        }
        const geometry::LoftStretch stretch(line_, keys_[held.stretch], keys_[held.stretch + 1]);
        Length inside = held.along;
        Length outside = free.along;
        while (std::abs(in_mm(outside - inside)) > k_end_mm) {
            const Length middle = inside + (outside - inside) * 0.5;
            (is_held(name, stretch, middle) ? inside : outside) = middle;
        }
        return inside;
    }

    [[nodiscard]] bool is_held(const FaceName& name, const geometry::LoftStretch& stretch, Length along) const {
        const auto faces = mould_faces_at(job_, piece_, line_, stretch, along);
        if (!faces) {
            return false;  // Said in the plan: sections that cannot be drawn.
        }
        const auto all = geometry::held_faces(faces.value(), tilt_);
        return std::any_of(all.begin(), all.end(), [&](const geometry::HeldFace& one) {
            return FaceName(faces.value()[one.face].from, faces.value()[one.face].to) == name;
        });
    }

    const Job& job_;
    const Piece& piece_;
    const Loft& line_;
    const MouldFaces& mould_;
    Angle tilt_;
    std::vector<Length> keys_;
};

/// What is drawn upright where nothing says otherwise.
Angle nearest_to_level(const Forming& forming) {
    return std::clamp(Angle{}, forming.tilt_from, forming.tilt_to);
}

}  // namespace

std::optional<Angle> draft_needed(const Forming& forming) {
    if (forming.draft_least || !forming.mould) {
        return forming.draft_least;
    }
    const Angle smooth = *forming.mould == MouldKind::male ? k_male_draft : k_female_draft;
    return smooth + geometry::degrees(forming.texture.value / k_texture_of_a_degree);
}

Angle draw_tilt(const Job& job, const Piece& piece, const Loft& line) {
    const Forming& forming = job.forming;
    if (forming.tilt) {
        return *forming.tilt;
    }
    const MouldFaces mould = mould_faces(job, piece, line);
    return has_faces(mould) ? Least(mould).best(forming.tilt_from, forming.tilt_to).tilt : nearest_to_level(forming);
}

DrawPlan draw_plan(const Job& job, const Piece& piece, const Loft& line) {
    const Forming& forming = job.forming;
    const MouldFaces mould = mould_faces(job, piece, line);
    DrawPlan plan;
    plan.needed = draft_needed(forming);
    if (!plan.needed) {
        plan.missing.emplace_back(k_mould_missing);
    }
    for (const std::string& fault : mould.faults) {
        plan.missing.push_back("a section that can be drawn: " + fault);
    }
    if (!has_faces(mould)) {
        plan.tilt = plan.best = forming.tilt.value_or(nearest_to_level(forming));
        if (mould.faults.empty()) {
            plan.missing.push_back("the sections of " + piece.name);
        }
        return plan;
    }
    Least least(mould);
    const auto best = least.best(forming.tilt_from, forming.tilt_to);
    plan.best = best.tilt;
    plan.best_draft = best.draft;
    plan.tilt = forming.tilt.value_or(best.tilt);
    if (plan.needed && *plan.needed < k_square) {
        if (const auto enough = least.enough(*plan.needed, forming.tilt_from, forming.tilt_to)) {
            plan.from = enough->from;
            plan.to = enough->to;
        }
    }
    plan.strips = strip_drafts(mould, plan.tilt);
    plan.undercuts = UndercutSearch(job, piece, line, mould, plan.tilt).found();
    return plan;
}

std::vector<DraftPoint> draft_points(const Job& job, const Piece& piece, const Loft& line, Length along, Angle tilt) {
    const Length place = std::clamp(along, line.front(), line.rear());
    const auto faces = mould_faces_at(job, piece, line, geometry::LoftStretch::of(line, place), place);
    std::vector<DraftPoint> points;
    if (!faces) {
        return points;
    }
    for (const SectionFace& face : faces.value()) {
        const double turn_deg = in_deg(radians(std::abs(face.sweep_rad())));
        const int steps = face.rounding() ? std::max(2, static_cast<int>(std::ceil(turn_deg / k_point_turn_deg))) : 1;
        for (int i = 0; i <= steps; ++i) {
            const double fraction = static_cast<double>(i) / steps;
            points.push_back({(1.0 - fraction) * face.begins + fraction * face.ends, face.point_at(fraction),
                              geometry::draft_of(face.normal_at(fraction), tilt)});
        }
    }
    return points;
}

Angle draft_at(const std::vector<DraftPoint>& points, double mark) {
    assert(!points.empty());
    const auto behind =
        std::find_if(points.begin(), points.end(), [mark](const DraftPoint& point) { return point.mark >= mark; });
    if (behind == points.begin() || behind == points.end()) {
        return behind == points.end() ? points.back().draft : points.front().draft;
    }
    const DraftPoint& before = *(behind - 1);
    const double way = behind->mark - before.mark;
    return way > 0.0 ? before.draft + (behind->draft - before.draft) * ((mark - before.mark) / way) : behind->draft;
}

}  // namespace sillwright::core
