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
      symmetrical_(std::find(problem.order.begin(), problem.order.end(), Preference::symmetrical) !=
                   problem.order.end()) {}

/// m pieces between two joins: the least each, or just what a sheet gives m of, or what it leaves for them when it
/// gives all the others.
void Limits::find_spans(std::size_t joins) {
    const JoinRules& rules = problem_.rules;
    spans_.clear();
    if (keep_rules_) spans_.push_back(rules.least_piece + rules.gap);
    const double pieces = static_cast<double>(joins) + 1;
    const double all = problem_.right - problem_.left - static_cast<double>(joins) * rules.gap;  // widths together
    for (double m = 1; m <= pieces; ++m) {
        for (const Strip& strip : problem_.strips) {
            spans_.push_back(strip.along - (m - 1) * rules.kerf + m * rules.gap);
            // The other pieces, or some of them, fill a sheet.
            for (double others = 1; others <= pieces - m; ++others) {
                spans_.push_back(all - (strip.along - (others - 1) * rules.kerf) + m * rules.gap);
            }
        }
    }
    sort_apart(spans_);
    spans_.erase(std::remove_if(spans_.begin(), spans_.end(),
                                [&](double s) { return s <= rules.gap || s > problem_.right - problem_.left; }),
                 spans_.end());
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
    for (const double span : spans_) {
        anchors_.push_back(problem_.left - half + span);
        anchors_.push_back(problem_.right + half - span);
        if (!symmetrical_) continue;
        anchors_.push_back(middle - span / 2);
        anchors_.push_back(middle + span / 2);
        for (const double second : spans_) {
            if (joins < 3) break;
            anchors_.push_back(middle - (span + second) / 2);
            anchors_.push_back(middle + (span + second) / 2);
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

bool Limits::stands(std::size_t joins, std::size_t join, double at, const std::array<bool, most_pieces - 1>& set,
                    const Places& places) const {
    const JoinRules& rules = problem_.rules;
    const double least = keep_rules_ ? rules.least_piece : 0;
    const auto check = [&](double from, double to, std::size_t pieces) {
        const double m = static_cast<double>(pieces);
        const double widths = to - from - m * rules.gap;
        return widths >= m * least - noise && widths <= m * problem_.widest + noise && widths > 0;
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
