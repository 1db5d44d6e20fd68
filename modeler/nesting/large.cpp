#include "nesting/large.hpp"

#include <algorithm>
#include <numeric>
#include <random>

#include "nesting/sheet_search.hpp"

namespace standproud::nesting {

namespace {

constexpr long long fill_effort = 2'000'000;
constexpr long long repair_effort = 12'000'000;
constexpr int most_at_once = 10;

using Digits = std::vector<int>;

int total(const Digits& digits) { return std::accumulate(digits.begin(), digits.end(), 0); }

void count_pieces(const Plan& plan, Digits& digits) {
    for (const PlanNode& node : plan.nodes) {
        if (node.kind == PlanNode::Kind::piece) ++digits[static_cast<std::size_t>(node.type)];
    }
}

double area_of(const Task& task, const Digits& digits) {
    double area = 0;
    for (std::size_t i = 0; i < digits.size(); ++i) {
        area += digits[i] * static_cast<double>(task.types[i].width) * static_cast<double>(task.types[i].height);
    }
    return area;
}

class Large {
  public:
    Large(const Task& task, Effort& effort, unsigned seed) : task_(task), effort_(effort), random_(seed) {
        for (const StockKind& s : task.stock) left_.push_back(s.count);
    }

    std::optional<std::vector<PlannedSheet>> run() {
        if (!fill()) return std::nullopt;
        const std::int64_t bound = least_first_cost(task_);
        while (!effort_.out() && cost().first > bound) {
            if (!improve()) break;
        }
        if (!stopped()) tidy();
        return std::move(sheets_);
    }

  private:
    [[nodiscard]] bool stopped() const { return effort_.stop.stop_requested(); }

    [[nodiscard]] Cost cost() const {
        Cost sum;
        for (const PlannedSheet& s : sheets_) sum = sum + task_.stock[s.stock].cost;
        return sum;
    }

    /// The fullest layout of what is left on one sheet of a stock.
    PlannedSheet fullest(std::size_t stock, const Digits& left) {
        if (stopped()) return in_rows(stock, left);
        const StockKind& s = task_.stock[stock];
        SingleSheet single;
        single.kerf = to_mm(task_.kerf);
        single.width = to_mm(s.inside.width - task_.kerf);
        single.height = to_mm(s.inside.height - task_.kerf);
        single.effort = fill_effort;
        for (std::size_t i = 0; i < left.size(); ++i) {
            const PieceType& type = task_.types[i];
            Item item;
            item.width = to_mm(type.width - task_.kerf);
            item.height = to_mm(type.height - task_.kerf);
            item.value = static_cast<double>(type.width) * static_cast<double>(type.height) * 1e-6;
            item.most = left[i];
            item.turnable = type.turnable && s.turning;
            single.items.push_back(item);
        }
        PlannedSheet sheet{stock, Digits(left.size(), 0), {}};
        if (single.width <= 0 || single.height <= 0) return sheet;
        sheet.plan = plan_on_sheet(single, effort_.stop).plan;
        count_pieces(sheet.plan, sheet.digits);
        effort_.spend(fill_effort);
        return sheet;
    }

    /// Once a stop was asked for: rows of pieces, the tallest first, as they come. At once, and far from the best.
    PlannedSheet in_rows(std::size_t stock, Digits left) const {
        const StockKind& s = task_.stock[stock];
        std::vector<PlanNode> pieces;
        for (std::size_t i = 0; i < left.size(); ++i) {
            const PieceType& type = task_.types[i];
            PlanNode piece{PlanNode::Kind::piece, type.width, type.height, -1, -1, static_cast<int>(i), false};
            const auto fits = [&] { return piece.width <= s.inside.width && piece.height <= s.inside.height; };
            if (!fits() && type.turnable && s.turning) {
                std::swap(piece.width, piece.height);
                piece.turned = true;
            }
            if (fits()) pieces.push_back(piece);
        }
        std::stable_sort(pieces.begin(), pieces.end(),
                         [](const auto& a, const auto& b) { return a.height > b.height; });
        PlannedSheet sheet{stock, Digits(left.size(), 0), {}};
        Unit room = s.inside.height;
        const auto join = [&](PlanNode::Kind kind, int first, int second, BoxSize size) {
            if (first < 0) return second;
            return sheet.plan.add({kind, size.width, size.height, first, second, -1, false});
        };
        BoxSize all{0, 0};
        for (;;) {
            int row = -1;
            BoxSize size{0, 0};
            for (const PlanNode& piece : pieces) {
                int& more = left[static_cast<std::size_t>(piece.type)];
                while (more > 0 && piece.height <= room && size.width + piece.width <= s.inside.width) {
                    size = {size.width + piece.width, std::max(size.height, piece.height)};
                    row = join(PlanNode::Kind::beside, row, sheet.plan.add(piece), size);
                    --more;
                }
            }
            if (row < 0) break;
            room -= size.height;
            all = {std::max(all.width, size.width), all.height + size.height};
            sheet.plan.root = join(PlanNode::Kind::above, sheet.plan.root, row, all);
        }
        count_pieces(sheet.plan, sheet.digits);
        return sheet;
    }

