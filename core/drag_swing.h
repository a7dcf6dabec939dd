#pragma once

#include <optional>
#include <vector>

#include "core/car_model.h"
#include "core/drag_shape.h"
#include "core/swing/swing_check.h"
#include "geometry/followed_distance.h"
#include "geometry/result.h"

namespace sillwright::core {

/// Swing outcomes while a piece is dragged: those of pairs that it is none of are kept, the others are
/// asked for anew at every move.
///
/// Accuracy: between what is reached and what is proven lie k_drag_tolerance, five times that of the full
///   check. An outcome of a door that stands shut may be told by the proof of the swing that it is part of.
/// Touching: one angle is told, no depth (followed_distance.h).
/// Lifetime: holds the addresses of the car and of the shape.
class DragSwing {
public:
    /// `car` has the dragged piece's body as it was at the start; `kept` are all outcomes so far, and point into `car`
    /// and `body`.
    /// Errors: as geometry::least_distance.
    static geometry::Result<DragSwing> begin(const Job& job, const CarModel& car, const BodyModel* body,
                                             std::size_t piece, const DragShape& shape,
                                             const std::vector<SwingOutcome>& kept);

    /// The shape has another form now.
    void moved();

    /// As TellOutcome.
    geometry::Result<std::optional<SwingOutcome>> tell(const SwingPair& pair, SwingCase which);

private:
    /// A pair over a swing, from the start of the drag on.
    struct Followed {
        const BodyModel* moving;
        const BodyModel* fixed;
        SwingCase which;
        bool at_stop;  ///< Only with the door at its stop.
        geometry::FollowedDistance distance;
        std::optional<geometry::MotionDistance> now;  ///< Of the shape as it is.
    };

    DragSwing(const CarModel& car, std::size_t piece, const DragShape& shape)
        : car_{&car}, piece_{piece}, shape_{&shape} {}
    [[nodiscard]] const BodyModel* dragged() const { return &*car_->pieces[piece_].body; }
    geometry::Status follow(const SwingPair& pair, SwingCase which, bool at_stop);
    [[nodiscard]] Followed* followed(const SwingPair& pair, SwingCase which, bool at_stop);
    geometry::Result<geometry::MotionDistance> distance(const SwingPair& pair, SwingCase which, bool at_stop);
    geometry::Status ask(Followed& followed);

    const CarModel* car_;
    std::size_t piece_;
    const DragShape* shape_;
    std::vector<SwingOutcome> kept_;  ///< Of pairs that the dragged piece is none of.
    std::vector<Followed> followed_;
};

constexpr geometry::Length k_drag_tolerance = geometry::millimetres(0.05);

}  // namespace sillwright::core
