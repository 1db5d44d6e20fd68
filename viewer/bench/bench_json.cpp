#include <algorithm>
#include <cmath>

#include "bench/words.hpp"
#include "terminal/comparison.hpp"

namespace standproud::viewer {

namespace {

using Json = nlohmann::ordered_json;

Json point_json(Vec2 at) { return {json_number(at.x), json_number(at.y)}; }
Json rect_json(const nesting::Rect& at) {
    return {{"x", json_number(at.x)},
            {"y", json_number(at.y)},
            {"width", json_number(at.width)},
            {"height", json_number(at.height)}};
}

Json edge_json(const cutting::FromEdge& from) {
    return {{"side", to_string(from.side)}, {"distance", json_number(from.distance)}};
}

Json opening_json(const cutting::MarkedOpening& opening) {
    const auto& shape = opening.taken;
    Json json{{"name", opening.seen.name},
              {"centre", point_json(shape.centre)},
              {"width", json_number(2 * shape.half_width)},
              {"height", json_number(2 * shape.half_height)},
              {"corner_radius", json_number(shape.radius)},
              {"from_upright_edge", edge_json(opening.across)},
              {"from_level_edge", edge_json(opening.up)},
              {"notch", opening.seen.notch},
              {"inside_corners", Json::array()}};
    for (const auto& corner : opening.inside)
        json["inside_corners"].push_back({{"at", point_json(corner.at)},
                                          {"from_upright_edge", edge_json(corner.across)},
                                          {"from_level_edge", edge_json(corner.up)}});
    return json;
}

Json seen_json(const cutting::SeenPanel& seen) {
    Json json{{"outline", Json::array()}, {"notched", Json::array()},   {"edges", Json::array()},
              {"angles", Json::array()},  {"diagonals", Json::array()}, {"tapers", Json::array()},
              {"openings", Json::array()}};
    for (const Vec2 at : seen.shape.outline.points) json["outline"].push_back(point_json(at));
    for (const Vec2 at : seen.cut.points) json["notched"].push_back(point_json(at));
    for (const auto& edge : seen.edges)
        json["edges"].push_back({{"side", to_string(edge.side)},
                                 {"length", json_number(edge.length)},
                                 {"leans", json_number(edge.leans)},
                                 {"named", edge.named}});
    for (const double angle : seen.angles) json["angles"].push_back(json_number(angle));
    for (const auto& one : seen.diagonals) json["diagonals"].push_back(json_number(one.length));
    for (const auto& one : seen.tapers)
        json["tapers"].push_back(
            {{"longer", to_string(one.longer)}, {"shorter", to_string(one.shorter)}, {"by", json_number(one.by)}});
    for (const auto& one : seen.openings) json["openings"].push_back(opening_json(one));
    return json;
}

Json operation_json(const cutting::Operation& work, const std::string& task) {
    Json json{{"work", to_string(work.work)}, {"tool", to_string(work.tool)}, {"face_up", to_string(work.up)},
              {"mirrored", work.mirrored},    {"on_wall", work.on_wall},      {"task", task},
              {"opening", nullptr},           {"places", Json::array()},      {"says", work.says},
              {"source", work.source}};
    if (work.opening) json["opening"] = *work.opening;
    for (const auto& place : work.places)
        json["places"].push_back({{"at", point_json(place.at)}, {"diameter", json_number(place.diameter)}});
    return json;
}

Json bond_json(const bond::PanelBond& bond) {
    Json json{{"tape", Json::array()},
              {"tape_length", json_number(bond.tape_length)},
              {"bead_length", json_number(bond.bead_length)},
              {"ring_length", json_number(bond.ring_length)},
              {"adhesive_volume", json_number(bond.adhesive_volume)},
              {"scuffed_area", json_number(bond.scuffed_area)},
              {"spacers", Json::array()}};
    for (const auto& strip : bond.tape)
        json["tape"].push_back(
            {{"x", json_number(strip.x)}, {"from", json_number(strip.from)}, {"to", json_number(strip.to)}});
    for (const double at : bond.spacers) json["spacers"].push_back(json_number(at));
    return json;
}

Json panel_json(const Bench& bench, const BenchPanel& panel) {
    Json json{{"job", panel.job},
              {"panel", panel.id},
              {"wall", panel.wall},
              {"width", json_number(panel.width)},
              {"height", json_number(panel.height)},
              {"thickness", json_number(panel.thickness)},
              {"area", json_number(panel.area)},
              {"mass", json_number(panel.mass)},
              {"recommended_mass", json_number(panel.lift.recommended)},
              {"people", nullptr},
              {"front", nullptr},
              {"rear", nullptr},
              {"operations", Json::array()},
              {"not_cut", panel.not_cut},
              {"grows", {json_number(panel.grows_across), json_number(panel.grows_up)}},
              {"shrinks", {json_number(panel.shrinks_across), json_number(panel.shrinks_up)}},
              {"holes", Json::array()},
              {"bond", nullptr},
              {"not_bonded", panel.not_bonded},
              {"bed_least", json_number(panel.bed_least)},
              {"bed_most", json_number(panel.bed_most)},
              {"packing_volume", json_number(panel.packing_volume)}};
    if (panel.lift.people) json["people"] = *panel.lift.people;
    if (panel.plan) {
        json["front"] = seen_json(panel.plan->front);
        json["rear"] = seen_json(panel.plan->rear);
        for (const auto& work : panel.plan->operations)
            json["operations"].push_back(operation_json(work, task_of(bench, panel, work.work)));
    }
    for (const auto& hole : panel.holes)
        json["holes"].push_back({{"name", hole.name},
                                 {"from_middle", json_number(hole.from_middle)},
                                 {"moves", json_number(hole.moved.moves)},
                                 {"needed_diameter", json_number(hole.moved.needed_diameter)},
                                 {"spare", json_number(hole.moved.spare)}});
    if (panel.bond) json["bond"] = bond_json(*panel.bond);
    return json;
}

Json wall_json(const Bench& bench, const BenchWall& wall) {
    Json json{{"job", wall.job},
              {"wall", wall.id},
              {"name", wall.name},
              {"lined", wall.lined},
              {"bare_width", json_number(wall.bare_width)},
              {"finished_width", nullptr},
              {"bottom", json_number(wall.bottom)},
              {"top", json_number(wall.top)},
              {"panels", Json::array()}};
    if (wall.finished_width) json["finished_width"] = json_number(*wall.finished_width);
    for (const std::size_t panel : wall.panels) json["panels"].push_back(bench.panels[panel].id);
    return json;
}

/// In the order of lining, job by job.
Json walls_json(const Bench& bench) {
    std::vector<const BenchWall*> walls;
    for (const auto& wall : bench.walls) walls.push_back(&wall);
    std::stable_sort(walls.begin(), walls.end(), [](const auto* a, const auto* b) {
        return a->job != b->job ? a->job < b->job : a->lined < b->lined;
    });
    Json json = Json::array();
    for (const auto* wall : walls) json.push_back(wall_json(bench, *wall));
    return json;
}

Json joint_json(const BenchJoint& joint) {
    Json json{{"job", joint.job},
              {"kind", to_string(joint.kind)},
              {"name", joint.name},
              {"wall", joint.wall},
              {"panels", joint.panels},
              {"from", point_json(joint.from)},
              {"to", point_json(joint.to)},
              {"gap", json_number(joint.gap)},
              {"at_face", json_number(joint.at_face)},
              {"hot_and_wet", json_number(joint.moved.hot_and_wet)},
              {"cold_and_dry", json_number(joint.moved.cold_and_dry)},
              {"length", json_number(joint.length)},
              {"depth", json_number(joint.depth)},
              {"narrowest", json_number(joint.moved.narrowest)},
              {"widest", json_number(joint.moved.widest)},
              {"compression", json_number(joint.moved.compression)},
              {"tension", json_number(joint.moved.tension)},
              {"needed", json_number(joint.needed)},
              {"within_class", joint.within},
              {"sealed_depth", json_number(joint.seal.sealed_depth)},
              {"sealant_volume", json_number(joint.seal.volume)},
              {"backing_length", json_number(joint.seal.backing_length)},
              {"sealant_colour", joint.sealant ? to_string(*joint.sealant) : "clear"},
              {"paint", nullptr}};
    if (joint.paint)
        json["paint"] = {{"from", json_number(joint.paint->from)},
                         {"to", json_number(joint.paint->to)},
                         {"bottom", json_number(joint.paint->bottom)},
                         {"top", json_number(joint.paint->top)}};
    return json;
}

Json sheet_json(const Bench& bench, const nesting::SheetLayout& sheet) {
    const auto& stock = bench.stock[sheet.stock];
    Json json{{"sheet", stock.id},       {"width", json_number(stock.width)}, {"height", json_number(stock.height)},
              {"offcut", stock.offcut},  {"pieces", Json::array()},           {"cuts", Json::array()},
              {"offcuts", Json::array()}};
    for (const auto& placed : sheet.placed)
        json["pieces"].push_back(
            {{"panel", bench.pieces[placed.piece].id}, {"at", rect_json(placed.at)}, {"turned", placed.turned}});
    const bool rear = sawn_rear_up(bench);
    for (const auto& cut : cuts_of(bench, sheet)) {
        // From the part's left edge as seen on the face that is up.
        const bool swapped = rear && cut.upright;
        json["cuts"].push_back({{"upright", cut.upright},
                                {"trims", cut.trims},
                                {"part", rect_json(cut.part)},
                                {"from", json_number(cut.from)},
                                {"to", json_number(cut.to)},
                                {"face_up", rear ? "rear" : "front"},
                                {"seen_from", json_number(swapped ? cut.part.width - cut.to : cut.from)},
                                {"seen_to", json_number(swapped ? cut.part.width - cut.from : cut.to)},
                                {"first", cut.first},
                                {"second", cut.second}});
    }
    for (const auto& offcut : sheet.offcuts) json["offcuts"].push_back(rect_json(offcut));
    return json;
}

Json nesting_json(const Bench& bench) {
    Json json{{"refused", bench.sheets.refused}, {"found", nullptr}};
    if (!bench.sheets.nesting) return json;
    const auto& found = *bench.sheets.nesting;
    json["found"] = {{"counts", bench.priced ? "price" : "new sheets"},
                     {"new_sheets", found.new_sheets},
                     {"price", bench.priced ? json_number(found.price) : Json()},
                     {"bound", json_number(found.bound)},
                     {"gap", json_number(found.gap)},
                     {"proved", found.cost_proved},
                     {"largest_offcut", json_number(found.largest_offcut)},
                     {"offcut_proved", found.offcut_proved},
                     {"sheets", Json::array()}};
    for (const auto& sheet : found.sheets) json["found"]["sheets"].push_back(sheet_json(bench, sheet));
    return json;
}

Json job_json(const BenchJob& job) {
    Json json{{"file", job.file},       {"name", job.name},       {"revision", job.revision},
              {"failing", job.failing}, {"unknown", job.unknown}, {"figures", Json::array()}};
    json["lining"] = {{"order", job.order},
                      {"given", job.order_given},
                      {"proposed", job.proposed.walls},
                      {"same_at_every_corner", job.order_as_proposed},
                      {"because", job.proposed.why}};
    for (const auto& one : job.settings.figures)
        json["figures"].push_back({{"key", one.key},
                                   {"value", json_number(one.value)},
                                   {"unit", one.unit},
                                   {"says", one.says},
                                   {"source", one.set ? to_string(*one.set) : "shipped: " + one.shipped}});
    return json;
}

Json task_json(const Bench& bench, std::size_t i) {
    const auto& task = bench.tasks[i];
    const auto& dated = bench.shared.calendar.tasks[i];
    const auto id = [&](std::optional<std::size_t> other) { return other ? Json(bench.tasks[*other].id) : Json(); };
    return {{"id", task.id},
            {"name", task.name},
            {"trade", task.trade},
            {"minutes", task.work},
            {"wait_minutes", task.wait},
            {"after", task.after},
            {"hold", task.hold},
            {"start", minute_words(dated.start)},
            {"finish", minute_words(dated.finish)},
            {"ready", minute_words(dated.ready)},
            {"held_by", id(dated.held_by)},
            {"busy_with", id(dated.busy_with)}};
}

Json schedule_json(const Bench& bench) {
    const auto& shared = bench.shared;
    Json json{{"refused", shared.refused},
              {"crews", bench.crews},
              {"end", nullptr},
              {"bound", nullptr},
              {"proved", shared.proved}};
    if (!shared.refused.empty()) return json;
    json["end"] = minute_words(shared.calendar.end);
    json["bound"] = minute_words(shared.bound);
    return json;
}

}  // namespace

std::string json_bench(const Bench& bench) {
    Json report{{"format", "standproud-bench/1"},   {"jobs", Json::array()},   {"settle_first", bench.settle_first},
                {"walls", walls_json(bench)},       {"panels", Json::array()}, {"nesting", nesting_json(bench)},
                {"joints", Json::array()},          {"bought", Json::array()}, {"bill", Json::array()},
                {"schedule", schedule_json(bench)}, {"tasks", Json::array()}};
    for (const auto& job : bench.jobs) report["jobs"].push_back(job_json(job));
    for (const auto& panel : bench.panels) report["panels"].push_back(panel_json(bench, panel));
    for (const auto& joint : bench.joints) report["joints"].push_back(joint_json(joint));
    for (const auto& one : bench.bought)
        report["bought"].push_back({{"what", one.what},
                                    {"unit", one.unit},
                                    {"per_unit", json_number(one.per_unit)},
                                    {"needed", json_number(one.purchase.needed)},
                                    {"waste", json_number(one.purchase.waste)},
                                    {"units", one.purchase.units}});
    for (const auto& line : bench.bill)
        report["bill"].push_back({{"what", line.what},
                                  {"quantity", json_number(line.quantity)},
                                  {"unit", line.unit},
                                  {"price", line.price ? Json(json_number(*line.price)) : Json(nullptr)}});
    for (const std::size_t i : bench.shared.order) report["tasks"].push_back(task_json(bench, i));
    return report.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace standproud::viewer
