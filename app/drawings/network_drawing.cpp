#include "app/drawings/network_drawing.h"

#include <QFontMetricsF>
#include <QKeyEvent>
#include <QMouseEvent>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "app/length_words.h"
#include "app/text_of.h"

namespace sillwright::app {

using core::survey::PointKind;
using Eigen::Vector3d;

namespace {

constexpr double k_edge = 12.0;
constexpr double k_row = 24.0;           ///< A line of text.
constexpr double k_lacks_width = 250.0;  ///< Column of what cannot be placed.
constexpr double k_reach = 20.0;         ///< A point is pressed within this of its middle: gloves on.
constexpr double k_line_reach = 7.0;
constexpr double k_dot = 4.5;
constexpr double k_mark = 7.0;
constexpr std::array k_views{NetworkView::plan, NetworkView::side};
/// With more lines than that, names keep free of ellipses and of each other alone.
constexpr std::size_t k_most_lines_to_avoid = 60;
constexpr double k_a_turn = 1.25;  ///< One notch of the wheel looks so many times closer.
constexpr double k_turn_units = 120.0;
constexpr double k_closest = 30.0;
constexpr int k_faint = 170;  ///< Of 255: ties stand behind what they make.
constexpr int k_faint_of_many = 80;
constexpr double k_bar_words = 100.0;      ///< "1000 mm" behind the scale's bar.
constexpr double k_widest_times = 1000.0;  ///< As wide as the number of times gets.

double width_of(const QString& text, bool bold = false) {
    return std::ceil(QFontMetricsF(looks::font(looks::k_text, bold)).horizontalAdvance(text)) + 2.0;
}

double text_height(const QString& text, double width, bool bold = false) {
    return std::ceil(QFontMetricsF(looks::font(looks::k_text, bold))
                         .boundingRect(QRectF(0.0, 0.0, width, 1e4), Qt::TextWordWrap, text)
                         .height());
}

QString view_words(NetworkView view) {
    return view == NetworkView::plan ? QObject::tr("from above · out ↓ · rearward →")
                                     : QObject::tr("from the side · up ↑ · rearward →");
}

QRectF view_words_box(const NetworkScale& scale, NetworkView view) {
    const QRectF& box = scale.box(view);
    return {box.left() + k_edge, box.top() + 1.0, width_of(view_words(view)), k_row - 4.0};
}

/// One, two or five times a power of ten that is near a sixth of the width.
double bar_length_mm(double width, double pixels) {
    const double rough = width / 6.0 / pixels;
    const double power = std::pow(10.0, std::floor(std::log10(rough)));
    return rough >= 5.0 * power ? 5.0 * power : rough >= 2.0 * power ? 2.0 * power : power;
}

double distance_to(const QPointF& at, const QPointF& a, const QPointF& b) {
    const QPointF run = b - a;
    const double squared = QPointF::dotProduct(run, run);
    const double part = squared > 0.0 ? std::clamp(QPointF::dotProduct(at - a, run) / squared, 0.0, 1.0) : 0.0;
    return QLineF(at, a + part * run).length();
}

/// Nothing is drawn out of a view while it stands.
class Within {
public:
    Within(QPainter& painter, const QRectF& box) : painter_{painter} {
        painter_.save();
        painter_.setClipRect(box, Qt::IntersectClip);
    }
    Within(const Within&) = delete;
    Within& operator=(const Within&) = delete;
    ~Within() { painter_.restore(); }

private:
    QPainter& painter_;
};

QString head_words(const NetworkPicture& picture) {
    return text_of(picture.suspect);
}

QString next_words(const NetworkPicture& picture) {
    return picture.next ? QObject::tr("next: %1").arg(text_of(picture.next->words)) : QString();
}

QString foot_words(const NetworkPicture& picture, double times) {
    QStringList words;
    if (times > 1.0) {
        words << QObject::tr("95 % ellipses drawn %1 times larger").arg(times);
    } else {
        words << QObject::tr("95 % ellipses at true size");
    }
    for (const std::string& lean : picture.leans) {
        words << text_of(lean);
    }
    return words.join(QStringLiteral(" · "));
}

}  // namespace

NetworkDrawing::NetworkDrawing(QWidget* parent) : Paper(parent) {
    setObjectName(QStringLiteral("networkDrawing"));
    setAccessibleName(tr("The measured points from above and from the side"));
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
}

void NetworkDrawing::set_picture(NetworkPicture picture) {
    if (picture == picture_) {
        return;
    }
    picture_ = std::move(picture);
    layout_.reset();
    setAccessibleDescription(
        QStringList{tr("%n point(s) placed", nullptr, static_cast<int>(picture_.points.size())),
                    tr("%n point(s) lack readings", nullptr, static_cast<int>(picture_.lacking.size())),
                    head_words(picture_), next_words(picture_)}
            .join(QStringLiteral(". ")));
    update();
}

void NetworkDrawing::set_marked(const Item& chosen, const Item& pointed) {
    if (chosen != chosen_ || pointed != pointed_) {
        chosen_ = chosen;
        pointed_ = pointed;
        update();
    }
}

QString NetworkDrawing::title() const {
    return tr("measured network");
}

// Where things are.

NetworkDrawing::Layout NetworkDrawing::lay_out(const QSizeF& sheet) const {
    Layout layout;
    layout.sheet = sheet;
    double top = 4.0;
    for (const QString& words : {head_words(picture_), next_words(picture_)}) {
        top += words.isEmpty() ? 0.0 : k_row;
    }
    // Beside the scale's bar, which is a sixth of the width at most.
    const double foot_left = k_edge + sheet.width() / 6.0 + k_bar_words;
    const double foot_wide = std::max(1.0, sheet.width() - foot_left - k_edge);
    const double foot = text_height(foot_words(picture_, k_widest_times), foot_wide) + 8.0;
    layout.foot = QRectF(foot_left, sheet.height() - foot, foot_wide, foot);
    const double lacks = picture_.lacking.empty() ? 0.0 : std::min(k_lacks_width, 0.36 * sheet.width());
    layout.drawing = QRectF(0.0, top, sheet.width() - lacks, std::max(1.0, sheet.height() - top - foot));
    layout.lacks = QRectF(sheet.width() - lacks, top, lacks, layout.drawing.height());
    if (picture_.points.empty()) {
        return layout;
    }
    layout.scale = network_scale(picture_, layout.drawing);
    if (closer_ > 1.0) {
        layout.scale = closer(*layout.scale, closer_, middle_mm_);
    }
    const std::size_t names = picture_.points.size() + picture_.mirrors.size();
    for (const NetworkView view : k_views) {
        // Names that stood well stay where they were, so that a new reading does not shuffle them.
        std::vector<LabelPlace> before;
        if (layout_ && layout_->sheet == sheet && layout_->names.size() == 2 * names) {
            const auto from = layout_->names.begin() + static_cast<std::ptrdiff_t>(layout.names.size());
            before.assign(from, from + static_cast<std::ptrdiff_t>(names));
        }
        const std::vector<LabelPlace> here = place_names(*layout.scale, view, before);
        layout.names.insert(layout.names.end(), here.begin(), here.end());
    }
    return layout;
}

bool NetworkDrawing::readable(const LabelPlace& name) const {
    // Where there are many lines only points and the thick ones count as such.
    return !name.covers_text() && (picture_.lines.size() <= k_most_lines_to_avoid || !name.covers_line());
}

std::vector<LabelPlace> NetworkDrawing::place_names(const NetworkScale& scale, NetworkView view,
                                                    const std::vector<LabelPlace>& before) const {
    std::vector<LabelWish> wishes;
    std::vector<QLineF> lines;
    const QRectF words = view_words_box(scale, view);
    lines.emplace_back(words.left(), words.center().y(), words.right(), words.center().y());
    std::vector<std::size_t> seen;  // which names the wishes are
    std::size_t number = 0;
    const auto wish = [&](const QPointF& at, const QString& name, bool bold) {
        if (scale.box(view).contains(at)) {
            wishes.push_back({{at}, QSizeF(width_of(name, bold), k_row - 5.0), {}});
            lines.emplace_back(at - QPointF(k_dot, 0.0), at + QPointF(k_dot, 0.0));
            if (number < before.size() && !before[number].box.isNull()) {
                wishes.back().held = before[number].held();
            }
            seen.push_back(number);
        }
        ++number;
    };
    for (const NetworkPoint& point : picture_.points) {
        wish(scale.at(view, point.at_mm), text_of(point.name), point.mount);
    }
    for (const NetworkMirror& mirror : picture_.mirrors) {
        wish(scale.at(view, mirror.there_mm), tr("%1 or here?").arg(text_of(mirror.name)), false);
    }
    for (const NetworkLine& line : picture_.lines) {
        if (picture_.lines.size() <= k_most_lines_to_avoid || line.suspect) {
            lines.emplace_back(scale.at(view, line.from_mm), scale.at(view, line.to_mm));
        }
    }
    for (std::size_t i = 1; picture_.next && i < picture_.next->over_mm.size(); ++i) {
        lines.emplace_back(scale.at(view, picture_.next->over_mm[i - 1]), scale.at(view, picture_.next->over_mm[i]));
    }
    const std::vector<LabelPlace> placed = place_labels(wishes, lines, scale.box(view));
    std::vector<LabelPlace> all(number);  // what is not seen has no box
    for (std::size_t i = 0; i < placed.size(); ++i) {
        all[seen[i]] = placed[i];
    }
    return all;
}

const NetworkDrawing::Layout& NetworkDrawing::layout_for(const QSizeF& sheet) const {
    if (!layout_ || layout_->sheet != sheet) {
        layout_ = lay_out(sheet);
    }
    return *layout_;
}

std::optional<QPointF> NetworkDrawing::place_of(const std::string& point, NetworkView view) const {
    const Layout& layout = layout_for(QSizeF(size()));
    for (const NetworkPoint& one : picture_.points) {
        if (one.name == point && layout.scale) {
            return layout.scale->at(view, one.at_mm);
        }
    }
    return std::nullopt;
}

std::vector<QRectF> NetworkDrawing::name_boxes() const {
    std::vector<QRectF> boxes;
    for (const LabelPlace& name : layout_for(QSizeF(size())).names) {
        if (readable(name) && !name.box.isNull()) {
            boxes.push_back(name.box);
        }
    }
    return boxes;
}

double NetworkDrawing::exaggeration() const {
    const Layout& layout = layout_for(QSizeF(size()));
    return layout.scale ? layout.scale->ellipses : 1.0;
}

Item NetworkDrawing::item_at(const QPointF& at) const {
    const Layout& layout = layout_for(QSizeF(size()));
    if (!layout.scale) {
        return {};
    }
    Item found;
    double best = k_reach;
    for (const NetworkView view : k_views) {
        if (!layout.scale->box(view).contains(at)) {
            continue;
        }
        for (const NetworkPoint& point : picture_.points) {
            if (const double off = QLineF(at, layout.scale->at(view, point.at_mm)).length(); off < best) {
                best = off;
                found = {Item::Kind::point, point.name};
            }
        }
    }
    if (found) {
        return found;
    }
    best = k_line_reach;
    for (const NetworkView view : k_views) {
        if (!layout.scale->box(view).contains(at)) {
            continue;
        }
        for (const NetworkLine& line : picture_.lines) {
            const double off =
                distance_to(at, layout.scale->at(view, line.from_mm), layout.scale->at(view, line.to_mm));
            if (off < best) {
                best = off;
                found = {Item::Kind::reading, line.reading};
            }
        }
    }
    return found;
}

// Drawing.

void NetworkDrawing::draw(QPainter& painter, const QSizeF& sheet) const {
    const Layout& layout = layout_for(sheet);
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(QRectF({}, sheet), colours().paper);
    draw_head(painter, layout);
    if (layout.scale) {
        draw_lines(painter, *layout.scale);
        draw_ellipses(painter, *layout.scale);
        draw_mirrors(painter, *layout.scale);
        draw_points(painter, *layout.scale);
        draw_names(painter, layout);
        draw_foot(painter, layout);
    } else {
        draw_problems(painter, layout.drawing);
    }
    draw_lacking(painter, layout.lacks);
    painter.restore();
}

void NetworkDrawing::draw_head(QPainter& painter, const Layout& layout) const {
    const double wide = layout.sheet.width() - 2.0 * k_edge - k_row;
    const QFontMetricsF metrics(looks::font(looks::k_text));
    double top = 4.0;
    painter.setFont(looks::font(looks::k_text));
    const auto write = [&](const QString& words) {
        painter.drawText(QRectF(k_edge + k_row, top, wide, k_row), Qt::AlignVCenter | Qt::AlignLeft,
                         metrics.elidedText(words, Qt::ElideRight, wide));
        top += k_row;
    };
    if (const QString words = head_words(picture_); !words.isEmpty()) {
        looks::draw_shape(painter, QRectF(k_edge, top + 4.0, 16.0, 16.0), core::State::falls_short, tone());
        painter.setPen(looks::text_colour(core::State::falls_short, tone()));
        write(words);
    }
    if (const QString words = next_words(picture_); !words.isEmpty()) {
        painter.setPen(QPen(colours().skirt, 2.4, Qt::DashLine));
        painter.drawLine(QPointF(k_edge, top + k_row / 2.0), QPointF(k_edge + k_row - 4.0, top + k_row / 2.0));
        painter.setPen(colours().graphite);
        write(words);
    }
}

void NetworkDrawing::draw_lines(QPainter& painter, const NetworkScale& scale) const {
    const auto stroke = [&](const NetworkLine& line) {
        for (const NetworkView view : k_views) {
            const Within within(painter, scale.box(view));
            painter.drawLine(scale.at(view, line.from_mm), scale.at(view, line.to_mm));
        }
    };
    for (const NetworkLine& line : picture_.lines) {
        painter.setPen(
            QPen(line.dropped ? colours().edge : colours().pencil, 0.8, line.dropped ? Qt::DotLine : Qt::SolidLine));
        stroke(line);
    }
    for (const NetworkLine& line : picture_.lines) {
        const Item item{Item::Kind::reading, line.reading};
        if (line.suspect) {
            painter.setPen(QPen(looks::shape_colour(core::State::falls_short, tone()), 4.0));
            stroke(line);
        } else if (item == chosen_ || item == pointed_) {
            painter.setPen(QPen(colours().graphite, item == chosen_ ? 3.0 : 2.0));
            stroke(line);
        }
    }
    if (picture_.next) {
        painter.setPen(QPen(colours().skirt, 2.4, Qt::DashLine));
        for (const NetworkView view : k_views) {
            const Within within(painter, scale.box(view));
            for (std::size_t i = 1; i < picture_.next->over_mm.size(); ++i) {
                painter.drawLine(scale.at(view, picture_.next->over_mm[i - 1]),
                                 scale.at(view, picture_.next->over_mm[i]));
            }
        }
    }
}

void NetworkDrawing::draw_ellipses(QPainter& painter, const NetworkScale& scale) const {
    QColor fill = colours().pencil;
    fill.setAlpha(50);
    painter.setPen(QPen(colours().pencil, 1.0));
    painter.setBrush(fill);
    for (const NetworkView view : k_views) {
        const Within within(painter, scale.box(view));
        for (const NetworkPoint& point : picture_.points) {
            const Ellipse ellipse = ellipse_95(view, point.covariance_mm2, scale.pixels * scale.ellipses);
            if (ellipse.longer > 0.5) {
                painter.save();
                painter.translate(scale.at(view, point.at_mm));
                painter.rotate(ellipse.turned_deg);
                painter.drawEllipse(QPointF(), ellipse.longer, ellipse.shorter);
                painter.restore();
            }
        }
    }
    painter.setBrush(Qt::NoBrush);
}

void NetworkDrawing::draw_points(QPainter& painter, const NetworkScale& scale) const {
    for (const NetworkView view : k_views) {
        const Within within(painter, scale.box(view));
        for (const NetworkPoint& point : picture_.points) {
            const QPointF at = scale.at(view, point.at_mm);
            draw_point(painter, at, point);
            const Item item{Item::Kind::point, point.name};
            if (item == chosen_ || item == pointed_) {
                painter.setPen(QPen(colours().graphite, item == chosen_ ? 2.5 : 1.2));
                painter.setBrush(Qt::NoBrush);
                painter.drawEllipse(at, k_mark + 5.0, k_mark + 5.0);
            }
        }
    }
}

/// A mark is a cross, a clip hole a ring with its centre cross, a target a square, a profile's point a short tick.
void NetworkDrawing::draw_point(QPainter& painter, const QPointF& at, const NetworkPoint& point) const {
    const auto cross = [&](double half) {
        painter.drawLine(at - QPointF(half, 0.0), at + QPointF(half, 0.0));
        painter.drawLine(at - QPointF(0.0, half), at + QPointF(0.0, half));
    };
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(colours().graphite, 1.6));
    switch (point.kind) {
        case PointKind::mark:
            cross(k_mark);
            break;
        case PointKind::mount:
            painter.setPen(QPen(point.mount ? colours().skirt : colours().graphite, point.mount ? 2.4 : 1.6));
            painter.drawEllipse(at, k_dot, k_dot);
            cross(k_dot + 1.5);
            break;
        case PointKind::door_target:
            painter.setPen(QPen(colours().door, 1.8));
            painter.drawRect(QRectF(at - QPointF(k_dot, k_dot), QSizeF(2.0 * k_dot, 2.0 * k_dot)));
            break;
        case PointKind::profile:
            painter.drawLine(at - QPointF(0.0, k_dot), at + QPointF(0.0, k_dot));
            break;
        case PointKind::other:
            painter.drawEllipse(at, 0.6 * k_dot, 0.6 * k_dot);
            break;
    }
}

