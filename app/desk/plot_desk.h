#pragma once

#include <QThreadPool>
#include <QWidget>
#include <cstdint>
#include <memory>
#include <stop_token>
#include <string>
#include <vector>

#include "app/drawings/clearance_picture.h"
#include "core/evaluate.h"
#include "geometry/result.h"

class QComboBox;

namespace sillwright::app {

class ClearancePlot;
class Focus;
class OpenJob;

/// Clearance against the opening of one door: of the chosen finding's, of the one turned last, or of the one chosen
/// in the list above it; at first of the worst finding's. The curve is computed in a thread of its own, for that door
/// alone, when the results are current; until then an older one is shown paler, and the marks follow the hand.
class PlotDesk : public QWidget {
    Q_OBJECT

public:
    PlotDesk(OpenJob& open, Focus& focus, QWidget* parent = nullptr);
    ~PlotDesk() override;

    [[nodiscard]] const std::string& door() const { return door_; }
    [[nodiscard]] ClearancePlot& plot() { return *plot_; }

    [[nodiscard]] QSize sizeHint() const override { return {330, 290}; }

public slots:
    void show_door(const std::string& door);

private:
    using Results = std::shared_ptr<const core::Evaluation>;
    void take_results();
    void list_doors();
    void follow_chosen();
    void compute();
    void take_lines(std::uint64_t run, const geometry::Result<std::vector<ClearanceLine>>& lines);
    void show_picture();
    [[nodiscard]] std::string sentence(const core::DoorModel* door) const;

    OpenJob& open_;
    Focus& focus_;
    QComboBox* doors_;
    ClearancePlot* plot_;
    std::string door_;

    std::vector<ClearanceLine> lines_;
    std::string lines_door_;
    Results lines_of_;  ///< The results that the lines were computed from.
    std::string failure_;

    QThreadPool threads_;
    std::stop_source stop_;
    std::uint64_t run_ = 0;
    Results asked_of_;  ///< What the thread computes from now, for `asked_door_`.
    std::string asked_door_;
};

}  // namespace sillwright::app
