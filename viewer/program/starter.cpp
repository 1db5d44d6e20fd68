// `standproud new`: a commented job file to start from.
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <iostream>

#include "modeler/files.hpp"
#include "program/commands.hpp"
#include "program/output.hpp"
#include "viewer/new_job.hpp"

namespace standproud::program {

namespace {

template <class Value>
bool ask(const char* question, Value& value, Value least, Value most) {
    while (true) {
        remark("{} ({:g} to {:g}): ", question, static_cast<double>(least), static_cast<double>(most));
        std::string line;
        if (!std::getline(std::cin, line)) return false;
        try {
            std::size_t used = 0;
            const double number = std::stod(line, &used);
            if (used == line.size() && number >= static_cast<double>(least) && number <= static_cast<double>(most) &&
                static_cast<double>(static_cast<Value>(number)) == number) {
                value = static_cast<Value>(number);
                return true;
            }
        } catch (const std::exception&) {
            // Not a number: ask again.
        }
    }
}

/// Asks for what is missing; false when there is nobody to ask.
bool complete(StarterOptions& options) {
    if (options.walls == 0 && !ask("Walls to line", options.walls, 1, 3)) return false;
    if (options.width == 0 && !ask("Width of the back wall on the bare face, mm", options.width, 100.0, 20000.0))
        return false;
    if (options.walls > 1 && options.depth == 0 && !ask("Depth of the recess, mm", options.depth, 100.0, 20000.0))
        return false;
    return options.height != 0 || ask("Height of the walls, mm", options.height, 100.0, 6000.0);
}

}  // namespace

std::string starter_text(const StarterOptions& options) {
    viewer::NewJob job;
    if (!options.name.empty()) job.name = options.name;
    job.walls = options.walls;
    job.left = job.right = options.depth;
    job.back = options.width;
    job.height = options.height;
    // Half-way up a low wall, else where a hand finds it.
    job.fittings = {{"tap", false, "back", options.width / 2, std::min(1050.0, options.height / 2)}};
    // A wall too small for the example does without it.
    if (!viewer::refused_answers(job).empty()) job.fittings.clear();
    return viewer::new_job_text(job);
}

int run_new(StarterOptions options) {
    const bool to_screen = options.file == "-";
    if (!to_screen && !options.replace && std::filesystem::exists(options.file)) {
        remark("standproud: {} is there already; --replace writes over it\n", options.file);
        return bad_input;
    }
    if (!complete(options)) {
        remark("standproud: answers are missing: give --walls, --width, --depth and --height\n");
        return bad_input;
    }
    const std::string text = starter_text(options);
    if (to_screen) {
        put(text);
    } else {
        write_whole(options.file, text);
        print("{}: fill it in, then: standproud check {}\n", options.file, options.file);
    }
    return all_well;
}

}  // namespace standproud::program
