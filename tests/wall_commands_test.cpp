// Commands on walls, layers, limits and joins: what they change, and that undo gives back every byte.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <random>

#include "modeler/files.hpp"
#include "support/opened.hpp"

namespace standproud::viewer {
namespace {

using standproud::testing::demo_jobs;
using standproud::testing::Folder;
using standproud::testing::Opened;
using standproud::testing::undo_all;

TEST(WallCommands, LayersOfTheJobAndOfAWall) {
    Opened opened;
    const std::string before = opened.document.text;
    EXPECT_EQ(layers_path(opened.document, 1), "layers");
    const double face = build_up(opened.document.job->model.job, opened.document.job->model.room, 1, 300, 1000);
    ASSERT_EQ(set_number(opened.document, layers_path(opened.document, 1) + "[0].thickness", 12.5), "");
    EXPECT_NE(opened.document.text.find("thickness = \"12.5 +/- 0.3\""), std::string::npos) << "its +/- stays";
    const Model& model = opened.document.job->model;
    EXPECT_NEAR(build_up(model.job, model.room, 1, 300, 1000), face + 3.5, 1e-9);
    EXPECT_NEAR(build_up(model.job, model.room, 0, 300, 1000), face + 3.5, 1e-9) << "all walls share these layers";
    undo_all(opened.document);
    EXPECT_EQ(opened.document.text, before);

    Folder folder;
    const auto file = folder / "own.toml";
    std::string own = before;
    const std::string wall = "id = \"back\"\nwidth = 1500\nheight = 2400\nnext_angle = 90\n";
    ASSERT_NE(own.find(wall), own.npos);
    own.replace(own.find(wall), wall.size(),
                wall +
                    "layers = [{kind = \"board\", name = \"thick board\", thickness = \"15 +/- 0.3\"}, "
                    "{kind = \"bed\", name = \"bed\", thickness = 2}, {kind = \"panel\", name = \"panel\", thickness = "
                    "6}]\n");
    std::filesystem::copy(standproud::testing::models_folder() / "catalogue", folder.path() / "catalogue");
    write_whole(file, own);
    Document document = open_document(file);
    ASSERT_TRUE(document.job) << to_string(document.faults.front());
    EXPECT_EQ(layers_path(document, 1), "walls[1].layers");
    EXPECT_EQ(layers_path(document, 0), "layers");
    ASSERT_EQ(set_number(document, "walls[1].layers[0].thickness", 10), "");
    EXPECT_NE(document.text.find("thickness = \"10 +/- 0.3\"}, {kind = \"bed\""), std::string::npos);
    undo_all(document);
    EXPECT_EQ(document.text, own);
}

TEST(WallCommands, JoinsInLinesOfTheirOwn) {
    Opened opened;
    Document& document = opened.document;
    const std::string before = document.text;
    ASSERT_EQ(document.job->model.job.walls[1].joins.size(), 1u);
    ASSERT_EQ(move_join(document, 1, 0, 900), "");
    ASSERT_EQ(move_join(document, 1, 0, 910), "");
    EXPECT_EQ(document.done.size(), 1u) << "a run of moves is one step";
    EXPECT_EQ(undo_name(document), "move join 1 of back");
    std::string expected = before;
    expected.replace(expected.find("across = 856"), 12, "across = 910");
    EXPECT_EQ(document.text, expected);
    // A second one goes behind the first, before the wall that follows.
    ASSERT_EQ(add_join(document, 1, 300, "left bare"), "");
    ASSERT_TRUE(document.faults.empty()) << to_string(document.faults.front());
    ASSERT_EQ(document.job->model.job.walls[1].joins.size(), 2u);
    EXPECT_EQ(document.job->model.job.walls[1].joins[1].distance, 300);
    EXPECT_TRUE(document.job->model.job.walls[0].joins.empty());
    const auto panels = [&] {
        std::size_t count = 0;
        for (const auto& panel : document.job->model.panels) count += panel.wall == 1 ? 1 : 0;
        return count;
    };
    EXPECT_EQ(panels(), 3u);
    ASSERT_EQ(remove_join(document, 1, 0), "");
    ASSERT_TRUE(document.faults.empty()) << to_string(document.faults.front());
    EXPECT_EQ(panels(), 2u);
    EXPECT_EQ(document.job->model.job.walls[1].joins[0].distance, 300);
    // On a wall that has none, between its framing and the next wall.
    ASSERT_EQ(add_join(document, 0, 450, "left bare"), "");
    ASSERT_TRUE(document.faults.empty()) << to_string(document.faults.front());
    EXPECT_EQ(document.job->model.job.walls[0].joins.size(), 1u);
    EXPECT_EQ(document.job->model.job.walls[1].joins.size(), 1u);
    EXPECT_NE(remove_join(document, 0, 1), "");
    EXPECT_NE(add_join(document, 7, 0, "centre"), "");
    EXPECT_NE(move_join(document, 2, 0, 5), "");
    EXPECT_NE(move_join(document, 1, 0, std::nan("")), "");
    undo_all(document);
    EXPECT_EQ(document.text, before);
}

TEST(WallCommands, JoinsInBrackets) {
    Opened opened;
    Folder folder;
    std::string text = opened.document.text;
    const auto lines = text.find("[[walls.joins]]");
    const std::string first = "from = \"left finished\"\n";
    text.replace(lines, text.find(first, lines) + first.size() - lines, "");
    const std::string next = "next_angle = 90\n";
    const auto back = text.find(next, text.find("id = \"back\""));
    text.insert(back + next.size(), "joins = [{across = 500, from = \"left bare\"}]\n");
    std::filesystem::copy(standproud::testing::models_folder() / "catalogue", folder.path() / "catalogue");
    write_whole(folder / "job.toml", text);
    Document document = open_document(folder / "job.toml");
    ASSERT_TRUE(document.job) << to_string(document.faults.front());
    ASSERT_EQ(add_join(document, 1, 1000, "left bare"), "");
    EXPECT_NE(document.text.find("[{across = 500, from = \"left bare\"}, {across = 1000, from = \"left bare\"}]"),
              std::string::npos);
    ASSERT_EQ(remove_join(document, 1, 0), "");
    EXPECT_NE(document.text.find("joins = [{across = 1000, from = \"left bare\"}]"), std::string::npos);
    ASSERT_EQ(remove_join(document, 1, 0), "");
    EXPECT_NE(document.text.find("joins = []"), std::string::npos);
    ASSERT_EQ(add_join(document, 1, 7, "centre"), "");
    ASSERT_TRUE(document.faults.empty()) << to_string(document.faults.front());
    EXPECT_EQ(document.job->model.job.walls[1].joins.at(0).distance, 7);
    undo_all(document);
    EXPECT_EQ(document.text, text);
}

/// Every limit of every demo can be set within its range and put back, and the reader takes it.
TEST(WallCommands, EveryLimitIsSetAndPutBack) {
    for (const auto& name : demo_jobs()) {
        Opened opened(name);
        Document& document = opened.document;
        ASSERT_TRUE(document.job) << name;
        const std::string before = document.text;
        const auto limits = document.job->limits;
        ASSERT_GT(limits.size(), 20u);
        for (const auto& [key, limit] : limits) {
            SCOPED_TRACE(name + " " + key);
            ASSERT_EQ(set_number(document, "limits." + key, (limit.least + limit.most) / 2), "");
            ASSERT_TRUE(document.faults.empty()) << to_string(document.faults.front());
            EXPECT_EQ(document.job->limits.at(key).value, (limit.least + limit.most) / 2);
            EXPECT_TRUE(document.job->limits.at(key).overridden);
            ASSERT_EQ(remove_value(document, "limits." + key), "");
            EXPECT_EQ(document.job->limits.at(key).value, limit.standard);
            undo_all(document);
            ASSERT_EQ(document.text, before);
        }
    }
}

/// Random changes of walls, layers, joins, packing: undone to the byte, done again to the byte.
TEST(WallCommands, RandomSequencesUndoToTheByte) {
    const unsigned seed = 90125;
    RecordProperty("seed", static_cast<int>(seed));
    std::mt19937 random(seed);
    const auto below = [&](std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(random); };
    int taken = 0;
    for (const auto& name : demo_jobs()) {
        SCOPED_TRACE(fmt::format("seed {}, {}", seed, name));
        Opened opened(name);
        Document& document = opened.document;
        const std::string first = document.text;
        std::vector<std::string> texts{first};
        for (int step = 0; step < 30; ++step) {
            const std::size_t w = below(document.job->model.job.walls.size());
            const std::size_t joins = document.job->model.job.walls[w].joins.size();
            const double number = static_cast<double>(below(500)) + 0.5;
            Refusal refusal;
            switch (below(7)) {
                case 0:
                    refusal = set_number(document, fmt::format("walls[{}].width", w), 700 + number);
                    break;
                case 1:
                    refusal = set_number(document, layers_path(document, w) + "[0].thickness", number / 20);
                    break;
                case 2:
                    refusal = add_join(document, w, number, "left bare");
                    break;
                case 3:
                    refusal = remove_join(document, w, joins == 0 ? 0 : below(joins));
                    break;
                case 4:
                    refusal = move_join(document, w, 0, number);
                    break;
                case 5:
                    refusal = set_value(document, "panels.bedding", below(2) ? "\"plane\"" : "\"follow\"");
                    break;
                case 6:
                    if (undo(document)) {
                        texts.pop_back();
                        ASSERT_EQ(document.text, texts.back());
                    }
                    continue;
            }
            if (!refusal.empty() || document.text == texts.back()) continue;
            ++taken;
            // A run of moves of one join is one step.
            if (document.done.size() + 1 == texts.size()) {
                texts.back() = document.text;
            } else {
                texts.push_back(document.text);
            }
            ASSERT_EQ(document.done.size() + 1, texts.size());
        }
        const std::string last = document.text;
        const std::size_t steps = document.done.size();
        undo_all(document);
        ASSERT_EQ(document.text, first);
        while (document.done.size() < steps) ASSERT_TRUE(redo(document));
        ASSERT_EQ(document.text, last);
    }
    EXPECT_GT(taken, 50);
}

}  // namespace
}  // namespace standproud::viewer
