#include "app/drawings/solid_painter.h"

#include <sys/resource.h>

#include <Aspect_DisplayConnection.hxx>
#include <Graphic3d_ArrayOfPolylines.hxx>
#include <Graphic3d_ArrayOfSegments.hxx>
#include <Graphic3d_ArrayOfTriangles.hxx>
#include <Graphic3d_AspectFillArea3d.hxx>
#include <Graphic3d_AspectLine3d.hxx>
#include <Graphic3d_Camera.hxx>
#include <Graphic3d_Group.hxx>
#include <Graphic3d_Structure.hxx>
#include <Image_PixMap.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_Printer.hxx>
#include <OpenGl_GraphicDriver.hxx>
#include <QCoreApplication>
#include <Standard_Failure.hxx>
#include <TColStd_IndexedDataMapOfStringString.hxx>
#include <TopLoc_Datum3D.hxx>
#include <V3d_View.hxx>
#include <V3d_Viewer.hxx>
#include <Xw_Window.hxx>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <condition_variable>
#include <future>
#include <mutex>
#include <string>
#include <thread>
#include <utility>

#include "app/drawings/crease.h"
#include "app/drawings/solid_pick.h"
#include "app/drawings/thickness_tint.h"
#include "geometry/mesh_section.h"

namespace sillwright::app {

namespace {

using Eigen::Vector3d;

/// Edges where two triangles meet at more than this are left sharp.
constexpr geometry::Angle k_crease = geometry::degrees(30.0);

/// Of each pixel of a fine picture.
constexpr int k_samples = 4;

/// Nothing new for so long, and the picture stands still: a hand that turns it is never so slow.
constexpr auto k_still = std::chrono::milliseconds(250);

/// The window's own thread goes first where both want a processor: its drawings follow the hand.
constexpr int k_niceness = 5;

/// Room between the bodies and the frame of the section plane.
constexpr double k_frame_room_mm = 25.0;

Quantity_Color in_kernel(const QColor& colour) {
    return {colour.redF(), colour.greenF(), colour.blueF(), Quantity_TOC_sRGB};
}

QColor mixed(const QColor& colour, const QColor& with, double part) {
    const auto mix = [part](int a, int b) { return static_cast<int>(std::lround((1.0 - part) * a + part * b)); };
    return {mix(colour.red(), with.red()), mix(colour.green(), with.green()), mix(colour.blue(), with.blue())};
}

/// A face's colour: lighter than the line's of the same role, so that the edges stand out.
QColor colour(SolidRole role, looks::Tone tone) {
    const looks::Colours& colours = looks::colours(tone);
    switch (role) {
        case SolidRole::door:
            return mixed(colours.door, colours.paper, 0.25);
        case SolidRole::skirt:
            return mixed(colours.skirt, colours.paper, 0.25);
        case SolidRole::body:
            break;
    }
    return mixed(colours.pencil, colours.paper, 0.4);
}

Handle(TopLoc_Datum3D) in_kernel(const DoorPose& pose) {
    gp_Trsf transformation;
    transformation.SetValues(pose(0, 0), pose(0, 1), pose(0, 2), pose(0, 3), pose(1, 0), pose(1, 1), pose(1, 2),
                             pose(1, 3), pose(2, 0), pose(2, 1), pose(2, 2), pose(2, 3));
    return new TopLoc_Datum3D(transformation);
}

Handle(Graphic3d_ArrayOfTriangles) faces(const ShadedMesh& smooth) {
    Handle(Graphic3d_ArrayOfTriangles) made = new Graphic3d_ArrayOfTriangles(
        static_cast<int>(smooth.points.size()), static_cast<int>(3 * smooth.triangles.size()),
        Graphic3d_ArrayFlags_VertexNormal);
    for (std::size_t i = 0; i < smooth.points.size(); ++i) {
        const Vector3d& p = smooth.points[i];
        const Vector3d& n = smooth.normals[i];
        made->AddVertex(p.x(), p.y(), p.z(), n.x(), n.y(), n.z());
    }
    for (const geometry::Triangle& t : smooth.triangles) {
        made->AddEdges(t[0] + 1, t[1] + 1, t[2] + 1);
    }
    return made;
}

/// Those of one tint alone; null if none has it.
Handle(Graphic3d_ArrayOfTriangles) faces(const ShadedMesh& smooth, const std::vector<int>& tints, int tint) {
    const auto count = std::count(tints.begin(), tints.end(), tint);
    if (count == 0) {
        return {};
    }
    Handle(Graphic3d_ArrayOfTriangles) made =
        new Graphic3d_ArrayOfTriangles(static_cast<int>(3 * count), 0, Graphic3d_ArrayFlags_VertexNormal);
    for (std::size_t i = 0; i < smooth.triangles.size(); ++i) {
        if (tints[i] != tint) {
            continue;
        }
        for (const std::int32_t corner : smooth.triangles[i]) {
            const Vector3d& p = smooth.points[static_cast<std::size_t>(corner)];
            const Vector3d& n = smooth.normals[static_cast<std::size_t>(corner)];
            made->AddVertex(p.x(), p.y(), p.z(), n.x(), n.y(), n.z());
        }
    }
    return made;
}

Handle(Graphic3d_AspectFillArea3d) paint_of(const QColor& colour) {
    const Quantity_Color plain = in_kernel(colour);
    Graphic3d_MaterialAspect material(Graphic3d_NameOfMaterial_Plastified);
    material.SetShininess(0.2F);
    return new Graphic3d_AspectFillArea3d(Aspect_IS_SOLID, plain, plain, Aspect_TOL_SOLID, 1.0, material, material);
}

Handle(Graphic3d_ArrayOfSegments) edges(const geometry::Mesh& mesh) {
    const auto sharp = sharp_edges(mesh, k_crease);
    if (sharp.empty()) {
        return {};
    }
    Handle(Graphic3d_ArrayOfSegments) made = new Graphic3d_ArrayOfSegments(static_cast<int>(2 * sharp.size()));
    for (const auto& edge : sharp) {
        for (const std::int32_t end : edge) {
            const Vector3d& p = mesh.points[static_cast<std::size_t>(end)];
            made->AddVertex(p.x(), p.y(), p.z());
        }
    }
    return made;
}

Handle(Graphic3d_ArrayOfPolylines) lines(const std::vector<geometry::CutChain>& chains) {
    std::size_t points = 0;
    for (const geometry::CutChain& chain : chains) {
        points += chain.points_mm.size() + (chain.closed ? 1U : 0U);
    }
    Handle(Graphic3d_ArrayOfPolylines) made =
        new Graphic3d_ArrayOfPolylines(static_cast<int>(points), static_cast<int>(chains.size()));
    for (const geometry::CutChain& chain : chains) {
        made->AddBound(static_cast<int>(chain.points_mm.size() + (chain.closed ? 1U : 0U)));
        for (const Vector3d& p : chain.points_mm) {
            made->AddVertex(p.x(), p.y(), p.z());
        }
        if (chain.closed) {
            const Vector3d& p = chain.points_mm.front();
            made->AddVertex(p.x(), p.y(), p.z());
        }
    }
    return made;
}

/// The plane x = `at` as seen from a body that was moved by `pose`.
geometry::Plane plane_for(geometry::Length at, const DoorPose& pose) {
    const Eigen::Matrix3d back = pose.leftCols<3>().transpose();
    return {back * (Vector3d(geometry::in_mm(at), 0.0, 0.0) - pose.col(3)), back * Vector3d::UnitX()};
}

/// The upright rectangle round `box` at x = 0.
geometry::CutChain frame_round(const SolidBounds& box) {
    const double near_y = box.low_mm.y() - k_frame_room_mm;
    const double far_y = box.high_mm.y() + k_frame_room_mm;
    const double low_z = box.low_mm.z() - k_frame_room_mm;
    const double high_z = box.high_mm.z() + k_frame_room_mm;
    return {{{0, near_y, low_z}, {0, far_y, low_z}, {0, far_y, high_z}, {0, near_y, high_z}}, true};
}

/// The kernel's own messages go to the standard output, which is ours; failures still do.
void quieten_kernel() {
    for (const Handle(Message_Printer) & printer : Message::DefaultMessenger()->Printers()) {
        printer->SetTraceLevel(Message_Fail);
    }
}

std::string text(const Standard_Failure& failure) {
    const char* message = failure.GetMessageString();
    return message == nullptr || *message == '\0' ? failure.DynamicType()->Name() : message;
}

/// Which of the watched places lie behind a body.
std::vector<bool> hidden_places(const SolidPicture& picture) {
    constexpr double k_skin_mm = 1.0;  // a place on a surface is not hidden by it
    std::vector<PickedBody> bodies;
    for (const PaintedBody& body : picture.bodies) {
        bodies.push_back({body.mesh, bounds_of(*body.mesh), body.pose});
    }
    const QSizeF sheet(picture.pixels);
    std::vector<bool> hidden;
    for (const Vector3d& place_mm : picture.watched_mm) {
        const auto hit = hit_at(bodies, picture.look, picture.look.on_sheet(place_mm, sheet), sheet);
        hidden.push_back(hit && (hit->at_mm - place_mm).dot(picture.look.to_eye()) > k_skin_mm);
    }
    return hidden;
}

/// One body as OpenCASCADE has it.
struct Model {
    PaintedBody body;
    looks::Tone tone = looks::Tone::light;
    Handle(Graphic3d_Structure) structure;
    Handle(Graphic3d_Structure) cut;  ///< Where the section plane cuts it; null where it does not.
    std::optional<geometry::Length> cut_at;
};

/// All that is OpenCASCADE's. Made, used and ended in one thread.
class Easel {
public:
    Easel() {
        quieten_kernel();
        display_ = new Aspect_DisplayConnection();
        driver_ = new OpenGl_GraphicDriver(display_, true);
        driver_->ChangeOptions().buffersNoSwap = true;
        driver_->ChangeOptions().sRGBDisable = true;  // the image is not: colours would be far too dark
        viewer_ = new V3d_Viewer(driver_);
        viewer_->SetDefaultLights();
        viewer_->SetLightOn();
        view_ = viewer_->CreateView();
        view_->SetImmediateUpdate(false);
        view_->ChangeRenderingParams().ShadingModel = Graphic3d_TypeOfShadingModel_Gouraud;
        constexpr int side = 16;  // never shown, never drawn to
        const Handle(Xw_Window) window = new Xw_Window(display_, "Sillwright", 0, 0, side, side);
        window->SetVirtual(true);
        view_->SetWindow(window);
        in_software_ = draws_in_software();
    }
    ~Easel() {
        release_buffer();
        for (Model& model : models_) {
            erase(model);
        }
        erase(frame_);
        view_->Remove();
    }
    Easel(const Easel&) = delete;
    Easel& operator=(const Easel&) = delete;

