#include "app/drawings/strip_drawing.h"

#include <QFontMetricsF>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainterPath>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "app/text_of.h"

namespace sillwright::app {

namespace {

constexpr double k_edge = 12.0;                    ///< Free paper at the sides.
constexpr double k_head = looks::k_target + 4.0;   ///< Row of the stations and of the place.
constexpr double k_foot = 24.0;                    ///< Row of the strip's words.
constexpr double k_line = 19.0;                    ///< From one line of text to the next.
constexpr double k_gap = 6.0;                      ///< Between a label and what it names.
constexpr double k_most_names = 0.2;               ///< Part of the width that names of lines may take.
constexpr double k_line_reach = 5.0;               ///< From a line that is pressed, pixels.
constexpr double k_reach = looks::k_target / 2.0;  ///< From what is small, and from the plumb line's bob.
constexpr double k_plumb_reach = 8.0;
constexpr double k_unseen = 0.1;
constexpr double k_drag_starts = 4.0;
constexpr double k_bob = 16.0;
constexpr double k_mount_pixels = 9.0;     ///< A mount's hole is drawn no smaller.
constexpr double k_ellipse_pixels = 20.0;  ///< Half an ellipse is drawn no larger.
constexpr double k_place_least = 150.0;
constexpr double k_place_most = 300.0;

const QFontMetricsF& metrics(bool bold) {
    static const QFontMetricsF plain(looks::font(looks::k_text, false));
    static const QFontMetricsF strong(looks::font(looks::k_text, true));
    return bold ? strong : plain;
}

double width_of(const QString& text, bool bold) {
    return std::ceil(metrics(bold).horizontalAdvance(text)) + 2.0;
}

double distance(const QPointF& p, const QPointF& a, const QPointF& b) {
    const QPointF ab = b - a;
    const double length2 = QPointF::dotProduct(ab, ab);
    const double t = length2 > 0.0 ? std::clamp(QPointF::dotProduct(p - a, ab) / length2, 0.0, 1.0) : 0.0;
    const QPointF off = p - a - t * ab;
    return std::hypot(off.x(), off.y());
}

QPolygonF on_sheet(const std::vector<Eigen::Vector2d>& points_mm, const StripScale& scale) {
    // A point that stands less than a tenth of a pixel off the straight past it is not seen, but costs time.
    QPolygonF points;
    points.reserve(static_cast<qsizetype>(points_mm.size()));
    std::size_t kept = 0;
    for (std::size_t i = 0; i < points_mm.size(); ++i) {
        bool seen = i == 0 || i + 1 == points_mm.size();
        for (std::size_t between = kept + 1; !seen && between <= i; ++between) {
            seen = distance(scale.at(points_mm[between]), points.back(), scale.at(points_mm[i + 1])) > k_unseen;
        }
        if (seen) {
            points << scale.at(points_mm[i]);
            kept = i;
        }
    }
    return points;
}

QRectF box_of(const StripKeepOut& keep_out, const StripScale& scale) {
    return QRectF(scale.at(keep_out.from_mm), scale.at(keep_out.to_mm)).normalized().intersected(scale.plot);
}

bool free_of(const QRectF& box, const std::vector<QRectF>& taken) {
    return std::none_of(taken.begin(), taken.end(), [&](const QRectF& other) { return other.intersects(box); });
}

/// Whether names of lines would stand where they do.
bool same_ends(const std::vector<StripLine>& a, const std::vector<StripLine>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const StripLine& x, const StripLine& y) {
        return x.name == y.name && x.rank == y.rank && x.nodes == y.nodes &&
               x.points_mm.empty() == y.points_mm.empty() &&
               (x.points_mm.empty() || x.points_mm.back() == y.points_mm.back());
    });
}

const StripNode* nearest_node(const StripLine& line, double along_mm) {
    const auto nearest = std::min_element(line.nodes.begin(), line.nodes.end(), [&](const auto& a, const auto& b) {
        return std::abs(a.along_mm - along_mm) < std::abs(b.along_mm - along_mm);
    });
    return nearest == line.nodes.end() ? nullptr : &*nearest;
}

/// Height of a line at a place, if it is there.
std::optional<double> height_at(const StripLine& line, double along_mm) {
    const auto& points = line.points_mm;
    const auto behind = std::lower_bound(points.begin(), points.end(), along_mm,
                                         [](const auto& p_mm, double along) { return p_mm.x() < along; });
    if (behind == points.end() || (behind == points.begin() && behind->x() > along_mm)) {
        return std::nullopt;
    }
    if (behind == points.begin()) {
        return behind->y();
    }
    const auto before = behind - 1;
    return std::lerp(before->y(), behind->y(), (along_mm - before->x()) / (behind->x() - before->x()));
}

}  // namespace

