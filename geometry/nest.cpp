#include "geometry/nest.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>
#include <utility>

#include "geometry/nest2d_link.h"
#include "geometry/nest_check.h"
#include "geometry/nest_packing.h"
#include "geometry/seeded_draw.h"

namespace sillwright::geometry {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;

namespace {

/// Counts, not times, so that the same question gives the same answer. On the machine they were chosen on, 40 ribs of
/// 600 x 180 take about 9 s of them.
constexpr int k_exchanges = 60;
constexpr int k_squeezes = 160;
/// Beyond these many parts libnest2d takes longer than all else.
constexpr std::size_t k_most_for_nest2d = 80;
/// An exchange may make the layout worse by this part of a sheet at first, by nothing in the end.
constexpr double k_worse_at_first = 0.03;
/// A squeezed box must be smaller by this part, or the search would creep.
constexpr double k_squeeze_step = 0.002;
/// Score of one part more that is left out, and of one more sheet, beside areas of boxes.
constexpr double k_per_left_out_mm2 = 1e12;
constexpr double k_per_sheet_mm2 = 1e9;

const PackingRule k_rules[]{
    {{1.0, 0.02}, false, false}, {{0.02, 1.0}, false, false}, {{1.0, 0.02}, true, false},
    {{0.02, 1.0}, true, false},  {{1.0, 0.3}, true, false},   {{0.3, 1.0}, true, false},
};
const Nest2dSettings k_nest2d[]{{2, Nest2dSettings::Corner::middle}, {4, Nest2dSettings::Corner::bottom_left}};

using Order = std::vector<std::size_t>;

class Search {
public:
    Search(Packing packing, const Watch& watch, const std::function<void(const NestLayout&)>& better)
        : packing_(std::move(packing)),
          question_(packing_.question()),
          watch_(watch),
          better_(better),
          draw_(question_.seed, 0) {}

    Result<NestLayout> found() {
        const Order order = sorted([&](std::size_t i) { return packing_.area_mm2(i); });
        const std::size_t n = order.size();
        PackingRule first = k_rules[0];
        first.half_turns_only = true;
        if (!take(order, first)) {
            return Error{ErrorCode::stopped, "The nesting was stopped before there was a first layout."};
        }
        if (!best_.left_out.empty()) {
            take(order, k_rules[0]);  // what fits by a quarter turn only
        }
        if (n >= 1 && question_.effort > 0.0) {
            plan(n);
            orders(order);
            by_nest2d();
            exchanges();
            squeezes();
            if (watch_.progress) {
                watch_.progress(1.0);
            }
        }
        if (!has_best_) {
            return Error{ErrorCode::kernel_failure, "No layout was found that keeps gap and margin."};
        }
        best_.tries = tries_;
        return best_;
    }

private:
    template <class Value>
    [[nodiscard]] Order sorted(const Value& value) const {
        Order order(question_.parts.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return value(a) > value(b); });
        return order;
    }

    void plan(std::size_t n) {
        const bool alone = n < 2;
        exchanges_ = alone ? 0 : static_cast<int>(std::lround(k_exchanges * question_.effort));
        squeezes_ = static_cast<int>(std::lround(k_squeezes * question_.effort));
        planned_ = 3.0 * static_cast<double>(std::size(k_rules)) + static_cast<double>(std::size(k_nest2d)) +
                   exchanges_ + squeezes_;
    }

    [[nodiscard]] bool stopped() const { return watch_.stop.stop_requested(); }

    void count() {
        ++tries_;
        if (watch_.progress && planned_ > 0.0) {
            watch_.progress(std::min(1.0, static_cast<double>(tries_) / planned_));
        }
    }

    /// Lays that order; the best is remembered for the exchanges. False if stopped.
    bool take(const Order& order, const PackingRule& rule) {
        if (stopped()) {
            return false;
        }
        auto packed = packing_.packed(order, rule, watch_.stop);
        if (!packed) {
            return false;
        }
        count();
        const NestLayout layout = layout_of(*packed);
        const double worth = worth_of(layout.score);
        if (!at_ || worth < at_worth_) {
            at_ = std::move(packed);
            at_worth_ = worth;
            at_order_ = order;
            at_rule_ = rule;
        }
        offer(layout);
        return true;
    }

    void orders(const Order& by_area) {
        const Order by_length = sorted([&](std::size_t i) { return packing_.size_mm(i).maxCoeff(); });
        const Order by_width = sorted([&](std::size_t i) { return packing_.size_mm(i).minCoeff(); });
        for (const Order* order : {&by_area, &by_length, &by_width}) {
            for (const PackingRule& rule : k_rules) {
                take(*order, rule);
            }
        }
    }