void NetworkDrawing::draw_mirrors(QPainter& painter, const NetworkScale& scale) const {
    painter.setPen(QPen(looks::text_colour(core::State::close, tone()), 1.8, Qt::DashLine));
    painter.setBrush(Qt::NoBrush);
    for (const NetworkView view : k_views) {
        const Within within(painter, scale.box(view));
        for (const NetworkMirror& mirror : picture_.mirrors) {
            const QPointF there = scale.at(view, mirror.there_mm);
            painter.drawLine(scale.at(view, mirror.here_mm), there);
            painter.drawEllipse(there, k_mark, k_mark);
        }
    }
}

void NetworkDrawing::draw_names(QPainter& painter, const Layout& layout) const {
    const auto write = [&](const LabelPlace& place, const QString& text, bool bold, const QColor& colour, bool wanted) {
        if (place.box.isNull() || (!wanted && !readable(place))) {
            return;
        }
        if (place.far) {
            painter.setPen(QPen(colours().pencil, 0.8));
            painter.drawLine(leader(place.box, place.at));
        }
        if (place.covers_text()) {
            painter.fillRect(place.box, colours().paper);
        }
        painter.setFont(looks::font(looks::k_text, bold));
        painter.setPen(colour);
        painter.drawText(place.box, Qt::AlignCenter | Qt::TextDontClip | Qt::TextSingleLine, text);
    };
    std::size_t next = 0;
    for ([[maybe_unused]] const NetworkView view : k_views) {
        for (const NetworkPoint& point : picture_.points) {
            const Item item{Item::Kind::point, point.name};
            write(layout.names[next++], text_of(point.name), point.mount,
                  point.mount ? colours().skirt : colours().graphite, item == chosen_ || item == pointed_);
        }
        for (const NetworkMirror& mirror : picture_.mirrors) {
            write(layout.names[next++], tr("%1 or here?").arg(text_of(mirror.name)), false,
                  looks::text_colour(core::State::close, tone()), true);
        }
    }
    painter.setFont(looks::font(looks::k_text));
    painter.setPen(colours().pencil);
    for (const NetworkView view : k_views) {
        painter.drawText(view_words_box(*layout.scale, view), Qt::AlignLeft | Qt::AlignVCenter | Qt::TextDontClip,
                         view_words(view));
    }
    painter.setPen(QPen(colours().edge, 1.0));
    painter.drawLine(layout.scale->side.topLeft(), layout.scale->side.topRight());
}

