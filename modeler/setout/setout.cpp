#include "modeler/setout.hpp"

#include <algorithm>
#include <cmath>

#include "modeler/screens.hpp"
#include "parts/make.hpp"

namespace standproud {

namespace {

/// The walls whose finished corners a position is tied to.
std::vector<std::size_t> tied_to(const Model& model, const PlacedFitting& placed) {
    using From = Across::From;
    const From from = fitting_of(model, placed).across.from;
    std::vector<std::size_t> walls;
    for (const Side side : {Side::left, Side::right}) {
        const bool tied =
            from == From::centre || from == (side == Side::left ? From::left_finished : From::right_finished);
        const Corner* corner = corner_at(model.room, placed.wall, side);
        if (tied && corner) walls.push_back(neighbour(*corner, placed.wall));
    }
    return walls;
}

/// What the survey leaves open of a place along the wall. Tied to a finished corner: how thick the neighbour's packing
/// is there. Told from the other corner as well: the width.
void add_doubts(const Model& model, const PlacedFitting& placed, SetOutMark& mark) {
    if (!model.survey || !model.survey->converged) return;
    const Survey& survey = *model.survey;
    double variance = 0;
    const auto rest = [&](const Estimate& estimate) {
        for (const auto index : estimate.rests_on) {
            const std::string& says = survey.assumptions[index].says;
            if (std::find(mark.assumes.begin(), mark.assumes.end(), says) == mark.assumes.end()) {
                mark.assumes.push_back(says);
            }
        }
        mark.unknown = mark.unknown || !is_known(survey, estimate);
    };
    for (const auto wall : tied_to(model, placed)) {
        for (const auto& layer :
             build_up_at(model.job, model.room, wall, bare_corner(model.job, model.room, wall, Side::left, placed.v),
                         placed.v)) {
            if (layer.name == "packing") variance += *layer.thickness.tolerance * *layer.thickness.tolerance;
        }
        rest(survey.walls[wall].lean);
    }
    const Estimate width = width_at(survey, placed.wall, placed.v);
    variance += 4 * width.standard_error * width.standard_error;
    if (tied_to(model, placed).size() == 2) rest(width);
    mark.plus_minus = std::sqrt(variance);
}

SetOutMark mark_of(const Model& model, std::size_t index) {
    const PlacedFitting& placed = model.fittings[index];
    const Fitting& fitting = fitting_of(model, placed);
    SetOutMark mark;
    mark.placed = index;
    mark.fitting = fitting.id;
    mark.name = fitting.name;
    mark.trade = type_of(model, placed).trade;
    mark.left_bare = placed.from_left_bare;
    mark.right_bare = placed.from_right_bare;
    mark.left_finished = placed.from_left_finished;
    mark.right_finished = placed.from_right_finished;
    mark.height = placed.v;
    if (const auto floor = floor_at(model.room, placed.wall, placed.u)) mark.above_floor = placed.v - *floor;
    add_doubts(model, placed, mark);
    if (fitting.seat) mark.seat = fitting.seat->value;
    mark.face = build_up(model.job, model.room, placed.wall, placed.u, placed.v);
    return mark;
}

std::optional<double> middle(const std::optional<double>& a, const std::optional<double>& b) {
    return a && b ? std::optional((*a + *b) / 2) : std::nullopt;
}

std::vector<SetOutPair> pairs_among(const Model& model, const std::vector<SetOutMark>& marks) {
    std::vector<SetOutPair> pairs;
    for (std::size_t i = 0; i < marks.size(); ++i) {
        for (std::size_t j = i + 1; j < marks.size(); ++j) {
            const auto& a = marks[i];
            const auto& b = marks[j];
            const bool alike = model.fittings[a.placed].type == model.fittings[b.placed].type;
            if (!alike || std::abs(a.height - b.height) > same_length || b.left_bare - a.left_bare <= same_length)
                continue;
            pairs.push_back({a.fitting, b.fitting, (a.left_bare + b.left_bare) / 2, (a.right_bare + b.right_bare) / 2,
                             middle(a.left_finished, b.left_finished), middle(a.right_finished, b.right_finished),
                             a.height, b.left_bare - a.left_bare});
            break;  // with the next one to the right only
        }
    }
    return pairs;
}

std::vector<SetOutOpening> openings_of(const Wall& wall) {
    std::vector<SetOutOpening> openings;
    for (const auto& o : wall.openings)
        openings.push_back({o.id, o.name, o.left, wall.width - o.right, o.bottom, o.top, o.right - o.left});
    std::stable_sort(openings.begin(), openings.end(),
                     [](const auto& a, const auto& b) { return a.left_bare < b.left_bare; });
    return openings;
}

std::vector<SetOutScreen> screens_on(const Model& model, std::size_t wall) {
    std::vector<SetOutScreen> screens;
    for (const auto& s : model.job.screens) {
        const auto u = screen_place(model, s);
        if (s.wall != model.job.walls[wall].id || !u) continue;
        const double v = (s.bottom + s.top) / 2;
        SetOutScreen made{s.id, s.name, 0, 0, {}, {}, s.bottom, s.top, s.thickness, s.profile, s.fixings};
        made.left_bare = *u - bare_corner(model.job, model.room, wall, Side::left, v);
        made.right_bare = bare_corner(model.job, model.room, wall, Side::right, v) - *u;
        if (const auto left = finished_corner(model.job, model.room, wall, Side::left, v))
            made.left_finished = *u - *left;
        if (const auto right = finished_corner(model.job, model.room, wall, Side::right, v))
            made.right_finished = *right - *u;
        screens.push_back(std::move(made));
    }
    std::stable_sort(screens.begin(), screens.end(),
                     [](const auto& a, const auto& b) { return a.left_bare < b.left_bare; });
    return screens;
}

/// Whether an opening takes some of a piece of wall away.
bool cut_by(const WallOpening& o, double left, double right, double bottom, double top) {
    return o.left < right && o.right > left && o.bottom < top && o.top > bottom;
}

/// How far the face of timber may be from that of what it holds, mm: chosen by this program.
constexpr double same_face = 1;

/// Whether timber of the job with its face at n covers the whole need. Openings cut it.
bool covered(const Wall& wall, const NogginNeed& need) {
    if (!need.in_opening.empty()) return false;
    const auto at_face = [&](double set_back) { return std::abs(-set_back - need.face) <= same_face; };
    for (const auto& noggin : wall.noggins) {
        if (at_face(noggin.set_back) && noggin.left <= need.left && noggin.right >= need.right &&
            noggin.height - noggin.size / 2 <= need.bottom && noggin.height + noggin.size / 2 >= need.top) {
            return true;
        }
    }
    if (!wall.studs || !at_face(wall.studs->set_back)) return false;
    return std::any_of(wall.studs->centres.begin(), wall.studs->centres.end(), [&](double centre) {
        return centre - wall.studs->width / 2 <= need.left && centre + wall.studs->width / 2 >= need.right;
    });
}

void between_studs(const Wall& wall, NogginNeed& need) {
    if (!wall.studs) return;
    for (const double centre : wall.studs->centres) {
        const double half = wall.studs->width / 2;
        const bool cut = std::any_of(wall.openings.begin(), wall.openings.end(), [&](const WallOpening& o) {
            return cut_by(o, centre - half, centre + half, need.bottom, need.top);
        });
        if (cut) continue;
        if (centre <= need.left && (!need.left_stud || centre > *need.left_stud)) need.left_stud = centre;
        if (centre >= need.right && (!need.right_stud || centre < *need.right_stud)) need.right_stud = centre;
    }
}

void finish(const Wall& wall, NogginNeed need, std::vector<NogginNeed>& needs) {
    for (const auto& opening : wall.openings) {
        if (cut_by(opening, need.left, need.right, need.bottom, need.top)) need.in_opening = opening.name;
    }
    need.there = covered(wall, need);
    between_studs(wall, need);
    needs.push_back(std::move(need));
}

/// Behind the screws: one need for each group of screws that one timber can hold.
void add_screws(const Model& model, const SetOutMark& mark, std::vector<NogginNeed>& needs) {
    const PlacedFitting& placed = model.fittings[mark.placed];
    std::vector<Vec2> screws;
    for (const auto& hole : type_of(model, placed).holes) {
        screws.push_back({placed.u + hole.opening.centre.x, placed.v + hole.opening.centre.y});
    }
    std::sort(screws.begin(), screws.end(), [](Vec2 a, Vec2 b) { return a.y != b.y ? a.y < b.y : a.x < b.x; });
    constexpr double one_noggin = 90;  // screws nearer in height than this go into one piece
    while (!screws.empty()) {
        NogginNeed need;
        need.fitting = mark.fitting;
        need.purpose = "screws";
        need.face = mark.seat.value_or(0);
        const double lowest = screws.front().y;
        need.left = need.right = screws.front().x;
        need.bottom = need.top = lowest;
        std::vector<Vec2> rest;
        for (const Vec2 screw : screws) {
            if (screw.y - lowest > one_noggin) {
                rest.push_back(screw);
                continue;
            }
            need.left = std::min(need.left, screw.x);
            need.right = std::max(need.right, screw.x);
            need.top = std::max(need.top, screw.y);
        }
        finish(model.job.walls[placed.wall], need, needs);
        screws = rest;
    }
}

/// Behind an in-wall body whose seat is known: its back rests on timber.
void add_body(const Model& model, const SetOutMark& mark, std::vector<NogginNeed>& needs) {
    const PlacedFitting& placed = model.fittings[mark.placed];
    NogginNeed need;
    bool any = false;
    for (const auto& part : type_of(model, placed).parts) {
        if (part.datum != TypePart::Datum::seat || part.role != "body" || !mark.seat) continue;
        const Reach reach = reach_of(part, placed, *mark.seat);
        if (any && reach.back >= need.face) continue;
        any = true;
        need.left = reach.left;
        need.right = reach.right;
        need.bottom = reach.bottom;
        need.top = reach.top;
        need.face = reach.back;
    }
    if (!any) return;
    need.fitting = mark.fitting;
    need.purpose = "body";
    finish(model.job.walls[placed.wall], need, needs);
}

/// Behind each clamp of a screen, or its channel: level with the bare face.
void add_screen(const Model& model, const Screen& screen, std::vector<NogginNeed>& needs) {
    for (const auto& hold : holds_of(model, screen)) {
        const Wall& wall = model.job.walls[hold.wall];
        const double half = half_width(screen);
        const double up = hold.clamp ? half : 0;
        NogginNeed need;
        need.fitting = screen.id;
        need.purpose = "screen";
        need.left = hold.u - half;
        need.right = hold.u + half;
        need.bottom = hold.bottom - up;
        need.top = hold.top + up;
        finish(wall, need, needs);
        const auto beyond = timber_beyond(wall, hold, same_face);
        needs.back().there = beyond && *beyond >= half - same_length;  // several may hold a channel
    }
}

}  // namespace

std::vector<WallSetOut> set_out(const Model& model) {
    std::vector<WallSetOut> walls;
    for (std::size_t w = 0; w < model.job.walls.size(); ++w) {
        WallSetOut wall;
        wall.wall = w;
        for (std::size_t i = 0; i < model.fittings.size(); ++i) {
            if (model.fittings[i].wall == w) wall.marks.push_back(mark_of(model, i));
        }
        std::stable_sort(wall.marks.begin(), wall.marks.end(),
                         [](const auto& a, const auto& b) { return a.left_bare < b.left_bare; });
        wall.openings = openings_of(model.job.walls[w]);
        wall.screens = screens_on(model, w);
        wall.pairs = pairs_among(model, wall.marks);
        if (!model.job.walls[w].masonry) {
            for (const auto& mark : wall.marks) {
                if (type_of(model, model.fittings[mark.placed]).family == Family::screw) {
                    add_screws(model, mark, wall.noggins);
                } else {
                    add_body(model, mark, wall.noggins);
                }
            }
            for (const auto& screen : model.job.screens) {
                if (screen.wall == model.job.walls[w].id) add_screen(model, screen, wall.noggins);
            }
        }
        if (!wall.marks.empty() || !wall.screens.empty() || !wall.openings.empty()) walls.push_back(std::move(wall));
    }
    return walls;
}

}  // namespace standproud
