#include "app/print/figures.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string>
#include <utility>

#include "app/drawings/bars_drawing.h"
#include "app/drawings/clearance_plot.h"
#include "app/drawings/flange_drawing.h"
#include "app/drawings/flute_drawing.h"
#include "app/drawings/ladder_drawing.h"
#include "app/drawings/network_drawing.h"
#include "app/drawings/platen_drawing.h"
#include "app/drawings/section_drawing.h"
#include "app/drawings/strip_drawing.h"
#include "app/drawings/thickness_plot.h"
#include "app/link/bars_of_findings.h"
#include "app/link/clearance_curves.h"
#include "app/link/flange_of_job.h"
#include "app/link/flutes_of_job.h"
#include "app/link/ladder_of_job.h"
#include "app/link/network_of_job.h"
#include "app/link/platen_of_job.h"
#include "app/link/section_of_job.h"
#include "app/link/solids_of_job.h"
#include "app/link/strip_of_job.h"
#include "app/link/thickness_of_job.h"
#include "app/print/drawing_ink.h"
#include "app/print/solid_lines.h"
#include "app/text_of.h"
#include "core/forming/forming_plan.h"
#include "core/number_text.h"

namespace sillwright::app::print {

using core::Figure;
using core::FigureKind;
using geometry::in_mm;
using geometry::Length;

namespace {

constexpr double k_thin_px = 0.9;
/// Scales that a drawing is set to: those of ISO 5455 and their fellows between.
constexpr double k_scales[] = {1.0, 2.0, 2.5, 5.0, 10.0, 15.0, 20.0, 25.0, 50.0, 100.0, 200.0, 500.0};
/// Of a section's picture: height of width.
constexpr double k_section_high = 0.6;
/// Panes of the flange beside one another at most, so that their words stay as large as all others.
constexpr double k_flange_air = 6.0;

template <class Drawing>
std::shared_ptr<Drawing> light() {
    auto drawing = std::make_shared<Drawing>();
    drawing->setPalette(looks::palette(looks::Tone::light));
    return drawing;
}

/// The drawing at the size it wishes, or at its least; smaller as a whole where there is no room for that.
FigurePicture fitted(const std::shared_ptr<const Paper>& paper, const QSizeF& wish, const QSizeF& room) {
    const QSizeF size = wish.expandedTo(QSizeF(paper->minimumSizeHint()));
    const double times = std::min({1.0, room.width() / size.width(), room.height() / size.height()});
    return {size * times, [paper, size, times](QPainter& painter) {
                painter.save();
                painter.scale(times, times);
                paper->draw(painter, size);
                painter.restore();
            }};
}

QSizeF wide(const QSizeF& room, double high) {
    return {room.width(), std::min(room.height(), high * room.width())};
}

FigurePicture no_drawing(const std::string& why) {
    return {{}, {}, text_of(why)};
}

}  // namespace

class Figures::Studio {
public:
    explicit Studio(const core::Evaluation& evaluation) : evaluation_{evaluation} {}

    FigurePicture picture(const Figure& figure, const QSizeF& room) {
        switch (figure.kind) {
            case FigureKind::drawing:
                return drawing(figure, room);
            case FigureKind::strip:
                return strip(room);
            case FigureKind::section:
                return section(figure, room);
            case FigureKind::clearance:
                return clearance(figure, room);
            case FigureKind::flange:
                return flange(room);
            case FigureKind::platen:
            case FigureKind::thickness:
            case FigureKind::flutes:
            case FigureKind::ladder:
                return forming(figure, room);
            case FigureKind::bars:
                return bars(room);
            case FigureKind::network:
                return network(room);
            case FigureKind::solid:
                return solid(room);
        }
        return {};
    }

private:
    static FigurePicture drawing(const Figure& figure, const QSizeF& room) {
        if (!figure.drawing) {
            return no_drawing("There is nothing to draw.");
        }
        const Eigen::AlignedBox2d box = drawn_box(*figure.drawing);
        if (box.isEmpty()) {
            return no_drawing("There is nothing to draw.");
        }
        constexpr double k_air = 8.0;
        const double px_per_mm = 100.0 / k_units_per_pixel;  // Of paper.
        const Eigen::Vector2d size = box.sizes().cwiseMax(1.0) * px_per_mm;
        const double need = std::max(size.x() / (room.width() - 2.0 * k_air), size.y() / (room.height() - 2.0 * k_air));
        const auto* const found =
            std::find_if(std::begin(k_scales), std::end(k_scales), [need](double scale) { return scale >= need; });
        const double times = found == std::end(k_scales) ? std::ceil(need / 100.0) * 100.0 : *found;
        const QSizeF drawn(size.x() / times + 2.0 * k_air, size.y() / times + 2.0 * k_air);
        const double scale = px_per_mm / times;
        const DrawingScale on{scale, QPointF(k_air - scale * box.min().x(), k_air + scale * box.max().y())};
        return {drawn, [held = figure.drawing, on](QPainter& painter) { draw_drawing(painter, *held, on, k_thin_px); },
                QStringLiteral("scale 1:") + text_of(core::number_text(times))};
    }

