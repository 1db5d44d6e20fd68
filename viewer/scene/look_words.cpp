// A look in words: "apart=40,hide=board,cut=level:1100,no-flags".
#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <set>

#include "scene/look.hpp"

namespace standproud::viewer {

namespace {

std::optional<double> whole_number(const std::string& text) {
    char* end = nullptr;
    const double value = std::strtod(text.c_str(), &end);
    return end != text.c_str() && *end == '\0' && std::isfinite(value) ? std::optional(value) : std::nullopt;
}

std::string listed_words(const std::set<std::string>& words) {
    std::string text;
    for (const auto& word : words) text += (text.empty() ? "" : ", ") + word;
    return text;
}

/// "level:1100" or "back:600": how high, or how far along a wall from its left bare corner.
std::string read_cut(const std::string& value, const Model& model, Cut& cut) {
    const std::size_t colon = value.rfind(':');
    const auto at = colon == value.npos ? std::nullopt : whole_number(value.substr(colon + 1));
    if (!at || std::abs(*at) > 20000)
        return fmt::format("cut={}: a cut is level:MM or WALL:MM, -20000 to 20000", value);
    const std::string what = value.substr(0, colon);
    if (what == "level") {
        cut = {true, {0, 0, 1}, *at};
        return "";
    }
    const std::size_t w = wall_index(model.job, what);
    if (w == model.job.walls.size()) {
        std::set<std::string> walls;
        for (const auto& wall : model.job.walls) walls.insert(wall.id);
        return fmt::format("cut={}: there is no wall \"{}\"; there are {}", value, what, listed_words(walls));
    }
    const Frame& wall = model.room.walls[w];
    cut = {true, wall.x, dot(wall.x, wall.to_room(*at, 0, 0))};
    return "";
}

}  // namespace

std::string read_look(const std::string& words, const Document& document, Look& look) {
    std::set<std::string> layers;
    std::set<std::string> trades;
    for (const auto& part : document.parts) {
        layers.insert(part.layer);
        trades.insert(part.trade);
    }
    std::size_t at = 0;
    while (at < words.size()) {
        const std::size_t comma = std::min(words.find(',', at), words.size());
        const std::string one = words.substr(at, comma - at);
        at = comma + 1;
        const std::size_t equals = one.find('=');
        const std::string key = one.substr(0, equals);
        const std::string value = equals == one.npos ? "" : one.substr(equals + 1);
        if (key == "apart") {
            const auto by = whole_number(value);
            if (!by || *by < 0 || *by > 300) return fmt::format("{}: layers are drawn 0 to 300 mm apart", one);
            look.apart = *by;
        } else if (key == "hide" || key == "ghost") {
            const Shown how = key == "hide" ? Shown::hidden : Shown::ghost;
            if (!layers.count(value) && !trades.count(value))
                return fmt::format("{}: there is no such layer or trade; there are {}, {}", one, listed_words(layers),
                                   listed_words(trades));
            (layers.count(value) ? look.layers : look.trades)[value] = how;
        } else if (key == "cut") {
            if (const std::string fault = read_cut(value, document.job->model, look.cut); !fault.empty()) return fault;
        } else if (one == "survey") {
            if (!document.job->model.survey) return "survey: the job has no survey";
            look.survey.on = true;
        } else if (one == "layer-colours") {
            look.by_layer_colour = true;
        } else if (one == "no-flags") {
            look.flags = false;
        } else if (one == "no-edges") {
            look.edges = false;
        } else {
            return fmt::format(
                "\"{}\" is no look; there are apart=MM, hide=LAYER, ghost=LAYER, cut=level:MM, cut=WALL:MM, survey, "
                "layer-colours, no-flags, no-edges",
                one);
        }
    }
    return "";
}

std::string look_refused(const Document& document, const std::string& words) {
    Look look;
    return read_look(words, document, look);
}

}  // namespace standproud::viewer
