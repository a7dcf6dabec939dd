#pragma once

#include <Eigen/Core>
#include <Eigen/LU>
#include <optional>
#include <vector>

#include "geometry/result.h"
#include "geometry/units.h"

/// A straight beam on point supports.
///
/// Units and frame: millimetres along the beam; newtons; stiffness EI in N mm². Loads and deflections are positive the
///   same way ("down"), reactions against it ("up"). A moment is positive where it makes the beam sag, and in N mm.
/// Source: Euler and Bernoulli's beam; the theorem of three moments, with supports that give (Timoshenko, Strength of
///   Materials, Part I).
namespace sillwright::geometry {

/// A stretch of the beam with one stiffness against bending.
struct BeamStretch {
    Length from, to;
    double ei_n_mm2 = 0.0;
};

struct BeamSupport {
    Length at;
    std::optional<double> stiffness_n_per_mm;  ///< Of a support that gives; none: it does not.
    bool holds_rotation = false;
};

/// Evenly spread over a stretch.
struct SpreadLoad {
    Length from, to;
    double n_per_mm = 0.0;
};

struct PointLoad {
    Length at;
    geometry::Force force;
};

struct BeamLoads {
    std::vector<SpreadLoad> spread;
    std::vector<PointLoad> points;
};

/// A place of the beam and what was found there.
struct BeamExtreme {
    Length at;
    double value = 0.0;
};

/// What a beam does under its loads.
class BeamState {
public:
    [[nodiscard]] const std::vector<double>& reactions_n() const { return reactions_; }
    /// Moment at each support; where one holds the rotation, the greater in size of its two sides.
    [[nodiscard]] const std::vector<double>& support_moments_n_mm() const { return support_moments_; }

    /// At a place of the beam (clamped to its ends); at a jump, behind it.
    [[nodiscard]] double deflection_mm(Length at) const;
    [[nodiscard]] double slope(Length at) const;
    [[nodiscard]] double moment_n_mm(Length at) const;
    [[nodiscard]] double shear_n(Length at) const;

    /// Greatest and least over the whole beam, found where the slope or the shear is zero.
    [[nodiscard]] BeamExtreme most_deflection() const;
    [[nodiscard]] BeamExtreme least_deflection() const;
    [[nodiscard]] BeamExtreme most_moment() const;
    [[nodiscard]] BeamExtreme least_moment() const;
    /// The one of them that is greater in size.
    [[nodiscard]] BeamExtreme worst_deflection() const;

private:
    friend class ContinuousBeam;
    /// A part with one stiffness and one load: a quartic.
    struct Part {
        double from = 0.0, to = 0.0, ei = 0.0, w = 0.0;
        double moment = 0.0, shear = 0.0, slope = 0.0, deflection = 0.0;  ///< At `from`.

        [[nodiscard]] double moment_at(double s) const { return moment + s * (shear - s * w / 2.0); }
        [[nodiscard]] double slope_at(double s) const {
            return slope - s * (moment + s * (shear / 2.0 - s * w / 6.0)) / ei;
        }
        [[nodiscard]] double deflection_at(double s) const {
            return deflection + s * (slope - s * (moment / 2.0 + s * (shear / 6.0 - s * w / 24.0)) / ei);
        }
        [[nodiscard]] std::vector<double> level_places() const;  ///< Where the slope is zero.
    };
    [[nodiscard]] const Part& part_at(double at) const;

    std::vector<Part> parts_;
    std::vector<double> reactions_, support_moments_;
};

/// A beam made ready to be loaded: the equations of its supports are solved once.
class ContinuousBeam {
public:
    /// Shape: stretches end to end, rising; one or more supports on the beam, rising, `k_least_span` apart at least.
    ///   A free end beyond the first or the last support hangs over.
    /// Errors: invalid_argument for stretches that do not join, numbers that are not finite or not positive, supports
    ///   off the beam or too near to each other; does_not_fit where a single support does not hold the rotation.
    static Result<ContinuousBeam> make(std::vector<BeamStretch> stretches, std::vector<BeamSupport> supports);

    /// Accuracy: exact but for rounding, about 1e-12 of the greatest moment and deflection for spans that are not more
    ///   than a thousand times as long as each other.
    /// Errors: invalid_argument for a load off the beam, a stretch that does not rise, or a number not finite.
    [[nodiscard]] Result<BeamState> under(const BeamLoads& loads) const;

    [[nodiscard]] Length front() const { return stretches_.front().from; }
    [[nodiscard]] Length rear() const { return stretches_.back().to; }
    [[nodiscard]] const std::vector<BeamSupport>& supports() const { return supports_; }

private:
    ContinuousBeam() = default;

    std::vector<BeamStretch> stretches_;
    std::vector<BeamSupport> supports_;
    Eigen::PartialPivLU<Eigen::MatrixXd> equations_;
};

/// Nearer supports are a slip; two that are meant to hold the rotation can be this near.
constexpr Length k_least_span = millimetres(1e-3);

}  // namespace sillwright::geometry
