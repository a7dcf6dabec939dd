#pragma once

#include <gtest/gtest.h>

#include <QFile>
#include <QProcess>
#include <QRegularExpression>
#include <QTemporaryDir>
#include <string>
#include <vector>

/// A PDF as independent programs read it.
namespace sillwright::app::print {

inline QByteArray run_tool(const QString& program, const QStringList& arguments) {
    QProcess process;
    process.start(program, arguments);
    EXPECT_TRUE(process.waitForFinished(120000)) << program.toStdString();
    EXPECT_EQ(process.exitCode(), 0) << process.readAllStandardError().toStdString();
    return process.readAllStandardOutput();
}

/// A word with its box, in points from the page's upper left corner.
struct PdfWord {
    int page = 0;
    double left = 0.0, top = 0.0, right = 0.0, bottom = 0.0;
    QString text;
};

struct ReadPdf {
    std::vector<QSizeF> pages;
    std::vector<PdfWord> words;

    [[nodiscard]] QString text(int page) const {
        QString all;
        for (const PdfWord& word : words) {
            if (word.page == page) {
                all += word.text + u' ';
            }
        }
        return all;
    }
    [[nodiscard]] QString text() const {
        QString all;
        for (std::size_t i = 0; i < pages.size(); ++i) {
            all += text(static_cast<int>(i));
        }
        return all;
    }
};

inline ReadPdf read_pdf(const std::string& bytes) {
    const QTemporaryDir folder;
    const QString file = folder.filePath(QStringLiteral("paper.pdf"));
    QFile out(file);
    EXPECT_TRUE(out.open(QIODevice::WriteOnly));
    out.write(bytes.data(), static_cast<qint64>(bytes.size()));
    out.close();
    const QString html =
        QString::fromUtf8(run_tool(QStringLiteral("pdftotext"), {QStringLiteral("-bbox"), file, QStringLiteral("-")}));
    static const QRegularExpression part(
        QStringLiteral("<page width=\"([0-9.]+)\" height=\"([0-9.]+)\">|<word xMin=\"([-0-9.]+)\" yMin=\"([-0-9.]+)\" "
                       "xMax=\"([-0-9.]+)\" yMax=\"([-0-9.]+)\">(.*?)</word>"));
    ReadPdf read;
    for (auto it = part.globalMatch(html); it.hasNext();) {
        const auto match = it.next();
        if (match.captured(1).isEmpty()) {
            QString text = match.captured(7);
            text.replace(QStringLiteral("&amp;"), QStringLiteral("&"))
                .replace(QStringLiteral("&lt;"), QStringLiteral("<"));
            text.replace(QStringLiteral("&gt;"), QStringLiteral(">"))
                .replace(QStringLiteral("&quot;"), QStringLiteral("\""));
            read.words.push_back({static_cast<int>(read.pages.size()) - 1, match.captured(3).toDouble(),
                                  match.captured(4).toDouble(), match.captured(5).toDouble(),
                                  match.captured(6).toDouble(),
                                  text.normalized(QString::NormalizationForm_KC)});  // Of "fi" as one sign.
        } else {
            read.pages.emplace_back(match.captured(1).toDouble(), match.captured(2).toDouble());
        }
    }
    return read;
}

/// No word leaves its page, and no page is without words.
inline void expect_on_pages(const ReadPdf& pdf) {
    constexpr double k_margin_points = 20.0;
    std::vector<int> count(pdf.pages.size(), 0);
    for (const PdfWord& word : pdf.words) {
        const QSizeF& page = pdf.pages[static_cast<std::size_t>(word.page)];
        ++count[static_cast<std::size_t>(word.page)];
        EXPECT_GE(word.left, k_margin_points) << word.text.toStdString();
        EXPECT_GE(word.top, k_margin_points) << word.text.toStdString();
        EXPECT_LE(word.right, page.width() - k_margin_points) << word.text.toStdString();
        EXPECT_LE(word.bottom, page.height() - k_margin_points) << word.text.toStdString();
    }
    for (std::size_t i = 0; i < count.size(); ++i) {
        EXPECT_GT(count[i], 10) << "page " << i + 1;
    }
}

}  // namespace sillwright::app::print
