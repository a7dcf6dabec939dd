#include "core/mounts/line_up.h"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <limits>
#include <utility>

#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/number_text.h"
#include "geometry/seeded_draw.h"
#include "geometry/slot_fit.h"

namespace sillwright::core {

using Eigen::Matrix2d;
using Eigen::Matrix3d;
using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::millimetres;
using geometry::SlotTask;

namespace {

/// Any number: it only has to stay the same.
constexpr std::uint64_t k_seed = 20'220'401;
/// Draws between two looks at the stop.
constexpr std::size_t k_look_every = 1024;
/// To which growths are halved down; a cutter's step is coarser.
constexpr double k_growth_accuracy_mm = 0.01;
/// A slot's play that is smaller does not make the first guess any better.
constexpr double k_least_play_mm = 0.01;
/// Of motions that no slot minds, so that the first guess has a solution; others weigh 1 or more.
constexpr double k_free_weight = 1e-9;
/// Growth across a slot below this is rounding.
constexpr double k_no_growth_mm = 1e-12;
/// 97.5 % point of the normal law.
constexpr double k_normal_975 = 1.959963984540054;
/// Whole steps of the cutter are told from the next by this part of one.
constexpr double k_step_rounding = 1e-6;
/// A whole number of draws that rounding has put just below itself is still that number.
constexpr double k_count_rounding = 1e-6;
/// Steps of the cutter by which a mend is enlarged, at most, until it is proven.
constexpr int k_more_steps = 4;

struct Grown {
    double length_mm = 0.0, width_mm = 0.0;
};

/// One hole of the part, in the plane (along, across) of the flat.
struct Hole {
    std::string mount;
    std::size_t piece = 0;
    HoleRole role = HoleRole::clearance;
    Vector2d place_mm = Vector2d::Zero();
    HoleSize size;
    double screw_mm = 0.0, shift_mm = 0.0;
    double floats_mm = 0.0;  ///< Room of a loose screw about the middle of its hole in the body.
    std::array<Vector2d, 2> grows_mm{Vector2d::Zero(), Vector2d::Zero()};  ///< Of the part's hole: least, greatest.
    Vector2d part_half_mm = Vector2d::Zero(), tilt_half_mm = Vector2d::Zero();
    Matrix2d body_root = Matrix2d::Zero();  ///< Turns two normal numbers into the body's error.
};

HoleSize size_of(const HolePlan& hole) {
    return hole.drawn ? *hole.drawn : hole.cut;
}

double shift_of(const HolePlan& hole) {
    return hole.drawn ? hole.drawn_shift_mm : hole.shift_mm;
}

const Mount* find_mount(const Job& job, const std::string& name) {
    const auto found =
        std::find_if(job.mounts.begin(), job.mounts.end(), [&](const Mount& mount) { return mount.name == name; });
    return found == job.mounts.end() ? nullptr : &*found;
}

/// A root of the covariance of the landing in the flat: the mount's, carried along its axis onto the face.
Matrix2d body_root(const Mount& mount, const HolePlan& hole) {
    const Landing& landing = hole.landing;
    Eigen::Matrix<double, 3, 2> gradients;
    gradients << hole.along, hole.across;
    for (int k = 0; k < 2; ++k) {
        const Vector3d direction = gradients.col(k);
        gradients.col(k) -= (mount.axis.dot(direction) / mount.axis.dot(landing.normal)) * landing.normal;
    }
    const Matrix2d covariance = gradients.transpose() * *landing.covariance_mm2 * gradients;
    Matrix2d root = Matrix2d::Zero();
    root(0, 0) = std::sqrt(std::max(covariance(0, 0), 0.0));
    root(1, 0) = root(0, 0) > 0.0 ? covariance(1, 0) / root(0, 0) : 0.0;
    root(1, 1) = std::sqrt(std::max(covariance(1, 1) - root(1, 0) * root(1, 0), 0.0));
    return root;
}

double floats(const Mount& mount, double screw_mm) {
    const bool loose = mount.fastener.kind == FastenerKind::screw && mount.kind == MountKind::hole;
    return loose && mount.size ? std::max(0.0, 0.5 * (in_mm(mount.size->value) - screw_mm)) : 0.0;
}

std::vector<std::string> lacking(const Job& job, const MountPlan& plan) {
    if (!plan.missing.empty()) {
        return plan.missing;
    }
    std::vector<std::string> missing;
    if (plan.holes.empty()) {
        missing.emplace_back("a mount that lands on the flange");
    }
    if (!job.fitting.part_half) {
        missing.emplace_back("how exactly holes are made in the part");
    }
    for (const HolePlan& hole : plan.holes) {
        if (!(hole.screw_mm > 0.0)) {
            missing.push_back("the fastener's diameter at " + hole.mount);
        }
        if (!hole.landing.covariance_mm2) {
            missing.push_back("the standard deviation of " + hole.mount + "'s place");
        }
    }
    return missing;
}

/// Of the growth lengthwise and across: its least, its greatest; positive is away from the locator.
Vector2d grown_by(const HolePlan& hole, double Growth::*end) {
    const double along = hole.from_locator_mm < 0.0 ? -1.0 : 1.0;
    const double across = hole.across_from_locator_mm < 0.0 ? -1.0 : 1.0;
    return {along * hole.growth.*end, across * hole.growth_across.*end};
}

std::vector<Hole> holes_of(const Job& job, const MountPlan& plan) {
    Vector3d along = Vector3d::Zero();
    Vector3d across = Vector3d::Zero();
    for (const HolePlan& hole : plan.holes) {
        along += hole.along;
        across += hole.across;
    }
    along.normalize();
    across.normalize();
    std::vector<Hole> holes;
    for (const HolePlan& planned : plan.holes) {
        const Mount* mount = find_mount(job, planned.mount);
        assert(mount != nullptr);
        Hole hole;
        hole.mount = planned.mount;
        hole.piece = planned.piece;
        hole.role = planned.role;
        hole.place_mm = {planned.landing.p_mm.dot(along), planned.landing.p_mm.dot(across)};
        hole.size = size_of(planned);
        hole.screw_mm = planned.screw_mm;
        hole.shift_mm = shift_of(planned);
        hole.floats_mm = floats(*mount, planned.screw_mm);
        hole.grows_mm = {grown_by(planned, &Growth::least_mm), grown_by(planned, &Growth::greatest_mm)};
        hole.part_half_mm = {planned.part.along_mm, planned.part.across_mm};
        hole.tilt_half_mm = {planned.tilt.along_mm, planned.tilt.across_mm};
        hole.body_root = body_root(*mount, planned);
        holes.push_back(std::move(hole));
    }
    return holes;
}

/// A hole as tasks: one in each state, or one that holds for all. Places are as drawn.
void add_tasks(const Hole& hole, const Grown& grown, std::vector<SlotTask>& tasks) {
    double length = hole.size.length_mm;
    double width = hole.size.width_mm;
    if (hole.role != HoleRole::locator) {
        width += grown.width_mm;
        length = std::max(length + grown.length_mm, grown.width_mm > 0.0 ? width : 0.0);
    }
    const double half = 0.5 * std::abs(length - width);
    const double radius = 0.5 * (std::min(length, width) - hole.screw_mm);
    const Vector2d way = length >= width ? Vector2d::UnitX() : Vector2d::UnitY();
    const Vector2d side = length >= width ? Vector2d::UnitY() : Vector2d::UnitX();
    const Vector2d centre = hole.place_mm + hole.shift_mm * Vector2d::UnitX();
    const auto add = [&](const Vector2d& middle, double half_mm, double radius_mm) {
        tasks.push_back({hole.place_mm, middle - half_mm * way, middle + half_mm * way, radius_mm});
    };
    const Vector2d change = hole.grows_mm[1] - hole.grows_mm[0];
    const double along = std::abs(change.dot(way));
    const double aside = std::abs(change.dot(side));
    const Vector2d middle = centre + 0.5 * (hole.grows_mm[0] + hole.grows_mm[1]);
    if (aside <= k_no_growth_mm && along <= 2.0 * half) {
        add(middle, half - 0.5 * along, radius + hole.floats_mm);
    } else if (hole.floats_mm > 0.0) {
        const double within = radius - 0.5 * aside - std::max(0.5 * along - half, 0.0);
        add(middle, std::max(half - 0.5 * along, 0.0), within < 0.0 ? within : within + hole.floats_mm);
    } else {
        add(centre + hole.grows_mm[0], half, radius);
        add(centre + hole.grows_mm[1], half, radius);
    }
}

/// One piece's holes as tasks, with a first guess that is linear in the errors: least squares, a hole's play as its
/// weight.
class PieceScene {
public:
    PieceScene(const std::vector<Hole>& holes, std::size_t piece, const Grown& grown) : piece_{piece} {
        for (std::size_t i = 0; i < holes.size(); ++i) {
            if (holes[i].piece == piece) {
                add_tasks(holes[i], grown, tasks_);
                hole_of_.resize(tasks_.size(), i);
            }
        }
        moved_ = tasks_;
        Matrix3d normal = k_free_weight * Matrix3d::Identity();
        guess_.resize(tasks_.size());
        reference_mm_ = tasks_.front().place_mm;
        for (std::size_t t = 0; t < tasks_.size(); ++t) {
            const SlotTask& task = tasks_[t];
            const Vector2d lever = turned(task.place_mm);
            Eigen::Matrix<double, 2, 3> design;
            design << 1.0, 0.0, lever.x(), 0.0, 1.0, lever.y();
            const Vector2d play = (0.5 * (task.to_mm - task.from_mm)).cwiseAbs() +
                                  Vector2d::Constant(std::max(task.radius_mm, k_least_play_mm));
            const Vector2d weight = play.cwiseInverse().cwiseAbs2();
            guess_[t] = design.transpose() * weight.asDiagonal();
            normal += guess_[t] * design;
        }
        const Matrix3d inverse = normal.inverse();
        for (auto& guess : guess_) {
            guess = -(inverse * guess);
        }
    }

