// The two reports: words for a plumber, JSON for a program.
#include "viewer/report.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <map>
#include <nlohmann/json.hpp>
#include <random>
#include <sstream>

#include "rules/check.hpp"
#include "rules/words.hpp"
#include "support/jobs.hpp"
#include "support/pattern.hpp"
#include "support/schema.hpp"
#include "terminal/csv.hpp"

namespace standproud::viewer {
namespace {

using Json = nlohmann::json;
using testing::problems;

// RFC 4180 for the quotes; OWASP, CSV injection (published), for what a spreadsheet takes for a formula.
TEST(Csv, CellsAreTextOrNumbersNeverFormulas) {
    const std::pair<const char*, const char*> cases[] = {
        {"", ""},
        {"tap", "tap"},
        {"hot, left", "\"hot, left\""},
        {"3\" pipe", "\"3\"\" pipe\""},
        {"=1+1", "'=1+1"},
        {"+1+1", "'+1+1"},
        {"-1+1", "'-1+1"},
        {"@SUM(A1)", "'@SUM(A1)"},
        {"  =1+1", "'  =1+1"},
        {"\t=1", "\"'\t=1\""},
        {"\rx", "\"'\rx\""},
        {"=HYPERLINK(\"x\",1)", "\"'=HYPERLINK(\"\"x\"\",1)\""},
        {"-", "'-"},
        {"-e5", "'-e5"},
        {"-10", "-10"},
        {"-10.5", "-10.5"},
        {"+3", "+3"},
        {"-1.2.3", "'-1.2.3"},
    };
    for (const auto& [text, cell] : cases) EXPECT_EQ(csv_cell(text), cell) << text;
}

CheckedJob checked(Job job) {
    Faults faults;
    auto limits = rules::limits_for(job, faults);
    Model model = build_model(std::move(job), faults);
    auto findings = rules::check(model, limits);
    return {std::move(model), std::move(limits), std::move(findings), std::nullopt};
}

std::vector<CheckedJob> many_jobs() {
    std::mt19937 random(99);
    std::vector<CheckedJob> jobs;
    for (int i = 0; i < 50; ++i) jobs.push_back(checked(testing::random_job(random)));
    return jobs;
}

TEST(JsonReport, HoldsToItsSchema) {
    const auto jobs = many_jobs();
    RefusedJob refused;
    refused.file = "bad.toml";
    Fault fault;
    fault.where.file = refused.file;
    fault.where.line = 3;
    fault.says = "job.name is missing";
    refused.faults.push_back(fault);
    const Json report = Json::parse(json_report(jobs, {refused}));
    for (const auto& problem : problems(report)) ADD_FAILURE() << problem;
    EXPECT_EQ(report["jobs"].size(), 50u);
    EXPECT_EQ(report["refused"].size(), 1u);
}

TEST(JsonReport, TheSchemaCanFail) {
    Json report = Json::parse(json_report(many_jobs(), {}));
    report["jobs"][0]["findings"][0]["verdict"] = "fine";
    EXPECT_FALSE(problems(report).empty());
    report["jobs"][0]["findings"][0]["verdict"] = "clear";
    EXPECT_TRUE(problems(report).empty());
    report["jobs"][0]["findings"][0].erase("says");
    EXPECT_FALSE(problems(report).empty());
}

TEST(JsonComparison, HoldsToItsSchemaAndSoDoesAReportThatHoldsOne) {
    std::mt19937 random(17);
    int changes = 0;
    for (int i = 0; i < 30; ++i) {
        Job job = testing::random_job(random);
        const auto before = checked(job);
        job.fittings.erase(job.fittings.begin());
        job.fittings.front().seat = Length{-50, 0.5, {}};
        job.fittings.back().id = "new";
        auto after = checked(job);
        const auto comparison = rules::compare(before.model, before.findings, after.model, after.findings);
        for (const auto& problem : problems(Json::parse(json_comparison(before, after, comparison)), "comparison")) {
            ADD_FAILURE() << problem;
        }
        changes += static_cast<int>(comparison.verdicts.size());
        after.since_design = comparison;
        for (const auto& problem : problems(Json::parse(json_report({after}, {})))) ADD_FAILURE() << problem;
    }
    EXPECT_GT(changes, 100);
}

TEST(JsonReport, SummaryCountsItsFindings) {
    const Json report = Json::parse(json_report(many_jobs(), {}));
    for (const auto& job : report["jobs"]) {
        std::map<std::string, int> count;
        for (const auto& finding : job["findings"]) ++count[finding["verdict"].get<std::string>()];
        for (const char* verdict : {"clear", "tight", "fails", "unknown"})
            EXPECT_EQ(job["summary"][verdict], count[verdict]);
    }
}

TEST(JsonReport, TermsAddUpToTheNominal) {
    const Json report = Json::parse(json_report(many_jobs(), {}));
    int sums = 0;
    for (const auto& job : report["jobs"]) {
        for (const auto& finding : job["findings"]) {
            if (finding["nominal"].is_null()) continue;
            double sum = 0;
            for (const auto& term : finding["terms"]) sum += term["value"].get<double>();
            EXPECT_NEAR(sum, finding["nominal"].get<double>(), 1e-5);
            ++sums;
        }
    }
    EXPECT_GT(sums, 500);
}

TEST(TextReport, NoLineIsWiderThanThePageButTables) {
    std::mt19937 random(5);
    const std::string text = text_report(checked(testing::random_job(random)), {});
    std::istringstream lines(text);
    std::string line;
    int wrapped = 0;
    while (std::getline(lines, line)) {
        EXPECT_LE(line.size(), 160u) << line;
        wrapped += line.rfind("             ", 0) == 0 ? 1 : 0;
    }
    EXPECT_GT(wrapped, 3);
}

TEST(TextReport, ColourOnlyWhenAskedAndNeverAlone) {
    std::mt19937 random(6);
    const auto job = checked(testing::random_job(random));
    const std::string plain = text_report(job, {});
    EXPECT_EQ(plain.find('\033'), std::string::npos);
    const std::string colour = text_report(job, {true, false});
    EXPECT_NE(colour.find('\033'), std::string::npos);
    EXPECT_EQ(testing::replaced(colour, "\033\\[[0-9;]*m", ""), plain) << "the words are the same";
}

TEST(TextReport, NoElectricalLineIsWithoutWhoDecides) {
    // Clear rows of the table too: the fan control and the socket of these demos are.
    for (const auto& [file, fitting] : {std::pair{"bath-renovation", "fan"}, std::pair{"corner-mixer", "socket"}}) {
        Faults faults;
        const auto job = open_job(std::string(STANDPROUD_SOURCE_DIR "/models/") + file + ".toml", faults);
        ASSERT_TRUE(job);
        std::istringstream lines(text_report(*job, {}));
        std::string line;
        int rows = 0;
        while (std::getline(lines, line)) {
            if (line.rfind(std::string("  ") + fitting + " ", 0) != 0) continue;
            ++rows;
            EXPECT_NE(line.find("the electrician decides"), std::string::npos) << line;
        }
        EXPECT_EQ(rows, 1) << file;
    }
}

TEST(TextReport, NeverPromisesSafety) {
    for (const auto& job : many_jobs()) {
        std::string text = text_report(job, {false, true});
        std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::tolower(c); });
        EXPECT_TRUE(testing::searched(text, "\\b(safe|compliant|complies|approved)\\b").empty());
        EXPECT_NE(text_report(job, {}).find("isolate water and power"), std::string::npos);
    }
}

TEST(Words, Millimetres) {
    EXPECT_EQ(rules::mm(28.5), "28.5");
    EXPECT_EQ(rules::mm(3), "3");
    EXPECT_EQ(rules::mm(9.98), "9.98");
    EXPECT_EQ(rules::mm(-0.0000000001), "0");
    EXPECT_EQ(rules::mm(0.001), "0.001");
    EXPECT_EQ(rules::mm(100), "100");
}

TEST(Words, RangesAreRoundedInwards) {
    EXPECT_EQ(rules::depth_range({-12.37, -8.12}), "8.2 to 12.3 mm behind the bare face");
    EXPECT_EQ(rules::depth_range({1.01, 2.99}), "1.1 to 2.9 mm in front of the bare face");
    EXPECT_EQ(rules::depth_range({-3.21, 4.19}), "from 3.2 mm behind to 4.1 mm in front of the bare face");
}

}  // namespace
}  // namespace standproud::viewer
