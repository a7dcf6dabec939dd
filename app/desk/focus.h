#pragma once

#include <QObject>
#include <map>
#include <optional>
#include <string>

#include "app/desk/item.h"
#include "geometry/units.h"

namespace sillwright::app {

/// Where all drawings look: the place along the car, how far each door is open, what is
/// chosen and what is under the pointer. Clicking in any drawing changes it; every
/// drawing follows. Nothing of it is part of the job.
class Focus : public QObject {
    Q_OBJECT

public:
    explicit Focus(QObject* parent = nullptr);

    /// The place along the car; none where there is nothing to go by.
    [[nodiscard]] std::optional<geometry::Length> along() const { return along_; }
    /// Opening of a door by its name; shut if it was never turned.
    [[nodiscard]] geometry::Angle opening(const std::string& door) const;
    [[nodiscard]] const std::map<std::string, geometry::Angle>& openings() const { return openings_; }
    [[nodiscard]] const Item& chosen() const { return chosen_; }
    [[nodiscard]] const Item& pointed() const { return pointed_; }

public slots:
    // Each signals only if something is other than before.
    void go_to(std::optional<geometry::Length> along);
    void turn_door(const std::string& door, geometry::Angle opening);
    void choose(const sillwright::app::Item& item);
    void point_at(const sillwright::app::Item& item);
    /// Forgets everything: another job was opened.
    void clear();

signals:
    void went();
    void turned(const std::string& door);
    void chose();
    void pointed_on();

private:
    std::optional<geometry::Length> along_;
    std::map<std::string, geometry::Angle> openings_;
    Item chosen_, pointed_;
};

}  // namespace sillwright::app