void NetworkDrawing::draw_foot(QPainter& painter, const Layout& layout) const {
    const NetworkScale& scale = *layout.scale;
    const double y = layout.foot.top() + k_row / 2.0;
    const double mm = bar_length_mm(layout.sheet.width(), scale.pixels);
    const double from = k_edge;
    const double to = from + mm * scale.pixels;
    painter.setPen(QPen(colours().graphite, 1.6));
    painter.drawLine(QPointF(from, y), QPointF(to, y));
    for (const double x : {from, to}) {
        painter.drawLine(QPointF(x, y - 5.0), QPointF(x, y + 5.0));
    }
    painter.setFont(looks::font(looks::k_text));
    painter.setPen(colours().graphite);
    const QString length =
        text_of(shortest_words(geometry::millimetres(mm), picture_.unit) + " " + unit_word(picture_.unit));
    const double behind = to + 8.0;
    painter.drawText(QPointF(behind, y + 6.0), length);
    painter.setPen(colours().pencil);
    painter.drawText(layout.foot.adjusted(0.0, 2.0, 0.0, 0.0), Qt::TextWordWrap, foot_words(picture_, scale.ellipses));
}

void NetworkDrawing::draw_lacking(QPainter& painter, const QRectF& room) const {
    if (room.width() <= 0.0) {
        return;
    }
    painter.setPen(QPen(colours().edge, 1.0));
    painter.drawLine(room.topLeft(), room.bottomLeft());
    painter.setFont(looks::font(looks::k_text));
    const double wide = room.width() - 2.0 * k_edge - k_row;
    double top = room.top() + 4.0;
    std::size_t said = 0;
    for (const NetworkLack& lack : picture_.lacking) {
        const QString words = text_of(lack.words);
        const double high = text_height(words, wide);
        const bool last = said + 1 == picture_.lacking.size();
        if (top + high + (last ? 0.0 : k_row) > room.bottom()) {
            break;
        }
        looks::draw_shape(painter, QRectF(room.left() + k_edge, top + 2.0, 16.0, 16.0), core::State::not_measured,
                          tone());
        painter.setPen(colours().graphite);
        painter.drawText(QRectF(room.left() + k_edge + k_row, top, wide, high), Qt::TextWordWrap, words);
        top += high + 6.0;
        ++said;
    }
    if (said < picture_.lacking.size()) {
        painter.setPen(colours().pencil);
        painter.drawText(QRectF(room.left() + k_edge, room.bottom() - k_row, room.width() - k_edge, k_row),
                         Qt::AlignVCenter | Qt::AlignLeft,
                         tr("%n more lack readings", nullptr, static_cast<int>(picture_.lacking.size() - said)));
    }
}

