#include "app/drawings/measuring_sheet_print.h"

#include <QBuffer>
#include <QCoreApplication>
#include <QFontMetricsF>
#include <QPagedPaintDevice>
#include <QPainter>
#include <QPdfWriter>
#include <algorithm>
#include <vector>

namespace sillwright::app {

using core::survey::MeasuringSheet;
using core::survey::SheetLine;
using core::survey::SheetPart;

namespace {

/// All is laid out in tenths of a millimetre: font heights are whole numbers of them.
constexpr double k_units_per_inch = 254.0;
constexpr double k_margin = 120.0;
constexpr double k_blank_row = 95.0;  ///< For a blunt pencil in a dirty hand.
constexpr double k_filled_row = 62.0;
constexpr double k_title_row = 80.0;
constexpr double k_head_row = 55.0;
constexpr double k_padding = 14.0;
constexpr int k_huge = 90;  ///< The side.
constexpr int k_large = 48;
constexpr int k_text = 40;
constexpr int k_small = 32;
constexpr double k_thin = 2.0;
constexpr double k_thick = 5.0;
constexpr int k_resolution = 1200;

QString tr(const char* text) {
    return QCoreApplication::translate("MeasuringSheet", text);
}

QString words(const std::string& text) {
    return QString::fromStdString(text);
}

QFont font(int height, bool bold = false) {
    QFont font;
    font.setPixelSize(height);
    font.setBold(bold);
    return font;
}

double height_of(const QString& text, double width, int size) {
    const QRectF room(0.0, 0.0, width, 1e5);
    return QFontMetricsF(font(size)).boundingRect(room, Qt::TextWordWrap, text).height();
}

struct Column {
    QString name;
    double width;  ///< Share of the page; all together 1.
};

class SheetPages {
public:
    /// `painter` null: pages are only counted.
    SheetPages(const MeasuringSheet& sheet, const QRectF& page, QPagedPaintDevice* device, QPainter* painter, int pages)
        : sheet_{sheet}, page_{page}, device_{device}, painter_{painter}, pages_{pages} {}

    int run() {
        begin_page();
        for (const SheetPart& part : sheet_.parts) {
            draw_part(part);
        }
        return number_;
    }

private:
    [[nodiscard]] std::vector<Column> columns() const {
        if (!sheet_.filled) {
            return {{tr("kind"), 0.13}, {tr("from · to"), 0.35}, {tr("reading"), 0.26}, {tr("again"), 0.26}};
        }
        return {{tr("kind"), 0.09}, {tr("from · to"), 0.20}, {tr("written"), 0.15}, {tr("adjusted"), 0.15},
                {tr("sd"), 0.09},   {tr("w"), 0.10},         {tr("note"), 0.22}};
    }

    void text(const QRectF& box, int flags, const QString& what, int size, bool bold = false) {
        if (painter_ != nullptr && !what.isEmpty()) {
            painter_->setFont(font(size, bold));
            painter_->drawText(box, flags, what);
        }
    }
    void line(const QPointF& from, const QPointF& to, double width) {
        if (painter_ != nullptr) {
            painter_->setPen(QPen(Qt::black, width));
            painter_->drawLine(from, to);
        }
    }

    void begin_page() {
        ++number_;
        if (number_ > 1 && device_ != nullptr) {
            device_->newPage();
        }
        draw_head();
        const QString foot = pages_ > 0 ? tr("page %1 of %2").arg(number_).arg(pages_) : QString();
        text(QRectF(page_.left(), page_.bottom() - k_small * 1.3, page_.width(), k_small * 1.3),
             Qt::AlignRight | Qt::AlignBottom, foot, k_small);
        text(QRectF(page_.left(), page_.bottom() - k_small * 1.3, page_.width(), k_small * 1.3),
             Qt::AlignLeft | Qt::AlignBottom,
             sheet_.filled ? tr("copy of the measuring book") : tr("Under the car only on rated stands or a lift."),
             k_small);
    }

    [[nodiscard]] double bottom() const { return page_.bottom() - k_small * 2.0; }

