#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <queue>
#include <string>
#include <unordered_map>

#include "nesting/fronts.hpp"
#include "nesting/programme.hpp"
#include "nesting/sheet_search.hpp"

namespace standproud::nesting {

namespace {

constexpr std::size_t most_sums = 4000;
constexpr double largest_side = 20'000;

std::string refusal(const SingleSheet& problem) {
    const auto size_wrong = [](double x) { return !(x > 0 && x <= largest_side); };
    if (size_wrong(problem.width) || size_wrong(problem.height)) {
        return fmt::format("the sheet is {} x {} mm; each side must be over 0 and at most {}", problem.width,
                           problem.height, largest_side);
    }
    if (!(problem.kerf >= 0 && problem.kerf <= 100)) {
        return fmt::format("the kerf is {} mm; it must be 0 to 100", problem.kerf);
    }
    for (std::size_t i = 0; i < problem.items.size(); ++i) {
        const Item& item = problem.items[i];
        if (size_wrong(item.width) || size_wrong(item.height)) {
            return fmt::format("item {} is {} x {} mm; each side must be over 0 and at most {}", i + 1, item.width,
                               item.height, largest_side);
        }
        if (!(item.value >= 0 && item.value < 1e15)) {
            return fmt::format("item {} has value {}; it must be 0 or more and below 1e15", i + 1, item.value);
        }
        if (item.most && *item.most < 0) return fmt::format("item {} may be used {} times", i + 1, *item.most);
    }
    return {};
}

/// A rectangle built from items.
struct Built {
    Unit width = 0;
    Unit height = 0;
    double value = 0;
    double at_most = 0;  ///< value with all that can still come round it
    int first = -1;
    int second = -1;
    bool beside = false;
    std::size_t item = 0;  ///< index into the sized items, when first is -1
};

class Search {
  public:
    Search(const SingleSheet& problem, std::stop_token stop);
    SheetPlan run();

  private:
    void size_items();
    void make_programme();
    void outside_values();
    [[nodiscard]] double outside(Unit width, Unit height) const;
    bool add(Built built, std::vector<std::uint8_t> digits);
    void join(std::size_t a, std::size_t b);
    void build_up();
    int plan_of(Plan& plan, std::size_t index) const;

    const SingleSheet& problem_;
    Unit kerf_;
    Unit width_;
    Unit height_;
    Effort effort_;
    std::vector<SizedItem> items_;
    std::vector<std::uint8_t> most_;  ///< by item of the problem
    bool limited_ = false;
    double density_ = 0;
    std::unique_ptr<Programme> programme_;
    std::vector<double> outside_;

