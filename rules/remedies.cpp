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

/// A nipple's own thread holds in the wall. Where a taper's length is not given, nothing tells.
bool holds_in_wall(const ReachCase& reach, const StockItem& nipple) {
    // Fitted, a thread of unknown +/- would be judged unknown.
    if (!nipple.thread_length || !nipple.thread_length->tolerance) return !reach.taper;
    return !reach.need.low || *most_of(nipple.thread_length) >= *reach.need.low - same_length;
}

/// The sum and window with an item fitted; nothing when a number of the item, or of the sum itself, is missing.
std::optional<Trial> with_item(const ReachCase& reach, const StockItem& item, bool statistical) {
    if (!item.adds || !item.adds->tolerance) return std::nullopt;
    if (!reach.sum.missing.empty() || !reach.need_missing.empty()) return std::nullopt;
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
        if (!item.socket_depth || !holds_in_wall(reach, item)) return std::nullopt;
        trial.need.high = lesser(most_of(item.socket_depth), reach.thread_high);
    }
    trial.band = band_of(terms);
    trial.out = outside_by(trial.band.nominal, half_width(trial.band, statistical), trial.need);
    return trial;
}

/// The same, as far out as at the hole where it is furthest out; nothing when it cannot be told at one of them.
std::optional<Trial> at_every_hole(const ReachCase& reach, const std::vector<ReachCase>& also, const StockItem& item,
                                   bool statistical) {
    auto trial = with_item(reach, item, statistical);
    for (const auto& other : also) {
        const auto there = with_item(other, item, statistical);
        if (!trial || !there) return std::nullopt;
        trial->out = std::max(trial->out, there->out);
    }
    return trial;
}

struct Choice {
    std::optional<Trial> works;    ///< the smallest that puts the whole band inside
    std::optional<Trial> nearest;  ///< the one that comes nearest
    std::vector<std::string> unjudged;
};

Choice choose(const Model& model, const ReachCase& reach, const std::vector<ReachCase>& also,
              const std::string& connection) {
    Choice choice;
    if (!reach.stock || connection.empty()) return choice;
    for (const auto& item : model.job.stock) {
        if (item.kind != *reach.stock || item.fits != connection) continue;
        const bool nipple_known =
            item.socket_depth && ((item.thread_length && item.thread_length->tolerance) || !reach.taper);
        const bool known = item.adds && item.adds->tolerance && (item.kind != StockItem::Kind::nipple || nipple_known);
        if (!known) choice.unjudged.push_back(item.id);
        const auto trial = at_every_hole(reach, also, item, model.job.statistical);
        if (!trial) continue;
        const auto smaller = [&](const std::optional<Trial>& than) {
            return !than || item.adds->value < than->item->adds->value;
        };
        if (trial->out <= same_length && smaller(choice.works)) choice.works = trial;
        if (!choice.nearest || trial->out < choice.nearest->out) choice.nearest = trial;
    }
    return choice;
}

using Range = std::pair<double, double>;

/// Those of both; nothing when they do not meet.
std::optional<Range> common(const Range& a, const Range& b) {
    const Range both(std::max(a.first, b.first), std::min(a.second, b.second));
    if (both.first > both.second + same_length) return std::nullopt;
    return Range(both.first, std::max(both.first, both.second));
}

/// Seats for which the whole band is inside the window at one spot, if any. `lacks` is what they lack when none is.
std::optional<Range> seats(const ReachCase& reach, const Model& model, double& lacks) {
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
    lacks = std::max(lacks, 2 * half - (*reach.need.high - *reach.need.low));
    if (lacks > same_length) return std::nullopt;
    const double a = seat + reach.seat_sign * (*reach.need.low + half - band.nominal);
    const double b = seat + reach.seat_sign * (*reach.need.high - half - band.nominal);
    return Range(std::min(a, b), std::max(a, b));
}

/// Where the seat of a case is written; nowhere when it is not known.
Source seat_source(const ReachCase& reach) {
    return reach.seat_term < 0 ? Source{} : reach.sum.terms[static_cast<std::size_t>(reach.seat_term)].source;
}

/// Two holes hang on one seat: the body's, or the face of the same timber.
bool same_seat(const ReachCase& a, const ReachCase& b) {
    const Source x = seat_source(a);
    const Source y = seat_source(b);
    return x.file == y.file && x.line == y.line && x.column == y.column;
}

/// At a spot and at those of the others that hang on the same seat.
std::optional<Range> seats(const ReachCase& reach, const std::vector<ReachCase>& also, const Model& model,
                           double& lacks) {
    auto range = seats(reach, model, lacks);
    for (const auto& other : also) {
        if (!same_seat(reach, other)) continue;
        const auto there = seats(other, model, lacks);
        range = range && there ? common(*range, *there) : std::nullopt;
    }
    return range && reach.seat_within ? common(*range, *reach.seat_within) : range;
}

/// Whether every hole that hangs on another seat holds as it is.
bool others_hold(const ReachCase& reach, const std::vector<ReachCase>& also, bool statistical) {
    return std::all_of(also.begin(), also.end(), [&](const ReachCase& other) {
        if (same_seat(reach, other)) return true;
        if (!other.sum.missing.empty() || !other.need_missing.empty()) return false;
        const Band band = band_of(other.sum.terms);
        return outside_by(band.nominal, half_width(band, statistical), other.need) <= same_length;
    });
}

