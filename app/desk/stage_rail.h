#pragma once

#include <QAbstractButton>
#include <QWidget>
#include <array>
#include <optional>
#include <vector>

#include "core/finding.h"
#include "core/stage.h"

namespace sillwright::app {

/// One stage in the rail: its shape, its name, and what stands in the way in words.
class StageButton : public QAbstractButton {
    Q_OBJECT

public:
    StageButton(core::Stage stage, QWidget* parent);

    /// Without a state nothing of the stage is computed yet.
    void say(std::optional<core::State> state, const QString& sentence);
    [[nodiscard]] const QString& sentence() const { return sentence_; }
    [[nodiscard]] std::optional<core::State> state() const { return state_; }

    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    std::optional<core::State> state_;
    QString sentence_;
};

/// The rail of the seven stages at the window's left. Any stage may be opened at any time.
class StageRail : public QWidget {
    Q_OBJECT

public:
    explicit StageRail(QWidget* parent = nullptr);

    /// Counts the findings of each stage; `stale` ones are said to be so.
    void show_findings(const std::vector<core::Finding>& findings, bool stale);
    void show_stage(core::Stage stage);
    [[nodiscard]] core::Stage stage() const { return stage_; }
    [[nodiscard]] const StageButton& button(core::Stage stage) const {
        return *buttons_.at(static_cast<std::size_t>(stage));
    }

signals:
    void stage_chosen(core::Stage stage);

private:
    std::array<StageButton*, core::k_stages.size()> buttons_{};
    core::Stage stage_ = core::Stage::measure;
};

}  // namespace sillwright::app
