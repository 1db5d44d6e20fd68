#include "modeler/job_reader.hpp"
#include "rules/check.hpp"
#include "rules/flatness.hpp"
#include "viewer/report.hpp"

namespace standproud::viewer {

namespace {

/// A job judged as designed, and if anything was measured after rough-in, as fixed.
CheckedJob judged(Model design, Model fixed, const rules::Limits& limits, rules::Distances distances) {
    const bool measured = has_as_built(design.job);
    auto findings = rules::check(fixed, limits, distances);
    std::optional<rules::Comparison> since;
    if (measured) since = rules::compare(design, rules::check(design, limits), fixed, findings);
    return {std::move(fixed), limits, std::move(findings), std::move(since), std::move(distances)};
}

std::optional<CheckedJob> worked_out(Job job, Faults& faults, const CheckedJob* before = nullptr) {
    const auto limits = rules::limits_for(job, faults);
    (void)rules::face_rule_for(job, faults);
    // Working out a job with faults would only add faults that follow from the first.
    if (!faults.empty()) return std::nullopt;
    std::optional<Survey> survey;
    if (job.survey) survey = adjust_survey(job);
    Model fixed = build_model(as_fixed(job), survey, faults);
    Model design = build_model(std::move(job), std::move(survey), faults);
    if (!faults.empty()) return std::nullopt;
    return judged(std::move(design), std::move(fixed), limits, before ? before->distances : rules::Distances{});
}

}  // namespace

std::optional<CheckedJob> open_job(const std::string& path, Faults& faults) {
    return worked_out(read_job(path, faults), faults);
}

std::optional<CheckedJob> open_job_text(const std::string& text, const std::string& path, Faults& faults,
                                        const CheckedJob* before) {
    return worked_out(read_job_text(text, path, faults), faults, before);
}

}  // namespace standproud::viewer
