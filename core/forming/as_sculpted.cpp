#include "core/forming/as_sculpted.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <utility>

#include "core/drawn_loft.h"
#include "core/mounts/mount_finding.h"
#include "core/number_text.h"
#include "core/skirt/fluted_section.h"
#include "core/skirt/surface.h"
#include "core/survey/scan.h"
#include "core/typed.h"
#include "geometry/profile.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::millimetres;
using geometry::Result;

namespace {

/// A point whose foot is the line's end stands beyond it if it stands out by more: above rounding, below a gauge.
constexpr double k_beyond_end_mm = 1e-6;
/// A router's edge is not sharp, and a gauge's pin has a width: so much beside a flute is its own. Common practice.
constexpr double k_beside_groove_mm = 2.0;
/// Points of one cut that are taken: some two to a millimetre of a section.
constexpr std::size_t k_cut_points = 800;
/// Without a point's own standard deviation a straight's direction is judged by that of a careful rule.
constexpr double k_rule_sd_mm = 0.5;
/// Straights are laid anew until nodes move by less, or so often: what a point's straight is may change as nodes move.
constexpr double k_at_rest_mm = 1e-9;
constexpr int k_most_rounds = 60;
/// Marks that are off by no more were not checked by one another: rounding.
constexpr double k_fits_exactly_mm = 1e-6;
/// Places of work that are told, worst first.
constexpr std::size_t k_places_told = 6;

struct Measured {
    std::string station;
    Length along;
    std::vector<Vector2d> points_mm;  ///< At the part's size.
};

std::vector<std::string> missing_for(const Job& job, const Piece& piece, const std::vector<ChainStep>& chain,
                                     const SculptedScan* scan) {
    std::vector<std::string> missing = chain_size(chain, true).missing;
    if (!job.forming.mould) {
        missing.emplace_back("whether the last mould is male or female");
    } else if (!outward_offset(piece, std::nullopt,
                               job.forming.mould == MouldKind::male ? Surface::inside : Surface::outside)) {
        missing.push_back("the sheet thickness of " + piece.name);
    }
    if (!job.forming.sculpted.scan.empty() && scan == nullptr) {
        missing.push_back("the scan " + job.forming.sculpted.scan + ", placed by its marks");
    }
    return missing;
}

bool anything_measured(const Job& job) {
    return !job.forming.sculpted.lines.empty() || !job.forming.sculpted.scan.empty();
}

/// Precondition: nothing is missing.
double face_offset_mm(const Job& job, const Piece& piece) {
    const Surface face = job.forming.mould == MouldKind::male ? Surface::inside : Surface::outside;
    return in_mm(*outward_offset(piece, std::nullopt, face));
}

std::vector<Vector2d> cut_points(const survey::ScanCut& cut) {
    std::vector<Vector2d> all;
    for (const geometry::PlaneLine& line : cut.lines) {
        all.insert(all.end(), line.begin(), line.end());
    }
    const std::size_t step = std::max<std::size_t>(1, all.size() / k_cut_points);
    std::vector<Vector2d> some;
    for (std::size_t i = 0; i < all.size(); i += step) {
        some.push_back(all[i]);
    }
    return some;
}

/// What was measured, at the part's size; a scan at the stations at which any piece has a section.
std::vector<Measured> measured_of(const Job& job, const std::vector<ChainStep>& chain, const SculptedScan* scan) {
    std::vector<Measured> all;
    const Sculpted& sculpted = job.forming.sculpted;
    if (!sculpted.scan.empty()) {
        std::vector<Length> places;
        for (const Station& station : job.stations) {
            const bool drawn = std::any_of(job.skirt.pieces.begin(), job.skirt.pieces.end(), [&](const Piece& piece) {
                return std::any_of(piece.drawn.sections.begin(), piece.drawn.sections.end(),
                                   [&](const Section& section) { return section.station == station.name; });
            });
            if (drawn) {
                all.push_back({station.name, station.along.value, {}});
                places.push_back(station.along.value);
            }
        }
        const auto cuts = survey::cut_scan(scan->mesh, places);
        for (std::size_t i = 0; i < all.size(); ++i) {
            all[i].points_mm = cut_points(cuts[i]);
        }
        return all;
    }
    const double ratio = chain_size(chain, true).ratio;
    for (const GaugeLine& line : sculpted.lines) {
        Measured one{line.station, station_of(job, line.station).along.value, {}};
        for (const GaugePoint& point : line.points) {
            one.points_mm.emplace_back(ratio * in_mm(point.out.value), ratio * in_mm(point.up.value));
        }
        all.push_back(std::move(one));
    }
    return all;
}

/// The place of a profile that is nearest to a point.
struct Foot {
    Vector2d p_mm = Vector2d::Zero(), left = Vector2d::Zero();
    double outward_mm = 0.0;
    std::size_t segment = 0;
    bool beyond_end = false;
};

Foot foot_on(const geometry::Profile& profile, const Vector2d& p_mm) {
    std::size_t best = 0;
    double least = geometry::in_mm(geometry::distance_to(profile.segments.front(), p_mm));
    for (std::size_t i = 1; i < profile.segments.size(); ++i) {
        const double distance = geometry::in_mm(geometry::distance_to(profile.segments[i], p_mm));
        if (distance < least) {
            best = i;
            least = distance;
        }
    }
    const geometry::Segment& segment = profile.segments[best];
    const double fraction = geometry::nearest_fraction(segment, p_mm);
    const Vector2d run = geometry::direction_at(segment, fraction);
    Foot foot;
    foot.p_mm = geometry::point_at(segment, fraction);
    foot.left = {-run.y(), run.x()};
    foot.segment = best;
    const Vector2d off = p_mm - foot.p_mm;
    foot.outward_mm = std::copysign(least, off.dot(foot.left));
    const bool before = best == 0 && fraction <= 0.0 && off.dot(run) < -k_beyond_end_mm;
    const bool behind = best + 1 == profile.segments.size() && fraction >= 1.0 && off.dot(run) > k_beyond_end_mm;
    foot.beyond_end = before || behind;
    return foot;
}

struct NamedSection {
    std::vector<std::string> names;
    std::vector<geometry::ProfileNode> nodes;
};

std::optional<std::size_t> number_of(const std::vector<std::string>& names, const std::string& name) {
    const auto found = std::find(names.begin(), names.end(), name);
    return found == names.end() ? std::nullopt : std::optional(static_cast<std::size_t>(found - names.begin()));
}

bool beside(const Vector2d& p_mm, const Vector2d& from, const Vector2d& to, double middle, double width) {
    const double place = (p_mm - from).dot((to - from).normalized());
    return std::abs(place - middle) <= 0.5 * width + k_beside_groove_mm;
}

/// In a flute or a recess, that is routed into the plug after it was shaped, or beside its edge.
bool in_groove(const Piece& piece, const NamedSection& section, Length along, const Foot& foot, std::size_t foot_node) {
    const auto edge = number_of(section.names, k_shelf_edge);
    const auto bead = number_of(section.names, "bead");
    const bool on_shelf = edge && *edge > 0 && foot_node + 1 == *edge;
    const bool on_face = bead && *bead + 1 < section.nodes.size() && foot_node == *bead;
    if (on_shelf) {
        const Vector2d& from = section.nodes[*edge].p_mm;
        const Vector2d& to = section.nodes[*edge - 1].p_mm;
        for (const Flute& flute : piece.flutes) {
            if (runs_at(flute, along) &&
                beside(foot.p_mm, from, to, in_mm(flute.offset.value), in_mm(flute.width.value))) {
                return true;
            }
        }
    }
    return std::any_of(piece.recesses.begin(), piece.recesses.end(), [&](const Recess& recess) {
        const bool here =
            std::abs(in_mm(along - recess.along.value)) <= 0.5 * in_mm(recess.length.value) + k_beside_groove_mm;
        const bool strip = recess.on == RecessFace::shelf ? on_shelf : on_face;
        if (!here || !strip) {
            return false;
        }
        const std::size_t from = recess.on == RecessFace::shelf ? *edge : *bead;
        const std::size_t to = recess.on == RecessFace::shelf ? *edge - 1 : *bead + 1;
        return beside(foot.p_mm, section.nodes[from].p_mm, section.nodes[to].p_mm, in_mm(recess.offset.value),
                      in_mm(recess.width.value));
    });
}

std::vector<geometry::ProfileNode> nodes_of(const Section& section) {
    std::vector<geometry::ProfileNode> nodes;
    for (const Node& node : section.nodes) {
        nodes.push_back({{in_mm(node.out.value), in_mm(node.up.value)}, node.radius.value});
    }
    return nodes;
}

const Section* section_at(const Piece& piece, const std::string& station) {
    const auto found = std::find_if(piece.drawn.sections.begin(), piece.drawn.sections.end(),
                                    [&](const Section& section) { return section.station == station; });
    return found == piece.drawn.sections.end() ? nullptr : &*found;
}

/// The sections of all other pieces at a station, as far as they are drawn.
std::vector<geometry::Profile> others_at(const Job& job, const Piece& piece, const std::string& station) {
    std::vector<geometry::Profile> others;
    for (const Piece& other : job.skirt.pieces) {
        const Section* const section = other.name == piece.name ? nullptr : section_at(other, station);
        if (section == nullptr) {
            continue;
        }
        if (auto profile = geometry::make_profile(nodes_of(*section), false)) {
            others.push_back(std::move(profile).value());
        }
    }
    return others;
}

/// Whether a point of the prototype is one of this piece's face.
class Belongs {
public:
    Belongs(const Job& job, const Piece& piece, const Measured& measured)
        : piece_{piece},
          along_{measured.along},
          of_scan_{!job.forming.sculpted.scan.empty()},
          offset_mm_{face_offset_mm(job, piece)},
          others_{others_at(job, piece, measured.station)} {}

