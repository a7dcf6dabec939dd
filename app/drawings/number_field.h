#pragma once

#include <QLineEdit>

namespace sillwright::app {

/// A number being written at the paper's edge: Return fixes it, Tab goes on to the next
/// number, Escape leaves all as it was.
class NumberField : public QLineEdit {
    Q_OBJECT

public:
    /// `spoken` is what it is called: "out of the node".
    NumberField(const QString& name, const QString& spoken, QWidget* parent);

    /// Shows it in `box` with a text to go on from.
    void begin(const QString& text, const QRect& box, bool select);

signals:
    void fixed();
    void passed_on();
    void given_up();

protected:
    /// Tab does not leave the drawing: it writes the other number.
    bool event(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
};

}  // namespace sillwright::app
