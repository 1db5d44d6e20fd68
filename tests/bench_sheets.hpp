// What the tests of the bench's drawings share: the demo jobs' benches, and sheets drawn on nothing.
#pragma once

#include <cairo.h>
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "bench_drawing/files.hpp"
#include "modeler/job_reader.hpp"
#include "rules/check.hpp"
#include "support/drawn_sheet.hpp"
#include "support/jobs.hpp"

namespace standproud::bench_drawn {

using testing::output_of;
using viewer::Bench;
using viewer::CheckedJob;
using viewer::Sheet;
using Drawn = testing::DrawnSheet;

struct Made {
    std::string name;
    CheckedJob job;
    Bench bench;
};

inline CheckedJob checked(Job job) {
    Faults faults;
    auto limits = rules::limits_for(job, faults);
    Model model = build_model(std::move(job), faults);
    for (const auto& fault : faults) ADD_FAILURE() << to_string(fault);
    auto findings = rules::check(model, limits);
    return {std::move(model), std::move(limits), std::move(findings), std::nullopt};
}

inline Made made_of(const std::string& name, CheckedJob job) {
    Bench bench = viewer::work_out_bench({job});
    return {name, std::move(job), std::move(bench)};
}

/// Every demo job; each must have a bench.
inline const std::vector<Made>& demos() {
    static const std::vector<Made> all = [] {
        std::vector<std::filesystem::path> paths;
        for (const auto& entry : std::filesystem::directory_iterator(STANDPROUD_SOURCE_DIR "/models")) {
            if (entry.path().extension() == ".toml") paths.push_back(entry.path());
        }
        std::sort(paths.begin(), paths.end());
        std::vector<Made> made;
        for (const auto& path : paths) {
            Faults faults;
            auto job = viewer::open_job(path.string(), faults);
            for (const auto& fault : faults) ADD_FAILURE() << to_string(fault);
            EXPECT_TRUE(job && job->model.job.bench && !job->model.job.sheets.empty()) << path;
            if (job && job->model.job.bench) made.push_back(made_of(path.stem().string(), std::move(*job)));
        }
        return made;
    }();
    return all;
}

inline const Made& demo(const std::string& name) {
    for (const auto& made : demos()) {
        if (made.name == name) return made;
    }
    ADD_FAILURE() << "no demo " << name;
    return demos().front();
}

/// Every sheet of a bench, templates too.
inline std::vector<viewer::BenchPage> all_pages(const Bench& bench) {
    auto pages = viewer::bench_pages(bench);
    for (const auto& panel : bench.panels) {
        for (auto& page : viewer::template_pages(bench, panel)) pages.push_back(std::move(page));
    }
    return pages;
}

}  // namespace standproud::bench_drawn
