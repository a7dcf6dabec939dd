#pragma once

#include <Eigen/Core>
#include <QWidget>
#include <array>
#include <memory>
#include <string>
#include <vector>

#include "core/survey/underlay.h"

class QCheckBox;
class QComboBox;
class QLabel;
class QLineEdit;
class QPushButton;

namespace sillwright::app {

class ScanDrawing;
class Underlays;
struct LaidScan;

/// The scans of the job: their unit, the marks that place them, the fit to the body, and sections drawn from them.
class ScanDesk : public QWidget {
    Q_OBJECT

public:
    explicit ScanDesk(Underlays& underlays, QWidget* parent = nullptr);

    [[nodiscard]] ScanDrawing& drawing() { return *drawing_; }
    /// Puts the file beside the job. Refused in words if the job was never saved.
    void add(const QString& file);

private:
    QWidget* make_top();
    QWidget* make_marks();
    QWidget* make_bottom();
    void follow();
    void fill_mark();
    void set_mark();
    void draw_sections();
    [[nodiscard]] const core::survey::Scan* scan() const;
    [[nodiscard]] std::shared_ptr<const LaidScan> laid() const;
    [[nodiscard]] double unit_mm() const;

    Underlays& underlays_;
    ScanDrawing* drawing_;
    QComboBox *scans_, *unit_, *view_, *book_point_;
    QLineEdit* deviation_;
    QCheckBox* fitted_;
    std::array<QLineEdit*, 3> place_{};
    QLabel* words_;
    std::vector<QWidget*> with_scan_;  ///< Of use only where there is a scan.
    QPushButton* draw_;
    std::string chosen_;
};

/// The scan's profiles at stations of the job, drawn as the body's sections in one step; asks before it replaces any
/// that are drawn. `stations` empty: all at which the scan has triangles.
void draw_from_scan(Underlays& underlays, const LaidScan& scan, std::vector<std::string> stations, QWidget* parent);

}  // namespace sillwright::app
