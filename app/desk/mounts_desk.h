#pragma once

#include <QWidget>

class QStackedWidget;

namespace sillwright::app {

class FlangeDesk;
class Focus;
class OpenJob;
class PageChoice;

/// What the stage Mounts shows below the section: the flange laid flat, the lists, and what holes, loads and road are
/// judged by, as tabs.
class MountsDesk : public QWidget {
    Q_OBJECT

public:
    MountsDesk(OpenJob& open, Focus& focus, QWidget* parent = nullptr);

    [[nodiscard]] FlangeDesk& flange() { return *flange_; }

private:
    void add_page(QWidget* page, const QString& name, const QString& object_name);

    PageChoice* choice_;
    QStackedWidget* pages_;
    FlangeDesk* flange_;
};

}  // namespace sillwright::app
