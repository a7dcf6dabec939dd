#include "app/drawings/solid_canvas.h"

#include <AIS_InteractiveContext.hxx>
#include <AIS_Shape.hxx>
#include <AIS_ViewController.hxx>
#include <Aspect_DisplayConnection.hxx>
#include <Aspect_NeutralWindow.hxx>
#include <BRep_Builder.hxx>
#include <Graphic3d_Vec2.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_Printer.hxx>
#include <OpenGl_Context.hxx>
#include <OpenGl_FrameBuffer.hxx>
#include <OpenGl_GraphicDriver.hxx>
#include <Poly_Triangulation.hxx>
#include <QGuiApplication>
#include <QMouseEvent>
#include <QPainter>
#include <QWheelEvent>
#include <Standard_Failure.hxx>
#include <TopoDS_Face.hxx>
#include <V3d_View.hxx>
#include <V3d_Viewer.hxx>
#include <gp_Trsf.hxx>
#include <string>

#include "app/drawings/crease.h"
#include "app/looks.h"

namespace sillwright::app {

namespace {

/// Edges where two triangles meet at more than this are left sharp.
constexpr geometry::Angle k_crease = geometry::degrees(30.0);

/// Notches of a wheel come as eighths of a degree, 15 degrees each (Qt's documentation of QWheelEvent).
constexpr double k_notch = 120.0;

Quantity_Color in_kernel(const QColor& colour) {
    return {colour.redF(), colour.greenF(), colour.blueF(), Quantity_TOC_sRGB};
}

QColor colour(SolidRole role) {
    switch (role) {
        case SolidRole::door:
            return looks::colours(looks::Tone::light).door;
        case SolidRole::skirt:
            return looks::colours(looks::Tone::light).skirt;
        case SolidRole::body:
            break;
    }
    return looks::colours(looks::Tone::light).graphite.lighter(260);
}

Handle(Poly_Triangulation) in_kernel(const ShadedMesh& mesh) {
    const auto corners = static_cast<int>(mesh.points.size());
    Handle(Poly_Triangulation) triangulation =
        new Poly_Triangulation(corners, static_cast<int>(mesh.triangles.size()), false, true);
    for (int i = 0; i < corners; ++i) {
        const auto index = static_cast<std::size_t>(i);
        const Eigen::Vector3d& p = mesh.points[index];
        const Eigen::Vector3d& n = mesh.normals[index];
        triangulation->SetNode(i + 1, gp_Pnt(p.x(), p.y(), p.z()));
        triangulation->SetNormal(i + 1, gp_Dir(n.x(), n.y(), n.z()));
    }
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        const geometry::Triangle& t = mesh.triangles[i];
        triangulation->SetTriangle(static_cast<int>(i) + 1, Poly_Triangle(t[0] + 1, t[1] + 1, t[2] + 1));
    }
    return triangulation;
}

Handle(AIS_Shape) in_kernel(const SolidBody& body) {
    TopoDS_Face face;
    BRep_Builder().MakeFace(face, in_kernel(shaded(body.mesh, k_crease)));
    Handle(AIS_Shape) shape = new AIS_Shape(face);
    shape->SetDisplayMode(AIS_Shaded);
    shape->SetColor(in_kernel(colour(body.role)));
    Graphic3d_MaterialAspect material(Graphic3d_NameOfMaterial_Plastified);
    material.SetShininess(0.2F);
    shape->SetMaterial(material);
    shape->SetColor(in_kernel(colour(body.role)));
    return shape;
}

/// The kernel's own messages go to the standard output, which is ours; failures
/// still do. (One warning is known: the window that we name has no depth buffer,
/// while the one that is drawn to has.)
void quieten_kernel() {
    for (const Handle(Message_Printer) & printer : Message::DefaultMessenger()->Printers()) {
        printer->SetTraceLevel(Message_Fail);
    }
}

Handle(OpenGl_GraphicDriver) make_driver() {
    quieten_kernel();
    Handle(Aspect_DisplayConnection) display;
    // Qt's own connection: with another one the window's number means nothing.
    if (auto* x11 = qGuiApp->nativeInterface<QNativeInterface::QX11Application>()) {
        display = new Aspect_DisplayConnection(reinterpret_cast<Aspect_XDisplay*>(x11->display()));
    }
    Handle(OpenGl_GraphicDriver) driver = new OpenGl_GraphicDriver(display, false);
    driver->ChangeOptions().buffersNoSwap = true;       // Qt swaps
    driver->ChangeOptions().buffersOpaqueAlpha = true;  // or the desktop shines through
    driver->ChangeOptions().sRGBDisable = true;         // Qt's buffer is not sRGB: colours would be far too dark
    return driver;
}

std::string text(const Standard_Failure& failure) {
    return failure.GetMessageString() == nullptr ? "no reason given" : failure.GetMessageString();
}

}  // namespace

