#include "geometry/nest_packing.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "geometry/polygon_triangles.h"

namespace sillwright::geometry {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;

namespace {

/// Above what touching forgives and cleaning moves, on each of two outlines.
constexpr Length k_slack = millimetres(0.001);

std::array<AlignedBox2d, 4> boxes_of(const Polygon& ring) {
    std::array<AlignedBox2d, 4> boxes;
    for (int quarters = 0; quarters < 4; ++quarters) {
        for (const Vector2d& p : ring) {
            boxes[static_cast<std::size_t>(quarters)].extend(quarter_turned(p, quarters));
        }
    }
    return boxes;
}

bool is_length(Length length) {
    return std::isfinite(in_mm(length)) && in_mm(length) >= 0.0;
}

Status check(const NestQuestion& question) {
    if (!is_length(question.gap) || !is_length(question.margin) || !is_length(question.chord)) {
        return Error{ErrorCode::invalid_argument, "Gap and margin of a nest must be zero or more."};
    }
    for (const NestPart& part : question.parts) {
        for (const std::size_t board : part.boards) {
            if (board >= question.boards.size()) {
                return Error{ErrorCode::invalid_argument,
                             "A part is to lie on board " + std::to_string(board) + ", which is not there."};
            }
        }
    }
    return std::monostate{};
}

}  // namespace

Result<Packing> Packing::of(const NestQuestion& question) {
    if (const auto sound = check(question); !sound) {
        return sound.error();
    }
    Packing packing(question);
    if (const auto added = packing.add_parts(); !added) {
        return added.error();
    }
    packing.add_defects();
    return packing;
}

Status Packing::add_parts() {
    const Length all_round = 0.5 * question_.gap + question_.chord + k_slack;
    std::vector<const Polygon*> seen;
    for (const NestPart& part : question_.parts) {
        const auto same =
            std::find_if(seen.begin(), seen.end(), [&](const Polygon* r) { return *r == part.outline_mm; });
        kind_of_.push_back(static_cast<std::size_t>(same - seen.begin()));
        if (same != seen.end()) {
            continue;
        }
        auto grown = grown_ring(part.outline_mm, {all_round, k_pockets, k_fewer_corners, k_fewer_dents});
        if (!grown) {
            return grown.error();
        }
        seen.push_back(&part.outline_mm);
        kinds_.push_back({std::move(grown).value(), boxes_of(part.outline_mm), polygon_area(part.outline_mm)});
    }
    return std::monostate{};
}

/// A defect asks for the margin, of which the parts' own growing is a share already.
void Packing::add_defects() {
    const double more = std::max(0.0, in_mm(question_.margin) - 0.5 * in_mm(question_.gap));
    for (const NestBoard& board : question_.boards) {
        defect_kinds_.emplace_back();
        for (const AlignedBox2d& defect : board.defects) {
            const Vector2d low = defect.min().array() - more, high = defect.max().array() + more;
            defect_kinds_.back().push_back(kinds_.size());
            kinds_.push_back({{low, {high.x(), low.y()}, high, {low.x(), high.y()}}, {}, 0.0});
        }
    }
}

const std::vector<Polygon>& Packing::no_fit(std::size_t fixed, std::size_t moving, int quarters) {
    const std::uint64_t key =
        (static_cast<std::uint64_t>(fixed) * kinds_.size() + moving) * 4U + static_cast<std::uint64_t>(quarters & 3);
    const auto found = no_fits_.find(key);
    if (found != no_fits_.end()) {
        return found->second;
    }
    return no_fits_.emplace(key, no_fit_rings(kinds_[fixed].grown, kinds_[moving].grown, quarters)).first->second;
}

/// One polygon serves both ways round: where A is in B's way, B is in A's by the opposite move.
NoGo Packing::no_go_of(std::size_t fixed, int fixed_quarters, const Vector2d& fixed_at, std::size_t moving,
                       int quarters) {
    const int between = quarters - fixed_quarters;
    if (fixed <= moving) {
        return no_go(no_fit(fixed, moving, between), fixed_quarters, fixed_at);
    }
    return no_go(no_fit(moving, fixed, -between), quarters + 2, fixed_at);
}

std::optional<PackedPart> Packing::place(std::size_t part, const PackedSheet& sheet, const Vector2d& limit_mm,
                                         const PackingRule& rule) {
    const NestBoard& board = question_.boards[sheet.board];
    const std::size_t kind = kind_of_[part];
    const Vector2d margin = Vector2d::Constant(in_mm(question_.margin) + in_mm(question_.chord));
    const Vector2d far = (board.size_mm - margin).cwiseMin(limit_mm);
    const int step = board.half_turns_only || rule.half_turns_only ? 2 : 1;
    std::optional<PackedPart> best;
    double least = std::numeric_limits<double>::infinity();
    for (int quarters = 0; quarters < 4; quarters += step) {
        const AlignedBox2d& box = kinds_[kind].boxes[static_cast<std::size_t>(quarters)];
        const AlignedBox2d range(margin - box.min(), far - box.max());
        if (range.isEmpty()) {
            continue;
        }
        std::vector<NoGo> no_go;
        for (const PackedPart& there : sheet.parts) {
            no_go.push_back(no_go_of(kind_of_[there.part], there.quarters, there.moved_mm, kind, quarters));
        }
        for (const std::size_t defect : defect_kinds_[sheet.board]) {
            no_go.push_back(no_go_of(defect, 0, Vector2d::Zero(), kind, quarters));
        }
        const double ahead = rule.weight.dot(rule.by_middle ? box.center() : box.max());
        if (const auto move = best_move(no_go, range, rule.weight, least - ahead)) {
            least = rule.weight.dot(*move) + ahead;
            best = PackedPart{part, quarters, *move};
        }
    }
    return best;
}

void Packing::put(Packed& packed, std::size_t sheet, const PackedPart& part) const {
    PackedSheet& on = packed.sheets[sheet];
    on.parts.push_back(part);
    const AlignedBox2d& box = kinds_[kind_of_[part.part]].boxes[static_cast<std::size_t>(part.quarters)];
    on.used_mm = on.used_mm.cwiseMax(box.max() + part.moved_mm);
    packed.steps.push_back({sheet, part});
}

void Packing::lay(Packed& packed, std::size_t part, const PackingRule& rule) {
    for (const std::size_t board : question_.parts[part].boards) {
        const Vector2d& size = question_.boards[board].size_mm;
        std::size_t begun = 0;
        for (std::size_t i = 0; i < packed.sheets.size(); ++i) {
            if (packed.sheets[i].board != board) {
                continue;
            }
            ++begun;
            if (const auto place_there = place(part, packed.sheets[i], size, rule)) {
                put(packed, i, *place_there);
                return;
            }
        }
        const PackedSheet fresh{board, {}, Vector2d::Zero()};
        if (begun >= question_.boards[board].count.value_or(std::numeric_limits<std::size_t>::max())) {
            continue;
        }
        if (const auto place_there = place(part, fresh, size, rule)) {
            packed.sheets.push_back(fresh);
            put(packed, packed.sheets.size() - 1, *place_there);
            return;
        }
    }
    packed.steps.push_back({std::nullopt, {part, 0, Vector2d::Zero()}});
}

std::optional<Packed> Packing::packed(const std::vector<std::size_t>& order, const PackingRule& rule,
                                      const std::stop_token& stop, const Packed& before, std::size_t kept) {
    Packed result;
    for (std::size_t i = 0; i < order.size(); ++i) {
        if (stop.stop_requested()) {
            return std::nullopt;
        }
        if (i >= kept) {
            lay(result, order[i], rule);
            continue;
        }
        const PackingStep& step = before.steps[i];
        if (!step.sheet) {
            result.steps.push_back(step);
            continue;
        }
        if (*step.sheet == result.sheets.size()) {
            result.sheets.push_back({before.sheets[*step.sheet].board, {}, Vector2d::Zero()});
        }
        put(result, *step.sheet, step.laid);
    }
    return result;
}

std::optional<PackedSheet> Packing::packed_within(std::size_t board, const Vector2d& limit_mm,
                                                  const std::vector<std::size_t>& order, const PackingRule& rule,
                                                  const std::stop_token& stop) {
    Packed packed;
    packed.sheets.push_back({board, {}, Vector2d::Zero()});
    for (const std::size_t part : order) {
        const auto found = stop.stop_requested() ? std::nullopt : place(part, packed.sheets[0], limit_mm, rule);
        if (!found) {
            return std::nullopt;
        }
        put(packed, 0, *found);
    }
    return packed.sheets[0];
}

}  // namespace sillwright::geometry
