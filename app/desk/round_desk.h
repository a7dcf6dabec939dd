#pragma once

#include <QImage>
#include <QTimer>
#include <QWidget>

#include "app/desk/focus.h"
#include "app/desk/open_job.h"
#include "app/drawings/solid_scene.h"
#include "app/link/solids_of_job.h"

class QLabel;
class QPushButton;

namespace sillwright::app {

class SolidView;

/// In the round: the solid of the job, small in a corner or unfolded over the section's place, and the
/// doors that turn in it. It follows a drag at its own rate.
class RoundDesk : public QWidget {
    Q_OBJECT

public:
    RoundDesk(OpenJob& job, Focus& focus, QWidget* parent);

    /// Unfolded, with all its buttons; who places it calls this after it has given it its room.
    void show_unfolded(bool unfolded);
    /// Tints the drawn pieces by what of their forming the section shows too.
    void show_forming(SectionForming what);
    [[nodiscard]] bool unfolded() const { return unfolded_; }

    /// As seen now, in another size; null where there is no solid picture.
    [[nodiscard]] QImage picture(const QSize& pixels) const;
    /// Waits until the picture shows the job and the focus as they are.
    void settle();

    [[nodiscard]] QSize sizeHint() const override { return {340, 260}; }

signals:
    /// The button was pressed: more room, or back into the corner.
    void unfold_wanted(bool unfold);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    void follow_results();
    void rebuild();
    void follow_chosen();
    void follow_door();
    void follow_section();
    void press(const SolidPart& part, const Eigen::Vector3d& at_mm);
    void point(const SolidPart& part, const Eigen::Vector3d& at_mm);

    OpenJob& job_;
    Focus& focus_;
    SolidView* solid_;
    QLabel* heading_;
    QPushButton* unfold_;
    MadeSolids made_;
    QTimer rebuild_soon_;
    bool unfolded_ = false;
    SectionForming forming_ = SectionForming::none;
    bool another_job_ = true;  ///< Since the scene was made.
};

}  // namespace sillwright::app
