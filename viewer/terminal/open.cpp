#include "modeler/job_reader.hpp"
#include "rules/advise.hpp"
#include "rules/check.hpp"
#include "rules/flatness.hpp"
#include "viewer/report.hpp"

namespace standproud::viewer {

namespace {

std::optional<CheckedJob> worked_out(Job job, Faults& faults, const CheckedJob* before = nullptr) {
    const auto limits = rules::limits_for(job, faults);
    (void)rules::face_rule_for(job, faults);
    // Working out a job with faults would only add faults that follow from the first.
    if (!faults.empty()) return std::nullopt;
    std::optional<Survey> survey;
    if (job.survey) survey = adjust_survey(job);
    std::optional<Model> design;
    if (has_as_built(job)) design = build_model(job, survey, faults);
    Model fixed = build_model(as_fixed(std::move(job)), std::move(survey), faults);
    if (!faults.empty()) return std::nullopt;
    auto distances = before ? before->distances : rules::Distances{};
    auto findings = rules::check(fixed, limits, distances);
    std::optional<rules::Comparison> since;
    if (design) since = rules::compare(*design, rules::check(*design, limits), fixed, findings);
    return CheckedJob{std::move(fixed), limits, std::move(findings), std::move(since), std::move(distances)};
}

}  // namespace

std::optional<CheckedJob> open_job(const std::string& path, Faults& faults, Advice advice) {
    Catalogues own;
    return open_job(path, own, faults, advice);
}

std::optional<CheckedJob> open_job(const std::string& path, Catalogues& shared, Faults& faults, Advice advice) {
    auto job = worked_out(read_job(path, shared, faults), faults);
    if (job && advice == Advice::at_once) rules::advise(job->model, job->limits, job->distances, job->findings);
    return job;
}

std::optional<CheckedJob> open_job_text(const std::string& text, const std::string& path, Faults& faults,
                                        const CheckedJob* before) {
    return worked_out(read_job_text(text, path, faults), faults, before);
}

void take_advice_out(std::vector<rules::Finding>& findings) {
    for (auto& finding : findings) {
        finding.action.clear();
        finding.remedy.reset();
        finding.move.reset();
        if (finding.clash) finding.clash->moves.clear();
    }
}

}  // namespace standproud::viewer
