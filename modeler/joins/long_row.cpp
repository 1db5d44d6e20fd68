#include "joins/long_row.hpp"

#include <algorithm>
#include <cmath>

#include "joins/simplex.hpp"

namespace standproud::joins {

namespace {

constexpr double noise = 1e-7;

/// Which pieces share a sheet.
struct Way {
    JoinScore score;  ///< sheets, cost and waste of the sheets
    std::array<unsigned, most_pieces> pieces{};
    std::array<double, most_pieces> along{};
    std::size_t sheets = 0;
};

/// All ways that the sheets' sizes alone do not rule out, cheapest first by the order of preference.
class Ways {
  public:
    Ways(const Problem& problem, std::size_t pieces, double least_piece)
        : problem_(problem), pieces_(pieces), least_(least_piece), used_(problem.stock.size(), 0) {
        const double gaps = static_cast<double>(pieces - 1) * problem.rules.gap;
        widths_ = problem.right - problem.left - gaps;
        share((1u << pieces) - 1, 0);
        std::stable_sort(all_.begin(), all_.end(),
                         [&](const Way& a, const Way& b) { return compare(problem_, a.score, b.score) < 0; });
    }

    [[nodiscard]] const std::vector<Way>& all() const { return all_; }

  private:
    void share(unsigned left, double given) {
        if (left == 0) {
            if (given >= widths_ - noise) all_.push_back(now_);
            return;
        }
        const unsigned first = left & (~left + 1);
        for (unsigned take = left; take != 0; take = (take - 1) & left) {
            if ((take & first) == 0) continue;
            const auto count = static_cast<double>(__builtin_popcount(take));
            for (const Strip& strip : problem_.strips) {
                const nesting::Stock& stock = problem_.stock[strip.stock];
                if (stock.count && used_[strip.stock] >= *stock.count) continue;
                const double width = strip.along - (count - 1) * problem_.rules.kerf;
                if (count * least_ > width + noise) continue;
                const Way before = now_;
                add_sheet(problem_, strip.stock, now_.score);
                now_.pieces[now_.sheets] = take;
                now_.along[now_.sheets] = strip.along;
                ++now_.sheets;
                ++used_[strip.stock];
                share(left ^ take, given + width);
                --used_[strip.stock];
                now_ = before;
            }
        }
    }

    const Problem& problem_;
    std::size_t pieces_;
    double least_;
    double widths_ = 0;  ///< of all pieces together
    std::vector<int> used_;
    Way now_;
    std::vector<Way> all_;
};

struct Stretch {
    double from = 0;
    double to = 0;
};

/// Where the middle of a join may be.
std::vector<Stretch> free_stretches(const Problem& problem, bool keep_rules, bool wettest) {
    std::vector<Stretch> off;
    for (const Forbidden& f : problem.forbidden) {
        if (keep_rules && (wettest || !f.wettest)) off.push_back({f.from, f.to});
    }
    std::sort(off.begin(), off.end(), [](const Stretch& a, const Stretch& b) { return a.from < b.from; });
    std::vector<Stretch> free;
    double from = problem.left;
    for (const Stretch& f : off) {
        if (f.from >= problem.right) break;
        if (f.from >= from - same_length) free.push_back({from, std::max(from, f.from)});
        from = std::max(from, f.to);
    }
    if (from <= problem.right) free.push_back({from, problem.right});
    return free;
}

/// What the joins' places alone come to, at best.
struct Placed {
    Places places;
    double asymmetry = 0;
    double misaligned = 0;
};

class Row {
  public:
    Row(const Problem& problem, bool keep_rules, bool wettest, std::size_t joins, Effort& effort)
        : problem_(problem),
          joins_(joins),
          pairs_((joins + 1) / 2),
          least_(least_width(problem, keep_rules)),
          free_(free_stretches(problem, keep_rules, wettest)),
          effort_(effort) {}

    using Worth = std::function<bool(double asymmetry, double misaligned)>;
    using Visit = std::function<void(const Placed&)>;