    std::vector<Built> built_;
    std::vector<std::vector<std::uint8_t>> digits_;
    std::vector<std::size_t> closed_;
    std::unordered_map<std::string, std::vector<BoxSize>> smallest_;
    std::priority_queue<std::pair<double, std::size_t>> open_;
    double best_ = 0;
    int best_built_ = -1;
    double bound_ = 0;
};

Search::Search(const SingleSheet& problem, std::stop_token stop)
    : problem_(problem),
      kerf_(units_up(problem.kerf)),
      width_(units_down(problem.width) + kerf_),
      height_(units_down(problem.height) + kerf_),
      effort_{problem.effort, std::move(stop)} {
    size_items();
    make_programme();
}

void Search::size_items() {
    const double sheet = static_cast<double>(width_) * static_cast<double>(height_);
    most_.assign(problem_.items.size(), 0);
    for (std::size_t i = 0; i < problem_.items.size(); ++i) {
        const Item& item = problem_.items[i];
        const Unit w = units_up(item.width) + kerf_;
        const Unit h = units_up(item.height) + kerf_;
        const double area = static_cast<double>(w) * static_cast<double>(h);
        const int room = static_cast<int>(std::min(255.0, sheet / area));
        const int most = std::min(item.most.value_or(room), room);
        if (most < room) limited_ = true;
        most_[i] = static_cast<std::uint8_t>(most);
        if (most == 0 || item.value <= 0) continue;
        if (w <= width_ && h <= height_) items_.push_back({w, h, item.value, most, false, i});
        if (item.turnable && w != h && h <= width_ && w <= height_) {
            items_.push_back({h, w, item.value, most, true, i});
        }
        density_ = std::max(density_, item.value / area);
    }
}

void Search::make_programme() {
    std::vector<Unit> w;
    std::vector<Unit> h;
    for (const SizedItem& item : items_) {
        w.push_back(item.width);
        h.push_back(item.height);
    }
    if (items_.empty()) return;
    auto widths = sums_of(std::move(w), width_, most_sums);
    auto heights = sums_of(std::move(h), height_, most_sums);
    if (widths.empty() || heights.empty()) return;
    if (widths.back() != width_) widths.push_back(width_);
    if (heights.back() != height_) heights.push_back(height_);
    const auto columns = static_cast<double>(widths.size());
    const auto rows = static_cast<double>(heights.size());
    // As bound alone it must not cost more than the search.
    if (limited_ && columns * rows * (columns + rows) > static_cast<double>(effort_.left)) return;
    programme_ = std::make_unique<Programme>(items_, std::move(widths), std::move(heights));
}

/// outside(w, h): the most value round a w x h rectangle in a corner of the sheet. The next cut round it adds a part on
/// the right or on top.
void Search::outside_values() {
    const auto& widths = programme_->widths();
    const auto& heights = programme_->heights();
    const std::size_t rows = heights.size();
    outside_.assign(widths.size() * rows, 0.0);
    for (std::size_t i = widths.size(); i-- > 0;) {
        for (std::size_t j = rows; j-- > 0;) {
            double most = 0;
            for (std::size_t k = i + 1; k < widths.size(); ++k) {
                most = std::max(most, outside_[k * rows + j] +
                                          programme_->value(programme_->width_index(widths[k] - widths[i]), j));
            }
            for (std::size_t k = j + 1; k < rows; ++k) {
                most = std::max(most, outside_[i * rows + k] +
                                          programme_->value(i, programme_->height_index(heights[k] - heights[j])));
            }
            outside_[i * rows + j] = most;
        }
    }
}

double Search::outside(Unit width, Unit height) const {
    const double left = static_cast<double>(width_) * static_cast<double>(height_) -
                        static_cast<double>(width) * static_cast<double>(height);
    const double by_area = left * density_ * (1 + 1e-12);
    if (outside_.empty()) return by_area;
    const std::size_t i = programme_->width_index(width);
    const std::size_t j = programme_->height_index(height);
    return std::min(by_area, outside_[i * programme_->heights().size() + j]);
}

bool Search::add(Built built, std::vector<std::uint8_t> digits) {
    built.at_most = built.value + outside(built.width, built.height);
    if (built.at_most <= best_) return false;
    auto& list = smallest_[std::string(digits.begin(), digits.end())];
    for (const BoxSize& box : list) {
        if (box.width <= built.width && box.height <= built.height) return false;
    }
    list.push_back({built.width, built.height});
    built_.push_back(built);
    digits_.push_back(std::move(digits));
    const std::size_t index = built_.size() - 1;
    if (built.value > best_) {
        best_ = built.value;
        best_built_ = static_cast<int>(index);
    }
    open_.push({built.at_most, index});
    return true;
}

void Search::join(std::size_t a, std::size_t b) {
    const Built& x = built_[a];
    const Built& y = built_[b];
    const bool beside = x.width + y.width <= width_;
    const bool above = x.height + y.height <= height_;
    if (!beside && !above) return;
    std::vector<std::uint8_t> digits = digits_[a];
    for (std::size_t i = 0; i < digits.size(); ++i) {
        const int sum = digits[i] + digits_[b][i];
        if (sum > most_[i]) return;
        digits[i] = static_cast<std::uint8_t>(sum);
    }
    const double value = x.value + y.value;
    const Built side{x.width + y.width,   std::max(x.height, y.height), value, 0,
                     static_cast<int>(a), static_cast<int>(b),          true,  0};
    const Built top{std::max(x.width, y.width), x.height + y.height, value, 0,
                    static_cast<int>(a),        static_cast<int>(b), false, 0};
    if (beside) add(side, digits);
    if (above) add(top, std::move(digits));
}

/// The rectangle with the greatest promise is joined to all before it. What is best when no promise is greater is best.
void Search::build_up() {
    for (std::size_t i = 0; i < items_.size(); ++i) {
        std::vector<std::uint8_t> digits(problem_.items.size(), 0);
        digits[items_[i].item] = 1;
        add({items_[i].width, items_[i].height, items_[i].value, 0, -1, -1, false, i}, std::move(digits));
    }
    while (!open_.empty() && open_.top().first > best_) {
        if (!effort_.spend(10 + 8 * static_cast<long long>(closed_.size()))) {
            bound_ = open_.top().first;
            return;
        }
        const std::size_t next = open_.top().second;
        open_.pop();
        closed_.push_back(next);
        for (std::size_t k = 0; k < closed_.size(); ++k) join(closed_[k], next);
    }
    bound_ = best_;
}

int Search::plan_of(Plan& plan, std::size_t index) const {
    const Built& b = built_[index];
    if (b.first < 0) {
        const SizedItem& item = items_[b.item];
        return plan.add(
            {PlanNode::Kind::piece, item.width, item.height, -1, -1, static_cast<int>(item.item), item.turned});
    }
    const int first = plan_of(plan, static_cast<std::size_t>(b.first));
    const int second = plan_of(plan, static_cast<std::size_t>(b.second));
    return plan.add(
        {b.beside ? PlanNode::Kind::beside : PlanNode::Kind::above, b.width, b.height, first, second, -1, false});
}

SheetPlan Search::run() {
    Plan plan;
    if (items_.empty()) return {plan, 0, 0};
    if (programme_ && !limited_) {
        const std::size_t i = programme_->widths().size() - 1;
        const std::size_t j = programme_->heights().size() - 1;
        plan.root = programme_->build(plan, i, j);
        return {plan, programme_->value(i, j), programme_->value(i, j)};
    }
    if (programme_) outside_values();
    build_up();
    if (best_built_ >= 0) plan.root = plan_of(plan, static_cast<std::size_t>(best_built_));
    return {plan, best_, std::max(best_, bound_)};
}

}  // namespace

SheetPlan plan_on_sheet(const SingleSheet& problem, std::stop_token stop) {
    return Search(problem, std::move(stop)).run();
}

SheetValueAnswer most_on_sheet(const SingleSheet& problem) {
    SheetValueAnswer answer;
    answer.refused = refusal(problem);
    if (!answer.refused.empty()) return answer;
    const SheetPlan found = plan_on_sheet(problem, {});
    SheetValue best;
    best.value = found.value;
    best.bound = found.bound;
    best.proved = found.value == found.bound;
    best.layout =
        lay_plan(found.plan, {units_down(problem.width), units_down(problem.height), 0, units_up(problem.kerf), 0});
    answer.best = std::move(best);
    return answer;
}

}  // namespace standproud::nesting