StripDrawing::StripDrawing(QWidget* parent) : Paper(parent) {
    setObjectName(QStringLiteral("stripDrawing"));
    setAccessibleName(tr("Sill unrolled, with the plumb line"));
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    setAttribute(Qt::WA_OpaquePaintEvent);
}

void StripDrawing::set_picture(StripPicture picture) {
    if (picture == picture_) {
        return;
    }
    const bool ground = picture.ground != picture_.ground;
    const bool over = ground || picture.mounts != picture_.mounts || picture.keep_outs != picture_.keep_outs ||
                      !same_ends(picture.lines, picture_.lines);
    picture_ = std::move(picture);
    forget(ground, over);
    emit place_moved();
}

void StripDrawing::set_place(std::optional<double> along_mm, const QString& words) {
    if (along_mm != along_mm_ || words != place_words_) {
        along_mm_ = along_mm;
        place_words_ = words;
        update();
        emit place_moved();
    }
}

void StripDrawing::set_marked(const Item& chosen, const Item& pointed) {
    if (chosen != chosen_ || pointed != pointed_) {
        chosen_ = chosen;
        pointed_ = pointed;
        forget(true, true);
    }
}

void StripDrawing::say(const QString& words) {
    if (words != said_) {
        said_ = words;
        update();
    }
}

void StripDrawing::forget(bool ground, bool over) {
    skirt_ = {};
    if (over) {
        over_ = {};
    }
    if (ground) {
        ground_ = {};
    }
    update();
}

QString StripDrawing::title() const {
    return tr("strip of the sill");
}

// Scale and rows.

std::optional<StripScale> StripDrawing::scale_of(const QSizeF& sheet) const {
    if (picture_.empty()) {
        return std::nullopt;
    }
    double names = 0.0;
    for (const auto* lines : {&picture_.lines, &picture_.ground.body}) {
        for (const StripLine& line : *lines) {
            const double width = width_of(text_of(line.name), true);
            if (width <= k_most_names * sheet.width()) {
                names = std::max(names, width);
            }
        }
    }
    const double right = names > 0.0 ? names + 3.0 * k_gap + k_edge / 2.0 : k_edge;
    const QRectF plot(k_edge, k_head, sheet.width() - k_edge - right, sheet.height() - k_head - k_foot);
    if (plot.width() < 1.0 || plot.height() < 1.0) {
        return std::nullopt;
    }
    return strip_scale(picture_.ground, plot);
}

MountScale StripDrawing::mount_scale(const StripScale& scale) const {
    MountScale mounts{scale.along, scale.along, false};
    double least = std::numeric_limits<double>::infinity();
    double widest = 0.0;
    for (const StripMount& mount : picture_.mounts) {
        if (mount.size_mm && *mount.size_mm > 0.0) {
            least = std::min(least, *mount.size_mm);
        }
        if (mount.sd_mm) {
            widest = std::max(widest, mount.sd_mm->maxCoeff() * k_ellipse_95);
        }
    }
    if (std::isfinite(least)) {
        mounts.pixels_for_mm *= enlarged(least, scale.along, k_mount_pixels);
    }
    if (widest > 0.0) {
        mounts.ellipse *= exaggerated(widest, scale.along, k_ellipse_pixels);
    }
    return mounts;
}

QStringList StripDrawing::words_on(const QSizeF& sheet) const {
    const auto scale = scale_of(sheet);
    if (!scale) {
        return {};
    }
    const auto times = [](double number) { return QString::number(number, 'g', 4); };
    QStringList words;
    words << (scale->heights == 1.0 ? tr("heights drawn true") : tr("heights drawn × %1").arg(times(scale->heights)));
    const MountScale mounts = mount_scale(*scale);
    const auto sized = [](const StripMount& mount) { return mount.size_mm.has_value(); };
    const auto known = [](const StripMount& mount) { return mount.sd_mm.has_value(); };
    if (std::any_of(picture_.mounts.begin(), picture_.mounts.end(), sized)) {
        words << tr("mounts × %1").arg(times(mounts.pixels_for_mm / scale->along));
    }
    if (std::any_of(picture_.mounts.begin(), picture_.mounts.end(), known)) {
        words << tr("95 % ellipses × %1").arg(times(mounts.ellipse / scale->along));
    }
    if (!std::all_of(picture_.mounts.begin(), picture_.mounts.end(), known)) {
        words << tr("no ellipse: uncertainty not measured");
    }
    return words;
}

QRectF StripDrawing::place_box(const QSizeF& sheet) const {
    const auto scale = scale_of(sheet);
    if (!scale || !along_mm_) {
        return {};
    }
    const double field = std::clamp(width_of(place_words_, true) + 24.0, k_place_least, k_place_most);
    const double width = std::min(field + 2.0 * looks::k_target, sheet.width());
    const double left = std::clamp(scale->x(*along_mm_) - width / 2.0, 0.0, std::max(0.0, sheet.width() - width));
    return {std::round(left), 2.0, std::floor(width), static_cast<double>(looks::k_target)};
}

