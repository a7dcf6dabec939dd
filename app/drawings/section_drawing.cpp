#include "app/drawings/section_drawing.h"

#include <QContextMenuEvent>
#include <QCoreApplication>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPushButton>
#include <QScopedValueRollback>
#include <QTextOption>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "app/drawings/number_field.h"
#include "app/length_words.h"
#include "app/looks.h"

namespace sillwright::app {

using core::NodeNumber;
using Eigen::Vector2d;

namespace {

/// Within this of a point or a line a press means it, pixels.
/// Room for names beside the section, where something covers a corner of the paper.
constexpr double k_names_px = 70.0;
constexpr double k_reach_of_point = 20.0;
constexpr double k_reach_of_line = 7.0;
/// A hand that trembles does not drag.
constexpr double k_still_px = 4.0;
constexpr double k_zoom_step = 1.25;
constexpr double k_wheel_notch = 120.0;
constexpr double k_pan_px = 40.0;
/// The view is kept from place to place unless the section would fit this much larger.
constexpr double k_much_larger = 1.3;
constexpr double k_hardly = 1.001;

double distance(const QPointF& p, const QPointF& a, const QPointF& b) {
    const QPointF run = b - a;
    const double length2 = QPointF::dotProduct(run, run);
    const double share = length2 > 0.0 ? std::clamp(QPointF::dotProduct(p - a, run) / length2, 0.0, 1.0) : 0.0;
    return QLineF(p, a + share * run).length();
}

double distance(const QPointF& p, const SectionLine& line, const SectionScale& scale) {
    double least = std::numeric_limits<double>::infinity();
    const std::size_t count = line.points_mm.size();
    for (std::size_t i = 0; i + (line.closed ? 0 : 1) < count; ++i) {
        least = std::min(
            least, distance(p, scale.on_sheet(line.points_mm[i]), scale.on_sheet(line.points_mm[(i + 1) % count])));
    }
    return least;
}

/// The nearest item of lines, of those that are near enough; then what the place is inside of.
Item line_item_at(const SectionPicture& picture, const QPointF& p, const SectionScale& scale) {
    Item best;
    double least = k_reach_of_line;
    for (const SectionLine& line : picture.lines) {
        if (line.item && distance(p, line, scale) < least) {
            least = distance(p, line, scale);
            best = line.item;
        }
    }
    for (const SectionLine& line : picture.lines) {
        if (!best && line.item && line.closed && line.role != SectionRole::door_shut &&
            on_sheet(line, scale).containsPoint(p, Qt::OddEvenFill)) {
            best = line.item;
        }
    }
    return best || !picture.under ? best : line_item_at(*picture.under, p, scale);
}

Item mount_at(const SectionPicture& picture, const QPointF& p, const SectionScale& scale) {
    for (const SectionPoint& point : picture.points) {
        if (point.item.kind == Item::Kind::mount &&
            QLineF(p, scale.on_sheet(point.at_mm)).length() < k_reach_of_point) {
            return point.item;
        }
    }
    return picture.under ? mount_at(*picture.under, p, scale) : Item{};
}

bool begins_number(const QString& text) {
    return text.size() == 1 &&
           (text[0].isDigit() || text == "." || text == "," || text == "-" || text == QChar(0x2212));
}

}  // namespace

SectionDrawing::SectionDrawing(QWidget* parent) : Paper(parent), tag_{new QPushButton(this)} {
    setObjectName(QStringLiteral("sectionDrawing"));
    setAccessibleName(tr("Section at a station"));
    setToolTip(QString());
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    setAttribute(Qt::WA_OpaquePaintEvent);
    fields_ = {new NumberField(QStringLiteral("outNumber"), tr("Out of the node"), this),
               new NumberField(QStringLiteral("upNumber"), tr("Up of the node"), this),
               new NumberField(QStringLiteral("radiusNumber"), tr("Radius of the node"), this)};
    for (NumberField* number : fields_) {
        connect(number, &NumberField::fixed, this, [this] {
            if (fix_number()) {
                end_typing();
            }
        });
        connect(number, &NumberField::given_up, this, &SectionDrawing::end_typing);
        connect(number, &NumberField::passed_on, this, [this] {
            const NodeNumber other = typing_ == NodeNumber::out ? NodeNumber::up : NodeNumber::out;
            if (fix_number()) {
                begin_typing(other, {}, true);
            }
        });
    }
    tag_->setObjectName(QStringLiteral("snapTag"));
    tag_->setFont(looks::font(looks::k_text));
    tag_->setMinimumHeight(looks::k_target);
    tag_->hide();
    connect(tag_, &QPushButton::clicked, this, [this] {
        tag_->hide();
        setFocus(Qt::OtherFocusReason);
        emit let_go();
    });
}

void SectionDrawing::show_section(SectionPicture picture) {
    const bool elsewhere = picture.title != picture_.title || !sentence_.isEmpty();
    picture_ = std::move(picture);
    sentence_.clear();
    setAccessibleDescription(
        QString::fromStdString(picture_.note.empty() ? picture_.title : picture_.title + ". " + picture_.note));
    memory_.keep_magnifier = press_ == Press::dragging;
    if (press_ != Press::dragging) {
        // Names that found no good place before may find one now.
        std::erase_if(memory_.labels, [](const auto& label) { return label.second.cost > 0; });
    }
    if (elsewhere) {
        end_typing();
        fit_anew();
    }
    update();
}

void SectionDrawing::show_sentence(const QString& sentence) {
    picture_ = {};
    sentence_ = sentence;
    setAccessibleDescription(sentence_);
    end_typing();
    tag_->hide();
    update();
}

void SectionDrawing::show_items(const Item& chosen, const Item& pointed) {
    if (chosen != chosen_) {
        end_typing();
        tag_->hide();
    }
    if (chosen != chosen_ || pointed != pointed_) {
        chosen_ = chosen;
        pointed_ = pointed;
        update();
    }
}

void SectionDrawing::show_landing(const std::optional<SectionLanding>& landing) {
    if (landing || landing_) {
        landing_ = landing;
        update();
    }
}

bool SectionDrawing::tag_within_reach() const {
    constexpr int k_way = 60;  // From the point to its tag and round it.
    return tag_->isVisible() && pointer_ &&
           tag_->geometry().adjusted(-k_way, -k_way, k_way, k_way).contains(pointer_->toPoint());
}

void SectionDrawing::show_tag(const Vector2d& at_mm, const QString& drawn_to) {
    if (drawn_to.isEmpty()) {
        tag_->hide();
        return;
    }
    if (tag_->text() != drawn_to) {
        tag_->setText(drawn_to);
        tag_->setAccessibleName(tr("Drawn to %1: press to let go").arg(drawn_to));
        tag_->setToolTip(tr("Press to let go. Shift draws without it."));
        tag_->adjustSize();
    }
    constexpr double k_off = 22.0;
    const QPointF at = on_paper(at_mm);
    const SectionSheet sheet = this->sheet();
    const QRectF magnified = memory_.magnifier ? memory_.magnifier->box() : QRectF();
    const QSizeF size(tag_->size());
    // At the first of the point's four corners where it is on the paper and hides no number.
    QRectF best(at + QPointF(k_off, k_off), size);
    for (const QPointF& corner :
         {QPointF(k_off, k_off), QPointF(-k_off - size.width(), k_off),
          QPointF(-k_off - size.width(), -k_off - size.height()), QPointF(k_off, -k_off - size.height())}) {
        const QRectF box(at + corner, size);
        if (sheet.paper.contains(box) && !box.intersects(magnified) && !box.intersects(sheet.covered)) {
            best = box;
            break;
        }
    }
    tag_->move(best.topLeft().toPoint());
    tag_->show();
}

void SectionDrawing::set_hand(Hand hand) {
    hand_ = hand;
    landing_.reset();
    tag_->hide();
    setCursor(hand == Hand::move ? Qt::ArrowCursor : Qt::CrossCursor);
    update();
}

void SectionDrawing::show_photos(std::vector<PhotoUnder> photos) {
    const auto same = [](const PhotoUnder& a, const PhotoUnder& b) {
        return a.picture.cacheKey() == b.picture.cacheKey() && a.top_left_mm == b.top_left_mm &&
               a.mm_per_pixel == b.mm_per_pixel && a.opacity == b.opacity;
    };
    if (!std::equal(photos.begin(), photos.end(), photos_.begin(), photos_.end(), same)) {
        photos_ = std::move(photos);
        ++photo_number_;
        update();
    }
}

std::vector<const PhotoUnder*> SectionDrawing::all_photos() const {
    std::vector<const PhotoUnder*> all;
    for (const PhotoUnder& photo : photos_) {
        all.push_back(&photo);
    }
    if (photo_) {
        all.push_back(&*photo_);
    }
    return all;
}

void SectionDrawing::lay_photo(const QPixmap& picture) {
    photo_ = picture.isNull() ? std::nullopt : std::optional(laid_out(picture, sheet().field, scale_));
    ++photo_number_;
    update();
}

void SectionDrawing::set_photo_opacity(double opacity) {
    if (photo_) {
        photo_->opacity = opacity;
        ++photo_number_;
        update();
    }
}

void SectionDrawing::scale_photo(const Vector2d& first_mm, const Vector2d& second_mm, double length_mm) {
    if (photo_ && first_mm != second_mm) {
        photo_ = scaled_to(std::move(*photo_), first_mm, second_mm, length_mm);
        ++photo_number_;
        update();
    }
}

QString SectionDrawing::title() const {
    return sentence_.isEmpty() ? QString::fromStdString(picture_.title) : tr("section");
}

SectionSheet SectionDrawing::sheet() const {
    SectionSheet sheet = lay_out(QSizeF(size()), QString::fromStdString(picture_.title));
    if (!free_corner_.isEmpty()) {
        sheet.covered = QRectF(QPointF(width() - free_corner_.width(), height() - free_corner_.height()), free_corner_);
        sheet.corner.moveRight(std::min(sheet.corner.right(), sheet.covered.left()));
    }
    return sheet;
}

void SectionDrawing::fit_section() {
    own_view_ = false;
    scale_ = fit(picture_, seen_field());
    memory_ = {};
    update();
}

void SectionDrawing::keep_corner_free(const QSize& corner) {
    if (corner != free_corner_) {
        free_corner_ = corner;
        memory_ = {};
        ground_ = {};
        fit_anew();
        update();
    }
}

/// Beside what covers the lower right corner, or above it: whichever leaves the larger scale.
QRectF SectionDrawing::seen_field() const {
    const QRectF whole = fitted_field(sheet());
    if (free_corner_.isEmpty()) {
        return whole;
    }
    QRectF beside = whole;
    beside.setRight(std::min(whole.right(), width() - free_corner_.width() - k_names_px));
    QRectF above = whole;
    above.setBottom(std::min(whole.bottom(), height() - free_corner_.height() - k_names_px));
    return fit(picture_, beside).pixels_per_mm > fit(picture_, above).pixels_per_mm ? beside : above;
}

void SectionDrawing::fit_anew() {
    if (own_view_) {
        return;
    }
    const SectionScale fitted = fit(picture_, seen_field());
    // Stepping along the car a section keeps its scale, as long as all of it is in sight.
    const bool smaller = fitted.pixels_per_mm * k_hardly < scale_.pixels_per_mm;
    const bool much_larger = fitted.pixels_per_mm > k_much_larger * scale_.pixels_per_mm;
    const QPointF shift = fitted.on_sheet(Vector2d::Zero()) - scale_.on_sheet(Vector2d::Zero());
    if (smaller || much_larger || shift.manhattanLength() > k_pan_px) {
        scale_ = fitted;
        memory_ = {};
    }
}

void SectionDrawing::zoom(double factor, const QPointF& still) {
    own_view_ = true;
    scale_ = zoomed(scale_, factor, still);
    memory_ = {};
    tag_->hide();
    end_typing();
    update();
}

void SectionDrawing::zoom_in() {
    zoom(k_zoom_step, pointer_.value_or(sheet().paper.center()));
}

void SectionDrawing::zoom_out() {
    zoom(1.0 / k_zoom_step, pointer_.value_or(sheet().paper.center()));
}

// Drawing ------------------------------------------------------------------------------------------

void SectionDrawing::draw(QPainter& painter, const QSizeF& size) const {
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    if (!sentence_.isEmpty()) {
        painter.fillRect(QRectF(QPointF(), size), colours().paper);
        painter.setPen(colours().graphite);
        painter.setFont(looks::font(looks::k_text));
        QTextOption option(Qt::AlignCenter);
        option.setWrapMode(QTextOption::WrapAtWordBoundaryOrAnywhere);  // a path may be one long word
        painter.drawText(QRectF(QPointF(), size).adjusted(40, 40, -40, -40), sentence_, option);
        painter.restore();
        return;
    }
    const SectionSheet on = lay_out(size, QString::fromStdString(picture_.title));
    const bool as_seen = size == QSizeF(this->size());
    const SectionScale scale = as_seen ? scale_ : fit(picture_, fitted_field(on));
    SectionMemory memory = as_seen ? memory_ : SectionMemory{};
    draw_ground(painter, on, picture_, scale, all_photos(), colours());
    draw_on_ground(painter, on, picture_, scale, ground_surroundings(on, picture_, scale), {tone(), chosen_, pointed_},
                   memory);
    if (as_seen) {
        draw_hand(painter, on);
    }
    painter.restore();
}

void SectionDrawing::paintEvent(QPaintEvent* /*event*/) {
    QPainter painter(this);
    if (!sentence_.isEmpty()) {
        draw(painter, QSizeF(size()));
        return;
    }
    // The same as draw(), with the ground as it was painted before.
    painter.setRenderHint(QPainter::Antialiasing);
    const SectionSheet on = sheet();
    const Ground& ground = painted_ground();
    painter.drawPixmap(0, 0, ground.pixels);
    draw_on_ground(painter, on, picture_, scale_, ground.around, {tone(), chosen_, pointed_}, memory_);
    draw_hand(painter, on);
}

const SectionDrawing::Ground& SectionDrawing::painted_ground() const {
    const SectionSheet on = sheet();
    const bool same = ground_.under == picture_.under && ground_.scale == scale_ && ground_.size == size() &&
                      ground_.tone == tone() && ground_.unit == picture_.unit && ground_.stale == picture_.stale &&
                      ground_.two_lines == on.two_lines && ground_.photo == photo_number_ &&
                      ground_.pixels.devicePixelRatio() == devicePixelRatioF() && !ground_.pixels.isNull();
    if (same) {
        return ground_;
    }
    QPixmap pixels((QSizeF(size()) * devicePixelRatioF()).toSize().expandedTo({1, 1}));
    pixels.setDevicePixelRatio(devicePixelRatioF());
    QPainter painter(&pixels);
    painter.setRenderHint(QPainter::Antialiasing);
    draw_ground(painter, on, picture_, scale_, all_photos(), colours());
    painter.end();
    ground_ = {std::move(pixels),
               ground_surroundings(on, picture_, scale_),
               picture_.under,
               scale_,
               size(),
               tone(),
               picture_.unit,
               picture_.stale,
               on.two_lines,
               photo_number_};
    return ground_;
}

void SectionDrawing::draw_hand(QPainter& painter, const SectionSheet& sheet) const {
    if (const SectionNode* held = chosen_node()) {
        painter.setClipRect(sheet.field);
        draw_held_node(painter, *held, radius_mm_, scale_, colours());
        painter.setClipping(false);
        SectionNode shown = *held;
        if (radius_mm_) {
            shown.radius = {shortest_words(geometry::millimetres(*radius_mm_), picture_.unit), false};
        }
        draw_numbers(painter, sheet, shown, scale_, colours());
    }
    if (landing_) {
        painter.setClipRect(sheet.field);
        app::draw_landing(painter, *landing_, scale_, colours());
        painter.setClipping(false);
    }
    draw_corner_words(painter, sheet, hover_words(), colours());
    if (!said_.isEmpty()) {
        draw_said(painter, sheet, said_, colours());
    }
}

QString SectionDrawing::hover_words() const {
    if (!pointer_ || !sheet().paper.contains(*pointer_)) {
        return {};
    }
    const Vector2d at_mm = from_paper(*pointer_);
    const auto words = [this](double mm) {
        return QString::fromStdString(short_number(geometry::millimetres(mm), picture_.unit))
            .replace('-', QChar(0x2212));
    };
    QString text = tr("out %1 · up %2").arg(words(at_mm.x()), words(at_mm.y()));
    const Item item = item_at(*pointer_);
    if (const SectionNode* named = item.kind == Item::Kind::node ? node(item.id) : nullptr) {
        text += QStringLiteral(" · ") + QString::fromStdString(named->name);
    } else if (item && item.kind != Item::Kind::node) {
        text += QStringLiteral(" · ") + QString::fromStdString(item.id);
    }
    return text;
}

// What is where ------------------------------------------------------------------------------------

const SectionNode* SectionDrawing::node(const std::string& id) const {
    for (const SectionPicture* layer : {static_cast<const SectionPicture*>(&picture_), picture_.under.get()}) {
        if (layer == nullptr) {
            continue;
        }
        const auto found = std::find_if(layer->nodes.begin(), layer->nodes.end(),
                                        [&](const SectionNode& one) { return one.id == id; });
        if (found != layer->nodes.end()) {
            return &*found;
        }
    }
    return nullptr;
}

const SectionNode* SectionDrawing::chosen_node() const {
    return chosen_.kind == Item::Kind::node ? node(chosen_.id) : nullptr;
}

const SectionNode* SectionDrawing::node_at(const QPointF& p) const {
    const SectionNode* best = nullptr;
    double least = k_reach_of_point;
    // What is drawn last is taken first: the skirt before the body.
    for (const SectionPicture* layer : {static_cast<const SectionPicture*>(&picture_), picture_.under.get()}) {
        if (layer == nullptr) {
            continue;
        }
        for (const SectionNode& one : layer->nodes) {
            const double off = QLineF(p, on_paper(one.at_mm)).length();
            if (off < least) {
                least = off;
                best = &one;
            }
        }
    }
    return best;
}

Item SectionDrawing::item_at(const QPointF& p) const {
    if (const SectionNode* there = node_at(p)) {
        return {Item::Kind::node, there->id};
    }
    if (const Item mount = mount_at(picture_, p, scale_)) {
        return mount;
    }
    return line_item_at(picture_, p, scale_);
}

// The hand -----------------------------------------------------------------------------------------

void SectionDrawing::mousePressEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton || !sentence_.isEmpty()) {
        return;
    }
    const QPointF at = event->position();
    pressed_at_ = at;
    press_ = Press::consumed;
    const SectionSheet on = sheet();
    if (!on.paper.contains(at)) {
        if (const SectionNode* held = chosen_node()) {
            const bool radius = corner_of(*held) && radius_box(on).contains(at);
            const NodeNumber which = radius                     ? NodeNumber::radius
                                     : at.x() < on.paper.left() ? NodeNumber::up
                                                                : NodeNumber::out;
            if (fix_number()) {
                begin_typing(which, {}, true);
            }
        }
        return;
    }
    setFocus(Qt::MouseFocusReason);
    end_typing();
    if (hand_ == Hand::move_photo && photo_) {
        press_ = Press::photo;
    } else if (hand_ == Hand::move) {
        press_with_move_hand(at);
    } else {
        emit pressed(from_paper(at), event->modifiers().testFlag(Qt::ShiftModifier));
    }
}

