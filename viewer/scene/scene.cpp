#include "scene/scene.hpp"

#include <fmt/format.h>

#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <Graphic3d_AspectFillArea3d.hxx>
#include <Graphic3d_Camera.hxx>
#include <Graphic3d_Texture2Dmanual.hxx>
#include <Image_PixMap.hxx>
#include <Prs3d_LineAspect.hxx>
#include <Prs3d_ShadingAspect.hxx>
#include <SelectMgr_ViewerSelector3d.hxx>
#include <StdSelect_BRepOwner.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS_Face.hxx>
#include <gp_Trsf.hxx>
#include <set>

#include "modeler/clearance.hpp"
#include "modeler/gaps.hpp"
#include "scene/kernel_colours.hpp"
#include "scene/marks.hpp"
#include "scene/palette.hpp"
#include "scene/screen.hpp"

namespace standproud::viewer {

namespace {

constexpr double ghost_clear = 0.92;
constexpr double near_ghost_clear = 0.84;

Graphic3d_MaterialAspect material(const Finish& finish) {
    // The part's own colour comes with SetColor and is multiplied by these: white keeps it as it is.
    Graphic3d_MaterialAspect made(Graphic3d_NameOfMaterial_Plastified);
    const double s = finish.shine;
    made.SetAmbientColor(Quantity_NOC_WHITE);
    made.SetDiffuseColor(Quantity_NOC_WHITE);
    const double sheen = finish.metal ? 0.5 * s : 0.12 * s;
    made.SetSpecularColor(Quantity_Color(sheen, sheen, sheen, Quantity_TOC_sRGB));
    made.SetShininess(static_cast<float>(0.1 + 0.5 * s));
    return made;
}

/// Slanted strokes, to tile the faces of a cut with.
Handle(Graphic3d_TextureMap) hatch() {
    constexpr int size = 32;
    Handle(Image_PixMap) image = new Image_PixMap();
    image->InitZero(Image_Format_RGB, size, size);
    for (int row = 0; row < size; ++row) {
        for (int column = 0; column < size; ++column) {
            const bool stroke = (row + column) % 16 < 3;
            auto* pixel = image->ChangeRawValue(row, column);
            for (int c = 0; c < 3; ++c) pixel[c] = stroke ? 110 : 255;
        }
    }
    Handle(Graphic3d_Texture2Dmanual) texture = new Graphic3d_Texture2Dmanual(image);
    texture->EnableModulate();
    texture->EnableRepeat();
    texture->GetParams()->SetScale(Graphic3d_Vec2(0.02F, 0.02F));
    return texture;
}

}  // namespace

Scene::Scene(const Handle(V3d_View) & view) : view_(view), context_(new AIS_InteractiveContext(view->Viewer())) {
    context_->SetAutomaticHilight(true);
    const Quantity_Color blue = kernel_colour({0, 114, 178});
    for (const auto type : {Prs3d_TypeOfHighlight_Dynamic, Prs3d_TypeOfHighlight_LocalDynamic,
                            Prs3d_TypeOfHighlight_Selected, Prs3d_TypeOfHighlight_LocalSelected}) {
        context_->HighlightStyle(type)->SetColor(blue);
        context_->HighlightStyle(type)->SetDisplayMode(AIS_WireFrame);
        context_->HighlightStyle(type)->SetZLayer(Graphic3d_ZLayerId_Top);
    }
    context_->SetPixelTolerance(4);
    plane_ = new Graphic3d_ClipPlane();
    plane_->SetCapping(true);
    plane_->SetUseObjectMaterial(true);
    plane_->SetCappingTexture(hatch());
    plane_->SetOn(false);
    view_->AddClipPlane(plane_);
}

/// From afar a gap is narrower than the lines on either side of it: the edges of panels that are sealed in a colour
/// have that colour, so that joins look as they will.
std::optional<Colour> Scene::edge_of(const Model& model, const Part& part) {
    const std::size_t wall = wall_index(model.job, part.wall);
    if (part.layer != "panel" || wall == model.job.walls.size()) return std::nullopt;
    return sealant_on(model.job, wall).colour;
}

void Scene::dress(Item& item, const Part& part, std::optional<Colour> edge, const Look& look, Shown state,
                  bool near_choice) {
    const std::string dress =
        fmt::format("{}{}{}{}{}{}{}{}", static_cast<int>(state), look.by_layer_colour, look.edges, look.dark,
                    look.scale, near_choice, part.colour ? to_string(*part.colour) : "", edge ? to_string(*edge) : "");
    if (item.dressed == dress) return;
    item.dressed = dress;
    Finish finish = finish_of(part);
    if (look.by_layer_colour) finish = {colour_of(part), 0.15, false};
    const bool ghost = state == Shown::ghost;
    if (ghost && part.layer == "panel") finish.colour = {120, 160, 180};  // white on white would not be seen
    const auto& object = item.object;
    object->SetMaterial(material(finish));
    object->SetColor(kernel_colour(finish.colour));
    const bool clear_sealant = part.layer == "sealant" && !part.colour;
    const double clear = part.layer == "screen" || clear_sealant ? 0.65 : 0;  // glass, and what is behind is seen
    object->SetTransparency(ghost ? (near_choice ? near_ghost_clear : ghost_clear) : clear);
    const Ground colours = ground(look.dark);
    const Handle(Prs3d_Drawer)& how = object->Attributes();
    how->SetAutoTriangulation(false);
    // A gap is narrow: outlines of its own would leave nothing of the sealant's colour to be seen.
    object->edges_on = (look.edges || ghost) && part.layer != "sealant";
    object->edge_aspect = new Graphic3d_AspectLine3d(kernel_colour(ghost ? colours.faint : edge.value_or(colours.edge)),
                                                     Aspect_TOL_SOLID, (ghost ? 0.8 : 1.1) * look.scale);
    // Only ghosts are culled: the back of one face would fight with the front of the layer behind it.
    how->ShadingAspect()->Aspect()->SetFaceCulling(ghost ? Graphic3d_TypeOfBackfacingModel_BackCulled
                                                         : Graphic3d_TypeOfBackfacingModel_Auto);
    object->SetToUpdate();
    if (context_->IsDisplayed(object)) context_->Redisplay(object, false);
}

void Scene::place(Item& item, RoomPoint moved) {
    gp_Trsf shift;
    shift.SetTranslation(gp_Vec(moved.x, moved.y, moved.z));
    const TopLoc_Location location = norm(moved) > 0 ? TopLoc_Location(shift) : TopLoc_Location();
    if (item.object->LocalTransformation().TranslationPart().IsEqual(shift.TranslationPart(), 1e-9)) return;
    context_->SetLocation(item.object, location);
}

void Scene::put(Item& item) {
    const std::string way = fmt::format("{}{}{}", static_cast<int>(item.state), item.in_the_way, pieces_);
    if (item.put_as == way) return;
    item.put_as = way;
    if (item.state == Shown::hidden || item.in_the_way) {
        context_->Erase(item.object, false);
        return;
    }
    // With a mode of -1 the kernel never picks it, not even when a mode is activated afterwards.
    if (!context_->IsDisplayed(item.object)) context_->Display(item.object, AIS_Shaded, 0, false);
    context_->Deactivate(item.object);
    // One looks and picks through ghosts.
    if (item.state == Shown::ghost && !pieces_) return;
    if (!pieces_) {
        context_->Activate(item.object, 0);
        return;
    }
    for (const auto kind : {TopAbs_VERTEX, TopAbs_EDGE, TopAbs_FACE}) {
        context_->Activate(item.object, AIS_Shape::SelectionMode(kind));
    }
}

void Scene::show_part(const Document& document, const Part& part, const MadeSolid& solid, const Look& look,
                      bool ghost_rest) {
    Item& item = items_[part.id];
    const std::string key = shape_key(part);
    if (item.object.IsNull() || item.key != key) {
        if (!item.object.IsNull()) context_->Remove(item.object, false);
        item = {};
        item.object = new EdgedSolid(solid.shape);
        item.edges = edges_of(solid.shape);
        item.object->edges = item.edges;
        item.key = key;
    }
    item.wall = part.wall;
    Shown state = shown(part, look, document.selection, ghost_rest);
    const auto& chosen = document.selection;
    bool near_choice = false;
    if (ghost_rest && document.job && chosen.finding && *chosen.finding < document.job->findings.size()) {
        const auto& finding = document.job->findings[*chosen.finding];
        near_choice = part.layer == "panel" && part.wall == finding.wall;
        // What stands in the room hides the very thing that was judged: the spindle, the screw, the hole.
        static const std::set<std::string> judged{"body", "spindle", "screw", "tail", "box"};
        if (finding.clash) {
            const auto& clash = *finding.clash;
            const bool one_of_two = part.id == clash.part_a || part.id == clash.part_b ||
                                    (!part.fitting.empty() && part.fitting == clash.other);
            // What overlaps is seen through: what both fill lies inside.
            const bool overlap = clash.distance < -touch_length;
            if (one_of_two && !overlap && state == Shown::ghost) state = Shown::full;
            if (overlap && state == Shown::full) state = Shown::ghost;
            near_choice = near_choice || one_of_two;
        } else if (state == Shown::full && part.fitting == chosen.fitting && judged.count(part.layer) == 0) {
            state = Shown::ghost;
            near_choice = true;
        }
    }
    item.state = state;
    dress(item, part, edge_of(document.job->model, part), look, state, near_choice);
    place(item, moved_apart(document.job->model, part, look.apart));
    put(item);
}

/// What lies behind boards and panels changes with them, and with what of them is shown.
void Scene::cover_edges(const Document& document, const Look& look, bool ghost_rest) {
    const Model& model = document.job->model;
    const std::vector<Cover> sheets = covers(document, look, ghost_rest);
    std::map<std::string, std::string> as;  // by wall
    for (const auto& sheet : sheets) as[sheet.part->wall] += shape_key(*sheet.part);
    for (auto& [wall, key] : as) {
        const Cut& cut = look.cut;
        if (cut.on) key += fmt::format("cut {} {} {} {}", cut.away.x, cut.away.y, cut.away.z, cut.at);
    }
    for (const auto& part : document.parts) {
        const auto item = items_.find(part.id);
        if (item == items_.end() || item->second.edges_as == as[part.wall]) continue;
        item->second.edges_as = as[part.wall];
        std::vector<Segment> bare = bare_of(item->second.edges, part, sheets, model, look);
        const auto& object = item->second.object;
        if (bare == object->edges) continue;
        object->edges = std::move(bare);
        object->SetToUpdate();
        if (context_->IsDisplayed(object)) context_->Redisplay(object, false);
    }
}

void Scene::show_floor(const Model& model, const Look& look) {
    const auto [least, most] = bounds(model);
    const std::string key = fmt::format("{} {} {} {} {}", least.x, least.y, most.x, most.y, look.dark);
    if (key == floor_key_) return;
    floor_key_ = key;
    if (!floor_.IsNull()) context_->Remove(floor_, false);
    BRepBuilderAPI_MakePolygon outline;
    constexpr double z = -2;  // just under what stands on the floor
    const double more = 0;
    outline.Add(gp_Pnt(least.x - more, least.y - more, z));
    outline.Add(gp_Pnt(most.x + more, least.y - more, z));
    outline.Add(gp_Pnt(most.x + more, most.y + more, z));
    outline.Add(gp_Pnt(least.x - more, most.y + more, z));
    outline.Close();
    floor_ = new AIS_Shape(BRepBuilderAPI_MakeFace(outline.Wire()).Face());
    floor_->SetMaterial(material({ground(look.dark).floor, 0.02, false}));
    floor_->SetColor(kernel_colour(ground(look.dark).floor));
    context_->Display(floor_, AIS_Shaded, -1, false);
}

void Scene::show_cut(const Look& look) {
    // The kernel keeps what is on the positive side of the plane.
    plane_->SetEquation(
        gp_Pln(gp_Pnt(look.cut.at * look.cut.away.x, look.cut.at * look.cut.away.y, look.cut.at * look.cut.away.z),
               gp_Dir(-look.cut.away.x, -look.cut.away.y, -look.cut.away.z)));
    plane_->SetOn(look.cut.on);
}

void Scene::show_object(const Handle(AIS_InteractiveObject) & object) {
    context_->Display(object, object->AcceptDisplayMode(AIS_Shaded) ? AIS_Shaded : 0, -1, false);
}

void Scene::add_marks(const Marks& marks) {
    for (const auto& mark : marks.objects) {
        show_object(mark);
        marks_.push_back(mark);
    }
    marks_flags_.insert(marks_flags_.end(), marks.flags.begin(), marks.flags.end());
}

void Scene::show_marks(const Document& document, const Look& look) {
    for (const auto& mark : marks_) context_->Remove(mark, false);
    marks_.clear();
    marks_flags_.clear();
    // The surveyed faces are there to be read: nothing stands before them.
    if (document.selection.finding && !look.survey.on) {
        const std::string key = clash_key(document);
        if (key != clash_key_) clash_ = clash_solids(document);
        clash_key_ = key;
        add_marks(clash_marks(document, clash_, look));
        add_marks(chosen_marks(document, look));
    } else if (look.flags && !look.survey.on) {
        add_marks({{}, fitting_flags(document, look)});
    }
    if (look.grips) {
        add_marks({join_grips(document, look), {}});
    }
}

void Scene::show_survey(const Document& document, const Look& look) {
    const CheckedJob& job = *document.job;
    const bool on = look.survey.on && job.model.survey;
    const std::string of = fmt::format("{} {}", document.file.string(), document.generation);
    const std::string as = on ? fmt::format("{} {} {} {} {} {}", of, look.survey.times, look.survey.packing,
                                            look.survey.values, look.dark, look.scale)
                              : "";
    if (as == survey_as_) return;
    survey_as_ = as;
    for (const auto& mark : survey_) context_->Remove(mark.object, false);
    survey_.clear();
    survey_flags_.clear();
    if (!on) return;
    if (of != grids_of_) grids_ = face_grids(job);
    grids_of_ = of;
    survey_ = survey_meshes(job, grids_, look);
    survey_flags_ = survey_flags(job, look);
    for (const auto& mark : survey_) context_->Display(mark.object, 0, -1, false);
}

void Scene::show_earlier(const Document& document, const Earlier* earlier, const SolidStore& store, const Look& look) {
    // Dashed outlines and a veil in reddish purple (Okabe-Ito), which is no verdict's colour.
    const Colour old{204, 121, 167};
    const std::string as = earlier ? fmt::format("{} {} {} {} {} {}", earlier->file.string(), document.generation,
                                                 store.size(), look.dark, look.scale, look.inches)
                                   : "";
    if (as == earlier_as_) return;
    earlier_as_ = as;
    for (const auto& mark : earlier_) context_->Remove(mark, false);
    earlier_.clear();
    earlier_flags_.clear();
    if (!earlier) return;
    const auto changes = changes_since(*earlier, document);
    for (const auto& part : old_places(*earlier, changes)) {
        const auto solid = store.find(shape_key(part));
        if (solid == store.end() || solid->second.shape.IsNull()) continue;
        Handle(AIS_Shape) ghost = new AIS_Shape(solid->second.shape);
        ghost->SetColor(kernel_colour(old));
        ghost->SetTransparency(0.7F);
        ghost->Attributes()->SetAutoTriangulation(false);
        ghost->Attributes()->SetFaceBoundaryDraw(true);
        ghost->Attributes()->SetFaceBoundaryUpperContinuity(GeomAbs_C0);
        ghost->Attributes()->SetFaceBoundaryAspect(
            new Prs3d_LineAspect(kernel_colour({142, 62, 104}), Aspect_TOL_DASH, 1.4 * look.scale));
        context_->Display(ghost, AIS_Shaded, -1, false);
        earlier_.push_back(ghost);
    }
    for (const auto& shift : shifts(*earlier, document, changes)) {
        earlier_.push_back(rod(shift.from, shift.to, old, 2.2));
        show_object(earlier_.back());
        Flag flag;
        flag.name = fmt::format("{} was here", shift.fitting);
        flag.words = fmt::format(" {} ", flag.name);
        if (const auto* placed = placed_of(document.job->model, shift.fitting)) flag.wall = placed->wall;
        flag.spot = flag.foot = shift.from;
        flag.head = shift.from + RoomPoint{0, 0, -70};
        flag.level = -1;
        flag.plate = old;
        flag.size = 13 * look.scale;
        earlier_flags_.push_back(flag);
    }
}

void Scene::show(const Document& document, const SolidStore& store, const Look& look, const Earlier* earlier) {
    if (!document.job) return;
    const bool ghost_rest = document.selection.finding.has_value();
    std::set<std::string> there;
    for (const auto& part : document.parts) {
        const auto solid = store.find(shape_key(part));
        if (solid == store.end()) {
            there.insert(part.id);  // its solid is being made: the old one stays until then
            continue;
        }
        if (solid->second.shape.IsNull()) continue;
        there.insert(part.id);
        show_part(document, part, solid->second, look, ghost_rest);
    }
    for (auto item = items_.begin(); item != items_.end();) {
        if (there.count(item->first)) {
            ++item;
            continue;
        }
        context_->Remove(item->second.object, false);
        item = items_.erase(item);
    }
    cover_edges(document, look, ghost_rest);
    show_floor(document.job->model, look);
    show_cut(look);
    show_marks(document, look);
    show_survey(document, look);
    show_earlier(document, earlier, store, look);
    update_for_eye(document, look);
    // The kernel draws the whole picture when the ground is set: not without need.
    if (ground_ != look.dark) set_ground(view_, look.dark);
    ground_ = look.dark;
}

void Scene::update_for_eye(const Document& document, const Look& look) {
    if (!document.job) return;
    hide_walls_in_the_way(document.job->model, look);
    lay_flags(document, look);
}

void Scene::hide_walls_in_the_way(const Model& model, const Look& look) {
    const std::vector<bool> away = turned_away(model, sight_of(view_->Camera()));
    const auto hidden = [&](std::size_t wall) { return look.hide_in_the_way && wall < away.size() && away[wall]; };
    for (auto& [id, item] : items_) {
        const bool in_the_way = hidden(wall_index(model.job, item.wall));
        if (in_the_way == item.in_the_way) continue;
        item.in_the_way = in_the_way;
        put(item);
    }
    for (const auto& mark : survey_) {
        const bool wanted = !hidden(mark.wall);
        if (wanted == context_->IsDisplayed(mark.object)) continue;
        if (wanted) {
            context_->Display(mark.object, 0, -1, false);
        } else {
            context_->Erase(mark.object, false);
        }
    }
}

void Scene::lay_flags(const Document& document, const Look& look) {
    for (const auto& object : flag_objects_) context_->Remove(object, false);
    int width = 0;
    int height = 0;
    view_->Window()->Size(width, height);
    flags_ = marks_flags_;
    flags_.insert(flags_.end(), survey_flags_.begin(), survey_flags_.end());
    flags_.insert(flags_.end(), earlier_flags_.begin(), earlier_flags_.end());
    // Of what was chosen one sees the place through all ghosts.
    const bool seen_through = document.selection.finding.has_value();
    const auto& camera = view_->Camera();
    flag_places_ = place_flags(flags_, document.job->model, look, camera, width, height, seen_through);
    flag_objects_ = draw_flags(flags_, flag_places_, camera, width, height);
    for (const auto& object : flag_objects_) show_object(object);
}

std::map<std::string, PlateBox> Scene::flag_boxes() const {
    std::map<std::string, PlateBox> boxes;
    for (const auto& placed : flag_places_) boxes[flags_[placed.flag].name] = placed.box;
    return boxes;
}

std::string Scene::part_at(int x, int y) {
    context_->MoveTo(x, y, view_, false);
    if (!context_->HasDetected()) return "";
    for (const auto& [id, item] : items_) {
        if (item.object == context_->DetectedInteractive()) return id;
    }
    return "";
}

void Scene::pick_pieces(bool on) {
    if (pieces_ == on) return;
    pieces_ = on;
    context_->ClearSelected(false);
    context_->ClearDetected(false);
    for (auto& [id, item] : items_) put(item);
}

bool Scene::piece_at(int x, int y, TopoDS_Shape& piece, RoomPoint& point) {
    context_->MoveTo(x, y, view_, false);
    if (!context_->HasDetected()) return false;
    const auto owner = Handle(StdSelect_BRepOwner)::DownCast(context_->DetectedOwner());
    if (owner.IsNull() || !owner->HasShape()) return false;
    piece = owner->Shape().Located(owner->Location() * owner->Shape().Location());
    const gp_Pnt picked = context_->MainSelector()->PickedPoint(1);
    point = {picked.X(), picked.Y(), picked.Z()};
    return true;
}

void Scene::show_measure(const std::vector<RoomPoint>& ends, const std::string& words, const Look& look) {
    for (const auto& mark : measure_) context_->Remove(mark, false);
    measure_.clear();
    const Colour ink{204, 121, 167};  // Okabe-Ito reddish purple: nothing else here has it
    if (ends.size() == 2) {
        measure_.push_back(line(ends[0], ends[1], ink, 3 * look.scale));
        measure_.push_back(letters(words, 0.5 * (ends[0] + ends[1]), {16, 18, 20}, ink, 15 * look.scale));
    }
    for (const auto& end : ends) measure_.push_back(letters("x", end, ink, ink, 9 * look.scale));
    for (const auto& mark : measure_) context_->Display(mark, 0, -1, false);
}

}  // namespace standproud::viewer