// Labels.

bool StripDrawing::marked(const Item& item) const {
    return item && (item == chosen_ || item == pointed_);
}

bool StripDrawing::holds(const StripLine& line, const Item& item) const {
    return item.kind == Item::Kind::node &&
           std::any_of(line.nodes.begin(), line.nodes.end(), [&](const auto& node) { return node.id == item.id; });
}

StripDrawing::Layout StripDrawing::layout(const StripScale& scale, const QSizeF& sheet) const {
    Layout layout;
    lay_line_names(layout, scale, sheet);
    lay_mount_names(layout, scale);
    lay_box_names(layout, scale);
    return layout;
}

void StripDrawing::lay_line_names(Layout& layout, const StripScale& scale, const QSizeF& sheet) const {
    struct Name {
        const StripLine* line;
        double wish, y;
        int rank;
    };
    const double left = scale.plot.right() + 3.0 * k_gap;
    const double rear = picture_.ground.rear_mm;
    const double end_from = rear - 0.15 * (rear - picture_.ground.front_mm);  // others end within the strip
    std::vector<Name> names;
    for (const auto* lines : {&picture_.lines, &picture_.ground.body}) {
        for (const StripLine& line : *lines) {
            if (line.name.empty() || line.points_mm.empty() || line.points_mm.back().x() < end_from) {
                continue;
            }
            const double y = std::clamp(scale.at(line.points_mm.back()).y(), scale.plot.top(), scale.plot.bottom());
            if (left + width_of(text_of(line.name), true) <= sheet.width()) {
                names.push_back({&line, y, y, holds(line, chosen_) ? -1 : line.rank});
            }
        }
    }
    const double top = scale.plot.top() - k_line / 2.0;
    const double bottom = scale.plot.bottom() + k_line / 2.0;
    const auto room = static_cast<std::size_t>(std::max(0.0, std::floor((bottom - top) / k_line)));
    std::stable_sort(names.begin(), names.end(), [](const Name& a, const Name& b) { return a.rank < b.rank; });
    names.resize(std::min(names.size(), room));
    std::stable_sort(names.begin(), names.end(), [](const Name& a, const Name& b) { return a.wish < b.wish; });
    // Down until none covers the one above, then up from the bottom.
    for (std::size_t i = 0; i < names.size(); ++i) {
        names[i].y = std::max(names[i].wish, i == 0 ? top + k_line / 2.0 : names[i - 1].y + k_line);
    }
    for (std::size_t i = names.size(); i-- > 0;) {
        names[i].y = std::min(names[i].y, i + 1 == names.size() ? bottom - k_line / 2.0 : names[i + 1].y - k_line);
    }
    for (const Name& name : names) {
        const StripLine& line = *name.line;
        const StripNode* node = line.nodes.empty() ? nullptr : &line.nodes.back();
        Label label;
        label.text = text_of(line.name);
        label.bold = holds(line, chosen_);
        label.ink = line.role == StripRole::body ? colours().graphite : colours().skirt;
        label.box = QRectF(left, name.y - k_line / 2.0, width_of(label.text, label.bold), k_line);
        label.leader = QLineF(scale.at(line.points_mm.back()), QPointF(left - k_gap / 2.0, name.y));
        if (node != nullptr) {
            label.item = {Item::Kind::node, node->id};
        }
        layout.taken.push_back(label.box);
        layout.labels.push_back(std::move(label));
    }
}

void StripDrawing::lay_mount_names(Layout& layout, const StripScale& scale) const {
    const MountScale mounts = mount_scale(scale);
    for (const StripMount& mount : picture_.mounts) {
        const QPointF at = scale.at(mount.at_mm);
        const QSizeF half = mount_half_size(mount, mounts);
        layout.taken.emplace_back(at.x() - half.width(), at.y() - half.height(), 2.0 * half.width(),
                                  2.0 * half.height());
    }
    // What falls short has its name before what holds.
    std::vector<const StripMount*> order;
    for (const StripMount& mount : picture_.mounts) {
        order.push_back(&mount);
    }
    std::stable_sort(order.begin(), order.end(), [](const StripMount* a, const StripMount* b) {
        return a->worst.has_value() && !b->worst.has_value();
    });
    for (const StripMount* mount : order) {
        Label label;
        label.item = {Item::Kind::mount, mount->name};
        label.text = text_of(mount->name);
        label.bold = label.item == chosen_ || mount->worst.has_value();
        label.ink = mount->worst ? looks::text_colour(*mount->worst, tone()) : colours().graphite;
        label.state = mount->worst;
        const double width = width_of(label.text, label.bold) + (mount->worst ? k_line : 0.0);
        const QPointF at = scale.at(mount->at_mm);
        const QSizeF half = mount_half_size(*mount, mounts);
        const double right = at.x() + half.width() + k_gap;
        const double left = at.x() - half.width() - k_gap - width;
        const std::array<QRectF, 4> wishes{
            QRectF(right, at.y() - k_line / 2.0, width, k_line), QRectF(left, at.y() - k_line / 2.0, width, k_line),
            QRectF(at.x() - width / 2.0, at.y() + half.height() + 2.0, width, k_line),
            QRectF(at.x() - width / 2.0, at.y() - half.height() - k_line, width, k_line)};
        for (const QRectF& wish : wishes) {
            if (scale.plot.adjusted(0.0, 0.0, 0.0, k_foot / 4.0).contains(wish) && free_of(wish, layout.taken)) {
                label.box = wish;
                layout.taken.push_back(wish);
                layout.labels.push_back(std::move(label));
                break;
            }
        }
    }
}

