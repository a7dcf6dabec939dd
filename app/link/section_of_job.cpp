#include "app/link/section_of_job.h"

#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include "app/length_words.h"
#include "app/link/door_limits_of_job.h"
#include "app/link/section_gap.h"
#include "app/link/section_mounts.h"
#include "app/link/section_nodes.h"
#include "app/link/section_strokes.h"
#include "core/drawn_loft.h"
#include "core/edit/drawn_id.h"
#include "core/number_text.h"
#include "core/skirt/main_lengths.h"
#include "core/skirt/surface.h"
#include "geometry/corner.h"
#include "geometry/motion.h"
#include "geometry/parallel.h"
#include "geometry/profile.h"
#include "geometry/varying_parallel.h"

namespace sillwright::app {

using core::DrawnId;
using Eigen::Isometry3d;
using geometry::Angle;
using geometry::Length;
using geometry::Loft;
using geometry::Profile;
using geometry::Result;
using geometry::Status;

namespace {

/// A face whose distance changes is drawn as a polyline: no eye sees a hundredth of a millimetre.
constexpr Length k_face_fit = geometry::millimetres(0.01);

/// A loft that the results have already, or one that is made for this picture.
class LoftAtHand {
public:
    explicit LoftAtHand(const Loft* there) : there_{there} {}
    explicit LoftAtHand(Loft made) : made_{std::move(made)} {}
    [[nodiscard]] const Loft* get() const { return made_ ? &*made_ : there_; }

private:
    const Loft* there_ = nullptr;
    std::optional<Loft> made_;
};

class Section {
public:
    Section(const SectionSource& source, SectionPicture& picture)
        : source_{source},
          job_{source.job},
          along_{source.along},
          station_{station_at(source.job, source.along)},
          picture_{picture} {
        const bool right = job_.side == core::Side::right;
        picture_.title =
            "section " + core::at_place_words(job_, along_) + (right ? " · looking forward" : " · looking rearward");
        picture_.unit = job_.unit;
    }

    Status add_body() { return add_drawn_line({DrawnId::Kind::body, 0, 0}, "body"); }

    void add_body_nodes() { add_hand_nodes({DrawnId::Kind::body, 0, 0}); }

    void add_keep_outs() {
        for (const core::KeepOut& keep_out : job_.keep_outs) {
            add_keep_out(picture_, keep_out, along_);
        }
    }

    void add_mounts() {
        for (const core::Mount& mount : job_.mounts) {
            add_mount(picture_, job_, mount, along_, source_.current ? &source_.results->findings : nullptr);
        }
    }

    void add_limits(const std::vector<DoorLimit>& limits) {
        for (const DoorLimit& limit : limits) {
            std::string name = limit.door + " limit";
            for (const std::vector<Eigen::Vector2d>& chain_mm : limit.chains_mm) {
                picture_.lines.push_back({SectionRole::door_limit, chain_mm, false, std::exchange(name, ""), {}});
            }
        }
    }

    /// Doors as they stand when they are shut.
    Status add_shut_doors() {
        if (source_.results == nullptr) {
            return add_doors_without_results();
        }
        for (std::size_t i = 0; i < source_.results->car.doors.size(); ++i) {
            if (const Status door = add_shut_door(source_.results->job.doors[i], source_.results->car.doors[i]);
                !door) {
                return door;
            }
        }
        return std::monostate{};
    }

    void add_open_doors() {
        if (source_.results == nullptr) {
            return;
        }
        for (std::size_t i = 0; i < source_.results->car.doors.size(); ++i) {
            const core::DoorModel& model = source_.results->car.doors[i];
            const core::Door& door = source_.results->job.doors[i];
            const auto pose = pose_of(model);
            if (!pose) {
                continue;
            }
            for (const core::DoorPart& part : model.parts) {
                const std::string part_name = door.bodies.size() < 2 ? "" : "\n" + part.body.name;
                const std::string name = door.name + " at " + core::degree_text(opening(model.name), 1) + part_name;
                add_cut(picture_, part.body.mesh, along_, *pose, {SectionRole::door, name, item_of(door)});
            }
        }
    }

    void add_door_nodes() {
        for (const DrawnId id : core::all_drawn(job_)) {
            if (id.kind == DrawnId::Kind::door_body && opening(job_.doors[id.index].name) == Angle{}) {
                add_hand_nodes(id);
            }
        }
    }

