#pragma once

#include <QWidget>
#include <array>

#include "core/edit/book_lists.h"

class QComboBox;
class QLabel;
class QLineEdit;
class QVBoxLayout;

namespace sillwright::app {

class OpenBook;

/// What stands behind the readings: the three marks that make the frame, held coordinates, how the car stood, and the
/// instruments with how sure they read.
class FrameDesk : public QWidget {
    Q_OBJECT

public:
    explicit FrameDesk(OpenBook& book, QWidget* parent = nullptr);

private:
    [[nodiscard]] QWidget* make_marks();
    [[nodiscard]] QWidget* make_list(core::BookList list, const QString& heading, const QString& name);
    void follow();
    void take_marks();

    OpenBook& book_;
    std::array<QComboBox*, 3> marks_{};
    std::array<QLineEdit*, 3> numbers_{};  ///< Along, out and up of the origin.
    QLabel* says_;
    QLabel* leans_;
};

}  // namespace sillwright::app
