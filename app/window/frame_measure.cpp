#include "app/window/frame_measure.h"

#include <time.h>
#include <unistd.h>

#include <QAction>
#include <QApplication>
#include <QElapsedTimer>
#include <QEventLoop>
#include <QFile>
#include <QKeyEvent>
#include <QLineEdit>
#include <QMouseEvent>
#include <QOffscreenSurface>
#include <QOpenGLContext>
#include <QOpenGLFunctions>
#include <QPointer>
#include <QSysInfo>
#include <QTimer>
#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>
#include <numbers>
#include <sstream>
#include <string>
#include <system_error>
#include <thread>
#include <vector>

#include "app/desk/focus.h"
#include "app/desk/measure_desk.h"
#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/drawings/network_drawing.h"
#include "app/drawings/section_drawing.h"
#include "app/drawings/solid_canvas.h"
#include "app/drawings/solid_view.h"
#include "core/edit/book_edit.h"
#include "core/typed.h"

namespace sillwright::app::window {

using geometry::Error;
using geometry::ErrorCode;
using nlohmann::ordered_json;

namespace {

constexpr int k_moves = 200;
/// A few millimetres, as a hand tries a shape.
constexpr double k_circle_mm = 3.0;
constexpr int k_turns = 120;
/// A slow picture is turned less often.
constexpr int k_most_turning_ms = 10'000;
constexpr QSize k_window{1366, 768};
constexpr QSize k_solid{940, 720};
/// Nothing here takes so long; what does is told as not measured.
constexpr int k_patience_ms = 60'000;

/// Since the program was started; none where the system does not tell.
std::optional<double> ms_since_start() {
    std::ifstream in("/proc/self/stat");
    std::string text{std::istreambuf_iterator<char>(in), {}};
    const std::size_t name_end = text.rfind(')');  // A name may hold blanks.
    if (name_end == std::string::npos) {
        return std::nullopt;
    }
    std::istringstream fields(text.substr(name_end + 1));
    constexpr int k_between = 19;  // proc(5): the start is field 22, the name the second.
    std::string skipped;
    for (int i = 0; i < k_between; ++i) {
        fields >> skipped;
    }
    double ticks = 0.0;
    timespec now{};
    if (!(fields >> ticks) || clock_gettime(CLOCK_BOOTTIME, &now) != 0) {
        return std::nullopt;
    }
    const double now_ms = 1e3 * static_cast<double>(now.tv_sec) + 1e-6 * static_cast<double>(now.tv_nsec);
    return now_ms - 1e3 * ticks / static_cast<double>(sysconf(_SC_CLK_TCK));
}

/// Runs the window until `done`; false if it takes too long.
bool run_until(const std::function<bool()>& done) {
    QElapsedTimer waited;
    waited.start();
    while (!done()) {
        if (waited.elapsed() > k_patience_ms) {
            return false;
        }
        QApplication::processEvents(QEventLoop::WaitForMoreEvents | QEventLoop::AllEvents, 50);
        QApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    }
    return true;
}

/// What is waiting to be done, painting included, until nothing is.
void run_what_waits() {
    constexpr int k_most_rounds = 20;
    for (int round = 0; round < k_most_rounds; ++round) {
        QApplication::sendPostedEvents();
        QApplication::processEvents();
    }
}

/// Counts the drawings that are painted.
class Paintings : public QObject {
public:
    explicit Paintings(QWidget& window) {
        if (qobject_cast<Paper*>(&window) != nullptr) {
            window.installEventFilter(this);
        }
        for (Paper* paper : window.findChildren<Paper*>()) {
            if (qobject_cast<SolidCanvas*>(paper) == nullptr) {
                paper->installEventFilter(this);
            }
        }
    }
    bool eventFilter(QObject* /*watched*/, QEvent* event) override {
        count_ += event->type() == QEvent::Paint ? 1 : 0;
        return false;
    }
    [[nodiscard]] int count() const { return count_; }

private:
    int count_ = 0;
};

ordered_json times(std::vector<double> all) {
    std::sort(all.begin(), all.end());
    return {{"count", all.size()},
            {"median_ms", all[all.size() / 2]},
            {"p95_ms", all[all.size() * 95 / 100]},
            {"max_ms", all.back()}};
}

ordered_json not_measured(const std::string& why) {
    return {{"median_ms", nullptr}, {"why_not", why}};
}

void send_mouse(QWidget& widget, QEvent::Type type, const QPointF& at, Qt::MouseButtons held) {
    const Qt::MouseButton button = type == QEvent::MouseMove ? Qt::NoButton : Qt::LeftButton;
    QMouseEvent event(type, at, widget.mapToGlobal(at), button, held, Qt::NoModifier);
    QApplication::sendEvent(&widget, &event);
}

/// The node of the skirt in the picture that has most paper round it.
const SectionNode* node_to_drag(const SectionDrawing& drawing) {
    const SectionNode* best = nullptr;
    double most = 0.0;
    for (const SectionNode& node : drawing.picture().nodes) {
        double room = std::numeric_limits<double>::infinity();
        for (const SectionNode& other : drawing.picture().nodes) {
            room = other.id == node.id ? room : std::min(room, (other.at_mm - node.at_mm).norm());
        }
        if (node.role == SectionRole::skirt_drawn && room > most) {
            most = room;
            best = &node;
        }
    }
    return best;
}

/// Drags a node by the pointer; what is between is the window's own doing.
void measure_drag(QWidget& window, ordered_json& json) {
    auto* const open = window.findChild<OpenJob*>();
    auto* const focus = window.findChild<Focus*>();
    if (open != nullptr && focus != nullptr && !open->job().stations.empty()) {
        // Nodes are at stations; the first place may be between two.
        focus->go_to(open->job().stations[open->job().stations.size() / 2].along.value);
        QApplication::processEvents();
    }
    SectionDrawing* drawing = nullptr;
    for (SectionDrawing* one : window.findChildren<SectionDrawing*>()) {
        drawing = one->isVisible() ? one : drawing;
    }
    const SectionNode* const node = drawing != nullptr ? node_to_drag(*drawing) : nullptr;
    if (open == nullptr || node == nullptr || !open->current()) {
        json["drag"] = not_measured("The window shows no section with a node of the skirt and current results.");
        json["drop_to_full_ms"] = nullptr;
        return;
    }
    const Paintings paintings(window);
    const QPointF start = drawing->on_paper(node->at_mm);
    const std::string id = node->id;
    const double radius = k_circle_mm * drawing->pixels_per_mm();
    int refused = 0;
    const auto counting = QObject::connect(open, &OpenJob::refused, drawing, [&refused] { ++refused; });
    send_mouse(*drawing, QEvent::MouseButtonPress, start, Qt::LeftButton);
    // The first move is the way out of the small distance within which a press is a click.
    send_mouse(*drawing, QEvent::MouseMove, start + QPointF(radius, 0.0), Qt::LeftButton);
    run_what_waits();
    std::vector<double> moves;
    int unpainted = 0;
    for (int i = 0; i < k_moves && open->dragging(); ++i) {
        const double turn = 2.0 * std::numbers::pi * (i + 1) / k_moves;
        const int before = paintings.count();
        QElapsedTimer took;
        took.start();
        send_mouse(*drawing, QEvent::MouseMove, start + radius * QPointF(std::cos(turn), std::sin(turn)),
                   Qt::LeftButton);
        run_what_waits();
        moves.push_back(1e-6 * static_cast<double>(took.nsecsElapsed()));
        unpainted += paintings.count() == before ? 1 : 0;
    }
    const bool followed = open->dragging() && open->drag_deviation();
    const bool dragged = open->dragging();
    QElapsedTimer took;
    took.start();
    send_mouse(*drawing, QEvent::MouseButtonRelease, start + QPointF(radius, 0.0), {});
    const bool full = run_until([&] { return !open->computing() && open->current() && !open->drag_deviation(); });
    json["drop_to_full_ms"] = full && dragged ? ordered_json(1e-6 * static_cast<double>(took.nsecsElapsed())) : nullptr;
    QObject::disconnect(counting);
    if (!dragged || moves.empty()) {
        json["drag"] = not_measured("The node could not be dragged.");
        return;
    }
    json["drag"] = times(std::move(moves));
    json["drag"]["node"] = id;
    json["drag"]["circle_mm"] = k_circle_mm;
    json["drag"]["results_followed"] = followed;
    json["drag"]["refused"] = refused;
    json["drag"]["without_painting"] = unpainted;
    open->history().undo();
    run_until([&] { return !open->computing(); });
}

/// The shop's size of a book: so many points, invented, each tied to four marks, with a height and its neighbour.
constexpr int k_points = 30;
constexpr int k_marks = 4;
constexpr int k_readings = 20;

Eigen::Vector3d point_mm(int number) {
    constexpr std::array<std::array<double, 3>, k_marks> k_mark_places{
        {{0.0, 0.0, 0.0}, {1900.0, 0.0, 20.0}, {900.0, 480.0, -60.0}, {1100.0, 60.0, 320.0}}};
    if (number < k_marks) {
        const auto& at = k_mark_places.at(static_cast<std::size_t>(number));
        return {at[0], at[1], at[2]};
    }
    return {60.0 * number, 180.0 + 30.0 * (number % 4), -100.0 - 7.0 * (number % 5)};
}

std::string point_name(int number) {
    return number < k_marks ? std::string(1, static_cast<char>('A' + number)) : "Q" + std::to_string(number);
}

std::string tie_line(int from, int to, double off_mm) {
    const double mm = (point_mm(from) - point_mm(to)).norm() + off_mm;
    return point_name(from) + " " + point_name(to) + " " + std::to_string(mm);
}

geometry::Result<core::Edit> shop_size_book(const core::Job& job) {
    geometry::Result<core::Edit> edit = core::Edit{job, {}};
    const auto then = [&edit](const auto& next) { edit = edit.and_then(next); };
    for (int mark = 0; mark < k_marks; ++mark) {
        core::survey::Point point;
        point.name = point_name(mark);
        point.along = core::entry(geometry::millimetres(point_mm(mark).x()));
        point.out = core::entry(geometry::millimetres(point_mm(mark).y()));
        point.up = core::entry(geometry::millimetres(point_mm(mark).z()));
        then([&](const core::Edit& before) { return core::set_point(before.job, point); });
    }
    for (int number = k_marks; number < k_points; ++number) {
        for (int mark = 0; mark < k_marks; ++mark) {
            const double off_mm = 0.7 * std::sin(7.0 * number + mark);
            then([&](const core::Edit& before) {
                return core::add_reading(before.job, tie_line(mark, number, off_mm));
            });
        }
    }
    return edit;
}

/// What this thread has computed so far: tells how long it takes where nothing else runs.
double processor_ms() {
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return 1e3 * static_cast<double>(now.tv_sec) + 1e-6 * static_cast<double>(now.tv_nsec);
}

/// Types a reading into a book of a shop's size, from Enter until all drawings are painted with what became of it.
ordered_json measure_reading(QWidget& window) {
    auto* const open = window.findChild<OpenJob*>();
    auto* const book = window.findChild<OpenBook*>();
    auto* const line = window.findChild<QLineEdit*>(QStringLiteral("bookLine"));
    auto* const picture = window.findChild<NetworkDrawing*>();
    auto* const stage = window.findChild<QAction*>(QStringLiteral("openMeasure"));
    auto* const desk = window.findChild<MeasureDesk*>();
    if (open == nullptr || book == nullptr || line == nullptr || picture == nullptr || stage == nullptr ||
        desk == nullptr) {
        return not_measured("The window has no measuring book.");
    }
    const int before = open->history().index();
    const auto made = shop_size_book(open->job());
    if (!made || !open->apply(made)) {
        return not_measured(made ? "The book could not be made." : made.error().message);
    }
    stage->trigger();
    desk->show_page(QStringLiteral("bookPage"));
    const auto quiet = [&] { return !open->computing() && !book->computing(); };
    run_until(quiet);
    run_what_waits();
    const Paintings paintings(*picture);
    std::vector<double> took_ms;
    std::vector<double> computed_ms;
    int unpainted = 0;
    for (int i = 0; i < k_readings && line->isVisible(); ++i) {
        line->setText(QString::fromStdString(tie_line(k_marks + i, k_marks + i + 1, 0.4)));
        run_what_waits();
        const int painted = paintings.count();
        const double processor = processor_ms();
        QElapsedTimer took;
        took.start();
        QKeyEvent enter(QEvent::KeyPress, Qt::Key_Return, Qt::NoModifier, QStringLiteral("\r"));
        QApplication::sendEvent(line, &enter);
        QApplication::sendPostedEvents();
        QApplication::processEvents();
        took_ms.push_back(1e-6 * static_cast<double>(took.nsecsElapsed()));
        computed_ms.push_back(processor_ms() - processor);
        unpainted += paintings.count() == painted ? 1 : 0;
        run_until(quiet);
        run_what_waits();
    }
    const auto written = open->job().book.readings.size();
    open->history().setIndex(before);
    run_until(quiet);
    if (took_ms.empty()) {
        return not_measured("The line of the book is not seen.");
    }
    ordered_json json = times(std::move(took_ms));
    json["processor"] = times(std::move(computed_ms));
    json["points"] = k_points;
    json["readings"] = written;
    json["without_painting"] = unpainted;
    return json;
}

/// Turns a door from shut to its stop in the solid picture, as it is drawn while it turns; each picture is waited for.
ordered_json measure_solid(QWidget& window) {
    auto* const view = window.findChild<SolidView*>();
    if (view == nullptr || view->canvas() == nullptr) {
        const QString why = why_no_solid_picture();
        return not_measured(why.isEmpty() ? "There is no solid picture in the window." : why.toStdString());
    }
    if (view->scene().doors.empty()) {
        return not_measured("The job has no door that turns.");
    }
    SolidCanvas& canvas = *view->canvas();
    const std::string& door = view->scene().doors.front().name;
    std::vector<double> turns;
    QElapsedTimer all;
    all.start();
    for (int i = 0; i < k_turns && all.elapsed() < k_most_turning_ms; ++i) {
        QElapsedTimer took;
        took.start();
        view->turn(door, geometry::degrees(0.5 * i));
        if (canvas.turning_picture(k_solid).isNull()) {
            return not_measured("The solid picture could not be drawn.");
        }
        turns.push_back(1e-6 * static_cast<double>(took.nsecsElapsed()));
    }
    view->turn(door, {});
    double sum = 0.0;
    for (const double ms : turns) {
        sum += ms;
    }
    ordered_json json = times(turns);
    json["frames_per_second"] = 1e3 * static_cast<double>(turns.size()) / sum;
    json["width"] = k_solid.width();
    json["height"] = k_solid.height();
    return json;
}

/// Who draws with OpenGL; null where nobody does.
ordered_json gl_renderer() {
    if (!why_no_solid_picture().isEmpty()) {
        return nullptr;
    }
    QOpenGLContext context;
    QOffscreenSurface surface;
    surface.create();
    if (!context.create() || !context.makeCurrent(&surface)) {
        return nullptr;
    }
    const auto* const name = context.functions()->glGetString(GL_RENDERER);
    const std::string text = name != nullptr ? reinterpret_cast<const char*>(name) : "";
    context.doneCurrent();
    return text.empty() ? ordered_json(nullptr) : ordered_json(text);
}

geometry::Status write_new(const std::filesystem::path& file, const std::string& text) {
    if (std::error_code unknown; std::filesystem::exists(file, unknown)) {
        return Error{ErrorCode::unreadable_file,
                     "The file " + file.string() + " exists already, and nothing is overwritten. Name a new file."};
    }
    QFile out(QFile::decodeName(file.c_str()));
    const auto size = static_cast<qint64>(text.size());
    if (!out.open(QIODevice::WriteOnly | QIODevice::NewOnly) || out.write(text.data(), size) != size || !out.flush()) {
        return Error{ErrorCode::unreadable_file, "The measures could not be written to " + file.string() +
                                                     ". Name a file in a folder that exists and may be written to."};
    }
    return std::monostate{};
}

}  // namespace

geometry::Status measure_frames(QWidget& window, const std::filesystem::path& file) {
    if (std::error_code unknown; std::filesystem::exists(file, unknown)) {
        return write_new(file, {});  // Says so before anything is measured.
    }
    const Paintings paintings(window);
    window.resize(k_window);
    window.show();
    auto* const open = window.findChild<OpenJob*>();
    run_until([&] { return paintings.count() > 0 && (open == nullptr || !open->computing()); });
    run_what_waits();
    ordered_json json;
    const auto painted = ms_since_start();
    // An event of the kind that a hand makes, behind all that waits.
    bool taken = false;
    QTimer::singleShot(0, &window, [&taken] { taken = true; });
    run_until([&] { return taken; });
    const auto ready = ms_since_start();
    const auto number = [](const std::optional<double>& ms) { return ms ? ordered_json(*ms) : ordered_json(nullptr); };
    json["start_to_painted_ms"] = number(painted);
    json["start_to_input_ms"] = number(ready);
    json["window"] = {{"width", window.width()}, {"height", window.height()}};
    measure_drag(window, json);
    json["solid_turn"] = measure_solid(window);
    json["reading_to_picture"] = measure_reading(window);
    json["machine"] = {{"cores", std::thread::hardware_concurrency()},
                       {"system", QSysInfo::prettyProductName().toStdString()},
                       {"architecture", QSysInfo::currentCpuArchitecture().toStdString()},
                       {"gl_renderer", gl_renderer()}};
    json["qt_platform"] = QGuiApplication::platformName().toStdString();
    json["version"] = SILLWRIGHT_VERSION;
    return write_new(file, json.dump(2) + "\n");
}

}  // namespace sillwright::app::window
