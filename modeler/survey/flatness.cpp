#include "modeler/flatness.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace standproud {

namespace {

/// The readings in order, one a place; empty when they say nothing.
std::vector<LineReading> profile_of(std::vector<LineReading> readings) {
    for (const auto& r : readings) {
        if (!std::isfinite(r.along) || !std::isfinite(r.off)) return {};
    }
    std::sort(readings.begin(), readings.end(), [](const LineReading& a, const LineReading& b) {
        return a.along < b.along || (a.along == b.along && a.off < b.off);
    });
    std::vector<LineReading> profile;
    for (std::size_t i = 0; i < readings.size();) {
        const std::size_t first = i;
        double sum = 0;
        for (; i < readings.size() && readings[i].along <= readings[first].along + same_length; ++i) {
            sum += readings[i].off;
        }
        profile.push_back({readings[first].along, sum / static_cast<double>(i - first)});
    }
    if (profile.size() < 2) profile.clear();
    return profile;
}

/// The joined readings at a place between the first and the last.
class Joined {
  public:
    explicit Joined(const std::vector<LineReading>& profile) : profile_(profile) {}

    [[nodiscard]] std::size_t piece(double x) const {
        const auto after = std::upper_bound(profile_.begin(), profile_.end(), x,
                                            [](double at, const LineReading& r) { return at < r.along; });
        const auto index = static_cast<std::size_t>(after - profile_.begin());
        return std::clamp<std::size_t>(index, 1, profile_.size() - 1) - 1;
    }
    [[nodiscard]] double slope(std::size_t piece) const {
        return (profile_[piece + 1].off - profile_[piece].off) / (profile_[piece + 1].along - profile_[piece].along);
    }
    [[nodiscard]] double at(double x) const {
        const std::size_t i = piece(x);
        return profile_[i].off + slope(i) * (x - profile_[i].along);
    }

  private:
    const std::vector<LineReading>& profile_;
};

/// Height over the face, at one reading, of a straight line between two places on it.
struct Chord {
    double from = 0;
    double from_off = 0;
    double to = 0;
    double to_off = 0;

    [[nodiscard]] double over(const LineReading& r) const {
        return from_off + (r.along - from) / (to - from) * (to_off - from_off) - r.off;
    }
};

/// Calls judge(chord, reading) for every way of laying a straightedge with both ends on the joined readings, exactly
/// `length` apart, that can be the worst for a reading between them. While each end stays on one piece, the height over
/// a reading is quadratic in the place, so the worst is where an end meets a reading or at the quadratic's turn.
template <class Judge>
void lay_everywhere(const std::vector<LineReading>& profile, double length, Judge judge) {
    const Joined face(profile);
    const double first = profile.front().along;
    const double last = profile.back().along - length;
    std::vector<double> meets{first, last};
    for (const auto& r : profile) {
        for (const double x : {r.along, r.along - length}) {
            if (x > first && x < last) meets.push_back(x);
        }
    }
    std::sort(meets.begin(), meets.end());
    const auto lay = [&](double x, const LineReading& r) {
        if (r.along > x && r.along < x + length) judge(Chord{x, face.at(x), x + length, face.at(x + length)}, r);
    };
    for (std::size_t k = 0; k < meets.size(); ++k) {
        for (const auto& r : profile) lay(meets[k], r);
        if (k + 1 == meets.size() || meets[k + 1] - meets[k] < same_length) continue;
        const double c = (meets[k] + meets[k + 1]) / 2;
        const double left_slope = face.slope(face.piece(c));
        const double right_slope = face.slope(face.piece(c + length));
        const double bend = right_slope - left_slope;
        if (bend == 0) continue;
        const double rise = face.at(c + length) - face.at(c);
        for (const auto& r : profile) {
            const double turn = (r.along + c) / 2 - (rise - left_slope * length) / (2 * bend);
            if (turn > meets[k] && turn < meets[k + 1]) lay(turn, r);
        }
    }
}

bool usable(const std::vector<LineReading>& profile, double length) {
    return !profile.empty() && std::isfinite(length) && length > same_length;
}

}  // namespace