    /// The car, its side in large words, and what is written in by hand.
    void draw_head() {
        const QString side = sheet_.side == core::Side::right ? tr("RIGHT SIDE") : tr("LEFT SIDE");
        const double side_width = QFontMetricsF(font(k_huge, true)).horizontalAdvance(side) + k_padding;
        const QRectF top(page_.left(), page_.top(), page_.width(), k_huge * 1.3);
        text(top, Qt::AlignRight | Qt::AlignVCenter, side, k_huge, true);
        const QString car = words(sheet_.vehicle) +
                            (sheet_.revision.empty() ? QString() : tr(" · revision %1").arg(words(sheet_.revision)));
        const QRectF left = top.adjusted(0.0, 0.0, -side_width, 0.0);
        text(left, Qt::AlignLeft | Qt::AlignVCenter | Qt::TextWordWrap,
             car.isEmpty() ? tr("Car ______________________") : car, k_large, true);
        y_ = top.bottom() + k_padding;
        draw_blanks();
        line({page_.left(), y_}, {page_.right(), y_}, k_thick);
        y_ += k_padding;
    }

    void draw_blanks() {
        const auto filled = [](const QString& name, const std::string& value, int blanks) {
            return name + " " + (value.empty() ? QString(blanks, '_') : words(value));
        };
        const QRectF row(page_.left(), y_, page_.width(), k_text * 1.6);
        const double part = page_.width() / 4.0;
        const std::vector<QString> cells{filled(tr("Date"), sheet_.date, 12), filled(tr("Who"), sheet_.who, 13),
                                         filled(tr("Temperature"), sheet_.temperature, 7),
                                         tr("Numbers in %1").arg(words(sheet_.unit))};
        for (std::size_t i = 0; i < cells.size(); ++i) {
            text(QRectF(row.left() + part * static_cast<double>(i), row.top(), part - k_padding, row.height()),
                 Qt::AlignVCenter | (i + 1 == cells.size() ? Qt::AlignRight : Qt::AlignLeft), cells[i], k_text);
        }
        y_ = row.bottom() + k_padding;
    }

    void draw_part(const SheetPart& part) {
        if (part.lines.empty()) {
            return;
        }
        const double advice =
            part.advice.empty() ? 0.0 : height_of(words(part.advice), page_.width(), k_small) + k_padding;
        // A title does not stand alone at the foot of a page.
        if (y_ + k_title_row + advice + k_head_row + 2.0 * k_blank_row > bottom()) {
            begin_page();
        }
        draw_title(words(part.title), words(part.advice), advice);
        for (const SheetLine& one : part.lines) {
            const double height = row_height(one);
            if (y_ + height > bottom()) {
                begin_page();
                draw_title(tr("%1 (goes on)").arg(words(part.title)), QString(), 0.0);
            }
            draw_row(one, height);
        }
        y_ += k_padding * 2.0;
    }

    void draw_title(const QString& title, const QString& advice, double advice_height) {
        text(QRectF(page_.left(), y_, page_.width(), k_title_row), Qt::AlignLeft | Qt::AlignVCenter, title, k_large,
             true);
        y_ += k_title_row;
        text(QRectF(page_.left(), y_, page_.width(), advice_height), Qt::AlignLeft | Qt::TextWordWrap, advice, k_small);
        y_ += advice_height;
        double x = page_.left();
        for (const Column& column : columns()) {
            text(QRectF(x + k_padding, y_, column.width * page_.width(), k_head_row), Qt::AlignLeft | Qt::AlignVCenter,
                 column.name, k_small);
            x += column.width * page_.width();
        }
        y_ += k_head_row;
        line({page_.left(), y_}, {page_.right(), y_}, k_thick);
    }

    [[nodiscard]] std::vector<QString> cells_of(const SheetLine& one) const {
        QString points;
        for (const std::string& name : one.points) {
            points += (points.isEmpty() ? QString() : QStringLiteral(" · ")) + words(name);
        }
        const QString kind = one.kind.empty() ? (sheet_.filled ? tr("tie") : tr("tape")) : words(one.kind);
        if (!sheet_.filled) {
            return {kind, points, words(one.reading), QString()};
        }
        return {one.points.size() == 1 && one.kind.empty() ? QString() : kind,
                points,
                words(one.reading),
                words(one.adjusted),
                words(one.sd),
                words(one.w),
                words(one.note)};
    }

    [[nodiscard]] int cell_size() const { return sheet_.filled ? k_small : k_large; }

