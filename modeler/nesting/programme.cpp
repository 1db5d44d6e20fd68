#include "nesting/programme.hpp"

#include <algorithm>

namespace standproud::nesting {

namespace {

std::size_t last_not_over(const std::vector<Unit>& sums, Unit size) {
    return static_cast<std::size_t>(std::upper_bound(sums.begin(), sums.end(), size) - sums.begin()) - 1;
}

/// Cuts of a length into two sums, both as great as they can be beside each other, the lesser first. Of all sums with
/// the same rest the greatest is enough.
struct Halves {
    std::size_t first;
    std::size_t second;
};

std::vector<Halves> halves_of(const std::vector<Unit>& sums, std::size_t whole) {
    std::vector<Halves> halves;
    for (std::size_t a = 1; a < whole; ++a) {
        const std::size_t b = last_not_over(sums, sums[whole] - sums[a]);
        if (b == 0 || b < a) break;
        if (!halves.empty() && halves.back().second == b) halves.pop_back();
        halves.push_back({a, b});
    }
    return halves;
}

}  // namespace

std::vector<Unit> sums_of(std::vector<Unit> sizes, Unit limit, std::size_t most) {
    std::sort(sizes.begin(), sizes.end());
    sizes.erase(std::unique(sizes.begin(), sizes.end()), sizes.end());
    std::vector<Unit> sums{0};
    // Every sum is an earlier one with one more size: taken from a heap, smallest first.
    std::vector<Unit> heap;
    const auto later = [](Unit a, Unit b) { return a > b; };
    const auto push = [&](Unit from) {
        for (const Unit size : sizes) {
            if (from + size > limit) break;
            heap.push_back(from + size);
            std::push_heap(heap.begin(), heap.end(), later);
        }
    };
    push(0);
    while (!heap.empty()) {
        std::pop_heap(heap.begin(), heap.end(), later);
        const Unit next = heap.back();
        heap.pop_back();
        if (next == sums.back()) continue;
        if (sums.size() >= most || heap.size() > 100 * most) return {};
        sums.push_back(next);
        push(next);
    }
    return sums;
}

Programme::Programme(const std::vector<SizedItem>& items, std::vector<Unit> widths, std::vector<Unit> heights)
    : items_(items),
      widths_(std::move(widths)),
      heights_(std::move(heights)),
      value_(widths_.size() * heights_.size(), 0.0) {
    start();
    // Columns nearer together than the narrowest item are never cut from one another: they are done as one block, so
    // that level cuts run along rows of the block.
    Unit narrowest = widths_.back() + 1;
    for (const SizedItem& item : items_) narrowest = std::min(narrowest, item.width);
    std::size_t first = 1;
    while (first < widths_.size()) {
        std::size_t last = first;
        while (last < widths_.size() && widths_[last] < widths_[first] + narrowest) ++last;
        for (std::size_t i = first; i < last; ++i) cut_upright(i);
        cut_level(first, last);
        first = last;
    }
}

std::size_t Programme::width_index(Unit size) const { return last_not_over(widths_, size); }
std::size_t Programme::height_index(Unit size) const { return last_not_over(heights_, size); }

void Programme::start() {
    const std::size_t rows = heights_.size();
    for (const SizedItem& item : items_) {
        const auto i = std::lower_bound(widths_.begin(), widths_.end(), item.width) - widths_.begin();
        const auto j = std::lower_bound(heights_.begin(), heights_.end(), item.height) - heights_.begin();
        const auto row = static_cast<std::size_t>(j);
        if (static_cast<std::size_t>(i) >= widths_.size() || row >= rows) continue;
        double& value = value_[static_cast<std::size_t>(i) * rows + row];
        value = std::max(value, item.value);
    }
    for (std::size_t i = 1; i < widths_.size(); ++i) {
        for (std::size_t j = 1; j < rows; ++j) {
            double& value = value_[i * rows + j];
            value = std::max({value, value_[(i - 1) * rows + j], value_[i * rows + j - 1]});
        }
    }
}

void Programme::cut_upright(std::size_t i) {
    const std::size_t rows = heights_.size();
    double* const to = &value_[i * rows];
    for (const Halves& h : halves_of(widths_, i)) {
        const double* const a = &value_[h.first * rows];
        const double* const b = &value_[h.second * rows];
        for (std::size_t j = 0; j < rows; ++j) to[j] = std::max(to[j], a[j] + b[j]);
    }
}

void Programme::cut_level(std::size_t first, std::size_t last) {
    const std::size_t rows = heights_.size();
    const std::size_t columns = last - first;
    std::vector<double> block(rows * columns);
    for (std::size_t c = 0; c < columns; ++c) {
        for (std::size_t j = 0; j < rows; ++j) block[j * columns + c] = value_[(first + c) * rows + j];
    }
    for (std::size_t j = 1; j < rows; ++j) {
        double* const to = &block[j * columns];
        const double* const below = &block[(j - 1) * columns];
        for (std::size_t c = 0; c < columns; ++c) to[c] = std::max(to[c], below[c]);
        for (const Halves& h : halves_of(heights_, j)) {
            const double* const a = &block[h.first * columns];
            const double* const b = &block[h.second * columns];
            for (std::size_t c = 0; c < columns; ++c) to[c] = std::max(to[c], a[c] + b[c]);
        }
        // A wider column is worth no less; later rows build on that.
        to[0] = std::max(to[0], value_[(first - 1) * rows + j]);
        for (std::size_t c = 1; c < columns; ++c) to[c] = std::max(to[c], to[c - 1]);
    }
    for (std::size_t c = 0; c < columns; ++c) {
        for (std::size_t j = 0; j < rows; ++j) value_[(first + c) * rows + j] = block[j * columns + c];
    }
}

int Programme::build(Plan& plan, std::size_t i, std::size_t j) const {
    const double worth = value(i, j);
    if (worth == 0) return plan.add({PlanNode::Kind::leftover, widths_[i], heights_[j], -1, -1, -1, false});
    for (const SizedItem& item : items_) {
        if (item.value != worth || item.width > widths_[i] || item.height > heights_[j]) continue;
        return plan.add(
            {PlanNode::Kind::piece, item.width, item.height, -1, -1, static_cast<int>(item.item), item.turned});
    }
    for (const Halves& h : halves_of(widths_, i)) {
        if (value(h.first, j) + value(h.second, j) != worth) continue;
        const int a = build(plan, h.first, j);
        const int b = build(plan, h.second, j);
        // The second part takes all that the first leaves: a box that fills its part.
        PlanNode node{PlanNode::Kind::beside, widths_[i], heights_[j], a, b, -1, false};
        return plan.add(node);
    }
    for (const Halves& h : halves_of(heights_, j)) {
        if (value(i, h.first) + value(i, h.second) != worth) continue;
        const int a = build(plan, i, h.first);
        const int b = build(plan, i, h.second);
        return plan.add({PlanNode::Kind::above, widths_[i], heights_[j], a, b, -1, false});
    }
    // Worth no more than a part of it.
    if (i > 0 && value(i - 1, j) == worth) return build(plan, i - 1, j);
    return build(plan, i, j - 1);
}

}  // namespace standproud::nesting
