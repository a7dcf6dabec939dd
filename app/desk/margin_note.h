#pragma once

#include <QWidget>
#include <optional>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::app {

/// A finding's margin in large below a caption, with the shape and the word of its state; "being computed …"
/// as long as there is none.
class MarginNote : public QWidget {
    Q_OBJECT

public:
    explicit MarginNote(const QString& caption, QWidget* parent = nullptr);

    void show_finding(const core::Finding& finding, core::BareUnit unit);
    void show_words(const QString& words);
    /// As it reads: "after: +0.01 mm, close".
    [[nodiscard]] QString words() const;

    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QString caption_, margin_, word_;
    std::optional<core::State> state_;
};

}  // namespace sillwright::app
