#include "app/link/network_of_job.h"

#include <algorithm>
#include <set>
#include <string>

#include "app/link/book_words.h"

namespace sillwright::app {

using core::survey::PlacedPoint;
using core::survey::Reading;
using core::survey::ReadingKind;
using core::survey::ReadingUse;
using core::survey::Solution;

namespace {

void add_points(NetworkPicture& picture, const core::Job& job, const Solution& solution) {
    std::set<std::string> kept;
    for (const core::Mount& mount : job.mounts) {
        kept.insert(mount.name);
    }
    for (const PlacedPoint& point : solution.points) {
        picture.points.push_back(
            {point.name, point.kind, point.at_mm, point.covariance_mm2, kept.contains(point.name)});
    }
}

/// Between which points of a reading a line is drawn: the string of an offset is no line of its own.
void add_lines(NetworkPicture& picture, const Reading& reading, const Solution& solution, bool suspect, bool dropped) {
    std::vector<const PlacedPoint*> points;
    for (const std::string& name : reading.points) {
        if (const PlacedPoint* point = solution.find(name)) {
            points.push_back(point);
        }
    }
    if (points.size() != reading.points.size() || points.size() < 2) {
        return;
    }
    for (std::size_t i = 1; i < points.size(); ++i) {
        picture.lines.push_back({reading.id, points[i - 1]->at_mm, points[i]->at_mm, suspect, dropped});
    }
}

}  // namespace

NetworkPicture network_of_job(const core::Job& job, const core::survey::Results& results) {
    const Solution& solution = results.solution;
    NetworkPicture picture;
    picture.unit = job.unit;
    add_points(picture, job, solution);
    const std::size_t known = std::min(job.book.readings.size(), solution.readings.size());
    for (std::size_t i = 0; i < known; ++i) {
        const bool suspect = solution.suspect && solution.suspect->reading == i;
        add_lines(picture, job.book.readings[i], solution, suspect, solution.readings[i].use == ReadingUse::dropped);
    }
    for (const core::survey::LackingPoint& point : solution.lacking) {
        picture.lacking.push_back({point.name, point.lacks});
    }
    if (!solution.mirrored.empty()) {  // One is asked about at a time; its mirror image would hide all else.
        const core::survey::Mirrored& mirrored = solution.mirrored.front();
        picture.mirrors.push_back(
            {mirrored.points[mirrored.asked], mirrored.here_mm[mirrored.asked], mirrored.there_mm[mirrored.asked]});
    }
    if (solution.next) {
        NetworkNext next;
        next.words = solution.next->words;
        for (const std::string& name : solution.next->points) {
            if (const PlacedPoint* point = solution.find(name)) {
                next.over_mm.push_back(point->at_mm);
            }
        }
        picture.next = std::move(next);
    }
    picture.suspect = worst_words(job, solution);
    for (const core::survey::PlacedSetUp& set_up : solution.set_ups) {
        picture.leans.push_back(lean_words(set_up));
    }
    picture.problems = solution.problems;
    return picture;
}

}  // namespace sillwright::app
