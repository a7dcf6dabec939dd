#include "core/edit/underlay_edit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <limits>
#include <optional>
#include <set>
#include <utility>

#include "core/edit/checked_drawing.h"
#include "core/edit/drawn_change.h"
#include "core/edit/new_names.h"
#include "core/edit/node_edit.h"
#include "core/typed.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;
using geometry::PlaneLine;
using geometry::Result;
using survey::Photo;
using survey::PhotoPlane;
using survey::PhotoPoint;
using survey::Scan;
using survey::ScanMark;

namespace {

Error bad(std::string message) {
    return {ErrorCode::invalid_argument, std::move(message)};
}

template <class Thing>
Thing* find(std::vector<Thing>& things, const std::string& name) {
    const auto found = std::find_if(things.begin(), things.end(), [&](const Thing& one) { return one.name == name; });
    return found == things.end() ? nullptr : &*found;
}

template <class Thing>
std::string free_name(const std::vector<Thing>& things, const std::string& stem) {
    std::set<std::string> taken;
    for (const Thing& thing : things) {
        taken.insert(thing.name);
    }
    return next_name(taken, stem);
}

/// `change` done to a photo of a copy of the job; it returns the words, or what is wrong.
template <class Change>
Result<Edit> change_photo(const Job& job, const std::string& name, const Change& change) {
    Job changed = job;
    Photo* photo = find(changed.photos, name);
    if (photo == nullptr) {
        return bad("There is no photo \"" + name + "\" in this job.");
    }
    const Result<std::string> words = change(*photo);
    return words ? checked_edit(std::move(changed), words.value()) : Result<Edit>(words.error());
}

template <class Change>
Result<Edit> change_photo_point(const Job& job, const std::string& name, std::size_t point, const Change& change) {
    return change_photo(job, name, [&](Photo& photo) -> Result<std::string> {
        if (point >= photo.points.size()) {
            return bad(name + " has no point " + std::to_string(point + 1) + ".");
        }
        return change(photo);
    });
}

template <class Change>
Result<Edit> change_scan(const Job& job, const std::string& name, const Change& change) {
    Job changed = job;
    Scan* scan = find(changed.scans, name);
    if (scan == nullptr) {
        return bad("There is no scan \"" + name + "\" in this job.");
    }
    const Result<std::string> words = change(*scan);
    return words ? checked_edit(std::move(changed), words.value()) : Result<Edit>(words.error());
}

std::string point_words(std::size_t point, const std::string& photo) {
    return "point " + std::to_string(point + 1) + " of " + photo;
}

}  // namespace

Result<Edit> add_photo(const Job& job, const BroughtFile& file, PhotoPlane plane, const std::string& station) {
    Job changed = job;
    Photo photo;
    photo.name = free_name(job.photos, "photo ");
    photo.path = file.path;
    photo.checksum = file.checksum;
    photo.plane = plane;
    photo.station = plane == PhotoPlane::section ? station : std::string();
    changed.photos.push_back(photo);
    return checked_edit(std::move(changed), "add " + photo.name);
}

Result<Edit> delete_photo(const Job& job, const std::string& photo) {
    Job changed = job;
    if (std::erase_if(changed.photos, [&](const Photo& one) { return one.name == photo; }) == 0) {
        return bad("There is no photo \"" + photo + "\" in this job.");
    }
    return checked_edit(std::move(changed), "delete " + photo);
}

Result<Edit> set_photo_plane(const Job& job, const std::string& photo, PhotoPlane plane, const std::string& station) {
    return change_photo(job, photo, [&](Photo& changed) -> Result<std::string> {
        changed.plane = plane;
        changed.station = plane == PhotoPlane::section ? station : std::string();
        return "say what " + photo + " shows";
    });
}

Result<Edit> pick_photo_point(const Job& job, const std::string& photo, const Vector2d& at_px) {
    return change_photo(job, photo, [&](Photo& changed) -> Result<std::string> {
        PhotoPoint point;
        point.right_px = at_px.x();
        point.down_px = at_px.y();
        changed.points.push_back(point);
        return "pick " + point_words(changed.points.size() - 1, photo);
    });
}

Result<Edit> move_photo_point(const Job& job, const std::string& photo, std::size_t point, const Vector2d& to_px) {
    return change_photo_point(job, photo, point, [&](Photo& changed) -> Result<std::string> {
        changed.points[point].right_px = to_px.x();
        changed.points[point].down_px = to_px.y();
        return "move " + point_words(point, photo);
    });
}

