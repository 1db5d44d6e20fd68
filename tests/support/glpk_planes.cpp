#include "support/glpk_planes.hpp"

#include <glpk.h>

#include <utility>

namespace standproud::testing {

namespace {

/// A linear programme that is made least. The first three unknowns are a, b, c.
class Programme {
  public:
    explicit Programme(const BeddingRule& rule) : lp_(glp_create_prob()) {
        glp_term_out(GLP_OFF);
        glp_set_obj_dir(lp_, GLP_MIN);
        unknown(false, 0);
        unknown(false, 0);
        unknown(false, 0);
        if (rule.turn) glp_set_col_bnds(lp_, 2, GLP_FX, *rule.turn, *rule.turn);
        if (rule.plumb) glp_set_col_bnds(lp_, 3, GLP_FX, 0, 0);
    }
    ~Programme() { glp_delete_prob(lp_); }
    Programme(const Programme&) = delete;
    Programme& operator=(const Programme&) = delete;

    int unknown(bool from_zero, double cost) {
        const int j = glp_add_cols(lp_, 1);
        glp_set_col_bnds(lp_, j, from_zero ? GLP_LO : GLP_FR, 0, 0);
        glp_set_obj_coef(lp_, j, cost);
        return j;
    }
    void costs(double a, double b, double c) {
        glp_set_obj_coef(lp_, 1, a);
        glp_set_obj_coef(lp_, 2, b);
        glp_set_obj_coef(lp_, 3, c);
    }
    void row(int kind, double low, double high, const std::vector<std::pair<int, double>>& terms) {
        const int i = glp_add_rows(lp_, 1);
        glp_set_row_bnds(lp_, i, kind, low, high);
        std::vector<int> index{0};
        std::vector<double> value{0};
        for (const auto& [j, entry] : terms) {
            index.push_back(j);
            value.push_back(entry);
        }
        glp_set_mat_row(lp_, i, static_cast<int>(terms.size()), index.data(), value.data());
    }
    PlaneOpinion solve() {
        glp_smcp settings;
        glp_init_smcp(&settings);
        settings.msg_lev = GLP_MSG_OFF;
        glp_simplex(lp_, &settings);
        glp_exact(lp_, &settings);  // rational arithmetic, from the basis found
        const int status = glp_get_status(lp_);
        if (status == GLP_OPT) {
            return {PlaneOpinion::State::solved, glp_get_obj_val(lp_), {value_of(1), value_of(2), value_of(3)}};
        }
        return {status == GLP_UNBND ? PlaneOpinion::State::unbounded : PlaneOpinion::State::none, 0, {}};
    }
    double value_of(int unknown) const { return glp_get_col_prim(lp_, unknown); }

  private:
    glp_prob* lp_;
};

double under_bed(const WallPoint& spot, const BeddingRule& rule) { return spot.n + rule.substrate; }

/// So much more counts what is made least first than what is made least next.
constexpr double first = 1 << 20;

/// bed_min <= bed <= bed_max with each spot's own planing taken off the face, each costing `cost`, and none over the
/// unknown `deepest`, if there is one.
void planed(Programme& lp, const std::vector<WallPoint>& spots, const BeddingRule& rule, double cost, int deepest) {
    for (const auto& spot : spots) {
        const int off = lp.unknown(true, cost);
        const double face = under_bed(spot, rule);
        const bool fixed = *rule.bed_max == rule.bed_min;
        lp.row(fixed ? GLP_FX : GLP_DB, face + rule.bed_min, face + *rule.bed_max,
               {{1, 1}, {2, spot.u}, {3, spot.v}, {off, 1}});
        if (deepest > 0) lp.row(GLP_LO, 0, 0, {{deepest, 1}, {off, -1}});
    }
}

}  // namespace

PlaneOpinion glpk_lowest(const std::vector<WallPoint>& spots, Vec2 middle, const BeddingRule& rule) {
    Programme lp(rule);
    lp.costs(1, middle.x, middle.y);
    for (const auto& spot : spots) {
        lp.row(GLP_LO, under_bed(spot, rule) + rule.bed_min, 0, {{1, 1}, {2, spot.u}, {3, spot.v}});
    }
    return lp.solve();
}

PlaneOpinion glpk_least_greatest_bed(const std::vector<WallPoint>& spots, Vec2 middle, const BeddingRule& rule) {
    Programme lp(rule);
    const int greatest = lp.unknown(false, 1);
    lp.costs(first, first * middle.x, first * middle.y);
    for (const auto& spot : spots) {
        const double face = under_bed(spot, rule);
        lp.row(GLP_LO, face + rule.bed_min, 0, {{1, 1}, {2, spot.u}, {3, spot.v}});
        lp.row(GLP_LO, -face, 0, {{greatest, 1}, {1, -1}, {2, -spot.u}, {3, -spot.v}});
    }
    PlaneOpinion both = lp.solve();
    both.value = lp.value_of(greatest);
    return both;
}

PlaneOpinion glpk_least_total(const std::vector<WallPoint>& spots, const BeddingRule& rule) {
    Programme lp(rule);
    planed(lp, spots, rule, 1, 0);
    return lp.solve();
}

PlaneOpinion glpk_least_deepest(const std::vector<WallPoint>& spots, const BeddingRule& rule) {
    Programme lp(rule);
    planed(lp, spots, rule, 0, lp.unknown(true, 1));
    return lp.solve();
}

PlaneOpinion glpk_least_total_of_deepest(const std::vector<WallPoint>& spots, const BeddingRule& rule) {
    Programme lp(rule);
    const int deepest = lp.unknown(true, first);
    planed(lp, spots, rule, 1, deepest);
    PlaneOpinion both = lp.solve();
    both.value -= first * lp.value_of(deepest);
    return both;
}

}  // namespace standproud::testing
