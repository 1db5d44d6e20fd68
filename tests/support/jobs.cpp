#include "support/jobs.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <fstream>

#include "modeler/files.hpp"
#include "modeler/job_reader.hpp"
#include "rules/advise.hpp"
#include "rules/check.hpp"

namespace standproud::testing {

Folder::Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "standproud-test-XXXXXX").string();
    if (!mkdtemp(name.data())) throw std::runtime_error("no temporary folder");
    path_ = name;
}

Folder::~Folder() {
    std::error_code ignored;
    std::filesystem::permissions(path_, std::filesystem::perms::owner_all, ignored);
    std::filesystem::remove_all(path_, ignored);
}

Job job_of(const std::string& text, Faults& faults) {
    const Folder folder;
    write_whole(folder / "job.toml", text);
    // Read from inside the folder, so that messages say just job.toml.
    const auto here = std::filesystem::current_path();
    std::filesystem::current_path(folder.path());
    Job job = read_job("job.toml", faults);
    std::filesystem::current_path(here);
    return job;
}

Model model_of(const std::string& text) {
    Faults faults;
    Job job = job_of(text, faults);
    Model model = build_model(std::move(job), faults);
    for (const auto& fault : faults) ADD_FAILURE() << to_string(fault);
    return model;
}

std::vector<rules::Finding> findings_of(const Model& model) {
    Faults faults;
    const auto limits = rules::limits_for(model.job, faults);
    for (const auto& fault : faults) ADD_FAILURE() << to_string(fault);
    rules::Distances distances;
    auto findings = rules::check(model, limits, distances);
    rules::advise(model, limits, distances, findings);
    return findings;
}

std::vector<rules::Finding> findings_of(const std::string& text) { return findings_of(model_of(text)); }

rules::Finding finding_of(const std::vector<rules::Finding>& findings, const std::string& rule,
                          const std::string& subject, const std::string& quantity) {
    for (const auto& finding : findings) {
        if (finding.rule == rule && finding.subject == subject &&
            finding.quantity.find(quantity) != std::string::npos) {
            return finding;
        }
    }
    ADD_FAILURE() << "no finding " << rule << " for " << subject << " about " << quantity;
    return {};
}

std::string recess(const std::string& rest, const std::string& job_keys) {
    return R"([job]
name = "test"
datum = "floor"
)" + job_keys +
           R"(
[[layers]]
kind = "board"
name = "board"
thickness = "9 +/- 0.3"
[[layers]]
kind = "bed"
name = "bed"
thickness = "2 +/- 0.5"
[[layers]]
kind = "panel"
name = "panel"
thickness = "6 +/- 0.3"
[[walls]]
id = "left"
width = 900
height = 2400
[[walls]]
id = "back"
width = 1200
height = 2400
[walls.studs]
width = 45
depth = 90
centres = [22.5, 600, 1177.5]
[[walls.noggins]]
left = 0
right = 600
height = 1000
size = 90
depth = 45
set_back = 20
[[walls]]
id = "right"
width = 900
height = 2400
[panels]
order = ["back", "left", "right"]
)" + rest;
}

