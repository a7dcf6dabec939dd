#pragma once

#include <QWidget>

namespace sillwright::app {

class BarsDrawing;
class OpenJob;

/// What to measure better first, as stacked bars.
class BetterDesk : public QWidget {
    Q_OBJECT

public:
    explicit BetterDesk(OpenJob& open, QWidget* parent = nullptr);

    [[nodiscard]] BarsDrawing& drawing() { return *drawing_; }

private:
    void follow();

    OpenJob& open_;
    BarsDrawing* drawing_;
};

}  // namespace sillwright::app
