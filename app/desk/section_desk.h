#pragma once

#include <QThreadPool>
#include <QWidget>
#include <array>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/checked_job.h"
#include "app/desk/focus.h"
#include "app/desk/open_job.h"
#include "app/drawings/section_drawing.h"
#include "app/link/section_forming.h"
#include "app/link/section_of_job.h"
#include "core/edit/drawn_id.h"
#include "core/edit/node_edit.h"
#include "core/edit/snap.h"

class QAction;
class QComboBox;
class QPushButton;

namespace sillwright::app {

class PhotoBar;
class Underlays;
struct LaidScan;

/// The section: the drawing where most is drawn by hand, and the hands to do it with.
class SectionDesk : public QWidget {
    Q_OBJECT

public:
    SectionDesk(OpenJob& job, Focus& focus, QWidget* parent = nullptr);
    ~SectionDesk() override;

    [[nodiscard]] SectionDrawing& drawing() { return *drawing_; }
    /// Shows photos and scans of the job under the section; they must outlive the desk.
    void use(Underlays& underlays);
    /// What of the forming is shown with the skirt.
    void show_forming(SectionForming what);

private:
    /// What the ground was made of.
    struct GroundKey {
        std::shared_ptr<const core::Evaluation> results;
        std::uint64_t job = 0;
        std::optional<geometry::Length> along;
        std::vector<std::string> open_doors;
        const void* limits = nullptr;
        bool current = false;
        friend bool operator==(const GroundKey&, const GroundKey&) = default;
    };
    /// A number that was typed while a node is dragged.
    struct FixedNumber {
        core::NodeNumber which;
        geometry::Length value;
        std::string typed;
    };
    /// How the last gesture is done without being drawn to anything.
    using Freely = std::function<geometry::Result<core::Edit>(const core::Job&)>;

    void make_hands();
    void lay_photo();
    void take_photo_away();
    void press_on_photo(const Eigen::Vector2d& at_mm);
    QPushButton* hand_button(const QString& name, const QString& text, const QString& help, Hand hand);
    void connect_drawing();
    void refresh();
    void show_underlays(SectionPicture& picture);
    void draw_from_scan();
    [[nodiscard]] std::string note() const;
    void show_fixed(SectionPicture& picture) const;
    [[nodiscard]] std::shared_ptr<const SectionPicture> ground(const SectionSource& source);
    void want_limits();

    void take_hand(Hand hand);
    void fill_bodies();
    [[nodiscard]] geometry::Length reach(double pixels) const;
    [[nodiscard]] bool draws_freely(bool free) const;

    void begin_drag(const std::string& node_id);
    void drag(const Eigen::Vector2d& to_mm, bool free);
    void drop();
    void put_back();
    void type_number(const std::string& node_id, core::NodeNumber which, const std::string& text);
    void step(const std::string& node_id, int right, int up, bool fine);
    void remove(const Item& item);
    void let_go();

    void hover(const Eigen::Vector2d& at_mm, bool free);
    void press(const Eigen::Vector2d& at_mm, bool free);
    void place_mount(const Eigen::Vector2d& at_mm, bool free);
    void add_node(const Eigen::Vector2d& at_mm);
    void draw_on(const Eigen::Vector2d& at_mm, bool free);
    [[nodiscard]] std::optional<core::Snapped> mount_landing(const Eigen::Vector2d& at_mm, bool free) const;
    [[nodiscard]] Eigen::Vector2d whole(const Eigen::Vector2d& at_mm, bool free) const;
    [[nodiscard]] std::optional<core::DrawnId> drawn_body() const;
    [[nodiscard]] const core::Station* station() const;
    [[nodiscard]] const core::Section* drawn_section() const;
    void end_stroke();

    void open_menu(const Item& item, const Eigen::Vector2d& at_mm, const QPoint& global);
    void rename_node(const std::string& node_id);
    void run_out_node(const std::string& node_id);
    void copy_section();
    void show_tag(const Eigen::Vector2d& at_mm, const std::vector<std::string>& to, Freely freely);

    OpenJob& job_;
    Focus& focus_;
    SectionDrawing* drawing_;
    std::array<QPushButton*, 6> hands_{};  ///< In the order of Hand.
    QComboBox* body_ = nullptr;
    PhotoBar* photo_bar_ = nullptr;
    std::optional<Eigen::Vector2d> photo_first_mm_;  ///< The first of the two places that give its scale.
    /// The cut of a scan at one place, until either is another.
    struct ScanHere {
        std::shared_ptr<const LaidScan> scan;
        std::optional<geometry::Length> along;
        std::vector<SectionLine> lines;
    };
    Underlays* underlays_ = nullptr;
    std::vector<ScanHere> scans_here_;
    SectionForming forming_ = SectionForming::none;
    QPushButton* from_scan_ = nullptr;
    QAction* whole_units_ = nullptr;
    bool stroke_begun_ = false;  ///< A section is being drawn click by click.

    std::uint64_t job_number_ = 0;  ///< Of the value of the job that the ground is of.
    GroundKey ground_key_;
    std::shared_ptr<const SectionPicture> ground_;

    std::shared_ptr<const std::vector<DoorLimit>> limits_;
    std::optional<geometry::Length> limits_along_;
    std::shared_ptr<const core::Evaluation> limits_of_;
    bool finding_limits_ = false;
    QThreadPool thread_;

    std::string dragged_;
    Eigen::Vector2d drag_free_mm_ = Eigen::Vector2d::Zero(), drag_mm_ = Eigen::Vector2d::Zero();
    std::vector<std::string> drawn_to_;
    std::vector<FixedNumber> fixed_;
    Freely freely_;
};

}  // namespace sillwright::app
