// Jobs by the seed, and what leaving a fact out does to their verdicts. Source: a missing fact makes a verdict unknown,
// never better.
#include "support/job_texts.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <sstream>

#include "rules/check.hpp"
#include "support/jobs.hpp"

namespace standproud {
namespace {

using rules::Finding;
using testing::findings_of;

/// The worst of what is said about each thing but pipes: one that a screw of unknown length may meet is told with the
/// screw's fitting, which is unknown.
std::map<std::string, int> worst_of(const std::vector<Finding>& findings) {
    std::map<std::string, int> worst;
    for (const auto& finding : findings) {
        if (finding.rule.rfind("pipe.", 0) == 0 || finding.rule == "clash.pipe") continue;
        int& said = worst[finding.subject];
        said = std::max(said, severity(finding.verdict));
    }
    return worst;
}

/// The text without the lines that set a key, and how many there were.
std::string without(const std::string& text, const std::string& key, int& lines) {
    std::istringstream from(text);
    std::string line;
    std::string rest;
    while (std::getline(from, line)) {
        if (line.rfind(key + " = ", 0) == 0) {
            ++lines;
        } else {
            rest += line + "\n";
        }
    }
    return rest;
}

TEST(JobTexts, AreTheSameForASeedAndHoldEverything) {
    EXPECT_EQ(testing::random_job_text(7), testing::random_job_text(7));
    EXPECT_NE(testing::random_job_text(7), testing::random_job_text(8));
    std::string all;
    for (std::uint32_t seed = 0; seed < 60; ++seed) all += testing::random_job_text(seed);
    for (const char* there : {"[survey]",
                              "[[survey.offsets]]",
                              "[[walls.openings]]",
                              "reveal =",
                              "[[pipes]]",
                              "[[screens]]",
                              "[bench]",
                              "[fittings.as_built]",
                              "\"spindle\"",
                              "\"window\"",
                              "\"thread\"",
                              "\"screw\"",
                              "\"plate\"",
                              "next_angle = 45",
                              "next_angle = 315",
                              "width = 60\n",
                              "width = 20000\n",
                              "[walls.masonry]",
                              "[tray]",
                              "[limits]"}) {
        EXPECT_NE(all.find(there), std::string::npos) << there;
    }
}

TEST(JobTexts, LeavingAFactOutMakesNothingBetter) {
    const int unknown = severity(rules::Verdict::unknown);
    int left_out = 0;
    for (std::uint32_t seed = 100; seed < 115; ++seed) {
        const std::string text = testing::sound_job_text(seed);
        const auto before = worst_of(findings_of(text));
        for (const char* key : {"bath_or_basin", "passes", "profile", "thread_length", "socket_depth", "spindle_length",
                                "tail_length", "screw_length", "proud_min", "face_max", "recess_max"}) {
            int lines = 0;
            const std::string less = without(text, key, lines);
            if (lines == 0) continue;
            SCOPED_TRACE(std::string(key) + " left out of the job of seed " + std::to_string(seed));
            ++left_out;
            const auto after = worst_of(findings_of(less));
            for (const auto& [subject, was] : before) {
                const auto is = after.find(subject);
                const int now = is == after.end() ? -1 : is->second;
                EXPECT_GE(now, std::min(was, unknown)) << subject;
            }
        }
    }
    EXPECT_GT(left_out, 80);
}

}  // namespace
}  // namespace standproud
