#include "core/survey/start.h"

#include <algorithm>
#include <unordered_set>
#include <utility>

#include "core/survey/freedom.h"
#include "core/survey/lacking.h"
#include "core/survey/mirrored.h"
#include "core/survey/network.h"
#include "core/survey/network_problems.h"
#include "core/survey/placing.h"
#include "core/survey/reading_check.h"

namespace sillwright::core::survey {

std::vector<std::string> point_names(const Book& book) {
    std::vector<std::string> names;
    std::unordered_set<std::string> known;
    const auto add = [&](const std::string& name) {
        if (known.insert(name).second) {
            names.push_back(name);
        }
    };
    for (const Point& point : book.points) {
        add(point.name);
    }
    for (const Reading& reading : book.readings) {
        if (!is_spot(reading)) {
            std::for_each(reading.points.begin(), reading.points.end(), add);
        }
    }
    return names;
}

Start find_start(const Book& book) {
    const Network network = network_of(book);
    Placing placing = place_points(network, book);
    std::vector<Mirrored> mirrored = settle_mirrors(network, book, placing);
    const Freedom freedom = freedom_of(network, placing);
    Start start;
    start.mirrored = std::move(mirrored);
    start.lacking = lacking_points(network, placing.values, freedom);
    start.problems = network_problems(network, freedom);
    for (int p = 0; p < network.points(); ++p) {
        if (freedom.directions[static_cast<std::size_t>(p)] == 0) {
            start.at_mm[network.names[static_cast<std::size_t>(p)]] = placing.values.segment<3>(3 * p);
        }
    }
    for (int s = 0; s < static_cast<int>(network.set_ups.size()); ++s) {
        if (!freedom.lean[static_cast<std::size_t>(s)]) {
            start.lean_rad[network.set_ups[static_cast<std::size_t>(s)]] =
                placing.values.segment<2>(network.lean(s)) * k_angle_unit;
        }
    }
    return start;
}

}  // namespace sillwright::core::survey
