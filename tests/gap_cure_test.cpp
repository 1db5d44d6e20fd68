// The gap that a finding about movement names, written with one click: the finding is clear then, nothing else of the
// file changes, and undo brings it back to the byte.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "rules/gap_remedy.hpp"
#include "support/jobs.hpp"
#include "viewer/state.hpp"

namespace standproud::viewer {
namespace {

using standproud::testing::Folder;

const std::filesystem::path models = std::filesystem::path(STANDPROUD_SOURCE_DIR) / "models";

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

/// Lines of `after` that are not in `before` in the same order, and the other way round.
std::pair<std::vector<std::string>, std::vector<std::string>> changed(const std::string& before,
                                                                      const std::string& after) {
    std::multiset<std::string> old;
    std::multiset<std::string> now;
    for (const auto& line : lines_of(before)) old.insert(line);
    for (const auto& line : lines_of(after)) now.insert(line);
    std::pair<std::vector<std::string>, std::vector<std::string>> sides;
    std::set_difference(old.begin(), old.end(), now.begin(), now.end(), std::back_inserter(sides.first));
    std::set_difference(now.begin(), now.end(), old.begin(), old.end(), std::back_inserter(sides.second));
    return sides;
}

std::optional<std::size_t> same_finding(const Document& document, const rules::Finding& as) {
    for (std::size_t i = 0; i < document.job->findings.size(); ++i) {
        const auto& one = document.job->findings[i];
        if (one.rule != as.rule || one.subject != as.subject) continue;
        // The quantity's end says which end was judged; its beginning names the gap.
        if (one.quantity.substr(0, one.quantity.find(':')) == as.quantity.substr(0, as.quantity.find(':'))) return i;
    }
    return std::nullopt;
}

/// Every such finding of every demo job.
TEST(GapCure, ClearsEveryFindingOfTheDemoJobs) {
    int cured = 0;
    for (const char* name :
         {"twin-taps.toml", "corner-mixer.toml", "level-entry.toml", "bath-renovation.toml", "old-stable.toml"}) {
        Folder folder;
        std::filesystem::copy(models / "catalogue", folder.path() / "catalogue");
        std::filesystem::copy_file(models / name, folder / name);
        Document document = open_document(folder / name);
        ASSERT_TRUE(document.job) << name;
        const std::string before = document.text;
        const auto findings = document.job->findings;
        for (std::size_t i = 0; i < findings.size(); ++i) {
            if (findings[i].rule != "panel.movement" || findings[i].verdict == rules::Verdict::clear) continue;
            const auto remedy = rules::gap_remedy(document.job->model, document.job->limits, findings[i]);
            ASSERT_TRUE(remedy) << name << ' ' << findings[i].says;
            const auto offered = offers(document, i);
            ASSERT_EQ(offered.size(), 1u) << name << ' ' << findings[i].says;
            EXPECT_EQ(offered[0].cure, Cure::widen_gap);
            EXPECT_NE(offered[0].words.find(fmt::format("{:g} mm", remedy->width)), std::string::npos)
                << offered[0].words;
            ASSERT_EQ(apply_cure(document, i, Cure::widen_gap), "") << name << ' ' << offered[0].words;
            ASSERT_TRUE(document.faults.empty()) << to_string(document.faults.front());
            const auto after = same_finding(document, findings[i]);
            ASSERT_TRUE(after) << name << ' ' << findings[i].quantity;
            EXPECT_EQ(document.job->findings[*after].verdict, rules::Verdict::clear)
                << name << ' ' << offered[0].words << ": " << document.job->findings[*after].says;
            EXPECT_TRUE(offers(document, *after).empty());
            ++cured;
            // Only lines about gaps.
            const auto [gone, come] = changed(before, document.text);
            for (const auto& line : gone) EXPECT_NE(line.find(" = "), std::string::npos) << name << ": " << line;
            const std::string width = fmt::format("{:g}", remedy->width);
            std::size_t written = 0;
            for (const auto& line : come) {
                const bool value = line.find("= " + width) != std::string::npos;
                written += value ? 1 : 0;
                EXPECT_TRUE(value || line.empty() || line.find("[walls.gaps]") != std::string::npos)
                    << name << ": " << line;
            }
            EXPECT_EQ(written, remedy->places.size()) << name;
            ASSERT_TRUE(undo(document));
            EXPECT_EQ(document.text, before) << name;
        }
    }
    EXPECT_GT(cured, 8);
}

/// One wall between free ends with two panels of 1200 mm high; a join of its own gap and one of the wall's.
std::string job(const std::string& joins, const std::string& bench_more) {
    return "[job]\nname = \"one\"\ndatum = \"floor\"\n[[layers]]\nkind = \"panel\"\nname = \"panel\"\n"
           "thickness = \"6 +/- 0.3\"\n[[walls]]\nid = \"a\"\nwidth = 3600\nheight = 2400\npanel_top = 1212\n"
           "[walls.gaps]  # as agreed\nbottom = 12\ntop = 0\n" +
           joins +
           "[bench]\nkerf = 3\ntrim = 5\nfixed_humidity = 60\ndriest = 60\nwettest = 60\nsealant_depth = 5\n"
           "cartridge = 300\nwaste = 10\nreach = 40\nstart = 2026-06-12\nsaw = \"circular\"\n" +
           bench_more;
}

Document opened(const Folder& folder, const std::string& text) {
    std::ofstream(folder / "job.toml") << text;
    return open_document(folder / "job.toml");
}

std::size_t join_finding(const Document& document) {
    for (std::size_t i = 0; i < document.job->findings.size(); ++i) {
        const auto& one = document.job->findings[i];
        if (one.rule == "panel.movement" && one.quantity.rfind("join", 0) == 0) return i;
    }
    throw std::runtime_error("no finding about joins");
}

TEST(GapCure, AJoinKeepsItsOwnGapAndTheOthersTheWalls) {
    Folder folder;
    const std::string text =
        job("[[walls.joins]]\nacross = 1200\nfrom = \"left bare\"\ngap = 3  # tight\n[[walls.joins]]\nacross = "
            "2400\nfrom = "
            "\"left bare\"\n",
            "fixed_at = 10\ncoldest = 10\nhottest = 40\nsealant_class = \"25\"\n");
    Document document = opened(folder, text);
    ASSERT_TRUE(document.job) << to_string(document.faults.front());
    const std::size_t at = join_finding(document);
    const auto remedy = rules::gap_remedy(document.job->model, document.job->limits, document.job->findings[at]);
    ASSERT_TRUE(remedy);
    ASSERT_EQ(remedy->places.size(), 2u);
    // Closed form: two halves of panels, some 1200 mm, x 30 K x 70e-6 = 2.5 mm, at 25 per cent about 10 mm.
    EXPECT_NEAR(remedy->width, 10, 0.15);
    ASSERT_EQ(apply_cure(document, at, Cure::widen_gap), "");
    EXPECT_EQ(document.job->findings[join_finding(document)].verdict, rules::Verdict::clear);
    EXPECT_NE(document.text.find(fmt::format("gap = {:g}  # tight", remedy->width)), std::string::npos)
        << document.text;
    EXPECT_NE(document.text.find("# as agreed"), std::string::npos);
    EXPECT_NEAR(document.job->model.job.walls[0].gaps.join->width, remedy->width, 1e-12);
    EXPECT_NEAR(document.job->model.job.walls[0].gaps.bottom->width, 12, 1e-12);
    // A tenth less is not enough.
    ASSERT_TRUE(undo(document));
    EXPECT_EQ(document.text, text);
    ASSERT_EQ(set_number(document, "walls[0].joins[0].gap", remedy->width - 0.1), "");
    ASSERT_EQ(set_number(document, "walls[0].gaps.join", remedy->width - 0.1), "");
    EXPECT_NE(document.job->findings[join_finding(document)].verdict, rules::Verdict::clear);
}

TEST(GapCure, NoButtonWhereNoWidthWouldDo) {
    // Class 7.5 and 100 K: 1200 x 100 x 70e-6 = 8.4 mm, over 7.5 per cent 112 mm, more than the 50 that a file takes.
    Folder folder;
    Document document = opened(
        folder, job("[[walls.joins]]\nacross = 1200\nfrom = \"left bare\"\n[[walls.joins]]\nacross = 2400\nfrom = "
                    "\"left bare\"\n",
                    "fixed_at = 10\ncoldest = -40\nhottest = 60\nsealant_class = \"7.5\"\n"));
    ASSERT_TRUE(document.job) << to_string(document.faults.front());
    const std::size_t at = join_finding(document);
    const auto& finding = document.job->findings[at];
    ASSERT_NE(finding.verdict, rules::Verdict::clear);
    EXPECT_TRUE(offers(document, at).empty());
    EXPECT_NE(finding.action.find("No gap that a job file takes, up to 50 mm, would do"), std::string::npos)
        << finding.action;
    EXPECT_NE(apply_cure(document, at, Cure::widen_gap), "");
}

}  // namespace
}  // namespace standproud::viewer
