#include "joins/grid.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "modeler/join_choice.hpp"

namespace standproud::joins {

namespace {

JoinRules rules_of_rows(JoinRules rules) {
    rules.least_piece = rules.least_height;
    return rules;
}

/// Shares the pieces of a grid out among sheets: the first piece that is left, with all that one sheet can take
/// besides. A sheet that could take a piece more is not tried without it: the piece would only leave another sheet.
class GridSharing {
  public:
    GridSharing(const Grid& grid, std::size_t columns, std::size_t rows, const std::string& across,
                const std::string& up)
        : grid_(grid), columns_(columns), rows_(rows), up_(up), used_(grid.columns.stock.size(), 0) {
        for (std::size_t s = 0; s < strips().size(); ++s) needed_.push_back(strips_needed(across, s));
        takes_.resize(std::size_t{1} << columns_ * rows_, 0);
        for (unsigned take = 1; take < takes_.size(); ++take) {
            for (std::size_t s = 0; s < strips().size(); ++s) takes_[take] |= fits_sheet(take, s) ? 1ULL << s : 0;
        }
    }

    std::optional<Grid::Shared> run() {
        const Known* best = share((1u << columns_ * rows_) - 1);
        if (!best->possible) return std::nullopt;
        Grid::Shared shared;
        shared.score = best->score;
        shared.stock.assign(columns_ * rows_, 0);
        shared.sheet.assign(columns_ * rows_, 0);
        int sheet = 0;
        for (unsigned left = (1u << columns_ * rows_) - 1; left != 0; ++sheet) {
            const Known* here = share(left);
            const std::size_t stock = strips()[here->strip].stock;
            for (std::size_t i = 0; i < columns_ * rows_; ++i) {
                if ((here->take >> i & 1) == 0) continue;
                shared.stock[i] = stock;
                shared.sheet[i] = sheet;
            }
            ++used_[stock];
            left ^= here->take;
        }
        return shared;
    }

  private:
    struct Known {
        bool possible = false;
        JoinScore score;
        unsigned take = 0;
        std::size_t strip = 0;
    };
    static constexpr unsigned never = 100;

    [[nodiscard]] const std::vector<Strip>& strips() const { return grid_.columns.strips; }

    /// The fewest strips that take a set of columns, for each set.
    [[nodiscard]] std::vector<unsigned> strips_needed(const std::string& across, std::size_t strip) const {
        std::vector<unsigned> needed(1u << columns_, never);
        needed[0] = 0;
        for (unsigned set = 1; set < 1u << columns_; ++set) {
            for (unsigned one = set; one != 0; one = (one - 1) & set) {
                if (fits_there(across, strip, std::size_t{1} << columns_, one))
                    needed[set] = std::min(needed[set], needed[set ^ one] + 1);
            }
        }
        return needed;
    }

    [[nodiscard]] bool fits_sheet(unsigned take, std::size_t strip) const {
        std::size_t choice = 0;
        const std::size_t base = most_strips(columns_) + 1;
        for (std::size_t row = rows_; row-- > 0;) {
            const unsigned strips = needed_[strip][take >> row * columns_ & ((1u << columns_) - 1)];
            if (strips >= base) return false;
            choice = choice * base + strips;
        }
        return fits_there(up_, strip, power(base, rows_), choice);
    }

    /// The strips that take these pieces and none of the others that are left.
    [[nodiscard]] std::uint64_t takes_no_more(unsigned take, unsigned left) const {
        std::uint64_t strips = takes_[take];
        for (unsigned rest = left & ~take; rest != 0 && strips != 0; rest &= rest - 1)
            strips &= ~takes_[take | (rest & (~rest + 1))];
        return strips;
    }

    /// What is left, and how often each kind of sheet of which there are few was used.
    [[nodiscard]] std::string key(unsigned left) const {
        std::string words{static_cast<char>(left & 255), static_cast<char>(left >> 8)};
        for (std::size_t t = 0; t < used_.size(); ++t) {
            const auto& count = grid_.columns.stock[t].count;
            if (count && *count < static_cast<int>(columns_ * rows_)) words += static_cast<char>(used_[t]);
        }
        return words;
    }

