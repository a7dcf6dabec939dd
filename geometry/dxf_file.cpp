#include "geometry/dxf_file.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <optional>
#include <set>
#include <string_view>
#include <utility>

namespace sillwright::geometry {

namespace {

/// Names an object of the file; 0 is nobody.
using Handle = std::uint32_t;

/// A double without exponent has at most 309 digits before the point or, at
/// the small end, 767 after it.
constexpr std::size_t k_number_characters = 1100;

constexpr double k_full_turn = 2.0 * std::numbers::pi;

std::string number_text(double number) {
    std::array<char, k_number_characters> buffer{};
    const double plain = number + 0.0;  // minus zero becomes zero
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), plain, std::chars_format::fixed).ptr;
    std::string text{buffer.data(), end};
    return text.find('.') == std::string::npos ? text + ".0" : text;
}

std::string hexadecimal(std::uint32_t number) {
    std::array<char, 8> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number, 16).ptr;
    std::string text{buffer.data(), end};
    std::transform(text.begin(), text.end(), text.begin(),
                   [](char c) { return c >= 'a' ? static_cast<char>(c - 'a' + 'A') : c; });
    return text;
}

constexpr std::uint32_t k_replacement = 0xFFFD;

/// Takes one character off the front of UTF-8 text; k_replacement, and one byte
/// gone, for what is none.
std::uint32_t take_character(std::string_view& text) {
    const auto byte = [&text](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char lead = byte(0);
    const std::size_t length = lead < 0x80 ? 1 : lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
    constexpr std::array<std::uint32_t, 5> k_least{0, 0, 0x80, 0x800, 0x10000};
    std::uint32_t code = length == 1 ? lead : lead & (0x7FU >> length);
    bool good = length == 1 || (lead >= 0xC0 && lead < 0xF8 && text.size() >= length);
    for (std::size_t i = 1; good && i < length; ++i) {
        good = (byte(i) & 0xC0U) == 0x80U;
        code = (code << 6U) | (byte(i) & 0x3FU);
    }
    const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
    if (!good || code < k_least[length] || surrogate) {
        text.remove_prefix(1);
        return k_replacement;
    }
    text.remove_prefix(length);
    return code <= 0xFFFF ? code : k_replacement;
}

/// What readers would take for the start of a command: a backslash before U or M, a caret, a doubled per cent sign.
bool begins_command(std::uint32_t c, std::string_view after) {
    const char next = after.empty() ? ' ' : after.front();
    return (c == '\\' && (next == 'U' || next == 'M')) || c == '^' || (c == '%' && next == '%');
}

std::string escaped(std::string_view words) {
    std::string text;
    while (!words.empty()) {
        const std::uint32_t c = take_character(words);
        if (c < ' ' || (c >= 0x7F && c < 0xA0)) {
            text += ' ';
        } else if (c > '~' || begins_command(c, words)) {
            const std::string digits = hexadecimal(c);
            text += "\\U+" + std::string(4 - digits.size(), '0') + digits;
        } else {
            text += static_cast<char>(c);
        }
    }
    return text;
}

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

class Writer {
public:
    void text(int code, std::string_view value) { out_ += std::to_string(code) + '\n' + std::string{value} + '\n'; }
    void whole(int code, int value) { text(code, std::to_string(value)); }
    void number(int code, double value) { text(code, number_text(value)); }
    void handle(int code, Handle value) { text(code, hexadecimal(value)); }
    /// A point's x, y and z have codes ten apart.
    void flat_point(int code, const Eigen::Vector2d& p) {
        number(code, p.x());
        number(code + 10, p.y());
    }
    void point(int code, const Eigen::Vector2d& p) {
        flat_point(code, p);
        number(code + 20, 0.0);
    }
    /// The head that every object has: what it is, its name, whose it is.
    void object(std::string_view kind, Handle self, Handle owner, int handle_code = 5) {
        text(0, kind);
        handle(handle_code, self);
        handle(330, owner);
    }
    void begin_section(std::string_view name) {
        text(0, "SECTION");
        text(2, name);
    }
    void end_section() { text(0, "ENDSEC"); }
    void append(const Writer& other) { out_ += other.out_; }
    std::string take() { return std::move(out_); }

private:
    std::string out_;
};

void begin_table(Writer& w, std::string_view name, Handle self, int entries) {
    w.text(0, "TABLE");
    w.text(2, name);
    w.handle(5, self);
    w.handle(330, 0);
    w.text(100, "AcDbSymbolTable");
    w.whole(70, entries);
}

void end_table(Writer& w) {
    w.text(0, "ENDTAB");
}

void record(Writer& w, std::string_view kind, Handle self, Handle table, std::string_view subclass,
            std::string_view name, int handle_code = 5) {
    w.object(kind, self, table, handle_code);
    w.text(100, "AcDbSymbolTableRecord");
    w.text(100, subclass);
    w.text(2, name);
}

void vport_table(Writer& w, const Eigen::AlignedBox2d& bounds) {
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

void ltype_table(Writer& w) {
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

void layer_table(Writer& w, const std::vector<DrawingLayer>& layers) {
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

void small_tables(Writer& w) {
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

void block_table(Writer& w) {
    begin_table(w, "BLOCK_RECORD", fixed::block_table, 2);
    record(w, "BLOCK_RECORD", fixed::model_record, fixed::block_table, "AcDbBlockTableRecord", "*Model_Space");
    w.handle(340, fixed::model_layout);
    record(w, "BLOCK_RECORD", fixed::paper_record, fixed::block_table, "AcDbBlockTableRecord", "*Paper_Space");
    w.handle(340, fixed::paper_layout);
    end_table(w);
}

void tables(Writer& w, const Drawing& drawing, const Eigen::AlignedBox2d& bounds) {
    w.begin_section("TABLES");
    vport_table(w, bounds);
    ltype_table(w);
    layer_table(w, drawing.layers);
    small_tables(w);
    block_table(w);
    w.end_section();
}

void block(Writer& w, std::string_view name, bool paper, Handle self, Handle end, Handle owner) {
    const auto head = [&](std::string_view kind, Handle handle) {
        w.object(kind, handle, owner);
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

void blocks(Writer& w) {
    w.begin_section("BLOCKS");
    block(w, "*Model_Space", false, fixed::model_block, fixed::model_block_end, fixed::model_record);
    block(w, "*Paper_Space", true, fixed::paper_block, fixed::paper_block_end, fixed::paper_record);
    w.end_section();
}

double degrees_from_0(double radians_any) {
    const double turn = std::fmod(radians_any, k_full_turn);
    return (turn < 0.0 ? turn + k_full_turn : turn) * 180.0 / std::numbers::pi;
}

/// Writes one entity, its head already known.
struct EntityWriter {
    Writer& w;
    Handle self;
    const std::string& layer;

    void head(std::string_view kind, std::string_view subclass) const {
        w.object(kind, self, fixed::model_record);
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
        w.text(1, escaped(text.words));
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

void entities(Writer& w, const Drawing& drawing, Handle& next) {
    w.begin_section("ENTITIES");
    for (const DrawnEntity& entity : drawing.entities) {
        std::visit(EntityWriter{w, next++, entity.layer}, entity.shape);
    }
    w.end_section();
}

void dictionary(Writer& w, Handle self, Handle owner) {
    w.object("DICTIONARY", self, owner);
    w.text(100, "AcDbDictionary");
    w.whole(281, 1);
}

void entry(Writer& w, std::string_view name, Handle value) {
    w.text(3, name);
    w.handle(350, value);
}

void layout(Writer& w, std::string_view name, bool paper, Handle self, Handle block_record) {
    w.object("LAYOUT", self, fixed::layouts);
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

void objects(Writer& w) {
    w.begin_section("OBJECTS");
    dictionary(w, fixed::root, 0);
    entry(w, "ACAD_GROUP", fixed::groups);
    entry(w, "ACAD_LAYOUT", fixed::layouts);
    entry(w, "ACAD_PLOTSTYLENAME", fixed::plot_styles);
    dictionary(w, fixed::groups, fixed::root);
    dictionary(w, fixed::layouts, fixed::root);
    entry(w, "Model", fixed::model_layout);
    entry(w, "Layout1", fixed::paper_layout);
    w.object("ACDBDICTIONARYWDFLT", fixed::plot_styles, fixed::root);
    w.text(100, "AcDbDictionary");
    w.whole(281, 1);
    entry(w, "Normal", fixed::plot_style_normal);
    w.text(100, "AcDbDictionaryWithDefault");
    w.handle(340, fixed::plot_style_normal);
    w.object("ACDBPLACEHOLDER", fixed::plot_style_normal, fixed::plot_styles);
    layout(w, "Model", false, fixed::model_layout, fixed::model_record);
    layout(w, "Layout1", true, fixed::paper_layout, fixed::paper_record);
    w.end_section();
}

void class_entry(Writer& w, std::string_view name, std::string_view subclass) {
    w.text(0, "CLASS");
    w.text(1, name);
    w.text(2, subclass);
    w.text(3, "ObjectDBX Classes");
    w.whole(90, 0);
    w.whole(280, 0);
    w.whole(281, 0);
}

void classes(Writer& w) {
    w.begin_section("CLASSES");
    class_entry(w, "ACDBDICTIONARYWDFLT", "AcDbDictionaryWithDefault");
    class_entry(w, "ACDBPLACEHOLDER", "AcDbPlaceHolder");
    class_entry(w, "LAYOUT", "AcDbLayout");
    w.end_section();
}

void header(Writer& w, const Eigen::AlignedBox2d& bounds, Handle next) {
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
    w.whole(70, 4);  // millimetres
    variable("$MEASUREMENT");
    w.whole(70, 1);  // metric
    variable("$HANDSEED");
    w.handle(5, next);
    w.end_section();
}

/// What is wrong with a shape; nothing if it can be written.
struct ShapeFault {
    using Fault = std::optional<std::string>;

    static Fault finite(bool all) { return all ? std::nullopt : Fault{"has a number that is not finite"}; }
    static Fault positive(Length length, const char* what) {
        return length > Length{} && std::isfinite(in_mm(length))
                   ? std::nullopt
                   : Fault{std::string{"needs a "} + what + " above 0 mm"};
    }
    Fault operator()(const DrawnLine& line) const { return finite(line.from_mm.allFinite() && line.to_mm.allFinite()); }
    Fault operator()(const DrawnArc& arc) const {
        const double sweep = std::abs(in_rad(arc.sweep));
        if (!(sweep > 0.0 && sweep < k_full_turn) || !std::isfinite(in_rad(arc.start))) {
            return "is an arc that needs a sweep of more than nothing and less than a full turn";
        }
        return (*this)(DrawnCircle{arc.centre_mm, arc.radius});
    }
    Fault operator()(const DrawnCircle& circle) const {
        const Fault radius = positive(circle.radius, "radius");
        return radius ? radius : finite(circle.centre_mm.allFinite());
    }
    Fault operator()(const DrawnChain& chain) const {
        if (chain.vertices.size() < 2) {
            return "is a chain of fewer than two vertices";
        }
        return finite(std::all_of(chain.vertices.begin(), chain.vertices.end(), [](const ChainVertex& vertex) {
            return vertex.p_mm.allFinite() && std::isfinite(vertex.bulge);
        }));
    }
    Fault operator()(const DrawnText& text) const {
        if (escaped(text.words).find_first_not_of(' ') == std::string::npos) {
            return "is writing without words";
        }
        const Fault height = positive(text.height, "height");
        return height ? height : finite(text.at_mm.allFinite() && std::isfinite(in_rad(text.turned)));
    }
    Fault operator()(const DrawnPoint& point) const { return finite(point.at_mm.allFinite()); }
};

bool is_layer_name(std::string_view name) {
    constexpr std::string_view k_allowed = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_";
    return !name.empty() && name != "0" && name.find_first_not_of(k_allowed) == std::string_view::npos;
}

std::optional<Error> fault(const Drawing& drawing) {
    std::set<std::string> names;
    for (const DrawingLayer& layer : drawing.layers) {
        if (!is_layer_name(layer.name) || !names.insert(layer.name).second || layer.colour < 1 || layer.colour > 255) {
            return Error{ErrorCode::invalid_argument,
                         "The drawing's layer \"" + layer.name +
                             "\" needs a name of its own from A-Z, 0-9 and _, and a colour from 1 to 255."};
        }
    }
    for (std::size_t i = 0; i < drawing.entities.size(); ++i) {
        const DrawnEntity& entity = drawing.entities[i];
        auto what = std::visit(ShapeFault{}, entity.shape);
        if (!what && !names.contains(entity.layer)) {
            what = "stands on a layer that the drawing has not";
        }
        if (what) {
            return Error{ErrorCode::invalid_argument,
                         "Entity " + std::to_string(i + 1) + " on layer \"" + entity.layer + "\" " + *what + "."};
        }
    }
    return std::nullopt;
}

}  // namespace

Result<std::string> dxf_text(const Drawing& drawing) {
    if (const auto error = fault(drawing)) {
        return *error;
    }
    const Eigen::AlignedBox2d bounds = bounds_mm(drawing);
    Writer body;
    classes(body);
    tables(body, drawing, bounds);
    blocks(body);
    Handle next = fixed::first_free + static_cast<Handle>(drawing.layers.size());
    entities(body, drawing, next);
    objects(body);
    body.text(0, "EOF");
    Writer whole;
    header(whole, bounds, next);  // needs the first handle that is free
    whole.append(body);
    return whole.take();
}

}  // namespace sillwright::geometry
