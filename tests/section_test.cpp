// The level section: what it shows, that it is true to scale, and that nothing on the sheet overlaps.
#include <cairo.h>
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>
#include <set>

#include "drawing/section_panes.hpp"
#include "modeler/clean_text.hpp"
#include "section_sheets.hpp"
#include "support/drawn_sheet.hpp"
#include "support/rounds.hpp"

namespace standproud {

namespace {

using hand_made::every_fitting;
using hand_made::HandMade;
using testing::described;
using viewer::Rect;
using viewer::SectionDrawing;
using viewer::Sheet;

struct Drawn : testing::DrawnSheet {
    explicit Drawn(const SectionDrawing& drawing)
        : DrawnSheet([&](Sheet& sheet) { viewer::draw_section_on(sheet, drawing); }) {}
};

/// Faults of a sheet's layout: text off the sheet's frame, text on text, line through text.
std::vector<std::string> layout_faults(const Sheet& sheet) {
    std::vector<std::string> faults;
    const auto& texts = sheet.texts();
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const Rect& box = texts[i].box;
        if (!(box.x >= 8 && box.y >= 8 && box.right() <= 289.02 && box.bottom() <= 202.02)) {
            faults.push_back("off the sheet: " + described(texts[i]));
        }
        for (std::size_t j = i + 1; j < texts.size(); ++j) {
            if (viewer::overlap(box, texts[j].box)) {
                faults.push_back(described(texts[i]) + " overlaps " + described(texts[j]));
            }
        }
        for (const auto& line : sheet.lines()) {
            if (viewer::crosses(box, line.from, line.to)) {
                faults.push_back(fmt::format("{} crossed by a line from {:.2f}, {:.2f} to {:.2f}, {:.2f}",
                                             described(texts[i]), line.from.x, line.from.y, line.to.x, line.to.y));
            }
        }
    }
    for (const auto& line : sheet.lines()) {
        for (const Vec2 end : {line.from, line.to}) {
            if (end.x < 7.99 || end.y < 7.99 || end.x > 289.01 || end.y > 202.01) {
                faults.push_back(fmt::format("a line leaves the frame at {:.2f}, {:.2f}", end.x, end.y));
            }
        }
    }
    return faults;
}

double stated_scale(const Sheet& sheet) {
    for (const auto& text : sheet.texts()) {
        if (text.text.rfind("1:", 0) == 0) return std::stod(text.text.substr(2));
    }
    ADD_FAILURE() << "no scale on the sheet";
    return 0;
}

}  // namespace

// --- what is shown ------------------------------------------------------------------------------------------

// Closed form: F = 9 + 1 + 3 + 6 = 19; the hole of diameter 32 at u = 400 splits each layer at 384 and 416; the
// stud of width 45 at 450 lies at 427.5 to 472.5, 90 deep; the spindle runs from -28 to -28 + 55 = 27.
TEST(SectionData, PiecesAndFaceMatchClosedForms) {
    const HandMade made;
    const SectionDrawing drawing = made.drawing("hot");
    EXPECT_DOUBLE_EQ(drawing.face, 19);
    EXPECT_DOUBLE_EQ(drawing.u, 400);
    EXPECT_DOUBLE_EQ(drawing.v, 1100);
    ASSERT_TRUE(drawing.seat.has_value());
    EXPECT_DOUBLE_EQ(*drawing.seat, -28);
    ASSERT_EQ(drawing.layers.size(), 4U);
    EXPECT_DOUBLE_EQ(drawing.layers.back().to, 19);

    bool left_of_hole = false;
    bool right_of_hole = false;
    bool stud = false;
    bool spindle = false;
    for (const auto& piece : drawing.pieces) {
        const auto e = extent(piece.outline);
        if (piece.layer == "panel" && std::abs(e[1] - 384) < 1e-9) left_of_hole = e[2] == 13 && e[3] == 19;
        if (piece.layer == "panel" && std::abs(e[0] - 416) < 1e-9) right_of_hole = e[2] == 13 && e[3] == 19;
        if (piece.name == "stud at 450") stud = e == std::array<double, 4>{427.5, 472.5, -90, 0};
        if (piece.layer == "spindle" && piece.of_fitting) spindle = e == std::array<double, 4>{395, 405, -28, 27};
    }
    EXPECT_TRUE(left_of_hole);
    EXPECT_TRUE(right_of_hole);
    EXPECT_TRUE(stud);
    EXPECT_TRUE(spindle);
}