    const Known* share(unsigned left) {
        const auto [at, is_new] = known_.try_emplace(key(left));
        Known& here = at->second;  // references stay good when the map grows
        if (!is_new) return &here;
        if (left == 0) {
            here.possible = true;
            return &here;
        }
        Known best;
        const unsigned first = left & (~left + 1);
        for (unsigned take = left; take != 0; take = (take - 1) & left) {
            if ((take & first) == 0) continue;
            const std::uint64_t possible = takes_no_more(take, left);
            for (std::size_t s = 0; possible >> s != 0; ++s) {
                if ((possible >> s & 1) == 0) continue;
                const std::size_t stock = strips()[s].stock;
                const auto& count = grid_.columns.stock[stock].count;
                if (count && used_[stock] >= *count) continue;
                ++used_[stock];
                const Known* rest = share(left ^ take);
                --used_[stock];
                if (!rest->possible) continue;
                JoinScore score = rest->score;
                add_sheet(grid_.columns, stock, score);
                if (best.possible && compare(grid_.columns, score, best.score) >= 0) continue;
                best = {true, score, take, s};
            }
        }
        here = best;
        return &here;
    }

    const Grid& grid_;
    std::size_t columns_;
    std::size_t rows_;
    const std::string& up_;
    std::vector<int> used_;
    std::vector<std::vector<unsigned>> needed_;  ///< for each strip
    std::vector<std::uint64_t> takes_;           ///< for each set of pieces, a bit for each strip that takes it
    std::unordered_map<std::string, Known> known_;
};

bool near(const GridFound& a, const GridFound& b, double apart) {
    const auto far = [&](const Places& one, const Places& other) {
        if (one.count != other.count) return true;
        for (std::size_t i = 0; i < one.count; ++i) {
            if (std::abs(one.at[i] - other.at[i]) > apart) return true;
        }
        return false;
    };
    return !far(a.columns.places, b.columns.places) && !far(a.rows.places, b.rows.places);
}

double room_of(const GridFound& found) {
    return found.columns.places.count == 0 ? found.rows.room : std::min(found.columns.room, found.rows.room);
}

bool better(const Grid& grid, const GridFound& a, const GridFound& b) {
    const int by_score = compare(grid.columns, a.score, b.score);
    if (by_score != 0) return by_score < 0;
    const auto broken = [](const GridFound& f) { return f.columns.reasons.size() + f.rows.reasons.size(); };
    if (broken(a) != broken(b)) return broken(a) < broken(b);
    return room_of(a) > room_of(b) + 1e-9;
}

class GridSearch {
  public:
    GridSearch(const Grid& grid, std::size_t keep, double apart, const JoinScore* than, const JoinScore* enough)
        : grid_(grid), keep_(keep), apart_(apart), than_(than), enough_(enough) {}

    /// From now on layouts of so many joins: what their pieces' area costs at least.
    void begin(std::size_t uprights, std::size_t levels) {
        const double gap = grid_.columns.rules.gap;
        const double width = grid_.columns.right - grid_.columns.left - static_cast<double>(uprights) * gap;
        const double height = grid_.rows.right - grid_.rows.left - static_cast<double>(levels) * gap;
        const double area = std::max(0.0, width) * std::max(0.0, height);
        bound_ = bound_of_area(area, grid_.columns.stock).price;
        waste_ = std::min(0.0, area - grid_.columns.area);  // the gaps are of the wall, not of the pieces
    }

    void pair(const Alike& across, const Alike& up) {
        // No layout of these places scores better than this.
        JoinScore bound = across.corners.front().score;
        bound.joins += static_cast<int>(up.corners.front().places.count);
        bound.cost = bound_;
        bound.waste = waste_;
        const auto no_better = [&](const JoinScore& than) { return compare(grid_.columns, bound, than) >= 0; };
        if (than_ && no_better(*than_)) return;
        if (enough_ && no_better(*enough_)) return;
        if (found_.size() >= keep_ && no_better(found_.back().score)) return;
        if (grid_.shares > Grid::most_shares) return;
        for (const Corner& columns : across.corners) {
            for (const Corner& rows : up.corners) {
                auto found = found_grid(grid_, columns, rows, across.fits, up.fits);
                if (!found) return;
                offer(std::move(*found));
            }
        }
    }
    std::vector<GridFound> found() { return std::move(found_); }

  private:
    void offer(GridFound one) {
        if (than_) {
            if (compare(grid_.columns, one.score, *than_) >= 0) return;
            if (one.columns.reasons.empty() && one.rows.reasons.empty()) return;
        }
        for (const GridFound& f : found_) {
            if (near(f, one, apart_) && !better(grid_, one, f)) return;
        }
        found_.erase(
            std::remove_if(found_.begin(), found_.end(), [&](const GridFound& f) { return near(f, one, apart_); }),
            found_.end());
        const auto at =
            std::find_if(found_.begin(), found_.end(), [&](const GridFound& f) { return better(grid_, one, f); });
        found_.insert(at, std::move(one));
        if (found_.size() > keep_) found_.pop_back();
    }

