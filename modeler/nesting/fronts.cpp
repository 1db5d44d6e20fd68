#include "nesting/fronts.hpp"

#include <algorithm>

namespace standproud::nesting {

namespace {

constexpr std::size_t most_choices = std::size_t{1} << 16;

/// Puts boxes into a list of smallest boxes, unless another is as small both ways. Boxes come with widths rising or
/// falling, so that their place is found by walking.
class Keeper {
  public:
    Keeper(std::vector<BoxSize>& list, const std::vector<BoxSize>& limits, bool rising)
        : list_(list), limits_(limits), at_(rising ? 0 : list.size()), rising_(rising) {}

    void operator()(BoxSize box) {
        if (rising_) {
            while (at_ < list_.size() && list_[at_].width < box.width) ++at_;
        } else {
            while (at_ > 0 && list_[at_ - 1].width >= box.width) --at_;
        }
        if (at_ > 0 && list_[at_ - 1].height <= box.height) return;
        if (at_ < list_.size() && list_[at_].width == box.width && list_[at_].height <= box.height) return;
        const bool in_limits = std::any_of(limits_.begin(), limits_.end(), [&](const BoxSize& l) {
            return box.width <= l.width && box.height <= l.height;
        });
        if (in_limits) put(box);
    }

  private:
    void put(BoxSize box) {
        std::size_t last = at_;
        while (last < list_.size() && list_[last].height >= box.height) ++last;
        const auto at = list_.begin() + static_cast<std::ptrdiff_t>(at_);
        if (at_ == last) {
            list_.insert(at, box);
        } else {
            *at = box;
            list_.erase(at + 1, list_.begin() + static_cast<std::ptrdiff_t>(last));
        }
    }

