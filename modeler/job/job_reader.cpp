#include "modeler/job_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <string_view>
#include <utility>

#include "job/readers.hpp"
#include "modeler/files.hpp"
#include "modeler/room.hpp"

namespace standproud {

namespace {

/// The commonest slip, in the words of people who write decimals with a comma.
const char* hint(std::string_view says) {
    return says.find("saw ','") == says.npos ? "" : "; decimals take a point, not a comma";
}

std::optional<std::string> text_of(const std::filesystem::path& path, const Source& asked_from, Faults& faults) {
    try {
        return read_whole(path);
    } catch (const std::exception& error) {
        faults.push_back({asked_from, "", "", "", error.what()});
    }
    return std::nullopt;
}

std::optional<toml::table> parse(const std::string& text, const std::filesystem::path& path, Faults& faults) {
    try {
        return toml::parse(text, path.string());
    } catch (const toml::parse_error& error) {
        const auto at = error.source().begin;
        faults.push_back({{path.string(), static_cast<int>(at.line), static_cast<int>(at.column)},
                          "",
                          "",
                          "",
                          fmt::format("not readable as TOML: {}{}", error.description(), hint(error.description()))});
    }
    return std::nullopt;
}

/// Reads the types and stocked items of a catalogue, or of the job file itself.
template <class Holder>
void read_goods(Table& root, Holder& to) {
    for (auto& table : root.tables("types")) to.types.push_back(read_type(table));
    for (auto& table : root.tables("stock")) to.stock.push_back(read_stock(table));
}

void add_goods(const Goods& goods, Job& job, Faults& faults) {
    job.types.insert(job.types.end(), goods.types.begin(), goods.types.end());
    job.stock.insert(job.stock.end(), goods.stock.begin(), goods.stock.end());
    faults.insert(faults.end(), goods.faults.begin(), goods.faults.end());
}

/// Returns the catalogues named, with their places.
std::vector<std::pair<std::string, Source>> read_header(Table& table, Job& job) {
    job.name = table.text("name");
    job.revision = table.maybe_text("revision").value_or("");
    job.datum = table.text("datum");
    job.notes = table.maybe_text("notes").value_or("");
    job.closed = table.flag("closed", false);
    job.bath_or_basin = table.maybe_flag("bath_or_basin");
    job.statistical = table.maybe_word("judge_on", {"worst case", "root-sum-square"}).value_or(0) == 1;
    job.seat_tolerance = table.maybe_number("seat_tolerance", {0, 50, "mm"});
    job.measured_tolerance = table.maybe_number("measured_tolerance", {0, 50, "mm"});
    auto catalogues = table.texts("catalogue");
    table.finish();
    return catalogues;
}

template <class Item>
void check_unique(const std::vector<Item>& items, const char* what, Faults& faults) {
    for (std::size_t i = 0; i < items.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            if (items[i].id.empty() || items[i].id != items[j].id) continue;
            faults.push_back(
                {items[i].source, fmt::format("{}.id", what), fmt::format("\"{}\"", items[i].id), "an id used once",
                 fmt::format("{} \"{}\" is there already, at {}", what, items[i].id, to_string(items[j].source))});
            break;
        }
    }
}

template <class Item>
std::vector<std::string> ids_of(const std::vector<Item>& items) {
    std::vector<std::string> ids;
    for (const auto& item : items) ids.push_back(item.id);
    return ids;
}

/// A finished corner needs a wall on that side.
void check_across(const Job& job, std::size_t wall, const Across& across, const char* key, Faults& faults) {
    using From = Across::From;
    const bool left_needed = across.from == From::left_finished || across.from == From::centre;
    const bool right_needed = across.from == From::right_finished || across.from == From::centre;
    const bool no_left = left_needed && wall == 0 && !job.closed;
    const bool no_right = right_needed && wall + 1 == job.walls.size() && !job.closed;
    if (!no_left && !no_right) return;
    faults.push_back({across.source, key, fmt::format("\"{}\"", to_string(across.from)),
                      "a bare corner, or a side with a wall",
                      fmt::format("wall \"{}\" has no wall at its {}, so there is no finished corner to measure from",
                                  job.walls[wall].id, no_left ? "left" : "right")});
}

void check_references(const Job& job, Faults& faults) {
    const auto walls = ids_of(job.walls);
    const auto types = ids_of(job.types);
    for (const auto& fitting : job.fittings) {
        check_reference(fitting.type, types, "fittings.type", fitting.type_source, faults);
        check_reference(fitting.wall, walls, "fittings.wall", fitting.wall_source, faults);
        const std::size_t wall = wall_index(job, fitting.wall);
        if (wall == job.walls.size()) continue;
        check_across(job, wall, fitting.across, "fittings.from", faults);
        if (fitting.as_built && fitting.as_built->across) {
            check_across(job, wall, *fitting.as_built->across, "fittings.as_built.from", faults);
        }
    }
    for (std::size_t w = 0; w < job.walls.size(); ++w) {
        for (const auto& join : job.walls[w].joins) {
            check_across(job, w, join, "walls.joins.from", faults);
            const double most = job.walls[w].width / (join.from == Across::From::centre ? 2 : 1);
            const double least = join.from == Across::From::centre ? -most : 0;
            if (join.distance >= least && join.distance <= most) continue;
            faults.push_back({join.source, "walls.joins.across", fmt::format("{}", join.distance),
                              fmt::format("{:g} to {:g} mm", least, most),
                              fmt::format("a join lies outside wall \"{}\"", job.walls[w].id)});
        }
        for (const auto& join : job.walls[w].level_joins) {
            if (join.height <= job.walls[w].height) continue;
            faults.push_back({join.source, "walls.level_joins.height", fmt::format("{}", join.height),
                              fmt::format("up to {:g} mm", job.walls[w].height),
                              fmt::format("a level join lies above wall \"{}\"", job.walls[w].id)});
        }
    }
    auto joined = ids_of(job.fittings);
    for (const auto& pipe : job.pipes) joined.push_back(pipe.id);
    for (const auto& pipe : job.pipes) {
        check_reference(pipe.wall, walls, "pipes.wall", pipe.source, faults);
        for (const auto& id : pipe.connects) check_reference(id, joined, "pipes.connects", pipe.source, faults);
    }
    for (const auto& screen : job.screens) {
        check_reference(screen.wall, walls, "screens.wall", screen.source, faults);
        const std::size_t wall = wall_index(job, screen.wall);
        if (wall < job.walls.size()) check_across(job, wall, screen.across, "screens.from", faults);
    }
    if (job.tray) {
        check_reference(job.tray->wall, walls, "tray.wall", job.tray->source, faults);
        for (const auto& wall : job.tray->walls) check_reference(wall, walls, "tray.walls", job.tray->source, faults);
    }
    for (const auto& wall : job.panels.order) check_reference(wall, walls, "panels.order", job.panels.source, faults);
}

/// Walls that the order leaves out are lined after the others, as they stand in the file.
void complete_order(Job& job) {
    for (const auto& wall : job.walls) {
        auto& order = job.panels.order;
        if (std::find(order.begin(), order.end(), wall.id) == order.end()) order.push_back(wall.id);
    }
}

}  // namespace

