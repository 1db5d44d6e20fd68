#include "bond/legs.hpp"

#include <algorithm>
#include <cmath>

#include "bond/spans.hpp"

namespace standproud::bond {

namespace {

/// The strip of panel beside a notch, as far as the panel's edge or the next notch.
struct Leg {
    double left = 0;  ///< where it is narrowest
    double right = 0;
    Span up;
};

/// A convex piece of panel as a leg.
Leg as_leg(const Polygon& piece) {
    const auto e = extent(Profile(piece));
    Leg leg{e[0], e[1], {e[2], e[3]}};
    const auto& p = piece.points;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vec2& next = p[(i + 1) % p.size()];
        const Vec2 along = next - p[i];
        if (std::abs(along.x) >= std::abs(along.y)) continue;
        if (along.y > 0)
            leg.right = std::min({leg.right, p[i].x, next.x});
        else
            leg.left = std::max({leg.left, p[i].x, next.x});
    }
    return leg;
}

class Legs {
  public:
    Legs(const Polygon& outline, const std::vector<RoundedRect>& notches, const BondRules& rules,
         const Polygon& bead_area, PanelBond& bond)
        : outline_(outline), notches_(notches), rules_(rules), bead_area_(bead_area), bond_(bond) {}

    void run() {
        for (const Leg& leg : legs()) lay_leg(leg);
    }

  private:
    /// The leg on one side of a notch between two heights at which no other notch ends; `way` is -1 to its left, +1 to
    /// its right.
    [[nodiscard]] Leg leg_beside(const RoundedRect& notch, double way, const Span& up) const {
        const auto edge = [&](const RoundedRect& of, double side) { return of.centre.x + side * of.half_width; };
        Polygon piece = clipped(outline_, {0, 1}, up.first);
        piece = clipped(piece, {0, -1}, -up.second);
        piece = clipped(piece, {way, 0}, way * edge(notch, way));
        for (const RoundedRect& other : notches_) {
            const bool beside = other.centre.y - other.half_height < (up.first + up.second) / 2 &&
                                other.centre.y + other.half_height > (up.first + up.second) / 2;
            if (beside && way * edge(other, way) > way * edge(notch, way))
                piece = clipped(piece, {-way, 0}, -way * edge(other, -way));
        }
        return piece.points.size() < 3 ? Leg{} : as_leg(piece);
    }

    /// All of them, each once.
    [[nodiscard]] std::vector<Leg> legs() const {
        std::vector<Leg> found;
        const auto e = extent(Profile(outline_));
        for (const RoundedRect& notch : notches_) {
            const Span whole{std::max(notch.centre.y - notch.half_height, e[2]),
                             std::min(notch.centre.y + notch.half_height, e[3])};
            std::vector<double> ends{whole.first, whole.second};
            for (const RoundedRect& other : notches_) {
                for (const double y : {other.centre.y - other.half_height, other.centre.y + other.half_height}) {
                    if (y > whole.first && y < whole.second) ends.push_back(y);
                }
            }
            std::sort(ends.begin(), ends.end());
            for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
                for (const double way : {-1.0, 1.0}) {
                    const Leg leg = leg_beside(notch, way, {ends[i], ends[i + 1]});
                    const bool again = std::any_of(found.begin(), found.end(), [&](const Leg& known) {
                        return std::abs(known.left - leg.left) < same_length &&
                               std::abs(known.up.first - leg.up.first) < same_length;
                    });
                    const double high = leg.up.second - leg.up.first;
                    if (!again && leg.right - leg.left > rules_.bead && high >= rules_.tape_shortest)
                        found.push_back(leg);
                }
            }
        }
        return found;
    }

    /// The heights of a leg at which no adhesive is: all of it, or more than a whole wave, which would have come by.
    [[nodiscard]] std::vector<Span> dry_stretches(const Leg& leg) const {
        std::vector<Span> wet;
        const auto in_leg = [&](Vec2 p) { return p.x > leg.left && p.x < leg.right; };
        for (const Bead& bead : bond_.beads) {
            for (std::size_t i = 0; i + 1 < bead.path.size(); ++i) {
                if (!in_leg(bead.path[i]) || !in_leg(bead.path[i + 1])) continue;
                wet.push_back(std::minmax(bead.path[i].y, bead.path[i + 1].y));
            }
        }
        for (const Ring& ring : bond_.rings) {
            if (in_leg(ring.path.centre))
                wet.emplace_back(ring.path.centre.y - ring.path.half_height,
                                 ring.path.centre.y + ring.path.half_height);
        }
        std::vector<Span> dry = without(leg.up, wet);
        const double least = std::min(rules_.wave_length, leg.up.second - leg.up.first) - same_length;
        std::erase_if(dry, [&](const Span& s) { return s.second - s.first < std::max(least, rules_.tape_shortest); });
        return dry;
    }

    void lay_leg(const Leg& leg) {
        for (const Span& stretch : dry_stretches(leg)) {
            std::vector<Span> tapes;
            bool taped = false;  // by more than the end of a bit
            for (const TapeStrip& tape : bond_.tape) {
                const double half = rules_.tape_width / 2;
                const double beside = std::min(tape.to, stretch.second) - std::max(tape.from, stretch.first);
                if (tape.x + half <= leg.left || tape.x - half >= leg.right || beside <= 0) continue;
                tapes.emplace_back(tape.x - half, tape.x + half);
                taped = taped || beside >= rules_.tape_shortest;
            }
            bool laid = false;
            for (const Span& between : without({leg.left, leg.right}, tapes))
                laid = (taped && lay_straight(between, stretch)) || laid;
            if (!laid) bond_.dry.push_back({leg.left, leg.right, stretch.first, stretch.second, taped});
        }
    }

    /// A straight bead in the middle between two uprights, as high as it may be; whether one fits.
    bool lay_straight(const Span& between, const Span& up) {
        if (between.second - between.first < 2 * rules_.bead_clear + rules_.bead - same_length) return false;
        const double x = (between.first + between.second) / 2;
        if (bead_area_.points.size() < 3) return false;
        // A hair inside the area, so that its own outer edges count.
        const Span room = upright_span(bead_area_, x + (x < centroid(bead_area_).x ? 1e-6 : -1e-6));
        std::vector<Span> blocked;
        for (const Ring& ring : bond_.rings) {
            const double reach = reach_at(grown(ring.path, rules_.bead + rules_.bead_clear), x, x);
            if (reach > 0) blocked.emplace_back(ring.path.centre.y - reach, ring.path.centre.y + reach);
        }
        bool laid = false;
        for (const Span& s : without({std::max(room.first, up.first), std::min(room.second, up.second)}, blocked)) {
            if (s.second - s.first < rules_.tape_shortest) continue;
            bond_.beads.push_back({{{x, s.first}, {x, s.second}}, s.second - s.first, 0, true});
            laid = true;
        }
        return laid;
    }

    const Polygon& outline_;
    const std::vector<RoundedRect>& notches_;
    const BondRules& rules_;
    const Polygon& bead_area_;
    PanelBond& bond_;
};

}  // namespace

void glue_legs(const Polygon& outline, const std::vector<RoundedRect>& notches, const BondRules& rules,
               const Polygon& bead_area, PanelBond& bond) {
    Legs(outline, notches, rules, bead_area, bond).run();
}

}  // namespace standproud::bond
