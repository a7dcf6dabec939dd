#include <gtest/gtest.h>

#include <QApplication>
#include <QTemporaryDir>

int main(int argc, char** argv) {
    // No test opens a window on somebody's desktop, nor needs one; the solid
    // picture's own tests run on a display of their own (see tests/CMakeLists.txt).
    const bool own_display = !qEnvironmentVariableIsEmpty("SILLWRIGHT_TEST_ON_X11");
    qputenv("QT_QPA_PLATFORM", own_display ? "xcb" : "offscreen");
    qputenv("QT_XCB_GL_INTEGRATION", "xcb_glx");
    QApplication::setAttribute(Qt::AA_ShareOpenGLContexts);
    // Nor does it read or write anybody's settings, or the unsaved jobs that are kept for them.
    const QTemporaryDir own;
    qputenv("XDG_CONFIG_HOME", own.filePath("config").toLocal8Bit());
    qputenv("XDG_DATA_HOME", own.filePath("data").toLocal8Bit());
    const QApplication application(argc, argv);
    testing::InitGoogleTest(&argc, argv);
    return RUN_ALL_TESTS();
}
