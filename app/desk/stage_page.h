#pragma once

#include <QWidget>

#include "core/stage.h"

class QLabel;
class QVBoxLayout;

namespace sillwright::app {

/// What a stage works with: what of it the job has, and what is missing, plainly.
class StagePage : public QWidget {
    Q_OBJECT

public:
    explicit StagePage(core::Stage stage, QWidget* parent = nullptr);

    void show_job(const core::Job& job);
    /// Room below the list for what the stage can do.
    [[nodiscard]] QVBoxLayout& below() { return *below_; }

private:
    core::Stage stage_;
    QLabel* list_;
    QVBoxLayout* below_;
};

}  // namespace sillwright::app
