#include "core/forming/ladder.h"

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "core/mounts/landing.h"
#include "core/mounts/stack.h"
#include "core/skirt/flange_face.h"
#include "core/skirt/surface.h"
#include "core/skirt/thickness.h"
#include "geometry/corner.h"
#include "geometry/profile.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::millimetres;

namespace {

/// A face whose normal is within 45 degrees of a dimension lies square to it; beyond, its cut edge ends it.
constexpr double k_face_not_edge = std::numbers::sqrt2 / 2.0;
/// An opposite face nearer than this is the flange's own corner.
constexpr double k_opposite_mm = 1.0;

/// How often film and sheet lie on the mould's face, and skin on the buck: added to a size of the part (negative: taken
/// off) to have that of the mould's face, and added to that of the plug to have that of the buck.
struct Taken {
    double paint = 0.0, sheet = 0.0, skin = 0.0;
};

Taken taken(DimensionKind kind, MouldKind mould) {
    const double on_male = mould == MouldKind::male ? 1.0 : 0.0;
    switch (kind) {
        case DimensionKind::spacing:
            return {};
        case DimensionKind::outside:
            return {-2.0, -2.0 * on_male, -2.0};
        case DimensionKind::inside:
            return {0.0, 2.0 * (1.0 - on_male), -2.0};
        case DimensionKind::hollow:
            return {2.0, 2.0 * on_male, 2.0};
        case DimensionKind::face_to_edge:
        case DimensionKind::convex_radius:
            return {-1.0, -on_male, -1.0};
        case DimensionKind::concave_radius:
            return {1.0, on_male, 1.0};
    }
    return {};
}

/// What the steps of one dimension need, and what is missing for them.
struct Needs {
    Taken taken;
    std::vector<std::string> missing_part, missing_face, missing_chain, missing_buck;

