// body.given: what of a fitting no rule could hold against anything, because its catalogue does not draw it.
#include <fmt/format.h>

#include <algorithm>

#include "judge.hpp"

namespace standproud::rules {

namespace {

/// Least and greatest distance out from the part's datum.
std::pair<double, double> depth_of(const TypePart& part) {
    if (part.axis == TypePart::Axis::out) return {part.start, part.start + part.length};
    const auto e = extent(part.outline);
    return {e[2], e[3]};
}

bool drawn_behind_seat(const FittingType& type) {
    return std::any_of(type.parts.begin(), type.parts.end(), [](const TypePart& part) {
        return part.datum == TypePart::Datum::seat && depth_of(part).first < -same_length;
    });
}

bool drawn_before_face(const FittingType& type) {
    return std::any_of(type.parts.begin(), type.parts.end(), [](const TypePart& part) {
        return part.datum == TypePart::Datum::face && depth_of(part).second > same_length;
    });
}

struct Left {
    std::vector<std::string> out;  ///< what is not drawn, and what it was therefore not held against
    std::vector<std::string> add;
};

Left left_out(const FittingType& type) {
    Left left;
    const bool passes =
        std::all_of(type.holes.begin(), type.holes.end(), [](const auto& hole) { return hole.passes.has_value(); });
    if (type.holes.empty()) {
        left.out.emplace_back(
            "its hole in the panel (size, edges, joins, flange) and what passes it (studs, pipes, cables)");
        left.add.emplace_back("[[types.holes]] with passes, for a screwed-on item one for each screw");
    }
    if (!type.holes.empty() && !passes) {
        left.out.emplace_back("what passes its hole (studs, pipes, cables)");
        left.add.emplace_back("[[types.holes]] with passes");
    }
    if (type.family != Family::screw && !drawn_behind_seat(type)) {
        left.out.emplace_back("its body behind the seat (studs, pipes, cables, other bodies, timber to fix it to)");
        left.add.emplace_back("[[types.parts]] from \"seat\" that start behind it");
    }
    if (!drawn_before_face(type)) {
        left.out.emplace_back("what stands in front of the panel (doors, glass, other fittings, the next wall)");
        left.add.emplace_back("[[types.parts]] from \"face\"");
    }
    return left;
}

std::string listed(const std::vector<std::string>& words) {
    std::string list;
    for (const auto& word : words) list += (list.empty() ? "" : "; ") + word;
    return list;
}

}  // namespace

std::vector<Finding> check_bodies(const Model& model) {
    std::vector<Finding> findings;
    for (const auto& placed : model.fittings) {
        const FittingType& type = type_of(model, placed);
        Left left = left_out(type);
        if (left.out.empty()) continue;
        Finding finding = blank_finding(model, placed, "body.given");
        finding.verdict = Verdict::unknown;
        finding.quantity = "body that could be held against others";
        finding.says = fmt::format("{}: its type does not draw all of it, so this was held against nothing: {}",
                                   fitting_of(model, placed).name, listed(left.out));
        finding.action = fmt::format("Add to {}: {}.", type_source(type), listed(left.add));
        finding.source = type_source(type);
        finding.missing = std::move(left.add);
        findings.push_back(std::move(finding));
    }
    return findings;
}

}  // namespace standproud::rules
