#pragma once

#include <QPixmap>
#include <QPoint>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "app/desk/item.h"
#include "app/drawings/paper.h"
#include "app/drawings/section_hand.h"
#include "app/drawings/section_picture.h"
#include "app/drawings/section_scale.h"
#include "app/drawings/section_sheet.h"
#include "core/edit/node_edit.h"

class QPushButton;

namespace sillwright::app {

class NumberField;

/// What a press on the section means.
enum class Hand { move, place_mount, add_node, draw_section, move_photo, scale_photo };

/// Shows one section, or one sentence where there is none, and takes what a hand does on it. It knows
/// pictures and items; what is to become of the job it emits as wishes.
///
/// The wheel zooms about the pointer, a drag on empty paper moves the paper; a press on a node takes hold of
/// it. Numbers typed for the chosen node are written on the rulers.
class SectionDrawing : public Paper {
    Q_OBJECT

public:
    explicit SectionDrawing(QWidget* parent = nullptr);

    void show_section(SectionPicture picture);
    /// `sentence` instead of a section.
    void show_sentence(const QString& sentence);
    /// What stands out: the chosen item, and the one under the pointer in any drawing.
    void show_items(const Item& chosen, const Item& pointed);
    void show_landing(const std::optional<SectionLanding>& landing);
    /// The tag that says to what a place was drawn; none for an empty text.
    void show_tag(const Eigen::Vector2d& at_mm, const QString& drawn_to);
    /// Whether the pointer may be on its way to the tag.
    [[nodiscard]] bool tag_within_reach() const;
    void set_hand(Hand hand);
    /// So much of the lower right corner is covered by something else: the section is fitted clear of it.
    void keep_corner_free(const QSize& corner);
    /// Straightened photos of this section, in true scale, below all else.
    void show_photos(std::vector<PhotoUnder> photos);
    /// A photo under the drawing, in the middle of what is seen; a null one takes it away.
    void lay_photo(const QPixmap& picture);
    void set_photo_opacity(double opacity);
    /// The photo is made so large that two places on it are a length apart.
    void scale_photo(const Eigen::Vector2d& first_mm, const Eigen::Vector2d& second_mm, double length_mm);
    [[nodiscard]] const std::optional<PhotoUnder>& photo() const { return photo_; }
    [[nodiscard]] Hand hand() const { return hand_; }

    /// A sentence on the paper until the hand does something else; while a number is being written it is
    /// why that was not taken.
    void say(const QString& sentence);
    /// Begins to write a number of the chosen node at the paper's edge.
    void type_number(core::NodeNumber which) { begin_typing(which, {}, true); }

    void draw(QPainter& painter, const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;

    /// Between places of the section and of the widget.
    [[nodiscard]] QPointF on_paper(const Eigen::Vector2d& p_mm) const { return scale_.on_sheet(p_mm); }
    [[nodiscard]] Eigen::Vector2d from_paper(const QPointF& p) const { return scale_.from_sheet(p); }
    [[nodiscard]] double pixels_per_mm() const { return scale_.pixels_per_mm; }
    /// What is there; none on empty paper.
    [[nodiscard]] Item item_at(const QPointF& p) const;

    [[nodiscard]] const QString& sentence() const { return sentence_; }
    [[nodiscard]] const SectionPicture& picture() const { return picture_; }
    /// "out 123.4 · up 56.7 · shelf edge": what is written in the corner; empty without a pointer.
    [[nodiscard]] QString hover_words() const;
    [[nodiscard]] QSize sizeHint() const override { return {800, 600}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {320, 240}; }

public slots:
    void fit_section();
    void zoom_in();
    void zoom_out();

signals:
    void pointed_at(const sillwright::app::Item& item);
    void chosen(const sillwright::app::Item& item);
    /// Dragging a node: begun, moved (`free` of being drawn to anything), let go, put back.
    void drag_begun(const std::string& node_id);
    void dragged(const Eigen::Vector2d& to_mm, bool free);
    void dropped();
    void drag_put_back();
    void rounded(const std::string& node_id, double radius_mm);
    void number_typed(const std::string& node_id, sillwright::core::NodeNumber which, const QString& text);
    /// Arrow keys on the chosen node.
    void stepped(const std::string& node_id, int right, int up, bool fine);
    void delete_wished(const sillwright::app::Item& item);
    void menu_wished(const sillwright::app::Item& item, const Eigen::Vector2d& at_mm, const QPoint& global);
    /// The other hands: the pointer is there, or pressed there.
    void hovered(const Eigen::Vector2d& at_mm, bool free);
    void left();
    void pressed(const Eigen::Vector2d& at_mm, bool free);
    /// Escape, or a second press on the last node: what was drawn click by click is done.
    void ended();
    /// The tag was pressed: what was drawn to something is wished where the hand put it.
    void let_go();

protected:
    bool event(QEvent* event) override;
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void contextMenuEvent(QContextMenuEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    bool focusNextPrevChild(bool next) override;

private:
    enum class Press { none, paper, node, dragging, radius, photo, consumed };
    /// The ground as it was painted last, and what it was painted of.
    struct Ground {
        QPixmap pixels;
        SectionSurroundings around;
        std::shared_ptr<const SectionPicture> under;
        SectionScale scale;
        QSize size;
        looks::Tone tone = looks::Tone::light;
        core::BareUnit unit = core::BareUnit::mm;
        bool stale = false, two_lines = false;
        int photo = 0;
    };

    [[nodiscard]] SectionSheet sheet() const;
    [[nodiscard]] const Ground& painted_ground() const;
    [[nodiscard]] QRectF seen_field() const;
    void fit_anew();
    void zoom(double factor, const QPointF& still);
    [[nodiscard]] const SectionNode* node(const std::string& id) const;
    [[nodiscard]] const SectionNode* chosen_node() const;
    [[nodiscard]] const SectionNode* node_at(const QPointF& p) const;
    void draw_hand(QPainter& painter, const SectionSheet& sheet) const;

    void press_with_move_hand(const QPointF& at);
    void move_dragged(const QPointF& at, bool free);
    void point_at(const QPointF& at);
    [[nodiscard]] QRect number_box(core::NodeNumber which) const;
    [[nodiscard]] NumberField* field(core::NodeNumber which) const;
    void begin_typing(core::NodeNumber which, const QString& text, bool select);
    /// Whether it was taken.
    bool fix_number();
    void end_typing();
    void step_chosen(int right, int up, bool fine);
    bool choose_next(bool forward);

    SectionPicture picture_;
    QString sentence_;
    Item chosen_, pointed_;
    Hand hand_ = Hand::move;
    SectionScale scale_;
    QSize free_corner_;
    bool own_view_ = false;  ///< Zoomed or moved by hand.

    Press press_ = Press::none;
    QPointF pressed_at_, grabbed_by_;
    std::string pressed_node_;
    std::optional<double> radius_mm_;  ///< Under the hand.
    std::optional<QPointF> pointer_;
    std::optional<SectionLanding> landing_;

    std::array<NumberField*, 3> fields_{};
    std::optional<core::NodeNumber> typing_;
    bool passing_on_ = false;  ///< A key on its way to the field.
    QString said_;
    QPushButton* tag_;

    [[nodiscard]] std::vector<const PhotoUnder*> all_photos() const;
    std::optional<PhotoUnder> photo_;
    std::vector<PhotoUnder> photos_;
    int photo_number_ = 0;  ///< Another whenever the photo looks other than before.

    mutable Ground ground_;
    mutable SectionMemory memory_;
};

}  // namespace sillwright::app
