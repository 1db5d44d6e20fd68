// What is chosen, and which findings are listed.
#include <algorithm>
#include <cctype>
#include <sstream>

#include "rules/words.hpp"
#include "viewer/state.hpp"

namespace standproud::viewer {

void choose_nothing(Document& document) { document.selection = {}; }

void choose_finding(Document& document, std::size_t finding) {
    if (!document.job || finding >= document.job->findings.size()) return;
    document.selection = {finding, document.job->findings[finding].subject, ""};
}

void choose_fitting(Document& document, const std::string& fitting) {
    document.selection = {std::nullopt, fitting, ""};
    if (!document.job) return;
    const auto& findings = document.job->findings;
    for (const std::size_t i : listed(*document.job, {})) {
        if (findings[i].subject != fitting) continue;
        document.selection.finding = i;
        return;
    }
}

void choose_part(Document& document, const std::string& id) {
    const auto part =
        std::find_if(document.parts.begin(), document.parts.end(), [&](const Part& p) { return p.id == id; });
    if (part == document.parts.end()) return;
    if (!part->fitting.empty()) {
        choose_fitting(document, part->fitting);
    } else {
        document.selection = {};
    }
    document.selection.part = id;
}

namespace {

std::string lowered(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

bool holds_words(const rules::Finding& finding, const std::string& words) {
    const std::string all = lowered(finding.subject + " " + finding.rule + " " + finding.wall + " " + finding.quantity +
                                    " " + finding.says + " " + finding.action + " " + to_string(finding.trade) + " " +
                                    to_string(finding.verdict));
    std::istringstream each(lowered(words));
    std::string word;
    while (each >> word) {
        if (all.find(word) == all.npos) return false;
    }
    return true;
}

}  // namespace

std::vector<std::size_t> listed(const CheckedJob& job, const FindingFilter& filter) {
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < job.findings.size(); ++i) {
        const auto& finding = job.findings[i];
        if (filter.trade && finding.trade != *filter.trade) continue;
        if (filter.verdict && finding.verdict != *filter.verdict) continue;
        if (!filter.wall.empty() && finding.wall != filter.wall) continue;
        if (!holds_words(finding, filter.text)) continue;
        found.push_back(i);
    }
    std::stable_sort(found.begin(), found.end(), [&](std::size_t a, std::size_t b) {
        return severity(job.findings[a].verdict) > severity(job.findings[b].verdict);
    });
    return found;
}

}  // namespace standproud::viewer
