#include "core/buck/station_outline.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <variant>

#include "core/car_model.h"
#include "core/drawn_lacking.h"
#include "core/drawn_loft.h"
#include "core/skirt/surface.h"
#include "geometry/corner.h"
#include "geometry/parallel.h"
#include "geometry/segment_intersection.h"
#include "geometry/text.h"
#include "geometry/varying_parallel.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;
using geometry::Profile;
using geometry::Result;
using geometry::Segment;

namespace {

/// Segments as near as this meet: the width of the parallel's own joints.
constexpr Length k_meeting_slack = millimetres(3e-6);
/// Neighbours run together about their joint by the root of 2 * radius * slack, which
/// is 0.08 mm at 1 m; a real crossing is further away.
constexpr double k_joint_reach_mm = 0.1;
/// Ends as near as this need no straight between them; no bit cuts a thousandth.
constexpr double k_same_place_mm = 1e-3;
/// Fewer nodes enclose nothing.
constexpr std::size_t k_least_nodes = 3;

Error does_not_fit(std::string message) {
    return {ErrorCode::does_not_fit, std::move(message)};
}

std::vector<geometry::ProfileNode> nodes_of(const Section& section) {
    std::vector<geometry::ProfileNode> nodes;
    for (const Node& node : section.nodes) {
        nodes.push_back({{in_mm(node.out.value), in_mm(node.up.value)}, node.radius.value});
    }
    return nodes;
}

Result<Profile> drawn_line(const Section& section) {
    auto line = geometry::make_profile(nodes_of(section), false);
    if (line && geometry::enclosed_area_mm2(line.value()) >= 0.0) {
        return does_not_fit(
            "The drawn line runs the wrong way round: from top return end to flange end it must go round the "
            "outside, which is on its left. Turn the order of its nodes about.");
    }
    return line;
}

/// The point square off the segment's point at `fraction`, `distance` to its left.
Eigen::Vector2d square_off(const Segment& segment, double fraction, Length distance) {
    const Eigen::Vector2d along = geometry::direction_at(segment, fraction);
    return geometry::point_at(segment, fraction) + in_mm(distance) * Eigen::Vector2d{-along.y(), along.x()};
}

/// The one chain of the parallel that goes all the way.
Result<Profile> mould_line(const Profile& line, Length mould_face) {
    const auto parallel = geometry::parallel(line, mould_face);
    if (!parallel) {
        return parallel.error();
    }
    const auto& chains = parallel.value().chains;
    const std::string place = "The mould face, " + geometry::text(mould_face < Length{} ? -mould_face : mould_face) +
                              " from the drawn line, ";
    if (chains.empty()) {
        return does_not_fit(place + "vanishes: the section is narrower than the sheet allows. Make the section wider.");
    }
    if (chains.size() > 1) {
        return does_not_fit(place + "comes apart into " + std::to_string(chains.size()) +
                            " pieces. Widen the section where two of its sides are nearer than that.");
    }
    const Profile& chain = chains.front();
    const double off =
        std::max((square_off(line.segments.front(), 0.0, mould_face) - start_point(chain.segments.front())).norm(),
                 (square_off(line.segments.back(), 1.0, mould_face) - end_point(chain.segments.back())).norm());
    if (chain.closed || off > k_same_place_mm) {
        return does_not_fit(place + "does not reach both ends of the section. Widen the section near its ends.");
    }
    return chain;
}

Profile closed_by_straight(Profile chain) {
    const Eigen::Vector2d end = end_point(chain.segments.back());
    const Eigen::Vector2d start = start_point(chain.segments.front());
    if ((end - start).norm() > k_same_place_mm) {
        chain.segments.push_back({geometry::LineSegment{end, start}, chain.segments.back().node});
    }
    chain.closed = true;
    return chain;
}

/// Whether two straights are so far apart along out or up that they do not meet.
bool apart(const Segment& a, const Segment& b) {
    const auto* const first = std::get_if<geometry::LineSegment>(&a.shape);
    const auto* const second = std::get_if<geometry::LineSegment>(&b.shape);
    if (first == nullptr || second == nullptr) {
        return false;
    }
    const Eigen::Array2d slack = Eigen::Array2d::Constant(in_mm(k_meeting_slack));
    const auto low = [](const geometry::LineSegment& s) { return s.from.array().min(s.to.array()).eval(); };
    const auto high = [](const geometry::LineSegment& s) { return s.from.array().max(s.to.array()).eval(); };
    return (low(*first) > high(*second) + slack).any() || (low(*second) > high(*first) + slack).any();
}

/// Where two segments of a closed outline meet other than at the joint of neighbours.
std::optional<Eigen::Vector2d> crossing(const Profile& closed) {
    const std::size_t n = closed.segments.size();
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t k = i + 1; k < n; ++k) {
            const Segment& a = closed.segments[i];
            const Segment& b = closed.segments[k];
            if (apart(a, b)) {
                continue;
            }
            for (const Eigen::Vector2d& p : geometry::meeting_points(a, b, k_meeting_slack)) {
                const bool at_joint = (k == i + 1 && (p - end_point(a)).norm() < k_joint_reach_mm) ||
                                      (i == 0 && k == n - 1 && (p - start_point(a)).norm() < k_joint_reach_mm);
                if (!at_joint) {
                    return p;
                }
            }
        }
    }
    return std::nullopt;
}

