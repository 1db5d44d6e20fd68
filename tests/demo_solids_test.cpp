// Every part of every demo job, and of random recesses, as a kernel solid. Source of the volumes: closed form.
#include <gtest/gtest.h>

#include <filesystem>
#include <random>

#include "modeler/job_reader.hpp"
#include "modeler/parts.hpp"
#include "modeler/solids.hpp"
#include "support/jobs.hpp"
#include "support/leaning.hpp"

namespace standproud {
namespace {

/// Parts and what fills their gaps.
std::vector<Part> all_parts(const Model& model) {
    auto parts = build_parts(model);
    for (auto& seal : build_sealant(model)) parts.push_back(std::move(seal));
    return parts;
}

/// make_solid refuses what BRepCheck finds fault with; the volume must be the outline's area times its length.
int hold_to_closed_forms(const Model& model) {
    int solids = 0;
    for (const auto& part : all_parts(model)) {
        const double wanted = volume(part);
        EXPECT_NEAR(solid_volume(make_solid(part)), wanted, 1e-9 * wanted) << part.id;
        EXPECT_GT(part.source.line, 0) << part.id << " does not say where it comes from";
        ++solids;
    }
    return solids;
}

TEST(DemoSolids, EveryPartIsValidAndHasItsVolume) {
    int jobs = 0;
    for (const auto& entry : std::filesystem::directory_iterator(STANDPROUD_SOURCE_DIR "/models")) {
        if (entry.path().extension() != ".toml") continue;
        SCOPED_TRACE(entry.path());
        Faults faults;
        const Model model = build_model(as_fixed(read_job(entry.path(), faults)), faults);
        ASSERT_TRUE(faults.empty()) << to_string(faults.front());
        EXPECT_GT(hold_to_closed_forms(model), 40);
        ++jobs;
    }
    EXPECT_GE(jobs, 4);
}

TEST(DemoSolids, RandomRecessesAtAnyAngle) {
    const unsigned seed = 77;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    int solids = 0;
    for (int i = 0; i < 10; ++i) {
        Faults faults;
        const Model model = build_model(testing::random_job(random), faults);
        for (const auto& part : all_parts(model)) {
            const double wanted = volume(part);
            EXPECT_NEAR(solid_volume(make_solid(part)), wanted, 1e-9 * wanted) << part.id;
            ++solids;
        }
    }
    EXPECT_GT(solids, 100);
}

TEST(DemoSolids, LeaningRecesses) {
    const unsigned seed = 78;
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    int solids = 0;
    int wedges = 0;
    for (int i = 0; i < 10; ++i) {
        Job job = testing::random_job(random);
        job.panels.bedding = i % 3 == 0 ? BedKind::follow : BedKind::plane;
        job.panels.plumb = i % 2 == 0;
        const Survey survey = testing::leaning_survey(job, random, 8, i % 4);
        Faults faults;
        const Model model = build_model(std::move(job), survey, faults);
        for (const auto& part : all_parts(model)) {
            const double wanted = volume(part);
            EXPECT_NEAR(solid_volume(make_solid(part)), wanted, 1e-9 * wanted) << part.id;
            wedges += part.taper.x != 0 || part.taper.y != 0 ? 1 : 0;
            ++solids;
        }
    }
    EXPECT_GT(solids, 100);
    EXPECT_GT(wedges, 10);
}

}  // namespace
}  // namespace standproud
