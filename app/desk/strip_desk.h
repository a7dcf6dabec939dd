#pragma once

#include <QString>
#include <QWidget>
#include <optional>

#include "app/desk/item.h"

namespace sillwright::app {

class Focus;
class OpenJob;
class PlumbPlace;
class StripDrawing;

/// The unrolled strip at the window's top: shows the open job, and takes every drawing to where it is
/// pressed.
class StripDesk : public QWidget {
    Q_OBJECT

public:
    /// Both must outlive the desk.
    StripDesk(OpenJob& open, Focus& focus, QWidget* parent = nullptr);

    [[nodiscard]] StripDrawing& drawing() { return *drawing_; }

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    void show_job();
    [[nodiscard]] QString note() const;
    void show_place();
    void show_marks();
    void step(int by);
    void go_to_typed(const QString& text);
    void say_pointed(const Item& item, double along_mm, double height_mm);
    [[nodiscard]] QString words_of(const Item& item) const;
    void place_the_place();

    OpenJob& open_;
    Focus& focus_;
    StripDrawing* drawing_;
    PlumbPlace* place_;
};

}  // namespace sillwright::app