std::string piece_in_words(const Piece& piece) {
    return "Piece \"" + piece.name + "\"";
}

/// Why no station of the piece has an outline, if so.
std::optional<NoOutline> refused_piece(const Job& job, const Piece& piece) {
    if (piece.drawn.empty()) {
        const std::string why = piece.file ? " comes from a file" : " has no sections";
        return NoOutline{piece.name, "", piece_in_words(piece) + why + ": ribs are cut from drawn sections only.",
                         piece.file ? "" : "sections of piece \"" + piece.name + "\""};
    }
    const MouldKind mould = job.forming.mould.value_or(MouldKind::male);
    if (!outward_offset(piece, std::nullopt, Surface::mould_face, mould)) {
        return NoOutline{piece.name, "",
                         piece_in_words(piece) + " is drawn on its " +
                             (mould == MouldKind::male ? "outside" : "inside") +
                             " and has no sheet thickness, so its mould face is not known.",
                         "sheet thickness of piece \"" + piece.name + "\""};
    }
    return std::nullopt;
}

Finding finding_of(const Piece& piece) {
    Finding finding;
    finding.id = "buck/" + piece.name + "/outlines";
    finding.title = "Rib outlines of piece \"" + piece.name + "\"";
    finding.stage = Stage::buck;
    finding.unit = Unit::none;
    finding.state = State::holds;
    finding.found = 0.0;
    finding.required = static_cast<double>(piece.drawn.sections.size());
    finding.formula =
        "stations with one closed outline = stations drawn; the outline is the exact parallel of the "
        "drawn line at the mould face, closed by a straight from flange end to top return end; where that face lies "
        "off "
        "the drawn line by a formed thickness that changes, it is a line of short straights within 0.01 mm";
    finding.source = "geometry; no source needed";
    return finding;
}

/// Puts down in a finding why a station, or the whole piece, has no outline.
void take_refused(const Job& job, const Piece& piece, const NoOutline& refused, Finding& finding) {
    finding.why += (finding.why.empty() ? "" : " ") + refused.why;
    if (refused.station.empty() || !refused.missing.empty()) {
        finding.missing.push_back(refused.missing.empty() ? "the sections of " + piece.name : refused.missing);
        return;
    }
    finding.state = State::falls_short;
    if (finding.place.words.empty()) {
        finding.place = {"at station " + refused.station, station_of(job, refused.station).along.value, {}, {}, {}};
    }
}

/// The outline that a mould line makes with the straight between its ends.
Result<Profile> closed_outline(const Profile& chain) {
    const Profile outline = closed_by_straight(geometry::reversed(chain));
    if (const auto at = crossing(outline)) {
        return does_not_fit(
            "The outline of the mould face, closed by the straight from flange end to top return end, "
            "crosses itself at out " +
            geometry::text(millimetres(at->x())) + ", up " + geometry::text(millimetres(at->y())) +
            ". Move the nodes there apart.");
    }
    if (!(geometry::enclosed_area_mm2(outline) > 0.0)) {
        return does_not_fit(
            "The outline of the mould face is turned inside out: the section is narrower than the "
            "sheet allows. Make the section wider.");
    }
    return outline;
}

/// The mould line where the sheet is formed thinner in some places than in others.
Result<Profile> varying_mould_line(const Section& section, const std::vector<double>& marks,
                                   const geometry::OffsetRow& offsets) {
    std::vector<std::string> names;
    for (const Node& node : section.nodes) {
        names.push_back(node.name);
    }
    std::vector<geometry::Corner> corners;
    auto status = geometry::find_corners(nodes_of(section), names, false, corners);
    const auto [least, most] = std::minmax_element(offsets.mm.begin(), offsets.mm.end());
    for (const double offset : {*least, *most}) {
        if (status) {
            status = geometry::check_room(corners, names, false, offset);
        }
    }
    if (!status) {
        return does_not_fit("For the mould face " + status.error().message + ".");
    }
    const auto points = geometry::varying_parallel(corners, marks, offsets, k_outline_fit);
    Profile chain;
    Eigen::Vector2d from = points.front();
    for (std::size_t i = 1; i < points.size(); ++i) {
        if ((points[i] - from).norm() > k_same_place_mm || i + 1 == points.size()) {
            chain.segments.push_back({geometry::LineSegment{from, points[i]}, 0});
            from = points[i];
        }
    }
    return chain;
}

}  // namespace

