#pragma once

#include <QTimer>
#include <QWidget>

class QLabel;

namespace sillwright::app {

/// One sentence that somebody must be able to read at leisure: why something could not be
/// done. It stays for a while, or until it is pressed away.
class NoteBar : public QWidget {
    Q_OBJECT

public:
    explicit NoteBar(QWidget* parent = nullptr);

    void say(const QString& sentence);
    [[nodiscard]] QString sentence() const;

private:
    QLabel* sentence_;
    QTimer patience_;
};

}  // namespace sillwright::app