    /// Only where one kind of sheet, without defects, takes all.
    void by_nest2d() {
        const std::size_t n = question_.parts.size();
        for (const NestPart& part : question_.parts) {
            if (part.boards.size() != 1 || part.boards != question_.parts[0].boards) {
                return;
            }
        }
        const std::size_t board = question_.parts[0].boards[0];
        const NestBoard& sheet = question_.boards[board];
        if (!sheet.defects.empty() || sheet.count || n > k_most_for_nest2d) {
            return;
        }
        for (const Nest2dSettings& settings : k_nest2d) {
            if (stopped() || (sheet.half_turns_only && settings.rotations > 2)) {
                continue;
            }
            const NestLayout layout = laid_by_library(board, settings);
            if (!stopped()) {
                count();
                offer(layout);
            }
        }
    }

    NestLayout laid_by_library(std::size_t board, const Nest2dSettings& settings) {
        // What the growing adds round a part may stand over the margin.
        const double in = in_mm(question_.margin) - 0.5 * in_mm(question_.gap);
        std::vector<Polygon> rings;
        for (std::size_t i = 0; i < question_.parts.size(); ++i) {
            rings.push_back(packing_.grown(i));
        }
        const Vector2d room = question_.boards[board].size_mm.array() - 2.0 * in;
        const std::vector<Nest2dPlace> places = laid_by_nest2d(rings, room, settings, [this] { return stopped(); });
        NestLayout layout;
        std::map<int, LaidSheet> sheets;
        for (std::size_t i = 0; i < places.size(); ++i) {
            if (places[i].sheet < 0) {
                layout.left_out.push_back(i);
                continue;
            }
            LaidSheet& sheet = sheets[places[i].sheet];
            sheet.board = board;
            sheet.places.push_back({i, radians(places[i].turned_rad), places[i].moved_mm + Vector2d::Constant(in)});
        }
        for (auto& [number, sheet] : sheets) {
            layout.sheets.push_back(std::move(sheet));
        }
        finish(layout);
        return layout;
    }

    /// Two parts change places in the order, or one goes elsewhere; what is not much worse is gone on from.
    void exchanges() {
        for (int i = 0; i < exchanges_ && !stopped(); ++i) {
            Order order = at_order_;
            const std::size_t n = order.size();
            std::size_t a = draw_.next() % n, b = draw_.next() % n;
            if (a > b) {
                std::swap(a, b);
            }
            if (draw_.uniform() < 0.5) {
                std::swap(order[a], order[b]);
            } else {
                std::rotate(order.begin() + static_cast<std::ptrdiff_t>(a),
                            order.begin() + static_cast<std::ptrdiff_t>(b),
                            order.begin() + static_cast<std::ptrdiff_t>(b) + 1);
            }
            auto packed = packing_.packed(order, at_rule_, watch_.stop, *at_, a);
            if (!packed) {
                return;
            }
            count();
            const NestLayout layout = layout_of(*packed);
            const double worth = worth_of(layout.score);
            const double left = 1.0 - static_cast<double>(i + 1) / exchanges_;
            if (worth <= at_worth_ + k_worse_at_first * left * largest_board_mm2()) {
                at_ = std::move(packed);
                at_worth_ = worth;
                at_order_ = std::move(order);
            }
            offer(layout);
        }
    }

    /// The sheet with the smallest box, laid anew within a smaller one of another form.
    void squeezes() {
        for (int i = 0; i < squeezes_ && !stopped() && !best_.sheets.empty(); ++i) {
            const auto box = [](const LaidSheet& sheet) { return sheet.used_mm.prod(); };
            const auto emptiest =
                std::min_element(best_.sheets.begin(), best_.sheets.end(),
                                 [&](const LaidSheet& a, const LaidSheet& b) { return box(a) < box(b); });
            const std::size_t number = static_cast<std::size_t>(emptiest - best_.sheets.begin());
            const auto squeezed = squeezed_sheet(*emptiest, box(*emptiest) * (1.0 - k_squeeze_step));
            count();
            if (squeezed) {
                NestLayout layout = best_;
                layout.sheets[number] = laid(*squeezed);
                finish(layout);
                offer(layout);
            }
        }
    }

