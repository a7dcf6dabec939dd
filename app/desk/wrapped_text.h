#pragma once

#include <QTextDocument>
#include <QWidget>

namespace sillwright::app {

/// Text of several paragraphs that is never cut off: a word longer than a line is broken too. As high as
/// its text needs; its accessible name is what it says.
class WrappedText : public QWidget {
    Q_OBJECT

public:
    explicit WrappedText(QWidget* parent = nullptr);

    /// The small part of HTML that QTextDocument knows.
    void set_html(const QString& html);
    [[nodiscard]] QString words() const { return document_.toPlainText(); }

    [[nodiscard]] bool hasHeightForWidth() const override { return true; }
    [[nodiscard]] int heightForWidth(int width) const override;
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return {1, 1}; }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QString html_;
    mutable QTextDocument document_;  ///< Its width is the last that was asked for.
};

}  // namespace sillwright::app