void SectionDrawing::press_with_move_hand(const QPointF& at) {
    tag_->hide();
    if (const SectionNode* held = chosen_node()) {
        const auto handle = radius_handle(*held, held->radius_mm, scale_);
        if (handle && QLineF(at, *handle).length() < k_reach_of_point &&
            QLineF(at, on_paper(held->at_mm)).length() > QLineF(at, *handle).length()) {
            press_ = Press::radius;
            pressed_node_ = held->id;
            grabbed_by_ = *handle - at;
            return;
        }
    }
    if (const SectionNode* there = node_at(at)) {
        press_ = Press::node;
        pressed_node_ = there->id;
        grabbed_by_ = on_paper(there->at_mm) - at;
        emit chosen({Item::Kind::node, there->id});
        return;
    }
    press_ = Press::paper;
}

void SectionDrawing::mouseMoveEvent(QMouseEvent* event) {
    const QPointF at = event->position();
    pointer_ = at;
    const bool free = event->modifiers().testFlag(Qt::ShiftModifier);
    const bool moved = QLineF(at, pressed_at_).length() > k_still_px;
    switch (press_) {
        case Press::node:
        case Press::dragging:
            if (moved || press_ == Press::dragging) {
                move_dragged(at, free);
            }
            break;
        case Press::radius:
            if (const SectionNode* held = node(pressed_node_)) {
                radius_mm_ = radius_for(*held, at + grabbed_by_, scale_);
            }
            break;
        case Press::paper:
            if (moved || cursor().shape() == Qt::ClosedHandCursor) {
                setCursor(Qt::ClosedHandCursor);
                own_view_ = true;
                scale_.origin += at - pressed_at_;
                pressed_at_ = at;
                if (memory_.magnifier) {
                    memory_.magnifier.reset();
                }
            }
            break;
        case Press::photo:
            photo_->top_left_mm += from_paper(at) - from_paper(pressed_at_);
            pressed_at_ = at;
            ++photo_number_;
            break;
        case Press::none:
        case Press::consumed:
            point_at(at);
            if (hand_ != Hand::move) {
                emit hovered(from_paper(at), free);
            }
            break;
    }
    update();
}

