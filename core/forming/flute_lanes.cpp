#include "core/forming/flute_lanes.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/forming/bit_choice.h"
#include "core/forming/flute_findings.h"
#include "core/forming/flute_form.h"
#include "core/forming/flute_mend.h"
#include "core/forming/plate_bed.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

namespace {

/// Upstands are looked for so far beyond where they would be in the way, so that a margin can be said.
constexpr Length k_look_beyond = millimetres(50.0);
/// Beside a run-out a node is there or not.
constexpr Length k_beside = millimetres(0.01);

/// A flute or a recess, what both have.
struct Wanted {
    std::string name, bit;
    bool recess = false;
    std::size_t number = 0;
    RecessFace face = RecessFace::shelf;
    Length offset, width, depth, radius;
    std::optional<Length> outline_radius;
    std::optional<Length> front, rear;
};

std::vector<Wanted> wanted_of(const Piece& piece) {
    std::vector<Wanted> all;
    for (std::size_t i = 0; i < piece.flutes.size(); ++i) {
        const Flute& flute = piece.flutes[i];
        Wanted one{flute.name,
                   flute.bit,
                   false,
                   i,
                   RecessFace::shelf,
                   flute.offset.value,
                   flute.width.value,
                   flute.depth.value,
                   flute.bottom_radius.value,
                   {},
                   {},
                   {}};
        one.front = flute.front ? std::optional(flute.front->value) : std::nullopt;
        one.rear = flute.rear ? std::optional(flute.rear->value) : std::nullopt;
        all.push_back(std::move(one));
    }
    for (std::size_t i = 0; i < piece.recesses.size(); ++i) {
        const Recess& recess = piece.recesses[i];
        Wanted one{recess.name,        recess.bit,         true, i,  recess.on, recess.offset.value,
                   recess.width.value, recess.depth.value, {},   {}, {},        {}};
        one.outline_radius = recess.corner_radius.value;
        one.front = recess.along.value - 0.5 * recess.length.value;
        one.rear = recess.along.value + 0.5 * recess.length.value;
        all.push_back(std::move(one));
    }
    return all;
}

/// Where both nodes of a strip are there, round a place.
geometry::AlongRange range_of(const Loft& line, const Strip& strip, Length round) {
    const auto there = [&](Length along) {
        return line.present_at(strip.edge, along) && line.present_at(strip.far, along);
    };
    geometry::AlongRange range{line.front(), line.rear()};
    for (const Length place : line.run_out_places()) {
        if (place <= round && place > range.from && !there(place - k_beside)) {
            range.from = place;
        }
        if (place >= round && place < range.to && !there(place + k_beside)) {
            range.to = place;
        }
    }
    return range;
}

std::vector<Length> places_of(const Loft& line, Length from, Length to) {
    std::vector<Length> keys{from};
    for (const Length place : line.key_places()) {
        if (place > from + k_beside && place < to - k_beside) {
            keys.push_back(place);
        }
    }
    keys.push_back(to);
    std::vector<Length> places;
    for (std::size_t i = 0; i + 1 < keys.size(); ++i) {
        const Length gap = keys[i + 1] - keys[i];
        const int count = std::max(1, static_cast<int>(std::ceil(in_mm(gap) / k_lane_pitch_mm)));
        for (int k = 0; k < count; ++k) {
            places.push_back(keys[i] + (static_cast<double>(k) / count) * gap);
        }
    }
    places.push_back(keys.back());
    return places;
}

/// The sheet as formed beside a groove; none while nothing is known.
std::optional<Length> sheet_at(const Piece& piece, const FormedSheet* formed, const Strip& strip, const StripAt& at,
                               Length along, Length offset) {
    if (formed == nullptr) {
        return piece.sheet ? std::optional(piece.sheet->value) : std::nullopt;
    }
    const double part = at.length_mm > 0.0 ? std::clamp(in_mm(offset) / at.length_mm, 0.0, 1.0) : 0.0;
    const double mark =
        strip.edge < strip.far ? static_cast<double>(strip.edge) + part : static_cast<double>(strip.edge) - part;
    return formed->thickness_at(along, mark);
}

/// In the plan: along and out.
Vector2d plan_of(const LaneRow& row) {
    return {in_mm(row.along), row.middle_mm.x()};
}

double off_chord(const Vector2d& from, const Vector2d& to, const Vector2d& p) {
    const Vector2d way = to - from;
    const double length = way.norm();
    return length > 0.0 ? (way.x() * (p - from).y() - way.y() * (p - from).x()) / length : 0.0;
}

/// Whether the fence is straight, and how tightly a batten along it bends.
void take_fence(const std::vector<LaneRow>& rows, double base_radius_mm, FluteLane& lane) {
    double most = 0.0;
    for (const LaneRow& row : rows) {
        most = std::max(most, std::abs(off_chord(plan_of(rows.front()), plan_of(rows.back()), plan_of(row))));
    }
    lane.fence_straight = most <= in_mm(k_straight_fence);
    if (lane.fence_straight) {
        return;
    }
    // A circle through three places half a span apart; outward of a lane that bulges outward the fence is flatter.
    const double half = in_mm(k_batten_span) / 2.0;
    std::size_t before = 0;
    std::size_t behind = 0;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const double here = in_mm(rows[i].along);
        while (before + 1 < rows.size() && in_mm(rows[before + 1].along) <= here - half) {
            ++before;
        }
        while (behind + 1 < rows.size() && in_mm(rows[behind].along) < here + half) {
            ++behind;
        }
        const Vector2d a = plan_of(rows[before]);
        const Vector2d b = plan_of(rows[i]);
        const Vector2d c = plan_of(rows[behind]);
        if (in_mm(rows[before].along) > here - half || in_mm(rows[behind].along) < here + half) {
            continue;
        }
        const double twice_area = (b - a).x() * (c - a).y() - (b - a).y() * (c - a).x();
        if (twice_area == 0.0) {
            continue;
        }
        const double radius = (b - a).norm() * (c - b).norm() * (c - a).norm() / (2.0 * twice_area);
        // Negative: it bulges outward there, and the fence outside of it bends less.
        const double fence = radius < 0.0 ? -radius + base_radius_mm : std::max(0.0, radius - base_radius_mm);
        lane.batten = lane.batten ? std::min(*lane.batten, millimetres(fence)) : millimetres(fence);
    }
}

