#include "app/drawings/bumps_drawing.h"

#include <QFontMetricsF>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPaintEvent>
#include <algorithm>
#include <cmath>

#include "app/drawings/strip_scale.h"
#include "app/text_of.h"

namespace sillwright::app {

namespace {

constexpr double k_edge = 12.0;
constexpr double k_head = 26.0;    ///< Row of the words.
constexpr double k_group = 26.0;   ///< Row that names whose lines follow.
constexpr double k_strip = 56.0;   ///< One line's strip: number above or below the fair line, gloves on.
constexpr double k_name = 0.2;     ///< Part of the width that names may take.
constexpr double k_words = 185.0;  ///< "0.73 mm proud at 10" behind a strip.
constexpr double k_room = 3.0;     ///< Free at a strip's edges.
constexpr double k_dot = 4.0;
constexpr double k_line = 19.0;

double width_of(const QString& text, bool bold) {
    return std::ceil(QFontMetricsF(looks::font(looks::k_text, bold)).horizontalAdvance(text)) + 2.0;
}

const BumpMark* worst_of(const BumpsLine& line) {
    const auto worst = std::max_element(line.bumps.begin(), line.bumps.end(), [](const auto& a, const auto& b) {
        return std::abs(a.off_mm) < std::abs(b.off_mm);
    });
    return worst == line.bumps.end() ? nullptr : &*worst;
}

QString number(double mm) {
    return QString::number(std::abs(mm), 'f', 2);
}

}  // namespace

BumpsDrawing::BumpsDrawing(QWidget* parent) : Paper(parent) {
    setObjectName(QStringLiteral("bumpsDrawing"));
    setAccessibleName(tr("How fair each line runs along the car"));
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    setAttribute(Qt::WA_OpaquePaintEvent);
}

void BumpsDrawing::set_picture(BumpsPicture picture) {
    if (picture == picture_) {
        return;
    }
    const bool other_lines = picture.lines.size() != picture_.lines.size();
    picture_ = std::move(picture);
    if (other_lines) {
        updateGeometry();
    }
    update();
}

void BumpsDrawing::set_place(std::optional<double> along_mm) {
    if (along_mm != along_mm_) {
        along_mm_ = along_mm;
        update();
    }
}

void BumpsDrawing::set_marked(const Item& chosen, const Item& pointed) {
    if (chosen != chosen_ || pointed != pointed_) {
        chosen_ = chosen;
        pointed_ = pointed;
        update();
    }
}

QString BumpsDrawing::title() const {
    return tr("bumps along the car");
}

QSize BumpsDrawing::sizeHint() const {
    return {700, static_cast<int>(std::ceil(height()))};
}

QSize BumpsDrawing::minimumSizeHint() const {
    return {420, static_cast<int>(std::ceil(height()))};
}

// Where things are.

double BumpsDrawing::top_of(std::size_t line) const {
    double top = k_head;
    for (std::size_t i = 0; i <= line && i < picture_.lines.size(); ++i) {
        if (i == 0 || picture_.lines[i].of != picture_.lines[i - 1].of) {
            top += k_group;
        }
    }
    return top + static_cast<double>(line) * k_strip;
}

double BumpsDrawing::height() const {
    return picture_.lines.empty() ? k_head + k_strip : top_of(picture_.lines.size() - 1) + k_strip + k_room;
}

BumpsDrawing::Columns BumpsDrawing::columns(const QSizeF& sheet) const {
    double names = 0.0;
    for (const BumpsLine& line : picture_.lines) {
        names = std::max(names, width_of(text_of(line.name), true));
    }
    names = std::min(names, k_name * sheet.width());
    Columns columns{k_edge + names + k_edge, sheet.width() - k_edge - k_words, 1.0};
    columns.along = std::max(1.0, columns.right - columns.left - 2.0 * k_edge) /
                    std::max(1.0, picture_.rear_mm - picture_.front_mm);
    return columns;
}

double BumpsDrawing::x(const Columns& columns, double along_mm) const {
    return columns.left + k_edge + (along_mm - picture_.front_mm) * columns.along;
}

double BumpsDrawing::exaggeration(const QSizeF& sheet) const {
    double largest = 1.5 * picture_.limit_mm;
    for (const BumpsLine& line : picture_.lines) {
        if (const BumpMark* worst = worst_of(line)) {
            largest = std::max(largest, std::abs(worst->off_mm));
        }
    }
    return exaggerated(std::max(largest, 1e-3), columns(sheet).along, k_strip / 2.0 - k_room);
}

std::optional<BumpsDrawing::Place> BumpsDrawing::find(const std::string& node_id) const {
    for (std::size_t i = 0; i < picture_.lines.size(); ++i) {
        for (std::size_t k = 0; k < picture_.lines[i].bumps.size(); ++k) {
            if (picture_.lines[i].bumps[k].node_id == node_id) {
                return Place{i, k};
            }
        }
    }
    return std::nullopt;
}

QPointF BumpsDrawing::place_of(const std::string& node_id) const {
    const auto place = find(node_id);
    if (!place) {
        return {};
    }
    const Columns sides = columns(QSizeF(size()));
    const BumpMark& bump = picture_.lines[place->line].bumps[place->bump];
    return {x(sides, bump.along_mm),
            top_of(place->line) + k_strip / 2.0 - bump.off_mm * sides.along * exaggeration(QSizeF(size()))};
}

QRectF BumpsDrawing::strip_of(const std::string& node_id) const {
    const auto place = find(node_id);
    return place ? QRectF(0.0, top_of(place->line), width(), k_strip) : QRectF();
}

std::optional<BumpsDrawing::Place> BumpsDrawing::bump_at(const QPointF& at) const {
    const Columns sides = columns(QSizeF(size()));
    for (std::size_t i = 0; i < picture_.lines.size(); ++i) {
        const std::vector<BumpMark>& bumps = picture_.lines[i].bumps;
        const double top = top_of(i);
        if (bumps.empty() || at.y() < top || at.y() >= top + k_strip) {
            continue;
        }
        const auto nearest = std::min_element(bumps.begin(), bumps.end(), [&](const auto& a, const auto& b) {
            return std::abs(x(sides, a.along_mm) - at.x()) < std::abs(x(sides, b.along_mm) - at.x());
        });
        // The name and the words stand for the worst bump.
        const bool beside = at.x() < sides.left || at.x() > sides.right;
        const BumpMark* chosen = beside ? worst_of(picture_.lines[i]) : &*nearest;
        return Place{i, static_cast<std::size_t>(chosen - bumps.data())};
    }
    return std::nullopt;
}

// Drawing.

void BumpsDrawing::draw(QPainter& painter, const QSizeF& sheet) const {
    draw_part(painter, sheet, QRectF({}, sheet));
}

void BumpsDrawing::draw_part(QPainter& painter, const QSizeF& sheet, const QRectF& shown) const {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(shown, colours().paper);
    draw_head(painter, sheet);
    for (std::size_t i = 0; i < picture_.lines.size(); ++i) {
        const QRectF row(0.0, top_of(i) - k_group, sheet.width(), k_strip + k_group);
        if (row.intersects(shown)) {
            draw_line(painter, sheet, i);
        }
    }
    const Columns sides = columns(sheet);
    if (along_mm_ && *along_mm_ >= picture_.front_mm && *along_mm_ <= picture_.rear_mm && !picture_.lines.empty()) {
        painter.setPen(QPen(colours().graphite, 1.4));
        const double at = x(sides, *along_mm_);
        painter.drawLine(QPointF(at, k_head), QPointF(at, height()));
    }
    painter.restore();
}

void BumpsDrawing::draw_head(QPainter& painter, const QSizeF& sheet) const {
    painter.setFont(looks::font(looks::k_text));
    painter.setPen(colours().pencil);
    const QString words =
        picture_.lines.empty()
            ? tr("no line is drawn along the car yet")
            : tr("off the fair line, drawn × %1 · band: ± %2 mm").arg(exaggeration(sheet)).arg(picture_.limit_mm);
    painter.drawText(QRectF(k_edge, 4.0, sheet.width() - 2.0 * k_edge, k_line),
                     Qt::AlignVCenter | Qt::AlignLeft | Qt::TextSingleLine, words);
}

void BumpsDrawing::draw_line(QPainter& painter, const QSizeF& sheet, std::size_t number_of) const {
    const BumpsLine& line = picture_.lines[number_of];
    const Columns sides = columns(sheet);
    const double top = top_of(number_of);
    const double middle = top + k_strip / 2.0;
    const double off = sides.along * exaggeration(sheet);
    const BumpMark* worst = worst_of(line);
    const bool here = std::any_of(line.bumps.begin(), line.bumps.end(), [&](const BumpMark& bump) {
        return Item{Item::Kind::node, bump.node_id} == chosen_;
    });
    if (number_of == 0 || picture_.lines[number_of - 1].of != line.of) {
        painter.setFont(looks::font(looks::k_text, true));
        painter.setPen(colours().graphite);
        painter.drawText(QRectF(k_edge, top - k_group, sheet.width() - 2.0 * k_edge, k_group),
                         Qt::AlignVCenter | Qt::AlignLeft | Qt::TextSingleLine,
                         line.ours ? text_of(line.of) : tr("%1, as measured").arg(text_of(line.of)));
    }
    painter.setPen(QPen(colours().edge, 1.0));
    painter.drawLine(QPointF(k_edge, top), QPointF(sheet.width() - k_edge, top));

    const QColor ink = line.ours ? colours().skirt : colours().graphite;
    const QFont font = looks::font(looks::k_text, here);
    painter.setFont(font);
    painter.setPen(ink);
    painter.drawText(QRectF(k_edge, top, sides.left - 2.0 * k_edge, k_strip),
                     Qt::AlignVCenter | Qt::AlignLeft | Qt::TextSingleLine,
                     QFontMetricsF(font).elidedText(text_of(line.name), Qt::ElideRight, sides.left - 2.0 * k_edge));
    const QRectF words(sides.right + k_edge, top, sheet.width() - sides.right - 1.5 * k_edge, k_strip);
    if (!line.judged) {
        painter.setPen(colours().pencil);
        painter.drawText(words, Qt::AlignVCenter | Qt::AlignLeft | Qt::TextWordWrap, tr("needs 4 stations"));
        return;
    }

    const double from = x(sides, line.from_mm);
    const double to = x(sides, line.to_mm);
    QColor band = colours().edge;
    band.setAlpha(110);
    const double limit = std::min(picture_.limit_mm * off, k_strip / 2.0 - 1.0);
    painter.fillRect(QRectF(from, middle - limit, to - from, 2.0 * limit), band);
    painter.setPen(QPen(colours().pencil, 1.0, Qt::DashLine));
    painter.drawLine(QPointF(from, middle), QPointF(to, middle));
    QPolygonF run{{QPointF(from, middle)}};
    for (const BumpMark& bump : line.bumps) {
        run << QPointF(x(sides, bump.along_mm), middle - bump.off_mm * off);
    }
    run << QPointF(to, middle);
    painter.setPen(QPen(ink, here ? 3.0 : 1.6));
    painter.drawPolyline(run);
    for (const BumpMark& bump : line.bumps) {
        const double at = x(sides, bump.along_mm);
        draw_bump(painter, QPointF(at, middle), QPointF(at, middle - bump.off_mm * off), bump, &bump == worst);
    }
    draw_numbers(painter, sides, line, middle);

    const bool short_of = line.ours && std::abs(worst->off_mm) > picture_.limit_mm;
    painter.setFont(looks::font(looks::k_text, short_of));
    painter.setPen(short_of ? looks::text_colour(core::State::falls_short, tone()) : colours().graphite);
    const QString how = worst->off_mm >= 0.0 ? tr("%1 mm proud\nat %2") : tr("%1 mm inside\nat %2");
    const double shape = short_of ? k_line : 0.0;
    painter.drawText(words.adjusted(shape, 0.0, 0.0, 0.0), Qt::AlignVCenter | Qt::AlignLeft,
                     how.arg(number(worst->off_mm), text_of(worst->station)));
    if (short_of) {
        looks::draw_shape(painter, QRectF(words.left() - 4.0, middle - 17.0, 15.0, 15.0), core::State::falls_short,
                          tone());
    }
}

void BumpsDrawing::draw_bump(QPainter& painter, const QPointF& foot, const QPointF& tip, const BumpMark& bump,
                             bool worst) const {
    const Item item{Item::Kind::node, bump.node_id};
    const bool chosen = item == chosen_;
    const bool over = std::abs(bump.off_mm) > picture_.limit_mm;
    painter.setPen(QPen(colours().graphite, over || chosen ? 3.0 : 1.0));
    painter.drawLine(foot, tip);
    painter.setBrush(worst || chosen ? QBrush(colours().graphite) : QBrush(colours().paper));
    painter.setPen(QPen(colours().graphite, 1.4));
    const double radius = worst ? k_dot + 1.5 : k_dot;
    painter.drawEllipse(tip, radius, radius);
    painter.setBrush(Qt::NoBrush);
    if (chosen || item == pointed_) {
        painter.drawEllipse(tip, radius + 4.0, radius + 4.0);
    }
}

void BumpsDrawing::draw_numbers(QPainter& painter, const Columns& sides, const BumpsLine& line, double middle) const {
    std::vector<const BumpMark*> order;
    for (const BumpMark& bump : line.bumps) {
        order.push_back(&bump);
    }
    const auto first = [this](const BumpMark* bump) {
        return Item{Item::Kind::node, bump->node_id} == chosen_ ? 1e9 : std::abs(bump->off_mm);
    };
    std::stable_sort(order.begin(), order.end(),
                     [&](const BumpMark* a, const BumpMark* b) { return first(a) > first(b); });
    std::vector<QRectF> taken;
    for (const BumpMark* bump : order) {
        const bool bold = bump == order.front() || bump == worst_of(line);
        const QString text = number(bump->off_mm);
        const double width = width_of(text, bold);
        // On the other side of the fair line, where nothing is drawn; the least go where there is no room.
        const double y = bump->off_mm >= 0.0 ? middle + 3.0 : middle - k_line - 2.0;
        const QRectF box(x(sides, bump->along_mm) - width / 2.0, y, width, k_line);
        if (std::none_of(taken.begin(), taken.end(), [&](const QRectF& other) { return other.intersects(box); })) {
            painter.setFont(looks::font(looks::k_text, bold));
            painter.setPen(colours().graphite);
            painter.drawText(box, Qt::AlignCenter | Qt::TextSingleLine, text);
            taken.push_back(box.adjusted(-3.0, 0.0, 3.0, 0.0));
        }
    }
}

void BumpsDrawing::paintEvent(QPaintEvent* event) {
    QPainter painter(this);
    draw_part(painter, QSizeF(size()), QRectF(event->rect()));
    if (hasFocus()) {
        painter.setPen(QPen(colours().skirt, 2.0));
        painter.drawRect(QRectF(rect()).adjusted(1.0, 1.0, -1.0, -1.0));
    }
}

// What a person does.

void BumpsDrawing::choose(const Place& place) {
    const BumpMark& bump = picture_.lines[place.line].bumps[place.bump];
    emit chose({Item::Kind::node, bump.node_id}, bump.along_mm);
}

void BumpsDrawing::mousePressEvent(QMouseEvent* event) {
    if (event->button() == Qt::LeftButton) {
        if (const auto place = bump_at(event->position())) {
            choose(*place);
        }
    }
}

void BumpsDrawing::mouseMoveEvent(QMouseEvent* event) {
    const auto place = bump_at(event->position());
    emit pointed(place ? Item{Item::Kind::node, picture_.lines[place->line].bumps[place->bump].node_id} : Item{});
    setCursor(place ? Qt::PointingHandCursor : Qt::ArrowCursor);
}

void BumpsDrawing::leaveEvent(QEvent* event) {
    Paper::leaveEvent(event);
    emit pointed({});
}

void BumpsDrawing::keyPressEvent(QKeyEvent* event) {
    const int key = event->key();
    const bool ours = key == Qt::Key_Left || key == Qt::Key_Right || key == Qt::Key_Up || key == Qt::Key_Down;
    const auto judged = [this](std::size_t line) { return !picture_.lines[line].bumps.empty(); };
    auto place = chosen_.kind == Item::Kind::node ? find(chosen_.id) : std::nullopt;
    if (!ours) {
        Paper::keyPressEvent(event);
        return;
    }
    if (!place) {
        for (std::size_t i = 0; i < picture_.lines.size(); ++i) {
            if (judged(i)) {
                choose({i, 0});
                return;
            }
        }
        return;
    }
    const std::size_t count = picture_.lines[place->line].bumps.size();
    if (key == Qt::Key_Left && place->bump > 0) {
        --place->bump;
    } else if (key == Qt::Key_Right && place->bump + 1 < count) {
        ++place->bump;
    } else if (key == Qt::Key_Up || key == Qt::Key_Down) {
        std::size_t line = place->line;
        do {
            line += key == Qt::Key_Up ? static_cast<std::size_t>(-1) : 1;
        } while (line < picture_.lines.size() && !judged(line));
        if (line >= picture_.lines.size()) {
            return;
        }
        place = Place{line, std::min(place->bump, picture_.lines[line].bumps.size() - 1)};
    }
    choose(*place);
}

void BumpsDrawing::focusInEvent(QFocusEvent* event) {
    Paper::focusInEvent(event);
    update();
}

void BumpsDrawing::focusOutEvent(QFocusEvent* event) {
    Paper::focusOutEvent(event);
    update();
}

}  // namespace sillwright::app
