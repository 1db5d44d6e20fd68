#include "judge.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "rules/words.hpp"

namespace standproud::rules {

void Sum::add(const std::string& name, const MaybeLength& length, double sign, const Source& owner) {
    if (!length) {
        missing.push_back(fmt::format("{} ({})", name, to_string(Source{owner.file, owner.line, 0})));
        return;
    }
    if (!length->tolerance) {
        missing.push_back(
            fmt::format("the +/- of {} ({})", name, to_string(Source{length->source.file, length->source.line, 0})));
    }
    terms.push_back({name, sign * length->value, length->tolerance, length->source});
}

void Sum::add(const std::string& name, double value, double tolerance, const Source& source) {
    terms.push_back({name, value, tolerance, source});
}

Band band_of(const std::vector<Term>& terms) {
    Band band;
    double squares = 0;
    for (const auto& term : terms) {
        band.nominal += term.value;
        band.worst += std::abs(term.tolerance.value_or(0));
        squares += term.tolerance.value_or(0) * term.tolerance.value_or(0);
    }
    band.statistical = std::sqrt(squares);
    return band;
}

double half_width(const Band& band, bool statistical) { return statistical ? band.statistical : band.worst; }

double outside_by(double nominal, double half, const Need& need) {
    double out = -1e300;
    if (need.low) out = std::max(out, *need.low - (nominal - half));
    if (need.high) out = std::max(out, nominal + half - *need.high);
    return out;
}

Verdict verdict_of(double nominal, double half, const Need& need) {
    if (outside_by(nominal, half, need) <= same_length) return Verdict::clear;
    return outside_by(nominal, 0, need) <= same_length ? Verdict::tight : Verdict::fails;
}

void judge(Finding& finding, const Sum& sum, const Need& need, bool statistical) {
    finding.terms = sum.terms;
    finding.missing.insert(finding.missing.end(), sum.missing.begin(), sum.missing.end());
    finding.need_low = need.low;
    finding.need_high = need.high;
    const bool every_term = std::none_of(sum.missing.begin(), sum.missing.end(),
                                         [](const auto& name) { return name.rfind("the +/- of", 0) != 0; });
    if (!every_term || sum.terms.empty()) {
        finding.verdict = Verdict::unknown;
        return;
    }
    const Band band = band_of(sum.terms);
    finding.nominal = band.nominal;
    if (!finding.missing.empty()) {
        finding.verdict = Verdict::unknown;
        return;
    }
    const double half = half_width(band, statistical);
    finding.low = band.nominal - half;
    finding.high = band.nominal + half;
    finding.worst_low = band.nominal - band.worst;
    finding.worst_high = band.nominal + band.worst;
    finding.statistical_low = band.nominal - band.statistical;
    finding.statistical_high = band.nominal + band.statistical;
    finding.verdict = verdict_of(band.nominal, half, need);
}

void forget_figures(Finding& finding) {
    finding.verdict = Verdict::unknown;
    for (auto* figure : {&finding.nominal, &finding.low, &finding.high, &finding.worst_low, &finding.worst_high,
                         &finding.statistical_low, &finding.statistical_high})
        figure->reset();
    finding.terms.clear();
}

Finding blank_finding(const Model& model, const PlacedFitting& placed, const std::string& rule) {
    Finding finding;
    finding.rule = rule;
    finding.subject = fitting_of(model, placed).id;
    finding.wall = fitting_of(model, placed).wall;
    finding.trade = type_of(model, placed).trade;
    return finding;
}

std::optional<double> least_of(const MaybeLength& length) {
    return length ? std::optional(length->value + length->tolerance.value_or(0)) : std::nullopt;
}

std::optional<double> most_of(const MaybeLength& length) {
    return length ? std::optional(length->value - length->tolerance.value_or(0)) : std::nullopt;
}

std::string type_source(const FittingType& type) {
    return fmt::format("type {}, {}", type.id, to_string(Source{type.source.file, type.source.line, 0}));
}

std::string limit_source(const Limit& limit) {
    std::string text = fmt::format("{} = {:g} {}: ", limit.name, limit.value, limit.unit);
    if (!limit.overridden) return text + limit.source;
    return text + fmt::format("set by the job at {} in place of {:g} {} ({})",
                              to_string(Source{limit.overridden_at.file, limit.overridden_at.line, 0}), limit.standard,
                              limit.unit, limit.source);
}

void add_face(Sum& sum, const Model& model, const PlacedFitting& placed, double sign, Vec2 offset) {
    for (const auto& at : build_up_at(model.job, model.room, placed.wall, placed.u + offset.x, placed.v + offset.y)) {
        sum.add(at.name, at.thickness, sign, at.source);
        if (at.assumed) {
            sum.missing.push_back(fmt::format("how wall {} leans ({})", model.job.walls[placed.wall].id,
                                              to_string(Source{at.source.file, at.source.line, 0})));
        }
    }
}

void add_seat(ReachCase& reach, const Model& model, const PlacedFitting& placed, const std::string& name, double sign) {
    const Fitting& fitting = fitting_of(model, placed);
    reach.seat_sign = sign;
    if (fitting.seat) reach.seat_term = static_cast<int>(reach.sum.terms.size());
    reach.sum.add(name, fitting.seat, sign, fitting.source);
}

namespace {

std::string needed(const Need& need) {
    if (need.low && need.high) return fmt::format("{} to {} mm needed", mm(*need.low), mm(*need.high));
    if (need.low) return fmt::format("at least {} mm needed", mm(*need.low));
    return fmt::format("at most {} mm allowed", mm(need.high.value_or(0)));
}

std::string numbers(const Finding& f) {
    std::string text = fmt::format("{} {} mm", f.quantity, mm(*f.nominal));
    if (f.low)
        text += fmt::format(" (worst case {} to {}, root-sum-square {} to {})", mm(*f.worst_low), mm(*f.worst_high),
                            mm(*f.statistical_low), mm(*f.statistical_high));
    return text;
}

/// "short by 4 mm", "too much by 2 mm", or how much of the band is out.
std::string missed(const Finding& f, const ReachCase& reach) {
    const Need& need = reach.need;
    if (f.verdict == Verdict::clear) return "";
    const bool tight = f.verdict == Verdict::tight;
    const double low = tight ? *f.low : *f.nominal;
    const double high = tight ? *f.high : *f.nominal;
    std::string text;
    if (need.low && low < *need.low - same_length)
        text = fmt::format("{} {} mm", reach.short_words, mm(*need.low - low));
    if (need.high && high > *need.high + same_length) {
        text += fmt::format("{}{} {} mm", text.empty() ? "" : " and ", reach.over_words, mm(high - *need.high));
    }
    return fmt::format("; {}{}", text, tight ? " at the end of the band" : "");
}

}  // namespace

Finding judged_reach(const Model& model, const PlacedFitting& placed, const ReachCase& reach) {
    Finding finding = blank_finding(model, placed, reach.rule);
    finding.quantity = reach.quantity;
    finding.source = reach.need_source;
    finding.missing = reach.need_missing;
    judge(finding, reach.sum, reach.need, model.job.statistical);
    if (finding.verdict == Verdict::unknown) {
        std::string names;
        for (const auto& name : finding.missing) names += (names.empty() ? "" : "; ") + name;
        finding.says = fmt::format("{} cannot be judged: missing {}", finding.quantity, names);
        if (finding.nominal) finding.says += fmt::format("; nominal {} mm", mm(*finding.nominal));
        finding.action = fmt::format("Find and fill in: {}.", names);
    } else {
        finding.says = fmt::format("{}, {}{}", numbers(finding), needed(reach.need), missed(finding, reach));
    }
    if (placed.v > panel_top(model.job, model.room, placed.wall, placed.u) ||
        placed.v < panel_bottom(model.job, placed.wall)) {
        finding.says += "; off the panels here, so bed and panel are not counted";
    }
    return finding;
}

Finding reach_finding(const Model& model, const PlacedFitting& placed, const ReachCase& reach,
                      const std::vector<ReachCase>& also) {
    Finding finding = judged_reach(model, placed, reach);
    find_remedy(finding, model, placed, reach, also);
    return finding;
}

std::vector<Vec2> hole_places(const FittingType& type) {
    std::vector<Vec2> places;
    for (const auto& hole : type.holes) places.push_back(hole.opening.centre);
    if (places.empty()) places.push_back({0, 0});
    return places;
}

}  // namespace standproud::rules