class LaneMaker {
public:
    LaneMaker(const Job& job, const Piece& piece, const Loft& line, const FormedSheet* formed)
        : job_{job}, router_{job.forming.router}, piece_{piece}, line_{line}, formed_{formed} {}

    FluteLane make(const Wanted& wanted) {
        FluteLane lane;
        lane.name = wanted.name;
        lane.recess = wanted.recess;
        lane.number = wanted.number;
        lane.depth = wanted.depth;
        if (router_.board) {
            lane.wood_left = router_.board->value - wanted.depth;
        } else {
            lane.missing.emplace_back("the thickness of the plug's board");
        }
        const auto strip = strip_of(line_, wanted.face);
        // A recess has ends; a flute that reaches the piece's end goes through.
        lane.opens_front = !wanted.front || (!wanted.recess && *wanted.front <= line_.front());
        lane.opens_rear = !wanted.rear || (!wanted.recess && *wanted.rear >= line_.rear());
        lane.front = std::max(line_.front(), wanted.front.value_or(line_.front()));
        lane.rear = std::min(line_.rear(), wanted.rear.value_or(line_.rear()));
        if (!strip) {
            lane.missing.emplace_back(wanted.face == RecessFace::shelf
                                          ? "nodes \"shelf inner\" and \"shelf edge\" next to one another"
                                          : "nodes \"bead\" and \"knee\" next to one another");
        } else if (!(lane.front < lane.rear)) {
            lane.missing.emplace_back("a front run-out ahead of the rear one, both on the piece");
        } else {
            lay(wanted, *strip, lane);
        }
        take_widths(wanted, lane);
        if (strip && !lane.rows.empty()) {
            take_ends(wanted, *strip, lane);
            take_bottom(wanted, *strip, lane);
        }
        return lane;
    }

private:
    const PlateBed& bed(const Strip& strip, RecessFace face) {
        auto& kept = face == RecessFace::shelf ? shelf_ : face_;
        if (!kept) {
            kept.emplace(piece_, line_, strip);
        }
        return *kept;
    }