// Closed form: the finished corners stand in by F = 19 of the walls beside.
TEST(SectionData, PositionNamesBareAndFinishedCorners) {
    const HandMade made;
    const std::string position = made.drawing("hot").position;
    for (const char* words : {"400.0 bare", "381.0 finished", "800.0 bare", "781.0 finished", "height 1100.0"}) {
        EXPECT_NE(position.find(words), std::string::npos) << words << " in " << position;
    }
    EXPECT_NE(made.drawing("outlet").position.find("no finished corner"), std::string::npos);
}

TEST(SectionData, OnlyTheFittingsOwnFindingsWorstFirst) {
    const HandMade made;
    for (const char* id : every_fitting) {
        const SectionDrawing drawing = made.drawing(id);
        ASSERT_FALSE(drawing.findings.empty()) << id;
        for (std::size_t i = 0; i < drawing.findings.size(); ++i) {
            EXPECT_EQ(drawing.findings[i].subject, id);
            if (i == 0) continue;
            EXPECT_GE(severity(drawing.findings[i - 1].verdict), severity(drawing.findings[i].verdict));
        }
        std::size_t own = 0;
        for (const auto& piece : drawing.pieces) own += piece.of_fitting ? 1 : 0;
        EXPECT_GT(own, 0U) << id;
    }
}

// Closed form, the formulas of each family. Spindle: 27 - 19 = 8 proud, out of the face. Window: 19 + 56 = 75
// behind the face, at the seat. Thread: tail end at 19 - 40 = -21, so 7 behind the mouth at -14. Screw: end at
// 19 + 5 - 70 = -46 behind the noggin's face at 0. Plate: front at 14, 5 behind the face.
TEST(SectionData, TheJudgedLineEndsWhereTheFittingDoes) {
    const HandMade made;
    const auto end_of = [&](const char* id) {
        const SectionDrawing drawing = made.drawing(id);
        if (!drawing.judged) return std::numeric_limits<double>::quiet_NaN();
        return drawing.judged->from +
               drawing.judged->direction * drawing.findings[drawing.judged->finding].nominal.value();
    };
    EXPECT_NEAR(end_of("hot"), 27, 1e-9);
    EXPECT_NEAR(end_of("mixer"), -56, 1e-9);
    EXPECT_NEAR(end_of("spout"), -21, 1e-9);
    EXPECT_NEAR(end_of("rail"), -46, 1e-9);
    EXPECT_NEAR(end_of("outlet"), 14, 1e-9);
    EXPECT_FALSE(made.drawing("unset").judged.has_value());
}

// Closed form: the screws of an upright rail lie 150 above and below it. With a noggin at the lower ones only,
// the upper screw has nothing behind it and is the one to show; with timber standing 20 back there, it holds
// 46 - 20 = 26 of the 35 needed.
TEST(SectionData, TheCutGoesThroughTheJudgedScrew) {
    Job job = hand_made::job();
    auto& type = job.types[3];
    ASSERT_EQ(type.id, "rail");
    type.holes = {{RoundedRect::circle({0, -150}, 8), RoundedRect::circle({0, -150}, 5), {}},
                  {RoundedRect::circle({0, 150}, 8), RoundedRect::circle({0, 150}, 5), {}}};
    job.walls[1].noggins.push_back({0, 1200, 550, 90, 45, 0, {}});
    const HandMade unsupported(job);
    EXPECT_DOUBLE_EQ(unsupported.drawing("rail").v, 850);
    EXPECT_FALSE(unsupported.drawing("rail").judged.has_value());
    job.walls[1].noggins.push_back({0, 1200, 850, 90, 45, 20, {}});
    const HandMade both(job);
    EXPECT_DOUBLE_EQ(both.drawing("rail").v, 850);
    EXPECT_DOUBLE_EQ(both.drawing("rail").judged.value().from, -20);
    EXPECT_TRUE(both.drawing("rail").one_of_several);
    EXPECT_TRUE(Drawn(both.drawing("rail")).says("850.0 above datum, through the screw judged"));
    const HandMade plain;
    EXPECT_DOUBLE_EQ(plain.drawing("rail").v, 700);
    EXPECT_FALSE(plain.drawing("rail").one_of_several);
}

