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
#include "support/jobs.hpp"

namespace standproud::bench_drawn {

using viewer::Bench;
using viewer::CheckedJob;
using viewer::Sheet;

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

/// A sheet drawn on nothing: only what was put where is kept.
class Drawn {
  public:
    explicit Drawn(const std::function<void(Sheet&)>& draw)
        : surface_(cairo_recording_surface_create(CAIRO_CONTENT_COLOR, nullptr)),
          context_(cairo_create(surface_)),
          sheet_(context_) {
        draw(sheet_);
        EXPECT_STREQ(cairo_status_to_string(cairo_status(context_)), "no error has occurred");
    }
    Drawn(const Drawn&) = delete;
    Drawn& operator=(const Drawn&) = delete;
    ~Drawn() {
        cairo_destroy(context_);
        cairo_surface_destroy(surface_);
    }
    [[nodiscard]] const Sheet& sheet() const { return sheet_; }
    [[nodiscard]] std::size_t count(const std::string& words) const {
        return static_cast<std::size_t>(
            std::count_if(sheet_.texts().begin(), sheet_.texts().end(),
                          [&](const auto& text) { return text.text.find(words) != std::string::npos; }));
    }
    [[nodiscard]] bool has(const std::string& words) const {
        return std::any_of(sheet_.texts().begin(), sheet_.texts().end(),
                           [&](const auto& text) { return text.text == words; });
    }
    [[nodiscard]] double scale() const {
        for (const auto& text : sheet_.texts()) {
            if (text.text.rfind("1:", 0) == 0) return std::stod(text.text.substr(2));
        }
        ADD_FAILURE() << "no scale on the sheet";
        return 0;
    }

  private:
    cairo_surface_t* surface_;
    cairo_t* context_;
    Sheet sheet_;
};

/// Every sheet of a bench, templates too.
inline std::vector<viewer::BenchPage> all_pages(const Bench& bench) {
    auto pages = viewer::bench_pages(bench);
    for (const auto& panel : bench.panels) {
        for (auto& page : viewer::template_pages(bench, panel)) pages.push_back(std::move(page));
    }
    return pages;
}

inline std::string output_of(const std::string& command) {
    std::unique_ptr<FILE, int (*)(FILE*)> pipe(::popen(command.c_str(), "r"), ::pclose);
    std::string text;
    std::array<char, 4096> chunk{};
    while (pipe) {
        const std::size_t length = std::fread(chunk.data(), 1, chunk.size(), pipe.get());
        if (length == 0) break;
        text.append(chunk.data(), length);
    }
    return text;
}

}  // namespace standproud::bench_drawn
