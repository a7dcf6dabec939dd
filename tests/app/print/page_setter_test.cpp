#include "app/print/page_setter.h"

#include <gtest/gtest.h>

#include <set>

#include "app/print/strip_of_page.h"
#include "tests/app/print/run_tool.h"

namespace sillwright::app::print {
namespace {

JobHead invented_head() {
    return {QStringLiteral("Estate A, the one with the dented left sill"), QStringLiteral("3"),
            QStringLiteral("2026-11-30"), QStringLiteral("mm"), QStringLiteral("LEFT SIDE")};
}

core::Finding short_finding(int number) {
    core::Finding finding;
    finding.id = "swing/door " + std::to_string(number);
    finding.title = "Door moving, to skirt, number" + std::to_string(number);
    finding.state = core::State::falls_short;
    finding.found = 1.9;
    finding.required = 4.0;
    finding.margin = -2.1;
    finding.place.words = "at 3.9 · 700 mm, door at 6.2°";
    finding.why = "The lower edge comes down as the door lets go of its striker.";
    return finding;
}

core::Document with_every_block() {
    core::Document paper;
    paper.stem = "sample";
    paper.title = "A paper with every block";
    paper.reader = "for whoever tests it";
    paper.cautions = {"Never work below a car that stands on a jack alone.", "Know where the airbag sensors are."};
    paper.falls_short = {short_finding(1), short_finding(2)};
    paper.open = {"The sag of the rear door is not measured."};
    paper.blocks.emplace_back(core::Heading{"First heading"});
    paper.blocks.emplace_back(
        core::Words{"Plainwords go on and on until the line is full, and then on the next one, "
                    "as words do that nobody has shortened so that they fit.",
                    false});
    paper.blocks.emplace_back(core::Words{"Strongwords", true});
    paper.blocks.emplace_back(core::Items{{"itemone", "itemtwo"}, true});
    paper.blocks.emplace_back(core::Items{{"bulletone"}, false});
    paper.blocks.emplace_back(core::Values{{{"valuename", "valuenumber 12.3 mm"}}});
    core::Grid grid{{"hole", "x", "a long remark", "measured"}, {}, {3}};
    for (int i = 0; i < 90; ++i) {
        grid.rows.push_back({"H" + std::to_string(i), std::to_string(100 * i) + ".5",
                             i % 7 == 0
                                 ? "this remark takes more than one line because the maker had much to say of the "
                                   "hole, of the clip in it and of the one who had been there before"
                                 : "good",
                             ""});
    }
    grid.rows[3][2] = std::string(160, 'w');  // One word that is wider than the page.
    paper.blocks.emplace_back(grid);
    paper.blocks.emplace_back(core::Heading{"Last heading"});
    paper.blocks.emplace_back(core::Boxes{{"questionone", "questiontwo"}});
    core::Figure figure;
    figure.caption = "figurecaption";
    paper.blocks.emplace_back(figure);
    return paper;
}

FigurePicture crossed(const core::Figure&, const QSizeF& room) {
    return {room, [room](QPainter& painter) {
                painter.setPen(QPen(Qt::black, 1.0));
                painter.drawLine(QPointF(0.0, 0.0), QPointF(room.width(), room.height()));
            }};
}

std::string made(const core::Document& paper, core::PaperSize size = core::PaperSize::a4) {
    const auto pdf = document_pdf(paper, invented_head(), size, crossed);
    EXPECT_TRUE(pdf) << (pdf ? "" : pdf.error().message);
    return pdf ? pdf.value() : std::string();
}

TEST(PageSetter, HasEveryBlockAndNothingOutsideThePage) {
    const core::Document paper = with_every_block();
    for (const core::PaperSize size : {core::PaperSize::a4, core::PaperSize::letter}) {
        for (const bool lying : {false, true}) {
            core::Document one = paper;
            one.lying = lying;
            const ReadPdf pdf = read_pdf(made(one, size));
            ASSERT_GE(pdf.pages.size(), 2U);
            EXPECT_EQ(pdf.pages[0].width() > pdf.pages[0].height(), lying);
            expect_on_pages(pdf);
            const QString text = pdf.text();
            for (const char* word :
                 {"Plainwords", "Strongwords", "itemone", "1.", "bulletone", "valuename", "valuenumber", "H0", "H89",
                  "questionone", "questiontwo", "figurecaption", "number1", "number2", "sag", "airbag"}) {
                EXPECT_TRUE(text.contains(QString::fromLatin1(word))) << word;
            }
            // The broken word is all there.
            EXPECT_EQ(text.count(u'w') >= 160, true);
        }
    }
}

TEST(PageSetter, EveryPageHasItsHeadAndItsCautions) {
    const ReadPdf pdf = read_pdf(made(with_every_block()));
    const auto count = pdf.pages.size();
    for (std::size_t i = 0; i < count; ++i) {
        const QString text = pdf.text(static_cast<int>(i));
        for (const QString& part :
             {QStringLiteral("A paper with every block"), QStringLiteral("for whoever tests it"),
              QStringLiteral("LEFT SIDE"), QStringLiteral("Estate A"), QStringLiteral("revision 3"),
              QStringLiteral("2026-11-30"), QStringLiteral("numbers in mm"),
              QStringLiteral("page %1 of %2").arg(i + 1).arg(count), QStringLiteral("jack alone."),
              QStringLiteral("airbag sensors")}) {
            EXPECT_TRUE(text.contains(part)) << i << ' ' << part.toStdString();
        }
    }
    EXPECT_TRUE(pdf.text(0).contains(QStringLiteral("2 FINDINGS FALL SHORT")));
    EXPECT_TRUE(pdf.text(0).contains(QStringLiteral("falls short: Door moving")));
    EXPECT_TRUE(pdf.text(0).contains(QStringLiteral("STILL OPEN")));
}

TEST(PageSetter, RepeatsATablesHeadWhereItGoesOn) {
    const ReadPdf pdf = read_pdf(made(with_every_block()));
    for (std::size_t i = 0; i < pdf.pages.size(); ++i) {
        const QString text = pdf.text(static_cast<int>(i));
        static const QRegularExpression row(QStringLiteral("\\bH[0-9]+\\b"));
        EXPECT_EQ(text.contains(row), text.contains(QStringLiteral("a long remark"))) << i;
    }
    // Each row is there once.
    const QString all = pdf.text();
    for (int i = 0; i < 90; ++i) {
        const QRegularExpression one(QStringLiteral("\\bH%1\\b").arg(i));
        EXPECT_EQ(all.count(one), 1) << i;
    }
}

TEST(PageSetter, NoHeadingStandsAloneAtAPagesFoot) {
    for (int lines = 20; lines < 90; lines += 3) {
        core::Document paper;
        paper.title = "Headings";
        for (int i = 0; i < lines; ++i) {
            paper.blocks.emplace_back(core::Words{"line" + std::to_string(i)});
        }
        paper.blocks.emplace_back(core::Heading{"Lonelyheading"});
        paper.blocks.emplace_back(core::Words{"follower"});
        const ReadPdf pdf = read_pdf(made(paper));
        int heading = -1;
        int follower = -2;
        for (const PdfWord& word : pdf.words) {
            heading = word.text == QStringLiteral("Lonelyheading") ? word.page : heading;
            follower = word.text == QStringLiteral("follower") ? word.page : follower;
        }
        EXPECT_EQ(heading, follower) << lines;
    }
}

TEST(PageSetter, SetsSmallerWhatMustGoOnOnePage) {
    core::Document paper = with_every_block();
    std::get<core::Grid>(paper.blocks[6]).rows.resize(4);
    paper.falls_short.clear();
    core::Figure figure;
    figure.height_share = 0.55;
    paper.blocks.emplace_back(figure);
    EXPECT_GT(read_pdf(made(paper)).pages.size(), 1U);
    paper.one_page = true;
    const ReadPdf pdf = read_pdf(made(paper));
    EXPECT_EQ(pdf.pages.size(), 1U);
    expect_on_pages(pdf);
    // Letters of 7.5 points at least: pdftotext's boxes are as high as the font's lines, 1.16 of its size.
    for (const PdfWord& word : pdf.words) {
        EXPECT_GT(word.bottom - word.top, 7.4) << word.text.toStdString();
    }
}

TEST(PageSetter, GoesOnWhereOnePageHasNoRoom) {
    core::Document paper = with_every_block();
    const ReadPdf usual = read_pdf(made(paper));
    paper.one_page = true;
    const ReadPdf pdf = read_pdf(made(paper));
    EXPECT_EQ(pdf.pages.size(), usual.pages.size());
    expect_on_pages(pdf);
}

TEST(PageSetter, PrintsAllThatFallsShortEvenOverPages) {
    core::Document paper;
    paper.title = "Many findings";
    for (int i = 0; i < 60; ++i) {
        paper.falls_short.push_back(short_finding(i));
    }
    const ReadPdf pdf = read_pdf(made(paper));
    EXPECT_GE(pdf.pages.size(), 2U);
    expect_on_pages(pdf);
    const QString all = pdf.text();
    for (int i = 0; i < 60; ++i) {
        EXPECT_TRUE(all.contains(QRegularExpression(QStringLiteral("number%1\\b").arg(i)))) << i;
    }
    EXPECT_TRUE(pdf.text(1).contains(QStringLiteral("(goes on)")));
}

TEST(PageSetter, EmbedsItsFonts) {
    const QTemporaryDir folder;
    const QString file = folder.filePath(QStringLiteral("paper.pdf"));
    QFile out(file);
    ASSERT_TRUE(out.open(QIODevice::WriteOnly));
    const std::string bytes = made(with_every_block());
    out.write(bytes.data(), static_cast<qint64>(bytes.size()));
    out.close();
    const QStringList lines =
        QString::fromUtf8(run_tool(QStringLiteral("pdffonts"), {file})).split(u'\n', Qt::SkipEmptyParts);
    ASSERT_GT(lines.size(), 2);
    for (qsizetype i = 2; i < lines.size(); ++i) {
        EXPECT_TRUE(lines[i].contains(QStringLiteral(" yes "))) << lines[i].toStdString();
    }
}

}  // namespace
}  // namespace sillwright::app::print
