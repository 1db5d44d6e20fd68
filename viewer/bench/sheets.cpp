#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "bench/work_out.hpp"

namespace standproud::viewer {

namespace {

/// Sheets of all jobs; one that several jobs name is there once.
std::vector<const SheetStock*> sheets_of(const std::vector<CheckedJob>& jobs) {
    std::vector<const SheetStock*> stock;
    for (const auto& job : jobs) {
        for (const auto& sheet : job.model.job.sheets) {
            const bool known =
                std::any_of(stock.begin(), stock.end(), [&](const auto* one) { return one->id == sheet.id; });
            if (!known) stock.push_back(&sheet);
        }
    }
    return stock;
}

std::string thicknesses(const Bench& bench) {
    const double first = bench.panels.front().thickness;
    for (const auto& panel : bench.panels) {
        if (std::abs(panel.thickness - first) > same_length)
            return fmt::format("panel {} is {:g} mm thick and panel {} {:g} mm: sheets of one thickness are nested",
                               bench.panels.front().id, first, panel.id, panel.thickness);
    }
    return {};
}

}  // namespace

bool all_priced(const std::vector<const SheetStock*>& sheets) {
    return std::all_of(sheets.begin(), sheets.end(), [](const auto* sheet) { return sheet->price || sheet->offcut; });
}

nesting::Stock stock_of(const SheetStock& sheet, const BenchSettings& settings, bool priced) {
    return {sheet.id,    sheet.width,    sheet.height, priced ? sheet.price : std::nullopt,
            sheet.count, !sheet.turning, sheet.offcut, sheet.offcut ? 0 : figure(settings, "trim")};
}

void nest_panels(const std::vector<CheckedJob>& jobs, Bench& bench, std::stop_token stop) {
    const auto& settings = bench.jobs.front().settings;
    for (const auto& panel : bench.panels) bench.pieces.push_back({panel.id, panel.width, panel.height, true});
    const auto sheets = sheets_of(jobs);
    bench.priced = all_priced(sheets);
    for (const auto* sheet : sheets) bench.stock.push_back(stock_of(*sheet, settings, bench.priced));
    bench.nesting_rules.kerf = figure(settings, "kerf");
    bench.nesting_rules.usable_side = figure(settings, "usable_offcut");
    bench.nesting_rules.aim = bench.priced ? nesting::Aim::cheapest : nesting::Aim::fewest_sheets;
    bench.sheets.refused = thicknesses(bench);
    if (bench.sheets.refused.empty())
        bench.sheets = nesting::nest(bench.pieces, bench.stock, bench.nesting_rules, std::move(stop));
    if (!bench.sheets.nesting) return;
    const auto wrong =
        nesting::check_layout(bench.pieces, bench.stock, bench.nesting_rules, bench.sheets.nesting->sheets);
    if (!wrong.empty()) {
        bench.sheets.nesting.reset();
        bench.sheets.refused = "the layout found does not hold: " + wrong.front();
    }
}

}  // namespace standproud::viewer