    [[nodiscard]] std::vector<std::string> missing() const {
        std::vector<std::string> all;
        for (const auto* list : {&missing_part, &missing_face, &missing_chain, &missing_buck}) {
            all.insert(all.end(), list->begin(), list->end());
        }
        return all;
    }
};

Needs needs_of(const Job& job, const std::vector<ChainStep>& chain, const Dimension& dimension) {
    Needs needs;
    needs.taken = taken(dimension.kind, job.forming.mould.value_or(MouldKind::male));
    if (needs.taken.paint != 0.0 && !job.skirt.paint) {
        needs.missing_part.emplace_back("the skirt's film of paint (0 if it stays bare)");
    }
    if (dimension.kind != DimensionKind::spacing && !job.forming.mould) {
        needs.missing_face.emplace_back("whether the last mould is male or female");
    } else if (needs.taken.sheet != 0.0 && !dimension.sheet) {
        needs.missing_face.emplace_back("the sheet thickness");
    }
    needs.missing_chain = chain_size(chain, dimension.across).missing;
    if (needs.taken.skin != 0.0 && !job.forming.skin) {
        needs.missing_buck.emplace_back("the plug's skin over its ribs");
    }
    return needs;
}

/// Variance of what is put on so often: each end has its own.
double variance_of(double times, double sd_mm) {
    return std::abs(times) * sd_mm * sd_mm;
}

std::optional<Length> measured_on(const Job& job, const Dimension& dimension, std::size_t generation) {
    const auto& generations = job.forming.generations;
    const auto tick_in = [&](std::size_t i) -> const Tick* {
        if (i >= generations.size()) {
            return nullptr;
        }
        const auto& ticks = generations[i].ticks;
        const auto found = std::find_if(ticks.begin(), ticks.end(), [&](const Tick& tick) {
            return tick.name == dimension.name && tick.across == dimension.across;
        });
        return found == ticks.end() ? nullptr : &*found;
    };
    if (const Tick* const tick = tick_in(generation); tick != nullptr && tick->now) {
        return tick->now->value;
    }
    if (const Tick* const tick = tick_in(generation + 1); tick != nullptr && tick->before) {
        return tick->before->value;
    }
    return std::nullopt;
}

/// A size with its variance on the way down.
struct Size {
    double mm = 0.0, variance = 0.0;
    [[nodiscard]] Rung rung(const std::string& name) const {
        return {name, millimetres(mm), millimetres(std::sqrt(variance)), std::nullopt};
    }
};

void go_down_chain(const Job& job, const std::vector<ChainStep>& chain, LadderOf& ladder, Size& size) {
    const bool across = ladder.dimension.across;
    for (std::size_t i = chain.size(); i-- > 0;) {
        if (i == 0 && chain[0].kind == GenerationKind::plug) {
            return;
        }
        const double ratio = chain[i].ratio(across);
        const double of_ratio = size.mm * chain[i].sd(across) / ratio;
        size = {size.mm / ratio, (size.variance + of_ratio * of_ratio) / (ratio * ratio)};
        const std::string before = i > 0 ? chain[i - 1].name : "plug";
        if (const auto& growth = chain[i].hot_growth) {
            ladder.rungs.push_back(Size{size.mm * *growth, size.variance * *growth * *growth}.rung(before + ", hot"));
        }
        Rung rung = size.rung(before);
        if (i > 0) {
            rung.measured = measured_on(job, ladder.dimension, i - 1);
        }
        ladder.rungs.push_back(std::move(rung));
    }
}

std::optional<Length> sheet_at(const Piece& piece, const FormedSheet* formed, Length along, double mark) {
    if (formed != nullptr) {
        return formed->thickness_at(along, mark);
    }
    return piece.sheet ? std::optional(piece.sheet->value) : std::nullopt;
}

Length sheet_sd_of(const std::optional<Length>& sheet) {
    return sheet ? *sheet * (0.5 * k_forming_spread) : Length{};
}

/// What lies between the drawn line and the painted outside.
std::optional<Length> to_painted(const Job& job, const Piece& piece, const std::optional<Length>& sheet) {
    if (!job.skirt.paint || (piece.drawn_face == DrawnFace::inside && !sheet)) {
        return std::nullopt;
    }
    return (piece.drawn_face == DrawnFace::inside ? *sheet : Length{}) + job.skirt.paint->value;
}

/// A place of the drawn line that is furthest in some direction.
struct Furthest {
    Vector2d p_mm = Vector2d::Zero(), left = Vector2d::Zero();
    double mark = 0.0;
    bool found = false;
};

double mark_of(const std::vector<geometry::ProfileNode>& nodes, const geometry::Segment& segment, const Vector2d& p) {
    if (std::holds_alternative<geometry::ArcSegment>(segment.shape) || segment.node + 1 >= nodes.size()) {
        return static_cast<double>(segment.node);
    }
    const Vector2d run = nodes[segment.node + 1].p_mm - nodes[segment.node].p_mm;
    const double part = run.isZero() ? 0.0 : (p - nodes[segment.node].p_mm).dot(run) / run.squaredNorm();
    return static_cast<double>(segment.node) + std::clamp(part, 0.0, 1.0);
}

/// Fractions of a segment at which it can be furthest in `towards`: its ends, and where an arc is square to it.
std::vector<double> candidates(const geometry::Segment& segment, const Vector2d& towards) {
    std::vector<double> all{0.0, 1.0};
    if (const auto* const arc = std::get_if<geometry::ArcSegment>(&segment.shape)) {
        const double turn = in_rad(arc->sweep);
        const double at = std::atan2(towards.y(), towards.x()) - in_rad(arc->start);
        for (const double lap : {-4.0, -2.0, 0.0, 2.0, 4.0}) {
            const double fraction = (at + lap * std::numbers::pi) / turn;
            if (fraction > 0.0 && fraction < 1.0) {
                all.push_back(fraction);
            }
        }
    }
    return all;
}

Furthest furthest(const std::vector<geometry::ProfileNode>& nodes, const geometry::Profile& profile,
                  const Vector2d& towards) {
    Furthest best;
    for (const geometry::Segment& segment : profile.segments) {
        for (const double fraction : candidates(segment, towards)) {
            const Vector2d p = geometry::point_at(segment, fraction);
            if (!best.found || p.dot(towards) > best.p_mm.dot(towards)) {
                const Vector2d run = geometry::direction_at(segment, fraction);
                best = {p, Vector2d(-run.y(), run.x()), mark_of(nodes, segment, p), true};
            }
        }
    }
    return best;
}

class MainDimensions {
public:
    MainDimensions(const Job& job, const Piece& piece, const geometry::Loft& line, const FormedSheet* formed)
        : job_{job},
          piece_{piece},
          line_{line},
          formed_{formed},
          middle_{(line.front() + line.rear()) / 2.0},
          nodes_{line.nodes_at(middle_)} {}

