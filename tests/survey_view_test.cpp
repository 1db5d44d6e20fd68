// What the window shows of a survey, of an earlier file, and of a new job: as plain values.
#include "viewer/survey_view.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "modeler/files.hpp"
#include "support/opened.hpp"
#include "viewer/earlier.hpp"
#include "viewer/new_job.hpp"

namespace standproud::viewer {
namespace {

using standproud::testing::Folder;
using standproud::testing::Opened;

TEST(SurveyView, TheGridIsTheFace) {
    Opened opened("old-stable.toml");
    const CheckedJob& job = *opened.document.job;
    ASSERT_TRUE(job.model.survey);
    int packed = 0;
    for (std::size_t w = 0; w < job.model.room.walls.size(); ++w) {
        const FaceGrid grid = face_grid(job, w, 100);
        ASSERT_EQ(grid.nodes.size(), grid.columns * grid.rows);
        const Wall& wall = job.model.job.walls[w];
        EXPECT_LE(wall.height / static_cast<double>(grid.rows - 1), 100);
        EXPECT_NEAR(grid.nodes.back().v, wall.height, 1e-9);
        for (const auto& node : grid.nodes) {
            EXPECT_EQ(node.n, job.model.room.faces[w].bare.at(node.u, node.v).n);
            if (!node.packing) continue;
            ++packed;
            // Closed form: the panel's back less the face, less everything between that is not packing.
            const auto& layers = wall.layers;
            double between = 0;
            for (const auto& layer : layers) between += layer.kind == LayerKind::panel ? 0 : layer.thickness.value;
            const double back = job.model.room.faces[w].bedding->back.at(node.u, node.v);
            EXPECT_NEAR(*node.packing, back - node.n - between, 1e-9);
        }
    }
    EXPECT_GT(packed, 100);
    // The greatest packing that the survey says lies within what the grid's colours span.
    std::vector<FaceGrid> grids;
    for (std::size_t w = 0; w < 3; ++w) grids.push_back(face_grid(job, w, 50));
    const auto ends = figures_between(grids, true);
    EXPECT_LT(ends[0], ends[1]);
    double greatest = 0;
    for (const auto& face : job.model.room.faces) greatest = std::max(greatest, face.bedding->greatest_packing);
    EXPECT_GT(ends[1], 0.7 * greatest);
}

TEST(SurveyView, ReadingsStandWhereTheyWereTaken) {
    Opened opened("old-stable.toml");
    const CheckedJob& job = *opened.document.job;
    const auto marks = reading_marks(job);
    std::set<std::size_t> marked;
    std::size_t spots = 0;
    std::size_t blunders = 0;
    for (const auto& mark : marks) {
        EXPECT_TRUE(marked.insert(mark.reading).second)
            << "marked twice: " << job.model.survey->readings[mark.reading].name;
        blunders += mark.suspect ? 1 : 0;
        for (const auto& set : job.model.job.survey->offsets) {
            for (const auto& point : set.points) {
                spots +=
                    point.u == mark.u && point.v == mark.v && set.wall == job.model.job.walls[mark.wall].id ? 1 : 0;
            }
        }
    }
    EXPECT_EQ(blunders, job.model.survey->suspects.size());
    EXPECT_GT(blunders, 0u) << "the demo has a wrong width";
    EXPECT_GE(spots, 50u) << "15, 20 and 15 spots were read with the laser";
    // The three diagonals through the room stand on no wall.
    EXPECT_EQ(marks.size() + job.model.job.survey->diagonals.size(), job.model.survey->readings.size());
}

TEST(SurveyView, ABlunderIsMarked) {
    Opened opened("old-stable.toml");
    const auto& widths = opened.document.job->model.job.survey->widths;
    std::size_t which = widths.size();
    for (std::size_t i = 0; i < widths.size(); ++i)
        which = widths[i].wall == "back" && widths[i].height == 1200 ? i : which;
    ASSERT_LT(which, widths.size());
    ASSERT_EQ(set_number(opened.document, fmt::format("survey.widths[{}].value", which), 1586), "");  // one 5 for a 4
    ASSERT_TRUE(opened.document.faults.empty());
    const CheckedJob& job = *opened.document.job;
    bool wrong = false;
    int suspects = 0;
    for (const auto& mark : reading_marks(job)) {
        suspects += mark.suspect ? 1 : 0;
        wrong = mark.words == "1586" ? mark.suspect : wrong;
    }
    EXPECT_GE(suspects, 1);
    EXPECT_TRUE(wrong);
    EXPECT_FALSE(suspicion(*job.model.survey, job.model.survey->suspects.at(0).reading).empty());
}

TEST(SurveyView, NoSurveyNoMarks) {
    Opened opened;
    EXPECT_TRUE(reading_marks(*opened.document.job).empty());
}

double lightness(Colour c) { return 0.2126 * c.red + 0.7152 * c.green + 0.0722 * c.blue; }

TEST(SurveyView, TheMapRisesInLightness) {
    double before = -1;
    for (int i = 0; i <= 100; ++i) {
        const double now = lightness(cividis(i / 100.0));
        EXPECT_GT(now, before) << i;
        before = now;
    }
    EXPECT_EQ(cividis(-3).blue, cividis(0).blue);
    EXPECT_EQ(cividis(9).red, 254);
    // Published: matplotlib 3.6, _cm_listed.py, entries 0, 64, 128, 192 and 255 of 256, as bytes.
    struct Entry {
        double share;
        int red, green, blue;
    };
    for (const auto& [share, red, green, blue] :
         {Entry{0, 0, 34, 78}, Entry{64.0 / 255, 67, 78, 108}, Entry{128.0 / 255, 125, 124, 120},
          Entry{192.0 / 255, 188, 174, 108}, Entry{1, 254, 232, 56}}) {
        EXPECT_NEAR(cividis(share).red, red, 2) << share;
        EXPECT_NEAR(cividis(share).green, green, 2) << share;
        EXPECT_NEAR(cividis(share).blue, blue, 2) << share;
    }
}

TEST(EarlierFile, WhatMovedAndWhichVerdictsChanged) {
    Opened opened;
    const auto before = opened.folder / "before.toml";
    std::filesystem::copy_file(opened.document.file, before);
    ASSERT_EQ(move_fitting(opened.document, "cold-tap", 140, 1060), "");
    ASSERT_EQ(set_number(opened.document, "fittings[1].seat", -7), "");
    std::string why;
    const auto earlier = open_earlier(before, why);
    ASSERT_TRUE(earlier) << why;
    const auto changes = changes_since(*earlier, opened.document);
    ASSERT_EQ(changes.fittings.size(), 1u);
    // Closed form: 140 - 100 to the right, 1080 - 1060 down, -7 against -14.
    EXPECT_EQ(moved_words(changes.fittings[0]),
              "40 mm to the right; 20 mm down; seat was 14 mm behind the bare face, is 7 mm behind the bare face (7 mm "
              "further out)");
    EXPECT_FALSE(changes.verdicts.empty());
    const auto ghosts = old_places(*earlier, changes);
    EXPECT_FALSE(ghosts.empty());
    for (const auto& part : ghosts) EXPECT_EQ(part.fitting, "cold-tap");
    const auto moved = shifts(*earlier, opened.document, changes);
    ASSERT_EQ(moved.size(), 1u);
    EXPECT_NEAR(norm(moved[0].to - moved[0].from), std::hypot(40, 20), 1e-9);
    // And nothing once it is put back.
    standproud::testing::undo_all(opened.document);
    const auto none = changes_since(*earlier, opened.document);
    EXPECT_TRUE(none.fittings.empty() && none.verdicts.empty());
    EXPECT_TRUE(old_places(*earlier, none).empty());
}

TEST(EarlierFile, FaultsAreSaid) {
    Opened opened;
    std::string why;
    EXPECT_FALSE(open_earlier(opened.folder / "none.toml", why));
    EXPECT_NE(why.find("none.toml"), std::string::npos);
    write_whole(opened.folder / "bad.toml", opened.document.text + "\nacross = 1,5\n");
    EXPECT_FALSE(open_earlier(opened.folder / "bad.toml", why));
    EXPECT_NE(why.find("bad.toml"), std::string::npos);
}

/// Every shape with every pair of fittings is a good job, with findings for each fitting.
TEST(NewJobFile, EveryAnswerGivesAGoodFile) {
    Folder folder;
    int files = 0;
    for (const int walls : {1, 2, 3}) {
        for (const auto& [first, says] : fitting_kinds()) {
            for (const auto& [second, too] : fitting_kinds()) {
                NewJob job;
                job.name = "Hall \"shower\"";
                job.walls = walls;
                job.board = 12.5;
                job.fittings = {{first, false, "back", 600, 1050},
                                {second, false, walls > 1 ? "right" : "back", 450, 1900}};
                ASSERT_EQ(refused_answers(job), "");
                const auto file = folder / fmt::format("{}.toml", files++);
                write_whole(file, new_job_text(job));
                const Document document = open_document(file);
                ASSERT_TRUE(document.job) << to_string(document.faults.front());
                const Model& model = document.job->model;
                EXPECT_EQ(model.job.name, job.name);
                EXPECT_EQ(model.job.walls.size(), static_cast<std::size_t>(walls));
                ASSERT_EQ(model.fittings.size(), 2u);
                EXPECT_EQ(model.fittings[0].u, 600);
                // Closed form: 12.5 + 2 + 6.
                EXPECT_NEAR(build_up(model.job, model.room, model.fittings[0].wall, 300, 1000), 20.5, 1e-9);
                for (const auto& fitting : model.job.fittings) {
                    bool unknown = false;
                    for (const auto& finding : document.job->findings) {
                        unknown =
                            unknown || (finding.subject == fitting.id && finding.verdict == rules::Verdict::unknown);
                    }
                    EXPECT_TRUE(unknown) << fitting.id << ": its seat is not known yet";
                }
            }
        }
    }
    EXPECT_EQ(files, 27);
}

TEST(NewJobFile, FromACatalogue) {
    Opened opened;
    const auto types = catalogue_types(*opened.document.job);
    ASSERT_GT(types.size(), 5u);
    NewJob job;
    job.catalogues = catalogues_of(*opened.document.job);
    EXPECT_EQ(job.catalogues.size(), 5u) << "as the job names them";
    job.fittings = {{"wall-tap", true, "back", 500, 1050}, {"rose", false, "back", 600, 2000}};
    ASSERT_EQ(refused_answers(job), "");
    // Beside the catalogues' folder, and elsewhere.
    std::filesystem::create_directories(opened.folder / "elsewhere");
    for (const auto& file : {opened.folder / "new.toml", opened.folder / "elsewhere" / "new.toml"}) {
        write_whole(file, new_job_text(job, file.parent_path()));
        const Document document = open_document(file);
        ASSERT_TRUE(document.job) << to_string(document.faults.front());
        EXPECT_EQ(type_of(document.job->model, document.job->model.fittings[0]).id, "wall-tap");
        EXPECT_FALSE(document.job->model.job.stock.empty()) << "so that extensions are offered";
        EXPECT_NE(document.text.find(file.parent_path().filename() == "elsewhere" ? "\"../catalogue/taps.toml\""
                                                                                  : "\"catalogue/taps.toml\""),
                  std::string::npos);
    }
}

TEST(NewJobFile, RefusesWithTheRange) {
    NewJob job;
    EXPECT_EQ(refused_answers(job), "");
    job.back = 99.99;
    EXPECT_EQ(refused_answers(job), "width of wall back: 100 to 20000 mm, not 99.99");
    job.back = 100;
    EXPECT_EQ(refused_answers(job), "");
    job.height = std::nan("");
    EXPECT_NE(refused_answers(job), "");
    job = {};
    job.fittings = {{"tap", false, "left", 79.99, 1000}};
    EXPECT_EQ(refused_answers(job), "tap, across: 80 to 820 mm, not 79.99");
    job.walls = 2;
    EXPECT_EQ(refused_answers(job), "there is no wall \"left\"");
    job.fittings = {{"kettle", false, "back", 500, 1000}};
    EXPECT_NE(refused_answers(job), "");
}

}  // namespace
}  // namespace standproud::viewer