Result<Edit> name_photo_point(const Job& job, const std::string& photo, std::size_t point,
                              const std::string& book_point) {
    return change_photo_point(job, photo, point, [&](Photo& changed) -> Result<std::string> {
        changed.points[point].point = book_point;
        if (!book_point.empty()) {
            changed.points[point].across.reset();
            changed.points[point].up.reset();
        }
        return "say what " + point_words(point, photo) + " is";
    });
}

Result<Edit> type_photo_point(const Job& job, const std::string& photo, std::size_t point, PhotoNumber which,
                              const std::string& typed) {
    return change_photo_point(job, photo, point, [&](Photo& changed) -> Result<std::string> {
        PhotoPoint& place = changed.points[point];
        auto& number = which == PhotoNumber::across ? place.across : place.up;
        if (typed.empty()) {
            number.reset();
        } else {
            const auto entry = typed_entry(typed, job.unit);
            if (!entry) {
                return entry.error();
            }
            number = entry.value();
            place.point.clear();
        }
        return "type the place of " + point_words(point, photo);
    });
}

Result<Edit> delete_photo_point(const Job& job, const std::string& photo, std::size_t point) {
    return change_photo_point(job, photo, point, [&](Photo& changed) -> Result<std::string> {
        changed.points.erase(changed.points.begin() + static_cast<std::ptrdiff_t>(point));
        return "delete " + point_words(point, photo);
    });
}

Result<Edit> add_scan(const Job& job, const BroughtFile& file, BareUnit unit) {
    Job changed = job;
    Scan scan;
    scan.name = free_name(job.scans, "scan ");
    scan.path = file.path;
    scan.checksum = file.checksum;
    scan.unit = unit;
    changed.scans.push_back(scan);
    return checked_edit(std::move(changed), "add " + scan.name);
}

Result<Edit> delete_scan(const Job& job, const std::string& scan) {
    Job changed = job;
    if (std::erase_if(changed.scans, [&](const Scan& one) { return one.name == scan; }) == 0) {
        return bad("There is no scan \"" + scan + "\" in this job.");
    }
    return checked_edit(std::move(changed), "delete " + scan);
}

Result<Edit> set_scan_unit(const Job& job, const std::string& scan, BareUnit unit) {
    return change_scan(job, scan, [&](Scan& changed) -> Result<std::string> {
        changed.unit = unit;
        return "set the unit of " + scan;
    });
}

Result<Edit> mark_scan(const Job& job, const std::string& scan, const std::string& book_point,
                       const Eigen::Vector3d& at) {
    return change_scan(job, scan, [&](Scan& changed) -> Result<std::string> {
        if (book_point.empty() || !at.allFinite()) {
            return bad("A mark takes a point of the measuring book and three numbers.");
        }
        auto found = std::find_if(changed.marks.begin(), changed.marks.end(),
                                  [&](const ScanMark& mark) { return mark.point == book_point; });
        if (found == changed.marks.end()) {
            found = changed.marks.insert(found, ScanMark{});
        }
        found->point = book_point;
        found->x = at.x();
        found->y = at.y();
        found->z = at.z();
        return "mark " + book_point + " on " + scan;
    });
}

Result<Edit> delete_scan_mark(const Job& job, const std::string& scan, const std::string& book_point) {
    return change_scan(job, scan, [&](Scan& changed) -> Result<std::string> {
        if (std::erase_if(changed.marks, [&](const ScanMark& mark) { return mark.point == book_point; }) == 0) {
            return bad(scan + " has no mark " + book_point + ".");
        }
        return "delete the mark " + book_point + " of " + scan;
    });
}

Result<Edit> fit_scan(const Job& job, const std::string& scan, bool fitted) {
    return change_scan(job, scan, [&](Scan& changed) -> Result<std::string> {
        changed.fitted = fitted;
        return fitted ? "fit " + scan + " to the body as drawn" : "place " + scan + " by its marks alone";
    });
}

Result<Edit> type_scan_deviation(const Job& job, const std::string& scan, const std::string& typed) {
    return change_scan(job, scan, [&](Scan& changed) -> Result<std::string> {
        if (typed.empty()) {
            changed.deviation.reset();
        } else {
            const auto entry = typed_entry(typed, job.unit);
            if (!entry) {
                return entry.error();
            }
            if (!(entry.value().value > Length{})) {
                return bad("The deviation must be above 0, such as 0.2 mm.");
            }
            changed.deviation = entry.value();
        }
        return "set the deviation of " + scan;
    });
}

