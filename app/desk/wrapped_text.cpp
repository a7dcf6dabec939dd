#include "app/desk/wrapped_text.h"

#include <QAbstractTextDocumentLayout>
#include <QPainter>
#include <QTextOption>
#include <cmath>

#include "app/looks.h"

namespace sillwright::app {

WrappedText::WrappedText(QWidget* parent) : QWidget(parent) {
    QSizePolicy policy(QSizePolicy::Ignored, QSizePolicy::Preferred);
    policy.setHeightForWidth(true);
    setSizePolicy(policy);
    document_.setDefaultFont(looks::font(looks::k_text));
    document_.setDocumentMargin(0.0);
    QTextOption option;
    option.setWrapMode(QTextOption::WrapAtWordBoundaryOrAnywhere);
    document_.setDefaultTextOption(option);
}

void WrappedText::set_html(const QString& html) {
    if (html == html_) {
        return;
    }
    html_ = html;
    document_.setHtml(html);
    setAccessibleName(words());
    updateGeometry();
    update();
}

int WrappedText::heightForWidth(int width) const {
    if (html_.isEmpty()) {
        return 0;
    }
    if (document_.textWidth() != width) {
        document_.setTextWidth(width);
    }
    return static_cast<int>(std::ceil(document_.size().height()));
}

QSize WrappedText::sizeHint() const {
    return {width(), heightForWidth(width())};
}

void WrappedText::paintEvent(QPaintEvent* /*event*/) {
    QPainter painter(this);
    static_cast<void>(heightForWidth(width()));
    QAbstractTextDocumentLayout::PaintContext context;
    context.palette = palette();
    context.palette.setColor(QPalette::Text, palette().color(foregroundRole()));
    document_.documentLayout()->draw(&painter, context);
}

}  // namespace sillwright::app
