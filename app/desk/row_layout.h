#pragma once

#include <QLayout>
#include <QList>

namespace sillwright::app {

/// Widgets side by side at their own widths, going on in a next row where one has no room.
class RowLayout : public QLayout {
public:
    explicit RowLayout(QWidget* parent = nullptr);
    ~RowLayout() override;

    void addItem(QLayoutItem* item) override;
    [[nodiscard]] int count() const override;
    [[nodiscard]] QLayoutItem* itemAt(int index) const override;
    QLayoutItem* takeAt(int index) override;
    [[nodiscard]] Qt::Orientations expandingDirections() const override { return {}; }
    [[nodiscard]] bool hasHeightForWidth() const override { return true; }
    [[nodiscard]] int heightForWidth(int width) const override;
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSize() const override;
    void setGeometry(const QRect& rect) override;

private:
    /// Puts the widgets into `rect` if `really`; returns the height that they take.
    int lay_out(const QRect& rect, bool really) const;

    QList<QLayoutItem*> items_;
};

}  // namespace sillwright::app