// Sections from a scan ------------------------------------------------------------------------------

namespace {

constexpr DrawnId k_body{DrawnId::Kind::body, 0, 0};

std::string hundredths(Length length) {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.2f", in_mm(length));
    return text.data();
}

Node node_at(NodeIds& ids, const std::string& name, const Vector2d& p_mm) {
    Node node;
    node.id = ids.next();
    node.name = name;
    node.out = entry(millimetres(p_mm.x()));
    node.up = entry(millimetres(p_mm.y()));
    return node;
}

Vector2d place_of(const Node& node) {
    return {in_mm(node.out.value), in_mm(node.up.value)};
}

std::string drawn_words(const std::vector<ScanProfile>& profiles, Length deviation) {
    std::string words = profiles.size() == 1 ? "draw station " : "draw stations ";
    for (std::size_t i = 0; i < profiles.size(); ++i) {
        words += (i == 0 ? "" : i + 1 == profiles.size() ? " and " : ", ") + profiles[i].station;
    }
    return words + " from the scan, within " + hundredths(deviation) + " mm";
}

Error too_many_nodes(Length most) {
    return {ErrorCode::does_not_fit,
            "Within " + hundredths(most) + " mm this scan takes more than " + std::to_string(k_most_scan_nodes) +
                " nodes a section. Allow a larger deviation: a scan's own noise needs no nodes."};
}

/// All of the body's sections from the scan.
Result<Edit> draw_all(const Job& job, Job changed, const std::vector<ScanProfile>& profiles, Length most) {
    std::vector<PlaneLine> lines;
    for (const ScanProfile& profile : profiles) {
        lines.push_back(profile.line_mm);
    }
    const auto thinned = geometry::thin(lines, most);
    if (!thinned) {
        return thinned.error();
    }
    if (thinned.value().nodes.front().size() > k_most_scan_nodes) {
        return too_many_nodes(most);
    }
    NodeIds ids(job);
    changed.body.run_outs.clear();
    for (std::size_t i = 0; i < profiles.size(); ++i) {
        Section& section = section_made_at(changed, changed.body, profiles[i].station);
        const PlaneLine& nodes = thinned.value().nodes[i];
        for (std::size_t k = 0; k < nodes.size(); ++k) {
            section.nodes.push_back(node_at(ids, "p" + std::to_string(k + 1), nodes[k]));
        }
    }
    return checked_drawing(job, std::move(changed), {k_body}, drawn_words(profiles, thinned.value().deviation));
}

/// The section nearest along the car, of those that stay.
const Section& nearest_section(const Job& job, const std::string& station) {
    const double here = in_mm(job.stations[*station_index(job, station)].along.value);
    const auto off = [&](const Section& section) {
        const auto index = station_index(job, section.station);
        return index ? std::abs(in_mm(job.stations[*index].along.value) - here) : std::numeric_limits<double>::max();
    };
    return *std::min_element(job.body.sections.begin(), job.body.sections.end(),
                             [&](const Section& a, const Section& b) { return off(a) < off(b); });
}

/// For each place, in their order, a point of the line: the least sum of squared distances of all choices that rise.
/// Precondition: the line has as many points.
std::vector<std::size_t> matched(const std::vector<Vector2d>& places, const PlaneLine& line) {
    const std::size_t n = places.size();
    const std::size_t m = line.size();
    const double none = std::numeric_limits<double>::infinity();
    // least[k][j]: places 0..k matched, k to point j.
    std::vector<std::vector<double>> least(n, std::vector<double>(m, none));
    std::vector<std::vector<std::size_t>> before(n, std::vector<std::size_t>(m, 0));
    for (std::size_t k = 0; k < n; ++k) {
        double best = k == 0 ? 0.0 : none;
        std::size_t best_at = 0;
        for (std::size_t j = k; j < m; ++j) {
            if (k > 0 && least[k - 1][j - 1] < best) {
                best = least[k - 1][j - 1];
                best_at = j - 1;
            }
            least[k][j] = best + (places[k] - line[j]).squaredNorm();
            before[k][j] = best_at;
        }
    }
    std::vector<std::size_t> at(n);
    at[n - 1] =
        static_cast<std::size_t>(std::min_element(least[n - 1].begin(), least[n - 1].end()) - least[n - 1].begin());
    for (std::size_t k = n - 1; k > 0; --k) {
        at[k - 1] = before[k][at[k]];
    }
    return at;
}

/// A line with points at most this far apart, so that there is one near to every node.
PlaneLine fine(const PlaneLine& line) {
    constexpr double k_step_mm = 0.5;
    PlaneLine points;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const int steps = std::max(1, static_cast<int>(std::ceil((line[i + 1] - line[i]).norm() / k_step_mm)));
        for (int k = 0; k < steps; ++k) {
            points.push_back(line[i] + (line[i + 1] - line[i]) * k / steps);
        }
    }
    points.push_back(line.back());
    return points;
}

