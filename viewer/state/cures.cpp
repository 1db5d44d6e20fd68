// What one click can do about a finding.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "rules/advise.hpp"
#include "rules/gap_remedy.hpp"
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
    const double seat = std::round((fitting->seat->value + finding.move->out) * 1000) / 1000;
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

/// Where a fitting of a clash has to go, if it is one that can be moved and goes along or up its wall.
std::optional<Place> place_for(const Document& document, const rules::Finding& finding, std::size_t index) {
    if (!finding.clash || index >= finding.clash->moves.size()) return std::nullopt;
    const rules::Move& move = finding.clash->moves[index];
    const Fitting* fitting = fitting_of_id(document, move.id);
    if (!fitting || move.out != 0) return std::nullopt;
    // What was measured is not ours to move: it must be moved and measured again.
    if (fitting->as_built && (fitting->as_built->across || fitting->as_built->height)) return std::nullopt;
    // Away from what is too near, to a tenth: rounded the other way it would stay too near by as much.
    const auto tenth = [](double value, double towards) {
        return (towards > 0 ? std::ceil(value * 10 - 1e-6) : std::floor(value * 10 + 1e-6)) / 10;
    };
    Place place{move.id, fitting->across.distance, fitting->height, ""};
    const auto words = [&](double by, const char* plus, const char* minus) {
        return fmt::format("Move {} {} mm {}", move.id, rules::mm(std::abs(by)), by > 0 ? plus : minus);
    };
    if (move.across != 0) {
        const auto from = fitting->across.from;
        const double sign = from == Across::From::right_bare || from == Across::From::right_finished ? -1 : 1;
        place.across = tenth(place.across + sign * move.across, sign * move.across);
        place.words = words(move.across, "to the right", "to the left");
    } else {
        place.height = tenth(place.height + move.up, move.up);
        place.words = words(move.up, "up", "down");
    }
    return place;
}

/// The move of a pipe as a whole, where the clash has one: a button does not bend it.
const rules::Move* pipe_move(const Document& document, const rules::Finding& finding, std::size_t index) {
    if (!finding.clash || index >= finding.clash->moves.size()) return nullptr;
    const rules::Move& move = finding.clash->moves[index];
    const auto& pipes = document.job->model.job.pipes;
    const bool pipe = std::any_of(pipes.begin(), pipes.end(), [&](const auto& p) { return p.id == move.id; });
    return pipe ? &move : nullptr;
}

std::string words_of(const rules::Move& move) {
    const double by = move.across + move.up + move.out;
    const char* way = move.across > 0   ? "to the right"
                      : move.across < 0 ? "to the left"
                      : move.up > 0     ? "up"
                      : move.up < 0     ? "down"
                      : move.out > 0    ? "out of the wall"
                                        : "deeper";
    return fmt::format("Move the whole of {} {} mm {}", move.id, rules::mm(std::abs(by)), way);
}

std::optional<rules::GapRemedy> gap_for(const Document& document, const rules::Finding& finding) {
    return rules::gap_remedy(document.job->model, document.job->limits, finding);
}

std::string path_of(const rules::GapPlace& place) {
    return place.list.empty() ? fmt::format("walls[{}].gaps.{}", place.wall, place.key)
                              : fmt::format("walls[{}].{}[{}].{}", place.wall, place.list, place.entry, place.key);
}

/// The tree without the gaps of these places: what must be the same before and after.
toml::table without(const std::string& text, const std::vector<rules::GapPlace>& places) {
    toml::table tree = Places(text).tree();
    for (const auto& place : places) {
        auto* walls = tree["walls"].as_array();
        auto* wall = walls && place.wall < walls->size() ? walls->get(place.wall)->as_table() : nullptr;
        if (!wall) continue;
        if (!place.list.empty()) {
            auto* list = (*wall)[place.list].as_array();
            auto* entry = list && place.entry < list->size() ? list->get(place.entry)->as_table() : nullptr;
            if (entry) entry->erase(place.key);
        } else if (auto* gaps = (*wall)["gaps"].as_table()) {
            gaps->erase(place.key);
            if (gaps->empty()) wall->erase("gaps");
        }
    }
    return tree;
}