void NetworkDrawing::draw_problems(QPainter& painter, const QRectF& room) const {
    painter.setFont(looks::font(looks::k_text));
    const QRectF box = room.adjusted(k_edge, 8.0, -k_edge, -8.0);
    double top = box.top();
    painter.setPen(colours().graphite);
    painter.drawText(box, Qt::AlignTop | Qt::AlignLeft | Qt::TextWordWrap, tr("No point is placed yet."));
    top += k_row;
    for (const std::string& problem : picture_.problems) {
        const double high = text_height(text_of(problem), box.width() - k_row);
        looks::draw_shape(painter, QRectF(box.left(), top + 2.0, 16.0, 16.0), core::State::not_measured, tone());
        painter.setPen(colours().graphite);
        painter.drawText(QRectF(box.left() + k_row, top, box.width() - k_row, high), Qt::TextWordWrap,
                         text_of(problem));
        top += high + 6.0;
    }
}

void NetworkDrawing::paintEvent(QPaintEvent* event) {
    Paper::paintEvent(event);
    if (hasFocus()) {
        QPainter painter(this);
        painter.setPen(QPen(colours().skirt, 2.0));
        painter.drawRect(QRectF(rect()).adjusted(1.0, 1.0, -1.0, -1.0));
    }
}

// What a person does.