    [[nodiscard]] double row_height(const SheetLine& one) const {
        double height = sheet_.filled ? k_filled_row : k_blank_row;
        const std::vector<Column> all = columns();
        const std::vector<QString> cells = cells_of(one);
        for (std::size_t i = 0; i < all.size(); ++i) {
            const double width = all[i].width * page_.width() - 2.0 * k_padding;
            height = std::max(height, height_of(cells[i], width, cell_size()) + k_padding);
        }
        return height;
    }

    void draw_row(const SheetLine& one, double height) {
        const std::vector<Column> all = columns();
        const std::vector<QString> cells = cells_of(one);
        double x = page_.left();
        for (std::size_t i = 0; i < all.size(); ++i) {
            const double width = all[i].width * page_.width();
            const QRectF box(x + k_padding, y_, width - 2.0 * k_padding, height);
            text(box, Qt::AlignLeft | Qt::AlignVCenter | Qt::TextWordWrap, cells[i], cell_size(),
                 !sheet_.filled && i == 1);
            line({x, y_}, {x, y_ + height}, k_thin);
            if (!sheet_.filled && one.kind == "gauge" && i >= 2) {
                draw_halves(QRectF(x, y_, width, height));
            }
            x += width;
        }
        if (one.dropped) {  // Struck out, still to be read.
            const double across = page_.left() + (all[0].width + all[1].width + all[2].width) * page_.width();
            line({page_.left() + k_padding, y_ + height / 2.0}, {across - k_padding, y_ + height / 2.0}, k_thin);
        }
        line({page_.right(), y_}, {page_.right(), y_ + height}, k_thin);
        y_ += height;
        line({page_.left(), y_}, {page_.right(), y_}, k_thin);
    }

    /// Out and up of a gauge.
    void draw_halves(const QRectF& box) {
        line({box.center().x(), box.top()}, {box.center().x(), box.bottom()}, k_thin);
        const QRectF left(box.left() + k_padding / 2.0, box.top(), box.width() / 2.0, box.height());
        text(left, Qt::AlignLeft | Qt::AlignTop, tr("out"), k_small);
        text(left.translated(box.width() / 2.0, 0.0), Qt::AlignLeft | Qt::AlignTop, tr("up"), k_small);
    }

    const MeasuringSheet& sheet_;
    QRectF page_;
    QPagedPaintDevice* device_;
    QPainter* painter_;
    int pages_;
    int number_ = 0;
    double y_ = 0.0;
};

}  // namespace

void print_measuring_sheet(const MeasuringSheet& sheet, QPagedPaintDevice& device) {
    QPainter painter(&device);
    const double times = device.logicalDpiX() / k_units_per_inch;
    painter.scale(times, times);
    // The painter's origin is the corner of what can be printed on.
    const QPageLayout layout = device.pageLayout();
    const QRectF full = layout.fullRect(QPageLayout::Millimeter);
    const QRectF inner = layout.paintRect(QPageLayout::Millimeter);
    const double left = std::max(k_margin - inner.left() * 10.0, 0.0);
    const double top = std::max(k_margin - inner.top() * 10.0, 0.0);
    const double right = std::max(k_margin - (full.right() - inner.right()) * 10.0, 0.0);
    const double below = std::max(k_margin - (full.bottom() - inner.bottom()) * 10.0, 0.0);
    const QRectF page(left, top, inner.width() * 10.0 - left - right, inner.height() * 10.0 - top - below);
    const int pages = SheetPages(sheet, page, nullptr, nullptr, 0).run();
    painter.setPen(Qt::black);
    SheetPages(sheet, page, &device, &painter, pages).run();
}

std::string measuring_sheet_pdf(const MeasuringSheet& sheet, PageSize size) {
    QBuffer bytes;
    bytes.open(QIODevice::WriteOnly);
    QPdfWriter writer(&bytes);
    writer.setTitle(sheet.filled ? tr("Copy of the measuring book") : tr("Measuring sheet"));
    writer.setCreator(QStringLiteral("Sillwright"));
    writer.setResolution(k_resolution);
    writer.setPageMargins(QMarginsF());
    writer.setPageSize(QPageSize(size == PageSize::letter ? QPageSize::Letter : QPageSize::A4));
    print_measuring_sheet(sheet, writer);
    return bytes.data().toStdString();
}

}  // namespace sillwright::app
