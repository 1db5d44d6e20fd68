#include <cmath>

#include "modeler/openings.hpp"
#include "modeler/room.hpp"

namespace standproud {

std::optional<Backing> backing_at(const Job& job, std::size_t wall, double u, double v) {
    const Wall& w = job.walls[wall];
    if (opening_at(w, {u, v})) return std::nullopt;
    if (w.masonry) return Backing{0, w.masonry->thickness, "masonry", w.masonry->source};
    std::optional<Backing> nearest;
    const auto offer = [&](const Backing& backing) {
        if (!nearest || backing.face > nearest->face) nearest = backing;
    };
    for (const auto& noggin : w.noggins) {
        if (u >= noggin.left && u <= noggin.right && std::abs(v - noggin.height) <= noggin.size / 2) {
            offer({-noggin.set_back, noggin.depth, "noggin", noggin.source});
        }
    }
    if (w.studs && v >= 0 && v <= w.height) {
        for (const double centre : w.studs->centres) {
            if (std::abs(u - centre) <= w.studs->width / 2) {
                offer({-w.studs->set_back, w.studs->depth, "stud", w.studs->source});
            }
        }
    }
    return nearest;
}

}  // namespace standproud
