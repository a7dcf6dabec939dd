#pragma once

#include <QWidget>

class QUndoView;

namespace sillwright::app {

class OpenJob;

/// The steps of the job's history in plain words, the oldest at the top; pressing one goes back or on to
/// it. The step that is shown now is the chosen one.
class HistoryDesk : public QWidget {
    Q_OBJECT

public:
    explicit HistoryDesk(OpenJob& open, QWidget* parent = nullptr);

private:
    QUndoView* steps_;
};

}  // namespace sillwright::app