    [[nodiscard]] double offset_mm() const { return offset_mm_; }

    [[nodiscard]] bool operator()(const NamedSection& section, const geometry::Profile& profile, const Vector2d& p_mm,
                                  const Foot& foot) const {
        if (foot.beyond_end || (of_scan_ && std::abs(foot.outward_mm - offset_mm_) > in_mm(k_scan_reach))) {
            return false;
        }
        const bool nearer = std::any_of(others_.begin(), others_.end(), [&](const geometry::Profile& other) {
            return std::abs(foot_on(other, p_mm).outward_mm) < std::abs(foot.outward_mm);
        });
        return !nearer && !in_groove(piece_, section, along_, foot, profile.segments[foot.segment].node);
    }

private:
    const Piece& piece_;
    Length along_;
    bool of_scan_;
    double offset_mm_;
    std::vector<geometry::Profile> others_;
};

std::string strip_name(const NamedSection& section, const geometry::Segment& segment) {
    const std::string& name = section.names[segment.node];
    return std::holds_alternative<geometry::ArcSegment>(segment.shape) || segment.node + 1 >= section.names.size()
               ? name
               : name + " to " + section.names[segment.node + 1];
}

/// A straight through points of the mould's face, as the drawn line has it.
struct Straight {
    Vector2d p_mm = Vector2d::Zero(), run = Vector2d::UnitX();
    bool laid = false;
};

Vector2d left_of(const Vector2d& run) {
    return {-run.y(), run.x()};
}

Straight laid_through(const std::vector<Vector2d>& points, const Straight& drawn, double offset_mm, double sd_mm) {
    if (points.empty()) {
        return drawn;
    }
    Vector2d middle = Vector2d::Zero();
    for (const Vector2d& p : points) {
        middle += p / static_cast<double>(points.size());
    }
    Eigen::Matrix2d spread = Eigen::Matrix2d::Zero();
    for (const Vector2d& p : points) {
        spread += (p - middle) * (p - middle).transpose();
    }
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> axes(spread);
    Straight laid{middle, drawn.run, true};
    if (axes.eigenvalues()(1) > 0.0 && sd_mm / std::sqrt(axes.eigenvalues()(1)) <= in_rad(k_direction_sure)) {
        laid.run = axes.eigenvectors().col(1);
        laid.run *= laid.run.dot(drawn.run) < 0.0 ? -1.0 : 1.0;
    }
    laid.p_mm -= offset_mm * left_of(laid.run);
    return laid;
}

Vector2d onto(const Straight& straight, const Vector2d& p_mm) {
    return straight.p_mm + (p_mm - straight.p_mm).dot(straight.run) * straight.run;
}

Vector2d between(const Straight& a, const Straight& b, const Vector2d& drawn_mm) {
    if (!a.laid && !b.laid) {
        return drawn_mm;
    }
    const double turn = a.run.x() * b.run.y() - a.run.y() * b.run.x();
    if (std::abs(turn) < std::sin(in_rad(k_flat_corner))) {
        return a.laid && b.laid ? Vector2d(0.5 * (onto(a, drawn_mm) + onto(b, drawn_mm)))
                                : onto(a.laid ? a : b, drawn_mm);
    }
    const Vector2d off = b.p_mm - a.p_mm;
    return a.p_mm + (off.x() * b.run.y() - off.y() * b.run.x()) / turn * a.run;
}

/// The straights of a section's nodes as drawn, each from its node to the next.
std::vector<Straight> drawn_straights(const std::vector<geometry::ProfileNode>& nodes) {
    std::vector<Straight> straights;
    for (std::size_t i = 0; i + 1 < nodes.size(); ++i) {
        const Vector2d run = nodes[i + 1].p_mm - nodes[i].p_mm;
        straights.push_back(
            {nodes[i].p_mm, run.isZero() ? Vector2d(Vector2d::UnitX()) : Vector2d(run.normalized()), false});
    }
    return straights;
}

/// The section's nodes put where the points have them.
Result<std::vector<geometry::ProfileNode>> laid_nodes(const NamedSection& drawn, const Measured& measured,
                                                      const Belongs& belongs, double sd_mm) {
    const std::vector<Straight> as_drawn = drawn_straights(drawn.nodes);
    NamedSection section = drawn;
    for (int round = 0; round < k_most_rounds; ++round) {
        const auto profile = geometry::make_profile(section.nodes, false);
        if (!profile) {
            return profile.error();
        }
        std::vector<std::vector<Vector2d>> on(as_drawn.size());
        for (const Vector2d& p : measured.points_mm) {
            const Foot foot = foot_on(profile.value(), p);
            const geometry::Segment& segment = profile.value().segments[foot.segment];
            if (std::holds_alternative<geometry::LineSegment>(segment.shape) && segment.node < on.size() &&
                belongs(section, profile.value(), p, foot)) {
                on[segment.node].push_back(p);
            }
        }
        std::vector<Straight> laid;
        for (std::size_t i = 0; i < on.size(); ++i) {
            laid.push_back(laid_through(on[i], as_drawn[i], belongs.offset_mm(), sd_mm));
        }
        double moved = 0.0;
        for (std::size_t i = 0; i < section.nodes.size(); ++i) {
            const Vector2d& was = drawn.nodes[i].p_mm;
            const bool first = i == 0, last = i + 1 == section.nodes.size();
            const Vector2d now = first || last
                                     ? (laid[first ? 0 : i - 1].laid ? onto(laid[first ? 0 : i - 1], was) : was)
                                     : between(laid[i - 1], laid[i], was);
            moved = std::max(moved, (now - section.nodes[i].p_mm).norm());
            section.nodes[i].p_mm = now;
        }
        if (moved < k_at_rest_mm) {
            break;
        }
    }
    const auto profile = geometry::make_profile(section.nodes, false);
    return profile ? Result<std::vector<geometry::ProfileNode>>(std::move(section.nodes)) : profile.error();
}

double sd_mm_of(const Job& job, const SculptedScan* scan) {
    if (scan != nullptr && scan->sd) {
        return in_mm(*scan->sd);
    }
    return job.forming.sculpted.sd ? in_mm(job.forming.sculpted.sd->value) : k_rule_sd_mm;
}

bool spans(const Job& job, const Piece& piece, Length along) {
    bool before = false, behind = false;
    for (const Section& section : piece.drawn.sections) {
        const Length at = station_of(job, section.station).along.value;
        before = before || at <= along;
        behind = behind || at >= along;
    }
    return before && behind;
}

geometry::Status lay_section(Job& job, Piece& piece, const Measured& measured, const SculptedScan* scan) {
    const auto found = std::find_if(piece.drawn.sections.begin(), piece.drawn.sections.end(),
                                    [&](const Section& section) { return section.station == measured.station; });
    if (found == piece.drawn.sections.end()) {
        // A scan is cut at stations of any piece.
        return scan != nullptr ? geometry::Status(std::monostate{})
                               : Error{ErrorCode::does_not_fit,
                                       "Station " + measured.station + ": " + piece.name +
                                           " has no section there to put through the measured places. Draw one."};
    }
    NamedSection drawn{{}, nodes_of(*found)};
    for (const Node& node : found->nodes) {
        drawn.names.push_back(node.name);
    }
    const auto nodes = laid_nodes(drawn, measured, Belongs(job, piece, measured), sd_mm_of(job, scan));
    if (!nodes) {
        return Error{ErrorCode::does_not_fit, "Station " + measured.station + ": no section of " + piece.name +
                                                  " goes through the measured places. " + nodes.error().message};
    }
    for (std::size_t i = 0; i < found->nodes.size(); ++i) {
        const Vector2d& now = nodes.value()[i].p_mm;
        if (now != drawn.nodes[i].p_mm) {
            found->nodes[i].out = entry(millimetres(now.x()));
            found->nodes[i].up = entry(millimetres(now.y()));
        }
    }
    return std::monostate{};
}

/// Whether the job says that it replaces or not.
Result<Job> laid_job(const Job& job, const SculptedScan* scan) {
    const auto chain = chain_of(job);
    const std::string& named = job.forming.sculpted.scan;
    if (!named.empty() && scan == nullptr) {
        return Error{ErrorCode::does_not_fit,
                     "The scan " + named + " is not placed yet: give its file and three marks."};
    }
    Job laid = job;
    for (const Measured& measured : measured_of(job, chain, scan)) {
        for (Piece& piece : laid.skirt.pieces) {
            if (piece.file || !spans(job, piece, measured.along)) {
                continue;
            }
            if (const auto missing = missing_for(job, piece, chain, scan); !missing.empty()) {
                return Error{ErrorCode::does_not_fit, "Station " + measured.station +
                                                          ": the prototype cannot be brought to the part's size: " +
                                                          joined_words(missing) + " is missing."};
            }
            if (const auto done = lay_section(laid, piece, measured, scan); !done) {
                return done.error();
            }
        }
    }
    return laid;
}

Finding sculpted_state(const Job& job, const Piece& piece, const AsSculpted& sculpted) {
    Finding finding;
    finding.id = "forming/" + piece.name + "/sculpted";
    finding.title = piece.name + ", prototype as it was sculpted, to the drawn section";
    finding.stage = Stage::forming;
    finding.unit = Unit::mm;
    finding.at_least = false;
    finding.formula =
        "greatest |distance of a measured place, at the part's size, from the drawn mould face| <= 2 sqrt(sd of a "
        "place² + forming sd²). Limits of the model: sheet as thick as before it is formed; flutes and recesses left "
        "out";
    finding.source = "common practice, no source";
    finding.missing = sculpted.missing;
    if (!job.skirt.forming_sd) {
        finding.missing.emplace_back("the standard deviation of the formed surface");
    }
    finding.unsure_by = {{"a measured place", in_mm(sculpted.sd)},
                         {"formed surface", job.skirt.forming_sd ? in_mm(job.skirt.forming_sd->value) : 0.0}};
    std::stable_sort(finding.unsure_by.begin(), finding.unsure_by.end(),
                     [](const UnsureBy& a, const UnsureBy& b) { return a.sd > b.sd; });
    return finding;
}

/// Where work is to be done: the worst place of one strip at one station.
struct Work {
    const SculptedStation* station = nullptr;
    const SculptedPoint* point = nullptr;
};

/// Worst first.
std::vector<Work> work_of(const AsSculpted& sculpted) {
    std::map<std::tuple<std::string, std::string, bool>, Work> worst;
    for (const SculptedStation& station : sculpted.stations) {
        for (const SculptedPoint& point : station.points) {
            Work& one = worst[{station.station, point.strip, point.proud > Length{}}];
            if (one.point == nullptr || std::abs(in_mm(point.proud)) > std::abs(in_mm(one.point->proud))) {
                one = {&station, &point};
            }
        }
    }
    std::vector<Work> all;
    for (const auto& [key, one] : worst) {
        all.push_back(one);
    }
    std::stable_sort(all.begin(), all.end(), [](const Work& a, const Work& b) {
        return std::abs(in_mm(a.point->proud)) > std::abs(in_mm(b.point->proud));
    });
    return all;
}

/// "cut 1.8 mm at 3.2 · 700 mm, shelf edge to bead"
std::string work_words(const Job& job, const Work& work) {
    const double proud = in_mm(work.point->proud);
    return (proud > 0.0 ? "cut " : "add ") + mm_text(millimetres(std::abs(proud)), 1) + " " +
           at_place_words(job, work.station->along) + ", " + work.point->strip;
}

void put_worst(Finding& finding, const Job& job, const AsSculpted& sculpted) {
    const auto works = work_of(sculpted);
    if (works.empty()) {
        finding.missing.emplace_back("gauge points on the prototype");
        finding.why = "Nothing of the prototype stands beside the drawn section yet.";
        return;
    }
    const Work& worst = works.front();
    const double forming = job.skirt.forming_sd ? in_mm(job.skirt.forming_sd->value) : 0.0;
    const double limit = 2.0 * std::hypot(in_mm(sculpted.sd), forming);
    finding.place.along = worst.station->along;
    finding.place.on_part_mm =
        Eigen::Vector3d(in_mm(worst.station->along), worst.point->at_mm.x(), worst.point->at_mm.y());
    finding.place.words = worst.point->strip + " " + at_place_words(job, worst.station->along);
    for (std::size_t i = 0; i < std::min(works.size(), k_places_told); ++i) {
        finding.inputs.push_back({"place " + std::to_string(i + 1), work_words(job, works[i])});
    }
    const double found = std::abs(in_mm(worst.point->proud));
    if (!finding.missing.empty()) {
        finding.found = found;  // against what is not known yet
        finding.why =
            "The prototype is off by up to " + mm_text(millimetres(found)) + ": " + work_words(job, worst) + ".";
        return;
    }
    put_numbers(finding, found, limit, false, 0.0);
    finding.why = *finding.margin < 0.0
                      ? "The prototype is not what was drawn: " + work_words(job, worst) + "."
                      : "The prototype is what was drawn, within what can be measured and formed: at most " +
                            mm_text(millimetres(found)) + " off.";
}

Finding sculpted_finding(const Job& job, const Piece& piece, const AsSculpted& sculpted) {
    Finding finding = sculpted_state(job, piece, sculpted);
    put_worst(finding, job, sculpted);
    return finding;
}

std::vector<NodeMove> moves_between(const Piece& before, const Piece& after) {
    std::vector<NodeMove> moves;
    for (std::size_t s = 0; s < before.drawn.sections.size(); ++s) {
        for (std::size_t i = 0; i < before.drawn.sections[s].nodes.size(); ++i) {
            const Node& a = before.drawn.sections[s].nodes[i];
            const Node& b = after.drawn.sections[s].nodes[i];
            const Vector2d by(in_mm(b.out.value - a.out.value), in_mm(b.up.value - a.up.value));
            if (!by.isZero(0.0)) {
                moves.push_back({a.id, by});
            }
        }
    }
    return moves;
}

std::string bench_words(const Job& job, const AsSculpted& sculpted, double limit) {
    std::vector<std::string> words;
    for (const Work& work : work_of(sculpted)) {
        if (std::abs(in_mm(work.point->proud)) > limit && words.size() < k_places_told) {
            words.push_back(work_words(job, work));
        }
    }
    std::string text = "On the bench: ";
    for (std::size_t i = 0; i < words.size(); ++i) {
        text += (i == 0 ? "" : "; ") + words[i];
    }
    return text + ".";
}

void look_for_mend(Finding& finding, const Job& job, const Piece& piece, const AsSculpted& sculpted,
                   const SculptedScan* scan) {
    const std::string bench = bench_words(job, sculpted, *finding.required);
    finding.mend = Mend{bench, {}, std::nullopt};
    const auto number = std::find_if(job.skirt.pieces.begin(), job.skirt.pieces.end(),
                                     [&](const Piece& one) { return one.name == piece.name; }) -
                        job.skirt.pieces.begin();
    const auto laid = laid_job(job, scan);
    if (!laid) {
        return;
    }
    Job mended = job;
    Piece& mended_piece = mended.skirt.pieces[static_cast<std::size_t>(number)];
    mended_piece.drawn = laid.value().skirt.pieces[static_cast<std::size_t>(number)].drawn;
    const auto line = loft_of(mended, mended_piece.drawn, false, piece.name);
    if (!line) {
        return;
    }
    const Finding after =
        sculpted_finding(mended, mended_piece, as_sculpted(mended, mended_piece, line.value(), chain_of(mended), scan));
    if (after.margin && *after.margin >= 0.0) {
        finding.mend = Mend{bench + " Or draw the section as it was sculpted, and see what all other checks say of it.",
                            moves_between(piece, mended_piece), after.margin};
    }
}

}  // namespace

