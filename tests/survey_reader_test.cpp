// The [survey] of a job file: every kind of reading arrives as it was written, every fault is named with its line.
#include <gtest/gtest.h>

#include <algorithm>
#include <ostream>

#include "modeler/job_reader.hpp"
#include "modeler/survey.hpp"
#include "support/jobs.hpp"

namespace standproud {
namespace {

using testing::job_of;
using testing::recess;

std::string good() {
    return recess(R"([survey]
assume = "unknown"
unevenness = 3
[survey.plus_minus]
tape = 2.5
laser_measure = 1.5
[[survey.widths]]
wall = "back"
height = 300
value = 1203
[[survey.widths]]
wall = "back"
height = 2100
value = "1198 +/- 1"
with = "laser measure"
[[survey.heights]]
wall = "left"
across = 450
value = 2391
[[survey.wall_diagonals]]
wall = "right"
left_height = 100
right_height = 2200
value = 2290
[[survey.diagonals]]
from = "left of left"
to = "right of back"
height = 1050
value = 1497
[[survey.angles]]
corner = "right of left"
leg = 500
value = "90.5 +/- 0.2"
[[survey.triangles]]
corner = "left of right"
along_left = 600
along_right = 800
value = 1004
[[survey.offsets]]
wall = "back"
plane = "laser"
plumb = true
plus_minus = 1
points = [
  [100, 200, 60],
  [600, 200, 61.5],
  [1100, 2200, 64],
]
[[survey.levels]]
wall = "right"
across = 350
from = 250
to = 2050
value = -3
[[survey.straightedges]]
wall = "back"
across = 600
height = 1150
length = 1000
held = "upright"
gap = "2.5 +/- 0.5"
)");
}

int line_of(const std::string& text, const std::string& needle) {
    const auto at = text.find(needle);
    EXPECT_NE(at, std::string::npos) << needle;
    return 1 + static_cast<int>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
}

TEST(SurveyReader, ReadsWhatWasWritten) {
    Faults faults;
    const Job job = job_of(good(), faults);
    for (const auto& fault : faults) ADD_FAILURE() << to_string(fault);
    ASSERT_TRUE(job.survey);
    const SurveyReadings& survey = *job.survey;
    EXPECT_EQ(survey.assume, SurveyReadings::Assume::unknown);
    EXPECT_EQ(survey.unevenness, 3);
    EXPECT_EQ(survey.plus_minus.size(), 2u);
    EXPECT_EQ(survey.plus_minus.at(Instrument::laser_measure), 1.5);
    ASSERT_EQ(survey.widths.size(), 2u);
    EXPECT_EQ(survey.widths[0].reading.instrument, Instrument::tape);
    EXPECT_FALSE(survey.widths[0].reading.plus_minus);
    EXPECT_EQ(survey.widths[1].reading.instrument, Instrument::laser_measure);
    EXPECT_EQ(survey.widths[1].reading.plus_minus, 1);
    EXPECT_EQ(survey.widths[1].reading.source.line, line_of(good(), "1198"));
    EXPECT_EQ(survey.heights.at(0).u, 450);
    EXPECT_EQ(survey.wall_diagonals.at(0).left_height, 100);
    EXPECT_EQ(survey.wall_diagonals.at(0).right_height, 2200);
    EXPECT_EQ(survey.diagonals.at(0).from.wall, "left");
    EXPECT_EQ(survey.diagonals.at(0).from.side, Side::left);
    EXPECT_EQ(survey.diagonals.at(0).to.wall, "back");
    EXPECT_EQ(survey.diagonals.at(0).to.side, Side::right);
    EXPECT_EQ(survey.angles.at(0).leg, 500);
    EXPECT_EQ(survey.angles.at(0).reading.plus_minus, 0.2);
    EXPECT_EQ(survey.triangles.at(0).along_right, 800);
    ASSERT_EQ(survey.offsets.at(0).points.size(), 3u);
    EXPECT_TRUE(survey.offsets[0].plumb);
    EXPECT_EQ(survey.offsets[0].plus_minus, 1);
    EXPECT_EQ(survey.offsets[0].points[1].value, 61.5);
    EXPECT_EQ(survey.offsets[0].points[1].source.line, line_of(good(), "[600, 200, 61.5]"));
    EXPECT_EQ(survey.levels.at(0).reading.value, -3);
    EXPECT_EQ(survey.levels.at(0).reading.instrument, Instrument::spirit_level);
    EXPECT_TRUE(survey.straightedges.at(0).upright);
    EXPECT_EQ(survey.straightedges.at(0).reading.value, 2.5);
    EXPECT_FALSE(job_of(recess(""), faults).survey);
}

TEST(SurveyReader, TheSurveyOfAFileIsAdjusted) {
    Faults faults;
    const Survey survey = adjust_survey(job_of(good(), faults));
    EXPECT_TRUE(survey.converged);
    EXPECT_EQ(survey.readings.size(), 11u);
    ASSERT_EQ(survey.walls.at(1).hollows.size(), 1u);
    EXPECT_EQ(survey.walls[1].hollows[0].gap.value, 2.5);
    EXPECT_EQ(survey.walls[1].hollows[0].gap.standard_error, 0.25);  // half of the +/- that was written
    EXPECT_EQ(survey.walls[1].points.size(), 3u);
    EXPECT_TRUE(survey.walls[0].height);
    EXPECT_FALSE(survey.walls[1].height);
}

/// One wrong piece of text put in place of a right one must give one fault on its line that says `says`.
struct Wrong {
    const char* right;
    const char* wrong;
    const char* line;
    const char* says;
    const char* allowed;
};

// Names the case when it fails.
std::ostream& operator<<(std::ostream& out, const Wrong& w) { return out << w.wrong; }

class SurveyFault : public ::testing::TestWithParam<Wrong> {};

TEST_P(SurveyFault, IsFoundOnItsLine) {
    const Wrong& wrong = GetParam();
    std::string text = good();
    const auto at = text.find(wrong.right);
    ASSERT_NE(at, std::string::npos);
    text.replace(at, std::string(wrong.right).size(), wrong.wrong);
    Faults faults;
    (void)job_of(text, faults);
    ASSERT_EQ(faults.size(), 1u) << (faults.empty() ? "" : to_string(faults.back()));
    EXPECT_EQ(faults[0].where.file, "job.toml");
    EXPECT_EQ(faults[0].where.line, line_of(text, wrong.line));
    EXPECT_GT(faults[0].where.column, 0);
    EXPECT_NE(to_string(faults[0]).find(wrong.says), std::string::npos) << to_string(faults[0]);
    EXPECT_NE(faults[0].allowed.find(wrong.allowed), std::string::npos) << to_string(faults[0]);
}

INSTANTIATE_TEST_SUITE_P(
    Documented, SurveyFault,
    ::testing::Values(
        Wrong{"\"unknown\"", "\"maybe\"", "\"maybe\"", "survey.assume is not one of the words", "carry"},
        Wrong{"unevenness = 3", "uneveness = 3", "uneveness", "did you mean unevenness?", "unevenness"},
        Wrong{"unevenness = 3", "unevenness = 300", "unevenness", "survey.unevenness is out of range", "0 to 50 mm"},
        Wrong{"tape = 2.5", "tap = 2.5", "tap = 2.5", "did you mean tape?", "tape"},
        Wrong{"tape = 2.5", "tape = 0", "tape = 0", "survey.plus_minus.tape is out of range", "above 0 to 50 mm"},
        Wrong{"wall = \"back\"\nheight = 300", "wall = \"bak\"\nheight = 300", "\"bak\"", "did you mean \"back\"?",
              "left, back, right"},
        Wrong{"height = 300", "height = 3000", "height = 3000", "lies above the top of wall \"back\"", "up to 2450"},
        Wrong{"value = 1203", "value = \"1203 mm\"", "1203 mm", "survey.widths.value is not a length", "48 +/- 0.5"},
        Wrong{"value = 1203", "value = -1203", "-1203", "survey.widths.value is out of range", "above 0 to 20000"},
        Wrong{"value = 1203", "", "[[survey.widths]]", "survey.widths.value is missing", "above 0"},
        Wrong{"1198 +/- 1", "1198 +/- -1", "1198", "the +/- of survey.widths.value", "0 or more"},
        Wrong{"\"laser measure\"", "\"laser mesure\"", "with = \"laser mesure\"", "did you mean \"laser measure\"?",
              "tape"},
        Wrong{"across = 450", "across = 970", "across = 970", "lies beside wall \"left\"", "up to 950 mm"},
        Wrong{"right_height = 2200", "right_hight = 2200\nright_height = 2200", "right_hight",
              "did you mean right_height?", "left_height"},
        Wrong{"\"left of left\"", "\"left\"", "from = \"left\"", "survey.diagonals.from is not a corner",
              "left of WALL"},
        Wrong{"\"left of left\"", "\"left of bac\"", "left of bac", "did you mean \"back\"?", "back"},
        Wrong{"\"left of left\"", "\"left of right\"", "to = \"right of back\"", "ends in the corner it starts from",
              "another corner"},
        Wrong{"\"right of left\"", "\"left of left\"", "corner = \"left of left\"", "meets no other wall at its left",
              "a corner of two walls"},
        Wrong{"90.5 +/- 0.2", "5", "value = \"5\"", "survey.angles.value is out of range", "45 to 315 degrees"},
        Wrong{"value = 1004", "value = 1500", "value = 1500", "no triangle has such sides", "above 200 and below 1400"},
        Wrong{"plane = \"laser\"", "plane = \"lazer\"", "lazer", "did you mean \"laser\"?", "string"},
        Wrong{"plumb = true", "plumb = \"yes\"", "plumb", "survey.offsets.plumb is neither true nor false",
              "true or false"},
        Wrong{"[600, 200, 61.5]", "[600, 200]", "[600, 200]",
              "survey.offsets.points holds something that is not three numbers", "[[a, b, c], ...]"},
        Wrong{"[600, 200, 61.5]", "[600, 200, \"61.5\"]", "[600, 200, \"61.5\"]", "not three numbers", "mm"},
        Wrong{"[600, 200, 61.5]", "[6000, 200, 61.5]", "[6000, 200", "a spot lies outside wall \"back\"",
              "-50 to 1250 mm"},
        Wrong{"[600, 200, 61.5]", "[600, 200, nan]", "[600, 200, nan]", "survey.offsets.points is out of range",
              "-20000"},
        Wrong{"  [600, 200, 61.5],\n  [1100, 2200, 64],\n", "", "points = [", "needs two spots or more", "offset"},
        Wrong{"from = 250", "from = 2250", "to = 2050", "the upper end of a level is not above its lower end",
              "more than"},
        Wrong{"value = -3", "value = -3000", "value = -3000", "survey.levels.value is out of range", "-500 to 500"},
        Wrong{"length = 1000", "length = 10", "length = 10", "survey.straightedges.length is out of range",
              "50 to 6000"},
        Wrong{"held = \"upright\"", "held = \"up\"", "held = \"up\"", "survey.straightedges.held is not one of",
              "level"},
        Wrong{"gap = \"2.5 +/- 0.5\"", "gap = -2.5", "gap = -2.5", "survey.straightedges.gap is out of range",
              "0 to 500"}));

TEST(SurveyReader, CollectsEveryFaultAtOnce) {
    std::string text = good();
    const auto swap = [&](const std::string& right, const std::string& wrong) {
        text.replace(text.find(right), right.size(), wrong);
    };
    swap("value = 1203", "value = 0");
    swap("\"left of left\"", "\"corner\"");
    swap("[600, 200, 61.5]", "600");
    swap("gap = ", "gab = ");
    Faults faults;
    (void)job_of(text, faults);
    EXPECT_EQ(faults.size(), 5u);  // the misspelt key counts as missing, too
}

TEST(SurveyReader, ASurveyNeedsReadings) {
    Faults faults;
    const std::string text = recess("[survey]\nunevenness = 3\n");
    (void)job_of(text, faults);
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_EQ(faults[0].says, "the survey has no readings");
    EXPECT_EQ(faults[0].where.line, line_of(text, "[survey]"));
}

TEST(SurveyReader, MissingPointsAreAFault) {
    std::string text = good();
    const auto from = text.find("points = [");
    text.erase(from, text.find("]\n[[survey.levels]]") + 2 - from);
    Faults faults;
    (void)job_of(text, faults);
    ASSERT_EQ(faults.size(), 1u) << to_string(faults.back());
    EXPECT_EQ(faults[0].says, "survey.offsets.points is missing");
    EXPECT_EQ(faults[0].where.line, line_of(text, "[[survey.offsets]]"));
}

// The corner of the last and the first wall exists in a closed recess only.
TEST(SurveyReader, ClosedRecessesHaveACornerMore) {
    const std::string rest =
        "[[walls]]\nid = \"front\"\nwidth = 1200\nheight = 2400\n"
        "[survey]\n[[survey.angles]]\ncorner = \"right of front\"\nvalue = 90\n";
    Faults open;
    (void)job_of(recess(rest), open);
    EXPECT_EQ(open.size(), 1u);
    Faults closed;
    const Job job = job_of(recess(rest, "closed = true\n"), closed);
    EXPECT_TRUE(closed.empty());
    EXPECT_TRUE(adjust_survey(job).converged);
}

}  // namespace
}  // namespace standproud
