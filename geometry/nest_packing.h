#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <array>
#include <cstdint>
#include <optional>
#include <stop_token>
#include <unordered_map>
#include <vector>

#include "geometry/nest.h"
#include "geometry/nest_shape.h"
#include "geometry/nest_spot.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// How the best place is chosen.
struct PackingRule {
    Eigen::Vector2d weight{1.0, 0.0};  ///< Of length and width: what is least is best.
    bool by_middle = false;            ///< The weight counts to the middle of a part's box, else to its far corner.
    bool half_turns_only = false;      ///< On all boards.
};

struct PackedPart {
    std::size_t part = 0;
    int quarters = 0;
    Eigen::Vector2d moved_mm = Eigen::Vector2d::Zero();
};

struct PackedSheet {
    std::size_t board = 0;
    std::vector<PackedPart> parts;
    Eigen::Vector2d used_mm = Eigen::Vector2d::Zero();
};

/// One part after the other, as it was laid.
struct PackingStep {
    std::optional<std::size_t> sheet;  ///< None: left out.
    PackedPart laid;
};

struct Packed {
    std::vector<PackedSheet> sheets;
    std::vector<PackingStep> steps;
};

/// Lays parts in a given order, each in the best place on the first sheet that takes it.
///
/// Units and frame: millimetres of a sheet. Accuracy: gap, margin and chord of the question are kept by growing the
///   outlines; with fewer corners they stand up to k_fewer_corners further apart than they must.
/// It remembers the no-fit polygons of all pairs that it met; not for two threads at once.
class Packing {
public:
    /// Errors: as nest.
    static Result<Packing> of(const NestQuestion& question);

    /// `order`: numbers of all parts. The first `kept` steps are taken over from `before`.
    /// A stop gives no value.
    std::optional<Packed> packed(const std::vector<std::size_t>& order, const PackingRule& rule,
                                 const std::stop_token& stop, const Packed& before = {}, std::size_t kept = 0);

    /// All parts of the order on one sheet within `limit_mm` from its corner, or no value where one finds no place.
    std::optional<PackedSheet> packed_within(std::size_t board, const Eigen::Vector2d& limit_mm,
                                             const std::vector<std::size_t>& order, const PackingRule& rule,
                                             const std::stop_token& stop);

    [[nodiscard]] const NestQuestion& question() const { return question_; }
    /// The part as it is grown for the search, in its own frame.
    [[nodiscard]] const Polygon& grown(std::size_t part) const { return kinds_[kind_of_[part]].grown; }
    [[nodiscard]] double area_mm2(std::size_t part) const { return kinds_[kind_of_[part]].area_mm2; }
    [[nodiscard]] Eigen::Vector2d size_mm(std::size_t part) const { return kinds_[kind_of_[part]].boxes[0].sizes(); }

private:
    /// Parts of equal outline are of one kind; so is each defect.
    struct Kind {
        Polygon grown;
        std::array<Eigen::AlignedBox2d, 4> boxes;  ///< Of the outline itself, turned by so many quarters.
        double area_mm2 = 0.0;
    };

    explicit Packing(NestQuestion question) : question_(std::move(question)) {}
    Status add_parts();
    void add_defects();
    const std::vector<Polygon>& no_fit(std::size_t fixed, std::size_t moving, int quarters);
    NoGo no_go_of(std::size_t fixed, int fixed_quarters, const Eigen::Vector2d& fixed_at, std::size_t moving,
                  int quarters);
    std::optional<PackedPart> place(std::size_t part, const PackedSheet& sheet, const Eigen::Vector2d& limit_mm,
                                    const PackingRule& rule);
    void put(Packed& packed, std::size_t sheet, const PackedPart& part) const;
    void lay(Packed& packed, std::size_t part, const PackingRule& rule);

    NestQuestion question_;
    std::vector<Kind> kinds_;
    std::vector<std::size_t> kind_of_;                    ///< By part.
    std::vector<std::vector<std::size_t>> defect_kinds_;  ///< By board.
    std::unordered_map<std::uint64_t, std::vector<Polygon>> no_fits_;
};

/// By which grown outlines may stand out further than they must. A tenth of a usual gap: halving it gains less of a
/// sheet than the tries that it costs.
constexpr Length k_fewer_corners = millimetres(0.5);
/// By which a chord may bridge dents, such as are left at the mouth of a slot.
constexpr Length k_fewer_dents = millimetres(2.0);
/// Pockets that a disc of this radius cannot enter are filled up: none of a buck's parts would go in.
constexpr Length k_pockets = millimetres(8.0);

}  // namespace sillwright::geometry
