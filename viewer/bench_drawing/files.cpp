#include "bench_drawing/files.hpp"

#include <fmt/format.h>

#include <memory>
#include <set>

#include "bench_drawing/panel_sheet.hpp"
#include "bench_drawing/router.hpp"
#include "bench_drawing/stock_sheet.hpp"
#include "bench_drawing/templates.hpp"
#include "bench_drawing/wall_sheet.hpp"
#include "drawing/write_sheet.hpp"

namespace standproud::viewer {

namespace {

/// Every name once: a second one of the same is numbered.
class Names {
  public:
    std::string once(const std::string& name) {
        std::string result = name;
        for (int count = 2; !taken_.insert(result).second; ++count) result = fmt::format("{}-{}", name, count);
        return result;
    }

  private:
    std::set<std::string> taken_;
};

/// One name for each panel and each wall, in their order.
std::vector<std::string> panel_names(const Bench& bench) {
    Names names;
    std::vector<std::string> all;
    for (const auto& panel : bench.panels) all.push_back(names.once("panel-" + file_name(panel.id)));
    return all;
}

}  // namespace

std::string file_name(const std::string& id) {
    std::string name;
    for (const char c : id) {
        const bool plain = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' ||
                           (c == '.' && !name.empty());
        name += plain ? c : '-';
    }
    return name;
}

std::vector<BenchPage> bench_pages(const Bench& bench) {
    std::vector<BenchPage> pages;
    Names names;
    for (const auto& wall : bench.walls) {
        pages.push_back({fmt::format("Wall {}, elevation", wall.id), names.once("wall-" + file_name(wall.id)),
                         [&bench, &wall](Sheet& sheet) { draw_wall_sheet(sheet, bench, wall); }});
    }
    const std::size_t sheets = bench.sheets.nesting ? bench.sheets.nesting->sheets.size() : 0;
    for (std::size_t i = 0; i < sheets; ++i) {
        pages.push_back({fmt::format("Sheet {}, cuts", i + 1), fmt::format("sheet-{}", i + 1),
                         [&bench, i](Sheet& sheet) { draw_stock_sheet(sheet, bench, i); }});
    }
    const auto named = panel_names(bench);
    for (std::size_t i = 0; i < bench.panels.size(); ++i) {
        const auto& panel = bench.panels[i];
        if (!panel.plan) {
            pages.push_back({fmt::format("Panel {}, not to be cut", panel.id), named[i] + "-not-to-be-cut",
                             [&bench, &panel](Sheet& sheet) { draw_refused_panel(sheet, bench, panel); }});
            continue;
        }
        for (const auto face : {cutting::Face::front, cutting::Face::rear}) {
            const char* side = face == cutting::Face::rear ? "rear" : "front";
            pages.push_back({fmt::format("Panel {}, {}", panel.id, side), fmt::format("{}-{}", named[i], side),
                             [&bench, &panel, face](Sheet& sheet) { draw_panel_sheet(sheet, bench, panel, face); }});
        }
    }
    for (auto& page : pages) page.stem = "drawings/" + page.stem;
    return pages;
}

std::vector<BenchPage> template_pages(const Bench& bench, const BenchPanel& panel) {
    std::vector<BenchPage> pages;
    if (!panel.plan) return pages;
    for (auto& paper : templates_of(panel)) {
        const auto shared = std::make_shared<const Template>(std::move(paper));
        for (std::size_t i = 0; i < shared->tiles.size(); ++i) {
            pages.push_back(
                {fmt::format("Panel {}, template", panel.id), "",
                 [&bench, &panel, shared, i](Sheet& sheet) { draw_tile(sheet, bench, panel, *shared, i); }});
        }
    }
    return pages;
}

std::vector<std::string> page_titles(const Bench& bench) {
    std::vector<std::string> titles;
    for (const auto& page : bench_pages(bench)) titles.push_back(page.title);
    return titles;
}

void draw_page(cairo_t* context, const Bench& bench, std::size_t page) {
    const auto pages = bench_pages(bench);
    const BenchPage& one = pages.at(page);
    Sheet sheet(context);
    one.draw(sheet);
}

std::vector<BenchFile> draw_bench(const Bench& bench) {
    std::vector<BenchFile> files;
    std::vector<std::function<void(Sheet&)>> all;
    const auto pages = bench_pages(bench);
    for (const auto& page : pages) all.push_back(page.draw);
    const std::string title = bench.jobs.front().name;
    files.push_back({"drawings.pdf", pdf_of_sheets(title, all)});
    for (const auto& page : pages) {
        for (auto& file : sheet_files(page.title, page.draw, page.stem))
            files.push_back({std::move(file.path), std::move(file.bytes)});
    }
    const auto named = panel_names(bench);
    for (std::size_t i = 0; i < bench.panels.size(); ++i) {
        const auto& panel = bench.panels[i];
        std::vector<std::function<void(Sheet&)>> tiles;
        for (const auto& page : template_pages(bench, panel)) tiles.push_back(page.draw);
        if (!tiles.empty())
            files.push_back({"templates/" + named[i] + ".pdf", pdf_of_sheets("Templates of panel " + panel.id, tiles)});
        if (panel.plan) files.push_back({"router/" + named[i] + "-front-face-up.svg", router_svg(bench, panel)});
    }
    return files;
}

}  // namespace standproud::viewer
