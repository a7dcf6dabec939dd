#pragma once

#include <QWidget>

namespace sillwright::app {

/// The section with the solid folded out of its corner, or in its place.
class SectionArea : public QWidget {
    Q_OBJECT

public:
    SectionArea(QWidget* section, QWidget* round, QWidget* parent = nullptr);

    /// Whether the solid is wanted; in a corner it is seen only where the section leaves it room.
    void show_round(bool shown);
    /// All over the section, or in its corner.
    void unfold(bool unfolded);
    [[nodiscard]] bool unfolded() const { return unfolded_; }

signals:
    /// So much of the section's lower right corner is covered.
    void covered(const QSize& corner);

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    void place();

    QWidget* section_;
    QWidget* round_;
    bool wanted_ = true, unfolded_ = false;
};

}  // namespace sillwright::app