    Status add_piece(std::size_t index) {
        const core::Piece& piece = job_.skirt.pieces[index];
        if (const auto pose = carried(piece)) {
            add_carried(index, *pose);
            return std::monostate{};
        }
        if (piece.drawn.empty()) {
            if (const core::PieceModel* model = model_of(index); model != nullptr && model->body) {
                add_cut(picture_, model->body->mesh, along_, Isometry3d::Identity(),
                        {SectionRole::skirt_outside, piece.name, {}});
            }
            return std::monostate{};
        }
        const DrawnId id{DrawnId::Kind::piece, index, 0};
        const auto loft = loft_at_hand(id);
        if (!loft) {
            return loft.error();
        }
        const Loft& line = *loft.value().get();
        if (!reaches(line, along_)) {
            return std::monostate{};
        }
        const auto profile = line.section_at(along_);
        return profile ? add_piece_lines(id, line, profile.value()) : Status{profile.error()};
    }

    /// The nodes of a skirt piece for the hand, where it stands as it is drawn.
    void add_piece_nodes(std::size_t index) {
        if (!carried(job_.skirt.pieces[index])) {
            add_hand_nodes({DrawnId::Kind::piece, index, 0});
        }
    }

    void add_straights_of(DrawnId id) {
        if (const core::Section* section = drawn_here(id)) {
            add_straights(picture_, job_, id, *section);
        }
    }

    /// A piece at the nearest stations to either side at which it was drawn.
    void add_neighbours(std::size_t index) {
        const auto loft = loft_at_hand({DrawnId::Kind::piece, index, 0});
        if (!loft || carried(job_.skirt.pieces[index])) {
            return;
        }
        std::optional<Length> ahead;
        std::optional<Length> behind;
        for (const geometry::LoftSection& section : loft.value().get()->sections()) {
            if (section.along < along_ - k_in_section) {
                ahead = section.along;
            } else if (!behind && section.along > along_ + k_in_section) {
                behind = section.along;
            }
        }
        for (const std::optional<Length>& at : {ahead, behind}) {
            if (!at) {
                continue;
            }
            if (const auto profile = loft.value().get()->section_at(*at)) {
                (void)add_profile(picture_, profile.value(), {SectionRole::neighbour, "", {}});
            }
        }
    }

private:
    /// Errors: as core::loft_of.
    [[nodiscard]] Result<LoftAtHand> loft_at_hand(DrawnId id) const {
        if (source_.current && id.kind != DrawnId::Kind::door_body) {
            const core::CarModel& car = source_.results->car;
            const std::optional<Loft>& there = id.kind == DrawnId::Kind::body ? car.body : car.pieces.at(id.index).line;
            if (there) {
                return LoftAtHand(&*there);
            }
        }
        auto made = core::loft_of(job_, core::drawn(job_, id), core::closed(job_, id), core::name_of(job_, id));
        if (!made) {
            return made.error();
        }
        return LoftAtHand(std::move(made).value());
    }

    /// The section that was drawn of a body at this very place.
    [[nodiscard]] const core::Section* drawn_here(DrawnId id) const {
        return station_ == nullptr ? nullptr : section_at(core::drawn(job_, id), station_->name);
    }

    void add_hand_nodes(DrawnId id) {
        if (const core::Section* section = drawn_here(id)) {
            add_nodes(picture_, job_, id, *section);
        }
    }

    Status add_drawn_line(DrawnId id, const std::string& name, const Item& item = {}) {
        if (core::drawn(job_, id).empty()) {
            return std::monostate{};
        }
        const auto loft = loft_at_hand(id);
        if (!loft) {
            return loft.error();
        }
        const Loft& line = *loft.value().get();
        if (!reaches(line, along_)) {
            return std::monostate{};
        }
        const auto profile = line.section_at(along_);
        if (!profile) {
            return profile.error();
        }
        add_ticks(picture_, line, profile.value(), along_, role_of(id), false, drawn_here(id));
        return add_profile(picture_, profile.value(), {role_of(id), name, item});
    }