void StripDrawing::lay_box_names(Layout& layout, const StripScale& scale) const {
    for (const StripDoor& door : picture_.ground.doors) {
        QRectF box = on_sheet(door.outline_mm, scale).boundingRect();
        Label label;
        label.item = {Item::Kind::door, door.name};
        label.text = text_of(door.name);
        if (!door.gaps_known) {
            label.text += tr(", shut gaps not measured");
        }
        label.bold = label.item == chosen_;
        label.ink = colours().door;
        const double width = width_of(label.text, label.bold);
        const double y = box.bottom() - k_line - 3.0;
        for (const double share : {0.5, 0.25, 0.75}) {
            const QRectF wish(box.left() + share * (box.width() - width), y, width, k_line);
            if (width < box.width() && scale.plot.adjusted(0.0, -4.0, 0.0, 0.0).contains(wish) &&
                free_of(wish, layout.taken)) {
                label.box = wish;
                layout.taken.push_back(wish);
                layout.labels.push_back(std::move(label));
                break;
            }
        }
    }
    std::vector<QRectF> boxes;
    for (const StripKeepOut& keep_out : picture_.keep_outs) {
        boxes.push_back(box_of(keep_out, scale));
    }
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        const QRectF& box = boxes[i];
        Label label;
        label.item = {Item::Kind::keep_out, picture_.keep_outs[i].name};
        label.text = text_of(picture_.keep_outs[i].name);
        label.bold = label.item == chosen_;
        label.ink = colours().graphite;
        const double width = width_of(label.text, label.bold);
        const double y = std::clamp(box.center().y() - k_line / 2.0, scale.plot.top(), scale.plot.bottom() - k_line);
        const std::array<QRectF, 3> wishes{QRectF(box.center().x() - width / 2.0, y, width, k_line),
                                           QRectF(box.right() + k_gap, y, width, k_line),
                                           QRectF(box.left() - k_gap - width, y, width, k_line)};
        for (std::size_t k = width + 2.0 * k_gap < box.width() ? 0 : 1; k < wishes.size(); ++k) {
            std::vector<QRectF> others = layout.taken;
            for (std::size_t other = 0; other < boxes.size(); ++other) {
                if (other != i) {
                    others.push_back(boxes[other]);
                }
            }
            if (box.isValid() && scale.plot.contains(wishes.at(k)) && free_of(wishes.at(k), others)) {
                label.box = wishes.at(k);
                layout.taken.push_back(label.box);
                layout.labels.push_back(std::move(label));
                break;
            }
        }
    }
}

// Drawing.

void StripDrawing::draw(QPainter& painter, const QSizeF& sheet) const {
    draw_ground(painter, sheet);
    draw_skirt(painter, sheet);
    draw_over(painter, sheet);
    draw_front(painter, sheet);
}

void StripDrawing::draw_ground(QPainter& painter, const QSizeF& sheet) const {
    painter.save();
    painter.fillRect(QRectF({}, sheet), colours().paper);
    painter.setRenderHint(QPainter::Antialiasing);
    if (const auto scale = scale_of(sheet)) {
        painter.setPen(QPen(colours().edge, 1.0));
        for (const StripStation& station : picture_.ground.stations) {
            const double x = scale->x(station.along_mm);
            painter.drawLine(QPointF(x, scale->plot.top()), QPointF(x, scale->plot.bottom()));
        }
        painter.save();
        painter.setClipRect(scale->plot.adjusted(-2.0, -2.0, 2.0, 2.0).toAlignedRect());
        draw_photos(painter, *scale);
        draw_body(painter, *scale);
        draw_doors(painter, *scale);
        painter.restore();
    }
    painter.restore();
}