    PaintedSolid paint(const SolidPicture& picture) {
        PaintedSolid painted;
        painted.look = picture.look;
        painted.fine = picture.fine;
        painted.number = picture.number;
        painted.in_software = in_software_;
        view_->SetBackgroundColor(in_kernel(looks::colours(picture.tone).paper));
        view_->ChangeRenderingParams().NbMsaaSamples = picture.fine ? k_samples : 0;
        models_.resize(std::max(models_.size(), picture.bodies.size()));
        for (std::size_t i = 0; i < picture.bodies.size(); ++i) {
            bring_up(models_[i], picture.bodies[i], picture);
        }
        while (models_.size() > picture.bodies.size()) {
            erase(models_.back());
            models_.pop_back();
        }
        bring_up_frame(picture);
        look(picture);
        if (!prepare_buffer(picture.pixels)) {
            painted.failure = QCoreApplication::translate("SolidPainter",
                                                          "The graphics have no room for a picture of %1 by %2 pixels.")
                                  .arg(picture.pixels.width())
                                  .arg(picture.pixels.height());
            return painted;
        }
        view_->Invalidate();
        view_->Redraw();
        painted.image = read_back(picture.pixels);
        if (picture.fine) {
            painted.hidden = hidden_places(picture);
        }
        return painted;
    }

private:
    void bring_up(Model& model, const PaintedBody& body, const SolidPicture& picture) {
        const bool same_shape = !model.structure.IsNull() && model.body.mesh == body.mesh &&
                                model.body.role == body.role && model.body.chosen == body.chosen &&
                                model.body.tints == body.tints && model.tone == picture.tone;
        const bool same_pose = model.body.pose == body.pose;
        if (!same_shape) {
            erase(model);
            model.structure = structure_of(body, picture.tone);
        }
        model.body = body;
        model.tone = picture.tone;
        if (!model.structure.IsNull() && (!same_shape || !same_pose)) {
            model.structure->SetTransformation(in_kernel(body.pose));
        }
        if (!same_shape || !same_pose || model.cut_at != picture.section) {
            erase(model.cut);
            model.cut_at = picture.section;
            if (picture.section && !model.structure.IsNull()) {
                model.cut = cut_of(model, *picture.section, picture.tone);
            }
        }
    }

