// The demo jobs' own parts: what the engine says of each pair that is near, against the kernel (Open CASCADE 7.6.3).
#include <gtest/gtest.h>

#include <filesystem>
#include <map>

#include "modeler/job_reader.hpp"
#include "modeler/kernel_clearance.hpp"
#include "modeler/solids.hpp"
#include "support/jobs.hpp"

namespace standproud {

TEST(DemoClearance, EveryNearPairIsAsTheKernelHasIt) {
    int jobs = 0;
    int over = 0;
    int volumes = 0;
    for (const auto& entry : std::filesystem::directory_iterator(STANDPROUD_SOURCE_DIR "/models")) {
        if (entry.path().extension() != ".toml") continue;
        SCOPED_TRACE(entry.path());
        Faults faults;
        const Model model = build_model(as_fixed(read_job(entry.path(), faults)), faults);
        ASSERT_TRUE(faults.empty()) << to_string(faults.front());
        const auto parts = build_parts(model);
        const auto bodies = make_bodies(parts);
        std::vector<TopoDS_Shape> solids;
        for (const auto& part : parts) solids.push_back(make_solid(part));
        Nearness nearness;
        nearness.largest = 1;
        std::map<std::pair<std::size_t, std::size_t>, Separation> near;
        for (const auto& s : near_pairs(bodies, nearness)) near[{s.a, s.b}] = s;
        EXPECT_GT(near.size(), 30U);
        for (const auto& [a, b] : near_boxes(bodies, 0)) {
            const double volume = kernel_overlap(solids[a], solids[b], 1e-5).volume;
            const auto found = near.find({a, b});
            const bool overlapping = found != near.end() && overlaps(found->second);
            ASSERT_TRUE(found == near.end() || found->second.decided) << parts[a].id << " and " << parts[b].id;
            EXPECT_EQ(overlapping, volume > 0) << parts[a].id << " and " << parts[b].id << ": " << volume << " mm3, "
                                               << (found == near.end() ? 1 : found->second.distance) << " mm";
            over += overlapping ? 1 : 0;
            if (const auto closed = common_volume(bodies[a], bodies[b])) {
                EXPECT_NEAR(*closed, volume, 1e-5 * volume + 1) << parts[a].id << " and " << parts[b].id;
                volumes += volume > 0 ? 1 : 0;
            }
        }
        ++jobs;
    }
    EXPECT_GE(jobs, 4);
    std::cout << over << " overlaps, " << volumes << " of them with a closed volume\n";
}

}  // namespace standproud