void StripDrawing::show_photos(std::vector<PhotoUnder> photos) {
    const auto same = [](const PhotoUnder& a, const PhotoUnder& b) {
        return a.picture.cacheKey() == b.picture.cacheKey() && a.top_left_mm == b.top_left_mm;
    };
    if (!std::equal(photos.begin(), photos.end(), photos_.begin(), photos_.end(), same)) {
        photos_ = std::move(photos);
        forget(true, false);
    }
}

void StripDrawing::draw_photos(QPainter& painter, const StripScale& scale) const {
    painter.save();
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    for (const StripLine& line : picture_.lines) {
        if (line.role == StripRole::fold && line.points_mm.size() > 1) {
            QPolygonF side = on_sheet(line.points_mm, scale);
            side << QPointF(side.last().x(), scale.plot.top()) << QPointF(side.first().x(), scale.plot.top());
            QPainterPath above;
            above.addPolygon(side);
            painter.setClipPath(above, Qt::IntersectClip);
        }
    }
    for (const PhotoUnder& photo : photos_) {
        const QSizeF size = photo.mm_per_pixel * QSizeF(photo.picture.size());
        painter.setOpacity(photo.opacity);
        painter.drawPixmap(QRectF(scale.at(photo.top_left_mm),
                                  scale.at(photo.top_left_mm + Eigen::Vector2d(size.width(), -size.height()))),
                           photo.picture, QRectF(photo.picture.rect()));
    }
    painter.restore();
}

void StripDrawing::draw_body(QPainter& painter, const StripScale& scale) const {
    for (const StripLine& line : picture_.ground.body) {
        const bool bold = holds(line, chosen_) || holds(line, pointed_);
        painter.setPen(QPen(colours().graphite, bold ? 3.0 : 1.2));
        painter.drawPolyline(on_sheet(line.points_mm, scale));
    }
}

void StripDrawing::draw_doors(QPainter& painter, const StripScale& scale) const {
    for (const StripDoor& door : picture_.ground.doors) {
        const bool bold = marked({Item::Kind::door, door.name});
        painter.setPen(QPen(colours().door, bold ? 4.0 : 2.0, door.gaps_known ? Qt::SolidLine : Qt::DashLine));
        painter.drawPolyline(on_sheet(door.outline_mm, scale));
    }
}

void StripDrawing::draw_skirt(QPainter& painter, const QSizeF& sheet) const {
    const auto scale = scale_of(sheet);
    if (!scale) {
        return;
    }
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.save();
    painter.setClipRect(scale->plot.adjusted(-2.0, -2.0, 2.0, 2.0).toAlignedRect());
    draw_lines(painter, *scale);
    painter.restore();
    painter.restore();
}

void StripDrawing::draw_over(QPainter& painter, const QSizeF& sheet) const {
    const auto scale = scale_of(sheet);
    if (!scale) {
        return;
    }
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    draw_keep_outs(painter, *scale);
    draw_mounts(painter, *scale);
    draw_labels(painter, layout(*scale, sheet));
    painter.restore();
}

void StripDrawing::draw_keep_outs(QPainter& painter, const StripScale& scale) const {
    for (const StripKeepOut& keep_out : picture_.keep_outs) {
        const bool bold = marked({Item::Kind::keep_out, keep_out.name});
        painter.setPen(QPen(colours().graphite, bold ? 3.0 : 1.0));
        painter.setBrush(QBrush(colours().pencil, Qt::BDiagPattern));
        painter.drawRect(box_of(keep_out, scale));
    }
    painter.setBrush(Qt::NoBrush);
}

void StripDrawing::draw_lines(QPainter& painter, const StripScale& scale) const {
    for (const StripLine& line : picture_.lines) {
        const bool bold = holds(line, chosen_) || holds(line, pointed_);
        const bool strong = line.role == StripRole::fold || line.role == StripRole::flange_end;
        QPen pen(colours().skirt, bold ? 4.0 : strong ? 2.2 : 1.2);
        if (line.role == StripRole::flange_root && !bold) {
            pen.setDashPattern({6.0, 4.0});
        }
        painter.setPen(pen);
        painter.drawPolyline(on_sheet(line.points_mm, scale));
        for (const StripNode& node : line.nodes) {
            if (Item{Item::Kind::node, node.id} == chosen_) {
                if (const auto height = height_at(line, node.along_mm)) {
                    const QPointF at = scale.at({node.along_mm, *height});
                    painter.setPen(QPen(colours().skirt, 4.0));
                    painter.drawLine(at - QPointF(0.0, 8.0), at + QPointF(0.0, 8.0));
                }
            }
        }
    }
}

