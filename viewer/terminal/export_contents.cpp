#include <fmt/format.h>

#include <map>
#include <variant>

#include "modeler/scene.hpp"
#include "viewer/export.hpp"

namespace standproud::viewer {

namespace {

/// A pipe as it is named in files of solids.
PipeSolid pipe_solid(const Scene& scene, std::size_t thing, std::size_t pipe) {
    const Thing& what = scene.things[thing];
    Part part;
    part.id = what.id;
    part.name = what.name;
    part.trade = what.trade;
    part.layer = what.layer;
    part.wall = what.wall;
    part.source = what.source;
    return {part, scene.pipes[pipe]};
}

/// Things by the ids that findings name them with.
using Things = std::map<std::string, std::variant<Part, PipeSolid>>;

std::vector<Overlap> overlaps_of(const std::vector<rules::Finding>& findings, const Things& things) {
    std::vector<Overlap> overlaps;
    for (const auto& finding : findings) {
        if (!finding.clash || finding.clash->distance >= 0) continue;
        const auto a = things.find(finding.clash->part_a);
        const auto b = things.find(finding.clash->part_b);
        if (a == things.end() || b == things.end()) continue;
        overlaps.push_back({fmt::format("{}: {} in {}", finding.rule, finding.clash->part_a, finding.clash->part_b),
                            finding.says, a->second, b->second});
    }
    return overlaps;
}

}  // namespace

ExportContents export_contents(const CheckedJob& job, bool with_clashes) {
    ExportContents contents;
    contents.parts = build_parts(job.model);
    for (auto& seal : build_sealant(job.model)) contents.parts.push_back(std::move(seal));
    const Scene scene = build_scene(job.model, job.limits.at("setout.hole").value, job.limits.at("drill.depth").value);
    Things things;
    for (std::size_t i = 0; i < scene.things.size(); ++i) {
        if (scene.things[i].kind == Thing::Kind::pipe) {
            contents.pipes.push_back(pipe_solid(scene, i, contents.pipes.size()));
            things.emplace(scene.things[i].id, contents.pipes.back());
        } else {
            things.emplace(scene.things[i].id, scene.parts[scene.part_of[i]]);
        }
    }
    if (with_clashes) contents.overlaps = overlaps_of(job.findings, things);
    return contents;
}

}  // namespace standproud::viewer