void SectionDrawing::move_dragged(const QPointF& at, bool free) {
    if (press_ == Press::node) {
        press_ = Press::dragging;
        emit drag_begun(pressed_node_);
    }
    emit dragged(from_paper(at + grabbed_by_), free);
}

void SectionDrawing::point_at(const QPointF& at) {
    const Item item = sheet().paper.contains(at) ? item_at(at) : Item{};
    if (item != pointed_) {
        emit pointed_at(item);
    }
}

void SectionDrawing::mouseReleaseEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton) {
        return;
    }
    const Press was = std::exchange(press_, Press::none);
    memory_.keep_magnifier = false;
    if (was == Press::dragging) {
        emit dropped();
    } else if (was == Press::radius) {
        if (const auto radius = std::exchange(radius_mm_, std::nullopt)) {
            emit rounded(pressed_node_, *radius);
        }
    } else if (was == Press::paper) {
        if (cursor().shape() == Qt::ClosedHandCursor) {
            setCursor(Qt::ArrowCursor);
        } else {
            emit chosen(item_at(event->position()));
        }
    }
    update();
}

void SectionDrawing::leaveEvent(QEvent* /*event*/) {
    pointer_.reset();
    emit pointed_at({});
    emit left();
    update();
}

void SectionDrawing::wheelEvent(QWheelEvent* event) {
    if (!sentence_.isEmpty() || press_ != Press::none) {
        return;
    }
    zoom(std::pow(k_zoom_step, event->angleDelta().y() / k_wheel_notch), event->position());
    event->accept();
}