/// One profile beside sections that stay: their names, then what the deviation asks for between them.
Result<Edit> draw_one(const Job& job, const ScanProfile& profile, Length most, Length& deviation) {
    const Section& pattern = nearest_section(job, profile.station);
    const PlaneLine line = fine(profile.line_mm);
    std::vector<Vector2d> places;
    for (const Node& node : pattern.nodes) {
        places.push_back(place_of(node));
    }
    if (line.size() < places.size() || places.size() < 2) {
        return bad("The scan at station " + profile.station + " is too short to be drawn like station " +
                   pattern.station + ".");
    }
    const std::vector<std::size_t> at = matched(places, line);
    NodeIds ids(job);
    Job drawn_job = job;
    Section& made = section_made_at(drawn_job, drawn_job.body, profile.station);
    for (std::size_t k = 0; k < places.size(); ++k) {
        made.nodes.push_back(node_at(ids, pattern.nodes[k].name, line[at[k]]));
    }
    drop_idle_run_outs(job, job.body, drawn_job, drawn_job.body);
    Result<Edit> edit = checked_edit(std::move(drawn_job), "");
    std::set<std::string> taken;
    for (const std::string& name : names_in_order(job.body)) {
        taken.insert(name);
    }
    for (std::size_t k = 0; k + 1 < at.size() && edit; ++k) {
        const PlaneLine stretch(line.begin() + static_cast<std::ptrdiff_t>(at[k]),
                                line.begin() + static_cast<std::ptrdiff_t>(at[k + 1] + 1));
        const auto thinned = geometry::thin(std::vector<PlaneLine>{stretch}, most);
        if (!thinned) {
            return thinned.error();
        }
        deviation = std::max(deviation, thinned.value().deviation);
        const PlaneLine& nodes = thinned.value().nodes.front();
        std::string behind = pattern.nodes[k].name;
        for (std::size_t i = 1; i + 1 < nodes.size() && edit; ++i) {
            const std::size_t section = *section_at_station(edit.value().job.body, profile.station);
            const Section& here = edit.value().job.body.sections[section];
            if (here.nodes.size() >= k_most_scan_nodes) {
                return too_many_nodes(most);
            }
            const std::string name = next_name(taken, "p");
            taken.insert(name);
            const std::size_t after = *node_of(here, behind);
            edit = add_node(edit.value().job, k_body, section, after, nodes[i], name);
            behind = name;
        }
    }
    return edit;
}

}  // namespace

Result<Edit> draw_from_scan(const Job& job, const std::vector<ScanProfile>& profiles, Length most, bool replace) {
    if (profiles.empty() || !(most > Length{})) {
        return bad("To draw from a scan takes a station at which it has triangles, and a deviation above 0.");
    }
    Job changed = job;
    for (const ScanProfile& profile : profiles) {
        if (!station_index(job, profile.station)) {
            return bad("There is no station \"" + profile.station + "\" in this job.");
        }
        if (profile.line_mm.size() < 2) {
            return bad("The scan has no line at station " + profile.station + ".");
        }
        const auto there = section_at_station(job.body, profile.station);
        if (there && !job.body.sections[*there].nodes.empty() && !replace) {
            return bad("The body is drawn at station " + profile.station +
                       " already. Say that it may be replaced, or choose another station.");
        }
        std::erase_if(changed.body.sections,
                      [&](const Section& section) { return section.station == profile.station; });
    }
    std::erase_if(changed.body.sections, [](const Section& section) { return section.nodes.empty(); });
    if (changed.body.sections.empty()) {
        return draw_all(job, std::move(changed), profiles, most);
    }
    Length deviation{};
    Result<Edit> edit = Edit{std::move(changed), ""};
    for (const ScanProfile& profile : profiles) {
        edit = draw_one(edit.value().job, profile, most, deviation);
        if (!edit) {
            return edit.error();
        }
    }
    return checked_drawing(job, edit.value().job, {k_body}, drawn_words(profiles, deviation));
}

}  // namespace sillwright::core
