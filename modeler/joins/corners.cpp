#include "joins/corners.hpp"

#include <algorithm>
#include <bitset>
#include <cmath>
#include <map>

namespace standproud::joins {

namespace {

constexpr double noise = 1e-7;

/// across * places = at: where something changes.
struct Plane {
    std::array<double, most_tried> across{};
    double at = 0;
};

class Corners {
  public:
    Corners(const Problem& problem, const CornerWish& wish) : problem_(problem), wish_(wish) { find_planes(); }

    std::vector<Alike> run() {
        if (wish_.joins == 0) {
            offer({});
        } else {
            Taken none;
            meet(0, none);
        }
        return undominated();
    }

  private:
    void add(const Plane& plane) {
        for (const Plane& known : planes_) {
            bool same = std::abs(known.at - plane.at) < 1e-9;
            for (std::size_t i = 0; i < wish_.joins; ++i) same = same && known.across[i] == plane.across[i];
            if (same) return;
        }
        planes_.push_back(plane);
    }
    void add_for_each(double at) {
        for (std::size_t join = 0; join < wish_.joins; ++join) {
            Plane plane;
            plane.across[join] = 1;
            plane.at = at;
            add(plane);
        }
    }

    /// The pieces' widths, so many times each, come to a sum.
    void add_sum(std::size_t choice, double sum) {
        Plane plane;
        plane.at = sum;
        const double half = problem_.rules.gap / 2;
        bool any = false;
        double least = 0;  // of the sum
        double most = 0;
        for (std::size_t piece = 0; piece <= wish_.joins; ++piece) {
            const auto times = static_cast<double>(choice % (wish_.most_of_each + 1));
            least += times * least_width(problem_, wish_.keep_rules);
            most = std::max(most, times * (problem_.right - problem_.left));
            choice /= wish_.most_of_each + 1;
            if (piece > 0) plane.across[piece - 1] -= times;
            plane.at += piece > 0 ? times * half : times * problem_.left;
            if (piece < wish_.joins) plane.across[piece] += times;
            plane.at += piece < wish_.joins ? times * half : -times * problem_.right;
        }
        if (sum < least - 1 || sum > most + 1) return;
        for (const double a : plane.across) any = any || a != 0;
        if (any) add(plane);
    }

    void find_planes() {
        const std::size_t pieces = wish_.joins + 1;
        const std::size_t choices = power(wish_.most_of_each + 1, pieces);
        for (std::size_t piece = 0; piece < pieces; ++piece)
            add_sum(power(wish_.most_of_each + 1, piece), least_width(problem_, wish_.keep_rules));
        for (const Strip& strip : problem_.strips) {
            for (std::size_t choice = 1; choice < choices; ++choice) {
                double kerfs = -problem_.rules.kerf;
                for (std::size_t left = choice; left > 0; left /= wish_.most_of_each + 1)
                    kerfs += static_cast<double>(left % (wish_.most_of_each + 1)) * problem_.rules.kerf;
                add_sum(choice, strip.along - kerfs);
            }
        }
        const double middle = (problem_.left + problem_.right) / 2;
        add_for_each(middle);
        if (wish_.joins > 1 && problem_.side == Axis::columns) {
            Plane even;
            even.across[0] = 1;
            even.across[wish_.joins - 1] = 1;
            even.at = 2 * middle;
            add(even);
        }
        if (problem_.align && problem_.side == Axis::columns) add_for_each(*problem_.align);
        add_ends();
    }

    /// Of the stretches where a join may be; their middles are no limit, but the most room.
    void add_ends() {
        if (!wish_.keep_rules) return;
        std::vector<double> ends{problem_.left, problem_.right};
        for (const Forbidden& f : problem_.forbidden) {
            if (f.wettest && !wish_.soft) continue;
            for (const double end : {f.from, f.to}) {
                if (end > problem_.left && end < problem_.right) ends.push_back(end);
            }
        }
        std::sort(ends.begin(), ends.end());
        for (std::size_t i = 0; i < ends.size(); ++i) {
            if (i > 0 && i + 1 < ends.size()) add_for_each(ends[i]);
            if (i > 0 && allowed(problem_, (ends[i - 1] + ends[i]) / 2, wish_.soft))
                add_for_each((ends[i - 1] + ends[i]) / 2);
        }
    }

    /// As many planes as joins, taken in rising order.
    using Taken = std::array<const Plane*, most_tried>;
    void meet(std::size_t first, Taken& taken, std::size_t count = 0) {
        if (count >= wish_.joins || count >= taken.size()) {
            solve(taken);
            return;
        }
        for (std::size_t i = first; i < planes_.size(); ++i) {
            taken[count] = &planes_[i];
            meet(i + 1, taken, count + 1);
        }
    }

    /// Gaussian elimination of up to three unknowns.
    void solve(const Taken& taken) {
        std::array<std::array<double, most_tried + 1>, most_tried> rows{};
        const std::size_t n = wish_.joins;
        for (std::size_t i = 0; i < n; ++i) {
            for (std::size_t j = 0; j < n; ++j) rows[i][j] = taken[i]->across[j];
            rows[i][n] = taken[i]->at;
        }
        for (std::size_t k = 0; k < n; ++k) {
            std::size_t best = k;
            for (std::size_t i = k + 1; i < n; ++i) {
                if (std::abs(rows[i][k]) > std::abs(rows[best][k])) best = i;
            }
            if (std::abs(rows[best][k]) < 1e-9) return;
            std::swap(rows[k], rows[best]);
            for (std::size_t i = 0; i < n; ++i) {
                if (i == k) continue;
                const double factor = rows[i][k] / rows[k][k];
                for (std::size_t j = k; j <= n; ++j) rows[i][j] -= factor * rows[k][j];
            }
        }
        Places places;
        places.count = n;
        for (std::size_t k = 0; k < n; ++k) places.at[k] = rows[k][n] / rows[k][k];
        offer(places);
    }

