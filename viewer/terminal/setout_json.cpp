#include "rules/words.hpp"
#include "terminal/comparison.hpp"
#include "viewer/setout_report.hpp"

namespace standproud::viewer {

namespace {

using Json = nlohmann::ordered_json;

Json mark_json(const CheckedJob& job, const SetOutMark& mark) {
    Json json{{"fitting", mark.fitting},
              {"name", mark.name},
              {"trade", to_string(mark.trade)},
              {"left_bare", mark.unknown ? Json() : json_number(mark.left_bare)},
              {"right_bare", mark.unknown ? Json() : json_number(mark.right_bare)},
              {"plus_minus", json_number(mark.plus_minus)},
              {"assumes", mark.assumes},
              {"left_finished", json_number(mark.left_finished)},
              {"right_finished", json_number(mark.right_finished)},
              {"height", json_number(mark.height)},
              {"above_floor", json_number(mark.above_floor)},
              {"seat", json_number(mark.seat)},
              {"seat_range", nullptr},
              {"face", json_number(mark.face)}};
    if (const auto works = rules::seat_for_all(job.findings, mark.fitting)) {
        json["seat_range"] = {json_number(works->first), json_number(works->second)};
    }
    return json;
}

Json pair_json(const SetOutPair& pair) {
    return {{"left", pair.left},
            {"right", pair.right},
            {"left_bare", json_number(pair.left_bare)},
            {"right_bare", json_number(pair.right_bare)},
            {"left_finished", json_number(pair.left_finished)},
            {"right_finished", json_number(pair.right_finished)},
            {"height", json_number(pair.height)},
            {"apart", json_number(pair.apart)}};
}

Json opening_json(const SetOutOpening& opening) {
    return {{"opening", opening.opening},
            {"name", opening.name},
            {"left_bare", json_number(opening.left_bare)},
            {"right_bare", json_number(opening.right_bare)},
            {"width", json_number(opening.width)},
            {"bottom", json_number(opening.bottom)},
            {"top", json_number(opening.top)}};
}

Json screen_json(const SetOutScreen& screen) {
    Json json{{"screen", screen.screen},
              {"name", screen.name},
              {"left_bare", json_number(screen.left_bare)},
              {"right_bare", json_number(screen.right_bare)},
              {"left_finished", json_number(screen.left_finished)},
              {"right_finished", json_number(screen.right_finished)},
              {"bottom", json_number(screen.bottom)},
              {"top", json_number(screen.top)},
              {"thickness", json_number(screen.thickness)},
              {"profile", json_number(screen.profile)},
              {"fixings", Json::array()}};
    for (const double height : screen.fixings) json["fixings"].push_back(json_number(height));
    return json;
}

Json noggin_json(const NogginNeed& need) {
    return {{"fitting", need.fitting},
            {"purpose", need.purpose},
            {"left", json_number(need.left)},
            {"right", json_number(need.right)},
            {"bottom", json_number(need.bottom)},
            {"top", json_number(need.top)},
            {"face", json_number(need.face)},
            {"left_stud", json_number(need.left_stud)},
            {"right_stud", json_number(need.right_stud)},
            {"in_opening", need.in_opening.empty() ? Json() : Json(need.in_opening)},
            {"there", need.there}};
}

}  // namespace

std::string json_setout(const CheckedJob& job, const std::vector<WallSetOut>& walls) {
    Json report{{"format", "standproud-setout/1"},    {"file", job.model.job.file},   {"name", job.model.job.name},
                {"revision", job.model.job.revision}, {"datum", job.model.job.datum}, {"walls", Json::array()}};
    for (const auto& wall : walls) {
        const Wall& source = job.model.job.walls[wall.wall];
        Json one{{"wall", source.id},         {"width", json_number(source.width)}, {"marks", Json::array()},
                 {"openings", Json::array()}, {"screens", Json::array()},           {"pairs", Json::array()},
                 {"noggins", Json::array()}};
        for (const auto& mark : wall.marks) one["marks"].push_back(mark_json(job, mark));
        for (const auto& opening : wall.openings) one["openings"].push_back(opening_json(opening));
        for (const auto& screen : wall.screens) one["screens"].push_back(screen_json(screen));
        for (const auto& pair : wall.pairs) one["pairs"].push_back(pair_json(pair));
        for (const auto& need : wall.noggins) one["noggins"].push_back(noggin_json(need));
        report["walls"].push_back(std::move(one));
    }
    return report.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace standproud::viewer
