// Reports of a checked job: words for people, JSON for programs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "modeler/job_reader.hpp"
#include "modeler/model.hpp"
#include "rules/compare.hpp"
#include "rules/distances.hpp"
#include "rules/finding.hpp"
#include "rules/limits.hpp"

namespace standproud::viewer {

/// A job, worked out and judged.
struct CheckedJob {
    Model model;
    rules::Limits limits;
    std::vector<rules::Finding> findings;
    std::optional<rules::Comparison> since_design;  ///< design against as built, where anything was measured
    rules::Distances distances = {};                ///< what was measured for the findings
};

/// Whether the moves that clear findings are looked for at once (rules/advise.hpp), or when they are asked for.
enum class Advice { at_once, when_asked };

/// Reads a job, works it out and judges it, on as-built figures where there are any. Nothing when it has faults.
std::optional<CheckedJob> open_job(const std::string& path, Faults& faults, Advice advice = Advice::at_once);

/// The same for one of several jobs, which share their catalogues.
std::optional<CheckedJob> open_job(const std::string& path, Catalogues& shared, Faults& faults, Advice advice);

/// The same for a text that has not been saved, without advice: `path` names it, and its catalogues are looked for
/// beside it. With the job as it was `before` an edit, distances between what has not changed are not measured again.
std::optional<CheckedJob> open_job_text(const std::string& text, const std::string& path, Faults& faults,
                                        const CheckedJob* before = nullptr);

/// A file that could not be taken, and why.
struct RefusedJob {
    std::string file;
    Faults faults;
};

struct TextStyle {
    bool colour = false;
    bool arithmetic = false;  ///< show every term of every sum
};

/// For a person: a table a wall, then what to do by trade. Ends with a line feed.
std::string text_report(const CheckedJob& job, const TextStyle& style);

/// "standproud-report/1"; see viewer/report.schema.json.
std::string json_report(const std::vector<CheckedJob>& jobs, const std::vector<RefusedJob>& refused);

/// What changed from one job to another, in words; ends with a line feed.
std::string text_comparison(const CheckedJob& old_job, const CheckedJob& new_job, const rules::Comparison& changes,
                            const TextStyle& style);

/// "standproud-comparison/1"; see viewer/comparison.schema.json.
std::string json_comparison(const CheckedJob& old_job, const CheckedJob& new_job, const rules::Comparison& changes);

/// Leaves what was judged and takes out what to do about it: for who asked for no advice.
void take_advice_out(std::vector<rules::Finding>& findings);

/// How many findings of each verdict.
struct Tally {
    int clear = 0;
    int tight = 0;
    int fails = 0;
    int unknown = 0;
};
Tally tally(const std::vector<rules::Finding>& findings);

}  // namespace standproud::viewer
