#include "core/fairness.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/drawn_loft.h"
#include "core/finding_state.h"
#include "core/number_text.h"
#include "geometry/natural_spline.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// A part of a move that is less is not worth words: numbers are told to a hundredth.
constexpr double k_nothing_mm = 0.005;

/// A station of one name.
struct Held {
    std::string station, node_id;
    Length along;
    Vector2d p_mm;
    Vector2d outward;  ///< Away from the car, square to the section's line there.
};

Vector2d place_of(const Node& node) {
    return {in_mm(node.out.value), in_mm(node.up.value)};
}

/// The outside is on the line's left.
Vector2d outward_at(const Section& section, std::size_t node) {
    const std::size_t before = node == 0 ? 0 : node - 1;
    const std::size_t behind = std::min(node + 1, section.nodes.size() - 1);
    const Vector2d run = place_of(section.nodes[behind]) - place_of(section.nodes[before]);
    return {-run.y(), run.x()};
}

/// All names in the order in which they first come.
std::vector<std::pair<std::string, std::vector<Held>>> held_by_name(const Job& job, const Drawn& drawn) {
    std::vector<std::pair<std::string, std::vector<Held>>> all;
    for (const Section& section : drawn.sections) {
        for (std::size_t i = 0; i < section.nodes.size(); ++i) {
            const Node& node = section.nodes[i];
            auto found = std::find_if(all.begin(), all.end(), [&](const auto& one) { return one.first == node.name; });
            if (found == all.end()) {
                found = all.insert(all.end(), {node.name, {}});
            }
            found->second.push_back({section.station, node.id, station_of(job, section.station).along.value,
                                     place_of(node), outward_at(section, i)});
        }
    }
    return all;
}

/// Where the batten lies at one station with that station let go.
std::optional<Vector2d> fair_place(const std::vector<Held>& held, std::size_t lifted) {
    std::vector<Length> places;
    std::vector<double> out, up;
    for (std::size_t i = 0; i < held.size(); ++i) {
        if (i != lifted) {
            places.push_back(held[i].along);
            out.push_back(held[i].p_mm.x());
            up.push_back(held[i].p_mm.y());
        }
    }
    const auto by_out = geometry::NaturalSpline::through(places, out);
    const auto by_up = geometry::NaturalSpline::through(places, up);
    if (!by_out || !by_up) {
        return std::nullopt;  // a job that was not checked
    }
    return Vector2d(by_out.value().value(held[lifted].along), by_up.value().value(held[lifted].along));
}

FairLine line_of(const std::string& name, const std::vector<Held>& held) {
    FairLine line{name, held.size(), held.front().along, held.back().along, {}};
    if (held.size() < k_fair_stations) {
        return line;
    }
    for (std::size_t i = 1; i + 1 < held.size(); ++i) {
        if (const auto fair = fair_place(held, i)) {
            const bool proud = (held[i].p_mm - *fair).dot(held[i].outward) > 0.0;
            line.bumps.push_back({held[i].station, held[i].node_id, held[i].along, held[i].p_mm, *fair, proud});
        }
    }
    return line;
}

/// The line with the node of one of its bumps at its fair place.
FairLine with_faired(const std::string& name, std::vector<Held> held, const Bump& bump) {
    for (Held& one : held) {
        if (one.node_id == bump.node_id) {
            one.p_mm = bump.fair_mm;
        }
    }
    return line_of(name, held);
}

/// "0.73 mm in and 0.02 mm up"
std::string move_words(const Vector2d& by_mm) {
    std::string words;
    const auto add = [&words](double mm, const char* more, const char* less) {
        if (std::abs(mm) >= k_nothing_mm) {
            words += (words.empty() ? "" : " and ") + mm_text(millimetres(std::abs(mm))) + (mm > 0.0 ? more : less);
        }
    };
    add(by_mm.x(), " out", " in");
    add(by_mm.y(), " up", " down");
    return words;
}

