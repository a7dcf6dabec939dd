#include "geometry/loft.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <set>

#include "geometry/corner.h"
#include "geometry/text.h"

namespace sillwright::geometry {

namespace {

/// Shares of a straight are taken from distances no shorter than this, so that
/// nodes drawn at one place still have an order.
constexpr double k_least_share_mm = 1e-6;
/// Run-outs that lean on one another's lines are solved by repetition; each pass
/// shrinks the change several times, so this is far more than ever needed.
constexpr int k_most_passes = 60;

std::string at_station(std::size_t station) {
    return "station " + std::to_string(station + 1);
}

std::string quoted(const std::string& name) {
    return "'" + name + "'";
}

Error bad(std::string message) {
    return Error{ErrorCode::invalid_argument, std::move(message)};
}

Status check_sections(const std::vector<LoftSection>& sections, bool closed) {
    if (sections.size() < 2) {
        return bad("A body needs sections at two or more stations; it has " + std::to_string(sections.size()) + ".");
    }
    for (std::size_t i = 0; i < sections.size(); ++i) {
        const LoftSection& section = sections[i];
        if (!std::isfinite(in_mm(section.along))) {
            return bad("The place of " + at_station(i) + " is not a number.");
        }
        if (i > 0 && !(section.along > sections[i - 1].along)) {
            return bad("The place of " + at_station(i) + " (" + text(section.along) + ") must be behind that of " +
                       at_station(i - 1) + " (" + text(sections[i - 1].along) + ").");
        }
        const std::size_t least = closed ? 3 : 2;
        if (section.nodes.size() < least) {
            return bad("The section at " + at_station(i) + " has " + std::to_string(section.nodes.size()) +
                       " nodes; it needs " + std::to_string(least) + " or more.");
        }
        std::set<std::string> seen;
        for (const LoftNode& node : section.nodes) {
            if (!seen.insert(node.name).second) {
                return bad("Node " + quoted(node.name) + " stands twice in the section at " + at_station(i) +
                           "; each name may stand there once.");
            }
            if (!node.p_mm.allFinite() || !std::isfinite(in_mm(node.radius)) || node.radius < Length{}) {
                return bad("Node " + quoted(node.name) + " at " + at_station(i) +
                           " needs finite coordinates and a radius of zero or more.");
            }
        }
    }
    return std::monostate{};
}

double side_of(const Eigen::Vector2d& a, const Eigen::Vector2d& b, const Eigen::Vector2d& p) {
    return (b.x() - a.x()) * (p.y() - a.y()) - (b.y() - a.y()) * (p.x() - a.x());
}

/// Refuses two straights of a section that cross; touching is allowed.
Status check_no_crossing(const std::vector<ProfileNode>& nodes, const std::vector<std::string>& names, bool closed) {
    const std::size_t n = nodes.size();
    const std::size_t straights = closed ? n : n - 1;
    for (std::size_t i = 0; i < straights; ++i) {
        const Eigen::Vector2d& a = nodes[i].p_mm;
        const Eigen::Vector2d& b = nodes[(i + 1) % n].p_mm;
        for (std::size_t k = i + 2; k < straights; ++k) {
            const Eigen::Vector2d& c = nodes[k].p_mm;
            const Eigen::Vector2d& d = nodes[(k + 1) % n].p_mm;
            if ((k + 1) % n != i && side_of(a, b, c) * side_of(a, b, d) < 0.0 &&
                side_of(c, d, a) * side_of(c, d, b) < 0.0) {
                return Error{ErrorCode::does_not_fit, "the straight from " + quoted(names[i]) + " to " +
                                                          quoted(names[(i + 1) % n]) + " crosses that from " +
                                                          quoted(names[k]) + " to " + quoted(names[(k + 1) % n])};
            }
        }
    }
    return std::monostate{};
}

/// Which names must stand behind which, and at which station that was seen first.
class NameOrder {
public:
    /// Takes a pair of neighbours. False if an earlier section has them the other way round.
    bool add(const std::string& first, const std::string& second) {
        if (leads_to(second, first)) {
            return false;
        }
        behind_[first].insert(second);
        return true;
    }