    /// `errors_mm`: of each hole of the body against that of the part.
    bool fits(std::span<const Vector2d> errors_mm) {
        if (guess_fits(errors_mm)) {
            return true;
        }
        return static_cast<bool>(geometry::slot_fit(moved_));
    }

    /// The holes of which each alone keeps the part off; to be asked after fits() has said no, for the same errors.
    void blame(std::vector<std::size_t>& to_blame) const {
        const geometry::SlotFit proof = geometry::slot_fit_proof(moved_);
        std::vector<SlotTask> others;
        for (std::size_t k = 0; k < proof.bar_count; ++k) {
            // Without a slot that the proof does not need the proof stands: only those it needs can be to blame.
            const std::size_t hole = hole_of_[proof.bars[k].task];
            if (std::find(to_blame.begin(), to_blame.end(), hole) != to_blame.end()) {
                continue;
            }
            others.clear();
            for (std::size_t t = 0; t < moved_.size(); ++t) {
                if (hole_of_[t] != hole) {
                    others.push_back(moved_[t]);
                }
            }
            if (geometry::slot_fit(others)) {
                to_blame.push_back(hole);
            }
        }
    }

    [[nodiscard]] std::size_t piece() const { return piece_; }

private:
    [[nodiscard]] Vector2d turned(const Vector2d& p_mm) const {
        return {-(p_mm.y() - reference_mm_.y()), p_mm.x() - reference_mm_.x()};
    }

