#include "scene/solid_store.hpp"

#include <fmt/format.h>

#include <BRepMesh_IncrementalMesh.hxx>
#include <IMeshTools_Parameters.hxx>
#include <Standard_Failure.hxx>
#include <set>

#include "modeler/solids.hpp"

namespace standproud::viewer {

namespace {

void add(std::string& key, Vec2 p) { key += fmt::format("{:a},{:a};", p.x, p.y); }
void add(std::string& key, RoomPoint p) { key += fmt::format("{:a},{:a},{:a};", p.x, p.y, p.z); }

void add(std::string& key, const Profile& shape) {
    if (const auto* r = std::get_if<RoundedRect>(&shape)) {
        key += 'r';
        add(key, r->centre);
        add(key, Vec2{r->half_width, r->half_height});
        key += fmt::format("{:a};", r->radius);
        return;
    }
    key += 'p';
    for (const auto& p : std::get<Polygon>(shape).points) add(key, p);
}

/// A part may taper; then its solid depends on that, too.
template <class AnyPart>
void add_taper(std::string& key, const AnyPart& part) {
    if constexpr (requires { part.taper; }) add(key, part.taper);
}

MadeSolid made(const Part& part) {
    MadeSolid solid;
    try {
        solid.shape = make_solid(part);
        // 0.2 mm and 0.25 rad: round things look round at the size of a hand.
        IMeshTools_Parameters how;
        how.Deflection = 0.2;
        how.Angle = 0.25;
        // Of many holes in one face the kernel's other way makes the same triangles three to four times faster.
        if (part.holes.size() > 12) how.MeshAlgo = IMeshTools_MeshAlgoType_Delabella;
        const BRepMesh_IncrementalMesh mesh(solid.shape, how);
    } catch (const Standard_Failure& failure) {
        solid = {{}, fmt::format("part {}: {}", part.id, failure.GetMessageString())};
    } catch (const std::exception& fault) {
        solid = {{}, fault.what()};
    }
    return solid;
}

}  // namespace

std::string shape_key(const Part& part) {
    std::string key;
    for (const RoomPoint& p : {part.place.origin, part.place.x, part.place.y, part.place.z}) add(key, p);
    add(key, part.outline);
    for (const auto& hole : part.holes) add(key, hole);
    key += fmt::format("l{:a}", part.length);
    add_taper(key, part);
    return key;
}

SolidStore make_missing(const std::vector<Part>& parts, const std::vector<std::string>& have, Progress& progress) {
    const std::set<std::string> known(have.begin(), have.end());
    SolidStore store;
    progress.all = parts.size();
    for (const auto& part : parts) {
        if (progress.stop) break;
        const std::string key = shape_key(part);
        if (!known.count(key) && !store.count(key)) store[key] = made(part);
        ++progress.done;
    }
    return store;
}

std::vector<std::string> keys_of(const SolidStore& store) {
    std::vector<std::string> keys;
    for (const auto& [key, solid] : store) keys.push_back(key);
    return keys;
}

}  // namespace standproud::viewer