void SectionDrawing::contextMenuEvent(QContextMenuEvent* event) {
    if (!sentence_.isEmpty()) {
        return;
    }
    if (event->reason() == QContextMenuEvent::Keyboard) {
        const SectionNode* held = chosen_node();
        const QPointF at = held != nullptr ? on_paper(held->at_mm) : sheet().paper.center();
        emit menu_wished(held != nullptr ? chosen_ : Item{}, from_paper(at), mapToGlobal(at.toPoint()));
        return;
    }
    const QPointF at(event->pos());
    const Item item = item_at(at);
    if (item) {
        emit chosen(item);
    }
    emit menu_wished(item, from_paper(at), event->globalPos());
}

void SectionDrawing::resizeEvent(QResizeEvent* event) {
    if (!own_view_) {
        scale_ = fit(picture_, seen_field());
    }
    memory_ = {};
    tag_->hide();
    end_typing();
    Paper::resizeEvent(event);
}

// Keys ---------------------------------------------------------------------------------------------

bool SectionDrawing::event(QEvent* event) {
    // Digits typed for a node are the drawing's, not a shortcut's.
    if (event->type() == QEvent::ShortcutOverride && chosen_node() != nullptr) {
        if (auto* key = static_cast<QKeyEvent*>(event); begins_number(key->text()) || key->key() == Qt::Key_Delete) {
            key->accept();
            return true;
        }
    }
    return Paper::event(event);
}

