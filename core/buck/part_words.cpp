#include "core/buck/part_words.h"

#include <algorithm>
#include <cmath>
#include <numbers>

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

void add_ring(CutPart& part, const Vector2d& middle, double radius, int sides) {
    const auto at = [&](int i) {
        const double angle = 2.0 * std::numbers::pi * i / sides;
        return Vector2d(middle + radius * Vector2d(std::cos(angle), std::sin(angle)));
    };
    for (int i = 0; i < sides; ++i) {
        part.lines.push_back({at(i), at(i + 1)});
    }
}

/// The sign of a mark, its lower left corner at `at`.
void add_sign(CutPart& part, MarkWay way, const Vector2d& at, double h) {
    const double y = at.y() + 0.5 * h;
    if (way == MarkWay::right) {
        part.lines.push_back({{at.x(), y}, {at.x() + k_arrow * h, y}, true});
    } else if (way == MarkWay::left) {
        part.lines.push_back({{at.x() + k_arrow * h, y}, {at.x(), y}, true});
    } else if (way == MarkWay::up) {
        const double x = at.x() + 0.5 * h;
        part.lines.push_back({{x, at.y()}, {x, at.y() + k_up_arrow * h}, true});
    } else {
        const Vector2d middle(at.x() + 0.5 * h, y);
        add_ring(part, middle, 0.5 * k_ring * h, k_ring_sides);
        if (way == MarkWay::to_reader) {
            add_ring(part, middle, k_dot * h, k_dot_sides);
        } else {
            const double reach = 0.5 * k_ring * h * std::numbers::sqrt2 / 2.0;
            part.lines.push_back({middle - Vector2d(reach, reach), middle + Vector2d(reach, reach)});
            part.lines.push_back({middle - Vector2d(reach, -reach), middle + Vector2d(reach, -reach)});
        }
    }
}

void put(const std::string& words, const Vector2d& at, double h, CutPart& part) {
    part.words.push_back({words, at, h});
}
void put(const std::vector<DirectionMark>& marks, const Vector2d& at, double h, CutPart& part) {
    double x = at.x();
    for (const DirectionMark& mark : marks) {
        put(mark.word, {x, at.y()}, h, part);
        x += (words_width(mark.word) + k_beside_words) * h;
        add_sign(part, mark.way, {x, at.y()}, h);
        x += (sign_width(mark.way) + k_between_marks) * h;
    }
}

class Engraver {
public:
    Engraver(double letters_mm, PartRoom& room, CutPart& part) : room_{room}, part_{part} {
        const double least = std::min(letters_mm, in_mm(k_least_letters));
        for (double h = letters_mm; h > least; h -= k_smaller_mm) {
            heights_.push_back(h);
        }
        heights_.push_back(least);
    }

    bool as_block(const std::vector<const Lettering*>& lines) {
        Vector2d size(0.0, 0.0);
        std::vector<double> up;  // of each line above the block's lower edge
        for (auto line = lines.rbegin(); line != lines.rend(); ++line) {
            const Vector2d own = (*line)->marks.empty() ? size_of((*line)->words.front()) : size_of((*line)->marks);
            size.y() += size.y() > 0.0 ? k_line_pitch - 1.0 : 0.0;
            up.push_back(size.y());
            size = Vector2d(std::max(size.x(), own.x()), size.y() + own.y());
        }
        std::reverse(up.begin(), up.end());
        for (const double h : heights_) {
            const auto at = room_.place(h * size);
            if (!at) {
                continue;
            }
            for (std::size_t i = 0; i < lines.size(); ++i) {
                const Vector2d corner = *at + Vector2d(0.0, h * up[i]);
                if (lines[i]->marks.empty()) {
                    put(lines[i]->words.front(), corner, h, part_);
                } else {
                    put(lines[i]->marks, corner, h, part_);
                }
            }
            take(*at, h * size, h);
            return true;
        }
        return false;
    }

    void alone(const Lettering& line) {
        if (line.marks.empty()) {
            const bool stands =
                std::ranges::any_of(line.words, [&](const std::string& words) { return stood(words, line.within); });
            if (!stands) {
                part_.left_out.push_back(line.words.front());
            }
        } else if (!stood(line.marks, line.within)) {
            for (const DirectionMark& mark : line.marks) {
                if (!stood(std::vector<DirectionMark>{mark}, line.within)) {
                    part_.left_out.push_back(mark.word);
                }
            }
        }
    }

private:
    template <class What>
    bool stood(const What& what, const std::optional<AlignedBox2d>& within) {
        for (const double h : heights_) {
            if (const auto at = room_.place(h * size_of(what), within)) {
                put(what, *at, h, part_);
                take(*at, h * size_of(what), h);
                return true;
            }
        }
        return false;
    }
    void take(const Vector2d& at, const Vector2d& size, double h) {
        const Vector2d round = Vector2d::Constant(k_round_words * h);
        room_.keep_off(AlignedBox2d(Vector2d(at - round), Vector2d(at + size + round)));
    }

    PartRoom& room_;
    CutPart& part_;
    std::vector<double> heights_;
};

}  // namespace

void engrave(const std::vector<Lettering>& wanted, double letters_mm, PartRoom& room, CutPart& part) {
    Engraver engraver(letters_mm, room, part);
    std::vector<const Lettering*> loose;
    for (const Lettering& line : wanted) {
        if (!line.within) {
            loose.push_back(&line);
        }
    }
    const bool block = !loose.empty() && engraver.as_block(loose);
    for (const Lettering& line : wanted) {
        if (line.within || !block) {
            engraver.alone(line);
        }
    }
}

}  // namespace sillwright::core
