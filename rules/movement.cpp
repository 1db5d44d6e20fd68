// panel.movement: what heat and moisture do to the gaps about the panels, by the climate and the sealant of [bench].
// One finding for the gaps under all panels, one for those over them, one for the joins of each wall, one for each
// corner: of the worst of them, with the others named. Without [bench] nothing is known of the climate, and nothing is
// said.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "judge.hpp"
#include "modeler/panel_movement.hpp"
#include "rules/gap_remedy.hpp"
#include "rules/words.hpp"

namespace standproud::rules {

namespace {

/// What may be wrong with a gap, the worst last.
enum class State { clear, narrow, squeezed, stretched, closes };

/// A gap with what becomes of it.
struct Judged {
    const PanelJoint* joint = nullptr;
    JointMovement movement;
    State state = State::clear;
};

/// What all gaps of a job are judged by.
struct Conditions {
    const BenchSettings* bench = nullptr;
    movement::Strain strain;
    movement::SealantClass sealant = movement::SealantClass::c25;
    Limit least;  ///< of a sealed join
};

std::string percent(double share) { return fmt::format("{:g} %", std::round(share * 1000) / 10); }

State state_of(const PanelJoint& joint, const JointMovement& movement, const Conditions& by) {
    if (movement.moved.narrowest <= same_length) return State::closes;
    if (!joint.sealed) return State::clear;
    const double may = movement::capability(by.sealant) + same_length;
    if (movement.moved.tension > may) return State::stretched;
    if (movement.moved.compression > may) return State::squeezed;
    return joint.kind == JointKind::join && joint.gap.width < by.least.value - same_length ? State::narrow
                                                                                           : State::clear;
}

Verdict verdict_of(State state) {
    if (state == State::clear) return Verdict::clear;
    return state == State::stretched || state == State::closes ? Verdict::fails : Verdict::tight;
}

bool worse(const Judged& a, const Judged& b) {
    if (a.state != b.state) return a.state > b.state;
    if (a.state == State::stretched) return a.movement.moved.tension > b.movement.moved.tension + same_length;
    return a.movement.moved.narrowest < b.movement.moved.narrowest - same_length;
}

Source source_of(const BenchSettings& bench, const std::string& key) {
    for (const auto& one : bench.figures) {
        if (one.key == key) return one.set.value_or(bench.source);
    }
    return bench.source;
}

/// Whether what is judged is the width when cold and dry: sealant that is stretched there, or a gap that closes there
/// because its panel draws away from it as it grows.
bool judged_cold(const Judged& judged) {
    const bool widest = judged.state == State::stretched;
    const auto& moved = judged.movement.moved;
    return widest == (moved.cold_and_dry >= moved.hot_and_wet);
}

/// Terms that come to the width at the end that is judged: hot and wet, or, of sealant that is stretched, cold and dry.
Sum terms_of(const Model& model, const Judged& judged, const Conditions& by) {
    const PanelJoint& joint = *judged.joint;
    const double moving = joint.first_moves + joint.second_moves;
    const std::string of = fmt::format("{} mm of panel", mm(std::round(std::abs(moving) * 10) / 10));
    Sum sum;
    const bool written = joint.gap.source.line > 0;
    sum.add(written ? "gap as drawn" : "gap, left out: 4 mm", joint.gap.width, 0,
            written ? joint.gap.source : model.job.walls[joint.wall].source);
    if (judged_cold(judged)) {
        sum.add("cold: " + of, moving * by.strain.thermal_shrinkage, 0, source_of(*by.bench, "coldest"));
        sum.add("dry: " + of, moving * by.strain.moisture_shrinkage, 0, source_of(*by.bench, "driest"));
    } else {
        sum.add("hot: " + of, -moving * by.strain.thermal_growth, 0, source_of(*by.bench, "hottest"));
        sum.add("wet: " + of, -moving * by.strain.moisture_growth, 0, source_of(*by.bench, "wettest"));
    }
    return sum;
}

std::string class_words(const BenchSettings& bench) {
    static constexpr const char* classes[] = {"25", "20", "12.5", "7.5"};
    return classes[bench.sealant];
}

std::string says(const Judged& judged, const Conditions& by) {
    const PanelJoint& joint = *judged.joint;
    const auto& moved = judged.movement.moved;
    const std::string left = moved.narrowest > same_length
                                 ? fmt::format("{} mm is left open", mm(moved.narrowest))
                                 : fmt::format("it closes, {} mm short", mm(-moved.narrowest));
    std::string text = fmt::format("{}: {} mm as drawn; ", joint.name, mm(joint.gap.width));
    text += moved.closing_thermal + moved.closing_moisture >= 0
                ? fmt::format("hot and wet {} (heat takes {}, moisture {}), cold and dry it is {} mm wide", left,
                              mm(moved.closing_thermal), mm(moved.closing_moisture), mm(moved.widest))
                : fmt::format(
                      "the panel grows away from it: hot and wet it is {} mm wide (heat gives {}, moisture {}), "
                      "cold and dry {}",
                      mm(moved.widest), mm(-moved.closing_thermal), mm(-moved.closing_moisture), left);
    if (judged.state >= State::squeezed) text += ". That is the most: free of the bond, which holds some of it back";
    if (joint.sealed && joint.gap.width > 0) {
        text +=
            fmt::format(". Sealant squeezed {}, stretched {}; class {} takes {} either way", percent(moved.compression),
                        percent(moved.tension), class_words(*by.bench), percent(movement::capability(by.sealant)));
    }
    if (joint.kind == JointKind::join && joint.gap.width < by.least.value - same_length)
        text += fmt::format(". Narrower than the {} mm usual for a sealed join", mm(by.least.value));
    return text;
}

/// The width from which a gap is clear.
double width_for(const Judged& judged, const Conditions& by) {
    const PanelJoint& joint = *judged.joint;
    const auto& moved = judged.movement.moved;
    if (!joint.sealed) return moved.closing_thermal + moved.closing_moisture;
    return joint.kind == JointKind::join ? std::max(judged.movement.needed, by.least.value) : judged.movement.needed;
}

/// The same to 0.1 mm, and more than a gap that just closes.
double round_width(const Judged& judged, const Conditions& by) {
    const double width = width_for(judged, by);
    const double round = std::round(tenth_up(width) * 10) / 10;
    return round < width + same_length && !judged.joint->sealed ? round + 0.1 : round;
}

std::string action(const Judged& judged, const Conditions& by) {
    const PanelJoint& joint = *judged.joint;
    const auto& moved = judged.movement.moved;
    const double width = width_for(judged, by);
    const std::string sealed =
        fmt::format("{} mm keeps its sealant within class {}", mm(tenth_up(width)), class_words(*by.bench));
    const std::string where = fmt::format(" ({})", joint.key);
    if (judged.state != State::clear && round_width(judged, by) > widest_gap)
        return fmt::format(
            "No gap that a job file takes, up to {} mm, would do: {} mm. Smaller panels, another sealant, or "
            "less of heat and moisture.",
            mm(widest_gap), mm(tenth_up(width)));
    switch (judged.state) {
        case State::clear:
            return "";
        case State::narrow:
            return fmt::format("{} mm or more is usual; else ask the sealant's maker{}.", mm(by.least.value), where);
        case State::squeezed:
            return fmt::format("Ask the sealant's maker; a gap of {}{}.", sealed, where);
        case State::stretched:
            return fmt::format("Widen it: {}{}. Or ask the sealant's maker what it stands there.", sealed, where);
        case State::closes:
            break;
    }
    const double open = joint.gap.width - moved.narrowest;
    return fmt::format("Widen it{}: more than {} mm stays open{}.", where, mm(tenth_up(open)),
                       joint.sealed ? ", " + sealed : "");
}

std::string source(const Judged& judged, const Conditions& by) {
    std::string text = "movement about the middle of a panel, by the figures of [bench] at " +
                       to_string(Source{by.bench->source.file, by.bench->source.line, 0});
    if (!judged.joint->sealed) return text;
    text += "; ISO 11600 movement class, plus or minus per cent of the width, published";
    return judged.joint->kind == JointKind::join ? text + "; " + limit_source(by.least) : text;
}

std::string kind_words(const Model& model, const PanelJoint& joint) {
    switch (joint.kind) {
        case JointKind::base:
            return "gap under the panels";
        case JointKind::ceiling:
            return "gap over the panels";
        case JointKind::join:
            return joint.level ? "level join" : "join";
        case JointKind::opening:
            return "gap at openings";
        case JointKind::end: {
            const Corner* corner = corner_at(model.room, joint.wall, joint.entry == 0 ? Side::left : Side::right);
            return fmt::format("end at wall {}", model.job.walls[neighbour(*corner, joint.wall)].id);
        }
        case JointKind::corner:
            break;
    }
    const std::size_t first = model.panels[joint.panels.front()].wall;
    const std::size_t other = first == joint.wall ? model.panels[joint.panels.back()].wall : first;
    return fmt::format("{} wall {}", joint.sealed ? "corner with" : "edge behind the panels of",
                       model.job.walls[other].id);
}

/// Those beside the worst that are not clear, each with the width that would do.
std::string others_words(const std::vector<Judged>& alike, const Judged& worst, const Conditions& by) {
    std::map<std::string, std::string> by_width;
    for (const auto& other : alike) {
        if (other.joint == worst.joint || other.state == State::clear) continue;
        auto& names = by_width[mm(tenth_up(width_for(other, by)))];
        names += (names.empty() ? "" : ", ") + other.joint->name;
    }
    std::string also;
    for (const auto& [width, names] : by_width)
        also += fmt::format("{}{} ({} mm would do)", also.empty() ? ". Not clear either: " : "; ", names, width);
    return also;
}

bool of_recess(const PanelJoint& joint) { return joint.kind == JointKind::base || joint.kind == JointKind::ceiling; }

Finding finding_of(const Model& model, const std::vector<Judged>& alike, const Conditions& by) {
    const Judged& worst = *std::min_element(alike.begin(), alike.end(), worse);
    const PanelJoint& joint = *worst.joint;
    Finding finding;
    finding.rule = "panel.movement";
    finding.wall = model.job.walls[joint.wall].id;
    finding.subject = of_recess(joint) ? "recess" : "wall " + finding.wall;
    finding.trade = Trade::installer;
    finding.quantity =
        fmt::format("{}: width {}", kind_words(model, joint), judged_cold(worst) ? "cold and dry" : "hot and wet");
    Need need{0, std::nullopt};
    if (joint.sealed) {
        const double may = movement::capability(by.sealant);
        need = worst.state == State::stretched ? Need{std::nullopt, joint.gap.width * (1 + may)}
                                               : Need{joint.gap.width * (1 - may), std::nullopt};
        if (worst.state == State::narrow) need = {0, std::nullopt};
    }
    judge(finding, terms_of(model, worst, by), need, model.job.statistical);
    finding.verdict = verdict_of(worst.state);
    finding.says = says(worst, by);
    finding.says += others_words(alike, worst, by);
    finding.action = action(worst, by);
    finding.source = source(worst, by);
    finding.spot = 0.5 * (joint.from + joint.to);
    return finding;
}

/// Walls stand on one level under one line, so their gaps there are alike; corners are told one by one.
using Groups = std::map<std::tuple<std::size_t, int, std::vector<std::size_t>, bool>, std::vector<Judged>>;

Groups groups_of(const std::vector<PanelJoint>& joints, const Conditions& by) {
    Groups groups;
    for (const auto& joint : joints) {
        const auto movement = move_joint(joint, by.strain, by.sealant);
        const Judged judged{&joint, movement, state_of(joint, movement, by)};
        const std::size_t wall = of_recess(joint) ? 0 : joint.wall + 1;
        const bool told_apart = joint.kind == JointKind::corner || joint.kind == JointKind::end;
        const auto corner = told_apart ? joint.panels : std::vector<std::size_t>{};
        const int kind = 2 * static_cast<int>(joint.kind) + (joint.level ? 1 : 0);
        groups[{wall, kind, corner, !joint.sealed}].push_back(judged);
    }
    return groups;
}

Conditions conditions_of(const Model& model, const Limits& limits) {
    return {&*model.job.bench, strain_of(*model.job.bench), sealant_of(*model.job.bench), limits.at("join.least")};
}

/// Where the file says how wide a gap is. A mitred corner has half of both ends' gaps.
std::vector<GapPlace> places_of(const Model& model, const PanelJoint& joint) {
    const auto edge = [](std::size_t wall, const char* key) { return GapPlace{wall, "", 0, key}; };
    const Wall& wall = model.job.walls[joint.wall];
    switch (joint.kind) {
        case JointKind::base:
            return {edge(joint.wall, "bottom")};
        case JointKind::ceiling:
            return {edge(joint.wall, "top")};
        case JointKind::opening:
            return {{joint.wall, "openings", joint.entry, "gap"}};
        case JointKind::end:
            return {edge(joint.wall, joint.entry == 0 ? "left" : "right")};
        case JointKind::join: {
            const auto& own = joint.level ? wall.level_joins[joint.entry].gap : wall.joins[joint.entry].gap;
            if (own) return {{joint.wall, joint.level ? "level_joins" : "joins", joint.entry, "gap"}};
            return {edge(joint.wall, "join")};
        }
        case JointKind::corner:
            break;
    }
    const std::size_t left = model.panels[joint.panels.front()].wall;
    const std::size_t right = model.panels[joint.panels.back()].wall;
    if (joint.sealed && joint.second_moves > 0) return {edge(left, "right"), edge(right, "left")};
    return {joint.wall == left ? edge(left, "right") : edge(right, "left")};
}

std::string remedy_words(const std::vector<Judged>& alike, const Judged& worst, const std::string& width,
                         std::size_t places) {
    switch (worst.joint->kind) {
        case JointKind::base:
            return fmt::format("Make the gap under the panels {} mm", width);
        case JointKind::ceiling:
            return fmt::format("Make the gap over the panels {} mm", width);
        case JointKind::corner:
            return fmt::format("Make the gap in the corner {} mm", width);
        case JointKind::end:
            return fmt::format("Make the gap at the end of the wall {} mm", width);
        case JointKind::opening:
            return fmt::format("Make the gap at the opening{} {} mm", places > 1 ? "s" : "", width);
        case JointKind::join:
            break;
    }
    return fmt::format("Make the {} {} mm", places > 1 || alike.size() > 1 ? "joins" : "join", width);
}

}  // namespace

std::vector<Finding> check_movement(const Model& model, const Limits& limits) {
    if (!model.job.bench) return {};
    const Conditions by = conditions_of(model, limits);
    const auto joints = panel_joints(model);
    std::vector<Finding> findings;
    for (const auto& [key, alike] : groups_of(joints, by)) findings.push_back(finding_of(model, alike, by));
    return findings;
}

std::optional<GapRemedy> gap_remedy(const Model& model, const Limits& limits, const Finding& finding) {
    if (!model.job.bench || finding.rule != "panel.movement" || finding.verdict == Verdict::clear) return std::nullopt;
    const Conditions by = conditions_of(model, limits);
    const auto joints = panel_joints(model);
    for (const auto& [key, alike] : groups_of(joints, by)) {
        const Judged& worst = *std::min_element(alike.begin(), alike.end(), worse);
        if (finding.wall != model.job.walls[worst.joint->wall].id) continue;
        if (finding_of(model, alike, by).says != finding.says) continue;
        GapRemedy remedy;
        for (const Judged& judged : alike) {
            if (judged.state == State::clear) continue;
            remedy.width = std::max(remedy.width, round_width(judged, by));
            for (const GapPlace& place : places_of(model, *judged.joint)) {
                if (std::find(remedy.places.begin(), remedy.places.end(), place) == remedy.places.end())
                    remedy.places.push_back(place);
            }
        }
        if (remedy.width > widest_gap) return std::nullopt;
        remedy.words = remedy_words(alike, worst, mm(remedy.width), remedy.places.size());
        return remedy;
    }
    return std::nullopt;
}

}  // namespace standproud::rules
