#include "modeler/scene.hpp"

#include <fmt/format.h>

#include <cmath>

namespace standproud {

namespace {

void add(Scene& scene, Thing thing, Part part) {
    scene.bodies.push_back(make_body(part, scene.things.size()));
    scene.part_of.push_back(scene.parts.size());
    scene.things.push_back(std::move(thing));
    scene.parts.push_back(std::move(part));
}

Thing thing_of(const Part& part, Thing::Kind kind) {
    return {
        kind, part.id,    part.name, part.trade, part.layer, part.wall, part.fitting.empty() ? part.id : part.fitting,
        0,    part.source};
}

/// A fitting is set along the wall to +/- setout, and in depth as well as its seat is.
double plus_minus_of(const Model& model, const std::string& owner, double setout) {
    for (const auto& fitting : model.job.fittings) {
        if (fitting.id != owner) continue;
        return fitting.seat && fitting.seat->tolerance ? std::max(setout, *fitting.seat->tolerance) : setout;
    }
    return 0;
}

/// The tool through the panel and on, as far as it may run.
Part drill_of(const Model& model, const Panel& panel, const PanelHole& hole, double depth) {
    const Fitting& fitting = fitting_of(model, model.fittings[hole.fitting]);
    const bool round = hole.opening.is_circle();
    Part part;
    part.id = fmt::format("{}/drill-{}", fitting.id, hole.need + 1);
    part.name = round ? fmt::format("the {:g} mm drill or hole saw for {}", 2 * hole.opening.radius, fitting.name)
                      : fmt::format("the saw for the cut-out of {}", fitting.name);
    part.trade = "installer";
    part.layer = "drill";
    part.wall = fitting.wall;
    part.fitting = fitting.id;
    part.source = type_of(model, model.fittings[hole.fitting]).holes[hole.need].source;
    part.place = panel.place;
    part.place.origin = panel.place.to_room(0, 0, -depth);
    part.outline = hole.opening;
    part.length = depth + panel.thickness;
    return part;
}

}  // namespace

std::vector<Pipe> lay_pipes(const Model& model) {
    std::vector<Pipe> pipes;
    for (const auto& run : model.job.pipes) {
        Pipe pipe;
        pipe.diameter = run.diameter;
        pipe.bend_radius = run.bend_radius;
        const std::size_t w = wall_index(model.job, run.wall);
        for (const auto& p : run.points) {
            const double u = bare_corner(model.job, model.room, w, Side::left, p.v) + p.u;
            pipe.points.push_back(model.room.walls[w].to_room(u, p.v, drawn_face(model.room, w, u, p.v) + p.n));
        }
        pipes.push_back(std::move(pipe));
    }
    return pipes;
}

std::vector<Part> pipe_legs(const Model& model) {
    std::vector<Part> legs;
    const auto pipes = lay_pipes(model);
    for (std::size_t i = 0; i < pipes.size(); ++i) {
        const PipeRun& run = model.job.pipes[i];
        for (std::size_t k = 0; k + 1 < pipes[i].points.size(); ++k) {
            const RoomPoint along = pipes[i].points[k + 1] - pipes[i].points[k];
            const double length = norm(along);
            if (length <= same_length) continue;
            Frame place;
            place.origin = pipes[i].points[k];
            place.z = 1 / length * along;
            const RoomPoint beside = std::abs(place.z.z) < 0.9 ? RoomPoint{0, 0, 1} : RoomPoint{1, 0, 0};
            const RoomPoint x = cross(beside, place.z);
            place.x = 1 / norm(x) * x;
            place.y = cross(place.z, place.x);
            legs.push_back({fmt::format("{}/leg-{}", run.id, k + 1),
                            run.name,
                            run.kind == PipeRun::Kind::cable ? "electrician" : "plumber",
                            to_string(run.kind),
                            run.wall,
                            run.id,
                            run.source,
                            place,
                            RoundedRect::circle({0, 0}, run.diameter),
                            {},
                            length,
                            {}});
        }
    }
    return legs;
}

Scene build_scene(const Model& model, double setout, double drill_depth) {
    Scene scene;
    for (auto& part : build_parts(model)) {
        Thing thing = thing_of(part, Thing::Kind::solid);
        thing.plus_minus = plus_minus_of(model, thing.owner, setout);
        add(scene, std::move(thing), std::move(part));
    }
    for (auto& part : build_access(model)) {
        Thing thing = thing_of(part, Thing::Kind::access);
        thing.plus_minus = plus_minus_of(model, thing.owner, setout);
        add(scene, std::move(thing), std::move(part));
    }
    for (const auto& panel : model.panels) {
        for (const auto& hole : panel.holes) {
            Part part = drill_of(model, panel, hole, drill_depth);
            Thing thing = thing_of(part, Thing::Kind::drill);
            thing.plus_minus = setout;
            add(scene, std::move(thing), std::move(part));
        }
    }
    scene.pipes = lay_pipes(model);
    for (std::size_t i = 0; i < scene.pipes.size(); ++i) {
        const PipeRun& run = model.job.pipes[i];
        scene.bodies.push_back(make_body(scene.pipes[i], scene.things.size(), 0.01));
        scene.part_of.push_back(static_cast<std::size_t>(-1));
        scene.things.push_back({Thing::Kind::pipe, run.id, run.name,
                                run.kind == PipeRun::Kind::cable ? "electrician" : "plumber", to_string(run.kind),
                                run.wall, run.id, run.plus_minus, run.source});
    }
    for (auto& index : scene.part_of) index = std::min(index, scene.parts.size());
    return scene;
}

}  // namespace standproud
