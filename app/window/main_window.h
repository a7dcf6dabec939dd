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

/// One job: heading, the section at a station, the bodies in the round, and the
/// findings.
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
    /// Steps along the stations; stays at the ends.
    void step_station(int by);

private:
    void make_menus();
    [[nodiscard]] QWidget* make_heading();
    [[nodiscard]] QWidget* make_section_side();
    [[nodiscard]] QWidget* make_findings_side();
    void show_solids();
    void show_station();

    CoreLink core_;
    std::optional<CheckedJob> checked_;
    std::vector<core::Station> stations_;  ///< Rising along the car.
    std::size_t station_ = 0;

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