    const Grid& grid_;
    std::size_t keep_;
    double apart_;
    const JoinScore* than_;
    const JoinScore* enough_;
    double bound_ = 0;
    double waste_ = 0;
    std::vector<GridFound> found_;
};

}  // namespace

Grid::Grid(const Polygon& area, const std::vector<JoinFitting>& fittings, const std::vector<nesting::Stock>& stock,
           const JoinRules& rules, const JoinWish& wish)
    : row_rules(rules_of_rows(rules)),
      columns(pose(area, fittings, stock, rules, wish, refused, Axis::columns)),
      rows(pose(area, fittings, stock, row_rules, wish, refused, Axis::rows)) {}

unsigned most_strips(std::size_t columns) { return static_cast<unsigned>(columns); }

const std::optional<Grid::Shared>& share_grid(const Grid& grid, std::size_t columns, std::size_t rows,
                                              const std::string& across, const std::string& up) {
    std::string key{static_cast<char>(columns), static_cast<char>(rows)};
    key += across + up;
    const auto known = grid.known.find(key);
    if (known != grid.known.end()) return known->second;
    ++grid.shares;
    return grid.known.emplace(std::move(key), GridSharing(grid, columns, rows, across, up).run()).first->second;
}

std::optional<GridFound> found_grid(const Grid& grid, const Corner& columns, const Corner& rows,
                                    const std::string& across, const std::string& up) {
    const auto& shared = share_grid(grid, columns.places.count + 1, rows.places.count + 1, across, up);
    if (!shared) return std::nullopt;
    GridFound found{columns, rows, *shared, shared->score};
    found.score.joins = static_cast<int>(columns.places.count + rows.places.count);
    found.score.levels = static_cast<int>(rows.places.count);
    found.score.asymmetry = columns.score.asymmetry;
    found.score.misaligned = columns.score.misaligned;
    found.score.waste -= grid.columns.area;
    return found;
}

std::vector<GridFound> search_grid(const Grid& grid, std::size_t levels, bool wettest, bool outlet, std::size_t keep,
                                   double apart, const JoinScore* than, const JoinScore* enough) {
    GridSearch search(grid, keep, apart, than, enough);
    const int most = std::min(grid.columns.rules.most_joins, static_cast<int>(most_tried));
    for (std::size_t n = 0; n <= static_cast<std::size_t>(most); ++n) {
        const auto across = corners_of(grid.columns, {!than, wettest, n, 1, keep, apart});
        if (across.empty()) continue;
        search.begin(n, levels);
        const auto up = corners_of(grid.rows, {!than, outlet, levels, most_strips(n + 1), keep, apart});
        for (const Alike& columns : across) {
            for (const Alike& rows : up) search.pair(columns, rows);
        }
    }
    return search.found();
}

std::vector<JoinPiece> grid_pieces(const Grid& grid, const Polygon& area, const Places& columns, const Places& rows,
                                   const Grid::Shared* shared) {
    std::vector<JoinPiece> pieces;
    const auto level = pieces_of(grid.rows, area, rows, nullptr);
    const auto upright = pieces_of(grid.columns, area, columns, nullptr);
    for (const JoinPiece& row : level) {
        for (const JoinPiece& column : upright) {
            JoinPiece piece = column;
            piece.bottom = row.from;
            piece.top = row.to;
            piece.outline = clipped(clipped(piece.outline, {0, 1}, piece.bottom), {0, -1}, -piece.top);
            if (shared) piece.stock = shared->stock[pieces.size()];
            if (shared) piece.sheet = shared->sheet[pieces.size()];
            pieces.push_back(std::move(piece));
        }
    }
    return pieces;
}

bool below_outlet(const Grid& grid, const Places& rows) {
    for (std::size_t i = 0; i < rows.count; ++i) {
        if (grid.row_rules.outlet && rows.at[i] < *grid.row_rules.outlet + grid.row_rules.gap / 2 - same_length)
            return true;
    }
    return false;
}

JoinLayout grid_layout(const Grid& grid, const Polygon& area, const GridFound& found, bool on_wettest) {
    const auto listed = [](const Places& places) {
        return std::vector<double>(places.at.begin(), places.at.begin() + static_cast<std::ptrdiff_t>(places.count));
    };
    JoinLayout layout;
    layout.joins = listed(found.columns.places);
    layout.levels = listed(found.rows.places);
    layout.score = found.score;
    layout.room = room_of(found);
    layout.on_wettest = on_wettest;
    layout.below_outlet = below_outlet(grid, found.rows.places);
    layout.pieces = grid_pieces(grid, area, found.columns.places, found.rows.places, &found.shared);
    return layout;
}

}  // namespace standproud::joins
