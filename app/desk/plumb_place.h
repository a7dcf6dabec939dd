#pragma once

#include <QString>
#include <QWidget>

class QLineEdit;
class QToolButton;

namespace sillwright::app {

/// The place of the plumb line over it: a field that can be typed into, and a step to the station
/// on either side.
class PlumbPlace : public QWidget {
    Q_OBJECT

public:
    explicit PlumbPlace(QWidget* parent = nullptr);

    /// The place in words; what is being typed is left alone.
    void set_words(const QString& words);
    /// Which way there is another station.
    void set_steps(bool before, bool beyond);
    /// Puts the words of the place back, in place of what was typed.
    void put_back();

signals:
    void typed(const QString& text);
    void stepped(int by);

protected:
    void paintEvent(QPaintEvent* event) override;
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    QToolButton* before_;
    QLineEdit* field_;
    QToolButton* beyond_;
    QString words_;
};

}  // namespace sillwright::app