    /// Whether the first guess will do; leaves every place moved by it.
    bool guess_fits(std::span<const Vector2d> errors_mm) {
        Vector3d motion = Vector3d::Zero();
        for (std::size_t t = 0; t < tasks_.size(); ++t) {
            const SlotTask& task = tasks_[t];
            motion += guess_[t] * (task.place_mm + errors_mm[hole_of_[t]] - 0.5 * (task.from_mm + task.to_mm));
        }
        bool fits = true;
        for (std::size_t t = 0; t < tasks_.size(); ++t) {
            const SlotTask& task = tasks_[t];
            const Vector2d place =
                task.place_mm + errors_mm[hole_of_[t]] + motion.head<2>() + motion.z() * turned(task.place_mm);
            moved_[t].place_mm = place;
            // Slots lie along an axis of the plane: the nearest point of the middle line, by coordinates.
            const Vector2d low = task.from_mm.cwiseMin(task.to_mm);
            const Vector2d high = task.from_mm.cwiseMax(task.to_mm);
            const Vector2d off = place - place.cwiseMax(low).cwiseMin(high);
            fits = fits && task.radius_mm >= 0.0 && off.squaredNorm() <= task.radius_mm * task.radius_mm;
        }
        return fits;
    }

    std::size_t piece_ = 0;
    std::vector<SlotTask> tasks_, moved_;
    std::vector<std::size_t> hole_of_;
    std::vector<Eigen::Matrix<double, 3, 2>> guess_;
    Vector2d reference_mm_ = Vector2d::Zero();
};

/// All pieces: each has a position of its own.
class Scene {
public:
    explicit Scene(const std::vector<Hole>& holes, const Grown& grown = {}) {
        for (const Hole& hole : holes) {
            const auto known = std::find_if(pieces_.begin(), pieces_.end(),
                                            [&](const PieceScene& piece) { return piece.piece() == hole.piece; });
            if (known == pieces_.end()) {
                pieces_.emplace_back(holes, hole.piece, grown);
            }
        }
    }