    Handle(Graphic3d_Structure) structure_of(const PaintedBody& body, looks::Tone tone) {
        if (body.mesh->triangles.empty()) {
            return {};
        }
        Handle(Graphic3d_Structure) made = new Graphic3d_Structure(viewer_->StructureManager());
        const auto add_sides = [&](const QColor& paint, const Handle(Graphic3d_ArrayOfTriangles) & triangles) {
            const Handle(Graphic3d_Group) sides = made->NewGroup();
            sides->SetPrimitivesAspect(paint_of(paint));
            sides->AddPrimitiveArray(triangles);
        };
        const ShadedMesh smooth = shaded(*body.mesh, k_crease);
        if (body.tints) {
            const ThicknessTint scale({}, {}, tone);
            for (int tint = k_no_tint; tint < ThicknessTint::k_steps; ++tint) {
                if (const auto triangles = faces(smooth, *body.tints, tint); !triangles.IsNull()) {
                    add_sides(tint == k_no_tint ? colour(body.role, tone) : scale.of_step(tint), triangles);
                }
            }
        } else {
            add_sides(colour(body.role, tone), faces(smooth));
        }
        if (const Handle(Graphic3d_ArrayOfSegments) sharp = edges(*body.mesh); !sharp.IsNull()) {
            const Handle(Graphic3d_Group) drawn = made->NewGroup();
            drawn->SetPrimitivesAspect(new Graphic3d_AspectLine3d(in_kernel(looks::colours(tone).graphite),
                                                                  Aspect_TOL_SOLID, body.chosen ? 3.0 : 1.0));
            drawn->AddPrimitiveArray(sharp);
        }
        made->Display();
        return made;
    }