void NetworkDrawing::mousePressEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton) {
        return;
    }
    if (const Item item = item_at(event->position())) {
        emit chose(item);
    } else if (closer_ > 1.0) {
        held_at_ = event->position();
        setCursor(Qt::ClosedHandCursor);
    }
}

void NetworkDrawing::mouseMoveEvent(QMouseEvent* event) {
    const Layout& layout = layout_for(QSizeF(size()));
    if (held_at_ && layout.scale) {
        const NetworkView view = layout.scale->plan.contains(*held_at_) ? NetworkView::plan : NetworkView::side;
        const Vector3d off_mm =
            layout.scale->mm_at(view, *held_at_, middle_mm_) - layout.scale->mm_at(view, event->position(), middle_mm_);
        held_at_ = event->position();
        look_at(closer_, middle_mm_ + off_mm);
        return;
    }
    const Item item = item_at(event->position());
    emit pointed(item);
    setCursor(item ? Qt::PointingHandCursor : closer_ > 1.0 ? Qt::OpenHandCursor : Qt::ArrowCursor);
}

void NetworkDrawing::mouseReleaseEvent(QMouseEvent* /*event*/) {
    held_at_.reset();
}

void NetworkDrawing::mouseDoubleClickEvent(QMouseEvent* event) {
    if (!item_at(event->position())) {
        look_at(1.0, middle_mm_);
    }
}