Result<SculptedScan> sculpted_scan(const Job& job, const std::filesystem::path& folder,
                                   const survey::Solution& solution, const std::vector<ChainStep>& chain) {
    const auto found = std::find_if(job.scans.begin(), job.scans.end(),
                                    [&](const survey::Scan& scan) { return scan.name == job.forming.sculpted.scan; });
    const ChainSize along = chain_size(chain, false), across = chain_size(chain, true);
    for (const ChainSize& size : {along, across}) {
        if (!size.missing.empty()) {
            return Error{ErrorCode::does_not_fit,
                         "The scan " + found->name +
                             " cannot be brought to the part's size: " + joined_words(size.missing) + " is missing."};
        }
    }
    auto mesh = survey::read_scan(*found, folder);
    if (!mesh) {
        return mesh.error();
    }
    survey::Scan scan = *found;
    scan.fitted = false;
    geometry::Mesh scaled = std::move(mesh).value();
    for (Eigen::Vector3d& p : scaled.points) {
        p *= along.ratio;
    }
    for (survey::ScanMark& mark : scan.marks) {
        mark.x *= along.ratio;
        mark.y *= along.ratio;
        mark.z *= along.ratio;
    }
    survey::PlacedScan placed = survey::place_scan(job, scan, scaled, solution, nullptr);
    if (!placed.mesh) {
        return Error{ErrorCode::does_not_fit, "The scan " + scan.name + ": " + placed.lacks};
    }
    SculptedScan done{std::move(*placed.mesh), std::nullopt};
    const double more_across = across.ratio / along.ratio;
    for (Eigen::Vector3d& p : done.mesh.points) {
        p.tail<2>() *= more_across;
    }
    if (placed.rms_mm > k_fits_exactly_mm) {
        done.sd = millimetres(placed.rms_mm);
    }
    return done;
}

