// What the job takes, with its price where one is known.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "bench/work_out.hpp"

namespace standproud::viewer {

namespace {

/// Adds to the line of the same thing at the same price, or makes one.
void add_line(std::vector<BillLine>& bill, const BillLine& line) {
    const auto same = std::find_if(bill.begin(), bill.end(), [&](const BillLine& one) {
        return one.what == line.what && one.unit == line.unit && one.price == line.price;
    });
    if (same == bill.end()) {
        bill.push_back(line);
    } else {
        same->quantity += line.quantity;
    }
}

/// The type as the catalogue has it: a fitted one is called "TYPE+ITEM".
const FittingType& bare_type(const Job& job, const Fitting& fitting) {
    const std::string id = fitting.type.substr(0, fitting.type.find('+'));
    return *std::find_if(job.types.begin(), job.types.end(), [&](const auto& type) { return type.id == id; });
}

/// One of an item goes on a fitting; of screws as many as the type has.
double count_of(const StockItem& item, const FittingType& type) {
    if (item.kind != StockItem::Kind::screw) return 1;
    const auto screws =
        std::count_if(type.parts.begin(), type.parts.end(), [](const auto& part) { return part.role == "screw"; });
    return static_cast<double>(std::max<std::ptrdiff_t>(screws, 1));
}

void bill_item(std::vector<BillLine>& bill, const Job& job, const Fitting& fitting, const std::string& id,
               const std::string& note) {
    const auto item = std::find_if(job.stock.begin(), job.stock.end(), [&](const auto& one) { return one.id == id; });
    if (item == job.stock.end()) return;
    add_line(bill, {item->name + note, count_of(*item, bare_type(job, fitting)), "piece", item->price});
}

void bill_fittings(std::vector<BillLine>& bill, const CheckedJob& checked) {
    const Job& job = checked.model.job;
    for (const auto& fitting : job.fittings) {
        const FittingType& type = bare_type(job, fitting);
        add_line(bill, {type.name, 1, "piece", type.price});
        if (!fitting.with.empty()) bill_item(bill, job, fitting, fitting.with, "");
    }
    // What `check` advises is not decided yet, but somebody will ask what it costs.
    std::set<std::string> advised;
    for (const auto& finding : checked.findings) {
        if (!finding.remedy || !advised.insert(finding.subject).second) continue;
        for (const auto& fitting : job.fittings) {
            if (fitting.id == finding.subject)
                bill_item(bill, job, fitting, finding.remedy->item, fmt::format(" (advised for {})", fitting.id));
        }
    }
}

/// As the first job that names the sheet has it; an offcut without a price costs nothing. The nesting leaves prices out
/// when some new sheets lack them; here each stands for itself.
std::optional<double> price_of(const std::vector<CheckedJob>& jobs, const nesting::Stock& stock) {
    for (const auto& job : jobs) {
        for (const auto& sheet : job.model.job.sheets) {
            if (sheet.id == stock.id) return sheet.offcut ? sheet.price.value_or(0) : sheet.price;
        }
    }
    return std::nullopt;
}

void bill_sheets(std::vector<BillLine>& bill, const Bench& bench, const std::vector<CheckedJob>& jobs) {
    if (!bench.sheets.nesting) return;
    for (const auto& layout : bench.sheets.nesting->sheets) {
        const auto& stock = bench.stock[layout.stock];
        add_line(bill, {fmt::format("{} {}", stock.offcut ? "offcut" : "sheet", stock.id), 1, "piece",
                        price_of(jobs, stock)});
    }
}

}  // namespace

void write_bill(const std::vector<CheckedJob>& jobs, Bench& bench) {
    for (const auto& job : jobs) bill_fittings(bench.bill, job);
    bill_sheets(bench.bill, bench, jobs);
    const auto& settings = bench.jobs.front().settings;
    for (const auto& one : bench.bought) {
        const auto price = settings.prices.find(one.priced_by);
        add_line(bench.bill, {one.what, static_cast<double>(one.purchase.units), one.unit,
                              price == settings.prices.end() ? std::nullopt : std::optional(price->second)});
    }
}

}  // namespace standproud::viewer
