#include "app/drawings/flange_drawing.h"

#include <Eigen/Eigenvalues>
#include <QFontMetricsF>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainterPath>
#include <algorithm>
#include <cmath>

#include "app/drawings/mount_mark.h"
#include "app/length_words.h"
#include "app/text_of.h"

namespace sillwright::app {

using core::FlatRow;
using core::HoleRole;
using core::HoleSize;

namespace {

constexpr double k_edge = 10.0;
constexpr double k_line = 21.0;        ///< A line of text.
constexpr double k_overview = 62.0;    ///< Height of the whole flange with its numbers.
constexpr int k_lines_below = 4;       ///< Of text, under each pane.
constexpr double k_half_mm = 24.0;     ///< Of the flange, seen to either side of a mount.
constexpr double k_margin_mm = 4.0;    ///< Above the root and below the free edge.
constexpr double k_narrowest = 174.0;  ///< A pane, so that its words fit.
constexpr double k_lowest = 90.0;
constexpr double k_cross_mm = 2.0;
constexpr int k_faint = 46;  ///< Of 255.

double width_of(const QString& text, bool bold = false) {
    return std::ceil(QFontMetricsF(looks::font(looks::k_text, bold)).horizontalAdvance(text)) + 2.0;
}

QPainterPath stadium(const QPointF& middle, double length, double width) {
    QPainterPath path;
    const double radius = std::min(length, width) / 2.0;
    path.addRoundedRect(QRectF(middle.x() - length / 2.0, middle.y() - width / 2.0, length, width), radius, radius);
    return path;
}

QString role_words(HoleRole role) {
    switch (role) {
        case HoleRole::locator:
            return FlangeDrawing::tr("locator");
        case HoleRole::guide:
            return FlangeDrawing::tr("guide slot");
        case HoleRole::clearance:
            break;
    }
    return {};
}

/// "slot 14.5 × 9.0", "hole Ø 6.5"
QString size_words(const HoleSize& size, core::BareUnit unit) {
    const auto number = [&](double mm) { return text_of(shortest_words(geometry::millimetres(mm), unit)); };
    return size.length_mm > size.width_mm
               ? FlangeDrawing::tr("slot %1 × %2").arg(number(size.length_mm), number(size.width_mm))
               : FlangeDrawing::tr("hole Ø %1").arg(number(size.width_mm));
}

}  // namespace

FlangeDrawing::FlangeDrawing(QWidget* parent) : Paper(parent) {
    setObjectName(QStringLiteral("flangeDrawing"));
    setAccessibleName(tr("The flange laid flat, with its holes and slots"));
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
}

void FlangeDrawing::set_picture(FlangePicture picture) {
    picture_ = std::move(picture);
    setAccessibleDescription(picture_.holes.empty()
                                 ? text_of(picture_.words)
                                 : tr("%n mount(s) on the flange", nullptr, static_cast<int>(picture_.holes.size())));
    updateGeometry();
    update();
}

void FlangeDrawing::set_warmth(double warmth) {
    if (warmth != warmth_) {
        warmth_ = warmth;
        update();
    }
}

void FlangeDrawing::set_marked(const Item& chosen, const Item& pointed) {
    if (chosen != chosen_ || pointed != pointed_) {
        chosen_ = chosen;
        pointed_ = pointed;
        update();
    }
}

QString FlangeDrawing::title() const {
    return tr("flange laid flat");
}

QSize FlangeDrawing::sizeHint() const {
    return {std::max(600, minimumSizeHint().width()), 330};
}

QSize FlangeDrawing::minimumSizeHint() const {
    const auto panes = static_cast<double>(std::max<std::size_t>(1, picture_.holes.size()));
    return QSizeF(panes * k_narrowest, k_overview + k_lowest + k_lines_below * k_line).toSize();
}

// Where things are.

QRectF FlangeDrawing::pane(std::size_t hole, const QSizeF& sheet) const {
    const double width = sheet.width() / static_cast<double>(picture_.holes.size());
    return {width * static_cast<double>(hole), k_overview, width, sheet.height() - k_overview};
}

double FlangeDrawing::widest_flange_mm() const {
    double widest = 1.0;
    for (const FlangeHole& hole : picture_.holes) {
        for (const FlatRow& row : hole.rows) {
            widest = std::max(widest, row.free_edge_mm);
        }
    }
    return widest;
}

double FlangeDrawing::pixels_for_mm(const QSizeF& sheet) const {
    if (picture_.holes.empty()) {
        return 1.0;
    }
    const QRectF one = pane(0, sheet);
    const double high = one.height() - k_lines_below * k_line;
    return std::max(0.1, std::min(one.width() / (2.0 * k_half_mm), high / (widest_flange_mm() + 2.0 * k_margin_mm)));
}

double FlangeDrawing::grown_mm(const FlangeHole& hole) const {
    return warmth_ < 0.0 ? -warmth_ * hole.cold_mm : warmth_ * hole.hot_mm;
}

std::optional<std::size_t> FlangeDrawing::find(const std::string& mount) const {
    const auto& holes = picture_.holes;
    const auto found = std::find_if(holes.begin(), holes.end(), [&](const FlangeHole& h) { return h.mount == mount; });
    return found == holes.end() ? std::nullopt : std::optional(static_cast<std::size_t>(found - holes.begin()));
}

QRectF FlangeDrawing::pane_of(const std::string& mount) const {
    const auto hole = find(mount);
    return hole ? pane(*hole, QSizeF(size())) : QRectF();
}

QPointF FlangeDrawing::place_of(const std::string& mount) const {
    const auto number = find(mount);
    if (!number) {
        return {};
    }
    const FlangeHole& hole = picture_.holes[*number];
    const QRectF box = pane(*number, QSizeF(size()));
    const double pixels = pixels_for_mm(QSizeF(size()));
    return {box.center().x() + (hole.drawn_shift_mm + grown_mm(hole)) * pixels,
            box.top() + (k_margin_mm + hole.across_mm) * pixels};
}

std::optional<std::size_t> FlangeDrawing::hole_at(const QPointF& at) const {
    for (std::size_t i = 0; i < picture_.holes.size(); ++i) {
        if (pane(i, QSizeF(size())).contains(at)) {
            return i;
        }
    }
    return std::nullopt;
}

double FlangeDrawing::shift_at(std::size_t hole, double x) const {
    return (x - pane(hole, QSizeF(size())).center().x()) / pixels_for_mm(QSizeF(size())) -
           grown_mm(picture_.holes[hole]);
}

// What is drawn.

void FlangeDrawing::draw(QPainter& painter, const QSizeF& sheet) const {
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(QRectF(QPointF(), sheet), colours().paper);
    painter.setFont(looks::font(looks::k_text));
    if (picture_.holes.empty()) {
        painter.setPen(colours().graphite);
        painter.drawText(QRectF(QPointF(), sheet).adjusted(k_edge, k_edge, -k_edge, -k_edge), Qt::TextWordWrap,
                         text_of(picture_.words));
        return;
    }
    draw_overview(painter, sheet);
    for (std::size_t i = 0; i < picture_.holes.size(); ++i) {
        draw_pane(painter, sheet, i);
    }
}

/// The whole flange as a bar, its mounts as ticks, between two the distance.
void FlangeDrawing::draw_overview(QPainter& painter, const QSizeF& sheet) const {
    const double length = std::max(1.0, picture_.rear_mm - picture_.front_mm);
    const double pixels = (sheet.width() - 2.0 * k_edge) / length;
    const auto x = [&](double along_mm) { return k_edge + (along_mm - picture_.front_mm) * pixels; };
    const QRectF bar(k_edge, 30.0, sheet.width() - 2.0 * k_edge, 10.0);
    QColor fill = colours().skirt;
    fill.setAlpha(k_faint);
    painter.fillRect(bar, fill);
    painter.setPen(QPen(colours().skirt, 1.4));
    painter.drawRect(bar);
    double taken = -1.0;
    for (std::size_t i = 0; i < picture_.holes.size(); ++i) {
        const FlangeHole& hole = picture_.holes[i];
        const bool chosen = Item{Item::Kind::mount, hole.mount} == chosen_;
        const double at = x(hole.along_mm);
        painter.setPen(QPen(colours().graphite, chosen ? 3.0 : 1.4));
        painter.drawLine(QPointF(at, bar.top() - 4.0), QPointF(at, bar.bottom() + 4.0));
        const QString name = text_of(hole.mount);
        const double wide = width_of(name, chosen);
        const double left = std::clamp(at - wide / 2.0, 0.0, std::max(0.0, sheet.width() - wide));
        if (left > taken || chosen) {
            painter.setFont(looks::font(looks::k_text, chosen));
            painter.drawText(QRectF(left, 3.0, wide, k_line), Qt::AlignCenter | Qt::TextSingleLine, name);
            taken = left + wide + 4.0;
        }
        if (i > 0) {
            const double pitch = hole.along_mm - picture_.holes[i - 1].along_mm;
            const QString text = text_of(shortest_words(geometry::millimetres(std::round(pitch)), picture_.unit));
            const double from = x(picture_.holes[i - 1].along_mm);
            const bool far = pitch > picture_.pitch_most_mm;
            painter.setFont(looks::font(looks::k_text, far));
            painter.setPen(far ? looks::text_colour(core::State::falls_short, tone()) : colours().pencil);
            const double mark = far ? k_line : 0.0;
            if (width_of(text, far) + mark < at - from) {
                painter.drawText(QRectF(from, bar.bottom(), at - from, k_line), Qt::AlignCenter, text);
                if (far) {
                    looks::draw_shape(
                        painter, QRectF((from + at + width_of(text, true)) / 2.0 + 3.0, bar.bottom() + 4.0, 13.0, 13.0),
                        core::State::falls_short, tone());
                }
            }
        }
    }
}

void FlangeDrawing::draw_flange(QPainter& painter, const FlangeHole& hole, const QRectF& view, double pixels) const {
    const double moved = grown_mm(hole);
    const auto at = [&](double along_mm, double across_mm) {
        return QPointF(view.center().x() + (along_mm - hole.along_mm + moved) * pixels,
                       view.top() + (k_margin_mm + across_mm) * pixels);
    };
    QPolygonF sheet;
    QPolygonF bend;
    QPolygonF edge;
    QPolygonF flat;
    for (const FlatRow& row : hole.rows) {
        sheet << at(row.along_mm, 0.0);
        flat << at(row.along_mm, row.flat_from_mm);
        edge << at(row.along_mm, row.free_edge_mm);
    }
    bend = sheet;
    for (auto point = flat.crbegin(); point != flat.crend(); ++point) {
        bend << *point;
    }
    for (auto point = edge.crbegin(); point != edge.crend(); ++point) {
        sheet << *point;
    }
    QColor fill = colours().skirt;
    fill.setAlpha(k_faint);
    painter.setPen(Qt::NoPen);
    painter.setBrush(fill);
    painter.drawPolygon(sheet);
    painter.setBrush(QBrush(colours().pencil, Qt::BDiagPattern));
    painter.drawPolygon(bend);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(colours().skirt, 2.2));
    painter.drawPolyline(edge);
    painter.setPen(QPen(colours().skirt, 1.2));
    painter.drawPolyline(flat);
    const auto end = [&](double along_mm) {
        if (std::abs(along_mm - hole.along_mm) < k_half_mm && !hole.rows.empty()) {
            painter.setPen(QPen(colours().skirt, 2.2));
            painter.drawLine(at(along_mm, 0.0), at(along_mm, hole.rows.front().free_edge_mm));
        }
    };
    end(picture_.front_mm);
    end(picture_.rear_mm);
}

