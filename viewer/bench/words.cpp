#include "bench/words.hpp"

#include <fmt/format.h>

#include "rules/words.hpp"

namespace standproud::viewer {

namespace {

std::string part_words(const Bench& bench, const nesting::SheetLayout& sheet, std::optional<std::size_t> part) {
    using Kind = nesting::CutPart::Kind;
    if (!part) return "nothing";
    const auto& one = sheet.parts[*part];
    const std::string size = fmt::format("{:.1f} x {:.1f}", one.at.width, one.at.height);
    switch (one.kind) {
        case Kind::piece:
            return "panel " + bench.pieces[one.piece].id;
        case Kind::offcut:
            return "offcut " + size + ", keep";
        case Kind::waste:
            return "waste";
        default:
            return "part " + size;
    }
}

}  // namespace

std::vector<SheetCut> cuts_of(const Bench& bench, const nesting::SheetLayout& sheet) {
    using Kind = nesting::CutPart::Kind;
    std::vector<SheetCut> cuts;
    for (const auto& part : sheet.parts) {
        if (part.kind != Kind::cut_upright && part.kind != Kind::cut_level) continue;
        const bool upright = part.kind == Kind::cut_upright;
        const double edge = upright ? part.at.x : part.at.y;
        cuts.push_back({upright, part.trims, part.at, part.from - edge, part.to - edge,
                        part_words(bench, sheet, part.first), part_words(bench, sheet, part.second)});
    }
    return cuts;
}

bool sawn_rear_up(const Bench& bench) { return bench.jobs.front().settings.saw == BenchSaw::circular; }

std::string to_string(cutting::EdgeSide side) {
    static constexpr const char* words[] = {"bottom", "right", "top", "left"};
    return words[static_cast<int>(side)];
}

std::string to_string(cutting::Tool tool) {
    static constexpr const char* words[] = {"circular saw", "table saw", "jigsaw",         "drill",
                                            "step drill",   "hole saw",  "plane or paper", "sander",
                                            "hand",         "cloth",     "cartridge gun",  "none"};
    return words[static_cast<int>(tool)];
}

std::string to_string(cutting::Work work) {
    static constexpr const char* words[] = {"saw outline",    "drill corners", "drill",        "hole saw, front",
                                            "hole saw, rear", "saw opening",   "finish edges", "dry fit",
                                            "rear film off",  "scuff rear",    "wipe rear",    "tape and bead",
                                            "press on",       "leave",         "seal",         "front film off"};
    return words[static_cast<int>(work)];
}

std::string to_string(cutting::Face face) { return face == cutting::Face::rear ? "rear" : "front"; }

std::string to_string(JointKind kind) {
    static constexpr const char* words[] = {"join", "corner", "base", "ceiling", "opening", "end"};
    return words[static_cast<int>(kind)];
}

std::string size_words(const RoundedRect& shape) {
    if (shape.is_circle()) return fmt::format("{} mm round", rules::mm(2 * shape.radius));
    return fmt::format("{} x {} mm, corners {} mm", rules::mm(2 * shape.half_width), rules::mm(2 * shape.half_height),
                       rules::mm(shape.radius));
}

std::string minute_words(sequence::LocalMinute minute) {
    const auto day = std::chrono::floor<std::chrono::days>(minute);
    const std::chrono::year_month_day date{std::chrono::local_days(day)};
    const auto in_day = (minute - day).count();
    return fmt::format("{:04}-{:02}-{:02} {:02}:{:02}", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), in_day / 60,
                       in_day % 60);
}

}  // namespace standproud::viewer
