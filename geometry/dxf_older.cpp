#include "geometry/dxf_older.h"

#include <Eigen/Geometry>
#include <string_view>
#include <variant>

#include "geometry/dxf_pairs.h"

namespace sillwright::geometry {

namespace {

void header(DxfPairs& w, const Eigen::AlignedBox2d& bounds) {
    const bool empty = bounds.isEmpty();
    w.begin_section("HEADER");
    w.text(9, "$ACADVER");
    w.text(1, "AC1009");
    w.text(9, "$INSBASE");
    w.point(10, {0, 0});
    w.text(9, "$EXTMIN");
    w.point(10, empty ? Eigen::Vector2d{0, 0} : bounds.min());
    w.text(9, "$EXTMAX");
    w.point(10, empty ? Eigen::Vector2d{0, 0} : bounds.max());
    w.text(9, "$LUNITS");
    w.whole(70, 2);  // decimal
    w.text(9, "$HANDLING");
    w.whole(70, 0);
    w.end_section();
}

void begin_table(DxfPairs& w, std::string_view name, int entries) {
    w.text(0, "TABLE");
    w.text(2, name);
    w.whole(70, entries);
}

void tables(DxfPairs& w, const std::vector<DrawingLayer>& layers) {
    w.begin_section("TABLES");
    begin_table(w, "LTYPE", 1);
    w.text(0, "LTYPE");
    w.text(2, "CONTINUOUS");
    w.whole(70, 64);
    w.text(3, "Solid line");
    w.whole(72, 65);
    w.whole(73, 0);
    w.number(40, 0.0);
    w.text(0, "ENDTAB");
    begin_table(w, "LAYER", static_cast<int>(layers.size()) + 1);
    const auto entry = [&w](const DrawingLayer& layer) {
        w.text(0, "LAYER");
        w.text(2, layer.name);
        w.whole(70, 64);
        w.whole(62, layer.colour);
        w.text(6, "CONTINUOUS");
    };
    entry({"0", 7});
    for (const DrawingLayer& layer : layers) {
        entry(layer);
    }
    w.text(0, "ENDTAB");
    begin_table(w, "STYLE", 1);
    w.text(0, "STYLE");
    w.text(2, "STANDARD");
    w.whole(70, 64);
    w.number(40, 0.0);
    w.number(41, 1.0);
    w.number(50, 0.0);
    w.whole(71, 0);
    w.number(42, 2.5);
    w.text(3, "txt");
    w.text(4, "");
    w.text(0, "ENDTAB");
    w.end_section();
}

/// Writes one entity.
struct EntityWriter {
    DxfPairs& w;
    const std::string& layer;

    void head(std::string_view kind) const {
        w.text(0, kind);
        w.text(8, layer);
    }
    void operator()(const DrawnLine& line) const {
        head("LINE");
        w.point(10, line.from_mm);
        w.point(11, line.to_mm);
    }
    void operator()(const DrawnArc& arc) const {
        const double end = in_rad(arc.start) + in_rad(arc.sweep);
        const bool anticlockwise = arc.sweep > Angle{};
        head("ARC");
        w.point(10, arc.centre_mm);
        w.number(40, in_mm(arc.radius));
        w.number(50, degrees_from_0(anticlockwise ? in_rad(arc.start) : end));
        w.number(51, degrees_from_0(anticlockwise ? end : in_rad(arc.start)));
    }
    void operator()(const DrawnCircle& circle) const {
        head("CIRCLE");
        w.point(10, circle.centre_mm);
        w.number(40, in_mm(circle.radius));
    }
    void operator()(const DrawnChain& chain) const {
        head("POLYLINE");
        w.whole(66, 1);  // vertices follow
        w.point(10, {0, 0});
        w.whole(70, chain.closed ? 1 : 0);
        for (const ChainVertex& vertex : chain.vertices) {
            head("VERTEX");
            w.point(10, vertex.p_mm);
            if (vertex.bulge != 0.0) {
                w.number(42, vertex.bulge);
            }
        }
        head("SEQEND");
    }
    void operator()(const DrawnText& text) const {
        head("TEXT");
        w.point(10, text.at_mm);
        w.number(40, in_mm(text.height));
        w.text(1, dxf_words(text.words));
        w.number(50, degrees_from_0(in_rad(text.turned)));
        if (text.place == TextPlace::middle) {
            w.whole(72, 1);
            w.whole(73, 2);
            w.point(11, text.at_mm);
        }
    }
    void operator()(const DrawnPoint& point) const {
        head("POINT");
        w.point(10, point.at_mm);
    }
};

}  // namespace

std::string older_dxf_text(const Drawing& drawing) {
    DxfPairs w;
    header(w, bounds_mm(drawing));
    tables(w, drawing.layers);
    w.begin_section("BLOCKS");
    w.end_section();
    w.begin_section("ENTITIES");
    for (const DrawnEntity& entity : drawing.entities) {
        std::visit(EntityWriter{w, entity.layer}, entity.shape);
    }
    w.end_section();
    w.text(0, "EOF");
    return w.take();
}

}  // namespace sillwright::geometry
