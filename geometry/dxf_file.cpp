#include "geometry/dxf_file.h"

#include <algorithm>
#include <cstdint>
#include <optional>
#include <string_view>

#include "geometry/dxf_older.h"
#include "geometry/dxf_pairs.h"

namespace sillwright::geometry {

namespace {

/// Names an object of the file; 0 is nobody.
using Handle = std::uint32_t;

// The handles of what every file has; entities follow after the layers.
namespace fixed {
enum : Handle {
    vport_table = 1,
    ltype_table,
    layer_table,
    style_table,
    view_table,
    ucs_table,
    appid_table,
    dimstyle_table,
    block_table,
    vport,
    ltype_by_block,
    ltype_by_layer,
    ltype_continuous,
    layer_0,
    style,
    appid,
    dimstyle,
    model_record,
    model_block,
    model_block_end,
    paper_record,
    paper_block,
    paper_block_end,
    root,
    groups,
    layouts,
    plot_styles,
    plot_style_normal,
    model_layout,
    paper_layout,
    first_free
};
}  // namespace fixed

/// The head that every object has: what it is, its name, whose it is.
void object(DxfPairs& w, std::string_view kind, Handle self, Handle owner, int handle_code = 5) {
    w.text(0, kind);
    w.handle(handle_code, self);
    w.handle(330, owner);
}

void begin_table(DxfPairs& w, std::string_view name, Handle self, int entries) {
    w.text(0, "TABLE");
    w.text(2, name);
    w.handle(5, self);
    w.handle(330, 0);
    w.text(100, "AcDbSymbolTable");
    w.whole(70, entries);
}

void end_table(DxfPairs& w) {
    w.text(0, "ENDTAB");
}

void record(DxfPairs& w, std::string_view kind, Handle self, Handle table, std::string_view subclass,
            std::string_view name, int handle_code = 5) {
    object(w, kind, self, table, handle_code);
    w.text(100, "AcDbSymbolTableRecord");
    w.text(100, subclass);
    w.text(2, name);
}

void vport_table(DxfPairs& w, const Eigen::AlignedBox2d& bounds) {
    const Eigen::Vector2d middle = bounds.isEmpty() ? Eigen::Vector2d{0, 0} : Eigen::Vector2d{bounds.center()};
    const double height = bounds.isEmpty() ? 1.0 : std::max(1.0, bounds.sizes().maxCoeff());
    begin_table(w, "VPORT", fixed::vport_table, 1);
    record(w, "VPORT", fixed::vport, fixed::vport_table, "AcDbViewportTableRecord", "*Active");
    w.whole(70, 0);
    w.flat_point(10, {0, 0});
    w.flat_point(11, {1, 1});
    w.flat_point(12, middle);
    w.flat_point(13, {0, 0});
    w.flat_point(14, {10, 10});
    w.flat_point(15, {10, 10});
    for (const int code : {16, 26}) {  // looked at from above
        w.number(code, 0.0);
    }
    w.number(36, 1.0);
    w.point(17, {0, 0});
    w.number(40, height);
    w.number(41, 1.0);
    w.number(42, 50.0);
    for (const int code : {43, 44, 50, 51}) {
        w.number(code, 0.0);
    }
    w.whole(71, 0);
    w.whole(72, 1000);
    w.whole(73, 1);
    w.whole(74, 3);
    for (const int code : {75, 76, 77, 78}) {
        w.whole(code, 0);
    }
    end_table(w);
}

void ltype_table(DxfPairs& w) {
    begin_table(w, "LTYPE", fixed::ltype_table, 3);
    const auto entry = [&w](Handle self, std::string_view name, std::string_view words) {
        record(w, "LTYPE", self, fixed::ltype_table, "AcDbLinetypeTableRecord", name);
        w.whole(70, 0);
        w.text(3, words);
        w.whole(72, 65);
        w.whole(73, 0);
        w.number(40, 0.0);
    };
    entry(fixed::ltype_by_block, "ByBlock", "");
    entry(fixed::ltype_by_layer, "ByLayer", "");
    entry(fixed::ltype_continuous, "Continuous", "Solid line");
    end_table(w);
}

void layer_table(DxfPairs& w, const std::vector<DrawingLayer>& layers) {
    begin_table(w, "LAYER", fixed::layer_table, static_cast<int>(layers.size()) + 1);
    const auto entry = [&w](Handle self, const DrawingLayer& layer) {
        record(w, "LAYER", self, fixed::layer_table, "AcDbLayerTableRecord", layer.name);
        w.whole(70, 0);
        w.whole(62, layer.colour);
        w.text(6, "Continuous");
        w.whole(370, -3);  // the usual line width
        w.handle(390, fixed::plot_style_normal);
    };
    entry(fixed::layer_0, {"0", 7});
    Handle next = fixed::first_free;
    for (const DrawingLayer& layer : layers) {
        entry(next++, layer);
    }
    end_table(w);
}

void small_tables(DxfPairs& w) {
    begin_table(w, "STYLE", fixed::style_table, 1);
    record(w, "STYLE", fixed::style, fixed::style_table, "AcDbTextStyleTableRecord", "Standard");
    w.whole(70, 0);
    w.number(40, 0.0);
    w.number(41, 1.0);
    w.number(50, 0.0);
    w.whole(71, 0);
    w.number(42, 2.5);
    w.text(3, "txt");
    w.text(4, "");
    end_table(w);
    begin_table(w, "VIEW", fixed::view_table, 0);
    end_table(w);
    begin_table(w, "UCS", fixed::ucs_table, 0);
    end_table(w);
    begin_table(w, "APPID", fixed::appid_table, 1);
    record(w, "APPID", fixed::appid, fixed::appid_table, "AcDbRegAppTableRecord", "ACAD");
    w.whole(70, 0);
    end_table(w);
    begin_table(w, "DIMSTYLE", fixed::dimstyle_table, 1);
    w.text(100, "AcDbDimStyleTable");
    record(w, "DIMSTYLE", fixed::dimstyle, fixed::dimstyle_table, "AcDbDimStyleTableRecord", "Standard", 105);
    w.whole(70, 0);
    w.handle(340, fixed::style);
    end_table(w);
}

void block_table(DxfPairs& w) {
    begin_table(w, "BLOCK_RECORD", fixed::block_table, 2);
    record(w, "BLOCK_RECORD", fixed::model_record, fixed::block_table, "AcDbBlockTableRecord", "*Model_Space");
    w.handle(340, fixed::model_layout);
    record(w, "BLOCK_RECORD", fixed::paper_record, fixed::block_table, "AcDbBlockTableRecord", "*Paper_Space");
    w.handle(340, fixed::paper_layout);
    end_table(w);
}

void tables(DxfPairs& w, const Drawing& drawing, const Eigen::AlignedBox2d& bounds) {
    w.begin_section("TABLES");
    vport_table(w, bounds);
    ltype_table(w);
    layer_table(w, drawing.layers);
    small_tables(w);
    block_table(w);
    w.end_section();
}

void block(DxfPairs& w, std::string_view name, bool paper, Handle self, Handle end, Handle owner) {
    const auto head = [&](std::string_view kind, Handle handle) {
        object(w, kind, handle, owner);
        w.text(100, "AcDbEntity");
        if (paper) {
            w.whole(67, 1);
        }
        w.text(8, "0");
    };
    head("BLOCK", self);
    w.text(100, "AcDbBlockBegin");
    w.text(2, name);
    w.whole(70, 0);
    w.point(10, {0, 0});
    w.text(3, name);
    w.text(1, "");
    head("ENDBLK", end);
    w.text(100, "AcDbBlockEnd");
}

void blocks(DxfPairs& w) {
    w.begin_section("BLOCKS");
    block(w, "*Model_Space", false, fixed::model_block, fixed::model_block_end, fixed::model_record);
    block(w, "*Paper_Space", true, fixed::paper_block, fixed::paper_block_end, fixed::paper_record);
    w.end_section();
}

/// Writes one entity, its head already known.
struct EntityWriter {
    DxfPairs& w;
    Handle self;
    const std::string& layer;