    void lay(const Wanted& wanted, const Strip& strip, FluteLane& lane) {
        if (!router_.base_radius) {
            lane.missing.emplace_back("the radius of the router's base plate");
        }
        for (const Length along : places_of(line_, lane.front, lane.rear)) {
            LaneRow row;
            row.along = along;
            row.edge_offset = wanted.offset;
            const StripAt at = strip_at(line_, strip, along);
            const double half = in_mm(wanted.width) / 2.0;
            row.flat_left = millimetres(
                std::min(in_mm(wanted.offset) - half - at.free_from_mm, at.free_to_mm - half - in_mm(wanted.offset)));
            if (router_.base_radius) {
                const Length radius = router_.base_radius->value;
                const PlateStand stand =
                    bed(strip, wanted.face)
                        .stand_at({along, wanted.offset, radius, radius + router_.base_room.value + k_look_beyond,
                                   lane.opens_front, lane.opens_rear});
                row.middle_mm = stand.middle_mm;
                row.fence = radius - wanted.offset;
                row.room = stand.room;
                row.room_is_inner = stand.room_is_far;
                row.bearing = stand.bearing;
            } else {
                row.middle_mm = at.edge_mm + in_mm(wanted.offset) * at.inward;
            }
            lane.rows.push_back(row);
        }
        take_fence(lane.rows, router_.base_radius ? in_mm(router_.base_radius->value) : 0.0, lane);
        double sum = 0.0;
        for (const LaneRow& row : lane.rows) {
            const auto sheet =
                sheet_at(piece_, formed_, strip, strip_at(line_, strip, row.along), row.along, wanted.offset);
            sum += sheet ? in_mm(*sheet) : 0.0;
        }
        if (formed_ != nullptr || piece_.sheet) {
            lane.sheet = millimetres(sum / static_cast<double>(lane.rows.size()));
        } else {
            lane.missing.emplace_back("the sheet's thickness");
        }
    }

    [[nodiscard]] GrooveSection drawn(const Wanted& wanted) const {
        return {wanted.width, wanted.depth, wanted.radius};
    }

    void take_widths(const Wanted& wanted, FluteLane& lane) const {
        const auto mould = job_.forming.mould;
        GrooveFaces faces{drawn(wanted), wanted.width, wanted.radius};
        if (mould && lane.sheet) {
            faces = groove_faces(drawn(wanted), piece_.drawn_face, *mould, *lane.sheet);
        } else if (!mould) {
            lane.missing.emplace_back("whether the mould is male or female");
        }
        lane.mould_width = faces.mould.width;
        lane.part_width = faces.seen_width;
        lane.mould_radius = faces.mould.bottom_radius;
        lane.mouth = mouth_angle(drawn(wanted));
        lane.bit_proposed = wanted.bit.empty();
        const ToCut cut{faces.mould, wanted.outline_radius};
        std::optional<BitFit> fit;
        if (lane.bit_proposed) {
            fit = best_fit(router_, cut);
        } else if (const auto named = find_bit(router_, wanted.bit)) {
            fit = fit_of(router_, *named, cut);
        }
        lane.bit = fit ? fit->bit.name : wanted.bit;
        if (!fit) {
            lane.missing.emplace_back(wanted.bit.empty() ? "a bit that can cut it" : "bit \"" + wanted.bit + "\"");
            return;
        }
        lane.bit_width = fit->width;
        lane.passes = fit->passes;
        if (wanted.recess) {
            lane.mould_radius = fit->radius;
        } else if (fit->margin() >= Length{} && fit->radius < lane.mould_radius) {
            // The bit leaves the bottom sharper than it is drawn: that is what the sheet is drawn into.
            const GrooveSection cut_section{lane.mould_width, lane.depth, fit->radius};
            lane.mould_radius = fit->radius;
            lane.mouth = mouth_angle(cut_section);
            if (mould && lane.sheet) {
                const GrooveSection as_drawn = drawn_for_mould(cut_section, piece_.drawn_face, *mould, *lane.sheet);
                lane.part_width = groove_faces(as_drawn, piece_.drawn_face, *mould, *lane.sheet).seen_width;
            }
        }
    }

