#include "joins/problem.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace standproud::joins {

namespace {

constexpr double noise = 1e-7;

double price_of(const nesting::Stock& stock) {
    if (stock.price) return *stock.price;
    return stock.offcut ? 0 : stock.width * stock.height * 1e-6;
}

/// Shares pieces of one row out among sheets, the first piece that is left first.
class Sharing {
  public:
    Sharing(const Problem& problem, const std::array<double, most_pieces>& widths, std::size_t pieces)
        : problem_(problem),
          widths_(widths),
          pieces_(pieces),
          all_((1u << pieces) - 1),
          used_(problem.stock.size(), 0) {}

    std::optional<Assigned> run() {
        share(all_, 0);
        return best_;
    }

  private:
    void share(unsigned left, int sheet) {
        if (best_ && compare(problem_, now_.score, best_->score) > 0) return;
        if (left == 0) {
            if (!best_ || compare(problem_, now_.score, best_->score) < 0) best_ = now_;
            return;
        }
        const unsigned first = left & (~left + 1);
        for (unsigned take = left; take != 0; take = (take - 1) & left) {
            if ((take & first) == 0) continue;
            for (const Strip& strip : problem_.strips) {
                const nesting::Stock& stock = problem_.stock[strip.stock];
                if (stock.count && used_[strip.stock] >= *stock.count) continue;
                if (needed(take) > strip.along + noise) continue;
                const JoinScore before = now_.score;
                add_sheet(problem_, strip.stock, now_.score);
                for (std::size_t i = 0; i < pieces_; ++i) {
                    if ((take >> i & 1) == 0) continue;
                    now_.stock[i] = strip.stock;
                    now_.sheet[i] = sheet;
                }
                ++used_[strip.stock];
                share(left ^ take, sheet + 1);
                --used_[strip.stock];
                now_.score = before;
            }
        }
    }

    [[nodiscard]] double needed(unsigned take) const {
        double sum = -problem_.rules.kerf;
        for (std::size_t i = 0; i < pieces_; ++i) {
            if ((take >> i & 1) != 0) sum += widths_[i] + problem_.rules.kerf;
        }
        return sum;
    }

    const Problem& problem_;
    const std::array<double, most_pieces>& widths_;
    std::size_t pieces_;
    unsigned all_;
    std::vector<int> used_;
    Assigned now_;
    std::optional<Assigned> best_;
};

double asymmetry(const Problem& problem, const Places& places) {
    double sum = 0;
    const double whole = problem.left + problem.right;
    for (std::size_t i = 0; i < places.count; ++i) {
        const std::size_t j = places.count - 1 - i;
        if (i > j) break;
        sum += std::abs(places.at[i] + places.at[j] - whole);
    }
    return sum;
}

double misaligned(const Problem& problem, const Places& places) {
    if (!problem.align) return 0;
    double least = problem.right - problem.left;  // as bad as it gets: no join at all
    for (std::size_t i = 0; i < places.count; ++i) least = std::min(least, std::abs(places.at[i] - *problem.align));
    return least;
}

double measure(const JoinScore& score, Preference preference) {
    switch (preference) {
        case Preference::fewest_joins:
            return score.joins;
        case Preference::least_waste:
            return score.waste;
        case Preference::least_cost:
            return score.cost;
        case Preference::symmetrical:
            return score.asymmetry;
        case Preference::aligned:
            return score.misaligned;
    }
    return 0;
}

}  // namespace

void add_sheet(const Problem& problem, std::size_t stock, JoinScore& score) {
    const nesting::Stock& s = problem.stock[stock];
    score.cost += price_of(s);
    score.waste += s.width * s.height;
    score.sheets += s.offcut ? 0 : 1;
}

std::array<double, most_pieces> widths_of(const Problem& problem, const Places& places) {
    std::array<double, most_pieces> widths{};
    const double half = problem.rules.gap / 2;
    double from = problem.left;
    for (std::size_t i = 0; i < places.count; ++i) {
        widths[i] = places.at[i] - half - from;
        from = places.at[i] + half;
    }
    widths[places.count] = problem.right - from;
    return widths;
}

JoinScore score_of_places(const Problem& problem, const Places& places) {
    JoinScore score;
    score.joins = static_cast<int>(places.count);
    score.asymmetry = asymmetry(problem, places);
    score.misaligned = misaligned(problem, places);
    return score;
}

bool surely_worse(const Problem& problem, const JoinScore& places, const JoinScore& than) {
    for (const Preference preference : problem.order) {
        if (preference == Preference::least_cost || preference == Preference::least_waste) return false;
        const double difference = measure(places, preference) - measure(than, preference);
        if (std::abs(difference) > noise) return difference > 0;
    }
    return false;
}

