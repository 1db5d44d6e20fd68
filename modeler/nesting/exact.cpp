#include "nesting/exact.hpp"

#include <algorithm>
#include <memory>

namespace standproud::nesting {

namespace {

constexpr std::int64_t unknown = -1;
constexpr std::int64_t impossible = INT64_MAX;
constexpr std::size_t most_states = std::size_t{1} << 22;

/// Pieces left to place and stock left to use -> least cost. Worked out from the top on demand.
class Cover {
  public:
    Cover(const Task& task, Effort& effort, bool seek_offcut)
        : task_(task), effort_(effort), seek_offcut_(seek_offcut), choices_(task.types) {}

    ExactAnswer run();

  private:
    struct Move {
        std::size_t choice = 0;
        std::size_t stock = 0;
    };
    bool prepare();
    void number_stock();
    [[nodiscard]] const Fronts& fronts_for(std::size_t stock) const {
        return task_.stock[stock].turning ? *turned_ : *fixed_;
    }
    [[nodiscard]] bool available(std::size_t used, std::size_t stock) const {
        const auto base = static_cast<std::size_t>(task_.stock[stock].count) + 1;
        return limited_[stock] == 0 ? task_.stock[stock].count > 0 : used / limited_[stock] % base < base - 1;
    }
    [[nodiscard]] std::size_t use(std::size_t used, std::size_t stock) const { return used + limited_[stock]; }
    Cost least(std::size_t choice, std::size_t used);
    Cost try_lowest(std::size_t choice, std::size_t used, Move* best);
    void lay_rest(std::size_t choice, std::size_t used, ExactAnswer& answer);
    void best_offcut(ExactAnswer& answer, Move& move, Plan& plan);
    void add_sheet(const Move& move, Plan plan, ExactAnswer& answer);