    /// Names in an order that keeps every pair, earlier seen names first where free.
    [[nodiscard]] std::vector<std::string> sorted(const std::vector<std::string>& seen) const {
        std::vector<std::string> result;
        std::set<std::string> placed;
        while (result.size() < seen.size()) {
            const auto free = std::find_if(seen.begin(), seen.end(), [&](const std::string& name) {
                return !placed.contains(name) && std::all_of(seen.begin(), seen.end(), [&](const std::string& other) {
                    return placed.contains(other) || !comes_right_before(other, name);
                });
            });
            result.push_back(*free);
            placed.insert(*free);
        }
        return result;
    }

private:
    [[nodiscard]] bool comes_right_before(const std::string& first, const std::string& second) const {
        const auto found = behind_.find(first);
        return found != behind_.end() && found->second.contains(second);
    }

    [[nodiscard]] bool leads_to(const std::string& first, const std::string& last) const {
        std::vector<std::string> open{first};
        std::set<std::string> seen{first};
        while (!open.empty()) {
            const std::string name = open.back();
            open.pop_back();
            if (name == last) {
                return true;
            }
            const auto found = behind_.find(name);
            if (found == behind_.end()) {
                continue;
            }
            for (const std::string& next : found->second) {
                if (seen.insert(next).second) {
                    open.push_back(next);
                }
            }
        }
        return false;
    }

