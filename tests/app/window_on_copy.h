#pragma once

#include <gtest/gtest.h>

#include <QAbstractItemModelTester>
#include <QAction>
#include <QFile>
#include <QPushButton>
#include <QSettings>
#include <QTemporaryDir>
#include <QtTest>
#include <filesystem>
#include <memory>
#include <stdexcept>
#include <string>

#include "app/drawings/section_drawing.h"
#include "app/window/main_window.h"
#include "core/edit/drawn_id.h"
#include "core/finding_words.h"
#include "core/job_file.h"

namespace sillwright::app {

/// The real window with a copy of a sample open, worked as a hand works it: by the names of what is in it.
class WindowOnCopy : public testing::Test {
protected:
    static constexpr int k_patience = 120'000;  ///< Milliseconds; a busy machine may need some of them.

    /// A window of the least size that it is made for. The one before is gone.
    void open(const std::string& sample = "estate_a.sillwright") {
        file_ = std::filesystem::path(folder_.path().toStdString()) / sample;
        if (!std::filesystem::exists(file_)) {
            std::filesystem::copy_file(std::filesystem::path(SILLWRIGHT_SOURCE_DIR "/samples") / sample, file_);
        }
        window_.reset();
        QSettings().clear();
        window_ = std::make_unique<MainWindow>(core_link());
        window_->resize(1366, 768);
        window_->show();
        window_->activateWindow();
        ASSERT_TRUE(QTest::qWaitForWindowExposed(window_.get()));
        watch_models();
        ASSERT_TRUE(window_->open_file(file_));
        original_ = job().job();
        ASSERT_TRUE(settle());
    }

    /// Whatever happens to a model of ours from now on is looked at: one that misleads its view ends the test.
    void watch_models() {
        int models = 0;
        for (QAbstractItemModel* model : window_->findChildren<QAbstractItemModel*>()) {
            if (QLatin1String(model->metaObject()->className()).startsWith(QLatin1String("sillwright"))) {
                ++models;
                new QAbstractItemModelTester(model, QAbstractItemModelTester::FailureReportingMode::Fatal, model);
            }
        }
        EXPECT_GE(models, 2) << "findings, and a table at least";
    }
    /// Until the results are those of the job as it is.
    bool settle() {
        const bool done = QTest::qWaitFor([this] { return !job().computing(); }, k_patience);
        window_->settle();
        return done && job().current();
    }

    OpenJob& job() { return window_->job(); }
    Focus& focus() { return window_->focus(); }
    template <class T>
    T& child(const QString& name) {
        T* found = window_->findChild<T*>(name);
        if (found == nullptr) {
            throw std::runtime_error("The window has no " + name.toStdString());
        }
        return *found;
    }
    SectionDrawing& section() { return child<SectionDrawing>("sectionDrawing"); }
    void press(const QString& name) {
        auto& button = child<QAbstractButton>(name);
        ASSERT_TRUE(button.isVisible()) << name.toStdString();
        ASSERT_TRUE(button.isEnabled()) << name.toStdString();
        QTest::mouseClick(&button, Qt::LeftButton);
    }
    void trigger(const QString& action) { child<QAction>(action).trigger(); }

    /// A place of the section that a pointer can get at: nothing lies over it.
    QPoint reachable(const Eigen::Vector2d& p_mm) {
        const QPoint at = section().on_paper(p_mm).toPoint();
        EXPECT_EQ(window_->childAt(section().mapTo(window_.get(), at)), &section())
            << p_mm.transpose() << " cannot be pressed";
        return at;
    }
    /// Turns the wheel over a place of the section until a pixel is a quarter of a millimetre, as who looks closely
    /// does.
    void enlarge(const Eigen::Vector2d& p_mm) {
        constexpr double k_close = 4.0;
        constexpr int k_most_turns = 50;
        for (int turns = 0; section().pixels_per_mm() < k_close && turns < k_most_turns; ++turns) {
            const QPointF at = section().on_paper(p_mm);
            QWheelEvent event(at, section().mapToGlobal(at), {}, {0, 120}, Qt::NoButton, {}, Qt::NoScrollPhase, false);
            QCoreApplication::sendEvent(&section(), &event);
        }
        EXPECT_GE(section().pixels_per_mm(), k_close);
    }
    /// Takes hold of what is at a place, in the section, and moves it; the hand does not let go.
    void drag(const Eigen::Vector2d& from_mm, const Eigen::Vector2d& to_mm) {
        QTest::mousePress(&section(), Qt::LeftButton, {}, reachable(from_mm));
        move(0.5 * (from_mm + to_mm));
        move(to_mm);
    }
    void move(const Eigen::Vector2d& to_mm) {
        const QPointF at = section().on_paper(to_mm);
        QMouseEvent event(QEvent::MouseMove, at, section().mapToGlobal(at), Qt::NoButton, Qt::LeftButton, {});
        QCoreApplication::sendEvent(&section(), &event);
    }
    void let_go(const Eigen::Vector2d& at_mm) {
        QTest::mouseRelease(&section(), Qt::LeftButton, {}, section().on_paper(at_mm).toPoint());
    }

    [[nodiscard]] Eigen::Vector2d node_mm(const std::string& id) {
        const auto place = core::find_node(job().job(), id).value();
        const core::Node& node = core::drawn(job().job(), place.drawn).sections[place.section].nodes[place.node];
        return {geometry::in_mm(node.out.value), geometry::in_mm(node.up.value)};
    }
    core::StateCounts counts() { return core::count_states(job().results()->findings); }

    static std::string bytes(const std::filesystem::path& path) {
        QFile file(path);
        EXPECT_TRUE(file.open(QIODevice::ReadOnly)) << path;
        return file.readAll().toStdString();
    }

    QTemporaryDir folder_;
    std::filesystem::path file_;
    std::unique_ptr<MainWindow> window_;
    core::Job original_;
};

}  // namespace sillwright::app