Refusal widen_gaps(Document& document, const rules::GapRemedy& gap) {
    if (!Places::of(document.text)) return "the file is not readable as TOML: put it right in a text editor first";
    Step step{gap.words, "", {}};
    std::string text = document.text;
    for (const auto& place : gap.places) {
        const Change change = change_value(Places(text), path_of(place), number_text(gap.width));
        if (Refusal no = carry_on(text, step, change); !no.empty()) return no;
    }
    if (without(document.text, gap.places) != without(text, gap.places))
        return "the gap cannot be set here without changing something else: write it by hand";
    return take_step(document, std::move(step));
}

}  // namespace

Refusal carry_on(std::string& text, Step& step, const Change& change) {
    if (!change.refusal.empty()) return change.refusal;
    for (const auto& splice : change.splices) {
        text.replace(splice.at, splice.removed.size(), splice.inserted);
        step.splices.push_back(splice);
    }
    return Places::of(text) ? "" : "the file would no longer be readable; nothing was changed";
}

const rules::Finding& advised(Document& document, std::size_t index) {
    rules::Finding& finding = document.job->findings[index];
    rules::advise(document.job->model, document.job->limits, document.job->distances, finding);
    return finding;
}

std::vector<Offer> offers(Document& document, std::size_t index) {
    std::vector<Offer> found;
    if (!finding_at(document, index)) return found;
    const auto* finding = &advised(document, index);
    if (finding->remedy) found.push_back({Cure::fit_item, fmt::format("Fit {}", finding->remedy->name)});
    if (const auto seat = seat_for(document, *finding)) {
        found.push_back({Cure::set_seat, fmt::format("Set the seat {}", rules::depth(*seat))});
    }
    if (moved_seat_for(document, *finding)) {
        const double by = finding->move->out;
        found.push_back({Cure::move_seat,
                         fmt::format("Set the body {} mm further {}", rules::mm(std::abs(by)), by > 0 ? "out" : "in")});
    }
    if (const auto gap = gap_for(document, *finding)) found.push_back({Cure::widen_gap, gap->words});
    for (std::size_t i = 0; finding->clash && i < finding->clash->moves.size(); ++i) {
        if (const auto place = place_for(document, *finding, i)) found.push_back({Cure::move_along, place->words, i});
        if (const auto* by = pipe_move(document, *finding, i)) found.push_back({Cure::move_along, words_of(*by), i});
    }
    return found;
}

Refusal apply_cure(Document& document, std::size_t index, Cure cure, std::size_t move) {
    if (!finding_at(document, index)) return "the finding is no longer there";
    const auto* finding = &advised(document, index);
    if (cure == Cure::widen_gap) {
        const auto gap = gap_for(document, *finding);
        return gap ? widen_gaps(document, *gap) : "no gap that a job file takes would do";
    }
    if (cure == Cure::move_along) {
        if (const auto* by = pipe_move(document, *finding, move))
            return move_pipe(document, by->id, {by->across, by->up, by->out});
        const auto place = place_for(document, *finding, move);
        if (!place) return "no move along the wall puts this right";
        return move_fitting(document, place->fitting, place->across, place->height);
    }
    const auto at = fitting_index(document, finding->subject);
    if (!at) return fmt::format("there is no fitting \"{}\" in the file", finding->subject);
    const std::string base = fmt::format("fittings[{}].", *at);
    if (cure == Cure::fit_item) {
        if (!finding->remedy) return "nothing in stock puts this right";
        return set_value(document, base + "with", toml_string(finding->remedy->item));
    }
    const auto seat = cure == Cure::move_seat ? moved_seat_for(document, *finding) : seat_for(document, *finding);
    if (!seat) return "no depth of the seat puts this right, or it was measured: move it and measure again";
    return set_number(document, base + "seat", *seat);
}

}  // namespace standproud::viewer