void StripDrawing::draw_mounts(QPainter& painter, const StripScale& scale) const {
    MountScale mounts = mount_scale(scale);
    for (const StripMount& mount : picture_.mounts) {
        const QPointF at = scale.at(mount.at_mm);
        mounts.bold = marked({Item::Kind::mount, mount.name});
        draw_mount(painter, at, mount, mounts, tone());
        if (mounts.bold) {
            const QSizeF half = mount_half_size(mount, mounts);
            painter.setPen(QPen(colours().graphite, 1.6, Qt::DotLine));
            painter.drawRect(QRectF(at.x() - half.width() - 5.0, at.y() - half.height() - 5.0,
                                    2.0 * half.width() + 10.0, 2.0 * half.height() + 10.0));
        }
    }
}

void StripDrawing::draw_labels(QPainter& painter, const Layout& layout) const {
    for (const Label& label : layout.labels) {
        if (!label.leader.isNull()) {
            painter.setPen(QPen(label.ink, 1.0));
            painter.drawLine(label.leader);
        }
        QColor behind = colours().paper;
        behind.setAlpha(225);
        painter.fillRect(label.box.adjusted(-1.0, 2.0, 1.0, -2.0), behind);
        painter.setFont(looks::font(looks::k_text, label.bold));
        painter.setPen(label.ink);
        painter.drawText(label.box, Qt::AlignVCenter | Qt::AlignLeft | Qt::TextSingleLine, label.text);
        if (label.state) {
            const double side = k_line - 4.0;
            looks::draw_shape(painter,
                              QRectF(label.box.right() - side, label.box.center().y() - side / 2.0, side, side),
                              *label.state, tone());
        }
    }
}

void StripDrawing::draw_front(QPainter& painter, const QSizeF& sheet) const {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    if (const auto scale = scale_of(sheet)) {
        const QRectF place = place_box(sheet);
        draw_stations(painter, *scale, place);
        if (along_mm_) {
            draw_plumb(painter, *scale, place);
        }
    }
    draw_words(painter, sheet);
    painter.restore();
}

void StripDrawing::draw_stations(QPainter& painter, const StripScale& scale, const QRectF& place) const {
    std::vector<QRectF> taken{place.adjusted(-k_gap, 0.0, k_gap, 0.0)};
    for (const StripStation& station : picture_.ground.stations) {
        const bool bold = marked({Item::Kind::station, station.name});
        const QString name = text_of(station.name);
        const double width = width_of(name, bold);
        const double left = std::clamp(scale.x(station.along_mm) - width / 2.0, 0.0,
                                       std::max(0.0, scale.plot.right() + k_edge - width));
        const QRectF box(left, k_head - k_line - 2.0, width, k_line);
        if (!free_of(box.adjusted(-3.0, 0.0, 3.0, 0.0), taken)) {
            continue;
        }
        taken.push_back(box);
        painter.setFont(looks::font(looks::k_text, bold));
        painter.setPen(bold ? colours().graphite : colours().pencil);
        painter.drawText(box, Qt::AlignCenter | Qt::TextSingleLine, name);
        if (bold) {
            painter.setPen(QPen(colours().graphite, 2.0));
            painter.drawLine(box.bottomLeft(), box.bottomRight());
        }
    }
}

void StripDrawing::draw_plumb(QPainter& painter, const StripScale& scale, const QRectF& place) const {
    const double x = scale.x(*along_mm_);
    const double end = scale.plot.bottom();
    painter.setPen(QPen(colours().graphite, 1.6));
    painter.drawLine(QPointF(x, place.bottom()), QPointF(x, end - k_bob));
    painter.setBrush(colours().graphite);
    painter.drawPolygon(QPolygonF{
        {QPointF(x - k_bob / 2.0, end - k_bob), QPointF(x + k_bob / 2.0, end - k_bob), QPointF(x, end + 2.0)}});
    painter.setPen(QPen(colours().edge, 1.0));
    painter.setBrush(colours().paper);
    painter.drawRoundedRect(place.adjusted(0.5, 0.5, -0.5, -0.5), place.height() / 2.0, place.height() / 2.0);
    painter.setPen(colours().graphite);
    painter.setFont(looks::font(looks::k_text, true));
    painter.drawText(place, Qt::AlignCenter | Qt::TextSingleLine, place_words_);
}

void StripDrawing::draw_words(QPainter& painter, const QSizeF& sheet) const {
    const double room = sheet.width() - 2.0 * k_edge;
    QString line = said_;
    if (line.isEmpty()) {
        const QString all = words_on(sheet).join(QStringLiteral(" · "));
        line = picture_.empty() ? tr("nothing is drawn along the sill yet") : all;
        for (const QString& lead :
             {tr("unrolled along the sill: side above the fold, underside below"), tr("side above, underside below")}) {
            const QString longer = lead + QStringLiteral(" · ") + all;
            if (!all.isEmpty() && width_of(longer, false) <= room) {
                line = longer;
                break;
            }
        }
    }
    if (!picture_.note.empty()) {
        line = text_of(picture_.note) + QStringLiteral(" · ") + line;
    }
    painter.setFont(looks::font(looks::k_text));
    painter.setPen(said_.isEmpty() ? colours().pencil : colours().graphite);
    painter.drawText(QRectF(k_edge, sheet.height() - k_foot + 2.0, room, k_line),
                     Qt::AlignVCenter | Qt::AlignLeft | Qt::TextSingleLine,
                     metrics(false).elidedText(line, Qt::ElideRight, room));
}

