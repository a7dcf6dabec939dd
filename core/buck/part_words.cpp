#include "core/buck/part_words.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "core/buck/rib_label.h"
#include "core/plain_text.h"

namespace sillwright::core {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;
using geometry::in_mm;

namespace {

// All in letter heights.
constexpr double k_beside_words = 0.5;
constexpr double k_arrow = 2.5;
constexpr double k_up_arrow = 1.6;
constexpr double k_ring = 1.0;
constexpr double k_dot = 0.12;
constexpr double k_between_marks = 1.2;
/// Kept free round what is engraved.
constexpr double k_round_words = 0.4;
/// Straights of a ring: of one 8 mm wide they lie within 0.1 mm.
constexpr int k_ring_sides = 16;
constexpr int k_dot_sides = 6;
/// From one height of letters that is tried to the next.
constexpr double k_smaller_mm = 2.0;

double words_width(const std::string& words) {
    return k_letter_width * static_cast<double>(columns(words));
}

double sign_width(MarkWay way) {
    return way == MarkWay::right || way == MarkWay::left ? k_arrow : k_ring;
}

/// In letter heights.
Vector2d size_of(const std::string& words) {
    return {words_width(words), 1.0};
}
Vector2d size_of(const std::vector<DirectionMark>& marks) {
    Vector2d size(marks.empty() ? 0.0 : -k_between_marks, 1.0);
    for (const DirectionMark& mark : marks) {
        size.x() += k_between_marks + words_width(mark.word) + k_beside_words + sign_width(mark.way);
        size.y() = mark.way == MarkWay::up ? k_up_arrow : size.y();
    }
    return size;
}

void add_ring(std::vector<EngravedLine>& lines, const Vector2d& middle, double radius, int sides) {
    const auto at = [&](int i) {
        const double angle = 2.0 * std::numbers::pi * i / sides;
        return Vector2d(middle + radius * Vector2d(std::cos(angle), std::sin(angle)));
    };
    for (int i = 0; i < sides; ++i) {
        lines.push_back({at(i), at(i + 1)});
    }
}

/// The sign of a mark, its lower left corner at `at`.
void add_sign(std::vector<EngravedLine>& lines, MarkWay way, const Vector2d& at, double h) {
    const double y = at.y() + 0.5 * h;
    if (way == MarkWay::right) {
        lines.push_back({{at.x(), y}, {at.x() + k_arrow * h, y}, true});
    } else if (way == MarkWay::left) {
        lines.push_back({{at.x() + k_arrow * h, y}, {at.x(), y}, true});
    } else if (way == MarkWay::up) {
        const double x = at.x() + 0.5 * h;
        lines.push_back({{x, at.y()}, {x, at.y() + k_up_arrow * h}, true});
    } else {
        const Vector2d middle(at.x() + 0.5 * h, y);
        add_ring(lines, middle, 0.5 * k_ring * h, k_ring_sides);
        if (way == MarkWay::to_reader) {
            add_ring(lines, middle, k_dot * h, k_dot_sides);
        } else {
            const double reach = 0.5 * k_ring * h * std::numbers::sqrt2 / 2.0;
            lines.push_back({middle - Vector2d(reach, reach), middle + Vector2d(reach, reach)});
            lines.push_back({middle - Vector2d(reach, -reach), middle + Vector2d(reach, -reach)});
        }
    }
}

/// From the letters' height down to the least, the last.
std::vector<double> heights(double letters_mm) {
    const double least = std::min(letters_mm, in_mm(k_least_letters));
    std::vector<double> all;
    for (double h = letters_mm; h > least; h -= k_smaller_mm) {
        all.push_back(h);
    }
    all.push_back(least);
    return all;
}

struct Trial;
void put(const std::string& words, const Vector2d& at, Trial& trial);
void put(const std::vector<DirectionMark>& marks, const Vector2d& at, Trial& trial);

/// A part's lettering at one height, on a copy of its room.
struct Trial {
    double h;
    PartRoom room;
    std::vector<EngravedWords> words{};
    std::vector<EngravedLine> lines{};
    std::vector<std::string> left_out{};

