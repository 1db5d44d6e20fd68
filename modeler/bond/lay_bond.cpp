// Tape, beads, rings and spacers on the rear of a panel.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "bond/legs.hpp"
#include "bond/spans.hpp"
#include "modeler/bond.hpp"
#include "modeler/cut_away.hpp"

namespace standproud::bond {

namespace {

double perimeter(const RoundedRect& s) {
    return 4 * (s.half_width - s.radius) + 4 * (s.half_height - s.radius) + 2 * pi * s.radius;
}

class Layer {
  public:
    Layer(const Polygon& outline, const std::vector<RoundedRect>& holes, const std::vector<RoundedRect>& notches,
          const BondRules& rules)
        : outline_(outline),
          holes_(holes),
          notches_(notches),
          rules_(rules),
          tape_area_(inset(outline, rules.tape_inset)),
          bead_area_(inset(outline, rules.bead_clear + rules.bead / 2)) {}

    PanelBond run() {
        place_strips();
        for (std::size_t i = 0; i < strips_.size(); ++i) lay_strip(i);
        for (const RoundedRect& notch : notches_) lay_beside(notch, rules_.tape_inset);
        for (const RoundedRect& hole : holes_) {
            if (2 * hole.half_height > rules_.tape_spacing) lay_beside(hole, rules_.tape_clear);
        }
        lay_rings();
        for (std::size_t i = 0; i + 1 < strips_.size(); ++i) lay_lane(i);
        glue_legs(outline_, notches_, rules_, bead_area_, bond_);
        lay_spacers();
        add_up();
        return std::move(bond_);
    }

  private:
    struct Strip {
        double x = 0;
        double moved = 0;
    };

