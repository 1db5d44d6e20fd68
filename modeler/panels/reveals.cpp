// Strips in the reveals of openings.
#include <fmt/format.h>

#include <algorithm>

#include "modeler/gaps.hpp"
#include "modeler/openings.hpp"

namespace standproud {

namespace {

enum class Lining { sill, head, left, right };

class Reveal {
  public:
    Reveal(const Job& job, const Room& room, std::size_t wall, const WallOpening& opening, const Layer& panel)
        : job_(job), room_(room), wall_(wall), opening_(opening), layer_(panel) {
        bed_ = bed_of(job.walls[wall]);
        gap_ = gap_of(job, opening).width;
    }

    std::vector<Panel> strips() {
        has_sill_ = opening_.bottom > panel_bottom(job_, wall_) + same_length;
        std::vector<Panel> made;
        if (has_sill_) made.push_back(level(Lining::sill));
        made.push_back(upright(Lining::left));
        made.push_back(upright(Lining::right));
        made.push_back(level(Lining::head));
        return made;
    }

  private:
    [[nodiscard]] double front(double u, double v) const { return finished_face(job_, room_, wall_, u, v); }
    [[nodiscard]] double back() const { return *opening_.reveal - gap_; }

    [[nodiscard]] Panel strip(const char* which, const Frame& place, Polygon outline) const {
        Panel made;
        made.id = fmt::format("{}-{}-{}", job_.walls[wall_].id, opening_.id, which);
        made.wall = wall_;
        made.place = place;
        made.outline = std::move(outline);
        made.thickness = layer_.thickness.value;
        made.source = opening_.source;
        made.sides = {false, false, false, false};
        return made;
    }

    /// Sill or head. y = -n; the sill's x is u, the head's runs the other way.
    [[nodiscard]] Panel level(Lining which) const {
        const bool sill = which == Lining::sill;
        const double v = sill ? opening_.bottom : opening_.top;
        const double left = opening_.left + gap_;
        const double right = opening_.right - gap_;
        const Frame& f = room_.walls[wall_];
        const double at_left = front(opening_.left, v);
        const double at_right = front(opening_.right, v);
        if (sill) {
            const Frame place{f.to_room(0, v + bed_, 0), f.x, -1.0 * f.z, f.y};
            return strip("sill", place, {{{left, -at_left}, {right, -at_right}, {right, back()}, {left, back()}}});
        }
        const Frame place{f.to_room(0, v - bed_, 0), -1.0 * f.x, -1.0 * f.z, -1.0 * f.y};
        return strip("head", place, {{{-right, -at_right}, {-left, -at_left}, {-left, back()}, {-right, back()}}});
    }

    /// A jamb. y = v; seen from the opening, the left one's x runs into the wall, the right one's out of it.
    [[nodiscard]] Panel upright(Lining which) const {
        const bool left = which == Lining::left;
        const double u = left ? opening_.left : opening_.right;
        const double lined = bed_ + layer_.thickness.value + gap_;
        const double low = has_sill_ ? opening_.bottom + lined
                                     : std::max(opening_.bottom, panel_bottom(job_, wall_)) +
                                           gap_at(job_, room_, wall_, Edge::bottom).width;
        const double high = opening_.top - lined;
        const Frame& f = room_.walls[wall_];
        const double at_low = front(u, low);
        const double at_high = front(u, high);
        if (left) {
            const Frame place{f.to_room(u + bed_, 0, 0), -1.0 * f.z, f.y, f.x};
            return strip("left-jamb", place, {{{-at_low, low}, {back(), low}, {back(), high}, {-at_high, high}}});
        }
        const Frame place{f.to_room(u - bed_, 0, 0), f.z, f.y, -1.0 * f.x};
        return strip("right-jamb", place, {{{-back(), low}, {at_low, low}, {at_high, high}, {-back(), high}}});
    }

    const Job& job_;
    const Room& room_;
    std::size_t wall_;
    const WallOpening& opening_;
    const Layer& layer_;
    double bed_ = 0;
    double gap_ = 0;
    bool has_sill_ = true;
};

}  // namespace

std::vector<Panel> lay_reveals(const Job& job, const Room& room) {
    std::vector<Panel> strips;
    for (std::size_t w = 0; w < job.walls.size(); ++w) {
        const auto& layers = job.walls[w].layers;
        const auto panel =
            std::find_if(layers.begin(), layers.end(), [](const Layer& l) { return l.kind == LayerKind::panel; });
        if (panel == layers.end()) continue;
        for (const auto& opening : job.walls[w].openings) {
            if (!opening.reveal) continue;
            for (auto& strip : Reveal(job, room, w, opening, *panel).strips()) {
                if (area(strip.outline) > 0) strips.push_back(std::move(strip));
            }
        }
    }
    return strips;
}

}  // namespace standproud