void NetworkDrawing::wheelEvent(QWheelEvent* event) {
    look_closer(std::pow(k_a_turn, event->angleDelta().y() / k_turn_units), event->position());
    event->accept();
}

void NetworkDrawing::look_closer(double times, const QPointF& at) {
    const Layout& layout = layout_for(QSizeF(size()));
    if (!layout.scale) {
        return;
    }
    const double now = std::clamp(closer_ * times, 1.0, k_closest);
    const NetworkView view = layout.scale->plan.contains(at) ? NetworkView::plan : NetworkView::side;
    const Vector3d middle = layout.scale->middle_mm();
    const Vector3d fixed = layout.scale->mm_at(view, at, middle);
    look_at(now, fixed + (middle - fixed) * (closer_ / now));
}

void NetworkDrawing::look_at(double times, const Vector3d& middle_mm) {
    closer_ = times;
    middle_mm_ = middle_mm;
    layout_.reset();
    update();
}

void NetworkDrawing::leaveEvent(QEvent* event) {
    Paper::leaveEvent(event);
    emit pointed({});
}

void NetworkDrawing::keyPressEvent(QKeyEvent* event) {
    const QPointF middle(width() / 2.0, height() / 2.0);
    if (event->matches(QKeySequence::ZoomIn) || event->matches(QKeySequence::ZoomOut)) {
        look_closer(event->matches(QKeySequence::ZoomIn) ? k_a_turn : 1.0 / k_a_turn, middle);
    } else if (event->key() == Qt::Key_Home) {
        look_at(1.0, middle_mm_);
    } else if (event->key() == Qt::Key_Left || event->key() == Qt::Key_Up) {
        step(false);
    } else if (event->key() == Qt::Key_Right || event->key() == Qt::Key_Down) {
        step(true);
    } else {
        Paper::keyPressEvent(event);
    }
}

/// From point to point along the car.
void NetworkDrawing::step(bool on) {
    std::vector<const NetworkPoint*> order;
    for (const NetworkPoint& point : picture_.points) {
        order.push_back(&point);
    }
    if (order.empty()) {
        return;
    }
    std::stable_sort(order.begin(), order.end(),
                     [](const NetworkPoint* a, const NetworkPoint* b) { return a->at_mm.x() < b->at_mm.x(); });
    const auto here = std::find_if(order.begin(), order.end(), [this](const NetworkPoint* point) {
        return Item{Item::Kind::point, point->name} == chosen_;
    });
    auto to = order.begin();
    if (here != order.end()) {
        const auto last = static_cast<std::ptrdiff_t>(order.size()) - 1;
        to += std::clamp<std::ptrdiff_t>(here - order.begin() + (on ? 1 : -1), 0, last);
    }
    emit chose({Item::Kind::point, (*to)->name});
}

void NetworkDrawing::focusInEvent(QFocusEvent* event) {
    Paper::focusInEvent(event);
    update();
}

void NetworkDrawing::focusOutEvent(QFocusEvent* event) {
    Paper::focusOutEvent(event);
    update();
}

}  // namespace sillwright::app