    std::vector<Dimension> found() {
        length_over_all();
        between_holes();
        if (const auto profile = line_.section_at(middle_)) {
            over_section(k_section_height, profile.value(), Vector2d::UnitY());
            over_section("section depth", profile.value(), Vector2d::UnitX());
            inside_at_flange(profile.value());
        }
        for (std::size_t i = 0; i < nodes_.size(); ++i) {
            if (auto one = rounding(job_, piece_, line_, formed_, i, middle_)) {
                all_.push_back(std::move(*one));
            }
        }
        return std::move(all_);
    }

private:
    /// An end cap's plate lies within the drawn length.
    void length_over_all() {
        const int caps = (piece_.front_closed ? 1 : 0) + (piece_.rear_closed ? 1 : 0);
        if (caps > 0 && !job_.skirt.paint) {
            return;
        }
        const Length film = caps > 0 ? job_.skirt.paint->value : Length{};
        add("length over all",
            caps == 0   ? DimensionKind::spacing
            : caps == 1 ? DimensionKind::face_to_edge
                        : DimensionKind::outside,
            false, line_.rear() - line_.front() + film * static_cast<double>(caps),
            piece_.sheet ? std::optional(piece_.sheet->value) : std::nullopt);
    }

    void between_holes() {
        const auto face = FlangeFace::of(piece_, line_);
        if (!face) {
            return;
        }
        std::optional<std::pair<double, std::string>> first, last;
        for (const Mount& mount : job_.mounts) {
            const auto at = mount.use == MountUse::flange ? landing(mount, *face) : std::nullopt;
            if (!at || at->p_mm.x() < in_mm(line_.front()) || at->p_mm.x() > in_mm(line_.rear())) {
                continue;
            }
            const double place = at->p_mm.x() + (mount.part_shift ? in_mm(mount.part_shift->value) : 0.0);
            if (!first || place < first->first) {
                first = {place, mount.name};
            }
            if (!last || place > last->first) {
                last = {place, mount.name};
            }
        }
        if (first && last && first->second != last->second) {
            add(first->second + " to " + last->second, DimensionKind::spacing, false,
                millimetres(last->first - first->first), std::nullopt);
        }
    }

    void over_section(const std::string& name, const geometry::Profile& profile, const Vector2d& towards) {
        const std::array<std::pair<Furthest, Vector2d>, 2> ends{
            {{furthest(nodes_, profile, towards), towards}, {furthest(nodes_, profile, -towards), -towards}}};
        double value = (ends[0].first.p_mm - ends[1].first.p_mm).dot(towards);
        double sheets = 0.0;
        int faces = 0;
        bool known = true;
        for (const auto& [end, way] : ends) {
            const double facing = end.left.dot(way);
            if (facing < -k_face_not_edge) {
                return;  // an inner face stands furthest out: no size over the outside
            }
            if (facing > k_face_not_edge) {
                const auto sheet = sheet_at(piece_, formed_, middle_, end.mark);
                const auto on_line = to_painted(job_, piece_, sheet);
                known = known && on_line && sheet;
                value += on_line ? in_mm(*on_line) : 0.0;
                sheets += sheet ? in_mm(*sheet) : 0.0;
                ++faces;
            }
        }
        if (known) {
            add(name,
                faces == 2   ? DimensionKind::outside
                : faces == 1 ? DimensionKind::face_to_edge
                             : DimensionKind::spacing,
                true, millimetres(value),
                faces > 0 ? std::optional(millimetres(sheets / static_cast<double>(faces))) : std::nullopt);
        }
    }