namespace {

double between(std::mt19937& random, double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
}

int one_of(std::mt19937& random, int count) { return std::uniform_int_distribution<int>(0, count - 1)(random); }

Length length(double value, double tolerance) { return {value, tolerance, {}}; }

Layer layer(LayerKind kind, double thickness, double tolerance) {
    return {kind, to_string(kind), length(thickness, tolerance), {}};
}

std::vector<FittingType> every_family() {
    std::vector<FittingType> types;
    for (const Family family : {Family::spindle, Family::window, Family::thread, Family::screw, Family::plate}) {
        FittingType type;
        type.id = to_string(family);
        type.name = type.id;
        type.family = family;
        type.connection = family == Family::plate ? "M3.5" : family == Family::thread ? "G 1/2" : "fits";
        type.spindle_length = length(50, 0.5);
        type.proud_min = length(18, 0);
        type.proud_max = length(30, 0);
        type.face_min = length(20, 0);
        type.face_max = length(40, 0);
        type.tail_length = length(45, 0.5);
        type.socket_depth = length(18, 0);
        type.screw_length = length(60, 0.5);
        type.base_thickness = length(4, 0.2);
        type.embedment_min = length(25, 0);
        type.recess_max = length(10, 0);
        type.holes.push_back({RoundedRect::circle({0, 0}, 35), RoundedRect::circle({0, 0}, 26), {}});
        type.flanges.push_back({RoundedRect::circle({0, 0}, 62), {}});
        types.push_back(type);
    }
    return types;
}

Fitting random_fitting(std::mt19937& random, const Job& job, std::size_t number) {
    Fitting fitting;
    fitting.id = "f" + std::to_string(number);
    fitting.name = fitting.id;
    fitting.type = job.types[static_cast<std::size_t>(one_of(random, 5))].id;
    const auto w = static_cast<std::size_t>(one_of(random, static_cast<int>(job.walls.size())));
    fitting.wall = job.walls[w].id;
    using From = Across::From;
    From from = static_cast<From>(one_of(random, 5));
    const bool no_left = w == 0;
    const bool no_right = w + 1 == job.walls.size();
    if ((from == From::left_finished || from == From::centre) && no_left) from = From::left_bare;
    if ((from == From::right_finished || from == From::centre) && no_right) from = From::right_bare;
    fitting.across.from = from;
    fitting.across.distance = from == From::centre ? between(random, -100, 100) : between(random, 200, 500);
    fitting.height = between(random, 300, 2300);
    if (one_of(random, 10) != 0) fitting.seat = length(between(random, -30, 10), 2);
    return fitting;
}

}  // namespace

Job random_job(std::mt19937& random) {
    Job job;
    job.name = "random";
    job.datum = "floor";
    job.seat_tolerance = 2;
    job.panels.top = 2100;
    job.types = every_family();
    const int walls = 2 + one_of(random, 3);
    for (int i = 0; i < walls; ++i) {
        Wall wall;
        wall.id = "w" + std::to_string(i);
        wall.name = wall.id;
        wall.width = between(random, 900, 2000);
        wall.height = 2400;
        wall.next_angle = one_of(random, 2) ? 90 : between(random, 60, 300);
        wall.layers = {layer(LayerKind::board, between(random, 6, 15), 0.3),
                       layer(LayerKind::bed, between(random, 1, 4), 0.5), layer(LayerKind::panel, 6, 0.3)};
        wall.studs = Studs{45, 90, 0, {22.5, wall.width / 2, wall.width - 22.5}, {}};
        job.walls.push_back(wall);
        job.panels.order.push_back(wall.id);
    }
    std::shuffle(job.panels.order.begin(), job.panels.order.end(), random);
    for (std::size_t i = 0; i < 6; ++i) job.fittings.push_back(random_fitting(random, job, i));
    return job;
}

Job mirrored(const Job& job) {
    Job mirror = job;
    std::reverse(mirror.walls.begin(), mirror.walls.end());
    for (std::size_t i = 0; i < mirror.walls.size(); ++i) {
        // The angle after a wall in the mirror is the angle before it in the job.
        const std::size_t before = (2 * job.walls.size() - 2 - i) % job.walls.size();
        mirror.walls[i].next_angle = job.walls[before].next_angle;
        Wall& wall = mirror.walls[i];
        std::swap(wall.gaps.left, wall.gaps.right);
        if (wall.studs) {
            for (double& centre : wall.studs->centres) centre = wall.width - centre;
        }
        const auto turn = [&](auto& piece) {
            const double right = wall.width - piece.left;
            piece.left = wall.width - piece.right;
            piece.right = right;
        };
        for (auto& noggin : wall.noggins) turn(noggin);
        for (auto& opening : wall.openings) turn(opening);
    }
    using From = Across::From;
    const auto flip = [](Across& across) {
        switch (across.from) {
            case From::left_bare:
                across.from = From::right_bare;
                break;
            case From::right_bare:
                across.from = From::left_bare;
                break;
            case From::left_finished:
                across.from = From::right_finished;
                break;
            case From::right_finished:
                across.from = From::left_finished;
                break;
            case From::centre:
                across.distance = -across.distance;
                break;
        }
    };
    for (auto& fitting : mirror.fittings) flip(fitting.across);
    for (auto& wall : mirror.walls) {
        for (auto& join : wall.joins) flip(join);
    }
    return mirror;
}

}  // namespace standproud::testing
