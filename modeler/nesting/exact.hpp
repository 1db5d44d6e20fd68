// Inside the nester: jobs in whole units, and the exact solver.
#pragma once

#include <compare>
#include <optional>
#include <unordered_set>
#include <vector>

#include "nesting/fronts.hpp"

namespace standproud::nesting {

/// What a layout costs, in the order of the aim; prices in 0.0001.
struct Cost {
    std::int64_t first = 0;
    std::int64_t second = 0;
    auto operator<=>(const Cost&) const = default;
};

inline Cost operator+(Cost a, Cost b) { return {a.first + b.first, a.second + b.second}; }

struct StockKind {
    BareSheet bare;
    BoxSize inside;  ///< within the trim, grown by one kerf; nothing fits if it is not over the kerf
    Cost cost;
    int count = 0;  ///< how many are left, never more than there are pieces
    bool turning = true;
};

struct Task {
    std::vector<PieceType> types;
    std::vector<StockKind> stock;
    Unit usable_side = 0;
    Unit kerf = 0;
};

/// One sheet with its plan; piece types name the members of `Task::types`.
struct PlannedSheet {
    std::size_t stock = 0;
    std::vector<int> digits;  ///< how many of each type
    Plan plan;
};

struct ExactAnswer {
    enum class State { solved, impossible, out_of_effort };
    State state = State::out_of_effort;
    Cost cost;
    std::vector<PlannedSheet> sheets;
    double largest_offcut = 0;  ///< square units, true size
    bool offcut_proved = false;
};

/// Least cost over all guillotine layouts, and of those the largest usable offcut. With `seek_offcut` false any of the
/// cheapest is taken.
ExactAnswer solve_exactly(const Task& task, Effort& effort, bool seek_offcut);

/// The largest usable leftover when a choice is cut from a sheet.
class OffcutSearch {
  public:
    OffcutSearch(const Fronts& fronts, const Choices& choices, Unit kerf, Unit usable_side, Effort& effort)
        : fronts_(fronts), choices_(choices), kerf_(kerf), usable_side_(usable_side), effort_(effort) {}

    /// Square units, true size; more than `floor` or else `floor`. Fills the plan when more was found.
    double best(std::size_t choice, BoxSize sheet, double floor, Plan& plan);
    /// No leftover can be larger.
    [[nodiscard]] double at_most(std::size_t choice, BoxSize sheet) const;

  private:
    struct State {
        std::size_t choice;
        Unit width;
        Unit height;
        bool operator==(const State&) const = default;
    };
    struct StateHash {
        std::size_t operator()(const State& s) const {
            return (s.choice * 0x9E3779B97F4A7C15u ^ static_cast<std::size_t>(s.width)) * 0xC2B2AE3D27D4EB4Fu ^
                   static_cast<std::size_t>(s.height);
        }
    };
    struct Step {
        std::size_t part;  ///< what is cut off first, at its least size
        bool beside;
        Unit along;
    };
    void search(std::size_t choice, BoxSize room, std::vector<Step>& steps);
    void take(std::size_t choice, BoxSize room, const std::vector<Step>& steps);
    [[nodiscard]] double leftover(BoxSize room) const;
    int build(Plan& plan, std::size_t step, BoxSize room) const;

    const Fronts& fronts_;
    const Choices& choices_;
    Unit kerf_;
    Unit usable_side_;
    Effort& effort_;
    double best_ = 0;
    std::vector<Step> best_steps_;
    std::unordered_set<State, StateHash> seen_;  ///< what a choice in a room leaves does not depend on the way there
    bool improved_ = false;
};

}  // namespace standproud::nesting