    /// How far up a strip with its middle at x runs within the tape's area, holes not counted.
    [[nodiscard]] Span strip_span(double x) const {
        const double half = rules_.tape_width / 2;
        Span whole{-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
        // A hair inside the area, so that its own outer edges count.
        for (const double side : {x - half + 1e-6, x + half - 1e-6}) {
            const Span s = upright_span(tape_area_, side);
            whole = {std::max(whole.first, s.first), std::min(whole.second, s.second)};
        }
        return whole;
    }

    /// The outermost place of a strip that runs up the panel. At an edge that leans it is in from its outer end: up to
    /// 15 mm where the strip then runs as far as one further in, else until no more than a twentieth is lost. `way` is
    /// +1 from the left, -1 from the right.
    [[nodiscard]] double end_place(double outermost, double way, double reach) const {
        const auto length = [&](double in) {
            const Span span = strip_span(outermost + way * in);
            return span.second - span.first;
        };
        const auto least_in = [&](double wanted) {
            if (length(0) >= wanted) return 0.0;
            Span in{0, reach};  // too short at its first, long enough at its second
            for (int i = 0; i < 60; ++i) {
                const double middle = (in.first + in.second) / 2;
                (length(middle) >= wanted ? in.second : in.first) = middle;
            }
            return in.second;
        };
        const double whole = least_in(length(reach) - 0.01);
        return outermost + way * (whole <= 15 ? whole : least_in(0.95 * length(reach)));
    }

    void place_strips() {
        const auto e = extent(Profile(tape_area_));
        const double room = std::max(0.0, e[1] - e[0] - rules_.tape_width);
        const double reach = std::min(rules_.tape_spacing, room) / 3;
        const double first = end_place(e[0] + rules_.tape_width / 2, 1, reach);
        const double last = end_place(e[1] - rules_.tape_width / 2, -1, reach);
        const double span = std::max(0.0, last - first);
        const int lanes = std::max(1, static_cast<int>(std::ceil(span / rules_.tape_spacing - same_length)));
        for (int i = 0; i <= lanes; ++i) {
            const double x = first + span * i / lanes;
            strips_.push_back(moved_clear(x, first, first + span));
        }
        keep_apart();
    }

    /// Strips that moved onto each other are put back, and broken instead.
    void keep_apart() {
        for (bool again = true; again;) {
            again = false;
            for (std::size_t i = 0; i + 1 < strips_.size(); ++i) {
                Strip& a = strips_[i];
                Strip& b = strips_[i + 1];
                if (b.x - a.x >= 2 * rules_.tape_width || (a.moved == 0 && b.moved == 0)) continue;
                a = {a.x - a.moved, 0};
                b = {b.x - b.moved, 0};
                again = true;
            }
        }
    }

    /// The nearest place where no hole touches the strip, if it is near enough.
    [[nodiscard]] Strip moved_clear(double x, double least, double most) const {
        std::vector<double> tries{x};
        const double beside = rules_.tape_clear + rules_.tape_width / 2;
        for (const RoundedRect& hole : holes_) {
            tries.push_back(hole.centre.x - hole.half_width - beside);
            tries.push_back(hole.centre.x + hole.half_width + beside);
        }
        Strip best{x, 0};
        double nearest = std::numeric_limits<double>::infinity();
        for (const double at : tries) {
            const double away = std::abs(at - x);
            if (away > rules_.tape_shift_most || away >= nearest || at < least || at > most) continue;
            const bool free = std::all_of(holes_.begin(), holes_.end(), [&](const RoundedRect& hole) {
                return std::abs(at - hole.centre.x) >= hole.half_width + beside - same_length;
            });
            if (!free) continue;
            nearest = away;
            best = {at, at - x};
        }
        return best;
    }

    void lay_strip(std::size_t index) {
        const double x = strips_[index].x;
        lay_bits(x, strip_span(x), index, strips_[index].moved);
    }

    /// Strips along the upright sides of what is as high as strips are apart: the panel ends there, too. None where a
    /// strip is near anyway.
    void lay_beside(const RoundedRect& cut, double clear) {
        for (const double way : {-1.0, 1.0}) {
            const double x = cut.centre.x + way * (cut.half_width + clear + rules_.tape_width / 2);
            const Span room = strip_span(x);
            const Span whole{std::max(room.first, cut.centre.y - cut.half_height),
                             std::min(room.second, cut.centre.y + cut.half_height)};
            const bool near = std::any_of(bond_.tape.begin(), bond_.tape.end(), [&](const TapeStrip& t) {
                return std::abs(t.x - x) < rules_.tape_spacing / 3 && t.from < whole.second && t.to > whole.first;
            });
            if (!near && whole.second > whole.first) lay_bits(x, whole, strips_.size() + beside_++, 0);
        }
    }

    void lay_bits(double x, const Span& whole, std::size_t index, double moved) {
        const double half = rules_.tape_width / 2;
        std::vector<Span> blocked;
        const auto block = [&](const RoundedRect& shape, double clear) {
            const double reach = reach_at(grown(shape, clear), x - half + 1e-6, x + half - 1e-6);
            if (reach > 0) blocked.emplace_back(shape.centre.y - reach, shape.centre.y + reach);
        };
        for (const RoundedRect& hole : holes_) block(hole, rules_.tape_clear);
        for (const RoundedRect& notch : notches_) block(notch, rules_.tape_inset);
        std::sort(blocked.begin(), blocked.end());
        double from = whole.first;
        const auto add = [&](double to) {
            if (to - from >= rules_.tape_shortest) bond_.tape.push_back({x, from, to, index, moved});
        };
        for (const Span& b : blocked) {
            add(std::min(b.first, whole.second));
            from = std::max(from, b.second);
        }
        add(whole.second);
    }

    void lay_rings() {
        for (std::size_t i = 0; i < holes_.size(); ++i) {
            const double room = margin_inside(holes_[i], outline_) / 2;  // the ring in the middle of what is left
            const double offset = std::min(rules_.ring_offset, std::max(0.0, room));
            const RoundedRect path = grown(holes_[i], offset);
            bond_.rings.push_back({i, path, perimeter(path), offset < rules_.ring_offset - same_length});
        }
    }

    [[nodiscard]] bool bead_may_be(Vec2 p) const {
        const RoundedRect spot = RoundedRect::circle(p, 0);
        if (bead_area_.points.size() < 3 || margin_inside(spot, bead_area_) < -same_length) return false;
        const double off = rules_.bead_clear + (rules_.bead + rules_.tape_width) / 2;
        for (const TapeStrip& tape : bond_.tape) {
            // Lanes lie between the others already.
            const bool beside = tape.strip >= strips_.size() && std::abs(tape.x - p.x) < off;
            if (beside && p.y > tape.from - rules_.bead_clear && p.y < tape.to + rules_.bead_clear) return false;
        }
        const bool at_notch = std::any_of(notches_.begin(), notches_.end(), [&](const RoundedRect& notch) {
            return inside(grown(notch, rules_.bead_clear + rules_.bead / 2), p);
        });
        return !at_notch && std::none_of(bond_.rings.begin(), bond_.rings.end(), [&](const Ring& ring) {
            return inside(grown(ring.path, rules_.bead + rules_.bead_clear), p);
        });
    }

    void lay_lane(std::size_t lane) {
        const double left = strips_[lane].x + rules_.tape_width / 2;
        const double right = strips_[lane + 1].x - rules_.tape_width / 2;
        const double middle = (left + right) / 2;
        const double room = (right - left) / 2 - rules_.bead_clear - rules_.bead / 2;
        if (room < 0) return;
        const double swing = std::min(room, rules_.wave_widest);
        const auto e = extent(Profile(bead_area_));
        const int steps = std::max(1, static_cast<int>(std::ceil((e[3] - e[2]) / rules_.wave_length * 96)));
        Bead bead;
        bead.lane = lane;
        const auto finish = [&] {
            if (bead.path.size() > 1) bond_.beads.push_back(bead);
            bead.path.clear();
            bead.length = 0;
        };
        for (int i = 0; i <= steps; ++i) {
            const double y = e[2] + (e[3] - e[2]) * i / steps;
            const Vec2 p{middle + swing * std::sin(2 * pi * (y - e[2]) / rules_.wave_length), y};
            if (!bead_may_be(p)) {
                finish();
                continue;
            }
            if (!bead.path.empty()) bead.length += norm(p - bead.path.back());
            bead.path.push_back(p);
        }
        finish();
    }

    void lay_spacers() {
        const auto& p = outline_.points;
        const auto e = extent(Profile(outline_));
        // The base: the edge that faces down most squarely.
        double from = e[0];
        double to = e[1];
        double best = 0;
        for (std::size_t i = 0; i < p.size(); ++i) {
            const Vec2 along = p[(i + 1) % p.size()] - p[i];
            if (norm(along) < same_length || along.x / norm(along) <= best) continue;
            best = along.x / norm(along);
            from = p[i].x;
            to = p[(i + 1) % p.size()].x;
        }
        from += rules_.spacer_inset;
        to -= rules_.spacer_inset;
        if (to - from <= rules_.spacer_inset) {  // one carries it
            bond_.spacers.push_back((from + to) / 2);
            return;
        }
        const int spans = std::max(1, static_cast<int>(std::ceil((to - from) / rules_.spacer_spacing - same_length)));
        for (int i = 0; i <= spans; ++i) bond_.spacers.push_back(from + (to - from) * i / spans);
        // None where a notch takes the base away.
        std::erase_if(bond_.spacers, [&](double x) {
            return std::any_of(notches_.begin(), notches_.end(), [&](const RoundedRect& notch) {
                return inside(notch, {x, e[2] + same_length});
            });
        });
    }

    void add_up() {
        for (const TapeStrip& t : bond_.tape) bond_.tape_length += t.to - t.from;
        for (const Bead& b : bond_.beads) {
            bond_.bead_length += b.length;
            if (b.in_leg) bond_.leg_length += b.length;
        }
        for (const Ring& r : bond_.rings) bond_.ring_length += r.length;
        bond_.adhesive_volume = pi / 4 * rules_.bead * rules_.bead * (bond_.bead_length + bond_.ring_length);
        bond_.scuffed_area = area(cut_away(outline_, notches_));
        for (const RoundedRect& hole : holes_) bond_.scuffed_area -= area(hole);
        bond_.thinnest_lane = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i + 1 < strips_.size(); ++i) {
            const double apart = strips_[i + 1].x - strips_[i].x;
            bond_.widest_spacing = std::max(bond_.widest_spacing, apart);
            bond_.thinnest_lane = std::min(bond_.thinnest_lane, apart - rules_.tape_width);
        }
    }

