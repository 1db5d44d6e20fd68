// Reports of a checked job: words for people, JSON for programs.
#pragma once

#include <string>
#include <vector>

#include "modeler/model.hpp"
#include "rules/finding.hpp"
#include "rules/limits.hpp"

namespace standproud::viewer {

/// A job, worked out and judged.
struct CheckedJob {
    Model model;
    rules::Limits limits;
    std::vector<rules::Finding> findings;
};

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

/// How many findings of each verdict.
struct Tally {
    int clear = 0;
    int tight = 0;
    int fails = 0;
    int unknown = 0;
};
Tally tally(const std::vector<rules::Finding>& findings);

}  // namespace standproud::viewer
