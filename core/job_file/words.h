#pragma once

#include <array>
#include <string_view>
#include <utility>

#include "core/job.h"

/// The words of the job file for each choice.
namespace sillwright::core::job_file {

template <class Choice, std::size_t n>
using Words = std::array<std::pair<std::string_view, Choice>, n>;

inline constexpr Words<Side, 2> k_side_words{{{"left", Side::left}, {"right", Side::right}}};
inline constexpr Words<BareUnit, 3> k_unit_words{{{"mm", BareUnit::mm}, {"cm", BareUnit::cm}, {"in", BareUnit::in}}};
inline constexpr Words<DrawnFace, 2> k_face_words{{{"inside", DrawnFace::inside}, {"outside", DrawnFace::outside}}};
inline constexpr Words<MountKind, 3> k_mount_words{
    {{"hole", MountKind::hole}, {"stud", MountKind::stud}, {"nut", MountKind::nut}}};
inline constexpr Words<HoleShape, 3> k_shape_words{
    {{"round", HoleShape::round}, {"slot", HoleShape::slot}, {"square", HoleShape::square}}};
inline constexpr Words<FastenerKind, 3> k_fastener_words{
    {{"clip", FastenerKind::clip}, {"screw", FastenerKind::screw}, {"fixed screw", FastenerKind::fixed_screw}}};
inline constexpr Words<KeepOutShape, 3> k_keep_out_shape_words{
    {{"box", KeepOutShape::box}, {"strip", KeepOutShape::strip}, {"wheel", KeepOutShape::wheel}}};
inline constexpr Words<Stepping, 2> k_stepping_words{
    {{"stood on", Stepping::stood_on}, {"refused", Stepping::refused}}};
inline constexpr Words<RecessFace, 2> k_recess_words{{{"shelf", RecessFace::shelf}, {"face", RecessFace::face}}};
inline constexpr Words<MouldKind, 2> k_mould_words{{{"male", MouldKind::male}, {"female", MouldKind::female}}};
inline constexpr Words<BitForm, 3> k_bit_words{
    {{"round nose", BitForm::round_nose}, {"flat", BitForm::flat}, {"vee", BitForm::vee}}};
inline constexpr Words<RibFace, 4> k_rib_face_words{
    {{"larger", RibFace::larger}, {"smaller", RibFace::smaller}, {"front", RibFace::front}, {"rear", RibFace::rear}}};
inline constexpr Words<SpineCount, 2> k_spine_words{{{"one", SpineCount::one}, {"two", SpineCount::two}}};
inline constexpr Words<CornerRelief, 2> k_relief_words{
    {{"diagonal", CornerRelief::diagonal}, {"along edge", CornerRelief::along_edge}}};
inline constexpr Words<CutLine, 2> k_cut_line_words{
    {{"finished edge", CutLine::finished}, {"tool path", CutLine::tool_path}}};
inline constexpr Words<DrawingUnit, 2> k_drawing_unit_words{
    {{"mm", DrawingUnit::millimetres}, {"inch", DrawingUnit::inches}}};
inline constexpr Words<DxfRelease, 2> k_release_words{{{"12", DxfRelease::older}, {"2000", DxfRelease::newer}}};
inline constexpr Words<PaperSize, 3> k_paper_words{
    {{"A4", PaperSize::a4}, {"Letter", PaperSize::letter}, {"A3", PaperSize::a3}}};
inline constexpr Words<GenerationKind, 4> k_generation_words{{{"plug", GenerationKind::plug},
                                                              {"female", GenerationKind::female},
                                                              {"male", GenerationKind::male},
                                                              {"sheet", GenerationKind::sheet}}};
inline constexpr Words<MountUse, 3> k_use_words{
    {{"flange", MountUse::flange}, {"top edge", MountUse::top_edge}, {"unused", MountUse::unused}}};
inline constexpr Words<KeepOutKind, 9> k_keep_out_words{{{"jacking", KeepOutKind::jacking},
                                                         {"drain", KeepOutKind::drain},
                                                         {"sensor", KeepOutKind::sensor},
                                                         {"belt", KeepOutKind::belt},
                                                         {"high voltage", KeepOutKind::high_voltage},
                                                         {"line", KeepOutKind::line},
                                                         {"exhaust", KeepOutKind::exhaust},
                                                         {"tyre", KeepOutKind::tyre},
                                                         {"other", KeepOutKind::other}}};
inline constexpr Words<DoorBodyKind, 2> k_door_body_words{
    {{"edge", DoorBodyKind::edge}, {"cladding", DoorBodyKind::cladding}}};
inline constexpr Words<FlangeMaking, 2> k_making_words{
    {{"formed with part", FlangeMaking::formed_with_part}, {"bent after", FlangeMaking::bent_after}}};
inline constexpr Words<TopEdgeFixing, 3> k_top_edge_words{
    {{"screw", TopEdgeFixing::screw}, {"tape", TopEdgeFixing::tape}, {"none", TopEdgeFixing::none}}};
inline constexpr Words<survey::ReadingKind, 12> k_reading_words{{{"tie", survey::ReadingKind::tie},
                                                                 {"height", survey::ReadingKind::height},
                                                                 {"offset", survey::ReadingKind::offset},
                                                                 {"plane", survey::ReadingKind::plane},
                                                                 {"along", survey::ReadingKind::along},
                                                                 {"out", survey::ReadingKind::out},
                                                                 {"up", survey::ReadingKind::up},
                                                                 {"gauge", survey::ReadingKind::gauge},
                                                                 {"gap", survey::ReadingKind::gap},
                                                                 {"depth", survey::ReadingKind::depth},
                                                                 {"angle", survey::ReadingKind::angle},
                                                                 {"slope", survey::ReadingKind::slope}}};
inline constexpr Words<survey::InstrumentKind, 8> k_instrument_words{
    {{"tape", survey::InstrumentKind::tape},
     {"rule", survey::InstrumentKind::rule},
     {"calliper", survey::InstrumentKind::calliper},
     {"level", survey::InstrumentKind::level},
     {"plumb", survey::InstrumentKind::plumb},
     {"gauge", survey::InstrumentKind::gauge},
     {"gap gauge", survey::InstrumentKind::gap_gauge},
     {"protractor", survey::InstrumentKind::protractor}}};
inline constexpr Words<survey::TapeClass, 3> k_tape_words{
    {{"I", survey::TapeClass::i}, {"II", survey::TapeClass::ii}, {"III", survey::TapeClass::iii}}};
inline constexpr Words<survey::PointKind, 5> k_point_words{{{"mark", survey::PointKind::mark},
                                                            {"mount", survey::PointKind::mount},
                                                            {"door target", survey::PointKind::door_target},
                                                            {"profile", survey::PointKind::profile},
                                                            {"other", survey::PointKind::other}}};
inline constexpr Words<survey::PhotoPlane, 2> k_photo_plane_words{
    {{"section", survey::PhotoPlane::section}, {"elevation", survey::PhotoPlane::elevation}}};

}  // namespace sillwright::core::job_file