AsSculpted as_sculpted(const Job& job, const Piece& piece, const geometry::Loft& line,
                       const std::vector<ChainStep>& chain, const SculptedScan* scan) {
    AsSculpted found;
    if (!anything_measured(job)) {
        return found;
    }
    found.missing = missing_for(job, piece, chain, scan);
    const bool sure = (scan != nullptr && scan->sd) || job.forming.sculpted.sd;
    const bool comparable = found.missing.empty();
    if (sure) {
        found.sd = millimetres(sd_mm_of(job, scan));
    } else {
        found.missing.emplace_back("the standard deviation of a place on the prototype");
    }
    if (!comparable) {
        return found;
    }
    for (const Measured& measured : measured_of(job, chain, scan)) {
        if (measured.along < line.front() || measured.along > line.rear()) {
            continue;
        }
        const NamedSection section{line.names(), line.nodes_at(measured.along)};
        const auto profile = geometry::make_profile(section.nodes, false);
        if (!profile) {
            continue;  // refused where the line was made
        }
        const Belongs belongs(job, piece, measured);
        SculptedStation station{measured.station, measured.along, {}};
        for (const Vector2d& p : measured.points_mm) {
            const Foot foot = foot_on(profile.value(), p);
            if (belongs(section, profile.value(), p, foot)) {
                station.points.push_back({p, foot.p_mm + belongs.offset_mm() * foot.left,
                                          millimetres(foot.outward_mm - belongs.offset_mm()),
                                          strip_name(section, profile.value().segments[foot.segment])});
            }
        }
        if (!station.points.empty()) {
            found.stations.push_back(std::move(station));
        }
    }
    return found;
}

Result<Job> sculpted_job(const Job& job, const SculptedScan* scan) {
    return job.forming.sculpted.replaces && anything_measured(job) ? laid_job(job, scan) : Result<Job>(job);
}

std::vector<Finding> sculpted_findings(const Job& job, const Piece& piece, const AsSculpted& sculpted, Mends mends,
                                       const SculptedScan* scan) {
    if (!anything_measured(job)) {
        return {};
    }
    Finding finding = sculpted_finding(job, piece, sculpted);
    if (mends == Mends::look_for && finding.state == State::falls_short) {
        look_for_mend(finding, job, piece, sculpted, scan);
    }
    return {std::move(finding)};
}

}  // namespace sillwright::core
