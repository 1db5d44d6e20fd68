#include "joins/limits.hpp"

namespace standproud::joins {

namespace {

constexpr double noise = 1e-7;

void sort_apart(std::vector<double>& numbers) {
    std::sort(numbers.begin(), numbers.end());
    numbers.erase(std::unique(numbers.begin(), numbers.end(), [](double a, double b) { return b - a < 1e-9; }),
                  numbers.end());
}

}  // namespace

Limits::Limits(const Problem& problem, bool keep_rules, bool wettest)
    : problem_(problem),
      keep_rules_(keep_rules),
      wettest_(wettest),
      least_(least_width(problem, keep_rules)),
      symmetrical_(std::find(problem.order.begin(), problem.order.end(), Preference::symmetrical) !=
                   problem.order.end()) {}

/// m pieces between two joins, or between an edge and a join: the least each, or just what a sheet gives m of. Between
/// two joins also what is left for them when a sheet gives all the others. (Of three or four pieces the other choices
/// are seen in `place`.)
void Limits::find_spans(std::size_t joins) {
    const JoinRules& rules = problem_.rules;
    edge_spans_.clear();
    edge_spans_.push_back(least_ + rules.gap);
    const double pieces = static_cast<double>(joins) + 1;
    const double all = problem_.right - problem_.left - static_cast<double>(joins) * rules.gap;  // widths together
    for (double m = 1; m < pieces; ++m) {
        for (const Strip& strip : problem_.strips) {
            edge_spans_.push_back(strip.along - (m - 1) * rules.kerf + m * rules.gap);
        }
    }
    spans_ = edge_spans_;
    for (double m = 1; m <= pieces - 2; ++m) {
        for (const Strip& strip : problem_.strips) {
            spans_.push_back(all - (strip.along - (pieces - m - 1) * rules.kerf) + m * rules.gap);
        }
    }
    for (auto* spans : {&spans_, &edge_spans_}) {
        sort_apart(*spans);
        spans->erase(std::remove_if(spans->begin(), spans->end(),
                                    [&](double s) { return s <= rules.gap || s > problem_.right - problem_.left; }),
                     spans->end());
    }
}

void Limits::find_anchors(std::size_t joins) {
    const double half = problem_.rules.gap / 2;
    const double middle = (problem_.left + problem_.right) / 2;
    anchors_ = {middle};
    for (std::size_t i = 1; i <= joins; ++i) {  // an even division is no limit, but a good place
        anchors_.push_back(problem_.left - half +
                           static_cast<double>(i) * (problem_.right - problem_.left + 2 * half) /
                               (static_cast<double>(joins) + 1));
    }
    if (problem_.align) anchors_.push_back(*problem_.align);
    // The outer edges act as joins whose gap lies outside.
    for (const double span : edge_spans_) {
        anchors_.push_back(problem_.left - half + span);
        anchors_.push_back(problem_.right + half - span);
    }
    if (symmetrical_ && joins > 1) {
        for (const double span : spans_) {
            anchors_.push_back(middle - span / 2);
            anchors_.push_back(middle + span / 2);
        }
        // Places 1 and 3 as far from the ends: then a fixed 1 - 2 + 3 fixes 2.
        for (const Strip& strip : problem_.strips) {
            for (const double sum : fixed_sums(strip)) anchors_.push_back(2 * middle - sum);
        }
    }
    std::vector<double> ends{problem_.left, problem_.right};
    for (const Forbidden& f : problem_.forbidden) {
        if (f.wettest && !wettest_) continue;
        ends.push_back(f.from);
        ends.push_back(f.to);
    }
    std::sort(ends.begin(), ends.end());
    for (std::size_t i = 0; i < ends.size(); ++i) {
        if (keep_rules_) anchors_.push_back(ends[i]);
        // The middle of a free stretch: no limit, but the most room.
        if (keep_rules_ && i > 0) anchors_.push_back((ends[i - 1] + ends[i]) / 2);
    }
    sort_apart(anchors_);
}

std::array<double, 2> Limits::fixed_sums(const Strip& strip) const {
    const double pair = strip.along - problem_.rules.kerf;
    const double gaps = 1.5 * problem_.rules.gap;
    return {pair + problem_.left + gaps, problem_.right - pair - gaps};
}

bool Limits::stands(std::size_t joins, std::size_t join, double at, const std::array<bool, most_pieces - 1>& set,
                    const Places& places) const {
    const JoinRules& rules = problem_.rules;
    const auto check = [&](double from, double to, std::size_t pieces) {
        const double m = static_cast<double>(pieces);
        const double widths = to - from - m * rules.gap;
        return widths >= m * least_ - noise && widths <= m * problem_.widest + noise;
    };
    if (keep_rules_ && !allowed(problem_, at, wettest_)) return false;
    double before = problem_.left - rules.gap / 2;
    std::size_t before_index = 0;  // counts joins from the left edge
    double after = problem_.right + rules.gap / 2;
    std::size_t after_index = joins + 1;
    for (std::size_t i = 0; i < joins; ++i) {
        if (!set[i]) continue;
        if (i < join) {
            before = places.at[i];
            before_index = i + 1;
        } else if (i > join && after_index > i + 1) {
            after = places.at[i];
            after_index = i + 1;
        }
    }
    return check(before, at, join + 1 - before_index) && check(at, after, after_index - join - 1);
}

}  // namespace standproud::joins
