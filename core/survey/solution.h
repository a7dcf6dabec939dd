#pragma once

#include <Eigen/Core>
#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/survey/book.h"
#include "geometry/least_squares.h"
#include "geometry/units.h"

/// What the measuring book says once it is adjusted: plain values, for terminal and window alike.
///
/// Units and frame: millimetres and radians in the job's frame (along, out, up).
namespace sillwright::core::survey {

/// A point whose three coordinates are found (or held).
struct PlacedPoint {
    std::string name;
    PointKind kind = PointKind::mark;
    Eigen::Vector3d at_mm = Eigen::Vector3d::Zero();
    Eigen::Matrix3d covariance_mm2 = Eigen::Matrix3d::Zero();  ///< Zero where a coordinate is held exactly.
    std::array<int, 3> parameters{-1, -1, -1};                 ///< Of the adjustment; -1: held exactly.
};

/// A point that cannot be placed, and which kind of reading it lacks.
struct LackingPoint {
    std::string name;
    std::string lacks;  ///< One sentence, "H3 has one tie only: measure two more, or a height and one more."
};

/// One number of a reading after the adjustment; a gauge has two (out, up) besides the plane that it lies in.
struct AdjustedNumber {
    std::string what;       ///< Empty for the reading's own value; "out", "up", "along" of a gauge.
    double observed = 0.0;  ///< mm, or rad for angle and slope.
    double adjusted = 0.0;
    double residual = 0.0;    ///< adjusted - observed.
    double sd = 0.0;          ///< Of the reading before the adjustment.
    double redundancy = 0.0;  ///< 0: nothing else checks it; 1: fully checked.
    std::optional<double> w;  ///< |residual| over its own sd; none where the redundancy is too small to say.
    std::optional<double> least_blunder;  ///< Smallest that is found 4 times in 5 at a false alarm in 1000; none as w.
};

/// What became of a reading.
enum class ReadingUse {
    used,
    dropped,     ///< Left out by the maker, with the reason in the book.
    waiting,     ///< One of its points is not placed yet.
    not_usable,  ///< Lacks its value, or its points make no sense (twice the same); `why` says which.
};

/// One of each reading in the book, in the same order.
struct ReadingResult {
    ReadingUse use = ReadingUse::waiting;
    std::string why;                      ///< Of waiting and not_usable.
    std::vector<AdjustedNumber> numbers;  ///< Of used; of dropped too, as it would have been (redundancy 1).
};

/// How a set-up leans in the job's frame.
struct PlacedSetUp {
    std::string name;
    geometry::Angle roll, pitch;
    geometry::Angle roll_sd, pitch_sd;  ///< Zero if held.
    bool found = false;                 ///< Held, or solved from readings; false: no reading says.
};

/// Sum of squared normalised residuals against chi-squared, two-sided 95 %.
struct GlobalTest {
    double sum = 0.0;
    int degrees_of_freedom = 0;
    double lower = 0.0, upper = 0.0;
    bool holds = true;
};

/// The one number most in conflict with the others.
struct Suspect {
    std::size_t reading = 0;
    std::size_t number = 0;
    double w = 0.0;
    /// False where another number would fit the conflict as well (their residuals move together).
    bool told_apart = true;
    std::vector<std::size_t> others;  ///< Readings that it cannot be told from.
    double expected = 0.0;            ///< What all other readings say it should be.
};

/// Two places that agree with the readings alike.
struct Mirrored {
    std::vector<std::string> points;       ///< That move together.
    std::vector<Eigen::Vector3d> here_mm;  ///< The places taken, one of each point.
    std::vector<Eigen::Vector3d> there_mm;
    std::string question;   ///< "H3: 12 mm above the mark A or 40 mm below it?"
    std::size_t asked = 0;  ///< Which of `points` the question is about, and
    int coordinate = 0;  ///< which of its coordinates. Its answer says nothing of the others: they may be asked next.
};

/// The further reading that helps the worst mount most (any point if there are no mounts).
struct NextReading {
    ReadingKind kind = ReadingKind::tie;
    std::vector<std::string> points;
    std::string set_up;
    std::string for_point;
    double before_mm = 0.0;  ///< Half the longest axis of for_point's 95 % ellipsoid.
    double after_mm = 0.0;
    std::string words;  ///< "Tape from B to H3: H3 known to 0.9 mm instead of 2.1."
};

struct Solution {
    std::vector<PlacedPoint> points;  ///< In the order in which the book first names them.
    std::vector<LackingPoint> lacking;
    std::vector<ReadingResult> readings;
    std::vector<PlacedSetUp> set_ups;
    GlobalTest global;
    std::optional<Suspect> suspect;  ///< The single worst, if its w is above 3.29.
    std::vector<Mirrored> mirrored;  ///< Not answered by a rough place in the book.
    std::optional<NextReading> next;
    std::vector<std::string> problems;  ///< Sentences: no frame, parts that nothing ties together, no solution.

    /// The adjustment itself, for covariances between points; null if nothing was adjusted.
    std::shared_ptr<const geometry::LeastSquares> adjustment;

    [[nodiscard]] const PlacedPoint* find(const std::string& name) const;
    /// Covariance of the coordinates of these points (three rows each, in this order), mm².
    /// Precondition: all are placed.
    [[nodiscard]] Eigen::MatrixXd covariance_mm2(const std::vector<std::string>& names) const;
};

/// Factor from a standard deviation to a 95 % half-axis: sqrt of chi-squared's 95 % point with that many
/// degrees of freedom (1: 1.9600, 2: 2.4477, 3: 2.7955).
double factor_95(int dimensions);

/// Above this a normalised residual is called a blunder: false alarm in 1 of 1000, two-sided (Baarda 1968).
constexpr double k_blunder_w = 3.29;

/// How sure a reading is, from its own sd, its instrument, or the usual instrument of its kind; `up` is a gauge's
/// second number. mm, or rad for angle and slope.
/// Source: tape classes as in core/survey/reading_sd.h; others common practice, no source.
double reading_sd(const Book& book, const Reading& reading);

/// Adjusts the book. Never fails: what cannot be computed is said in `lacking`, `problems` and the readings.
/// `with_next`: look for the next reading too (about as much work again).
Solution solve(const Book& book, bool with_next = true);

}  // namespace sillwright::core::survey
