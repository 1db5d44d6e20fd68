// What one click can do about a finding.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "rules/words.hpp"
#include "state/steps.hpp"

namespace standproud::viewer {

namespace {

const rules::Finding* finding_at(const Document& document, std::size_t index) {
    const bool there = document.job && document.faults.empty() && index < document.job->findings.size();
    return there ? &document.job->findings[index] : nullptr;
}

const Fitting* fitting_of_id(const Document& document, const std::string& id) {
    const auto& fittings = document.job->model.job.fittings;
    const auto found = std::find_if(fittings.begin(), fittings.end(), [&](const auto& f) { return f.id == id; });
    return found == fittings.end() ? nullptr : &*found;
}

/// The middle of a range, to the whole millimetre where that is still inside, else to a tenth, else as it is.
double middle(std::pair<double, double> range) {
    const double exact = (range.first + range.second) / 2;
    for (const double step : {1.0, 0.1}) {
        const double round = std::round(exact / step) * step;
        const double clean = std::round(round * 10) / 10;
        if (clean >= range.first && clean <= range.second) return clean;
    }
    return exact;
}

/// A depth that suits every reach finding of the fitting. A measured depth is not ours to change: the body must be
/// moved and measured again.
std::optional<double> seat_for(const Document& document, const rules::Finding& finding) {
    const Fitting* fitting = fitting_of_id(document, finding.subject);
    if (!fitting || (fitting->as_built && fitting->as_built->seat)) return std::nullopt;
    if (finding.verdict == rules::Verdict::clear || !finding.seat_range) return std::nullopt;
    const auto range = rules::seat_for_all(document.job->findings, finding.subject);
    return range ? std::optional(middle(*range)) : std::nullopt;
}

/// The finding's own move, where it suits the fitting's other reach findings, too.
std::optional<double> moved_seat_for(const Document& document, const rules::Finding& finding) {
    const Fitting* fitting = fitting_of_id(document, finding.subject);
    if (!finding.move || !fitting || !fitting->seat || (fitting->as_built && fitting->as_built->seat))
        return std::nullopt;
    const double seat = std::round((fitting->seat->value + finding.move->by) * 1000) / 1000;
    const auto range = rules::seat_for_all(document.job->findings, finding.subject);
    if (!range || seat < range->first - 1e-6 || seat > range->second + 1e-6) return std::nullopt;
    return seat;
}

struct Place {
    std::string fitting;
    double across = 0;  ///< as the file counts it
    double height = 0;
    std::string words;
};

/// Where a fitting of a clash has to go, if it is straight along or up its wall; `way` is where to, a unit in the room.
std::optional<Place> clear_of(const Document& document, const std::string& id, RoomPoint way, double by) {
    const Model& model = document.job->model;
    const Fitting* fitting = fitting_of_id(document, id);
    if (!fitting || (fitting->as_built && (fitting->as_built->across || fitting->as_built->height)))
        return std::nullopt;
    const std::size_t w = wall_index(model.job, fitting->wall);
    if (w >= model.room.walls.size()) return std::nullopt;
    const double right = dot(way, model.room.walls[w].x);
    const double up = dot(way, model.room.walls[w].y);
    constexpr double straight = 0.999;
    // Away from what is too near, to a tenth: rounded the other way it would stay too near by as much.
    const auto tenth = [](double value, double towards) {
        return (towards > 0 ? std::ceil(value * 10 - 1e-6) : std::floor(value * 10 + 1e-6)) / 10;
    };
    Place place{id, fitting->across.distance, fitting->height, ""};
    if (std::abs(right) > straight) {
        const auto from = fitting->across.from;
        const double sign = from == Across::From::right_bare || from == Across::From::right_finished ? -1 : 1;
        const double towards = sign * (right > 0 ? 1 : -1);
        place.across = tenth(place.across + towards * by, towards);
        place.words = fmt::format("Move {} {} mm {}", id, rules::mm(by), right > 0 ? "to the right" : "to the left");
    } else if (std::abs(up) > straight) {
        const double towards = up > 0 ? 1 : -1;
        place.height = tenth(place.height + towards * by, towards);
        place.words = fmt::format("Move {} {} mm {}", id, rules::mm(by), up > 0 ? "up" : "down");
    } else {
        return std::nullopt;
    }
    return place;
}

std::optional<Place> place_for(const Document& document, const rules::Finding& finding) {
    if (!finding.clash || !finding.low || !finding.need_low || finding.verdict == rules::Verdict::clear)
        return std::nullopt;
    // Timber beside a hole has no direction; a heat zone or a door is not put right by so many millimetres.
    const RoomPoint push = finding.clash->push;
    const bool not_by_moving = finding.rule == "heat.panel" || finding.rule == "access.swing";
    if (not_by_moving || std::abs(norm(push) - 1) > 1e-6) return std::nullopt;
    const double by = std::ceil((*finding.need_low - *finding.low) * 10 - 1e-6) / 10;
    if (by <= 0) return std::nullopt;
    if (auto place = clear_of(document, finding.subject, -1.0 * push, by)) return place;
    return clear_of(document, finding.clash->other, push, by);
}

}  // namespace

std::vector<Offer> offers(const Document& document, std::size_t index) {
    std::vector<Offer> found;
    const auto* finding = finding_at(document, index);
    if (!finding) return found;
    if (finding->remedy) found.push_back({Cure::fit_item, fmt::format("Fit {}", finding->remedy->name)});
    if (const auto seat = seat_for(document, *finding)) {
        found.push_back({Cure::set_seat, fmt::format("Set the seat {}", rules::depth(*seat))});
    }
    if (moved_seat_for(document, *finding)) {
        const double by = finding->move->by;
        found.push_back({Cure::move_seat,
                         fmt::format("Set the body {} mm further {}", rules::mm(std::abs(by)), by > 0 ? "out" : "in")});
    }
    if (const auto place = place_for(document, *finding)) found.push_back({Cure::move_along, place->words});
    return found;
}

Refusal apply_cure(Document& document, std::size_t index, Cure cure) {
    const auto* finding = finding_at(document, index);
    if (!finding) return "the finding is no longer there";
    if (cure == Cure::move_along) {
        const auto place = place_for(document, *finding);
        if (!place) return "no move along the wall puts this right";
        return move_fitting(document, place->fitting, place->across, place->height);
    }
    const auto at = fitting_index(document, finding->subject);
    if (!at) return fmt::format("there is no fitting \"{}\" in the file", finding->subject);
    const std::string base = fmt::format("fittings[{}].", *at);
    if (cure == Cure::fit_item) {
        if (!finding->remedy) return "nothing in stock puts this right";
        return set_value(document, base + "with", quoted(finding->remedy->item));
    }
    const auto seat = cure == Cure::move_seat ? moved_seat_for(document, *finding) : seat_for(document, *finding);
    if (!seat) return "no depth of the seat puts this right, or it was measured: move it and measure again";
    return set_number(document, base + "seat", *seat);
}

}  // namespace standproud::viewer
