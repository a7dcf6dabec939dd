#include "core/forming/set_back.h"

#include <algorithm>
#include <functional>
#include <limits>

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// A set-back is found to this: far below what is sculpted.
constexpr double k_slack_mm = 0.01;
/// Halvings from a car's length to below the slack.
constexpr int k_halvings = 24;
/// Pull-backs of the long edges that are tried, from none to what it takes straight.
constexpr int k_edge_steps = 4;
/// Of a door opening, from either end: no feet there.
constexpr double k_beside_step = 0.25;

/// How pull-backs are shared between the two ends and the two long edges.
struct Sharing {
    double front_room_mm = 0.0, rear_room_mm = 0.0;  ///< Before a mount comes too near.
    bool flange_stays = false;

    [[nodiscard]] SetBack of(double ends_mm, double edges_mm) const {
        double front = 0.5 * ends_mm;
        if (front > front_room_mm && ends_mm - front_room_mm <= rear_room_mm) {
            front = front_room_mm;
        } else if (front > rear_room_mm && ends_mm - rear_room_mm <= front_room_mm) {
            front = ends_mm - rear_room_mm;
        }
        const double shelf = flange_stays ? edges_mm : 0.5 * edges_mm;
        return {
            millimetres(front), millimetres(ends_mm - front), millimetres(shelf), millimetres(edges_mm - shelf), {}};
    }
};

bool lies_on_car(const Job& job, const Piece& piece) {
    return piece.carried_by == "body" && std::any_of(job.mounts.begin(), job.mounts.end(),
                                                     [](const Mount& mount) { return mount.use == MountUse::flange; });
}

Sharing sharing(const Job& job, const Piece& piece, const Silhouette& part) {
    const std::vector<Length> held = held_at(job, piece, part);
    constexpr double k_far = std::numeric_limits<double>::infinity();
    Sharing shared{k_far, k_far, lies_on_car(job, piece)};
    if (!held.empty()) {
        const double room = in_mm(k_joint_room);
        shared.front_room_mm = std::max(0.0, in_mm(held.front()) - part.rows.front().along_mm - room);
        shared.rear_room_mm = std::max(0.0, part.rows.back().along_mm - in_mm(held.back()) - room);
    }
    return shared;
}

double total_mm(const SetBack& by) {
    return in_mm(by.front + by.rear + by.shelf + by.flange);
}

bool goes_in(const Silhouette& part, const SetBack& by, const Room& room) {
    const auto rest = pulled_back(part, by);
    return rest && in_mm(laid(*rest, room).excess) <= 0.0;
}

/// With the part lying straight, or across.
std::optional<SetBack> straight(const Silhouette& part, const Room& room, bool across, const Sharing& shared) {
    const double length_room = across ? room.size_mm.y() : room.size_mm.x();
    const double width_room = across ? room.size_mm.x() : room.size_mm.y();
    const double trim = 2.0 * room.trim_mm;
    // The part's own millimetres by which its mould is too large.
    const auto over = [trim](double size, double mould_of_part, double room_mm) {
        const double most = (room_mm - trim) / mould_of_part;
        return size > most ? size - most + 0.5 * k_slack_mm : 0.0;
    };
    const double ends = over(part.rows.back().along_mm - part.rows.front().along_mm, room.mould.along, length_room);
    const auto shorter = pulled_back(part, shared.of(ends, 0.0));
    if (!shorter) {
        return std::nullopt;
    }
    const SetBack by = shared.of(ends, over(shorter->high_mm - shorter->low_mm, room.mould.across, width_room));
    return goes_in(part, by, room) ? std::optional(by) : std::nullopt;
}

/// The least at the ends with which it goes in at any turn, the edges pulled back by as much as given.
std::optional<SetBack> turned(const Silhouette& part, const Room& room, double edges_mm, const Sharing& shared) {
    double low = 0.0;
    double high = part.rows.back().along_mm - part.rows.front().along_mm - k_slack_mm;
    if (high <= 0.0 || !goes_in(part, shared.of(high, edges_mm), room)) {
        return std::nullopt;
    }
    for (int i = 0; i < k_halvings && high - low > 0.5 * k_slack_mm; ++i) {
        const double middle = 0.5 * (low + high);
        (goes_in(part, shared.of(middle, edges_mm), room) ? high : low) = middle;
    }
    return shared.of(high, edges_mm);
}

/// The stretch of a door's outline.
std::optional<std::pair<double, double>> opening_of(const Door& door) {
    if (door.outline.empty()) {
        return std::nullopt;
    }
    const auto [front, rear] =
        std::minmax_element(door.outline.begin(), door.outline.end(),
                            [](const OutlinePoint& a, const OutlinePoint& b) { return a.along.value < b.along.value; });
    return std::pair{in_mm(front->along.value), in_mm(rear->along.value)};
}

/// Whether a lap between two places is neither near a mount nor where feet stand, nor at the part's ends.
bool free_of_all(const Job& job, const Silhouette& part, const std::vector<Length>& held, double from, double to) {
    const double room = in_mm(k_joint_room);
    const bool inside = from > part.rows.front().along_mm + room && to < part.rows.back().along_mm - room;
    const bool near_mount = std::any_of(held.begin(), held.end(),
                                        [&](Length at) { return in_mm(at) > from - room && in_mm(at) < to + room; });
    const bool stepped_on = std::any_of(job.doors.begin(), job.doors.end(), [&](const Door& door) {
        const auto opening = opening_of(door);
        if (!opening) {
            return false;
        }
        const double beside = k_beside_step * (opening->second - opening->first);
        return to > opening->first + beside && from < opening->second - beside;
    });
    return inside && !near_mount && !stepped_on;
}