    /// Most area for what it costs; stock that costs nothing comes first.
    bool fill() {
        Digits left;
        for (const PieceType& type : task_.types) left.push_back(static_cast<int>(type.members.size()));
        while (total(left) > 0) {
            PlannedSheet best;
            double best_score = 0;
            for (std::size_t t = 0; t < task_.stock.size(); ++t) {
                if (left_[t] == 0) continue;
                PlannedSheet sheet = fullest(t, left);
                const double costs = static_cast<double>(task_.stock[t].cost.first) + 1e-9;
                const double score = area_of(task_, sheet.digits) / costs;
                if (score > best_score) {
                    best_score = score;
                    best = std::move(sheet);
                }
            }
            if (best_score == 0) return false;
            --left_[best.stock];
            for (std::size_t i = 0; i < left.size(); ++i) left[i] -= best.digits[i];
            sheets_.push_back(std::move(best));
        }
        return true;
    }

    /// A few sheets taken back and solved again exactly. False when there is nothing to take.
    bool improve() {
        std::vector<std::size_t> order(sheets_.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::shuffle(order.begin(), order.end(), random_);
        std::vector<std::size_t> taken;
        int pieces = 0;
        for (const std::size_t i : order) {
            const int more = total(sheets_[i].digits);
            if (pieces + more > most_at_once || taken.size() == 4) continue;
            pieces += more;
            taken.push_back(i);
        }
        if (taken.size() < 2) {
            effort_.spend(repair_effort);
            return sheets_.size() > 1;
        }
        solve_again(std::move(taken));
        return true;
    }

    /// The part of the task that some sheets hold, with the stock they free.
    Task part_of(const std::vector<std::size_t>& taken, std::vector<std::size_t>& types) const {
        Digits digits(task_.types.size(), 0);
        Task part = task_;
        for (std::size_t t = 0; t < part.stock.size(); ++t) part.stock[t].count = left_[t];
        for (const std::size_t i : taken) {
            ++part.stock[sheets_[i].stock].count;
            for (std::size_t k = 0; k < digits.size(); ++k) digits[k] += sheets_[i].digits[k];
        }
        part.types.clear();
        for (std::size_t k = 0; k < digits.size(); ++k) {
            if (digits[k] == 0) continue;
            PieceType type = task_.types[k];
            type.members.resize(static_cast<std::size_t>(digits[k]));
            part.types.push_back(std::move(type));
            types.push_back(k);
        }
        const int pieces = total(digits);
        for (StockKind& s : part.stock) s.count = std::min(s.count, pieces);
        return part;
    }

    PlannedSheet whole(PlannedSheet sheet, const std::vector<std::size_t>& types) const {
        Digits digits(task_.types.size(), 0);
        for (std::size_t k = 0; k < types.size(); ++k) digits[types[k]] = sheet.digits[k];
        sheet.digits = std::move(digits);
        for (PlanNode& node : sheet.plan.nodes) {
            if (node.type >= 0) node.type = static_cast<int>(types[static_cast<std::size_t>(node.type)]);
        }
        return sheet;
    }

    /// Fuller sheets beside emptier ones are worth more: the emptiest is the next to go.
    [[nodiscard]] double unevenness(const std::vector<PlannedSheet>& sheets) const {
        double sum = 0;
        for (const PlannedSheet& s : sheets) sum += std::pow(area_of(task_, s.digits) * 1e-12, 2);
        return sum;
    }

    void solve_again(std::vector<std::size_t> taken) {
        std::vector<std::size_t> types;
        const Task part = part_of(taken, types);
        const long long given = std::min(repair_effort, effort_.left);
        Effort little{given, effort_.stop};
        const ExactAnswer answer = solve_exactly(part, little, false);
        effort_.spend(20'000 + given - std::clamp<long long>(little.left, 0, given));
        if (answer.state != ExactAnswer::State::solved) return;
        Cost old;
        std::vector<PlannedSheet> before;
        for (const std::size_t i : taken) {
            old = old + task_.stock[sheets_[i].stock].cost;
            before.push_back(sheets_[i]);
        }
        std::vector<PlannedSheet> after;
        for (const PlannedSheet& s : answer.sheets) after.push_back(whole(s, types));
        const bool better = answer.cost < old;
        const bool no_worse = answer.cost == old && (unevenness(after) >= unevenness(before) || random_() % 8 == 0);
        if (!better && !no_worse) return;
        std::sort(taken.rbegin(), taken.rend());
        for (const std::size_t i : taken) {
            ++left_[sheets_[i].stock];
            sheets_.erase(sheets_.begin() + static_cast<std::ptrdiff_t>(i));
        }
        for (PlannedSheet& s : after) {
            --left_[s.stock];
            sheets_.push_back(std::move(s));
        }
    }

    /// Leaves the rest of each sheet in one piece where that can be worked out.
    void tidy() {
        for (PlannedSheet& sheet : sheets_) {
            if (total(sheet.digits) > most_at_once) continue;
            if (stopped()) return;
            const auto index = static_cast<std::size_t>(&sheet - sheets_.data());
            std::vector<std::size_t> types;
            Task part = part_of({index}, types);
            for (std::size_t t = 0; t < part.stock.size(); ++t) part.stock[t].count = t == sheet.stock ? 1 : 0;
            Effort little{repair_effort, effort_.stop};
            ExactAnswer answer = solve_exactly(part, little, true);
            if (answer.state == ExactAnswer::State::solved) sheet = whole(std::move(answer.sheets.front()), types);
        }
    }

    const Task& task_;
    Effort& effort_;
    std::mt19937 random_;
    std::vector<int> left_;  ///< of each stock
    std::vector<PlannedSheet> sheets_;
};

}  // namespace

std::optional<std::vector<PlannedSheet>> search_large(const Task& task, Effort& effort, unsigned seed) {
    return Large(task, effort, seed).run();
}

}  // namespace standproud::nesting
