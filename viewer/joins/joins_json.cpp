#include <cmath>
#include <nlohmann/json.hpp>

#include "viewer/joins_report.hpp"

namespace standproud::viewer {

namespace {

using Json = nlohmann::ordered_json;

/// To a ten-thousandth of a mm, as all reports.
double number(double value) { return std::round(value * 1e4) / 1e4 + 0.0; }

Json places(const std::vector<double>& joins) {
    Json all = Json::array();
    for (const double join : joins) all.push_back(number(join));
    return all;
}

Json score_json(const JoinsReport& report, const joins::JoinScore& score) {
    return {{"joins", score.joins},
            {"sheets", score.sheets},
            {"cost", report.priced ? Json(number(score.cost)) : Json(nullptr)},
            {"waste", number(score.waste)},
            {"asymmetry", number(score.asymmetry)},
            {"misaligned", report.wishes.align ? Json(number(score.misaligned)) : Json(nullptr)},
            {"levels", score.levels}};
}

Json layout_json(const JoinsReport& report, const joins::JoinLayout& layout) {
    Json pieces = Json::array();
    for (const auto& piece : layout.pieces) {
        pieces.push_back({{"left", number(piece.from)},
                          {"right", number(piece.to)},
                          {"bottom", number(piece.bottom)},
                          {"top", number(piece.top)},
                          {"stock", report.stock.at(piece.stock)},
                          {"sheet", piece.sheet + 1}});
    }
    return {{"joins", places(layout.joins)},
            {"pieces", pieces},
            {"score", score_json(report, layout.score)},
            {"room", number(layout.room)},
            {"on_wettest", layout.on_wettest},
            {"levels", places(layout.levels)},
            {"below_outlet", layout.below_outlet}};
}

Json wall_json(const JoinsReport& report, const WallJoins& wall) {
    Json layouts = Json::array();
    Json refused = Json::array();
    if (wall.answer.plan) {
        for (const auto& layout : wall.answer.plan->best) layouts.push_back(layout_json(report, layout));
        for (const auto& one : wall.answer.plan->refused) {
            refused.push_back({{"joins", places(one.joins)},
                               {"levels", places(one.levels)},
                               {"score", score_json(report, one.score)},
                               {"reasons", one.reasons}});
        }
    }
    return {{"wall", wall.wall},
            {"gap", number(wall.gap)},
            {"drawn", places(wall.drawn)},
            {"drawn_levels", places(wall.drawn_levels)},
            {"layouts", layouts},
            {"refused", refused},
            {"refused_whole", !wall.answer.plan || wall.answer.plan->refused_whole},
            {"why_levels", wall.answer.plan ? wall.answer.plan->why_levels : ""},
            {"no_layout", wall.answer.plan ? Json(nullptr) : Json(wall.answer.refused)}};
}

Json nested_json(const JoinsReport& report, const joins::JobLayout& layout) {
    Json walls = Json::array();
    for (std::size_t w = 0; w < report.walls.size(); ++w)
        walls.push_back({{"wall", report.walls[w].wall}, {"layout", layout.layouts[w] + 1}});
    const auto& nesting = layout.answer.nesting;
    const bool by_area = together_by_area(report);
    return {{"walls", walls},
            {"sheets", nesting ? Json(nesting->new_sheets) : Json(nullptr)},
            {"price", nesting && report.priced && !by_area ? Json(number(nesting->price)) : Json(nullptr)},
            {"area", nesting && by_area ? Json(number(nesting->price * 1e6)) : Json(nullptr)},
            {"refused", nesting ? Json(nullptr) : Json(layout.answer.refused)}};
}

Json together_json(const JoinsReport& report) {
    if (!report.together) return nullptr;
    if (!report.together->choice) return {{"refused", report.together->refused}};
    const joins::JobChoice& choice = *report.together->choice;
    return {{"best", nested_json(report, choice.best)},
            {"own", nested_json(report, choice.own)},
            {"combinations", choice.combinations},
            {"nested", choice.nested},
            {"left_out", choice.left_out},
            {"proved", choice.proved}};
}

}  // namespace

std::string json_joins(const JoinsReport& report) {
    Json walls = Json::array();
    for (const auto& wall : report.walls) walls.push_back(wall_json(report, wall));
    const Json json{{"format", "standproud-joins/1"}, {"file", report.file}, {"name", report.name},
                    {"revision", report.revision},    {"walls", walls},      {"together", together_json(report)}};
    return json.dump(2) + "\n";
}

}  // namespace standproud::viewer
