// A recess of three walls made by hand, with one fitting of each family: for the tests of the section sheet.
#pragma once

#include "modeler/model.hpp"
#include "modeler/parts.hpp"
#include "rules/check.hpp"

namespace standproud::hand_made {

inline Length length(double value, double tolerance) { return {value, tolerance, {"hand.toml", 1, 1}}; }

inline TypePart part(const std::string& role, TypePart::Datum datum, RoundedRect outline, double start, double reach) {
    return {role, datum, TypePart::Axis::out, outline, start, reach, {"hand.toml", 2, 1}};
}

inline TypePart round_part(const std::string& role, TypePart::Datum datum, double diameter, double start,
                           double reach) {
    return part(role, datum, RoundedRect::circle({0, 0}, diameter), start, reach);
}

inline FittingType spindle_type() {
    FittingType type;
    type.id = type.name = "tap";
    type.family = Family::spindle;
    type.connection = "spline 20";
    type.spindle_length = length(55, 0.5);
    type.proud_min = length(14, 0);
    type.proud_max = length(22, 0);
    type.holes.push_back({RoundedRect::circle({0, 0}, 32), RoundedRect::circle({0, 0}, 22), {}});
    type.flanges.push_back({RoundedRect::circle({0, 0}, 60), {}});
    using Datum = TypePart::Datum;
    type.parts = {round_part("body", Datum::seat, 30, -25, 25), round_part("body", Datum::seat, 22, 0, 18),
                  round_part("spindle", Datum::seat, 10, 0, 55), round_part("flange", Datum::face, 60, 0, 6),
                  round_part("handle", Datum::face, 46, 10, 34)};
    return type;
}

inline FittingType window_type() {
    FittingType type;
    type.id = type.name = "mixer";
    type.family = Family::window;
    type.connection = "mixer kit";
    type.face_min = length(60, 0);
    type.face_max = length(85, 0);
    type.holes.push_back({RoundedRect::circle({0, 0}, 110), RoundedRect::circle({0, 0}, 96), {}});
    type.flanges.push_back({RoundedRect::rect({0, 0}, 160, 160, 10), {}});
    using Datum = TypePart::Datum;
    type.parts = {part("body", Datum::seat, RoundedRect::rect({0, 0}, 120, 100, 8), 0, 45),
                  round_part("body", Datum::seat, 90, 45, 25), round_part("spindle", Datum::seat, 12, 70, 40),
                  part("flange", Datum::face, RoundedRect::rect({0, 0}, 160, 160, 10), 0, 5),
                  round_part("handle", Datum::face, 50, 12, 40)};
    return type;
}

inline FittingType thread_type() {
    FittingType type;
    type.id = type.name = "spout";
    type.family = Family::thread;
    type.connection = "G 1/2";
    type.tail_length = length(40, 0.5);
    type.socket_depth = length(15, 0.5);
    type.holes.push_back({RoundedRect::circle({0, 0}, 28), RoundedRect::circle({0, 0}, 21), {}});
    type.flanges.push_back({RoundedRect::circle({0, 0}, 55), {}});
    using Datum = TypePart::Datum;
    type.parts = {round_part("body", Datum::seat, 32, -30, 30), round_part("tail", Datum::face, 20.9, -40, 40),
                  round_part("flange", Datum::face, 55, 0, 8), round_part("spout", Datum::face, 30, 8, 150)};
    return type;
}

inline FittingType screw_type() {
    FittingType type;
    type.id = type.name = "rail";
    type.family = Family::screw;
    type.screw_length = length(70, 0.5);
    type.base_thickness = length(5, 0.2);
    type.embedment_min = length(35, 0);
    type.holes.push_back({RoundedRect::circle({0, 0}, 8), RoundedRect::circle({0, 0}, 5), {}});
    type.flanges.push_back({RoundedRect::circle({0, 0}, 70), {}});
    using Datum = TypePart::Datum;
    type.parts = {round_part("screw", Datum::face, 5, -65, 70), round_part("flange", Datum::face, 70, 0, 5),
                  part("rail", Datum::face, RoundedRect::rect({100, 0}, 300, 32), 40, 32)};
    return type;
}

inline FittingType plate_type() {
    FittingType type;
    type.id = type.name = "outlet";
    type.family = Family::plate;
    type.trade = Trade::electrician;
    type.connection = "M3.5";
    type.screw_length = length(25, 0.5);
    type.base_thickness = length(4, 0.2);
    type.socket_depth = length(20, 0.5);
    type.recess_max = length(5, 0);
    type.holes.push_back({RoundedRect::rect({0, 0}, 78, 78, 4), RoundedRect::rect({0, 0}, 72, 72, 3), {}});
    type.flanges.push_back({RoundedRect::rect({0, 0}, 86, 86, 3), {}});
    using Datum = TypePart::Datum;
    type.parts = {part("box", Datum::seat, RoundedRect::rect({0, 0}, 72, 72, 3), -47, 47),
                  part("plate", Datum::face, RoundedRect::rect({0, 0}, 86, 86, 3), 0, 9)};
    return type;
}

inline Wall wall(const std::string& id, const std::string& name, double width) {
    Wall made;
    made.id = id;
    made.name = name;
    made.width = width;
    made.height = 2100;
    made.layers = {{LayerKind::board, "fibre cement sheet", length(9, 0.5), {}},
                   {LayerKind::membrane, "sheet membrane", length(1, 0.2), {}},
                   {LayerKind::bed, "tape and adhesive", length(3, 1), {}},
                   {LayerKind::panel, "acrylic panel", length(6, 0.3), {}}};
    return made;
}

/// F = 9 + 1 + 3 + 6 = 19 with +/- 2 on every wall.
inline Job job() {
    Job made;
    made.name = "Hand-made recess";
    made.revision = "B";
    made.datum = "screed level";
    made.walls = {wall("left", "left wall", 900), wall("back", "back wall", 1200), wall("right", "right wall", 900)};
    made.walls[1].studs = Studs{45, 90, 0, {22.5, 450, 900, 1177.5}, {}};
    made.walls[1].noggins = {{0, 1200, 1100, 90, 35, 50, {}}, {0, 1200, 700, 90, 45, 0, {}}};
    made.walls[2].masonry = Masonry{110, {}};
    made.panels.order = {"back", "left", "right"};
    made.types = {spindle_type(), window_type(), thread_type(), screw_type(), plate_type()};
    const auto add = [&](const std::string& id, const std::string& name, const std::string& type,
                         const std::string& where, double u, double v, MaybeLength seat) {
        Fitting fitting;
        fitting.id = id;
        fitting.name = name;
        fitting.type = type;
        fitting.wall = where;
        fitting.across = {Across::From::left_bare, u, {}};
        fitting.height = v;
        fitting.seat = seat;
        fitting.source = {"hand.toml", 9, 1};
        made.fittings.push_back(fitting);
    };
    add("hot", "hot tap", "tap", "back", 400, 1100, length(-28, 2));
    add("mixer", "shower mixer", "mixer", "back", 640, 1100, length(-56, 2));
    add("spout", "bath spout", "spout", "right", 300, 650, length(-14, 2));
    add("rail", "grab rail", "rail", "back", 800, 700, std::nullopt);
    add("outlet", "outlet box", "outlet", "left", 500, 1300, length(14, 2));
    add("unset", "cold tap, not yet fixed", "tap", "right", 500, 1100, std::nullopt);
    return made;
}

struct Made {
    Model model;
    std::vector<Part> parts;
    std::vector<rules::Finding> findings;
};

/// Must hold: no faults; the caller checks.
inline Made made(Job from, Faults& faults) {
    Made all;
    const auto limits = rules::limits_for(from, faults);
    all.model = build_model(std::move(from), faults);
    all.parts = build_parts(all.model);
    all.findings = rules::check(all.model, limits);
    // The sheet is tried with findings of reach and holes: this recess is not laid out to be clear of its timber.
    std::erase_if(all.findings, [](const auto& finding) { return finding.clash.has_value(); });
    return all;
}

}  // namespace standproud::hand_made
