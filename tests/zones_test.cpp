// Electrical fittings and zones: distances, and what the rule needs and does not have.
// Published: IEC 60364-7-701 as adopted in BS 7671:2008: zone 1 reaches 1.20 m from the fixed water outlet of a shower
// without basin, to 2.25 m or the outlet; it is bounded by the bath or basin where there is one, and zone 2 reaches
// 0.60 m beyond. Places and distances: closed form.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "rules/check.hpp"
#include "support/jobs.hpp"

namespace standproud {
namespace {

using rules::Finding;
using rules::Verdict;
using testing::findings_of;
using testing::recess;

struct Case {
    std::string basin = "bath_or_basin = false\n";
    std::string outlet_use = "use = \"water outlet\"\n";
    std::string fan_use = "use = \"electrical\"\n";
    std::string trade = "electrician";
    double across = 1100;  ///< of the fan, from the left finished corner; the outlet is at 0
    double height = 2200;
    double outlet_height = 2000;
    bool outlet = true;
    std::string more;
};

std::vector<Finding> zones(const Case& c) {
    std::string text = fmt::format(R"(
[[types]]
id = "o"
name = "o"
family = "thread"
trade = "plumber"
{}
[[types]]
id = "e"
name = "e"
family = "plate"
trade = "{}"
{}
[[fittings]]
id = "fan"
type = "e"
wall = "back"
across = {}
from = "left finished"
height = {}
)",
                                   c.outlet_use, c.trade, c.fan_use, c.across, c.height);
    if (c.outlet) {
        text += fmt::format(
            "[[fittings]]\nid = \"out\"\ntype = \"o\"\nwall = \"back\"\nacross = 0\nfrom = \"left finished\"\nheight = "
            "{}\n",
            c.outlet_height);
    }
    std::vector<Finding> found;
    for (auto& finding : findings_of(recess(text + c.more, c.basin))) {
        if (finding.rule == "zone.electrical") found.push_back(std::move(finding));
    }
    return found;
}

Finding zone(const Case& c) {
    const auto found = zones(c);
    EXPECT_EQ(found.size(), 1u);
    return found.empty() ? Finding{} : found.front();
}

/// A tray 400 wide from the left bare corner, `rim` high: between finished faces it ends at 400 - 17.
std::string tray(double rim) {
    return fmt::format(
        "[tray]\nname = \"tray\"\nwall = \"back\"\nwidth = 400\ndepth = 800\nbase = 0\nrim = {}\nwalls = [\"back\"]\n",
        rim);
}

bool says_who_decides(const Finding& finding) {
    return finding.says.find("the electrician decides") != std::string::npos;
}

TEST(Zones, DistanceFromTheFixedOutlet) {
    const Finding inside = zone({});
    EXPECT_EQ(inside.verdict, Verdict::fails);
    EXPECT_NEAR(*inside.nominal, -100, 1e-9);
    EXPECT_EQ(inside.trade, Trade::electrician);
    EXPECT_NE(inside.action.find("Ask the electrician"), std::string::npos);
}

TEST(Zones, EveryLineSaysWhoDecides) {
    Case c;
    for (const double across : {100.0, 1100.0, 1160.0}) {
        c.across = across;
        EXPECT_TRUE(says_who_decides(zone(c)));
    }
    c.height = 2300;  // over zone 1
    const Finding over = zone(c);
    EXPECT_EQ(over.verdict, Verdict::clear);
    EXPECT_TRUE(says_who_decides(over));
    c.basin.clear();
    EXPECT_TRUE(says_who_decides(zone(c)));
}

TEST(Zones, ABathOrBasinIsAFactOfTheJob) {
    // The height of the rim decides nothing: 99, 101 and 600 mm give the same.
    for (const double rim : {99.0, 101.0, 600.0}) {
        Case c;
        c.more = tray(rim);
        c.basin = "bath_or_basin = true\n";
        c.across = 383 + 300;
        const Finding in_zone_2 = zone(c);
        EXPECT_EQ(in_zone_2.verdict, Verdict::tight) << rim;
        EXPECT_NEAR(*in_zone_2.nominal, 300, 1e-9);
        EXPECT_NEAR(*in_zone_2.need_low, 600, 1e-9);
        c.across = 383 + 600 + 2.01;  // set out to +/- 2: just beyond zone 2
        EXPECT_EQ(zone(c).verdict, Verdict::clear) << rim;
        c.across = 383 + 600 + 1.99;
        EXPECT_EQ(zone(c).verdict, Verdict::tight) << rim;
        c.across = 200;
        EXPECT_EQ(zone(c).verdict, Verdict::fails) << rim;
        c.basin = "bath_or_basin = false\n";
        EXPECT_EQ(zone(c).verdict, Verdict::unknown) << "a rim, and no basin: which holds?";
        c.basin.clear();
        EXPECT_EQ(zone(c).verdict, Verdict::unknown) << rim;
    }
}

TEST(Zones, ALevelFloorIsNoBasin) {
    Case c;
    c.more = tray(0);
    c.across = 200;
    EXPECT_NEAR(*zone(c).nominal, 200 - 1200, 1e-9);
}

TEST(Zones, WhatTheRuleDoesNotHaveMakesItUnknown) {
    const auto unknown = [](const Case& c, const std::string& missing) {
        const Finding finding = zone(c);
        EXPECT_EQ(finding.verdict, Verdict::unknown);
        ASSERT_FALSE(finding.missing.empty());
        EXPECT_NE(finding.missing.front().find(missing), std::string::npos) << finding.missing.front();
        EXPECT_NE(finding.action.find(missing), std::string::npos) << finding.action;
        EXPECT_TRUE(says_who_decides(finding));
    };
    Case c;
    c.outlet = false;
    unknown(c, "water outlet");
    c = {};
    c.outlet_use.clear();  // it may be the water outlet
    unknown(c, "use of type o");
    c = {};
    c.fan_use.clear();  // a socket outlet, or what else
    unknown(c, "use of type e");
    c = {};
    c.basin.clear();
    unknown(c, "bath_or_basin");
    c = {};
    c.basin = "bath_or_basin = true\n";  // but where it stands is not told
    unknown(c, "[tray]");
    // Over zone 1 of a basin, unless an outlet is higher that nobody told of.
    c.more = tray(300);
    c.across = 300;
    c.height = 2300;
    EXPECT_EQ(zone(c).verdict, Verdict::clear);
    c.outlet_use.clear();
    unknown(c, "use of type o");
    c.outlet_use = "use = \"other\"\n";  // said to be none, and there is no other
    unknown(c, "water outlet");
    // A higher outlet takes zone 1 up with it.
    c.outlet_use = "use = \"water outlet\"\n";
    c.outlet_height = 2350;
    EXPECT_EQ(zone(c).verdict, Verdict::fails);
}

TEST(Zones, OverZoneOneOnlyWithItsPlusMinus) {
    // In plan it is inside. Zone 1 reaches 2250 high; heights are set to +/- 2.
    Case c;
    c.across = 600;
    const auto at = [&c](double height) {
        c.height = height;
        return zone(c).verdict;
    };
    EXPECT_EQ(at(2252.01), Verdict::clear);
    EXPECT_EQ(at(2251.99), Verdict::tight);
    EXPECT_EQ(at(2250.01), Verdict::tight);
    EXPECT_EQ(at(2249.99), Verdict::fails);
    // Over an outlet that is higher: both may be off.
    c.outlet_height = 2300;
    EXPECT_EQ(at(2304.01), Verdict::clear);
    EXPECT_EQ(at(2303.99), Verdict::tight);
    EXPECT_EQ(at(2299.99), Verdict::fails);
}

TEST(Zones, ACableMakesItElectrical) {
    Case c;
    c.trade = "installer";
    c.fan_use.clear();
    const std::string run =
        "[[pipes]]\nid = \"feed\"\nkind = \"{}\"\nwall = \"back\"\ndiameter = 8\nplus_minus = 2\n"
        "points = [[300, 500, -40], [900, 500, -40]]\nconnects = [\"fan\"]\n";
    c.more = fmt::format(fmt::runtime(run), "cold");
    EXPECT_TRUE(zones(c).empty());
    c.more = fmt::format(fmt::runtime(run), "cable");
    EXPECT_EQ(zone(c).verdict, Verdict::unknown);
    c.fan_use = "use = \"electrical\"\n";
    EXPECT_EQ(zone(c).verdict, Verdict::fails);
}

TEST(Zones, WhatIsElectricalIsToldByTradeOrUse) {
    Case c;
    c.trade = "installer";
    EXPECT_EQ(zones(c).size(), 1u);
    c.fan_use.clear();
    EXPECT_TRUE(zones(c).empty());
    c.trade = "electrician";
    EXPECT_EQ(zones(c).size(), 1u);
}

}  // namespace
}  // namespace standproud
