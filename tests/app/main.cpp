#include <gtest/gtest.h>

#include <QApplication>

int main(int argc, char** argv) {
    // No test opens a window on somebody's desktop, nor needs one; the solid
    // picture's own tests run on a display of their own (see tests/CMakeLists.txt).
    const bool own_display = !qEnvironmentVariableIsEmpty("SILLWRIGHT_TEST_ON_X11");
    qputenv("QT_QPA_PLATFORM", own_display ? "xcb" : "offscreen");
    qputenv("QT_XCB_GL_INTEGRATION", "xcb_glx");
    QApplication::setAttribute(Qt::AA_ShareOpenGLContexts);
    const QApplication application(argc, argv);
    testing::InitGoogleTest(&argc, argv);
    return RUN_ALL_TESTS();
}