void FlangeDrawing::draw_pane(QPainter& painter, const QSizeF& sheet, std::size_t number) const {
    const FlangeHole& hole = picture_.holes[number];
    const Item item{Item::Kind::mount, hole.mount};
    const bool chosen = item == chosen_;
    const double pixels = pixels_for_mm(sheet);
    const QRectF box = pane(number, sheet);
    const double high = (widest_flange_mm() + 2.0 * k_margin_mm) * pixels;
    const QRectF view(box.left(), box.top(), box.width(), high);
    painter.save();
    painter.setClipRect(view.adjusted(2.0, 0.0, -2.0, 0.0), Qt::IntersectClip);
    draw_flange(painter, hole, view, pixels);

    const QPointF middle(view.center().x(), view.top() + (k_margin_mm + hole.across_mm) * pixels);
    const auto part_place = [&](double shift_mm) {
        return middle + QPointF((shift_mm + grown_mm(hole)) * pixels, 0.0);
    };
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(colours().pencil, 1.3, Qt::DashLine));
    painter.drawPath(stadium(part_place(hole.shift_mm), hole.needed.length_mm * pixels, hole.needed.width_mm * pixels));
    if (hole.drawn) {
        const QPainterPath path =
            stadium(part_place(hole.drawn_shift_mm), hole.drawn->length_mm * pixels, hole.drawn->width_mm * pixels);
        painter.setBrush(colours().paper);
        painter.setPen(QPen(colours().skirt, chosen ? 3.0 : 2.0));
        painter.drawPath(path);
    }
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(colours().graphite, 1.3));
    if (hole.size_mm) {
        const double length = hole.length_mm.value_or(*hole.size_mm) * pixels;
        if (hole.shape == core::HoleShape::square) {
            painter.drawRect(QRectF(middle.x() - length / 2.0, middle.y() - *hole.size_mm * pixels / 2.0, length,
                                    *hole.size_mm * pixels));
        } else {
            painter.drawPath(stadium(middle, length, *hole.size_mm * pixels));
        }
    }
    if (hole.head_mm) {
        painter.setPen(QPen(colours().graphite, 1.0, Qt::DotLine));
        painter.drawEllipse(middle, *hole.head_mm * pixels / 2.0, *hole.head_mm * pixels / 2.0);
    }
    QColor shank = colours().graphite;
    shank.setAlpha(90);
    painter.setPen(Qt::NoPen);
    painter.setBrush(shank);
    painter.drawEllipse(middle, hole.screw_mm * pixels / 2.0, hole.screw_mm * pixels / 2.0);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(colours().graphite, 1.0));
    const double arm = k_cross_mm * pixels;
    painter.drawLine(middle - QPointF(arm, 0.0), middle + QPointF(arm, 0.0));
    painter.drawLine(middle - QPointF(0.0, arm), middle + QPointF(0.0, arm));
    if (hole.covariance_mm2) {
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> axes(*hole.covariance_mm2);
        painter.save();
        painter.translate(middle);
        painter.rotate(std::atan2(axes.eigenvectors()(1, 1), axes.eigenvectors()(0, 1)) * 180.0 / M_PI);
        painter.setPen(QPen(colours().graphite, 1.4));
        painter.drawEllipse(QPointF(), k_ellipse_95 * std::sqrt(std::max(0.0, axes.eigenvalues()(1))) * pixels,
                            k_ellipse_95 * std::sqrt(std::max(0.0, axes.eigenvalues()(0))) * pixels);
        painter.restore();
    }
    painter.restore();
    draw_words(painter, hole, QRectF(box.left() + 6.0, view.bottom(), box.width() - 12.0, k_lines_below * k_line),
               chosen);
    painter.setPen(QPen(chosen || item == pointed_ ? colours().graphite : colours().edge, chosen ? 2.0 : 1.0));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(QRectF(box.left() + 1.0, box.top(), box.width() - 2.0,
                            std::min(box.height(), high + k_lines_below * k_line) - 1.0));
}