    Status add_piece_lines(DrawnId id, const Loft& loft, const Profile& line) {
        const core::Piece& piece = job_.skirt.pieces[id.index];
        const bool sheet = core::sheet_faces(piece).has_value();
        if (const Status drawn = add_profile(picture_, line, {SectionRole::skirt_drawn, sheet ? "" : piece.name, {}});
            !drawn) {
            return drawn;
        }
        for (const auto& [surface, role] : {std::pair{core::Surface::inside, SectionRole::skirt_inside},
                                            std::pair{core::Surface::outside, SectionRole::skirt_outside}}) {
            const std::string name = surface == core::Surface::outside ? piece.name : "";
            if (const Status face = add_face(id.index, loft, line, surface, {role, name, {}}); !face) {
                return face;
            }
        }
        add_ticks(picture_, loft, line, along_, SectionRole::skirt_drawn, true, drawn_here(id));
        for (const core::MainLength& length : core::main_lengths(loft, along_)) {
            picture_.dimensions.push_back(
                {length.from_mm, length.to_mm, length.away, short_number(length.length, job_.unit)});
        }
        return std::monostate{};
    }

    Status add_face(std::size_t index, const Loft& loft, const Profile& line, core::Surface surface, Stroke stroke) {
        const core::Piece& piece = job_.skirt.pieces[index];
        const core::PieceModel* const model = source_.current ? model_of(index) : nullptr;
        const auto law =
            core::outward_law(piece, loft, model != nullptr ? model->formed.get() : nullptr, job_.skirt.paint, surface);
        if (!law) {
            return std::monostate{};
        }
        if (!law->is_same()) {
            return add_formed_face(loft, law->at(along_), stroke);
        }
        const auto face = geometry::parallel(line, geometry::millimetres(law->mm.front()));
        if (!face) {
            return face.error();
        }
        for (const Profile& chain : face.value().chains) {
            if (const Status added = add_profile(picture_, chain, stroke); !added) {
                return added;
            }
            stroke.name.clear();
        }
        return std::monostate{};
    }

    /// A face of the sheet as thick as it is formed at each place.
    Status add_formed_face(const Loft& loft, const geometry::OffsetRow& offsets, const Stroke& stroke) {
        const auto nodes = loft.nodes_at(along_);
        std::vector<geometry::Corner> corners;
        if (Status found = geometry::find_corners(nodes, loft.names(), false, corners); !found) {
            return found;
        }
        const auto points =
            geometry::varying_parallel(corners, geometry::plain_marks(nodes.size()), offsets, k_face_fit);
        Profile face;
        for (std::size_t i = 0; i + 1 < points.size(); ++i) {
            face.segments.push_back({geometry::LineSegment{points[i], points[i + 1]}, 0});
        }
        return add_profile(picture_, face, stroke);
    }

    Status add_shut_door(const core::Door& door, const core::DoorModel& model) {
        const bool open = pose_of(model).has_value();
        for (const core::DoorBody& body : door.bodies) {
            const core::DoorPart* part = part_of(model, body.name);
            if (part == nullptr) {
                continue;  // It lacks something, which a finding says.
            }
            const Stroke stroke{open ? SectionRole::door_shut : SectionRole::door, open ? "" : name_of(door, body.name),
                                item_of(door)};
            // The drawn section itself, where nothing was taken off it.
            if (part->body.ring && body.closed) {
                if (const Status added = add_drawn_door(door, body, stroke); !added) {
                    return added;
                }
            } else {
                add_cut(picture_, part->body.mesh, along_, Isometry3d::Identity(), stroke);
            }
        }
        return std::monostate{};
    }

    Status add_drawn_door(const core::Door& door, const core::DoorBody& body, const Stroke& stroke) {
        const auto loft = core::loft_of(source_.results->job, body.drawn, body.closed, "door \"" + door.name + "\"");
        if (!loft) {
            return loft.error();
        }
        if (!reaches(loft.value(), along_)) {
            return std::monostate{};
        }
        const auto profile = loft.value().section_at(along_);
        return profile ? add_profile(picture_, profile.value(), stroke) : Status{profile.error()};
    }

    Status add_doors_without_results() {
        for (const DrawnId id : core::all_drawn(job_)) {
            if (id.kind != DrawnId::Kind::door_body) {
                continue;
            }
            const core::Door& door = job_.doors[id.index];
            if (const Status added = add_drawn_line(id, name_of(door, door.bodies[id.part].name), item_of(door));
                !added) {
                return added;
            }
        }
        return std::monostate{};
    }

    static const core::DoorPart* part_of(const core::DoorModel& door, const std::string& name) {
        for (const core::DoorPart& part : door.parts) {
            if (part.body.name == name) {
                return &part;
            }
        }
        return nullptr;
    }

    static std::string name_of(const core::Door& door, const std::string& body) {
        return door.bodies.size() < 2 ? door.name : door.name + ", " + body;
    }

    static Item item_of(const core::Door& door) { return {Item::Kind::door, door.name}; }