    std::optional<PackedSheet> squeezed_sheet(const LaidSheet& sheet, double area_mm2) {
        Order order;
        for (const NestPlace& place : sheet.places) {
            order.push_back(place.part);
        }
        const double key = draw_.uniform();
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            return key < 0.5 ? packing_.area_mm2(a) > packing_.area_mm2(b)
                             : packing_.size_mm(a).maxCoeff() > packing_.size_mm(b).maxCoeff();
        });
        for (std::size_t swaps = draw_.next() % (order.size() + 1); swaps > 0; --swaps) {
            std::swap(order[draw_.next() % order.size()], order[draw_.next() % order.size()]);
        }
        // Between the whole length and the whole width of the sheet, evenly by the logarithm of the box's form.
        const Vector2d& size = question_.boards[sheet.board].size_mm;
        const double widest = std::min(size.y(), area_mm2 / 1.0);
        const double narrowest = std::min(widest, area_mm2 / size.x());
        const double width = narrowest * std::sqrt(std::pow(widest / narrowest, 2.0 * draw_.uniform()));
        const Vector2d limit{area_mm2 / width, width};
        const PackingRule rule = k_rules[draw_.next() % std::size(k_rules)];
        return packing_.packed_within(sheet.board, limit, order, rule, watch_.stop);
    }

    [[nodiscard]] double largest_board_mm2() const {
        double area = 0.0;
        for (const NestBoard& board : question_.boards) {
            area = std::max(area, board.size_mm.prod());
        }
        return area;
    }

    static double worth_of(const NestScore& score) {
        return k_per_left_out_mm2 * static_cast<double>(score.left_out) +
               k_per_sheet_mm2 * static_cast<double>(score.whole_sheets + score.sheets) + score.used_mm2;
    }

    static LaidSheet laid(const PackedSheet& packed) {
        constexpr double k_quarter_deg = 90.0;
        LaidSheet sheet;
        sheet.board = packed.board;
        for (const PackedPart& part : packed.parts) {
            sheet.places.push_back({part.part, degrees(k_quarter_deg * part.quarters), part.moved_mm});
        }
        return sheet;
    }

    NestLayout layout_of(const Packed& packed) const {
        NestLayout layout;
        for (const PackedSheet& sheet : packed.sheets) {
            layout.sheets.push_back(laid(sheet));
        }
        for (const PackingStep& step : packed.steps) {
            if (!step.sheet) {
                layout.left_out.push_back(step.laid.part);
            }
        }
        finish(layout);
        return layout;
    }

    /// Boxes, order and score from the places.
    void finish(NestLayout& layout) const {
        std::sort(layout.left_out.begin(), layout.left_out.end());
        std::stable_sort(layout.sheets.begin(), layout.sheets.end(),
                         [](const LaidSheet& a, const LaidSheet& b) { return a.board < b.board; });
        layout.score = {};
        layout.score.left_out = layout.left_out.size();
        layout.score.sheets = layout.sheets.size();
        for (LaidSheet& sheet : layout.sheets) {
            sheet.used_mm.setZero();
            for (const NestPlace& place : sheet.places) {
                for (const Vector2d& p : placed_ring(question_.parts[place.part].outline_mm, place)) {
                    sheet.used_mm = sheet.used_mm.cwiseMax(p);
                }
            }
            layout.score.whole_sheets += question_.boards[sheet.board].count ? 0U : 1U;
            layout.score.used_mm2 += sheet.used_mm.prod();
        }
    }

    [[nodiscard]] bool is_sound(const NestLayout& layout) const {
        std::set<std::size_t> seen(layout.left_out.begin(), layout.left_out.end());
        std::size_t parts = layout.left_out.size();
        for (const LaidSheet& sheet : layout.sheets) {
            const NestBoard& board = question_.boards[sheet.board];
            SheetToCheck check{board.size_mm,
                               question_.margin + question_.chord,
                               question_.gap + 2.0 * question_.chord,
                               board.defects,
                               {}};
            for (const NestPlace& place : sheet.places) {
                seen.insert(place.part);
                ++parts;
                check.outlines_mm.push_back(placed_ring(question_.parts[place.part].outline_mm, place));
            }
            if (sheet_fault(check)) {
                return false;
            }
        }
        return parts == question_.parts.size() && seen.size() == parts;
    }

    void offer(const NestLayout& layout) {
        if ((has_best_ && !(layout.score < best_.score)) || !is_sound(layout)) {
            return;
        }
        has_best_ = true;
        best_ = layout;
        best_.tries = tries_;
        if (better_) {
            better_(best_);
        }
    }

    Packing packing_;
    const NestQuestion& question_;
    const Watch& watch_;
    const std::function<void(const NestLayout&)>& better_;
    SeededDraw draw_;
    std::size_t tries_ = 0;
    double planned_ = 0.0;
    int exchanges_ = 0, squeezes_ = 0;
    bool has_best_ = false;
    NestLayout best_;
    std::optional<Packed> at_;  ///< Where the exchanges are.
    double at_worth_ = 0.0;
    Order at_order_;
    PackingRule at_rule_;
};

}  // namespace

Polygon placed_ring(const Polygon& outline_mm, const NestPlace& place) {
    const Eigen::Matrix2d turn = Eigen::Rotation2Dd(in_rad(place.turned)).toRotationMatrix();
    Polygon ring;
    ring.reserve(outline_mm.size());
    for (const Vector2d& p : outline_mm) {
        ring.emplace_back(turn * p + place.moved_mm);
    }
    return ring;
}

Result<NestLayout> nest(const NestQuestion& question, const Watch& watch,
                        const std::function<void(const NestLayout&)>& better) {
    auto packing = Packing::of(question);
    if (!packing) {
        return packing.error();
    }
    return Search(std::move(packing).value(), watch, better).found();
}

}  // namespace sillwright::geometry
