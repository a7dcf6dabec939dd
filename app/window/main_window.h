#pragma once

#include <QMainWindow>
#include <optional>

#include "app/core_link.h"

class QLabel;
class QPushButton;

namespace sillwright::app {

class FindingsModel;
class SectionDrawing;
class SolidView;

/// One job: heading, the section at a place, the bodies in the round, and the
/// findings. It opens at the place of the worst finding; a finding that is chosen
/// takes the section to its own.
class MainWindow : public QMainWindow {
    Q_OBJECT

public:
    explicit MainWindow(CoreLink core, QWidget* parent = nullptr);

    void show_job(CheckedJob checked);
    /// Says in the drawing's place why there is no job.
    void show_failure(const QString& sentence);

    /// Reads, computes and shows a job. Errors: core's, already shown.
    geometry::Status open_job(const std::filesystem::path& file);

public slots:
    void ask_for_job();
    void show_about();
    /// To the next station behind (1) or before (-1) the place shown; stays at the ends.
    void step_station(int by);

private:
    void make_menus();
    [[nodiscard]] QWidget* make_heading();
    [[nodiscard]] QWidget* make_section_side();
    [[nodiscard]] QWidget* make_findings_side();
    void show_solids();
    void show_section();
    /// The station that a step leads to; none at the end.
    [[nodiscard]] const core::Station* station_beyond(int by) const;
    void go_to_finding(int row);

    CoreLink core_;
    std::optional<CheckedJob> checked_;
    std::vector<core::Station> stations_;    ///< Rising along the car.
    std::optional<geometry::Length> along_;  ///< The place shown; none where there is nothing to go by.

    FindingsModel* model_;
    QLabel* vehicle_;
    QLabel* side_;
    QLabel* place_;
    QPushButton* before_;
    QPushButton* beyond_;
    QLabel* count_;
    SectionDrawing* drawing_;
    SolidView* solid_;
};

}  // namespace sillwright::app