struct SolidCanvas::Viewer : public AIS_ViewController {
    explicit Viewer(const Handle(OpenGl_GraphicDriver) & graphics)
        : driver{graphics}, viewer{new V3d_Viewer(graphics)}, context{new AIS_InteractiveContext(viewer)} {
        viewer->SetDefaultLights();
        viewer->SetLightOn();
        view = viewer->CreateView();
        view->SetImmediateUpdate(false);
        view->SetBackgroundColor(in_kernel(looks::colours(looks::Tone::light).paper));
        view->ChangeRenderingParams().NbMsaaSamples = 4;
        SetAllowHighlight(false);
    }

    void show(const std::vector<SolidBody>& bodies, const std::vector<std::optional<DoorPose>>& poses) {
        context->RemoveAll(false);
        shapes.clear();
        for (const SolidBody& body : bodies) {
            shapes.emplace_back();
            if (!body.mesh.triangles.empty()) {
                shapes.back() = in_kernel(body);
                constexpr int no_selection = -1;
                context->Display(shapes.back(), AIS_Shaded, no_selection, false);
            }
        }
        for (std::size_t i = 0; i < poses.size(); ++i) {
            if (poses[i]) {
                place(i, *poses[i]);
            }
        }
        look_from_outside(bodies);
        view->FitAll(0.08, false);
        view->Invalidate();
    }

    void place(std::size_t body, const DoorPose& pose) {
        if (!shapes[body].IsNull()) {
            gp_Trsf transformation;
            transformation.SetValues(pose(0, 0), pose(0, 1), pose(0, 2), pose(0, 3), pose(1, 0), pose(1, 1), pose(1, 2),
                                     pose(1, 3), pose(2, 0), pose(2, 1), pose(2, 2), pose(2, 3));
            context->SetLocation(shapes[body], transformation);
            view->Invalidate();
        }
    }

    /// From beside the car, somewhat above and behind: a sill is long and low.
    void look_from_outside(const std::vector<SolidBody>& bodies) {
        double y_mm = 0.0;
        for (const SolidBody& body : bodies) {
            for (const Eigen::Vector3d& p_mm : body.mesh.points) {
                y_mm += p_mm.y();
            }
        }
        view->SetUp(0.0, 0.0, 1.0);
        view->SetProj(0.35, y_mm < 0.0 ? -1.0 : 1.0, 0.4);
        view->SetUp(0.0, 0.0, 1.0);
    }

    Handle(OpenGl_GraphicDriver) driver;
    Handle(V3d_Viewer) viewer;
    Handle(AIS_InteractiveContext) context;
    Handle(V3d_View) view;
    std::vector<Handle(AIS_Shape)> shapes;  ///< None for a body without triangles.
};

SolidCanvas::SolidCanvas(QWidget* parent) : QOpenGLWidget(parent) {
    setObjectName(QStringLiteral("solidCanvas"));
    setAccessibleName(tr("The solid in the round"));
    setMouseTracking(true);
}

SolidCanvas::~SolidCanvas() {
    // OpenCASCADE frees its buffers in its own context, which must be current.
    makeCurrent();
    viewer_.reset();
    doneCurrent();
}

void SolidCanvas::show_bodies(const std::vector<SolidBody>& bodies) {
    bodies_ = bodies;
    poses_.assign(bodies.size(), std::nullopt);
    if (viewer_) {
        makeCurrent();
        viewer_->show(bodies_, poses_);
        doneCurrent();
        update();
    }
}

void SolidCanvas::set_pose(std::size_t body, const DoorPose& pose) {
    poses_.at(body) = pose;
    if (viewer_) {
        viewer_->place(body, pose);
        update();
    }
}

