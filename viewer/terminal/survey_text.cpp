#include <fmt/format.h>

#include <cmath>

#include "rules/words.hpp"
#include "terminal/layout.hpp"
#include "viewer/survey_report.hpp"

namespace standproud::viewer {

using rules::mm;

namespace {

std::string rounded(double value, double step) { return mm(std::round(value / step) * step); }

/// A result with two standard errors, and a star for each that rests on an assumption.
std::string figure(const Survey& survey, const Estimate& estimate, double step) {
    if (!is_known(survey, estimate)) return "unknown";
    return fmt::format("{} +/- {}{}", rounded(estimate.value, step),
                       mm(std::ceil(2 * estimate.standard_error / step - 1e-9) * step),
                       estimate.rests_on.empty() ? "" : " *");
}

std::string walls_table(const Survey& survey, bool colour) {
    std::vector<Row> rows{{"wall", "as drawn", "adjusted width", "wider higher up", "lean", "turn", "unevenness"},
                          {"", "mm", "mm", "mm per m", "mm per m", "mm per m", "mm"}};
    for (std::size_t i = 0; i < survey.walls.size(); ++i) {
        const WallSurvey& wall = survey.walls[i];
        rows.push_back({wall.wall, mm(wall.drawn_width), figure(survey, wall.width, 0.1),
                        figure(survey, wall.width_change, 0.1), figure(survey, wall.lean, 0.1),
                        figure(survey, wall.turn, 0.1), rounded(wall.unevenness, 0.1)});
    }
    return table(rows, {false, true, true, true, true, true, true}, colour);
}

std::string corners_text(const Job& job, const Survey& survey) {
    std::string text;
    for (const auto& corner : survey.corners) {
        const Wall& left = job.walls[corner.left_wall];
        text += fmt::format("  corner {} / {}: {} degrees, drawn {}\n", left.id, job.walls[corner.right_wall].id,
                            figure(survey, corner.angle, 0.01), mm(corner.drawn_angle));
    }
    return text;
}

std::string readings_table(const Survey& survey, bool colour) {
    std::vector<Row> rows{{"reading", "observed", "adjusted", "residual", "standardised", "line"},
                          {"", "", "", "", "", ""}};
    for (const auto& reading : survey.readings) {
        rows.push_back({reading.name, fmt::format("{} {}", rounded(reading.observed, 0.01), reading.unit),
                        rounded(reading.adjusted, 0.01), fmt::format("{:+.2f}", reading.residual),
                        reading.checked ? fmt::format("{:+.1f}", reading.standardised) : "not checked",
                        std::to_string(reading.source.line)});
    }
    return table(rows, {false, true, true, true, true, true}, colour);
}

}  // namespace

std::string text_survey(const Job& job, const Survey& survey, const TextStyle& style) {
    std::string text = heading(fmt::format("{}: survey of the bare recess", job.name), style.colour) + "\n";
    text += wrapped(fmt::format("{}. {}, {} more than needed. Widths at {} above the datum ({}). A +/- is two "
                                "standard errors. A star marks what rests on an assumption.",
                                job.file, rules::counted(survey.readings.size(), "reading"), survey.redundancy,
                                mm(survey.mid_height), job.datum),
                    "", "");
    if (!survey.converged) text += "The readings could not be brought together: look at the readings to take again.\n";
    text += "\n" + heading("WALLS", style.colour) + "\n" + walls_table(survey, style.colour);
    text += wrapped(
        "Lean: positive where the top stands further into the room. Turn: against the drawn angles, positive "
        "where the right end stands further into the room.",
        "  ", "  ");
    text += corners_text(job, survey);
    if (!survey.suspects.empty()) text += "\n" + heading("MEASURE AGAIN", style.colour) + "\n";
    for (const auto& suspect : survey.suspects) text += wrapped(suspect.says, "  ! ", "    ");
    if (!survey.assumptions.empty()) text += "\n" + heading("ASSUMED, for want of readings", style.colour) + "\n";
    for (const auto& assumption : survey.assumptions) {
        std::string on;
        for (const auto& result : assumption.results) on += (on.empty() ? "" : ", ") + result;
        text += wrapped(fmt::format("{}, +/- {} {} ({}); on it rest: {}", assumption.says, mm(assumption.plus_minus),
                                    assumption.unit, assumption.source, on.empty() ? "nothing" : on),
                        "  * ", "    ");
    }
    text += "\n" + heading("READINGS", style.colour) + "\n" + readings_table(survey, style.colour);
    return text;
}

}  // namespace standproud::viewer