void FlangeDrawing::draw_words(QPainter& painter, const FlangeHole& hole, const QRectF& below, bool chosen) const {
    const auto line = [&](int number) {
        return QRectF(below.left(), below.top() + number * k_line, below.width(), k_line);
    };
    const auto write = [&](int number, const QString& text, bool bold) {
        painter.setFont(looks::font(looks::k_text, bold));
        painter.drawText(line(number), Qt::AlignVCenter | Qt::AlignLeft | Qt::TextSingleLine,
                         QFontMetricsF(painter.font()).elidedText(text, Qt::ElideRight, below.width()));
    };
    looks::draw_shape(painter, QRectF(below.left(), below.top() + 4.0, 13.0, 13.0), hole.state, tone());
    painter.setPen(colours().graphite);
    painter.setFont(looks::font(looks::k_text, true));
    const QString role = role_words(hole.role);
    painter.drawText(line(0).adjusted(19.0, 0.0, 0.0, 0.0), Qt::AlignVCenter | Qt::AlignLeft | Qt::TextSingleLine,
                     role.isEmpty() ? text_of(hole.mount) : text_of(hole.mount) + QStringLiteral(" · ") + role);
    painter.setPen(hole.drawn ? colours().skirt : colours().pencil);
    write(1, hole.drawn ? size_words(*hole.drawn, picture_.unit) : tr("not decided"), chosen);
    painter.setPen(colours().graphite);
    const auto number = [&](double mm) { return text_of(short_number(geometry::millimetres(mm), picture_.unit)); };
    write(2,
          hole.needed.length_mm > hole.needed.width_mm
              ? tr("needs %1 × %2").arg(number(hole.needed.length_mm), number(hole.needed.width_mm))
              : tr("needs Ø %1").arg(number(hole.needed.width_mm)),
          false);
    painter.setPen(colours().pencil);
    const double grown = grown_mm(hole);
    write(3,
          picture_.warmth
              ? tr("part moves %1")
                    .arg((grown < 0.0 ? QStringLiteral("−") : QStringLiteral("+")) + number(std::abs(grown)))
              : tr("no warmth given"),
          false);
}