TEST(SectionData, WithoutASeatOnlyWhatHangsOnTheFaceIsShown) {
    const HandMade made;
    const SectionDrawing drawing = made.drawing("unset");
    EXPECT_FALSE(drawing.seat.has_value());
    std::set<std::string> layers;
    for (const auto& piece : drawing.pieces) {
        if (piece.of_fitting) layers.insert(piece.layer);
    }
    EXPECT_EQ(layers, (std::set<std::string>{"flange", "handle"}));
}

// --- the scale ----------------------------------------------------------------------------------------------

// Closed form: a dimension's length on paper times the stated scale is the length it gives.
TEST(SectionSheet, DimensionsAreTrueToScale) {
    const HandMade made;
    for (const char* id : every_fitting) {
        const Drawn drawn(made.drawing(id));
        const double scale = stated_scale(drawn.sheet());
        EXPECT_TRUE(scale == 1 || scale == 2 || scale == 5 || scale == 10) << scale;
        ASSERT_FALSE(drawn.sheet().dimensions().empty()) << id;
        for (const auto& dimension : drawn.sheet().dimensions()) {
            EXPECT_NEAR(norm(dimension.to - dimension.from) * scale, std::abs(dimension.value), 1e-6) << id;
        }
    }
}

TEST(SectionSheet, ShowsFaceSeatAndJudgedQuantityAsDimensions) {
    const HandMade made;
    std::multiset<double> values;
    const Drawn drawn(made.drawing("hot"));
    for (const auto& dimension : drawn.sheet().dimensions()) values.insert(std::round(dimension.value * 1e6) / 1e6);
    EXPECT_EQ(values, (std::multiset<double>{8, 19, 28}));
}

// Closed form: the next larger scale would not hold what must be seen.
TEST(SectionSheet, TheScaleIsTheLargestThatFits) {
    const Rect room{0, 0, 88, 136};
    const auto scale_for = [&](double half_width) {
        SectionDrawing drawing;
        drawing.face = 19;
        drawing.u = 500;
        drawing.pieces.push_back(
            {"body",
             "body",
             true,
             {{{500 - half_width, -30}, {500 + half_width, -30}, {500 + half_width, 40}, {500 - half_width, 40}}}});
        return viewer::choose_view(drawing, room);
    };
    // 4 mm of paper stay free on either side: 80 mm of paper.
    EXPECT_EQ(scale_for(40).scale, 1);
    EXPECT_EQ(scale_for(40.01).scale, 2);
    EXPECT_EQ(scale_for(80).scale, 2);
    EXPECT_EQ(scale_for(80.01).scale, 5);
    EXPECT_EQ(scale_for(200.01).scale, 10);
    EXPECT_EQ(scale_for(400).scale, 10);
    EXPECT_FALSE(scale_for(400).cropped);
    EXPECT_TRUE(scale_for(400.01).cropped);
}

// Closed form: the window maps its corners to its corners on paper, and n = 0 lies behind F.
TEST(SectionSheet, TheWindowIsAPlanWithTheRoomBelow) {
    const HandMade made;
    const auto view = viewer::choose_view(made.drawing("hot"), {40, 22, 88, 136});
    EXPECT_NEAR(view.x(view.left), view.paper.x, 1e-9);
    EXPECT_NEAR(view.x(view.right()), view.paper.right(), 1e-9);
    EXPECT_NEAR(view.y(view.back), view.paper.y, 1e-9);
    EXPECT_NEAR(view.y(view.front()), view.paper.bottom(), 1e-9);
    EXPECT_LT(view.y(0), view.y(19));
    EXPECT_LT(view.x(399), view.x(401));
}

// --- the layout ---------------------------------------------------------------------------------------------

