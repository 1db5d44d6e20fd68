#include "scene/marks.hpp"

#include <fmt/format.h>

#include <AIS_Shape.hxx>
#include <AIS_TextLabel.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <Graphic3d_AspectFillArea3d.hxx>
#include <Prs3d_LineAspect.hxx>
#include <Prs3d_ShadingAspect.hxx>
#include <TCollection_ExtendedString.hxx>
#include <TopoDS_Edge.hxx>
#include <algorithm>
#include <array>
#include <cmath>
#include <gp_Ax2.hxx>

#include "modeler/clearance.hpp"
#include "modeler/solids.hpp"
#include "rules/words.hpp"
#include "scene/kernel_colours.hpp"
#include "viewer/section.hpp"
#include "viewer/units.hpp"

namespace standproud::viewer {

using rules::mm;

Colour ink_on(Colour plate) {
    const double light = 0.299 * plate.red + 0.587 * plate.green + 0.114 * plate.blue;
    return light > 120 ? Colour{16, 18, 20} : Colour{255, 255, 255};
}

Handle(AIS_InteractiveObject) letters(const std::string& words, RoomPoint at, Colour ink, Colour plate, double size) {
    Handle(AIS_TextLabel) label = new AIS_TextLabel();
    label->SetText(TCollection_ExtendedString(words.c_str(), true));
    label->SetPosition(kernel_point(at));
    label->SetFont(letters_font);
    label->SetHeight(std::round(size));
    label->SetColor(kernel_colour(ink));
    label->SetDisplayType(Aspect_TODT_SUBTITLE);
    label->SetColorSubTitle(kernel_colour(plate));
    label->SetHJustification(Graphic3d_HTA_CENTER);
    label->SetVJustification(Graphic3d_VTA_CENTER);
    label->SetZLayer(Graphic3d_ZLayerId_Topmost);
    label->SetInfiniteState(true);  // no part in fitting the view
    return label;
}

Handle(AIS_InteractiveObject) line(RoomPoint from, RoomPoint to, Colour colour, double width) {
    if (norm(to - from) < 1e-3) to = to + RoomPoint{0, 0, 1e-2};
    Handle(AIS_Shape) object = new AIS_Shape(BRepBuilderAPI_MakeEdge(kernel_point(from), kernel_point(to)).Edge());
    object->SetColor(kernel_colour(colour));
    object->SetWidth(width);
    object->SetZLayer(Graphic3d_ZLayerId_Topmost);
    object->SetInfiniteState(true);
    return object;
}

Handle(AIS_InteractiveObject) rod(RoomPoint from, RoomPoint to, Colour colour, double radius) {
    const RoomPoint along = to - from;
    if (norm(along) < 0.05) return line(from, to, colour, 1);
    const gp_Ax2 axis(kernel_point(from), gp_Dir(along.x, along.y, along.z));
    Handle(AIS_Shape) object = new AIS_Shape(BRepPrimAPI_MakeCylinder(axis, radius, norm(along)).Shape());
    object->SetColor(kernel_colour(colour));
    object->Attributes()->ShadingAspect()->Aspect()->SetShadingModel(Graphic3d_TOSM_UNLIT);
    object->SetZLayer(Graphic3d_ZLayerId_Topmost);
    return object;
}

namespace {

/// A fitting of which every part is hidden is not seen; one without parts is a hole, which stays.
bool any_shown(const Document& document, const std::string& fitting, const Look& look) {
    bool any = false;
    for (const auto& part : document.parts) {
        if (part.fitting != fitting) continue;
        if (shown(part, look, document.selection, false) != Shown::hidden) return true;
        any = true;
    }
    return !any;
}

}  // namespace

std::vector<Flag> fitting_flags(const Document& document, const Look& look) {
    std::vector<Flag> flags;
    const Model& model = document.job->model;
    for (const auto& placed : model.fittings) {
        const std::string& id = fitting_of(model, placed).id;
        if (!any_shown(document, id, look)) continue;
        rules::Verdict worst = rules::Verdict::clear;
        for (const auto& finding : document.job->findings) {
            if (finding.subject == id && severity(finding.verdict) > severity(worst)) worst = finding.verdict;
        }
        const Frame& wall = model.room.walls[placed.wall];
        // Drawn apart, flags go with what lies on the panel.
        const double front = front_at(model, placed.wall, {placed.u, placed.v}) + 4 * look.apart;
        Flag flag;
        flag.name = id;
        flag.words = fmt::format(" {} {} ", verdict_sign(worst), id);
        flag.wall = placed.wall;
        flag.spot = wall.to_room(placed.u, placed.v, front);
        flag.foot = wall.to_room(placed.u, placed.v, front + 30);
        flag.head = wall.to_room(placed.u, placed.v + 120, front + 60);
        flag.plate = verdict_colour(worst);
        flag.size = letter_size * look.scale;
        flag.line = 1.5 * look.scale;
        flag.weight = severity(worst);
        flags.push_back(flag);
    }
    return flags;
}

std::vector<Handle(AIS_InteractiveObject)> join_grips(const Document& document, const Look& look) {
    std::vector<Handle(AIS_InteractiveObject)> marks;
    const Model& model = document.job->model;
    const Colour blue{0, 114, 178};  // Okabe-Ito
    for (std::size_t w = 0; w < model.job.walls.size(); ++w) {
        for (const auto& join : model.job.walls[w].joins) {
            std::array<RoomPoint, 2> ends;
            bool whole = true;
            for (const bool top : {false, true}) {
                const double low = panel_bottom(model.job, w);
                const auto middle = along_wall(model.job, model.room, w, join, low);
                const double v = top && middle ? panel_top(model.job, model.room, w, *middle) : low;
                const auto u = along_wall(model.job, model.room, w, join, v);
                whole = whole && u;
                if (u)
                    ends[top ? 1 : 0] =
                        model.room.walls[w].to_room(*u, v, front_at(model, w, {*u, v}) + 3 * look.apart + 2);
            }
            if (whole) marks.push_back(rod(ends[0], ends[1], blue, 3.5));
        }
    }
    return marks;
}

namespace {

/// The bar that was found and the bar that is needed, along n beside the fitting.
void add_depth(Marks& marks, const Document& document, const rules::Finding& finding, const PlacedFitting& placed,
               const Look& look) {
    const Model& model = document.job->model;
    const auto at = static_cast<std::size_t>(&placed - model.fittings.data());
    const SectionDrawing section = section_of(model, document.parts, {finding}, at);
    if (!section.judged || !finding.nominal) return;
    const Frame& wall = model.room.walls[placed.wall];
    const double n0 = section.judged->from;
    const double way = section.judged->direction;
    const Colour found = verdict_colour(finding.verdict);
    const Colour ink = ground(look.dark).ink;
    // The section counts depths from the bare face at the spot.
    const double bare = drawn_face(model.room, placed.wall, section.u, section.v);
    const auto spot = [&](double down, double n) { return wall.to_room(section.u, section.v - down, bare + n); };
    const double tip = n0 + way * *finding.nominal;
    constexpr double first = 62;   // mm below the fitting: what is there
    constexpr double second = 84;  // what is needed
    for (const double n : {n0, tip}) marks.objects.push_back(line(spot(0, n), spot(first + 5, n), ink, look.scale));
    marks.objects.push_back(rod(spot(first, n0), spot(first, tip), found, 2));
    // One plate to the left and one to the right, both under the sum's own.
    Flag is;
    is.name = "found";
    is.words = fmt::format(" {} ", length_words(*finding.nominal, look.inches));
    is.wall = placed.wall;
    is.spot = spot(0, tip);
    is.foot = is.head = spot(first + 8, tip);
    is.side = -1;
    is.level = -1;
    is.plate = found;
    is.size = letter_size * look.scale;
    is.weight = 2;
    marks.flags.push_back(is);
    if (!finding.need_low && !finding.need_high) return;
    const double low = n0 + way * finding.need_low.value_or(0);
    const double high = finding.need_high ? n0 + way * *finding.need_high : low + way * 30;
    const Colour needed{0, 114, 178};  // Okabe-Ito blue
    for (const double n : {low, high})
        marks.objects.push_back(line(spot(second - 6, n), spot(second + 6, n), needed, 2 * look.scale));
    marks.objects.push_back(rod(spot(second, low), spot(second, high), needed, 2));
    const auto range = [&](const auto& said) {
        if (finding.need_low && finding.need_high) return said(*finding.need_low) + " to " + said(*finding.need_high);
        return finding.need_low ? said(*finding.need_low) + " or more" : said(*finding.need_high) + " or less";
    };
    std::string words = fmt::format(" needed {} ", range(mm));
    if (look.inches) words += fmt::format("\n {} ", range(inches));
    Flag wanted = is;
    wanted.name = "needed";
    wanted.words = words;
    wanted.foot = wanted.head = spot(second + 8, (low + high) / 2);
    wanted.side = 1;
    wanted.plate = needed;
    marks.flags.push_back(wanted);
}

/// A ring round a shape on the finished face.
Handle(AIS_InteractiveObject) ring(const Frame& wall, const RoundedRect& shape, double n, Colour colour) {
    RoundedRect outer = shape;
    constexpr double wide = 2.5;
    outer.half_width += wide;
    outer.half_height += wide;
    outer.radius += wide;
    Part part;
    part.id = "ring";
    part.place = {wall.to_room(0, 0, n), wall.x, wall.y, wall.z};
    part.outline = outer;
    part.holes = {shape};
    part.length = 1;
    Handle(AIS_Shape) object = new AIS_Shape(make_solid(part));
    object->SetColor(kernel_colour(colour));
    object->Attributes()->ShadingAspect()->Aspect()->SetShadingModel(Graphic3d_TOSM_UNLIT);
    object->SetZLayer(Graphic3d_ZLayerId_Topmost);
    return object;
}

/// The holes or flanges of a fitting that a finding is about.
void add_rings(std::vector<Handle(AIS_InteractiveObject)>& marks, const Model& model, const rules::Finding& finding,
               const PlacedFitting& placed) {
    const FittingType& type = type_of(model, placed);
    const Vec2 at{placed.u, placed.v};
    std::vector<RoundedRect> shapes;
    if (finding.rule.rfind("hole.", 0) == 0) {
        for (const auto& hole : type.holes) shapes.push_back(moved(hole.opening, at));
    } else {
        for (const auto& flange : type.flanges) shapes.push_back(moved(flange.shape, at));
    }
    for (const auto& shape : shapes) {
        if (finding.spot && norm(shape.centre - *finding.spot) > 0.5) continue;
        marks.push_back(ring(model.room.walls[placed.wall], shape, front_at(model, placed.wall, shape.centre),
                             verdict_colour(finding.verdict)));
    }
}

std::string flag_words(const rules::Finding& finding, bool inches) {
    if (finding.clash && finding.clash->distance < -touch_length) {
        return fmt::format("{}: {} into {}", finding.subject, length_words(-finding.clash->distance, inches),
                           finding.clash->other);
    }
    std::string value;
    if (finding.nominal) {
        value = finding.unit == "mm" ? ", " + length_words(*finding.nominal, inches)
                                     : fmt::format(", {} {}", mm(*finding.nominal), finding.unit);
    }
    return fmt::format("{}: {}{}", finding.subject, finding.quantity, value);
}

/// The finding in a few words, on a line to where it is.
void add_flag(Marks& marks, const rules::Finding& finding, std::size_t wall, RoomPoint foot, RoomPoint head,
              const Look& look) {
    Flag flag;
    flag.name = "finding";
    flag.words = fmt::format(" {} {} ", verdict_sign(finding.verdict), flag_words(finding, look.inches));
    flag.wall = wall;
    flag.from_behind = finding.clash.has_value();  // what is in the wall is also looked at from behind
    flag.spot = flag.foot = foot;
    flag.head = head;
    flag.level = 1;
    flag.plate = verdict_colour(finding.verdict);
    flag.size = letter_size * look.scale;
    flag.line = 2 * look.scale;
    flag.weight = 3;
    marks.flags.push_back(flag);
}

}  // namespace

Marks chosen_marks(const Document& document, const Look& look) {
    Marks marks;
    const auto& chosen = document.selection;
    if (!document.job || !chosen.finding || *chosen.finding >= document.job->findings.size()) return marks;
    const rules::Finding& finding = document.job->findings[*chosen.finding];
    const Model& model = document.job->model;
    const PlacedFitting* placed = placed_of(model, finding.subject);
    const std::size_t named = wall_index(model.job, finding.wall);
    if (named < model.job.walls.size() && (finding.clash || (!placed && finding.spot))) {
        const Frame& on = model.room.walls[named];
        RoomPoint foot;
        if (finding.clash) {
            foot = finding.clash->at;
        } else {
            foot = on.to_room(finding.spot->x, finding.spot->y, front_at(model, named, *finding.spot));
        }
        const double near = finding.clash ? clash_span(*finding.clash) / 420 : 1;
        add_flag(marks, finding, named, foot, foot + (90 * near) * on.y + (60 * near) * on.z, look);
        return marks;
    }
    if (!placed) return marks;
    const Frame& wall = model.room.walls[placed->wall];
    const Vec2 spot = finding.spot.value_or(Vec2{placed->u, placed->v});
    const double front = front_at(model, placed->wall, spot);
    add_flag(marks, finding, placed->wall, wall.to_room(spot.x, spot.y, front),
             wall.to_room(spot.x, spot.y + 100, front + 40), look);
    if (finding.rule.rfind("reach.", 0) == 0) {
        add_depth(marks, document, finding, *placed, look);
    } else {
        add_rings(marks.objects, model, finding, *placed);
    }
    return marks;
}

}  // namespace standproud::viewer
