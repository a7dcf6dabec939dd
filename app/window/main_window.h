#pragma once

#include <QMainWindow>
#include <array>
#include <memory>

#include "app/core_link.h"
#include "app/desk/focus.h"
#include "app/desk/open_job.h"
#include "app/window/look_settings.h"
#include "core/finding.h"
#include "core/stage.h"

class QAction;
class QKeySequence;
class QMenu;
class QMenuBar;
class QSplitter;
class QStackedWidget;

namespace sillwright::app {

class BenchDesk;
class BuckDesk;
class BumpsDesk;
class FileQuestions;
class FindingsDesk;
class FolderWriter;
class FormingDesk;
class HandoverDesk;
class JobFiles;
class MattersDesk;
class MeasureDesk;
class MountsDesk;
class NoteBar;
class OpenBook;
class OpenBuck;
class Underlays;
class PlotDesk;
class RoundDesk;
class SectionArea;
class SectionDesk;
class StagePage;
class StageRail;
class StripDesk;
class TopBar;

/// The whole window: the rail of stages, the unrolled strip, what the stage shows, and the
/// findings. It only puts the desks together; each of them follows the open job and the focus
/// by itself.
class MainWindow : public QMainWindow {
    Q_OBJECT

public:
    explicit MainWindow(CoreLink core, QWidget* parent = nullptr);
    ~MainWindow() override;

    [[nodiscard]] OpenJob& job() { return *open_; }
    [[nodiscard]] Focus& focus() { return *focus_; }
    [[nodiscard]] JobFiles& files() { return *files_; }

    /// Reads and shows a job. Errors: core's, already shown.
    geometry::Status open_file(const std::filesystem::path& file);
    /// What the window begins with where no job was named: first_start.h.
    void begin();

    [[nodiscard]] core::Stage stage() const;
    /// Waits until results are current and everything is painted as they are; for pictures.
    void settle();

public slots:
    void show_stage(core::Stage stage);
    void show_bench(bool shown);
    void show_about();

protected:
    void resizeEvent(QResizeEvent* event) override;
    void closeEvent(QCloseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    void make_actions();
    void make_menus();
    void make_look_menu(QMenu* menu);
    QAction* add_action(QMenu* menu, const char* name, const QString& text, const QKeySequence& keys = {});
    [[nodiscard]] QWidget* make_whole();
    [[nodiscard]] QWidget* make_middle();
    [[nodiscard]] QWidget* make_measure();
    /// The page of a stage that does not draw on the section.
    [[nodiscard]] QWidget* make_page(core::Stage stage);
    void connect_handover();
    [[nodiscard]] QWidget* make_right();
    void connect_all();
    void add_copies();
    /// What is seen, by the stage and by the look.
    void lay_out();
    void show_forming();
    void follow_job();
    void follow_results();
    void go_to_first_place();
    void wear_tone(looks::Tone tone);
    void show_history();
    void show_first_steps();
    void hand_over();

    CoreLink core_;
    OpenJob* open_;
    OpenBook* book_;
    OpenBuck* buck_;
    Underlays* underlays_;
    Focus* focus_;
    std::unique_ptr<FileQuestions> questions_;
    JobFiles* files_;
    LookSettings looks_;
    bool placed_ = false;  ///< The first place of the open job was gone to.

    QAction* undo_ = nullptr;
    QAction* redo_ = nullptr;
    QAction* print_ = nullptr;
    QAction* bench_action_ = nullptr;

    QMenuBar* menus_ = nullptr;
    TopBar* top_bar_ = nullptr;
    NoteBar* note_ = nullptr;
    StageRail* rail_ = nullptr;
    QStackedWidget* whole_ = nullptr;   ///< The whole window, or the bench look.
    QStackedWidget* middle_ = nullptr;  ///< The section with what is below it, or a stage's page.
    QSplitter* drawing_ = nullptr;      ///< The section over what is below it.
    QStackedWidget* below_ = nullptr;   ///< Bumps; or the flange, or the forming, with what stands behind it.
    MountsDesk* mounts_ = nullptr;
    FormingDesk* forming_ = nullptr;
    BuckDesk* buck_desk_ = nullptr;
    HandoverDesk* handover_ = nullptr;
    FolderWriter* writer_ = nullptr;
    StripDesk* strip_ = nullptr;
    SectionDesk* section_ = nullptr;
    RoundDesk* round_ = nullptr;
    SectionArea* section_area_ = nullptr;
    BumpsDesk* bumps_ = nullptr;
    FindingsDesk* findings_ = nullptr;
    QStackedWidget* aside_ = nullptr;  ///< Below the findings: a door's clearance, or what matters of the book.
    MeasureDesk* measure_ = nullptr;
    MattersDesk* matters_ = nullptr;
    PlotDesk* plot_ = nullptr;
    BenchDesk* bench_ = nullptr;
    std::array<QWidget*, core::k_stages.size()> sheets_{};   ///< What `middle_` shows of a stage with a page,
    std::array<StagePage*, core::k_stages.size()> pages_{};  ///< and on it what the stage works with.
};

}  // namespace sillwright::app
