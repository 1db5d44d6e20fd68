// A small job with a bench, worked out, for the tests of what the bench says.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "modeler/job_reader.hpp"
#include "rules/check.hpp"
#include "support/jobs.hpp"
#include "viewer/bench_report.hpp"

namespace standproud::viewer {

inline constexpr const char* figures =
    "[[sheets]]\nid = \"whole\"\nwidth = 1250\nheight = 2500\nturning = true\n"
    "[bench]\nkerf = 3\ntrim = 5\nfixed_at = 16\ncoldest = 8\nhottest = 38\nfixed_humidity = 60\ndriest = 30\n"
    "wettest = 80\nsealant_depth = 5\ncartridge = 300\nwaste = 10\nreach = 40\nsealant_class = \"20\"\n"
    "start = 2026-06-12\n";

inline constexpr const char* goods =
    "[[types]]\nid = \"tap\"\nname = \"tap\"\nfamily = \"spindle\"\ntrade = \"plumber\"\nconnection = \"s\"\n"
    "spindle_length = \"52 +/- 0.5\"\nproud_min = 20\nproud_max = 32\n"
    "[[types.holes]]\ndiameter = 40\npasses = 30\n"
    "[[types]]\nid = \"box\"\nname = \"box\"\nfamily = \"plate\"\ntrade = \"electrician\"\nconnection = \"M3.5\"\n"
    "[[types.holes]]\nwidth = 90\nheight = 60\nradius = 6\n"
    "[[fittings]]\nid = \"hot\"\ntype = \"tap\"\nwall = \"back\"\nacross = 300\nfrom = \"left bare\"\nheight = 1000\n"
    "seat = \"-10 +/- 2\"\n"
    "[[fittings]]\nid = \"socket\"\ntype = \"box\"\nwall = \"back\"\nacross = 900\nfrom = \"left bare\"\n"
    "height = 1700\nseat = \"-10 +/- 2\"\n";

inline std::string small_job(const std::string& saw = "circular") {
    return testing::recess(std::string(goods) + figures + "saw = \"" + saw + "\"\n");
}

inline CheckedJob checked(Job job) {
    Faults faults;
    auto limits = rules::limits_for(job, faults);
    Model model = build_model(std::move(job), faults);
    EXPECT_TRUE(faults.empty()) << (faults.empty() ? "" : to_string(faults.front()));
    auto findings = rules::check(model, limits);
    return {std::move(model), std::move(limits), std::move(findings), std::nullopt};
}

inline CheckedJob checked(const std::string& text) {
    Faults faults;
    Job job = testing::job_of(text, faults);
    for (const auto& fault : faults) ADD_FAILURE() << to_string(fault);
    return checked(std::move(job));
}

inline CheckedJob demo() {
    Faults faults;
    auto job = open_job(STANDPROUD_SOURCE_DIR "/models/old-stable.toml", faults);
    EXPECT_TRUE(faults.empty());
    return std::move(*job);
}

inline const BenchPanel& panel_of_wall(const Bench& bench, const std::string& wall) {
    const auto found =
        std::find_if(bench.panels.begin(), bench.panels.end(), [&](const auto& panel) { return panel.wall == wall; });
    EXPECT_NE(found, bench.panels.end());
    return *found;
}

inline const BenchJoint& joint_named(const Bench& bench, const std::string& name) {
    const auto found =
        std::find_if(bench.joints.begin(), bench.joints.end(), [&](const auto& joint) { return joint.name == name; });
    EXPECT_NE(found, bench.joints.end()) << name;
    return *found;
}

// Closed form: 22 K x 70e-6 and 60 to 80 % RH, 0.2 to 0.3 %; cold and dry 8 K and 60 to 30 % RH, 0.2 to 0.1 %.
inline constexpr double growth = 22 * 70e-6 + 0.001;
inline constexpr double shrinkage = 8 * 70e-6 + 0.001;

/// On one line, as it is read.
inline std::string flat(const std::string& text) {
    std::string all;
    for (const char c : text) {
        const char next = c == '\n' ? ' ' : c;
        if (next != ' ' || (!all.empty() && all.back() != ' ')) all += next;
    }
    return all;
}

}  // namespace standproud::viewer
