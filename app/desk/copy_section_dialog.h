#pragma once

#include <QDialog>
#include <optional>
#include <string>
#include <vector>

#include "core/edit/drawn_id.h"
#include "core/job.h"

class QCheckBox;
class QComboBox;
class QPushButton;

namespace sillwright::app {

/// Asks to which other stations a section is copied, and of which body.
class CopySectionDialog : public QDialog {
    Q_OBJECT

public:
    CopySectionDialog(const core::Job& job, const std::string& from, QWidget* parent);

    /// None if nothing is drawn there.
    [[nodiscard]] std::optional<core::DrawnId> drawn() const;
    [[nodiscard]] std::vector<std::string> stations() const;

private:
    void show_ready();

    std::vector<core::DrawnId> bodies_;
    QComboBox* body_;
    std::vector<QCheckBox*> stations_;
    QPushButton* copy_ = nullptr;
};

}  // namespace sillwright::app