    [[nodiscard]] Angle opening(const std::string& door) const {
        const auto found = source_.openings.find(door);
        return found == source_.openings.end() ? Angle{} : found->second;
    }

    /// Where a door that is open stands; none for one that is shut, or whose motion is not measured.
    [[nodiscard]] std::optional<Isometry3d> pose_of(const core::DoorModel& door) const {
        const auto& motion = door.released ? door.released : door.on_striker;
        const Angle angle = opening(door.name);
        return motion && angle != Angle{} ? std::optional(geometry::pose(*motion, angle)) : std::nullopt;
    }

    /// Where a piece that swings with an open door stands.
    [[nodiscard]] std::optional<Isometry3d> carried(const core::Piece& piece) const {
        if (source_.results != nullptr) {
            for (const core::DoorModel& door : source_.results->car.doors) {
                if (door.name == piece.carried_by) {
                    return pose_of(door);
                }
            }
        }
        return std::nullopt;
    }

    [[nodiscard]] const core::PieceModel* model_of(std::size_t index) const {
        return source_.results != nullptr && index < source_.results->car.pieces.size()
                   ? &source_.results->car.pieces[index]
                   : nullptr;
    }

    void add_carried(std::size_t index, const Isometry3d& pose) {
        if (const core::PieceModel* model = model_of(index); model != nullptr && model->body) {
            add_cut(picture_, model->body->mesh, along_, pose,
                    {SectionRole::skirt_outside, job_.skirt.pieces[index].name, {}});
        }
    }

    const SectionSource& source_;
    const core::Job& job_;
    Length along_;
    const core::Station* station_;
    SectionPicture& picture_;
};

void note(SectionPicture& picture, const std::string& words) {
    if (picture.note.find(words) == std::string::npos) {
        picture.note += (picture.note.empty() ? "" : "\n") + words;
    }
}

bool is_empty(const SectionPicture& picture) {
    return picture.lines.empty() && picture.points.empty();
}

}  // namespace

Result<SectionPicture> section_of_job(const core::Evaluation& evaluation, Length along) {
    const std::map<std::string, Angle> shut;
    const SectionSource source{evaluation.job, &evaluation, true, along, shut};
    SectionPicture picture;
    Section section(source, picture);
    if (const Status body = section.add_body(); !body) {
        return body.error();
    }
    if (const Status doors = section.add_shut_doors(); !doors) {
        return doors.error();
    }
    const auto limits = door_limits_at(evaluation, along);
    if (!limits) {
        return limits.error();
    }
    section.add_limits(limits.value());
    for (std::size_t i = 0; i < evaluation.job.skirt.pieces.size(); ++i) {
        if (const Status piece = section.add_piece(i); !piece) {
            return piece.error();
        }
    }
    section.add_mounts();
    section.add_keep_outs();
    return picture;
}

SectionPicture section_ground(const SectionSource& source, const std::vector<DoorLimit>& limits) {
    SectionPicture picture;
    Section section(source, picture);
    section.add_keep_outs();
    for (std::size_t i = 0; i < source.job.skirt.pieces.size(); ++i) {
        section.add_neighbours(i);
    }
    if (const Status body = section.add_body(); !body) {
        note(picture, body.error().message);
        section.add_straights_of({DrawnId::Kind::body, 0, 0});
    }
    if (const Status doors = section.add_shut_doors(); !doors) {
        note(picture, doors.error().message);
    }
    section.add_limits(limits);
    section.add_body_nodes();
    section.add_door_nodes();
    return picture;
}

SectionPicture section_on_ground(const SectionSource& source, std::shared_ptr<const SectionPicture> ground) {
    SectionPicture picture;
    picture.note = ground ? ground->note : "";
    picture.under = std::move(ground);
    picture.stale = !source.current;
    Section section(source, picture);
    section.add_open_doors();
    for (std::size_t i = 0; i < source.job.skirt.pieces.size(); ++i) {
        if (const Status piece = section.add_piece(i); !piece) {
            note(picture, piece.error().message);
            section.add_straights_of({DrawnId::Kind::piece, i, 0});
        }
        section.add_piece_nodes(i);
    }
    section.add_mounts();
    if (is_empty(picture) && (!picture.under || is_empty(*picture.under))) {
        note(picture, "Nothing is drawn at this place yet. Draw a section at a station, point by point.");
    }
    if (source.current) {
        picture.gap = gap_at(*source.results, source.along, source.openings, picture);
    }
    return picture;
}

}  // namespace sillwright::app
