// What a job takes and in which order: materials, bill, tasks.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "support/bench_jobs.hpp"
#include "support/schema.hpp"

namespace standproud::viewer {
namespace {

using Json = nlohmann::json;
using testing::problems;

TEST(Bench, WhatIsBoughtIsWhatIsLaidAndTheWaste) {
    const Bench bench = work_out_bench({checked(small_job())});
    double adhesive = 0;
    double sealant = 0;
    for (const auto& panel : bench.panels) {
        // Closed form: a 6 mm bead.
        adhesive += pi * 9 * (panel.bond->bead_length + panel.bond->ring_length);
    }
    for (const auto& joint : bench.joints) sealant += 4 * 5 * joint.length;
    ASSERT_GE(bench.bought.size(), 3u);
    EXPECT_NEAR(bench.bought[0].purchase.needed, adhesive, 1e-3);
    EXPECT_NEAR(bench.bought[0].purchase.with_waste, 1.1 * adhesive, 1e-3);
    EXPECT_EQ(bench.bought[0].purchase.units, static_cast<int>(std::ceil(1.1 * adhesive / 300000)));
    EXPECT_NEAR(bench.bought[1].purchase.needed, sealant, 1e-3);
}

TEST(Bench, SealantIsBoughtByColourAndTheWallPaintedBehindAClearJoin) {
    std::string text = small_job();
    text.insert(text.find("[walls.studs]"), "joins = [{across = 600, from = \"left bare\"}]\n");
    const auto bought = [](const Bench& bench) {
        std::map<std::string, double> litres;
        for (const auto& one : bench.bought) {
            if (one.priced_by == "sealant_price") litres[one.what] = one.purchase.needed;
        }
        return litres;
    };
    const Bench clear = work_out_bench({checked(text)});
    const auto all = bought(clear);
    ASSERT_EQ(all.size(), 1u);
    EXPECT_EQ(all.begin()->first, "joint sealant, neutral cure, clear");
    text.insert(text.find("[walls.studs]"), "sealant_colour = \"#203040\"\n");
    const Bench bench = work_out_bench({checked(text)});
    auto parts = bought(bench);
    ASSERT_EQ(parts.size(), 2u);
    double on_back = 0;
    ASSERT_EQ(bench.joints.size(), clear.joints.size());
    for (std::size_t i = 0; i < bench.joints.size(); ++i) {
        const auto& joint = bench.joints[i];
        const bool back = joint.wall == "back";
        EXPECT_EQ(joint.sealant.has_value(), back) << joint.name;
        EXPECT_EQ(clear.joints[i].paint.has_value(), joint.kind == JointKind::join) << joint.name;
        EXPECT_EQ(joint.paint.has_value(), joint.kind == JointKind::join && !back) << joint.name;
        // 4 wide and 5 deep, by the job.
        if (back) on_back += 4 * 5 * joint.length;
    }
    EXPECT_GT(on_back, 0);
    EXPECT_NEAR(parts["joint sealant, neutral cure, #203040"], on_back, 1e-3);
    EXPECT_NEAR(parts["joint sealant, neutral cure, clear"], all.begin()->second - on_back, 1e-3);
    EXPECT_TRUE(problems(Json::parse(json_bench(bench)), "bench").empty());
}

TEST(Bench, PanelsAreNotLeftHalfBondedOvernight) {
    const Bench bench = work_out_bench({checked(small_job())});
    int bonds = 0;
    for (const auto& task : bench.tasks) {
        if (task.id.rfind("bond-", 0) != 0) continue;
        ++bonds;
        EXPECT_EQ(task.unit, 45);
        EXPECT_EQ(task.work % task.unit, 0);
    }
    EXPECT_EQ(bonds, 3);
}

TEST(Bench, TheWallIsPaintedBeforePanelsAreBondedOverIt) {
    std::string text = small_job();
    EXPECT_EQ(text_bench(work_out_bench({checked(text)}), {}).find("Paint the wall"), std::string::npos);
    text.insert(text.find("[walls.studs]"), "joins = [{across = 600, from = \"left bare\"}]\n");
    const Bench bench = work_out_bench({checked(text)});
    std::map<std::string, sequence::DatedTask> dated;
    for (std::size_t i = 0; i < bench.tasks.size(); ++i) dated[bench.tasks[i].id] = bench.shared.calendar.tasks[i];
    ASSERT_TRUE(dated.count("paint"));
    EXPECT_LE(dated["substrate"].finish, dated["paint"].start);
    EXPECT_LE(dated["paint"].finish, dated["bond-back"].start);
}

TEST(Bench, NothingIsDrilledBeforeTheDepthsAreRecordedNorSealedBeforeADay) {
    const Bench bench = work_out_bench({checked(small_job())});
    ASSERT_TRUE(bench.order.sequence) << bench.order.refused;
    std::map<std::string, sequence::DatedTask> dated;
    std::map<std::string, sequence::Task> tasks;
    for (std::size_t i = 0; i < bench.tasks.size(); ++i) {
        dated[bench.tasks[i].id] = bench.shared.calendar.tasks[i];
        tasks[bench.tasks[i].id] = bench.tasks[i];
    }
    for (const char* body : {"bodies-plumber", "bodies-electrician"})
        EXPECT_GE(dated.at("as-fixed").start, dated.at(body).finish);
    EXPECT_GE(dated.at("drill").start, dated.at("as-fixed").finish);
    for (const char* wall : {"left", "back", "right"}) {
        const std::string id = std::string("bond-") + wall;
        EXPECT_GE(dated.at(id).start, dated.at("substrate").finish);
        EXPECT_GE(dated.at("seal").start - dated.at(id).finish, std::chrono::hours(24)) << id;
    }
    for (const char* hold : {"as-fixed", "substrate", "dry-fit", "cure"}) EXPECT_NE(tasks.at(hold).hold, "") << hold;
    // 12 June 2026 is a Friday: work goes on on Monday.
    EXPECT_EQ(bench.shared.calendar.tasks.front().start,
              std::chrono::local_days(std::chrono::year(2026) / 6 / 12) + std::chrono::hours(8));
    const std::string text = calendar_bench(bench, std::chrono::sys_days(std::chrono::year(2026) / 1 / 2));
    std::size_t events = 0;
    for (std::size_t at = text.find("BEGIN:VEVENT"); at != std::string::npos; at = text.find("BEGIN:VEVENT", at + 1))
        ++events;
    EXPECT_EQ(events, bench.tasks.size());
}

/// RFC 5545, 3.8.4.7 (published): a UID names one event in the whole world, and the same one when it comes again.
TEST(Bench, EventsOfTwoJobsOfOneFileNameAreTwo) {
    const auto uids = [](const std::string& file, const std::string& name) {
        auto job = checked(small_job());
        job.model.job.file = file;
        job.model.job.name = name;
        const std::string text = calendar_bench(work_out_bench({job}), {});
        EXPECT_EQ(text.find("hill-house"), std::string::npos) << "the machine's folders are nobody's business";
        std::set<std::string> found;
        for (std::size_t at = text.find("\nUID:"); at != std::string::npos; at = text.find("\nUID:", at + 1))
            found.insert(text.substr(at + 5, text.find('\r', at + 5) - at - 5));
        return found;
    };
    const std::string here = std::filesystem::current_path().string();
    const auto first = uids("hill-house/job.toml", "Bath");
    EXPECT_GT(first.size(), 5u);
    EXPECT_EQ(uids(here + "/other/../hill-house/job.toml", "Bath"), first) << "the same file said in another way";
    for (const auto& other : {uids("hill-house/below/job.toml", "Bath"), uids("hill-house/job.toml", "Wet room")}) {
        EXPECT_EQ(other.size(), first.size());
        for (const auto& uid : other) EXPECT_EQ(first.count(uid), 0u) << uid;
    }
}

TEST(Bench, TwoJobsOfOneFileNameAreWorkedOutTogether) {
    auto first = checked(small_job());
    auto second = checked(small_job());
    first.model.job.file = "a/job.toml";
    second.model.job.file = "b/job.toml";
    const Bench both = work_out_bench({first, second});
    EXPECT_EQ(both.shared.refused, "");
    const std::string text = calendar_bench(both, {});
    std::set<std::string> uids;
    int events = 0;
    for (std::size_t at = text.find("\nUID:"); at != std::string::npos; at = text.find("\nUID:", at + 1)) {
        uids.insert(text.substr(at + 5, text.find('\r', at + 5) - at - 5));
        ++events;
    }
    EXPECT_GT(events, 10);
    EXPECT_EQ(static_cast<int>(uids.size()), events);
}

TEST(Bench, CrewsAreOfTheJobAndOneTradeDoesOneThing) {
    auto second = checked(small_job());
    second.model.job.file = "other.toml";
    const Bench one = work_out_bench({checked(small_job()), second});
    ASSERT_EQ(one.shared.refused, "");
    EXPECT_TRUE(one.shared.proved);
    const auto overlap = [](const Bench& bench) {
        int pairs = 0;
        const auto& dated = bench.shared.calendar.tasks;
        for (std::size_t a = 0; a < dated.size(); ++a) {
            for (std::size_t b = 0; b < a; ++b) {
                pairs += bench.tasks[a].trade == bench.tasks[b].trade && dated[a].start < dated[b].finish &&
                                 dated[b].start < dated[a].finish
                             ? 1
                             : 0;
            }
        }
        return pairs;
    };
    EXPECT_EQ(overlap(one), 0);
    EXPECT_NE(text_bench(one, {}).find("waits for its own trade, to "), std::string::npos);
    EXPECT_NE(text_bench(one, {}).find("ends sooner: proved"), std::string::npos);
    EXPECT_NE(calendar_bench(one, {}).find("Waits for its own trade\\, busy with: "), std::string::npos);
    const std::string more = "crews_installer = 2\ncrews_plumber = 2\ncrews_builder = 2\ncrews_electrician = 2\n";
    auto first = checked(small_job() + more);
    second = checked(small_job() + more);
    second.model.job.file = "other.toml";
    const Bench two = work_out_bench({first, second});
    EXPECT_GT(overlap(two), 0);
    EXPECT_LT(two.shared.calendar.end, one.shared.calendar.end);
    // Two crews of each trade and two rooms: as if each were alone.
    EXPECT_EQ(two.shared.calendar.end, work_out_bench({checked(small_job())}).shared.calendar.end);
    ASSERT_EQ(bench_faults({first, checked(small_job())}).size(), 1u) << "the same file";
    auto third = checked(small_job());
    third.model.job.file = "third.toml";
    EXPECT_EQ(bench_faults({first, third}).size(), 4u) << "they do not agree on crews";
    Faults faults;
    (void)testing::job_of(small_job() + "crews_installer = 1.5\n", faults);
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_NE(to_string(faults[0]).find("crews are whole"), std::string::npos) << to_string(faults[0]);
}

TEST(BenchReport, BillOfQuantities) {
    // Closed form: one tap at 40 with its extension at 7.5, one socket without a price; sheets at 100; cartridges.
    std::string text = small_job();
    const auto put = [&](const std::string& after, const std::string& more) {
        ASSERT_NE(text.find(after), text.npos) << after;
        text.insert(text.find(after) + after.size(), more);
    };
    put("name = \"tap\"\n", "price = 40\n");
    put("seat = \"-10 +/- 2\"\n", "with = \"ext\"\n");
    put("turning = true\n", "price = 100\n");
    put("kerf = 3\n", "adhesive_price = 6.25\ntape_price = 0\n");
    text =
        "[[stock]]\nid = \"ext\"\nname = \"an extension\"\nkind = \"extension\"\nfits = \"s\"\nadds = \"5 +/- 0.1\"\n"
        "price = 7.5\n" +
        text;
    const Bench bench = work_out_bench({checked(text)});
    ASSERT_TRUE(bench.sheets.nesting);
    const auto line = [&](const std::string& what) {
        for (const auto& one : bench.bill) {
            if (one.what == what) return one;
        }
        ADD_FAILURE() << "no line " << what;
        return BillLine{};
    };
    EXPECT_EQ(line("tap").quantity, 1);
    EXPECT_EQ(line("tap").price, 40);
    EXPECT_EQ(line("an extension").price, 7.5);
    EXPECT_FALSE(line("box").price);
    EXPECT_EQ(line("sheet whole").quantity, static_cast<double>(bench.sheets.nesting->sheets.size()));
    EXPECT_EQ(line("sheet whole").price, 100);
    EXPECT_EQ(line("adhesive, neutral-cure silicone").price, 6.25);
    EXPECT_EQ(line("double-sided tape").price, 0) << "no cost is a price";
    EXPECT_FALSE(line("joint sealant, neutral cure, clear").price);
    const double total =
        40 + 7.5 + 100 * line("sheet whole").quantity + 6.25 * line("adhesive, neutral-cure silicone").quantity;
    const std::string words = text_bench(bench, {});
    EXPECT_NE(words.find(fmt::format("total of what has a price: {:.2f}", total)), words.npos) << words;
    EXPECT_NE(words.find("have no price and are not in it"), words.npos);
    for (const auto& problem : problems(Json::parse(json_bench(bench)), "bench")) ADD_FAILURE() << problem;
}

TEST(BenchReport, AnOffcutCostsWhatItsFileSays) {
    // The nesting's total and the bill's agree; an offcut without a price costs nothing.
    const auto sheets_in_bill = [](const std::string& price) {
        std::string text = small_job();
        const std::string whole = "turning = true\n";
        text.insert(text.find(whole) + whole.size(),
                    "price = 100\n[[sheets]]\nid = \"rest\"\nwidth = 1250\nheight = "
                    "2500\nturning = true\noffcut = true\n" +
                        price);
        const Bench bench = work_out_bench({checked(text)});
        double sum = 0;
        bool used = false;
        for (const auto& line : bench.bill) {
            if (line.what == "sheet whole" || line.what == "offcut rest") sum += line.quantity * line.price.value_or(0);
            used = used || line.what == "offcut rest";
        }
        EXPECT_TRUE(used);
        EXPECT_NEAR(sum, bench.sheets.nesting->price, 1e-9);
        return sum;
    };
    EXPECT_NEAR(sheets_in_bill("price = 12.5\n"), sheets_in_bill("") + 12.5, 1e-9);
}

TEST(BenchReport, NoPricesNoBill) {
    EXPECT_EQ(text_bench(work_out_bench({checked(small_job())}), {}).find("BILL"), std::string::npos);
}

}  // namespace
}  // namespace standproud::viewer