    FigurePicture strip(const QSizeF& room) {
        auto paper = light<StripDrawing>();
        paper->set_picture(strip_of_job(evaluation_));
        return fitted(paper, wide(room, 0.3), room);
    }

    FigurePicture section(const Figure& figure, const QSizeF& room) {
        auto& known = sections_[in_mm(figure.along)];
        if (!known) {
            known = std::make_shared<const geometry::Result<SectionPicture>>(section_of_job(evaluation_, figure.along));
        }
        if (!*known) {
            return no_drawing(known->error().message);
        }
        auto paper = light<SectionDrawing>();
        paper->show_section(known->value());
        const double high = std::min(room.height(), k_section_high * room.width());
        return fitted(paper, {std::min(room.width(), high / k_section_high), high}, room);
    }

    FigurePicture clearance(const Figure& figure, const QSizeF& room) {
        const auto& doors = evaluation_.car.doors;
        const auto door =
            std::find_if(doors.begin(), doors.end(), [&](const auto& one) { return one.name == figure.name; });
        if (door == doors.end() || !door->opening) {
            return no_drawing("How far the door opens, or its hinge, is not measured: nothing to plot.");
        }
        auto& known = curves_[figure.name];
        if (!known) {
            known = std::make_shared<const geometry::Result<std::vector<ClearanceCurve>>>(
                clearance_curves(evaluation_, figure.name));
        }
        if (!*known) {
            return no_drawing(known->error().message);
        }
        ClearancePicture picture;
        picture.door = figure.name;
        picture.unit = evaluation_.job.unit;
        picture.stop = *door->opening;
        picture.lines = clearance_lines(known->value());
        picture.marks = clearance_marks(evaluation_.findings, figure.name, picture.unit);
        if (picture.lines.empty()) {
            picture.sentence = "Nothing of the part is near this door.";
        }
        auto paper = light<ClearancePlot>();
        paper->show_picture(std::move(picture));
        return fitted(paper, wide(room, 0.45), room);
    }

    /// In as many rows as its panes need to be read.
    FigurePicture flange(const QSizeF& room) {
        const FlangePicture whole = flange_of_job(evaluation_);
        auto all = light<FlangeDrawing>();
        all->set_picture(whole);
        const std::size_t count = whole.holes.size();
        const double least = all->minimumSizeHint().width();
        const auto rows = static_cast<std::size_t>(std::max(1.0, std::ceil(least / room.width())));
        if (count == 0 || rows < 2) {
            return fitted(all, wide(room, 0.36), room);
        }
        const double high = (room.height() - k_flange_air * static_cast<double>(rows - 1)) / static_cast<double>(rows);
        std::vector<FigurePicture> parts;
        QSizeF size(0.0, 0.0);
        for (std::size_t row = 0; row < rows; ++row) {
            FlangePicture part = whole;
            const auto from = static_cast<std::ptrdiff_t>(row * count / rows);
            const auto to = static_cast<std::ptrdiff_t>((row + 1) * count / rows);
            part.holes.assign(whole.holes.begin() + from, whole.holes.begin() + to);
            auto paper = light<FlangeDrawing>();
            paper->set_picture(std::move(part));
            parts.push_back(fitted(paper, {room.width(), std::min(high, 0.34 * room.width())}, {room.width(), high}));
            size = {std::max(size.width(), parts.back().size.width()),
                    size.height() + parts.back().size.height() + (row == 0 ? 0.0 : k_flange_air)};
        }
        return {size, [parts](QPainter& painter) {
                    double y = 0.0;
                    for (const FigurePicture& part : parts) {
                        painter.save();
                        painter.translate(0.0, y);
                        part.draw(painter);
                        painter.restore();
                        y += part.size.height() + k_flange_air;
                    }
                }};
    }

    /// The number among the planned pieces.
    [[nodiscard]] std::optional<std::size_t> planned(std::size_t piece) const {
        const auto& pieces = evaluation_.forming->pieces;
        const auto found =
            std::find_if(pieces.begin(), pieces.end(), [&](const auto& one) { return one.piece == piece; });
        return found == pieces.end() ? std::nullopt : std::optional(static_cast<std::size_t>(found - pieces.begin()));
    }