void StripDrawing::paintEvent(QPaintEvent* /*event*/) {
    const double ratio = devicePixelRatioF();
    const QSize pixels = (QSizeF(size()) * ratio).toSize();
    if (ground_.isNull() || ground_.size() != pixels) {
        ground_ = QPixmap(pixels);
        ground_.setDevicePixelRatio(ratio);
        skirt_ = {};
        over_ = {};
        QPainter painter(&ground_);
        draw_ground(painter, QSizeF(size()));
    }
    if (skirt_.isNull()) {
        if (over_.isNull()) {
            over_ = QPixmap(pixels);
            over_.setDevicePixelRatio(ratio);
            over_.fill(Qt::transparent);
            QPainter painter(&over_);
            draw_over(painter, QSizeF(size()));
        }
        skirt_ = ground_;
        QPainter painter(&skirt_);
        draw_skirt(painter, QSizeF(size()));
        painter.drawPixmap(0, 0, over_);
    }
    QPainter painter(this);
    painter.drawPixmap(0, 0, skirt_);
    draw_front(painter, QSizeF(size()));
    if (hasFocus()) {
        painter.setPen(QPen(colours().skirt, 2.0));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(QRectF(rect()).adjusted(1.0, 1.0, -1.0, -1.0));
    }
}

void StripDrawing::changeEvent(QEvent* event) {
    if (event->type() == QEvent::PaletteChange || event->type() == QEvent::FontChange) {
        forget(true, true);
    }
    Paper::changeEvent(event);
}

void StripDrawing::resizeEvent(QResizeEvent* event) {
    Paper::resizeEvent(event);
    forget(true, true);
    emit place_moved();
}

// What a person does.

Item StripDrawing::line_at(const StripScale& scale, const QPointF& at) const {
    const StripLine* nearest = nullptr;
    double least = k_line_reach;
    for (const auto* lines : {&picture_.lines, &picture_.ground.body}) {
        for (const StripLine& line : *lines) {
            for (std::size_t i = 0; !line.nodes.empty() && i + 1 < line.points_mm.size(); ++i) {
                const double off = distance(at, scale.at(line.points_mm[i]), scale.at(line.points_mm[i + 1]));
                if (off < least) {
                    least = off;
                    nearest = &line;
                }
            }
        }
    }
    Item item;
    if (nearest != nullptr) {
        item = {Item::Kind::node, nearest_node(*nearest, scale.along_at(at.x()))->id};
    }
    for (const StripDoor& door : picture_.ground.doors) {
        for (std::size_t i = 0; i + 1 < door.outline_mm.size(); ++i) {
            const double off = distance(at, scale.at(door.outline_mm[i]), scale.at(door.outline_mm[i + 1]));
            if (off < least) {
                least = off;
                item = {Item::Kind::door, door.name};
            }
        }
    }
    return item;
}

Item StripDrawing::item_at(const QPointF& at) const {
    const auto scale = scale_of(QSizeF(size()));
    if (!scale) {
        return {};
    }
    if (at.y() < k_head) {
        const StripStation* nearest = nullptr;
        double least = k_reach;
        for (const StripStation& station : picture_.ground.stations) {
            const double off = std::abs(scale->x(station.along_mm) - at.x());
            if (off < least) {
                least = off;
                nearest = &station;
            }
        }
        return nearest != nullptr ? Item{Item::Kind::station, nearest->name} : Item{};
    }
    const MountScale mounts = mount_scale(*scale);
    for (const StripMount& mount : picture_.mounts) {
        const QPointF off = at - scale->at(mount.at_mm);
        const QSizeF half = mount_half_size(mount, mounts);
        if (std::abs(off.x()) <= half.width() + k_line_reach && std::abs(off.y()) <= half.height() + k_line_reach) {
            return {Item::Kind::mount, mount.name};
        }
    }
    for (const Label& label : layout(*scale, QSizeF(size())).labels) {
        if (label.item && label.box.contains(at)) {
            return label.item;
        }
    }
    if (const Item line = line_at(*scale, at)) {
        return line;
    }
    for (const StripKeepOut& keep_out : picture_.keep_outs) {
        if (box_of(keep_out, *scale).adjusted(-2.0, -2.0, 2.0, 2.0).contains(at)) {
            return {Item::Kind::keep_out, keep_out.name};
        }
    }
    return {};
}