std::vector<Joint> places_for_joints(const Job& job, const Piece& piece, const Silhouette& part) {
    const std::vector<Length> held = held_at(job, piece, part);
    const double lap = in_mm(k_joint_lap);
    std::vector<Joint> all;
    for (const Door& door : job.doors) {
        const auto opening = opening_of(door);
        if (!opening) {
            continue;
        }
        for (const double line : {opening->first, opening->second}) {
            for (const double to : {line - lap, line + lap}) {
                if (free_of_all(job, part, held, std::min(line, to), std::max(line, to))) {
                    all.push_back({millimetres(line), millimetres(to)});
                    break;
                }
            }
        }
    }
    std::sort(all.begin(), all.end(), [](const Joint& a, const Joint& b) { return a.seen < b.seen; });
    return all;
}

/// The longest of the parts that joints make, if each of them goes in; no value else, or where two laps meet.
std::optional<double> longest_part(const Silhouette& part, const Room& room, const std::vector<Joint>& joints) {
    double from = part.rows.front().along_mm;
    double longest = 0.0;
    for (std::size_t i = 0; i <= joints.size(); ++i) {
        const double to =
            i < joints.size() ? in_mm(std::max(joints[i].seen, joints[i].lap_to)) : part.rows.back().along_mm;
        if (to - from <= 2.0 * in_mm(k_joint_lap) || in_mm(laid(stretch_of(part, from, to), room).excess) > 0.0) {
            return std::nullopt;
        }
        longest = std::max(longest, to - from);
        from = i < joints.size() ? in_mm(std::min(joints[i].seen, joints[i].lap_to)) : to;
    }
    return longest;
}

/// Calls `with` for each choice of `count` of the places, in their order.
void each_choice(const std::vector<Joint>& places, std::size_t count,
                 const std::function<void(const std::vector<Joint>&)>& with) {
    std::vector<Joint> chosen;
    const std::function<void(std::size_t)> choose = [&](std::size_t first) {
        if (chosen.size() == count) {
            with(chosen);
            return;
        }
        for (std::size_t i = first; i < places.size(); ++i) {
            chosen.push_back(places[i]);
            choose(i + 1);
            chosen.pop_back();
        }
    };
    choose(0);
}

}  // namespace

std::vector<Length> held_at(const Job& job, const Piece& piece, const Silhouette& part) {
    std::vector<Length> places;
    for (const Mount& mount : job.mounts) {
        const double along = in_mm(mount.at.along.value);
        if (piece.carried_by == "body" && mount.use != MountUse::unused && along >= part.rows.front().along_mm &&
            along <= part.rows.back().along_mm) {
            places.push_back(mount.at.along.value);
        }
    }
    std::sort(places.begin(), places.end());
    return places;
}

std::optional<Silhouette> pulled_back(const Silhouette& part, const SetBack& by) {
    const double from = part.rows.front().along_mm + in_mm(by.front);
    const double to = part.rows.back().along_mm - in_mm(by.rear);
    const double low = part.low_mm + in_mm(by.flange);
    const double high = part.high_mm - in_mm(by.shelf);
    if (from >= to || low >= high) {
        return std::nullopt;
    }
    return stretch_of(strip_of(part, low, high), from, to);
}

std::optional<SetBack> set_back(const Job& job, const Piece& piece, const Silhouette& part, const Room& room) {
    if (in_mm(laid(part, room).excess) <= 0.0) {
        return SetBack{};
    }
    const Sharing shared = sharing(job, piece, part);
    std::optional<SetBack> least;
    const auto take = [&least](const std::optional<SetBack>& one, double worth_mm) {
        if (one && (!least || total_mm(*one) < total_mm(*least) - worth_mm)) {
            least = one;
        }
    };
    const auto along = straight(part, room, false, shared);
    take(along, 0.0);
    take(straight(part, room, true, shared), 0.0);
    const double edges = along ? in_mm(along->shelf + along->flange) : 0.0;
    const int steps = edges > 0.0 ? k_edge_steps : 0;
    std::optional<SetBack> best_turned;
    std::swap(least, best_turned);
    for (int i = 0; i <= steps; ++i) {
        take(turned(part, room, steps > 0 ? edges * i / steps : 0.0, shared), 0.0);
    }
    std::swap(least, best_turned);
    take(best_turned, in_mm(k_turn_worth));
    if (least) {
        least->yaw = laid(*pulled_back(part, *least), room).yaw;
    }
    return least;
}

std::vector<Joint> joints(const Job& job, const Piece& piece, const Silhouette& part, const Room& room) {
    if (in_mm(laid(part, room).excess) <= 0.0) {
        return {};
    }
    const std::vector<Joint> places = places_for_joints(job, piece, part);
    std::vector<Joint> best;
    double best_mm = 0.0;
    for (std::size_t count = 1; count <= std::min(k_most_joints, places.size()) && best.empty(); ++count) {
        each_choice(places, count, [&](const std::vector<Joint>& chosen) {
            const auto longest = longest_part(part, room, chosen);
            if (longest && (best.empty() || *longest < best_mm)) {
                best = chosen;
                best_mm = *longest;
            }
        });
    }
    return best;
}

}  // namespace sillwright::core
