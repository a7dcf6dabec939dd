#include "core/survey/network_problems.h"

#include <algorithm>
#include <numeric>

#include "core/survey/reading_check.h"

namespace sillwright::core::survey {

namespace {

/// Points that readings link, straight or by others; all that have a given coordinate hang together.
class Parts {
public:
    explicit Parts(const Network& network) : root_(static_cast<std::size_t>(network.points()) + 1) {
        std::iota(root_.begin(), root_.end(), 0);
        const int frame = network.points();
        for (int p = 0; p < network.points(); ++p) {
            for (int u = 3 * p; u < 3 * p + 3; ++u) {
                if (network.held[static_cast<std::size_t>(u)]) {
                    join(p, frame);
                }
            }
        }
        for (const NetworkNumber& number : network.numbers) {
            for (const int p : number.points) {
                join(p, number.own >= 0 ? frame : number.points.front());
            }
        }
    }

    int of(int p) {
        while (root_[static_cast<std::size_t>(p)] != p) {
            p = root_[static_cast<std::size_t>(p)];
        }
        return p;
    }

private:
    void join(int a, int b) { root_[static_cast<std::size_t>(of(a))] = of(b); }

    std::vector<int> root_;
};

bool gives_any(const Network& network) {
    const auto coordinates = network.held.begin() + 3 * network.points();
    return std::find(network.held.begin(), coordinates, true) != coordinates ||
           std::any_of(network.numbers.begin(), network.numbers.end(),
                       [&](const NetworkNumber& n) { return n.own >= 0 && n.own < 3 * network.points(); });
}

std::string no_frame(const Network& network) {
    std::vector<std::string> names = network.names;
    names.resize(std::min<std::size_t>(names.size(), 3));
    const bool three = names.size() == 3;
    const std::string how = three ? "all three of " + names[0] + ", out and up of " + names[1] + ", up of " + names[2]
                                  : "all three of one mark, out and up of a second, up of a third";
    if (!gives_any(network)) {
        return "Nothing says where along, out and up begin: hold coordinates of three marks, for example " + how + ".";
    }
    return "The coordinates that are held still let everything turn or shift: hold three, two and one, for example " +
           how + ".";
}

std::vector<std::string> untied(const Network& network) {
    Parts parts(network);
    const int main = gives_any(network) ? parts.of(network.points()) : parts.of(0);
    std::vector<std::string> problems;
    std::vector<int> said;
    std::vector<std::string> of_main;
    for (int p = 0; p < network.points(); ++p) {
        if (parts.of(p) == main) {
            of_main.push_back(network.names[static_cast<std::size_t>(p)]);
        }
    }
    for (int p = 0; p < network.points(); ++p) {
        const int part = parts.of(p);
        if (part == main || std::find(said.begin(), said.end(), part) != said.end()) {
            continue;
        }
        said.push_back(part);
        std::vector<std::string> names;
        for (int q = p; q < network.points(); ++q) {
            if (parts.of(q) == part) {
                names.push_back(network.names[static_cast<std::size_t>(q)]);
            }
        }
        if (names.size() > 1) {
            problems.push_back("Nothing ties " + listed(names) + " to " + listed(of_main) +
                               ": measure three points of the one part, not on one line, from marks of the other.");
        }
    }
    return problems;
}

std::vector<std::string> leaning(const Network& network, const Freedom& freedom) {
    std::vector<std::string> problems;
    for (std::size_t s = 0; s < network.set_ups.size(); ++s) {
        const bool used = std::any_of(network.numbers.begin(), network.numbers.end(), [&](const NetworkNumber& n) {
            return n.own < 0 && is_plumb(n.kind) && n.set_up == static_cast<int>(s);
        });
        if (used && freedom.lean[s]) {
            problems.push_back("No reading fixes how the car leans in the set-up \"" + network.set_ups[s] +
                               "\": measure heights there between three marks that do not lie on one line, or write "
                               "its roll and pitch.");
        }
    }
    return problems;
}

}  // namespace

std::string listed(const std::vector<std::string>& names, std::size_t most) {
    const std::size_t shown = names.size() > most ? most - 1 : names.size();
    std::string text;
    for (std::size_t i = 0; i < shown; ++i) {
        const bool last = i + 1 == names.size();
        text += (i == 0 ? "" : last ? " and " : ", ") + names[i];
    }
    if (shown < names.size()) {
        text += " and " + std::to_string(names.size() - shown) + " more";
    }
    return text;
}

std::vector<std::string> network_problems(const Network& network, const Freedom& freedom) {
    if (network.names.empty()) {
        return {"The book is empty: write three marks and the readings between them."};
    }
    if (network.names.size() == 1) {
        return {"The book has one mark only, " + network.names.front() +
                ": add two more that do not lie on one line with it, and tape between all three."};
    }
    std::vector<std::string> problems;
    if (freedom.frame) {
        problems.push_back(no_frame(network));
    }
    for (auto& problem : untied(network)) {
        problems.push_back(std::move(problem));
    }
    if (!freedom.frame) {
        for (auto& problem : leaning(network, freedom)) {
            problems.push_back(std::move(problem));
        }
    }
    return problems;
}

}  // namespace sillwright::core::survey
