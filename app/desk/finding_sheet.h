#pragma once

#include <QWidget>

#include "core/finding.h"

class QPushButton;

namespace sillwright::app {

class WrappedText;

/// All that is known of one finding, below its card: the mend with *Try it*, why, the door's angles at
/// which bodies touch, what is missing, inputs, formula, source.
class FindingSheet : public QWidget {
    Q_OBJECT

public:
    explicit FindingSheet(QWidget* parent = nullptr);

    void show_finding(const core::Finding& finding);
    /// Whether the mend may be tried now: it is of the job as it is.
    void set_ready(bool ready);
    /// The height that all of it needs at that width.
    [[nodiscard]] int height_at(int width) const;

signals:
    void wants_try();

private:
    WrappedText* mend_;
    QPushButton* try_;
    WrappedText* text_;
};

}  // namespace sillwright::app