Result<Profile> mould_outline(const Section& section, Length mould_face) {
    const auto line = drawn_line(section);
    if (!line) {
        return line.error();
    }
    const auto chain = mould_line(line.value(), mould_face);
    return chain ? closed_outline(chain.value()) : chain.error();
}

Result<Profile> mould_outline(const Section& section, const std::vector<double>& marks,
                              const geometry::OffsetRow& offsets) {
    const auto line = drawn_line(section);
    if (!line) {
        return line.error();
    }
    const auto chain = varying_mould_line(section, marks, offsets);
    return chain ? closed_outline(chain.value()) : chain.error();
}

namespace {

/// The mould face of one piece: at one distance, or by place.
struct MouldFace {
    Length distance;
    std::optional<geometry::OffsetLaw> law;
    std::vector<std::string> names;  ///< Of the law's marks.

    [[nodiscard]] Result<Profile> outline(const Section& section, Length along) const {
        if (!law) {
            return mould_outline(section, distance);
        }
        std::vector<double> marks;
        for (const Node& node : section.nodes) {
            marks.push_back(static_cast<double>(std::find(names.begin(), names.end(), node.name) - names.begin()));
        }
        return mould_outline(section, marks, law->at(along));
    }
};

MouldFace mould_face_of(const Job& job, const CarModel* car, std::size_t piece) {
    const Piece& drawn = job.skirt.pieces[piece];
    const MouldKind mould = job.forming.mould.value_or(MouldKind::male);
    MouldFace face{*outward_offset(drawn, std::nullopt, Surface::mould_face, mould), {}, {}};
    const PieceModel* const model = car != nullptr ? &car->pieces[piece] : nullptr;
    if (model != nullptr && model->formed && model->line) {
        auto law = outward_law(drawn, *model->line, model->formed.get(), std::nullopt, Surface::mould_face, mould);
        if (law && !law->is_same()) {
            face.law = std::move(law);
            face.names = model->line->names();
        }
    }
    return face;
}

}  // namespace

StationOutlines station_outlines(const Job& job, const CarModel* car) {
    StationOutlines all;
    for (std::size_t i = 0; i < job.skirt.pieces.size(); ++i) {
        const Piece& piece = job.skirt.pieces[i];
        if (auto refused = refused_piece(job, piece)) {
            all.refused.push_back(std::move(*refused));
            continue;
        }
        const MouldFace face = mould_face_of(job, car, i);
        for (const Section& section : piece.drawn.sections) {
            if (section.nodes.size() < k_least_nodes) {
                all.refused.push_back({piece.name, section.station,
                                       piece_in_words(piece) + ", station " + section.station +
                                           ": there are too few nodes for an outline. Draw at least three.",
                                       "more nodes of " + piece.name + " at station " + section.station});
                continue;
            }
            auto outline = face.outline(section, station_of(job, section.station).along.value);
            if (outline) {
                all.outlines.push_back({piece.name, section.station, station_of(job, section.station).along.value,
                                        std::move(outline).value()});
            } else {
                all.refused.push_back(
                    {piece.name, section.station,
                     piece_in_words(piece) + ", station " + section.station + ": " + outline.error().message, ""});
            }
        }
    }
    return all;
}

std::vector<Finding> outline_findings(const Job& job, const StationOutlines& outlines) {
    std::vector<Finding> findings;
    for (const Piece& piece : job.skirt.pieces) {
        Finding finding = finding_of(piece);
        finding.found = static_cast<double>(std::count_if(outlines.outlines.begin(), outlines.outlines.end(),
                                                          [&](const auto& one) { return one.piece == piece.name; }));
        for (const NoOutline& refused : outlines.refused) {
            if (refused.piece == piece.name) {
                take_refused(job, piece, refused, finding);
            }
        }
        if (!piece.file && !piece.drawn.empty() && finding.missing.empty()) {
            finding.missing = lacking_for_loft(job, piece.drawn, false, piece.name);
        }
        if (finding.state == State::falls_short) {  // A full count leaves no margin.
            finding.margin = *finding.found - *finding.required;
        } else if (!finding.missing.empty()) {
            finding.state = State::not_measured;
            finding.found = finding.required = std::nullopt;
        }
        findings.push_back(std::move(finding));
    }
    return findings;
}

}  // namespace sillwright::core
