// `standproud new`: a commented job file to start from.
#include <fmt/format.h>

#include <filesystem>
#include <iostream>

#include "modeler/files.hpp"
#include "program/commands.hpp"

namespace standproud::program {

namespace {

/// A TOML basic string: quotes, backslashes and control characters escaped.
std::string quoted(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') {
            out += '\\';
            out += c;
        } else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) {
            out += fmt::format("\\u{:04X}", static_cast<int>(c));
        } else {
            out += c;
        }
    }
    return out + "\"";
}

std::string wall_text(const char* id, double width, double height, bool last) {
    return fmt::format(
        "[[walls]]\n"
        "id = \"{}\"\n"
        "width = {:g}      # on the bare face\n"
        "height = {:g}     # above the datum\n"
        "{}"
        "[walls.studs]       # or [walls.masonry] with a thickness\n"
        "width = 45\n"
        "depth = 90\n"
        "centres = [{:g}, {:g}, {:g}]   # from the left bare corner: measure yours\n\n",
        id, width, height, last ? "" : "next_angle = 90   # to the next wall, inside the room\n", 22.5, width / 2,
        width - 22.5);
}

constexpr const char* head =
    "# A job for standproud, to be filled in. Lengths in mm, seen from inside the room, walls from left to right.\n"
    "# A length with its tolerance is written \"48 +/- 0.5\". A number that is not known is left out: what depends\n"
    "# on it is then reported as unknown. Replace every value marked \"measure\" or \"example\" by your own.\n\n"
    "[job]\n"
    "name = {}\n"
    "revision = \"A\"\n"
    "datum = \"top of the tray\"   # what height 0 is, in words\n"
    "seat_tolerance = 2          # +/- that bodies are set to, where a seat states none\n\n"
    "# The layers from the bare face outwards: boards, membranes, one bed, one panel. Example values: measure.\n"
    "[[layers]]\n"
    "kind = \"board\"\n"
    "name = \"lining board\"\n"
    "thickness = \"9 +/- 0.3\"\n\n"
    "[[layers]]\n"
    "kind = \"bed\"\n"
    "name = \"tape and adhesive\"\n"
    "thickness = \"2 +/- 0.5\"\n\n"
    "[[layers]]\n"
    "kind = \"panel\"\n"
    "name = \"wall panel\"\n"
    "thickness = \"6 +/- 0.3\"\n\n";

constexpr const char* tail =
    "[panels]\n"
    "gap = 4             # at corners, joins, tray and top\n"
    "order = [{}]        # which wall is lined first\n"
    "# top = 2100        # without it the panels run to the walls' height\n\n"
    "# One example fitting. Its seat is not yet known, so its verdict is \"unknown\" and the report says how deep\n"
    "# to set it. Write seat = -10 once it is decided: negative is behind the bare face.\n"
    "[[types]]\n"
    "id = \"example-tap\"\n"
    "name = \"example tap: replace by the maker's figures\"\n"
    "family = \"spindle\"\n"
    "trade = \"plumber\"\n"
    "connection = \"example spline\"\n"
    "spindle_length = \"52 +/- 0.5\"\n"
    "proud_min = 20\n"
    "proud_max = 32\n"
    "[[types.holes]]\n"
    "diameter = 35\n"
    "passes = 24\n"
    "[[types.flanges]]\n"
    "diameter = 60\n\n"
    "[[stock]]\n"
    "id = \"example-ext-15\"\n"
    "name = \"15 mm spindle extension\"\n"
    "kind = \"extension\"\n"
    "fits = \"example spline\"\n"
    "adds = \"15 +/- 0.3\"\n\n"
    "[[fittings]]\n"
    "id = \"tap\"\n"
    "type = \"example-tap\"\n"
    "wall = \"back\"\n"
    "across = {:g}\n"
    "from = \"left bare\"   # or left finished, right bare, right finished, centre\n"
    "height = 1050\n"
    "# seat = -10\n";

template <class Value>
bool ask(const char* question, Value& value, Value least, Value most) {
    while (true) {
        fmt::print(stderr, "{} ({:g} to {:g}): ", question, static_cast<double>(least), static_cast<double>(most));
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
    const std::string name = options.name.empty() ? "New job" : options.name;
    std::string text = fmt::format(head, quoted(name));
    if (options.walls == 3) text += wall_text("left", options.depth, options.height, false);
    text += wall_text("back", options.width, options.height, options.walls == 1);
    if (options.walls > 1) text += wall_text("right", options.depth, options.height, true);
    const char* order = options.walls == 3   ? "\"back\", \"left\", \"right\""
                        : options.walls == 2 ? "\"back\", \"right\""
                                             : "\"back\"";
    return text + fmt::format(tail, order, options.width / 2);
}

int run_new(StarterOptions options) {
    const bool to_screen = options.file == "-";
    if (!to_screen && !options.replace && std::filesystem::exists(options.file)) {
        fmt::print(stderr, "standproud: {} is there already; --replace writes over it\n", options.file);
        return bad_input;
    }
    if (!complete(options)) {
        fmt::print(stderr, "standproud: answers are missing: give --walls, --width, --depth and --height\n");
        return bad_input;
    }
    const std::string text = starter_text(options);
    if (to_screen) {
        fmt::print("{}", text);
    } else {
        write_whole(options.file, text);
        fmt::print("{}: fill it in, then: standproud check {}\n", options.file, options.file);
    }
    return all_well;
}

}  // namespace standproud::program