    void take(const Vector2d& at, const Vector2d& size) {
        const Vector2d round = Vector2d::Constant(k_round_words * h);
        room.keep_off(AlignedBox2d(Vector2d(at - round), Vector2d(at + h * size + round)));
    }
    template <class What>
    bool stood(const What& what, const std::optional<AlignedBox2d>& within) {
        const auto at = room.place(h * size_of(what), within);
        if (at) {
            put(what, *at, *this);
            take(*at, size_of(what));
        }
        return at.has_value();
    }

    void alone(const Lettering& line) {
        if (line.marks.empty()) {
            if (!std::ranges::any_of(line.words, [&](const std::string& one) { return stood(one, line.within); })) {
                left_out.push_back(line.words.front());
            }
        } else if (!stood(line.marks, line.within)) {
            for (const DirectionMark& mark : line.marks) {
                if (!stood(std::vector<DirectionMark>{mark}, line.within)) {
                    left_out.push_back(mark.word);
                }
            }
        }
    }

    /// Lines below one another, those with a choice each in the one of that number, or its shortest.
    bool as_block(const std::vector<const Lettering*>& all, std::size_t choice) {
        const auto chosen = [&](const Lettering& line) { return line.words[std::min(choice, line.words.size() - 1)]; };
        Vector2d size(0.0, 0.0);
        std::vector<double> up;  // of each line above the block's lower edge, from the last
        for (auto line = all.rbegin(); line != all.rend(); ++line) {
            const Vector2d own = (*line)->marks.empty() ? size_of(chosen(**line)) : size_of((*line)->marks);
            size.y() += size.y() > 0.0 ? k_line_pitch - 1.0 : 0.0;
            up.push_back(size.y());
            size = Vector2d(std::max(size.x(), own.x()), size.y() + own.y());
        }
        const auto at = room.place(h * size);
        if (!at) {
            return false;
        }
        for (std::size_t i = 0; i < all.size(); ++i) {
            const Vector2d corner = *at + Vector2d(0.0, h * up[all.size() - 1 - i]);
            if (all[i]->marks.empty()) {
                put(chosen(*all[i]), corner, *this);
            } else {
                put(all[i]->marks, corner, *this);
            }
        }
        take(*at, size);
        return true;
    }
};

void put(const std::string& words, const Vector2d& at, Trial& trial) {
    trial.words.push_back({words, at, trial.h});
}
void put(const std::vector<DirectionMark>& marks, const Vector2d& at, Trial& trial) {
    double x = at.x();
    for (const DirectionMark& mark : marks) {
        put(mark.word, {x, at.y()}, trial);
        x += (words_width(mark.word) + k_beside_words) * trial.h;
        add_sign(trial.lines, mark.way, {x, at.y()}, trial.h);
        x += (sign_width(mark.way) + k_between_marks) * trial.h;
    }
}

}  // namespace

void engrave(const std::vector<Lettering>& wanted, double letters_mm, PartRoom& room, CutPart& part) {
    std::vector<const Lettering*> loose;
    std::size_t choices = 1;
    for (const Lettering& line : wanted) {
        if (!line.within) {
            loose.push_back(&line);
            choices = std::max(choices, line.words.size());
        }
    }
    std::optional<Trial> best;
    const auto keep = [&](Trial trial) {
        if (!best || trial.left_out.size() < best->left_out.size()) {
            best = std::move(trial);
        }
    };
    for (const double h : heights(letters_mm)) {
        for (std::size_t choice = 0; choice < choices && !loose.empty() && (!best || !best->left_out.empty());
             ++choice) {
            Trial block{h, room};
            if (block.as_block(loose, choice)) {
                for (const Lettering& line : wanted) {
                    if (line.within) {
                        block.alone(line);
                    }
                }
                keep(std::move(block));
            }
        }
        if (best && best->left_out.empty()) {
            break;
        }
        Trial scattered{h, room};
        for (const Lettering& line : wanted) {
            scattered.alone(line);
        }
        keep(std::move(scattered));
    }
    room = std::move(best->room);
    part.words.insert(part.words.end(), best->words.begin(), best->words.end());
    part.lines.insert(part.lines.end(), best->lines.begin(), best->lines.end());
    part.left_out.insert(part.left_out.end(), best->left_out.begin(), best->left_out.end());
}

}  // namespace sillwright::core