    /// From the flange's middle, or where nothing is opposite from its root.
    void inside_at_flange(const geometry::Profile& profile) {
        const auto face = FlangeFace::of(piece_, line_);
        const auto flange = face ? face->at(middle_) : std::nullopt;
        if (!flange) {
            return;
        }
        const auto root = std::find(line_.names().begin(), line_.names().end(), k_flange_root) - line_.names().begin();
        for (const double part : {0.5, 0.0}) {
            const Vector2d from = flange->root_mm + part * (flange->end_mm - flange->root_mm);
            if (const auto opposite = hit(profile, from, flange->inward)) {
                const auto near = sheet_at(piece_, formed_, middle_, static_cast<double>(root) + part);
                const auto far = sheet_at(piece_, formed_, middle_, opposite->second);
                add("inside at the flange", DimensionKind::inside, true, millimetres(opposite->first),
                    near && far ? std::optional((*near + *far) / 2.0) : std::nullopt);
                return;
            }
        }
    }

    /// Distance to the inside face of the first straight that is met, and the mark there.
    std::optional<std::pair<double, double>> hit(const geometry::Profile& profile, const Vector2d& from,
                                                 const Vector2d& way) const {
        std::optional<std::pair<double, double>> best;
        for (const geometry::Segment& segment : profile.segments) {
            const auto* const straight = std::get_if<geometry::LineSegment>(&segment.shape);
            if (straight == nullptr) {
                continue;
            }
            const Vector2d run = (straight->to - straight->from).normalized();
            const Vector2d left(-run.y(), run.x());
            const double closing = way.dot(left);
            if (!(closing > 0.0)) {
                continue;
            }
            const Vector2d off = straight->from - from;
            double distance = off.dot(left) / closing;
            const double place = (from + distance * way - straight->from).dot(run);
            if (place < 0.0 || place > (straight->to - straight->from).norm()) {
                continue;
            }
            const double mark = mark_of(nodes_, segment, from + distance * way);
            if (piece_.drawn_face == DrawnFace::outside) {
                const auto sheet = sheet_at(piece_, formed_, middle_, mark);
                if (!sheet) {
                    continue;
                }
                distance -= in_mm(*sheet) / closing;
            }
            if (distance > k_opposite_mm && (!best || distance < best->first)) {
                best = {distance, mark};
            }
        }
        return best;
    }

    void add(const std::string& name, DimensionKind kind, bool across, Length value,
             const std::optional<Length>& sheet) {
        all_.push_back({name, kind, across, value, sheet, sheet_sd_of(sheet)});
    }

    const Job& job_;
    const Piece& piece_;
    const geometry::Loft& line_;
    const FormedSheet* formed_;
    Length middle_;
    std::vector<geometry::ProfileNode> nodes_;
    std::vector<Dimension> all_;
};

}  // namespace

const Rung* LadderOf::find(const std::string& generation) const {
    const auto found =
        std::find_if(rungs.begin(), rungs.end(), [&](const Rung& rung) { return rung.generation == generation; });
    return found == rungs.end() ? nullptr : &*found;
}