/// From the seat as it is to the nearest one in the range.
std::optional<double> least_move(const ReachCase& reach, Range range) {
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

std::string stock_words(const Choice& choice, const ReachCase& reach, const Finding& finding, bool several) {
    if (finding.remedy) {
        return fmt::format("Fit {} ({}): {} then {} mm ({} to {}).", finding.remedy->name, finding.remedy->item,
                           reach.quantity, mm(finding.remedy->nominal), mm(finding.remedy->low),
                           mm(finding.remedy->high));
    }
    if (!reach.stock || !stock_can_help(finding, reach)) return "";
    std::string text = fmt::format("No stocked {} puts the whole band inside{}", kind_word(*reach.stock),
                                   several ? " at every hole" : "");
    if (choice.nearest) {
        text +=
            fmt::format("; the nearest, {}, leaves it {} mm out", choice.nearest->item->id, mm(choice.nearest->out));
    }
    for (const auto& id : choice.unjudged)
        text += fmt::format("; {} lacks a length, a +/-, a socket depth or a thread length", id);
    return text + ".";
}

/// A shorter screw that would do at every hole.
std::string shorter_screw(const ReachCase& reach, const std::vector<ReachCase>& also, bool statistical) {
    double least = 0;
    double most = 1e300;
    std::vector<ReachCase> cases = also;
    cases.push_back(reach);
    for (const auto& each : cases) {
        if (!each.sum.missing.empty() || !each.need_missing.empty()) return "";
        const Band band = band_of(each.sum.terms);
        const double half = half_width(band, statistical);
        if (each.need.high) least = std::max(least, band.nominal + half - *each.need.high);
        if (each.need.low) most = std::min(most, band.nominal - half - *each.need.low);
    }
    if (least <= same_length) return "";
    least = tenth_up(least);
    most = std::floor(most * 10 + 1e-6) / 10;
    if (least > most) return "No one length of screw does at every hole: have the timber behind them set alike.";
    return fmt::format("Use a screw {} to {} mm shorter.", mm(least), mm(most));
}

/// What to do about the seat; empty when nothing is known to help.
std::string seat_advice(const Finding& finding, const ReachCase& reach, const Model& model,
                        const std::optional<Range>& range, double lacks) {
    if (range) {
        return fmt::format("{} the {} {}.", finding.verdict == Verdict::unknown ? "Set" : "Or set", reach.seat_name,
                           depth_range(*range));
    }
    if (lacks > same_length) {
        return fmt::format(
            "No {} depth holds over the whole band: the band is {} mm wider than the window. Measure or set closer "
            "what is widest in it ({}).",
            reach.seat_name, mm(lacks), widest_term(reach, model));
    }
    if (reach.seat_within && !reach.within_words.empty()) {
        return fmt::format("No depth of the {} suits this and {}.", reach.seat_name, reach.within_words);
    }
    return "";
}

}  // namespace

std::optional<std::pair<double, double>> seats_for(const Model& model, const ReachCase& reach,
                                                   const std::vector<ReachCase>& also) {
    double lacks = 0;
    const auto range = seats(reach, also, model, lacks);
    if (!range && lacks > same_length) return Range(1, 0);
    return range;
}

void find_remedy(Finding& finding, const Model& model, const PlacedFitting& placed, const ReachCase& reach,
                 const std::vector<ReachCase>& also) {
    if (!seat_alone_missing(finding, reach)) return;
    double lacks = 0;
    auto range = seats(reach, also, model, lacks);
    // One seat set right leaves the holes that hang on another as they are.
    if (!others_hold(reach, also, model.job.statistical)) range.reset();
    finding.seat_range = range;
    if (finding.verdict == Verdict::clear) return;
    if (const auto by = range ? least_move(reach, *range) : std::nullopt) {
        finding.move = Move{finding.subject, 0, 0, *by};
    }
    std::string seat_words = seat_advice(finding, reach, model, range, lacks);
    if (finding.verdict == Verdict::unknown) {
        if (!seat_words.empty()) finding.action += " " + seat_words;
        return;
    }
    const Choice choice = choose(model, reach, also, type_of(model, placed).connection);
    if (choice.works) {
        const double half = half_width(choice.works->band, model.job.statistical);
        finding.remedy =
            Remedy{choice.works->item->id,     choice.works->item->name,          choice.works->item->adds->value,
                   choice.works->band.nominal, choice.works->band.nominal - half, choice.works->band.nominal + half};
    }
    const std::string buy = stock_words(choice, reach, finding, !also.empty());
    if (!finding.remedy && range) seat_words = fmt::format("Set the {} {}.", reach.seat_name, depth_range(*range));
    const std::string& first = finding.remedy ? buy : seat_words;
    const std::string& second = finding.remedy ? seat_words : buy;
    finding.action = first + (first.empty() || second.empty() ? "" : " ") + second;
    if (finding.action.empty() && reach.swapped_term >= 0) {
        finding.action = shorter_screw(reach, also, model.job.statistical);
    }
}

}  // namespace standproud::rules