    [[nodiscard]] bool stands(const Places& places) const {
        const auto widths = widths_of(problem_, places);
        const double least = least_width(problem_, wish_.keep_rules);
        for (std::size_t i = 0; i <= places.count; ++i) {
            if (widths[i] < least - noise || widths[i] > problem_.widest + noise) return false;
        }
        for (std::size_t i = 0; wish_.keep_rules && i < places.count; ++i) {
            if (!allowed(problem_, places.at[i], wish_.soft)) return false;
        }
        return true;
    }

    [[nodiscard]] bool better(const Corner& a, const Corner& b) const {
        const int by_score = compare(problem_, a.score, b.score);
        if (by_score != 0) return by_score < 0;
        if (a.reasons.size() != b.reasons.size()) return a.reasons.size() < b.reasons.size();
        return a.room > b.room + 1e-9;
    }
    [[nodiscard]] bool near(const Corner& a, const Corner& b) const {
        for (std::size_t i = 0; i < wish_.joins; ++i) {
            if (std::abs(a.places.at[i] - b.places.at[i]) > wish_.apart) return false;
        }
        return true;
    }

    void offer(const Places& given) {
        Places places = given;
        places.count = wish_.joins;
        if (!stands(places)) return;
        const bool columns = problem_.side == Axis::columns;
        Corner corner{places,
                      columns ? score_of_places(problem_, places) : JoinScore{},
                      room_of(problem_, places, wish_.soft),
                      {}};
        if (!wish_.keep_rules) corner.reasons = objections(problem_, places, wish_.soft);
        auto& kept = found_[fits(problem_, places, wish_.most_of_each)];
        for (const Corner& one : kept) {
            if (near(one, corner) && !better(corner, one)) return;
        }
        kept.erase(std::remove_if(kept.begin(), kept.end(), [&](const Corner& one) { return near(one, corner); }),
                   kept.end());
        const auto at = std::find_if(kept.begin(), kept.end(), [&](const Corner& one) { return better(corner, one); });
        kept.insert(at, std::move(corner));
        if (kept.size() > wish_.keep) kept.pop_back();
    }

    [[nodiscard]] static bool fits_no_less(const std::string& a, const std::string& b) {
        for (std::size_t i = 0; i < a.size(); ++i) {
            if ((~static_cast<unsigned char>(a[i]) & static_cast<unsigned char>(b[i])) != 0) return false;
        }
        return true;
    }

    /// What fits most comes first: only that can stand before what fits less, and what is left out has one before it
    /// that is kept.
    [[nodiscard]] std::vector<Alike> undominated() const {
        const auto count = [](const std::string& fit) {
            std::size_t bits = 0;
            for (const char byte : fit) bits += std::bitset<8>(static_cast<unsigned char>(byte)).count();
            return bits;
        };
        std::vector<std::pair<std::size_t, const std::string*>> order;
        for (const auto& [fit, corners] : found_) order.emplace_back(count(fit), &fit);
        std::stable_sort(order.begin(), order.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
        std::vector<Alike> kept;
        for (const auto& [bits, fit] : order) {
            const auto& corners = found_.at(*fit);
            const bool beaten = std::any_of(kept.begin(), kept.end(), [&, &f = *fit](const Alike& other) {
                return fits_no_less(other.fits, f) &&
                       compare(problem_, other.corners.front().score, corners.front().score) <= 0;
            });
            if (!beaten) kept.push_back({*fit, corners});
        }
        return kept;
    }

    const Problem& problem_;
    const CornerWish& wish_;
    std::vector<Plane> planes_;
    std::map<std::string, std::vector<Corner>> found_;
};

}  // namespace

std::string fits(const Problem& problem, const Places& places, unsigned most_of_each) {
    const auto widths = widths_of(problem, places);
    const std::size_t choices = power(most_of_each + 1, places.count + 1);
    const std::size_t bytes = (choices + 7) / 8;
    std::string all(bytes * problem.strips.size(), '\0');
    for (std::size_t choice = 0; choice < choices; ++choice) {
        double needed = -problem.rules.kerf;
        std::size_t left = choice;
        for (std::size_t piece = 0; piece <= places.count; ++piece) {
            needed += static_cast<double>(left % (most_of_each + 1)) * (widths[piece] + problem.rules.kerf);
            left /= most_of_each + 1;
        }
        for (std::size_t s = 0; s < problem.strips.size(); ++s) {
            if (needed > problem.strips[s].along + noise) continue;
            char& byte = all[s * bytes + choice / 8];
            byte = static_cast<char>(static_cast<unsigned char>(byte) | 1u << choice % 8);
        }
    }
    return all;
}

bool fits_there(const std::string& fits, std::size_t strip, std::size_t choices, std::size_t choice) {
    const std::size_t bytes = (choices + 7) / 8;
    return (static_cast<unsigned char>(fits[strip * bytes + choice / 8]) >> choice % 8 & 1) != 0;
}

std::vector<Alike> corners_of(const Problem& problem, const CornerWish& wish) { return Corners(problem, wish).run(); }

}  // namespace standproud::joins