    std::vector<BoxSize>& list_;
    const std::vector<BoxSize>& limits_;
    std::size_t at_;
    bool rising_;
};

/// Side by side: for each height that either list has, the least widths added.
template <typename Keep>
void join_beside(const std::vector<BoxSize>& a, const std::vector<BoxSize>& b, Keep&& keep) {
    // From the widest (lowest) up: both lists run backwards as the height rises.
    std::size_t i = a.size() - 1;
    std::size_t j = b.size() - 1;
    while (true) {
        keep(BoxSize{a[i].width + b[j].width, std::max(a[i].height, b[j].height)});
        // The next greater height that lets one of them be narrower.
        if (i == 0 && j == 0) return;
        if (j == 0 || (i > 0 && a[i - 1].height <= b[j - 1].height)) {
            --i;
        } else {
            --j;
        }
    }
}

/// One above the other: the same with the lists read from the other end.
template <typename Keep>
void join_above(const std::vector<BoxSize>& a, const std::vector<BoxSize>& b, Keep&& keep) {
    std::size_t i = 0;
    std::size_t j = 0;
    while (true) {
        keep(BoxSize{std::max(a[i].width, b[j].width), a[i].height + b[j].height});
        const bool a_ends = i + 1 == a.size();
        const bool b_ends = j + 1 == b.size();
        if (a_ends && b_ends) return;
        if (b_ends || (!a_ends && a[i + 1].width <= b[j + 1].width)) {
            ++i;
        } else {
            ++j;
        }
    }
}

}  // namespace

Choices::Choices(const std::vector<PieceType>& types) {
    for (const PieceType& type : types) {
        weight_.push_back(count_);
        most_.push_back(static_cast<int>(type.members.size()));
        count_ *= type.members.size() + 1;
        if (count_ > most_choices) {
            count_ = 0;
            return;
        }
    }
}

std::vector<int> Choices::digits(std::size_t choice) const {
    std::vector<int> d(weight_.size());
    for (std::size_t i = 0; i < d.size(); ++i) {
        const auto base = static_cast<std::size_t>(most_[i]) + 1;
        d[i] = static_cast<int>(choice % base);
        choice /= base;
    }
    return d;
}

std::vector<std::size_t> Choices::parts_of(std::size_t choice) const {
    std::vector<std::size_t> parts{0};
    const std::vector<int> d = digits(choice);
    for (std::size_t i = 0; i < d.size(); ++i) {
        const std::size_t before = parts.size();
        for (int k = 1; k <= d[i]; ++k) {
            for (std::size_t p = 0; p < before; ++p) {
                parts.push_back(parts[p] + static_cast<std::size_t>(k) * weight_[i]);
            }
        }
    }
    return parts;
}

Fronts::Fronts(const std::vector<PieceType>& types, const Choices& choices, std::vector<BoxSize> limits, bool turning,
               Effort& effort)
    : types_(types),
      choices_(choices),
      limits_(std::move(limits)),
      turning_(turning),
      boxes_(choices.count()),
      area_(choices.count(), 0.0) {
    for (std::size_t choice = 1; choice < choices.count() && !effort.out(); ++choice) fill(choice, effort);
}

void Fronts::fill(std::size_t choice, Effort& effort) {
    const std::vector<int> digits = choices_.digits(choice);
    int pieces = 0;
    bool parts_fit = true;
    for (std::size_t i = 0; i < digits.size(); ++i) {
        pieces += digits[i];
        area_[choice] += digits[i] * static_cast<double>(types_[i].width) * static_cast<double>(types_[i].height);
        const std::size_t less = digits[i] > 0 ? choice - choices_.weight(i) : 0;
        if (less > 0 && boxes_[less].empty()) parts_fit = false;
    }
    effort.spend(static_cast<long long>(digits.size()));
    if (!parts_fit) return;
    auto& list = boxes_[choice];
    if (pieces == 1) {
        const auto type = static_cast<std::size_t>(std::find(digits.begin(), digits.end(), 1) - digits.begin());
        const PieceType& one = types_[type];
        Keeper(list, limits_, true)({one.width, one.height});
        if (turning_ && one.turnable) Keeper(list, limits_, true)({one.height, one.width});
        return;
    }
    const bool too_much = std::all_of(limits_.begin(), limits_.end(), [&](BoxSize l) {
        return area_[choice] > static_cast<double>(l.width) * static_cast<double>(l.height);
    });
    if (too_much) return;
    for (const std::size_t part : choices_.parts_of(choice)) {
        const std::size_t rest = choice - part;
        if (part == 0 || part > rest || boxes_[part].empty() || boxes_[rest].empty()) continue;
        if (!effort.spend(4 + 2 * static_cast<long long>(boxes_[part].size() + boxes_[rest].size()))) return;
        join_beside(boxes_[part], boxes_[rest], Keeper(list, limits_, false));
        join_above(boxes_[part], boxes_[rest], Keeper(list, limits_, true));
    }
}

bool Fronts::fits(std::size_t choice, BoxSize sheet) const {
    const Unit width = least_width(choice, sheet.height);
    return width >= 0 && width <= sheet.width;
}

Unit Fronts::least_width(std::size_t choice, Unit height) const {
    const auto& list = boxes_[choice];
    const auto at = std::partition_point(list.begin(), list.end(), [&](BoxSize b) { return b.height > height; });
    return at == list.end() ? -1 : at->width;
}

Unit Fronts::least_height(std::size_t choice, Unit width) const {
    const auto& list = boxes_[choice];
    const auto at = std::partition_point(list.begin(), list.end(), [&](BoxSize b) { return b.width <= width; });
    return at == list.begin() ? -1 : std::prev(at)->height;
}

int Fronts::build(Plan& plan, std::size_t choice, BoxSize within) const {
    const Unit width = least_width(choice, within.height);
    return build_exact(plan, choice, {width, least_height(choice, width)});
}

int Fronts::build_exact(Plan& plan, std::size_t choice, BoxSize box) const {
    const std::vector<int> digits = choices_.digits(choice);
    for (std::size_t i = 0; i < digits.size(); ++i) {
        if (choice != choices_.weight(i)) continue;
        const bool turned = box.width != types_[i].width || box.height != types_[i].height;
        return plan.add({PlanNode::Kind::piece, box.width, box.height, -1, -1, static_cast<int>(i), turned});
    }
    for (const std::size_t part : choices_.parts_of(choice)) {
        const std::size_t rest = choice - part;
        if (part == 0 || part > rest || boxes_[part].empty() || boxes_[rest].empty()) continue;
        for (const bool beside : {true, false}) {
            const Unit across = beside ? box.height : box.width;
            const Unit a = beside ? least_width(part, across) : least_height(part, across);
            const Unit b = beside ? least_width(rest, across) : least_height(rest, across);
            if (a < 0 || b < 0 || a + b > (beside ? box.width : box.height)) continue;
            const BoxSize first = beside ? BoxSize{a, least_height(part, a)} : BoxSize{least_width(part, a), a};
            const BoxSize second = beside ? BoxSize{b, least_height(rest, b)} : BoxSize{least_width(rest, b), b};
            const int one = build_exact(plan, part, first);
            const int two = build_exact(plan, rest, second);
            return plan.add(
                {beside ? PlanNode::Kind::beside : PlanNode::Kind::above, box.width, box.height, one, two, -1, false});
        }
    }
    return -1;  // not reached: every box in a list came from such a split
}

}  // namespace standproud::nesting
