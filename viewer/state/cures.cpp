// What one click can do about a finding.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "rules/words.hpp"
#include "state/steps.hpp"

namespace standproud::viewer {

namespace {

const rules::Finding* finding_at(const Document& document, std::size_t index) {
    const bool there = document.job && document.faults.empty() && index < document.job->findings.size();
    return there ? &document.job->findings[index] : nullptr;
}

const Fitting* fitting_of_id(const Document& document, const std::string& id) {
    const auto& fittings = document.job->model.job.fittings;
    const auto found = std::find_if(fittings.begin(), fittings.end(), [&](const auto& f) { return f.id == id; });
    return found == fittings.end() ? nullptr : &*found;
}

/// The middle of a range, to the whole millimetre where that is still inside, else to a tenth, else as it is.
double middle(std::pair<double, double> range) {
    const double exact = (range.first + range.second) / 2;
    for (const double step : {1.0, 0.1}) {
        const double round = std::round(exact / step) * step;
        const double clean = std::round(round * 10) / 10;
        if (clean >= range.first && clean <= range.second) return clean;
    }
    return exact;
}

/// A depth that suits every reach finding of the fitting. A measured depth is not ours to change: the body must be
/// moved and measured again.
std::optional<double> seat_for(const Document& document, const rules::Finding& finding) {
    const Fitting* fitting = fitting_of_id(document, finding.subject);
    if (!fitting || (fitting->as_built && fitting->as_built->seat)) return std::nullopt;
    if (finding.verdict == rules::Verdict::clear || !finding.seat_range) return std::nullopt;
    const auto range = rules::seat_for_all(document.job->findings, finding.subject);
    return range ? std::optional(middle(*range)) : std::nullopt;
}

}  // namespace

std::vector<Offer> offers(const Document& document, std::size_t index) {
    std::vector<Offer> found;
    const auto* finding = finding_at(document, index);
    if (!finding) return found;
    if (finding->remedy) found.push_back({Cure::fit_item, fmt::format("Fit {}", finding->remedy->name)});
    if (const auto seat = seat_for(document, *finding)) {
        found.push_back({Cure::set_seat, fmt::format("Set the seat {}", rules::depth(*seat))});
    }
    return found;
}

Refusal apply_cure(Document& document, std::size_t index, Cure cure) {
    const auto* finding = finding_at(document, index);
    if (!finding) return "the finding is no longer there";
    const auto at = fitting_index(document, finding->subject);
    if (!at) return fmt::format("there is no fitting \"{}\" in the file", finding->subject);
    const std::string base = fmt::format("fittings[{}].", *at);
    if (cure == Cure::fit_item) {
        if (!finding->remedy) return "nothing in stock puts this right";
        return set_value(document, base + "with", quoted(finding->remedy->item));
    }
    const auto seat = seat_for(document, *finding);
    if (!seat) return "no depth of the seat puts this right, or it was measured: move it and measure again";
    return set_number(document, base + "seat", *seat);
}

}  // namespace standproud::viewer