    /// `errors_mm`: of each hole of the body against that of the part.
    bool fits(std::span<const Vector2d> errors_mm) {
        return std::all_of(pieces_.begin(), pieces_.end(), [&](PieceScene& piece) { return piece.fits(errors_mm); });
    }

    /// The holes of which each alone keeps the parts off.
    std::vector<std::size_t> to_blame(std::span<const Vector2d> errors_mm) {
        std::vector<std::size_t> holes;
        int off = 0;
        for (PieceScene& piece : pieces_) {
            if (!piece.fits(errors_mm) && ++off == 1) {
                piece.blame(holes);
            }
        }
        return off == 1 ? holes : std::vector<std::size_t>{};
    }

private:
    std::vector<PieceScene> pieces_;
};

void draw_errors(const std::vector<Hole>& holes, double car_to_car_mm, std::size_t number,
                 std::span<Vector2d> errors_mm) {
    geometry::SeededDraw draw(k_seed, number);
    for (std::size_t i = 0; i < holes.size(); ++i) {
        const Vector2d part = holes[i].part_half_mm.cwiseProduct(draw.in_disc());
        const double first = draw.normal();
        const double second = draw.normal();
        errors_mm[i] = holes[i].body_root * Vector2d(first, second) - part;
        errors_mm[i] += holes[i].tilt_half_mm.cwiseProduct(draw.in_disc());
        if (car_to_car_mm > 0.0 && holes[i].role != HoleRole::locator) {
            errors_mm[i] += car_to_car_mm * draw.in_disc();
        }
    }
}

/// Draws that do not fit, with their errors, and among how many.
struct Misses {
    std::size_t among = 0;
    std::vector<Vector2d> errors_mm;  ///< A row for each.
    std::vector<std::size_t> rows;
};

/// `misses`: null if nobody looks into them.
void count_fits(const Job& job, const std::vector<Hole>& holes, std::size_t draws, const std::stop_token& stop,
                LineUp& told, Misses* misses) {
    const double car_to_car = job.fitting.fits_other_cars ? in_mm(job.fitting.car_to_car.value) : 0.0;
    Scene scene(holes);
    std::vector<Vector2d> errors(holes.size());
    for (std::size_t k = 0; k < draws; ++k) {
        if (k % k_look_every == 0 && stop.stop_requested()) {
            break;
        }
        draw_errors(holes, car_to_car, k, errors);
        const bool fits = scene.fits(errors);
        ++told.draws;
        told.fit += fits ? 1U : 0U;
        if (misses != nullptr && misses->rows.size() < k_looked_into) {
            misses->among = told.draws;
            if (!fits) {
                misses->rows.push_back(misses->rows.size());
                misses->errors_mm.insert(misses->errors_mm.end(), errors.begin(), errors.end());
            }
        }
    }
    if (told.draws > 0) {
        told.probability = static_cast<double>(told.fit) / static_cast<double>(told.draws);
        const Interval interval = wilson_interval(told.fit, told.draws);
        told.low = interval.low;
        told.high = interval.high;
    }
}

/// The growth with which no more than `allowed` miss; `grown` makes a growth of one number.
template <class Grow>
std::optional<double> growth_for(const std::vector<Hole>& holes, const Misses& misses, std::size_t allowed, Grow grow) {
    std::vector<std::size_t> open = misses.rows;  // Not known to fit at `none`, nor to miss at `enough`.
    if (open.size() <= allowed) {
        return 0.0;
    }
    const auto parted = [&](double growth) {
        Scene scene(holes, grow(growth));
        return std::stable_partition(open.begin(), open.end(), [&](std::size_t row) {
            return scene.fits(std::span(misses.errors_mm).subspan(row * holes.size(), holes.size()));
        });
    };
    double none = 0.0;
    double enough = k_most_growth_mm;
    std::size_t surely_miss = 0;
    auto border = parted(enough);
    if (static_cast<std::size_t>(open.end() - border) > allowed) {
        return std::nullopt;
    }
    surely_miss += static_cast<std::size_t>(open.end() - border);
    open.erase(border, open.end());
    while (enough - none > k_growth_accuracy_mm) {
        const double middle = 0.5 * (none + enough);
        border = parted(middle);
        const auto missing = static_cast<std::size_t>(open.end() - border);
        if (surely_miss + missing > allowed) {
            none = middle;
            open.erase(open.begin(), border);
        } else {
            enough = middle;
            surely_miss += missing;
            open.erase(border, open.end());
        }
    }
    return enough;
}

void tell_blame(const std::vector<Hole>& holes, const Misses& misses, LineUp& told) {
    std::vector<std::size_t> counts(holes.size(), 0);
    Scene scene(holes);
    for (const std::size_t row : misses.rows) {
        const auto errors = std::span(misses.errors_mm).subspan(row * holes.size(), holes.size());
        for (const std::size_t hole : scene.to_blame(errors)) {
            ++counts[hole];
        }
    }
    for (std::size_t i = 0; i < holes.size(); ++i) {
        if (counts[i] > 0) {
            told.blame.push_back({holes[i].mount, static_cast<double>(counts[i]) / static_cast<double>(misses.among)});
        }
    }
    std::stable_sort(told.blame.begin(), told.blame.end(),
                     [](const Blame& a, const Blame& b) { return a.share > b.share; });
}

void tell_growth(const Job& job, const std::vector<Hole>& holes, const Misses& misses, LineUp& told) {
    const double may_miss = (1.0 - job.limits.line_up_least) * static_cast<double>(misses.among);
    const auto allowed = static_cast<std::size_t>(std::max(std::floor(may_miss + k_count_rounding), 0.0));
    told.growth_length_mm = growth_for(holes, misses, allowed, [](double g) { return Grown{g, 0.0}; });
    told.growth_width_mm = growth_for(holes, misses, allowed, [](double g) { return Grown{0.0, g}; });
    told.growth_both_mm = growth_for(holes, misses, allowed, [](double g) { return Grown{g, g}; });
}

std::string percent_text(double share, int decimals = 2) {
    return fixed_text(100.0 * share, decimals) + " %";
}

/// A size that the cutter makes: the next whole step.
double cut_mm(const Job& job, double size_mm) {
    const double step = in_mm(job.fitting.cutter_step.value);
    return step > 0.0 ? step * std::ceil(size_mm / step - k_step_rounding) : size_mm;
}

struct Change {
    std::vector<FieldChange> fields;
    MountPlan plan;  ///< With the holes drawn so.
};

Change with_grown_holes(const Job& job, const MountPlan& plan, const Grown& grown) {
    Change change{{}, plan};
    for (HolePlan& hole : change.plan.holes) {
        const HoleSize before = size_of(hole);
        HoleSize after = before;
        if (hole.role != HoleRole::locator) {
            after.width_mm = grown.width_mm > 0.0 ? cut_mm(job, before.width_mm + grown.width_mm) : before.width_mm;
            after.length_mm =
                grown.length_mm > 0.0 ? cut_mm(job, before.length_mm + grown.length_mm) : before.length_mm;
            after.length_mm = std::max(after.length_mm, after.width_mm);
        }
        if (hole.drawn && after == before) {
            continue;
        }
        const auto mount = std::find_if(job.mounts.begin(), job.mounts.end(),
                                        [&](const Mount& there) { return there.name == hole.mount; });
        const std::string at = "/mounts/" + std::to_string(mount - job.mounts.begin());
        change.fields.push_back(length_change(job, at + "/part_hole", millimetres(after.width_mm)));
        if (after.length_mm > after.width_mm || mount->part_slot) {
            change.fields.push_back(length_change(job, at + "/part_slot", millimetres(after.length_mm)));
        }
        if (!hole.drawn) {
            change.fields.push_back(length_change(job, at + "/part_shift", millimetres(hole.shift_mm)));
            hole.drawn_shift_mm = hole.shift_mm;
        }
        hole.drawn = after;
    }
    return change;
}

std::optional<Mend> mend_of(const Job& job, const MountPlan& plan, const LineUp& line_up) {
    std::vector<Grown> ways;  // Growing both ways takes the same of each, so it comes last of equals.
    if (line_up.growth_length_mm) {
        ways.push_back({*line_up.growth_length_mm, 0.0});
    }
    if (line_up.growth_width_mm) {
        ways.push_back({0.0, *line_up.growth_width_mm});
    }
    if (line_up.growth_both_mm) {
        ways.push_back({*line_up.growth_both_mm, *line_up.growth_both_mm});
    }
    const auto least = std::min_element(ways.begin(), ways.end(), [](const Grown& a, const Grown& b) {
        return a.length_mm + a.width_mm < b.length_mm + b.width_mm;
    });
    if (least == ways.end()) {
        return Mend{
            "Slots alone cannot bring it: measure the mounts better, or give the locator's hole more play.", {}, {}};
    }
    Grown grown = *least;
    const double step = in_mm(job.fitting.cutter_step.value);
    for (int more = 0; more <= k_more_steps; ++more) {
        const Change change = with_grown_holes(job, plan, grown);
        LineUp again;
        count_fits(job, holes_of(job, change.plan), line_up.draws, {}, again, nullptr);
        if (again.draws > 0 && again.probability >= job.limits.line_up_least) {
            Mend mend;
            const std::string by = mm_text(millimetres(std::max(grown.length_mm, grown.width_mm)));
            mend.words = "Make the clearance and guide slots " +
                         (grown.width_mm == 0.0    ? by + " longer"
                          : grown.length_mm == 0.0 ? by + " wider"
                                                   : by + " longer and wider") +
                         ", rounded up to the cutter's step: then " + percent_text(again.probability, 3) + " go on.";
            mend.changes = change.fields;
            mend.proven_margin = again.probability - job.limits.line_up_least;
            return mend;
        }
        grown.length_mm += grown.length_mm > 0.0 ? step : 0.0;
        grown.width_mm += grown.width_mm > 0.0 ? step : 0.0;
    }
    return std::nullopt;
}

std::string why_of(const LineUp& line_up) {
    std::string why = "Of " + std::to_string(line_up.draws) + " parts drawn from the tolerances " +
                      std::to_string(line_up.fit) + " go on with every fastener";
    if (!line_up.blame.empty()) {
        why += "; " + line_up.blame.front().mount + " alone is to blame for " +
               percent_text(line_up.blame.front().share) + " of all";
    }
    return why + ".";
}

}  // namespace

Interval wilson_interval(std::size_t fit, std::size_t draws) {
    assert(draws > 0);
    const double n = static_cast<double>(draws);
    const double p = static_cast<double>(fit) / n;
    const double z2 = k_normal_975 * k_normal_975;
    const double middle = (p + 0.5 * z2 / n) / (1.0 + z2 / n);
    const double half = k_normal_975 / (1.0 + z2 / n) * std::sqrt(p * (1.0 - p) / n + 0.25 * z2 / (n * n));
    return {std::max(middle - half, 0.0), std::min(middle + half, 1.0)};
}

LineUp line_up(const Job& job, const MountPlan& plan, std::size_t draws, const std::stop_token& stop) {
    LineUp told;
    told.missing = lacking(job, plan);
    if (!told.missing.empty() || draws == 0) {
        return told;
    }
    const std::vector<Hole> holes = holes_of(job, plan);
    Misses misses;
    count_fits(job, holes, draws, stop, told, &misses);
    if (told.draws > 0 && !stop.stop_requested()) {
        tell_blame(holes, misses, told);
        tell_growth(job, holes, misses, told);
    }
    return told;
}

Finding line_up_finding(const Job& job, const MountPlan& plan, const LineUp& line_up, Mends mends) {
    Finding finding;
    finding.id = "mounts/line-up";
    finding.title = "Every fastener goes home";
    finding.stage = Stage::mounts;
    finding.unit = Unit::none;
    finding.at_least = true;
    finding.required = job.limits.line_up_least;
    finding.formula =
        "Share of drawn parts and cars for which one position of the part, shifted and turned, has every fastener in "
        "its hole in every season; interval by Wilson's score.";
    finding.source =
        "E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209, for the interval; else common practice, no source";
    finding.missing = line_up.missing;
    finding.place.words = "all mounts of the flange";
    if (line_up.draws == 0) {
        finding.why =
            "How exact holes and mounts are is not all known, so it cannot be said how often the part goes on.";
        finding.state = state_of(std::nullopt, 0.0, finding.missing);
        return finding;
    }
    finding.found = line_up.probability;
    finding.margin = line_up.probability - job.limits.line_up_least;
    finding.why = why_of(line_up);
    finding.inputs = {{"draws", std::to_string(line_up.draws)},
                      {"sure to 95 %", percent_text(line_up.low, 3) + " to " + percent_text(line_up.high, 3)}};
    for (const Blame& blame : line_up.blame) {
        finding.inputs.push_back({blame.mount + " alone to blame", percent_text(blame.share)});
    }
    const auto grow = [&](const std::string& name, const std::optional<double>& growth) {
        finding.inputs.push_back(
            {name, growth ? mm_text(millimetres(*growth)) : "more than " + mm_text(millimetres(k_most_growth_mm), 0)});
    };
    grow("slots longer, alone", line_up.growth_length_mm);
    grow("slots wider, alone", line_up.growth_width_mm);
    grow("slots longer and wider", line_up.growth_both_mm);
    const double band =
        std::max(close_band_within(1.0, 1.0 - job.limits.line_up_least), line_up.probability - line_up.low);
    finding.state = state_of(finding.margin, band, finding.missing);
    if (finding.state == State::falls_short && mends == Mends::look_for) {
        finding.mend = mend_of(job, plan, line_up);
    }
    return finding;
}

}  // namespace sillwright::core