void check_reference(const std::string& name, const std::vector<std::string>& known, const char* key,
                     const Source& where, Faults& faults) {
    if (name.empty() || std::find(known.begin(), known.end(), name) != known.end()) return;
    const std::string near = nearest_word(name, known);
    std::string allowed;
    for (const auto& id : known) allowed += (allowed.empty() ? "" : ", ") + id;
    if (allowed.empty()) allowed = "none is defined";
    faults.push_back({where, key, fmt::format("\"{}\"", name), allowed,
                      fmt::format("{} names \"{}\", which does not exist{}", key, name,
                                  near.empty() ? "" : fmt::format("; did you mean \"{}\"?", near))});
}

Goods Catalogues::read(const std::filesystem::path& path, const Source& asked_from) {
    const std::lock_guard lock(mutex_);
    const auto found = read_.find(path.string());
    if (found != read_.end()) return found->second;
    Goods goods;
    const auto text = text_of(path, asked_from, goods.faults);
    if (!text) return goods;
    if (const auto tree = parse(*text, path, goods.faults)) {
        Table root(*tree, path.string(), "", goods.faults);
        read_goods(root, goods);
        root.finish();
    }
    return read_[path.string()] = std::move(goods);
}

Job read_job(const std::filesystem::path& path, Faults& faults) {
    Catalogues own;
    return read_job(path, own, faults);
}

Job read_job(const std::filesystem::path& path, Catalogues& shared, Faults& faults) {
    const auto text = text_of(path, {path.string(), 0, 0}, faults);
    if (text) return read_job_text(*text, path, shared, faults);
    Job job;
    job.file = path.string();
    return job;
}

Job read_job_text(const std::string& text, const std::filesystem::path& path, Faults& faults) {
    Catalogues own;
    return read_job_text(text, path, own, faults);
}

Job read_job_text(const std::string& text, const std::filesystem::path& path, Catalogues& shared, Faults& faults) {
    Job job;
    job.file = path.string();
    const auto tree = parse(text, path, faults);
    if (!tree) return job;
    Table root(*tree, path.string(), "", faults);
    std::vector<std::pair<std::string, Source>> catalogues;
    if (auto table = root.table("job")) {
        catalogues = read_header(*table, job);
    } else {
        root.fault("job", "the [job] table is missing", "[job] with name, datum, ...");
    }
    for (const auto& [file, source] : catalogues) {
        add_goods(shared.read((path.parent_path() / file).lexically_normal(), source), job, faults);
    }
    read_goods(root, job);
    const auto layers = read_layers(root);
    for (auto& table : root.tables("walls")) job.walls.push_back(read_wall(table, layers));
    if (job.walls.empty())
        root.fault("walls", "the job has no walls", "[[walls]], once for each wall from left to right");
    if (auto table = root.table("tray")) job.tray = read_tray(*table);
    if (auto table = root.table("panels")) job.panels = read_panels(*table);
    for (auto& table : root.tables("fittings")) job.fittings.push_back(read_fitting(table, job));
    for (auto& table : root.tables("pipes")) job.pipes.push_back(read_pipe(table));
    for (auto& table : root.tables("screens")) job.screens.push_back(read_screen(table));
    if (auto table = root.table("survey")) job.survey = read_survey(*table, job.walls, job.closed, faults);
    for (auto& table : root.tables("sheets")) job.sheets.push_back(read_sheet(table));
    if (auto table = root.table("bench")) job.bench = read_bench(*table);
    for (auto& [name, limit] : root.all_numbers("limits")) job.limits[name] = limit;
    root.finish();
    check_unique(job.walls, "walls", faults);
    check_unique(job.types, "types", faults);
    check_unique(job.stock, "stock", faults);
    check_unique(job.fittings, "fittings", faults);
    check_unique(job.pipes, "pipes", faults);
    check_unique(job.screens, "screens", faults);
    check_unique(job.sheets, "sheets", faults);
    check_references(job, faults);
    complete_order(job);
    fit_stock(job, faults);
    sort_faults(faults);
    return job;
}

}  // namespace standproud