    std::map<std::string, std::set<std::string>> behind_;
};

}  // namespace

bool Loft::Guide::goes_through(Length along) const {
    return (!runs_out_before || from < along) && (!runs_out_behind || along < to);
}

Result<Loft> Loft::make(std::vector<LoftSection> sections, const std::vector<RunOut>& run_outs, bool closed) {
    if (auto status = check_sections(sections, closed); !status) {
        return status.error();
    }
    Loft loft;
    loft.sections_ = std::move(sections);
    loft.closed_ = closed;
    if (auto status = loft.order_names(); !status) {
        return status.error();
    }
    if (auto status = loft.find_extents(run_outs); !status) {
        return status.error();
    }
    if (auto status = loft.check_enough_names(); !status) {
        return status.error();
    }
    loft.take_ratios();
    loft.draw_lines();
    for (std::size_t station = 0; station < loft.sections_.size(); ++station) {
        if (auto status = loft.check_station(station); !status) {
            return status.error();
        }
    }
    return loft;
}

Status Loft::order_names() {
    NameOrder order;
    std::vector<std::string> seen;
    for (std::size_t station = 0; station < sections_.size(); ++station) {
        const auto& nodes = sections_[station].nodes;
        for (std::size_t k = 0; k < nodes.size(); ++k) {
            if (std::find(seen.begin(), seen.end(), nodes[k].name) == seen.end()) {
                seen.push_back(nodes[k].name);
            }
            if (k > 0 && !order.add(nodes[k - 1].name, nodes[k].name)) {
                return bad("At " + at_station(station) + " node " + quoted(nodes[k].name) + " stands behind " +
                           quoted(nodes[k - 1].name) +
                           ", at an earlier station before it; names keep one order in every section.");
            }
        }
    }
    names_ = order.sorted(seen);
    for (const LoftSection& section : sections_) {
        std::vector<std::size_t>& numbers = number_.emplace_back();
        for (const LoftNode& node : section.nodes) {
            numbers.push_back(
                static_cast<std::size_t>(std::find(names_.begin(), names_.end(), node.name) - names_.begin()));
        }
    }
    return std::monostate{};
}

Status Loft::find_extents(const std::vector<RunOut>& run_outs) {
    guides_.resize(names_.size());
    std::vector<bool> used(run_outs.size(), false);
    const auto take_run_out = [&](std::size_t name, std::size_t gap) -> std::optional<Length> {
        for (std::size_t k = 0; k < run_outs.size(); ++k) {
            if (!used[k] && run_outs[k].name == names_[name] && run_outs[k].along > sections_[gap].along &&
                run_outs[k].along < sections_[gap + 1].along) {
                used[k] = true;
                return run_outs[k].along;
            }
        }
        return std::nullopt;
    };
    const auto missing = [&](std::size_t name, std::size_t gone, std::size_t gap) {
        return bad("Node " + quoted(names_[name]) + " is missing at " + at_station(gone) +
                   "; say where its feature runs out, between " + text(sections_[gap].along) + " and " +
                   text(sections_[gap + 1].along) + ".");
    };
    for (std::size_t name = 0; name < names_.size(); ++name) {
        Guide& guide = guides_[name];
        std::vector<std::size_t> stations;
        for (std::size_t station = 0; station < sections_.size(); ++station) {
            if (std::find(number_[station].begin(), number_[station].end(), name) != number_[station].end()) {
                stations.push_back(station);
            }
        }
        for (std::size_t k = 1; k < stations.size(); ++k) {
            if (stations[k] != stations[k - 1] + 1) {
                return bad("Node " + quoted(names_[name]) + " is missing at " + at_station(stations[k - 1] + 1) +
                           " but there again at " + at_station(stations[k]) +
                           "; give the second feature a name of its own.");
            }
        }
        guide.first = stations.front();
        guide.last = stations.back();
        guide.from = front();
        guide.to = rear();
        if (guide.first > 0) {
            const auto along = take_run_out(name, guide.first - 1);
            if (!along) {
                return missing(name, guide.first - 1, guide.first - 1);
            }
            guide.runs_out_before = true;
            guide.from = *along;
        }
        if (guide.last + 1 < sections_.size()) {
            const auto along = take_run_out(name, guide.last);
            if (!along) {
                return missing(name, guide.last + 1, guide.last);
            }
            guide.runs_out_behind = true;
            guide.to = *along;
        }
    }
    for (std::size_t k = 0; k < run_outs.size(); ++k) {
        if (!used[k]) {
            return bad("The run-out of " + quoted(run_outs[k].name) + " at " + text(run_outs[k].along) +
                       " is not between a station that has this node and one that has not; " +
                       "move it there or take it out.");
        }
    }
    return std::monostate{};
}

Status Loft::check_enough_names() const {
    const std::ptrdiff_t least = closed_ ? 3 : 2;
    for (std::size_t gap = 0; gap + 1 < sections_.size(); ++gap) {
        const auto through = std::count_if(guides_.begin(), guides_.end(), [&](const Guide& guide) {
            return guide.first <= gap && guide.last >= gap + 1;
        });
        if (through < least) {
            return bad("From " + at_station(gap) + " to " + at_station(gap + 1) + " only " + std::to_string(through) +
                       " node names go through; " + std::to_string(least) + " or more must stand in both sections.");
        }
    }
    return std::monostate{};
}

Status Loft::check_station(std::size_t station) const {
    std::vector<Corner> corners;
    const auto nodes = nodes_at(sections_[station].along);
    auto status = find_corners(nodes, names_, closed_, corners);
    if (status) {
        status = check_room(corners, names_, closed_, 0.0);
    }
    if (status) {
        status = check_no_crossing(nodes, names_, closed_);
    }
    if (!status) {
        return Error{status.error().code, "At " + at_station(station) + " " + status.error().message + "."};
    }
    return std::monostate{};
}

void Loft::take_ratios() {
    const auto fullest =
        std::max_element(sections_.begin(), sections_.end(),
                         [](const LoftSection& a, const LoftSection& b) { return a.nodes.size() < b.nodes.size(); });
    const auto station = static_cast<std::size_t>(fullest - sections_.begin());
    std::vector<const LoftNode*> node_of(names_.size(), nullptr);
    for (std::size_t k = 0; k < fullest->nodes.size(); ++k) {
        node_of[number_[station][k]] = &fullest->nodes[k];
    }
    // Names that the fullest section has not got stand a mean step apart.
    const std::size_t n = names_.size();
    const std::size_t steps = closed_ ? n : n - 1;
    std::vector<double> step(n, 0.0);
    double sum = 0.0;
    double known = 0.0;
    for (std::size_t i = 0; i < steps; ++i) {
        const LoftNode* a = node_of[i];
        const LoftNode* b = node_of[(i + 1) % n];
        if (a != nullptr && b != nullptr) {
            step[i] = std::max((b->p_mm - a->p_mm).norm(), k_least_share_mm);
            sum += step[i];
            known += 1.0;
        }
    }
    const double mean = known > 0.0 ? sum / known : 1.0;
    mark_.assign(n + 1, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
        mark_[i + 1] = mark_[i] + (step[i] > 0.0 ? step[i] : mean);
    }
}

void Loft::draw_line(std::size_t name, bool with_run_outs) {
    Guide& guide = guides_[name];
    std::vector<Length> places;
    std::array<std::vector<double>, 3> values;
    const auto add = [&](Length along, const Eigen::Vector2d& p, double radius) {
        places.push_back(along);
        values[0].push_back(p.x());
        values[1].push_back(p.y());
        values[2].push_back(radius);
    };
    if (with_run_outs && guide.runs_out_before) {
        add(guide.from, guide.start_mm, 0.0);
    }
    for (std::size_t station = guide.first; station <= guide.last; ++station) {
        const auto& numbers = number_[station];
        const auto k = static_cast<std::size_t>(std::find(numbers.begin(), numbers.end(), name) - numbers.begin());
        const LoftNode& node = sections_[station].nodes[k];
        add(sections_[station].along, node.p_mm, in_mm(node.radius));
    }
    if (with_run_outs && guide.runs_out_behind) {
        add(guide.to, guide.end_mm, 0.0);
    }
    if (places.size() == 1) {  // one station, its run-outs not known yet: level from there
        add(places.front() + millimetres(1.0), {values[0][0], values[1][0]}, values[2][0]);
    }
    guide.lines.clear();
    for (const auto& value : values) {
        guide.lines.push_back(GuideLine::through(places, value).value());
    }
}

void Loft::draw_lines() {
    for (std::size_t name = 0; name < names_.size(); ++name) {
        draw_line(name, false);
    }
    for (int pass = 0; pass < k_most_passes; ++pass) {
        if (settle_run_outs()) {
            return;
        }
    }
}

/// One pass: every run-out put on the straight between its neighbours' lines as they are now.
bool Loft::settle_run_outs() {
    bool settled = true;
    std::vector<Eigen::Vector2d> start(names_.size()), end(names_.size());
    for (std::size_t name = 0; name < names_.size(); ++name) {
        const Guide& guide = guides_[name];
        start[name] = guide.runs_out_before ? run_out_point(name, guide.from) : guide.start_mm;
        end[name] = guide.runs_out_behind ? run_out_point(name, guide.to) : guide.end_mm;
    }
    for (std::size_t name = 0; name < names_.size(); ++name) {
        Guide& guide = guides_[name];
        if (!guide.runs_out_before && !guide.runs_out_behind) {
            continue;
        }
        settled = settled && start[name] == guide.start_mm && end[name] == guide.end_mm;
        guide.start_mm = start[name];
        guide.end_mm = end[name];
        draw_line(name, true);
    }
    return settled;
}

template <class There>
std::size_t Loft::neighbour(std::size_t name, bool behind, const There& there) const {
    const std::size_t n = names_.size();
    for (std::size_t step = 1; step < n; ++step) {
        if (!closed_ && (behind ? name + step >= n : step > name)) {
            break;
        }
        const std::size_t k = (behind ? name + step : name + n - step) % n;
        if (there(k)) {
            return k;
        }
    }
    return name;
}

double Loft::ratio(std::size_t before, std::size_t name, std::size_t behind) const {
    const double whole = mark_.back();
    const double way = mark_[name] - mark_[before] + (name < before ? whole : 0.0);
    const double chord = mark_[behind] - mark_[before] + (behind < before ? whole : 0.0);
    return way / chord;
}

Eigen::Vector2d Loft::line_point(std::size_t name, Length along) const {
    const auto& lines = guides_[name].lines;
    return {lines[0].value(along), lines[1].value(along)};
}

Eigen::Vector2d Loft::run_out_point(std::size_t name, Length along) const {
    const auto through = [&](std::size_t k) { return guides_[k].goes_through(along); };
    const std::size_t before = neighbour(name, false, through);
    const std::size_t behind = neighbour(name, true, through);
    if (before == name || behind == name) {
        return line_point(before == name ? behind : before, along);
    }
    const double t = ratio(before, name, behind);
    return (1.0 - t) * line_point(before, along) + t * line_point(behind, along);
}

bool Loft::present_at(std::size_t name, Length along) const {
    return guides_[name].from <= along && along <= guides_[name].to;
}

std::vector<ProfileNode> Loft::nodes_at(Length along) const {
    std::vector<ProfileNode> nodes;
    nodes_at(along, nodes);
    return nodes;
}

ProfileNode Loft::node_at(std::size_t name, Length along) const {
    const Length s = std::clamp(along, front(), rear());
    if (!present_at(name, s)) {
        return nodes_at(along)[name];  // It stands between others.
    }
    ProfileNode node;
    node.p_mm = line_point(name, s);
    node.radius = millimetres(std::max(0.0, guides_[name].lines[2].value(s)));
    return node;
}

void Loft::nodes_at(Length along, std::vector<ProfileNode>& nodes) const {
    const Length s = std::clamp(along, front(), rear());
    nodes.resize(names_.size());
    bool all = true;
    for (std::size_t name = 0; name < names_.size(); ++name) {
        if (!present_at(name, s)) {
            all = false;
            continue;
        }
        nodes[name].p_mm = line_point(name, s);
        nodes[name].radius = millimetres(std::max(0.0, guides_[name].lines[2].value(s)));
    }
    if (all) {
        return;
    }
    const auto there = [&](std::size_t k) { return present_at(k, s); };
    for (std::size_t name = 0; name < names_.size(); ++name) {
        if (there(name)) {
            continue;
        }
        const std::size_t before = neighbour(name, false, there);
        const std::size_t behind = neighbour(name, true, there);
        nodes[name].radius = Length{};
        if (before == name || behind == name) {
            nodes[name].p_mm = nodes[before == name ? behind : before].p_mm;
            continue;
        }
        const double t = ratio(before, name, behind);
        nodes[name].p_mm = (1.0 - t) * nodes[before].p_mm + t * nodes[behind].p_mm;
    }
}

Result<Profile> Loft::section_at(Length along) const {
    auto profile = make_profile(nodes_at(along), closed_);
    if (!profile) {
        return Error{profile.error().code, "At " + place(along) + ": " + profile.error().message};
    }
    return profile;
}

std::string Loft::place(Length along) const {
    for (std::size_t station = 0; station < sections_.size(); ++station) {
        if (along == sections_[station].along) {
            return text(along) + " (" + at_station(station) + ")";
        }
        if (along < sections_[station].along && station > 0) {
            return text(along) + " (between stations " + std::to_string(station) + " and " +
                   std::to_string(station + 1) + ")";
        }
    }
    return text(along);
}

std::vector<Length> Loft::key_places() const {
    std::vector<Length> places = run_out_places();
    for (const LoftSection& section : sections_) {
        places.push_back(section.along);
    }
    std::sort(places.begin(), places.end());
    return places;
}

std::vector<Length> Loft::run_out_places() const {
    std::vector<Length> places;
    for (const Guide& guide : guides_) {
        if (guide.runs_out_before) {
            places.push_back(guide.from);
        }
        if (guide.runs_out_behind) {
            places.push_back(guide.to);
        }
    }
    std::sort(places.begin(), places.end());
    places.erase(std::unique(places.begin(), places.end()), places.end());
    return places;
}

Result<MovedLoft> Loft::moved(const std::string& name, std::size_t station, const Eigen::Vector2d& p_mm) const {
    if (station >= sections_.size()) {
        return bad("There is no " + at_station(station) + "; the last is " + std::to_string(sections_.size()) + ".");
    }
    const auto& nodes = sections_[station].nodes;
    const auto found =
        std::find_if(nodes.begin(), nodes.end(), [&](const LoftNode& node) { return node.name == name; });
    if (found == nodes.end()) {
        return bad("There is no node " + quoted(name) + " at " + at_station(station) + ".");
    }
    if (!p_mm.allFinite()) {
        return bad("Node " + quoted(name) + " at " + at_station(station) + " needs finite coordinates.");
    }
    const auto k = static_cast<std::size_t>(found - nodes.begin());
    Loft loft = *this;
    loft.sections_[station].nodes[k].p_mm = p_mm;
    if (loft.run_out_places().empty()) {
        loft.draw_line(loft.number_[station][k], false);
    } else {
        loft.take_ratios();
        loft.draw_lines();
    }
    if (auto status = loft.check_station(station); !status) {
        return status.error();
    }
    const AlongRange changed = difference(loft);
    return MovedLoft{std::move(loft), changed};
}

AlongRange Loft::difference(const Loft& other) const {
    Length from = rear();
    Length to = front();
    bool different = false;
    for (std::size_t name = 0; name < names_.size(); ++name) {
        const Guide& guide = guides_[name];
        for (std::size_t k = 0; k < guide.lines.size(); ++k) {
            different = guide.lines[k].widen_by_difference(other.guides_[name].lines[k], from, to) || different;
        }
        if (mark_ == other.mark_) {
            continue;
        }
        if (guide.runs_out_before) {
            from = front();
            to = std::max(to, guide.from);
            different = true;
        }
        if (guide.runs_out_behind) {
            from = std::min(from, guide.to);
            to = rear();
            different = true;
        }
    }
    return different ? AlongRange{from, to} : AlongRange{front(), front()};
}

}  // namespace sillwright::geometry