void FlangeDrawing::paintEvent(QPaintEvent* event) {
    Paper::paintEvent(event);
    if (hasFocus()) {
        QPainter painter(this);
        painter.setPen(QPen(colours().skirt, 2.0));
        painter.drawRect(QRectF(rect()).adjusted(1.0, 1.0, -1.0, -1.0));
    }
}

// What a person does.

void FlangeDrawing::mousePressEvent(QMouseEvent* event) {
    const auto hole = hole_at(event->position());
    if (event->button() != Qt::LeftButton || !hole) {
        return;
    }
    const FlangeHole& pressed = picture_.holes[*hole];
    const double pixels = pixels_for_mm(QSizeF(size()));
    const QPointF off = event->position() - place_of(pressed.mount);
    const bool on_hole = pressed.drawn && std::abs(off.x()) <= pressed.drawn->length_mm * pixels / 2.0 &&
                         std::abs(off.y()) <= pressed.drawn->width_mm * pixels / 2.0;
    const std::string mount = pressed.mount;
    emit chose({Item::Kind::mount, mount}, pressed.along_mm);
    if (on_hole) {
        grip_ = Grip{*hole, off.x() / pixels};
    }
}

void FlangeDrawing::mouseMoveEvent(QMouseEvent* event) {
    if (grip_ && grip_->hole < picture_.holes.size()) {
        if (!std::exchange(grip_->moved, true)) {
            emit taken(picture_.holes[grip_->hole].mount);
        }
        emit dragged(shift_at(grip_->hole, event->position().x()) - grip_->offset_mm);
        return;
    }
    const auto hole = hole_at(event->position());
    emit pointed(hole ? Item{Item::Kind::mount, picture_.holes[*hole].mount} : Item{});
    setCursor(hole ? Qt::PointingHandCursor : Qt::ArrowCursor);
}

