// What would put a depth right: the smallest stocked item, and the range of seats.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "judge.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

struct Trial {
    const StockItem* item = nullptr;
    Band band;
    Need need;
    double out = 0;  ///< how far the band is outside with it
};

/// The sum and window with an item fitted; nothing when a number of the item is missing.
std::optional<Trial> with_item(const ReachCase& reach, const StockItem& item, bool statistical) {
    if (!item.adds || !item.adds->tolerance) return std::nullopt;
    Trial trial{&item, {}, reach.need, 0};
    std::vector<Term> terms = reach.sum.terms;
    if (reach.swapped_term >= 0) {
        Term& screw = terms[static_cast<std::size_t>(reach.swapped_term)];
        if (item.adds->value <= std::abs(screw.value)) return std::nullopt;  // only longer ones reach further
        screw.value = item.adds->value;
        screw.tolerance = item.adds->tolerance;
    } else {
        terms.push_back({item.name, reach.stock_sign * item.adds->value, item.adds->tolerance, item.adds->source});
    }
    if (item.kind == StockItem::Kind::nipple) {
        if (!item.socket_depth) return std::nullopt;
        trial.need.high = most_of(item.socket_depth);
    }
    trial.band = band_of(terms);
    trial.out = outside_by(trial.band.nominal, half_width(trial.band, statistical), trial.need);
    return trial;
}

struct Choice {
    std::optional<Trial> works;    ///< the smallest that puts the whole band inside
    std::optional<Trial> nearest;  ///< the one that comes nearest
    std::vector<std::string> unjudged;
};

Choice choose(const Model& model, const ReachCase& reach, const std::string& connection) {
    Choice choice;
    if (!reach.stock || connection.empty()) return choice;
    for (const auto& item : model.job.stock) {
        if (item.kind != *reach.stock || item.fits != connection) continue;
        const bool known =
            item.adds && item.adds->tolerance && (item.kind != StockItem::Kind::nipple || item.socket_depth);
        if (!known) choice.unjudged.push_back(item.id);
        const auto trial = with_item(reach, item, model.job.statistical);
        if (!trial) continue;
        const auto smaller = [&](const std::optional<Trial>& than) {
            return !than || item.adds->value < than->item->adds->value;
        };
        if (trial->out <= same_length && smaller(choice.works)) choice.works = trial;
        if (!choice.nearest || trial->out < choice.nearest->out) choice.nearest = trial;
    }
    return choice;
}

/// Seats for which the whole band is inside the window, if any. `width` is what they lack when none is.
std::optional<std::pair<double, double>> seats(const ReachCase& reach, const Model& model, double& lacks) {
    if (!reach.need.low || !reach.need.high) return std::nullopt;
    std::vector<Term> terms = reach.sum.terms;
    double seat = 0;
    if (reach.seat_term >= 0) {
        Term& term = terms[static_cast<std::size_t>(reach.seat_term)];
        if (!term.tolerance) return std::nullopt;
        seat = reach.seat_sign * term.value;
    } else {
        if (!model.job.seat_tolerance) return std::nullopt;
        terms.push_back({reach.seat_name, 0, model.job.seat_tolerance, {}});
    }
    const Band band = band_of(terms);
    const double half = half_width(band, model.job.statistical);
    lacks = 2 * half - (*reach.need.high - *reach.need.low);
    if (lacks > same_length) return std::nullopt;
    const double a = seat + reach.seat_sign * (*reach.need.low + half - band.nominal);
    const double b = seat + reach.seat_sign * (*reach.need.high - half - band.nominal);
    std::pair range(std::min(a, b), std::max(a, b));
    if (reach.seat_within) {
        range = {std::max(range.first, reach.seat_within->first), std::min(range.second, reach.seat_within->second)};
        if (range.first > range.second + same_length) return std::nullopt;
        range.second = std::max(range.first, range.second);
    }
    return range;
}

/// From the seat as it is to the nearest one in the range.
std::optional<double> least_move(const ReachCase& reach, std::pair<double, double> range) {
    if (reach.seat_term < 0) return std::nullopt;
    const double seat = reach.seat_sign * reach.sum.terms[static_cast<std::size_t>(reach.seat_term)].value;
    if (seat >= range.first - same_length && seat <= range.second + same_length) return std::nullopt;
    const bool out = seat < range.first;
    const double end = out ? range.first : range.second;
    for (const double step : {1.0, 0.1}) {
        const double steps = (end - seat) / step;
        const double by = std::round((out ? std::ceil(steps - 1e-6) : std::floor(steps + 1e-6)) * step * 10) / 10;
        if (seat + by >= range.first - 1e-6 && seat + by <= range.second + 1e-6) return by;
    }
    return end - seat;
}

