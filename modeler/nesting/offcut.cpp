#include <algorithm>

#include "nesting/exact.hpp"

namespace standproud::nesting {

// The leftover is one part at the end of a chain of cuts from the sheet; at every cut of the chain the other side holds
// some of the pieces. That side may be as small as its pieces allow, which leaves the most for the chain. So trying
// every choice for every side, at its least width or height, tries everything.

double OffcutSearch::leftover(BoxSize room) const {
    const Unit width = room.width - kerf_;
    const Unit height = room.height - kerf_;
    if (std::min(width, height) < std::max<Unit>(usable_side_, 1)) return 0;
    return static_cast<double>(width) * static_cast<double>(height);
}

double OffcutSearch::at_most(std::size_t choice, BoxSize sheet) const {
    // Grown areas: the leftover's, the pieces' and nothing else make up the sheet's at most. With grown sides a, b the
    // true area (a - k)(b - k) = ab - k(a + b) + k2 is greatest for a square of that area, but never over ab.
    const double room = static_cast<double>(sheet.width) * static_cast<double>(sheet.height) - fronts_.area(choice);
    return std::max(0.0, std::min(room, leftover(sheet)));
}

double OffcutSearch::best(std::size_t choice, BoxSize sheet, double floor, Plan& plan) {
    best_ = floor;
    improved_ = false;
    seen_.clear();
    std::vector<Step> steps;
    search(choice, sheet, steps);
    if (improved_) {
        plan = {};
        plan.root = build(plan, 0, sheet);
    }
    return best_;
}

void OffcutSearch::take(std::size_t choice, BoxSize room, const std::vector<Step>& steps) {
    if (choice != 0 || leftover(room) <= best_) return;
    best_ = leftover(room);
    best_steps_ = steps;
    improved_ = true;
}

void OffcutSearch::search(std::size_t choice, BoxSize room, std::vector<Step>& steps) {
    if (choice == 0) {
        take(choice, room, steps);
        return;
    }
    if (at_most(choice, room) <= best_ || leftover(room) <= best_) return;
    if (!seen_.insert({choice, room.width, room.height}).second) return;
    const auto parts = choices_.parts_of(choice);
    if (!effort_.spend(20 * static_cast<long long>(parts.size()))) return;
    for (auto part = parts.rbegin(); part != parts.rend(); ++part) {
        if (*part == 0 || fronts_.boxes(*part).empty()) continue;
        for (const bool beside : {true, false}) {
            const Unit along =
                beside ? fronts_.least_width(*part, room.height) : fronts_.least_height(*part, room.width);
            const Unit left = (beside ? room.width : room.height) - along;
            if (along < 0 || left <= kerf_) continue;
            steps.push_back({*part, beside, along});
            search(choice - *part, beside ? BoxSize{left, room.height} : BoxSize{room.width, left}, steps);
            steps.pop_back();
        }
        if (effort_.out()) return;
    }
}

int OffcutSearch::build(Plan& plan, std::size_t step, BoxSize room) const {
    if (step == best_steps_.size()) {
        return plan.add({PlanNode::Kind::leftover, room.width, room.height, -1, -1, -1, false});
    }
    const Step& s = best_steps_[step];
    const BoxSize side = s.beside ? BoxSize{s.along, room.height} : BoxSize{room.width, s.along};
    const BoxSize rest =
        s.beside ? BoxSize{room.width - s.along, room.height} : BoxSize{room.width, room.height - s.along};
    const int first = fronts_.build(plan, s.part, side);
    // The side cut off is as wide as said, also where the boxes in it are smaller.
    const int second = build(plan, step + 1, rest);
    return plan.add(
        {s.beside ? PlanNode::Kind::beside : PlanNode::Kind::above, room.width, room.height, first, second, -1, false});
}

}  // namespace standproud::nesting
