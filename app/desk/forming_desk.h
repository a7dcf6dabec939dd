#pragma once

#include <QWidget>
#include <cstddef>
#include <vector>

#include "app/link/section_forming.h"

class QComboBox;
class QStackedWidget;

namespace sillwright::app {

class ComposedPaper;
class FluteDrawing;
class Focus;
class LadderDrawing;
class OpenJob;
class PageChoice;
class PlatenDrawing;
class ThicknessPlot;

/// What the stage Forming shows below the section, as tabs: the part on the machine, how thick it comes out, its
/// flutes, its sizes down to the buck, the lists and the settings that these are made of. It only paints what was
/// computed, and only the page that is seen.
class FormingDesk : public QWidget {
    Q_OBJECT

public:
    /// Both must outlive the desk.
    FormingDesk(OpenJob& open, Focus& focus, QWidget* parent = nullptr);

    [[nodiscard]] PlatenDrawing& platen() { return *platen_; }
    [[nodiscard]] ThicknessPlot& thickness() { return *thickness_; }
    [[nodiscard]] FluteDrawing& flutes() { return *flutes_; }
    [[nodiscard]] LadderDrawing& ladder() { return *ladder_; }
    /// Those four.
    [[nodiscard]] std::vector<ComposedPaper*> papers();
    /// What of the forming the section is to show: on the page of the thickness, what was chosen there.
    [[nodiscard]] SectionForming in_section() const;

signals:
    void in_section_changed();

protected:
    void showEvent(QShowEvent* event) override;

private:
    void add_page(QWidget* page, const QString& name, const QString& object_name);
    [[nodiscard]] QWidget* on_paper(ComposedPaper* paper, const QString& object_name);
    [[nodiscard]] QWidget* make_thickness();
    [[nodiscard]] QWidget* make_ladder();
    void show_results();
    void list_pieces();
    void list_dimensions();
    [[nodiscard]] std::size_t piece() const;

    OpenJob& open_;
    Focus& focus_;
    PageChoice* choice_;
    QComboBox* pieces_;
    QStackedWidget* pages_;
    PlatenDrawing* platen_;
    ThicknessPlot* thickness_;
    FluteDrawing* flutes_;
    LadderDrawing* ladder_;
    PageChoice* section_shows_;
    QComboBox* dimensions_;
};

}  // namespace sillwright::app
