// Every fault of a job file: found, placed on its line, and explained. All at once.
#include <gtest/gtest.h>

#include <algorithm>
#include <ostream>

#include "modeler/job_reader.hpp"
#include "modeler/model.hpp"
#include "rules/limits.hpp"
#include "support/jobs.hpp"

namespace standproud {
namespace {

using testing::job_of;
using testing::recess;

constexpr const char* tap = R"([[types]]
id = "tap"
name = "tap"
family = "spindle"
trade = "plumber"
spindle_length = "50 +/- 0.5"
proud_min = 20
proud_max = 30
)";

Faults faults_of(const std::string& text) {
    Faults faults;
    Job job = job_of(text, faults);
    (void)rules::limits_for(job, faults);
    if (faults.empty()) (void)build_model(std::move(job), faults);
    sort_faults(faults);
    return faults;
}

int line_of(const std::string& text, const std::string& needle) {
    const auto at = text.find(needle);
    EXPECT_NE(at, std::string::npos) << needle;
    return 1 + static_cast<int>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
}

/// One wrong piece of text put in place of a right one must give one fault on its line that says `says`.
struct Wrong {
    const char* right;
    const char* wrong;
    const char* line;  ///< text on the line that is named
    const char* says;
    const char* allowed;
};

// Names the case when it fails.
std::ostream& operator<<(std::ostream& out, const Wrong& w) { return out << w.wrong; }

std::string good() {
    return recess(std::string(tap) + R"([[stock]]
id = "ext"
name = "extension"
kind = "extension"
fits = "x"
adds = "10 +/- 0.2"
[[fittings]]
id = "hot"
type = "tap"
wall = "back"
across = 300
from = "left bare"
height = 1000
seat = "-10 +/- 2"
[limits]
hole.edge = 12
)");
}

TEST(Reader, TheGoodFileIsGood) {
    for (const auto& fault : faults_of(good())) ADD_FAILURE() << to_string(fault);
}

class OneFault : public ::testing::TestWithParam<Wrong> {};

TEST_P(OneFault, IsFoundOnItsLine) {
    const Wrong& wrong = GetParam();
    std::string text = good();
    const auto at = text.find(wrong.right);
    ASSERT_NE(at, std::string::npos);
    text.replace(at, std::string(wrong.right).size(), wrong.wrong);
    const Faults faults = faults_of(text);
    ASSERT_FALSE(faults.empty());
    const bool found = std::any_of(faults.begin(), faults.end(), [&](const Fault& fault) {
        return fault.where.line == line_of(text, wrong.line) && fault.where.column > 0 &&
               fault.where.file == "job.toml" && to_string(fault).find(wrong.says) != std::string::npos &&
               fault.allowed.find(wrong.allowed) != std::string::npos;
    });
    EXPECT_TRUE(found) << "expected line " << line_of(text, wrong.line) << ": " << wrong.says;
    if (!found) {
        for (const auto& fault : faults) ADD_FAILURE() << to_string(fault);
    }
    EXPECT_EQ(faults.size(), 1u);
}

INSTANTIATE_TEST_SUITE_P(
    Documented, OneFault,
    ::testing::Values(
        Wrong{"width = 1200", "width = -5", "width = -5", "walls.width is out of range", "above 0 to 20000 mm"},
        Wrong{"width = 1200", "width = nan", "width = nan", "walls.width is out of range", "above 0"},
        Wrong{"width = 1200", "width = inf", "width = inf", "walls.width is out of range", "above 0"},
        Wrong{"width = 1200", "width = \"wide\"", "width = \"wide\"", "walls.width is not a number", "mm"},
        Wrong{"height = 1000\nseat", "heigth = 1000\nheight = 1000\nseat", "heigth", "did you mean height?", "across"},
        Wrong{"height = 1000\nseat", "seat", "[[fittings]]", "fittings.height is missing", "-6000 to 6000 mm"},
        Wrong{"type = \"tap\"", "type = \"tab\"", "type = \"tab\"", "did you mean \"tap\"?", "tap"},
        Wrong{"wall = \"back\"", "wall = \"bak\"", "wall = \"bak\"", "did you mean \"back\"?", "left, back, right"},
        Wrong{"from = \"left bare\"", "from = \"left\"", "from = \"left\"", "fittings.from is not one of the words",
              "left finished"},
        Wrong{"across = 300", "across = 1300", "across = 1300", "fitting \"hot\" lies outside its wall", "0 to 1200"},
        Wrong{"height = 1000\nseat", "height = 2500\nseat", "height = 2500", "fitting \"hot\" lies outside its wall",
              "0 to 2400"},
        Wrong{"seat = \"-10 +/- 2\"", "seat = \"-10 + 2\"", "seat = \"-10 + 2\"", "fittings.seat is not a length",
              "48 +/- 0.5"},
        Wrong{"seat = \"-10 +/- 2\"", "seat = \"-10 +/- -2\"", "seat = \"-10 +/- -2\"", "the +/- of fittings.seat",
              "0 or more"},
        Wrong{"kind = \"bed\"", "kind = \"glue\"", "kind = \"glue\"", "layers.kind is not one of", "membrane"},
        Wrong{"thickness = \"9 +/- 0.3\"", "thickness = -9", "thickness = -9", "layers.thickness is out of range",
              "0 to 200 mm"},
        Wrong{"kind = \"extension\"", "kind = \"extention\"", "extention", "did you mean \"extension\"?", "nipple"},
        Wrong{"hole.edge = 12", "hole.egde = 12", "hole.egde", "did you mean hole.edge?", "hole.edge"},
        Wrong{"hole.edge = 12", "hole.edge = -1", "hole.edge = -1", "limit hole.edge is out of range", "0 to 200 mm"},
        Wrong{"family = \"spindle\"", "family = \"spindel\"", "spindel", "did you mean \"spindle\"?", "thread"},
        Wrong{"datum = \"floor\"", "datum = \"\"", "datum = \"\"", "job.datum is empty", "some text"},
        Wrong{"order = [\"back\", \"left\", \"right\"]", "order = [\"back\", \"lef\"]", "[panels]",
              "did you mean \"left\"?", "left"},
        Wrong{"proud_min = 20", "proud_min = 31", "proud_max = 30", "window of \"tap\" is upside down", "least"},
        Wrong{"[walls.studs]", "[walls.gaps]\nleft = -0.01\n[walls.studs]", "left = -0.01",
              "walls.gaps.left is out of range", "0 to 50 mm"},
        Wrong{"[walls.studs]", "[walls.gaps]\ntop = 50.01\n[walls.studs]", "top = 50.01",
              "walls.gaps.top is out of range", "0 to 50 mm"},
        Wrong{"[walls.studs]", "[walls.gaps]\nbottom = \"8\"\n[walls.studs]",
              "bottom =", "walls.gaps.bottom is not a number", "0 to 50 mm"},
        Wrong{"[walls.studs]", "[walls.gaps]\nbotom = 8\n[walls.studs]", "botom = 8", "did you mean bottom?",
              "bottom, join, left, right, top"},
        Wrong{"[walls.studs]", "[[walls.joins]]\nacross = 600\nfrom = \"left bare\"\ngap = 51\n[walls.studs]",
              "gap = 51", "walls.joins.gap is out of range", "0 to 50 mm"},
        Wrong{"[walls.studs]", "[[walls.joins]]\nacross = 600\nfrom = \"left bare\"\ngapp = 5\n[walls.studs]",
              "gapp = 5", "did you mean gap?", "across, from, gap"},
        Wrong{"[walls.studs]", "gaps = 4\n[walls.studs]", "gaps = 4", "walls.gaps is not", ""},
        Wrong{"id = \"hot\"", "id = \"hot tap\"", "id = \"hot tap\"", "fittings.id is not a plain word", "letters"}));

TEST(Reader, CollectsEveryFaultAtOnce) {
    std::string text = good();
    const auto swap = [&](const std::string& right, const std::string& wrong) {
        text.replace(text.find(right), right.size(), wrong);
    };
    swap("width = 1200", "width = 0");
    swap("kind = \"bed\"", "kind = \"bedd\"");
    swap("type = \"tap\"", "type = \"tapp\"");
    swap("hole.edge", "hole.edges");
    const Faults faults = faults_of(text);
    EXPECT_GE(faults.size(), 4u);
    EXPECT_TRUE(std::is_sorted(faults.begin(), faults.end(),
                               [](const Fault& a, const Fault& b) { return a.where.line < b.where.line; }));
}

TEST(Reader, DuplicateIdsNameTheFirstOne) {
    const std::string text = good() +
                             "[[fittings]]\nid = \"hot\"\ntype = \"tap\"\nwall = \"back\"\nacross = 500\nfrom = \"left "
                             "bare\"\nheight = 900\n";
    const std::string moved = text.substr(0, text.find("[limits]")) +
                              text.substr(text.find("[[fittings]]\nid = \"hot\"", text.find("[limits]")));
    const Faults faults = faults_of(moved);
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_NE(faults[0].says.find("\"hot\" is there already, at "), std::string::npos) << faults[0].says;
}

TEST(Reader, AFinishedCornerNeedsAWallThere) {
    std::string text = good();
    text.replace(text.find("wall = \"back\""), 13, "wall = \"left\"");
    text.replace(text.find("from = \"left bare\""), 18, "from = \"left finished\"");
    const Faults faults = faults_of(text);
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_NE(faults[0].says.find("no wall at its left"), std::string::npos);
}

TEST(Reader, AHoleLargerThanItsPanel) {
    std::string text = good();
    text.insert(text.find("[[stock]]"), "[[types.holes]]\nwidth = 1500\nheight = 100\nradius = 6\n");
    const Faults faults = faults_of(text);
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_NE(faults[0].says.find("larger than panel back-1"), std::string::npos);
    EXPECT_EQ(faults[0].where.line, line_of(text, "[[types.holes]]"));
}

TEST(Reader, SquareCutOutsAreRefused) {
    std::string text = good();
    text.insert(text.find("[[stock]]"), "[[types.holes]]\nwidth = 70\nheight = 70\n");
    const Faults faults = faults_of(text);
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_NE(faults[0].allowed.find("never square"), std::string::npos);
}

TEST(Reader, AClosedRecessMustClose) {
    std::string text = good();
    text.replace(text.find("datum"), 5, "closed = true\ndatum");
    const Faults faults = faults_of(text);
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_NE(faults[0].says.find("the recess does not close"), std::string::npos);
}

TEST(Reader, NotToml) {
    const Faults faults = faults_of("[job]\nname = \n");
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_EQ(faults[0].where.line, 2);
}

TEST(Reader, MissingFileAndMissingCatalogue) {
    Faults faults;
    (void)read_job("no-such-job.toml", faults);
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_NE(faults[0].says.find("No such file"), std::string::npos);
    std::string text = good();
    text.replace(text.find("datum"), 5, "catalogue = [\"gone.toml\"]\ndatum");
    const Faults more = faults_of(text);
    ASSERT_EQ(more.size(), 1u);
    EXPECT_EQ(more[0].where.line, 3);
    EXPECT_NE(more[0].says.find("gone.toml"), std::string::npos);
}

TEST(Reader, BothSignsForPlusOrMinus) {
    Faults faults;
    std::string text = good();
    text.replace(text.find("seat = \"-10 +/- 2\""), 18, "seat = \"-10.5 \u00b1 1.5\"");
    const Job job = job_of(text, faults);
    EXPECT_TRUE(faults.empty());
    EXPECT_DOUBLE_EQ(job.fittings[0].seat->value, -10.5);
    EXPECT_DOUBLE_EQ(*job.fittings[0].seat->tolerance, 1.5);
}

TEST(Reader, ASeatWithoutItsOwnTakesTheJobsTolerance) {
    std::string text = recess(std::string(tap) +
                                  "[[fittings]]\nid = \"hot\"\ntype = \"tap\"\nwall = \"back\"\nacross = 300\nfrom = "
                                  "\"left bare\"\nheight = 1000\nseat = -10\n",
                              "seat_tolerance = 3");
    Faults faults;
    EXPECT_DOUBLE_EQ(*job_of(text, faults).fittings[0].seat->tolerance, 3);
    text.replace(text.find("seat_tolerance = 3"), 18, "");
    EXPECT_FALSE(job_of(text, faults).fittings[0].seat->tolerance.has_value()) << "never guessed";
}

TEST(Reader, NearestWord) {
    EXPECT_EQ(nearest_word("heigth", {"height", "width"}), "height");
    EXPECT_EQ(nearest_word("zzzzzz", {"height", "width"}), "");
}

TEST(Reader, AWallIsNamedOnceInAnOrder) {
    for (const auto& [from, to] : std::vector<std::pair<std::string, std::string>>{
             {"order = [\"back\", \"left\", \"right\"]", "order = [\"back\", \"left\", \"back\"]"},
             {"order = [\"back\", \"left\", \"right\"]", "order = [\"left\", \"left\"]"}}) {
        std::string text = testing::recess("");
        text.replace(text.find(from), from.size(), to);
        Faults faults;
        (void)testing::job_of(text, faults);
        ASSERT_EQ(faults.size(), 1u);
        EXPECT_EQ(faults[0].says, "panels.order names it twice");
        EXPECT_EQ(faults[0].allowed, "each once");
        EXPECT_GT(faults[0].where.line, 0);
    }
}

TEST(Reader, AJoinStandsOnItsWall) {
    const auto faults_with = [](const std::string& joins) {
        std::string text = testing::recess("");
        text.insert(text.find("[walls.studs]"), joins + "\n");
        Faults faults;
        (void)testing::job_of(text, faults);
        return faults;
    };
    EXPECT_TRUE(faults_with("joins = [{across = 1200, from = \"left bare\"}]").empty());
    EXPECT_TRUE(faults_with("joins = [{across = -600, from = \"centre\"}]").empty());
    EXPECT_TRUE(faults_with("level_joins = [{height = 2400}]").empty());
    for (const char* outside :
         {"joins = [{across = 1200.01, from = \"left bare\"}]", "joins = [{across = -0.01, from = \"right bare\"}]",
          "joins = [{across = 600.01, from = \"centre\"}]", "level_joins = [{height = 2400.01}]"}) {
        const auto faults = faults_with(outside);
        ASSERT_EQ(faults.size(), 1u) << outside;
        EXPECT_NE(faults[0].says.find("\"back\""), std::string::npos) << faults[0].says;
        EXPECT_FALSE(faults[0].allowed.empty());
    }
}

}  // namespace
}  // namespace standproud
