#include <gtest/gtest.h>

#include <QApplication>

int main(int argc, char** argv) {
    // No test opens a window on somebody's desktop, nor needs one.
    qputenv("QT_QPA_PLATFORM", "offscreen");
    QApplication::setAttribute(Qt::AA_ShareOpenGLContexts);
    const QApplication application(argc, argv);
    testing::InitGoogleTest(&argc, argv);
    return RUN_ALL_TESTS();
}
