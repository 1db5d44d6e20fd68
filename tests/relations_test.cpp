// What must hold between jobs, over many random ones. Each corpus is counted, so that none passes on nothing.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "modeler/parts.hpp"
#include "rules/check.hpp"
#include "support/jobs.hpp"

namespace standproud::rules {
namespace {

using testing::findings_of;
using testing::mirrored;
using testing::random_job;

constexpr unsigned seed = 20261125;

Model model_of_job(const Job& job) {
    Faults faults;
    return build_model(job, faults);
}

/// Findings by fitting, rule and the order they came in.
std::multimap<std::string, Finding> keyed(const std::vector<Finding>& findings) {
    std::multimap<std::string, Finding> map;
    for (const auto& finding : findings) map.emplace(finding.subject + " " + finding.rule, finding);
    return map;
}

bool inwards(const std::string& rule) {
    return rule == "reach.spindle" || rule == "reach.thread" || rule == "reach.screw";
}

TEST(Relations, AThickerPanelNeverLengthensReach) {
    std::mt19937 random(seed);
    SCOPED_TRACE(seed);
    int compared = 0;
    for (int i = 0; i < 400; ++i) {
        const Job thin = random_job(random);
        Job thick = thin;
        const double more = std::uniform_real_distribution<double>(0.01, 10)(random);
        for (auto& wall : thick.walls) wall.layers.back().thickness.value += more;
        const auto before = keyed(findings_of(model_of_job(thin)));
        const auto after = keyed(findings_of(model_of_job(thick)));
        for (const auto& [key, finding] : before) {
            const auto found = after.find(key);
            if (!inwards(finding.rule) || !finding.nominal || found == after.end() || !found->second.nominal) continue;
            if (finding.rule == "reach.screw") continue;  // moves with the finished corner, to other timber
            ++compared;
            EXPECT_LE(*found->second.nominal, *finding.nominal + 1e-9) << key;
        }
    }
    EXPECT_GT(compared, 300);
}

/// A job with gaps of its own at some edges, joins, and a climate.
Job moving_job(std::mt19937& random, const BenchSettings& bench) {
    Job job = random_job(random);
    job.bench = bench;
    std::uniform_real_distribution<double> gap(0, 12);
    for (auto& wall : job.walls) {
        for (auto* own : {&wall.gaps.left, &wall.gaps.right, &wall.gaps.bottom, &wall.gaps.join}) {
            if (random() % 2) *own = EdgeGap{gap(random), {}};
        }
        if (random() % 2) continue;
        Join join;
        join.from = Across::From::left_bare;
        join.distance = std::uniform_real_distribution<double>(300, wall.width - 300)(random);
        if (random() % 2) join.gap = EdgeGap{gap(random), {}};
        wall.joins.push_back(join);
    }
    return job;
}

TEST(Relations, AMirroredJobMovesAlike) {
    Faults faults;
    const Job read = testing::job_of(
        testing::recess("[bench]\nkerf = 3\ntrim = 5\nfixed_at = 16\ncoldest = 8\nhottest = 38\nfixed_humidity = 60\n"
                        "driest = 30\nwettest = 80\nsealant_depth = 5\ncartridge = 300\nwaste = 10\nreach = 40\n"
                        "sealant_class = \"20\"\nstart = 2026-06-12\nsaw = \"table\"\n"),
        faults);
    ASSERT_TRUE(faults.empty());
    std::mt19937 random(seed + 7);
    SCOPED_TRACE(seed + 7);
    std::map<Verdict, int> seen;
    for (int i = 0; i < 200; ++i) {
        const Job job = moving_job(random, *read.bench);
        const auto moves = [](const Job& one) {
            std::vector<std::pair<Verdict, double>> all;
            for (const auto& finding : findings_of(model_of_job(one))) {
                if (finding.rule == "panel.movement") all.emplace_back(finding.verdict, *finding.nominal);
            }
            std::sort(all.begin(), all.end());
            return all;
        };
        const auto plain = moves(job);
        const auto turned = moves(mirrored(job));
        ASSERT_EQ(plain.size(), turned.size()) << i;
        for (std::size_t k = 0; k < plain.size(); ++k) {
            EXPECT_EQ(plain[k].first, turned[k].first) << i;
            EXPECT_NEAR(plain[k].second, turned[k].second, 1e-6) << i;
            ++seen[plain[k].first];
        }
    }
    EXPECT_GT(seen[Verdict::clear], 100);
    EXPECT_GT(seen[Verdict::tight], 50);
    EXPECT_GT(seen[Verdict::fails], 50);
}

TEST(Relations, AMirroredJobHasMirroredFindings) {
    std::mt19937 random(seed + 1);
    SCOPED_TRACE(seed + 1);
    int compared = 0;
    for (int i = 0; i < 400; ++i) {
        const Job job = random_job(random);
        const auto here = findings_of(model_of_job(job));
        const auto there = keyed(findings_of(model_of_job(mirrored(job))));
        ASSERT_EQ(here.size(), there.size());
        std::map<std::string, int> nth;
        for (const auto& finding : here) {
            const std::string key = finding.subject + " " + finding.rule;
            auto twin = there.lower_bound(key);
            std::advance(twin, nth[key]++);
            EXPECT_EQ(finding.verdict, twin->second.verdict) << key;
            ASSERT_EQ(finding.nominal.has_value(), twin->second.nominal.has_value()) << key;
            if (finding.nominal) {
                EXPECT_NEAR(*finding.nominal, *twin->second.nominal, 1e-6) << key;
            }
            EXPECT_EQ(finding.remedy.has_value(), twin->second.remedy.has_value());
            ++compared;
        }
    }
    EXPECT_GT(compared, 2000);
}

TEST(Relations, AMirroredJobHasTheSameVolumes) {
    std::mt19937 random(seed + 2);
    SCOPED_TRACE(seed + 2);
    int compared = 0;
    for (int i = 0; i < 100; ++i) {
        const Job job = random_job(random);
        double here = 0;
        double there = 0;
        for (const auto& part : build_parts(model_of_job(job))) here += volume(part);
        for (const auto& part : build_parts(model_of_job(mirrored(job)))) there += volume(part);
        EXPECT_NEAR(here, there, 1e-9 * here);
        ++compared;
    }
    EXPECT_EQ(compared, 100);
}

TEST(Relations, AnExtensionOfLengthEAddsExactlyE) {
    std::mt19937 random(seed + 3);
    SCOPED_TRACE(seed + 3);
    int compared = 0;
    for (int i = 0; i < 400; ++i) {
        Job job = random_job(random);
        const double e = std::uniform_real_distribution<double>(5, 40)(random);
        const StockItem::Kind kinds[] = {StockItem::Kind::extension, StockItem::Kind::kit, StockItem::Kind::nipple};
        for (const auto kind : kinds) {
            StockItem item;
            item.id = "item" + std::to_string(static_cast<int>(kind));
            item.name = item.id;
            item.kind = kind;
            item.fits = kind == StockItem::Kind::nipple ? "G 1/2" : "fits";
            item.adds = Length{e, 0.2, {}};
            item.socket_depth = Length{18, 0, {}};
            job.stock.push_back(item);
        }
        for (const auto& finding : findings_of(model_of_job(job))) {
            if (!finding.remedy) continue;
            const double sign = finding.rule == "reach.window" ? -1 : 1;
            EXPECT_NEAR(finding.remedy->nominal, *finding.nominal + sign * e, 1e-9) << finding.rule;
            EXPECT_GE(finding.remedy->low, *finding.need_low - 1e-9);
            EXPECT_NE(finding.verdict, Verdict::clear);
            ++compared;
        }
    }
    EXPECT_GT(compared, 50);
}

TEST(Relations, AWiderToleranceNeverImprovesAVerdict) {
    std::mt19937 random(seed + 4);
    SCOPED_TRACE(seed + 4);
    int compared = 0;
    for (int i = 0; i < 300; ++i) {
        const Job job = random_job(random);
        Job loose = job;
        for (auto& wall : loose.walls) {
            for (auto& layer : wall.layers) layer.thickness.tolerance = *layer.thickness.tolerance + 1;
        }
        const auto before = findings_of(model_of_job(job));
        const auto after = findings_of(model_of_job(loose));
        ASSERT_EQ(before.size(), after.size());
        for (std::size_t k = 0; k < before.size(); ++k) {
            EXPECT_GE(severity(after[k].verdict), severity(before[k].verdict)) << before[k].rule;
            ++compared;
        }
    }
    EXPECT_GT(compared, 2000);
}

TEST(Relations, TheSeatRangeIsWhereTheVerdictIsClear) {
    std::mt19937 random(seed + 5);
    SCOPED_TRACE(seed + 5);
    int compared = 0;
    for (int i = 0; i < 300; ++i) {
        const Job job = random_job(random);
        for (const auto& finding : findings_of(model_of_job(job))) {
            if (!finding.seat_range || finding.rule == "reach.screw") continue;
            for (const double at : {0.0, 0.5, 1.0}) {
                Job moved = job;
                for (auto& fitting : moved.fittings) {
                    if (fitting.id != finding.subject) continue;
                    const double n =
                        finding.seat_range->first + at * (finding.seat_range->second - finding.seat_range->first);
                    fitting.seat = Length{n, 2.0, {}};
                }
                bool clear = false;
                for (const auto& again : findings_of(model_of_job(moved))) {
                    clear = clear || (again.subject == finding.subject && again.quantity == finding.quantity &&
                                      again.verdict == Verdict::clear);
                }
                EXPECT_TRUE(clear) << finding.rule << " " << finding.quantity;
                ++compared;
            }
        }
    }
    EXPECT_GT(compared, 500);
}

}  // namespace
}  // namespace standproud::rules