void FlangeDrawing::mouseReleaseEvent(QMouseEvent* /*event*/) {
    const auto grip = std::exchange(grip_, std::nullopt);
    if (grip && grip->moved) {
        emit dropped();
    }
}

void FlangeDrawing::leaveEvent(QEvent* event) {
    Paper::leaveEvent(event);
    emit pointed({});
}

void FlangeDrawing::keyPressEvent(QKeyEvent* event) {
    const int key = event->key();
    if (key == Qt::Key_Escape && grip_) {
        if (std::exchange(grip_, std::nullopt)->moved) {
            emit put_back();
        }
        return;
    }
    if ((key != Qt::Key_Left && key != Qt::Key_Right) || picture_.holes.empty()) {
        Paper::keyPressEvent(event);
        return;
    }
    const auto now = chosen_.kind == Item::Kind::mount ? find(chosen_.id) : std::nullopt;
    std::size_t next = 0;
    if (now) {
        next = key == Qt::Key_Left ? (*now == 0 ? 0 : *now - 1) : std::min(*now + 1, picture_.holes.size() - 1);
    }
    emit chose({Item::Kind::mount, picture_.holes[next].mount}, picture_.holes[next].along_mm);
}

void FlangeDrawing::focusInEvent(QFocusEvent* event) {
    Paper::focusInEvent(event);
    update();
}

void FlangeDrawing::focusOutEvent(QFocusEvent* event) {
    Paper::focusOutEvent(event);
    update();
}

}  // namespace sillwright::app