void SectionDrawing::keyPressEvent(QKeyEvent* event) {
    if (typing_) {
        NumberField* const writing = field(*typing_);
        if (passing_on_) {
            event->ignore();  // the field has no use for it, and has sent it up here
            return;
        }
        // Keys that were on their way before the field had the focus.
        const QScopedValueRollback passing(passing_on_, true);
        QCoreApplication::sendEvent(writing, event);
        return;
    }
    const bool fine = event->modifiers().testFlag(Qt::ShiftModifier);
    if (event->matches(QKeySequence::ZoomIn)) {
        zoom_in();
    } else if (event->matches(QKeySequence::ZoomOut)) {
        zoom_out();
    } else if (event->key() == Qt::Key_Escape) {
        if (press_ == Press::dragging) {
            press_ = Press::consumed;
            memory_.keep_magnifier = false;
            emit drag_put_back();
        } else if (press_ == Press::radius) {
            press_ = Press::consumed;
            radius_mm_.reset();
            update();
        } else if (hand_ != Hand::move) {
            emit ended();
        } else {
            emit chosen({});
        }
    } else if (event->key() == Qt::Key_Left) {
        step_chosen(-1, 0, fine);
    } else if (event->key() == Qt::Key_Right) {
        step_chosen(1, 0, fine);
    } else if (event->key() == Qt::Key_Up) {
        step_chosen(0, 1, fine);
    } else if (event->key() == Qt::Key_Down) {
        step_chosen(0, -1, fine);
    } else if (event->key() == Qt::Key_Delete && chosen_) {
        emit delete_wished(chosen_);
    } else if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) && chosen_node() != nullptr) {
        begin_typing(NodeNumber::out, {}, true);
    } else if (begins_number(event->text()) && chosen_node() != nullptr) {
        begin_typing(NodeNumber::out, event->text(), false);
    } else {
        Paper::keyPressEvent(event);
    }
}