// The checks that the layout tests stand on, by closed forms: a hair's contact is none, a real overlap is one.
TEST(SectionSheet, OverlapAndCrossingAreFound) {
    const Rect box{10, 10, 20, 5};
    EXPECT_FALSE(viewer::overlap(box, {30, 10, 5, 5}));
    EXPECT_TRUE(viewer::overlap(box, {29.9, 14.9, 5, 5}));
    EXPECT_TRUE(viewer::overlap(box, {12, 11, 1, 1}));
    EXPECT_FALSE(viewer::crosses(box, {0, 15}, {50, 15}));
    EXPECT_TRUE(viewer::crosses(box, {0, 14.9}, {50, 14.9}));
    EXPECT_TRUE(viewer::crosses(box, {20, 0}, {20, 11}));
    EXPECT_FALSE(viewer::crosses(box, {20, 0}, {20, 9}));
    EXPECT_TRUE(viewer::crosses(box, {9, 12}, {12, 9}));   // over the corner: x + y = 21 > 20
    EXPECT_FALSE(viewer::crosses(box, {9, 10}, {10, 9}));  // short of it: x + y = 19
}

TEST(SectionSheet, LayoutFaultsAreFoundOnABadSheet) {
    const Drawn drawn(HandMade().drawing("hot"));
    Sheet bad = drawn.sheet();
    ASSERT_TRUE(layout_faults(bad).empty());
    bad.text("on top of the findings", {180, 70, 60, 5});
    EXPECT_FALSE(layout_faults(bad).empty());
    Sheet crossed = drawn.sheet();
    crossed.line({180, 60}, {280, 110}, 0.2);
    EXPECT_FALSE(layout_faults(crossed).empty());
}

TEST(SectionSheet, NothingOverlapsOnPlainSheets) {
    const HandMade made;
    for (const char* id : every_fitting) {
        const Drawn drawn(made.drawing(id));
        EXPECT_GT(drawn.sheet().texts().size(), 40U) << id;
        for (const auto& fault : layout_faults(drawn.sheet())) ADD_FAILURE() << id << ": " << fault;
    }
}

namespace {

std::string random_words(std::mt19937& random, std::size_t most) {
    static const std::vector<std::string> pieces{"a",
                                                 "spindle ",
                                                 "W",
                                                 "°",
                                                 "Größe ",
                                                 "ø",
                                                 "№",
                                                 "水栓",
                                                 "صنبور ",
                                                 "कल ",
                                                 "\n",
                                                 "<&>\"'",
                                                 "x\xff\xfe",
                                                 "🚿",
                                                 "a\u0301\u0302\u0303\u0304\u0305\u0306\u0307",
                                                 "extraordinarily-long-name-without-a-break-",
                                                 " ",
                                                 "12.5 mm ",
                                                 "\t",
                                                 "{}%s ",
                                                 "ß"};
    std::uniform_int_distribution<std::size_t> pick(0, pieces.size() - 1);
    std::uniform_int_distribution<std::size_t> count(0, most);
    std::string words;
    for (std::size_t n = count(random); n > 0; --n) words += pieces[pick(random)];
    return words;
}

std::optional<double> random_number(std::mt19937& random, double size) {
    std::uniform_int_distribution<int> kind(0, 9);
    std::uniform_real_distribution<double> value(-size, size);
    switch (kind(random)) {
        case 0:
            return std::nullopt;
        case 1:
            return 0.0;
        case 2:
            return 1e9 * value(random);
        default:
            return value(random);
    }
}

rules::Finding random_finding(std::mt19937& random, bool reach) {
    rules::Finding finding;
    finding.rule = reach ? "reach.spindle" : "hole." + random_words(random, 4);
    finding.verdict = static_cast<rules::Verdict>(std::uniform_int_distribution<int>(0, 3)(random));
    finding.quantity = random_words(random, 12);
    for (auto* number : {&finding.nominal, &finding.low, &finding.high, &finding.worst_low, &finding.worst_high,
                         &finding.statistical_low, &finding.statistical_high, &finding.need_low, &finding.need_high}) {
        *number = random_number(random, 60);
    }
    finding.says = random_words(random, 40);
    finding.action = random_words(random, 40);
    finding.source = random_words(random, 30);
    for (int i = std::uniform_int_distribution<int>(0, 14)(random); i > 0; --i) {
        finding.terms.push_back(
            {random_words(random, 20), random_number(random, 90).value_or(0), random_number(random, 3), {}});
    }
    for (int i = std::uniform_int_distribution<int>(0, 3)(random); i > 0; --i) {
        finding.missing.push_back(random_words(random, 10));
    }
    return finding;
}

/// The section of a real fitting with everything that a job could make odd made odd. `layers` keeps what
/// the drawing points to.
SectionDrawing random_drawing(std::mt19937& random, const HandMade& made, std::vector<Layer>& layers) {
    const auto pick = std::uniform_int_distribution<std::size_t>(0, every_fitting.size() - 1)(random);
    SectionDrawing drawing = made.drawing(every_fitting[pick]);
    for (auto* words : {&drawing.title, &drawing.job, &drawing.wall, &drawing.position, &drawing.datum}) {
        *words = random_words(random, 60);
    }
    drawing.revision = random_words(random, 12);
    drawing.judged.reset();
    drawing.findings.clear();
    const int count = std::uniform_int_distribution<int>(0, 9)(random);
    for (int i = 0; i < count; ++i) drawing.findings.push_back(random_finding(random, i == 0));
    if (count > 0 && drawing.findings[0].nominal) {
        drawing.judged = viewer::JudgedLine{0, random_number(random, 40).value_or(0), count % 2 == 0 ? 1.0 : -1.0};
    }
    drawing.seat = random_number(random, 120);
    layers.clear();
    layers.resize(std::uniform_int_distribution<std::size_t>(0, 12)(random));
    drawing.layers.clear();
    double n = 0;
    for (auto& layer : layers) {
        layer.kind = static_cast<LayerKind>(std::uniform_int_distribution<int>(0, 3)(random));
        layer.name = random_words(random, 25);
        layer.thickness = hand_made::length(std::uniform_real_distribution<double>(0, 25)(random), 0.5);
        drawing.layers.push_back({layer.kind, layer.name, layer.thickness, layer.source, n, n + layer.thickness.value});
        n += layer.thickness.value;
    }
    drawing.face = n;
    const double grow = std::exp(std::uniform_real_distribution<double>(-1, 3)(random));
    for (auto& piece : drawing.pieces) {
        if (std::uniform_int_distribution<int>(0, 2)(random) == 0) piece.name = random_words(random, 30);
        if (!piece.of_fitting) continue;
        for (auto& p : piece.outline.points) p = {drawing.u + grow * (p.x - drawing.u), grow * p.y};
    }
    return drawing;
}

}  // namespace