    const Task& task_;
    Effort& effort_;
    bool seek_offcut_;
    Choices choices_;
    std::unique_ptr<Fronts> turned_;
    std::unique_ptr<Fronts> fixed_;
    std::vector<std::size_t> limited_;  ///< weight of a stock's count in the number of what is used; 0: no limit
    std::size_t used_states_ = 1;
    std::vector<std::uint64_t> fits_;  ///< bit for each stock
    std::vector<Cost> memo_;
};

void Cover::number_stock() {
    int pieces = 0;
    for (const PieceType& type : task_.types) pieces += static_cast<int>(type.members.size());
    limited_.assign(task_.stock.size(), 0);
    for (std::size_t t = 0; t < task_.stock.size(); ++t) {
        const int count = task_.stock[t].count;
        if (count >= pieces || count == 0) continue;
        limited_[t] = used_states_;
        used_states_ *= static_cast<std::size_t>(count) + 1;
        if (used_states_ > most_states) return;
    }
}

bool Cover::prepare() {
    number_stock();
    if (choices_.count() == 0 || task_.stock.size() > 64 || used_states_ > most_states ||
        choices_.count() * used_states_ > most_states) {
        return false;
    }
    std::vector<BoxSize> limits[2];
    for (const StockKind& s : task_.stock) {
        if (s.count > 0) limits[s.turning ? 1 : 0].push_back(s.inside);
    }
    if (!limits[1].empty()) turned_ = std::make_unique<Fronts>(task_.types, choices_, limits[1], true, effort_);
    if (!limits[0].empty()) fixed_ = std::make_unique<Fronts>(task_.types, choices_, limits[0], false, effort_);
    if (effort_.out()) return false;
    fits_.assign(choices_.count(), 0);
    for (std::size_t t = 0; t < task_.stock.size(); ++t) {
        if (task_.stock[t].count == 0) continue;
        const Fronts& fronts = fronts_for(t);
        for (std::size_t choice = 1; choice < choices_.count(); ++choice) {
            if (fronts.fits(choice, task_.stock[t].inside)) fits_[choice] |= std::uint64_t{1} << t;
        }
    }
    memo_.assign(choices_.count() * used_states_, Cost{unknown, 0});
    return true;
}

Cost Cover::least(std::size_t choice, std::size_t used) {
    if (choice == 0) return {};
    const std::size_t key = choice * used_states_ + used;
    if (memo_[key].first != unknown) return memo_[key];
    const Cost cost = try_lowest(choice, used, nullptr);
    if (!effort_.out()) memo_[key] = cost;
    return cost;
}

/// Some sheet must hold a piece of the lowest type that is left: all its choices are tried.
Cost Cover::try_lowest(std::size_t choice, std::size_t used, Move* best_move) {
    const std::vector<int> digits = choices_.digits(choice);
    std::size_t lowest = 0;
    while (digits[lowest] == 0) ++lowest;
    Cost best{impossible, 0};
    const auto rests = choices_.parts_of(choice - choices_.weight(lowest));
    if (!effort_.spend(static_cast<long long>(rests.size()))) return best;
    for (const std::size_t rest : rests) {
        const std::size_t taken = choice - rest;  // holds at least one of the lowest type
        for (std::size_t t = 0; t < task_.stock.size() && fits_[taken] >> t != 0; ++t) {
            if ((fits_[taken] >> t & 1) == 0 || !available(used, t)) continue;
            if (best.first != impossible && task_.stock[t].cost > best) continue;
            const Cost after = least(rest, use(used, t));
            if (effort_.out()) return best;
            if (after.first == impossible) continue;
            const Cost cost = task_.stock[t].cost + after;
            if (cost < best) {
                best = cost;
                if (best_move != nullptr) *best_move = {taken, t};
            }
        }
    }
    return best;
}

void Cover::add_sheet(const Move& move, Plan plan, ExactAnswer& answer) {
    answer.sheets.push_back({move.stock, choices_.digits(move.choice), std::move(plan)});
}

void Cover::lay_rest(std::size_t choice, std::size_t used, ExactAnswer& answer) {
    while (choice != 0) {
        Move move;
        try_lowest(choice, used, &move);
        const BoxSize sheet = task_.stock[move.stock].inside;
        Plan plan;
        if (seek_offcut_) {
            // Only to leave the rest of this sheet in one piece; nothing is claimed for it.
            Effort little{std::min<long long>(2'000'000, std::max<long long>(effort_.left, 0))};
            OffcutSearch(fronts_for(move.stock), choices_, task_.kerf, task_.usable_side, little)
                .best(move.choice, sheet, 0, plan);
        }
        if (plan.root < 0) plan.root = fronts_for(move.stock).build(plan, move.choice, sheet);
        add_sheet(move, std::move(plan), answer);
        used = use(used, move.stock);
        choice -= move.choice;
    }
}

/// Among the sheets of all cheapest layouts, the one that leaves the largest offcut.
void Cover::best_offcut(ExactAnswer& answer, Move& best_move, Plan& best_plan) {
    const std::size_t all = choices_.count() - 1;
    struct Candidate {
        Move move;
        double at_most = 0;
    };
    std::vector<Candidate> candidates;
    for (std::size_t t = 0; t < task_.stock.size(); ++t) {
        if (!available(0, t)) continue;
        OffcutSearch search(fronts_for(t), choices_, task_.kerf, task_.usable_side, effort_);
        for (std::size_t choice = 1; choice <= all; ++choice) {
            if ((fits_[choice] >> t & 1) == 0) continue;
            const Cost after = least(all - choice, use(0, t));
            if (effort_.out()) return;
            if (after.first == impossible || task_.stock[t].cost + after != answer.cost) continue;
            candidates.push_back({{choice, t}, search.at_most(choice, task_.stock[t].inside)});
        }
    }
    std::stable_sort(candidates.begin(), candidates.end(),
                     [](const Candidate& a, const Candidate& b) { return a.at_most > b.at_most; });
    for (const Candidate& c : candidates) {
        if (c.at_most <= answer.largest_offcut) break;
        OffcutSearch search(fronts_for(c.move.stock), choices_, task_.kerf, task_.usable_side, effort_);
        Plan plan;
        const double found = search.best(c.move.choice, task_.stock[c.move.stock].inside, answer.largest_offcut, plan);
        if (found > answer.largest_offcut) {
            answer.largest_offcut = found;
            best_move = c.move;
            best_plan = std::move(plan);
        }
        if (effort_.out()) return;
    }
    answer.offcut_proved = true;
}

ExactAnswer Cover::run() {
    ExactAnswer answer;
    if (!prepare()) return answer;
    const std::size_t all = choices_.count() - 1;
    answer.cost = least(all, 0);
    if (effort_.out()) return answer;
    if (answer.cost.first == impossible) {
        answer.state = ExactAnswer::State::impossible;
        return answer;
    }
    answer.state = ExactAnswer::State::solved;
    Move move;
    Plan plan;
    if (seek_offcut_) best_offcut(answer, move, plan);
    seek_offcut_ = seek_offcut_ && !effort_.stop.stop_requested();
    effort_.grant(50'000'000);  // what follows is known to be there
    if (move.choice != 0) add_sheet(move, std::move(plan), answer);
    lay_rest(all - move.choice, move.choice == 0 ? 0 : use(0, move.stock), answer);
    return answer;
}

}  // namespace

ExactAnswer solve_exactly(const Task& task, Effort& effort, bool seek_offcut) {
    return Cover(task, effort, seek_offcut).run();
}

}  // namespace standproud::nesting