void SectionDrawing::step_chosen(int right, int up, bool fine) {
    if (chosen_node() != nullptr) {
        emit stepped(chosen_.id, right, up, fine);
        return;
    }
    own_view_ = true;
    scale_.origin -= k_pan_px * QPointF(right, -up);
    update();
}

bool SectionDrawing::focusNextPrevChild(bool next) {
    return hand_ == Hand::move && sentence_.isEmpty() && hasFocus() && choose_next(next)
               ? true
               : Paper::focusNextPrevChild(next);
}

/// Behind the last node and before the first the keyboard goes on to the next widget.
bool SectionDrawing::choose_next(bool forward) {
    std::vector<const SectionNode*> all;
    for (const SectionPicture* layer : {static_cast<const SectionPicture*>(&picture_), picture_.under.get()}) {
        if (layer != nullptr) {
            for (const SectionNode& one : layer->nodes) {
                all.push_back(&one);
            }
        }
    }
    if (all.empty()) {
        return false;
    }
    const auto found = std::find(all.begin(), all.end(), chosen_node());
    if (found == all.end()) {
        emit chosen({Item::Kind::node, forward ? all.front()->id : all.back()->id});
        return true;
    }
    if (forward ? found + 1 == all.end() : found == all.begin()) {
        emit chosen({});
        return false;
    }
    emit chosen({Item::Kind::node, (*(forward ? found + 1 : found - 1))->id});
    return true;
}