// Property, over seeded random drawings: odd names in several scripts, missing and huge numbers, many layers.
TEST(SectionSheet, NothingOverlapsOnRandomSheets) {
    const HandMade made;
    const unsigned first = 20260;
    const unsigned sheets = testing::rounds(80, 25);
    int texts = 0;
    for (unsigned seed = first; seed < first + sheets && !::testing::Test::HasFailure(); ++seed) {
        std::mt19937 random(seed);
        std::vector<Layer> layers;
        const Drawn drawn(random_drawing(random, made, layers));
        texts += static_cast<int>(drawn.sheet().texts().size());
        for (const auto& fault : layout_faults(drawn.sheet())) ADD_FAILURE() << "seed " << seed << ": " << fault;
        const double scale = stated_scale(drawn.sheet());
        for (const auto& dimension : drawn.sheet().dimensions()) {
            EXPECT_NEAR(norm(dimension.to - dimension.from) * scale, std::abs(dimension.value), 1e-6)
                << "seed " << seed;
        }
    }
    EXPECT_GT(texts, static_cast<int>(sheets) * 20);
}

TEST(SectionSheet, FindingsThatDoNotFitAreCounted) {
    const HandMade made;
    SectionDrawing drawing = made.drawing("hot");
    const rules::Finding first = drawing.findings.front();
    drawing.findings.assign(40, first);
    for (std::size_t i = 0; i < drawing.findings.size(); ++i) drawing.findings[i].rule = fmt::format("rule.{}", i);
    const Drawn drawn(drawing);
    std::size_t shown = 0;
    for (std::size_t i = 0; i < drawing.findings.size(); ++i) {
        if (drawn.says(fmt::format("rule.{}:", i))) ++shown;
    }
    EXPECT_GT(shown, 2U);
    EXPECT_LT(shown, 40U);
    EXPECT_TRUE(drawn.says(fmt::format("and {} more in the report", 40 - shown)));
    EXPECT_TRUE(layout_faults(drawn.sheet()).empty());
}