    void take_ends(const Wanted& wanted, const Strip& strip, FluteLane& lane) const {
        const geometry::AlongRange shelf = range_of(line_, strip, 0.5 * (lane.front + lane.rear));
        const Length round = wanted.recess ? Length{} : 0.5 * lane.mould_width;
        if (!lane.opens_front) {
            lane.front_room = *wanted.front - round - shelf.from;
        }
        if (!lane.opens_rear) {
            lane.rear_room = shelf.to - round - *wanted.rear;
        }
    }

    void take_bottom(const Wanted& wanted, const Strip& strip, FluteLane& lane) const {
        const auto mould = job_.forming.mould;
        const auto tilt = formed_ != nullptr ? std::optional(formed_->tilt) : job_.forming.tilt;
        if (!tilt) {
            lane.missing.emplace_back("the tilt of the draw direction");
        }
        const GrooveSection section{lane.mould_width, lane.depth, lane.mould_radius};
        for (const LaneRow& row : lane.rows) {
            const StripAt at = strip_at(line_, strip, row.along);
            if (mould && lane.sheet) {
                const auto sheet = sheet_at(piece_, formed_, strip, at, row.along, wanted.offset);
                const Length bottom = sheet ? bottom_thickness(section, *mould, *sheet) : Length{};
                lane.bottom_thickness = std::min(lane.bottom_thickness.value_or(bottom), bottom);
            }
            if (tilt) {
                const Vector2d draw(std::cos(in_rad(*tilt)), std::sin(in_rad(*tilt)));
                const Length over = groove_undercut(section, {draw.dot(at.inward), draw.dot(at.outside)});
                lane.undercut = std::max(lane.undercut.value_or(over), over);
            }
        }
    }

    const Job& job_;
    const Router& router_;
    const Piece& piece_;
    const Loft& line_;
    const FormedSheet* formed_;
    std::optional<PlateBed> shelf_, face_;
};

/// To the next one inward, among those that lie beside it on the same strip.
void take_lands(const std::vector<Wanted>& wanted, std::vector<FluteLane>& lanes) {
    for (std::size_t i = 0; i < lanes.size(); ++i) {
        for (std::size_t k = 0; k < lanes.size(); ++k) {
            const bool inward = wanted[k].offset > wanted[i].offset || (wanted[k].offset == wanted[i].offset && k > i);
            const bool beside = lanes[i].front < lanes[k].rear && lanes[k].front < lanes[i].rear;
            if (k == i || wanted[i].face != wanted[k].face || !inward || !beside || lanes[i].rows.empty() ||
                lanes[k].rows.empty()) {
                continue;
            }
            const Length land =
                wanted[k].offset - wanted[i].offset - 0.5 * (lanes[i].mould_width + lanes[k].mould_width);
            if (!lanes[i].land || land < *lanes[i].land) {
                lanes[i].land = land;
                lanes[i].land_to = lanes[k].name;
            }
        }
    }
}

}  // namespace

std::vector<FluteLane> flute_lanes(const Job& job, const Piece& piece, const Loft& line, const FormedSheet* formed) {
    const std::vector<Wanted> wanted = wanted_of(piece);
    LaneMaker maker(job, piece, line, formed);
    std::vector<FluteLane> lanes;
    lanes.reserve(wanted.size());
    for (const Wanted& one : wanted) {
        lanes.push_back(maker.make(one));
    }
    take_lands(wanted, lanes);
    return lanes;
}

std::vector<Finding> flute_findings(const Job& job, const Piece& piece, const Loft& line, const FormedSheet* formed,
                                    const std::vector<FluteLane>& lanes, Mends mends) {
    std::vector<Finding> findings = lane_findings(job, piece, lanes);
    if (mends == Mends::look_for) {
        add_flute_mends(job, piece, line, formed, lanes, findings);
    }
    return findings;
}

}  // namespace sillwright::core