    FigurePicture forming(const Figure& figure, const QSizeF& room) {
        const auto number = planned(figure.piece);
        if (!number) {
            return no_drawing("How this piece is formed is not known yet: it is not drawn to its end.");
        }
        if (figure.kind == FigureKind::platen) {
            auto paper = light<PlatenDrawing>();
            paper->set_picture(platen_of_job(evaluation_, *number));
            return fitted(paper, wide(room, 0.45), room);
        }
        if (figure.kind == FigureKind::thickness) {
            auto paper = light<ThicknessPlot>();
            const auto along = figure.along == Length{} ? std::nullopt : std::optional(figure.along);
            paper->set_picture(thickness_of_job(evaluation_, *number, along));
            return fitted(paper, wide(room, 0.5), room);
        }
        if (figure.kind == FigureKind::flutes) {
            auto paper = light<FluteDrawing>();
            paper->set_picture(flutes_of_job(evaluation_, *number));
            return fitted(paper, wide(room, 0.5), room);
        }
        const std::vector<std::string> names = ladder_names(evaluation_, *number);
        const auto named = std::find(names.begin(), names.end(), figure.name);
        auto paper = light<LadderDrawing>();
        paper->set_picture(ladder_of_job(evaluation_, *number,
                                         named == names.end() ? 0 : static_cast<std::size_t>(named - names.begin())));
        return fitted(paper, wide(room, 0.5), room);
    }

    FigurePicture bars(const QSizeF& room) {
        auto paper = light<BarsDrawing>();
        paper->set_picture(bars_of_findings(evaluation_.findings));
        const int width = static_cast<int>(room.width());
        return fitted(paper, QSizeF(width, paper->heightForWidth(width)), room);
    }

    FigurePicture network(const QSizeF& room) {
        if (!evaluation_.survey) {
            return no_drawing("There is no measuring book.");
        }
        auto paper = light<NetworkDrawing>();
        paper->set_picture(network_of_job(evaluation_.job, *evaluation_.survey));
        return fitted(paper, wide(room, 0.6), room);
    }

    FigurePicture solid(const QSizeF& room) {
        if (!scene_) {
            scene_ = std::make_shared<const geometry::Result<SolidScene>>(solids_of_job(evaluation_));
        }
        if (!*scene_) {
            return no_drawing(scene_->error().message);
        }
        const SolidScene& scene = scene_->value();
        std::vector<SolidBounds> boxes;
        for (const SolidBody& body : scene.bodies) {
            boxes.push_back(bounds_of(*body.mesh));
        }
        if (boxes.empty()) {
            return no_drawing("Nothing is drawn yet that has a body.");
        }
        const QSizeF size = wide(room, 0.5);
        const SolidLook look = app::fitted(looking_from(LookFrom::corner, scene.right_hand, {}), boxes, size);
        return {size, [lines = solid_lines(scene, look, size), size](QPainter& painter) {
                    const looks::Colours& colours = looks::colours(looks::Tone::light);
                    painter.save();
                    painter.fillRect(QRectF(QPointF(), size), colours.paper);
                    // The part last and thickest: it is what the picture is about.
                    for (const SolidRole role : {SolidRole::body, SolidRole::door, SolidRole::skirt}) {
                        const QColor colour = role == SolidRole::body   ? colours.pencil
                                              : role == SolidRole::door ? colours.door
                                                                        : colours.skirt;
                        QVector<QLineF> of_role;
                        for (const SolidLine& line : lines) {
                            if (line.role == role) {
                                of_role.push_back(line.line);
                            }
                        }
                        painter.setPen(QPen(colour, role == SolidRole::skirt ? 1.4 : 0.7, Qt::SolidLine, Qt::RoundCap));
                        painter.drawLines(of_role);
                    }
                    painter.restore();
                }};
    }

    const core::Evaluation& evaluation_;
    std::map<double, std::shared_ptr<const geometry::Result<SectionPicture>>> sections_;
    std::map<std::string, std::shared_ptr<const geometry::Result<std::vector<ClearanceCurve>>>> curves_;
    std::shared_ptr<const geometry::Result<SolidScene>> scene_;
};

Figures::Figures(const core::Evaluation& evaluation) : studio_{std::make_unique<Studio>(evaluation)} {}

Figures::~Figures() = default;

FigurePicture Figures::picture(const Figure& figure, const QSizeF& room) {
    return studio_->picture(figure, room);
}

}  // namespace sillwright::app::print
