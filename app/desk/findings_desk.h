#pragma once

#include <QTimer>
#include <QWidget>
#include <optional>
#include <string>

#include "core/finding.h"
#include "core/finding_words.h"

class QCheckBox;
class QComboBox;
class QLabel;
class QProgressBar;
class QPushButton;

namespace sillwright::app {

class FindingList;
class FindingsModel;
class Focus;
class MendTrial;
class OpenJob;
class WrappedText;
struct Item;

/// The findings of the open job, worst margin first. Choosing one takes every drawing to its place; what is
/// chosen in a drawing is marked here by the first finding about it. Results that are not those of the job as
/// it is now are shown paler, and said to be.
class FindingsDesk : public QWidget {
    Q_OBJECT

public:
    FindingsDesk(OpenJob& open, Focus& focus, QWidget* parent = nullptr);

    /// How many findings of a stage stand how, or of all.
    [[nodiscard]] core::StateCounts counts(std::optional<core::Stage> stage) const;
    [[nodiscard]] std::optional<core::Stage> stage() const;

    [[nodiscard]] QSize sizeHint() const override { return {330, 500}; }

public slots:
    /// Shows only the findings of a stage, or all.
    void show_stage(std::optional<core::Stage> stage);
    void go_to_worst();
    void go_to_previous();
    void go_to_next();

signals:
    /// Another stage is shown, by whom ever.
    void stage_shown(std::optional<core::Stage> stage);
    /// Counts may be others.
    void counted();

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    [[nodiscard]] QWidget* make_filters();
    [[nodiscard]] QWidget* make_steps();
    [[nodiscard]] QWidget* make_head();
    void connect_all();
    /// Where a mend is tried, room is made for all that is said of it.
    void make_room();
    void take_results();
    void read_open_finding();
    void say_status();
    [[nodiscard]] QString status_words() const;
    void watch_progress();
    void choose(int row);
    void step(int by);
    void try_mend();
    /// Marks the first finding about what was chosen elsewhere.
    void follow();
    [[nodiscard]] std::optional<std::string> first_about(const Item& item) const;
    void go_to_place(const core::Finding& finding);

    OpenJob& open_;
    Focus& focus_;
    FindingsModel* model_;
    QLabel* count_;
    WrappedText* status_;
    QWidget* filters_ = nullptr;
    QComboBox* stages_;
    QCheckBox* hide_holding_;
    QProgressBar* progress_;
    QPushButton* stop_;
    QPushButton* compute_;
    FindingList* list_;
    MendTrial* trial_;
    QTimer slow_;            ///< Computing that takes longer than this is shown.
    QTimer sheet_;           ///< The sheet's words follow a hand less often than the cards.
    bool updating_ = false;  ///< What is in hand changes by the program, not by a person.
    bool first_results_ = true;
};

}  // namespace sillwright::app