    Handle(Graphic3d_Structure) cut_of(const Model& model, geometry::Length at, looks::Tone tone) {
        const std::vector<geometry::CutChain> chains =
            geometry::mesh_section(*model.body.mesh, plane_for(at, model.body.pose));
        if (chains.empty()) {
            return {};
        }
        const Handle(Graphic3d_Structure) made = lines_of(chains, tone, 2.0);
        made->SetTransformation(in_kernel(model.body.pose));
        return made;
    }

    Handle(Graphic3d_Structure)
        lines_of(const std::vector<geometry::CutChain>& chains, looks::Tone tone, double width) {
        Handle(Graphic3d_Structure) made = new Graphic3d_Structure(viewer_->StructureManager());
        const Handle(Graphic3d_Group) group = made->NewGroup();
        group->SetPrimitivesAspect(
            new Graphic3d_AspectLine3d(in_kernel(looks::colours(tone).graphite), Aspect_TOL_SOLID, width));
        group->AddPrimitiveArray(lines(chains));
        made->Display();
        return made;
    }

    /// The frame of the section plane is made at x = 0 and moved from there.
    void bring_up_frame(const SolidPicture& picture) {
        if (!picture.section || picture.about.empty()) {
            erase(frame_);
            return;
        }
        const bool same = !frame_.IsNull() && frame_tone_ == picture.tone &&
                          frame_about_.low_mm == picture.about.low_mm && frame_about_.high_mm == picture.about.high_mm;
        if (!same) {
            erase(frame_);
            frame_ = lines_of({frame_round(picture.about)}, picture.tone, 1.0);
            frame_tone_ = picture.tone;
            frame_about_ = picture.about;
        }
        DoorPose there = DoorPose::Identity();
        there.col(3).x() = geometry::in_mm(*picture.section);
        frame_->SetTransformation(in_kernel(there));
    }

