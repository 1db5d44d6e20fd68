// What fills the gaps between panels, and between them and what they meet.
#include <fmt/format.h>

#include <algorithm>

#include "modeler/cut_away.hpp"
#include "modeler/gaps.hpp"
#include "modeler/openings.hpp"
#include "parts/make.hpp"
#include "room/corners.hpp"

namespace standproud {

namespace {

/// Panels are taken away this much larger, mm: edges that the same bounds made leave nothing between them then.
constexpr double overlap = 1e-6;

/// Whether an end of a wall's panels is sealed: it meets another wall, and does not lie behind the panels there.
bool is_sealed(const Job& job, const Room& room, std::size_t wall, Side side) {
    const Corner* corner = corner_at(room, wall, side);
    if (!corner) return false;
    const std::size_t other = neighbour(*corner, wall);
    return corner->angle >= 180 || is_wide(corner->angle) || !has_panels(job.walls[other]) ||
           !lined_before(job, wall, other);
}

/// The job as if panels ran to whatever their gaps are sealed against.
Job without_gaps(const Model& model) {
    Job full = model.job;
    for (std::size_t w = 0; w < full.walls.size(); ++w) {
        Wall& wall = full.walls[w];
        if (!has_panels(wall)) continue;
        const EdgeGap none{0, {}};
        wall.joins.clear();
        wall.level_joins.clear();
        wall.gaps.bottom = none;
        if (!top_is_free(model.job, model.room, w, wall.width / 2)) wall.gaps.top = none;
        if (is_sealed(model.job, model.room, w, Side::left)) wall.gaps.left = none;
        if (is_sealed(model.job, model.room, w, Side::right)) wall.gaps.right = none;
        for (auto& opening : wall.openings) {
            opening.gap = none;
            opening.corner_radius = 0;
        }
    }
    return full;
}

Region region_of(const Panel& panel, double by) {
    std::vector<RoundedRect> cuts;
    for (const auto& cut : panel.cuts) cuts.push_back(cut.shape);
    return region_of(panel.outline, cuts, by);
}

class Sealant {
  public:
    Sealant(const Model& model, std::vector<Part>& parts)
        : model_(model), full_(without_gaps(model)), parts_(parts), reveals_(lay_reveals(full_, model.room)) {
        panels_ = lay_panels(full_, model.room);
    }

    void on_wall(std::size_t w) {
        std::vector<Region> whole;
        for (const auto& panel : panels_) {
            if (panel.wall == w && panel.outline.points.size() > 2) whole.push_back(region_of(panel, 0));
        }
        std::vector<Region> taken;
        const Panel* any = nullptr;
        for (const auto& panel : model_.panels) {
            if (panel.wall != w) continue;
            taken.push_back(region_of(panel, overlap));
            any = &panel;
        }
        if (any) add(*any, "", left_over(whole, taken));
    }

    void on_strip(const Panel& strip) {
        const auto same = [&](const Panel& full) { return full.id == strip.id; };
        const auto full = std::find_if(reveals_.begin(), reveals_.end(), same);
        if (full == reveals_.end()) return;
        const std::string& wall = model_.job.walls[strip.wall].id;
        add(strip, strip.id.substr(wall.size() + 1) + "-",
            left_over({region_of(*full, 0)}, {region_of(strip, overlap)}));
    }

  private:
    void add(const Panel& beside, const std::string& of, const std::vector<Region>& regions) {
        const Wall& wall = model_.job.walls[beside.wall];
        const SealantLook& look = sealant_on(model_.job, beside.wall);
        int number = 0;
        for (const auto& region : regions) {
            Part part{fmt::format("{}/sealant-{}{}", wall.id, of, ++number),
                      "sealant",
                      "installer",
                      "sealant",
                      wall.id,
                      "",
                      look.source,
                      beside.place,
                      region.outline,
                      {region.holes.begin(), region.holes.end()},
                      beside.thickness,
                      {},
                      look.colour};
            parts_.push_back(std::move(part));
        }
    }

    const Model& model_;
    Job full_;
    std::vector<Part>& parts_;
    std::vector<Panel> panels_;
    std::vector<Panel> reveals_;
};

}  // namespace

std::vector<Part> build_sealant(const Model& model) {
    std::vector<Part> parts;
    Sealant sealant(model, parts);
    for (std::size_t w = 0; w < model.job.walls.size(); ++w) sealant.on_wall(w);
    for (const auto& strip : model.reveals) sealant.on_strip(strip);
    return parts;
}

}  // namespace standproud