    void head(std::string_view kind, std::string_view subclass) const {
        object(w, kind, self, fixed::model_record);
        w.text(100, "AcDbEntity");
        w.text(8, layer);
        w.text(100, subclass);
    }
    void operator()(const DrawnLine& line) const {
        head("LINE", "AcDbLine");
        w.point(10, line.from_mm);
        w.point(11, line.to_mm);
    }
    void circle(std::string_view kind, const Eigen::Vector2d& centre, Length radius) const {
        head(kind, "AcDbCircle");
        w.point(10, centre);
        w.number(40, in_mm(radius));
    }
    void operator()(const DrawnArc& arc) const {
        circle("ARC", arc.centre_mm, arc.radius);
        const double end = in_rad(arc.start) + in_rad(arc.sweep);
        const bool anticlockwise = arc.sweep > Angle{};
        w.text(100, "AcDbArc");
        w.number(50, degrees_from_0(anticlockwise ? in_rad(arc.start) : end));
        w.number(51, degrees_from_0(anticlockwise ? end : in_rad(arc.start)));
    }
    void operator()(const DrawnCircle& drawn) const { circle("CIRCLE", drawn.centre_mm, drawn.radius); }
    void operator()(const DrawnChain& chain) const {
        head("LWPOLYLINE", "AcDbPolyline");
        w.whole(90, static_cast<int>(chain.vertices.size()));
        w.whole(70, chain.closed ? 1 : 0);
        w.number(43, 0.0);
        for (const ChainVertex& vertex : chain.vertices) {
            w.flat_point(10, vertex.p_mm);
            if (vertex.bulge != 0.0) {
                w.number(42, vertex.bulge);
            }
        }
    }
    void operator()(const DrawnText& text) const {
        const bool middle = text.place == TextPlace::middle;
        head("TEXT", "AcDbText");
        w.point(10, text.at_mm);
        w.number(40, in_mm(text.height));
        w.text(1, dxf_words(text.words));
        w.number(50, degrees_from_0(in_rad(text.turned)));
        w.text(7, "Standard");
        if (middle) {
            w.whole(72, 1);
            w.point(11, text.at_mm);
        }
        w.text(100, "AcDbText");
        if (middle) {
            w.whole(73, 2);
        }
    }
    void operator()(const DrawnPoint& point) const {
        head("POINT", "AcDbPoint");
        w.point(10, point.at_mm);
    }
};

void entities(DxfPairs& w, const Drawing& drawing, Handle& next) {
    w.begin_section("ENTITIES");
    for (const DrawnEntity& entity : drawing.entities) {
        std::visit(EntityWriter{w, next++, entity.layer}, entity.shape);
    }
    w.end_section();
}

void dictionary(DxfPairs& w, Handle self, Handle owner) {
    object(w, "DICTIONARY", self, owner);
    w.text(100, "AcDbDictionary");
    w.whole(281, 1);
}

void entry(DxfPairs& w, std::string_view name, Handle value) {
    w.text(3, name);
    w.handle(350, value);
}

void layout(DxfPairs& w, std::string_view name, bool paper, Handle self, Handle block_record) {
    object(w, "LAYOUT", self, fixed::layouts);
    w.text(100, "AcDbPlotSettings");
    w.text(1, "");
    w.text(2, "");
    w.text(4, "");
    w.text(6, "");
    for (const int code : {40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 140, 141}) {
        w.number(code, 0.0);
    }
    w.number(142, 1.0);
    w.number(143, 1.0);
    w.whole(70, paper ? 0 : 1024);  // 1024: this is the model's own
    w.whole(72, 1);
    w.whole(73, 0);
    w.whole(74, 5);
    w.text(7, "");
    w.whole(75, 16);
    w.number(147, 1.0);
    w.number(148, 0.0);
    w.number(149, 0.0);
    w.text(100, "AcDbLayout");
    w.text(1, name);
    w.whole(70, 1);
    w.whole(71, paper ? 1 : 0);
    w.flat_point(10, {0, 0});
    w.flat_point(11, {420, 297});
    w.point(12, {0, 0});
    w.point(14, {0, 0});
    w.point(15, {420, 297});
    w.number(146, 0.0);
    w.point(13, {0, 0});
    w.point(16, {1, 0});
    w.point(17, {0, 1});
    w.whole(76, 0);
    w.handle(330, block_record);
}

void objects(DxfPairs& w) {
    w.begin_section("OBJECTS");
    dictionary(w, fixed::root, 0);
    entry(w, "ACAD_GROUP", fixed::groups);
    entry(w, "ACAD_LAYOUT", fixed::layouts);
    entry(w, "ACAD_PLOTSTYLENAME", fixed::plot_styles);
    dictionary(w, fixed::groups, fixed::root);
    dictionary(w, fixed::layouts, fixed::root);
    entry(w, "Model", fixed::model_layout);
    entry(w, "Layout1", fixed::paper_layout);
    object(w, "ACDBDICTIONARYWDFLT", fixed::plot_styles, fixed::root);
    w.text(100, "AcDbDictionary");
    w.whole(281, 1);
    entry(w, "Normal", fixed::plot_style_normal);
    w.text(100, "AcDbDictionaryWithDefault");
    w.handle(340, fixed::plot_style_normal);
    object(w, "ACDBPLACEHOLDER", fixed::plot_style_normal, fixed::plot_styles);
    layout(w, "Model", false, fixed::model_layout, fixed::model_record);
    layout(w, "Layout1", true, fixed::paper_layout, fixed::paper_record);
    w.end_section();
}

void class_entry(DxfPairs& w, std::string_view name, std::string_view subclass) {
    w.text(0, "CLASS");
    w.text(1, name);
    w.text(2, subclass);
    w.text(3, "ObjectDBX Classes");
    w.whole(90, 0);
    w.whole(280, 0);
    w.whole(281, 0);
}

void classes(DxfPairs& w) {
    w.begin_section("CLASSES");
    class_entry(w, "ACDBDICTIONARYWDFLT", "AcDbDictionaryWithDefault");
    class_entry(w, "ACDBPLACEHOLDER", "AcDbPlaceHolder");
    class_entry(w, "LAYOUT", "AcDbLayout");
    w.end_section();
}

void header(DxfPairs& w, DxfUnit unit, const Eigen::AlignedBox2d& bounds, Handle next) {
    const bool empty = bounds.isEmpty();
    const auto variable = [&w](std::string_view name) { w.text(9, name); };
    w.begin_section("HEADER");
    variable("$ACADVER");
    w.text(1, "AC1015");
    variable("$DWGCODEPAGE");
    w.text(3, "ANSI_1252");
    variable("$INSBASE");
    w.point(10, {0, 0});
    variable("$EXTMIN");
    w.point(10, empty ? Eigen::Vector2d{0, 0} : bounds.min());
    variable("$EXTMAX");
    w.point(10, empty ? Eigen::Vector2d{0, 0} : bounds.max());
    variable("$LUNITS");
    w.whole(70, 2);  // decimal
    variable("$INSUNITS");
    w.whole(70, unit == DxfUnit::inches ? 1 : 4);
    variable("$MEASUREMENT");
    w.whole(70, unit == DxfUnit::inches ? 0 : 1);
    variable("$HANDSEED");
    w.handle(5, next);
    w.end_section();
}

/// In the file's own unit.
std::string newer_text(const Drawing& drawing, DxfUnit unit) {
    const Eigen::AlignedBox2d bounds = bounds_mm(drawing);
    DxfPairs body;
    classes(body);
    tables(body, drawing, bounds);
    blocks(body);
    Handle next = fixed::first_free + static_cast<Handle>(drawing.layers.size());
    entities(body, drawing, next);
    objects(body);
    body.text(0, "EOF");
    DxfPairs whole;
    header(whole, unit, bounds, next);  // needs the first handle that is free
    whole.append(body);
    return whole.take();
}

constexpr double k_mm_in_inch = 25.4;

}  // namespace

Result<std::string> dxf_text(const Drawing& drawing, const DxfOptions& options) {
    if (const auto checked = check_drawing(drawing); !checked) {
        return checked.error();
    }
    const bool older = options.release == DxfRelease::r12;
    if (older) {
        const auto name = std::find_if(drawing.layers.begin(), drawing.layers.end(), [](const DrawingLayer& layer) {
            return layer.name.size() > k_older_layer_letters;
        });
        if (name != drawing.layers.end()) {
            return Error{ErrorCode::invalid_argument, "The drawing's layer \"" + name->name + "\" has more than " +
                                                          std::to_string(k_older_layer_letters) +
                                                          " letters, which the older release does not take."};
        }
    }
    const bool inches = options.unit == DxfUnit::inches;
    const Drawing& in_unit = inches ? divided(drawing, k_mm_in_inch) : drawing;
    return older ? older_dxf_text(in_unit) : newer_text(in_unit, options.unit);
}

}  // namespace sillwright::geometry