    void look(const SolidPicture& picture) {
        const Handle(Graphic3d_Camera)& camera = view_->Camera();
        const SolidLook& look = picture.look;
        constexpr double k_afar_mm = 10000.0;  // without perspective any distance shows the same
        const Vector3d eye = look.centre_mm + k_afar_mm * look.to_eye();
        camera->SetProjectionType(Graphic3d_Camera::Projection_Orthographic);
        camera->SetEyeAndCenter(gp_Pnt(eye.x(), eye.y(), eye.z()),
                                gp_Pnt(look.centre_mm.x(), look.centre_mm.y(), look.centre_mm.z()));
        const Vector3d up = look.up();
        camera->SetUp(gp_Dir(up.x(), up.y(), up.z()));
        camera->SetAspect(static_cast<double>(picture.pixels.width()) / picture.pixels.height());
        camera->SetScale(geometry::in_mm(look.across));
        view_->AutoZFit();
    }

    bool prepare_buffer(const QSize& pixels) {
        if (!buffer_.IsNull() && buffer_pixels_ == pixels) {
            return true;
        }
        release_buffer();
        buffer_ = view_->View()->FBOCreate(pixels.width(), pixels.height());
        if (buffer_.IsNull()) {
            return false;
        }
        buffer_pixels_ = pixels;
        view_->View()->SetFBO(buffer_);
        return true;
    }

    void release_buffer() {
        if (!buffer_.IsNull()) {
            view_->View()->SetFBO({});
            view_->View()->FBORelease(buffer_);
            buffer_.Nullify();
        }
    }

    QImage read_back(const QSize& pixels) {
        QImage image(pixels, QImage::Format_RGB32);
        Image_PixMap wrapped;
        if (image.isNull() ||
            !wrapped.InitWrapper(Image_Format_BGR32, image.bits(), static_cast<std::size_t>(pixels.width()),
                                 static_cast<std::size_t>(pixels.height()),
                                 static_cast<std::size_t>(image.bytesPerLine()))) {
            return {};
        }
        wrapped.SetTopDown(false);
        if (!view_->View()->BufferDump(wrapped, Graphic3d_BT_RGB)) {
            return {};
        }
        return image.mirrored();
    }

    bool draws_in_software() {
        TColStd_IndexedDataMapOfStringString facts;
        view_->DiagnosticInformation(facts, Graphic3d_DiagnosticInfo_Device);
        for (TColStd_IndexedDataMapOfStringString::Iterator fact(facts); fact.More(); fact.Next()) {
            for (const char* name : {"llvmpipe", "softpipe", "swrast"}) {
                if (fact.Value().Search(name) > 0) {
                    return true;
                }
            }
        }
        return false;
    }

    static void erase(Handle(Graphic3d_Structure) & structure) {
        if (!structure.IsNull()) {
            structure->Erase();
            structure->Clear();
            structure->Remove();
            structure.Nullify();
        }
    }
    static void erase(Model& model) {
        erase(model.structure);
        erase(model.cut);
        model.cut_at.reset();
    }

