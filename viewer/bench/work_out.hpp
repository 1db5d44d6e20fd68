// Private pieces of `work_out_bench`.
#pragma once

#include <cmath>

#include "viewer/bench_report.hpp"

namespace standproud::viewer {

std::vector<BenchPanel> panels_of(const CheckedJob& job, const BenchJob& shown, std::size_t index,
                                  const std::string& before);
std::vector<BenchJoint> joints_of(const CheckedJob& job, const BenchJob& shown, std::size_t index,
                                  const std::string& before);

/// The walls that carry panels. Must hold: `panels` are those of the job, the first of them at `offset` of
/// Bench::panels.
std::vector<BenchWall> walls_of(const CheckedJob& job, std::size_t index, std::size_t offset,
                                const std::string& before);

/// Whether every kind of new sheet has a price. Prices that only some have would be set against areas.
bool all_priced(const std::vector<const SheetStock*>& sheets);

/// A job's sheet as the engines take it.
nesting::Stock stock_of(const SheetStock& sheet, const BenchSettings& settings, bool priced);

/// Fills pieces, stock, rules, sheets.
void nest_panels(const std::vector<CheckedJob>& jobs, Bench& bench, std::stop_token stop);

/// Fills the bill. Must hold: sheets and what is bought are there.
void write_bill(const std::vector<CheckedJob>& jobs, Bench& bench);

/// Before the ids of a job's walls, panels and tasks, where there are several jobs.
std::string job_mark(const Bench& bench, std::size_t job);

/// Tasks, order and calendar. Must hold: panels and joints are there.
void plan_work(const std::vector<CheckedJob>& jobs, Bench& bench);

/// Sill and head run along their x, jambs along their y.
inline bool runs_across(const Panel& strip) { return std::abs(strip.place.y.z) < 0.5; }

}  // namespace standproud::viewer