// A long name is shrunk and wrapped whole, not cut: 90 letters still go into the title block.
TEST(SectionSheet, ANameOfNinetyLettersIsNotCutOff) {
    const HandMade made;
    SectionDrawing drawing = made.drawing("hot");
    drawing.title = "thermostatic shower mixer with two outlets and hand shower, behind the glass screen, left wall";
    ASSERT_GT(drawing.title.size(), 90U);
    const std::string text = hand_made::pdf_text(drawing);
    for (const char* word : {"thermostatic", "outlets", "screen,", "left"}) {
        EXPECT_NE(text.find(word), std::string::npos) << word;
    }
}

// The large word is the reach finding's; what is worse stands beside it.
TEST(SectionSheet, AWorseFindingIsNamedBesideTheVerdict) {
    const HandMade made;
    SectionDrawing drawing = made.drawing("mixer");
    EXPECT_FALSE(Drawn(drawing).says("but FAILS"));
    drawing.findings.insert(drawing.findings.begin(), drawing.findings.back());
    drawing.findings.front().rule = "hole.edge";
    drawing.findings.front().verdict = rules::Verdict::fails;
    ++drawing.judged.value().finding;
    const Drawn drawn(drawing);
    EXPECT_TRUE(drawn.says("but FAILS: hole.edge"));
    EXPECT_TRUE(layout_faults(drawn.sheet()).empty());
}

// --- the arithmetic -----------------------------------------------------------------------------------------

// Closed form: -28 + 55 - 9 - 1 - 3 - 6 = 8, with 2 + 0.5 + 0.5 + 0.2 + 1 + 0.3 = 4.5.
TEST(SectionSheet, TheArithmeticAddsUpToTheNominal) {
    const Drawn drawn(HandMade().drawing("hot"));
    for (const char* words :
         {"\u221228.0", "+55.0", "\u22129.0", "\u22121.0", "\u22123.0", "\u22126.0", "8.0", "±4.5"}) {
        EXPECT_TRUE(drawn.says(words)) << words;
    }
}

TEST(SectionSheet, ASumThatLacksATermIsNotGivenAsTheQuantity) {
    const Drawn drawn(HandMade().drawing("unset"));
    EXPECT_TRUE(drawn.says("UNKNOWN"));
    EXPECT_TRUE(drawn.says("a number is missing"));
    EXPECT_FALSE(drawn.says("36.0"));  // 55 - 19: what the known terms come to
}

// Where a limit is missing, no strip beside the section may promise room up to the edge of the window.
TEST(SectionSheet, AnUnknownLimitIsNotDrawnAsAnOpenOne) {
    const HandMade made;
    SectionDrawing drawing = made.drawing("hot");
    const auto strips = [&] {
        const Drawn drawn(drawing);
        int count = -1;  // the gauge's own row
        for (const auto& text : drawn.sheet().texts()) count += text.text == "needed" ? 1 : 0;
        return count;
    };
    EXPECT_EQ(strips(), 1);
    auto& finding = drawing.findings[drawing.judged.value().finding];
    finding.need_high.reset();
    EXPECT_EQ(strips(), 1);
    finding.verdict = rules::Verdict::unknown;
    EXPECT_EQ(strips(), 0);
}

TEST(SectionSheet, LongSumsStillAddUp) {
    const HandMade made;
    SectionDrawing drawing = made.drawing("hot");
    auto& finding = drawing.findings[drawing.judged.value().finding];
    finding.terms.clear();
    for (int i = 1; i <= 12; ++i) finding.terms.push_back({fmt::format("term {}", i), 1.0 * i, 0.1, {}});
    finding.nominal = 78;  // 1 + 2 + ... + 12
    const Drawn drawn(drawing);
    EXPECT_TRUE(drawn.says("and 5 more terms together"));
    EXPECT_TRUE(drawn.says("+50.0"));  // 8 + 9 + 10 + 11 + 12
    EXPECT_TRUE(drawn.says("78.0"));
}

TEST(SectionSheet, NumbersForPeople) {
    EXPECT_EQ(viewer::number(-0.04), "0.0");
    EXPECT_EQ(viewer::number(-12.34), "\u221212.3");
    EXPECT_EQ(viewer::signed_number(5), "+5.0");
    EXPECT_EQ(viewer::number(std::numeric_limits<double>::quiet_NaN()), "?");
    EXPECT_EQ(clean_text("a\nb\xff"), "a b\uFFFD");
}

}  // namespace standproud