void SolidCanvas::initializeGL() {
    try {
        viewer_.reset();
        auto viewer = std::make_unique<Viewer>(make_driver());
        const Handle(Aspect_NeutralWindow) native = new Aspect_NeutralWindow();
        // The top-level window's number: the widget itself has none of its own.
        native->SetNativeHandle(static_cast<Aspect_Drawable>(window()->winId()));
        const QSize pixels = size() * devicePixelRatioF();
        native->SetSize(pixels.width(), pixels.height());
        // Qt's context, which is current now, is the one to draw with.
        const Handle(OpenGl_Context) current = new OpenGl_Context();
        if (!current->Init()) {
            throw Standard_Failure("no GLX context");
        }
        viewer->view->SetWindow(native, current->RenderingContext());
        viewer_ = std::move(viewer);
        viewer_->show(bodies_, poses_);
    } catch (const Standard_Failure& failure) {
        viewer_.reset();
        failure_ = tr("There is no solid picture here: the graphics failed (%1). Everything else works.")
                       .arg(QString::fromStdString(text(failure)));
    }
}

void SolidCanvas::paintGL() {
    if (!viewer_) {
        QPainter painter(this);
        painter.fillRect(rect(), looks::colours(looks::Tone::light).paper);
        painter.setPen(looks::colours(looks::Tone::light).graphite);
        painter.setFont(looks::font(16));
        painter.drawText(rect().adjusted(24, 24, -24, -24), Qt::AlignCenter | Qt::TextWordWrap, failure_);
        return;
    }
    const Handle(OpenGl_Context)& gl = viewer_->driver->GetSharedContext();
    Handle(OpenGl_FrameBuffer) buffer = gl->DefaultFrameBuffer();
    if (buffer.IsNull()) {
        buffer = new OpenGl_FrameBuffer();
        gl->SetDefaultFrameBuffer(buffer);
    }
    if (!buffer->InitWrapper(gl)) {
        gl->SetDefaultFrameBuffer({});
        return;
    }
    const Graphic3d_Vec2i wanted = buffer->GetVPSize();
    const Handle(Aspect_NeutralWindow) native = Handle(Aspect_NeutralWindow)::DownCast(viewer_->view->Window());
    Graphic3d_Vec2i present;
    native->Size(present.x(), present.y());
    if (present != wanted) {
        native->SetSize(wanted.x(), wanted.y());
        viewer_->view->MustBeResized();
        viewer_->view->Invalidate();
    }
    viewer_->view->InvalidateImmediate();
    viewer_->FlushViewEvents(viewer_->context, viewer_->view, true);
}

namespace {

Graphic3d_Vec2i in_pixels(const QPointF& position, double ratio) {
    return Graphic3d_Vec2i(static_cast<int>(position.x() * ratio), static_cast<int>(position.y() * ratio));
}

Aspect_VKeyMouse buttons_of(const QMouseEvent& event) {
    Aspect_VKeyMouse buttons = Aspect_VKeyMouse_NONE;
    if (event.buttons().testFlag(Qt::LeftButton)) {
        buttons |= Aspect_VKeyMouse_LeftButton;
    }
    if (event.buttons().testFlag(Qt::MiddleButton)) {
        buttons |= Aspect_VKeyMouse_MiddleButton;
    }
    return buttons;
}

}  // namespace

void SolidCanvas::pass_on_buttons(QMouseEvent* event) {
    if (viewer_ && viewer_->UpdateMouseButtons(in_pixels(event->position(), devicePixelRatioF()), buttons_of(*event),
                                               Aspect_VKeyFlags_NONE, false)) {
        update();
    }
}

void SolidCanvas::mousePressEvent(QMouseEvent* event) {
    pass_on_buttons(event);
}

void SolidCanvas::mouseReleaseEvent(QMouseEvent* event) {
    pass_on_buttons(event);
}

void SolidCanvas::mouseMoveEvent(QMouseEvent* event) {
    if (viewer_ && viewer_->UpdateMousePosition(in_pixels(event->position(), devicePixelRatioF()), buttons_of(*event),
                                                Aspect_VKeyFlags_NONE, false)) {
        update();
    }
}

void SolidCanvas::wheelEvent(QWheelEvent* event) {
    const Aspect_ScrollDelta turned(in_pixels(event->position(), devicePixelRatioF()),
                                    event->angleDelta().y() / k_notch);
    if (viewer_ && viewer_->UpdateZoom(turned)) {
        update();
    }
}

}  // namespace sillwright::app