    Handle(Aspect_DisplayConnection) display_;
    Handle(OpenGl_GraphicDriver) driver_;
    Handle(V3d_Viewer) viewer_;
    Handle(V3d_View) view_;
    Handle(Standard_Transient) buffer_;
    QSize buffer_pixels_;
    std::vector<Model> models_;
    Handle(Graphic3d_Structure) frame_;
    SolidBounds frame_about_;
    looks::Tone frame_tone_ = looks::Tone::light;
    bool in_software_ = false;
};

}  // namespace

/// The thread with the easel, and the pictures that wait for it.
class SolidPainter::Studio {
public:
    explicit Studio(std::function<void(PaintedSolid)> done) : done_{std::move(done)}, thread_{[this] { work(); }} {}
    ~Studio() {
        {
            const std::lock_guard lock(mutex_);
            ended_ = true;
        }
        called_.notify_one();
        thread_.join();
    }
    Studio(const Studio&) = delete;
    Studio& operator=(const Studio&) = delete;

    void want(SolidPicture picture) {
        {
            const std::lock_guard lock(mutex_);
            wanted_ = std::move(picture);
        }
        called_.notify_one();
    }

    PaintedSolid now(SolidPicture picture) {
        std::future<PaintedSolid> answer;
        {
            const std::lock_guard lock(mutex_);
            urgent_.emplace_back(std::move(picture), std::promise<PaintedSolid>());
            answer = urgent_.back().second.get_future();
        }
        called_.notify_one();
        return answer.get();
    }

private:
    void work() {
        // Inherited by the threads of a software OpenGL; where it is not granted nothing is lost.
        static_cast<void>(setpriority(PRIO_PROCESS, 0, k_niceness));
        std::optional<Easel> easel;
        QString failure;
        std::optional<SolidPicture> rough;  // drawn, to be drawn fine when all is still
        std::unique_lock lock(mutex_);
        while (true) {
            const auto something = [this] { return ended_ || wanted_ || !urgent_.empty(); };
            if (rough) {
                if (!called_.wait_for(lock, k_still, something)) {
                    wanted_ = std::move(rough);
                    wanted_->fine = true;
                }
            } else {
                called_.wait(lock, something);
            }
            if (ended_) {
                break;
            }
            if (!urgent_.empty()) {
                auto [picture, promise] = std::move(urgent_.front());
                urgent_.erase(urgent_.begin());
                lock.unlock();
                promise.set_value(paint(easel, failure, picture));
                lock.lock();
            } else if (wanted_) {
                const SolidPicture picture = *std::exchange(wanted_, std::nullopt);
                rough = picture.fine ? std::nullopt : std::optional(picture);
                lock.unlock();
                done_(paint(easel, failure, picture));
                lock.lock();
            }
        }
        lock.unlock();
        for (auto& [picture, promise] : urgent_) {
            promise.set_value({});
        }
    }

    static PaintedSolid failed(const QString& failure) {
        PaintedSolid painted;
        painted.failure = failure;
        return painted;
    }

    static PaintedSolid paint(std::optional<Easel>& easel, QString& failure, const SolidPicture& picture) {
        if (!failure.isEmpty()) {
            return failed(failure);
        }
        try {
            if (!easel) {
                easel.emplace();
            }
            return easel->paint(picture);
        } catch (const Standard_Failure& why) {
            failure =
                QCoreApplication::translate(
                    "SolidPainter", "There is no solid picture here: the graphics failed (%1). Everything else works.")
                    .arg(QString::fromStdString(text(why)));
            return failed(failure);
        }
    }

    std::function<void(PaintedSolid)> done_;
    std::mutex mutex_;
    std::condition_variable called_;
    std::optional<SolidPicture> wanted_;
    std::vector<std::pair<SolidPicture, std::promise<PaintedSolid>>> urgent_;
    bool ended_ = false;
    std::thread thread_;  ///< Last: it uses all the others.
};

SolidPainter::SolidPainter(std::function<void(PaintedSolid)> done)
    : studio_{std::make_unique<Studio>(std::move(done))} {}
SolidPainter::~SolidPainter() = default;

void SolidPainter::want(SolidPicture picture) {
    studio_->want(std::move(picture));
}

PaintedSolid SolidPainter::now(SolidPicture picture) {
    return studio_->now(std::move(picture));
}

}  // namespace sillwright::app