    /// All choices of stretches for one way; none: whatever the sheets.
    void run(const Way* way, const Worth& worth, const Visit& visit) {
        if (free_.empty()) return;
        way_ = way;
        worth_ = &worth;
        visit_ = &visit;
        const bool aligning = problem_.align && prefers(Preference::aligned);
        for (std::size_t near = 0; near < (aligning ? joins_ : 1); ++near) {
            near_ = aligning ? std::optional(near) : std::nullopt;
            std::vector<Stretch> chosen(joins_, {free_.front().from, free_.back().to});
            choose(chosen, 0, 0);
        }
    }

    [[nodiscard]] double least_piece() const { return least_; }

  private:
    [[nodiscard]] bool prefers(Preference wanted) const {
        return std::find(problem_.order.begin(), problem_.order.end(), wanted) != problem_.order.end();
    }
    /// The unknowns: places of the joins from the left edge, each pair's distance off the middle, the distance off the
    /// line to align with, the room.
    [[nodiscard]] std::size_t off_line() const { return joins_ + pairs_; }
    [[nodiscard]] std::size_t room() const { return joins_ + pairs_ + 1; }

    void choose(std::vector<Stretch>& chosen, std::size_t join, std::size_t first) {
        if (effort_.spent) return;
        const auto placed = solve(chosen, join == joins_);
        if (!placed || !(*worth_)(placed->asymmetry, placed->misaligned)) return;
        if (join == joins_) {
            (*visit_)(*placed);
            return;
        }
        const Stretch any = chosen[join];
        for (std::size_t s = first; s < free_.size(); ++s) {
            chosen[join] = free_[s];
            choose(chosen, join + 1, s);
        }
        chosen[join] = any;
    }

    /// width of piece i = (place i - place before) - gap, as a row; returns what is known of it.
    double width_row(std::size_t piece, double factor, std::vector<double>& row) const {
        double known = 0;
        if (piece > 0) {
            row[piece - 1] -= factor;
            known -= problem_.rules.gap / 2;
        }
        if (piece < joins_) {
            row[piece] += factor;
            known -= problem_.rules.gap / 2;
        } else {
            known += problem_.right - problem_.left;
        }
        return factor * known;
    }

    void add_places(Programme& programme, const std::vector<Stretch>& chosen) const {
        for (std::size_t i = 0; i < joins_; ++i) {
            auto& below = programme.add(chosen[i].to - problem_.left);
            below[i] = 1;
            below[room()] = 1;
            auto& above = programme.add(problem_.left - chosen[i].from);
            above[i] = -1;
            above[room()] = 1;
        }
    }

    void add_widths(Programme& programme) const {
        for (std::size_t piece = 0; piece <= joins_; ++piece) {
            auto& wide = programme.add(0);
            wide[room()] = 1;
            const double known = width_row(piece, -1, wide);
            programme.limits.back() = -least_ - known;
            auto& narrow = programme.add(0);
            narrow[room()] = 1;
            const double also = width_row(piece, 1, narrow);
            programme.limits.back() = problem_.widest - also;
        }
        for (std::size_t sheet = 0; way_ && sheet < way_->sheets; ++sheet) {
            auto& row = programme.add(0);
            double limit = way_->along[sheet] + problem_.rules.kerf;
            for (std::size_t piece = 0; piece <= joins_; ++piece) {
                if ((way_->pieces[sheet] >> piece & 1) != 0) limit -= width_row(piece, 1, row) + problem_.rules.kerf;
            }
            programme.limits.back() = limit;
        }
    }

    void add_wishes(Programme& programme) const {
        const double whole = problem_.right - problem_.left;
        for (std::size_t i = 0; i < pairs_; ++i) {
            for (const double sign : {1.0, -1.0}) {
                auto& row = programme.add(sign * whole);
                row[i] += sign;
                row[joins_ - 1 - i] += sign;
                row[joins_ + i] = -1;
            }
        }
        if (!near_) return;
        for (const double sign : {1.0, -1.0}) {
            auto& row = programme.add(sign * (*problem_.align - problem_.left));
            row[*near_] = sign;
            row[off_line()] = -1;
        }
    }

