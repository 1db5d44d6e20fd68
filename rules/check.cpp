#include "rules/check.hpp"

#include "judge.hpp"
#include "timber.hpp"

namespace standproud::rules {

namespace {

std::vector<Finding> check_reach(const Model& model, const PlacedFitting& placed, const Limits& limits) {
    switch (type_of(model, placed).family) {
        case Family::spindle:
            return check_spindle(model, placed, limits);
        case Family::window:
            return check_window(model, placed, limits);
        case Family::thread:
            return check_thread(model, placed, limits);
        case Family::screw:
            return check_screw(model, placed, limits);
        case Family::plate:
            return check_plate(model, placed, limits);
    }
    return {};
}

}  // namespace

std::vector<Finding> check(const Model& model, const Limits& limits) {
    Distances none;
    return check(model, limits, none);
}

std::vector<Finding> check(const Model& model, const Limits& limits, Distances& kept) {
    std::vector<Finding> findings = check_survey(model);
    for (std::size_t wall = 0; wall < model.job.walls.size(); ++wall) {
        for (auto& finding : check_face(model, wall, limits)) findings.push_back(std::move(finding));
        for (std::size_t i = 0; i < model.fittings.size(); ++i) {
            if (model.fittings[i].wall != wall) continue;
            for (auto& finding : check_reach(model, model.fittings[i], limits)) findings.push_back(std::move(finding));
            for (auto& finding : check_holes(model, i, limits)) findings.push_back(std::move(finding));
        }
    }
    for (auto found :
         {check_backing(model), check_bodies(model), check_zones(model, limits), check_room(model, limits),
          check_strips(model, limits), check_openings(model), check_pipes(model), check_screens(model, limits),
          check_screen_pipes(model, limits), check_movement(model, limits), check_clashes(model, limits, kept)}) {
        for (auto& finding : found) findings.push_back(std::move(finding));
    }
    return findings;
}

}  // namespace standproud::rules
