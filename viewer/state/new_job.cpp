#include "viewer/new_job.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

#include "state/write_value.hpp"

namespace standproud::viewer {

namespace {

constexpr const char* head =
    "# A job for standproud, to be filled in. Lengths in mm, seen from inside the room, walls from left to right.\n"
    "# A length with its tolerance is written \"48 +/- 0.5\". A number that is not known is left out: what depends\n"
    "# on it is then reported as unknown. Replace every value marked \"measure\" or \"example\" by your own.\n\n"
    "[job]\n"
    "name = {}\n"
    "revision = \"A\"\n"
    "datum = \"top of the tray\"   # what height 0 is, in words\n"
    "seat_tolerance = 2          # +/- that bodies are set to, where a seat states none\n{}\n"
    "# The layers from the bare face outwards: boards, membranes, one bed, one panel. Example values: measure.\n"
    "[[layers]]\n"
    "kind = \"board\"\n"
    "name = \"lining board\"\n"
    "thickness = \"{} +/- 0.3\"\n\n"
    "[[layers]]\n"
    "kind = \"bed\"\n"
    "name = \"tape and adhesive\"\n"
    "thickness = \"{} +/- 0.5\"\n\n"
    "[[layers]]\n"
    "kind = \"panel\"\n"
    "name = \"wall panel\"\n"
    "thickness = \"{} +/- 0.3\"\n\n";

constexpr const char* tap_type =
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
    "diameter = 60\n"
    "[[types.parts]]\n"
    "role = \"flange\"\n"
    "from = \"face\"\n"
    "diameter = 60\n"
    "start = 0\n"
    "length = 8\n"
    "[[types.parts]]\n"
    "role = \"spindle\"\n"
    "from = \"seat\"\n"
    "diameter = 10\n"
    "start = 0\n"
    "length = 52\n\n"
    "[[stock]]\n"
    "id = \"example-ext-15\"\n"
    "name = \"15 mm spindle extension\"\n"
    "kind = \"extension\"\n"
    "fits = \"example spline\"\n"
    "adds = \"15 +/- 0.3\"\n\n";

constexpr const char* mixer_type =
    "[[types]]\n"
    "id = \"example-mixer\"\n"
    "name = \"example concealed mixer: replace by the maker's figures\"\n"
    "family = \"window\"\n"
    "trade = \"plumber\"\n"
    "connection = \"example cartridge\"\n"
    "face_min = 8        # the finished face must lie so far in front of the body, at least and at most\n"
    "face_max = 32\n"
    "[[types.holes]]\n"
    "diameter = 74\n"
    "passes = 58\n"
    "[[types.flanges]]\n"
    "diameter = 150\n"
    "[[types.parts]]\n"
    "role = \"flange\"\n"
    "from = \"face\"\n"
    "diameter = 150\n"
    "start = 0\n"
    "length = 6\n"
    "[[types.parts]]\n"
    "role = \"handle\"\n"
    "from = \"face\"\n"
    "diameter = 52\n"
    "start = 10\n"
    "length = 50\n\n";

constexpr const char* rose_type =
    "[[types]]\n"
    "id = \"example-rose\"\n"
    "name = \"example shower rose on a wall arm: replace by the maker's figures\"\n"
    "family = \"thread\"\n"
    "trade = \"plumber\"\n"
    "connection = \"G 1/2\"\n"
    "tail_length = \"38 +/- 0.5\"   # from under the flange to the end of the tail\n"
    "socket_depth = 18\n"
    "[[types.holes]]\n"
    "diameter = 34\n"
    "passes = 21\n"
    "[[types.flanges]]\n"
    "diameter = 62\n"
    "[[types.parts]]\n"
    "role = \"flange\"\n"
    "from = \"face\"\n"
    "diameter = 62\n"
    "start = 0\n"
    "length = 8\n"
    "[[types.parts]]\n"
    "role = \"arm\"\n"
    "from = \"face\"\n"
    "diameter = 24\n"
    "start = 8\n"
    "length = 300\n\n";

struct Kind {
    const char* word;
    const char* says;
    const char* type;
};
constexpr std::array kinds{Kind{"tap", "tap with a spindle", tap_type}, Kind{"mixer", "concealed mixer", mixer_type},
                           Kind{"rose", "shower rose on a wall arm", rose_type}};

const Kind* kind_of(const std::string& word) {
    const auto found = std::find_if(kinds.begin(), kinds.end(), [&](const Kind& kind) { return word == kind.word; });
    return found == kinds.end() ? nullptr : found;
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

/// The walls of a job, from left to right: id and width.
std::vector<std::pair<const char*, double>> walls_of(const NewJob& job) {
    if (job.walls == 1) return {{"back", job.back}};
    if (job.walls == 2) return {{"back", job.back}, {"right", job.right}};
    return {{"left", job.left}, {"back", job.back}, {"right", job.right}};
}

std::string example_types(const NewJob& job) {
    std::string text;
    std::set<std::string> written;
    for (const auto& fitting : job.fittings) {
        if (!fitting.from_catalogue && written.insert(fitting.kind).second) text += kind_of(fitting.kind)->type;
    }
    return text;
}

std::string fittings_text(const NewJob& job) {
    if (job.fittings.empty()) return "";
    std::string text =
        "# Example fittings. Their seats are not yet known, so their verdicts are \"unknown\" and the report says how "
        "deep\n"
        "# to set them. Write seat = -10 once it is decided: negative is behind the bare face.\n";
    text += example_types(job);
    std::map<std::string, int> number;
    for (const auto& fitting : job.fittings) {
        const int n = ++number[fitting.kind];
        text += fmt::format(
            "[[fittings]]\n"
            "id = {}\n"
            "type = {}\n"
            "wall = \"{}\"\n"
            "across = {}\n"
            "from = \"left bare\"   # or left finished, right bare, right finished, centre\n"
            "height = {}\n"
            "# seat = -10\n",
            toml_string(n == 1 ? fitting.kind : fmt::format("{}-{}", fitting.kind, n)),
            toml_string(fitting.from_catalogue ? fitting.kind : "example-" + fitting.kind), fitting.wall,
            number_text(fitting.across), number_text(fitting.height));
        text += &fitting == &job.fittings.back() ? "" : "\n";
    }
    return text;
}

/// A line of the header, where any fitting is from a catalogue.
std::string catalogue_line(const NewJob& job, const std::filesystem::path& folder) {
    const bool used =
        std::any_of(job.fittings.begin(), job.fittings.end(), [](const auto& f) { return f.from_catalogue; });
    if (!used) return "";
    std::string files;
    for (const auto& file : job.catalogues) {
        const auto from_here = folder.empty() ? file : std::filesystem::proximate(file, folder);
        files += (files.empty() ? "" : ", ") + toml_string(from_here.generic_string());
    }
    return fmt::format("catalogue = [{}]\n", files);
}

std::string out_of(const std::string& name, double value, double least, double most) {
    if (std::isfinite(value) && value >= least && value <= most) return "";
    return fmt::format("{}: {:g} to {:g} mm, not {:g}", name, least, most, value);
}

}  // namespace

const std::vector<std::pair<std::string, std::string>>& fitting_kinds() {
    static const std::vector<std::pair<std::string, std::string>> list = [] {
        std::vector<std::pair<std::string, std::string>> made;
        for (const auto& kind : kinds) made.emplace_back(kind.word, kind.says);
        return made;
    }();
    return list;
}

std::vector<std::filesystem::path> catalogues_of(const CheckedJob& job) {
    const auto& made = job.model.job;
    std::vector<std::filesystem::path> files;
    const auto add = [&](const std::string& file) {
        if (file.empty() || file == made.file) return;
        const auto whole = std::filesystem::absolute(file).lexically_normal();
        if (std::find(files.begin(), files.end(), whole) == files.end()) files.push_back(whole);
    };
    for (const auto& type : made.types) {
        if (type.id.find('+') == type.id.npos) add(type.source.file);
    }
    for (const auto& item : made.stock) add(item.source.file);
    return files;
}

std::vector<std::pair<std::string, std::string>> catalogue_types(const CheckedJob& job) {
    std::vector<std::pair<std::string, std::string>> types;
    for (const auto& type : job.model.job.types) {
        // A type with an item from stock on it is one of the job's own.
        if (type.source.file == job.model.job.file || type.id.find('+') != type.id.npos) continue;
        types.emplace_back(type.id, type.name);
    }
    return types;
}

std::string refused_answers(const NewJob& job) {
    if (job.walls < 1 || job.walls > 3) return fmt::format("walls: 1 to 3, not {}", job.walls);
    for (const auto& [id, width] : walls_of(job)) {
        if (const auto fault = out_of(fmt::format("width of wall {}", id), width, 100, 20000); !fault.empty())
            return fault;
    }
    for (const auto& [name, value, least, most] :
         {std::tuple{"height", job.height, 100.0, 6000.0}, std::tuple{"lining board", job.board, 0.0, 200.0},
          std::tuple{"bed", job.bed, 0.0, 200.0}, std::tuple{"panel", job.panel, 0.5, 200.0}}) {
        if (const auto fault = out_of(name, value, least, most); !fault.empty()) return fault;
    }
    for (const auto& fitting : job.fittings) {
        if (!fitting.from_catalogue && !kind_of(fitting.kind))
            return fmt::format("there is no kind of fitting \"{}\"", fitting.kind);
        double width = -1;
        for (const auto& [id, each] : walls_of(job)) width = fitting.wall == id ? each : width;
        if (width < 0) return fmt::format("there is no wall \"{}\"", fitting.wall);
        // Its flange must lie on the wall, or no panel could be drilled for it.
        constexpr double room = 80;
        const auto across = out_of(fitting.kind + ", across", fitting.across, room, width - room);
        const auto height = out_of(fitting.kind + ", height", fitting.height, room, job.height - room);
        if (!across.empty()) return across;
        if (!height.empty()) return height;
    }
    return "";
}

std::string new_job_text(const NewJob& job, const std::filesystem::path& folder) {
    std::string text =
        fmt::format(head, toml_string(job.name.empty() ? "New job" : job.name), catalogue_line(job, folder),
                    number_text(job.board), number_text(job.bed), number_text(job.panel));
    const auto walls = walls_of(job);
    for (std::size_t i = 0; i < walls.size(); ++i) {
        text += wall_text(walls[i].first, walls[i].second, job.height, i + 1 == walls.size());
    }
    const char* order = job.walls == 3   ? "\"back\", \"left\", \"right\""
                        : job.walls == 2 ? "\"back\", \"right\""
                                         : "\"back\"";
    text += fmt::format(
        "[panels]\n"
        "gap = 4             # at corners, joins, tray and top\n"
        "order = [{}]        # which wall is lined first\n"
        "# top = 2100        # without it the panels run to the walls' height\n\n",
        order);
    return text + fittings_text(job);
}

}  // namespace standproud::viewer