LadderOf ladder(const Job& job, const std::vector<ChainStep>& chain, const Dimension& dimension) {
    const Needs needs = needs_of(job, chain, dimension);
    LadderOf found{dimension, {}, needs.missing()};
    Size size{in_mm(dimension.value), 0.0};
    found.rungs.push_back(size.rung("painted part"));
    if (!needs.missing_part.empty()) {
        return found;
    }
    if (job.skirt.paint) {
        const double film = in_mm(job.skirt.paint->value);
        size.mm += needs.taken.paint * film;
        size.variance += variance_of(needs.taken.paint, k_film_sd_share * film);
    }
    found.rungs.push_back(size.rung("part"));
    if (!needs.missing_face.empty()) {
        return found;
    }
    if (dimension.sheet) {
        size.mm += needs.taken.sheet * in_mm(*dimension.sheet);
        size.variance += variance_of(needs.taken.sheet, in_mm(dimension.sheet_sd));
    }
    found.rungs.push_back(size.rung("mould face"));
    if (!needs.missing_chain.empty()) {
        return found;
    }
    found.rungs.back().measured = measured_on(job, dimension, chain.size() - 1);
    go_down_chain(job, chain, found, size);
    if (!needs.missing_buck.empty()) {
        return found;
    }
    if (job.forming.skin) {
        size.mm += needs.taken.skin * in_mm(job.forming.skin->value);
    }
    found.rungs.push_back(size.rung("buck"));
    return found;
}

std::optional<Length> part_of_buck(const Job& job, const std::vector<ChainStep>& chain, const Dimension& dimension,
                                   Length buck) {
    const Needs needs = needs_of(job, chain, dimension);
    if (!needs.missing().empty()) {
        return std::nullopt;
    }
    const bool solid = dimension.kind == DimensionKind::outside || dimension.kind == DimensionKind::inside;
    const bool hollow = dimension.kind == DimensionKind::hollow;
    const bool once_on =
        dimension.kind == DimensionKind::face_to_edge || dimension.kind == DimensionKind::convex_radius;
    const bool once_in = dimension.kind == DimensionKind::concave_radius;
    // What is laid on a face makes a solid thicker and a hollow narrower.
    const auto laid_on = [&](Length size, Length layer) {
        return solid     ? size + layer * 2.0
               : hollow  ? size - layer * 2.0
               : once_on ? size + layer
               : once_in ? size - layer
                         : size;
    };
    Length size = job.forming.skin ? laid_on(buck, job.forming.skin->value) : buck;
    for (const ChainStep& step : chain) {
        size = size * step.ratio(dimension.across);
    }
    const bool male = job.forming.mould == MouldKind::male;
    if (dimension.kind == DimensionKind::inside) {
        return male ? size : size - *dimension.sheet * 2.0;
    }
    if (male && dimension.sheet) {
        size = laid_on(size, *dimension.sheet);
    }
    return job.skirt.paint ? laid_on(size, job.skirt.paint->value) : size;
}

std::vector<Dimension> main_dimensions(const Job& job, const Piece& piece, const geometry::Loft& line,
                                       const FormedSheet* formed) {
    return MainDimensions(job, piece, line, formed).found();
}

std::optional<Dimension> rounding(const Job& job, const Piece& piece, const geometry::Loft& line,
                                  const FormedSheet* formed, std::size_t node, Length along) {
    if (!line.present_at(node, along)) {
        return std::nullopt;
    }
    const auto nodes = line.nodes_at(along);
    std::vector<geometry::Corner> corners;
    if (!geometry::find_corners(nodes, line.names(), line.closed(), corners) ||
        corners[node].kind != geometry::CornerKind::turn || !(corners[node].radius_mm > 0.0)) {
        return std::nullopt;
    }
    const auto sheet = sheet_at(piece, formed, along, static_cast<double>(node));
    const auto on_line = to_painted(job, piece, sheet);
    if (!on_line) {
        return std::nullopt;
    }
    // The outside lies on the line's left: where it turns left the outside is hollow.
    const bool concave = corners[node].side > 0.0;
    return Dimension{line.names()[node] + " rounding",
                     concave ? DimensionKind::concave_radius : DimensionKind::convex_radius,
                     true,
                     millimetres(corners[node].radius_at(in_mm(*on_line))),
                     sheet,
                     sheet_sd_of(sheet)};
}

}  // namespace sillwright::core