    const Polygon& outline_;
    const std::vector<RoundedRect>& holes_;
    const std::vector<RoundedRect>& notches_;
    const BondRules& rules_;
    Polygon tape_area_;
    Polygon bead_area_;
    std::vector<Strip> strips_;
    std::size_t beside_ = 0;  ///< strips laid beside cuts
    PanelBond bond_;
};

std::string refusal(const Polygon& outline, const std::vector<RoundedRect>& holes, const BondRules& r) {
    const auto positive = [](double x) { return x > 0 && x <= 10'000; };
    const auto zero_or_more = [](double x) { return x >= 0 && x <= 10'000; };
    if (!positive(r.tape_spacing)) return fmt::format("tape spacing {} mm; it must be over 0", r.tape_spacing);
    if (!positive(r.tape_width) || r.tape_width >= r.tape_spacing) {
        return fmt::format("tape width {} mm; it must be over 0 and below the spacing {}", r.tape_width,
                           r.tape_spacing);
    }
    if (!positive(r.bead)) return fmt::format("bead {} mm; it must be over 0", r.bead);
    if (!(r.wave_length >= 10 && r.wave_length <= 10'000)) {
        return fmt::format("wave length {} mm; it must be 10 to 10 000", r.wave_length);
    }
    if (!(r.spacer_spacing >= 10 && r.spacer_spacing <= 10'000)) {
        return fmt::format("spacer spacing {} mm; it must be 10 to 10 000", r.spacer_spacing);
    }
    for (const double x : {r.tape_inset, r.tape_clear, r.tape_shift_most, r.tape_shortest, r.bead_clear, r.wave_widest,
                           r.ring_offset, r.spacer_inset}) {
        if (!zero_or_more(x)) return fmt::format("a distance of the bond is {} mm; it must be 0 to 10 000", x);
    }
    for (const Vec2& p : outline.points) {
        if (!std::isfinite(p.x) || !std::isfinite(p.y)) return "a corner of the outline is not a number";
    }
    if (outline.points.size() < 3 || area(outline) <= 0) return "the outline is not an anticlockwise polygon";
    const Polygon tape_area = inset(outline, r.tape_inset);
    const auto e = extent(Profile(tape_area));
    if (tape_area.points.size() < 3 || e[1] - e[0] < 2 * r.tape_width) {
        return fmt::format("the panel is too narrow for two tape strips of {} mm, {} mm from its edges", r.tape_width,
                           r.tape_inset);
    }
    for (std::size_t i = 0; i < holes.size(); ++i) {
        const RoundedRect& h = holes[i];
        const bool sized = std::isfinite(h.centre.x) && std::isfinite(h.centre.y) && h.half_width > 0 &&
                           h.half_height > 0 && h.radius >= 0 &&
                           h.radius <= std::min(h.half_width, h.half_height) + same_length;
        if (!sized) {
            return fmt::format("hole {} at ({}, {}) is {} x {} mm with corner radius {}", i + 1, h.centre.x, h.centre.y,
                               2 * h.half_width, 2 * h.half_height, h.radius);
        }
        const double margin = margin_inside(h, outline);
        if (!(margin > 0)) return fmt::format("hole {} crosses the panel's edge: {:.2f} mm from it", i + 1, margin);
    }
    return {};
}

}  // namespace

BondAnswer lay_bond(const Polygon& outline, const std::vector<RoundedRect>& holes, const BondRules& rules,
                    const std::vector<RoundedRect>& notches) {
    BondAnswer answer;
    answer.refused = refusal(outline, holes, rules);
    if (answer.refused.empty()) answer.bond = Layer(outline, holes, notches, rules).run();
    return answer;
}

}  // namespace standproud::bond
