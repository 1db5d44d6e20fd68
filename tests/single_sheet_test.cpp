// The single-sheet engine against published instances and their optima (data/guillotine/ORIGIN.md), and against brute
// force.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <random>

#include "modeler/nesting.hpp"

namespace standproud::nesting {
namespace {

enum class Format { unlimited, limited, demand_last };

SingleSheet read_instance(const std::string& name, Format format) {
    std::ifstream file(STANDPROUD_SOURCE_DIR "/tests/data/guillotine/" + name + ".txt");
    SingleSheet problem;
    int n = 0;
    file >> n >> problem.width >> problem.height;
    for (int i = 0; i < n; ++i) {
        Item item;
        int most = 0;
        if (format == Format::demand_last) {
            file >> item.value >> item.width >> item.height >> most;
        } else {
            file >> item.width >> item.height;
            if (format == Format::limited) file >> most;
            file >> item.value;
        }
        if (format != Format::unlimited) item.most = most;
        problem.items.push_back(item);
    }
    EXPECT_TRUE(file) << name;
    return problem;
}

/// The layout itself, by the independent checker: every placed item becomes a piece of its own.
void expect_sound(const SingleSheet& problem, const SheetValue& best) {
    std::vector<Piece> pieces;
    SheetLayout layout = best.layout;
    std::vector<int> times(problem.items.size(), 0);
    double value = 0;
    std::map<std::pair<double, double>, std::size_t> at;
    for (Placed& placed : layout.placed) {
        const Item& item = problem.items[placed.piece];
        value += item.value;
        ++times[placed.piece];
        at[{placed.at.x, placed.at.y}] = pieces.size();
        placed.piece = pieces.size();
        pieces.push_back({"item", item.width, item.height, item.turnable});
    }
    for (CutPart& part : layout.parts) {
        if (part.kind == CutPart::Kind::piece) part.piece = at[{part.at.x, part.at.y}];
    }
    EXPECT_NEAR(value, best.value, 1e-9 * std::max(1.0, value));
    for (std::size_t i = 0; i < times.size(); ++i) {
        EXPECT_LE(times[i], problem.items[i].most.value_or(times[i]));
    }
    NestingRules rules;
    rules.kerf = problem.kerf;
    rules.usable_side = 0.001;
    const std::vector<Stock> stock{{"sheet", problem.width, problem.height}};
    for (const auto& fault : check_layout(pieces, stock, rules, {layout})) ADD_FAILURE() << fault;
}

struct Published {
    const char* name;
    Format format;
    bool unlimited;
    bool turning;
    double optimum;
    const char* source;
};

// 2d_rectangular instances; optima recomputed for the project by full dynamic programmes and exact searches besides.
const Published published[] = {
    {"gcut1", Format::unlimited, true, false, 56460, "published: Cintra et al., University of Sao Paulo"},
    {"gcut2", Format::unlimited, true, false, 60536, "published: Cintra et al."},
    {"gcut3", Format::unlimited, true, false, 61036, "published: Cintra et al."},
    {"gcut4", Format::unlimited, true, false, 61698, "published: Cintra et al."},
    {"gcut13", Format::unlimited, true, false, 8997780, "published: Cintra et al."},
    {"gcut1", Format::unlimited, true, true, 58136, "published: Cintra et al."},
    {"gcut2", Format::unlimited, true, true, 60611, "published: Cintra et al."},
    {"gcut3", Format::unlimited, true, true, 61626, "published: Cintra et al."},
    {"gcut4", Format::unlimited, true, true, 62265, "published: Cintra et al."},
    {"gcut13", Format::unlimited, true, true, 9000000, "published: Cintra et al."},
    {"cgcut1", Format::limited, false, false, 244, "from memory: Christofides and Whitlock 1977"},
    {"cgcut2", Format::limited, false, false, 2892, "from memory: Christofides and Whitlock 1977"},
    {"cgcut1", Format::limited, true, false, 249, "published: Hifi and Zissimopoulos 1996"},
    {"cgcut2", Format::limited, true, false, 3076, "published: Hifi and Zissimopoulos 1996"},
    {"OF1", Format::demand_last, false, false, 2737, "from memory: Oliveira and Ferreira 1990"},
    {"OF1", Format::demand_last, true, false, 2758, "published: Oliveira and Ferreira 1990"},
    {"wang1", Format::demand_last, false, false, 2277, "recomputed exactly by another program"},
    {"wang3", Format::demand_last, false, false, 2721, "from memory: Wang 1983"},
};

class PublishedSheet : public ::testing::TestWithParam<Published> {};

TEST_P(PublishedSheet, HasItsOptimum) {
    const Published& p = GetParam();
    SingleSheet problem = read_instance(p.name, p.format);
    for (Item& item : problem.items) {
        item.turnable = p.turning;
        if (p.unlimited) item.most.reset();
    }
    const auto answer = most_on_sheet(problem);
    ASSERT_TRUE(answer.best) << answer.refused;
    EXPECT_EQ(answer.best->value, p.optimum) << p.source;
    EXPECT_TRUE(answer.best->proved);
    EXPECT_EQ(answer.best->bound, p.optimum);
    expect_sound(problem, *answer.best);
}

INSTANTIATE_TEST_SUITE_P(Instances, PublishedSheet, ::testing::ValuesIn(published), [](const auto& one) {
    return std::string(one.param.name) + (one.param.unlimited ? "Unlimited" : "Limited") +
           (one.param.turning ? "Turned" : "Fixed");
});

/// Brute force for small whole numbers: the most value of a w x h part when `left` of each item may be used. Every cut
/// at every whole number, every way of sharing the items out.
double brute(const SingleSheet& problem, int w, int h, const std::vector<int>& left,
             std::map<std::vector<int>, double>& memo) {
    std::vector<int> key = left;
    key.push_back(w);
    key.push_back(h);
    const auto known = memo.find(key);
    if (known != memo.end()) return known->second;
    const int kerf = static_cast<int>(problem.kerf);
    double best = 0;
    for (std::size_t i = 0; i < left.size(); ++i) {
        const Item& item = problem.items[i];
        const bool upright = item.width <= w && item.height <= h;
        const bool turned = item.turnable && item.height <= w && item.width <= h;
        if (left[i] > 0 && (upright || turned)) best = std::max(best, item.value);
    }
    // All ways to give the first side some of what is left.
    std::vector<int> give(left.size(), 0);
    while (true) {
        std::size_t k = 0;
        while (k < give.size() && give[k] == left[k]) give[k++] = 0;
        if (k == give.size()) break;
        ++give[k];
        std::vector<int> rest = left;
        for (std::size_t i = 0; i < rest.size(); ++i) rest[i] -= give[i];
        for (int at = 1; at + kerf < w; ++at) {
            best = std::max(best, brute(problem, at, h, give, memo) + brute(problem, w - at - kerf, h, rest, memo));
        }
        for (int at = 1; at + kerf < h; ++at) {
            best = std::max(best, brute(problem, w, at, give, memo) + brute(problem, w, h - at - kerf, rest, memo));
        }
    }
    memo[key] = best;
    return best;
}

TEST(SingleSheet, AgreesWithBruteForce) {
    const unsigned seed = 6101;
    std::mt19937 random(seed);
    const auto pick = [&](int low, int high) {
        return low + static_cast<int>(random() % static_cast<unsigned>(high - low + 1));
    };
    int limited_short = 0;
    for (int round = 0; round < 250; ++round) {
        SingleSheet problem;
        problem.width = pick(3, 9);
        problem.height = pick(3, 9);
        problem.kerf = pick(0, 1);
        const int kinds = pick(1, 3);
        std::vector<int> left;
        for (int i = 0; i < kinds; ++i) {
            Item item;
            item.width = pick(1, 5);
            item.height = pick(1, 5);
            item.value = pick(1, 20);
            item.turnable = pick(0, 1) == 1;
            item.most = pick(1, 3);
            left.push_back(*item.most);
            problem.items.push_back(item);
        }
        const auto answer = most_on_sheet(problem);
        ASSERT_TRUE(answer.best) << answer.refused;
        std::map<std::vector<int>, double> memo;
        const double expected =
            brute(problem, static_cast<int>(problem.width), static_cast<int>(problem.height), left, memo);
        EXPECT_EQ(answer.best->value, expected) << "seed " << seed << " round " << round;
        EXPECT_TRUE(answer.best->proved);
        expect_sound(problem, *answer.best);
        SingleSheet unlimited = problem;
        for (Item& item : unlimited.items) item.most.reset();
        const auto more = most_on_sheet(unlimited);
        ASSERT_TRUE(more.best);
        EXPECT_GE(more.best->value, expected);
        if (more.best->value > expected) ++limited_short;
        expect_sound(unlimited, *more.best);
    }
    EXPECT_GT(limited_short, 30);
}

TEST(SingleSheet, JustFitsAndJustMisses) {
    // Closed form: two of 500 and a kerf of 3 need 1003.
    SingleSheet problem;
    problem.width = 1003;
    problem.height = 700;
    problem.kerf = 3;
    problem.items = {{500, 700, 1, std::nullopt, false}};
    EXPECT_EQ(most_on_sheet(problem).best->value, 2);
    problem.width = 1002.99;
    EXPECT_EQ(most_on_sheet(problem).best->value, 1);
    problem.width = 1003;
    problem.items[0].height = 700.01;
    EXPECT_EQ(most_on_sheet(problem).best->value, 0);
}

TEST(SingleSheet, OutOfEffortTheBoundStillHolds) {
    SingleSheet problem = read_instance("cgcut2", Format::limited);
    problem.effort = 20'000;
    const auto answer = most_on_sheet(problem);
    ASSERT_TRUE(answer.best);
    EXPECT_FALSE(answer.best->proved);
    EXPECT_LE(answer.best->value, 2892);
    EXPECT_GE(answer.best->bound, 2892);
    expect_sound(problem, *answer.best);
}

TEST(SingleSheet, RefusesWithTheNumber) {
    SingleSheet problem;
    problem.width = 0;
    problem.height = 100;
    EXPECT_NE(most_on_sheet(problem).refused.find("0 x 100"), std::string::npos);
    problem.width = 100;
    problem.items = {{-1, 5, 1, std::nullopt, false}};
    EXPECT_NE(most_on_sheet(problem).refused.find("item 1"), std::string::npos);
    problem.items = {{1, 5, -2, std::nullopt, false}};
    EXPECT_NE(most_on_sheet(problem).refused.find("value -2"), std::string::npos);
    problem.items.clear();
    problem.kerf = -1;
    EXPECT_NE(most_on_sheet(problem).refused.find("kerf"), std::string::npos);
}

}  // namespace
}  // namespace standproud::nesting
