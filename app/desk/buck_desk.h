#pragma once

#include <QWidget>
#include <cstddef>
#include <optional>
#include <vector>

#include "app/link/buck_of_job.h"

class QComboBox;
class QLabel;
class QProgressBar;
class QPushButton;
class QStackedWidget;
class QToolButton;

namespace sillwright::app {

class AssemblyDrawing;
class ComposedPaper;
class Focus;
class NestDrawing;
class OpenBuck;
class OpenJob;
class PageChoice;
class RibDrawing;

/// What the stage Buck shows, as tabs: rib by rib, the buck put together, the sheets that it is cut from, and the lists
/// and settings that these are made of. The rib that is shown and the plumb line go together.
class BuckDesk : public QWidget {
    Q_OBJECT

public:
    /// All must outlive the desk.
    BuckDesk(OpenJob& open, OpenBuck& buck, Focus& focus, QWidget* parent = nullptr);

    [[nodiscard]] RibDrawing& rib() { return *rib_; }
    [[nodiscard]] AssemblyDrawing& assembly() { return *assembly_; }
    [[nodiscard]] NestDrawing& nest() { return *nest_; }
    /// Those three.
    [[nodiscard]] std::vector<ComposedPaper*> papers();
    /// One more tab, behind the others.
    void add_page(QWidget* page, const QString& name, const QString& object_name);

protected:
    void showEvent(QShowEvent* event) override;
    void hideEvent(QHideEvent* event) override;

private:
    /// A list in a box, with a step to either side.
    struct Stepped {
        QToolButton* before;
        QComboBox* list;
        QToolButton* beyond;
    };
    [[nodiscard]] Stepped make_steps(const QString& name, const QString& what);
    [[nodiscard]] QWidget* make_ribs();
    [[nodiscard]] QWidget* make_sheets();
    void follow_focus();
    void choose_rib(int rib);
    void show_results();
    void show_nest();
    void look();
    [[nodiscard]] bool on_page(const char* name) const;
    [[nodiscard]] std::size_t piece() const;
    [[nodiscard]] std::optional<std::size_t> chosen_rib() const;

    OpenJob& open_;
    OpenBuck& buck_;
    Focus& focus_;
    PageChoice* choice_;
    QComboBox* pieces_;
    QStackedWidget* pages_;
    RibDrawing* rib_;
    AssemblyDrawing* assembly_;
    NestDrawing* nest_;
    Stepped ribs_{};
    Stepped sheets_{};
    QLabel* nest_words_;
    QProgressBar* progress_;
    QPushButton* stop_;
    std::vector<RibChoice> rib_choices_;
};

}  // namespace sillwright::app