double StripDrawing::along_of(const Item& item, double along_mm) const {
    for (const StripStation& station : picture_.ground.stations) {
        if (item == Item{Item::Kind::station, station.name}) {
            return station.along_mm;
        }
    }
    for (const StripMount& mount : picture_.mounts) {
        if (item == Item{Item::Kind::mount, mount.name}) {
            return mount.at_mm.x();
        }
    }
    for (const auto* lines : {&picture_.lines, &picture_.ground.body}) {
        for (const StripLine& line : *lines) {
            for (const StripNode& node : line.nodes) {
                if (item == Item{Item::Kind::node, node.id}) {
                    return node.along_mm;
                }
            }
        }
    }
    for (const StripKeepOut& keep_out : picture_.keep_outs) {
        if (item == Item{Item::Kind::keep_out, keep_out.name}) {
            return std::clamp(along_mm, keep_out.from_mm.x(), keep_out.to_mm.x());
        }
    }
    return std::clamp(along_mm, picture_.ground.front_mm, picture_.ground.rear_mm);
}

bool StripDrawing::over_plumb(const QPointF& at) const {
    const auto scale = scale_of(QSizeF(size()));
    if (!scale || !along_mm_ || at.y() < k_head) {
        return false;
    }
    const bool at_bob = at.y() > scale->plot.bottom() - k_bob - k_line_reach;
    return std::abs(at.x() - scale->x(*along_mm_)) <= (at_bob ? k_reach : k_plumb_reach);
}

void StripDrawing::go_to_pointer(const QPointF& at) {
    if (const auto scale = scale_of(QSizeF(size()))) {
        emit went(std::clamp(scale->along_at(at.x()), picture_.ground.front_mm, picture_.ground.rear_mm));
    }
}

void StripDrawing::mousePressEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton) {
        return;
    }
    const QPointF at = event->position();
    pressed_ = at;
    dragging_ = false;
    if (!over_plumb(at) && !item_at(at)) {
        dragging_ = true;
        go_to_pointer(at);
    }
}

void StripDrawing::mouseMoveEvent(QMouseEvent* event) {
    const QPointF at = event->position();
    if (!pressed_) {
        point_at(at);
        return;
    }
    if (!dragging_ && over_plumb(*pressed_) && std::abs(at.x() - pressed_->x()) >= k_drag_starts) {
        dragging_ = true;
    }
    if (dragging_) {
        go_to_pointer(at);
    }
}

void StripDrawing::mouseReleaseEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton || !pressed_) {
        return;
    }
    const QPointF at = *pressed_;
    pressed_.reset();
    const auto scale = scale_of(QSizeF(size()));
    if (std::exchange(dragging_, false) || !scale) {
        return;
    }
    if (const Item item = item_at(at)) {
        emit chose(item, along_of(item, scale->along_at(at.x())));
    }
}

void StripDrawing::point_at(const QPointF& at) {
    const auto scale = scale_of(QSizeF(size()));
    if (!scale) {
        return;
    }
    const Item item = item_at(at);
    setCursor(over_plumb(at) ? Qt::SplitHCursor : item ? Qt::PointingHandCursor : Qt::ArrowCursor);
    const double along = std::clamp(scale->along_at(at.x()), picture_.ground.front_mm, picture_.ground.rear_mm);
    emit pointed(item, along, scale->height_at(at.y()));
}

void StripDrawing::leaveEvent(QEvent* event) {
    Paper::leaveEvent(event);
    emit pointer_left();
}

void StripDrawing::keyPressEvent(QKeyEvent* event) {
    const StripGround& ground = picture_.ground;
    if (picture_.empty()) {
        Paper::keyPressEvent(event);
        return;
    }
    const double from = along_mm_.value_or(ground.front_mm);
    const auto go = [&](double along_mm) { emit went(std::clamp(along_mm, ground.front_mm, ground.rear_mm)); };
    switch (event->key()) {
        case Qt::Key_Left:
            go(from - k_key_step_mm);
            break;
        case Qt::Key_Right:
            go(from + k_key_step_mm);
            break;
        case Qt::Key_PageUp:
            emit stepped(-1);
            break;
        case Qt::Key_PageDown:
            emit stepped(1);
            break;
        case Qt::Key_Home:
            go(ground.front_mm);
            break;
        case Qt::Key_End:
            go(ground.rear_mm);
            break;
        default:
            Paper::keyPressEvent(event);
    }
}

void StripDrawing::focusInEvent(QFocusEvent* event) {
    Paper::focusInEvent(event);
    update();
}

void StripDrawing::focusOutEvent(QFocusEvent* event) {
    Paper::focusOutEvent(event);
    update();
}

}  // namespace sillwright::app