namespace {

/// Which choices of pieces fit which strip: places with the same key share their sheets out alike.
std::string fits_of(const Problem& problem, const std::array<double, most_pieces>& widths, std::size_t pieces) {
    std::string key(1, static_cast<char>(pieces));
    std::array<double, 1u << most_planned> needed{};
    for (unsigned take = 1; take < 1u << pieces; ++take) {
        needed[take] = -problem.rules.kerf;
        for (std::size_t i = 0; i < pieces; ++i) {
            if ((take >> i & 1) != 0) needed[take] += widths[i] + problem.rules.kerf;
        }
    }
    for (const Strip& strip : problem.strips) {
        for (unsigned first = 0; first < 1u << pieces; first += 8) {
            unsigned fits = 0;
            for (unsigned take = std::max(first, 1u); take < std::min(first + 8, 1u << pieces); ++take) {
                if (needed[take] <= strip.along + noise) fits |= 1u << (take - first);
            }
            key += static_cast<char>(fits);
        }
    }
    return key;
}

std::optional<Assigned> share_out(const Problem& problem, const std::array<double, most_pieces>& widths,
                                  std::size_t pieces) {
    if (pieces > most_planned) return Sharing(problem, widths, pieces).run();
    std::string key = fits_of(problem, widths, pieces);
    const auto known = problem.known.find(key);
    if (known != problem.known.end()) return known->second;
    return problem.known.emplace(std::move(key), Sharing(problem, widths, pieces).run()).first->second;
}

}  // namespace

std::optional<Assigned> assign(const Problem& problem, const Places& places) {
    auto assigned = share_out(problem, widths_of(problem, places), places.count + 1);
    if (!assigned) return assigned;
    const JoinScore places_score = score_of_places(problem, places);
    assigned->score.joins = places_score.joins;
    assigned->score.asymmetry = places_score.asymmetry;
    assigned->score.misaligned = places_score.misaligned;
    assigned->score.waste -= problem.area;
    return assigned;
}

int compare(const Problem& problem, const JoinScore& a, const JoinScore& b) {
    for (const Preference preference : problem.order) {
        const double difference = measure(a, preference) - measure(b, preference);
        if (std::abs(difference) > noise) return difference < 0 ? -1 : 1;
    }
    return 0;
}

double least_width(const Problem& problem, bool keep_rules) {
    return keep_rules ? problem.rules.least_piece : std::min(problem.rules.least_piece, least_refused);
}

bool allowed(const Problem& problem, double at, bool wettest) {
    return std::none_of(problem.forbidden.begin(), problem.forbidden.end(), [&](const Forbidden& f) {
        return (wettest || !f.wettest) && at > f.from + noise && at < f.to - noise;
    });
}

std::vector<std::string> objections(const Problem& problem, const Places& places, bool wettest) {
    std::vector<std::string> all;
    const auto widths = widths_of(problem, places);
    for (std::size_t i = 0; i <= places.count; ++i) {
        if (widths[i] < problem.rules.least_piece - noise) {
            const bool rows = problem.side == Axis::rows;
            all.push_back(fmt::format("{} {} would be {:.1f} mm {}, at least {:g} is needed", rows ? "row" : "piece",
                                      i + 1, widths[i], rows ? "high" : "wide", problem.rules.least_piece));
        }
    }
    for (std::size_t i = 0; i < places.count; ++i) {
        for (const Forbidden& f : problem.forbidden) {
            if ((f.wettest && !wettest) || places.at[i] <= f.from + noise || places.at[i] >= f.to - noise) continue;
            all.push_back(
                problem.side != Axis::rows ? fmt::format("the join at {:.1f} is {}: it would have to be at or below "
                                                         "{:.1f}, or at or above {:.1f}",
                                                         places.at[i], f.why, f.from, f.to)
                : f.wettest ? fmt::format("the level join at {:.1f} is {}: it would have to be at or above {:.1f}",
                                          places.at[i], f.why, f.to)
                            : fmt::format("the level join at {:.1f} is {}: it would have to be at or below {:.1f}, or "
                                          "at or above {:.1f}",
                                          places.at[i], f.why, f.from, f.to));
        }
    }
    return all;
}

double room_of(const Problem& problem, const Places& places, bool wettest) {
    double room = places.count == 0 ? 0 : problem.right - problem.left;
    for (std::size_t i = 0; i < places.count; ++i) {
        for (const Forbidden& f : problem.forbidden) {
            if (f.wettest && !wettest) continue;
            room = std::min(room, std::max(f.from - places.at[i], places.at[i] - f.to));
        }
    }
    const auto widths = widths_of(problem, places);
    for (std::size_t i = 0; places.count > 0 && i <= places.count; ++i) {
        room = std::min({room, widths[i] - problem.rules.least_piece, problem.widest - widths[i]});
    }
    return std::max(0.0, room);
}

}  // namespace standproud::joins
