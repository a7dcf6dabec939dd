#pragma once

#include <QPainter>
#include <QRectF>
#include <QString>
#include <map>
#include <optional>
#include <vector>

#include "app/drawings/label_layout.h"
#include "app/drawings/magnifier.h"
#include "app/drawings/photo_under.h"
#include "app/drawings/section_ink.h"
#include "app/drawings/section_picture.h"
#include "app/drawings/section_scale.h"
#include "app/looks.h"

namespace sillwright::app {

/// How a section's sheet is divided. Pixels, y down.
struct SectionSheet {
    QRectF sheet;
    QRectF paper;      ///< Without the rulers.
    QRectF heading;    ///< At the paper's top, one line high, or two where one has no room.
    QRectF field;      ///< Where lines are drawn: a door that goes on above is cut off below the heading.
    QRectF corner;     ///< At the lower right, for coordinates: labels keep out of it.
    QRectF covered{};  ///< By something that lies on the paper; nothing is written below it.
    QString title, frame;
    bool two_lines = false;
};
SectionSheet lay_out(const QSizeF& size, const QString& title);

/// Where the picture is fitted to.
QRectF fitted_field(const SectionSheet& sheet);

/// What stands still: paper, rulers, scale bar, and the picture's ground; photos below.
void draw_ground(QPainter& painter, const SectionSheet& sheet, const SectionPicture& picture, const SectionScale& scale,
                 const std::vector<const PhotoUnder*>& photos, const looks::Colours& colours);
/// What labels must not stand on of it.
SectionSurroundings ground_surroundings(const SectionSheet& sheet, const SectionPicture& picture,
                                        const SectionScale& scale);

/// What the eye keeps from one picture to the next: labels and the magnifier stay where they are as
/// long as they can.
struct SectionMemory {
    std::map<QString, LabelWish::Held> labels;
    std::optional<Magnifier> magnifier;
    bool keep_magnifier = false;  ///< While a hand drags.
};

/// What is looked at and pointed at while the picture is drawn.
struct SectionLook {
    looks::Tone tone = looks::Tone::light;
    Item chosen, pointed;
};

/// All that lies on the ground: lines, heading, labels, dimensions, the magnifier.
void draw_on_ground(QPainter& painter, const SectionSheet& sheet, const SectionPicture& picture,
                    const SectionScale& scale, const SectionSurroundings& ground, const SectionLook& look,
                    SectionMemory& memory);

}  // namespace sillwright::app
