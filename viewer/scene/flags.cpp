#include "scene/flags.hpp"

#include <Font_FTFont.hxx>
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <sstream>

#include "scene/kernel_colours.hpp"
#include "scene/marks.hpp"

namespace standproud::viewer {

namespace {

constexpr double between = 3;      // pixels from plate to plate and from the picture's edge
constexpr double sideways = 1e-3;  // cosine, of a wall that is seen from its edge and neither turned away nor towards

struct Size {
    double width = 0;
    double height = 0;
};

/// As the kernel will write them. Letters have sizes of whole pixels there.
Size size_of(const std::string& words, double letters) {
    static std::map<unsigned, Handle(Font_FTFont)> fonts;
    const auto points = static_cast<unsigned>(std::lround(letters));
    auto& font = fonts[points];
    constexpr unsigned dots = 72;  // an inch: a point is a pixel
    if (font.IsNull())
        font = Font_FTFont::FindAndCreate(letters_font, Font_FA_Regular, Font_FTFontParams(points, dots));
    if (font.IsNull()) return {};
    const Font_Rect box =
        font->BoundingBox(NCollection_String(words.c_str()), Graphic3d_HTA_CENTER, Graphic3d_VTA_CENTER);
    return {static_cast<double>(box.Width()), static_cast<double>(box.Height())};
}

/// Broken at spaces, so that no line is wider than there is room.
std::string broken(const std::string& words, double letters, double room) {
    if (size_of(words, letters).width <= room) return words;
    std::istringstream from(words);
    std::string lines;
    std::string line;
    for (std::string word; from >> word;) {
        const std::string longer = line.empty() ? " " + word + " " : line + word + " ";
        if (!line.empty() && size_of(longer, letters).width > room) {
            lines += line + "\n";
            line = " " + word + " ";
        } else {
            line = longer;
        }
    }
    return lines + line;
}

struct Pixel {
    double x = 0;
    double y = 0;
};

Pixel pixel_of(RoomPoint point, const Handle(Graphic3d_Camera) & camera, int width, int height) {
    const gp_Pnt at = camera->Project(kernel_point(point));
    return {(1 + at.X()) / 2 * width, (1 - at.Y()) / 2 * height};
}

bool meet(const PlateBox& a, const PlateBox& b, double apart) {
    return a.left < b.right + apart && b.left < a.right + apart && a.top < b.bottom + apart && b.top < a.bottom + apart;
}

bool holds(const PlateBox& box, Pixel p) {
    return p.x > box.left && p.x < box.right && p.y > box.top && p.y < box.bottom;
}

Pixel middle_of(const PlateBox& box) { return {(box.left + box.right) / 2, (box.top + box.bottom) / 2}; }

/// Whether a line passes over a plate.
bool crosses(Pixel from, Pixel to, const PlateBox& box) {
    double begin = 0;
    double end = 1;
    for (const auto& [at, way, low, high] : {std::array{from.x, to.x - from.x, box.left, box.right},
                                             std::array{from.y, to.y - from.y, box.top, box.bottom}}) {
        if (std::abs(way) < 1e-9) {
            if (at <= low || at >= high) return false;
            continue;
        }
        begin = std::max(begin, std::min((low - at) / way, (high - at) / way));
        end = std::min(end, std::max((low - at) / way, (high - at) / way));
    }
    return begin < end;
}

/// A plate that is being placed, and those that stand.
struct Room {
    double width;
    double height;
    std::vector<Pixel> feet;  ///< of all flags that are seen
    std::vector<std::pair<Pixel, PlateBox>> taken;
};

/// Whether a plate may stand there; `well`: nothing that another flag belongs to is covered, and no line is crossed.
bool free(const Room& room, const PlateBox& box, Pixel foot, bool well) {
    for (const auto& [other_foot, other] : room.taken) {
        if (meet(box, other, between)) return false;
        if (well && (crosses(foot, middle_of(box), other) || crosses(other_foot, middle_of(other), box))) return false;
    }
    return !well || std::none_of(room.feet.begin(), room.feet.end(), [&](Pixel p) { return holds(box, p); });
}

/// Its place at the head, or as near to it as there is room; first upwards, then round.
std::optional<PlateBox> place(const Flag& flag, const Room& room, Pixel head, Pixel foot, Size size) {
    if (size.width + 2 * between > room.width || size.height + 2 * between > room.height) return std::nullopt;
    const double left = head.x + (flag.side - 1) * size.width / 2;
    const double top = head.y - (flag.level + 1) * size.height / 2;
    const auto moved = [&](double right, double up) {
        const double x = std::clamp(left + right, between, room.width - size.width - between);
        const double y = std::clamp(top - up, between, room.height - size.height - between);
        return PlateBox{x, y, x + size.width, y + size.height};
    };
    const double step = size.height / 2;
    const double reach = flag.reach > 0 ? flag.reach : std::hypot(room.width, room.height);
    for (const bool well : {true, false}) {
        // Better that it covers something than that it stands far off.
        for (double away = 0; away <= (well ? std::min(reach, 5 * size.height) : reach); away += step) {
            constexpr int ways = 16;
            for (int way = 0; way < (away > 0 ? ways : 1); ++way) {
                // 0, 1, -1, 2, -2 ... sixteenths of a turn from upwards
                const double turn = (way % 2 ? 1 : -1) * ((way + 1) / 2) * 2 * pi / ways;
                const PlateBox box = moved(away * std::sin(turn), away * std::cos(turn));
                if (free(room, box, foot, well)) return box;
            }
        }
    }
    return std::nullopt;
}

bool stands_before(const Frame& wall, const Wall& size, RoomPoint spot, RoomPoint toward) {
    const double pace = dot(toward, wall.z);
    if (std::abs(pace) < 1e-9) return false;
    const double away = -dot(spot - wall.origin, wall.z) / pace;
    constexpr double at_once = 1;  // mm: the spot is on this wall
    if (away < at_once) return false;
    const auto [u, v, n] = wall.from_room(spot + away * toward);
    return u > 0 && u < size.width && v > 0 && v < size.height;
}

}  // namespace

Sight sight_of(const Handle(Graphic3d_Camera) & camera) {
    const gp_Pnt eye = camera->Eye();
    const gp_Dir ahead = camera->Direction();
    return {{eye.X(), eye.Y(), eye.Z()}, {-ahead.X(), -ahead.Y(), -ahead.Z()}, !camera->IsOrthographic()};
}

RoomPoint toward_eye(const Sight& sight, RoomPoint from) {
    if (!sight.perspective) return sight.back;
    const RoomPoint way = sight.eye - from;
    return norm(way) > 0 ? 1 / norm(way) * way : sight.back;
}

std::vector<bool> turned_away(const Model& model, const Sight& sight) {
    std::vector<bool> away;
    for (const Frame& wall : model.room.walls) {
        const bool behind =
            sight.perspective ? dot(sight.eye - wall.origin, wall.z) < -1 : dot(sight.back, wall.z) < -sideways;
        away.push_back(behind);
    }
    return away;
}

bool spot_hidden(const Model& model, std::size_t wall, RoomPoint spot, const Sight& sight, const Look& look) {
    const std::vector<bool> away = turned_away(model, sight);
    for (std::size_t w = 0; w < model.room.walls.size(); ++w) {
        if (w == wall || (away[w] && look.hide_in_the_way)) continue;
        if (stands_before(model.room.walls[w], model.job.walls[w], spot, toward_eye(sight, spot))) return true;
    }
    return false;
}

namespace {

bool seen(const Flag& flag, const Model& model, const Look& look, const Sight& sight, bool seen_through) {
    if (look.cut.on && dot(look.cut.away, flag.spot) > look.cut.at) return false;
    if (!flag.wall) return true;
    const bool away = turned_away(model, sight)[*flag.wall];
    if (flag.from_behind) return !(away && look.hide_in_the_way);
    if (away || dot(toward_eye(sight, flag.spot), model.room.walls[*flag.wall].z) < flag.facing) return false;
    return seen_through || !spot_hidden(model, *flag.wall, flag.spot, sight, look);
}

}  // namespace

std::vector<FlagPlace> place_flags(const std::vector<Flag>& flags, const Model& model, const Look& look,
                                   const Handle(Graphic3d_Camera) & camera, int width, int height, bool seen_through) {
    const Sight sight = sight_of(camera);
    Room room{static_cast<double>(width), static_cast<double>(height), {}, {}};
    const PlateBox picture{0, 0, room.width, room.height};
    std::vector<std::size_t> wanted;
    for (std::size_t i = 0; i < flags.size(); ++i) {
        const Flag& flag = flags[i];
        const bool before = dot(sight.eye - flag.spot, sight.back) > 0 || !sight.perspective;
        if (!before || !holds(picture, pixel_of(flag.spot, camera, width, height))) continue;
        if (!seen(flag, model, look, sight, seen_through)) continue;
        wanted.push_back(i);
        // What stands on its own spot covers it.
        if (flag.line > 0) room.feet.push_back(pixel_of(flag.foot, camera, width, height));
    }
    std::stable_sort(wanted.begin(), wanted.end(),
                     [&](std::size_t a, std::size_t b) { return flags[a].weight > flags[b].weight; });
    std::vector<FlagPlace> places;
    for (const std::size_t i : wanted) {
        const Flag& flag = flags[i];
        const std::string words = broken(flag.words, flag.size, room.width - 2 * between);
        const Pixel foot = pixel_of(flag.foot, camera, width, height);
        const auto box = place(flag, room, pixel_of(flag.head, camera, width, height), foot, size_of(words, flag.size));
        if (!box) continue;
        room.taken.emplace_back(foot, *box);
        places.push_back({i, words, *box});
    }
    return places;
}

std::vector<Handle(AIS_InteractiveObject)> draw_flags(const std::vector<Flag>& flags,
                                                      const std::vector<FlagPlace>& places,
                                                      const Handle(Graphic3d_Camera) & camera, int width, int height) {
    std::vector<Handle(AIS_InteractiveObject)> lines;
    std::vector<Handle(AIS_InteractiveObject)> plates;
    for (const auto& placed : places) {
        const Flag& flag = flags[placed.flag];
        // As deep in the room as what it belongs to, so that both move alike.
        const double depth = camera->Project(kernel_point(flag.foot)).Z();
        const Pixel middle = middle_of(placed.box);
        const gp_Pnt at = camera->UnProject(gp_Pnt(2 * middle.x / width - 1, 1 - 2 * middle.y / height, depth));
        const RoomPoint head{at.X(), at.Y(), at.Z()};
        const Pixel foot = pixel_of(flag.foot, camera, width, height);
        PlateBox near = placed.box;
        for (double* edge : {&near.left, &near.top}) *edge -= 2 * between;
        for (double* edge : {&near.right, &near.bottom}) *edge += 2 * between;
        const bool left_its_place = !holds(near, foot);
        if (flag.line > 0 || left_its_place)
            lines.push_back(line(flag.foot, head, flag.plate, flag.line > 0 ? flag.line : 1));
        plates.push_back(letters(placed.words, head, ink_on(flag.plate), flag.plate, flag.size));
    }
    lines.insert(lines.end(), plates.begin(), plates.end());
    return lines;
}

}  // namespace standproud::viewer