std::optional<Straightedge> resting_gap(std::vector<LineReading> readings, double length) {
    const std::vector<LineReading> profile = profile_of(std::move(readings));
    if (!usable(profile, length)) return std::nullopt;
    const double span = profile.back().along - profile.front().along;
    Straightedge worst{0, profile.front().along, profile.front().along, profile.front().along + std::min(length, span),
                       false};
    const auto judge = [&](const Chord& chord, const LineReading& r) {
        const double gap = chord.over(r);
        if (gap > worst.gap) worst = {gap, r.along, chord.from, chord.to, false};
    };
    // The highest line over a reading between two spots no farther apart than the straightedge touches no face between
    // them. With one spot held, that height turns nowhere while the other moves along a piece.
    for (std::size_t i = 0; i < profile.size(); ++i) {
        for (std::size_t k = i + 2; k < profile.size(); ++k) {
            if (profile[k].along - profile[i].along > length + same_length) break;
            const Chord chord{profile[i].along, profile[i].off, profile[k].along, profile[k].off};
            for (std::size_t j = i + 1; j < k; ++j) judge(chord, profile[j]);
        }
    }
    if (length < span) lay_everywhere(profile, length, judge);
    return worst;
}

std::optional<Straightedge> blocks_gap(std::vector<LineReading> readings, double length) {
    const std::vector<LineReading> profile = profile_of(std::move(readings));
    if (!usable(profile, length)) return std::nullopt;
    const double laid = std::min(length, profile.back().along - profile.front().along);
    Straightedge worst{0, profile.front().along, profile.front().along, profile.front().along + laid, false};
    lay_everywhere(profile, laid, [&](const Chord& chord, const LineReading& r) {
        const double over = chord.over(r);
        if (std::abs(over) > worst.gap) worst = {std::abs(over), r.along, chord.from, chord.to, over < 0};
    });
    return worst;
}

std::vector<FaceLine> lines_across(const std::vector<WallPoint>& spots, double within) {
    std::vector<FaceLine> lines;
    std::set<std::vector<std::size_t>> seen;
    for (std::size_t i = 0; i < spots.size(); ++i) {
        for (std::size_t j = i + 1; j < spots.size(); ++j) {
            const Vec2 start{spots[i].u, spots[i].v};
            const Vec2 between = Vec2{spots[j].u, spots[j].v} - start;
            if (norm(between) <= same_length) continue;
            Vec2 direction = 1 / norm(between) * between;
            if (direction.x < -same_length || (direction.x < same_length && direction.y < 0))
                direction = -1 * direction;
            std::vector<std::pair<double, std::size_t>> on;
            for (std::size_t k = 0; k < spots.size(); ++k) {
                const Vec2 to = Vec2{spots[k].u, spots[k].v} - start;
                if (std::abs(cross(direction, to)) <= within + same_length) on.emplace_back(dot(direction, to), k);
            }
            std::sort(on.begin(), on.end());
            std::size_t places = 0;
            FaceLine line;
            for (std::size_t k = 0; k < on.size(); ++k) {
                if (k == 0 || on[k].first > on[k - 1].first + same_length) ++places;
                line.spots.push_back(on[k].second);
                line.readings.push_back({on[k].first - on.front().first, spots[on[k].second].n});
            }
            if (places < 3 || !seen.insert(line.spots).second) continue;
            line.start = spots[line.spots.front()];
            line.direction = direction;
            lines.push_back(std::move(line));
        }
    }
    return lines;
}

std::vector<OutOfPlumb> plumb_pairs(const std::vector<WallPoint>& spots, double within) {
    std::vector<OutOfPlumb> pairs;
    for (std::size_t i = 0; i < spots.size(); ++i) {
        for (std::size_t j = i + 1; j < spots.size(); ++j) {
            const double rise = spots[j].v - spots[i].v;
            if (std::abs(spots[j].u - spots[i].u) > within + same_length || std::abs(rise) <= same_length) continue;
            const std::size_t lower = rise > 0 ? i : j;
            const std::size_t upper = rise > 0 ? j : i;
            const double offset = spots[upper].n - spots[lower].n;
            pairs.push_back({std::abs(offset), std::abs(rise), offset > 0, lower, upper});
        }
    }
    return pairs;
}

std::optional<OutOfPlumb> most_out_of_plumb(const std::vector<WallPoint>& spots, double within) {
    const std::vector<OutOfPlumb> pairs = plumb_pairs(spots, within);
    if (pairs.empty()) return std::nullopt;
    return *std::max_element(pairs.begin(), pairs.end(),
                             [](const OutOfPlumb& a, const OutOfPlumb& b) { return a.offset < b.offset; });
}

}  // namespace standproud
