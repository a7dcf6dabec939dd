#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/entry.h"
#include "core/survey/book.h"

namespace sillwright::app {

/// A point that is placed, with how sure it is.
struct NetworkPoint {
    std::string name;
    core::survey::PointKind kind = core::survey::PointKind::mark;
    Eigen::Vector3d at_mm = Eigen::Vector3d::Zero();
    Eigen::Matrix3d covariance_mm2 = Eigen::Matrix3d::Zero();
    bool mount = false;  ///< A mount of the job stands there already.

    friend bool operator==(const NetworkPoint&, const NetworkPoint&) = default;
};

/// A reading between two placed points.
struct NetworkLine {
    std::string reading;  ///< Its id.
    Eigen::Vector3d from_mm = Eigen::Vector3d::Zero(), to_mm = Eigen::Vector3d::Zero();
    bool suspect = false;  ///< The one that is most in conflict with the others.
    bool dropped = false;

    friend bool operator==(const NetworkLine&, const NetworkLine&) = default;
};

/// A point that cannot be placed, and what it lacks.
struct NetworkLack {
    std::string name, words;

    friend bool operator==(const NetworkLack&, const NetworkLack&) = default;
};

/// Another place that agrees with the readings alike.
struct NetworkMirror {
    std::string name;
    Eigen::Vector3d here_mm = Eigen::Vector3d::Zero(), there_mm = Eigen::Vector3d::Zero();

    friend bool operator==(const NetworkMirror&, const NetworkMirror&) = default;
};

/// The further reading that helps most.
struct NetworkNext {
    std::vector<Eigen::Vector3d> over_mm;  ///< Its points.
    std::string words;

    friend bool operator==(const NetworkNext&, const NetworkNext&) = default;
};

/// The measured network.
///
/// Units and frame: millimetres, (along, out, up) of the job.
struct NetworkPicture {
    std::vector<NetworkPoint> points;
    std::vector<NetworkLine> lines;
    std::vector<NetworkLack> lacking;
    std::vector<NetworkMirror> mirrors;
    std::optional<NetworkNext> next;
    std::string suspect;                ///< What is said of the suspect line; empty if there is none.
    std::vector<std::string> leans;     ///< How each set-up leans, in words.
    std::vector<std::string> problems;  ///< Why nothing could be placed.
    core::BareUnit unit = core::BareUnit::mm;

    friend bool operator==(const NetworkPicture&, const NetworkPicture&) = default;
};

}  // namespace sillwright::app
