#pragma once

#include <QWidget>

#include "app/desk/focus.h"
#include "app/desk/open_job.h"

class QLabel;

namespace sillwright::app {

class SectionDrawing;

/// The bench look: one drawing and one very large number, to be read at arm's length and
/// used with gloves on. The number is that of the chosen finding, else of the worst.
class BenchDesk : public QWidget {
    Q_OBJECT

public:
    BenchDesk(OpenJob& open, Focus& focus, QWidget* parent = nullptr);

signals:
    /// Back to the whole window.
    void left();

protected:
    void resizeEvent(QResizeEvent* event) override;
    void showEvent(QShowEvent* event) override;

private:
    [[nodiscard]] int shown_finding() const;  ///< Its place in the results; -1 if there are none.
    void step(int by);
    void follow();
    void follow_place();

    OpenJob& open_;
    Focus& focus_;
    SectionDrawing* drawing_;
    QLabel* number_;
    QLabel* state_;
    QLabel* title_;
    QLabel* numbers_;
    QLabel* place_;
    QLabel* side_;
};

}  // namespace sillwright::app
