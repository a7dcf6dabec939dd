#pragma once

#include <random>
#include <string>
#include <vector>

#include "core/survey/reading_sd.h"
#include "core/survey/shown.h"
#include "tests/core/survey/small_book.h"

namespace sillwright::core::survey::tests {

/// An invented small network: three marks that hold the frame (3-2-1), four mounts, ties between most of them, heights
/// from A, some outs. The book has readings without noise.
struct ShopNet {
    Book book;
    Start truth;
};

inline ShopNet shop_net() {
    ShopNet net;
    net.truth.at_mm = {{"A", {0, 0, 0}},         {"B", {1800, 20, 15}},     {"C", {950, 320, 240}},
                       {"H1", {250, -60, -180}}, {"H2", {700, -110, -200}}, {"H3", {1150, -95, -190}},
                       {"H4", {1600, -55, -175}}};
    for (const auto& [name, at] : net.truth.at_mm) {
        net.book.points.push_back(unheld(name, name.front() == 'H' ? PointKind::mount : PointKind::mark));
    }
    Point& a = net.book.points[0];
    Point& b = net.book.points[1];
    Point& c = net.book.points[2];
    a.along = a.out = a.up = mm(0.0);
    b.out = mm(20.0);
    b.up = mm(15.0);
    c.up = mm(240.0);
    const auto read = [&net](ReadingKind kind, const std::string& from, const std::string& to, double sd_mm) {
        const std::vector<Eigen::Vector3d> at{net.truth.at_mm.at(from), net.truth.at_mm.at(to)};
        add(net.book, reading(kind, {from, to}, shown(kind, 0, at, Eigen::Vector2d::Zero(), 0.0).value, sd_mm));
    };
    const std::vector<std::string> names{"A", "B", "C", "H1", "H2", "H3", "H4"};
    for (std::size_t i = 0; i < names.size(); ++i) {
        for (std::size_t j = i + 1; j < names.size(); ++j) {
            read(ReadingKind::tie, names[i], names[j], 0.8);
        }
    }
    for (const std::string name : {"H1", "H2", "H3", "H4"}) {
        read(ReadingKind::height, "A", name, 1.2);
        read(ReadingKind::height, "C", name, 1.2);
        read(ReadingKind::out, "A", name, 1.0);
    }
    return net;
}

/// The same readings, each off by normal noise of its own sd.
inline Book noisy(const Book& book, std::mt19937& random) {
    Book made = book;
    for (Reading& one : made.readings) {
        std::normal_distribution<double> noise(0.0, number_sd(book, one, 0));
        one.value = mm(geometry::in_mm(one.value->value) + noise(random));
    }
    return made;
}

}  // namespace sillwright::core::survey::tests