    /// The best places by the order of preference, at a leaf then with the most room.
    [[nodiscard]] std::optional<Placed> solve(const std::vector<Stretch>& chosen, bool leaf) {
        Programme programme{joins_ + pairs_ + 2};
        add_places(programme, chosen);
        add_widths(programme);
        add_wishes(programme);
        std::vector<std::vector<double>> goals;
        for (const Preference preference : problem_.order) {
            std::vector<double> goal(programme.unknowns, 0.0);
            if (preference == Preference::symmetrical) {
                std::fill_n(goal.begin() + static_cast<std::ptrdiff_t>(joins_), pairs_, 1.0);
            } else if (preference == Preference::aligned && near_) {
                goal[off_line()] = 1;
            } else {
                continue;
            }
            goals.push_back(goal);
        }
        if (leaf || goals.empty()) {
            goals.emplace_back(programme.unknowns, 0.0);
            goals.back()[room()] = -1;
        }
        std::vector<double> x;
        for (const auto& goal : goals) {
            if (++effort_.solved > effort_.most) effort_.spent = true;
            const auto best = least(programme, goal);
            if (!best) {
                if (x.empty()) return std::nullopt;
                break;  // rounding: what the goals before gave stands
            }
            x = *best;
            double reached = 1e-9;
            for (std::size_t i = 0; i < x.size(); ++i) reached += goal[i] * x[i];
            programme.add(reached) = goal;
        }
        return placed_at(x);
    }

    [[nodiscard]] Placed placed_at(const std::vector<double>& x) const {
        Placed placed;
        placed.places.count = joins_;
        for (std::size_t i = 0; i < joins_; ++i) placed.places.at[i] = problem_.left + x[i];
        for (std::size_t i = 0; i < pairs_; ++i) placed.asymmetry += x[joins_ + i];
        if (near_) placed.misaligned = x[off_line()];
        return placed;
    }

    const Problem& problem_;
    std::size_t joins_;
    std::size_t pairs_;
    double least_;
    std::vector<Stretch> free_;
    Effort& effort_;
    const Way* way_ = nullptr;
    const Worth* worth_ = nullptr;
    const Visit* visit_ = nullptr;
    std::optional<std::size_t> near_;
};

}  // namespace

void search_long_row(const Problem& problem, bool keep_rules, bool wettest, std::size_t joins, Effort& effort,
                     const std::function<bool(const JoinScore&)>& worth,
                     const std::function<void(const Places&)>& visit) {
    Row row(problem, keep_rules, wettest, joins, effort);
    const auto score = [&](const JoinScore& sheets, double asymmetry, double misaligned) {
        JoinScore all = sheets;
        all.joins = static_cast<int>(joins);
        all.asymmetry = asymmetry;
        all.misaligned = misaligned;
        return all;
    };
    // What no way of sharing out can better.
    std::optional<JoinScore> bound;
    row.run(
        nullptr,
        [&](double asymmetry, double misaligned) {
            const JoinScore here = score({}, asymmetry, misaligned);
            return !bound || compare(problem, here, *bound) < 0;
        },
        [&](const Placed& placed) { bound = score({}, placed.asymmetry, placed.misaligned); });
    if (!bound) return;
    const Ways ways(problem, joins + 1, row.least_piece());
    for (const Way& way : ways.all()) {
        JoinScore sheets = way.score;
        sheets.waste -= problem.area;
        if (effort.spent || !worth(score(sheets, bound->asymmetry, bound->misaligned))) return;
        row.run(
            &way, [&](double asymmetry, double misaligned) { return worth(score(sheets, asymmetry, misaligned)); },
            [&](const Placed& placed) { visit(placed.places); });
    }
}

}  // namespace standproud::joins