// Numbers ------------------------------------------------------------------------------------------

NumberField* SectionDrawing::field(NodeNumber which) const {
    return fields_[static_cast<std::size_t>(which)];
}

QRect SectionDrawing::number_box(NodeNumber which) const {
    const SectionSheet on = sheet();
    const SectionNode* held = chosen_node();
    switch (which) {
        case NodeNumber::out:
            return held != nullptr ? out_box(on, *held, scale_).toRect() : QRect();
        case NodeNumber::up: {
            // Wider than the ruler: what is typed must be read as a whole.
            QRectF box = held != nullptr ? up_box(on, *held, scale_) : QRectF();
            box.setWidth(std::max(box.width(), 110.0));
            return box.toRect();
        }
        case NodeNumber::radius:
            break;
    }
    return radius_box(on).toRect();
}

void SectionDrawing::begin_typing(NodeNumber which, const QString& text, bool select) {
    const SectionNode* held = chosen_node();
    if (held == nullptr) {
        return;
    }
    const SectionNumber& now = which == NodeNumber::out ? held->out : which == NodeNumber::up ? held->up : held->radius;
    said_.clear();
    typing_ = which;
    field(which)->begin(text.isEmpty() ? QString::fromStdString(now.text) : text, number_box(which), select);
    for (NumberField* number : fields_) {
        number->setVisible(number == field(which));
    }
    update();
}

bool SectionDrawing::fix_number() {
    const SectionNode* held = chosen_node();
    if (!typing_ || held == nullptr) {
        return true;
    }
    const NumberField& typed = *field(*typing_);
    if (!typed.isModified() && typed.hasSelectedText()) {
        return true;  // Nothing was written.
    }
    said_.clear();
    const NodeNumber which = *typing_;
    emit number_typed(held->id, which, typed.text());
    return said_.isEmpty();
}

void SectionDrawing::say(const QString& sentence) {
    said_ = sentence;
    if (typing_) {
        field(*typing_)->setAccessibleDescription(sentence);
    }
    update();
}

void SectionDrawing::end_typing() {
    said_.clear();
    if (!typing_) {
        return;
    }
    typing_.reset();
    const bool had_focus =
        std::any_of(fields_.begin(), fields_.end(), [](const NumberField* number) { return number->hasFocus(); });
    if (had_focus) {
        setFocus(Qt::OtherFocusReason);  // Before it hides: else the focus goes on to the next widget.
    }
    for (NumberField* number : fields_) {
        number->hide();
    }
    update();
}

}  // namespace sillwright::app
