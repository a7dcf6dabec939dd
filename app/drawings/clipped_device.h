#pragma once

#include <QPaintDevice>
#include <QPaintEngine>
#include <QPainter>
#include <QPainterPath>
#include <memory>

namespace sillwright::app {

/// Passes on to another painter what is drawn on it, cut off at the clip: for a device that
/// ignores clips, as QSvgGenerator does. What is inside the clip is passed on as it
/// is; shapes across its edge as their part inside, text across it as shapes.
class ClippedDevice : public QPaintDevice {
public:
    /// Both outlive this. `to` draws on `device`, whose size and resolution this has.
    ClippedDevice(QPainter& to, const QPaintDevice& device);
    ~ClippedDevice() override;

    [[nodiscard]] QPaintEngine* paintEngine() const override;

protected:
    [[nodiscard]] int metric(PaintDeviceMetric metric) const override;

private:
    class Engine;
    std::unique_ptr<Engine> engine_;
    const QPaintDevice& device_;
};

}  // namespace sillwright::app
