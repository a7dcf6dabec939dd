#include "app/print/papers.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "app/print/figures.h"
#include "tests/app/link/estate.h"
#include "tests/app/print/run_tool.h"

namespace sillwright::app::print {
namespace {

const core::Evaluation& estate_to_print(core::Side side = core::Side::right) {
    static const auto right = estate(core::Side::right);
    static const auto left = estate(core::Side::left);
    return side == core::Side::right ? *right : *left;
}

core::Document with_every_figure() {
    core::Document paper;
    paper.stem = "figures";
    paper.title = "Figures";
    paper.reader = "for whoever tests them";
    using core::FigureKind;
    for (const FigureKind kind : {FigureKind::strip, FigureKind::section, FigureKind::clearance, FigureKind::flange,
                                  FigureKind::platen, FigureKind::thickness, FigureKind::flutes, FigureKind::ladder,
                                  FigureKind::bars, FigureKind::network, FigureKind::solid, FigureKind::drawing}) {
        core::Figure figure;
        figure.kind = kind;
        figure.caption = "caption" + std::to_string(static_cast<int>(kind));
        figure.along = estate_to_print().job.stations[2].along.value;
        figure.name = estate_to_print().job.doors.front().name;
        if (kind == FigureKind::drawing) {
            auto drawing = std::make_shared<geometry::Drawing>();
            drawing->layers = {{"NOTE", 7}};
            drawing->entities.push_back({"NOTE", geometry::DrawnLine{{0.0, 0.0}, {850.0, 120.0}}});
            figure.drawing = drawing;
        }
        paper.blocks.emplace_back(figure);
    }
    return paper;
}

TEST(Figures, AreDrawnInTheirRoom) {
    Figures figures(estate_to_print());
    for (const core::Block& block : with_every_figure().blocks) {
        const auto& figure = std::get<core::Figure>(block);
        const QSizeF room(1080.0, 700.0);
        const FigurePicture picture = figures.picture(figure, room);
        SCOPED_TRACE(figure.caption);
        ASSERT_TRUE(picture.draw);
        EXPECT_LE(picture.size.width(), room.width() + 1e-6);
        EXPECT_LE(picture.size.height(), room.height() + 1e-6);
        QImage image(1080, 700, QImage::Format_RGB32);
        image.fill(Qt::white);
        QPainter painter(&image);
        picture.draw(painter);
        painter.end();
        std::set<QRgb> colours;
        for (int y = 0; y < image.height(); y += 2) {
            for (int x = 0; x < image.width(); ++x) {
                colours.insert(image.pixel(x, y));
            }
        }
        EXPECT_GT(colours.size(), 1U) << "something is drawn";
    }
}

TEST(Figures, ADrawingSaysItsScale) {
    Figures figures(estate_to_print());
    const core::Document paper = with_every_figure();
    const FigurePicture picture = figures.picture(std::get<core::Figure>(paper.blocks.back()), {1080.0, 700.0});
    EXPECT_EQ(picture.words, QStringLiteral("scale 1:5"));
    // 850 mm at a fifth, and the air beside it.
    EXPECT_NEAR((picture.size.width() - 16.0) * k_units_per_pixel / 100.0, 170.0, 0.01);
}

TEST(Papers, HasEveryFileOfEstateA) {
    for (const core::Side side : {core::Side::right, core::Side::left}) {
        const auto files = paper_files(estate_to_print(side), core::BuckWork{});
        ASSERT_TRUE(files) << files.error().message;
        std::set<std::string> paths;
        const char* const here = side == core::Side::right ? "RIGHT SIDE" : "LEFT SIDE";
        const char* const there = side == core::Side::right ? "LEFT SIDE" : "RIGHT SIDE";
        for (const core::HandoverFile& file : files.value()) {
            SCOPED_TRACE(file.path);
            EXPECT_TRUE(paths.insert(file.path).second);
            if (!file.path.ends_with(".pdf")) {
                continue;
            }
            const ReadPdf pdf = read_pdf(file.bytes);
            for (std::size_t i = 0; i < pdf.pages.size(); ++i) {
                EXPECT_TRUE(pdf.text(static_cast<int>(i)).contains(QString::fromLatin1(here))) << i;
                EXPECT_FALSE(pdf.text(static_cast<int>(i)).contains(QString::fromLatin1(there))) << i;
            }
        }
        EXPECT_TRUE(paths.count("report.html"));
        EXPECT_TRUE(paths.count("templates/template_flange.pdf"));
        EXPECT_GE(
            std::count_if(paths.begin(), paths.end(), [](const auto& path) { return path.starts_with("papers/"); }),
            10);
    }
}

}  // namespace
}  // namespace sillwright::app::print