/// The single move that makes the line fair, of the largest bump that has one; words where there is none.
Mend mend_of(const FairLine& line, const std::vector<Held>& held) {
    std::vector<const Bump*> bumps;
    for (const Bump& bump : line.bumps) {
        bumps.push_back(&bump);
    }
    std::stable_sort(bumps.begin(), bumps.end(),
                     [](const Bump* a, const Bump* b) { return a->size_mm() > b->size_mm(); });
    for (const Bump* bump : bumps) {
        const FairLine after = with_faired(line.name, held, *bump);
        const double margin = in_mm(k_fair_limit) - after.worst()->size_mm();
        if (margin >= 0.0) {
            const Vector2d by_mm = -bump->departure_mm();
            return {"Move " + line.name + " " + move_words(by_mm) + " at station " + bump->station + ".",
                    {{bump->node_id, by_mm}},
                    margin};
        }
    }
    return {"No single station makes " + line.name +
                " fair: take it towards the batten at several stations, a little at each.",
            {},
            std::nullopt};
}

Finding finding_of(const Job& job, const Piece& piece, const FairLine& line, const std::vector<Held>& held) {
    const Bump& worst = *line.worst();
    const double limit = in_mm(k_fair_limit);
    Finding finding;
    finding.id = "sections/fair/" + piece.name + "/" + line.name;
    finding.title = piece.name + ", fairness of " + line.name;
    finding.stage = Stage::sections;
    finding.at_least = false;
    finding.found = worst.size_mm();
    finding.required = limit;
    finding.margin = limit - worst.size_mm();
    finding.state = state_of(finding.margin, close_band_within(in_mm(job.limits.close_band.value), limit), {});
    finding.place.along = worst.along;
    finding.place.on_part_mm = Eigen::Vector3d(in_mm(worst.along), worst.drawn_mm.x(), worst.drawn_mm.y());
    finding.place.words = line.name + " " + at_place_words(job, worst.along);
    finding.why = "Station " + worst.station + " stands " + mm_text(millimetres(worst.size_mm())) +
                  (worst.proud ? " proud of" : " inside") + " a batten laid through the line's other stations.";
    finding.formula =
        "largest over the inner stations of √(Δout² + Δup²); Δ = drawn - natural cubic spline through the other "
        "stations of the line";
    finding.source = "loftsman's batten; limit common practice, no source";
    finding.inputs = {{"stations of the line", std::to_string(line.stations)},
                      {"drawn at station " + worst.station, "out " + mm_text(millimetres(worst.drawn_mm.x())) +
                                                                ", up " + mm_text(millimetres(worst.drawn_mm.y()))},
                      {"fair there", "out " + mm_text(millimetres(worst.fair_mm.x())) + ", up " +
                                         mm_text(millimetres(worst.fair_mm.y()))}};
    if (finding.state == State::falls_short) {
        finding.mend = mend_of(line, held);
    }
    return finding;
}

}  // namespace

const Bump* FairLine::worst() const {
    const auto found = std::max_element(bumps.begin(), bumps.end(),
                                        [](const Bump& a, const Bump& b) { return a.size_mm() < b.size_mm(); });
    return found == bumps.end() ? nullptr : &*found;
}

std::vector<FairLine> fair_lines(const Job& job, DrawnId id) {
    std::vector<FairLine> lines;
    for (const auto& [name, held] : held_by_name(job, drawn(job, id))) {
        lines.push_back(line_of(name, held));
    }
    return lines;
}

std::optional<FairLine> faired(const Job& job, const std::string& node_id) {
    const auto place = find_node(job, node_id);
    if (!place) {
        return std::nullopt;
    }
    for (const auto& [name, held] : held_by_name(job, drawn(job, place->drawn))) {
        for (const Bump& bump : line_of(name, held).bumps) {
            if (bump.node_id == node_id) {
                return with_faired(name, held, bump);
            }
        }
    }
    return std::nullopt;
}

std::vector<Finding> fair_findings(const Job& job) {
    std::vector<Finding> findings;
    for (const Piece& piece : job.skirt.pieces) {
        for (const auto& [name, held] : held_by_name(job, piece.drawn)) {
            const FairLine line = line_of(name, held);
            if (line.worst() != nullptr) {
                findings.push_back(finding_of(job, piece, line, held));
            }
        }
    }
    return findings;
}

}  // namespace sillwright::core