/// What to measure or set closer when no depth works: the term with the widest +/-.
std::string widest_term(const ReachCase& reach, const Model& model) {
    std::string name = reach.seat_term < 0 ? reach.seat_name : "";
    double widest = reach.seat_term < 0 ? model.job.seat_tolerance.value_or(0) : 0;
    for (const auto& term : reach.sum.terms) {
        if (term.tolerance.value_or(0) <= widest) continue;
        widest = *term.tolerance;
        name = term.name;
    }
    return fmt::format("{}, +/- {} mm", name, mm(widest));
}

/// A stocked item moves the band one way only.
bool stock_can_help(const Finding& finding, const ReachCase& reach) {
    if (!finding.low || !finding.high) return false;
    if (reach.stock_sign > 0) return reach.need.low && *finding.low < *reach.need.low - same_length;
    return reach.need.high && *finding.high > *reach.need.high + same_length;
}

/// Everything known but, at most, the seat itself.
bool seat_alone_missing(const Finding& finding, const ReachCase& reach) {
    if (finding.missing.empty()) return true;
    return finding.missing.size() == 1 && reach.seat_term < 0 && finding.missing.front().rfind(reach.seat_name, 0) == 0;
}

std::string kind_word(StockItem::Kind kind) {
    switch (kind) {
        case StockItem::Kind::extension:
            return "extension";
        case StockItem::Kind::kit:
            return "extension kit";
        case StockItem::Kind::nipple:
            return "nipple";
        case StockItem::Kind::screw:
            return "longer screw";
    }
    return {};
}

std::string stock_words(const Choice& choice, const ReachCase& reach, const Finding& finding) {
    if (finding.remedy) {
        return fmt::format("Fit {} ({}): {} then {} mm ({} to {}).", finding.remedy->name, finding.remedy->item,
                           reach.quantity, mm(finding.remedy->nominal), mm(finding.remedy->low),
                           mm(finding.remedy->high));
    }
    if (!reach.stock || !stock_can_help(finding, reach)) return "";
    std::string text = fmt::format("No stocked {} puts the whole band inside", kind_word(*reach.stock));
    if (choice.nearest) {
        text +=
            fmt::format("; the nearest, {}, leaves it {} mm out", choice.nearest->item->id, mm(choice.nearest->out));
    }
    for (const auto& id : choice.unjudged) text += fmt::format("; {} lacks a length, a +/- or a socket depth", id);
    return text + ".";
}

}  // namespace

void find_remedy(Finding& finding, const Model& model, const PlacedFitting& placed, const ReachCase& reach) {
    if (!seat_alone_missing(finding, reach)) return;
    double lacks = 0;
    const auto range = seats(reach, model, lacks);
    finding.seat_range = range;
    if (finding.verdict == Verdict::clear) return;
    if (const auto by = range ? least_move(reach, *range) : std::nullopt) {
        finding.move = Move{finding.subject, 0, 0, *by};
    }
    std::string seat_words;
    if (range) {
        seat_words = fmt::format("{} the {} {}.", finding.verdict == Verdict::unknown ? "Set" : "Or set",
                                 reach.seat_name, depth_range(*range));
    } else if (lacks > same_length) {
        seat_words = fmt::format(
            "No {} depth holds over the whole band: the band is {} mm wider than the window. Measure or set closer "
            "what is widest in it ({}).",
            reach.seat_name, mm(lacks), widest_term(reach, model));
    }
    if (finding.verdict == Verdict::unknown) {
        if (!seat_words.empty()) finding.action += " " + seat_words;
        return;
    }
    const Choice choice = choose(model, reach, type_of(model, placed).connection);
    if (choice.works) {
        const double half = half_width(choice.works->band, model.job.statistical);
        finding.remedy =
            Remedy{choice.works->item->id,     choice.works->item->name,          choice.works->item->adds->value,
                   choice.works->band.nominal, choice.works->band.nominal - half, choice.works->band.nominal + half};
    }
    const std::string buy = stock_words(choice, reach, finding);
    if (!finding.remedy && range) seat_words = fmt::format("Set the {} {}.", reach.seat_name, depth_range(*range));
    const std::string& first = finding.remedy ? buy : seat_words;
    const std::string& second = finding.remedy ? seat_words : buy;
    finding.action = first + (first.empty() || second.empty() ? "" : " ") + second;
    const bool over = finding.high && reach.need.high && *finding.high > *reach.need.high + same_length;
    if (finding.action.empty() && reach.swapped_term >= 0 && over) {
        finding.action = fmt::format("Use a screw at least {} mm shorter.",
                                     mm(std::ceil((*finding.high - *reach.need.high) * 10 - 1e-6) / 10));
    }
}

}  // namespace standproud::rules
